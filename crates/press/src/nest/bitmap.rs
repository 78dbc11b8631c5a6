use instrument::Point;

/// A surface by the cells of a grid: a bit for each, rows from above.
#[derive(Clone, Debug)]
pub(super) struct Bitmap {
    pub(super) columns: usize,
    pub(super) rows: usize,
    words: usize,
    bits: Vec<u64>,
}

const WORD: usize = 64;

impl Bitmap {
    pub(super) fn empty(columns: usize, rows: usize) -> Bitmap {
        let words = columns.div_ceil(WORD);
        Bitmap {
            columns,
            rows,
            words,
            bits: vec![0; words * rows],
        }
    }

    pub(super) fn set(&mut self, column: usize, row: usize) {
        if column < self.columns
            && let Some(word) = self.bits.get_mut(row * self.words + column / WORD)
        {
            *word |= 1 << (column % WORD);
        }
    }

    pub(super) fn is_set(&self, column: usize, row: usize) -> bool {
        let word = self.bits.get(row * self.words + column / WORD);
        column < self.columns && word.is_some_and(|word| word >> (column % WORD) & 1 == 1)
    }

    fn row(&self, row: usize) -> &[u64] {
        self.bits
            .get(row * self.words..(row + 1) * self.words)
            .unwrap_or_default()
    }

    /// What closed rings enclose, by the cells that it enters at all: no cell of it is left
    /// out, and some beside it may be taken for it. The grid begins at a corner.
    pub(super) fn of(
        rings: &[Vec<Point>],
        corner: Point,
        cell_mm: f64,
        size: (usize, usize),
    ) -> Bitmap {
        let mut map = Bitmap::empty(size.0, size.1);
        let steps = |p: Point| ((p.x - corner.x) / cell_mm, (p.y - corner.y) / cell_mm);
        for row in 0..map.rows {
            // What is inside along the middle of the row.
            #[expect(clippy::cast_precision_loss, reason = "some thousands of rows")]
            let y = corner.y + (row as f64 + 0.5) * cell_mm;
            let mut crossings: Vec<f64> = edges(rings)
                .filter(|(p, q)| (p.y <= y) != (q.y <= y))
                .map(|(p, q)| p.x + (q.x - p.x) * ((y - p.y) / (q.y - p.y)))
                .collect();
            crossings.sort_by(f64::total_cmp);
            for pair in crossings.chunks_exact(2) {
                let [from, to] = [pair[0], pair[1]].map(|x| cell((x - corner.x) / cell_mm));
                for column in from..=to {
                    map.set(column, row);
                }
            }
        }
        // Every cell that an edge passes.
        for (p, q) in edges(rings) {
            let ((x, y), (u, v)) = (steps(p), steps(q));
            for row in cell(y.min(v))..=cell(y.max(v)) {
                #[expect(clippy::cast_precision_loss, reason = "some thousands of rows")]
                let (top, bottom) = (row as f64, row as f64 + 1.0);
                let at = |level: f64| {
                    let part = if (v - y).abs() < 1e-12 {
                        0.0
                    } else {
                        (level - y) / (v - y)
                    };
                    x + (u - x) * part.clamp(0.0, 1.0)
                };
                let (mut a, mut b) = (at(top), at(bottom));
                if (v - y).abs() < 1e-12 {
                    (a, b) = (x, u);
                }
                for column in cell(a.min(b) - 1e-9)..=cell(a.max(b) + 1e-9) {
                    map.set(column, row);
                }
            }
        }
        map
    }

    /// The same with every cell that comes nearer to one of it than a distance; it grows by
    /// so many cells on every side.
    pub(super) fn grown(&self, distance_mm: f64, cell_mm: f64) -> (Bitmap, usize) {
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a hundred millimetres at most"
        )]
        let reach = (distance_mm / cell_mm).ceil() as usize + 1;
        let mut grown = Bitmap::empty(self.columns + 2 * reach, self.rows + 2 * reach);
        // How far a cell reaches sideways, by how many rows lie between.
        let gap = |cells: usize| {
            #[expect(clippy::cast_precision_loss, reason = "some hundred cells")]
            let mm = cells.saturating_sub(1) as f64 * cell_mm;
            mm
        };
        for away in 0..=reach {
            let sideways = (0..=reach)
                .rev()
                .find(|cells| gap(*cells).hypot(gap(away)) < distance_mm);
            // Itself in any case.
            let Some(sideways) = sideways.or((away == 0).then_some(0)) else {
                continue;
            };
            for row in 0..self.rows {
                for (from, to) in self.runs(row) {
                    for row in [row + reach - away, row + reach + away] {
                        for column in from + reach - sideways..=to + reach + sideways {
                            grown.set(column, row);
                        }
                    }
                }
            }
        }
        (grown, reach)
    }

    /// The runs of cells in a row, first and last.
    fn runs(&self, row: usize) -> Vec<(usize, usize)> {
        let mut runs: Vec<(usize, usize)> = Vec::new();
        for column in (0..self.columns).filter(|column| self.is_set(*column, row)) {
            match runs.last_mut() {
                Some((_, last)) if *last + 1 == column => *last = column,
                _ => runs.push((column, column)),
            }
        }
        runs
    }

    /// Whether another, laid with its corner at a cell, meets none of it.
    pub(super) fn is_free_for(&self, other: &Bitmap, column: usize, row: usize) -> bool {
        let (skip, shift) = (column / WORD, column % WORD);
        (0..other.rows).all(|n| {
            let own = self.row(row + n);
            let mut carried = 0_u64;
            let own_at = |n: usize| own.get(skip + n).copied().unwrap_or(0);
            let mut is_free = true;
            for (n, word) in other.row(n).iter().enumerate() {
                let moved = (word << shift) | carried;
                carried = if shift == 0 {
                    0
                } else {
                    word >> (WORD - shift)
                };
                is_free &= own_at(n) & moved == 0;
            }
            is_free && own_at(other.words) & carried == 0
        })
    }

    /// Adds another, laid with its corner at a cell, or before the first by so many.
    pub(super) fn add(&mut self, other: &Bitmap, column: usize, row: usize, before: usize) {
        for n in 0..other.rows {
            let Some(row) = (row + n).checked_sub(before) else {
                continue;
            };
            if row >= self.rows {
                break;
            }
            for (from, to) in other.runs(n) {
                let from = (column + from).saturating_sub(before);
                let Some(to) = (column + to).checked_sub(before) else {
                    continue;
                };
                for column in from..=to.min(self.columns.saturating_sub(1)) {
                    self.set(column, row);
                }
            }
        }
    }
}

/// The sides of closed rings.
fn edges(rings: &[Vec<Point>]) -> impl Iterator<Item = (Point, Point)> {
    rings.iter().flat_map(|ring| {
        let next = ring.iter().cycle().skip(1);
        ring.iter().copied().zip(next.copied())
    })
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "some thousands of cells; what lies before the first is in it"
)]
fn cell(steps: f64) -> usize {
    steps.floor().max(0.0) as usize
}
