//! The back in its photograph: the camera by the degrees of the zodiac scale, and what lies
//! under the other marks.

use moment::Calendar;
use nalgebra::{DVector, Rotation3, Vector2, Vector3};
use sky::Angle;

use super::adjust::{Expected, Lefts, STEP, adjusted};
use super::back_marks::{BackPhotograph, Corner, SeenOnBack};
use super::camera::{Camera, Pixel, agreeing};
use super::model::ROUGH_PX;
use super::too_little::TooLittle;
use crate::date_scale::{DateScale, YearDay};
use crate::examining::{Estimate, MeasuredCalendar, NoYear, by_calendar, julian_scale, median};

/// What a picture tells of a back. What it does not tell is None.
#[derive(Clone, Debug, PartialEq)]
pub struct PhotographedBack {
    /// How far a mark lies from where it should, as a rule, in pixels; without those that are
    /// doubtful.
    pub scatter_px: f64,
    /// How far the back leans away from the eye.
    pub lean: Angle,
    /// How far the hole lies off the middle of the zodiac scale, to the right and down, in parts
    /// of its radius.
    pub hole_off: Option<[Estimate<f64>; 2]>,
    /// For which year the calendar scale is.
    pub calendar: Option<Result<Estimate<f64>, NoYear>>,
    /// How the corners of the shadow square stand.
    pub corners: Vec<CornerFound>,
    /// Every mark, in its order.
    pub marks: Vec<BackMarkFound>,
    /// The circle of the zodiac and its signs, where they lie in the picture.
    pub drawn: Vec<Vec<[f64; 2]>>,
    scene: Scene,
    /// The Julian scale beside which dates were seen, and how far on they are.
    dates: (DateScale, Angle),
}

/// A corner of the shadow square: where both shadows are of twelve points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CornerFound {
    /// Which.
    pub of: Corner,
    /// At which altitude it stands, seen from the hole: 45° in a square that is true.
    pub altitude: Estimate<Angle>,
    /// How far it lies from the hole, in parts of the zodiac scale's radius.
    pub reach: f64,
}

/// A mark of a back beside where it should be.
#[derive(Clone, Debug, PartialEq)]
pub struct BackMarkFound {
    /// What was seen there.
    pub of: SeenOnBack,
    /// Where it was marked, in pixels.
    pub at_px: [f64; 2],
    /// Where it should be, in pixels: a date where the others have it, a corner at 45° about
    /// the hole.
    pub should_px: [f64; 2],
    /// Whether it is so far off that it was left out of account.
    pub doubtful: bool,
}

/// No hand marks better than this, in pixels.
const LEAST_PX: f64 = 0.2;

/// How far off a mark may be before it is doubted, in times the scatter.
const DOUBTFUL: f64 = 4.5;

/// A date that lies so far from where the others have it is doubted: two days and more.
const DATE_OFF: Angle = Angle::from_deg(1.8);

/// A Julian scale of an earlier year is a Gregorian one: there the equinox stands where the
/// Julian calendar had it in the fourth century, and no astrolabe of that time is known.
const EARLIEST: f64 = 700.0;

/// In so many years the Sun comes a degree further on by a date of the Julian calendar: in 128
/// the equinox comes a day earlier.
const YEARS_A_DEGREE: f64 = 128.0 * 365.25 / 360.0;

/// What is sought, in the order of its numbers. Lengths are in radii of the zodiac scale.
#[derive(Clone, Copy)]
enum Sought {
    Focal,
    AxisRight,
    AxisDown,
    TurnRight,
    TurnDown,
    TurnAxis,
    BeforeRight,
    BeforeDown,
    Distance,
    Distortion,
    HoleRight,
    HoleDown,
    HoleRadius,
}

