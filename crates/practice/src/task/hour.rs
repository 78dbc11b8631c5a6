//! The Sun's degree, altitudes, and the hour from them: conclusions 1 to 5.

use instrument::{DateFrom, Instrument, LineId, Pick};

use crate::finding::Finding;
use crate::operation::{Act, Brought, Reckoning};
use crate::quantity::{Beside, Note, Quantity};
use crate::sight::Sight;
use crate::task::{Task, Way};

/// The plate laid in, and the Sun's degree from the back, where there is a scale.
pub(super) fn plate_and_sun(instrument: &Instrument) -> Vec<Act> {
    let mut acts = vec![Act::ChoosePlate];
    if instrument.date_from() == DateFrom::Zodiac {
        acts.push(Act::ReadSunDegree);
    }
    acts
}

/// The rete turned so that a place of it has the altitude seen.
pub(super) fn at_altitude(what: Brought, side: Pick) -> [Act; 2] {
    [
        Act::Observe(Sight::Altitude),
        Act::TurnReteToAltitude {
            what,
            altitude: Quantity::Seen(Sight::Altitude),
            side,
        },
    ]
}

/// The hour under the Sun.
pub(super) fn hour(finding: Finding) -> Act {
    Act::ReadLimb {
        over: Brought::Sun,
        finds: Quantity::Found(finding),
    }
}

pub(super) fn ascendant() -> Act {
    Act::ReadEcliptic {
        at: LineId::Horizon,
        pick: Pick::Eastern,
        finds: Quantity::Ascendant,
    }
}

pub(super) fn midheaven() -> Act {
    Act::ReadEcliptic {
        at: LineId::MeridianLine,
        pick: Pick::Drawn,
        finds: Quantity::Midheaven,
    }
}

pub(super) fn acts(task: Task, instrument: &Instrument, way: &Way) -> Option<Vec<Act>> {
    let mut acts = plate_and_sun(instrument);
    match task {
        Task::SunDegree => return Some(vec![Act::ReadSunDegree]),
        Task::Altitude => return Some(vec![Act::Observe(Sight::Altitude)]),
        Task::HourBySun | Task::HourByStar => {
            let what = match task {
                Task::HourByStar => Brought::Star,
                _ => Brought::Sun,
            };
            acts.extend(at_altitude(what, way.side));
            acts.extend([hour(Finding::Hour), ascendant(), midheaven()]);
        }
        Task::BetweenAlmucantars => {
            let to = |side, note| {
                [
                    Act::TurnReteToAltitude {
                        what: Brought::Sun,
                        altitude: Quantity::Engraved(side),
                        side: way.side,
                    },
                    Act::ReadAlmuri {
                        finds: Quantity::Noted(note),
                    },
                ]
            };
            acts.push(Act::Observe(Sight::Altitude));
            acts.push(Act::Reckon(Reckoning::Beside(
                Sight::Altitude,
                Beside::Below,
            )));
            acts.push(Act::Reckon(Reckoning::Beside(
                Sight::Altitude,
                Beside::Above,
            )));
            acts.extend(to(Beside::Below, Note::First));
            acts.extend(to(Beside::Above, Note::Second));
            acts.push(Act::Reckon(Reckoning::InProportion(Sight::Altitude)));
            acts.push(Act::TurnAlmuriOnto(Quantity::Noted(Note::Between)));
            acts.extend([hour(Finding::Hour), ascendant()]);
        }
        _ => return None,
    }
    Some(acts)
}
