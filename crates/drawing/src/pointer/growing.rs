use instrument::{Point, StarPointer, Tracery};

use super::{
    Axis, Blade, Cut, Swath, Way, best, blade, is_apart, is_clear, nearest, on_metal, stub,
    type_size,
};
use crate::frame::{Base, Frame};
use crate::lettering::width;
use crate::pen::Pen;
use crate::thinning::Thinning;

/// A pointer for every star of the instrument, none running over another, with the frame
/// on which they stand: where a piece of tracery keeps a bright star from the pointer
/// that it would have without it, the tracery makes way.
pub(crate) fn blades(pen: &Pen<'_>, frame: Frame) -> (Frame, Vec<Blade>, Vec<Thinning>) {
    let growing = Growing::of(pen);
    let mut frame = frame;
    let mut made_way = Vec::new();
    loop {
        match growing.all(&frame) {
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
                for ornament in ornaments {
                    frame = frame.without(ornament);
                }
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
    kind: Tracery,
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
        let kind = instrument.specification().parts.tracery;
        // A leaf swells between its stalk and its tip; a plain blade does not.
        let (swell, stalk) = match kind {
            Tracery::Plain => (1.0, 1.0),
            Tracery::Quatrefoil | Tracery::Foliate => (1.28, 0.6),
        };
        let plain = (0.5 * size.unwrap_or(0.65 * m.type_size)).max(nose * 1.05);
        Growing {
            pen,
            kind,
            size,
            half: plain * swell,
            neck: plain * stalk,
            nose,
            gap: 0.012 * m.mater,
            tips,
        }
    }

    fn no_less(&self, half: f64) -> f64 {
        half.max(self.nose * 1.05)
    }

    /// A blade that bears a name.
    fn named(&self, star: &StarPointer, size: f64) -> Cut {
        let (half, name) = (self.half, width(star.name) * size);
        Cut {
            half,
            neck: self.no_less(self.neck),
            nose: self.nose,
            name,
            least: name + 6.5 * half,
            ideal: name + 9.5 * half,
            most: name + 24.0 * half,
        }
    }

    /// A blade without a name.
    fn unnamed(&self) -> Cut {
        let half = self.half;
        Cut {
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

    fn bases(&self, frame: &Frame) -> Vec<Base> {
        frame.bases(0.022 * self.pen.measures.mater, 2.4 * self.half)
    }

    /// All pointers on a frame, the brightest star's first.
    fn all(&self, frame: &Frame) -> Grown {
        let bases = self.bases(frame);
        let mut taken: Vec<Swath> = Vec::new();
        let mut blades = Vec::new();
        for (star, tip) in &self.tips {
            let growth = self.one(frame, &bases, &taken, (star, *tip));
            if star.is_of_first_magnitude() {
                let ornaments = self.in_the_way(frame, &growth, &taken, (star, *tip));
                if !ornaments.is_empty() {
                    return Grown::InTheWay {
                        ornaments,
                        star: star.name,
                    };
                }
            }
            let (swath, blade) = self.grown(frame, growth, (star, *tip));
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
        taken: &[Swath],
        (star, tip): (&StarPointer, Point),
    ) -> Vec<usize> {
        let ornaments: Vec<usize> = frame.ornaments().collect();
        let without = |gone: &[usize]| {
            let less = gone
                .iter()
                .fold(frame.clone(), |less, number| less.without(*number));
            self.one(&less, &self.bases(&less), taken, (star, tip))
                .merit()
        };
        let best = without(&ornaments);
        if growth.merit() >= best {
            return Vec::new();
        }
        // Every piece is put back with which the pointer stays as good.
        let mut gone = ornaments.clone();
        for ornament in ornaments {
            let fewer: Vec<usize> = gone
                .iter()
                .copied()
                .filter(|one| *one != ornament)
                .collect();
            if without(&fewer) >= best {
                gone = fewer;
            }
        }
        gone
    }

    /// How a star can be shown on a frame beside what is taken.
    fn one(
        &self,
        frame: &Frame,
        bases: &[Base],
        taken: &[Swath],
        (star, tip): (&StarPointer, Point),
    ) -> Growth {
        if frame.clearance(tip) < 0.4 * self.half {
            return Growth::OnMetal;
        }
        let gap = self.gap;
        let others = self.tips.iter().filter(|(other, _)| *other != star);
        let others = Swath::of(others.map(|(_, place)| (*place, gap * 1.5)).collect());
        let free = |axis: &Axis, cut: &Cut| {
            // Metal is most often in the way, and soon met.
            if !axis
                .discs(cut)
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
            let way = best(bases, tip, &cut, self.kind, |axis| free(axis, &cut))?;
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
    ) -> (Swath, Blade) {
        let seat = |axis: &Axis| frame.seat(axis.from());
        match growth {
            Growth::OnMetal => {
                let half = self.boss(star, tip);
                (
                    Swath::of(vec![(tip, half)]),
                    on_metal(star, tip, half, frame.seat(tip)),
                )
            }
            Growth::Blade(Way { axis, .. }, cut) => (
                Swath::of(axis.discs(&cut).collect()),
                blade(self.pen, star, &axis, &cut, (self.size, seat(&axis))),
            ),
            Growth::Stub(axis) => {
                let thorn = self.thorn();
                (
                    Swath::of(axis.discs(&thorn).collect()),
                    stub(star, &axis, &thorn, seat(&axis)),
                )
            }
        }
    }
}
