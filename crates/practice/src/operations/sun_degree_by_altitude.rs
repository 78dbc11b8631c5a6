use instrument::Instrument;

use crate::finding::Finding;
use crate::operation::{Act, WhichDegree};
use crate::operations::record::{
    AskedOf, Asks, Record, Sighted, Source, Steps, TaskChoices, TaskInput,
};
use crate::operations::steps::seen_on_meridian;
use crate::quantity::Quantity;
use crate::sight::Sighting;

/// The Sun's degree from its altitude at noon.
pub(super) const RECORD: Record = Record {
    name: "sun-degree-by-altitude",
    title: "The Sun's degree from its altitude at noon",
    source: Source::Treatise("II.14"),
    heading: "The Sun and its degree",
    weak: "Worth little near the solstices, where the Sun's declination stands still: a quarter of a degree of altitude is then ten degrees of the zodiac.",
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

fn acts(_: &Instrument, choices: &TaskChoices) -> Vec<Act> {
    let (seen, altitude) = seen_on_meridian(Sighting::NoonAltitude, choices);
    let mut acts = vec![Act::ChoosePlate];
    acts.extend(seen);
    acts.push(Act::TurnEclipticToAltitude {
        altitude,
        which: WhichDegree::InSeason,
        finds: Quantity::Found(Finding::SunDegree),
    });
    acts
}
