use super::camera::Pixel;
use super::marks::{OfPlate, Seen};
use super::model::{EQUATOR_MM, Scene};
use crate::circline::Circline;
use crate::line::LineId;
use crate::line_shape::LineShape;
use crate::point::Point;

use sky::Angle;

/// How many places of a whole circle are taken: between two of them it leaves their straight
/// line by a three-thousandth of its radius.
const ROUND: u32 = 120;

/// A course in the picture, in pieces: of a point one place.
pub(super) type Pieces = Vec<Vec<Pixel>>;

impl Scene<'_> {
    /// Where something runs in the picture, as far as it is drawn on instruments.
    pub(super) fn course(&self, seen: &Seen) -> Pieces {
        match seen {
            Seen::Limb(degree) => {
                let stroke = [1.0, 1.03]
                    .map(|part| self.limb_pixel(Point::polar(part * self.limb_radius, *degree)));
                vec![stroke.into_iter().flatten().collect()]
            }
            Seen::Hole | Seen::Degree(_) | Seen::Star(_) => {
                vec![self.pixel_of(seen).into_iter().collect()]
            }
            Seen::HoleEdge => seen_pieces(vec![ring(Point::POLE, self.hole_radius)], |point| {
                self.hole_pixel(point)
            }),
            Seen::OfPlate(line) => {
                let pixel = |point: Point| self.plate_pixel(point * (1.0 / EQUATOR_MM));
                seen_pieces(self.drawn_on_plate(*line), pixel)
            }
            Seen::Ecliptic => {
                let whole = match self.rete.ecliptic().as_circle() {
                    Some((centre, radius)) => vec![ring(centre, radius)],
                    None => Vec::new(),
                };
                seen_pieces(whole, |point| self.rete_pixel(point * (1.0 / EQUATOR_MM)))
            }
            Seen::Almuri => {
                let ends = [0.9, 1.0].map(|part| {
                    self.rete_pixel(Point::polar(part * self.limb_radius, self.rete.almuri()))
                });
                vec![ends.into_iter().flatten().collect()]
            }
            Seen::Rule => {
                let ends = [0.0, self.limb_radius].map(|radius| self.rule_pixel(radius));
                vec![ends.into_iter().flatten().collect()]
            }
        }
    }

    /// The circle of the limb that is marked.
    pub(super) fn limb_course(&self) -> Pieces {
        seen_pieces(vec![ring(Point::POLE, self.limb_radius)], |point| {
            self.limb_pixel(point)
        })
    }

    /// A line of the plate as far as it is drawn, on the plate.
    fn drawn_on_plate(&self, line: OfPlate) -> Vec<Vec<Point>> {
        let (inner, outer) = self.plate_tropics();
        let Some(shape) = self.shape_of(line) else {
            return Vec::new();
        };
        let above = |point: Point| self.plate.horizon().value(point) <= 0.0;
        let is_drawn = |point: Point| match line {
            OfPlate::Capricorn
            | OfPlate::Equator
            | OfPlate::Cancer
            | OfPlate::Meridian
            | OfPlate::Almucantar(_) => true,
            OfPlate::Azimuth(_) => above(point),
            OfPlate::UnequalHour(hour) => self.plate.carries(&LineId::UnequalHour(hour), point),
            OfPlate::House(_) => !above(point),
        };
        let whole = match shape {
            LineShape::Circline(line) => within(&line, outer).into_iter().collect(),
            LineShape::HourCurve(curve) => {
                let step = (outer - inner) / 40.0;
                let radii = (0..=40_u32).map(|number| inner + step * f64::from(number));
                vec![radii.filter_map(|radius| curve.at_radius(radius)).collect()]
            }
        };
        whole
            .into_iter()
            .flat_map(|piece: Vec<Point>| parts(piece, is_drawn))
            .collect()
    }

    /// Whether a star stands so far within the outer tropic that a pointer reaches it.
    pub(super) fn carries_star(&self, seen: &Seen) -> bool {
        /// In parts of the tropic's radius.
        const REACH: f64 = 0.97;
        let (_, outer) = self.plate_tropics();
        let radius = |what| self.rete.point(what, EQUATOR_MM).radius();
        self.of_rete(seen)
            .is_some_and(|what| radius(what) < REACH * outer)
    }

    /// The radii of the inner and the outer tropic.
    fn plate_tropics(&self) -> (f64, f64) {
        let radius = |line| match self.plate.shape(&line) {
            Ok(LineShape::Circline(circle)) => circle.as_circle().map_or(EQUATOR_MM, |(_, r)| r),
            Ok(LineShape::HourCurve(_)) | Err(_) => EQUATOR_MM,
        };
        let (one, other) = (
            radius(LineId::TropicOfCancer),
            radius(LineId::TropicOfCapricorn),
        );
        (one.min(other), one.max(other))
    }
}

/// A whole circle, closed.
fn ring(centre: Point, radius: f64) -> Vec<Point> {
    let turn = |number: u32| Angle::from_deg(360.0 * f64::from(number) / f64::from(ROUND));
    (0..=ROUND)
        .map(|number| centre + Point::polar(radius, turn(number)))
        .collect()
}

/// The part of a line within a circle about the pole.
fn within(line: &Circline, reach: f64) -> Option<Vec<Point>> {
    let steps = f64::from(ROUND / 2);
    let Some((centre, radius)) = line.as_circle() else {
        let (foot, along) = line.as_straight()?;
        let half = (reach * reach - foot.dot(foot)).max(0.0).sqrt();
        let at = |number: u32| along * (half * (f64::from(number) / steps * 2.0 - 1.0));
        return Some((0..=ROUND / 2).map(|number| foot + at(number)).collect());
    };
    if centre.radius() + radius <= reach * (1.0 + 1e-9) {
        return Some(ring(centre, radius));
    }
    let meets = line.meets(&Circline::circle(Point::POLE, reach));
    let &[one, other] = meets.points() else {
        return None;
    };
    let [one, other] = [one, other].map(|point| (point - centre).direction());
    let sweep = (other - one).in_turn();
    let on = |angle: Angle| centre + Point::polar(radius, angle);
    let (from, sweep) = if on(one + sweep / 2.0).radius() <= reach {
        (one, sweep)
    } else {
        (other, Angle::FULL_TURN - sweep)
    };
    let at = |number: u32| on(from + sweep * (f64::from(number) / steps));
    Some((0..=ROUND / 2).map(at).collect())
}

/// What of a piece is drawn.
fn parts(piece: Vec<Point>, is_drawn: impl Fn(Point) -> bool) -> Vec<Vec<Point>> {
    let mut all = vec![Vec::new()];
    for point in piece {
        if is_drawn(point) {
            if let Some(last) = all.last_mut() {
                last.push(point);
            }
        } else if all.last().is_some_and(|last| !last.is_empty()) {
            all.push(Vec::new());
        }
    }
    all.retain(|piece| piece.len() > 1);
    all
}

fn seen_pieces(pieces: Vec<Vec<Point>>, pixel: impl Fn(Point) -> Option<Pixel>) -> Pieces {
    pieces
        .into_iter()
        .map(|piece| piece.into_iter().filter_map(&pixel).collect())
        .collect()
}