/// What is expected of each, as of a front.
const EXPECTED: [Expected; 13] = {
    const fn about(at: f64, within: f64) -> Expected {
        Expected { at, within }
    }
    [
        about(0.262, 0.5),
        about(0.0, 0.02),
        about(0.0, 0.02),
        about(0.0, 3.0),
        about(0.0, 3.0),
        about(0.0, 3.0),
        about(0.0, 3.0),
        about(0.0, 3.0),
        about(1.8, 3.0),
        about(0.0, 0.1),
        about(0.0, 0.02),
        about(0.0, 0.02),
        about(0.04, 0.03),
    ]
};

impl PhotographedBack {
    /// Finds what the marks determine.
    ///
    /// # Errors
    /// When they do not tell how the picture was taken.
    pub fn of(photograph: &BackPhotograph) -> Result<PhotographedBack, TooLittle> {
        let fit = Fit::best(photograph)?;
        let scene = fit.model.scene(&fit.at).ok_or(TooLittle::NoFit)?;
        let dates = fit.dates(&scene);
        let middle = dates.middle();
        let has_hole = photograph
            .marks
            .iter()
            .any(|mark| matches!(mark.of, SeenOnBack::Hole | SeenOnBack::HoleEdge));
        let hole_off = has_hole.then(|| {
            [Sought::HoleRight, Sought::HoleDown].map(|one| Estimate {
                at: fit.value(one),
                within: fit.within(one),
            })
        });
        let marks = photograph.marks.iter().enumerate().map(|(number, mark)| {
            let off_date = dates.off(number, middle).unwrap_or_default();
            let should = scene.should(mark.at_px, mark.of, off_date)?;
            Some(BackMarkFound {
                of: mark.of,
                at_px: mark.at_px,
                should_px: should.into(),
                doubtful: !fit.good.get(number).is_some_and(|good| *good)
                    || off_date.abs() > DATE_OFF,
            })
        });
        let marks: Option<Vec<_>> = marks.collect();
        Ok(PhotographedBack {
            scatter_px: fit.scatter_px,
            lean: fit.lean(&scene),
            hole_off,
            calendar: fit.year(&dates, middle),
            corners: fit.corners(&scene),
            marks: marks.ok_or(TooLittle::NoFit)?,
            drawn: scene.drawn(),
            dates: (dates.scale, middle),
            scene,
        })
    }

    /// What may lie at a place of the picture, in pixels, the nearest first: by how far that is
    /// from the hole a degree of the zodiac, a date, a corner of the square, or the hole.
    #[must_use]
    pub fn proposals(&self, at_px: [f64; 2]) -> Vec<SeenOnBack> {
        /// In parts of the zodiac scale's radius: how far in it reaches.
        const SCALE: f64 = 0.96;
        /// How far in a calendar may lie; nearer the hole is the shadow square.
        const CALENDAR: f64 = 0.6;
        /// How far out a hole's edge may lie.
        const HOLE: f64 = 0.12;
        let Some(from_hole) = self.scene.under(at_px).map(|at| at - self.scene.hole) else {
            return Vec::new();
        };
        let far = from_hole.norm();
        let degree = degree_at(from_hole);
        if far < HOLE {
            return vec![SeenOnBack::HoleEdge, SeenOnBack::Hole];
        }
        if far < CALENDAR {
            let corners = Corner::ALL.into_iter().map(SeenOnBack::Corner);
            let mut corners: Vec<_> = corners.collect();
            if from_hole.x > 0.0 {
                corners.reverse();
            }
            return corners;
        }
        let whole = |step: f64| {
            let deg = (degree.deg() / step).round() * step;
            SeenOnBack::Degree(Angle::from_deg(deg).in_turn())
        };
        let mut degrees = vec![whole(10.0), whole(1.0)];
        degrees.dedup();
        let (scale, middle) = &self.dates;
        // The nearest stroke: half a day on, the day that has begun.
        let half_a_day = Angle::from_deg(0.5);
        let date = SeenOnBack::Date(YearDay {
            part: 0.0,
            ..scale.date_at(degree - *middle + half_a_day)
        });
        let at = if far < SCALE { 0 } else { degrees.len() };
        degrees.insert(at, date);
        degrees
    }
}

