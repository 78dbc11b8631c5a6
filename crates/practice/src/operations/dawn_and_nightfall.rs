use instrument::{Instrument, Pick};

use crate::finding::Finding;
use crate::operation::Act;
use crate::operations::record::{AskedOf, Asks, Record, Source, Steps, TaskChoices};
use crate::operations::steps::{count, plate_and_sun, sun_at_18, sun_rises};

/// Dawn and nightfall.
pub(super) const RECORD: Record = Record {
    name: "dawn-and-nightfall",
    title: "Dawn and nightfall",
    source: Source::Treatise("II.6"),
    heading: "Day, night and unequal hours",
    weak: "Eighteen degrees is a convention. In northern summers beyond 48½° the Sun does not go so deep, and there is no answer.",
    taught: &[],
    needs: &[],
    asks: Asks::NOTHING,
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(instrument: &Instrument, _: &TaskChoices) -> Vec<Act> {
    let mut acts = plate_and_sun(instrument);
    acts.extend(sun_at_18(Pick::Western, Finding::Dawn));
    acts.extend(sun_rises());
    acts.push(count(Finding::Dawn, Finding::Sunrise, Finding::Twilight));
    acts.extend(sun_at_18(Pick::Eastern, Finding::Nightfall));
    acts
}
