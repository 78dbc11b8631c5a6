use instrument::{Circline, LineId, Point, StarPointer};
use sky::Angle;

use crate::contour::{Contour, Piece, arc_by, reversed};
use crate::label_box::LabelBox;
use crate::lettering::{Baseline, Face, Lettering, width};
use crate::pen::Pen;
use crate::rete::{Base, Frame};
use crate::scene::{Region, Weight};

/// A star's pointer: a bent blade with the star's name on it, whose tip is the
/// star's place; or, for a star that stands on the metal itself, a ring about it.
#[derive(Clone, Debug)]
pub(crate) struct Blade {
    line: LineId,
    /// Its metal.
    pub(crate) region: Region,
    /// The vein that ends in the tip, or the ring about the star.
    vein: Contour,
    name: Option<Lettering>,
    /// Where on the metal the star stands, or its pointer begins, and the name that
    /// must find room beside it.
    beside: Option<(Point, &'static str)>,
}

impl Blade {
    /// Keeps the letters of the rings away from a star that stands on them.
    pub(crate) fn keep_free(&self, pen: &mut Pen<'_>) {
        if let (Some((place, _)), Contour::Circle { radius_mm, .. }) = (self.beside, &self.vein) {
            let side = radius_mm * 2.6;
            pen.keep_free(LabelBox::new(pen.drawn(place), side, side, Angle::ZERO));
        }
    }