impl BackPhotograph {
    /// What is marked before anything can be proposed by its place: the beginnings of the
    /// signs, in this order.
    #[must_use]
    pub fn first_of_zodiac(&self) -> Vec<SeenOnBack> {
        let marked = |degree: Angle| {
            self.marks.iter().any(|mark| {
                matches!(mark.of, SeenOnBack::Degree(one) if one.to(degree).deg().abs() < 0.5)
            })
        };
        // Every second one first: six of them lie all round it.
        let signs = (0..6)
            .map(|sign| sign * 60)
            .chain((0..6).map(|sign| sign * 60 + 30));
        signs
            .map(|deg| Angle::from_deg(f64::from(deg)))
            .filter(|degree| !marked(*degree))
            .map(SeenOnBack::Degree)
            .collect()
    }
}

/// A back before a camera, but for the unknowns.
#[derive(Clone)]
struct Model<'a> {
    photograph: &'a BackPhotograph,
    turn: Rotation3<f64>,
    taken: Vec<usize>,
}

/// The same with them.
#[derive(Clone, Debug, PartialEq)]
struct Scene {
    camera: Camera,
    hole: Vector2<f64>,
    hole_radius: f64,
}

/// Where a degree of the zodiac stands as one looks at the back, the scale's radius being one:
/// the head of Aries on the left, the signs against the clock.
fn on_zodiac(degree: Angle) -> Vector2<f64> {
    let (sine, cosine) = degree.sin_cos();
    Vector2::new(-cosine, sine)
}

/// The degree that stands in a direction from its middle.
fn degree_at(point: Vector2<f64>) -> Angle {
    Angle::atan2(point.y, -point.x).in_turn()
}

fn value(at: &DVector<f64>, of: Sought) -> f64 {
    at.get(of as usize).copied().unwrap_or(f64::NAN)
}

impl Model<'_> {
    fn scene(&self, at: &DVector<f64>) -> Option<Scene> {
        let of = |sought| value(at, sought);
        if !at.iter().all(|one| one.is_finite()) {
            return None;
        }
        let [breadth, height] = self.photograph.size_px.map(f64::from);
        let lean = Vector3::new(
            of(Sought::TurnRight),
            of(Sought::TurnDown),
            of(Sought::TurnAxis),
        );
        Some(Scene {
            camera: Camera {
                focal_px: of(Sought::Focal).exp() * breadth,
                centre_px: Vector2::new(
                    breadth / 2.0 + of(Sought::AxisRight) * breadth,
                    height / 2.0 + of(Sought::AxisDown) * breadth,
                ),
                turn: Rotation3::new(lean) * self.turn,
                before: Vector3::new(of(Sought::BeforeRight), of(Sought::BeforeDown), 1.0)
                    * of(Sought::Distance).exp(),
                distortion: of(Sought::Distortion),
            },
            hole: Vector2::new(of(Sought::HoleRight), of(Sought::HoleDown)),
            hole_radius: of(Sought::HoleRadius),
        })
    }

    /// How far each mark is off, in pixels; None of what has no place of its own.
    fn offs(&self, at: &DVector<f64>) -> Option<Vec<Option<f64>>> {
        let scene = self.scene(at)?;
        let marks = self.photograph.marks.iter();
        Some(
            marks
                .map(|mark| {
                    let off = scene.off(mark.at_px, mark.of)?;
                    Some(off.iter().map(|one| one * one).sum::<f64>().sqrt())
                })
                .collect(),
        )
    }
}

impl Lefts for Model<'_> {
    fn lefts(&self, at: &DVector<f64>) -> Option<DVector<f64>> {
        let scene = self.scene(at)?;
        let mut all = Vec::new();
        for number in &self.taken {
            let mark = self.photograph.marks.get(*number)?;
            all.extend(scene.off(mark.at_px, mark.of)?);
        }
        Some(DVector::from_vec(all))
    }
}

