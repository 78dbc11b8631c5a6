use sky::Angle;

use crate::sign_and_degree;

/// Whether a body rises before the Sun: it stands behind it in the order of the signs.
pub(super) fn is_oriental(longitude: Angle, sun: Angle) -> bool {
    (sun - longitude).in_turn() < Angle::HALF_TURN
}

/// The whole degrees of its sign that a longitude has.
pub(super) fn whole_degree(longitude: Angle) -> u8 {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a degree within a sign"
    )]
    let whole = sign_and_degree(longitude).1.floor() as u8;
    whole
}

/// Whether two longitudes are in the same degree of the same sign.
pub(super) fn same_degree(one: Angle, other: Angle) -> bool {
    sign_and_degree(one).0 == sign_and_degree(other).0 && whole_degree(one) == whole_degree(other)
}
