//! The order in which a machine goes from line to line: within each work the one that
//! leaves it the least way to go idle, as far as that is soon found.

use std::collections::HashMap;

use drawing::{Contour, Piece};
use instrument::Point;

use crate::ink::{Ink, Inked};
use crate::work::Work;

/// Where a machine rests: at the lower left of what it makes.
fn home(inked: &Inked) -> Point {
    Point {
        x: inked.low.x,
        y: inked.high.y,
    }
}

/// How far the tool goes idle between the lines, in the order in which they stand.
pub(crate) fn travel_mm(inked: &Inked) -> f64 {
    let mut at = home(inked);
    let mut way = 0.0;
    for work in Work::ALL.into_iter().filter(|work| *work != Work::Guide) {
        for contour in inked.on(work).flat_map(|ink| &ink.contours) {
            let (begin, end) = ends(contour);
            way += (begin - at).radius();
            at = end;
        }
    }
    way
}

/// Where a tool begins a line and where it leaves it.
fn ends(contour: &Contour) -> (Point, Point) {
    let (start, pieces, closed) = contour.outline();
    let end = pieces.last().map_or(start, Piece::end);
    (start, if closed { start } else { end })
}

/// What is made at a stroke: a line, or the outlines of a text, which are filled together.
struct Job {
    /// The number of the ink that it is of.
    ink: usize,
    contours: Vec<Contour>,
    begin: Point,
    end: Point,
    /// Whether it may as well be made the other way.
    turns: bool,
}

impl Job {
    fn turned(self) -> Job {
        Job {
            contours: self.contours.iter().map(Contour::reversed).collect(),
            begin: self.end,
            end: self.begin,
            ..self
        }
    }
}

/// The same lines in an order of less idle way; each work stays in its place.
pub(crate) fn in_order(inked: Inked) -> Inked {
    let mut at = home(&inked);
    let mut inks = Vec::new();
    for work in Work::ALL {
        let of_work: Vec<&Ink> = inked.on(work).collect();
        let jobs = nearest_next(jobs(&of_work), at);
        let jobs = uncrossed(jobs, at);
        if work != Work::Guide {
            at = jobs.last().map_or(at, |job| job.end);
        }
        let mut last = None;
        for job in jobs {
            match inks.last_mut() {
                Some(Ink { contours, .. }) if last == Some(job.ink) => {
                    contours.extend(job.contours)
                }
                _ => inks.extend(of_work.get(job.ink).map(|ink| Ink {
                    contours: job.contours,
                    ..(*ink).clone()
                })),
            }
            last = Some(job.ink);
        }
    }
    Inked { inks, ..inked }
}

fn jobs(inks: &[&Ink]) -> Vec<Job> {
    let mut jobs = Vec::new();
    for (ink, one) in inks.iter().enumerate() {
        let mut job = |contours: &[Contour], turns: bool| {
            let (Some(first), Some(last)) = (contours.first(), contours.last()) else {
                return;
            };
            jobs.push(Job {
                ink,
                contours: contours.to_vec(),
                begin: ends(first).0,
                end: ends(last).1,
                turns,
            });
        };
        if one.filled {
            job(&one.contours, false);
        } else {
            // What is cut keeps its sense, and so its way in.
            let turns = !one.work.is_through();
            one.contours.chunks(1).for_each(|line| job(line, turns));
        }
    }
    jobs
}

/// From where the tool stands always to the nearest line that is left.
fn nearest_next(jobs: Vec<Job>, mut at: Point) -> Vec<Job> {
    let mut places = Places::of(&jobs);
    let mut jobs: Vec<Option<Job>> = jobs.into_iter().map(Some).collect();
    let mut order = Vec::with_capacity(jobs.len());
    while let Some((number, is_end)) = places.nearest(at) {
        let Some(job) = jobs.get_mut(number).and_then(Option::take) else {
            continue;
        };
        places.forget(number, &job);
        let job = if is_end { job.turned() } else { job };
        at = job.end;
        order.push(job);
    }
    order
}

/// An end of a line, with the line's number and whether it is where it ends.
type Place = (Point, usize, bool);

/// The ends of all lines by the square of a grid in which they lie.
struct Places {
    cells: HashMap<(i64, i64), Vec<Place>>,
    /// The squares that there are: from the lowest to the highest.
    low: (i64, i64),
    high: (i64, i64),
    cell_mm: f64,
}

