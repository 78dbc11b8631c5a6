//! An instrument from its photograph: points that were recognised in a picture of the front,
//! and the camera, the depths of limb, plate and rete, and what the instrument was made for,
//! found from them all at once.
//!
//! Each unknown has an expectation so wide that a picture which says something of it
//! overrules it; where its error stays near that of the expectation, the picture tells
//! nothing of it, and nothing is told.

mod adjust;
mod back_found;
mod back_marks;
mod beforehand;
mod begin;
mod camera;
mod candidates;
mod course;
mod face;
mod held;
mod marks;
mod marks_toml;
mod model;
mod proposing;
mod standing;
mod telling;
mod too_little;
mod unknowns;

use nalgebra::DVector;
use sky::{Angle, Latitude};

use self::adjust::{Adjusted, adjusted};
pub use self::back_found::{BackMarkFound, CornerFound, PhotographedBack};
pub use self::back_marks::{BackMark, BackPhotograph, Corner, SeenOnBack};
use self::beforehand::Beforehand;
use self::begin::begin;
use self::candidates::{candidates, first_of_limb};
pub use self::face::SeenFace;
pub use self::held::Held;
pub use self::marks::{Mark, OfPlate, Photograph, Seen, SeenError};
pub use self::marks_toml::PhotographError;
use self::model::{Model, ROUGH_PX};
pub use self::proposing::Proposal;
use self::standing::Standing;
pub use self::telling::{Sought, Telling};
pub use self::too_little::TooLittle;
use self::unknowns::{Unknown, value};
use crate::examining::{Estimate, median};
use crate::instrument::Instrument;
use crate::length::Length;
use crate::line::Part;
use crate::specification::{HourLines, HouseLines};

/// What a picture tells of an instrument. What it does not tell is None.
#[derive(Clone, Debug, PartialEq)]
pub struct Photographed {
    /// How far a mark lies from where it should, as a rule, in pixels; without those that are
    /// doubtful.
    pub scatter_px: f64,
    /// How far the instrument leans away from the eye.
    pub lean: Angle,
    /// The latitude of the plate.
    pub latitude: Option<Estimate<Latitude>>,
    /// The obliquity by which the plate's tropics are drawn.
    pub plate_obliquity: Option<Estimate<Angle>>,
    /// The obliquity of the ecliptic ring.
    pub ring_obliquity: Option<Estimate<Angle>>,
    /// The year for which the stars stand.
    pub year: Option<Estimate<f64>>,
    /// How the rete is turned: the hour angle of 0° Aries.
    pub rete_turn: Option<Estimate<Angle>>,
    /// How the rule stands: the hour angle of its edge.
    pub rule_turn: Option<Estimate<Angle>>,
    /// How far the plate's lines lie off the hole, towards noon, in parts of the limb's radius.
    pub off_noon: Option<Estimate<f64>>,
    /// The same, towards the west.
    pub off_west: Option<Estimate<f64>>,
    /// How far the rete lies off the hole, whichever way, in parts of the limb's radius: a
    /// loose one lies aside.
    pub rete_off: Option<Estimate<f64>>,
    /// How far the ring lies out of its place beside the stars, towards 0° Capricorn, in parts
    /// of the limb's radius.
    pub ring_off: Option<Estimate<f64>>,
    /// How far the plate is turned in its notch.
    pub plate_turned: Option<Estimate<Angle>>,
    /// The radius of the plate's equator, in parts of the limb's.
    pub equator: Option<Estimate<f64>>,
    /// The limb's radius, if its diameter is known.
    pub limb_radius: Option<Length>,
    /// How the unequal hours are drawn.
    pub hour_lines: Option<HourLines>,
    /// By which method the house lines are drawn.
    pub house_lines: Option<HouseLines>,
    /// Every mark, in its order: how far it is off.
    pub marks: Vec<MarkFound>,
    standing: Standing,
}

