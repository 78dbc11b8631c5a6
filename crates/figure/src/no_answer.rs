use std::fmt;

use sky::{Angle, Latitude};
use thiserror::Error;

use crate::{Horizon, House, Method};

/// What was asked has no answer at this latitude and sidereal time; its message
/// says what, where, and why.
///
/// ```
/// use figure::{Horizon, Method, Reason};
/// use sky::{Angle, Latitude};
///
/// let pole = Horizon {
///     sidereal_time: Angle::ZERO,
///     obliquity: Angle::from_deg(23.44),
///     latitude: Latitude::from_deg(90.0)?,
/// };
/// let no_answer = Method::Alcabitius.cusps(&pole).unwrap_err();
/// assert_eq!(no_answer.reason, Reason::Pole);
/// assert_eq!(
///     no_answer.to_string(),
///     "alcabitius has no answer at latitude 90° north: \
///      at the pole there is no east, and no degree of the ecliptic rises or sets"
/// );
/// # Ok::<(), sky::LatitudeError>(())
/// ```
#[derive(Clone, Copy, Debug, Error, PartialEq)]
#[error("{subject} has no answer at {at}: {reason}", at = At(horizon, reason))]
pub struct NoAnswer {
    /// What was asked.
    pub subject: Subject,
    /// Why it has no answer.
    pub reason: Reason,
    /// Where and when.
    pub horizon: Horizon,
}

/// What was asked of a [`Horizon`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Subject {
    /// The ascendant.
    Ascendant,
    /// The cusps by a method.
    Cusps(Method),
    /// The oblique ascension of an ecliptic degree.
    ObliqueAscension(Angle),
    /// The sunrise or sunset of a day.
    Sunrise,
    /// The degree that rises with a point of the sky.
    DegreeRisingWith,
    /// The degree that sets with a point of the sky.
    DegreeSettingWith,
}

/// Why something has no answer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reason {
    /// Latitude ±90°.
    Pole,
    /// The ecliptic and the horizon coincide.
    EclipticOnHorizon,
    /// Ecliptic and horizon cross exactly north and south, so that neither
    /// crossing is in the east: the midheaven or its opposite is on the horizon.
    MidheavenOnHorizon,
    /// The midheaven is below the horizon, and the method needs it above.
    MidheavenBelowHorizon,
    /// This ecliptic degree stays above the horizon, or below it, all day.
    NeitherRisesNorSets(Angle),
    /// A point of this declination stays above the horizon, or below it, all day.
    PointNeitherRisesNorSets(Latitude),
    /// No degree divides its own semi-arc as the cusp of this house must.
    NoDegree(House),
    /// More than one degree divides its own semi-arc as the cusp of this house must.
    SeveralDegrees(House),
    /// The cusps would not follow in the order of the signs.
    OutOfOrder,
    /// An angle of the horizon is not a finite number.
    NotFinite,
}

impl Reason {
    /// Whether it depends on the latitude alone, whatever the time.
    const fn at_all_times(self) -> bool {
        matches!(
            self,
            Reason::Pole | Reason::NeitherRisesNorSets(_) | Reason::PointNeitherRisesNorSets(_)
        )
    }
}

impl fmt::Display for Subject {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Subject::Ascendant => f.write_str("the ascendant"),
            Subject::Cusps(method) => f.write_str(method.name()),
            Subject::ObliqueAscension(degree) => {
                write!(f, "the oblique ascension of longitude {degree:.2}")
            }
            Subject::Sunrise => f.write_str("sunrise"),
            Subject::DegreeRisingWith => f.write_str("the degree that rises with a star"),
            Subject::DegreeSettingWith => f.write_str("the degree that sets with a star"),
        }
    }
}

impl fmt::Display for Reason {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Reason::Pole => f.write_str(
                "at the pole there is no east, and no degree of the ecliptic rises or sets",
            ),
            Reason::EclipticOnHorizon => f.write_str(
                "the ecliptic lies along the horizon, and all its degrees rise and set together",
            ),
            Reason::MidheavenOnHorizon => f.write_str(
                "the ecliptic crosses the horizon due north and due south, and no degree is in the east",
            ),
            Reason::MidheavenBelowHorizon => f.write_str(
                "the midheaven is below the horizon, where the house circles cross the ecliptic \
                 against the order of the signs",
            ),
            Reason::NeitherRisesNorSets(degree) => {
                write!(f, "the degree at longitude {degree:.2} neither rises nor sets")
            }
            Reason::PointNeitherRisesNorSets(declination) => write!(
                f,
                "at declination {:.2} it neither rises nor sets",
                declination.angle()
            ),
            Reason::NoDegree(house) => write!(
                f,
                "no degree of the ecliptic divides its own semi-arc as cusp {house} must, \
                 for the degrees that would do so neither rise nor set",
            ),
            Reason::SeveralDegrees(house) => write!(
                f,
                "more than one degree of the ecliptic divides its own semi-arc as cusp {house} must",
            ),
            Reason::OutOfOrder => {
 f.write_str("its cusps would not follow in the order of the signs") },
            Reason::NotFinite => {
                f.write_str("latitude, sidereal time and obliquity must be finite numbers")
            }
        }
    }
}

/// The latitude, and the sidereal time where that matters.
struct At<'a>(&'a Horizon, &'a Reason);

impl fmt::Display for At<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let At(horizon, reason) = self;
        write!(f, "latitude {}", Pointed(horizon.latitude))?;
        if !reason.at_all_times() {
            write!(
                f,
                " and sidereal time {:.2}",
                horizon.sidereal_time.in_turn()
            )?;
        }
        Ok(())
    }
}

/// A latitude as it is said: 70° north.
struct Pointed(Latitude);

impl fmt::Display for Pointed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // At most four decimals, and none that are zero: 70°, 66.5622°.
        let deg = (self.0.deg().abs() * 1e4).round() / 1e4;
        write!(f, "{deg}°")?;
        if self.0.deg() > 0.0 {
            f.write_str(" north")
        } else if self.0.deg() < 0.0 {
            f.write_str(" south")
        } else {
            Ok(())
        }
    }
}
