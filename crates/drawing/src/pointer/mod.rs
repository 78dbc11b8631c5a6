mod cut;
mod growing;

use std::cmp::{Ordering, Reverse};
use std::collections::BinaryHeap;

use instrument::{LineId, Point, Pointers, StarLabels, StarPointer};
use sky::Angle;

use crate::contour::Contour;
use crate::face::Face;
use crate::frame::{Base, Bases, Frame, Seat};
use crate::label_box::LabelBox;
use crate::lettering::{Baseline, Lettering, width};
use crate::pen::Pen;
use crate::piece::{Piece, reversed};
use crate::scene::{Region, Weight};
use crate::smooth_line::{Bend, SmoothLine};
use crate::thinning::Thinning;

use cut::Cut;
pub(crate) use growing::blades;

/// Where a rete shows a star.
#[derive(Clone, Debug, PartialEq)]
pub struct Pointer {
    /// The star, with its place at the rete's epoch.
    pub star: StarPointer,
    /// Where it stands, as drawn.
    pub tip: Point,
    /// The degree of the ecliptic that lies under the rule's edge together with it.
    pub degree: Angle,
    /// The part of the metal from which its pointer grows, or on which it stands.
    pub seat: Seat,
    /// Whether it stands on the metal itself, with a small ring about its place.
    pub is_ringed: bool,
    /// What it is told by: its name, or what stands for it in the key.
    pub label: String,
    /// Whether that is engraved.
    pub is_named: bool,
}

/// A star's pointer: a bent blade with the star's name on it, whose tip is the
/// star's place; or, for a star that stands on the metal itself, a ring about it.
#[derive(Clone, Debug)]
pub(crate) struct Blade {
    star: StarPointer,
    tip: Point,
    seat: Seat,
    /// What it is told by.
    label: String,
    /// Its metal.
    pub(crate) regions: Vec<Region>,
    /// The vein that ends in the tip, or the ring about the star.
    vein: Contour,
    /// The eye of a bird's head.
    eye: Option<Contour>,
    name: Option<Lettering>,
    /// The middle of a round of metal that bears what it is told by.
    tag: Option<Point>,
    /// Where on the metal the star stands, or its pointer begins, if its name must find
    /// room beside that.
    beside: Option<Point>,
}

impl Blade {
    fn line(&self) -> LineId {
        LineId::StarPointer(self.star.name.to_owned())
    }

    fn is_ringed(&self) -> bool {
        matches!(self.vein, Contour::Circle { .. })
    }

    /// Whether what it is told by finds room on it.
    fn has_room_for_its_label(&self) -> bool {
        self.name.is_some()
    }

    /// The same with a round of metal for what it is told by.
    fn with_tag(mut self, (at, radius): Disc) -> Blade {
        self.regions
            .push(Region::whole(Contour::circle(at, radius)));
        self.tag = Some(at);
        self
    }

    /// Keeps the letters of the rings away from a star that stands on them.
    pub(crate) fn keep_free(&self, pen: &mut Pen<'_>) {
        if let (Some(place), Contour::Circle { radius_mm, .. }) = (self.beside, &self.vein) {
            let side = radius_mm * 2.6;
            pen.keep_free(LabelBox::new(pen.drawn(place), side, side, Angle::ZERO));
        }
    }

    /// Its vein, or the ring about its star.
    pub(crate) fn draw(&self, pen: &mut Pen<'_>) {
        let weight = if self.is_ringed() {
            Weight::Fine
        } else {
            Weight::Hair
        };
        pen.line(self.line(), weight, std::slice::from_ref(&self.vein));
        if let Some(eye) = &self.eye {
            pen.line(self.line(), Weight::Fine, std::slice::from_ref(eye));
        }
    }

