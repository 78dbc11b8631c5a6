//! Every cusp stands at a third of its own semi-arc: Placidus de Titis, Primum
//! mobile (1657; from memory).
//!
//! A degree at right ascension α has the ascensional difference
//! sin A(α) = k sin α with k = tan φ tan ε, the diurnal semi-arc 90° + A and
//! the nocturnal 90° − A. With θ the sidereal time, cusp XI stands a third of
//! its diurnal semi-arc east of the meridian, XII two thirds; II and III stand
//! two thirds and one third of their nocturnal semi-arcs before the lower
//! meridian. Each so satisfies
//!
//! ```text
//! α = β + w A(α)     XI   β = θ + 30°,  w = 1/3     II   β = θ + 120°, w = 2/3
//!                    XII  β = θ + 60°,  w = 2/3     III  β = θ + 150°, w = 1/3
//! ```
//!
//! Up to the polar circles, |k| < 1, the difference of the two sides grows
//! with α everywhere, so there is one solution and it lies within 90° w of β.
//!
//! Beyond them the degrees with |k sin α| > 1 have no semi-arcs. The others
//! form two arcs about 0° and 180°, where the difference of the two sides
//! turns at no more than two points, known in closed form; between these every
//! solution is found. The method answers where there is exactly one for each
//! cusp and they follow in the order of the signs. Nearer the poles that
//! becomes rare: at 70° a seventh of the day is left, beyond 78° nothing.

use sky::Angle;

use super::order::in_order;
use crate::cusps::EasternCusps;
use crate::{Horizon, House, Reason};

pub(super) fn cusps(horizon: &Horizon, ascendant: Angle) -> Result<EasternCusps, Reason> {
    let difference = AscensionalDifference::new(horizon);
    let cusp = |house, from_meridian: f64, weight: f64| {
        let base = horizon.sidereal_time + Angle::from_deg(from_meridian);
        let right_ascension = Equation {
            difference,
            base,
            weight,
        }
        .solution(house)?;
        Ok(horizon.degree_at_right_ascension(right_ascension))
    };
    let cusps = [
        horizon.midheaven(),
        cusp(House::XI, 30.0, 1.0 / 3.0)?,
        cusp(House::XII, 60.0, 2.0 / 3.0)?,
        ascendant,
        cusp(House::II, 120.0, 2.0 / 3.0)?,
        cusp(House::III, 150.0, 1.0 / 3.0)?,
    ];
    in_order(cusps)
}

/// The ascensional difference as a function of right ascension.
#[derive(Clone, Copy)]
struct AscensionalDifference {
    /// k = tan φ tan ε.
    k: f64,
    /// 1 − k².
    rest: f64,
}

impl AscensionalDifference {
    fn new(horizon: &Horizon) -> AscensionalDifference {
        let (latitude, obliquity) = (horizon.latitude.angle(), horizon.obliquity);
        let cosines = latitude.cos() * obliquity.cos();
        // (1−k)(1+k) from sums of angles: 1 − k² itself would lose its digits
        // near the polar circle.
        let rest =
            (latitude + obliquity).cos() * (latitude - obliquity).cos() / (cosines * cosines);
        AscensionalDifference {
            k: latitude.tan() * obliquity.tan(),
            rest,
        }
    }

    /// The difference at a right ascension, and how fast it grows with it.
    fn at(self, right_ascension: Angle) -> (Angle, f64) {
        let (sin, cos) = right_ascension.sin_cos();
        let (sine, slope) = (self.k * sin, self.k * cos);
        let cosine = (self.rest + slope * slope).max(0.0).sqrt();
        (Angle::atan2(sine, cosine), slope / cosine)
    }

    fn every_degree_rises(self) -> bool {
        self.rest > 0.0
    }
}

/// α = base + weight · A(α).
#[derive(Clone, Copy)]
struct Equation {
    difference: AscensionalDifference,
    base: Angle,
    weight: f64,
}

impl Equation {
    /// The only solution, for the cusp of a house.
    fn solution(self, house: House) -> Result<Angle, Reason> {
        if self.difference.every_degree_rises() {
            let reach = Angle::QUARTER_TURN * self.weight;
            return Ok(self.between(self.base - reach, self.base + reach));
        }
        let mut solutions = self.pieces().into_iter().filter(|&(from, to)| {
            let (from, to) = (self.excess(from).0, self.excess(to).0);
            (from > Angle::ZERO) != (to > Angle::ZERO)
        });
        match (solutions.next(), solutions.next()) {
            (Some((from, to)), None) => Ok(self.between(from, to)),
            (None, _) => Err(Reason::NoDegree(house)),
            (Some(_), Some(_)) => Err(Reason::SeveralDegrees(house)),
        }
    }

    /// The pieces of the two arcs of rising degrees, within half a turn of the
    /// base, on each of which the excess only grows or only falls.
    fn pieces(self) -> [(Angle, Angle); 4] {
        let k = self.difference.k;
        // The arc about 0° (for k > 0), where A grows with α, may have two
        // turning points; the arc about 180°, where A falls, has none.
        let (grows, falls) = if k > 0.0 {
            (Angle::ZERO, Angle::HALF_TURN)
        } else {
            (Angle::HALF_TURN, Angle::ZERO)
        };
        let near = |centre: Angle| self.base + self.base.to(centre);
        let (grows, falls) = (near(grows), near(falls));
        let half = Angle::asin(1.0 / k.abs());
        // cos² u = (k² − 1) / k²(1 − w²) where the excess turns.
        let turn = (-self.difference.rest / (1.0 - self.weight * self.weight)).sqrt() / k.abs();
        let turn = if turn < 1.0 {
            Angle::acos(turn)
        } else {
            Angle::ZERO
        };
        [
            (falls - half, falls + half),
            (grows - half, grows - turn),
            (grows - turn, grows + turn),
            (grows + turn, grows + half),
        ]
    }

    /// α − base − weight · A(α), and how fast it grows with α.
    fn excess(self, right_ascension: Angle) -> (Angle, f64) {
        let (difference, slope) = self.difference.at(right_ascension);
        (
            right_ascension - self.base - difference * self.weight,
            1.0 - slope * self.weight,
        )
    }

    /// The solution between two right ascensions where the excess has opposite
    /// signs, and grows or falls all the way: Newton's steps, halving the
    /// interval instead wherever they would leave it or gain too little.
    fn between(self, from: Angle, to: Angle) -> Angle {
        let grows = self.excess(to).0 > Angle::ZERO;
        let (mut low, mut high) = if grows { (from, to) } else { (to, from) };
        let mut at = (low + high) / 2.0;
        let mut last_step = (high - low).abs();
        for _ in 0..MOST_STEPS {
            let (excess, slope) = self.excess(at);
            if excess > Angle::ZERO {
                high = at;
            } else {
                low = at;
            }
            let newton = excess / slope;
            let next = at - newton;
            // Where the slope is infinite Newton's step is zero and says nothing.
            if newton.abs() < SETTLED && slope.is_finite() {
                return next;
            }
            let inside = (next > low) == (next < high);
            let next = if inside && newton.abs() * 2.0 < last_step {
                next
            } else {
                (low + high) / 2.0
            };
            last_step = (next - at).abs();
            at = next;
            if last_step < SETTLED {
                break;
            }
        }
        at
    }
}

/// Halving alone needs 53 steps to reach the last bit; most often Newton takes five.
const MOST_STEPS: u32 = 120;

/// Steps smaller than this change nothing: two roundings at 360°.
const SETTLED: Angle = Angle::from_deg(1e-13);
