use desk::words::{Angle, Degrees};
use desk::{CompareRequest, ErrorAnswer};

use crate::arguments::CompareArguments;
use crate::cast::{moment_request, now_unix_s};
use crate::failure::Failure;
use crate::picture::{format_of, write_whole};
use crate::sheet::Sheet;
use crate::{cabinet, with};

/// Compares instruments over a year.
pub(crate) fn run(arguments: &CompareArguments) -> Result<String, Failure> {
    let cabinet = cabinet::at_hand();
    let mut moment = moment_request(&arguments.when, &arguments.moment, None, &cabinet)?;
    moment.by = arguments.by.clone().or(moment.by);
    moment.houses = arguments.houses.clone().or(moment.houses);
    let request = CompareRequest {
        moment,
        with: arguments
            .with
            .iter()
            .map(|name| with::instrument(name, &cabinet))
            .collect::<Result<_, _>>()?,
    };
    let format = arguments.output.as_deref().map(format_of).transpose()?;
    let answer = desk::compare(&request, &cabinet, now_unix_s())?;
    if let (Some(path), Some(format)) = (&arguments.output, format) {
        let scene = desk::comparison_scene(&answer);
        let bytes = press::drawing_file(&scene, "comparison", format)?;
        write_whole(path, &bytes, arguments.overwrite)?;
    }
    if arguments.json {
        return Ok(serde_json::to_string(&answer).map_err(Failure::other)? + "\n");
    }
    let mut sheet = Sheet::default();
    sheet.line(&format!(
        "How far off, over {} moments of a year, cusps by {}",
        answer.moments,
        answer.by.replace('_', " ")
    ));
    sheet.line("expected, nine in ten no larger than, largest met with");
    for one in &answer.instruments {
        sheet.title(&format!(
            "{}, {} mm, plate {}°, {}",
            one.name, one.diameter_mm, one.plate_latitude_deg, one.unequal_hour_lines
        ));
        for (name, error) in [
            ("ascendant", &one.ascendant),
            ("midheaven", &one.midheaven),
            ("cusps", &one.cusps),
        ] {
            sheet.line(&format!("  {name:<12}{}", words(error)));
        }
    }
    Ok(sheet.text())
}

fn words(error: &ErrorAnswer) -> String {
    let said = |deg: Option<f64>| {
        deg.map_or("–".to_owned(), |deg| {
            Degrees(Angle::from_deg(deg)).to_string()
        })
    };
    format!(
        "{:<9}{:<9}{}",
        said(error.expected_deg),
        said(error.nine_in_ten_deg),
        said(error.largest_deg)
    )
}
