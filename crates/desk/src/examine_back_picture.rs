use instrument::{BackPhotograph, PhotographedBack};
use sky::Angle;

use crate::answer::{EstimateAnswer, ExaminedAnswer, ExaminedCalendar, PicturedAnswer};
use crate::estimates::{degrees, years};
use crate::examine_asked::{ExamineRequest, no_limit_alone};
use crate::examine_picture::left_out;
use crate::picture_svg::{Arrow, Overlay};
use crate::refusal::{Field, Refusal};

/// Finds what a back was made for from what was marked in its photograph.
pub(crate) fn examine_back_picture(request: &ExamineRequest) -> Result<ExaminedAnswer, Refusal> {
    let photograph = BackPhotograph::from_toml(&request.measurements)
        .map_err(|error| Refusal::new(Field::Measurements, error))?;
    no_limit_alone(request)?;
    if request.with.is_some() {
        return Err(Refusal::new(
            Field::With,
            "a picture of a back is not held against what it was to be; without that it is examined",
        ));
    }
    let found = PhotographedBack::of(&photograph)
        .map_err(|error| Refusal::new(Field::Measurements, error))?;
    let title = format!("{}: its back as it was found", photograph.name);
    let drawn: Vec<Vec<Vec<[f64; 2]>>> = found.drawn.iter().map(|row| vec![row.clone()]).collect();
    let overlay = Overlay {
        size_px: photograph.size_px,
        title: &title,
        lines: drawn.iter().map(|row| ("zodiac", row.as_slice())).collect(),
        arrows: found
            .marks
            .iter()
            .map(|mark| Arrow {
                from: mark.should_px,
                apart: [0, 1].map(|axis: usize| mark.at_px[axis] - mark.should_px[axis]),
                of: mark.of.to_string(),
                good: !mark.doubtful,
            })
            .collect(),
    };
    let calendar = found.calendar.as_ref().map(ExaminedCalendar::from);
    let pictured = PicturedAnswer {
        enlarged: overlay.times(),
        overlay: overlay.svg(),
        ..PicturedAnswer::of_back(&photograph, &found)
    };
    Ok(ExaminedAnswer {
        name: photograph.name.clone(),
        sentences: sentences(&found, &pictured, calendar.as_ref()),
        circles: None,
        plates: Vec::new(),
        stars: None,
        calendar,
        limb: None,
        specification: None,
        against: None,
        pictured: Some(pictured),
    })
}

fn sentences(
    found: &PhotographedBack,
    pictured: &PicturedAnswer,
    calendar: Option<&ExaminedCalendar>,
) -> Vec<String> {
    let mut all = vec![match calendar {
        Some(ExaminedCalendar {
            year: Some(year), ..
        }) => format!(
            "The calendar scale has the Sun as it stood in the Julian calendar about the year {}.",
            years(*year)
        ),
        Some(ExaminedCalendar {
            reason: Some(reason),
            ..
        }) => format!("The calendar scale: {reason}."),
        Some(_) | None => "For which year the calendar scale is cannot be told: the strokes of \
                           some dates would tell it."
            .to_owned(),
    }];
    for corner in &found.corners {
        let off = corner.altitude.at - Angle::from_deg(45.0);
        let told = degrees(EstimateAnswer::of(corner.altitude, Angle::deg));
        let verdict = if off.abs() <= corner.altitude.within * 3.0 {
            ", as in a true square"
        } else {
            ", where a true square has it at 45°: shadows read near it are off"
        };
        all.push(format!(
            "The {} stands at an altitude of {told}{verdict}.",
            corner.of
        ));
    }
    let hole_off = pictured
        .back
        .as_ref()
        .and_then(|back| back.hole_off_percent);
    if let Some([right, down]) = hole_off {
        let off = right.at.hypot(down.at);
        let within = right.within.max(down.within);
        all.push(if off <= 3.0 * within {
            "The hole lies in the middle of the zodiac scale, as far as can be told.".to_owned()
        } else {
            format!(
                "The hole lies {off:.2} ± {within:.2} hundredths of the zodiac scale’s radius off \
                 its middle: the alidade’s two ends do not show opposite degrees."
            )
        });
    }
    all.extend(left_out(pictured));
    all.push(format!(
        "The back leans {:.0}° away from the eye; a mark is off by {:.1} pixels as a rule.",
        pictured.lean_deg, pictured.scatter_px
    ));
    all
}