impl Scene {
    fn pixel(&self, point: Vector2<f64>) -> Option<Pixel> {
        self.camera.seen(&point.push(0.0))
    }

    fn under(&self, at_px: [f64; 2]) -> Option<Vector2<f64>> {
        self.camera.on_plane(&Vector2::from(at_px), 0.0)
    }

    /// How far a mark lies from where it should, in pixels: on both axes, or across the hole's
    /// edge.
    fn off(&self, at_px: [f64; 2], of: SeenOnBack) -> Option<Vec<f64>> {
        let pixel = Vector2::from(at_px);
        let beside = |point| {
            let off = self.pixel(point)? - pixel;
            Some(vec![off.x, off.y])
        };
        match of {
            SeenOnBack::Degree(degree) => beside(on_zodiac(degree)),
            SeenOnBack::Hole => beside(self.hole),
            SeenOnBack::HoleEdge => {
                let from_hole = self.under(at_px)? - self.hole;
                let far = from_hole.norm();
                let nearest = self.pixel(self.hole + from_hole * (self.hole_radius / far))?;
                Some(vec![
                    (nearest - pixel).norm() * (self.hole_radius - far).signum(),
                ])
            }
            SeenOnBack::Date(_) | SeenOnBack::Corner(_) => None,
        }
    }

    /// Where a mark should be; a date is off by an angle about the hole.
    fn should(&self, at_px: [f64; 2], of: SeenOnBack, off_date: Angle) -> Option<Pixel> {
        let from_hole = self.under(at_px)? - self.hole;
        let far = from_hole.norm();
        let diagonal = far * std::f64::consts::FRAC_1_SQRT_2;
        self.pixel(match of {
            SeenOnBack::Degree(degree) => on_zodiac(degree),
            SeenOnBack::Hole => self.hole,
            SeenOnBack::HoleEdge => self.hole + from_hole * (self.hole_radius / far),
            SeenOnBack::Date(_) => self.hole + on_zodiac(degree_at(from_hole) - off_date) * far,
            SeenOnBack::Corner(Corner::Left) => self.hole + Vector2::new(-diagonal, diagonal),
            SeenOnBack::Corner(Corner::Right) => self.hole + Vector2::new(diagonal, diagonal),
        })
    }

    /// The degree of the zodiac that the alidade, turning about the hole, shows with a place,
    /// and how finely a pixel tells it.
    fn shown_with(&self, at_px: [f64; 2]) -> Option<(Angle, Angle)> {
        let degree = |at_px| {
            let along = (self.under(at_px)? - self.hole).normalize();
            // Where its edge meets the circle of the scale.
            let nearest = -self.hole.dot(&along);
            let half = (1.0 - (self.hole + along * nearest).norm_squared()).sqrt();
            Some(degree_at(self.hole + along * (nearest + half)))
        };
        let here = degree(at_px)?;
        let [right, down] = at_px;
        let by = [
            here.to(degree([right + 1.0, down])?).rad(),
            here.to(degree([right, down + 1.0])?).rad(),
        ];
        Some((here, Angle::from_rad(by[0].hypot(by[1]))))
    }

    fn drawn(&self) -> Vec<Vec<[f64; 2]>> {
        let row = |points: Vec<Vector2<f64>>| -> Vec<[f64; 2]> {
            let seen = points.into_iter().filter_map(|point| self.pixel(point));
            seen.map(Into::into).collect()
        };
        let turn = |deg: i32| on_zodiac(Angle::from_deg(f64::from(deg)));
        let mut all = vec![row((0..=120).map(|step| turn(3 * step)).collect())];
        all.extend((0..12).map(|sign| row(vec![turn(30 * sign) * 0.95, turn(30 * sign)])));
        all.push(row((0..=36)
            .map(|step| self.hole + turn(10 * step) * self.hole_radius)
            .collect()));
        all
    }
}

