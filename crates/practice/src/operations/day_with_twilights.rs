use instrument::{Instrument, Pick};

use crate::finding::Finding;
use crate::operation::Act;
use crate::operations::record::{AskedOf, Asks, Record, Source, Steps, TaskChoices};
use crate::operations::steps::{count, plate_and_sun, sun_at_18};

/// The day with both its twilights.
pub(super) const RECORD: Record = Record {
    name: "day-with-twilights",
    title: "The day with both its twilights",
    source: Source::Treatise("II.9"),
    heading: "Day, night and unequal hours",
    weak: "As dawn and nightfall: no answer where the Sun does not sink eighteen degrees.",
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
    acts.extend(sun_at_18(Pick::Eastern, Finding::Nightfall));
    acts.push(count(
        Finding::Dawn,
        Finding::Nightfall,
        Finding::DayWithTwilights,
    ));
    acts
}
