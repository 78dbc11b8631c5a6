use instrument::Instrument;

use crate::finding::Finding;
use crate::operation::{Act, Spot};
use crate::operations::record::{About, AskedOf, Asks, Record, Source, Steps, TaskChoices};
use crate::operations::steps::{azimuth, by_the_clock, plate_and_sun};
use crate::quantity::Quantity;

/// The azimuth and altitude at an hour.
pub(super) const RECORD: Record = Record {
    name: "azimuth-at-hour",
    title: "The azimuth and altitude at an hour",
    source: Source::Treatise("II.32"),
    heading: "Altitudes and directions",
    weak: "As good as the hour: near noon the azimuth runs fastest.",
    taught: &[],
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
    acts.extend(by_the_clock());
    acts.push(azimuth(choices.subject, Finding::Azimuth));
    acts.push(Act::ReadAltitude {
        of: Spot::OnRete(choices.subject),
        finds: Quantity::Found(Finding::Altitude),
    });
    acts
}