/// A mark beside where it should be.
#[derive(Clone, Debug, PartialEq)]
pub struct MarkFound {
    /// What was seen there.
    pub of: Seen,
    /// Where it was marked, in pixels.
    pub at_px: [f64; 2],
    /// How far it is off, in pixels.
    pub off_px: f64,
    /// From where it should be to where it is, in pixels to the right and down.
    pub apart_px: [f64; 2],
    /// Whether it is so far off that it was left out of account: a slip of the hand, a name
    /// that is not its own, or brass that is bent.
    pub doubtful: bool,
}

/// Something that fronts have, as it lies in the picture.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawn {
    /// What it is; None for the circle of the limb.
    pub of: Option<Seen>,
    /// Its pieces, each a row of places in pixels; of a point one place.
    pub pieces: Vec<Vec<[f64; 2]>>,
}

/// No hand marks better than this, in pixels.
const LEAST_PX: f64 = 0.2;

/// How far off a mark may be before it is doubted, in times the scatter.
const DOUBTFUL: f64 = 4.5;

/// Of fewer marks of a known instrument none is doubted: which one is wrong cannot be told.
const SPARED: usize = 8;

/// So much better must one manner of drawing fit than another, in squares of the scatter:
/// four times it, which chance alone does in one picture of some fifteen thousand.
const BETTER: f64 = 16.0;

impl Photographed {
    /// Finds what the marks determine.
    ///
    /// # Errors
    /// When they do not tell how the picture was taken.
    pub fn of(photograph: &Photograph) -> Result<Photographed, TooLittle> {
        Photographed::after(photograph, &Beforehand::nothing())
    }

    /// The same of a piece that is to be held against its specification. A face that lies
    /// deeper, seen aslant, looks as if it lay beside its place; here its hole is where the
    /// limb's middle is and the rete turns about it, so that what is beside it is depth.
    ///
    /// # Errors
    /// When the marks do not tell how the picture was taken.
    pub fn of_delivered(photograph: &Photograph) -> Result<Photographed, TooLittle> {
        Photographed::after(photograph, &Beforehand::delivered())
    }

    fn after(photograph: &Photograph, beforehand: &Beforehand) -> Result<Photographed, TooLittle> {
        let mut best = Fit::best(photograph, beforehand)?;
        let has = |is: fn(&Seen) -> bool| photograph.marks.iter().any(|mark| is(&mark.of));
        let mut hour_lines = None;
        if has(|seen| matches!(seen, Seen::OfPlate(OfPlate::UnequalHour(_)))) {
            let mut other = best.model.clone();
            other.hour_lines = HourLines::Curves;
            hour_lines = best.against(other, |model| model.hour_lines);
        }
        let mut house_lines = None;
        if has(|seen| matches!(seen, Seen::OfPlate(OfPlate::House(_)))) {
            let mut other = best.model.clone();
            other.house_lines = HouseLines::Campanus;
            house_lines = best.against(other, |model| model.house_lines);
        }
        best.told(hour_lines, house_lines).ok_or(TooLittle::NoFit)
    }

    /// Finds how an instrument that one has is set, with one of its plates in it: what it was
    /// made as is known, so that few marks are enough.
    ///
    /// # Errors
    /// When the marks do not tell how the picture was taken.
    pub fn of_known(
        photograph: &Photograph,
        instrument: &Instrument,
        plate: Latitude,
    ) -> Result<Photographed, TooLittle> {
        let beforehand = Beforehand::instrument(instrument, plate, photograph);
        let best = Fit::best(photograph, &beforehand)?;
        best.told(None, None).ok_or(TooLittle::NoFit)
    }

    /// What may lie at a place of the picture, in pixels, the likeliest first.
    #[must_use]
    pub fn proposals(&self, at_px: [f64; 2]) -> Vec<Proposal> {
        self.standing.proposals(at_px)
    }

    /// The marks that would tell most: of each thing that the picture does not tell, and of
    /// the one that it tells worst.
    #[must_use]
    pub fn tellings(&self) -> Vec<Telling> {
        self.standing.tellings()
    }

