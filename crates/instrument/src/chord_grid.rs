use std::collections::HashMap;

use crate::point::Point;

/// Chords by the squares of a grid, so that those near a place are found without a look at all.
#[derive(Clone, Debug)]
pub(crate) struct ChordGrid {
    /// The side of a square, and how near is near, in millimetres.
    reach_mm: f64,
    chords: HashMap<(i64, i64), Vec<(Point, Point)>>,
}

/// No curve of an instrument has so many squares to a side.
const MOST_SQUARES: f64 = 1e9;

impl ChordGrid {
    pub(crate) fn new(reach_mm: f64) -> ChordGrid {
        ChordGrid {
            reach_mm,
            chords: HashMap::new(),
        }
    }

    #[expect(clippy::cast_possible_truncation, reason = "clamped to what it holds")]
    fn square(&self, mm: f64) -> i64 {
        (mm / self.reach_mm)
            .floor()
            .clamp(-MOST_SQUARES, MOST_SQUARES) as i64
    }

    /// A line by its points.
    pub(crate) fn add(&mut self, line: &[Point]) {
        for ends in line.windows(2) {
            let [from, to] = *ends else { continue };
            // It stands in every square from which it could be reached.
            let range = |one: f64, other: f64| {
                let (low, high) = (one.min(other), one.max(other));
                self.square(low - self.reach_mm)..=self.square(high + self.reach_mm)
            };
            let (across, along) = (range(from.x, to.x), range(from.y, to.y));
            for x in across {
                for y in along.clone() {
                    self.chords.entry((x, y)).or_default().push((from, to));
                }
            }
        }
    }

    /// Whether some chord is nearer a place than the reach.
    pub(crate) fn is_near(&self, p: Point) -> bool {
        let square = (self.square(p.x), self.square(p.y));
        let chords = self.chords.get(&square).into_iter().flatten();
        chords
            .into_iter()
            .any(|(from, to)| apart(p, *from, *to) < self.reach_mm)
    }
}

/// How far a place is from a chord.
fn apart(p: Point, from: Point, to: Point) -> f64 {
    let along = to - from;
    let part = (p - from).dot(along) / along.dot(along).max(1e-18);
    (p - (from + along * part.clamp(0.0, 1.0))).radius()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What a look at every chord finds, the grid finds.
    #[test]
    fn nothing_near_is_missed() {
        let line: Vec<Point> = (0..40)
            .map(|n| Point {
                x: f64::from(n) * 0.7 - 9.0,
                y: 5.0 * libm::sin(f64::from(n)),
            })
            .collect();
        for reach in [0.3, 0.8, 4.0] {
            let mut grid = ChordGrid::new(reach);
            grid.add(&line);
            for n in 0..4000_i32 {
                let p = Point {
                    x: f64::from(n % 80) * 0.35 - 12.0,
                    y: f64::from(n / 80) * 0.3 - 7.0,
                };
                let least = line.windows(2).map(|ends| apart(p, ends[0], ends[1]));
                let least = least.fold(f64::INFINITY, f64::min);
                assert_eq!(grid.is_near(p), least < reach, "{p:?} {reach}");
            }
        }
    }
}
