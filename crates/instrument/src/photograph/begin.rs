use nalgebra::{DVector, Vector2};
use sky::{Angle, JulianEpoch, Latitude};

use super::adjust::adjusted;
use super::beforehand::Beforehand;
use super::camera::{Camera, agreeing};
use super::marks::{Mark, OfPlate, Photograph, Seen};
use super::model::{Model, ROUGH_PX};
use super::too_little::TooLittle;
use super::unknowns::{Unknown, set, value};
use crate::examining::median;
use crate::orientation::Orientation;
use crate::point::Point;
use crate::projection::Projection;
use crate::rete::Rete;
use crate::specification::{HourLines, HouseLines, Top};

/// From where a picture can be understood: two models, for a plane seen from afar leans as
/// well one way as the other, each with unknowns near enough to go on from.
pub(super) fn begin<'a>(
    photograph: &'a Photograph,
    beforehand: &Beforehand,
) -> Result<Vec<(Model<'a>, DVector<f64>)>, TooLittle> {
    let middle = beforehand.middle();
    let [breadth, height] = photograph.size_px.map(f64::from);
    let focal = value(&middle, Unknown::Focal).exp() * breadth;
    let axis = Vector2::new(breadth / 2.0, height / 2.0);
    let (cameras, limb) = if beforehand.is_known {
        cameras_of_known(photograph, &middle, (focal, axis))?
    } else {
        cameras(photograph, &middle, (focal, axis))?
    };
    let begun = cameras.into_iter().filter_map(|camera| {
        let mut at = middle.clone();
        let distance = camera.before.z;
        if distance <= 0.0 {
            return None;
        }
        set(&mut at, Unknown::BeforeRight, camera.before.x / distance);
        set(&mut at, Unknown::BeforeDown, camera.before.y / distance);
        set(&mut at, Unknown::Distance, distance.ln());
        let mut model = Model {
            photograph,
            beforehand: beforehand.clone(),
            turn: camera.turn,
            hour_lines: HourLines::Arcs,
            house_lines: HouseLines::Regiomontanus,
            taken: limb.clone(),
        };
        // The camera by the limb alone, and then what lies under its rays.
        let weights = DVector::from_element(limb.len() * 2, ROUGH_PX.powi(-2));
        let at = adjusted(&at, &beforehand.expected, &model, &weights).map_or(at, |found| found.at);
        let at = with_instrument(&model, at);
        model.taken = (0..photograph.marks.len()).collect();
        Some((model, at))
    });
    let begun: Vec<_> = begun.collect();
    if begun.is_empty() {
        return Err(TooLittle::OneLine);
    }
    Ok(begun)
}

type Pair = (Vector2<f64>, Vector2<f64>);

/// Marks of the limb with where they are drawn, and their numbers.
fn limb_pairs(photograph: &Photograph, middle: &DVector<f64>) -> Vec<(Pair, usize)> {
    let orientation = Orientation::new(photograph.hemisphere, Top::Noon);
    let usual = value(middle, Unknown::LimbRadius);
    photograph
        .marks
        .iter()
        .enumerate()
        .filter_map(|(number, mark)| {
            let Seen::Limb(degree) = mark.of else {
                return None;
            };
            let drawn = orientation.drawn(Point::polar(usual, degree));
            let pair = (Vector2::new(drawn.x, drawn.y), Vector2::from(mark.at_px));
            Some((pair, number))
        })
        .collect()
}

/// The cameras that see the limb where it is marked, and the marks that agree in it.
fn cameras(
    photograph: &Photograph,
    middle: &DVector<f64>,
    (focal, axis): (f64, Vector2<f64>),
) -> Result<([Camera; 2], Vec<usize>), TooLittle> {
    let mut degrees: Vec<i64> = photograph
        .marks
        .iter()
        .filter_map(|mark| limb_minute(&mark.of))
        .collect();
    degrees.sort_unstable();
    degrees.dedup();
    if degrees.len() < 5 {
        return Err(TooLittle::Limb(degrees.len()));
    }
    let all = limb_pairs(photograph, middle);
    let pairs: Vec<Pair> = all.iter().map(|(pair, _)| *pair).collect();
    let good: Vec<(Pair, usize)> = agreeing(&pairs)
        .iter()
        .filter_map(|number| all.get(*number).copied())
        .collect();
    let pairs: Vec<Pair> = good.iter().map(|(pair, _)| *pair).collect();
    let cameras = Camera::towards(&pairs, focal, axis).ok_or(TooLittle::OneLine)?;
    Ok((
        cameras,
        good.into_iter().map(|(_, number)| number).collect(),
    ))
}

