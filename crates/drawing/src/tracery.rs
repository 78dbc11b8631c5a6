use instrument::{Point, Tracery};
use sky::Angle;

use crate::course::{Bend, Course};
use crate::scene::Region;

/// A strip of the rete's metal.
#[derive(Clone, Debug)]
pub(crate) struct Member {
    pub(crate) course: Course,
    /// Half its width.
    pub(crate) half: f64,
    /// A circle that holds it: its middle and its radius.
    around: (Point, f64),
}

impl Member {
    fn of(course: Course, half: f64) -> Member {
        // No place of a line is further from its middle than half of it.
        let middle = course.length() / 2.0;
        Member {
            around: (course.at(middle), middle + half),
            course,
            half,
        }
    }

    fn bar(from: Point, to: Point, half: f64) -> Member {
        Member::of(Course::of(Bend::straight(from, to)), half)
    }

    /// How far a place is from it; negative within it.
    pub(crate) fn distance(&self, p: Point) -> f64 {
        self.course.distance(p) - self.half
    }

    /// Whether it may be nearer to a place than so many millimetres; where not, its
    /// distance need not be found.
    pub(crate) fn may_be_within(&self, p: Point, mm: f64) -> bool {
        /// Beyond what rounding could do.
        const SURELY_MM: f64 = 1e-6;
        let (middle, radius) = self.around;
        let (away, reach) = (p - middle, mm + radius + SURELY_MM);
        reach > 0.0 && away.dot(away) <= reach * reach
    }

    pub(crate) fn region(&self) -> Region {
        self.course.strip(self.half)
    }
}

/// What the tracery has to fill, in millimetres.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Openings {
    pub(crate) kind: Tracery,
    /// The direction of the almuri: everything is the same on both sides of its line.
    pub(crate) almuri: Angle,
    /// The radii of the outer ring's two edges.
    pub(crate) outer: f64,
    pub(crate) rim: f64,
    /// How far the ecliptic's centre lies from the pole, and its two radii.
    pub(crate) eccentricity: f64,
    pub(crate) ecliptic: f64,
    pub(crate) ecliptic_inner: f64,
    /// The arc of the equator and half its width.
    pub(crate) equator: f64,
    pub(crate) equator_half: f64,
    /// Half the widths of bars and of finer strips.
    pub(crate) bar: f64,
    pub(crate) strip: f64,
}

/// Bars, arcs and branches that fill the openings, and the bosses where they meet.
#[derive(Clone, Debug)]
pub(crate) struct Filling {
    /// The straight bars, on which letters find room.
    pub(crate) bars: Vec<Member>,
    /// The arc of the equator.
    pub(crate) equator: Member,
    ornaments: Vec<Ornament>,
}

/// A piece of tracery, which can be left out: the rete holds without it.
#[derive(Clone, Debug, Default)]
struct Ornament {
    strips: Vec<Member>,
    /// Middles and radii of the bosses where it meets other metal.
    bosses: Vec<(Point, f64)>,
    /// The ornaments for whose sake it is there: once all of them are left out so is
    /// it. One that names none is there for its own sake.
    serves: Vec<usize>,
    left_out: bool,
}

impl Filling {
    fn standing(&self) -> impl Iterator<Item = &Ornament> {
        self.ornaments.iter().filter(|one| !one.left_out)
    }

    /// The strips of its tracery.
    pub(crate) fn tracery(&self) -> impl Iterator<Item = &Member> {
        self.standing().flat_map(|one| &one.strips)
    }

    /// All its strips.
    pub(crate) fn members(&self) -> impl Iterator<Item = &Member> {
        let frame = self.bars.iter().chain([&self.equator]);
        frame.chain(self.tracery())
    }

    /// The middles and radii of its bosses.
    pub(crate) fn bosses(&self) -> impl Iterator<Item = &(Point, f64)> {
        self.standing().flat_map(|one| &one.bosses)
    }

    /// The numbers of the ornaments that are there for their own sake.
    pub(crate) fn ornaments(&self) -> impl Iterator<Item = usize> {
        let numbered = self.ornaments.iter().enumerate();
        numbered
            .filter(|(_, one)| !one.left_out && one.serves.is_empty())
            .map(|(number, _)| number)
    }

