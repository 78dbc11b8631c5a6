//! What is engraved, trimmed to the metal: nothing off it, on its edge, or twice.

use std::cmp::Reverse;
use std::collections::HashMap;
use std::f64::consts::TAU;

use instrument::Point;

use crate::contour::Contour;
use crate::piece::Piece;
use crate::scene::{Item, Layer, Trace};
use crate::solid::{Ground, Solid};

/// Items as they are engraved on a piece of metal: every line lies on it and follows no
/// edge, so that no groove opens one, and where lines coincide the heaviest is engraved
/// alone. A line may end on an edge, as the strokes of a scale do where it is read. What
/// only guides the eye stays as it is.
pub(crate) fn trimmed(items: Vec<Item>, solid: &Solid, hair_mm: f64) -> Vec<Item> {
    let ground = Ground::of(solid);
    let mut once = Once::default();
    let mut order: Vec<usize> = (0..items.len()).collect();
    order.sort_by_key(|n| match items.get(*n) {
        Some(Item::Stroke(trace)) => Some(Reverse(trace.weight)),
        Some(Item::Fill(_) | Item::Text(_)) | None => None,
    });
    let mut items: Vec<Option<Item>> = items.into_iter().map(Some).collect();
    for n in order {
        let Some(slot) = items.get_mut(n) else {
            continue;
        };
        *slot = slot.take().and_then(|item| match item {
            Item::Stroke(trace) if trace.layer != Layer::Guide => {
                let half_mm = hair_mm * trace.weight.times_hair() / 2.0;
                let contours = engraved(&trace.contours, &ground, &mut once, half_mm);
                (!contours.is_empty()).then_some(Item::Stroke(Trace { contours, ..trace }))
            }
            other @ (Item::Stroke(_) | Item::Fill(_) | Item::Text(_)) => Some(other),
        });
    }
    items.into_iter().flatten().collect()
}

/// What of some contours lies on the metal and is not engraved yet.
fn engraved(contours: &[Contour], ground: &Ground, once: &mut Once, half_mm: f64) -> Vec<Contour> {
    let on_metal = |from: Point, piece: &Piece| spans(from, piece, ground, half_mm);
    contours
        .iter()
        .flat_map(|contour| contour.parted(on_metal))
        .flat_map(|contour| contour.parted(|from, piece| once.take(from, piece)))
        // What is no longer than it is broad is a dot.
        .filter(|contour| contour.length_mm() > 2.0 * half_mm)
        .collect()
}

/// Crossings of a piece with the metal's edges are sought in steps of this.
const STEP_MM: f64 = 0.15;

/// The parts of a piece that the metal bears.
fn spans(from: Point, piece: &Piece, ground: &Ground, half_mm: f64) -> Vec<(f64, f64)> {
    let length = piece.length_mm(from).max(1e-9);
    let is = |part: f64| {
        /// A step by which the direction is found.
        const NEAR: f64 = 1e-4;
        let near = |part: f64| piece.at(from, part.clamp(0.0, 1.0));
        let along = near(part + NEAR) - near(part - NEAR);
        let unit = along * (1.0 / along.radius().max(1e-12));
        ground.bears(piece.at(from, part), unit, half_mm)
    };
    let mut found = Vec::new();
    let mut begins = is(0.0).then_some(0.0);
    let mut t = 0.0;
    while t < 1.0 {
        // Far from all edges nothing changes for a while.
        let is_far = ground.is_far(piece.at(from, t));
        let step_mm = if is_far { Ground::FAR_MM } else { STEP_MM };
        let u = (t + step_mm / length).min(1.0);
        if !is_far {
            let next = is(u);
            match begins {
                Some(begin) if !next => {
                    found.push((begin, turning(t, u, &is)));
                    begins = None;
                }
                None if next => begins = Some(turning(u, t, &is)),
                Some(_) | None => {}
            }
        }
        t = u;
    }
    found.extend(begins.map(|begin| (begin, 1.0)));
    found
}

/// The last part that is, between one that is and one that is not.
fn turning(mut is: f64, mut is_not: f64, test: &impl Fn(f64) -> bool) -> f64 {
    for _ in 0..40 {
        let middle = f64::midpoint(is, is_not);
        if test(middle) {
            is = middle;
        } else {
            is_not = middle;
        }
    }
    is
}

/// What is engraved already: straight lines and circles, with the spans taken of each.
#[derive(Default)]
struct Once {
    /// By the distance from the pole or the radius, in steps of [`BUCKET_MM`].
    carriers: HashMap<(bool, i64), Vec<Carrier>>,
}

/// The straight line or the circle on which a piece lies.
#[derive(Clone, Copy)]
enum Track {
    /// A point of it, and the unit vector along it.
    Straight {
        through: Point,
        along: Point,
    },
    Round {
        centre: Point,
        radius_mm: f64,
    },
}

