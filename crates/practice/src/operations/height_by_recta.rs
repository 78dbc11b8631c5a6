use instrument::Instrument;

use crate::operation::{Act, Reckoning, Tower};
use crate::operations::record::{AskedOf, Asks, Need, Record, Source, Steps, Way};
use crate::sight::{Sight, Told};

/// A height by umbra recta, the foot in reach.
pub(super) const RECORD: Record = Record {
    name: "height-by-recta",
    title: "A height by umbra recta, the foot in reach",
    source: Source::Treatise("II.41"),
    heading: "Heights and shadows",
    weak: "Surest near twelve points; with few points a small slip of the alidade is many feet.",
    taught: &[],
    needs: &[
        Need::Told(Told::Distance),
        Need::Told(Told::EyeHeight),
        Need::Seen(Sight::Shadow),
    ],
    asks: Asks::NOTHING,
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(_: &Instrument, _: &Way) -> Vec<Act> {
    vec![
        Act::Observe(Sight::Shadow),
        Act::Reckon(Reckoning::Height(Tower::Recta)),
    ]
}