    /// The same without an ornament and what serves it alone.
    pub(crate) fn without(&self, number: usize) -> Filling {
        let mut less = self.clone();
        if let Some(ornament) = less.ornaments.get_mut(number) {
            ornament.left_out = true;
        }
        let gone: Vec<bool> = less.ornaments.iter().map(|one| one.left_out).collect();
        for ornament in &mut less.ornaments {
            let serves = &ornament.serves;
            let is_gone = |number: &usize| gone.get(*number).copied().unwrap_or(true);
            ornament.left_out |= !serves.is_empty() && serves.iter().all(is_gone);
        }
        less
    }

    /// Adds an ornament and gives its number.
    fn add(&mut self, ornament: Ornament) -> usize {
        self.ornaments.push(ornament);
        self.ornaments.len() - 1
    }
}

impl Openings {
    /// A place by its distances along the almuri's line and across it.
    fn place(&self, along: f64, across: f64) -> Point {
        let unit = Point::polar(1.0, self.almuri);
        unit * along + unit.perpendicular() * across
    }

    /// A place by its direction from the almuri's line.
    fn round(&self, radius: f64, from_almuri: Angle) -> Point {
        Point::polar(radius, self.almuri + from_almuri)
    }

    /// Where strips end that run into the outer ring.
    fn foot(&self) -> f64 {
        self.rim + 0.3 * (self.outer - self.rim)
    }

    /// The middle of the ecliptic ring's metal.
    fn seat(&self) -> f64 {
        f64::midpoint(self.ecliptic, self.ecliptic_inner)
    }

    /// How far from the pole the ecliptic's outer edge lies in a direction.
    fn ecliptic_at(&self, from_almuri: Angle) -> f64 {
        let (sin, cos) = from_almuri.sin_cos();
        let across = self.eccentricity * sin;
        self.eccentricity * cos + (self.ecliptic * self.ecliptic - across * across).sqrt()
    }

    pub(crate) fn filled(&self) -> Filling {
        let mut filling = Filling {
            bars: self.bars(),
            equator: self.equator_arc(),
            ornaments: Vec::new(),
        };
        if self.kind != Tracery::Plain {
            self.quatrefoil(&mut filling);
        }
        if self.kind == Tracery::Foliate {
            self.arcade(&mut filling);
            self.lune(&mut filling);
        }
        filling
    }

    /// How far the bar of the equinoxes lies beside its diameter outside the ecliptic.
    fn shift(&self) -> f64 {
        match self.kind {
            Tracery::Plain => 0.0,
            Tracery::Quatrefoil | Tracery::Foliate => -self.bar,
        }
    }

    /// The bar of the solstices, and that of the equinoxes, which is counterchanged
    /// where there is tracery: outside the ecliptic one of its edges is the diameter.
    fn bars(&self) -> Vec<Member> {
        let foot = self.foot();
        let bar = |from, to| Member::bar(from, to, self.bar);
        let mut bars = vec![
            bar(Point::POLE, self.place(foot, 0.0)),
            bar(Point::POLE, self.place(-foot, 0.0)),
        ];
        let shift = self.shift();
        let step = {
            let seat = self.seat();
            (seat * seat - self.eccentricity * self.eccentricity).sqrt()
        };
        for side in [1.0, -1.0] {
            let on = |along: f64, across: f64| self.place(along, across * side);
            if shift < 0.0 {
                bars.push(bar(Point::POLE, on(0.0, step)));
                bars.push(bar(on(shift, step), on(shift, foot)));
            } else {
                bars.push(bar(Point::POLE, on(0.0, foot)));
            }
        }
        bars
    }

    /// The arc of the equator, which ends in the middle of the bar at both ends.
    fn equator_arc(&self) -> Member {
        let inset = Angle::from_rad(-self.shift() / self.equator);
        let half = Angle::QUARTER_TURN - inset;
        let arc = Bend::round(
            Point::POLE,
            self.equator,
            self.almuri + Angle::HALF_TURN - half,
            half * 2.0,
        );
        Member::of(Course::of(arc), self.equator_half)
    }