    /// Every mark beside where a specification has its line; in their order, None where it
    /// has none.
    #[must_use]
    pub fn held(&self, instrument: &Instrument, plate: Latitude) -> Vec<Option<Held>> {
        self.standing.held(instrument, plate)
    }

    /// How finely lengths of an instrument are told by this picture: one standard error of a
    /// mark.
    #[must_use]
    pub fn tells_to(&self, instrument: &Instrument) -> Option<Length> {
        self.standing.tells_to(instrument)
    }

    /// A part of the front as the picture shows it, laid so that its lines are where those of
    /// an instrument's drawing are; None where the picture does not tell how it lies.
    #[must_use]
    pub fn face(&self, part: Part, instrument: &Instrument) -> Option<SeenFace> {
        self.standing.face(part, instrument)
    }

    /// The lines of the instrument as they were found, where they lie in the picture: the
    /// circles, the horizon, every tenth almucantar, the ring with its signs, and whatever was
    /// marked.
    #[must_use]
    pub fn drawn(&self) -> Vec<Drawn> {
        let standing = &self.standing;
        let model = standing.model();
        let Some(scene) = model.scene(&standing.at) else {
            return Vec::new();
        };
        let pieces = |pieces: Vec<Vec<nalgebra::Vector2<f64>>>| -> Vec<Vec<[f64; 2]>> {
            let place = |at: &nalgebra::Vector2<f64>| [at.x, at.y];
            pieces
                .iter()
                .map(|piece| piece.iter().map(place).collect())
                .collect()
        };
        let mut all = vec![Drawn {
            of: None,
            pieces: pieces(scene.limb_course()),
        }];
        let marked: Vec<&Seen> = standing
            .photograph
            .marks
            .iter()
            .map(|one| &one.of)
            .collect();
        for (of, weight) in candidates(&standing.photograph) {
            if self.is_drawn(&of, weight) || marked.contains(&&of) {
                all.push(Drawn {
                    pieces: pieces(scene.course(&of)),
                    of: Some(of),
                });
            }
        }
        // What was marked and is no candidate: a half degree, a star by its designation.
        for of in marked {
            if !all.iter().any(|one| one.of.as_ref() == Some(of)) {
                all.push(Drawn {
                    of: Some(of.clone()),
                    pieces: pieces(scene.course(of)),
                });
            }
        }
        all
    }

    /// Whether something is drawn that was not marked: what every instrument has, where it is
    /// known where it lies.
    fn is_drawn(&self, of: &Seen, weight: f64) -> bool {
        const USUAL: f64 = 1.0;
        let has_plate = self.latitude.is_some();
        let has_rete = self.rete_turn.is_some();
        weight >= USUAL
            && match of {
                Seen::Limb(_) => true,
                Seen::OfPlate(_) => has_plate,
                Seen::Degree(_) => has_rete,
                Seen::Ecliptic
                | Seen::Hole
                | Seen::HoleEdge
                | Seen::Star(_)
                | Seen::Almuri
                | Seen::Rule => false,
            }
            || (has_rete && *of == Seen::Ecliptic)
    }
}

impl Photograph {
    /// What is marked before anything can be proposed by its place: strokes spread round the
    /// limb, in this order.
    #[must_use]
    pub fn first_of_limb(&self) -> Vec<Seen> {
        first_of_limb(self)
    }
}

/// A model with its unknowns found.
struct Fit<'a> {
    model: Model<'a>,
    found: Adjusted,
    /// How far each mark is off, in pixels.
    off: Vec<f64>,
    scatter_px: f64,
    good: Vec<bool>,
}

