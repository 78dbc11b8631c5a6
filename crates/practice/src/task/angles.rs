//! Altitudes on the meridian, declinations, latitudes, azimuths: conclusions 13 to
//! 16, 20 to 25, 29 to 33.

use instrument::{Hemisphere, Instrument, LineId, Pick};

use super::day::{by_the_clock, onto_horizon};
use super::hour::{at_altitude, plate_and_sun};
use crate::finding::Finding;
use crate::operation::{Act, Brought, Reckoning, Sense, Spot, WhichDegree};
use crate::quantity::Quantity;
use crate::sight::{Sight, Told};
use crate::task::{Task, Way};

pub(super) fn onto_meridian(what: Brought) -> Act {
    Act::TurnRete {
        what,
        onto: LineId::MeridianLine,
        pick: Pick::Drawn,
        sense: Sense::Either,
    }
}

/// The altitude on the meridian of a place of the rete.
pub(super) fn meridian_altitude(what: Brought) -> [Act; 2] {
    [
        onto_meridian(what),
        Act::ReadAltitude {
            of: Spot::OnRete(what),
            finds: Quantity::Found(Finding::MeridianAltitude),
        },
    ]
}

fn equator_altitude() -> Act {
    Act::ReadAltitude {
        of: Spot::EquatorAtNoon,
        finds: Quantity::Found(Finding::EquatorAltitude),
    }
}

/// What is north of it culminates above the equator in the north, below it in the south:
/// the first less the second, or there the second less the first, is counted northward.
pub(super) fn northward(
    instrument: &Instrument,
    of: Quantity,
    from: Quantity,
    finding: Finding,
) -> Act {
    Act::Reckon(match instrument.specification().hemisphere {
        Hemisphere::North => Reckoning::Less(of, from, finding),
        Hemisphere::South => Reckoning::Less(from, of, finding),
    })
}

/// An altitude seen on the meridian, counted on through the zenith where it stands
/// beyond: the steps, and what is then reckoned with.
pub(super) fn seen_on_meridian(sight: Sight, way: &Way) -> (Vec<Act>, Quantity) {
    let seen = Act::Observe(sight);
    if way.beyond_zenith {
        let counted = Act::Reckon(Reckoning::ThroughZenith(sight));
        let found = Quantity::Found(Finding::ThroughZenith);
        (vec![seen, counted], found)
    } else {
        (vec![seen], Quantity::Seen(sight))
    }
}

/// How far north of the equator a place of the rete culminates.
fn declination(instrument: &Instrument, what: Brought) -> Vec<Act> {
    let mut acts = Vec::from(meridian_altitude(what));
    acts.push(equator_altitude());
    acts.push(northward(
        instrument,
        Quantity::Found(Finding::MeridianAltitude),
        Quantity::Found(Finding::EquatorAltitude),
        Finding::Declination,
    ));
    acts
}

/// The pole's altitude from a meridian altitude seen and a declination read.
fn latitude_by(instrument: &Instrument, what: Brought, way: &Way) -> Vec<Act> {
    let (mut acts, seen) = seen_on_meridian(Sight::NoonAltitude, way);
    acts.extend(declination(instrument, what));
    let declination = Quantity::Found(Finding::Declination);
    let here = Finding::EquatorHere;
    acts.push(Act::Reckon(match instrument.specification().hemisphere {
        Hemisphere::North => Reckoning::Less(seen, declination, here),
        Hemisphere::South => Reckoning::Sum(seen, declination, here),
    }));
    acts.push(Act::Reckon(Reckoning::RestOfRight(
        Quantity::Found(here),
        Finding::PoleAltitude,
    )));
    acts
}

fn azimuth(of: Brought, finding: Finding) -> Act {
    Act::ReadAzimuth {
        of,
        finds: Quantity::Found(finding),
    }
}

pub(super) fn acts(task: Task, instrument: &Instrument, way: &Way) -> Option<Vec<Act>> {
    let mut acts = plate_and_sun(instrument);
    let degree = Brought::Degree(Quantity::Told(Told::Degree));
    match task {
        Task::MeridianAltitude => acts.extend(meridian_altitude(way.subject)),
        Task::SunDegreeByAltitude => {
            let (seen, altitude) = seen_on_meridian(Sight::NoonAltitude, way);
            acts = vec![Act::ChoosePlate];
            acts.extend(seen);
            acts.push(Act::TurnEclipticToAltitude {
                altitude,
                which: WhichDegree::InSeason,
                finds: Quantity::Found(Finding::SunDegree),
            });
        }
        Task::EquallyLongDays => {
            acts = vec![Act::ChoosePlate];
            acts.extend(meridian_altitude(degree));
            acts.push(Act::TurnEclipticToAltitude {
                altitude: Quantity::Found(Finding::MeridianAltitude),
                which: WhichDegree::Not(Quantity::Told(Told::Degree)),
                finds: Quantity::Found(Finding::OtherDegree),
            });
        }
        Task::Declination => {
            acts = vec![Act::ChoosePlate];
            acts.extend(declination(instrument, degree));
        }
        Task::PlateLatitude => {
            acts = vec![
                Act::ChoosePlate,
                Act::ReadAltitude {
                    of: Spot::Pole,
                    finds: Quantity::Found(Finding::PoleAltitude),
                },
                equator_altitude(),
            ];
        }
        Task::LatitudeByCircumpolarStar => {
            let (seen, upper) = seen_on_meridian(Sight::UpperAltitude, way);
            let lower = Sight::LowerAltitude;
            acts = seen;
            acts.extend([
                Act::Observe(lower),
                Act::Reckon(Reckoning::Mean(
                    upper,
                    Quantity::Seen(lower),
                    Finding::PoleAltitude,
                )),
            ]);
        }
        Task::LatitudeByNoonSun => acts.extend(latitude_by(instrument, Brought::Sun, way)),
        Task::LatitudeByStar => {
            acts = vec![Act::ChoosePlate];
            acts.extend(latitude_by(instrument, Brought::Star, way));
        }
        Task::FourQuarters | Task::AzimuthByAltitude => {
            acts.extend(at_altitude(way.subject, way.side));
            acts.push(azimuth(way.subject, Finding::Azimuth));
            if task == Task::FourQuarters {
                acts.push(Act::Reckon(Reckoning::FromSouth(
                    Quantity::Found(Finding::Azimuth),
                    Finding::FromSouth,
                )));
            }
        }
        Task::SunriseAzimuth => {
            acts.extend([
                onto_horizon(way.subject, Pick::Eastern),
                azimuth(way.subject, Finding::Azimuth),
                onto_horizon(way.subject, Pick::Western),
                azimuth(way.subject, Finding::SettingAzimuth),
            ]);
        }
        Task::AzimuthAtHour => {
            acts.extend(by_the_clock());
            acts.push(azimuth(way.subject, Finding::Azimuth));
            acts.push(Act::ReadAltitude {
                of: Spot::OnRete(way.subject),
                finds: Quantity::Found(Finding::Altitude),
            });
        }
        _ => return None,
    }
    Some(acts)
}
