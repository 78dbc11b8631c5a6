use std::collections::BTreeMap;

use desk::{Cabinet, FindingAnswer, OperationAnswer, WorkAnswer, WorkRequest};

use crate::arguments::WorkArguments;
use crate::cabinet;
use crate::cast::{moment_request_or_none, now_unix_s};
use crate::failure::Failure;
use crate::sheet::{Sheet, signed_degrees, whole_seconds};

/// Works an operation of the treatise, or lists them.
pub(crate) fn run(arguments: &WorkArguments) -> Result<String, Failure> {
    if arguments.operation.is_none() {
        let all = desk::operations();
        return if arguments.json {
            json(&serde_json::json!({ "operations": all }))
        } else {
            Ok(listed(&all))
        };
    }
    let cabinet = cabinet::at_hand();
    let request = request(arguments, &cabinet)?;
    let answer = desk::work(&request, &cabinet, now_unix_s())?;
    if arguments.json {
        return json(&answer);
    }
    Ok(sheet(&answer, &request))
}

/// The request that the arguments and the settings make together.
pub(crate) fn request(
    arguments: &WorkArguments,
    cabinet: &Cabinet,
) -> Result<WorkRequest, Failure> {
    Ok(WorkRequest {
        operation: arguments.operation.clone().unwrap_or_default(),
        moment: moment_request_or_none(
            arguments.when.as_deref(),
            &arguments.moment,
            arguments.with.as_ref(),
            cabinet,
        )?,
        star: arguments.star.clone(),
        body: arguments.body.clone(),
        seen: pairs("--read", "altitude=25°30′", &arguments.read)?,
        hand: arguments.hand,
        told: pairs("--tell", "degree=\"11 Pisces\"", &arguments.tell)?,
        side: arguments.side.clone(),
        of: arguments.of.clone(),
    })
}

fn json(value: &impl serde::Serialize) -> Result<String, Failure> {
    Ok(serde_json::to_string(value).map_err(Failure::other)? + "\n")
}

/// `NAME=VALUE`, each name once.
pub(crate) fn pairs(
    option: &str,
    example: &str,
    given: &[String],
) -> Result<BTreeMap<String, String>, Failure> {
    let mut pairs = BTreeMap::new();
    for one in given {
        let Some((name, value)) = one.split_once('=') else {
            let shown: String = one.chars().take(60).collect();
            return Err(Failure::bad_input(format!(
                "{option} {shown:?} has no value; {option} {example} would do"
            )));
        };
        let before = pairs.insert(name.trim().to_owned(), value.trim().to_owned());
        if before.is_some() {
            return Err(Failure::bad_input(format!(
                "{option} says {} twice; once would do",
                name.trim()
            )));
        }
    }
    Ok(pairs)
}

pub(crate) fn listed(all: &[OperationAnswer]) -> String {
    const COLUMN: usize = 25;
    let mut sheet = Sheet::default();
    for one in all {
        let needs = match one.needs.as_slice() {
            [] => String::new(),
            needs => format!(" Needs {}.", needs.join(", ")),
        };
        let text = format!("{} ({}).{needs}", one.title, one.source);
        sheet.entry(one.name, COLUMN, &text);
    }
    sheet.gap();
    sheet.paragraph(
        "The numerals are those of Chaucer's Treatise on the Astrolabe, where each is taught.",
    );
    sheet.text()
}

fn sheet(answer: &WorkAnswer, request: &WorkRequest) -> String {
    let mut sheet = Sheet::default();
    sheet.line(&format!(
        "{} ({})",
        answer.operation.title, answer.operation.source
    ));
    if !request.moment.when.is_empty() {
        sheet.line(&format!(
            "{}, {} ({} calendar)",
            whole_seconds(&answer.moment.when.clock_time),
            answer.place.name,
            answer.moment.when.calendar
        ));
    }
    sheet.line(&format!(
        "with {}, {} mm, plate {}°",
        answer.instrument.called,
        answer.instrument.diameter_mm,
        answer.instrument.plate_latitude_deg
    ));
    sheet.title("The working");
    for (number, step) in answer.working.steps.iter().enumerate() {
        sheet.item(number + 1, &step.instruction);
    }
    sheet.title("What is found");
    for finding in &answer.findings {
        let clock_time = &answer.moment.when.clock_time;
        let date = clock_time.split(' ').next().unwrap_or_default();
        found(&mut sheet, finding, date);
    }
    for note in &answer.notes {
        sheet.paragraph(note);
    }
    sheet.title("When it is weak");
    sheet.paragraph(answer.operation.weak);
    sheet.text()
}

fn found(sheet: &mut Sheet, finding: &FindingAnswer, date: &str) {
    let what = &finding.what;
    let Some(text) = &finding.text else {
        let reason = finding.reason.as_deref().unwrap_or("no reading");
        sheet.paragraph(&format!("{what}: {reason}."));
        return;
    };
    let within = match finding.within_deg {
        Some(within) if within > 0.0 => format!(", within {}", fineness(finding, within)),
        _ => String::new(),
    };
    let clock = match (&finding.clock, &finding.clock_date) {
        (Some(clock), Some(other)) if other != date => {
            format!(", {clock} by the clock of {other}")
        }
        (Some(clock), _) => format!(", {clock} by the clock"),
        (None, _) => String::new(),
    };
    sheet.paragraph(&format!("{what}: {text}{clock}{within}"));
    if let Some(exact) = &finding.exact_text {
        let causes: Vec<String> = finding
            .shares
            .iter()
            .filter(|share| share.deg.abs() >= 1.0 / 240.0)
            .map(|share| format!("{} {}", share.cause, difference(finding, share.deg)))
            .collect();
        let causes = if causes.is_empty() {
            String::new()
        } else {
            format!(" ({})", causes.join(", "))
        };
        let exact = match &finding.exact_clock {
            Some(clock) => format!("{exact}, by the clock {clock}"),
            None => exact.clone(),
        };
        let differs = finding.difference_deg.map(|deg| difference(finding, deg));
        sheet.indented(
            &format!(
                "calculated {exact}, differs by {}{causes}",
                differs.as_deref().unwrap_or("–")
            ),
            4,
        );
    }
}

/// A difference in the terms of its quantity: time on the limb, points and lengths as they
/// are, else degrees.
fn difference(finding: &FindingAnswer, deg: f64) -> String {
    match finding.measure {
        "time-of-day" | "arc" => {
            let sign = if deg < 0.0 { '−' } else { '+' };
            let seconds = (deg.abs() * 240.0).round();
            let (minutes, rest) = ((seconds / 60.0).floor(), seconds % 60.0);
            format!("{sign}{minutes} m {rest:02} s")
        }
        "number" => format!("{}{:.2}", if deg < 0.0 { '−' } else { '+' }, deg.abs()),
        _ => signed_degrees(deg),
    }
}

/// An error in the terms of its quantity: minutes of time on the limb, else degrees.
fn fineness(finding: &FindingAnswer, deg: f64) -> String {
    match finding.measure {
        "time-of-day" | "arc" => format!("{:.1} min of time", deg * 4.0),
        "number" => format!("{deg:.2}"),
        "unequal-hours" => format!("{:.2} of an hour", deg / 15.0),
        _ => signed_degrees(deg).trim_start_matches('+').to_owned(),
    }
}
