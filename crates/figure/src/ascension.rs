use sky::Angle;

use crate::{DailyCourse, Horizon, NoAnswer, Reason, Subject};

impl Horizon {
    /// The oblique ascension of the ecliptic degree at a longitude: the
    /// equator's degree that rises with it, which is its right ascension less
    /// its ascensional difference. In [0°, 360°).
    ///
    /// The degree rises when the sidereal time is this less 90°. It does not
    /// depend on the horizon's own sidereal time.
    ///
    /// # Errors
    /// When the degree neither rises nor sets.
    pub fn oblique_ascension(&self, longitude: Angle) -> Result<Angle, NoAnswer> {
        let (right_ascension, declination) = self.on_equator(longitude);
        match self.daily_course(declination) {
            DailyCourse::RisesAndSets(arcs) => {
                Ok((right_ascension - arcs.ascensional_difference()).in_turn())
            }
            DailyCourse::NeverSets | DailyCourse::NeverRises => Err(self.no_answer(
                Subject::ObliqueAscension(longitude),
                Reason::NeitherRisesNorSets(longitude),
            )),
        }
    }

    /// The right ascensions of the signs, Aries to Pisces: the arc of the
    /// equator that crosses the meridian with each. They sum to a full turn.
    #[must_use]
    pub fn right_ascensions_of_signs(&self) -> [Angle; 12] {
        let heads = heads_of_signs().map(|head| self.right_ascension(head));
        arcs_between(heads)
    }

    /// The oblique ascensions of the signs, Aries to Pisces: the arc of the
    /// equator that rises with each. They sum to a full turn.
    ///
    /// # Errors
    /// Beyond the polar circles, where some heads of signs neither rise nor set.
    pub fn oblique_ascensions_of_signs(&self) -> Result<[Angle; 12], NoAnswer> {
        let mut heads = heads_of_signs();
        for head in &mut heads {
            *head = self.oblique_ascension(*head)?;
        }
        Ok(arcs_between(heads))
    }
}

fn heads_of_signs() -> [Angle; 12] {
    std::array::from_fn(|sign| Angle::from_deg(30.0 * sign as f64))
}

/// From each to the next, round the circle.
fn arcs_between(points: [Angle; 12]) -> [Angle; 12] {
    std::array::from_fn(|i| (points[(i + 1) % 12] - points[i]).in_turn())
}
