use instrument::{Instrument, Pick};

use crate::finding::Finding;
use crate::operation::{Act, Reckoning, RetePlace};
use crate::operations::record::{AskedOf, Asks, Record, Source, Steps, TaskChoices, TaskInput};
use crate::operations::steps::{culminating, noted, onto_horizon, told_degrees};
use crate::quantity::{Note, Quantity};
use crate::sight::Stated;

/// The degree of a star from two equal altitudes.
pub(super) const RECORD: Record = Record {
    name: "star-degree-by-two-altitudes",
    title: "The degree of a star from two equal altitudes",
    source: Source::Treatise("II.17"),
    heading: "Stars, Moon and planets",
    weak: "The treatise takes the mean of the two ascendants, and that is wrong by several degrees: the hours are to be halved, not the degrees (Skeat's note, 1894).",
    taught: &[],
    needs: &[
        TaskInput::Stated(Stated::Degree),
        TaskInput::Stated(Stated::OtherDegree),
    ],
    asks: Asks::NOTHING,
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(_: &Instrument, _: &TaskChoices) -> Vec<Act> {
    let (first, second) = told_degrees();
    let middle = Quantity::Noted(Note::Between);
    let by_old_rule = Quantity::Found(Finding::OldRisingDegree);
    vec![
        Act::ChoosePlate,
        onto_horizon(RetePlace::Degree(first), Pick::Eastern),
        noted(Note::First),
        onto_horizon(RetePlace::Degree(second), Pick::Eastern),
        noted(Note::Second),
        Act::Reckon(Reckoning::Midway(
            Quantity::Noted(Note::First),
            Quantity::Noted(Note::Second),
            Note::Between,
        )),
        Act::TurnAlmuriOnto(middle),
        culminating(Finding::CulminatingDegree),
        Act::Reckon(Reckoning::MidDegree(
            first,
            second,
            Finding::OldRisingDegree,
        )),
        onto_horizon(RetePlace::Degree(by_old_rule), Pick::Eastern),
        culminating(Finding::OldCulminatingDegree),
    ]
}