    /// Letters its name, on it or beside it, where there is room.
    pub(crate) fn letter(self, pen: &mut Pen<'_>, frame: &Frame) -> Pointer {
        let (line, is_ringed, label) = (self.line(), self.is_ringed(), self.label);
        let on_tag = self.tag.zip(type_size(pen)).map(|(at, size_mm)| {
            let told = Lettering {
                text: label.clone(),
                size_mm,
                face: Face::Italic,
                baseline: Baseline::upright(pen.drawn(at), Angle::ZERO),
                clears: false,
                line: Some(line.clone()),
            };
            told.centred()
        });
        let is_on_tag = on_tag.is_some_and(|told| pen.letter(told));
        let is_named = is_on_tag
            || match (self.name, self.beside, type_size(pen)) {
                (Some(named), _, _) => {
                    let smaller = pen.measures.smaller(named.size_mm);
                    let ways: Vec<Lettering> = smaller
                        .map(|size_mm| Lettering {
                            size_mm,
                            ..named.clone()
                        })
                        .collect();
                    pen.letter_first(ways)
                }
                (None, Some(place), Some(size_mm)) => {
                    let length = width(&label) * size_mm;
                    let places = frame.lettering_beside(pen, place, length, size_mm);
                    let ways = places.into_iter().map(|baseline| {
                        let named = Lettering {
                            text: label.clone(),
                            size_mm,
                            face: Face::Italic,
                            baseline,
                            clears: false,
                            line: Some(line.clone()),
                        };
                        named.centred()
                    });
                    pen.letter_first(ways.collect::<Vec<Lettering>>())
                }
                (None, None, _) | (None, _, None) => false,
            };
        if !is_named && type_size(pen).is_some() {
            let told = match pen.instrument.specification().parts.star_labels {
                StarLabels::Names => "name",
                StarLabels::Numbers => "number",
                StarLabels::Initials => "initials",
            };
            pen.thins([Thinning {
                what: format!("{told} of {}", self.star.name),
                shown: "left out: no room on it or beside it".to_owned(),
                key: "stars",
            }]);
        }
        Pointer {
            tip: pen.drawn(self.tip),
            degree: frame.degree_beside(pen, self.tip),
            star: self.star,
            seat: self.seat,
            is_ringed,
            label,
            is_named,
        }
    }
}

/// A place and a radius about it.
type Disc = (Point, f64);

/// The space that a blade takes: discs along it, and one that holds them all.
struct Swath {
    discs: Vec<Disc>,
    around: Disc,
}

impl Swath {
    fn of(discs: Vec<Disc>) -> Swath {
        let (first, last) = (discs.first(), discs.last());
        let middle = match (first, last) {
            (Some(first), Some(last)) => (first.0 + last.0) * 0.5,
            _ => Point::POLE,
        };
        let reach = |(at, radius): &Disc| (*at - middle).radius() + radius;
        let radius = discs.iter().map(reach).fold(0.0, f64::max);
        Swath {
            discs,
            around: (middle, radius),
        }
    }

    fn is_near(&self, other: &Swath, gap: f64) -> bool {
        let ((a, r), (b, s)) = (self.around, other.around);
        (a - b).radius() < r + s + gap
    }
}

/// The size of the stars' names, where it can be read; that of numbers and initials is the
/// least that can.
pub(crate) fn type_size(pen: &Pen<'_>) -> Option<f64> {
    let usual = pen.measures.type_for(f64::INFINITY, 0.8);
    match pen.instrument.specification().parts.star_labels {
        StarLabels::Names => usual,
        StarLabels::Numbers | StarLabels::Initials => {
            Some(usual.unwrap_or(pen.measures.least_type()))
        }
    }
}

