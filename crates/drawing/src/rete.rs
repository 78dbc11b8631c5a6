use instrument::{LineId, Part, Point};
use sky::Angle;

use crate::contour::{Contour, Piece, arc_piece};
use crate::date_ring;
use crate::ecliptic_ring::EclipticRing;
use crate::label_box::LabelBox;
use crate::lettering::{Baseline, CAPITAL};
use crate::pen::Pen;
use crate::pointer::blades;
use crate::scene::{Group, Layer, Metal, Region, Weight};

/// The rete: outer ring, ecliptic ring, bars, the arc of the equator, and the star
/// pointers that grow from them.
pub(crate) fn rete(mut pen: Pen<'_>, turn: Angle) -> Group {
    let instrument = pen.instrument;
    engrave(&mut pen);
    let title = "the rete, with the ecliptic and its star pointers".to_owned();
    pen.finish("rete", Part::Rete, title, turn, instrument.rete_centre())
}

/// Puts down the rete's metal, as overlapping regions, and what is engraved on it.
pub(crate) fn engrave(pen: &mut Pen<'_>) {
    let instrument = pen.instrument;
    let rete = instrument.rete();
    let frame = Frame::of(pen);
    let blades = blades(pen, &frame);

    let mut regions = frame.regions();
    regions.extend(blades.iter().map(|blade| blade.region.clone()));
    pen.fill(Metal::Rete, Layer::Cut, regions);
    almuri(pen, rete.almuri());
    for blade in &blades {
        blade.keep_free(pen);
    }
    if instrument.date_from().is_ring() {
        date_ring::engrave(pen);
    }
    frame.ecliptic.engrave(pen, &rete);
    for blade in blades {
        blade.engrave(pen, &frame);
    }
}

/// The almuri: a dark tooth whose tip reads on the limb.
fn almuri(pen: &mut Pen<'_>, direction: Angle) {
    let m = pen.measures;
    let tip = Point::polar(m.plate, direction);
    let length = (0.03 * m.mater).max(1.1);
    let base = tip * ((m.plate - length) / m.plate);
    let half = Point::polar(1.0, direction).perpendicular() * (length * 0.36);
    let outline = Contour::closed(
        base - half,
        vec![Piece::Line { to: tip }, Piece::Line { to: base + half }],
    );
    pen.keep_free(LabelBox::new(
        pen.drawn(tip - Point::polar(length / 2.0, direction)),
        length,
        length,
        pen.direction(tip),
    ));
    pen.fill(Metal::Dark, Layer::Engrave, vec![Region::whole(outline)]);
    pen.line(LineId::Almuri, Weight::Hair, &[Contour::line(base, tip)]);
}

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
    /// The arc of the equator: its radius, half its width, the direction of its middle.
    equator: f64,
    equator_half: f64,
    crescent: Angle,
    bars: Vec<Bar>,
    hub: f64,
}

/// How much wider than the least width the metal is made where it would be at it.
const SPARE: f64 = 1.04;

