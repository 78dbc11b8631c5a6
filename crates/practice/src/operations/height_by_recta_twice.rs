use instrument::Instrument;

use crate::operation::{Act, Reckoning, Tower};
use crate::operations::record::{AskedOf, Asks, Need, Record, Source, Steps, Way};
use crate::sight::{Sight, Told};

/// A height out of reach by umbra recta, from two stations.
pub(super) const RECORD: Record = Record {
    name: "height-by-recta-twice",
    title: "A height out of reach by umbra recta, from two stations",
    source: Source::Treatise("II.43 (supplement)"),
    heading: "Heights and shadows",
    weak: "Weak when the stations are close, as with umbra versa.",
    taught: &[],
    needs: &[
        Need::Told(Told::Distance),
        Need::Told(Told::EyeHeight),
        Need::Seen(Sight::Shadow),
        Need::Seen(Sight::OtherShadow),
    ],
    asks: Asks::NOTHING,
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(_: &Instrument, _: &Way) -> Vec<Act> {
    vec![
        Act::Observe(Sight::Shadow),
        Act::Observe(Sight::OtherShadow),
        Act::Reckon(Reckoning::Height(Tower::RectaTwice)),
    ]
}
