//! The build that puts the ascendant off by a degree does so, and no other does.

mod common;

use common::{ROUNDING, assert_near, horizon};
use figure::{House, Method};
use sky::Angle;

#[test]
fn the_ascendant_is_off_by_a_degree_in_the_test_build_alone() {
    let shift = if cfg!(feature = "test-shift-ascendant") {
        1.0
    } else {
        0.0
    };
    // At the equator, with the midheaven at 0° Cancer, 0° Libra rises.
    let horizon = horizon(90.0, 23.44, 0.0);
    let expected = Angle::from_deg(180.0 + shift);
    assert_near(
        horizon.ascendant().unwrap(),
        expected,
        ROUNDING,
        "ascendant",
    );
    let cusps = Method::Alcabitius.cusps(&horizon).unwrap();
    assert_near(cusps.get(House::I), expected, ROUNDING, "cusp I");
}