    /// Four lobes round the pole, between the bars, stayed against the ecliptic.
    fn quatrefoil(&self, filling: &mut Filling) {
        let diagonal = Angle::HALF_TURN * 0.25;
        // The ecliptic's inner edge on the far diagonal sets the measure.
        let far = {
            let (sin, cos) = (diagonal * 3.0).sin_cos();
            let across = self.eccentricity * sin;
            let inner = self.ecliptic_inner;
            self.eccentricity * cos + (inner * inner - across * across).sqrt()
        };
        let apex = far * 0.86;
        let cusp = apex * 0.6;
        let root = std::f64::consts::SQRT_2;
        let middle = (apex * apex - cusp * cusp) / (2.0 * apex - root * cusp);
        let radius = apex - middle;
        let half = self.strip;
        let mut lobes: Vec<usize> = Vec::new();
        for quarter in [1.0, 3.0, 5.0, 7.0] {
            let out = diagonal * quarter;
            let centre = self.round(middle, out);
            // From the bar on one side round by the apex to the bar on the other.
            let begin = self.round(cusp, out - diagonal) - centre;
            let end = self.round(cusp, out + diagonal) - centre;
            let sweep = (end.direction() - begin.direction()).in_turn();
            let lobe = Bend::round(centre, radius, begin.direction(), sweep);
            let number = filling.add(Ornament {
                strips: vec![Member::of(Course::of(lobe), half)],
                ..Ornament::default()
            });
            lobes.push(number);
            let is_far = (2.0..6.0).contains(&quarter);
            let (lobe, side) = (
                self.round(apex, out),
                if quarter < 4.0 { 1.0 } else { -1.0 },
            );
            if is_far {
                // Hardly a step from the ecliptic.
                let seat = self.round(far + 0.3 * (self.ecliptic - self.ecliptic_inner), out);
                filling.add(Ornament {
                    strips: vec![Member::bar(lobe, seat, half)],
                    bosses: vec![(lobe, half * 2.1)],
                    serves: vec![number],
                    left_out: false,
                });
            } else {
                self.branch(filling, lobe, side, number);
            }
        }
        // A boss on the bar between two lobes, for both of them.
        let before = lobes.iter().cycle().skip(lobes.len().saturating_sub(1));
        for (quarter, (before, after)) in (0..4_u8).zip(before.zip(&lobes)) {
            let out = Angle::QUARTER_TURN * f64::from(quarter);
            filling.add(Ornament {
                bosses: vec![(self.round(cusp, out), self.bar * 1.7)],
                serves: vec![*before, *after],
                ..Ornament::default()
            });
        }
    }

    /// A branch on an S from the ecliptic's inner edge to a lobe. It can be left out
    /// without the lobe, but not stay without it.
    fn branch(&self, filling: &mut Filling, to: Point, side: f64, lobe: usize) {
        let half = self.strip;
        let springs = Angle::from_deg(52.0 * side);
        let centre = self.place(self.eccentricity, 0.0);
        let out = self.round(1.0, springs);
        let from = centre + out * self.seat();
        let into = to * (-1.0 / to.radius());
        if let Some(course) = Course::bent((from, -out), (to, into), 0.5) {
            filling.add(Ornament {
                strips: vec![Member::of(course, half)],
                bosses: vec![(to, half * 2.1)],
                serves: vec![lobe],
                left_out: false,
            });
        }
    }

    /// Arches between the outer ring and the arc of the equator.
    fn arcade(&self, filling: &mut Filling) {
        const ARCHES: u32 = 3;
        let half = self.strip;
        // At the equinoxes they stand against the counterchanged bar.
        let inset = Angle::from_rad(self.bar / self.rim);
        let span = (Angle::QUARTER_TURN - inset) * (1.0 / f64::from(ARCHES));
        let apex = self.equator + self.equator_half - 0.2 * half;
        let half_span = span * 0.5;
        let middle = apex / (1.0 - half_span.sin());
        for side in [1.0, -1.0] {
            let mut before = None;
            for arch in 0..ARCHES {
                let begins = Angle::QUARTER_TURN + inset + span * f64::from(arch);
                let next = self.arch(filling, (begins + half_span) * side, half_span, middle);
                if let Some(before) = before {
                    let springing = middle * half_span.cos();
                    self.pier(filling, begins * side, springing, vec![before, next]);
                }
                before = Some(next);
            }
        }
    }

