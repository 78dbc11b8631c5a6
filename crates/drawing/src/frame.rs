use std::cell::Cell;

use instrument::{Point, Tracery};
use sky::Angle;

use crate::contour::Contour;
use crate::ecliptic_ring::EclipticRing;
use crate::label_box::LabelBox;
use crate::lettering::{Baseline, CAPITAL};
use crate::pen::Pen;
use crate::scene::{Region, Weight};
use crate::tracery::{Filling, Member, Openings};

/// The skeleton of the rete, without its pointers; all in millimetres.
#[derive(Clone, Debug)]
pub(crate) struct Frame {
    /// Whether the outer ring carries dates.
    dated: bool,
    /// The outer edge of the outer ring.
    outer: f64,
    /// Its inner edge.
    pub(crate) rim: f64,
    pub(crate) ecliptic: EclipticRing,
    /// The arc of the equator and half its width.
    equator: f64,
    equator_half: f64,
    hub: f64,
    /// The radius of the pin's hole.
    hole: f64,
    /// Half the width of the tracery's strips.
    strip: f64,
    filling: Filling,
}

/// The part of the rete's metal on which a star's pointer stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Seat {
    /// The ring round the outside.
    OuterRing,
    /// The ecliptic's ring.
    EclipticRing,
    /// The round about the pin.
    Hub,
    /// The arc beside the equator.
    EquatorArc,
    /// A bar of the solstices or the equinoxes.
    Bar,
    /// A strip or a boss of the tracery.
    Tracery,
}

impl Seat {
    /// Its name, such as `outer ring`.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Seat::OuterRing => "outer ring",
            Seat::EclipticRing => "ecliptic ring",
            Seat::Hub => "hub",
            Seat::EquatorArc => "equator's arc",
            Seat::Bar => "bar",
            Seat::Tracery => "tracery",
        }
    }
}

/// How much wider than the least width the metal is made where it would be at it.
const SPARE: f64 = 1.04;

/// A place on the edge of the metal from which a pointer may grow.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Base {
    pub(crate) at: Point,
    /// The unit vector away from the metal.
    pub(crate) out: Point,
    /// One over the radius of an edge that curves away from there, in 1/mm; 0 for
    /// one that is straight or curves towards it.
    pub(crate) curvature: f64,
}

impl Frame {
    pub(crate) fn of(pen: &Pen<'_>) -> Frame {
        let m = pen.measures;
        let instrument = pen.instrument;
        let least = m.least;
        let rim = (m.tropic * 0.975).min(m.plate - least * SPARE);
        let half = (0.25 + 0.0095 * m.mater).max(0.625 * least * SPARE);
        let fits = &instrument.specification().fits;
        let hole = (fits.pin + fits.tolerance).mm();
        let ecliptic = EclipticRing::of(instrument, &m);
        // Just outside the equator, so that the plate's can be seen beside it.
        let equator = instrument.projection().equator_mm() + half * 0.8 + 0.006 * m.mater;
        // Round the pin's hole the metal is half as wide again as must be.
        let hub = (0.062 * m.mater).max(hole / 2.0 + 1.5 * least);
        let kind = instrument.specification().parts.tracery;
        // What fills the whole rete is cut finer than what stands alone.
        let slender = match kind {
            Tracery::Plain | Tracery::Quatrefoil | Tracery::Foliate => 0.62,
            Tracery::Rings
            | Tracery::Interlace
            | Tracery::Lancet
            | Tracery::Scroll
            | Tracery::Tulip => 0.5,
        };
        let openings = Openings {
            kind,
            hub,
            ecliptic_pole: instrument.projection().equator_mm()
                * (instrument.rete().obliquity * 0.5).tan(),
            almuri: instrument.rete().almuri(),
            outer: m.plate,
            rim,
            eccentricity: ecliptic.centre.radius(),
            ecliptic: ecliptic.outer,
            ecliptic_inner: ecliptic.inner,
            equator,
            equator_half: half * 0.8,
            bar: half,
            strip: (half * slender).max(0.55 * least * SPARE),
        };
        Frame {
            dated: instrument.specification().date_from.is_ring(),
            outer: m.plate,
            rim,
            ecliptic,
            equator,
            equator_half: half * 0.8,
            hub,
            hole: hole / 2.0,
            strip: openings.strip,
            filling: openings.filled(),
        }
    }