/// The best way to a tip that is free, from a base that bears it.
fn best(
    (bases, bears): (&[Base], impl Fn(usize) -> bool),
    (tip, cut, form): (Point, &Cut, Pointers),
    free: impl Fn(&Axis) -> bool,
) -> Option<Way> {
    let reach = cut.least * 0.7..=cut.most;
    let mut starts: Vec<Start<'_>> = bases
        .iter()
        .enumerate()
        .filter(|(_, base)| reach.contains(&(base.at - tip).radius()))
        .filter_map(|(number, base)| Start::of(number, base, tip, cut, form))
        .collect();
    starts.sort_by(|a, b| a.least.total_cmp(&b.least));
    let mut starts = starts.into_iter().peekable();
    // Ways are bent only as long as a better one than those at hand may come of it.
    let mut ways = BinaryHeap::new();
    loop {
        let next: Option<Reverse<Way>> = ways.pop();
        if let Some(start) = starts.next_if(|start| {
            let beaten = |way: &Reverse<Way>| way.0.cost < start.least;
            !next.as_ref().is_some_and(beaten)
        }) {
            ways.extend(next);
            if bears(start.number) {
                ways.extend(start.ways(tip, cut, form).map(Reverse));
            }
            continue;
        }
        let Reverse(way) = next?;
        if free(&way.axis) {
            return Some(way);
        }
    }
}

/// Where a way may begin, and the least that it may cost.
struct Start<'a> {
    number: usize,
    base: &'a Base,
    /// From straight off the metal to straight to the tip.
    off: Angle,
    least: f64,
}

impl<'a> Start<'a> {
    fn of(number: usize, base: &'a Base, tip: Point, cut: &Cut, form: Pointers) -> Option<Self> {
        /// Beyond what rounding could do.
        const SURELY: f64 = 1e-9;
        let chord = tip - base.at;
        let off = Angle::atan2(chord.cross(base.out), chord.dot(base.out));
        (off.abs().deg() <= MOST_SLANT_DEG).then(|| Start {
            number,
            base,
            off,
            // No way is shorter than its chord.
            least: libm::log(chord.radius() / cut.ideal).max(0.0) + slant_cost(off, form) - SURELY,
        })
    }

    fn ways(&self, tip: Point, cut: &Cut, form: Pointers) -> impl Iterator<Item = Way> + use<> {
        let (number, ideal, fit) = (self.number, cut.ideal, cut.least..=cut.most);
        Axis::ways(self, tip, cut, form)
            .into_iter()
            .filter(move |(_, axis)| fit.contains(&axis.length))
            .enumerate()
            .map(move |(nth, (slant, axis))| Way {
                cost: libm::log(axis.length / ideal).abs() + slant,
                order: (number, nth),
                axis,
            })
    }
}

/// A way to a tip; of two that cost the same the one that begins first on the metal
/// comes first.
struct Way {
    cost: f64,
    order: (usize, usize),
    axis: Axis,
}

impl Ord for Way {
    fn cmp(&self, other: &Way) -> Ordering {
        let cost = self.cost.total_cmp(&other.cost);
        cost.then(self.order.cmp(&other.order))
    }
}

