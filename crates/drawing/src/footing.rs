use std::cell::OnceCell;
use std::ops::RangeInclusive;

use instrument::Point;

use crate::contour::Contour;
use crate::label_box::LabelBox;
use crate::scene::Region;
use crate::solid::{Chord, corners};

/// A piece of metal on which letters may stand, laid out so that it is soon known whether
/// they do.
pub(crate) struct Footing {
    region: Region,
    /// The rectangle that it fills.
    low: Point,
    high: Point,
    /// Its outline as ink is held to it, worked out once letters come near an edge.
    edge: OnceCell<Edge>,
}

impl Footing {
    pub(crate) fn of(region: Region) -> Footing {
        let (low, high) = region.outline.bounds();
        Footing {
            region,
            low,
            high,
            edge: OnceCell::new(),
        }
    }

    /// Whether a place lies on it. Most pieces are told apart by their rectangles alone.
    fn holds(&self, p: Point) -> bool {
        let within = |at: f64, low: f64, high: f64| (low..=high).contains(&at);
        within(p.x, self.low.x, self.high.x)
            && within(p.y, self.low.y, self.high.y)
            && self.region.holds(p)
    }

    /// Whether all of some spaces lies on it, with a margin about them.
    pub(crate) fn bears(&self, spaces: &[LabelBox], margin_mm: f64) -> bool {
        spaces.iter().all(|space| {
            let space = space.with_margin(margin_mm);
            self.holds(space.around().0) && !self.region.edges().any(|edge| space.touches(edge))
        })
    }

    /// Whether it has no hole, and the middles of some spaces lie on it.
    pub(crate) fn is_under(&self, spaces: &[LabelBox]) -> bool {
        self.region.holes.is_empty() && spaces.iter().all(|space| self.holds(space.around().0))
    }

    /// Whether all that is engraved along some edges of letters lies within its outline, no
    /// nearer to it than a hair.
    pub(crate) fn bears_ink(&self, letters: &[Contour], hair_mm: f64) -> bool {
        let edge = self
            .edge
            .get_or_init(|| Edge::of(&self.region.outline, hair_mm));
        letters.iter().all(|letter| {
            // What lies in a rectangle within it needs no closer look.
            let (low, high) = letter.bounds();
            edge.surely_holds(low, high)
                // A straight stroke passes nearer to a hollow edge than its ends do.
                || letter.followed(hair_mm / 2.0).iter().all(|p| edge.holds(*p))
        })
    }
}

/// A closed outline in chords, by the rows that they pass.
struct Edge {
    hair_mm: f64,
    /// Where the first row begins, and how high each is.
    top: f64,
    row_mm: f64,
    /// The chords of which some place is within a hair of each row.
    rows: Vec<Vec<Chord>>,
}

impl Edge {
    fn of(outline: &Contour, hair_mm: f64) -> Edge {
        /// A blade has some hundred chords, of which so a few pass each row.
        const ROWS: u16 = 64;
        let corners = corners(outline, hair_mm / 10.0);
        let heights = || corners.iter().map(|p| p.y);
        let top = heights().fold(f64::INFINITY, f64::min);
        let bottom = heights().fold(f64::NEG_INFINITY, f64::max);
        let mut edge = Edge {
            hair_mm,
            top,
            row_mm: (bottom - top) / f64::from(ROWS),
            rows: vec![Vec::new(); usize::from(ROWS)],
        };
        let next = corners.iter().cycle().skip(1);
        for (from, to) in corners.iter().copied().zip(next.copied()) {
            let chord = Chord { from, to };
            let (low, high) = chord.bounds();
            let passed = edge.rows_between(low.y - hair_mm, high.y + hair_mm);
            for row in edge.rows.get_mut(passed).into_iter().flatten() {
                row.push(chord);
            }
        }
        edge
    }