/// The same of an instrument that is known: its hole lies in the middle of its limb.
fn cameras_of_known(
    photograph: &Photograph,
    middle: &DVector<f64>,
    (focal, axis): (f64, Vector2<f64>),
) -> Result<([Camera; 2], Vec<usize>), TooLittle> {
    let mut all = limb_pairs(photograph, middle);
    let holes = numbers(photograph, |seen| *seen == Seen::Hole);
    all.extend(holes.into_iter().filter_map(|number| {
        let pixel = Vector2::from(photograph.marks.get(number)?.at_px);
        Some(((Vector2::zeros(), pixel), number))
    }));
    if all.len() < 3 {
        return Err(TooLittle::Setting(all.len()));
    }
    let pairs: Vec<Pair> = all.iter().map(|(pair, _)| *pair).collect();
    let cameras = Camera::from_afar(&pairs, focal, axis)?;
    Ok((cameras, all.into_iter().map(|(_, number)| number).collect()))
}

fn numbers(photograph: &Photograph, is: impl Fn(&Seen) -> bool) -> Vec<usize> {
    let marks = photograph.marks.iter().enumerate();
    marks
        .filter(|(_, mark)| is(&mark.of))
        .map(|(number, _)| number)
        .collect()
}

fn limb_minute(seen: &Seen) -> Option<i64> {
    match seen {
        #[expect(clippy::cast_possible_truncation, reason = "minutes of a turn")]
        Seen::Limb(degree) => Some((degree.in_turn().deg() * 60.0).round() as i64),
        Seen::Hole
        | Seen::HoleEdge
        | Seen::OfPlate(_)
        | Seen::Ecliptic
        | Seen::Degree(_)
        | Seen::Star(_)
        | Seen::Almuri
        | Seen::Rule => None,
    }
}

/// The size of the plate beside the limb, its latitude, the rete's turn and its year, tried
/// one after another at what lies under the marks.
fn with_instrument(model: &Model<'_>, mut at: DVector<f64>) -> DVector<f64> {
    let photograph = model.photograph;
    if !model.beforehand.is_known {
        let hole = photograph.marks.iter().find(|mark| mark.of == Seen::Hole);
        // Where the marks lie is known in parts of the limb; how large the plate is in it, is
        // not.
        if let Some(ratio) = plate_in_limb(model, &at) {
            let limb = value(&at, Unknown::LimbRadius);
            set(&mut at, Unknown::LimbRadius, limb * ratio);
            let distance = value(&at, Unknown::Distance);
            set(&mut at, Unknown::Distance, distance + ratio.ln());
        }
        if let Some(point) = hole.and_then(|mark| model.on_plate(&at, mark)) {
            let drawn = Orientation::new(photograph.hemisphere, Top::Noon).drawn(point);
            set(&mut at, Unknown::HoleRight, drawn.x);
            set(&mut at, Unknown::HoleDown, drawn.y);
        }
        if let Some(latitude) = latitude(model, &at) {
            set(&mut at, Unknown::Latitude, latitude);
        }
    }
    if let Some((turn, year)) = turn_and_year(model, &at) {
        set(&mut at, Unknown::ReteTurn, turn);
        if !model.beforehand.is_known {
            set(&mut at, Unknown::Year, year);
        }
    }
    if let Some(turn) = rule_turn(model, &at) {
        set(&mut at, Unknown::RuleTurn, turn);
    }
    at
}

/// How the rule stands, by the directions of what was marked on it.
fn rule_turn(model: &Model<'_>, at: &DVector<f64>) -> Option<f64> {
    let scene = model.scene(at)?;
    let marks = model.photograph.marks.iter();
    let directions: Vec<Angle> = marks
        .filter(|mark| mark.of == Seen::Rule)
        .filter_map(|mark| Some(scene.on_rule(&Vector2::from(mark.at_px))?.direction()))
        .collect();
    among(&directions).map(Angle::deg)
}

/// By what the expected size of the limb beside the plate is to be taken: from the circles
/// about the hole, or else from the size of the ecliptic ring.
fn plate_in_limb(model: &Model<'_>, at: &DVector<f64>) -> Option<f64> {
    let photograph = model.photograph;
    let projection = Projection::new(1.0, photograph.hemisphere);
    let obliquity = Latitude::from_deg(value(at, Unknown::PlateObliquity)).ok()?;
    let mut ratios: Vec<f64> = photograph
        .marks
        .iter()
        .filter_map(|mark| {
            let Seen::OfPlate(line) = mark.of else {
                return None;
            };
            let should = match line {
                OfPlate::Capricorn => projection.radius(-obliquity),
                OfPlate::Equator => 1.0,
                OfPlate::Cancer => projection.radius(obliquity),
                OfPlate::Meridian
                | OfPlate::Almucantar(_)
                | OfPlate::Azimuth(_)
                | OfPlate::UnequalHour(_)
                | OfPlate::House(_) => return None,
            };
            Some(should / model.on_plate(at, mark)?.radius())
        })
        .collect();
    if ratios.is_empty() {
        // Each degree of the ring has its own distance from the pole.
        let rete = Rete::new(obliquity.angle(), 0.0, projection);
        ratios = photograph
            .marks
            .iter()
            .filter_map(|mark| {
                let Seen::Degree(degree) = mark.of else {
                    return None;
                };
                Some(rete.degree(degree).radius() / model.on_rete(at, mark)?.radius())
            })
            .collect();
    }
    (!ratios.is_empty()).then(|| median(ratios))
}

