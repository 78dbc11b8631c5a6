use nalgebra::{DVector, Rotation3, Vector2, Vector3};
use sky::{Angle, JulianEpoch, Latitude};

use super::adjust::Lefts;
use super::beforehand::Beforehand;
use super::camera::{Camera, Pixel};
use super::marks::{Mark, OfPlate, Photograph, Seen};
use super::unknowns::{Unknown, value};
use crate::circline::Circline;
use crate::line::LineId;
use crate::line_shape::LineShape;
use crate::orientation::Orientation;
use crate::plate::Plate;
use crate::point::Point;
use crate::projection::Projection;
use crate::rete::{Rete, RetePoint};
use crate::specification::{Faults, HourLines, HouseLines, Top};

/// Lengths are counted in radii of the equator; lines are drawn with this one, in millimetres.
pub(super) const EQUATOR_MM: f64 = 100.0;

/// How well one marks before anything is known of it, in pixels.
pub(super) const ROUGH_PX: f64 = 2.0;

/// How a picture is understood, but for the unknowns.
#[derive(Clone, Debug)]
pub(super) struct Model<'a> {
    pub(super) photograph: &'a Photograph,
    /// What is known before the picture is looked at.
    pub(super) beforehand: Beforehand,
    /// From where the camera's turning is counted.
    pub(super) turn: Rotation3<f64>,
    pub(super) hour_lines: HourLines,
    pub(super) house_lines: HouseLines,
    /// Which marks are taken into account, by their numbers.
    pub(super) taken: Vec<usize>,
}

/// An instrument before a camera.
pub(super) struct Scene<'a> {
    model: &'a Model<'a>,
    camera: Camera,
    orientation: Orientation,
    pub(super) plate: Plate,
    pub(super) rete: Rete,
    pub(super) limb_radius: f64,
    hole: Vector2<f64>,
    pub(super) hole_radius: f64,
    plate_depth: f64,
    plate_turn: Angle,
    plate_off: Point,
    rete_depth: f64,
    rete_scale: f64,
    rete_off: Point,
    pub(super) rete_turn: Angle,
    epoch: JulianEpoch,
    rule_depth: f64,
    rule_turn: Angle,
    /// In radii of the equator.
    almuri_radius: f64,
    rule_radius: f64,
}

/// How a mark lies to where it should.
pub(super) enum Lies {
    /// Where it should be, less where it is, in pixels.
    Off(Vector2<f64>),
    /// How far across its line it is, in pixels, and the direction in which that is counted.
    Across(f64, Vector2<f64>),
}

