use instrument::Instrument;

use crate::operation::{Act, Reckoning, Tower};
use crate::operations::record::{AskedOf, Asks, Record, Source, Steps, TaskChoices, TaskInput};
use crate::sight::{Sighting, Stated};

/// A height by umbra recta, the foot in reach.
pub(super) const RECORD: Record = Record {
    name: "height-by-recta",
    title: "A height by umbra recta, the foot in reach",
    source: Source::Treatise("II.41"),
    heading: "Heights and shadows",
    weak: "Surest near twelve points; with few points a small slip of the alidade is many feet.",
    taught: &[],
    needs: &[
        TaskInput::Stated(Stated::Distance),
        TaskInput::Stated(Stated::EyeHeight),
        TaskInput::Seen(Sighting::Shadow),
    ],
    asks: Asks::NOTHING,
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(_: &Instrument, _: &TaskChoices) -> Vec<Act> {
    vec![
        Act::Observe(Sighting::Shadow),
        Act::Reckon(Reckoning::Height(Tower::Recta)),
    ]
}