    /// A ring on every boss that has room for it.
    pub(crate) fn engrave_bosses(&self, pen: &mut Pen<'_>) {
        let rings: Vec<Contour> = self
            .filling
            .bosses()
            .filter(|(_, radius)| *radius > 4.0 * pen.measures.gap && *radius > 1.2 * self.strip)
            .map(|(at, radius)| Contour::circle(*at, radius * 0.5))
            .collect();
        // A name that stands on a bar runs neither over them nor over the pin's hole.
        let hole = Contour::circle(Point::POLE, self.hole);
        for ring in rings.iter().chain([&hole]) {
            if let Contour::Circle { centre, radius_mm } = ring {
                let side = radius_mm * 2.2;
                pen.keep_free(LabelBox::new(pen.drawn(*centre), side, side, Angle::ZERO));
            }
        }
        pen.plain(Weight::Fine, &rings);
    }

    /// The numbers of the pieces of tracery that can make way.
    pub(crate) fn ornaments(&self) -> impl Iterator<Item = usize> {
        self.filling.ornaments()
    }

    /// How far a place is from a piece of tracery; negative within it.
    pub(crate) fn away_from_ornament(&self, ornament: usize, p: Point) -> f64 {
        self.filling.away_from_ornament(ornament, p)
    }

    /// The same without some pieces of tracery.
    pub(crate) fn without(&self, ornaments: impl IntoIterator<Item = usize>) -> Frame {
        Frame {
            filling: self.filling.without(ornaments),
            ..*self
        }
    }

    /// The part of the metal that is nearest to a place.
    pub(crate) fn seat(&self, p: Point) -> Seat {
        let from_ecliptic = (p - self.ecliptic.centre).radius();
        let ecliptic =
            (from_ecliptic - self.ecliptic.outer).max(self.ecliptic.inner - from_ecliptic);
        let nearest = |members: &mut dyn Iterator<Item = &Member>| {
            members
                .map(|member| member.distance(p))
                .fold(f64::INFINITY, f64::min)
        };
        let bosses = self.filling.bosses();
        let bosses = bosses.map(|(at, radius)| (p - *at).radius() - radius);
        let tracery = bosses.fold(nearest(&mut self.filling.tracery()), f64::min);
        // Of two on which a place stands alike the first is told.
        let seats = [
            (Seat::EclipticRing, ecliptic),
            (Seat::OuterRing, self.rim - p.radius()),
            (Seat::Bar, nearest(&mut self.filling.bars.iter())),
            (
                Seat::EquatorArc,
                nearest(&mut std::iter::once(&self.filling.equator)),
            ),
            (Seat::Hub, p.radius() - self.hub),
            (Seat::Tracery, tracery),
        ];
        let away = |seat: &(Seat, f64)| seat.1.max(0.0);
        let nearest = seats.into_iter().min_by(|a, b| away(a).total_cmp(&away(b)));
        nearest.map_or(Seat::OuterRing, |(seat, _)| seat)
    }

    /// The degree of the ecliptic in the direction of a place from the pole: the one that
    /// lies under the rule's edge together with it.
    pub(crate) fn degree_beside(&self, pen: &Pen<'_>, place: Point) -> Angle {
        let (centre, radius) = (self.ecliptic.centre, self.ecliptic.outer);
        let unit = place * (1.0 / place.radius().max(1e-9));
        let along = unit.dot(centre);
        let half = along * along - centre.dot(centre) + radius * radius;
        pen.instrument
            .rete()
            .longitude(unit * (along + half.max(0.0).sqrt()))
    }

    /// How far a place is from the rings and the hub; negative within them.
    fn away_from_rings(&self, p: Point) -> f64 {
        let from_ecliptic = (p - self.ecliptic.centre).radius();
        let ecliptic =
            (from_ecliptic - self.ecliptic.outer).max(self.ecliptic.inner - from_ecliptic);
        (self.rim - p.radius())
            .min(ecliptic)
            .min(p.radius() - self.hub)
    }

