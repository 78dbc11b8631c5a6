use instrument::Point;
use sky::Angle;

use crate::contour::Contour;
use crate::label_box::LabelBox;
use crate::piece::Piece;
use crate::spread::{Spread, spread};

/// Where the two columns of a ledger stand beside a circle, in millimetres about its
/// centre.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Ledger {
    /// Where leaders come in: how far to the left and right.
    pub(crate) x_mm: f64,
    /// How far above and below the centre rows may stand.
    pub(crate) half_height_mm: f64,
    /// The least distance of two rows.
    pub(crate) pitch_mm: f64,
    /// The edges of the limb, which leaders cross.
    pub(crate) limb_mm: (f64, f64),
    /// Whether leaders go straight outwards first, as from things that stand along the
    /// limb.
    pub(crate) outwards: bool,
}

/// The row of one thing, and the leader to it.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Seat {
    /// Whether it stands in the right column.
    pub(crate) right: bool,
    /// The middle of its row.
    pub(crate) y_mm: f64,
    /// The leader, from the thing to the row; none in a blank figure.
    pub(crate) leader: Option<Contour>,
}

/// A leader that comes nearer to another thing seems to belong to it.
const NEAR_MM: f64 = 1.6;

impl Ledger {
    /// Gives each thing its row: both columns about as long, rows in their order, leaders
    /// that cross neither each other nor, where it can be helped, another thing.
    pub(crate) fn seats(&self, places: &[Point], walls: &[LabelBox]) -> Vec<Seat> {
        let columns = self.columns(places);
        let mut rows: Vec<(usize, bool, f64)> = Vec::with_capacity(places.len());
        for (right, column) in [(false, &columns.0), (true, &columns.1)] {
            let order = self.uncrossed(places, column, right);
            let heights = self.heights(places, &order, right);
            rows.extend(order.into_iter().zip(heights).map(|(n, y)| (n, right, y)));
        }
        let seats = self.through_the_limb(places, &rows, walls);
        let mut found: Vec<(usize, Seat)> = rows.iter().map(|row| row.0).zip(seats).collect();
        found.sort_by_key(|(n, _)| *n);
        found.into_iter().map(|(_, seat)| seat).collect()
    }

    fn row(&self, right: bool, y: f64) -> Point {
        Point {
            x: if right { self.x_mm } else { -self.x_mm },
            y,
        }
    }

    /// Left and right: by where things stand, as evenly as that allows.
    fn columns(&self, places: &[Point]) -> (Vec<usize>, Vec<usize>) {
        /// What a column that is longer by one costs, against a leader across the circle.
        const UNEVEN_MM: f64 = 1.5;
        let mut order: Vec<usize> = (0..places.len()).collect();
        order.sort_by(|a, b| places[*a].x.total_cmp(&places[*b].x));
        let most = (2.0 * self.half_height_mm / self.pitch_mm).floor();
        let cost = |left: usize| {
            let across = order.iter().enumerate().map(|(n, index)| {
                let x = places[*index].x;
                if n < left { x.max(0.0) } else { (-x).max(0.0) }
            });
            let (left, right) = (left as f64, (order.len() - left) as f64);
            let over = (left.max(right) - most).max(0.0);
            across.sum::<f64>() + UNEVEN_MM * (left - right).powi(2) + 1e4 * over
        };
        let best = (0..=order.len()).min_by(|a, b| cost(*a).total_cmp(&cost(*b)));
        let right = order.split_off(best.unwrap_or(0));
        (order, right)
    }

    /// The heights of rows in an order: as near what they belong to as there is room.
    fn heights(&self, places: &[Point], order: &[usize], right: bool) -> Vec<f64> {
        let end = |y: f64| Spread {
            at: y,
            half: 0.0,
            moves: false,
        };
        /// Rows stand farther apart where there is room.
        const LOOSE: f64 = 1.3;
        let half = self.half_height_mm;
        let room = 2.0 * half / order.len().max(1) as f64;
        let pitch = room.clamp(self.pitch_mm, self.pitch_mm * LOOSE);
        let mut rows = vec![end(-half)];
        rows.extend(order.iter().map(|n| {
            let place = places[*n];
            // Seen from a point beyond the circle, rows fan out.
            let towards = self.row(right, 0.0).x;
            let part = towards / (place.x + towards * 0.8).abs().max(0.5 * self.x_mm);
            Spread {
                at: place.y * part.abs().min(1.25),
                half: pitch / 2.0,
                moves: true,
            }
        }));
        rows.push(end(half));
        let found = spread(&rows);
        found[1..found.len() - 1].to_vec()
    }

