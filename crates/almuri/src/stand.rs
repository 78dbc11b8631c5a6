use std::path::Path;

use desk::words::{Angle, Degrees, Latitude, NorthOrSouth};
use desk::{
    Cabinet, CastRequest, ReadAnswer, SettingAnswer, SettingRequest, StateAnswer, StateRequest,
    TurnAnswer, TurnRequest,
};

use crate::arguments::StandArguments;
use crate::cast::{moment_request, now_unix_s};
use crate::failure::Failure;
use crate::sheet::{Sheet, whole_seconds};
use crate::{cabinet, with};

/// Reads an instrument whose parts stand as they are said to.
pub(crate) fn run(arguments: &StandArguments) -> Result<String, Failure> {
    let cabinet = cabinet::at_hand();
    let case = moment_request(
        &arguments.when,
        &arguments.moment,
        arguments.with.as_ref(),
        &cabinet,
    )?;
    if let Some(path) = &arguments.marks {
        return in_picture(path, &case, arguments.json, &cabinet);
    }
    let now = now_unix_s();
    let cast = desk::cast(&case, &cabinet, now)?;
    // Parts that are not said stand as they are set for the moment.
    let mut steps = cast.working.iter().flat_map(|working| &working.steps);
    let set = steps
        .rfind(|step| step.procedure.is_none())
        .map(|step| &step.state);
    let rule_deg = arguments.rule.as_deref().map(rule).transpose()?;
    let part = |said: Option<f64>, of: fn(&StateAnswer) -> f64| said.or(set.map(of)).unwrap_or(0.0);
    let request = TurnRequest {
        case,
        state: StateRequest {
            plate_latitude_deg: arguments
                .plate
                .unwrap_or(cast.instrument.plate_latitude_deg),
            rete_deg: part(arguments.rete, |state| state.rete_deg),
            rule_deg: part(rule_deg, |state| state.rule_deg),
            alidade_deg: part(arguments.alidade, |state| state.alidade_deg),
        },
        pointer: None,
    };
    let answer = desk::turn(&request, &cabinet, now)?;
    if arguments.json {
        return Ok(serde_json::to_string(&answer).map_err(Failure::other)? + "\n");
    }
    let mut sheet = Sheet::default();
    sheet.paragraph(&format!(
        "{} at {}, read with {} as it stands",
        whole_seconds(&cast.moment.when.clock_time),
        cast.place.name,
        cast.instrument.called
    ));
    standing(&mut sheet, &answer.state);
    shown(&mut sheet, &answer);
    Ok(sheet.text())
}

/// How an instrument was set when it was photographed.
pub(crate) fn set_in_picture(
    path: &Path,
    case: &CastRequest,
    cabinet: &Cabinet,
) -> Result<SettingAnswer, Failure> {
    let would_do = "a TOML file of marks as docs/measurements.md describes";
    let request = SettingRequest {
        measurements: with::short_text(path, "marks", would_do)?,
        case: case.clone(),
    };
    desk::setting(&request, cabinet, now_unix_s()).map_err(|why| match why.field {
        desk::Field::Measurements => Failure::bad_input(format!("{}: {why}", path.display())),
        _ => why.into(),
    })
}

fn in_picture(
    path: &Path,
    case: &CastRequest,
    json: bool,
    cabinet: &Cabinet,
) -> Result<String, Failure> {
    let answer = set_in_picture(path, case, cabinet)?;
    if json {
        return Ok(serde_json::to_string(&answer).map_err(Failure::other)? + "\n");
    }
    let mut sheet = Sheet::default();
    for sentence in &answer.sentences {
        sheet.paragraph(sentence);
    }
    standing(&mut sheet, &answer.shows.state);
    shown(&mut sheet, &answer.shows);
    Ok(sheet.text())
}

/// `-77.6`, or the hour `6:49`, as degrees past noon.
fn rule(text: &str) -> Result<f64, Failure> {
    let wrong = || {
        let shown: String = text.chars().take(60).collect();
        Failure::bad_input(format!(
            "--rule {shown:?} is neither degrees past noon nor an hour; --rule 282.4 or --rule 6:49 would do"
        ))
    };
    let Some((hour, minute)) = text.split_once(':') else {
        let degrees = text.trim().parse().ok().filter(|deg: &f64| deg.is_finite());
        return degrees.ok_or_else(wrong);
    };
    let hour: u8 = hour.trim().parse().map_err(|_| wrong())?;
    let minute: f64 = minute.trim().parse().map_err(|_| wrong())?;
    if hour > 23 || !(0.0..60.0).contains(&minute) {
        return Err(wrong());
    }
    Ok((f64::from(hour) + minute / 60.0 - 12.0) * 15.0)
}

fn standing(sheet: &mut Sheet, state: &StateAnswer) {
    sheet.title("How it stands");
    if let Ok(latitude) = Latitude::from_deg(state.plate_latitude_deg) {
        sheet.line(&format!("  plate for {}", NorthOrSouth(latitude)));
    }
    let past_noon = |deg| Degrees(Angle::from_deg(deg).in_turn());
    sheet.line(&format!(
        "  0° Aries {} past noon",
        past_noon(state.rete_deg)
    ));
    sheet.line(&format!(
        "  the rule {} past noon",
        past_noon(state.rule_deg)
    ));
}

fn shown(sheet: &mut Sheet, answer: &TurnAnswer) {
    sheet.title("What it shows");
    degree(sheet, "ascendant", answer.ascendant.as_ref());
    degree(sheet, "midheaven", answer.midheaven.as_ref());
    let hour = format!("{}, {}", answer.hour.text, answer.hour.time);
    line(
        sheet,
        "the rule",
        &hour,
        answer.hour.reads_to_text.as_deref(),
    );
    degree(sheet, "under the rule", answer.under_rule.as_ref());
    for (what, date) in [
        ("date there", &answer.date_under_rule),
        ("date on the back", &answer.date_under_alidade),
    ] {
        if let Some(date) = date {
            line(sheet, what, date, None);
        }
    }
    degree(sheet, "the Sun's altitude", Some(&answer.sun_altitude));
    if let Some(means) = &answer.means {
        sheet.gap();
        sheet.paragraph(&format!("This position means {}.", means.text));
    }
}

fn degree(sheet: &mut Sheet, what: &str, reading: Option<&ReadAnswer>) {
    match reading {
        Some(reading) => line(
            sheet,
            what,
            reading.text.as_deref().unwrap_or_default(),
            reading.reads_to_text.as_deref(),
        ),
        None => line(sheet, what, "none", None),
    }
}

fn line(sheet: &mut Sheet, what: &str, shown: &str, reads_to: Option<&str>) {
    let reads_to = reads_to.map_or(String::new(), |to| format!("reads to {to}"));
    sheet.line(&format!("  {what:<20}{shown:<32}{reads_to}"));
}