    /// Whether metal is no further from a place than so many millimetres, which is sooner
    /// known than how far it is.
    pub(crate) fn is_within(&self, p: Point, mm: f64) -> bool {
        let mut bosses = self.filling.bosses();
        self.away_from_rings(p) <= mm
            || bosses.any(|(at, radius)| (p - *at).radius() - radius <= mm)
            || self.filling.members().any(|member| member.is_within(p, mm))
    }

    /// How far a place is from the metal; negative within it.
    pub(crate) fn clearance(&self, p: Point) -> f64 {
        let fixed = self.away_from_rings(p);
        let bosses = self.filling.bosses();
        let bosses = bosses.map(|(at, radius)| (p - *at).radius() - radius);
        // Most strips are far from where something else is near.
        self.filling
            .members()
            .fold(bosses.fold(fixed, f64::min), |least, member| {
                if member.may_be_within(p, least) {
                    least.min(member.distance(p))
                } else {
                    least
                }
            })
    }

    /// Where lettering of a length may stand on the metal beside a place of it.
    pub(crate) fn lettering_beside(
        &self,
        pen: &Pen<'_>,
        place: Point,
        length: f64,
        size: f64,
    ) -> Vec<Baseline> {
        let shift = length / 2.0 + 0.75 * size;
        let fits = |band: f64| band >= size * CAPITAL * 1.25;
        let round = |centre: Point, radius: f64| {
            let towards = (place - centre).direction();
            [1.0, -1.0].map(|side| {
                let there = towards + Angle::from_rad(shift * side / radius);
                pen.round(centre, centre + Point::polar(radius, there))
            })
        };
        let mut places = Vec::new();
        let (centre, names) = (self.ecliptic.centre, self.ecliptic.names_radius());
        let from_ecliptic = (place - centre).radius();
        if from_ecliptic < self.ecliptic.outer + size && from_ecliptic > self.ecliptic.inner - size
        {
            places.extend(round(centre, names));
        }
        let by_equator = (place.radius() - self.equator).abs() < self.equator_half + size
            && place.dot(self.ecliptic.centre) < 0.0;
        if by_equator && fits(2.0 * self.equator_half) {
            places.extend(round(Point::POLE, self.equator));
        }
        let ring = self.outer - self.rim;
        if !self.dated && self.rim - place.radius() < size && fits(ring) {
            places.extend(round(Point::POLE, self.rim + ring / 2.0));
        }
        let near = |bar: &&Member| bar.distance(place) < size;
        for bar in self.filling.bars.iter().filter(near) {
            if !fits(2.0 * bar.half) {
                continue;
            }
            let (from, along) = (bar.course.at(0.0), bar.course.along(0.0));
            let foot = from + along * (place - from).dot(along);
            places.extend([1.0, -1.0].map(|side| {
                let middle = foot + along * (shift * side);
                Baseline::upright(pen.drawn(middle), pen.direction(along))
            }));
        }
        places
    }

    pub(crate) fn regions(&self) -> Vec<Region> {
        let mut regions = vec![
            Region::ring(Point::POLE, self.outer, self.rim),
            Region::ring(
                self.ecliptic.centre,
                self.ecliptic.outer,
                self.ecliptic.inner,
            ),
            Region::whole(Contour::circle(Point::POLE, self.hub)),
        ];
        regions.extend(self.filling.members().map(Member::region));
        let bosses = self.filling.bosses();
        regions.extend(bosses.map(|(at, radius)| Region::whole(Contour::circle(*at, *radius))));
        regions
    }

