use std::collections::HashMap;

use instrument::{CAPITAL, Point, Pointers, StarLabels, StarPointer, Tracery};
use sky::Angle;

use super::{
    Axis, Blade, Cut, Disc, Swath, Way, best, blade, is_apart, is_clear, nearest, on_metal, room,
    stub, type_size,
};
use crate::frame::{Bases, Frame};
use crate::lettering::width;
use crate::pen::Pen;
use crate::thinning::Thinning;

/// A pointer for every star of the instrument, none running over another, with the frame
/// on which they stand: where a piece of tracery keeps a bright star from the pointer
/// that it would have without it, the tracery makes way.
pub(crate) fn blades(pen: &Pen<'_>, frame: Frame) -> (Frame, Vec<Blade>, Vec<Thinning>) {
    let growing = Growing::of(pen);
    let bare = frame.without(frame.ornaments());
    let bare_bases = growing.bases(&bare);
    let mut frame = frame;
    let mut made_way = Vec::new();
    loop {
        match growing.all(&frame, (&bare, &bare_bases)) {
            Grown::All(blades) => return (frame, blades, made_way),
            Grown::InTheWay { ornaments, star } => {
                made_way.push(Thinning {
                    what: "tracery".to_owned(),
                    shown: match ornaments.len() {
                        1 => format!("a piece made way for {star}"),
                        several => format!("{several} pieces made way for {star}"),
                    },
                    key: "stars",
                });
                frame = frame.without(ornaments);
            }
        }
    }
}

/// What has grown on a frame.
enum Grown {
    /// A pointer for every star.
    All(Vec<Blade>),
    /// Pieces of tracery stand in the way of a bright star's pointer.
    InTheWay {
        ornaments: Vec<usize>,
        star: &'static str,
    },
}

/// How a star can be shown.
enum Growth {
    /// It stands on the metal.
    OnMetal,
    /// A blade finds a free way.
    Blade(Way, Cut),
    /// Nothing is free: the straightest way to the nearest metal must do.
    Stub(Axis),
}

/// How well a star is shown, the worst first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Merit {
    /// By a ring on the metal, or by the merest thorn.
    Poor,
    /// By a blade that has no room for its name.
    Blade,
    /// By a blade with its name.
    Named,
}

impl Growth {
    fn merit(&self) -> Merit {
        match self {
            Growth::OnMetal | Growth::Stub(_) => Merit::Poor,
            Growth::Blade(_, cut) if cut.name > 0.0 => Merit::Named,
            Growth::Blade(..) => Merit::Blade,
        }
    }
}

/// What the pointers of a rete have in common; in millimetres.
struct Growing<'a> {
    pen: &'a Pen<'a>,
    form: Pointers,
    /// What each star is told by.
    labels: HashMap<&'static str, String>,
    /// The size of the names, where they can be read.
    size: Option<f64>,
    /// Half the breadth of a blade where it is broadest, where it leaves the metal, and
    /// at its tip.
    half: f64,
    neck: f64,
    nose: f64,
    /// The least distance from metal and from other blades.
    gap: f64,
    /// The stars and their places, the brightest first.
    tips: Vec<(&'a StarPointer, Point)>,
}

