use instrument::Instrument;

use crate::operation::Act;
use crate::operations::record::{About, AskedOf, Asks, Record, Source, Steps, TaskChoices, Taught};
use crate::operations::steps::{meridian_altitude, plate_and_sun};

/// The altitude on the meridian.
pub(super) const RECORD: Record = Record {
    name: "meridian-altitude",
    title: "The altitude on the meridian",
    source: Source::Treatise("II.13"),
    heading: "Altitudes and directions",
    weak: "Good all year: here the altitude stands still.",
    taught: &[Taught { level: 1, place: 4 }],
    needs: &[],
    asks: Asks {
        about: About::SunStarOrDegree,
        ..Asks::NOTHING
    },
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(instrument: &Instrument, choices: &TaskChoices) -> Vec<Act> {
    let mut acts = plate_and_sun(instrument);
    acts.extend(meridian_altitude(choices.subject));
    acts
}
