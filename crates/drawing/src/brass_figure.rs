use instrument::{Circline, HalfCircle, HouseCourse, Plate, Point};
use sky::{Angle, Latitude};

use crate::contour::Contour;
use crate::ecliptic_ring::EclipticRing;
use crate::figure_sheet::{FARTHEST_DEG, FigureSheet, Standing};
use crate::ledger::Ledger;
use crate::ledger_sheet::{Circle, DIVIDING, Measures};
use crate::page::{Leaf, Page};
use crate::piece::Piece;
use crate::scene::{Metal, Region, Weight};

/// The sheet with a ledger on both sides.
const WIDE: Brass = Brass {
    measures: Measures {
        ledger: Ledger {
            x_mm: 90.0,
            half_height_mm: 84.0,
            pitch_mm: 5.8,
            limb_mm: (77.5, 83.5),
            outwards: false,
        },
        half_width: 142.0,
        body: 4.2,
        cusp: 3.6,
        beneath: 3.5,
        columns: 4,
        limb: 3.0,
        star: Some(2.5),
        dot: 0.95,
        tags: false,
    },
    ring: 6.4,
    sign: 3.5,
    degrees: 1,
    hours: 1,
};

/// The sheet for a narrow page.
const NARROW: Brass = Brass {
    measures: Measures::narrow((68.0, 75.0), false),
    ring: 7.4,
    sign: 4.6,
    degrees: 5,
    hours: 3,
};

/// How a figure on the brass is laid out.
struct Brass {
    measures: Measures,
    /// The width of the ecliptic ring, and of the signs' characters on it.
    ring: f64,
    sign: f64,
    /// How many degrees a stroke of the ring is from the next.
    degrees: u32,
    /// How many hours a numeral of the limb is from the next.
    hours: u32,
}

impl FigureSheet {
    /// The figure as it stands on the brass.
    pub(crate) fn brass_leaf(&self) -> Leaf {
        self.on_brass(&WIDE)
    }

    /// The same with the ledger beneath.
    pub(crate) fn narrow_brass_leaf(&self) -> Leaf {
        self.on_brass(&NARROW)
    }

    fn on_brass(&self, brass: &Brass) -> Leaf {
        let front = Front::of(self, brass);
        self.ledger_leaf(&front, &brass.measures)
    }
}

/// What is drawn of the instrument.
struct Front<'a> {
    standing: &'a Standing,
    plate: Plate,
    brass: &'a Brass,
    /// The drawn millimetres of each of the instrument's.
    scale: f64,
    /// The edge of what is drawn, in the instrument's millimetres.
    edge: f64,
    ring: EclipticRing,
    /// Whether the lines of the houses are left out, to be drawn in.
    blank: bool,
}