    /// The rows between two heights; what is beyond them counts to the first or the last.
    fn rows_between(&self, low: f64, high: f64) -> RangeInclusive<usize> {
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a negative number counts as 0"
        )]
        let row = |y: f64| ((y - self.top) / self.row_mm) as usize;
        let last = self.rows.len().saturating_sub(1);
        row(low).min(last)..=row(high).min(last)
    }

    /// The chords that come within a hair of some heights, some of them more than once, and
    /// some others.
    fn chords(&self, low: f64, high: f64) -> impl Iterator<Item = &Chord> {
        let rows = self.rows.get(self.rows_between(low, high));
        rows.into_iter().flatten().flatten()
    }

    /// Whether a place lies within the outline, and no nearer to it than a hair.
    fn holds(&self, p: Point) -> bool {
        let hair = self.hair_mm;
        let mut inside = false;
        for chord in self.chords(p.y, p.y) {
            let (low, high) = chord.bounds();
            if high.x < p.x - hair {
                continue;
            }
            if low.x < p.x + hair && chord.distance(p) < hair {
                return false;
            }
            inside ^= chord.is_crossed_from(p);
        }
        inside
    }

    /// Whether a rectangle is known to lie so: none of the chords' own rectangles comes
    /// within a hair of it.
    fn surely_holds(&self, low: Point, high: Point) -> bool {
        let hair = self.hair_mm;
        let is_near = |chord: &Chord| {
            let (least, most) = chord.bounds();
            least.x < high.x + hair
                && most.x > low.x - hair
                && least.y < high.y + hair
                && most.y > low.y - hair
        };
        !self.chords(low.y, high.y).any(is_near) && self.holds((low + high) * 0.5)
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use sky::Angle;

    use super::*;
    use crate::piece::Piece;

    const HAIR_MM: f64 = 0.2;

    /// A closed curve round the middle that goes in and out.
    fn wavy(radii: &[f64]) -> Contour {
        let step = 360.0 / radii.len() as f64;
        let at = |n: usize, part: f64| {
            let radius = radii.get(n % radii.len()).copied().unwrap_or(1.0);
            Point::polar(radius, Angle::from_deg((n as f64 + part) * step))
        };
        let pieces = (0..radii.len()).map(|n| Piece::Cubic {
            first: at(n, 0.4),
            second: at(n + 1, -0.4),
            to: at(n + 1, 0.0),
        });
        Contour::closed(at(0, 0.0), pieces.collect())
    }

    /// Whether a place lies within, as far as a hair from all chords, of which each is asked.
    fn holds_by_all(outline: &Contour, p: Point) -> bool {
        let corners = corners(outline, HAIR_MM / 10.0);
        let next = corners.iter().cycle().skip(1);
        let chords: Vec<Chord> = corners
            .iter()
            .zip(next)
            .map(|(from, to)| Chord {
                from: *from,
                to: *to,
            })
            .collect();
        chords.iter().all(|chord| chord.distance(p) >= HAIR_MM)
            && chords
                .iter()
                .filter(|chord| chord.is_crossed_from(p))
                .count()
                % 2
                == 1
    }

    proptest! {
        /// Few chords are asked, and the answer is that of all of them.
        #[test]
        fn rows_leave_out_what_does_not_matter(
            radii in prop::collection::vec(2.0..9.0_f64, 3..12),
            places in prop::collection::vec((-10.0..10.0_f64, -10.0..10.0_f64), 60),
            (across, up) in (0.0..4.0_f64, 0.0..4.0_f64),
        ) {
            let outline = wavy(&radii);
            let edge = Edge::of(&outline, HAIR_MM);
            let footing = Footing::of(Region::whole(outline.clone()));
            for (x, y) in places {
                let low = Point { x, y };
                prop_assert_eq!(edge.holds(low), holds_by_all(&outline, low), "{:?}", low);
                prop_assert_eq!(footing.holds(low), outline.encloses(low), "{:?}", low);
                let high = Point { x: x + across, y: y + up };
                if !edge.surely_holds(low, high) {
                    continue;
                }
                for n in 0..=8 {
                    for m in 0..=8 {
                        let place = Point {
                            x: x + across * f64::from(n) / 8.0,
                            y: y + up * f64::from(m) / 8.0,
                        };
                        prop_assert!(holds_by_all(&outline, place), "{:?}", place);
                    }
                }
            }
        }

        /// The way round a point, counted by what a ray crosses, is that of its turns.
        #[test]
        fn a_point_is_within_what_turns_about_it(
            radii in prop::collection::vec(2.0..9.0_f64, 3..12),
            (x, y) in (-10.0..10.0_f64, -10.0..10.0_f64),
        ) {
            let (outline, p) = (wavy(&radii), Point { x, y });
            let (start, pieces, _) = outline.outline();
            let (mut from, mut at, mut turned) = (start, start, Angle::ZERO);
            for piece in pieces.iter() {
                for n in 1..=24 {
                    let to = piece.at(from, f64::from(n) / 24.0);
                    turned += (at - p).direction().to((to - p).direction());
                    at = to;
                }
                from = piece.end();
            }
            prop_assert_eq!(outline.encloses(p), turned.abs() > Angle::HALF_TURN);
        }
    }
}
