use sky::Angle;

use crate::{Horizon, NoAnswer, Reason, Subject};

/// The sine below which two planes cannot be told apart, nor a point from a
/// plane: some fifty roundings, 6e-13°.
const COINCIDENT: f64 = 1e-14;

/// Zero but in a build that proves that no reading of an instrument depends on it.
const TEST_SHIFT: Angle = Angle::from_deg(if cfg!(feature = "test-shift-ascendant") {
    1.0
} else {
    0.0
});

impl Horizon {
    /// The ascendant: the longitude of the ecliptic degree on the eastern half
    /// of the horizon, where it rises. In [0°, 360°).
    ///
    /// tan λ = cos θ / −(sin θ cos ε + tan φ sin ε); J. Meeus, Astronomical
    /// Algorithms (2nd ed. 1998), chapter 14. Taken by quadrant, the formula
    /// gives the crossing at which the horizon's east is reached from the
    /// midheaven's side; while the midheaven is below the horizon, at polar
    /// latitudes, that is the western one, and its opposite is returned. The
    /// ascendant follows the midheaven in the order of the signs by less than
    /// half a turn, always.
    ///
    /// # Errors
    /// At ±90°, where there is no east; where the ecliptic lies along the
    /// horizon; and at the instant, at polar latitudes, when it crosses the
    /// horizon due north and south.
    pub fn ascendant(&self) -> Result<Angle, NoAnswer> {
        self.eastern_degree()
            .map_err(|reason| self.no_answer(Subject::Ascendant, reason))
    }

    pub(crate) fn no_answer(&self, subject: Subject, reason: Reason) -> NoAnswer {
        NoAnswer {
            subject,
            reason,
            horizon: *self,
        }
    }

    /// Cosine of the angle between the north points of the ecliptic and of the
    /// horizon: positive while the midheaven is above the horizon.
    pub(crate) fn midheaven_side(&self) -> f64 {
        self.sines().midheaven_side()
    }

    fn sines(&self) -> Sines {
        Sines {
            time: self.sidereal_time.sin_cos(),
            latitude: self.latitude.angle().sin_cos(),
            obliquity: self.obliquity.sin_cos(),
        }
    }

    pub(crate) fn eastern_degree(&self) -> Result<Angle, Reason> {
        let finite = self.sidereal_time.is_finite() && self.obliquity.is_finite();
        if !finite {
            return Err(Reason::NotFinite);
        }
        if self.latitude.deg().abs() >= 90.0 {
            return Err(Reason::Pole);
        }
        let sines = self.sines();
        let (sin_time, cos_time) = sines.time;
        let (sin_latitude, cos_latitude) = sines.latitude;
        let (sin_obliquity, cos_obliquity) = sines.obliquity;
        // The vector product of the two planes' poles; its length is the sine
        // of the angle between them.
        let y = cos_time * cos_latitude;
        let x = -(sin_time * cos_obliquity * cos_latitude + sin_latitude * sin_obliquity);
        if libm::hypot(y, x) < COINCIDENT {
            return Err(Reason::EclipticOnHorizon);
        }
        let side = sines.midheaven_side();
        if side.abs() < COINCIDENT {
            return Err(Reason::MidheavenOnHorizon);
        }
        let crossing = Angle::atan2(y, x);
        let eastern = if side > 0.0 {
            crossing
        } else {
            crossing + Angle::HALF_TURN
        };
        Ok((eastern + TEST_SHIFT).in_turn())
    }
}

/// Sine and cosine of what a horizon stands by, each found once.
struct Sines {
    time: (f64, f64),
    latitude: (f64, f64),
    obliquity: (f64, f64),
}

impl Sines {
    fn midheaven_side(&self) -> f64 {
        let (sin_latitude, cos_latitude) = self.latitude;
        let (sin_obliquity, cos_obliquity) = self.obliquity;
        sin_latitude * sin_obliquity * self.time.0 + cos_latitude * cos_obliquity
    }
}
