use sky::Sign;

use crate::Planet;

/// The ruler of the face, ten degrees, that holds a degree of a sign.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a degree within a sign"
)]
pub(super) fn at(sign: Sign, within_deg: f64) -> Planet {
    let third = ((within_deg / 10.0) as usize).min(2);
    Planet::Mars.down(3 * sign as usize + third)
}
