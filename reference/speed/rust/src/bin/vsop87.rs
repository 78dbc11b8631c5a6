//! The crate vsop87, series D: heliocentric, of date. Light time, aberration (the
//! motion of the Earth by differences) and nutation (IAU 2000B) are added here. It has
//! no Moon.

use std::error::Error;

use vsop87::{SphericalCoordinates, vsop87d};

type Vector = [f64; 3];

const DAYS_PER_AU: f64 = 499.004_784 / 86_400.0;

fn rectangular(place: SphericalCoordinates) -> Vector {
    let (sin_l, cos_l) = place.longitude().sin_cos();
    let (sin_b, cos_b) = place.latitude().sin_cos();
    let r = place.distance();
    [r * cos_b * cos_l, r * cos_b * sin_l, r * sin_b]
}

fn minus(a: Vector, b: Vector) -> Vector {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

fn length(a: Vector) -> f64 {
    (a[0] * a[0] + a[1] * a[1] + a[2] * a[2]).sqrt()
}

fn main() -> Result<(), Box<dyn Error>> {
    let planets = [
        vsop87d::mercury,
        vsop87d::venus,
        vsop87d::mars,
        vsop87d::jupiter,
        vsop87d::saturn,
        vsop87d::uranus,
        vsop87d::neptune,
    ];
    speed::compete(|jd| {
        let earth = rectangular(vsop87d::earth(jd));
        let (nutation, _) = sofars::pnp::nut00b(jd, 0.0);
        let apparent = |there: &dyn Fn(f64) -> Vector| {
            // Seen from an Earth that moves, a body is where it stood a light time ago
            // from the Earth of a light time ago.
            let light_days = length(minus(there(jd), earth)) * DAYS_PER_AU;
            let ray = minus(there(jd - light_days), rectangular(vsop87d::earth(jd - light_days)));
            (ray[1].atan2(ray[0]) + nutation).to_degrees().rem_euclid(360.0)
        };
        let mut found = [0.0; 8];
        found[0] = apparent(&|_| [0.0; 3]);
        for (longitude, planet) in found[1..].iter_mut().zip(planets) {
            *longitude = apparent(&|jd| rectangular(planet(jd)));
        }
        found
    })
}
