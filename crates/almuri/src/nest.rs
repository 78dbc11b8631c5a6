use desk::WithInstrument;
use press::{Length, NestOrder, Nested, Order, Stock};

use crate::arguments::NestArguments;
use crate::failure::Failure;
use crate::set_folder::SetFolder;
use crate::{cabinet, interrupt, make, with};

/// Lays the parts of some instruments on sheets, into a folder: all of it, or nothing.
pub(crate) fn run(arguments: &NestArguments) -> Result<String, Failure> {
    let order = order(arguments)?;
    let cabinet = cabinet::at_hand();
    let named: Vec<Option<WithInstrument>> = if arguments.with.is_empty() {
        vec![None]
    } else {
        let named = arguments.with.iter();
        named
            .map(|name| with::instrument(name, &cabinet).map(Some))
            .collect::<Result<_, Failure>>()?
    };
    let instruments = named
        .iter()
        .map(|with| desk::to_make(with.as_ref(), &[], &cabinet))
        .collect::<Result<Vec<_>, _>>()?;
    let instruments: Vec<_> = instruments.iter().collect();
    let always = ["sheets.json", "sheets.txt"];
    let to = SetFolder::of(&arguments.output, arguments.overwrite, &always)?;
    let Nested { files, told } =
        interrupt::work(|patience| Ok(press::nest(&instruments, &order, patience)?))?;
    to.put(&files)?;
    let folder = arguments.output.display().to_string();
    if arguments.json {
        let names: Vec<&str> = files.iter().map(|file| file.name.as_str()).collect();
        let answer = serde_json::json!({ "folder": folder, "files": names, "nested": told });
        return Ok(answer.to_string() + "\n");
    }
    Ok(format!("{folder}\n\n{}", told.plain()))
}

fn order(arguments: &NestArguments) -> Result<NestOrder, Failure> {
    let parts = Order::of(&arguments.parts, &arguments.formats, "a4", make::today())?;
    let stock = arguments.sheets.iter().map(|text| Stock::parse(text));
    let material = |text: &String| {
        let both = text
            .split_once('=')
            .filter(|(part, material)| !part.is_empty() && !material.is_empty());
        let (part, material) = both.ok_or_else(|| {
            Failure::bad_input(format!(
                "--material {text} names no part and material; rete=steel would do"
            ))
        })?;
        Ok((part.trim().to_owned(), material.trim().to_owned()))
    };
    let mm = |given: Option<f64>, usual: Length| given.map_or(usual, Length::from_mm);
    let order = NestOrder {
        parts: parts.parts,
        stock: stock.collect::<Result<_, _>>()?,
        materials: arguments
            .materials
            .iter()
            .map(material)
            .collect::<Result<_, Failure>>()?,
        spacing: mm(arguments.spacing, NestOrder::SPACING),
        margin: mm(arguments.margin, NestOrder::MARGIN),
        formats: parts.formats,
        cutting: make::cutting(&arguments.tools)?,
        dated: parts.dated,
    };
    Ok(order.checked()?)
}
