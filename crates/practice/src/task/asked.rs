use crate::procedure::Procedure;
use crate::sight::{Sight, Told};
use crate::task::{Need, Task};

impl Task {
    /// The heading under which it is looked for.
    #[must_use]
    pub fn heading(self) -> &'static str {
        match self {
            Task::HousesByHours
            | Task::HousesByLimb
            | Task::DegreeUp
            | Task::RightAscension
            | Task::ObliqueAscension
            | Task::DirectionToAscendant
            | Task::DirectionToMidheaven => "The figure",
            Task::SunDegree
            | Task::SunDegreeByAltitude
            | Task::EquallyLongDays
            | Task::Declination => "The Sun and its degree",
            Task::HourBySun | Task::HourByStar | Task::BetweenAlmucantars | Task::HoursGone => {
                "The hour"
            }
            Task::DayAndNight
            | Task::DawnAndNightfall
            | Task::DayWithTwilights
            | Task::UnequalHours
            | Task::EqualHours
            | Task::PlanetaryHour
            | Task::HourSpan => "Day, night and unequal hours",
            Task::StarUp
            | Task::StarDegreeByTwoAltitudes
            | Task::CulminatingDegree
            | Task::RisingDegree
            | Task::MoonDegree
            | Task::PlanetLatitude
            | Task::DirectOrRetrograde
            | Task::RisingDegreeOfPlanet => "Stars, Moon and planets",
            Task::Altitude
            | Task::MeridianAltitude
            | Task::FourQuarters
            | Task::SunriseAzimuth
            | Task::AzimuthAtHour
            | Task::AzimuthByAltitude
            | Task::MeridianByShadows => "Altitudes and directions",
            Task::PlateLatitude
            | Task::LatitudeByCircumpolarStar
            | Task::LatitudeByNoonSun
            | Task::LatitudeByStar => "Place and plate",
            Task::HeightByRecta
            | Task::HeightByVersa
            | Task::HeightByVersaTwice
            | Task::HeightByRectaTwice
            | Task::RectaToVersa => "Heights and shadows",
        }
    }

    /// Whether it depends on the half of the sky in which the Sun or the star stands.
    #[must_use]
    pub fn takes_side(self) -> bool {
        self.asks_about()
            && !matches!(
                self,
                Task::MeridianAltitude | Task::SunriseAzimuth | Task::AzimuthAtHour
            )
            || matches!(
                self,
                Task::HourBySun | Task::HourByStar | Task::BetweenAlmucantars | Task::MoonDegree
            )
    }

    /// What is sighted on the meridian, where it may stand on either side of the zenith.
    #[must_use]
    pub fn sighted_on_meridian(self) -> Option<Sight> {
        match self {
            Task::SunDegreeByAltitude | Task::LatitudeByNoonSun | Task::LatitudeByStar => {
                Some(Sight::NoonAltitude)
            }
            Task::LatitudeByCircumpolarStar => Some(Sight::UpperAltitude),
            Task::PlanetLatitude => Some(Sight::WandererAltitude),
            _ => None,
        }
    }

    /// Whether it can be asked of the Sun, of a star or of a degree alike.
    #[must_use]
    pub fn asks_about(self) -> bool {
        matches!(
            self,
            Task::MeridianAltitude
                | Task::FourQuarters
                | Task::SunriseAzimuth
                | Task::AzimuthAtHour
                | Task::AzimuthByAltitude
        )
    }

    /// Whether the Moon or a planet may be named in place of what is told and seen of it.
    #[must_use]
    pub fn takes_body(self) -> bool {
        matches!(
            self,
            Task::Altitude
                | Task::DegreeUp
                | Task::Declination
                | Task::MoonDegree
                | Task::PlanetLatitude
                | Task::RisingDegreeOfPlanet
                | Task::DirectionToAscendant
                | Task::DirectionToMidheaven
        )
    }

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