impl Front<'_> {
    fn of<'a>(sheet: &'a FigureSheet, brass: &'a Brass) -> Front<'a> {
        let standing = &sheet.standing;
        let instrument = &standing.instrument;
        let projection = instrument.projection();
        let farthest = Latitude::from_deg(FARTHEST_DEG).unwrap_or_default();
        let usual = projection
            .radius(farthest)
            .max(projection.radius(-farthest));
        let rete = instrument.rete();
        let beyond = sheet
            .marks
            .iter()
            .map(|one| rete.zodiacal_point(one.longitude, one.latitude).radius() * 1.02);
        let edge = beyond.fold(usual, f64::max);
        let scale = brass.measures.ledger.limb_mm.0 / edge;
        Front {
            standing,
            plate: instrument.plate(standing.plate),
            brass,
            scale,
            edge,
            ring: EclipticRing::of_width(&rete, projection.hemisphere(), brass.ring / scale),
            blank: sheet.blank,
        }
    }

    fn drawn(&self, p: Point) -> Point {
        self.standing.instrument.orientation().drawn(p) * self.scale
    }

    fn drawn_line(&self, line: &Contour) -> Contour {
        line.drawn(self.standing.instrument.orientation())
            .scaled(self.scale)
    }

    /// A point of the rete, where the rete stands.
    fn turned(&self, p: Point) -> Point {
        p.turned(self.standing.rete) + self.standing.instrument.rete_centre()
    }

    /// What is drawn of a circle or straight line.
    fn within(&self, line: &Circline) -> Option<Contour> {
        clipped(line, self.edge).map(|line| self.drawn_line(&line))
    }

    fn surface(&self, page: &mut Page) {
        let disc = Contour::circle(Point::POLE, self.edge);
        page.fill(Metal::Sky, vec![Region::whole(self.drawn_line(&disc))]);
        if let Some(below) = self.below() {
            page.fill(Metal::Ground, vec![below]);
        }
        let [one, other] = self.plate.tropics();
        let lines = [one, self.equator(), other];
        let lines = lines.iter().filter_map(|line| self.within(line));
        page.line(Weight::Hair, lines.collect());
    }

    fn equator(&self) -> Circline {
        Circline::circle(
            Point::POLE,
            self.standing.instrument.projection().equator_mm(),
        )
    }

    /// What lies below the horizon.
    fn below(&self) -> Option<Region> {
        let horizon = self.plate.horizon();
        let edge = Circline::circle(Point::POLE, self.edge);
        let met = horizon.meets(&edge);
        let disc = || Contour::circle(Point::POLE, self.edge);
        let [from, to] = *met.points() else {
            let beyond = self.plate.below(Point {
                x: self.edge,
                y: 0.0,
            });
            let inside = clipped(&horizon, self.edge);
            return match (beyond, inside) {
                (true, Some(hole)) => Some(Region {
                    outline: self.drawn_line(&disc()),
                    holes: vec![self.drawn_line(&hole)],
                }),
                (true, None) => Some(Region::whole(self.drawn_line(&disc()))),
                (false, Some(inside)) => Some(Region::whole(self.drawn_line(&inside))),
                (false, None) => None,
            };
        };
        let along = clipped(&horizon, self.edge)?;
        let (start, pieces, _) = along.outline();
        let end = if (start - from).radius() < (start - to).radius() {
            to
        } else {
            from
        };
        // Back along the edge, on the side that lies below.
        let half = (end.direction() + end.direction().to(start.direction()) / 2.0).in_turn();
        let middle = [half, half + Angle::HALF_TURN]
            .map(|direction| Point::polar(self.edge, direction))
            .into_iter()
            .find(|p| self.plate.below(*p))?;
        let mut pieces = pieces.to_vec();
        pieces.push(crate::piece::arc_by(end, middle, start));
        Some(Region::whole(
            self.drawn_line(&Contour::closed(start, pieces)),
        ))
    }

    /// The lines by which the houses are divided, other than horizon and meridian.
    fn dividing(&self) -> Vec<Contour> {
        let Some(division) = self.standing.division else {
            return Vec::new();
        };
        let instrument = &self.standing.instrument;
        let lines = instrument.house_lines_of(division, &self.plate, self.standing.rete);
        let mut drawn = Vec::new();
        for line in lines.into_iter().flatten() {
            match line.course {
                HouseCourse::Horizon | HouseCourse::Meridian => {}
                HouseCourse::Half(half) => drawn.extend(half_within(&half, self.edge)),
                HouseCourse::Curve(curve) => {
                    let points = curve.points();
                    if points.len() > 1 {
                        drawn.push(Contour::smooth(&points));
                    }
                }
            }
        }
        drawn.iter().map(|line| self.drawn_line(line)).collect()
    }

    fn zodiac(&self, page: &mut Page) {
        let circle = |radius: f64| {
            let centre = self.turned(self.ring.centre);
            self.drawn_line(&Contour::circle(centre, radius))
        };
        page.fill(
            Metal::Zodiac,
            vec![Region {
                outline: circle(self.ring.outer),
                holes: vec![circle(self.ring.inner)],
            }],
        );
        let rete = self.standing.instrument.rete();
        let width = self.ring.outer - self.ring.inner;
        let (mut hair, mut fine, mut signs) = (Vec::new(), Vec::new(), Vec::new());
        for deg in (0..360_u32).step_by(self.brass.degrees as usize) {
            let stroke = |part: f64| {
                let longitude = Angle::from_deg(f64::from(deg));
                let at = |part: f64| self.ring.inwards(&rete, longitude, width * part);
                let [from, by, to] =
                    [rete.degree(longitude), at(part / 2.0), at(part)].map(|p| self.turned(p));
                self.drawn_line(&Contour::arc_by(from, by, to))
            };
            match deg {
                _ if deg.is_multiple_of(30) => signs.push(stroke(1.0)),
                _ if deg.is_multiple_of(10) => fine.push(stroke(0.3)),
                _ if deg.is_multiple_of(5) => fine.push(stroke(0.2)),
                _ => hair.push(stroke(0.12)),
            }
        }
        page.line(Weight::Hair, hair);
        page.line(Weight::Fine, fine);
        page.line(Weight::Middle, signs);
    }

    fn ring_edges(&self) -> [Contour; 2] {
        let centre = self.drawn(self.turned(self.ring.centre));
        [self.ring.outer, self.ring.inner]
            .map(|radius| Contour::circle(centre, radius * self.scale))
    }

    fn limb(&self, page: &mut Page) {
        let (inner, outer) = self.brass.measures.ledger.limb_mm;
        let circle = |radius: f64| Contour::circle(Point::POLE, radius);
        page.line(Weight::Edge, vec![circle(inner)]);
        page.line(Weight::Fine, vec![circle(outer)]);
        let hours = (0..24 * 4_u32).map(|quarter| {
            let at = Angle::from_hours(f64::from(quarter) / 4.0);
            let long = if quarter.is_multiple_of(4) { 1.5 } else { 0.8 };
            let towards = self.drawn(Point::polar(1.0, at)).direction();
            Contour::line(
                Point::polar(inner, towards),
                Point::polar(inner + long, towards),
            )
        });
        page.line(Weight::Hair, hours.collect());
    }
}