impl Places {
    fn of(jobs: &[Job]) -> Places {
        /// About how many lines begin or end in a square of the grid.
        const IN_A_SQUARE: f64 = 2.0;
        let reach = |get: fn(Point) -> f64| {
            let values = || jobs.iter().flat_map(|job| [get(job.begin), get(job.end)]);
            let (low, high) = (
                values().fold(f64::INFINITY, f64::min),
                values().fold(f64::NEG_INFINITY, f64::max),
            );
            (high - low).max(1.0)
        };
        #[expect(clippy::cast_precision_loss, reason = "some thousands of lines")]
        let count = jobs.len().max(1) as f64;
        let area = reach(|p| p.x) * reach(|p| p.y);
        let mut places = Places {
            cells: HashMap::new(),
            low: (i64::MAX, i64::MAX),
            high: (i64::MIN, i64::MIN),
            cell_mm: (area * IN_A_SQUARE / count).sqrt().max(0.1),
        };
        for (number, job) in jobs.iter().enumerate() {
            let ends = [(job.begin, false), (job.end, true)];
            for (p, is_end) in ends.into_iter().take(if job.turns { 2 } else { 1 }) {
                let (x, y) = places.cell(p);
                places
                    .cells
                    .entry((x, y))
                    .or_default()
                    .push((p, number, is_end));
                places.low = (places.low.0.min(x), places.low.1.min(y));
                places.high = (places.high.0.max(x), places.high.1.max(y));
            }
        }
        places
    }

    #[expect(clippy::cast_possible_truncation, reason = "some metres at most")]
    fn cell(&self, p: Point) -> (i64, i64) {
        (
            (p.x / self.cell_mm).floor() as i64,
            (p.y / self.cell_mm).floor() as i64,
        )
    }

    /// The nearest end of a line, with the line's number and whether it is its end.
    fn nearest(&self, at: Point) -> Option<(usize, bool)> {
        if self.cells.is_empty() {
            return None;
        }
        let (x, y) = self.cell(at);
        let farthest = [
            x - self.low.0,
            self.high.0 - x,
            y - self.low.1,
            self.high.1 - y,
        ];
        let farthest = farthest.into_iter().max()?.max(0);
        let mut best: Option<(f64, usize, bool)> = None;
        for ring in 0..=farthest {
            // What lies in rings farther out is no nearer than this.
            #[expect(clippy::cast_precision_loss, reason = "some thousands of squares")]
            let least = (ring - 1) as f64 * self.cell_mm;
            if best.is_some_and(|(way, ..)| way < least) {
                break;
            }
            for place in square(x, y, ring) {
                for (p, number, is_end) in self.cells.get(&place).into_iter().flatten() {
                    let way = (*p - at).radius();
                    if best.is_none_or(|(known, other, _)| (way, *number) < (known, other)) {
                        best = Some((way, *number, *is_end));
                    }
                }
            }
        }
        best.map(|(_, number, is_end)| (number, is_end))
    }

    fn forget(&mut self, number: usize, job: &Job) {
        for p in [job.begin, job.end] {
            let place = self.cell(p);
            if let Some(cell) = self.cells.get_mut(&place) {
                cell.retain(|one| one.1 != number);
                if cell.is_empty() {
                    self.cells.remove(&place);
                }
            }
        }
    }
}

/// The squares of a ring about one.
fn square(x: i64, y: i64, ring: i64) -> Vec<(i64, i64)> {
    if ring == 0 {
        return vec![(x, y)];
    }
    let along = -ring..=ring;
    let rows = along
        .clone()
        .flat_map(|dx| [(x + dx, y - ring), (x + dx, y + ring)]);
    let columns = (1 - ring..ring).flat_map(|dy| [(x - ring, y + dy), (x + ring, y + dy)]);
    rows.chain(columns).collect()
}

/// The same with detours taken out: wherever it is shorter to go a stretch of the way
/// backwards, that is done, as long as anything is gained or for some rounds.
fn uncrossed(mut jobs: Vec<Job>, home: Point) -> Vec<Job> {
    /// Stretches of at most so many lines.
    const LONGEST: usize = 60;
    const ROUNDS: usize = 6;
    const GAIN_MM: f64 = 1e-6;
    let entered = |job: &Job, backwards: bool| {
        if backwards && job.turns {
            job.end
        } else {
            job.begin
        }
    };
    let left = |job: &Job, backwards: bool| {
        if backwards && job.turns {
            job.begin
        } else {
            job.end
        }
    };
    for _ in 0..ROUNDS {
        let mut gained = false;
        for first in 0..jobs.len() {
            let mut inner = 0.0;
            let mut inner_back = 0.0;
            for last in first + 1..jobs.len().min(first + LONGEST) {
                let (Some(a), Some(before), Some(b)) =
                    (jobs.get(first), jobs.get(last - 1), jobs.get(last))
                else {
                    break;
                };
                inner += (b.begin - before.end).radius();
                inner_back += (entered(before, true) - left(b, true)).radius();
                let came = first
                    .checked_sub(1)
                    .and_then(|n| jobs.get(n))
                    .map_or(home, |job| job.end);
                let goes = jobs.get(last + 1).map(|job| job.begin);
                let out = |from: Point| goes.map_or(0.0, |to| (to - from).radius());
                let is = (a.begin - came).radius() + inner + out(b.end);
                let would = (entered(b, true) - came).radius() + inner_back + out(left(a, true));
                if would + GAIN_MM < is {
                    let turned: Vec<Job> = jobs
                        .drain(first..=last)
                        .rev()
                        .map(|job| if job.turns { job.turned() } else { job })
                        .collect();
                    jobs.splice(first..first, turned);
                    gained = true;
                    break;
                }
            }
        }
        if !gained {
            break;
        }
    }
    jobs
}
