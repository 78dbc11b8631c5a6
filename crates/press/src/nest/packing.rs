use instrument::Point;
use patience::{GivenUp, Patience};
use sky::Angle;

use super::bitmap::Bitmap;
use super::stock::Stock;

/// A part to be laid on a sheet.
#[derive(Clone, Debug)]
pub struct Outline<'a> {
    /// The edges of its metal, closed, in chords.
    pub rings: &'a [Vec<Point>],
    /// Which of the kinds of sheets it may be cut of.
    pub takes: Vec<bool>,
}

/// Where a part lies: it is turned about its middle, and then moved.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placing {
    /// The number of the kind of sheets.
    pub stock: usize,
    /// The number of the sheet among those.
    pub sheet: usize,
    /// By how many quarters of a turn.
    pub quarters: u8,
    /// By how much it is moved.
    pub by: Point,
}

impl Placing {
    /// How far it is turned, clockwise.
    #[must_use]
    pub fn turn(&self) -> Angle {
        Angle::QUARTER_TURN * f64::from(self.quarters)
    }
}

/// The sheets that are used: the number of their stock, and of the sheet of it.
pub(super) fn used(placings: &[Option<Placing>]) -> Vec<(usize, usize)> {
    let mut used: Vec<(usize, usize)> = placings
        .iter()
        .flatten()
        .map(|placing| (placing.stock, placing.sheet))
        .collect();
    used.sort_unstable();
    used.dedup();
    used
}

/// A part turned, by the cells that it lies on and those that it keeps from others.
struct Turned {
    quarters: u8,
    /// The corner from which its cells are counted.
    corner: Point,
    metal: Bitmap,
    room: Bitmap,
    reach: usize,
}

/// A sheet, by the cells that are taken.
struct Open {
    stock: usize,
    sheet: usize,
    taken: Bitmap,
}

/// Lays parts on sheets, the largest first, each as far up and as far to the left as it
/// goes in whichever way it is turned, and none within another's outline. What finds no
/// place has none.
///
/// # Errors
/// When it is not waited for any longer.
pub fn packed(
    outlines: &[Outline<'_>],
    stock: &[Stock],
    spacing_mm: f64,
    margin_mm: f64,
    patience: Patience<'_>,
) -> Result<Vec<Option<Placing>>, GivenUp> {
    let mut order: Vec<usize> = (0..outlines.len()).collect();
    let size = |n: &usize| {
        outlines
            .get(*n)
            .map_or(0.0, |outline| spread(outline.rings))
    };
    order.sort_by(|a, b| size(b).total_cmp(&size(a)).then(a.cmp(b)));
    let mut placings: Vec<Option<Placing>> = vec![None; outlines.len()];
    let mut open: Vec<Open> = Vec::new();
    for one in patience.each(&order) {
        let (number, _) = one?;
        let (Some(outline), Some(placing)) = (outlines.get(*number), placings.get_mut(*number))
        else {
            continue;
        };
        for (kind, sheet) in stock.iter().enumerate() {
            if outline.takes.get(kind) != Some(&true) {
                continue;
            }
            let cell_mm = cell_mm(sheet);
            let turned = turned(outline.rings, cell_mm, spacing_mm, sheet.has_grain);
            let on = |open: &Open| {
                (open.stock == kind)
                    .then(|| best(&turned, &open.taken))
                    .flatten()
            };
            let mut found = open
                .iter()
                .enumerate()
                .find_map(|(n, one)| on(one).map(|spot| (n, spot)));
            let opened = open.iter().filter(|one| one.stock == kind).count();
            if found.is_none() && sheet.count.is_none_or(|count| opened < count) {
                let fresh = Open {
                    stock: kind,
                    sheet: opened,
                    taken: bare(sheet, margin_mm, cell_mm),
                };
                if let Some(spot) = on(&fresh) {
                    open.push(fresh);
                    found = Some((open.len() - 1, spot));
                }
            }
            let Some((n, (way, column, row))) = found else {
                continue;
            };
            let (Some(one), Some(way)) = (open.get_mut(n), turned.get(way)) else {
                continue;
            };
            one.taken.add(&way.room, column, row, way.reach);
            #[expect(clippy::cast_precision_loss, reason = "some thousands of cells")]
            let first = Point {
                x: column as f64 * cell_mm + margin_mm,
                y: row as f64 * cell_mm + margin_mm,
            };
            *placing = Some(Placing {
                stock: kind,
                sheet: one.sheet,
                quarters: way.quarters,
                by: first - way.corner,
            });
            break;
        }
    }
    Ok(placings)
}

/// The side of the cells by which room on a sheet is counted, so that there are not too many.
fn cell_mm(sheet: &Stock) -> f64 {
    const FINEST_MM: f64 = 0.5;
    const MOST: f64 = 400_000.0;
    (sheet.width_mm * sheet.height_mm / MOST)
        .sqrt()
        .max(FINEST_MM)
}

/// A sheet with nothing on it, without its margins.
fn bare(sheet: &Stock, margin_mm: f64, cell_mm: f64) -> Bitmap {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "some metres at most"
    )]
    let cells = |mm: f64| ((mm - 2.0 * margin_mm) / cell_mm).floor().max(0.0) as usize;
    Bitmap::empty(cells(sheet.width_mm), cells(sheet.height_mm))
}

