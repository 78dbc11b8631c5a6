use instrument::Instrument;

use crate::operation::{Act, Reckoning, Tower};
use crate::operations::record::{AskedOf, Asks, Record, Source, Steps, TaskChoices, TaskInput};
use crate::sight::{Sighting, Stated};

/// A height out of reach by umbra versa, from two stations.
pub(super) const RECORD: Record = Record {
    name: "height-by-versa-twice",
    title: "A height out of reach by umbra versa, from two stations",
    source: Source::Treatise("II.42 (supplement)"),
    heading: "Heights and shadows",
    weak: "Weak when the stations are close: the small difference of two readings divides the way between.",
    taught: &[],
    needs: &[
        TaskInput::Stated(Stated::Distance),
        TaskInput::Stated(Stated::EyeHeight),
        TaskInput::Seen(Sighting::Shadow),
        TaskInput::Seen(Sighting::OtherShadow),
    ],
    asks: Asks {
        shrinking_shadow: true,
        ..Asks::NOTHING
    },
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(_: &Instrument, _: &TaskChoices) -> Vec<Act> {
    vec![
        Act::Observe(Sighting::Shadow),
        Act::Observe(Sighting::OtherShadow),
        Act::Reckon(Reckoning::Height(Tower::VersaTwice)),
    ]
}