impl PartialOrd for Way {
    fn partial_cmp(&self, other: &Way) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl PartialEq for Way {
    fn eq(&self, other: &Way) -> bool {
        self.cmp(other).is_eq()
    }
}

impl Eq for Way {}

/// What the slant of a way costs.
fn slant_cost(off: Angle, form: Pointers) -> f64 {
    let slant = off.rad().abs();
    match form {
        Pointers::Thorn | Pointers::Dagger => 1.2 * slant * slant,
        Pointers::Flame | Pointers::Leaf | Pointers::Beak | Pointers::Claw => {
            let steep = (slant - 0.45).max(0.0);
            1.6 * steep * steep
        }
    }
}

/// The straightest way from the nearest metal from which it is free; from the nearest of
/// all where none is.
fn nearest(bases: &Bases<'_>, tip: Point, free: impl Fn(&Axis) -> bool) -> Axis {
    let straight = |from: Point| {
        let length = (tip - from).radius();
        Axis {
            base: Base {
                at: from,
                out: (tip - from) * (1.0 / length.max(1e-9)),
                curvature: 0.0,
            },
            course: SmoothLine::of(Bend::straight(from, tip)),
            tip,
            length,
        }
    };
    let places = bases.places.iter().enumerate();
    let mut places: Vec<(f64, usize, Point)> = places
        .map(|(number, base)| ((base.at - tip).radius(), number, base.at))
        .collect();
    places.sort_by(|a, b| a.0.total_cmp(&b.0));
    let places = || {
        let bearing = places.iter().filter(|(_, number, _)| bases.bears(*number));
        bearing.map(|(_, _, place)| straight(*place))
    };
    let found = places().find(|axis| free(axis));
    found.unwrap_or_else(|| places().next().unwrap_or_else(|| straight(Point::POLE)))
}

/// How far from part of a blade there must be no metal; nothing is asked at its root, which
/// stands on it.
fn room((at, half): &Disc, gap: f64, axis: &Axis, cut: &Cut) -> Option<f64> {
    let from_base = (*at - axis.from()).radius();
    (from_base >= 2.2 * cut.half).then(|| (half + gap * 0.6).min(from_base * 0.5))
}

/// Whether part of a blade is clear of the metal.
fn is_clear(frame: &Frame, disc: &Disc, gap: f64, axis: &Axis, cut: &Cut) -> bool {
    room(disc, gap, axis, cut).is_none_or(|mm| !frame.is_within(disc.0, mm))
}

/// Whether part of a blade is clear of what is taken.
fn is_apart((at, half): &Disc, gap: f64, taken: &[&Swath]) -> bool {
    let apart = |disc: &Disc| {
        let (away, least) = (disc.0 - *at, disc.1 + half + gap);
        away.dot(away) > least * least
    };
    taken.iter().flat_map(|swath| &swath.discs).all(apart)
}

/// The middle line of a blade, from the metal to the tip.
#[derive(Clone, Debug)]
struct Axis {
    course: SmoothLine,
    /// Where it begins.
    base: Base,
    tip: Point,
    length: f64,
}

/// Further from straight off the metal no blade sets out, in degrees.
const MOST_SLANT_DEG: f64 = 68.0;

impl Axis {
    /// Ways from a base to a tip, with what each costs for its slant: plain arcs, or
    /// S-bends whose tip curls over like a flame's.
    fn ways(start: &Start<'_>, tip: Point, cut: &Cut, form: Pointers) -> Vec<(f64, Axis)> {
        let Start { base, off, .. } = *start;
        let chord = tip - base.at;
        // A sharper bend would crush the inner edge of the blade.
        let gentle = |course: &SmoothLine| course.sharpest() * cut.half < 0.28;
        let axis = |course: SmoothLine| Axis {
            length: course.length(),
            course,
            base: *base,
            tip,
        };
        let unit = chord * (1.0 / chord.radius().max(1e-9));
        let arc = |bend: Angle| {
            let heading = unit.turned(bend);
            let course = SmoothLine::bent((base.at, heading), (tip, unit.turned(-bend)), 0.5);
            course.filter(gentle).map(axis)
        };
        let cost = slant_cost(off, form);
        // To one side, or where it would be straight to either.
        let sides = |least: Angle| -> Vec<Angle> {
            let bend = off * 0.8;
            if bend.abs() < least {
                vec![least, -least]
            } else {
                vec![bend]
            }
        };
        let added = |more: f64| move |axis: Axis| (cost + more, axis);
        match form {
            Pointers::Thorn | Pointers::Dagger => {
                arc(off * 0.5).map(added(0.0)).into_iter().collect()
            }
            Pointers::Flame => {
                let part = ((cut.name + 3.0 * cut.half) / chord.radius()).clamp(0.4, 0.7);
                let flame = |bend: Angle| {
                    let heading = unit.turned(bend);
                    let course =
                        SmoothLine::bent((base.at, heading), (tip, unit.turned(bend * 0.8)), part);
                    course.filter(gentle).map(axis)
                };
                let bend = off * 0.8;
                let mut ways = Vec::new();
                if bend.abs() < LEAST_BEND {
                    // Straight would do; it is bent all the same, to either side.
                    for side in [1.0, -1.0] {
                        ways.extend(flame(LEAST_BEND * side).map(added(0.05)));
                    }
                } else {
                    ways.extend(flame(bend).map(added(0.0)));
                }
                ways.extend(arc(bend).map(added(0.3)));
                ways
            }
            Pointers::Leaf => {
                let bends = sides(Angle::from_deg(9.0)).into_iter();
                bends.filter_map(|bend| arc(bend).map(added(0.0))).collect()
            }
            Pointers::Claw => {
                let far = sides(Angle::from_deg(30.0)).into_iter();
                let near = sides(Angle::from_deg(16.0)).into_iter();
                far.filter_map(|bend| arc(bend).map(added(0.0)))
                    .chain(near.filter_map(|bend| arc(bend).map(added(0.4))))
                    .collect()
            }
            Pointers::Beak => {
                // Hardly bent as far as the head, then hooked.
                let hooked = |bend: Angle| {
                    let side = bend.deg().signum();
                    let tip_heading = unit.turned(-(bend * 0.7 + Angle::from_deg(22.0) * side));
                    let course = SmoothLine::bent(
                        (base.at, unit.turned(bend * 0.6)),
                        (tip, tip_heading),
                        0.66,
                    );
                    course.filter(gentle).map(axis)
                };
                let sides = sides(Angle::from_deg(14.0));
                let hooks = sides.iter().filter_map(|bend| hooked(*bend));
                let arcs = sides.iter().filter_map(|bend| arc(*bend));
                hooks.map(added(0.0)).chain(arcs.map(added(0.35))).collect()
            }
        }
    }

