use instrument::Instrument;

use crate::finding::Finding;
use crate::operation::{Act, Reckoning, RetePlace};
use crate::operations::record::{
    AskedOf, Asks, Record, Sighted, Source, Steps, TaskChoices, TaskInput,
};
use crate::operations::steps::{ascendant, hour, noted, plate_and_sun};
use crate::quantity::{Beside, Note, Quantity};
use crate::sight::Sighting;

/// The hour from an altitude that has no line of its own.
pub(super) const RECORD: Record = Record {
    name: "between-almucantars",
    title: "The hour from an altitude that has no line of its own",
    source: Source::Treatise("II.5"),
    heading: "The hour",
    weak: "The almuri does not go evenly between two almucantars: the proportion is good to a minute or two on lines five degrees apart, and worst near noon.",
    taught: &[],
    needs: &[TaskInput::Seen(Sighting::Altitude)],
    asks: Asks {
        sighted: Sighted::EastOrWest,
        ..Asks::NOTHING
    },
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(instrument: &Instrument, choices: &TaskChoices) -> Vec<Act> {
    let to = |side, note| {
        let altitude = Quantity::Engraved(side);
        let turn = Act::TurnReteToAltitude {
            what: RetePlace::Sun,
            altitude,
            side: choices.side,
        };
        [turn, noted(note)]
    };
    let beside = |side| Act::Reckon(Reckoning::Beside(Sighting::Altitude, side));
    let mut acts = plate_and_sun(instrument);
    acts.extend([
        Act::Observe(Sighting::Altitude),
        beside(Beside::Below),
        beside(Beside::Above),
    ]);
    acts.extend(to(Beside::Below, Note::First));
    acts.extend(to(Beside::Above, Note::Second));
    acts.extend([
        Act::Reckon(Reckoning::InProportion(Sighting::Altitude)),
        Act::TurnAlmuriOnto(Quantity::Noted(Note::Between)),
        hour(Finding::Hour),
        ascendant(),
    ]);
    acts
}
