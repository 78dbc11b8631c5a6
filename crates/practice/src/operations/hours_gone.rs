use instrument::Instrument;

use crate::finding::Finding;
use crate::operation::Act;
use crate::operations::record::{AskedOf, Asks, Record, Source, Steps, TaskChoices, Taught};
use crate::operations::steps::{by_the_clock, count, hour, plate_and_sun, sun_rises, sun_sets};

/// Equal hours since sunrise and since sunset.
pub(super) const RECORD: Record = Record {
    name: "hours-gone",
    title: "Equal hours since sunrise and since sunset",
    source: Source::Treatise("II.11"),
    heading: "The hour",
    weak: "As good as the hour it starts from.",
    taught: &[Taught { level: 3, place: 7 }],
    needs: &[],
    asks: Asks::NOTHING,
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(instrument: &Instrument, _: &TaskChoices) -> Vec<Act> {
    let mut acts = plate_and_sun(instrument);
    acts.extend(by_the_clock());
    acts.push(hour(Finding::Hour));
    acts.extend(sun_rises());
    acts.push(count(
        Finding::Sunrise,
        Finding::Hour,
        Finding::SinceSunrise,
    ));
    acts.extend(sun_sets());
    acts.push(count(Finding::Sunset, Finding::Hour, Finding::SinceSunset));
    acts
}
