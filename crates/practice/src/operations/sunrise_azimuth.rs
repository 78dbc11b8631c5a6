use instrument::{Instrument, Pick};

use crate::finding::Finding;
use crate::operation::Act;
use crate::operations::record::{About, AskedOf, Asks, Record, Source, Steps, TaskChoices, Taught};
use crate::operations::steps::{azimuth, onto_horizon, plate_and_sun};

/// Where the Sun rises and sets.
pub(super) const RECORD: Record = Record {
    name: "sunrise-azimuth",
    title: "Where the Sun rises and sets",
    source: Source::Treatise("II.31"),
    heading: "Altitudes and directions",
    weak: "By the true horizon; hills and refraction shift it, the more the farther north.",
    taught: &[Taught { level: 2, place: 8 }],
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
    acts.extend([
        onto_horizon(choices.subject, Pick::Eastern),
        azimuth(choices.subject, Finding::Azimuth),
        onto_horizon(choices.subject, Pick::Western),
        azimuth(choices.subject, Finding::SettingAzimuth),
    ]);
    acts
}