/// A model with its unknowns found.
struct Fit<'a> {
    model: Model<'a>,
    at: DVector<f64>,
    covariance: nalgebra::DMatrix<f64>,
    off: Vec<Option<f64>>,
    good: Vec<bool>,
    scatter_px: f64,
}

impl<'a> Fit<'a> {
    /// Of the two ways in which a plane can lean, the one that leaves least.
    fn best(photograph: &'a BackPhotograph) -> Result<Fit<'a>, TooLittle> {
        let pairs: Vec<_> = photograph
            .marks
            .iter()
            .filter_map(|mark| match mark.of {
                SeenOnBack::Degree(degree) => Some((on_zodiac(degree), Vector2::from(mark.at_px))),
                SeenOnBack::Date(_)
                | SeenOnBack::Corner(_)
                | SeenOnBack::Hole
                | SeenOnBack::HoleEdge => None,
            })
            .collect();
        if pairs.len() < 5 {
            return Err(TooLittle::Zodiac(pairs.len()));
        }
        let good: Vec<_> = agreeing(&pairs)
            .into_iter()
            .filter_map(|number| pairs.get(number).copied())
            .collect();
        let [breadth, height] = photograph.size_px.map(f64::from);
        let focal = EXPECTED.map(|one| one.at)[Sought::Focal as usize].exp() * breadth;
        let axis = Vector2::new(breadth / 2.0, height / 2.0);
        let cameras = Camera::towards(&good, focal, axis).ok_or(TooLittle::OneLine)?;
        let fits = cameras
            .into_iter()
            .filter_map(|camera| Fit::from(photograph, &camera));
        fits.min_by(|one, other| one.cost().total_cmp(&other.cost()))
            .ok_or(TooLittle::NoFit)
    }

    /// First with marks that are far off weighing less the farther they are, then without
    /// those that stay far off.
    fn from(photograph: &'a BackPhotograph, camera: &Camera) -> Option<Fit<'a>> {
        let mut model = Model {
            photograph,
            turn: camera.turn,
            taken: Vec::new(),
        };
        let distance = camera.before.z;
        let mut at = DVector::from_iterator(EXPECTED.len(), EXPECTED.iter().map(|one| one.at));
        for (of, value) in [
            (Sought::BeforeRight, camera.before.x / distance),
            (Sought::BeforeDown, camera.before.y / distance),
            (Sought::Distance, distance.ln()),
        ] {
            *at.get_mut(of as usize)? = value;
        }
        let placed: Vec<usize> = (0..photograph.marks.len())
            .filter(|number| {
                let mark = photograph.marks.get(*number);
                !matches!(
                    mark.map(|mark| mark.of),
                    Some(SeenOnBack::Date(_) | SeenOnBack::Corner(_)) | None
                )
            })
            .collect();
        model.taken.clone_from(&placed);
        let mut scale = 8.0 * ROUGH_PX;
        for _ in 0..5 {
            let off = model.offs(&at)?;
            let weights = model.weights(&off, |off| 1.0 / (1.0 + (off / scale).powi(2)), scale)?;
            at = adjusted(&at, &EXPECTED, &model, &weights)?.at;
            let off: Vec<f64> = model.offs(&at)?.into_iter().flatten().collect();
            scale = (scale / 2.0).max(2.0 * scatter(off));
        }
        let mut scatter_px = scatter(model.offs(&at)?.into_iter().flatten().collect());
        let mut found = None;
        for _ in 0..4 {
            let off = model.offs(&at)?;
            let is_good = |number: &usize| {
                off.get(*number)
                    .copied()
                    .flatten()
                    .is_some_and(|off| off <= DOUBTFUL * scatter_px)
            };
            model.taken = placed.iter().copied().filter(is_good).collect();
            let weights = model.weights(&off, |_| 1.0, scatter_px)?;
            let here = adjusted(&at, &EXPECTED, &model, &weights)?;
            at = here.at.clone();
            let left = model.lefts(&at)?;
            let free = left.len().saturating_sub(EXPECTED.len()).max(1) as f64;
            scatter_px = (left.norm_squared() / free).sqrt().max(LEAST_PX);
            found = Some(here);
        }
        let off = model.offs(&at)?;
        let good = (0..photograph.marks.len())
            .map(|number| !placed.contains(&number) || model.taken.contains(&number))
            .collect();
        Some(Fit {
            covariance: found?.covariance,
            model,
            at,
            off,
            good,
            scatter_px,
        })
    }

    /// The less the better, with a price for each mark that is left out.
    fn cost(&self) -> f64 {
        let all = self.off.iter().zip(&self.good);
        all.map(|(off, good)| match (off, good) {
            (_, false) => (DOUBTFUL * ROUGH_PX).powi(2),
            (Some(off), true) => off * off,
            (None, true) => 0.0,
        })
        .sum()
    }

    fn value(&self, of: Sought) -> f64 {
        value(&self.at, of)
    }

    fn within(&self, of: Sought) -> f64 {
        let variance = self.covariance.get((of as usize, of as usize));
        variance.map_or(f64::INFINITY, |one| one.max(0.0).sqrt())
    }

    /// The standard error of an angle in the picture by those of camera and hole.
    fn turns(&self, of: impl Fn(&Scene) -> Option<Angle>) -> Option<Angle> {
        let here = of(&self.model.scene(&self.at)?)?;
        let slopes: Option<Vec<f64>> = EXPECTED
            .iter()
            .enumerate()
            .map(|(index, expected)| {
                let step = STEP * expected.within;
                let mut there = self.at.clone();
                *there.get_mut(index)? += step;
                Some(here.to(of(&self.model.scene(&there)?)?).rad() / step)
            })
            .collect();
        let slopes = DVector::from_vec(slopes?);
        let variance = (slopes.transpose() * &self.covariance * &slopes).sum();
        Some(Angle::from_rad(variance.max(0.0).sqrt()))
    }

    /// The year of the calendar scale, with what camera and hole leave open of all its dates
    /// together.
    fn year(&self, dates: &Dates, middle: Angle) -> Option<Result<Estimate<f64>, NoYear>> {
        let found = dates.year(middle)?;
        let together = self.turns(|scene| {
            let shown = dates.all.iter().map(|date| {
                let mark = self.model.photograph.marks.get(date.number)?;
                Some(date.degree.to(scene.shown_with(mark.at_px)?.0).deg())
            });
            let shown: Option<Vec<f64>> = shown.collect();
            let shown = shown?;
            Some(Angle::from_deg(
                shown.iter().sum::<f64>() / shown.len() as f64,
            ))
        })?;
        Some(found.map(|year| Estimate {
            at: year.at,
            within: year.within.hypot(together.deg() * YEARS_A_DEGREE),
        }))
    }

    fn lean(&self, scene: &Scene) -> Angle {
        let axis = scene.camera.turn * Vector3::z();
        Angle::acos(axis.dot(&scene.camera.before.normalize()).clamp(-1.0, 1.0))
    }

    fn dates(&self, scene: &Scene) -> Dates {
        let marks = self.model.photograph.marks.iter().enumerate();
        let dates = marks.filter_map(|(number, mark)| {
            let SeenOnBack::Date(date) = mark.of else {
                return None;
            };
            let (degree, a_pixel) = scene.shown_with(mark.at_px)?;
            Some(DateSeen {
                number,
                date,
                degree,
                within: a_pixel * self.scatter_px,
            })
        });
        Dates {
            all: dates.collect(),
            scale: julian_scale(1300),
        }
    }

    fn corners(&self, scene: &Scene) -> Vec<CornerFound> {
        let marks = self.model.photograph.marks.iter();
        let corners = marks.filter_map(|mark| {
            let SeenOnBack::Corner(of) = mark.of else {
                return None;
            };
            let from_hole = scene.under(mark.at_px)? - scene.hole;
            let (_, a_pixel) = scene.shown_with(mark.at_px)?;
            let altitude = |scene: &Scene| {
                let from_hole = scene.under(mark.at_px)? - scene.hole;
                let out = match of {
                    Corner::Left => -from_hole.x,
                    Corner::Right => from_hole.x,
                };
                Some(Angle::atan2(from_hole.y, out))
            };
            let by_hand = a_pixel * self.scatter_px;
            Some(CornerFound {
                of,
                altitude: Estimate {
                    at: altitude(scene)?,
                    within: Angle::from_rad(by_hand.rad().hypot(self.turns(altitude)?.rad())),
                },
                reach: from_hole.norm(),
            })
        });
        corners.collect()
    }
}

impl Model<'_> {
    /// A weight for each number that is left, over the square of a unit in pixels.
    fn weights(
        &self,
        off: &[Option<f64>],
        weight: impl Fn(f64) -> f64,
        unit_px: f64,
    ) -> Option<DVector<f64>> {
        let mut all = Vec::new();
        for number in &self.taken {
            let one = weight(off.get(*number).copied().flatten()?) / unit_px.powi(2);
            let numbers = match self.photograph.marks.get(*number)?.of {
                SeenOnBack::HoleEdge => 1,
                SeenOnBack::Degree(_)
                | SeenOnBack::Hole
                | SeenOnBack::Date(_)
                | SeenOnBack::Corner(_) => 2,
            };
            all.extend(std::iter::repeat_n(one, numbers));
        }
        Some(DVector::from_vec(all))
    }
}

/// Dates as they are marked: their numbers among the marks, what they are, the degree that the
/// alidade shows with each, and its standard error.
struct Dates {
    all: Vec<DateSeen>,
    /// A scale for the year 1300, beside which they are looked at.
    scale: DateScale,
}

struct DateSeen {
    number: usize,
    date: YearDay,
    degree: Angle,
    within: Angle,
}

impl Dates {
    /// How far on in the zodiac a date is seen than on that scale.
    fn on(&self, one: &DateSeen) -> Angle {
        self.scale.at(one.date).to(one.degree)
    }

