use instrument::Instrument;

use crate::finding::Finding;
use crate::operation::{Act, Reckoning};
use crate::operations::record::{AskedOf, Asks, Record, Source, Steps, TaskChoices, TaskInput};
use crate::quantity::Quantity;
use crate::sight::Sighting;

/// The true meridian by two equal shadows.
pub(super) const RECORD: Record = Record {
    name: "meridian-by-shadows",
    title: "The true meridian by two equal shadows",
    source: Source::Treatise("II.38"),
    heading: "Altitudes and directions",
    weak: "The Sun's declination changes between the shadows: up to a few minutes of arc at the equinoxes, nothing at the solstices.",
    taught: &[],
    needs: &[
        TaskInput::Seen(Sighting::MorningShadow),
        TaskInput::Seen(Sighting::EveningShadow),
    ],
    asks: Asks::NOTHING,
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(_: &Instrument, _: &TaskChoices) -> Vec<Act> {
    let (morning, evening) = (Sighting::MorningShadow, Sighting::EveningShadow);
    let mean = Reckoning::Mean(
        Quantity::Seen(morning),
        Quantity::Seen(evening),
        Finding::MeridianDirection,
    );
    vec![
        Act::Observe(morning),
        Act::Observe(evening),
        Act::Reckon(mean),
    ]
}
