use nalgebra::{DMatrix, DVector, Vector2};

use super::camera::Pixel;
use super::candidates::candidates;
use super::marks::{Mark, Seen};
use super::model::Scene;
use super::standing::{Moved, Standing};
use super::unknowns::Unknown;

/// What may lie at a place in a picture.
#[derive(Clone, Debug, PartialEq)]
pub struct Proposal {
    /// What it may be.
    pub of: Seen,
    /// How far from there it should lie, in pixels, as far as is known by now.
    pub off_px: f64,
    /// How likely it is, in parts of one, beside all else that it may be.
    pub share: f64,
}

/// Of so many that lie nearest it is reckoned how likely they are.
const NEAREST: usize = 60;

/// How many marks are proposed, at most.
const PROPOSED: usize = 8;

/// How often a mark is of nothing that is known here: a scratch, a letter.
const ELSE: f64 = 0.1;

/// The rete's turn is known once it is known to so many degrees.
const TURN_KNOWN_DEG: f64 = 8.0;

impl Standing {
    /// What may lie at a place, the likeliest first.
    ///
    /// Each thing that fronts have is weighed by how often it is marked at all, and by how
    /// well the place fits it: how far it lies off beside how well that is known, as the
    /// unknowns hang together, and how well a hand marks. A line may be marked anywhere along
    /// it, a point in one place alone.
    pub(super) fn proposals(&self, at_px: [f64; 2]) -> Vec<Proposal> {
        let model = self.model();
        let Some(moved) = Moved::of(&model, &self.at) else {
            return Vec::new();
        };
        let pixel = Vector2::from(at_px);
        let turn_known = self.within(Unknown::ReteTurn) < TURN_KNOWN_DEG;
        let mut near: Vec<(Seen, f64, f64)> = candidates(&self.photograph)
            .into_iter()
            .filter_map(|(seen, weight)| {
                let off = lies(&moved.here, &pixel, &seen, turn_known)?;
                let off = off.iter().map(|one| one * one).sum::<f64>().sqrt();
                off.is_finite().then_some((seen, weight, off))
            })
            .collect();
        near.sort_by(|(_, _, one), (_, _, other)| one.total_cmp(other));
        near.truncate(NEAREST);
        let hand = self.hand_px();
        let breadth = f64::from(self.photograph.size_px[0]);
        let mut all: Vec<Proposal> = near
            .into_iter()
            .filter_map(|(of, weight, off_px)| {
                let (off, slopes) = moved.slopes(|scene| lies(scene, &pixel, &of, turn_known))?;
                let known = &slopes * &self.covariance * slopes.transpose();
                let fits = density(&off, known, hand, breadth)?;
                Some(Proposal {
                    of,
                    off_px,
                    share: weight * fits,
                })
            })
            .collect();
        let sum = all.iter().map(|one| one.share).sum::<f64>() + ELSE / (breadth * breadth);
        for one in &mut all {
            one.share /= sum;
        }
        all.sort_by(|one, other| other.share.total_cmp(&one.share));
        all.truncate(PROPOSED);
        all
    }
}

/// How far a place lies from something; while nobody knows how the rete is turned, from the
/// distance from the hole that a point of it has.
fn lies(scene: &Scene<'_>, pixel: &Pixel, seen: &Seen, turn_known: bool) -> Option<Vec<f64>> {
    if !turn_known && let Some(what) = scene.of_rete(seen) {
        return Some(vec![scene.off_distance(pixel, what)?]);
    }
    scene.off(&Mark {
        at_px: [pixel.x, pixel.y],
        of: seen.clone(),
    })
}

/// How densely marks of a thing lie here, by Gauss's law across it and evenly along it.
fn density(off: &DVector<f64>, mut known: DMatrix<f64>, hand: f64, breadth: f64) -> Option<f64> {
    for index in 0..known.nrows() {
        *known.get_mut((index, index))? += hand * hand;
    }
    let determinant = known.determinant();
    let far = (off.transpose() * known.try_inverse()? * off).sum();
    let across = std::f64::consts::TAU.powf(-0.5 * off.len() as f64) / determinant.sqrt();
    let along = breadth.powi(i32::try_from(off.len()).ok()? - 2);
    let fits = across * along * (-0.5 * far).exp();
    fits.is_finite().then_some(fits)
}