impl<'a> Fit<'a> {
    /// Of the ways in which the picture can be understood, the one that leaves least.
    fn best(photograph: &'a Photograph, beforehand: &Beforehand) -> Result<Fit<'a>, TooLittle> {
        let begun = begin(photograph, beforehand)?;
        let mut fits: Vec<Fit<'_>> = begun
            .iter()
            .filter_map(|(model, at)| Fit::of(model.clone(), at))
            .collect();
        fits.sort_by(|one, other| one.cost().total_cmp(&other.cost()));
        fits.into_iter().next().ok_or(TooLittle::NoFit)
    }

    /// First with marks that are far off weighing less the farther they are, then without
    /// those that stay far off.
    fn of(mut model: Model<'a>, begin: &DVector<f64>) -> Option<Fit<'a>> {
        let marks = &model.photograph.marks;
        let expected = model.beforehand.expected.clone();
        // A few marks do not tell how they scatter.
        let least_px = if model.beforehand.is_known {
            ROUGH_PX
        } else {
            LEAST_PX
        };
        let mut at = begin.clone();
        // Few marks of a known instrument begin far off, and none of them can be spared.
        let (rounds, mut scale) = if model.beforehand.is_known {
            (8, 100.0 * ROUGH_PX)
        } else {
            (5, 8.0 * ROUGH_PX)
        };
        let spared = !model.beforehand.is_known || marks.len() >= SPARED;
        model.taken = (0..marks.len()).collect();
        for _ in 0..rounds {
            let off = model.offs(&at)?;
            // Cauchy's weights: a mark that is wrong by much pulls no more than others.
            let weights = model.weights(&off, |off| 1.0 / (1.0 + (off / scale).powi(2)), scale)?;
            at = adjusted(&at, &expected, &model, &weights)?.at;
            scale = (scale / 2.0).max(2.0 * scatter(&model.offs(&at)?).max(least_px));
        }
        let mut scatter_px = scatter(&model.offs(&at)?).max(least_px);
        let mut good = Vec::new();
        let mut found = None;
        for _ in 0..8 {
            let off = model.offs(&at)?;
            let now: Vec<bool> = off
                .iter()
                .map(|one| !spared || *one <= DOUBTFUL * scatter_px)
                .collect();
            let as_before = now == good;
            good = now;
            let taken = (0..marks.len()).filter(|number| good.get(*number) == Some(&true));
            model.taken = taken.collect();
            let weights = model.weights(&off, |_| 1.0, scatter_px)?;
            let here = adjusted(&at, &expected, &model, &weights)?;
            at = here.at.clone();
            let before = scatter_px;
            scatter_px = rms(&model, &here, scatter_px)?.max(least_px);
            found = Some(here);
            if as_before && (scatter_px / before - 1.0).abs() < 0.01 {
                break;
            }
        }
        let found = found?;
        let off = model.offs(&found.at)?;
        Some(Fit {
            model,
            found,
            off,
            scatter_px,
            good,
        })
    }

    /// The less the better, with a price for each mark that is left out.
    fn cost(&self) -> f64 {
        let all = self.off.iter().zip(&self.good);
        all.map(|(off, good)| {
            if *good {
                off * off
            } else {
                (DOUBTFUL * ROUGH_PX).powi(2)
            }
        })
        .sum()
    }

    /// Squares of how far every mark is off, none of them more than one that is just doubted
    /// where marks scatter so. Whether the fit left a mark out is no matter, so that one with
    /// it and one without can be held against each other.
    fn squares(&self, scatter_px: f64) -> f64 {
        let most = DOUBTFUL * scatter_px;
        self.off.iter().map(|off| off.min(most).powi(2)).sum()
    }

    /// Which of this and another manner of drawing fits the marks; this fit becomes the
    /// better one. None where neither fits clearly better.
    fn against<T>(&mut self, other: Model<'a>, manner: impl Fn(&Model<'a>) -> T) -> Option<T> {
        let other = Fit::of(other, &self.found.at)?;
        let scatter_px = self.scatter_px.min(other.scatter_px);
        let better = (other.squares(scatter_px) - self.squares(scatter_px)) / scatter_px.powi(2);
        if better < 0.0 {
            *self = other;
        }
        (better.abs() > BETTER).then(|| manner(&self.model))
    }

    fn told(
        self,
        hour_lines: Option<HourLines>,
        house_lines: Option<HouseLines>,
    ) -> Option<Photographed> {
        let photograph = self.model.photograph;
        let standing = Standing {
            photograph: photograph.clone(),
            beforehand: self.model.beforehand.clone(),
            turn: self.model.turn,
            hour_lines: self.model.hour_lines,
            house_lines: self.model.house_lines,
            at: self.found.at,
            covariance: self.found.covariance,
            scatter_px: self.scatter_px,
        };
        let angle = |of: Unknown| standing.tells(of).map(|one| degrees(one, Angle::from_deg));
        let limb = value(&standing.at, Unknown::LimbRadius);
        let in_limb = |of: Unknown| {
            standing.tells(of).map(|one| Estimate {
                at: one.at / limb,
                within: one.within / limb,
            })
        };
        let equator = standing.tells(Unknown::LimbRadius).map(|one| Estimate {
            at: 1.0 / one.at,
            within: one.within / one.at.powi(2),
        });
        let scene = self.model.scene(&standing.at)?;
        let marks: Option<Vec<MarkFound>> = photograph
            .marks
            .iter()
            .zip(self.off.iter().zip(&self.good))
            .map(|(mark, (off, good))| {
                Some(MarkFound {
                    of: mark.of.clone(),
                    at_px: mark.at_px,
                    off_px: *off,
                    apart_px: scene.apart(mark)?.into(),
                    doubtful: !good,
                })
            })
            .collect();
        Some(Photographed {
            scatter_px: self.scatter_px,
            lean: self.model.lean(&standing.at),
            latitude: standing
                .tells(Unknown::Latitude)
                .map(|one| degrees(one, |deg| Latitude::from_deg(deg).unwrap_or_default())),
            plate_obliquity: angle(Unknown::PlateObliquity),
            ring_obliquity: angle(Unknown::RingObliquity),
            year: standing.tells(Unknown::Year),
            rete_turn: angle(Unknown::ReteTurn),
            rule_turn: angle(Unknown::RuleTurn),
            off_noon: in_limb(Unknown::PlateNoon),
            off_west: in_limb(Unknown::PlateWest),
            rete_off: in_limb(Unknown::ReteAries)
                .zip(in_limb(Unknown::ReteAcross))
                .map(|(aries, across)| Estimate {
                    at: aries.at.hypot(across.at),
                    within: aries.within.max(across.within),
                }),
            ring_off: in_limb(Unknown::RingOff),
            plate_turned: angle(Unknown::PlateTurn),
            equator,
            limb_radius: photograph.limb_diameter.map(|across| across / 2.0),
            hour_lines,
            house_lines,
            marks: marks?,
            standing,
        })
    }
}

fn degrees<T>(one: Estimate<f64>, of: impl Fn(f64) -> T) -> Estimate<T> {
    Estimate {
        at: of(one.at),
        within: of(one.within),
    }
}

/// How far a mark is off as a rule: by the middle of all, which few that are wrong do not move.
fn scatter(off: &[f64]) -> f64 {
    /// The middle of the sizes of numbers that scatter as Gauss has it, in parts of their
    /// standard error.
    const MIDDLE: f64 = 0.6745;
    median(off.to_vec()) / MIDDLE
}

/// The standard error of a coordinate, with what the unknowns have taken up.
fn rms(model: &Model<'_>, found: &Adjusted, scatter_px: f64) -> Option<f64> {
    use self::adjust::{Lefts, slopes};
    let left = model.lefts(&found.at)?;
    let slopes = slopes(&found.at, &model.beforehand.expected, model)?;
    let taken_up = (&slopes * &found.covariance * slopes.transpose()).trace() / scatter_px.powi(2);
    let free = (left.len() as f64 - taken_up).max(1.0);
    Some((left.norm_squared() / free).sqrt())
}