struct Carrier {
    track: Track,
    /// Along the line, or in radians round the circle's centre, from 0 to a whole turn.
    taken: Vec<(f64, f64)>,
}

const BUCKET_MM: f64 = 0.01;

/// What lies so near a line all along is the same line.
const SAME_MM: f64 = 1e-4;

impl Track {
    fn of(from: Point, piece: &Piece) -> Option<Track> {
        match *piece {
            Piece::Line { to } => {
                let chord = to - from;
                (chord.radius() > SAME_MM).then(|| Track::Straight {
                    through: from,
                    along: chord * (1.0 / chord.radius()),
                })
            }
            Piece::Arc { centre, .. } => Some(Track::Round {
                centre,
                radius_mm: (from - centre).radius(),
            }),
            Piece::Cubic { .. } => None,
        }
    }

    /// The key under which tracks that may be the same are looked up.
    fn bucket(&self) -> (bool, i64) {
        let (is_round, mm) = match self {
            Track::Straight { through, along } => (false, through.cross(*along).abs()),
            Track::Round { radius_mm, .. } => (true, *radius_mm),
        };
        #[expect(clippy::cast_possible_truncation, reason = "a metre at most")]
        let step = (mm / BUCKET_MM).round() as i64;
        (is_round, step)
    }

    fn away(&self, p: Point) -> f64 {
        match self {
            Track::Straight { through, along } => (p - *through).cross(*along).abs(),
            Track::Round { centre, radius_mm } => ((p - *centre).radius() - radius_mm).abs(),
        }
    }

    /// Where a point stands along it.
    fn station(&self, p: Point) -> f64 {
        match self {
            Track::Straight { through, along } => (p - *through).dot(*along),
            Track::Round { centre, .. } => (p - *centre).direction().in_turn().rad(),
        }
    }

    /// Millimetres for one of its units.
    fn unit_mm(&self) -> f64 {
        match self {
            Track::Straight { .. } => 1.0,
            Track::Round { radius_mm, .. } => *radius_mm,
        }
    }
}

impl Once {
    /// The parts of a piece that were not taken, which are taken from now on.
    fn take(&mut self, from: Point, piece: &Piece) -> Vec<(f64, f64)> {
        let whole = vec![(0.0, 1.0)];
        let Some(track) = Track::of(from, piece) else {
            return whole;
        };
        let (is_round, step) = track.bucket();
        let lies = |carrier: &Carrier| {
            let parts = [0.0, 0.5, 1.0];
            let mut places = parts.into_iter().map(|part| piece.at(from, part));
            places.all(|p| carrier.track.away(p) < SAME_MM)
        };
        let found = [step, step - 1, step + 1].into_iter().find_map(|near| {
            let carriers = self.carriers.get(&(is_round, near))?;
            Some(((is_round, near), carriers.iter().position(lies)?))
        });
        let carrier = match found {
            Some((bucket, number)) => self
                .carriers
                .get_mut(&bucket)
                .and_then(|carriers| carriers.get_mut(number)),
            None => {
                let carriers = self.carriers.entry((is_round, step)).or_default();
                carriers.push(Carrier {
                    track,
                    taken: Vec::new(),
                });
                carriers.last_mut()
            }
        };
        carrier.map_or(whole, |carrier| carrier.take(from, piece))
    }
}

impl Carrier {
    fn take(&mut self, from: Point, piece: &Piece) -> Vec<(f64, f64)> {
        let begin = self.track.station(from);
        // How far it runs on from there, and which way.
        let run = match *piece {
            Piece::Line { to } | Piece::Cubic { to, .. } => self.track.station(to) - begin,
            Piece::Arc { sweep, .. } => sweep.rad(),
        };
        let round = matches!(self.track, Track::Round { .. });
        let turns: &[f64] = if round { &[-TAU, 0.0, TAU] } else { &[0.0] };
        let least = SAME_MM / self.track.unit_mm();
        let mut free = vec![(0.0, 1.0)];
        for (low, high) in &self.taken {
            for turn in turns {
                let part = |station: f64| (station + turn - begin) / run;
                let (a, b) = (part(*low), part(*high));
                let gone = (a.min(b), a.max(b));
                free = free
                    .into_iter()
                    .flat_map(|span: (f64, f64)| {
                        [(span.0, span.1.min(gone.0)), (span.0.max(gone.1), span.1)]
                    })
                    .filter(|(first, last)| (last - first) * run.abs() > least)
                    .collect();
            }
        }
        let end = begin + run;
        let (low, high) = (begin.min(end), begin.max(end));
        if round {
            // Within one turn.
            let low_in_turn = low.rem_euclid(TAU);
            let high_in_turn = low_in_turn + (high - low);
            self.taken.push((low_in_turn, high_in_turn.min(TAU)));
            if high_in_turn > TAU {
                self.taken.push((0.0, high_in_turn - TAU));
            }
        } else {
            self.taken.push((low, high));
        }
        free
    }
}
