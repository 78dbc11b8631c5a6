use instrument::Instrument;

use crate::finding::Finding;
use crate::operation::{Act, RetePlace};
use crate::operations::record::{
    AskedOf, Asks, Record, Sighted, Source, Steps, TaskChoices, TaskInput, Taught,
};
use crate::operations::steps::{ascendant, at_altitude, hour, midheaven, plate_and_sun};
use crate::sight::Sighting;

/// The hour and the ascendant from the Sun's altitude.
pub(super) const RECORD: Record = Record {
    name: "hour-by-sun",
    title: "The hour and the ascendant from the Sun's altitude",
    source: Source::Treatise("II.3"),
    heading: "The hour",
    weak: "Worth little near noon, when the altitude stands still: the treatise allows no ascendant between eleven and one. Best in the east and west.",
    taught: &[
        Taught { level: 1, place: 6 },
        Taught { level: 2, place: 2 },
        Taught { level: 3, place: 4 },
    ],
    needs: &[TaskInput::Seen(Sighting::Altitude)],
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
    acts.extend(at_altitude(RetePlace::Sun, choices.side));
    acts.extend([hour(Finding::Hour), ascendant(), midheaven()]);
    acts
}
