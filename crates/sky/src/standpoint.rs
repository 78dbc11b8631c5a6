use crate::ephemeris::Ephemeris;
use crate::era::Era;
use crate::frame::{Obliquity, Precession, direction};
use crate::nutation::Nutation;
use crate::series::State;
use crate::vector::{Matrix, Vector, cross, dot, length, minus, plus, scaled, turned};
use crate::{Angle, Apparent, Body, Instant, JulianEpoch, SkyError, Star, StarPlace};

/// Speed of light in astronomical units a day (299 792.458 km/s, au 149 597 870.7 km).
const LIGHT_SPEED: f64 = 173.144_632_674_240_34;
/// Twice the Sun's gravitational radius GM/c², in astronomical units.
const SCHWARZSCHILD_RADIUS: f64 = 1.974_125_743_36e-8;
/// Gravitational parameters from the constants of DE440, in au³/day².
const GM_SUN: f64 = 2.959_122_082_841_195_6e-4;
const GM_EARTH: f64 = 8.887_692_446_707_102e-10;
const GM_MOON: f64 = 1.093_189_462_402_435e-11;
/// The mean equinox goes back so many seconds of arc a century, at J2000.0, and so
/// many more in each later one (IAU 2006, Capitaine et al. 2003).
const PRECESSION_RATE: [f64; 2] = [5_028.796_195, 2.210_869_6];

/// The Earth's place and motion at an instant, and the axes of date.
#[derive(Clone, Debug)]
pub(crate) struct Standpoint {
    era: &'static Era,
    /// Days of TDB from J2000.
    t: f64,
    earth: State,
    sun: State,
    /// The Moon from the Earth's centre.
    moon: State,
    /// From the ICRS to the true equinox and ecliptic of date.
    axes: Matrix,
    /// How fast the equinox goes back, in a day.
    equinox_rate: Angle,
}

impl Standpoint {
    pub(crate) fn at(
        instant: Instant,
        precession: &Precession,
        nutation: Nutation,
        nutation_rate: Angle,
    ) -> Result<Standpoint, SkyError> {
        let t = days_of_tdb(instant);
        let era = Ephemeris::held()?.era(t);
        let moon = era.moon(t);
        let (sin, cos) = nutation.longitude.sin_cos();
        let [x, y, z] = precession.to_ecliptic;
        let [base, growth] = PRECESSION_RATE;
        let per_century = base + growth * instant.centuries_since_j2000();
        Ok(Standpoint {
            era,
            t,
            earth: era.earth(t, &moon),
            sun: era.sun(t),
            moon,
            axes: [
                minus(scaled(x, cos), scaled(y, sin)),
                plus(scaled(x, sin), scaled(y, cos)),
                z,
            ],
            equinox_rate: Angle::from_arcsec(per_century / 36_525.0) + nutation_rate,
        })
    }

    /// Longitude of the ascending node of the Moon's osculating orbit.
    pub(crate) fn true_node(&self) -> Angle {
        let [x, y, _] = turned(&self.axes, cross(self.moon.place, self.moon.velocity));
        Angle::atan2(x, -y).in_turn()
    }

    /// Where a body appears: light time, deflection by the Sun and aberration, after
    /// Urban and Seidelmann, Explanatory Supplement (2013), chapter 7.
    pub(crate) fn apparent(&self, body: Body, obliquity: &Obliquity) -> Apparent {
        let (towards, rate, distance_au) = self.astrometric(body);
        let (towards, rate) = match body {
            Body::Sun => (towards, rate),
            _ => self.deflected(towards, rate, distance_au),
        };
        let (towards, rate) = self.aberrated(towards, rate);

        let seen = turned(&self.axes, towards);
        let [u, v, _] = turned(&self.axes, rate);
        let (longitude, latitude) = direction(seen);
        let (right_ascension, declination) = direction(obliquity.rotated_to_equator(seen));
        let [x, y, _] = seen;
        Apparent {
            longitude,
            latitude,
            distance_au,
            right_ascension,
            declination,
            speed: Angle::from_rad((x * v - y * u) / (x * x + y * y)) + self.equinox_rate,
        }
    }

    /// Where a star appears: parallax, deflection by the Sun and aberration.
    pub(crate) fn apparent_star(&self, star: &Star, obliquity: &Obliquity) -> StarPlace {
        /// Far enough to count as infinitely far, where no parallax is known.
        const LEAST_PARALLAX: Angle = Angle::from_arcsec(1e-5);
        let parallax = star.parallax.rad().max(LEAST_PARALLAX.rad());
        let there = star.direction(JulianEpoch::of_the_ephemeris(self.t));
        let from_earth = minus(there, scaled(self.earth.place, parallax));
        let towards = scaled(from_earth, 1.0 / length(from_earth));
        let earth = minus(self.earth.place, self.sun.place);
        let bent = plus(towards, deflection(towards, 1.0 / parallax, earth));
        let (seen, _) = self.aberrated(bent, [0.0; 3]);

        let seen = turned(&self.axes, seen);
        let (longitude, latitude) = direction(seen);
        let (right_ascension, declination) = direction(obliquity.rotated_to_equator(seen));
        StarPlace {
            longitude,
            latitude,
            right_ascension,
            declination,
        }
    }

