//! Angles and cusps side by side with ERFA: `reference/houses_erfa.csv`, written
//! by the script beside it, which finds every degree by search and knows none
//! of the formulas used here.

#![cfg(not(feature = "test-shift-ascendant"))]

mod common;

use common::{assert_near, horizon};
use figure::{Horizon, House, Method};
use sky::Angle;

const TABLE: &str = include_str!("../../../reference/houses_erfa.csv");

/// The table's angles are rounded to 1e-12°. The sidereal time's rounding
/// comes back up to some forty times larger in a degree that crosses the
/// horizon at a flat angle, near the polar circles.
const TOLERANCE: Angle = Angle::from_deg(4e-11);

struct Row<'a> {
    moment: &'a str,
    horizon: Horizon,
    what: &'a str,
    /// Nothing where there is no answer.
    angles: Option<[Angle; 4]>,
}

fn rows() -> Vec<Row<'static>> {
    TABLE
        .lines()
        .filter(|line| !line.starts_with('#'))
        .skip(1)
        .map(|line| {
            let fields: Vec<_> = line.split(',').collect();
            let number = |index: usize| fields[index].parse::<f64>().expect("a number");
            Row {
                moment: fields[0],
                horizon: horizon(number(2), number(3), number(1)),
                what: fields[4],
                angles: (!fields[5].is_empty())
                    .then(|| [5, 6, 7, 8].map(|index| Angle::from_deg(number(index)))),
            }
        })
        .collect()
}

#[test]
fn ascendant_and_midheaven_as_erfa_finds_them() {
    let mut compared = 0;
    for row in rows().iter().filter(|row| row.what == "angles") {
        let [ascendant, azimuth, midheaven, altitude] = row.angles.unwrap();
        let Row {
            moment, horizon, ..
        } = row;
        let found = horizon.ascendant().unwrap();
        assert_near(found, ascendant, TOLERANCE, moment);
        assert_near(
            horizon.position_of_degree(found).azimuth,
            azimuth,
            TOLERANCE,
            moment,
        );
        assert_near(horizon.midheaven(), midheaven, TOLERANCE, moment);
        assert_near(horizon.midheaven_altitude(), altitude, TOLERANCE, moment);
        compared += 1;
    }
    assert!(compared >= 18, "{compared} moments compared");
}

#[test]
fn cusps_as_erfa_finds_them() {
    let (mut answered, mut unanswered) = (0, 0);
    for Row {
        moment,
        horizon,
        what,
        angles,
    } in rows()
    {
        if what == "angles" {
            continue;
        }
        let method: Method = what.parse().unwrap();
        match (angles, method.cusps(&horizon)) {
            (Some(expected), Ok(cusps)) => {
                let houses = [House::XI, House::XII, House::II, House::III];
                for (house, expected) in houses.into_iter().zip(expected) {
                    let what = format!("{method} {house} on {moment}");
                    assert_near(cusps.get(house), expected, TOLERANCE, what);
                }
                answered += 1;
            }
            (None, Err(_)) => unanswered += 1,
            (expected, found) => panic!("{method} on {moment}: {expected:?} but {found:?}"),
        }
    }
    assert!(
        answered >= 100 && unanswered >= 10,
        "{answered} and {unanswered}"
    );
}