/// The latitude whose lines lie nearest to the marks of the plate, in whole degrees.
fn latitude(model: &Model<'_>, at: &DVector<f64>) -> Option<f64> {
    let marks: Vec<&Mark> = model
        .photograph
        .marks
        .iter()
        .filter(|mark| {
            matches!(
                mark.of,
                Seen::OfPlate(
                    OfPlate::Almucantar(_)
                        | OfPlate::Azimuth(_)
                        | OfPlate::UnequalHour(_)
                        | OfPlate::House(_)
                )
            )
        })
        .collect();
    if marks.is_empty() {
        return None;
    }
    let sign = match model.photograph.hemisphere {
        crate::specification::Hemisphere::North => 1.0,
        crate::specification::Hemisphere::South => -1.0,
    };
    (0..=89)
        .map(|deg| f64::from(deg) * sign)
        .filter_map(|deg| {
            let mut there = at.clone();
            set(&mut there, Unknown::Latitude, deg);
            let off: Vec<f64> = marks
                .iter()
                .filter_map(|mark| model.off(&there, mark)?.first().map(|one| one.abs()))
                .collect();
            (off.len() * 2 > marks.len()).then(|| (deg, median(off)))
        })
        .min_by(|(_, one), (_, other)| one.total_cmp(other))
        .map(|(deg, _)| deg)
}

/// How the rete is turned and for which year it is, from the degrees of its ring and the
/// tips of its pointers: the middle of what each says.
fn turn_and_year(model: &Model<'_>, at: &DVector<f64>) -> Option<(f64, f64)> {
    let obliquity = Angle::from_deg(value(at, Unknown::RingObliquity));
    let rete = Rete::new(
        obliquity,
        0.0,
        Projection::new(1.0, model.photograph.hemisphere),
    );
    let marks = &model.photograph.marks;
    let mut turns: Vec<Angle> = Vec::new();
    let mut stars: Vec<(&sky::Star, Angle)> = Vec::new();
    for mark in marks {
        match mark.of {
            Seen::Degree(degree) => {
                if let Some(there) = model.on_rete(at, mark) {
                    turns.push(rete.degree(degree).direction().to(there.direction()));
                }
            }
            Seen::Star(star) => {
                if let Some(there) = model.on_rete(at, mark) {
                    stars.push((star, there.direction()));
                }
            }
            Seen::Almuri => {
                if let Some(there) = model.on_rete(at, mark) {
                    turns.push(rete.almuri().to(there.direction()));
                }
            }
            Seen::Limb(_)
            | Seen::Hole
            | Seen::HoleEdge
            | Seen::OfPlate(_)
            | Seen::Ecliptic
            | Seen::Rule => {}
        }
    }
    let by_stars = |year: f64| -> Option<Vec<Angle>> {
        let epoch = JulianEpoch::from_year(year).ok()?;
        let turns = stars
            .iter()
            .map(|(star, direction)| (-star.mean_place(epoch).right_ascension).to(*direction));
        Some(turns.collect())
    };
    let usual = value(at, Unknown::Year);
    let turn = match among(&turns) {
        Some(turn) => turn,
        None => among(&by_stars(usual)?)?,
    };
    let year = (-5..=26)
        .map(|century| f64::from(century) * 100.0)
        .filter_map(|year| {
            let off = by_stars(year)?
                .into_iter()
                .map(|one| one.to(turn).deg().abs());
            let off: Vec<f64> = off.collect();
            (!off.is_empty()).then(|| (year, median(off)))
        })
        .min_by(|(_, one), (_, other)| one.total_cmp(other))
        .map_or(usual, |(year, _)| year);
    Some((turn.deg(), year))
}

/// The one of some directions that is nearest to all others together.
fn among(all: &[Angle]) -> Option<Angle> {
    let far = |one: Angle| {
        all.iter()
            .map(|other| one.to(*other).deg().abs())
            .sum::<f64>()
    };
    all.iter()
        .copied()
        .min_by(|one, other| far(*one).total_cmp(&far(*other)))
}
