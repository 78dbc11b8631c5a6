use instrument::{Instrument, Pick};

use crate::finding::Finding;
use crate::operation::{Act, RetePlace};
use crate::operations::record::{
    AskedOf, Asks, Record, Source, Steps, TaskChoices, TaskInput, Taught,
};
use crate::operations::steps::{between_notes, noted, onto_horizon, told_degrees};
use crate::quantity::Note;
use crate::sight::Stated;

/// The oblique ascension of an arc of the zodiac.
pub(super) const RECORD: Record = Record {
    name: "oblique-ascension",
    title: "The oblique ascension of an arc of the zodiac",
    source: Source::Treatise("II.26, 28"),
    heading: "The figure",
    weak: "Only for the plate's own latitude; beyond the polar circles some degrees never rise.",
    taught: &[Taught { level: 3, place: 5 }],
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
    vec![
        Act::ChoosePlate,
        onto_horizon(RetePlace::Degree(first), Pick::Eastern),
        noted(Note::First),
        onto_horizon(RetePlace::Degree(second), Pick::Eastern),
        noted(Note::Second),
        between_notes(Finding::ObliqueAscension),
    ]
}