impl Model<'_> {
    /// The instrument and the camera that unknowns stand for; None where they stand for none.
    pub(super) fn scene(&self, at: &DVector<f64>) -> Option<Scene<'_>> {
        let of = |unknown| value(at, unknown);
        if !at.iter().all(|one| one.is_finite()) {
            return None;
        }
        let [breadth, height] = self.photograph.size_px.map(f64::from);
        let distance = of(Unknown::Distance).exp();
        let lean = Vector3::new(
            of(Unknown::TurnRight),
            of(Unknown::TurnDown),
            of(Unknown::TurnAxis),
        );
        let camera = Camera {
            focal_px: of(Unknown::Focal).exp() * breadth,
            centre_px: Vector2::new(
                breadth / 2.0 + of(Unknown::AxisRight) * breadth,
                height / 2.0 + of(Unknown::AxisDown) * breadth,
            ),
            turn: Rotation3::new(lean) * self.turn,
            before: Vector3::new(of(Unknown::BeforeRight), of(Unknown::BeforeDown), 1.0) * distance,
            distortion: of(Unknown::Distortion),
        };
        let hemisphere = self.photograph.hemisphere;
        let projection = Projection::new(EQUATOR_MM, hemisphere);
        let degrees = |unknown: Unknown, least: f64, most: f64| {
            let deg = of(unknown);
            (least..=most).contains(&deg).then_some(deg)
        };
        let latitude = Latitude::from_deg(degrees(Unknown::Latitude, -90.0, 90.0)?).ok()?;
        let plate_obliquity = Angle::from_deg(degrees(Unknown::PlateObliquity, 15.0, 35.0)?);
        let ring_obliquity = Angle::from_deg(degrees(Unknown::RingObliquity, 15.0, 35.0)?);
        Some(Scene {
            model: self,
            camera,
            orientation: Orientation::new(hemisphere, Top::Noon),
            plate: Plate::new(
                latitude,
                plate_obliquity,
                (self.hour_lines, Some(self.house_lines)),
                &Faults::default(),
                projection,
            ),
            rete: Rete::new(
                ring_obliquity,
                of(Unknown::RingOff) * EQUATOR_MM,
                projection,
            ),
            limb_radius: of(Unknown::LimbRadius),
            hole: Vector2::new(of(Unknown::HoleRight), of(Unknown::HoleDown)),
            hole_radius: of(Unknown::HoleRadius),
            plate_depth: of(Unknown::PlateDepth),
            plate_turn: Angle::from_deg(of(Unknown::PlateTurn)),
            plate_off: Point {
                x: of(Unknown::PlateNoon),
                y: of(Unknown::PlateWest),
            },
            rete_depth: of(Unknown::ReteDepth),
            rete_scale: 1.0 + of(Unknown::ReteScale),
            rete_off: Point {
                x: of(Unknown::ReteAries),
                y: of(Unknown::ReteAcross),
            },
            rete_turn: Angle::from_deg(of(Unknown::ReteTurn)),
            epoch: JulianEpoch::from_year(degrees(Unknown::Year, -599.0, 2649.0)?).ok()?,
            rule_depth: of(Unknown::RuleDepth),
            rule_turn: Angle::from_deg(of(Unknown::RuleTurn)),
            almuri_radius: of(Unknown::AlmuriRadius) * of(Unknown::LimbRadius),
            rule_radius: of(Unknown::RuleRadius) * of(Unknown::LimbRadius),
        })
    }

    /// How far a mark lies from where it should, in pixels: across its line, or on both axes.
    pub(super) fn off(&self, at: &DVector<f64>, mark: &Mark) -> Option<Vec<f64>> {
        self.scene(at)?.off(mark)
    }

    /// How far each mark is off, in pixels, whether it is taken into account or not.
    pub(super) fn offs(&self, at: &DVector<f64>) -> Option<Vec<f64>> {
        let scene = self.scene(at)?;
        let marks = self.photograph.marks.iter();
        marks
            .map(|mark| {
                let off = scene.off(mark)?;
                Some(off.iter().map(|one| one * one).sum::<f64>().sqrt())
            })
            .collect()
    }

    /// What a mark's place in the picture is on the plate, in radii of its equator; for a
    /// beginning.
    pub(super) fn on_plate(&self, at: &DVector<f64>, mark: &Mark) -> Option<Point> {
        let scene = self.scene(at)?;
        scene.plate_point(&Vector2::from(mark.at_px))
    }

    /// The same on the face of the rete, not turned back.
    pub(super) fn on_rete(&self, at: &DVector<f64>, mark: &Mark) -> Option<Point> {
        let scene = self.scene(at)?;
        let point = scene.under(&Vector2::from(mark.at_px), scene.rete_depth)?;
        Some(point * (1.0 / scene.rete_scale))
    }
}

impl<'a> Model<'a> {
    /// How far the limb leans away from the eye.
    pub(super) fn lean(&self, at: &DVector<f64>) -> Angle {
        let Some(scene) = self.scene(at) else {
            return Angle::ZERO;
        };
        let axis = scene.camera.turn * Vector3::z();
        Angle::acos(axis.dot(&scene.camera.before.normalize()))
    }

