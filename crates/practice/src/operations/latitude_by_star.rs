use instrument::Instrument;

use crate::operation::{Act, Brought};
use crate::operations::record::{AskedOf, Asks, Need, Record, Sighted, Source, Stars, Steps, Way};
use crate::operations::steps::latitude_by;
use crate::sight::Sight;

/// The latitude by a star on the meridian.
pub(super) const RECORD: Record = Record {
    name: "latitude-by-star",
    title: "The latitude by a star on the meridian",
    source: Source::Treatise("II.25"),
    heading: "Place and plate",
    weak: "As good as the altitude and the place of the pointer.",
    taught: &[],
    needs: &[Need::Star, Need::Seen(Sight::NoonAltitude)],
    asks: Asks {
        sighted: Sighted::OnMeridian(Sight::NoonAltitude),
        stars: Stars::Culminate,
        ..Asks::NOTHING
    },
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(instrument: &Instrument, way: &Way) -> Vec<Act> {
    let mut acts = vec![Act::ChoosePlate];
    acts.extend(latitude_by(instrument, Brought::Star, way));
    acts
}
