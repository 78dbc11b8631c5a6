use instrument::Instrument;

use crate::operation::Act;
use crate::operations::record::{
    AskedOf, Asks, BodyAsked, Record, Source, Steps, TaskChoices, TaskInput,
};
use crate::operations::steps::{plate_and_sun, rising_to_setting, told_degree};
use crate::sight::Stated;

/// When a degree rises, culminates and sets.
pub(super) const RECORD: Record = Record {
    name: "degree-up",
    title: "When a degree rises, culminates and sets",
    source: Source::Treatise("II.3, turned round"),
    heading: "The figure",
    weak: "As good as the horizon there: coarse where the ecliptic lies flat on it.",
    taught: &[],
    needs: &[TaskInput::Stated(Stated::Degree)],
    asks: Asks {
        body: BodyAsked::UnlessTold,
        ..Asks::NOTHING
    },
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(instrument: &Instrument, _: &TaskChoices) -> Vec<Act> {
    let mut acts = plate_and_sun(instrument);
    acts.extend(rising_to_setting(told_degree()));
    acts
}
