use instrument::Instrument;

use crate::finding::Finding;
use crate::operation::{Act, Brought};
use crate::operations::record::{
    AskedOf, Asks, BodyAsked, Need, Record, Sighted, Source, Steps, Way,
};
use crate::operations::steps::at_altitude;
use crate::quantity::Quantity;
use crate::sight::Sight;

/// The degree of the Moon, or of a planet, by a star.
pub(super) const RECORD: Record = Record {
    name: "moon-degree",
    title: "The degree of the Moon, or of a planet, by a star",
    source: Source::Treatise("II.34"),
    heading: "Stars, Moon and planets",
    weak: "Rough for the Moon: it stands up to five degrees off the ecliptic, and its parallax takes up to a degree from its altitude.",
    taught: &[],
    needs: &[
        Need::Star,
        Need::Seen(Sight::Altitude),
        Need::Seen(Sight::WandererAltitude),
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

fn acts(_: &Instrument, way: &Way) -> Vec<Act> {
    let seen = Sight::WandererAltitude;
    let mut acts = vec![Act::ChoosePlate];
    acts.extend(at_altitude(Brought::Star, way.side));
    acts.push(Act::Observe(seen));
    acts.push(Act::ReadEclipticAtAltitude {
        altitude: Quantity::Seen(seen),
        side: way.other_side,
        finds: Quantity::Found(Finding::MoonDegree),
    });
    acts
}
