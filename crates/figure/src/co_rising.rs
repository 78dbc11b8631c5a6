use sky::{Angle, Latitude};

use crate::{DailyCourse, Horizon, NoAnswer, Reason, Subject};

impl Horizon {
    /// The degree of the ecliptic that rises together with a point of the sky, such
    /// as a star or a planet with latitude. In [0°, 360°).
    ///
    /// It does not depend on the horizon's own sidereal time. On an astrolabe: turn
    /// the rete until the star's pointer is on the eastern horizon, and read the
    /// ascendant. The degree with which it culminates is
    /// [`Horizon::degree_at_right_ascension`] of its right ascension.
    ///
    /// # Errors
    /// When the point neither rises nor sets, or the ascendant has no answer then.
    pub fn degree_rising_with(
        &self,
        right_ascension: Angle,
        declination: Latitude,
    ) -> Result<Angle, NoAnswer> {
        self.when_on_horizon(
            right_ascension,
            declination,
            Subject::DegreeRisingWith,
            -1.0,
        )?
        .ascendant()
    }

    /// The degree of the ecliptic that sets together with a point of the sky. In
    /// [0°, 360°).
    ///
    /// # Errors
    /// As [`Horizon::degree_rising_with`].
    pub fn degree_setting_with(
        &self,
        right_ascension: Angle,
        declination: Latitude,
    ) -> Result<Angle, NoAnswer> {
        let then = self.when_on_horizon(
            right_ascension,
            declination,
            Subject::DegreeSettingWith,
            1.0,
        )?;
        Ok((then.ascendant()? + Angle::HALF_TURN).in_turn())
    }

    /// The horizon at the sidereal time when the point is on it, in the east (−1) or
    /// in the west (1).
    fn when_on_horizon(
        &self,
        right_ascension: Angle,
        declination: Latitude,
        subject: Subject,
        side: f64,
    ) -> Result<Horizon, NoAnswer> {
        match self.daily_course(declination) {
            DailyCourse::RisesAndSets(arcs) => Ok(Horizon {
                sidereal_time: (right_ascension + side * arcs.diurnal()).in_turn(),
                ..*self
            }),
            DailyCourse::NeverSets | DailyCourse::NeverRises => {
                Err(self.no_answer(subject, Reason::PointNeitherRisesNorSets(declination)))
            }
        }
    }
}
