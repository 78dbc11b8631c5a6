use figure::Courses;
use sky::{Angle, Body, SkyError};

use super::leaf::{Hangs, Leaf, Made, Opened};
use crate::answer::CellAnswer;

/// How far each is from the Sun, how fast, and when it stands still.
pub(super) const LEAF: Leaf = Leaf {
    name: "phases",
    title: "Elongation, light of the Moon, speed and stations",
    hangs: Hangs::Moment,
    named_by: 1,
    make,
};

fn make(opened: &Opened<'_>) -> Result<Made, SkyError> {
    let sun = opened.sky.sun();
    let courses = opened.courses();
    let mut rows = Vec::new();
    for placed in &opened.figure.bodies {
        if placed.body == Body::Sun {
            continue;
        }
        let place = placed.place;
        let elongation = sun.longitude.to(place.longitude);
        let stations: Vec<_> = courses.stations(placed.body);
        let before = stations.iter().rev().find(|one| one.exact.seconds <= 0.0);
        let after = stations.iter().find(|one| one.exact.seconds > 0.0);
        let station = |one: Option<&figure::Stands>| {
            one.map_or_else(CellAnswer::none, |one| {
                let turns = if one.turns_retrograde {
                    "retrograde"
                } else {
                    "direct"
                };
                let at = opened.at(one.exact.at);
                CellAnswer {
                    said: format!("{turns} {}", at.said),
                    ..at
                }
            })
        };
        rows.push(vec![
            CellAnswer::said(placed.body.name()),
            CellAnswer::arc(elongation),
            CellAnswer::number(100.0 * lit(opened, placed.body), 1),
            placed
                .under_sun
                .map_or_else(CellAnswer::none, |how| CellAnswer::said(how.name())),
            CellAnswer::arc(placed.motion.speed),
            placed
                .motion
                .mean
                .map_or_else(CellAnswer::none, CellAnswer::arc),
            placed.motion.swift.map_or_else(CellAnswer::none, |swift| {
                CellAnswer::said(if swift { "swift" } else { "slow" })
            }),
            station(before),
            station(after),
        ]);
    }
    Ok(Made {
        sources: vec![
            opened.choices().beams.source().to_owned(),
            "mean motions: Middleton, Practical Astrology (1679), p. 58".to_owned(),
        ],
        columns: vec![
            "",
            "from the Sun",
            "lit, in hundredths",
            "beams",
            "in a day",
            "mean",
            "pace",
            "last station",
            "next station",
        ],
        rows,
        notes: vec![format!(
            "From the Sun: positive while it sets after him. Stations are looked for {} days either way.",
            Courses::REACH_DAYS
        )],
    })
}

/// The part of its disc that is lit: half of one more the cosine of the angle at the body
/// between Sun and Earth.
fn lit(opened: &Opened<'_>, body: Body) -> f64 {
    let (sun, place) = (opened.sky.sun(), opened.sky.body(body));
    let along = (sun.longitude - place.longitude).cos() * place.latitude.cos();
    let (from_earth, to_sun) = (place.distance_au, sun.distance_au);
    // The triangle of Sun, Earth and body.
    let from_sun =
        (from_earth * from_earth + to_sun * to_sun - 2.0 * from_earth * to_sun * along).sqrt();
    let cosine = (from_earth * from_earth + from_sun * from_sun - to_sun * to_sun)
        / (2.0 * from_earth * from_sun);
    f64::midpoint(1.0, Angle::acos(cosine.clamp(-1.0, 1.0)).cos())
}
