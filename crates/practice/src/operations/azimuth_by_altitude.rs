use instrument::Instrument;

use crate::finding::Finding;
use crate::operation::Act;
use crate::operations::record::{
    About, AskedOf, Asks, Record, Sighted, Source, Steps, TaskChoices, TaskInput,
};
use crate::operations::steps::{at_altitude, azimuth, plate_and_sun};
use crate::sight::Sighting;

/// The azimuth from an altitude.
pub(super) const RECORD: Record = Record {
    name: "azimuth-by-altitude",
    title: "The azimuth from an altitude",
    source: Source::Treatise("II.33"),
    heading: "Altitudes and directions",
    weak: "Worth little near noon, when the altitude stands still and the azimuth runs.",
    taught: &[],
    needs: &[TaskInput::Seen(Sighting::Altitude)],
    asks: Asks {
        about: About::SunStarOrDegree,
        sighted: Sighted::EastOrWest,
        ..Asks::NOTHING
    },
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(instrument: &Instrument, choices: &TaskChoices) -> Vec<Act> {
    let mut acts = plate_and_sun(instrument);
    acts.extend(at_altitude(choices.subject, choices.side));
    acts.push(azimuth(choices.subject, Finding::Azimuth));
    acts
}
