//! Altitudes on the meridian, declinations, latitudes, azimuths: conclusions 13 to
//! 16, 20 to 25, 29 to 33.

use instrument::{Instrument, LineId, Pick};

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

/// How far a place of the rete culminates above the equator.
fn declination(what: Brought) -> Vec<Act> {
    let mut acts = Vec::from(meridian_altitude(what));
    acts.push(equator_altitude());
    acts.push(Act::Reckon(Reckoning::Less(
        Quantity::Found(Finding::MeridianAltitude),
        Quantity::Found(Finding::EquatorAltitude),
        Finding::Declination,
    )));
    acts
}

/// The pole's altitude from a meridian altitude seen and a declination read.
fn latitude_by(what: Brought) -> Vec<Act> {
    let mut acts = vec![Act::Observe(Sight::NoonAltitude)];
    acts.extend(declination(what));
    acts.push(Act::Reckon(Reckoning::Less(
        Quantity::Seen(Sight::NoonAltitude),
        Quantity::Found(Finding::Declination),
        Finding::EquatorAltitude,
    )));
    acts.push(Act::Reckon(Reckoning::RestOfRight(
        Quantity::Found(Finding::EquatorAltitude),
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
            acts = vec![Act::ChoosePlate, Act::Observe(Sight::NoonAltitude)];
            acts.push(Act::TurnEclipticToAltitude {
                altitude: Quantity::Seen(Sight::NoonAltitude),
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
            acts.extend(declination(degree));
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
            let (upper, lower) = (Sight::UpperAltitude, Sight::LowerAltitude);
            acts = vec![
                Act::Observe(upper),
                Act::Observe(lower),
                Act::Reckon(Reckoning::Mean(
                    Quantity::Seen(upper),
                    Quantity::Seen(lower),
                    Finding::PoleAltitude,
                )),
            ];
        }
        Task::LatitudeByNoonSun => acts.extend(latitude_by(Brought::Sun)),
        Task::LatitudeByStar => {
            acts = vec![Act::ChoosePlate];
            acts.extend(latitude_by(Brought::Star));
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
