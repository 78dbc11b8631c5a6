use desk::{Cabinet, CastRequest, WithInstrument};
use press::{
    Code, Cutting, FilmSense, Filming, Length, Manifest, Order, OrderError, PressError, Rates,
    Shaping, Stuff, Tabs,
};

use crate::arguments::{
    EtchingArguments, LineArguments, MakeArguments, RateArguments, ToolArguments,
};
use crate::cast::now_unix_s;
use crate::failure::Failure;
use crate::set_folder::SetFolder;
use crate::settings::Settings;
use crate::settings_command::page_address;
use crate::{cabinet, interrupt, with};

/// Makes the files of an instrument's parts in a folder: all of them, or none.
pub(crate) fn run(arguments: &MakeArguments) -> Result<String, Failure> {
    let cabinet = cabinet::at_hand();
    let with = arguments
        .with
        .as_ref()
        .map(|name| with::instrument(name, &cabinet))
        .transpose()?;
    let instrument = desk::to_make(with.as_ref(), &arguments.plate, &cabinet)?;
    let order = Order {
        code: code(arguments, with.as_ref(), &cabinet)?,
        ..order(arguments)?
    };
    let always = ["manifest.json", "sheet.txt"];
    let to = SetFolder::of(&arguments.output, arguments.overwrite, &always)?;
    let press::Set { files, manifest } =
        interrupt::work(|patience| Ok(press::set(&instrument, &order, patience)?))?;
    to.put(&files)?;
    let folder = arguments.output.display().to_string();
    if arguments.json {
        let names: Vec<serde_json::Value> = files
            .iter()
            .map(|file| serde_json::json!({ "name": file.name, "bytes": file.bytes.len() }))
            .collect();
        let thinned: Vec<serde_json::Value> = manifest
            .thinned()
            .map(|(part, one)| {
                serde_json::json!({
                    "part": part, "what": one.what, "shown": one.shown, "key": one.key,
                })
            })
            .collect();
        let answer = serde_json::json!({
            "folder": folder,
            "files": names,
            "thinned": thinned,
            "stack": manifest.stack,
            "sheets": manifest.sheets,
            "pointers": manifest.pointers,
            "stars_left_out": manifest.stars_left_out,
            "arcs": manifest
                .arcs()
                .map(|(part, told)| serde_json::json!({ "part": part, "told": told }))
                .collect::<Vec<serde_json::Value>>(),
            "warnings": manifest.warnings,
        });
        return Ok(answer.to_string() + "\n");
    }
    let mut text = format!("{folder}\n");
    for file in &files {
        text.push_str(&format!("    {:<22}{:>9}\n", file.name, file.bytes.len()));
    }
    text.push_str(&left_out(&manifest));
    for (part, told) in manifest.arcs() {
        text.push_str(&format!("\n{part}: {told}\n"));
    }
    for warning in &manifest.warnings {
        text.push_str(&format!("\nMind: {warning}\n"));
    }
    Ok(text)
}

/// What the size leaves out, with the keys that overrule it.
fn left_out(manifest: &Manifest) -> String {
    let mut text = String::new();
    let mut heading =
        "\nLeft out for the size, and the key of the specification that overrules it\n";
    for (part, one) in manifest.thinned() {
        text.push_str(heading);
        heading = "";
        text.push_str(&format!(
            "    {part}: {}: {}  [{}]\n",
            one.what, one.shown, one.key
        ));
    }
    for (why, key, stars) in manifest.stars_without() {
        text.push_str(heading);
        heading = "";
        text.push_str(&format!(
            "    rete: {} stars without a pointer: each {why}{}\n        {}\n",
            stars.len(),
            key.map_or(String::new(), |key| format!("  [{key}]")),
            stars.join(", ")
        ));
    }
    text
}

