use instrument::Instrument;

use crate::operation::{Act, Reckoning, Tower};
use crate::operations::record::{AskedOf, Asks, Record, Source, Steps, TaskChoices, TaskInput};
use crate::sight::{Sighting, Stated};

/// A height out of reach by umbra recta, from two stations.
pub(super) const RECORD: Record = Record {
    name: "height-by-recta-twice",
    title: "A height out of reach by umbra recta, from two stations",
    source: Source::Treatise("II.43 (supplement)"),
    heading: "Heights and shadows",
    weak: "Weak when the stations are close, as with umbra versa.",
    taught: &[],
    needs: &[
        TaskInput::Stated(Stated::Distance),
        TaskInput::Stated(Stated::EyeHeight),
        TaskInput::Seen(Sighting::Shadow),
        TaskInput::Seen(Sighting::OtherShadow),
    ],
    asks: Asks::NOTHING,
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(_: &Instrument, _: &TaskChoices) -> Vec<Act> {
    vec![
        Act::Observe(Sighting::Shadow),
        Act::Observe(Sighting::OtherShadow),
        Act::Reckon(Reckoning::Height(Tower::RectaTwice)),
    ]
}