    /// A weight for each number that is left: of its mark by how far that is off, over the
    /// square of a unit in pixels.
    pub(super) fn weights(
        &self,
        off: &[f64],
        weight: impl Fn(f64) -> f64,
        unit_px: f64,
    ) -> Option<DVector<f64>> {
        let mut all = Vec::with_capacity(self.taken.len() * 2);
        for number in &self.taken {
            let one = weight(*off.get(*number)?) / unit_px.powi(2);
            let is_point = self.photograph.marks.get(*number)?.of.is_point();
            let numbers = if is_point { 2 } else { 1 };
            all.extend(std::iter::repeat_n(one, numbers));
        }
        Some(DVector::from_vec(all))
    }
}

impl Lefts for Model<'_> {
    fn lefts(&self, at: &DVector<f64>) -> Option<DVector<f64>> {
        let scene = self.scene(at)?;
        let mut all = Vec::with_capacity(self.taken.len() * 2);
        for index in &self.taken {
            all.extend(scene.off(self.photograph.marks.get(*index)?)?);
        }
        Some(DVector::from_vec(all))
    }
}

impl Scene<'_> {
    /// How far a mark lies from where it should, in pixels: one number for a line, two for a
    /// point.
    pub(super) fn off(&self, mark: &Mark) -> Option<Vec<f64>> {
        Some(match self.lies(mark)? {
            Lies::Off(off) => vec![off.x, off.y],
            Lies::Across(off, _) => vec![off],
        })
    }

    /// From where a mark should be to where it is, in pixels.
    pub(super) fn apart(&self, mark: &Mark) -> Option<Vector2<f64>> {
        Some(match self.lies(mark)? {
            Lies::Off(off) => -off,
            Lies::Across(off, direction) => direction * off,
        })
    }

    fn lies(&self, mark: &Mark) -> Option<Lies> {
        let pixel = Vector2::from(mark.at_px);
        match &mark.of {
            Seen::Limb(_)
            | Seen::Hole
            | Seen::Degree(_)
            | Seen::Star(_)
            | Seen::Almuri
            | Seen::Rule => Some(Lies::Off(self.pixel_of(&mark.of)? - pixel)),
            Seen::HoleEdge => self.across(&pixel, |pixel| {
                let there = self.camera.on_plane(pixel, self.plate_depth)?;
                Some((there - self.hole).norm() - self.hole_radius)
            }),
            Seen::OfPlate(line) => {
                let shape = self.shape_of(*line)?;
                self.across(&pixel, |pixel| {
                    beside(&shape, self.plate_point(pixel)? * EQUATOR_MM)
                })
            }
            Seen::Ecliptic => {
                let edge = self.rete.ecliptic();
                self.across(&pixel, |pixel| {
                    Some(edge.value(self.rete_point(pixel)? * EQUATOR_MM))
                })
            }
        }
    }

    /// How far a mark of the rete lies off its distance from the hole, however the rete is
    /// turned.
    pub(super) fn off_distance(&self, pixel: &Pixel, what: RetePoint) -> Option<f64> {
        let radius = self.rete.point(what, EQUATOR_MM).radius() / EQUATOR_MM;
        let beside = |pixel: &Pixel| Some(self.rete_point(pixel)?.radius() - radius);
        match self.across(pixel, beside)? {
            Lies::Across(off, _) => Some(off),
            Lies::Off(off) => Some(off.norm()),
        }
    }

    /// What a point is on the rete; None of what does not stand on it as a point.
    pub(super) fn of_rete(&self, seen: &Seen) -> Option<RetePoint> {
        match seen {
            Seen::Degree(degree) => Some(RetePoint::Degree(*degree)),
            Seen::Star(star) => {
                let place = star.mean_place(self.epoch);
                Some(RetePoint::Place(place.right_ascension, place.declination))
            }
            Seen::Limb(_)
            | Seen::Hole
            | Seen::HoleEdge
            | Seen::OfPlate(_)
            | Seen::Ecliptic
            | Seen::Almuri
            | Seen::Rule => None,
        }
    }

    /// Where a point is seen; None of a line, and of what is behind the camera.
    pub(super) fn pixel_of(&self, seen: &Seen) -> Option<Pixel> {
        match seen {
            Seen::Limb(degree) => self.limb_pixel(Point::polar(self.limb_radius, *degree)),
            Seen::Hole => self.camera.seen(&self.hole.push(self.plate_depth)),
            Seen::Degree(_) | Seen::Star(_) => {
                let own = self.rete.point(self.of_rete(seen)?, EQUATOR_MM);
                self.rete_pixel(own * (1.0 / EQUATOR_MM))
            }
            Seen::Almuri => self.rete_pixel(Point::polar(self.almuri_radius, self.rete.almuri())),
            Seen::Rule => self.rule_pixel(self.rule_radius),
            Seen::HoleEdge | Seen::OfPlate(_) | Seen::Ecliptic => None,
        }
    }

    /// Where a point of the limb's face is seen.
    pub(super) fn limb_pixel(&self, point: Point) -> Option<Pixel> {
        self.camera.seen(&self.on_limb_face(point))
    }

    /// Where a point of the plate is seen.
    pub(super) fn plate_pixel(&self, point: Point) -> Option<Pixel> {
        self.camera.seen(&self.on_plate_face(point))
    }

    /// Where a point beside the hole is seen, on the plate's face.
    pub(super) fn hole_pixel(&self, point: Point) -> Option<Pixel> {
        let there = self.drawn(point) + self.hole;
        self.camera.seen(&there.push(self.plate_depth))
    }

    /// Where a point of the rete's own frame is seen.
    pub(super) fn rete_pixel(&self, point: Point) -> Option<Pixel> {
        self.camera.seen(&self.on_rete_face(point))
    }

    /// Where a point of the rete's face is seen, counted from the hole and turned with the rete.
    pub(super) fn turned_pixel(&self, point: Point) -> Option<Pixel> {
        let there = self.drawn(point.turned(self.rete_turn)) + self.hole;
        self.camera.seen(&there.push(self.rete_depth))
    }

    /// Where a point of the rule's edge is seen, at a distance from the hole.
    pub(super) fn rule_pixel(&self, radius: f64) -> Option<Pixel> {
        let on_noon = Point { x: radius, y: 0.0 };
        self.camera.seen(&self.on_rule_face(on_noon))
    }

    /// Where a point of the limb lies in space.
    pub(super) fn on_limb_face(&self, point: Point) -> Vector3<f64> {
        self.drawn(point).push(0.0)
    }

    /// Where a point of the plate does.
    pub(super) fn on_plate_face(&self, point: Point) -> Vector3<f64> {
        let there = self.drawn(point.turned(self.plate_turn) + self.plate_off) + self.hole;
        there.push(self.plate_depth)
    }

    /// Where a point of the rete's own frame does.
    pub(super) fn on_rete_face(&self, point: Point) -> Vector3<f64> {
        let there = (point * self.rete_scale + self.rete_off).turned(self.rete_turn);
        (self.drawn(there) + self.hole).push(self.rete_depth)
    }

    /// Where a point of the rule does, of one that lies on noon.
    pub(super) fn on_rule_face(&self, point: Point) -> Vector3<f64> {
        let there = self.drawn(point.turned(self.rule_turn)) + self.hole;
        there.push(self.rule_depth)
    }

    /// By which camera it is seen.
    pub(super) fn camera(&self) -> &Camera {
        &self.camera
    }

    /// What lies under a pixel on the limb's face, from its middle.
    pub(super) fn on_limb(&self, pixel: &Pixel) -> Option<Point> {
        let there = self.camera.on_plane(pixel, 0.0)?;
        Some(self.orientation.undrawn(Point {
            x: there.x,
            y: there.y,
        }))
    }

    /// What lies under a pixel on the plate's face, from the hole and turned as the limb is.
    pub(super) fn on_plate(&self, pixel: &Pixel) -> Option<Point> {
        self.under(pixel, self.plate_depth)
    }

    /// What lies under a pixel on the rete's face, from the hole and turned back with the rete.
    pub(super) fn on_rete(&self, pixel: &Pixel) -> Option<Point> {
        Some(self.under(pixel, self.rete_depth)?.turned(-self.rete_turn))
    }

    /// What lies under a pixel at the height of the rule, from the hole.
    pub(super) fn on_rule(&self, pixel: &Pixel) -> Option<Point> {
        self.under(pixel, self.rule_depth)
    }

    /// The line of the plate; None where this plate has none of that kind.
    pub(super) fn shape_of(&self, line: OfPlate) -> Option<LineShape> {
        let plate = &self.plate;
        let line = match line {
            OfPlate::Capricorn => LineId::TropicOfCapricorn,
            OfPlate::Equator => LineId::Equator,
            OfPlate::Cancer => LineId::TropicOfCancer,
            // Named to the minute, where here the angle is as it was said.
            OfPlate::Almucantar(altitude) => {
                return Some(LineShape::Circline(plate.almucantar(altitude)));
            }
            OfPlate::Azimuth(azimuth) => return Some(LineShape::Circline(plate.azimuth(azimuth))),
            OfPlate::Meridian => return Some(LineShape::Circline(plate.meridian())),
            OfPlate::UnequalHour(hour) => return plate.unequal_hour(hour).ok(),
            OfPlate::House(house) => {
                return Some(LineShape::Circline(
                    plate.house(self.model.house_lines, house),
                ));
            }
        };
        plate.shape(&line).ok()
    }

    /// As one looks at it, in the plane of the limb.
    fn drawn(&self, point: Point) -> Vector2<f64> {
        let drawn = self.orientation.drawn(point);
        Vector2::new(drawn.x, drawn.y)
    }

    /// What lies under a pixel on the face at a depth, from the hole.
    fn under(&self, pixel: &Pixel, depth: f64) -> Option<Point> {
        let there = self.camera.on_plane(pixel, depth)? - self.hole;
        Some(self.orientation.undrawn(Point {
            x: there.x,
            y: there.y,
        }))
    }

    fn plate_point(&self, pixel: &Pixel) -> Option<Point> {
        let from_hole = self.under(pixel, self.plate_depth)?;
        Some((from_hole - self.plate_off).turned(-self.plate_turn))
    }

    /// In the rete's own frame.
    fn rete_point(&self, pixel: &Pixel) -> Option<Point> {
        let turned_back = self.under(pixel, self.rete_depth)?.turned(-self.rete_turn);
        Some((turned_back - self.rete_off) * (1.0 / self.rete_scale))
    }

    /// How far a pixel lies from where a function vanishes: its value over its slope.
    fn across(&self, pixel: &Pixel, vanishes: impl Fn(&Pixel) -> Option<f64>) -> Option<Lies> {
        let here = vanishes(pixel)?;
        let right = vanishes(&(pixel + Vector2::x()))? - vanishes(&(pixel - Vector2::x()))?;
        let down = vanishes(&(pixel + Vector2::y()))? - vanishes(&(pixel - Vector2::y()))?;
        let slope = right.hypot(down) / 2.0;
        (slope > 0.0).then(|| Lies::Across(here / slope, Vector2::new(right, down) / (2.0 * slope)))
    }
}

/// A number that vanishes on a line and grows across it.
pub(super) fn beside(shape: &LineShape, point: Point) -> Option<f64> {
    match shape {
        LineShape::Circline(line) => Some(Circline::value(line, point)),
        LineShape::HourCurve(curve) => {
            let on = curve.at_radius(point.radius())?;
            Some(on.cross(point) / point.radius())
        }
    }
}