/// How large a part is: its height by its breadth.
fn spread(rings: &[Vec<Point>]) -> f64 {
    rings.iter().map(|ring| spread_of(ring)).fold(0.0, f64::max)
}

fn spread_of(ring: &[Point]) -> f64 {
    let (low, high) = bounds(ring.iter().copied());
    (high.x - low.x) * (high.y - low.y)
}

fn bounds(points: impl Iterator<Item = Point>) -> (Point, Point) {
    let (far, near) = (f64::INFINITY, f64::NEG_INFINITY);
    let none = (Point { x: far, y: far }, Point { x: near, y: near });
    points.fold(none, |(low, high), p| {
        (
            Point {
                x: low.x.min(p.x),
                y: low.y.min(p.y),
            },
            Point {
                x: high.x.max(p.x),
                y: high.y.max(p.y),
            },
        )
    })
}

/// A part in every way that it may be turned. What lay in an opening of another would be
/// cut when that had fallen out, so each has all within its outline to itself.
fn turned(rings: &[Vec<Point>], cell_mm: f64, spacing_mm: f64, has_grain: bool) -> Vec<Turned> {
    let outline = rings
        .iter()
        .max_by(|one, other| spread_of(one).total_cmp(&spread_of(other)));
    let ways: &[u8] = if has_grain { &[0, 2] } else { &[0, 1, 2, 3] };
    ways.iter()
        .map(|quarters| {
            let turn = Angle::QUARTER_TURN * f64::from(*quarters);
            let rings: Vec<Vec<Point>> = outline
                .iter()
                .map(|ring| ring.iter().map(|p| p.turned(turn)).collect())
                .collect();
            let (corner, high) = bounds(rings.iter().flatten().copied());
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "some metres at most"
            )]
            let cells = |mm: f64| (mm / cell_mm).floor().max(0.0) as usize + 1;
            let size = (cells(high.x - corner.x), cells(high.y - corner.y));
            let metal = Bitmap::of(&rings, corner, cell_mm, size);
            let (room, reach) = metal.grown(spacing_mm, cell_mm);
            Turned {
                quarters: *quarters,
                corner,
                metal,
                room,
                reach,
            }
        })
        .collect()
}

/// Which way a part is turned, and the column and row of its corner.
type Spot = (usize, usize, usize);

/// The place of a part on a sheet: which way, and the cell of its corner. The way whose
/// lower edge lies highest is best, and then the one farthest to the left.
fn best(ways: &[Turned], taken: &Bitmap) -> Option<Spot> {
    let mut best: Option<((usize, usize), Spot)> = None;
    for (n, way) in ways.iter().enumerate() {
        let Some((column, row)) = first_free(&way.metal, taken) else {
            continue;
        };
        let rank = (row + way.metal.rows, column);
        if best.is_none_or(|(known, _)| rank < known) {
            best = Some((rank, (n, column, row)));
        }
    }
    best.map(|(_, spot)| spot)
}

fn first_free(metal: &Bitmap, taken: &Bitmap) -> Option<(usize, usize)> {
    let rows = taken.rows.checked_sub(metal.rows)?;
    let columns = taken.columns.checked_sub(metal.columns)?;
    (0..=rows)
        .flat_map(|row| (0..=columns).map(move |column| (column, row)))
        .find(|(column, row)| taken.is_free_for(metal, *column, *row))
}
