use nalgebra::{DMatrix, DVector, Rotation3};

use super::beforehand::Beforehand;
use super::marks::Photograph;
use super::model::{Model, Scene};
use super::unknowns::{Unknown, value};
use crate::examining::Estimate;
use crate::specification::{HourLines, HouseLines};

/// So much of an expectation's error must be gone before something is told.
const TOLD: f64 = 0.5;

/// A picture as it was understood, kept to be asked more.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Standing {
    pub(super) photograph: Photograph,
    pub(super) beforehand: Beforehand,
    pub(super) turn: Rotation3<f64>,
    pub(super) hour_lines: HourLines,
    pub(super) house_lines: HouseLines,
    pub(super) at: DVector<f64>,
    pub(super) covariance: DMatrix<f64>,
    pub(super) scatter_px: f64,
}

impl Standing {
    pub(super) fn model(&self) -> Model<'_> {
        Model {
            photograph: &self.photograph,
            beforehand: self.beforehand.clone(),
            turn: self.turn,
            hour_lines: self.hour_lines,
            house_lines: self.house_lines,
            taken: Vec::new(),
        }
    }

    /// The standard error of an unknown.
    pub(super) fn within(&self, of: Unknown) -> f64 {
        let variance = self.covariance.get((of.index(), of.index()));
        variance.map_or(f64::INFINITY, |one| one.max(0.0).sqrt())
    }

    /// An unknown, if the picture tells something of it.
    pub(super) fn tells(&self, of: Unknown) -> Option<Estimate<f64>> {
        let within = self.within(of);
        let expected = self.beforehand.expected.get(of.index())?;
        (within < TOLD * expected.within).then(|| Estimate {
            at: value(&self.at, of),
            within,
        })
    }

    /// How well a hand marks in this picture, in pixels: as it has, and no better than a finger
    /// presses.
    pub(super) fn hand_px(&self) -> f64 {
        /// In parts of the picture's breadth: a pixel of a screen that shows the whole.
        const PRESSED: f64 = 1.0 / 1000.0;
        self.scatter_px
            .max(PRESSED * f64::from(self.photograph.size_px[0]))
    }
}

/// The picture as it would be with each unknown a little other.
pub(super) struct Moved<'a> {
    pub(super) here: Scene<'a>,
    others: Vec<(f64, Scene<'a>)>,
}

impl<'a> Moved<'a> {
    pub(super) fn of(model: &'a Model<'a>, at: &DVector<f64>) -> Option<Moved<'a>> {
        let others: Option<Vec<_>> = Unknown::ALL
            .into_iter()
            .map(|one| {
                let mut there = at.clone();
                *there.get_mut(one.index())? += one.step();
                Some((one.step(), model.scene(&there)?))
            })
            .collect();
        Some(Moved {
            here: model.scene(at)?,
            others: others?,
        })
    }

    /// What some numbers of the picture are, and how much each unknown changes them: a row for
    /// each number.
    pub(super) fn slopes(
        &self,
        of: impl Fn(&Scene<'_>) -> Option<Vec<f64>>,
    ) -> Option<(DVector<f64>, DMatrix<f64>)> {
        let here = DVector::from_vec(of(&self.here)?);
        let columns: Option<Vec<DVector<f64>>> = self
            .others
            .iter()
            .map(|(step, scene)| Some((DVector::from_vec(of(scene)?) - &here) / *step))
            .collect();
        Some((here, DMatrix::from_columns(&columns?)))
    }
}
