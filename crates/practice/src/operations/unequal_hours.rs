use instrument::Instrument;

use crate::operation::Act;
use crate::operations::record::{AskedOf, Asks, Record, Source, Steps, TaskChoices, Taught};
use crate::operations::steps::{day_arc, plate_and_sun, unequal_hours};

/// The lengths of the unequal hours.
pub(super) const RECORD: Record = Record {
    name: "unequal-hours",
    title: "The lengths of the unequal hours",
    source: Source::Treatise("II.10"),
    heading: "Day, night and unequal hours",
    weak: "A twelfth of the error of the day's arc: the safest measure on the plate.",
    taught: &[Taught { level: 2, place: 6 }],
    needs: &[],
    asks: Asks::NOTHING,
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(instrument: &Instrument, _: &TaskChoices) -> Vec<Act> {
    let mut acts = plate_and_sun(instrument);
    acts.extend(day_arc());
    acts.extend(unequal_hours());
    acts
}
