use desk::words::{Angle, Zodiacal};
use desk::{ReckonAnswer, ReckonRequest, RoadsAnswer, SheetLineAnswer, TakenAnswer, WhyOne};
use patience::Patience;

use crate::arguments::ReckonArguments;
use crate::cabinet;
use crate::cast::{moment_request, now_unix_s};
use crate::correct::{explanations, readings};
use crate::failure::Failure;
use crate::picture::write_whole;
use crate::sheet::{Sheet, signed_degrees};
use crate::work::pairs;

/// Works a figure with the pen, and says it as a sheet, as JSON, or typeset.
pub(crate) fn run(arguments: &ReckonArguments) -> Result<String, Failure> {
    let cabinet = cabinet::at_hand();
    let with = arguments.with.as_ref();
    let asked = moment_request(&arguments.when, &arguments.moment, with, &cabinet)?;
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
        read: pairs("--read", "ascendant=\"11°30′ Pisces\"", &arguments.read)?,
        // The usual instrument of the settings is not asked about without a word.
        with: with.and(asked.with),
        by: arguments.by.clone().or(asked.by),
        sun: asked.sun,
        plates: asked.plates,
    };
    let answer = desk::reckoned(&request, &cabinet, now_unix_s())?;
    if let Some(path) = &arguments.output {
        let size = press::PageSize::parse(&arguments.page)?;
        let handout = if arguments.blank {
            handouts::reckoned_blank(&answer)
        } else {
            handouts::reckoned_handout(&answer)
        };
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
    if let Some(own) = &answer.own {
        sheet.title("What you found");
        readings(&mut sheet, &own.readings);
        explanations(&mut sheet, own);
    }
    if let Some(roads) = &answer.roads {
        three_roads(&mut sheet, roads);
    }
    sheet.gap();
    sheet.paragraph("A chart is no medical, legal or financial advice.");
    sheet.text()
}

/// Pen, brass and calculation beside each other, and why any two of them differ.
fn three_roads(sheet: &mut Sheet, roads: &RoadsAnswer) {
    let by = roads.by.replace('_', " ");
    sheet.title(&format!(
        "Three roads, with {}, cusps by {by}",
        roads.instrument
    ));
    if let Some(reason) = &roads.reason {
        sheet.paragraph(reason);
        return;
    }
    let said = |deg: Option<f64>| {
        deg.map_or("–".to_owned(), |deg| {
            Zodiacal(Angle::from_deg(deg)).to_string()
        })
    };
    sheet.line(&format!(
        "    {:<15}{:<20}{:<20}{:<20}",
        "", "pen", "brass", "calculated"
    ));
    // The cusps opposite say nothing new.
    let numbers = || {
        roads
            .numbers
            .iter()
            .filter(|one| !OPPOSITE.contains(&one.what.as_str()))
    };
    for one in numbers() {
        sheet.line(&format!(
            "    {:<15}{:<20}{:<20}{:<20}",
            one.what.trim_start_matches("The "),
            said(one.pen_deg),
            said(one.brass_deg),
            said(one.calculated_deg)
        ));
    }
    for one in numbers().take(2) {
        sheet.gap();
        for two in &one.between {
            sheet.paragraph(&two.sentence);
        }
        if let Some(two) = one.between.first() {
            for share in two
                .shares
                .iter()
                .filter(|share| share.deg.abs() * 60.0 >= 0.05)
            {
                let deg = signed_degrees(share.deg);
                sheet.line(&format!("    {deg:>9}  {:<18}{}", share.cause, share.words));
            }
        }
    }
}

/// Those that stand opposite what is found.
const OPPOSITE: [&str; 8] = [
    "Cusp I",
    "Cusp IV",
    "Cusp V",
    "Cusp VI",
    "Cusp VII",
    "Cusp VIII",
    "Cusp IX",
    "Cusp X",
];

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
