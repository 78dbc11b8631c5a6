use sofars::eph::{epv00, moon98, plan94};

use crate::frame::{Obliquity, Precession, direction};
use crate::vector::{Matrix, Vector, dot, length, minus, plus, scaled, turned};
use crate::{Angle, Apparent, Body, Instant, Nutation};

/// Light travels one astronomical unit in so many days.
const LIGHT_DAYS_PER_AU: f64 = 0.005_775_518_331_436_995;

/// The Earth's place and motion at an instant, and the axes of date.
#[derive(Clone, Debug)]
pub(crate) struct Standpoint {
    instant: Instant,
    earth: Vector,
    earth_velocity: Vector,
    sun: Vector,
    axes: Matrix,
    nutation: Nutation,
}

impl Standpoint {
    pub(crate) fn at(instant: Instant, precession: &Precession, nutation: Nutation) -> Standpoint {
        let (day, fraction) = instant.tt_parts();
        // Until the embedded ephemeris takes its place: exact for 1900 to 2100,
        // within 10″ elsewhere.
        let (heliocentric, barycentric) = epv00(day, fraction).unwrap_or_else(|| {
            let barycentre = plan94(day, fraction, 3).map_or([[0.0; 3]; 2], |(pv, _)| pv);
            let moon = moon98(day, fraction);
            let earth = [0, 1].map(|i| plus(barycentre[i], scaled(moon[i], -1.0 / 82.3)));
            (earth, earth)
        });
        Standpoint {
            instant,
            earth: barycentric[0],
            earth_velocity: barycentric[1],
            sun: minus(barycentric[0], heliocentric[0]),
            axes: precession.to_ecliptic,
            nutation,
        }
    }

    pub(crate) fn apparent(&self, body: Body, obliquity: &Obliquity) -> Apparent {
        const STEP_DAYS: f64 = 0.01;
        let (longitude, latitude, distance_au, seen) = self.seen(body, 0.0);
        let before = self.seen(body, -STEP_DAYS).0;
        let after = self.seen(body, STEP_DAYS).0;
        let (right_ascension, declination) = direction(obliquity.rotated_to_equator(seen));
        Apparent {
            longitude,
            latitude,
            distance_au,
            right_ascension,
            declination,
            speed: before.to(after) / (2.0 * STEP_DAYS),
        }
    }

    fn seen(&self, body: Body, days: f64) -> (Angle, crate::Latitude, f64, Vector) {
        let earth = plus(self.earth, scaled(self.earth_velocity, days));
        let mut place = minus(self.place(body, days), earth);
        for _ in 0..2 {
            place = minus(
                self.place(body, days - LIGHT_DAYS_PER_AU * length(place)),
                earth,
            );
        }
        let distance = length(place);
        let towards = scaled(place, 1.0 / distance);
        let velocity = scaled(self.earth_velocity, LIGHT_DAYS_PER_AU);
        let aberrated = plus(
            towards,
            minus(velocity, scaled(towards, dot(towards, velocity))),
        );
        let [x, y, z] = turned(&self.axes, aberrated);
        let (s, c) = self.nutation.longitude.sin_cos();
        let seen = [x * c - y * s, x * s + y * c, z];
        let (longitude, latitude) = direction(seen);
        (longitude, latitude, distance, seen)
    }

    fn place(&self, body: Body, days: f64) -> Vector {
        let (day, fraction) = self.instant.tt_parts();
        let number = match body {
            Body::Sun => return self.sun,
            Body::Moon => {
                let earth = plus(self.earth, scaled(self.earth_velocity, days));
                return plus(moon98(day, fraction + days)[0], earth);
            }
            Body::Mercury => 1,
            Body::Venus => 2,
            Body::Mars => 4,
            Body::Jupiter => 5,
            Body::Saturn => 6,
            Body::Uranus => 7,
            Body::Neptune | Body::Pluto => 8,
        };
        let heliocentric = plan94(day, fraction + days, number).map_or([0.0; 3], |(pv, _)| pv[0]);
        plus(heliocentric, self.sun)
    }
}
