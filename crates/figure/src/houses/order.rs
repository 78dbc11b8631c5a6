use sky::Angle;

use crate::Reason;
use crate::cusps::EasternCusps;

/// Refuses cusps that do not run in the order of the signs from the tenth to
/// the fourth.
pub(super) fn in_order(cusps: EasternCusps) -> Result<EasternCusps, Reason> {
    let [x, xi, xii, i, ii, iii] = cusps;
    let round = [x, xi, xii, i, ii, iii, x + Angle::HALF_TURN];
    let steps: Angle = round
        .windows(2)
        .map(|pair| (pair[1] - pair[0]).in_turn())
        .sum();
    // The steps forward sum to half a turn, and whole turns more for each step back.
    if steps < Angle::from_deg(270.0) {
        Ok(cusps)
    } else {
        Err(Reason::OutOfOrder)
    }
}
