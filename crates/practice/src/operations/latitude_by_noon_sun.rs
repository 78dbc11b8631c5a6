use instrument::Instrument;

use crate::operation::{Act, Brought};
use crate::operations::record::{AskedOf, Asks, Need, Record, Sighted, Source, Steps, Way};
use crate::operations::steps::{latitude_by, plate_and_sun};
use crate::sight::Sight;

/// The latitude by the Sun at noon.
pub(super) const RECORD: Record = Record {
    name: "latitude-by-noon-sun",
    title: "The latitude by the Sun at noon",
    source: Source::Treatise("II.25"),
    heading: "Place and plate",
    weak: "As good as the altitude; the declination adds most about the equinoxes, when the Sun's degree is a day off.",
    taught: &[],
    needs: &[Need::Seen(Sight::NoonAltitude)],
    asks: Asks {
        sighted: Sighted::OnMeridian(Sight::NoonAltitude),
        ..Asks::NOTHING
    },
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(instrument: &Instrument, way: &Way) -> Vec<Act> {
    let mut acts = plate_and_sun(instrument);
    acts.extend(latitude_by(instrument, Brought::Sun, way));
    acts
}
