use instrument::Instrument;

use crate::finding::Finding;
use crate::operation::{Act, Reckoning};
use crate::operations::record::{AskedOf, Asks, Record, Source, Steps, TaskChoices, TaskInput};
use crate::operations::steps::{day_arc, plate_and_sun, unequal_hours};
use crate::quantity::Quantity;
use crate::sight::Stated;

/// Unequal hours turned into equal ones.
pub(super) const RECORD: Record = Record {
    name: "equal-hours",
    title: "Unequal hours turned into equal ones",
    source: Source::Treatise("II.8"),
    heading: "Day, night and unequal hours",
    weak: "An error of the day's length is divided by twelve and multiplied by the hours.",
    taught: &[],
    needs: &[TaskInput::Stated(Stated::UnequalHours)],
    asks: Asks::NOTHING,
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(instrument: &Instrument, choices: &TaskChoices) -> Vec<Act> {
    let mut acts = plate_and_sun(instrument);
    acts.extend(day_arc());
    acts.extend(unequal_hours());
    let hour = Quantity::Found(if choices.hour > 12 {
        Finding::UnequalHourOfNight
    } else {
        Finding::UnequalHourOfDay
    });
    acts.push(Act::Reckon(Reckoning::Hours(hour, Finding::EqualHours)));
    acts
}
