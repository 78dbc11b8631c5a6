use instrument::Instrument;

use crate::operation::{Act, Reckoning};
use crate::operations::record::{AskedOf, Asks, Record, Source, Steps, TaskChoices, TaskInput};
use crate::sight::Sighting;

/// Points of umbra recta turned into umbra versa.
pub(super) const RECORD: Record = Record {
    name: "recta-to-versa",
    title: "Points of umbra recta turned into umbra versa",
    source: Source::Treatise("II.42 (supplement)"),
    heading: "Heights and shadows",
    weak: "Plain arithmetic: 144 divided by the points.",
    taught: &[],
    needs: &[TaskInput::Seen(Sighting::Shadow)],
    asks: Asks::NOTHING,
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(_: &Instrument, _: &TaskChoices) -> Vec<Act> {
    vec![
        Act::Observe(Sighting::Shadow),
        Act::Reckon(Reckoning::RectaToVersa),
    ]
}
