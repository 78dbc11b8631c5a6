use instrument::Instrument;

use crate::finding::Finding;
use crate::operation::{Act, Brought};
use crate::operations::record::{AskedOf, Asks, Need, Record, Sighted, Source, Steps, Taught, Way};
use crate::operations::steps::{ascendant, at_altitude, hour, midheaven, plate_and_sun};
use crate::sight::Sight;

/// The hour and the ascendant from a star's altitude.
pub(super) const RECORD: Record = Record {
    name: "hour-by-star",
    title: "The hour and the ascendant from a star's altitude",
    source: Source::Treatise("II.3"),
    heading: "The hour",
    weak: "Worth little while the star is near the meridian; best in the east and west. A pointer made for another century is off by a degree in seventy-two years.",
    taught: &[Taught { level: 2, place: 5 }, Taught { level: 3, place: 2 }],
    needs: &[Need::Star, Need::Seen(Sight::Altitude)],
    asks: Asks {
        sighted: Sighted::EastOrWest,
        ..Asks::NOTHING
    },
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(instrument: &Instrument, way: &Way) -> Vec<Act> {
    let mut acts = plate_and_sun(instrument);
    acts.extend(at_altitude(Brought::Star, way.side));
    acts.extend([hour(Finding::Hour), ascendant(), midheaven()]);
    acts
}
