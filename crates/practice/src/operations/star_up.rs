use instrument::Instrument;

use crate::operation::{Act, RetePlace};
use crate::operations::record::{
    AskedOf, Asks, Record, Source, Stars, Steps, TaskChoices, TaskInput, Taught,
};
use crate::operations::steps::{plate_and_sun, rising_to_setting};

/// How long a star is up, when it rises and sets.
pub(super) const RECORD: Record = Record {
    name: "star-up",
    title: "How long a star is up, when it rises and sets",
    source: Source::Treatise("II.7"),
    heading: "Stars, Moon and planets",
    weak: "A star that stays up or never rises has no answer. Where its path runs slantwise to the horizon the setting is coarse.",
    taught: &[Taught { level: 3, place: 8 }],
    needs: &[TaskInput::Star],
    asks: Asks {
        stars: Stars::RiseAndSet,
        ..Asks::NOTHING
    },
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(instrument: &Instrument, _: &TaskChoices) -> Vec<Act> {
    let mut acts = plate_and_sun(instrument);
    acts.extend(rising_to_setting(RetePlace::Star));
    acts
}