    /// Smaller and smaller arches in the lune between outer ring and ecliptic.
    fn lune(&self, filling: &mut Filling) {
        let half = self.strip;
        // The last pier on either side of the almuri's line, and the arch before it.
        let mut last: Option<[(Angle, f64, usize); 2]> = None;
        let pier = |filling: &mut Filling, (at, springing, before): (Angle, f64, usize), next| {
            let serves = std::iter::once(before).chain(next).collect();
            self.pier(filling, at, springing, serves);
        };
        // The first stands in the bar of the equinoxes.
        let mut begins = Angle::QUARTER_TURN + Angle::from_rad(0.9 * self.bar / self.rim);
        loop {
            let beside = self.arch_beside(begins).map(|(half_span, middle)| {
                let ends = begins - half_span * 2.0;
                (half_span, middle, ends)
            });
            let fits = |(half_span, middle, ends): &(Angle, f64, Angle)| {
                half_span.sin() * middle >= 6.0 * half && ends.deg() >= 10.0
            };
            let Some((half_span, middle, ends)) = beside.filter(fits) else {
                for one in last.into_iter().flatten() {
                    pier(filling, one, None);
                }
                return;
            };
            let arches = [1.0, -1.0].map(|side| {
                let arch = self.arch(filling, (begins - half_span) * side, half_span, middle);
                (ends * side, middle * half_span.cos(), arch)
            });
            for (before, (.., next)) in last.into_iter().flatten().zip(arches) {
                pier(filling, before, Some(next));
            }
            last = Some(arches);
            begins = ends;
        }
    }

    /// Half the width and the distance from the pole of the arch that stands beside a
    /// pier, runs into the ecliptic below, and springs a quarter of its height below
    /// the outer ring.
    fn arch_beside(&self, pier: Angle) -> Option<(Angle, f64)> {
        let half = self.strip;
        let ecliptic = self.place(self.eccentricity, 0.0);
        // The circle between the two piers that touches the ecliptic.
        let touching = |half_span: Angle| {
            let bisector = pier - half_span;
            let beyond = |out: f64| {
                let centre = self.round(out, bisector);
                (centre - ecliptic).radius() - out * half_span.sin() - (self.ecliptic - 0.2 * half)
            };
            halved(self.ecliptic_at(bisector), 1.3 * self.rim, beyond)
        };
        let springing = |half_span: Angle| {
            let below = self.ecliptic_at(pier - half_span);
            let out = touching(half_span).unwrap_or(2.0 * self.rim);
            out * half_span.cos() - (self.rim - 0.25 * (self.rim - below))
        };
        let half_span = halved(0.5, 22.0, |deg| springing(Angle::from_deg(deg)))?;
        let half_span = Angle::from_deg(half_span);
        Some((half_span, touching(half_span)?))
    }

    /// An arch between two piers: its middle's direction, half the angle between them,
    /// and how far from the pole the centre of its circle lies. Gives its number.
    fn arch(&self, filling: &mut Filling, bisector: Angle, half_span: Angle, middle: f64) -> usize {
        let centre = self.round(middle, bisector);
        let inward = self.almuri + bisector + Angle::HALF_TURN;
        let sweep = Angle::HALF_TURN - half_span * 2.0;
        let arc = Bend::round(
            centre,
            middle * half_span.sin(),
            inward - sweep * 0.5,
            sweep,
        );
        filling.add(Ornament {
            strips: vec![Member::of(Course::of(arc), self.strip)],
            ..Ornament::default()
        })
    }

    /// A pier on the outer ring, with a boss where the arches that it serves spring from it.
    fn pier(&self, filling: &mut Filling, at: Angle, springing: f64, serves: Vec<usize>) {
        let boss = self.round(springing, at);
        filling.add(Ornament {
            strips: vec![Member::bar(boss, self.round(self.foot(), at), self.strip)],
            bosses: vec![(boss, 2.1 * self.strip)],
            serves,
            left_out: false,
        });
    }
}

/// Where a growing function passes zero, between two numbers.
fn halved(mut low: f64, mut high: f64, function: impl Fn(f64) -> f64) -> Option<f64> {
    if function(low) > 0.0 || function(high) < 0.0 {
        return None;
    }
    for _ in 0..48 {
        let middle = f64::midpoint(low, high);
        if function(middle) > 0.0 {
            high = middle;
        } else {
            low = middle;
        }
    }
    Some(f64::midpoint(low, high))
}
