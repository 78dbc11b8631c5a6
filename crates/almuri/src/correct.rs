use std::collections::BTreeMap;

use desk::{
    Cabinet, CorrectAnswer, CorrectExerciseRequest, CorrectReading, CorrectRequest,
    ExplanationAnswer, JudgedAnswer,
};

use crate::arguments::CorrectArguments;
use crate::cabinet;
use crate::cast::{moment_request, now_unix_s};
use crate::exercises::drawn_before;
use crate::failure::Failure;
use crate::sheet::{Sheet, signed_degrees, whole_seconds};
use crate::stand::set_in_picture;
use crate::work::pairs;

/// Holds a pupil's readings, or a printed figure, against what should be.
pub(crate) fn run(arguments: &CorrectArguments) -> Result<String, Failure> {
    let cabinet = cabinet::at_hand();
    let answer = match &arguments.exercises {
        Some(path) => of_exercise(path, arguments, &cabinet)?,
        None => of_moment(arguments, &cabinet)?,
    };
    if arguments.json {
        return Ok(serde_json::to_string(&answer).map_err(Failure::other)? + "\n");
    }
    Ok(sheet(&answer))
}

/// A question that was drawn for a pupil, so that nothing of it is said again.
fn of_exercise(
    path: &std::path::Path,
    arguments: &CorrectArguments,
    cabinet: &Cabinet,
) -> Result<CorrectAnswer, Failure> {
    let exercises = drawn_before(path)?;
    let request = CorrectExerciseRequest {
        pupil: arguments.pupil.clone().unwrap_or_default(),
        question: arguments.question.unwrap_or_default(),
        read: pairs("--read", "ascendant=\"11 Pisces\"", &arguments.read)?,
    };
    Ok(desk::correct_exercise(&exercises, &request, cabinet)?)
}

fn of_moment(arguments: &CorrectArguments, cabinet: &Cabinet) -> Result<CorrectAnswer, Failure> {
    let mut moment = moment_request(
        arguments.when.as_deref().unwrap_or_default(),
        &arguments.moment,
        arguments.with.as_ref(),
        cabinet,
    )?;
    moment.by = arguments.by.clone().or(moment.by);
    moment.houses = arguments.houses.clone().or(moment.houses);
    let mut read = match &arguments.marks {
        Some(path) => set_in_picture(path, &moment, cabinet)?.read,
        None => BTreeMap::new(),
    };
    read.extend(pairs("--read", "ascendant=\"11 Pisces\"", &arguments.read)?);
    let request = CorrectRequest {
        moment,
        read,
        figure: arguments.figure,
    };
    Ok(desk::correct(&request, cabinet, now_unix_s())?)
}

fn sheet(answer: &CorrectAnswer) -> String {
    let mut sheet = Sheet::default();
    sheet.line(&format!(
        "{}, {} ({} calendar)",
        whole_seconds(&answer.moment.when.clock_time),
        answer.place.name,
        answer.moment.when.calendar
    ));
    if let Some(instrument) = &answer.instrument {
        let by = answer.by.map_or(String::new(), |by| {
            format!(", cusps by {}", by.replace('_', " "))
        });
        sheet.line(&format!(
            "with {}, {} mm, plate {}°{by}",
            instrument.called, instrument.diameter_mm, instrument.plate_latitude_deg,
        ));
    }
    sheet.title("The readings");
    readings(&mut sheet, &answer.judged.readings);
    explanations(&mut sheet, &answer.judged);
    sheet.text()
}

/// The readings one by one, each with its mark.
pub(crate) fn readings(sheet: &mut Sheet, all: &[CorrectReading]) {
    // As broad as the longest: unequal hours are said with day or night.
    let broad = |texts: &mut dyn Iterator<Item = &str>, least: usize| {
        let longest = texts.map(|text| text.chars().count() + 2).max();
        longest.unwrap_or(0).max(least)
    };
    let what_wide = broad(&mut all.iter().map(|one| one.what.as_ref()), 12);
    let read_wide = broad(&mut all.iter().map(|one| one.read_text.as_ref()), 12);
    let should_wide = broad(
        &mut all.iter().filter_map(|one| one.should_text.as_deref()),
        12,
    );
    sheet.line(&format!(
        "  {:<what_wide$}{:<read_wide$}{:<should_wide$}{:<8}{}",
        "", "read", "should be", "within", "differs"
    ));
    for reading in all {
        // On the limb a degree is four minutes.
        let timed = matches!(reading.measure, "time-of-day" | "arc");
        let minutes = |deg: f64| format!("{:.0} min", deg.abs() * 4.0);
        let within = reading.within_text.as_deref().unwrap_or("–");
        let differs = reading.difference_deg.map_or("–".to_owned(), |deg| {
            let sign = if deg < 0.0 { '−' } else { '+' };
            match reading.measure {
                _ if timed => format!("{sign}{}", minutes(deg)),
                "unequal-hours" => format!("{sign}{:.2} h", deg.abs() / 15.0),
                _ => signed_degrees(deg),
            }
        });
        sheet.line(&format!(
            "  {:<what_wide$}{:<read_wide$}{:<should_wide$}{within:<8}{differs:<9}{}",
            reading.what,
            reading.read_text,
            reading.should_text.as_deref().unwrap_or("–"),
            reading.mark
        ));
    }
}

/// What explains the readings, the likeliest first.
pub(crate) fn explanations(sheet: &mut Sheet, answer: &JudgedAnswer) {
    sheet.title("What explains them");
    sheet.paragraph(&answer.sentence);
    if let (Some(plate), true) = (&answer.plate, answer.verdict != "right") {
        sheet.paragraph(&plate.sentence);
    }
    if answer.verdict == "right" {
        return;
    }
    sheet.gap();
    for one in &answer.explanations {
        explanation(sheet, one);
    }
}

fn explanation(sheet: &mut Sheet, one: &ExplanationAnswer) {
    let fit = format!("misfit {:.1}, weight {:.2}", one.misfit, one.weight);
    if one.slips.is_empty() {
        sheet.item(one.rank, &format!("No slip at all ({fit})."));
        return;
    }
    let words: Vec<&str> = one.slips.iter().map(|slip| slip.words.as_str()).collect();
    sheet.item(one.rank, &format!("{} ({fit})", words.join(" ")));
    if one.rank == 1 {
        for slip in &one.slips {
            sheet.indented(&slip.mend, 5);
        }
    }
}
