use instrument::Instrument;

use crate::finding::Finding;
use crate::operation::{Act, RetePlace};
use crate::operations::record::{
    AskedOf, Asks, Record, Source, Stars, Steps, TaskChoices, TaskInput,
};
use crate::operations::steps::{culminating, onto_meridian};

/// The degree that culminates with a star.
pub(super) const RECORD: Record = Record {
    name: "culminating-degree",
    title: "The degree that culminates with a star",
    source: Source::Treatise("II.18"),
    heading: "Stars, Moon and planets",
    weak: "A matter of the rete alone, good at any hour; the pointer ages by a degree in seventy-two years.",
    taught: &[],
    needs: &[TaskInput::Star],
    asks: Asks {
        stars: Stars::Culminate,
        ..Asks::NOTHING
    },
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(_: &Instrument, _: &TaskChoices) -> Vec<Act> {
    vec![
        Act::ChoosePlate,
        onto_meridian(RetePlace::Star),
        culminating(Finding::CulminatingDegree),
    ]
}
