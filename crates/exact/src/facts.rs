use figure::{DailyCourse, Horizon, SemiArcs};
use instrument::{Hemisphere, Pick};
use practice::{Conditions, Quantity, RetePlace, Sighting, Stated, SunTaken, TaskChoices};
use sky::{Angle, Latitude};

/// A point of the sky.
#[derive(Clone, Copy)]
pub(crate) struct Place {
    pub(crate) right_ascension: Angle,
    pub(crate) declination: Latitude,
}

/// What is given, seen and told, as calculation takes it.
pub(crate) struct Facts<'a> {
    pub(crate) conditions: &'a Conditions,
    pub(crate) choices: &'a TaskChoices,
    pub(crate) latitude: Latitude,
    pub(crate) obliquity: Angle,
    pub(crate) sun: Place,
}

impl<'a> Facts<'a> {
    pub(crate) fn of(conditions: &'a Conditions, choices: &'a TaskChoices) -> Facts<'a> {
        let given = conditions.given.sun;
        let obliquity = conditions.instrument.obliquity();
        let horizon = Horizon {
            sidereal_time: Angle::ZERO,
            obliquity,
            latitude: conditions.given.latitude,
        };
        let sun = match conditions.sun {
            SunTaken::TruePlace => Place {
                right_ascension: given.right_ascension,
                declination: given.declination,
            },
            SunTaken::OnEcliptic | SunTaken::ByInstrument => Place {
                right_ascension: horizon.right_ascension(given.longitude),
                declination: horizon.declination(given.longitude),
            },
        };
        Facts {
            conditions,
            choices,
            latitude: conditions.given.latitude,
            obliquity,
            sun,
        }
    }

    pub(crate) fn horizon(&self, sidereal_time: Angle) -> Horizon {
        Horizon {
            sidereal_time,
            obliquity: self.obliquity,
            latitude: self.latitude,
        }
    }

    /// An angle that is told.
    pub(crate) fn stated(&self, stated: Stated) -> Option<Angle> {
        self.conditions.stated.get(&stated)?.angle()
    }

    /// How many unequal hours are told.
    pub(crate) fn unequal_hours(&self) -> Option<f64> {
        let stated = self.conditions.stated.get(&Stated::UnequalHours)?;
        Some(stated.number())
    }

    /// An angle that is seen.
    pub(crate) fn seen(&self, sight: Sighting) -> Option<Angle> {
        self.conditions.seen.get(&sight)?.value.angle()
    }

    /// An altitude seen on the meridian, counted on through the zenith where it stands
    /// beyond.
    pub(crate) fn seen_on_meridian(&self, sight: Sighting) -> Option<Angle> {
        let seen = self.seen(sight)?;
        Some(if self.choices.beyond_zenith {
            Angle::HALF_TURN - seen
        } else {
            seen
        })
    }

    pub(crate) fn star(&self) -> Option<Place> {
        self.conditions.star.as_ref().map(|star| Place {
            right_ascension: star.right_ascension,
            declination: star.declination,
        })
    }

    pub(crate) fn degree(&self, longitude: Angle) -> Place {
        let horizon = self.horizon(Angle::ZERO);
        Place {
            right_ascension: horizon.right_ascension(longitude),
            declination: horizon.declination(longitude),
        }
    }

    /// A point by its ecliptic longitude and latitude.
    pub(crate) fn zodiacal(&self, longitude: Angle, latitude: Angle) -> Place {
        let (sin_b, cos_b) = latitude.sin_cos();
        let (sin_l, cos_l) = longitude.sin_cos();
        let (sin_e, cos_e) = self.obliquity.sin_cos();
        let y = cos_b * sin_l * cos_e - sin_b * sin_e;
        Place {
            right_ascension: Angle::atan2(y, cos_b * cos_l),
            declination: Latitude::asin(sin_b * cos_e + cos_b * sin_l * sin_e),
        }
    }

    /// Whose altitude or rising is asked for.
    pub(crate) fn subject(&self) -> Option<Place> {
        match self.choices.subject {
            RetePlace::Star => self.star(),
            RetePlace::Degree(Quantity::Stated(stated)) => Some(self.degree(self.stated(stated)?)),
            RetePlace::Sun
            | RetePlace::OppositeSun
            | RetePlace::Opposite(_)
            | RetePlace::Waxed
            | RetePlace::Degree(_) => Some(self.sun),
        }
    }

    /// +1 in the north, −1 on the south's instruments.
    pub(crate) fn towards_pole(&self) -> f64 {
        match self.conditions.instrument.specification().hemisphere {
            Hemisphere::North => 1.0,
            Hemisphere::South => -1.0,
        }
    }

    /// The hour angle at which a declination has an altitude:
    /// cos H = (sin h − sin φ sin δ) / (cos φ cos δ).
    pub(crate) fn hour_angle_at(
        &self,
        declination: Latitude,
        altitude: Angle,
        side: Pick,
    ) -> Option<Angle> {
        let cosine = (altitude.sin() - self.latitude.sin() * declination.sin())
            / (self.latitude.cos() * declination.cos());
        let size = (cosine.abs() <= 1.0).then(|| Angle::acos(cosine))?;
        Some(if side == Pick::Western { size } else { -size })
    }

    pub(crate) fn arcs(&self, declination: Latitude) -> Option<SemiArcs> {
        match self.horizon(Angle::ZERO).daily_course(declination) {
            DailyCourse::RisesAndSets(arcs) => Some(arcs),
            DailyCourse::NeverSets | DailyCourse::NeverRises => None,
        }
    }

    pub(crate) fn meridian_altitude(&self, declination: Latitude) -> Angle {
        let from_equator = declination.angle() * self.towards_pole();
        Angle::QUARTER_TURN - self.latitude.angle().abs() + from_equator
    }

    /// The Sun's hour angle at a sidereal time.
    pub(crate) fn hour_at(&self, sidereal_time: Angle) -> Angle {
        (sidereal_time - self.sun.right_ascension).signed()
    }

    /// A zodiacal degree that is told.
    pub(crate) fn told_degree(&self) -> Option<Place> {
        Some(self.degree(self.stated(Stated::Degree)?))
    }

    /// The sidereal time by the clock.
    pub(crate) fn sidereal_time(&self) -> Angle {
        self.conditions.hour_for_rule() + self.sun.right_ascension
    }
}
