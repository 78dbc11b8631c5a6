use std::rc::Rc;

use sky::{Angle, Body};

use super::page::{Page, ROW_H, Shelf, Which, row_before};
use super::{Given, Hand, Kept};
use crate::{Form, TableError};

/// How far what is found may be off by what the tables say of themselves, in degrees:
/// their rounding and that of every line written, the straight line between their rows,
/// and what the latitude and the obliquity of the table of houses leave. What is left out
/// of the sum is not in it.
#[derive(Clone, Debug, PartialEq)]
pub struct Within {
    /// Of the cusps X, XI, XII, I, II and III, and of those opposite.
    eastern: [f64; 6],
    /// Of the bodies, in the order of [`Body::ALL`].
    bodies: Vec<f64>,
    sidereal: f64,
}

/// A minute of arc.
const MINUTE: f64 = 1.0 / 60.0;
/// A straight line is tried at quarters; the worst may lie a little beside.
const BESIDE: f64 = 1.05;

impl Within {
    /// Of a cusp, by its house.
    #[must_use]
    pub fn cusp(&self, house: figure::House) -> f64 {
        // X, XI, XII, I, II, III, and again for those opposite.
        let place = (house.index() + 3) % 6;
        self.eastern.get(place).copied().unwrap_or_default()
    }

    /// Of a body.
    #[must_use]
    pub fn body(&self, body: Body) -> f64 {
        let place = Body::ALL.iter().position(|one| *one == body);
        let within = place.and_then(|place| self.bodies.get(place));
        within.copied().unwrap_or_default()
    }

    /// Of the local sidereal time: half a second for each line of the sum.
    #[must_use]
    pub const fn sidereal_time(&self) -> f64 {
        self.sidereal
    }

    /// Of the lot of Fortune: of what it is made of, together.
    #[must_use]
    pub fn fortune(&self) -> f64 {
        self.cusp(figure::House::I) + self.body(Body::Moon) + self.body(Body::Sun)
    }

    pub(crate) fn of(
        shelf: &Shelf<'_>,
        hand: &Hand,
        at_h: f64,
        ephemeris: &Page,
        day: i32,
    ) -> Result<Within, TableError> {
        /// Nutation turns the equator by 9.2″, and the year's obliquity changes by 0.5″.
        const OBLIQUITY: Angle = Angle::from_arcsec(10.5);
        let (latitude, obliquity) = (hand.table_latitude, hand.obliquity);
        let given = shelf.given;
        let houses = shelf.page(Which::Houses(latitude, obliquity))?;
        let beside = [
            shelf.page(Which::Houses(given.latitude, obliquity))?,
            shelf.page(Which::Houses(given.latitude, obliquity - OBLIQUITY))?,
            shelf.page(Which::Houses(given.latitude, obliquity + OBLIQUITY))?,
        ];
        let keys = ["midheaven_deg", "XI", "XII", "I", "II", "III"];
        Ok(Within {
            sidereal: time_s(given.kept) / 240.0,
            eastern: keys.map(|key| cusp(given, at_h, &houses, houses.column(key), &beside)),
            bodies: Body::ALL
                .iter()
                .map(|body| {
                    let key = format!("{}_longitude_deg", body.name().to_lowercase());
                    let bent = *body == Body::Moon && hand.second_difference;
                    place(ephemeris, ephemeris.column(&key), day, bent)
                })
                .collect(),
        })
    }
}

/// How many seconds the sidereal time may be off. Half a second each: the noon's, two
/// accelerations, the longitude, the clock; what is short of a whole minute in the
/// acceleration; by the Sun, the equation of time too.
const fn time_s(kept: Kept) -> f64 {
    match kept {
        Kept::Standard { .. } | Kept::Mean => 2.7,
        Kept::Sun => 4.0,
    }
}

/// Of a cusp: half a minute for the two cells, half for the part between them; the straight
/// line; what the sidereal time may be off; and the table's latitude and obliquity.
fn cusp(given: &Given, at_h: f64, houses: &Page, column: usize, beside: &[Rc<Page>]) -> f64 {
    let time_s = time_s(given.kept);
    let (row, _) = row_before(at_h);
    let at = |part: f64| (row + part) * ROW_H;
    let number = |part: f64| houses.exact(at(part), column);
    let parts = [-0.25, 0.0, 0.25, 0.5, 0.75, 1.0, 1.25];
    let (Some(from), Some(to)) = (number(0.0), number(1.0)) else {
        return MINUTE;
    };
    let difference = Form::Zodiac.from_to(from, to);
    let (mut straight, mut slope, mut other) = (0.0f64, 0.0f64, 0.0f64);
    for part in parts {
        let Some(truly) = number(part) else { continue };
        if (0.0..=1.0).contains(&part) {
            let line = from + difference * part;
            straight = straight.max(Form::Zodiac.from_to(truly, line).abs());
        }
        if let Some(next) = number(part + 0.25) {
            let quarter_s = ROW_H * 3600.0 / 4.0;
            slope = slope.max(Form::Zodiac.from_to(truly, next).abs() / quarter_s);
        }
        for page in beside {
            if let Some(elsewhere) = page.exact(at(part), column) {
                other = other.max(Form::Zodiac.from_to(truly, elsewhere).abs());
            }
        }
    }
    MINUTE + straight * BESIDE + slope * time_s + other * BESIDE
}

/// Of a place: half a minute for the two cells, half for the motion in the time gone, and
/// what logarithms of four digits and a time to the minute leave; the straight line, or
/// what is left of it when it is bent, whose factor and product are rounded too.
fn place(ephemeris: &Page, column: usize, day: i32, bent: bool) -> f64 {
    let at = |later: f64| ephemeris.exact(f64::from(day) + later, column);
    let motion = |from: f64| Some(Form::Zodiac.from_to(at(from)?, at(from + 1.0)?));
    let (Some(from), Some(moves)) = (at(0.0), motion(0.0)) else {
        return MINUTE;
    };
    let change = match (motion(-1.0), motion(1.0)) {
        (Some(before), Some(behind)) => behind - before,
        _ => 0.0,
    };
    let off = |part: f64| {
        let bend = if bent {
            change * part * (1.0 - part) / 4.0
        } else {
            0.0
        };
        let line = from + moves * part - bend;
        at(part).map_or(0.0, |truly| Form::Zodiac.from_to(truly, line).abs())
    };
    let straight = [0.125, 0.25, 0.375, 0.5, 0.625, 0.75, 0.875]
        .map(off)
        .into_iter()
        .fold(0.0, f64::max);
    // The cell whose logarithm is nearest may be 0.09′ further than half a minute off: from
    // 1′ to 2′ the middle of the logarithms is 1.41′.
    let nearest = 0.09 * MINUTE;
    // Two logarithms, half of the fourth digit each, and the nearest cell of the sum.
    let logarithms = 3.0 * 0.5e-4 * std::f64::consts::LN_10 * moves.abs();
    let half_a_minute = moves.abs() * 0.5 / 1440.0;
    let bending = if bent {
        // Its product, two motions of rounded cells, and a factor of the nearest row.
        0.5 * MINUTE + 2.0 * MINUTE / 16.0 + change.abs() * 0.0015
    } else {
        0.0
    };
    MINUTE + nearest + straight * BESIDE + logarithms + half_a_minute + bending
}