impl Circle for Front<'_> {
    fn place(&self, longitude: Angle, latitude: Latitude) -> Point {
        let rete = self.standing.instrument.rete();
        self.drawn(self.turned(rete.zodiacal_point(longitude, latitude)))
    }

    fn draw(&self, page: &mut Page) {
        self.surface(page);
        self.zodiac(page);
        if !self.blank {
            page.stroke(Weight::Edge, DIVIDING, self.dividing());
        }
        let horizon = self.within(&self.plate.horizon());
        page.line(Weight::Strong, horizon.into_iter().collect());
        let meridian = self.within(&self.plate.meridian());
        page.line(Weight::Edge, meridian.into_iter().collect());
        page.line(Weight::Middle, self.ring_edges().to_vec());
        let pin = Contour::circle(Point::POLE, 0.7);
        page.fill(Metal::Dark, vec![Region::whole(pin)]);
        self.limb(page);
    }

    fn tie(&self, longitude: Angle, latitude: Latitude) -> Contour {
        let half = Latitude::from_deg(latitude.deg() / 2.0).unwrap_or_default();
        let [from, by, to] =
            [latitude, half, Latitude::ZERO].map(|latitude| self.place(longitude, latitude));
        Contour::arc_by(from, by, to)
    }

    fn sign_spots(&self, sign: usize) -> Vec<(Point, Angle)> {
        let rete = self.standing.instrument.rete();
        let depth = (self.ring.outer - self.ring.inner) * 0.62;
        let centre = self.drawn(self.turned(self.ring.centre));
        [15.0, 12.0, 18.0, 9.0, 21.0, 6.5, 23.5]
            .map(|deg| {
                let longitude = Angle::from_deg(30.0 * sign as f64 + deg);
                let p = self.drawn(self.turned(self.ring.inwards(&rete, longitude, depth)));
                (p, (p - centre).direction() + Angle::QUARTER_TURN)
            })
            .to_vec()
    }

    fn sign_mm(&self) -> f64 {
        self.brass.sign
    }

    fn limb_letters(&self) -> Vec<(String, Point)> {
        let (inner, outer) = self.brass.measures.ledger.limb_mm;
        let radius = f64::midpoint(inner + 1.0, outer);
        (0..24)
            .step_by(self.brass.hours as usize)
            .map(|hour: u32| {
                let at = Angle::from_hours(f64::from(hour));
                let towards = self.drawn(Point::polar(1.0, at)).direction();
                let number = if hour.is_multiple_of(12) {
                    12
                } else {
                    hour % 12
                };
                (number.to_string(), Point::polar(radius, towards))
            })
            .collect()
    }

    fn strong_lines(&self) -> Vec<Contour> {
        let whole = [self.plate.horizon(), self.plate.meridian()];
        let mut lines = self.dividing();
        lines.extend(self.ring_edges());
        lines.extend(whole.iter().filter_map(|line| self.within(line)));
        lines
    }

    fn is_ground(&self, p: Point) -> bool {
        let centre = self.drawn(self.turned(self.ring.centre));
        let off = (p - centre).radius() / self.scale;
        let on_ring = (self.ring.inner..=self.ring.outer).contains(&off);
        !on_ring && p.radius() < self.brass.measures.ledger.limb_mm.0
    }
}

