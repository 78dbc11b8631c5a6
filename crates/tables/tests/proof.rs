//! Columns of numbers that are looked through for slips.

use tables::{Form, jumps};

/// In a column that keeps to nothing, every number jumps: however many there are, each is held
/// against the few that are nearest.
#[test]
fn a_long_column_of_nothing_but_slips_is_looked_through() {
    const ROWS: u32 = 20_000;
    let number = |row: u32| {
        let shown = if !(4..ROWS - 4).contains(&row) {
            10.0
        } else {
            f64::from(row.wrapping_mul(2_654_435_761) % 1000)
        };
        (f64::from(row), shown)
    };
    let column: Vec<(f64, f64)> = (0..ROWS).map(number).collect();
    let found = jumps(&column, Form::Degrees, 0.5);
    assert!(found.len() > 19_000, "{}", found.len());
    assert!(found.iter().all(|slip| slip.off.is_finite()));
}
