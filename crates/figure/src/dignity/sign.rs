use sky::{Angle, Sign};

/// The sign of a longitude, and the degree within it, in [0, 30).
#[must_use]
pub fn sign_and_degree(longitude: Angle) -> (Sign, f64) {
    let deg = longitude.in_turn().deg();
    let sign = Sign::ALL
        .into_iter()
        .rev()
        .find(|sign| sign.begins().deg() <= deg)
        .unwrap_or(Sign::Aries);
    (sign, deg - sign.begins().deg())
}

pub(crate) fn opposite(sign: Sign) -> Sign {
    Sign::ALL[(sign as usize + 6) % 12]
}
