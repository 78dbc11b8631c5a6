use instrument::Instrument;

use crate::finding::Finding;
use crate::operation::{Act, RetePlace};
use crate::operations::record::{
    AskedOf, Asks, Record, Sighted, Source, Steps, TaskChoices, TaskInput, Taught,
};
use crate::operations::steps::{ascendant, at_altitude, hour, midheaven, plate_and_sun};
use crate::sight::Sighting;

/// The hour and the ascendant from a star's altitude.
pub(super) const RECORD: Record = Record {
    name: "hour-by-star",
    title: "The hour and the ascendant from a star's altitude",
    source: Source::Treatise("II.3"),
    heading: "The hour",
    weak: "Worth little while the star is near the meridian; best in the east and west. A pointer made for another century is off by a degree in seventy-two years.",
    taught: &[Taught { level: 2, place: 5 }, Taught { level: 3, place: 2 }],
    needs: &[TaskInput::Star, TaskInput::Seen(Sighting::Altitude)],
    asks: Asks {
        sighted: Sighted::EastOrWest,
        ..Asks::NOTHING
    },
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(instrument: &Instrument, choices: &TaskChoices) -> Vec<Act> {
    let mut acts = plate_and_sun(instrument);
    acts.extend(at_altitude(RetePlace::Star, choices.side));
    acts.extend([hour(Finding::Hour), ascendant(), midheaven()]);
    acts
}
