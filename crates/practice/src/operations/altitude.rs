use instrument::Instrument;

use crate::operation::Act;
use crate::operations::record::{
    About, AskedOf, Asks, BodyAsked, Record, Source, Steps, TaskChoices, TaskInput,
};
use crate::quantity::Quantity;
use crate::sight::Sighting;

/// The altitude of the Sun, the Moon or a star.
pub(super) const RECORD: Record = Record {
    name: "altitude",
    title: "The altitude of the Sun, the Moon or a star",
    source: Source::Treatise("II.2"),
    heading: "Altitudes and directions",
    weak: "The hand sways: without support a quarter of a degree is good work. Near the horizon refraction lifts what is seen by up to half a degree.",
    taught: &[],
    needs: &[TaskInput::Seen(Sighting::Altitude)],
    asks: Asks {
        about: About::WhateverIsSighted,
        body: BodyAsked::Or("the Sun, or the star"),
        ..Asks::NOTHING
    },
    asked_of: AskedOf::Sky,
    end: Some(Quantity::Seen(Sighting::Altitude)),
    steps: Steps::Acts(acts),
};

fn acts(_: &Instrument, _: &TaskChoices) -> Vec<Act> {
    vec![Act::Observe(Sighting::Altitude)]
}
