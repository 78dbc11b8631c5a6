use nalgebra::{DMatrix, DVector};

use super::camera::Pixel;
use super::candidates::candidates;
use super::marks::{Mark, OfPlate, Seen};
use super::standing::{Moved, Standing};
use super::unknowns::Unknown;

/// What one wants to know of an instrument.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sought {
    /// For which latitude its plate is.
    Latitude,
    /// For which year its stars stand.
    Year,
    /// For which obliquity the plate's tropics are drawn.
    PlateObliquity,
    /// For which obliquity the ecliptic ring is.
    RingObliquity,
    /// Where the plate's lines lie, towards noon.
    PlateNoon,
    /// The same, towards the west.
    PlateWest,
    /// Whether the ring lies in its place beside the stars.
    RingOff,
}

impl Sought {
    /// All, what matters most first.
    pub const ALL: [Sought; 7] = [
        Sought::Latitude,
        Sought::Year,
        Sought::PlateObliquity,
        Sought::RingObliquity,
        Sought::PlateNoon,
        Sought::PlateWest,
        Sought::RingOff,
    ];

    fn unknown(self) -> Unknown {
        match self {
            Sought::Latitude => Unknown::Latitude,
            Sought::Year => Unknown::Year,
            Sought::PlateObliquity => Unknown::PlateObliquity,
            Sought::RingObliquity => Unknown::RingObliquity,
            Sought::PlateNoon => Unknown::PlateNoon,
            Sought::PlateWest => Unknown::PlateWest,
            Sought::RingOff => Unknown::RingOff,
        }
    }

    /// As well known as a picture tells it at best, in the unit of its unknown: what is known
    /// worst beside this is sought first.
    fn well_known(self) -> f64 {
        match self {
            Sought::Latitude | Sought::PlateObliquity | Sought::RingObliquity => 0.05,
            Sought::Year => 3.0,
            Sought::PlateNoon | Sought::PlateWest | Sought::RingOff => 0.001,
        }
    }
}

/// The mark that would tell something most, or the two that would together.
#[derive(Clone, Debug, PartialEq)]
pub struct Telling {
    /// What it would tell.
    pub of: Sought,
    /// The marks: what, and where in the picture that lies; nowhere while that is not known.
    pub marks: Vec<(Seen, Option<[f64; 2]>)>,
    /// The standard error that it has now, in degrees, years, or radii of the equator; None
    /// where the picture does not tell it.
    pub within: Option<f64>,
    /// The standard error that it would have then.
    pub then: f64,
}

/// A mark that might be put.
struct Possible {
    of: Seen,
    at: Pixel,
    /// How much each unknown moves it, a row for each of its numbers.
    slopes: DMatrix<f64>,
    /// The same, with how the unknowns hang together.
    known: DMatrix<f64>,
}

/// A mark that leaves more of the error tells nothing that is worth a press.
const WORTH: f64 = 0.97;

/// A single mark that leaves more of an error that nothing is known by is sought a second one.
const ALONE: f64 = 0.5;

/// Along a line it is tried at so many places at most.
const PLACES: usize = 12;

/// What is marked less often than this is not asked for.
const USUAL: f64 = 0.25;

impl Standing {
    /// For each thing that the picture does not tell, and for the one that it tells worst, the
    /// mark that would tell it most: by how much its error would shrink, as the unknowns hang
    /// together now.
    pub(super) fn tellings(&self) -> Vec<Telling> {
        let model = self.model();
        let Some(moved) = Moved::of(&model, &self.at) else {
            return Vec::new();
        };
        let possible = self.possible(&moved);
        let told = |one: &Sought| self.tells(one.unknown()).is_some();
        let worst = Sought::ALL.into_iter().filter(told).max_by(|one, other| {
            let beside = |one: &Sought| self.within(one.unknown()) / one.well_known();
            beside(one).total_cmp(&beside(other))
        });
        let untold = Sought::ALL.into_iter().filter(|one| !told(one));
        untold
            .filter_map(|one| self.telling(one, &possible, false))
            .chain(worst.and_then(|one| self.telling(one, &possible, true)))
            .collect()
    }

