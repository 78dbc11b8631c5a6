use instrument::Instrument;

use crate::finding::Finding;
use crate::operation::{Act, Reckoning};
use crate::operations::record::{
    AskedOf, Asks, Record, Sighted, Source, Stars, Steps, TaskChoices, TaskInput,
};
use crate::operations::steps::seen_on_meridian;
use crate::quantity::Quantity;
use crate::sight::Sighting;

/// The latitude by a star that does not set.
pub(super) const RECORD: Record = Record {
    name: "latitude-by-circumpolar-star",
    title: "The latitude by a star that does not set",
    source: Source::Treatise("II.23–24"),
    heading: "Place and plate",
    weak: "Needs no tables. Half the error of either altitude; refraction raises the lower one more.",
    taught: &[],
    needs: &[
        TaskInput::Star,
        TaskInput::Seen(Sighting::UpperAltitude),
        TaskInput::Seen(Sighting::LowerAltitude),
    ],
    asks: Asks {
        sighted: Sighted::OnMeridian(Sighting::UpperAltitude),
        stars: Stars::Circumpolar,
        ..Asks::NOTHING
    },
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(_: &Instrument, choices: &TaskChoices) -> Vec<Act> {
    let (mut acts, upper) = seen_on_meridian(Sighting::UpperAltitude, choices);
    let lower = Sighting::LowerAltitude;
    acts.push(Act::Observe(lower));
    let mean = Reckoning::Mean(upper, Quantity::Seen(lower), Finding::PoleAltitude);
    acts.push(Act::Reckon(mean));
    acts
}
