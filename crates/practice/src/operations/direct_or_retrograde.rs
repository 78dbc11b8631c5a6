use instrument::Instrument;

use crate::finding::Finding;
use crate::operation::{Act, Reckoning};
use crate::operations::record::{AskedOf, Asks, Record, Source, Steps, TaskChoices, TaskInput};
use crate::quantity::Quantity;
use crate::sight::Sighting;

/// Whether a planet is direct or retrograde.
pub(super) const RECORD: Record = Record {
    name: "direct-or-retrograde",
    title: "Whether a planet is direct or retrograde",
    source: Source::Treatise("II.35"),
    heading: "Stars, Moon and planets",
    weak: "Both altitudes must be taken with the same star at the same height, the planet in the east; near its station the change is less than the hand's error.",
    taught: &[],
    needs: &[
        TaskInput::Seen(Sighting::WandererAltitude),
        TaskInput::Seen(Sighting::OtherAltitude),
    ],
    asks: Asks::NOTHING,
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(_: &Instrument, _: &TaskChoices) -> Vec<Act> {
    let (first, second) = (Sighting::WandererAltitude, Sighting::OtherAltitude);
    let change = Reckoning::Less(
        Quantity::Seen(second),
        Quantity::Seen(first),
        Finding::AltitudeChange,
    );
    vec![
        Act::Observe(first),
        Act::Observe(second),
        Act::Reckon(change),
    ]
}
