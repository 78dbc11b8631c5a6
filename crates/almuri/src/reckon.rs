use desk::words::{Angle, Zodiacal};
use desk::{ReckonAnswer, ReckonRequest, SheetLineAnswer, TakenAnswer, WhyOne};
use patience::Patience;

use crate::arguments::ReckonArguments;
use crate::cast::{moment_request, now_unix_s};
use crate::failure::Failure;
use crate::picture::write_whole;
use crate::sheet::Sheet;

/// Works a figure with the pen, and says it as a sheet, as JSON, or typeset.
pub(crate) fn run(arguments: &ReckonArguments) -> Result<String, Failure> {
    let cabinet = desk::Cabinet::built_in();
    let asked = moment_request(&arguments.when, &arguments.moment, None, &cabinet)?;
    let request = ReckonRequest {
        when: asked.when,
        at: asked.at,
        zone: asked.zone,
        clock: asked.clock,
        calendar: asked.calendar,
        which: asked.which,
        houses: arguments.houses.clone().or(asked.houses),
        table_latitude: arguments.table_latitude,
        hour: arguments.hour.clone(),
        second_difference: arguments.second_difference,
        without: arguments.without.clone(),
    };
    let answer = desk::reckoned(&request, now_unix_s())?;
    if let Some(path) = &arguments.output {
        let size = press::PageSize::parse(&arguments.page)?;
        let handout = handouts::reckoned_handout(&answer);
        let bytes = press::handout(&handout, size, Patience::ENDLESS)?;
        write_whole(path, &bytes, arguments.overwrite)?;
    }
    if arguments.json {
        return Ok(serde_json::to_string(&answer).map_err(Failure::other)? + "\n");
    }
    Ok(sheet(&answer))
}

fn sheet(answer: &ReckonAnswer) -> String {
    let mut sheet = Sheet::default();
    sheet.line(&format!(
        "{}, {} ({} calendar)",
        answer.working.title, answer.moment.clock_time, answer.moment.calendar
    ));
    sheet.line(&answer.place.name);
    sheet.title("The tables");
    for table in &answer.working.tables {
        sheet.entry(table.name, 24, &table.title);
    }
    for (number, step) in answer.working.steps.iter().enumerate() {
        sheet.gap();
        sheet.item(number + 1, &step.instruction);
        for taken in &step.takes {
            sheet.indented(&taken_words(taken), 4);
        }
        for line in &step.lines {
            sheet.line(&written(line));
        }
    }
    sheet.title("Found, and calculated");
    let found = &answer.found;
    let within = &answer.within;
    row(
        &mut sheet,
        "midheaven",
        within.cusps_deg[9],
        &answer.why.midheaven,
    );
    row(
        &mut sheet,
        "ascendant",
        within.cusps_deg[0],
        &answer.why.ascendant,
    );
    for (name, index) in [("XI", 10), ("XII", 11), ("II", 1), ("III", 2)] {
        if let Some(why) = answer.why.cusps.get(index) {
            row(&mut sheet, name, within.cusps_deg[index], why);
        }
    }
    for (why, within) in answer.why.bodies.iter().zip(&within.bodies_deg) {
        row(&mut sheet, why.name, *within, &why.why);
    }
    if found.fortune_deg.is_some() {
        row(
            &mut sheet,
            "Fortune",
            within.fortune_deg,
            &answer.why.fortune,
        );
    }
    sheet.title("Why they differ");
    for why in [&answer.why.ascendant, &answer.why.midheaven] {
        sheet.paragraph(
            why.sentence
                .as_ref()
                .or(why.reason.as_ref())
                .map_or("", |one| one),
        );
    }
    let moon = answer.why.bodies.iter().find(|one| one.name == "Moon");
    if let Some(sentence) = moon.and_then(|one| one.why.sentence.as_ref()) {
        sheet.paragraph(sentence);
    }
    sheet.gap();
    sheet.paragraph("A chart is no medical, legal or financial advice.");
    sheet.text()
}

/// Where a cell stands: its table, row and column.
fn taken_words(taken: &TakenAnswer) -> String {
    format!(
        "from {}, row {}, column {}: {}",
        taken.table, taken.row, taken.column, taken.cell
    )
}

/// A line of a sum, its number in a column; what comes of it stands alone beneath a stroke.
fn written(line: &SheetLineAnswer) -> String {
    format!("    {:<47}{:>2} {:>21}", line.what, line.sign, line.figure)
}

fn row(sheet: &mut Sheet, name: &str, within_deg: f64, why: &WhyOne) {
    let said = |deg: Option<f64>| {
        deg.map_or("–".to_owned(), |deg| {
            Zodiacal(Angle::from_deg(deg)).to_string()
        })
    };
    let minutes = |deg: f64| {
        // A tenth of a minute; adding nothing turns a negative zero into a plain one.
        let tenths = (deg * 600.0).round() / 10.0 + 0.0;
        format!("{tenths:.1}′").replace('-', "−")
    };
    let apart = why.difference_deg.map_or("–".to_owned(), minutes);
    sheet.line(&format!(
        "    {name:<11}{:<20}{:<20}{apart:>8} within {}",
        said(why.read_deg),
        said(why.exact_deg),
        minutes(within_deg)
    ));
}
