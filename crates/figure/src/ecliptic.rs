use sky::{Angle, Latitude};

/// Right ascension of the ecliptic degree at a longitude: tan α = tan λ cos ε.
pub(crate) fn right_ascension(longitude: Angle, obliquity: Angle) -> Angle {
    let (sin, cos) = longitude.sin_cos();
    Angle::atan2(sin * obliquity.cos(), cos).in_turn()
}

/// Declination of the ecliptic degree at a longitude: sin δ = sin λ sin ε.
pub(crate) fn declination(longitude: Angle, obliquity: Angle) -> Latitude {
    Latitude::asin(longitude.sin() * obliquity.sin())
}

/// Right ascension and declination of the ecliptic degree at a longitude, with sines and
/// cosines found once for both.
pub(crate) fn on_equator(longitude: Angle, obliquity: Angle) -> (Angle, Latitude) {
    let (sin, cos) = longitude.sin_cos();
    let (sin_obliquity, cos_obliquity) = obliquity.sin_cos();
    let right_ascension = Angle::atan2(sin * cos_obliquity, cos).in_turn();
    (right_ascension, Latitude::asin(sin * sin_obliquity))
}

/// Longitude of the ecliptic degree on the hour circle of a right ascension:
/// tan λ = tan α / cos ε.
pub(crate) fn on_hour_circle(right_ascension: Angle, obliquity: Angle) -> Angle {
    let (sin, cos) = right_ascension.sin_cos();
    Angle::atan2(sin, cos * obliquity.cos()).in_turn()
}

/// Longitude where the ecliptic crosses the great circle that meets the
/// equator at a right ascension and has its pole raised as the horizon of a
/// place has its own: "the ascendant under a pole".
///
/// tan λ = sin α / (cos α cos ε − tan P sin ε). Of the two crossings the one
/// in the half circle of `equator`, as long as the ecliptic's pole is north
/// of the circle there; otherwise the opposite one.
pub(crate) fn under_pole(equator: Angle, tan_pole: f64, obliquity: Angle) -> Angle {
    let (sin, cos) = equator.sin_cos();
    let (sin_obliquity, cos_obliquity) = obliquity.sin_cos();
    Angle::atan2(sin, cos * cos_obliquity - tan_pole * sin_obliquity).in_turn()
}
