use crate::procedure::Procedure;
use crate::sight::{Sight, Told};
use crate::task::{Need, Task};

impl Task {
    /// What it needs besides the moment, the place and the instrument.
    #[must_use]
    pub fn needs(self) -> Vec<Need> {
        let seen = |sights: &[Sight]| sights.iter().copied().map(Need::Seen).collect::<Vec<_>>();
        let told = |told: &[Told]| told.iter().copied().map(Need::Told).collect::<Vec<_>>();
        match self {
            Task::Altitude
            | Task::HourBySun
            | Task::BetweenAlmucantars
            | Task::FourQuarters
            | Task::AzimuthByAltitude => seen(&[Sight::Altitude]),
            Task::HourByStar => vec![Need::Star, Need::Seen(Sight::Altitude)],
            Task::StarUp | Task::CulminatingDegree | Task::RisingDegree => vec![Need::Star],
            Task::EqualHours | Task::HourSpan => told(&[Told::UnequalHours]),
            Task::SunDegreeByAltitude | Task::LatitudeByNoonSun => seen(&[Sight::NoonAltitude]),
            Task::StarDegreeByTwoAltitudes | Task::RightAscension | Task::ObliqueAscension => {
                told(&[Told::Degree, Told::OtherDegree])
            }
            Task::EquallyLongDays | Task::Declination | Task::DegreeUp => told(&[Told::Degree]),
            Task::LatitudeByCircumpolarStar => {
                let mut needs = vec![Need::Star];
                needs.extend(seen(&[Sight::UpperAltitude, Sight::LowerAltitude]));
                needs
            }
            Task::LatitudeByStar => vec![Need::Star, Need::Seen(Sight::NoonAltitude)],
            Task::PlanetLatitude => vec![
                Need::Told(Told::Degree),
                Need::Seen(Sight::WandererAltitude),
            ],
            Task::MoonDegree => vec![
                Need::Star,
                Need::Seen(Sight::Altitude),
                Need::Seen(Sight::WandererAltitude),
            ],
            Task::DirectOrRetrograde => seen(&[Sight::WandererAltitude, Sight::OtherAltitude]),
            Task::MeridianByShadows => seen(&[Sight::MorningShadow, Sight::EveningShadow]),
            Task::RisingDegreeOfPlanet
            | Task::DirectionToAscendant
            | Task::DirectionToMidheaven => told(&[Told::Degree, Told::Latitude]),
            Task::HeightByRecta | Task::HeightByVersa => {
                let mut needs = told(&[Told::Distance, Told::EyeHeight]);
                needs.extend(seen(&[Sight::Shadow]));
                needs
            }
            Task::HeightByVersaTwice | Task::HeightByRectaTwice => {
                let mut needs = told(&[Told::Distance, Told::EyeHeight]);
                needs.extend(seen(&[Sight::Shadow, Sight::OtherShadow]));
                needs
            }
            Task::RectaToVersa => seen(&[Sight::Shadow]),
            _ => Vec::new(),
        }
    }

    /// The cusp procedure that it is, where it is one.
    pub(crate) fn procedure(self) -> Option<Procedure> {
        match self {
            Task::HousesByHours => Some(Procedure::Turning),
            Task::HousesByLimb => Some(Procedure::LimbThirds),
            _ => None,
        }
    }
}