/// The code by which the page shows how the instrument is set where its buyer is; none where
/// no address of the page is kept, or no place is known.
fn code(
    arguments: &MakeArguments,
    with: Option<&WithInstrument>,
    cabinet: &Cabinet,
) -> Result<Option<Code>, Failure> {
    let settings = Settings::kept()?;
    // The home place's zone says nothing of another.
    let (at, zone) = match &arguments.at {
        Some(at) => (Some(at.clone()), None),
        None => (settings.home.clone(), settings.zone.clone()),
    };
    let (Some(address), Some(at)) = (page_address(&settings)?, at) else {
        return Ok(None);
    };
    let case = CastRequest {
        at,
        zone,
        with: Some(desk::linked_to_make(with, &arguments.plate, cabinet)?),
        ..CastRequest::default()
    };
    let code = address.code_now(case, cabinet, now_unix_s());
    code.map_err(Failure::bad_input)
}

fn order(arguments: &MakeArguments) -> Result<Order, Failure> {
    if !(20.0..=1200.0).contains(&arguments.dpi) {
        return Err(Failure::bad_input(format!(
            "--dpi {} is out of range; 20 to 1200 would do",
            desk::words::Plain(arguments.dpi)
        )));
    }
    let dated = arguments.dated.clone().unwrap_or_else(today);
    Ok(Order {
        dots_per_inch: arguments.dpi,
        cutting: cutting(&arguments.tools)?,
        shaping: shaping(&arguments.lines)?,
        filming: filming(&arguments.films)?,
        rates: rates(&arguments.rates)?,
        ..Order::of(&arguments.parts, &arguments.formats, &arguments.page, dated)?
    })
}

/// The date of today, nothing where the clock cannot be read.
pub(crate) fn today() -> String {
    now_unix_s().map(desk::date_of).unwrap_or_default()
}

/// How lines stand in solids.
fn shaping(lines: &LineArguments) -> Result<Shaping, OrderError> {
    Shaping::of(lines.engrave_depth, lines.raised, lines.line_width)
}

/// How films for etching are made.
fn filming(films: &EtchingArguments) -> Result<Filming, OrderError> {
    Filming {
        sense: FilmSense::named(&films.film)?,
        mirrored: films.film_mirrored,
        undercut_mm: films.undercut,
        through: films.etch_through,
        dots_per_inch: films.film_dpi,
    }
    .checked()
}

/// Of what it is, how many, and what that costs.
fn rates(rates: &RateArguments) -> Result<Rates, OrderError> {
    Rates {
        of: Stuff::named(&rates.of)?,
        batch: rates.batch,
        kilogram: rates.price_kg,
        hour: rates.price_hour,
        cut_mm_per_min: rates.cut_speed,
        engrave_mm_per_min: rates.engrave_speed,
    }
    .checked()
}

/// What the tools ask for.
pub(crate) fn cutting(tools: &ToolArguments) -> Result<Cutting, OrderError> {
    let mm = |given: Option<f64>| given.map(Length::from_mm);
    Cutting {
        kerf: mm(tools.kerf),
        drilled: mm(tools.drill_up_to),
        cutter: mm(tools.cutter),
        tabs: tools.tabs.map(|count| Tabs {
            count,
            breadth: mm(tools.tab_width).unwrap_or(Cutting::TAB),
        }),
        lead_in: mm(tools.lead_in),
    }
    .checked()
}

impl From<OrderError> for Failure {
    fn from(error: OrderError) -> Failure {
        Failure::bad_input(error)
    }
}

impl From<PressError> for Failure {
    fn from(error: PressError) -> Failure {
        match error {
            PressError::Uncuttable { .. }
            | PressError::KerfAndCutter { .. }
            | PressError::Letter { .. }
            | PressError::NoSuchPart { .. }
            | PressError::TooDeep { .. }
            | PressError::Undercut { .. }
            | PressError::FilmTooLarge { .. }
            | PressError::TooMany { .. } => Failure::bad_input(error),
            PressError::NotBuilt(_) | PressError::Document { .. } | PressError::GivenUp(_) => {
                Failure::other(error)
            }
        }
    }
}