    /// The order of a column from above in which leaders cross least.
    fn uncrossed(&self, places: &[Point], column: &[usize], right: bool) -> Vec<usize> {
        const SWEEPS: usize = 12;
        let mut order = column.to_vec();
        order.sort_by(|a, b| places[*a].y.total_cmp(&places[*b].y));
        let mut least = self.cost(places, &order, right);
        for _ in 0..SWEEPS {
            let before = least;
            for apart in 1..=3 {
                for n in 0..order.len().saturating_sub(apart) {
                    order.swap(n, n + apart);
                    let cost = self.cost(places, &order, right);
                    if cost < least - 1e-9 {
                        least = cost;
                    } else {
                        order.swap(n, n + apart);
                    }
                }
            }
            if before - least < 1e-9 {
                break;
            }
        }
        order
    }

    /// What is wrong with an order: long leaders, and above all crossings and leaders that
    /// touch other things.
    fn cost(&self, places: &[Point], order: &[usize], right: bool) -> f64 {
        const CROSSING: f64 = 400.0;
        const TOUCHING: f64 = 60.0;
        let heights = self.heights(places, order, right);
        let leaders: Vec<(Point, Point)> = order
            .iter()
            .zip(heights)
            .map(|(n, y)| (places[*n], self.row(right, y)))
            .collect();
        let mut cost = 0.0;
        for (n, (from, to)) in leaders.iter().enumerate() {
            cost += (*to - *from).radius();
            for (other_from, other_to) in &leaders[n + 1..] {
                if cross((*from, *to), (*other_from, *other_to)) {
                    cost += CROSSING;
                }
            }
            let others = places
                .iter()
                .filter(|place| (**place - *from).radius() > NEAR_MM);
            let touched = others.filter(|place| away(**place, *from, *to) < NEAR_MM);
            cost += TOUCHING * touched.count() as f64;
        }
        cost
    }

    /// The leaders: straight, or bent on the limb where that keeps them clear of what
    /// stands there and of one another.
    fn through_the_limb(
        &self,
        places: &[Point],
        rows: &[(usize, bool, f64)],
        walls: &[LabelBox],
    ) -> Vec<Seat> {
        let middle = f64::midpoint(self.limb_mm.0, self.limb_mm.1);
        let mut ways: Vec<[Point; 3]> = Vec::with_capacity(rows.len());
        for (n, right, y) in rows {
            let (from, to) = (places[*n], self.row(*right, *y));
            let gate = self.gate(from, to, middle);
            let bent = |by: f64| [from, gate.turned(Angle::from_deg(by)), to];
            let wrong = |way: &[Point; 3]| {
                let line = line_of(way);
                let struck = walls.iter().filter(|wall| wall.touches(&line)).count();
                let crossed = ways.iter().filter(|other| ways_cross(way, other)).count();
                struck + 3 * crossed
            };
            let tries = (0..12).flat_map(|n| {
                let by = f64::from(n) * 0.75;
                [bent(by), bent(-by)]
            });
            let best = tries.min_by_key(wrong);
            ways.push(best.unwrap_or(bent(0.0)));
        }
        rows.iter()
            .zip(ways)
            .map(|((_, right, y), way)| Seat {
                right: *right,
                y_mm: *y,
                leader: Some(line_of(&way)),
            })
            .collect()
    }

    /// Where a leader crosses the middle of the limb.
    fn gate(&self, from: Point, to: Point, middle: f64) -> Point {
        if !self.outwards {
            return leaves(from, to, middle);
        }
        // No farther round than the row can be seen from.
        let seen = Angle::acos((middle / to.radius()).min(1.0)) * 0.9;
        let off = to.direction().to(from.direction());
        let off = Angle::from_deg(off.deg().clamp(-seen.deg(), seen.deg()));
        Point::polar(middle, to.direction() + off)
    }
}

fn line_of(way: &[Point; 3]) -> Contour {
    let [from, by, to] = *way;
    Contour::open(from, vec![Piece::Line { to: by }, Piece::Line { to }])
}

fn ways_cross(one: &[Point; 3], other: &[Point; 3]) -> bool {
    one.windows(2)
        .any(|a| other.windows(2).any(|b| cross((a[0], a[1]), (b[0], b[1]))))
}

/// Where the way from a place within a circle to one without leaves it.
fn leaves(from: Point, to: Point, radius: f64) -> Point {
    let along = to - from;
    let (a, b) = (along.dot(along), along.dot(from));
    let rest = from.dot(from) - radius * radius;
    let part = (-b + (b * b - a * rest).max(0.0).sqrt()) / a.max(1e-12);
    from + along * part
}

/// Whether two straight stretches cross.
pub(crate) fn cross((a, b): (Point, Point), (c, d): (Point, Point)) -> bool {
    let side = |from: Point, to: Point, p: Point| (to - from).cross(p - from);
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}

/// How far a place is from a straight stretch.
pub(crate) fn away(p: Point, from: Point, to: Point) -> f64 {
    let along = to - from;
    let part = ((p - from).dot(along) / along.dot(along).max(1e-12)).clamp(0.0, 1.0);
    (p - (from + along * part)).radius()
}