    /// Where pointers may grow whose roots spread so far to both sides, in even steps
    /// along every edge.
    pub(crate) fn bases(&self, step_mm: f64, spread_mm: f64) -> Bases<'_> {
        let mut bases = Vec::new();
        let mut round = |centre: Point, radius: f64, out: f64| {
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "some dozens of steps"
            )]
            let count = (std::f64::consts::TAU * radius / step_mm).ceil() as u32;
            bases.extend((0..count).map(|n| {
                let unit = Point::polar(1.0, Angle::FULL_TURN * (f64::from(n) / f64::from(count)));
                Base {
                    at: centre + unit * radius,
                    out: unit * out,
                    curvature: out.max(0.0) / radius,
                }
            }));
        };
        round(Point::POLE, self.rim, -1.0);
        round(self.ecliptic.centre, self.ecliptic.outer, 1.0);
        round(self.ecliptic.centre, self.ecliptic.inner, -1.0);
        round(Point::POLE, self.hub, 1.0);
        for member in self.filling.members() {
            bases.extend(along(member, step_mm));
        }
        Bases {
            frame: self,
            spread_mm,
            bearing: vec![Cell::new(None); bases.len()],
            places: bases,
        }
    }
}

/// Places along the edges of a frame. Whether a pointer may grow from one is only looked
/// into when one would: there are thousands of them, and a few dozen pointers.
pub(crate) struct Bases<'a> {
    frame: &'a Frame,
    spread_mm: f64,
    pub(crate) places: Vec<Base>,
    /// Whether each bears a pointer, once it has been looked into.
    bearing: Vec<Cell<Option<bool>>>,
}

impl Bases<'_> {
    /// Whether a pointer may grow from the place of a number.
    pub(crate) fn bears(&self, number: usize) -> bool {
        let (Some(base), Some(bearing)) = (self.places.get(number), self.bearing.get(number))
        else {
            return false;
        };
        let bears = bearing.get().unwrap_or_else(|| {
            // An edge that runs inside other metal, or is not there at all, bears nothing.
            let beside = base.at + base.out * 0.02;
            !self.frame.is_within(beside, 0.0)
                && self.frame.is_within(beside, 0.05)
                && base.bears(self.frame, self.spread_mm)
        });
        bearing.set(Some(bears));
        bears
    }
}

impl Base {
    /// Where a root ends that spreads so far along the edge, to the left if positive, and the
    /// unit vector into the metal there. Along an edge that curves away it may spread as far as
    /// the radius of that curve at most.
    pub(crate) fn root(&self, spread_mm: f64) -> (Point, Point) {
        let along = self.out.perpendicular() * spread_mm;
        let sine = spread_mm * self.curvature;
        let cosine = (1.0 - sine * sine).max(0.0).sqrt();
        // The same as (1 − cosine) / curvature, of a straight edge too.
        let fallen = spread_mm * sine / (1.0 + cosine);
        let inward = self.out * -cosine - self.out.perpendicular() * sine;
        (self.at + along - self.out * fallen, inward)
    }

    /// Whether there is metal under both ends of a root that spreads so far at most: near
    /// where two edges meet, or where a strip turns, one of them would hang free.
    fn bears(&self, frame: &Frame, spread_mm: f64) -> bool {
        const FREE_MM: f64 = 0.02;
        /// So much of an edge that curves away may be a root's, as a sine.
        const ROUND: f64 = 0.9;
        spread_mm * self.curvature < ROUND
            && [1.0, -1.0, 0.8, -0.8, 0.6, -0.6].into_iter().all(|part| {
                let (end, inward) = self.root(spread_mm * part);
                end.radius() < frame.outer
                    && frame.is_within(end, FREE_MM + spread_mm * 0.02)
                    && frame.is_within(end + inward * (spread_mm * 0.1), 0.0)
            })
    }
}

/// Places in even steps along both edges of a strip.
fn along(member: &Member, step_mm: f64) -> Vec<Base> {
    let length = member.course.length();
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "some dozens of steps"
    )]
    let count = (length / step_mm).ceil() as u32;
    (1..count)
        .flat_map(|n| {
            let mm = length * (f64::from(n) / f64::from(count));
            let on = member.course.at(mm);
            let across = member.course.along(mm).perpendicular();
            let bent = member.course.curvature(mm);
            [1.0, -1.0].map(|side| {
                let out = across * side;
                // On its outer side a bent strip's edge falls away.
                let away = -bent * side;
                Base {
                    at: on + out * member.half,
                    out,
                    curvature: if away > 0.0 {
                        away / (1.0 + away * member.half)
                    } else {
                        0.0
                    },
                }
            })
        })
        .collect()
}