    fn from(&self) -> Point {
        self.course.at(0.0)
    }

    fn at(&self, mm: f64) -> Point {
        if mm >= self.length {
            return self.tip;
        }
        self.course.at(mm)
    }

    /// The unit vector along it at a distance from its root.
    fn along(&self, mm: f64) -> Point {
        self.course.along(mm)
    }

    fn discs<'a>(&'a self, cut: &'a Cut) -> impl DoubleEndedIterator<Item = Disc> + 'a {
        const DISCS: u32 = 14;
        let guard = cut.guard(self.length);
        let across = guard.into_iter().flat_map(move |guard| {
            let (middle, out) = (self.at(guard.at), self.along(guard.at).perpendicular());
            [1.0, -1.0].map(|side| (middle + out * (guard.reach * side), guard.half))
        });
        let own = (0..=DISCS).map(move |n| {
            let mm = self.length * f64::from(n) / f64::from(DISCS);
            (self.at(mm), cut.breadth(mm, self.length))
        });
        own.chain(across)
    }
}

/// No leaf is straighter than this: its beginning is turned so far from its chord.
const LEAST_BEND: Angle = Angle::from_deg(15.0);

fn blade(
    pen: &Pen<'_>,
    (star, label): (&StarPointer, &str),
    axis: &Axis,
    cut: &Cut,
    (size, seat): (Option<f64>, Seat),
) -> Blade {
    let length = axis.length;
    let nose = cut.nose;
    let stations = cut.stations(length);
    let [grown, _, shoulder, end] = stations;
    let tip_along = axis.along(length);
    let round = axis.tip - tip_along * nose;
    // A point of one side's edge, and the way along it for every millimetre of the axis.
    let beside = |sign: f64, mm: f64| {
        let (half, growth) = cut.profile(mm, length);
        let (along, bent) = (axis.along(mm), axis.course.curvature(mm));
        let across = along.perpendicular() * sign;
        (
            axis.at(mm) + across * half,
            along * (1.0 - bent * half * sign) + across * growth,
        )
    };
    // From the metal along one side to the tip.
    let side = |sign: f64| -> (Point, Vec<Piece>) {
        let edge = axis.base.out.perpendicular() * sign;
        // Where the edge falls away, the root follows it.
        let spread = cut.neck + 1.4 * cut.half;
        let (root, inward) = axis.base.root(spread * sign);
        let (neck, up_neck) = beside(sign, grown);
        // A fillet out of the metal's edge,
        let mut pieces = vec![
            Piece::Line { to: root },
            Piece::Cubic {
                first: root - edge * (0.46 * spread),
                second: neck - up_neck * (0.65 * grown),
                to: neck,
            },
        ];
        // the leaf, which bears the name and is drawn out to the tip,
        let mut from = (grown, neck, up_neck);
        for mm in cut.along(length) {
            if mm - from.0 < 1e-6 {
                continue;
            }
            let (mut to, mut along) = beside(sign, mm);
            if mm >= end {
                // The round's own cheek: the axis bends on under it.
                along = along + tip_along - axis.along(mm);
                to = round + tip_along.perpendicular() * (nose * sign);
            }
            let third = (mm - from.0) / 3.0;
            pieces.push(Piece::Cubic {
                first: from.1 + from.2 * third,
                second: to - along * third,
                to,
            });
            from = (mm, to, along);
        }
        // and the round of the tip, whose middle is the star's place.
        pieces.push(Piece::Arc {
            centre: round,
            sweep: (tip_along.perpendicular() * sign)
                .direction()
                .to(tip_along.direction()),
            to: axis.tip,
        });
        (root + inward * (0.3 * cut.neck), pieces)
    };
    let (start, mut pieces) = side(1.0);
    let (other, back) = side(-1.0);
    pieces.extend(reversed(other, &back));
    let mut regions = vec![Region::whole(Contour::closed(start, pieces))];
    if let Some(guard) = cut.guard(length) {
        let (middle, across) = (axis.at(guard.at), axis.along(guard.at).perpendicular());
        let ends = [guard.reach, -guard.reach].map(|mm| middle + across * mm);
        let bar = SmoothLine::of(Bend::straight(ends[0], ends[1]));
        regions.push(bar.strip(guard.half));
        regions.extend(ends.map(|end| Region::whole(Contour::circle(end, guard.half))));
    }
    let eye = cut
        .eye(length)
        .filter(|(_, radius)| *radius > 3.0 * pen.measures.hair)
        .map(|(mm, radius)| Contour::circle(axis.at(mm), radius));

    let vein = axis.course.line_from(if cut.name > 0.0 {
        shoulder + if eye.is_some() { 1.0 } else { 0.4 } * cut.half
    } else if eye.is_some() {
        shoulder + cut.half
    } else {
        0.35 * length
    });
    let name = size.filter(|_| cut.name > 0.0).map(|size| {
        let named = Lettering {
            text: label.to_owned(),
            size_mm: size,
            face: Face::Italic,
            baseline: name_baseline(pen, axis, cut.name_middle()),
            clears: false,
            line: Some(LineId::StarPointer(star.name.to_owned())),
        };
        named.centred()
    });
    Blade {
        star: star.clone(),
        label: label.to_owned(),
        tip: axis.tip,
        seat,
        regions,
        vein,
        eye,
        // Without room on the blade the name may stand beside its root.
        beside: name.is_none().then_some(axis.from()),
        name,
        tag: None,
    }
}

/// The merest pointer: as broad as its tip, straight from within the metal.
fn stub((star, label): (&StarPointer, &str), axis: &Axis, cut: &Cut, seat: Seat) -> Blade {
    let (half, out) = (cut.half.min(cut.nose * 1.05), axis.base.out);
    let across = out.perpendicular() * half;
    let root = axis.from() - out * half;
    let round = axis.tip - out * half;
    let region = Region::whole(Contour::closed(
        root + across,
        vec![
            Piece::Line { to: root - across },
            Piece::Line { to: round - across },
            Piece::Arc {
                centre: round,
                sweep: Angle::HALF_TURN,
                to: round + across,
            },
        ],
    ));
    Blade {
        star: star.clone(),
        label: label.to_owned(),
        tip: axis.tip,
        seat,
        regions: vec![region],
        vein: Contour::line(axis.from(), axis.tip),
        eye: None,
        name: None,
        tag: None,
        beside: Some(axis.from()),
    }
}

/// Along the axis, the right way up while the rete is at rest.
fn name_baseline(pen: &Pen<'_>, axis: &Axis, mm: f64) -> Baseline {
    let middle = axis.at(mm);
    let along = pen.direction(axis.along(mm));
    match axis.course.bend_at(mm).0.circle() {
        Some((centre, radius_mm)) if radius_mm < 60.0 * axis.length => {
            let out = pen.direction(middle - centre);
            Baseline::Arc {
                centre: pen.drawn(centre),
                radius_mm,
                middle: out,
                // Letters stand upright where the way outward points up.
                outward: out.sin() < 0.0,
            }
        }
        _ => Baseline::upright(pen.drawn(middle), along),
    }
}

/// A star that stands on the metal, or so near that no pointer has room: a ring
/// about its place, on a boss.
fn on_metal((star, label): (&StarPointer, &str), tip: Point, half: f64, seat: Seat) -> Blade {
    Blade {
        star: star.clone(),
        label: label.to_owned(),
        tip,
        seat,
        regions: vec![Region::whole(Contour::circle(tip, half * 1.05))],
        // Small enough to leave metal round it.
        vein: Contour::circle(tip, half * 0.45),
        eye: None,
        name: None,
        tag: None,
        beside: Some(tip),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The best way by bending every one from what bears it.
    fn of_all(
        (bases, bears): (&[Base], impl Fn(usize) -> bool),
        tip: Point,
        cut: &Cut,
        form: Pointers,
        free: impl Fn(&Axis) -> bool,
    ) -> Option<Axis> {
        let starts = bases.iter().enumerate();
        let mut ways: Vec<Way> = starts
            .filter(|(number, _)| bears(*number))
            .filter_map(|(number, base)| Start::of(number, base, tip, cut, form))
            .flat_map(|start| start.ways(tip, cut, form))
            .filter(|way| (way.axis.from() - tip).radius() >= cut.least * 0.7)
            .collect();
        ways.sort();
        ways.into_iter().map(|way| way.axis).find(free)
    }

    proptest! {
        /// Few ways are bent, and the same is found, whatever is in the way.
        #[test]
        fn the_best_way_is_the_best_of_all(
            places in prop::collection::vec((-60.0..60.0_f64, -60.0..60.0_f64, 0.0..360.0_f64, 0.0..0.1_f64), 1..40),
            form in prop::sample::select(Pointers::ALL.to_vec()),
            denied in 0..5_u32,
            one_in in 1..4_usize,
        ) {
            let bases: Vec<Base> = places
                .into_iter()
                .map(|(x, y, out, curvature)| Base {
                    at: Point { x, y },
                    out: Point::polar(1.0, Angle::from_deg(out)),
                    curvature,
                })
                .collect();
            let cut = Cut { form, half: 1.0, neck: 0.6, nose: 0.3, name: 8.0, least: 12.0, ideal: 20.0, most: 40.0 };
            let left = std::cell::Cell::new(denied);
            let free = |_: &Axis| {
                let now = left.get();
                left.set(now.saturating_sub(1));
                now == 0
            };
            let bears = |number: usize| number.is_multiple_of(one_in);
            let found = best((&bases, bears), (Point::POLE, &cut, form), free);
            left.set(denied);
            let wanted = of_all((&bases, bears), Point::POLE, &cut, form, free);
            prop_assert_eq!(found.map(|way| way.axis.course), wanted.map(|axis| axis.course));
        }
    }
}
