use instrument::Instrument;

use crate::finding::Finding;
use crate::operation::{Act, Spot};
use crate::operations::record::{AskedOf, Asks, Record, Source, Steps, TaskChoices};
use crate::operations::steps::equator_altitude;
use crate::quantity::Quantity;

/// The latitude for which a plate is made.
pub(super) const RECORD: Record = Record {
    name: "plate-latitude",
    title: "The latitude for which a plate is made",
    source: Source::Treatise("II.21–22"),
    heading: "Place and plate",
    weak: "Shows how the plate was drawn, whatever is engraved on it.",
    taught: &[],
    needs: &[],
    asks: Asks::NOTHING,
    asked_of: AskedOf::Plate,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(_: &Instrument, _: &TaskChoices) -> Vec<Act> {
    let pole = Act::ReadAltitude {
        of: Spot::Pole,
        finds: Quantity::Found(Finding::PoleAltitude),
    };
    vec![Act::ChoosePlate, pole, equator_altitude()]
}
