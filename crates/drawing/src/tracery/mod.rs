//! What fills the openings of the rete: a manner a file.

mod bloom;
mod filling;
mod foils;
mod interlace;
mod lancet;
mod rings;
mod scroll;
mod tulip;

use instrument::{Point, Tracery};
use sky::Angle;

use crate::smooth_line::{Bend, SmoothLine};
use filling::Ornament;
pub(crate) use filling::{Filling, Member};

/// What the tracery has to fill, in millimetres.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Openings {
    pub(crate) kind: Tracery,
    /// The direction of the almuri: everything is the same on both sides of its line.
    pub(crate) almuri: Angle,
    /// The radius of the round about the pin.
    pub(crate) hub: f64,
    /// How far the ecliptic's own pole lies from the pole.
    pub(crate) ecliptic_pole: f64,
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
        let mut filling = Filling::of(self.bars(), self.equator_arc());
        match self.kind {
            Tracery::Plain => {}
            Tracery::Quatrefoil => self.quatrefoil(&mut filling),
            Tracery::Foliate => {
                self.quatrefoil(&mut filling);
                self.arcade(&mut filling);
                self.lune(&mut filling);
            }
            Tracery::Rings => self.rings(&mut filling),
            Tracery::Interlace => self.interlace(&mut filling),
            Tracery::Lancet => self.lancet(&mut filling),
            Tracery::Scroll => self.scroll(&mut filling),
            Tracery::Tulip => self.tulip(&mut filling),
        }
        filling.held_by(|filling, place| self.away_from_frame(filling, place) < 0.0)
    }

    /// How far a place is from the rings, the bars and the hub; negative within them.
    fn away_from_frame(&self, filling: &Filling, p: Point) -> f64 {
        let from_ecliptic = (p - self.place(self.eccentricity, 0.0)).radius();
        let rings = (self.rim - p.radius())
            .min((from_ecliptic - self.ecliptic).max(self.ecliptic_inner - from_ecliptic))
            .min(p.radius() - self.hub);
        let strips = filling.bars.iter().chain([&filling.equator]);
        strips.map(|strip| strip.distance(p)).fold(rings, f64::min)
    }

    /// Whether the openings are so large that they carry the fuller pattern.
    fn is_large(&self) -> bool {
        self.ecliptic > 62.0 * self.strip
    }

    /// A whole circle, of two halves that overlap a little.
    fn circle(&self, centre: Point, radius: f64) -> Vec<Member> {
        let over = Angle::from_deg(0.5);
        [Angle::ZERO, Angle::HALF_TURN]
            .map(|begins| {
                let half = Bend::round(
                    centre,
                    radius,
                    self.almuri + begins - over,
                    Angle::HALF_TURN + over * 2.0,
                );
                Member::of(SmoothLine::of(half), self.strip)
            })
            .into()
    }

    /// A circle that touches other metal in some places.
    fn ring(&self, centre: Point, radius: f64, touches: Vec<Point>) -> Ornament {
        Ornament {
            strips: self.circle(centre, radius),
            touches,
            ..Ornament::default()
        }
    }

    /// A strip that is held at both ends, which are round.
    fn strap(&self, course: SmoothLine) -> Ornament {
        let ends = [0.0, course.length()].map(|mm| course.at(mm));
        Ornament {
            ends: ends.into(),
            bosses: ends.map(|end| (end, self.strip)).into(),
            strips: vec![Member::of(course, self.strip)],
            ..Ornament::default()
        }
    }

    /// In a direction, the circle between the ecliptic and a circle about the pole that
    /// touches both: how far from the pole its centre lies, and its radius.
    fn between(&self, outer: f64, from_almuri: Angle) -> (f64, f64) {
        let both = self.ecliptic + outer;
        let e = self.eccentricity;
        let out = (both * both - e * e) / (2.0 * (both - e * from_almuri.cos()));
        (out, outer - out)
    }

    /// Circles between the ecliptic and a circle about the pole, each touching the one
    /// before, from a direction towards the almuri, as far as they are no smaller than a
    /// radius: their directions from the almuri's line, distances from the pole and radii.
    fn chain(&self, outer: f64, from: Angle, least: f64) -> Vec<(Angle, f64, f64)> {
        const MOST: usize = 24;
        let place = |at: Angle| {
            let (out, radius) = self.between(outer, at);
            (Point::polar(out, at), radius)
        };
        let mut links = Vec::new();
        let mut at = from;
        while links.len() < MOST {
            let (out, radius) = self.between(outer, at);
            if radius < least || at.deg() < 4.0 {
                break;
            }
            links.push((at, out, radius));
            let here = place(at);
            let apart = |deg: f64| {
                let there = place(at - Angle::from_deg(deg));
                (there.0 - here.0).radius() - there.1 - here.1
            };
            let Some(step) = halved(0.01, 100.0_f64.min(at.deg()), apart) else {
                break;
            };
            at -= Angle::from_deg(step);
        }
        links
    }

    /// How far the bar of the equinoxes lies beside its diameter outside the ecliptic.
    fn shift(&self) -> f64 {
        match self.kind {
            Tracery::Plain => 0.0,
            Tracery::Quatrefoil
            | Tracery::Foliate
            | Tracery::Rings
            | Tracery::Interlace
            | Tracery::Lancet
            | Tracery::Scroll
            | Tracery::Tulip => -self.bar,
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
                // The spokes of a wheel window stand in its place.
                if self.kind != Tracery::Lancet {
                    bars.push(bar(Point::POLE, on(0.0, step)));
                }
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
        Member::of(SmoothLine::of(arc), self.equator_half)
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