    pub(crate) fn engrave(self, pen: &mut Pen<'_>, frame: &Frame) {
        let weight = match self.vein {
            Contour::Circle { .. } => Weight::Fine,
            Contour::Path { .. } => Weight::Hair,
        };
        pen.line(self.line.clone(), weight, &[self.vein]);
        if let Some(name) = self.name {
            pen.letter(name);
        }
        if let (Some((place, name)), Some(size_mm)) = (self.beside, type_size(pen)) {
            let length = width(name) * size_mm;
            let places = frame.lettering_beside(pen, place, length, size_mm);
            let mut letterings = places.into_iter().map(|baseline| Lettering {
                text: name.to_owned(),
                size_mm,
                face: Face::Italic,
                baseline,
                clears: false,
                line: Some(self.line.clone()),
            });
            if let Some(lettering) = letterings.find(|one| pen.has_room(one)) {
                pen.letter(lettering);
            }
        }
    }
}

/// How broad and long blades are, in millimetres.
#[derive(Clone, Copy)]
struct Cut {
    /// Half the breadth.
    half: f64,
    /// Half the breadth of the tip, which is rounded: metal drawn out to nothing
    /// neither holds nor can be cut.
    nose: f64,
    /// The length of the lettered part.
    name: f64,
    /// The shortest blade, and the length that looks best.
    least: f64,
    ideal: f64,
    /// Longer ones are not made.
    most: f64,
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

/// The size of the stars' names, where it can be read.
fn type_size(pen: &Pen<'_>) -> Option<f64> {
    pen.measures.type_for(f64::INFINITY, 0.8)
}

/// A pointer for every star of the instrument, none running over another.
pub(crate) fn blades(pen: &Pen<'_>, frame: &Frame) -> Vec<Blade> {
    let m = pen.measures;
    let instrument = pen.instrument;
    let tips: Vec<(&StarPointer, Point)> = instrument
        .stars()
        .iter()
        .map(|star| {
            let tip = instrument
                .projection()
                .point(-star.right_ascension, star.declination);
            (star, tip)
        })
        .collect();
    let size = type_size(pen);
    // A tip is a little wider than the least width, and a blade than its tip.
    let nose = 0.5 * m.least * 1.02;
    let no_less = |half: f64| half.max(nose * 1.05);
    let half = no_less(0.5 * size.unwrap_or(0.65 * m.type_size));
    let gap = 0.012 * m.mater;
    let bases = frame.bases(0.022 * m.mater, 2.4 * half);
    let mut taken: Vec<Swath> = Vec::new();
    let mut made = Vec::new();
    for (star, tip) in &tips {
        let others: Vec<Disc> = tips
            .iter()
            .filter(|(other, _)| other != star)
            .map(|(_, place)| (*place, gap * 1.5))
            .collect();
        let line = LineId::StarPointer(star.name.to_owned());
        if frame.clearance(*tip) < 0.4 * half {
            made.push(on_metal(line, star.name, *tip, half));
            taken.push(Swath::of(vec![(*tip, half)]));
            continue;
        }
        let name = size.map_or(0.0, |size| width(star.name) * size);
        let named = Cut {
            half,
            nose,
            name,
            least: name + 6.5 * half,
            ideal: name + 9.0 * half,
            most: name + 24.0 * half,
        };
        let bare = Cut {
            half: no_less(half * 0.8),
            nose,
            name: 0.0,
            least: 4.5 * half,
            ideal: 9.0 * half,
            most: 24.0 * half,
        };
        // Where there is little room, the merest thorn.
        let thorn = Cut {
            half: no_less(half * 0.5),
            least: 0.4 * half,
            most: f64::INFINITY,
            ..bare
        };
        let others = Swath::of(others);
        let free = |axis: &Axis, cut: &Cut| {
            let own = Swath::of(axis.discs(cut).collect());
            let near: Vec<&Swath> = taken
                .iter()
                .chain([&others])
                .filter(|other| own.is_near(other, gap))
                .collect();
            own.discs
                .iter()
                .all(|disc| is_free(frame, disc, gap, axis, cut, &near))
        };
        let cuts: &[Cut] = if size.is_some() {
            &[named, bare]
        } else {
            &[bare]
        };
        let found = cuts.iter().find_map(|cut| {
            best(&bases, *tip, cut, |axis| free(axis, cut)).map(|axis| (axis, *cut))
        });
        // Where nothing is free the straightest way to the nearest metal must do.
        let Some((axis, cut)) = found else {
            let axis = nearest(&bases, *tip);
            taken.push(Swath::of(axis.discs(&thorn).collect()));
            made.push(stub(line, star.name, &axis, &thorn));
            continue;
        };
        taken.push(Swath::of(axis.discs(&cut).collect()));
        made.push(blade(pen, line, star.name, &axis, &cut, size));
    }
    made
}

/// The best way to a tip that is free.
fn best(bases: &[Base], tip: Point, cut: &Cut, free: impl Fn(&Axis) -> bool) -> Option<Axis> {
    let mut ways: Vec<(f64, Axis)> = bases
        .iter()
        .filter_map(|base| {
            let axis = Axis::new(base, tip)?;
            if !(cut.least..=cut.most).contains(&axis.length) {
                return None;
            }
            let cost = (axis.length / cut.ideal).ln().abs() + 1.2 * axis.slant * axis.slant;
            Some((cost, axis))
        })
        .collect();
    ways.sort_by(|a, b| a.0.total_cmp(&b.0));
    ways.into_iter()
        .map(|(_, axis)| axis)
        .find(|axis| free(axis))
}

fn nearest(bases: &[Base], tip: Point) -> Axis {
    let far = |base: &&Base| (base.at - tip).radius();
    let base = bases.iter().min_by(|a, b| far(a).total_cmp(&far(b)));
    let from = base.map_or(Point::POLE, |base| base.at);
    let length = (tip - from).radius();
    Axis {
        from,
        out: (tip - from) * (1.0 / length.max(1e-9)),
        curvature: 0.0,
        tip,
        length,
        slant: 0.0,
        bend: Angle::ZERO,
    }
}

fn is_free(
    frame: &Frame,
    (at, half): &Disc,
    gap: f64,
    axis: &Axis,
    cut: &Cut,
    taken: &[&Swath],
) -> bool {
    let from_base = (*at - axis.from).radius();
    // At its root the blade stands on the metal; further on it must be clear of it.
    let clear = from_base < 2.2 * cut.half
        || frame.clearance(*at) > (half + gap * 0.6).min(from_base * 0.5);
    let apart = |disc: &Disc| {
        let (away, least) = (disc.0 - *at, disc.1 + half + gap);
        away.dot(away) > least * least
    };
    let mut discs = taken.iter().flat_map(|swath| &swath.discs);
    clear && discs.all(apart)
}

/// The middle line of a blade: an arc from the metal to the tip.
#[derive(Clone, Copy, Debug)]
struct Axis {
    from: Point,
    /// The unit vector straight off the metal at its beginning.
    out: Point,
    /// How the metal's edge curves away from it there; see [`Base`].
    curvature: f64,
    tip: Point,
    length: f64,
    /// The angle between the way to the tip and the way straight off the metal, in radians.
    slant: f64,
    /// How far the arc's beginning is turned from its chord.
    bend: Angle,
}

impl Axis {
    fn new(base: &Base, tip: Point) -> Option<Axis> {
        let chord = tip - base.at;
        let length = chord.radius();
        let off = Angle::atan2(chord.cross(base.out), chord.dot(base.out));
        if length <= 0.0 || off.abs().deg() > 62.0 {
            return None;
        }
        Some(Axis {
            from: base.at,
            out: base.out,
            curvature: base.curvature,
            tip,
            length,
            slant: off.rad(),
            bend: off * 0.5,
        })
    }

    /// The point at a part of its length.
    fn at(&self, part: f64) -> Point {
        if part >= 1.0 {
            return self.tip;
        }
        let chord = self.tip - self.from;
        if self.bend.abs().deg() < 0.5 {
            return self.from + chord * part;
        }
        let length = (self.bend * part).sin() / self.bend.sin();
        self.from + (chord * length).turned(self.bend * (1.0 - part))
    }

    /// The unit vector along it at a part of its length.
    fn along(&self, part: f64) -> Point {
        let unit = (self.tip - self.from) * (1.0 / self.length);
        unit.turned(self.bend * (1.0 - 2.0 * part))
    }

    fn discs<'a>(&'a self, cut: &'a Cut) -> impl Iterator<Item = Disc> + 'a {
        const DISCS: u32 = 14;
        (0..=DISCS).map(move |n| {
            let part = f64::from(n) / f64::from(DISCS);
            (self.at(part), cut.breadth(part * self.length, self.length))
        })
    }
}

impl Cut {
    /// How far from its root a blade keeps its breadth: past the name.
    fn full(&self, length: f64) -> f64 {
        let most = (length - 3.5 * self.half).max(length * 0.5);
        (self.name + 2.4 * self.half).min(most)
    }

