use std::f64::consts::TAU;
use std::ops::RangeInclusive;

use crate::vector::{Matrix, Vector};

/// Where a body is and how it moves, in the axes of the ICRS, in astronomical units
/// and days.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct State {
    pub(crate) place: Vector,
    pub(crate) velocity: Vector,
}

/// A signed integer of fixed width at a fixed place of every record.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Field {
    byte: usize,
    left: u32,
    right: u32,
}

impl Field {
    /// Widths that a word read at a byte always holds.
    pub(crate) const WIDTHS: RangeInclusive<u32> = 1..=56;

    /// At so many bits from the start of a record.
    pub(crate) fn new(bit: usize, width: u32) -> Field {
        Field {
            byte: bit / 8,
            left: 64 - width - (bit % 8) as u32,
            right: 64 - width,
        }
    }

    fn of(self, record: &[u8]) -> f64 {
        let word = record.get(self.byte..).and_then(<[u8]>::first_chunk);
        let bits = u64::from_le_bytes(word.copied().unwrap_or_default()) << self.left;
        (bits.cast_signed() >> self.right) as f64
    }
}

/// The path of one body over one era: segments of equal length, in axes that turn
/// with its mean motion.
///
/// A segment is the cubic that joins the places and velocities at its ends, plus
/// (1 − x²)² times a Chebyshev series. Neighbours share their joint, so the path and
/// its velocity are continuous however coarsely the numbers are rounded.
#[derive(Clone, Debug)]
pub(crate) struct Series {
    /// Days of TDB from J2000 to the first joint.
    pub(crate) start: f64,
    /// Days a segment.
    pub(crate) days: f64,
    /// Segments of the whole path, and which of them are here: from the first, so many.
    pub(crate) count: usize,
    pub(crate) first: usize,
    pub(crate) held: usize,
    /// The seven numbers of the head, and the widths of a record's fields, as the file
    /// has them.
    pub(crate) said: &'static [u8],
    pub(crate) widths: &'static [u8],
    /// What one unit of the integers stands for, in astronomical units.
    pub(crate) quantum: f64,
    /// The plane of the axes: towards its node, 90° on, and its pole, in the ICRS.
    pub(crate) plane: Matrix,
    /// How the axes turn in the plane: turns a day, and turns from the node at J2000.
    pub(crate) turning: f64,
    pub(crate) turned_at_j2000: f64,
    /// One record for each joint that is here, and the rest of the file.
    pub(crate) records: &'static [u8],
    pub(crate) record_bytes: usize,
    /// Place and velocity at the joint.
    pub(crate) joint: [Field; 6],
    /// The Chebyshev coefficients on the three axes, from degree 0.
    pub(crate) terms: Vec<[Field; 3]>,
}

impl Series {
    /// The days of TDB from J2000 between which segments are here.
    pub(crate) fn held_days(&self) -> (f64, f64) {
        let joint = |index: usize| self.start + self.days * index as f64;
        (joint(self.first), joint(self.first + self.held))
    }

    /// Where it stands some days of TDB after J2000; beyond the ends, the end segments continued.
    pub(crate) fn at(&self, t: f64) -> State {
        let since = t - self.start;
        let last = (self.first + self.held).saturating_sub(1);
        let index = ((since / self.days) as usize).clamp(self.first.min(last), last);
        let x = (since - index as f64 * self.days) * (2.0 / self.days) - 1.0;
        let index = index - self.first.min(index);
        let record = |i: usize| {
            self.records
                .get(i * self.record_bytes..)
                .unwrap_or_default()
        };
        let (here, next) = (record(index), record(index + 1));

        let (mut sum, mut slope) = ([0.0; 3], [0.0; 3]);
        // T_k and its derivative, for this degree and the one before (T₋₁ = x).
        let (mut t0, mut d0, mut before) = (1.0, 0.0, (x, 1.0));
        for fields in &self.terms {
            for axis in 0..3 {
                let coefficient = fields[axis].of(here);
                sum[axis] += coefficient * t0;
                slope[axis] += coefficient * d0;
            }
            let after = (2.0 * x * t0 - before.0, 2.0 * t0 + 2.0 * x * d0 - before.1);
            before = (t0, d0);
            (t0, d0) = after;
        }

        let (up, down) = (1.0 + x, 1.0 - x);
        let window = up * down;
        let mut place = [0.0; 3];
        let mut velocity = [0.0; 3];
        for axis in 0..3 {
            let (p0, p1) = (self.joint[axis].of(here), self.joint[axis].of(next));
            let (v0, v1) = (self.joint[axis + 3].of(here), self.joint[axis + 3].of(next));
            let cubic = p0 * (2.0 + x) * down * down
                + p1 * (2.0 - x) * up * up
                + window * (v0 * down - v1 * up);
            let cubic_slope =
                3.0 * window * (p1 - p0) - v0 * down * (1.0 + 3.0 * x) - v1 * up * (1.0 - 3.0 * x);
            place[axis] = (cubic / 4.0 + window * window * sum[axis]) * self.quantum;
            velocity[axis] = (cubic_slope / 4.0
                + window * (window * slope[axis] - 4.0 * x * sum[axis]))
                * (self.quantum * 2.0 / self.days);
        }
        self.at_rest(t, place, velocity)
    }

    /// From the turning axes to those of the ICRS.
    fn at_rest(&self, t: f64, [x, y, z]: Vector, [u, v, w]: Vector) -> State {
        let turns = self.turning * t + self.turned_at_j2000;
        let (sin, cos) = libm::sincos((turns - turns.floor()) * TAU);
        let rate = self.turning * TAU;
        let (u, v) = (u - rate * y, v + rate * x);
        let in_icrs = |a: f64, b: f64, c: f64| {
            [0, 1, 2].map(|i| a * self.plane[0][i] + b * self.plane[1][i] + c * self.plane[2][i])
        };
        State {
            place: in_icrs(cos * x - sin * y, sin * x + cos * y, z),
            velocity: in_icrs(cos * u - sin * v, sin * u + cos * v, w),
        }
    }
}
