use crate::frame::{Obliquity, Precession};
use crate::fundamental::Arguments;
use crate::sidereal;
use crate::standpoint::Standpoint;
use crate::{Angle, Apparent, Body, Instant, Latitude, Nutation, SkyError, Span, Star, StarPlace};

/// The sky at one instant, seen from the Earth's centre.
///
/// What every question shares (precession, nutation, sidereal time, the Earth's
/// own place and motion) is worked out once, when it is made.
///
/// Longitudes and right ascensions are counted from the true equinox of date.
///
/// ```
/// use sky::{Body, Instant, Sky};
/// let sky = Sky::at(Instant::from_jd_tt(2_448_908.5))?; // 1992 October 13
/// let sun = sky.sun();
/// assert!((sun.longitude.deg() - 199.90599).abs() < 0.0002);
/// assert!(Sky::at(Instant::from_jd_tt(0.0)).is_err());
/// # Ok::<(), sky::SkyError>(())
/// ```
#[derive(Clone, Debug)]
pub struct Sky {
    instant: Instant,
    mean_obliquity: Angle,
    obliquity: Obliquity,
    nutation: Nutation,
    equation_of_equinoxes: Angle,
    sidereal_time: Angle,
    mean_node: Angle,
    standpoint: Standpoint,
}

impl Sky {
    /// The sky at an instant.
    ///
    /// # Errors
    /// [`SkyError::OutsideSpan`] when the ephemeris does not reach the instant, or
    /// when it is not a number; [`SkyError::DamagedEphemeris`] when the program is
    /// not what it was when built.
    pub fn at(instant: Instant) -> Result<Sky, SkyError> {
        let jd_tt = instant.jd_tt();
        if !Span::contains_jd_tt(jd_tt) {
            return Err(Span::outside(jd_tt));
        }
        let centuries = instant.centuries_since_j2000();
        let arguments = Arguments::at(centuries);
        let precession = Precession::at(centuries);
        let mean_obliquity = precession.mean_obliquity;
        let (nutation, nutation_rate) = Nutation::at(centuries, &arguments);
        let equation_of_equinoxes =
            sidereal::equation_of_equinoxes(nutation, mean_obliquity, &arguments);
        Ok(Sky {
            instant,
            mean_obliquity,
            obliquity: Obliquity::new(mean_obliquity + nutation.obliquity),
            nutation,
            equation_of_equinoxes,
            sidereal_time: (sidereal::mean(instant) + equation_of_equinoxes).in_turn(),
            mean_node: (Angle::from_rad(arguments.node()) + nutation.longitude).in_turn(),
            standpoint: Standpoint::at(instant, &precession, nutation, nutation_rate)?,
        })
    }

    /// The instant this is the sky of.
    #[must_use]
    pub const fn instant(&self) -> Instant {
        self.instant
    }

    /// Mean obliquity of the ecliptic, εA: without nutation.
    #[must_use]
    pub const fn mean_obliquity(&self) -> Angle {
        self.mean_obliquity
    }

    /// True obliquity of the ecliptic, ε: with nutation.
    #[must_use]
    pub const fn obliquity(&self) -> Angle {
        self.obliquity.angle
    }

    /// Nutation in longitude and obliquity.
    #[must_use]
    pub const fn nutation(&self) -> Nutation {
        self.nutation
    }

    /// Apparent sidereal time at Greenwich, in [0°, 360°): the right ascension of
    /// the meridian. At another place add its east longitude.
    #[must_use]
    pub const fn sidereal_time(&self) -> Angle {
        self.sidereal_time
    }

    /// Apparent minus mean sidereal time; within 0.005°.
    #[must_use]
    pub const fn equation_of_equinoxes(&self) -> Angle {
        self.equation_of_equinoxes
    }

    /// The equation of time, apparent minus mean solar time, in seconds: positive
    /// when the sundial is ahead of the clock, as in November. The same at every place.
    #[must_use]
    pub fn equation_of_time_s(&self) -> f64 {
        const SECONDS_PER_DEGREE: f64 = 240.0;
        self.sun().right_ascension.to(self.mean_sun()).deg() * SECONDS_PER_DEGREE
    }

    /// Right ascension of the mean Sun, in [0°, 360°): it stands on the meridian
    /// at mean noon, so that
    ///
    /// local mean time = local sidereal time − right ascension of the mean Sun + 12 h.
    ///
    /// Like [`Sky::sidereal_time`] it is counted from the true equinox. A ring
    /// divided into equal days is counted from the mean equinox:
    /// its Sun stands at `mean_sun() - equation_of_equinoxes()`.
    #[must_use]
    pub fn mean_sun(&self) -> Angle {
        let (_, day_fraction) = self.instant.ut_parts();
        // At 12h UT, half a day after midnight, the mean Sun culminates at Greenwich.
        (self.sidereal_time - (day_fraction - 0.5) * Angle::FULL_TURN).in_turn()
    }

    /// Where a body appears.
    #[must_use]
    pub fn body(&self, body: Body) -> Apparent {
        self.standpoint.apparent(body, &self.obliquity)
    }

    /// Where the Sun appears.
    #[must_use]
    pub fn sun(&self) -> Apparent {
        self.body(Body::Sun)
    }

    /// Where a star appears; from 1900 to 2100 within 0.002″ of ERFA's reduction of
    /// the same row of the catalogue. What the catalogue leaves out is told at
    /// [`Star::direction`].
    ///
    /// ```
    /// use sky::{Instant, Sky, star_named};
    /// let sky = Sky::at(Instant::from_jd_tt(2_462_088.69))?; // 2028 November 13.19
    /// // J. Meeus, Astronomical Algorithms (2nd ed. 1998), example 23.a: 2h46m14.39s
    /// let place = sky.star(star_named("θ Per")?);
    /// assert_eq!(format!("{:.3}", place.right_ascension), "41.560°");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    #[must_use]
    pub fn star(&self, star: &Star) -> StarPlace {
        self.standpoint.apparent_star(star, &self.obliquity)
    }

    /// Longitude of the Moon's mean ascending node, in [0°, 360°). Like every longitude
    /// here it is counted from the true equinox; printed tables often count it from
    /// the mean one, which leaves out the nutation in longitude.
    #[must_use]
    pub const fn mean_node(&self) -> Angle {
        self.mean_node
    }

    /// Longitude of the Moon's true ascending node, in [0°, 360°): that of the ellipse
    /// the Moon follows at the instant.
    #[must_use]
    pub fn true_node(&self) -> Angle {
        self.standpoint.true_node()
    }

    /// Right ascension and declination of a point given by its ecliptic longitude
    /// and latitude, by the true obliquity.
    #[must_use]
    pub fn equatorial(&self, longitude: Angle, latitude: Latitude) -> (Angle, Latitude) {
        self.obliquity.equatorial(longitude, latitude)
    }

    /// Ecliptic longitude and latitude of a point given by its right ascension and
    /// declination, by the true obliquity.
    #[must_use]
    pub fn ecliptic(&self, right_ascension: Angle, declination: Latitude) -> (Angle, Latitude) {
        self.obliquity.ecliptic(right_ascension, declination)
    }
}
