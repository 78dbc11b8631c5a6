use instrument::Instrument;

use crate::finding::Finding;
use crate::operation::{Act, RetePlace};
use crate::operations::record::{
    AskedOf, Asks, BodyAsked, Record, Sighted, Source, Steps, TaskChoices, TaskInput,
};
use crate::operations::steps::at_altitude;
use crate::quantity::Quantity;
use crate::sight::Sighting;

/// The degree of the Moon, or of a planet, by a star.
pub(super) const RECORD: Record = Record {
    name: "moon-degree",
    title: "The degree of the Moon, or of a planet, by a star",
    source: Source::Treatise("II.34"),
    heading: "Stars, Moon and planets",
    weak: "Rough for the Moon: it stands up to five degrees off the ecliptic, and its parallax takes up to a degree from its altitude.",
    taught: &[],
    needs: &[
        TaskInput::Star,
        TaskInput::Seen(Sighting::Altitude),
        TaskInput::Seen(Sighting::WandererAltitude),
    ],
    asks: Asks {
        sighted: Sighted::EastOrWest,
        body: BodyAsked::Or("the altitude alone"),
        ..Asks::NOTHING
    },
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(_: &Instrument, choices: &TaskChoices) -> Vec<Act> {
    let seen = Sighting::WandererAltitude;
    let mut acts = vec![Act::ChoosePlate];
    acts.extend(at_altitude(RetePlace::Star, choices.side));
    acts.push(Act::Observe(seen));
    acts.push(Act::ReadEclipticAtAltitude {
        altitude: Quantity::Seen(seen),
        side: choices.other_side,
        finds: Quantity::Found(Finding::MoonDegree),
    });
    acts
}