/// What lies of a circle or straight line within a circle about the pole.
fn clipped(line: &Circline, edge: f64) -> Option<Contour> {
    let met = line.meets(&Circline::circle(Point::POLE, edge));
    match (line.as_circle(), met.points()) {
        (Some((centre, radius)), [from, to]) => {
            let towards = |p: &Point| (*p - centre).direction();
            let half = towards(from).to(towards(to)) / 2.0;
            let middle = [half, half + Angle::HALF_TURN]
                .map(|by| centre + Point::polar(radius, towards(from) + by))
                .into_iter()
                .find(|p| p.radius() < edge)?;
            Some(Contour::arc_by(*from, middle, *to))
        }
        (Some((centre, radius)), _) => {
            (centre.radius() + radius <= edge).then(|| Contour::circle(centre, radius))
        }
        (None, [from, to]) => Some(Contour::line(*from, *to)),
        (None, _) => None,
    }
}

/// What lies of a half circle within a circle about the pole: from where it begins to the
/// edge, or to its end.
fn half_within(half: &HalfCircle, edge: f64) -> Vec<Contour> {
    let met = half.on.meets(&Circline::circle(Point::POLE, edge));
    let out = met.into_iter().filter(|p| half.carries(*p));
    let Some((centre, radius)) = half.on.as_circle() else {
        let along = half.by - half.from;
        let ahead = |p: &Point| (*p - half.from).dot(along);
        let ends = out.chain(half.to).filter(|p| ahead(p) > 0.0);
        let end = ends.min_by(|a, b| ahead(a).total_cmp(&ahead(b)));
        return end
            .map(|end| Contour::line(half.from, end))
            .into_iter()
            .collect();
    };
    let start = (half.from - centre).direction();
    let onward = |p: Point| ((p - centre).direction() - start).in_turn();
    let end = half.to.map_or(Angle::FULL_TURN, onward);
    // It runs the way on which its second point comes before its end.
    let (sense, whole) = if onward(half.by) <= end {
        (1.0, end)
    } else {
        (-1.0, Angle::FULL_TURN - end)
    };
    let along = |p: Point| {
        let onward = onward(p);
        if sense > 0.0 {
            onward
        } else {
            Angle::FULL_TURN - onward
        }
    };
    let mut stops: Vec<Angle> = out.map(along).filter(|at| *at < whole).collect();
    stops.sort_by(|a, b| a.deg().total_cmp(&b.deg()));
    stops.insert(0, Angle::ZERO);
    stops.push(whole);
    let point = |at: Angle| centre + Point::polar(radius, start + at * sense);
    stops
        .windows(2)
        .filter_map(|ends| match ends {
            [from, to] if point((*from + *to) / 2.0).radius() < edge => {
                let piece = Piece::Arc {
                    centre,
                    sweep: (*to - *from) * sense,
                    to: point(*to),
                };
                Some(Contour::open(point(*from), vec![piece]))
            }
            _ => None,
        })
        .collect()
}
