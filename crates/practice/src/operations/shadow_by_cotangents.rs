use instrument::{BackLine, Instrument};

use crate::on_back::{Gnomon, OnBack};
use crate::operation::Act;
use crate::operations::record::{
    About, AskedOf, Asks, Record, Source, Steps, TaskChoices, TaskInput,
};
use crate::sight::Sighting;

/// The shadow of a gnomon from the altitude.
pub(super) const RECORD: Record = Record {
    name: "shadow-by-cotangents",
    title: "The shadow of a gnomon from an altitude by the scale of cotangents",
    source: Source::Elsewhere(
        "the scale: Museum of the History of Science, Oxford, Astrolabe Catalogue, 134; its use: common practice",
    ),
    heading: "The back's own lines",
    weak: "Good above 30°; near the horizon shadows grow beyond all measure, and a quarter of a degree is many digits.",
    taught: &[],
    needs: &[TaskInput::Seen(Sighting::Altitude)],
    asks: Asks {
        about: About::WhateverIsSighted,
        back: Some(BackLine::Cotangents),
        ..Asks::NOTHING
    },
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(_: &Instrument, _: &TaskChoices) -> Vec<Act> {
    vec![
        Act::Observe(Sighting::Altitude),
        Act::ReadOnBack(OnBack::Shadow(Gnomon::Digits)),
        Act::ReadOnBack(OnBack::Shadow(Gnomon::Feet)),
    ]
}
