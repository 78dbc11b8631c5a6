use instrument::Instrument;

use crate::finding::Finding;
use crate::operation::{Act, Reckoning};
use crate::operations::record::{
    About, AskedOf, Asks, Record, Sighted, Source, Steps, TaskChoices, TaskInput,
};
use crate::operations::steps::{at_altitude, azimuth, plate_and_sun};
use crate::quantity::Quantity;
use crate::sight::Sighting;

/// The four quarters of the world from the Sun.
pub(super) const RECORD: Record = Record {
    name: "four-quarters",
    title: "The four quarters of the world from the Sun",
    source: Source::Treatise("II.29"),
    heading: "Altitudes and directions",
    weak: "Coarse when the Sun is high: near the zenith the azimuth lines run together.",
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
    let from_north = Quantity::Found(Finding::Azimuth);
    acts.push(Act::Reckon(Reckoning::FromSouth(
        from_north,
        Finding::FromSouth,
    )));
    acts
}
