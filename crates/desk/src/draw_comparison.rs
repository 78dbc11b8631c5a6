use drawing::{ComparedRow, ComparisonSheet, ErrorSpan, Scene, Svg};
use instrument::Length;
use sky::Angle;

use crate::compare::{CompareAnswer, ComparedInstrument, ErrorAnswer};
use crate::figure_sheet::short;

/// Draws instruments that have been compared: the errors to be expected and the
/// largest, one under another on one scale.
#[must_use]
pub fn comparison_scene(answer: &CompareAnswer) -> Scene {
    ComparisonSheet {
        title: "How far off they read".to_owned(),
        description: description(answer),
        heading: vec![
            format!(
                "{}, through the year from {}",
                short(&answer.place.name),
                answer.from.split(' ').next().unwrap_or_default()
            ),
            format!(
                "cusps by {}, held against {}; {} moments, at every hour in every season",
                answer.by.replace('_', " "),
                answer.method,
                answer.moments
            ),
        ],
        instruments: answer.instruments.iter().map(row).collect(),
    }
    .scene()
}

/// The same as SVG for a page that has its own colours and ground.
#[must_use]
pub fn comparison_svg(answer: &CompareAnswer, id_prefix: &str) -> String {
    comparison_scene(answer).svg(&Svg {
        id_prefix: id_prefix.to_owned(),
        styled: false,
        paper: false,
        outlined: false,
    })
}

fn row(one: &ComparedInstrument) -> ComparedRow {
    ComparedRow {
        name: short(&one.name),
        particulars: format!(
            "{} mm, plate {}°, {}",
            one.diameter_mm, one.plate_latitude_deg, one.unequal_hour_lines
        ),
        diameter: Length::from_mm(one.diameter_mm),
        errors: [
            ("ascendant", &one.ascendant),
            ("midheaven", &one.midheaven),
            ("cusps", &one.cusps),
        ]
        .map(|(what, error)| (what, span(error)))
        .to_vec(),
    }
}

fn span(error: &ErrorAnswer) -> Option<ErrorSpan> {
    Some(ErrorSpan {
        expected: Angle::from_deg(error.expected_deg?),
        nine_in_ten: Angle::from_deg(error.nine_in_ten_deg?),
        largest: Angle::from_deg(error.largest_deg?),
    })
}

fn description(answer: &CompareAnswer) -> String {
    let mut text = String::new();
    for one in &answer.instruments {
        text.push_str(&format!("{}:", one.name));
        for (what, error) in [
            ("ascendant", &one.ascendant),
            ("midheaven", &one.midheaven),
            ("cusps", &one.cusps),
        ] {
            match span(error) {
                None => text.push_str(&format!(" {what} not read;")),
                Some(span) => text.push_str(&format!(
                    " {what} {} to be expected, {} at most;",
                    words::Degrees(span.expected),
                    words::Degrees(span.largest)
                )),
            }
        }
        text.pop();
        text.push_str(". ");
    }
    text.trim_end().to_owned()
}
