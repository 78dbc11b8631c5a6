use instrument::{Instrument, Pick};

use crate::finding::Finding;
use crate::operation::{Act, Along, RetePlace};
use crate::operations::record::{
    AskedOf, Asks, BodyAsked, Record, Source, Steps, TaskChoices, TaskInput,
};
use crate::operations::steps::{between_notes, by_the_clock, noted, onto_horizon, plate_and_sun};
use crate::quantity::Note;
use crate::sight::Stated;

/// A primary direction to the ascendant, counted on the limb.
pub(super) const RECORD: Record = Record {
    name: "direction-to-ascendant",
    title: "A primary direction to the ascendant, counted on the limb",
    source: Source::Elsewhere("common practice, not in the treatise"),
    heading: "The figure",
    weak: "The arc is as good as the birth time: four minutes of time are a degree, and a degree about a year.",
    taught: &[],
    needs: &[
        TaskInput::Stated(Stated::Degree),
        TaskInput::Stated(Stated::Latitude),
    ],
    asks: Asks {
        body: BodyAsked::UnlessTold,
        on_ecliptic: true,
        ..Asks::NOTHING
    },
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(instrument: &Instrument, _: &TaskChoices) -> Vec<Act> {
    let mut acts = plate_and_sun(instrument);
    acts.extend(by_the_clock());
    acts.extend([
        noted(Note::First),
        Act::Wax(Along::CircleOfLatitude),
        onto_horizon(RetePlace::Waxed, Pick::Eastern),
        noted(Note::Second),
        between_notes(Finding::DirectionArc),
    ]);
    acts
}
