use instrument::Instrument;

use crate::operation::{Act, RetePlace};
use crate::operations::record::{
    AskedOf, Asks, Record, Sighted, Source, Steps, TaskChoices, TaskInput,
};
use crate::operations::steps::{latitude_by, plate_and_sun};
use crate::sight::Sighting;

/// The latitude by the Sun at noon.
pub(super) const RECORD: Record = Record {
    name: "latitude-by-noon-sun",
    title: "The latitude by the Sun at noon",
    source: Source::Treatise("II.25"),
    heading: "Place and plate",
    weak: "As good as the altitude; the declination adds most about the equinoxes, when the Sun's degree is a day off.",
    taught: &[],
    needs: &[TaskInput::Seen(Sighting::NoonAltitude)],
    asks: Asks {
        sighted: Sighted::OnMeridian(Sighting::NoonAltitude),
        ..Asks::NOTHING
    },
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(instrument: &Instrument, choices: &TaskChoices) -> Vec<Act> {
    let mut acts = plate_and_sun(instrument);
    acts.extend(latitude_by(instrument, RetePlace::Sun, choices));
    acts
}
