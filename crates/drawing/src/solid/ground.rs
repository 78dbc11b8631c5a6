use std::collections::HashMap;

use instrument::Point;

use super::body::Solid;
use super::chord::Chord;
use super::flat;

/// A solid laid out so that it is soon known whether a place lies on its metal.
pub(crate) struct Ground {
    /// The chords of all edges, by the rows and the cells that they pass.
    rows: HashMap<i64, Vec<Chord>>,
    cells: HashMap<(i64, i64), Vec<Chord>>,
}

/// Chords leave the edges by no more than this.
const SAGITTA_MM: f64 = 0.0002;

const CELL_MM: f64 = 1.0;

#[expect(clippy::cast_possible_truncation, reason = "a metre at most")]
fn cell(mm: f64) -> i64 {
    (mm / CELL_MM).floor() as i64
}

impl Ground {
    pub(crate) fn of(solid: &Solid) -> Ground {
        let mut ground = Ground {
            rows: HashMap::new(),
            cells: HashMap::new(),
        };
        for edge in solid.edges() {
            let corners = flat::corners(edge, SAGITTA_MM);
            let next = corners.iter().cycle().skip(1);
            for (from, to) in corners.iter().copied().zip(next.copied()) {
                let chord = Chord { from, to };
                let (low, high) = chord.bounds();
                for row in cell(low.y)..=cell(high.y) {
                    ground.rows.entry(row).or_default().push(chord);
                    for column in cell(low.x)..=cell(high.x) {
                        let cell = ground.cells.entry((column, row)).or_default();
                        cell.push(chord);
                    }
                }
            }
        }
        ground
    }

    /// Nothing changes so near a place that is far from all edges.
    pub(crate) const FAR_MM: f64 = 0.99 * CELL_MM;

    /// Whether no edge is nearer to a place than [`Ground::FAR_MM`].
    pub(crate) fn is_far(&self, p: Point) -> bool {
        self.near(p).next().is_none()
    }

    /// The chords near a place: all within the breadth of a cell, and some beyond.
    fn near(&self, p: Point) -> impl Iterator<Item = &Chord> {
        let (column, row) = (cell(p.x), cell(p.y));
        (column - 1..=column + 1)
            .flat_map(move |x| (row - 1..=row + 1).map(move |y| (x, y)))
            .filter_map(|place| self.cells.get(&place))
            .flatten()
    }

    /// Whether a place of a line lies on the metal, and the line does not run along an
    /// edge there: it may end on one, but not follow it within half its own breadth, which
    /// is at most a millimetre. `along` is the unit vector along the line.
    pub(crate) fn bears(&self, p: Point, along: Point, half_mm: f64) -> bool {
        /// What is so near an edge lies on it.
        const ON_MM: f64 = 1e-4;
        /// The sine of 30°: what crosses an edge at less follows it.
        const FOLLOWS: f64 = 0.5;
        let half_mm = half_mm.min(CELL_MM);
        let mut is_on_edge = false;
        for chord in self.near(p) {
            let away = chord.distance(p);
            is_on_edge |= away < ON_MM;
            let edge = chord.to - chord.from;
            let follows = edge.cross(along).abs() < FOLLOWS * edge.radius();
            if away < half_mm && follows {
                return false;
            }
        }
        if is_on_edge {
            return true;
        }
        // A ray from the place leaves the metal once more often than it enters it.
        let chords = self.rows.get(&cell(p.y)).into_iter().flatten();
        chords.filter(|chord| chord.is_crossed_from(p)).count() % 2 == 1
    }
}