    /// The same of all, as a rule.
    fn middle(&self) -> Angle {
        Angle::from_deg(median(
            self.all.iter().map(|one| self.on(one).deg()).collect(),
        ))
    }

    /// How far the date with a number lies from where the others have it.
    fn off(&self, number: usize, middle: Angle) -> Option<Angle> {
        let one = self.all.iter().find(|one| one.number == number)?;
        Some(middle.to(self.on(one)))
    }

    /// The year, by all that agree.
    fn year(&self, middle: Angle) -> Option<Result<Estimate<f64>, NoYear>> {
        let good: Vec<_> = self
            .all
            .iter()
            .filter(|one| middle.to(self.on(one)).abs() <= DATE_OFF)
            .collect();
        let within = good.iter().map(|one| one.within.deg());
        let reads_to = Angle::from_deg(median(within.collect()));
        let degrees: Vec<_> = good.iter().map(|one| (one.date, one.degree)).collect();
        (!degrees.is_empty()).then(|| {
            let found = by_calendar(&MeasuredCalendar {
                calendar: Calendar::Julian,
                reads_to,
                degrees,
            })?;
            if found.at < EARLIEST {
                return Err(NoYear::Gregorian);
            }
            Ok(found)
        })
    }
}

/// How far a mark is off as a rule: by the middle of all, which few that are wrong do not move.
fn scatter(off: Vec<f64>) -> f64 {
    /// The middle of the sizes of numbers that scatter as Gauss has it, in parts of their
    /// standard error.
    const MIDDLE: f64 = 0.6745;
    (median(off) / MIDDLE).max(LEAST_PX)
}
