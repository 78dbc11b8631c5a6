use nalgebra::Vector2;
use sky::Latitude;

use super::marks::{Mark, OfPlate, Seen};
use super::model::{Scene, beside};
use super::standing::Standing;
use crate::instrument::Instrument;
use crate::length::Length;
use crate::line::LineId;
use crate::line_shape::LineShape;
use crate::minutes::Minutes;
use crate::point::Point;
use crate::rete::RetePoint;

/// A mark in a picture of a made instrument, beside where its specification has the line.
#[derive(Clone, Debug, PartialEq)]
pub struct Held {
    /// What it is.
    pub of: Seen,
    /// Where it is, as the specification's plane has it: from the hole, noon and west, on the
    /// rete with that turned back.
    pub at: Point,
    /// From where it should be to where it is, in millimetres.
    pub apart: Point,
    /// Where it should be in the picture, in pixels.
    pub should_px: [f64; 2],
}

impl Held {
    /// How far it is off.
    #[must_use]
    pub fn off(&self) -> Length {
        Length::from_mm(self.apart.radius())
    }
}

impl Standing {
    /// Every mark beside the line that a specification has there, where it has one; in their
    /// order.
    ///
    /// From the picture come the camera, the depths of the faces, the hole and how the rete is
    /// turned. All else is the specification's: what the plate is found to be by its picture
    /// does not excuse it.
    pub(super) fn held(&self, instrument: &Instrument, plate: Latitude) -> Vec<Option<Held>> {
        let model = self.model();
        let Some(scene) = model.scene(&self.at) else {
            return vec![None; self.photograph.marks.len()];
        };
        let unit_mm = self.unit_mm(&scene, instrument);
        let made = Made {
            scene: &scene,
            instrument,
            plate,
            unit_mm,
        };
        let marks = self.photograph.marks.iter();
        marks.map(|mark| made.held(mark)).collect()
    }

    /// How finely lengths are told by this picture: what a mark is off as a rule, by the hand
    /// that put it. None where the hole does not lie in it.
    pub(super) fn tells_to(&self, instrument: &Instrument) -> Option<Length> {
        let model = self.model();
        let told = model.scene(&self.at).and_then(|scene| {
            let middle = scene.pixel_of(&Seen::Hole)?;
            let beside = scene.hole_pixel(Point { x: 0.01, y: 0.0 })?;
            let unit_mm = self.unit_mm(&scene, instrument);
            Some(self.scatter_px * 0.01 * unit_mm / (beside - middle).norm())
        });
        told.filter(|mm| mm.is_finite()).map(Length::from_mm)
    }

    /// The radius of the plate's equator, in millimetres.
    fn unit_mm(&self, scene: &Scene<'_>, instrument: &Instrument) -> f64 {
        match self.photograph.limb_diameter {
            Some(across) => across.mm() / 2.0 / scene.limb_radius,
            // Without a length its size is not told, and taken as it should be.
            None => instrument.projection().equator_mm(),
        }
    }
}

/// A made instrument in its picture, and what it was to be.
struct Made<'a> {
    scene: &'a Scene<'a>,
    instrument: &'a Instrument,
    plate: Latitude,
    unit_mm: f64,
}

impl Made<'_> {
    fn held(&self, mark: &Mark) -> Option<Held> {
        let pixel = Vector2::from(mark.at_px);
        let scene = self.scene;
        let rete = self.instrument.rete();
        match &mark.of {
            // That the circle is of its size was said.
            Seen::Limb(degree) => {
                let at = scene.on_limb(&pixel)? * self.unit_mm;
                let should = Point::polar(scene.limb_radius * self.unit_mm, *degree);
                self.point(mark, at, should)
            }
            Seen::OfPlate(line) => {
                let at = scene.on_plate(&pixel)? * self.unit_mm;
                let shape = self.shape_of(*line)?;
                self.across(mark, at, |point| beside(&shape, point))
            }
            Seen::Ecliptic => {
                let at = scene.on_rete(&pixel)? * self.unit_mm;
                let edge = rete.ecliptic();
                self.across(mark, at, |point| Some(edge.value(point)))
            }
            Seen::Degree(degree) => {
                let at = scene.on_rete(&pixel)? * self.unit_mm;
                self.point(mark, at, rete.point(RetePoint::Degree(*degree), 0.0))
            }
            Seen::Star(star) => {
                let at = scene.on_rete(&pixel)? * self.unit_mm;
                let stars = self.instrument.stars().iter();
                let mut made = stars.filter(|one| one.designation == star.designation);
                let made = made.next()?;
                let should = RetePoint::Place(made.right_ascension, made.declination);
                self.point(mark, at, rete.point(should, 0.0))
            }
            // The hole is where all is counted from; how wide it is is not specified, and how
            // the rule stands is no fault.
            Seen::Hole | Seen::HoleEdge | Seen::Almuri | Seen::Rule => None,
        }
    }

    /// A mark beside a line on which a function vanishes.
    fn across(
        &self,
        mark: &Mark,
        at: Point,
        vanishes: impl Fn(Point) -> Option<f64>,
    ) -> Option<Held> {
        const STEP_MM: f64 = 1e-3;
        let right = Point { x: STEP_MM, y: 0.0 };
        let down = Point { x: 0.0, y: STEP_MM };
        let slope = Point {
            x: vanishes(at + right)? - vanishes(at - right)?,
            y: vanishes(at + down)? - vanishes(at - down)?,
        } * (0.5 / STEP_MM);
        let steep = slope.dot(slope);
        (steep > 0.0).then_some(())?;
        self.point(mark, at, at - slope * (vanishes(at)? / steep))
    }

    fn point(&self, mark: &Mark, at: Point, should: Point) -> Option<Held> {
        let place = should * (1.0 / self.unit_mm);
        let pixel = match mark.of {
            Seen::Limb(_) => self.scene.limb_pixel(place),
            Seen::OfPlate(_) | Seen::Hole | Seen::HoleEdge => self.scene.hole_pixel(place),
            Seen::Ecliptic | Seen::Degree(_) | Seen::Star(_) | Seen::Almuri | Seen::Rule => {
                self.scene.turned_pixel(place)
            }
        };
        Some(Held {
            of: mark.of.clone(),
            at,
            apart: at - should,
            should_px: pixel?.into(),
        })
    }

    fn shape_of(&self, line: OfPlate) -> Option<LineShape> {
        let plate = self.instrument.plate(self.plate);
        let line = match line {
            OfPlate::Capricorn => LineId::TropicOfCapricorn,
            OfPlate::Equator => LineId::Equator,
            OfPlate::Cancer => LineId::TropicOfCancer,
            OfPlate::Meridian => LineId::MeridianLine,
            OfPlate::Almucantar(altitude) => LineId::Almucantar(Minutes::nearest(altitude.deg())),
            OfPlate::Azimuth(azimuth) => LineId::Azimuth(Minutes::nearest(azimuth.deg())),
            OfPlate::UnequalHour(hour) => LineId::UnequalHour(hour),
            OfPlate::House(house) => LineId::House(self.instrument.house_lines()?, house),
        };
        plate.shape(&line).ok()
    }
}
