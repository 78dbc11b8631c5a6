use desk::DuringRequest;

use crate::arguments::DuringArguments;
use crate::cabinet;
use crate::cast::{moment_request, now_unix_s};
use crate::failure::Failure;
use crate::sheet::{Sheet, whole_seconds};

/// Says what holds throughout an uncertain time and what changes when.
pub(crate) fn run(arguments: &DuringArguments) -> Result<String, Failure> {
    let cabinet = cabinet::at_hand();
    let mut moment = moment_request(&arguments.when, &arguments.moment, None, &cabinet)?;
    moment.houses = arguments.houses.clone().or(moment.houses);
    let request = DuringRequest {
        moment,
        until: arguments.until.clone(),
        outer: arguments.outer,
    };
    let answer = desk::during(&request, &cabinet, now_unix_s())?;
    if arguments.json {
        return Ok(serde_json::to_string(&answer).map_err(Failure::other)? + "\n");
    }
    let mut sheet = Sheet::default();
    sheet.line(&format!(
        "{} to {}",
        whole_seconds(&answer.from),
        whole_seconds(&answer.until)
    ));
    sheet.title("The angles travel");
    for travel in &answer.travels {
        sheet.line(&format!("  {:<12}{}", travel.what, travel.text));
    }
    sheet.title("In turn");
    for strip in &answer.strip {
        let spans: Vec<String> = strip
            .spans
            .iter()
            .map(|span| {
                format!(
                    "{} {:.0} min",
                    span.value,
                    (span.until_s - span.from_s) / 60.0
                )
            })
            .collect();
        sheet.entry(&format!("  {}", strip.what), 20, &spans.join(", "));
    }
    sheet.title("What changes when");
    if answer.changes.is_empty() {
        sheet.paragraph("Nothing that is looked at here.");
    }
    for change in &answer.changes {
        sheet.line(&format!(
            "  {}   {}: {} to {}",
            whole_seconds(&change.at),
            change.what,
            change.from,
            change.to
        ));
    }
    sheet.title("What holds throughout");
    for holding in &answer.holds {
        sheet.line(&format!("  {:<18}{}", holding.what, holding.value));
    }
    if !answer.rules.is_empty() {
        sheet.title("What old books make of the middle of it");
    }
    for rule in &answer.rules {
        sheet.paragraph(&format!("{}. {}", rule.title, rule.says.join(" ")));
        sheet.indented(rule.source, 4);
    }
    Ok(sheet.text())
}
