use sky::{Angle, Apparent};

use crate::{Planet, sign_and_degree};

/// How a planet moves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Motion {
    /// In longitude, in a day; negative while retrograde.
    pub speed: Angle,
    /// The mean motion in a day, for the seven.
    pub mean: Option<Angle>,
    /// Whether it goes backward.
    pub retrograde: bool,
    /// Whether it moves faster than the mean, forward or backward; none without a mean.
    pub swift: Option<bool>,
}

impl Motion {
    /// Of a planet, or of a body that has no mean motion in the old tables.
    #[must_use]
    pub fn of(planet: Option<Planet>, place: &Apparent) -> Motion {
        let mean = planet.map(mean_motion);
        Motion {
            speed: place.speed,
            mean,
            retrograde: place.is_retrograde(),
            swift: mean.map(|mean| place.speed.abs() > mean),
        }
    }
}

/// The mean motion of a planet in a day as printed by J. Middleton, Practical
/// Astrology (1679), I.6, p. 58: Venus and Mercury keep the Sun's.
#[must_use]
pub const fn mean_motion(planet: Planet) -> Angle {
    let (deg, arcmin, arcsec) = match planet {
        Planet::Saturn => (0.0, 2.0, 1.0),
        Planet::Jupiter => (0.0, 4.0, 59.0),
        Planet::Mars => (0.0, 31.0, 27.0),
        Planet::Sun | Planet::Venus | Planet::Mercury => (0.0, 59.0, 8.0),
        Planet::Moon => (13.0, 10.0, 36.0),
    };
    Angle::from_arcsec(deg * 3600.0 + arcmin * 60.0 + arcsec)
}

/// How a planet near the Sun is hidden by it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum UnderSun {
    /// In the heart of the Sun.
    Heart,
    /// Combust.
    Combust,
    /// Under the Sun's beams.
    Beams,
}

/// Whose limits for the Sun's beams.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum BeamLimits {
    /// Within 17′ in its heart, within 8½° combust, within 17° under the beams: W. Lilly,
    /// Christian Astrology (1647; ed. 1852, pp. 338–339). That combust is within the Sun's own
    /// sign, and the 17°, are on p. 113 of 1647 (from memory).
    #[default]
    Lilly,
    /// Within 16′ in longitude and in latitude in its heart, within 8½° combust whatever
    /// the sign, within 17° under the beams: J. Middleton, Practical Astrology (1679), I.8,
    /// pp. 70–72.
    Middleton,
    /// Within 1° in its heart, within 15° under the beams: Paulus of Alexandria,
    /// Introduction 14 (378; from memory).
    Paulus,
}

impl BeamLimits {
    /// All of them.
    pub const ALL: [BeamLimits; 3] = [BeamLimits::Lilly, BeamLimits::Middleton, BeamLimits::Paulus];

    /// `lilly`, `middleton` or `paulus`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            BeamLimits::Lilly => "lilly",
            BeamLimits::Middleton => "middleton",
            BeamLimits::Paulus => "paulus",
        }
    }

    /// Where it is in print.
    #[must_use]
    pub const fn source(self) -> &'static str {
        match self {
            BeamLimits::Lilly => {
                "Lilly, Christian Astrology (1647; ed. 1852, pp. 338–339): 17′, 8½°; that it be in the same sign: 1647, p. 113 (from memory); 17° in Middleton, Practical Astrology (1679), p. 71"
            }
            BeamLimits::Middleton => "Middleton, Practical Astrology (1679), pp. 70–72",
            BeamLimits::Paulus => "Paulus of Alexandria, Introduction 14 (from memory)",
        }
    }

    /// The distances from the Sun at which something changes.
    #[must_use]
    pub const fn limits(self) -> [Angle; 3] {
        let (heart, beams) = match self {
            BeamLimits::Lilly => (Angle::from_arcmin(17.0), Angle::from_deg(17.0)),
            BeamLimits::Middleton => (Angle::from_arcmin(16.0), Angle::from_deg(17.0)),
            BeamLimits::Paulus => (Angle::from_deg(1.0), Angle::from_deg(15.0)),
        };
        [heart, Angle::from_deg(8.5), beams]
    }

    /// How a planet other than the Sun stands to it. Where the heart asks for the latitude
    /// too, a planet that has left the Sun in latitude is combust.
    #[must_use]
    pub fn of_body(self, planet: &Apparent, sun: &Apparent) -> Option<UnderSun> {
        let [heart, ..] = self.limits();
        let found = self.of(planet.longitude, sun.longitude);
        match (found, self) {
            (Some(UnderSun::Heart), BeamLimits::Middleton)
                if (planet.latitude.angle() - sun.latitude.angle()).abs() > heart =>
            {
                Some(UnderSun::Combust)
            }
            (found, _) => found,
        }
    }

    /// The same by longitude alone.
    #[must_use]
    pub fn of(self, planet: Angle, sun: Angle) -> Option<UnderSun> {
        let away = sun.to(planet).abs();
        let [heart, combust, beams] = self.limits();
        let same_sign = sign_and_degree(planet).0 == sign_and_degree(sun).0;
        let burns = match self {
            BeamLimits::Lilly => same_sign,
            BeamLimits::Middleton => true,
            BeamLimits::Paulus => false,
        };
        if away <= heart {
            Some(UnderSun::Heart)
        } else if burns && away <= combust {
            Some(UnderSun::Combust)
        } else if away <= beams {
            Some(UnderSun::Beams)
        } else {
            None
        }
    }
}

impl UnderSun {
    /// In words.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            UnderSun::Heart => "in the heart of the Sun",
            UnderSun::Combust => "combust",
            UnderSun::Beams => "under the Sun's beams",
        }
    }
}