    /// Half the blade's breadth at a distance from its root.
    fn breadth(&self, at: f64, length: f64) -> f64 {
        let full = self.full(length);
        if at <= full {
            return self.half;
        }
        let part = ((at - full) / (length - full)).min(1.0);
        (self.half * (1.0 - part) * (1.0 - 0.35 * part)).max(self.nose)
    }
}

fn blade(
    pen: &Pen<'_>,
    line: LineId,
    star_name: &'static str,
    axis: &Axis,
    cut: &Cut,
    size: Option<f64>,
) -> Blade {
    let length = axis.length;
    let half = cut.half.min((length * 0.2).max(cut.nose));
    let nose = cut.nose.min(half);
    let full = cut.full(length);
    let rest = length - full;
    // From the metal along one side to the tip.
    let side = |sign: f64| -> (Point, Vec<Piece>) {
        let beside = |at: f64| {
            let part = at / length;
            (
                axis.at(part) + axis.along(part).perpendicular() * (half * sign),
                axis.along(part),
            )
        };
        let edge = axis.out.perpendicular() * sign;
        // Where the edge falls away, the root follows it.
        let spread = 2.4 * half;
        let fallen = spread * spread * axis.curvature / 2.0;
        let root = axis.from + edge * spread - axis.out * fallen;
        let (neck, up_neck) = beside(1.7 * half);
        let (shoulder, up_shoulder) = beside(full.max(1.8 * half));
        let body = (shoulder - neck).radius() / 3.0;
        // The round of the tip begins here, and its middle is the star's place.
        let end = axis.along(1.0);
        let round = axis.tip - end * nose;
        let cheek = round + end.perpendicular() * (nose * sign);
        let quarter = (end.perpendicular() * sign).direction();
        let pieces = vec![
            Piece::Line { to: root },
            // A fillet out of the metal's edge,
            Piece::Cubic {
                first: root - edge * (1.1 * half),
                second: neck - up_neck * (1.1 * half),
                to: neck,
            },
            // the body that bears the name,
            Piece::Cubic {
                first: neck + up_neck * body,
                second: shoulder - up_shoulder * body,
                to: shoulder,
            },
            // a flame that ends along the axis,
            Piece::Cubic {
                first: shoulder + up_shoulder * (0.38 * rest),
                second: cheek - end * (0.45 * rest),
                to: cheek,
            },
            // and the round of the tip.
            Piece::Arc {
                centre: round,
                sweep: quarter.to(end.direction()),
                to: axis.tip,
            },
        ];
        (root - axis.out * (0.3 * half), pieces)
    };
    let (start, mut pieces) = side(1.0);
    let (other, back) = side(-1.0);
    pieces.extend(reversed(other, &back));
    let region = Region::whole(Contour::closed(start, pieces));

    let vein_from = if cut.name > 0.0 {
        (full + 0.6 * half) / length
    } else {
        0.35
    };
    let vein = Contour::open(
        axis.at(vein_from),
        vec![arc_by(
            axis.at(vein_from),
            axis.at(f64::midpoint(vein_from, 1.0)),
            axis.tip,
        )],
    );
    let name = size.filter(|_| cut.name > 0.0).map(|size| Lettering {
        text: star_name.to_owned(),
        size_mm: size,
        face: Face::Italic,
        baseline: name_baseline(pen, axis, (1.7 * half + cut.name / 2.0) / length),
        clears: false,
        line: Some(line.clone()),
    });
    Blade {
        line,
        region,
        vein,
        // Without room on the blade the name may stand beside its root.
        beside: name.is_none().then_some((axis.from, star_name)),
        name,
    }
}

/// The merest pointer: as broad as its tip, straight from within the metal.
fn stub(line: LineId, name: &'static str, axis: &Axis, cut: &Cut) -> Blade {
    let (half, out) = (cut.half.min(cut.nose * 1.05), axis.out);
    let across = out.perpendicular() * half;
    let root = axis.from - out * half;
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
        line,
        region,
        vein: Contour::line(axis.from, axis.tip),
        name: None,
        beside: Some((axis.from, name)),
    }
}

/// Along the axis, the right way up while the rete is at rest.
fn name_baseline(pen: &Pen<'_>, axis: &Axis, part: f64) -> Baseline {
    let middle = axis.at(part);
    let along = pen.direction(axis.along(part));
    let arc = Circline::through(axis.from, axis.at(0.5), axis.tip).and_then(|c| c.as_circle());
    match arc {
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
fn on_metal(line: LineId, name: &'static str, tip: Point, half: f64) -> Blade {
    Blade {
        line,
        region: Region::whole(Contour::circle(tip, half * 1.05)),
        // Small enough to leave metal round it.
        vein: Contour::circle(tip, half * 0.45),
        name: None,
        beside: Some((tip, name)),
    }
}