    /// Marks that might be put, where they lie as far as is known.
    fn possible(&self, moved: &Moved<'_>) -> Vec<Possible> {
        let [breadth, height] = self.photograph.size_px.map(f64::from);
        let room = 0.03 * breadth;
        let marked = |of: &Seen, at: &Pixel| {
            self.photograph.marks.iter().any(|mark| {
                mark.of == *of && (of.is_point() || (Pixel::from(mark.at_px) - at).norm() < room)
            })
        };
        let mut all = Vec::new();
        for (of, weight) in candidates(&self.photograph) {
            let is_house = matches!(of, Seen::OfPlate(OfPlate::House(_)));
            let is_beyond = matches!(of, Seen::Star(_)) && !moved.here.carries_star(&of);
            if weight < USUAL || is_house || is_beyond || of == Seen::Hole {
                continue;
            }
            for piece in moved.here.course(&of) {
                let step = piece.len().div_ceil(PLACES).max(1);
                // A stroke of the limb is marked at its inner end.
                let places = if matches!(of, Seen::Limb(_)) {
                    1
                } else {
                    PLACES
                };
                for at in piece.into_iter().step_by(step).take(places) {
                    let inside = (0.0..breadth).contains(&at.x) && (0.0..height).contains(&at.y);
                    if !inside || marked(&of, &at) {
                        continue;
                    }
                    let mark = Mark {
                        at_px: [at.x, at.y],
                        of: of.clone(),
                    };
                    if let Some((_, slopes)) = moved.slopes(|scene| scene.off(&mark)) {
                        let known = &slopes * &self.covariance;
                        all.push(Possible {
                            of: of.clone(),
                            at,
                            slopes,
                            known,
                        });
                    }
                }
            }
        }
        all
    }

    fn telling(&self, of: Sought, possible: &[Possible], is_told: bool) -> Option<Telling> {
        // No one knows which stars an instrument has; they are asked for where nothing else
        // tells.
        let wants_stars = matches!(of, Sought::Year | Sought::RingOff);
        let possible: Vec<&Possible> = possible
            .iter()
            .filter(|one| wants_stars || !matches!(one.of, Seen::Star(_)))
            .collect();
        let now = self.within(of.unknown());
        let left = |marks: &[&Possible]| self.left(of.unknown(), marks).unwrap_or(now);
        let one = possible
            .iter()
            .map(|one| (left(&[*one]), *one))
            .min_by(|(one, _), (other, _)| one.total_cmp(other))?;
        let (mut then, mut marks) = (one.0, vec![one.1]);
        if !is_told && then > ALONE * now {
            // A place of each alone: pairs are many.
            let mut kinds: Vec<&Possible> = Vec::new();
            for one in possible.iter().copied() {
                if kinds.last().is_none_or(|last| last.of != one.of) {
                    kinds.push(one);
                }
            }
            for (number, one) in kinds.iter().enumerate() {
                for other in kinds.iter().skip(number + 1) {
                    let both = left(&[*one, *other]);
                    // A second press must be worth it.
                    if both < 0.7 * then {
                        (then, marks) = (both, vec![*one, *other]);
                    }
                }
            }
        }
        (then < WORTH * now).then(|| Telling {
            of,
            marks: marks
                .into_iter()
                .map(|one| (one.of.clone(), self.place(one)))
                .collect(),
            within: is_told.then_some(now),
            then,
        })
    }

    /// The standard error that an unknown would have with some marks more.
    fn left(&self, of: Unknown, marks: &[&Possible]) -> Option<f64> {
        let column = of.index();
        let pulls: Vec<f64> = marks
            .iter()
            .flat_map(|one| one.known.column(column).iter().copied().collect::<Vec<_>>())
            .collect();
        let pulls = DVector::from_vec(pulls);
        let mut scatter = DMatrix::zeros(pulls.len(), pulls.len());
        let mut down = 0;
        for one in marks {
            let mut right = 0;
            for other in marks {
                let block = &one.known * other.slopes.transpose();
                scatter
                    .view_mut((down, right), (block.nrows(), block.ncols()))
                    .copy_from(&block);
                right += other.slopes.nrows();
            }
            down += one.slopes.nrows();
        }
        for index in 0..scatter.nrows() {
            *scatter.get_mut((index, index))? += self.scatter_px.powi(2);
        }
        let gained = (pulls.transpose() * scatter.try_inverse()? * pulls).sum();
        let variance = self.within(of).powi(2) - gained;
        variance.is_finite().then(|| variance.max(0.0).sqrt())
    }

    /// Where a mark would lie, if that is known to some hundredths of the picture.
    fn place(&self, one: &Possible) -> Option<[f64; 2]> {
        let spread = (&one.known * one.slopes.transpose()).trace().sqrt();
        (spread < 0.03 * f64::from(self.photograph.size_px[0])).then_some([one.at.x, one.at.y])
    }
}