/// A straight bar.
#[derive(Clone, Copy, Debug)]
struct Bar {
    from: Point,
    to: Point,
    half: f64,
}

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
    fn of(pen: &Pen<'_>) -> Frame {
        let m = pen.measures;
        let instrument = pen.instrument;
        let least = m.least;
        let rim = (m.tropic * 0.975).min(m.plate - least * SPARE);
        let half = (0.25 + 0.0095 * m.mater).max(0.625 * least * SPARE);
        let fits = &instrument.specification().fits;
        let hole = (fits.pin + fits.tolerance).mm();
        let crescent = instrument.rete().almuri() + Angle::HALF_TURN;
        let east_west = Point { x: rim, y: 0.0 };
        Frame {
            dated: instrument.date_from().is_ring(),
            outer: m.plate,
            rim,
            ecliptic: EclipticRing::of(instrument, &m),
            // Just outside the equator, so that the plate's can be seen beside it.
            equator: instrument.projection().equator_mm() + half * 0.8 + 0.006 * m.mater,
            equator_half: half * 0.8,
            crescent,
            bars: vec![
                Bar {
                    from: -east_west,
                    to: east_west,
                    half,
                },
                Bar {
                    from: Point::POLE,
                    to: Point::polar(rim, crescent),
                    half,
                },
                Bar {
                    from: Point::POLE,
                    to: Point::polar(rim, crescent + Angle::HALF_TURN),
                    half,
                },
            ],
            // Round the pin's hole the metal is half as wide again as must be.
            hub: (0.062 * m.mater).max(hole / 2.0 + 1.5 * least),
        }
    }

    /// How far a place is from the metal; negative within it.
    pub(crate) fn clearance(&self, p: Point) -> f64 {
        let from_ecliptic = (p - self.ecliptic.centre).radius();
        let ecliptic =
            (from_ecliptic - self.ecliptic.outer).max(self.ecliptic.inner - from_ecliptic);
        let bars = self.bars.iter().map(|bar| bar.distance(p));
        let fixed = (self.rim - p.radius())
            .min(ecliptic)
            .min(p.radius() - self.hub)
            .min(self.equator_distance(p));
        bars.fold(fixed, f64::min)
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
        if self.equator_distance(place) < size && fits(2.0 * self.equator_half) {
            places.extend(round(Point::POLE, self.equator));
        }
        let ring = self.outer - self.rim;
        if !self.dated && self.rim - place.radius() < size && fits(ring) {
            places.extend(round(Point::POLE, self.rim + ring / 2.0));
        }
        for bar in self.bars.iter().filter(|bar| bar.distance(place) < size) {
            if !fits(2.0 * bar.half) {
                continue;
            }
            let along = (bar.to - bar.from) * (1.0 / (bar.to - bar.from).radius());
            let foot = bar.from + along * (place - bar.from).dot(along);
            places.extend([1.0, -1.0].map(|side| {
                let middle = foot + along * (shift * side);
                Baseline::upright(pen.drawn(middle), pen.direction(along))
            }));
        }
        places
    }

    fn equator_distance(&self, p: Point) -> f64 {
        if p.dot(Point::polar(1.0, self.crescent)) < 0.0 {
            return f64::INFINITY;
        }
        (p.radius() - self.equator).abs() - self.equator_half
    }

    fn regions(&self) -> Vec<Region> {
        let mut regions = vec![
            Region::ring(Point::POLE, self.outer, self.rim),
            Region::ring(
                self.ecliptic.centre,
                self.ecliptic.outer,
                self.ecliptic.inner,
            ),
            Region::whole(Contour::circle(Point::POLE, self.hub)),
            self.equator_region(),
        ];
        regions.extend(self.bars.iter().map(|bar| bar.region()));
        regions
    }

    fn equator_region(&self) -> Region {
        let (outer, inner) = (
            self.equator + self.equator_half,
            self.equator - self.equator_half,
        );
        let from = self.crescent - Angle::QUARTER_TURN;
        let to = self.crescent + Angle::QUARTER_TURN;
        let pole = Point::POLE;
        Region::whole(Contour::closed(
            Point::polar(outer, from),
            vec![
                arc_piece(pole, outer, from, Angle::HALF_TURN),
                Piece::Line {
                    to: Point::polar(inner, to),
                },
                arc_piece(pole, inner, to, -Angle::HALF_TURN),
            ],
        ))
    }

    /// Where pointers may grow whose roots spread so far to both sides, in even steps
    /// along every edge.
    pub(crate) fn bases(&self, step_mm: f64, spread_mm: f64) -> Vec<Base> {
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
        round(Point::POLE, self.equator + self.equator_half, 1.0);
        round(Point::POLE, self.equator - self.equator_half, -1.0);
        round(Point::POLE, self.hub, 1.0);
        for bar in &self.bars {
            bases.extend(bar.bases(step_mm));
        }
        // An edge that runs inside other metal, or is not there at all, bears nothing.
        bases.retain(|base| {
            let beside = self.clearance(base.at + base.out * 0.02);
            (0.0..0.05).contains(&beside) && base.bears(self, spread_mm)
        });
        bases
    }
}

impl Base {
    /// Whether there is metal under both ends of a root: near where two edges meet
    /// one of them would hang free.
    fn bears(&self, frame: &Frame, spread_mm: f64) -> bool {
        const FREE_MM: f64 = 0.02;
        let along = self.out.perpendicular() * spread_mm;
        let fallen = self.out * (spread_mm * spread_mm * self.curvature / 2.0);
        [self.at + along - fallen, self.at - along - fallen]
            .into_iter()
            .all(|end| frame.clearance(end) < FREE_MM + spread_mm * 0.02)
    }
}

impl Bar {
    fn distance(&self, p: Point) -> f64 {
        let along = self.to - self.from;
        let part = ((p - self.from).dot(along) / along.dot(along)).clamp(0.0, 1.0);
        (p - (self.from + along * part)).radius() - self.half
    }

    fn across(&self) -> Point {
        let along = self.to - self.from;
        along.perpendicular() * (1.0 / along.radius())
    }

    fn region(&self) -> Region {
        let across = self.across() * self.half;
        let corners = [self.to + across, self.to - across, self.from - across];
        Region::whole(Contour::closed(
            self.from + across,
            corners.map(|to| Piece::Line { to }).to_vec(),
        ))
    }

    fn bases(&self, step_mm: f64) -> Vec<Base> {
        let along = self.to - self.from;
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "some dozens of steps"
        )]
        let count = (along.radius() / step_mm).ceil() as u32;
        let across = self.across();
        (1..count)
            .flat_map(|n| {
                let on = self.from + along * (f64::from(n) / f64::from(count));
                [across, -across].map(|out| Base {
                    at: on + out * self.half,
                    out,
                    curvature: 0.0,
                })
            })
            .collect()
    }
}
