use sky::{Angle, Latitude};

use crate::Horizon;

/// What a point of the sky does in the course of a day. Not to rise is an
/// answer, not a failure.
///
/// Geometric: without refraction, and for a point, not the Sun's upper limb.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum DailyCourse {
    /// It rises and sets, and spends these arcs above and below the horizon.
    RisesAndSets(SemiArcs),
    /// It stays above the horizon, or touches it from above.
    NeverSets,
    /// It stays below the horizon, or touches it from below, or keeps along it.
    NeverRises,
}

/// The arcs of the day of a point that rises and sets, measured on the equator.
///
/// ```
/// use figure::{DailyCourse, Horizon};
/// use sky::{Angle, Latitude};
///
/// let oxford = Horizon {
///     sidereal_time: Angle::ZERO,
///     obliquity: Angle::from_deg(23.52),
///     latitude: Latitude::from_deg(51.0 + 50.0 / 60.0)?,
/// };
/// // Chaucer, Treatise on the Astrolabe (ed. Skeat 1894) II.7–10, with the
/// // Sun at the head of Cancer: the day is 16 h 29 m, its unequal hours 20.6°.
/// let DailyCourse::RisesAndSets(arcs) = oxford.course_of_degree(Angle::from_deg(90.0)) else {
///     panic!("the Sun rises and sets at Oxford");
/// };
/// assert_eq!(format!("{:.1}", arcs.day().hours() * 60.0), "989.0");
/// assert_eq!(format!("{:.1}", arcs.unequal_hour_of_day()), "20.6°");
/// # Ok::<(), sky::LatitudeError>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SemiArcs {
    diurnal: Angle,
}

impl SemiArcs {
    /// From rising to the meridian, and from the meridian to setting; in (0°, 180°).
    #[must_use]
    pub const fn diurnal(self) -> Angle {
        self.diurnal
    }

    /// From setting to the lower meridian, and from there to rising; in (0°, 180°).
    #[must_use]
    pub fn nocturnal(self) -> Angle {
        Angle::HALF_TURN - self.diurnal
    }

    /// By how much the diurnal semi-arc exceeds a quarter turn; negative when
    /// it is shorter.
    #[must_use]
    pub fn ascensional_difference(self) -> Angle {
        self.diurnal - Angle::QUARTER_TURN
    }

    /// The whole arc above the horizon: for the Sun, the length of the day.
    #[must_use]
    pub fn day(self) -> Angle {
        self.diurnal * 2.0
    }

    /// The whole arc below the horizon.
    #[must_use]
    pub fn night(self) -> Angle {
        self.nocturnal() * 2.0
    }

    /// A twelfth of the arc above the horizon.
    #[must_use]
    pub fn unequal_hour_of_day(self) -> Angle {
        self.day() / 12.0
    }

    /// A twelfth of the arc below the horizon.
    #[must_use]
    pub fn unequal_hour_of_night(self) -> Angle {
        self.night() / 12.0
    }

    /// The hour angle at rising; negative.
    #[must_use]
    pub fn rising(self) -> Angle {
        -self.diurnal
    }

    /// The hour angle at setting; positive.
    #[must_use]
    pub fn setting(self) -> Angle {
        self.diurnal
    }
}

impl Horizon {
    /// The daily course of a declination: cos D = −tan φ tan δ, D being the
    /// diurnal semi-arc.
    #[must_use]
    pub fn daily_course(&self, declination: Latitude) -> DailyCourse {
        // Distances from the pole above the horizon.
        let latitude = self.latitude.angle().abs();
        let declination = if self.latitude < Latitude::ZERO {
            -declination.angle()
        } else {
            declination.angle()
        };
        if (latitude - declination).deg() >= 90.0 {
            DailyCourse::NeverRises
        } else if (latitude + declination).deg() >= 90.0 {
            DailyCourse::NeverSets
        } else {
            // tan² D/2 = cos(φ−δ) / cos(φ+δ): the cosine alone would lose half
            // the digits of arcs near 0° and 180°.
            let lower = (latitude + declination).cos().max(0.0).sqrt();
            let upper = (latitude - declination).cos().max(0.0).sqrt();
            DailyCourse::RisesAndSets(SemiArcs {
                diurnal: Angle::atan2(upper, lower) * 2.0,
            })
        }
    }

    /// The daily course of the ecliptic degree at a longitude.
    #[must_use]
    pub fn course_of_degree(&self, longitude: Angle) -> DailyCourse {
        self.daily_course(self.declination(longitude))
    }
}