    /// Direction in which the light left, how the direction changes in a day, and how
    /// far the light came.
    fn astrometric(&self, body: Body) -> (Vector, Vector, f64) {
        let (state, acceleration) = match (body, self.era.planet(body, self.t)) {
            (_, Some(planet)) => (planet, self.fall(planet.place)),
            (Body::Moon, _) => {
                let moon = State {
                    place: plus(self.moon.place, self.earth.place),
                    velocity: plus(self.moon.velocity, self.earth.velocity),
                };
                let to_earth = -GM_EARTH / length(self.moon.place).powi(3);
                let fall = plus(self.fall(moon.place), scaled(self.moon.place, to_earth));
                (moon, fall)
            }
            _ => (self.sun, [0.0; 3]),
        };
        // One evaluation serves: over the light time a path is a parabola.
        let from_earth = minus(state.place, self.earth.place);
        let left = |light_days: f64| {
            let back = plus(
                scaled(state.velocity, -light_days),
                scaled(acceleration, light_days * light_days / 2.0),
            );
            plus(from_earth, back)
        };
        let mut ray = from_earth;
        for _ in 0..2 {
            ray = left(length(ray) / LIGHT_SPEED);
        }
        let distance = length(ray);
        let towards = scaled(ray, 1.0 / distance);
        let velocity = minus(state.velocity, scaled(acceleration, distance / LIGHT_SPEED));
        let lengthening = dot(towards, minus(velocity, self.earth.velocity))
            / (LIGHT_SPEED + dot(towards, velocity));
        let motion = minus(scaled(velocity, 1.0 - lengthening), self.earth.velocity);
        (towards, across(towards, motion, distance), distance)
    }

    /// Acceleration towards the Sun.
    fn fall(&self, place: Vector) -> Vector {
        let from_sun = minus(place, self.sun.place);
        scaled(from_sun, -GM_SUN / length(from_sun).powi(3))
    }

    fn deflected(&self, towards: Vector, rate: Vector, distance: f64) -> (Vector, Vector) {
        /// Long enough to show how the deflection changes, short enough for straight paths.
        const STEP_DAYS: f64 = 0.01;
        let earth = minus(self.earth.place, self.sun.place);
        let earth_velocity = minus(self.earth.velocity, self.sun.velocity);
        let now = deflection(towards, distance, earth);
        let soon = deflection(
            plus(towards, scaled(rate, STEP_DAYS)),
            distance,
            plus(earth, scaled(earth_velocity, STEP_DAYS)),
        );
        (
            plus(towards, now),
            plus(rate, scaled(minus(soon, now), 1.0 / STEP_DAYS)),
        )
    }

    fn aberrated(&self, towards: Vector, rate: Vector) -> (Vector, Vector) {
        let from_sun = minus(self.earth.place, self.sun.place);
        let to_sun = length(from_sun);
        let velocity = scaled(self.earth.velocity, 1.0 / LIGHT_SPEED);
        let contraction = (1.0 - dot(velocity, velocity)).sqrt();
        let seen = sofars::astro::ab(&towards, &velocity, to_sun, contraction);

        let pull = plus(
            scaled(from_sun, -GM_SUN / to_sun.powi(3)),
            scaled(self.moon.place, GM_MOON / length(self.moon.place).powi(3)),
        );
        let turn = scaled(pull, 1.0 / LIGHT_SPEED);
        // The derivative of u + v − u(u·v); what this leaves out is 10⁻⁴ of it.
        let along = dot(towards, velocity);
        let seen_rate = minus(
            plus(scaled(rate, 1.0 - along), turn),
            scaled(towards, dot(towards, turn) + dot(rate, velocity)),
        );
        (seen, seen_rate)
    }
}

/// What the Sun's gravity adds to a direction; the Earth is given from the Sun.
/// Close to the Sun's centre, behind its disc, the formula is held back as ERFA's is.
fn deflection(towards: Vector, distance: f64, earth: Vector) -> Vector {
    let earth_distance = length(earth);
    let e = scaled(earth, 1.0 / earth_distance);
    let body = plus(scaled(towards, distance), earth);
    let q = scaled(body, 1.0 / length(body));
    let limit = 1e-6 / (earth_distance * earth_distance).max(1.0);
    let bend = SCHWARZSCHILD_RADIUS / earth_distance / (1.0 + dot(q, e)).max(limit);
    scaled(
        minus(scaled(e, dot(towards, q)), scaled(q, dot(towards, e))),
        bend,
    )
}

/// The part of a motion across the line of sight, as an angular rate.
fn across(towards: Vector, motion: Vector, distance: f64) -> Vector {
    let along = scaled(towards, dot(towards, motion));
    scaled(minus(motion, along), 1.0 / distance)
}

/// Days of TDB from J2000. TDB keeps within 2 ms of TT; the annual term is all that
/// matters (Explanatory Supplement 2013, eq. 3.16, without its smaller terms).
fn days_of_tdb(instant: Instant) -> f64 {
    let (day, fraction) = instant.tt_parts();
    let t = (day - 2_451_545.0) + fraction;
    let anomaly = Angle::from_deg(357.53 + 0.985_600_28 * t).in_turn();
    t + 0.001_657 * anomaly.sin() / 86_400.0
}
