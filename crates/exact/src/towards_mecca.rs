use instrument::CurveLeg;
use sky::{Angle, Latitude};

/// Where the Sun stands in the direction of Mecca.
#[derive(Clone, Copy, Debug)]
pub struct SunTowardsMecca {
    /// Its altitude, 0° to 90°.
    pub altitude: Angle,
    /// Its hour angle, from the meridian westward, in (−180°, 180°].
    pub hour_angle: Angle,
    /// Whether more northern declinations stand higher in that direction, or lower.
    pub leg: CurveLeg,
}

/// Mecca, the Kaʿba: 21°25′21″ north, 39°49′34″ east (common practice).
const MECCA_DEG: (f64, f64) = (
    21.0 + 25.0 / 60.0 + 21.0 / 3600.0,
    39.0 + 49.0 / 60.0 + 34.0 / 3600.0,
);

/// Nearer to Mecca, to its antipode, or to a pole than this part of the Earth's radius, no
/// direction is told.
const LEAST: f64 = 1e-9;

/// Where a body of a declination stands above the horizon of a place in the direction of
/// Mecca, along the great circle: nowhere, once or twice, the lower first.
///
/// By vectors alone: that towards Mecca, less its part along the zenith, is the level
/// direction *n*; on the circle cos a · *n* + sin a · *z* the place is sought whose third
/// component is sin δ, by the tangent of half the altitude (vectors as in W. M. Smart,
/// *Textbook on Spherical Astronomy*, from memory; the half-tangent is common practice).
#[must_use]
pub fn sun_towards_mecca(
    latitude: Latitude,
    longitude: Angle,
    declination: Latitude,
) -> Vec<SunTowardsMecca> {
    let zenith = outward(latitude.angle(), longitude);
    let (mecca_latitude, mecca_longitude) = MECCA_DEG;
    let mecca = outward(
        Angle::from_deg(mecca_latitude),
        Angle::from_deg(mecca_longitude),
    );
    let along = dot(zenith, mecca);
    let level = [0, 1, 2].map(|n| component(mecca, n) - along * component(zenith, n));
    let size = dot(level, level).sqrt();
    if size < LEAST || latitude.cos() < LEAST {
        return Vec::new();
    }
    let level = level.map(|part| part / size);
    let (upward, northward) = (component(zenith, 2), component(level, 2));
    let sine = declination.sin();
    // (n + s) t² − 2 z t + (s − n) = 0, t being the tangent of half the altitude.
    let under_root = upward * upward + (northward - sine) * (northward + sine);
    if under_root < 0.0 {
        return Vec::new();
    }
    let root = under_root.sqrt();
    let at = |root: f64, leg: CurveLeg| {
        // Both quotients are the same number; the larger terms keep its digits.
        let quotients = [
            (upward + root, northward + sine),
            (sine - northward, upward - root),
        ];
        let [first, second] = quotients;
        let larger = if libm::hypot(first.0, first.1) >= libm::hypot(second.0, second.1) {
            first
        } else {
            second
        };
        let half = Angle::atan2(larger.0, larger.1);
        let altitude = (half + half).signed();
        let (sin, cos) = altitude.sin_cos();
        let body = [0, 1, 2].map(|n| cos * component(level, n) + sin * component(zenith, n));
        let stands_over = Angle::atan2(component(body, 1), component(body, 0));
        SunTowardsMecca {
            altitude,
            hour_angle: (longitude - stands_over).signed(),
            leg,
        }
    };
    // The declination grows with the altitude as z cos a − n sin a, which is ± the root.
    let both = [(root, CurveLeg::Southward), (-root, CurveLeg::Northward)];
    let mut found: Vec<SunTowardsMecca> = both.map(|(root, leg)| at(root, leg)).into();
    found.retain(|one| one.altitude >= Angle::ZERO && one.altitude <= Angle::QUARTER_TURN);
    found.sort_by(|one, other| one.altitude.deg().total_cmp(&other.altitude.deg()));
    found
}

/// The direction from the Earth's centre, towards the pole last.
fn outward(latitude: Angle, longitude: Angle) -> [f64; 3] {
    let (sin, cos) = latitude.sin_cos();
    let (sin_east, cos_east) = longitude.sin_cos();
    [cos * cos_east, cos * sin_east, sin]
}

fn dot(one: [f64; 3], other: [f64; 3]) -> f64 {
    let parts = one.into_iter().zip(other);
    parts.map(|(one, other)| one * other).sum()
}

fn component(of: [f64; 3], n: usize) -> f64 {
    of.get(n).copied().unwrap_or_default()
}
