use practice::{Measure, Quantity, Why};
use sky::Angle;

use crate::number::Difference;

/// The difference in a sentence about a quantity, naming at most two causes.
#[must_use]
pub fn difference(why: &Why, name: &str, quantity: Quantity) -> String {
    let measure = quantity.measure();
    let difference = why.difference();
    let head = if difference.abs() < Angle::from_arcmin(0.5) {
        format!("{name} reads as calculated")
    } else {
        let (more, less) = match measure {
            Measure::Degree | Measure::Azimuth => ("further on", "further back"),
            Measure::TimeOfDay => ("later", "earlier"),
            _ => ("more", "less"),
        };
        format!(
            "{name} reads {} {} than calculated",
            Difference(measure, difference),
            if difference > Angle::ZERO { more } else { less }
        )
    };
    let causes: Vec<String> = why
        .largest()
        .iter()
        .take(2)
        .map(|share| {
            let sign = if share.amount < Angle::ZERO {
                "−"
            } else {
                "+"
            };
            format!(
                "{} ({sign}{})",
                share.cause.words_for(quantity),
                Difference(measure, share.amount)
            )
        })
        .collect();
    match (
        causes.as_slice(),
        difference.abs() < Angle::from_arcmin(0.5),
    ) {
        ([], _) => format!("{head}."),
        ([one], false) => format!("{head}: {one}."),
        ([one, other, ..], false) => format!("{head}, mostly: {one} and {other}."),
        ([one], true) => format!("{head}, though not without {one}."),
        ([one, other, ..], true) => format!("{head}, for {one} and {other} nearly cancel."),
    }
}
