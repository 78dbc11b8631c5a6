use practice::{Measure, Quantity, Why};

use crate::number::Difference;

/// The difference in a sentence about a quantity, naming at most two causes.
#[must_use]
pub fn difference(why: &Why, name: &str, quantity: Quantity) -> String {
    let difference = why.difference();
    let is_as_calculated = !difference.is_worth_telling();
    let head = if is_as_calculated {
        format!("{name} reads as calculated")
    } else {
        let (more, less) = match quantity.measure() {
            Measure::Degree | Measure::Azimuth => ("further on", "further back"),
            Measure::TimeOfDay => ("later", "earlier"),
            Measure::Arc
            | Measure::Height
            | Measure::UnequalHours
            | Measure::Points
            | Measure::Length => ("more", "less"),
        };
        format!(
            "{name} reads {} {} than calculated",
            Difference(difference),
            if difference.is_some() { more } else { less }
        )
    };
    let causes: Vec<String> = why
        .largest()
        .iter()
        .take(2)
        .map(|share| {
            let sign = if share.amount.number() < 0.0 {
                "−"
            } else {
                "+"
            };
            format!(
                "{} ({sign}{})",
                share.cause.words_for(quantity),
                Difference(share.amount)
            )
        })
        .collect();
    match (causes.as_slice(), is_as_calculated) {
        ([], _) => format!("{head}."),
        ([one], false) => format!("{head}: {one}."),
        ([one, other, ..], false) => format!("{head}, mostly: {one} and {other}."),
        ([one], true) => format!("{head}, though not without {one}."),
        ([one, other, ..], true) => format!("{head}, for {one} and {other} nearly cancel."),
    }
}
