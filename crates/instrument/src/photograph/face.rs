use nalgebra::Vector3;

use super::model::Scene;
use super::standing::Standing;
use super::unknowns::Unknown;
use crate::instrument::Instrument;
use crate::line::Part;
use crate::point::Point;

/// A part's face as the camera saw it: where a place of its drawing lies in the picture.
///
/// The drawing is that of an instrument with its parts at rest, in millimetres to the right
/// and down from the pole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SeenFace {
    /// From a place (right, down, 1) to the ray by which it is seen, a row for each of the
    /// camera's axes: to the right, down, and away. Lengths of rays mean nothing.
    pub ray: [[f64; 3]; 3],
    /// How far away the picture's plane is, in pixels.
    pub focal_px: f64,
    /// Where the camera's axis meets it.
    pub centre_px: [f64; 2],
    /// A ray of the slope r is seen as if it had the slope r (1 + k r²), with this k.
    pub distortion: f64,
}

impl SeenFace {
    /// Where a place of the drawing is seen.
    #[must_use]
    pub fn pixel(&self, right_mm: f64, down_mm: f64) -> [f64; 2] {
        let [right, down, away] = self
            .ray
            .map(|[by_right, by_down, at]| by_right * right_mm + by_down * down_mm + at);
        let slope = [right / away, down / away];
        let bent = 1.0 + self.distortion * (slope[0] * slope[0] + slope[1] * slope[1]);
        [0, 1].map(|axis: usize| self.centre_px[axis] + self.focal_px * bent * slope[axis])
    }
}

impl Standing {
    /// A part of an instrument as the picture shows it, its lines where those of the drawing
    /// are; None where the picture does not tell how it lies.
    pub(super) fn face(&self, part: Part, instrument: &Instrument) -> Option<SeenFace> {
        let model = self.model();
        let scene = model.scene(&self.at)?;
        let unit_mm = match part {
            Part::Mater => self.limb_unit_mm(&scene, instrument),
            Part::Plate
            | Part::Rete
            | Part::Rule
            | Part::Back
            | Part::Alidade
            | Part::Pinnule
            | Part::Pin
            | Part::Wedge
            | Part::Ring => instrument.projection().equator_mm(),
        };
        let in_space = |drawn: Point| -> Option<Vector3<f64>> {
            let point = instrument.orientation().undrawn(drawn) * (1.0 / unit_mm);
            match part {
                Part::Mater => Some(scene.on_limb_face(point)),
                Part::Plate => {
                    // Drawn as it lies, turned in its notch.
                    let upright = point.turned(-instrument.faults().plate_turned);
                    let is_told = self.tells(Unknown::Latitude).is_some();
                    is_told.then(|| scene.on_plate_face(upright))
                }
                Part::Rete => {
                    let is_told = self.tells(Unknown::ReteTurn).is_some();
                    is_told.then(|| scene.on_rete_face(point))
                }
                Part::Rule => {
                    let is_told = self.tells(Unknown::RuleTurn).is_some();
                    is_told.then(|| scene.on_rule_face(point))
                }
                Part::Back
                | Part::Alidade
                | Part::Pinnule
                | Part::Pin
                | Part::Wedge
                | Part::Ring => None,
            }
        };
        let camera = scene.camera();
        let ray = |x: f64, y: f64| Some(camera.ray(&in_space(Point { x, y })?));
        let origin = ray(0.0, 0.0)?;
        let (right, down) = (ray(1.0, 0.0)? - origin, ray(0.0, 1.0)? - origin);
        Some(SeenFace {
            ray: [
                [right.x, down.x, origin.x],
                [right.y, down.y, origin.y],
                [right.z, down.z, origin.z],
            ],
            focal_px: camera.focal_px,
            centre_px: camera.centre_px.into(),
            distortion: camera.distortion,
        })
    }

    /// The radius of the plate's equator beside the limb: so large that the circle of the limb
    /// that is marked is the drawn one, if it can be, and else as it is drawn on the plate.
    fn limb_unit_mm(&self, scene: &Scene<'_>, instrument: &Instrument) -> f64 {
        let drawn = instrument.projection().equator_mm();
        let as_limb = instrument.limb_mm() / scene.limb_radius;
        let is_another = self
            .tells(Unknown::LimbRadius)
            .is_some_and(|limb| (instrument.limb_mm() / drawn - limb.at).abs() > 3.0 * limb.within);
        if is_another { drawn } else { as_limb }
    }
}
