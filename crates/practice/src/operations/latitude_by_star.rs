use instrument::Instrument;

use crate::operation::{Act, RetePlace};
use crate::operations::record::{
    AskedOf, Asks, Record, Sighted, Source, Stars, Steps, TaskChoices, TaskInput,
};
use crate::operations::steps::latitude_by;
use crate::sight::Sighting;

/// The latitude by a star on the meridian.
pub(super) const RECORD: Record = Record {
    name: "latitude-by-star",
    title: "The latitude by a star on the meridian",
    source: Source::Treatise("II.25"),
    heading: "Place and plate",
    weak: "As good as the altitude and the place of the pointer.",
    taught: &[],
    needs: &[TaskInput::Star, TaskInput::Seen(Sighting::NoonAltitude)],
    asks: Asks {
        sighted: Sighted::OnMeridian(Sighting::NoonAltitude),
        stars: Stars::Culminate,
        ..Asks::NOTHING
    },
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(instrument: &Instrument, choices: &TaskChoices) -> Vec<Act> {
    let mut acts = vec![Act::ChoosePlate];
    acts.extend(latitude_by(instrument, RetePlace::Star, choices));
    acts
}
