//! Stars, the Moon and the planets: conclusions 17 to 19, 30, 34, 35, 38, 40.

use instrument::{Instrument, LineId, Pick};

use super::angles::{meridian_altitude, northward, onto_meridian, seen_on_meridian};
use super::day::onto_horizon;
use super::hour::at_altitude;
use crate::finding::Finding;
use crate::operation::{Act, Along, Brought, Reckoning};
use crate::quantity::{Note, Quantity};
use crate::sight::{Sight, Told};
use crate::task::{Task, Way};

fn ecliptic(at: LineId, pick: Pick, finding: Finding) -> Act {
    Act::ReadEcliptic {
        at,
        pick,
        finds: Quantity::Found(finding),
    }
}

fn on_meridian(finding: Finding) -> Act {
    ecliptic(LineId::MeridianLine, Pick::Drawn, finding)
}

fn rising(finding: Finding) -> Act {
    ecliptic(LineId::Horizon, Pick::Eastern, finding)
}

fn noted(note: Note) -> Act {
    Act::ReadAlmuri {
        finds: Quantity::Noted(note),
    }
}

pub(super) fn acts(task: Task, instrument: &Instrument, way: &Way) -> Option<Vec<Act>> {
    let mut acts = vec![Act::ChoosePlate];
    let (degree, other) = (
        Quantity::Told(Told::Degree),
        Quantity::Told(Told::OtherDegree),
    );
    match task {
        Task::StarDegreeByTwoAltitudes => acts.extend([
            onto_horizon(Brought::Degree(degree), Pick::Eastern),
            noted(Note::First),
            onto_horizon(Brought::Degree(other), Pick::Eastern),
            noted(Note::Second),
            Act::Reckon(Reckoning::Midway(
                Quantity::Noted(Note::First),
                Quantity::Noted(Note::Second),
                Note::Between,
            )),
            Act::TurnAlmuriOnto(Quantity::Noted(Note::Between)),
            on_meridian(Finding::CulminatingDegree),
            Act::Reckon(Reckoning::MidDegree(
                degree,
                other,
                Finding::OldRisingDegree,
            )),
            onto_horizon(
                Brought::Degree(Quantity::Found(Finding::OldRisingDegree)),
                Pick::Eastern,
            ),
            on_meridian(Finding::OldCulminatingDegree),
        ]),
        Task::CulminatingDegree => acts.extend([
            onto_meridian(Brought::Star),
            on_meridian(Finding::CulminatingDegree),
        ]),
        Task::RisingDegree => acts.extend([
            onto_horizon(Brought::Star, Pick::Eastern),
            rising(Finding::RisingDegree),
            onto_horizon(Brought::Star, Pick::Western),
            ecliptic(LineId::Horizon, Pick::Western, Finding::SettingDegree),
        ]),
        Task::PlanetLatitude => {
            let (observed, seen) = seen_on_meridian(Sight::WandererAltitude, way);
            acts.extend(observed);
            acts.extend(meridian_altitude(Brought::Degree(degree)));
            acts.push(northward(
                instrument,
                seen,
                Quantity::Found(Finding::MeridianAltitude),
                Finding::PlanetLatitude,
            ));
        }
        Task::MoonDegree => {
            acts.extend(at_altitude(Brought::Star, way.side));
            acts.push(Act::Observe(Sight::WandererAltitude));
            acts.push(Act::ReadEclipticAtAltitude {
                altitude: Quantity::Seen(Sight::WandererAltitude),
                side: way.other_side,
                finds: Quantity::Found(Finding::MoonDegree),
            });
        }
        Task::DirectOrRetrograde => {
            let (first, second) = (Sight::WandererAltitude, Sight::OtherAltitude);
            acts = vec![
                Act::Observe(first),
                Act::Observe(second),
                Act::Reckon(Reckoning::Less(
                    Quantity::Seen(second),
                    Quantity::Seen(first),
                    Finding::AltitudeChange,
                )),
            ];
        }
        Task::MeridianByShadows => {
            let (morning, evening) = (Sight::MorningShadow, Sight::EveningShadow);
            acts = vec![
                Act::Observe(morning),
                Act::Observe(evening),
                Act::Reckon(Reckoning::Mean(
                    Quantity::Seen(morning),
                    Quantity::Seen(evening),
                    Finding::MeridianDirection,
                )),
            ];
        }
        Task::RisingDegreeOfPlanet => {
            acts.extend([
                Act::Wax(Along::CircleOfLatitude),
                onto_horizon(Brought::Waxed, Pick::Eastern),
                rising(Finding::RisingDegree),
            ]);
            acts.extend(meridian_altitude(Brought::Degree(degree)));
            acts.extend([
                Act::Wax(Along::Rule),
                onto_horizon(Brought::Waxed, Pick::Eastern),
                rising(Finding::OldRisingDegree),
            ]);
        }
        _ => return None,
    }
    Some(acts)
}