impl<'a> Growing<'a> {
    fn of(pen: &'a Pen<'a>) -> Growing<'a> {
        let m = pen.measures;
        let instrument = pen.instrument;
        let place = |star: &StarPointer| {
            let projection = instrument.projection();
            projection.point(-star.right_ascension, star.declination)
        };
        let mut tips: Vec<(&StarPointer, Point)> = instrument
            .stars()
            .iter()
            .map(|star| (star, place(star)))
            .collect();
        tips.sort_by(|a, b| a.0.magnitude.total_cmp(&b.0.magnitude));
        let size = type_size(pen);
        // A tip is a little wider than the least width, and a blade than its tip.
        let nose = 0.5 * m.least * 1.02;
        let form = instrument.specification().parts.pointers;
        // A leaf swells between its stalk and its tip; a plain blade does not.
        let (swell, stalk) = match form {
            Pointers::Thorn => (1.0, 1.0),
            Pointers::Flame => (1.28, 0.6),
            Pointers::Leaf => (1.3, 0.5),
            Pointers::Dagger => (1.05, 0.8),
            Pointers::Beak => (1.28, 0.55),
            Pointers::Claw => (1.2, 1.15),
        };
        let names = instrument.stars().iter().map(|star| star.name);
        let labels = names.zip(instrument.star_labels()).collect();
        let plain = (0.5 * size.unwrap_or(0.65 * m.type_size)).max(nose * 1.05);
        Growing {
            pen,
            form,
            labels,
            size,
            half: plain * swell,
            neck: plain * stalk,
            nose,
            gap: 0.012 * m.mater,
            tips,
        }
    }

    /// What a star is told by.
    fn label(&self, star: &StarPointer) -> &str {
        self.labels.get(star.name).map_or(star.name, String::as_str)
    }

    fn no_less(&self, half: f64) -> f64 {
        half.max(self.nose * 1.05)
    }

    /// A blade that bears a name.
    fn named(&self, star: &StarPointer, size: f64) -> Cut {
        let (half, name) = (self.half, width(self.label(star)) * size);
        let (least, ideal) = Cut::beside_name(self.form);
        Cut {
            form: self.form,
            half,
            neck: self.no_less(self.neck),
            nose: self.nose,
            name,
            least: name + least * half,
            ideal: name + ideal * half,
            most: name + 24.0 * half,
        }
    }

    /// A blade without a name.
    fn unnamed(&self) -> Cut {
        let half = self.half;
        Cut {
            form: self.form,
            half: self.no_less(half * 0.8),
            neck: self.no_less(self.neck * 0.8),
            nose: self.nose,
            name: 0.0,
            least: 4.5 * half,
            ideal: 9.0 * half,
            most: 24.0 * half,
        }
    }

    /// The merest thorn, where there is little room.
    fn thorn(&self) -> Cut {
        let half = self.half;
        Cut {
            half: self.no_less(half * 0.5),
            neck: self.no_less(half * 0.5),
            least: 0.4 * half,
            most: f64::INFINITY,
            ..self.unnamed()
        }
    }

    fn bases<'f>(&self, frame: &'f Frame) -> Bases<'f> {
        frame.bases(0.022 * self.pen.measures.mater, 2.4 * self.half)
    }

    /// All pointers on a frame, the brightest star's first; told what that is without any
    /// tracery.
    fn all(&self, frame: &Frame, (bare, bare_bases): (&Frame, &Bases<'_>)) -> Grown {
        let bases = self.bases(frame);
        let mut taken: Vec<Swath> = Vec::new();
        let mut blades = Vec::new();
        for (star, tip) in &self.tips {
            let growth = self.one(frame, &bases, &taken, (star, *tip));
            if star.is_of_first_magnitude() {
                let grown_bare = || self.one(bare, bare_bases, &taken, (star, *tip));
                let ornaments = self.in_the_way(frame, &growth, grown_bare, &taken, (star, *tip));
                if !ornaments.is_empty() {
                    return Grown::InTheWay {
                        ornaments,
                        star: star.name,
                    };
                }
            }
            let (swath, blade) = self.grown(frame, growth, (star, *tip), &taken);
            taken.push(swath);
            blades.push(blade);
        }
        Grown::All(blades)
    }

    /// The pieces of tracery that keep a star from the best pointer that it can have; none
    /// where it has that, or where a ring or a bar keeps it from a better one.
    fn in_the_way(
        &self,
        frame: &Frame,
        growth: &Growth,
        grown_bare: impl Fn() -> Growth,
        taken: &[Swath],
        (star, tip): (&StarPointer, Point),
    ) -> Vec<usize> {
        // Where the tracery fills the rete a pointer is enough; its name may stand beside it.
        let enough = match self.pen.instrument.specification().parts.tracery {
            Tracery::Plain | Tracery::Quatrefoil | Tracery::Foliate => Merit::Named,
            Tracery::Rings
            | Tracery::Interlace
            | Tracery::Lancet
            | Tracery::Scroll
            | Tracery::Tulip => Merit::Blade,
        };
        if growth.merit() >= enough {
            return Vec::new();
        }
        let bare = grown_bare();
        let Growth::Blade(way, cut) = &bare else {
            return Vec::new();
        };
        let wanted = bare.merit().min(enough);
        if growth.merit() >= wanted {
            return Vec::new();
        }
        // What is in the way of the pointer that would grow without any tracery,
        let is_in_the_way = |number: &usize| {
            let away = |p: Point| frame.away_from_ornament(*number, p);
            away(tip) < 0.4 * self.half
                || way.axis.discs(cut).any(|disc| {
                    room(&disc, self.gap, &way.axis, cut).is_some_and(|mm| away(disc.0) <= mm)
                })
        };
        let ornaments: Vec<usize> = frame.ornaments().filter(is_in_the_way).collect();
        // less every piece with which the pointer stays as good.
        let as_good = |gone: &[usize]| {
            let less = frame.without(gone.iter().copied());
            let bases = self.bases(&less);
            self.one(&less, &bases, taken, (star, tip)).merit() >= wanted
        };
        if !as_good(&ornaments) {
            return Vec::new();
        }
        let mut gone = ornaments.clone();
        if ornaments.len() > 1 {
            for ornament in ornaments {
                let fewer: Vec<usize> = gone
                    .iter()
                    .copied()
                    .filter(|one| *one != ornament)
                    .collect();
                if as_good(&fewer) {
                    gone = fewer;
                }
            }
        }
        gone
    }

    /// How a star can be shown on a frame beside what is taken.
    fn one(
        &self,
        frame: &Frame,
        bases: &Bases<'_>,
        taken: &[Swath],
        (star, tip): (&StarPointer, Point),
    ) -> Growth {
        if frame.is_within(tip, 0.4 * self.half) {
            return Growth::OnMetal;
        }
        let gap = self.gap;
        let others = self.tips.iter().filter(|(other, _)| *other != star);
        let others = Swath::of(others.map(|(_, place)| (*place, gap * 1.5)).collect());
        let free = |axis: &Axis, cut: &Cut| {
            // Metal is most often in the way, and soonest met from the tip.
            if !axis
                .discs(cut)
                .rev()
                .all(|disc| is_clear(frame, &disc, gap, axis, cut))
            {
                return false;
            }
            let own = Swath::of(axis.discs(cut).collect());
            let near: Vec<&Swath> = taken
                .iter()
                .chain([&others])
                .filter(|other| own.is_near(other, gap))
                .collect();
            own.discs.iter().all(|disc| is_apart(disc, gap, &near))
        };
        let named = self.size.map(|size| self.named(star, size));
        let mut cuts = named.into_iter().chain([self.unnamed()]);
        let found = cuts.find_map(|cut| {
            let bears = |number: usize| bases.bears(number);
            let way = best((&bases.places, bears), (tip, &cut, self.form), |axis| {
                free(axis, &cut)
            })?;
            Some(Growth::Blade(way, cut))
        });
        found.unwrap_or_else(|| {
            let thorn = self.thorn();
            // It may stand close to others, but not on them or on their tips.
            let tips = self.tips.iter().filter(|(other, _)| *other != star);
            let tips = Swath::of(tips.map(|(_, place)| (*place, self.nose)).collect());
            let others: Vec<&Swath> = taken.iter().chain([&tips]).collect();
            Growth::Stub(nearest(bases, tip, |axis| {
                axis.discs(&thorn)
                    .all(|(at, _)| is_apart(&(at, thorn.half), 0.0, &others))
            }))
        })
    }

    /// Half the breadth of the boss for a star that stands on the metal: not so large that
    /// another's tip would stand on it.
    fn boss(&self, star: &StarPointer, tip: Point) -> f64 {
        let others = self.tips.iter().filter(|(other, _)| *other != star);
        let nearest = others
            .map(|(_, place)| (*place - tip).radius())
            .fold(f64::INFINITY, f64::min);
        self.half
            .min(0.8 * (nearest - self.nose))
            .max(self.nose * 1.05)
    }

    /// What has grown for a star, and the space that it takes.
    fn grown(
        &self,
        frame: &Frame,
        growth: Growth,
        (star, tip): (&StarPointer, Point),
        taken: &[Swath],
    ) -> (Swath, Blade) {
        let label = self.label(star);
        let seat = |axis: &Axis| frame.seat(axis.from());
        let (mut discs, mut blade, root) = match growth {
            Growth::OnMetal => {
                let half = self.boss(star, tip);
                (
                    vec![(tip, half)],
                    on_metal((star, label), tip, half, frame.seat(tip)),
                    (tip, half),
                )
            }
            Growth::Blade(Way { axis, .. }, cut) => (
                axis.discs(&cut).collect(),
                blade(
                    self.pen,
                    (star, label),
                    &axis,
                    &cut,
                    (self.size, seat(&axis)),
                ),
                (axis.from(), cut.neck),
            ),
            Growth::Stub(axis) => {
                let thorn = self.thorn();
                (
                    axis.discs(&thorn).collect(),
                    stub((star, label), &axis, &thorn, seat(&axis)),
                    (axis.from(), thorn.neck),
                )
            }
        };
        if !blade.has_room_for_its_label()
            && let Some(tag) = self.tag(frame, (star, root), &discs, taken)
        {
            discs.push(tag);
            blade = blade.with_tag(tag);
        }
        (Swath::of(discs), blade)
    }

    /// A round of metal for a number or initials, beside a star or the root of its pointer
    /// that has no room for them: where it stands most freely and is well joined.
    fn tag(
        &self,
        frame: &Frame,
        (star, (root, half)): (&StarPointer, Disc),
        own: &[Disc],
        taken: &[Swath],
    ) -> Option<Disc> {
        if self.pen.instrument.specification().parts.star_labels == StarLabels::Names {
            return None;
        }
        let size = self.size?;
        let (across, up) = (width(self.label(star)) * size / 2.0, CAPITAL * size / 2.0);
        let radius = (across * across + up * up).sqrt() + 2.5 * self.pen.measures.hair;
        let tips = self.tips.iter().map(|(_, place)| (*place, self.nose));
        let tips = Swath::of(tips.collect());
        let others: Vec<&Swath> = taken.iter().chain([&tips]).collect();
        let mut found: Option<(f64, Disc)> = None;
        for away in [0.95, 1.15, 1.4, 1.8] {
            for n in 0..24_u32 {
                let out = Angle::FULL_TURN * (f64::from(n) / 24.0);
                let at = root + Point::polar(half + radius * away, out);
                let clearance = frame.clearance(at);
                // Joined by far more than a hair, and mostly beside what is engraved there.
                let is_joined = (0.05 * radius..0.5 * radius).contains(&clearance);
                let disc = (at, radius);
                let is_free = is_apart(&disc, 0.3 * self.gap, &others)
                    && own.iter().all(|(p, half)| {
                        let away = (*p - at).radius();
                        away > radius + half + 0.2 * self.gap || (*p - root).radius() < 1e-9
                    });
                if is_joined && is_free && found.is_none_or(|(best, _)| clearance > best) {
                    found = Some((clearance, disc));
                }
            }
            if found.is_some() {
                break;
            }
        }
        found.map(|(_, disc)| disc)
    }
}
