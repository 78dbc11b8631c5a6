use desk::words::{Angle, Degrees, House, Zodiacal, caution};
use desk::{CastAnswer, CastRequest, MethodAnswer, ShareAnswer, WhyAnswer, WhyCuspAnswer, WhyOne};

use crate::arguments::CastAloneArguments;
use crate::cast::{now_unix_s, request};
use crate::failure::Failure;
use crate::sheet::{Sheet, signed_degrees, whole_seconds};
use crate::{cabinet, correct};

/// Casts a figure and says it as a sheet, or as JSON.
pub(crate) fn run(arguments: &CastAloneArguments) -> Result<String, Failure> {
    let cabinet = cabinet::at_hand();
    let request = CastRequest {
        border: arguments.border.clone(),
        ..request(&arguments.cast, &cabinet)?
    };
    let answer = desk::cast(&request, &cabinet, now_unix_s())?;
    if arguments.cast.json {
        return Ok(serde_json::to_string(&answer).map_err(Failure::other)? + "\n");
    }
    Ok(cast(&answer))
}

/// A cast as a sheet of plain text: a page one would print and keep.
pub(crate) fn cast(answer: &CastAnswer) -> String {
    let by = answer.by;
    let mut sheet = Sheet::default();
    heading(&mut sheet, answer);
    time(&mut sheet, answer);
    if let Some(reason) = &answer.reason {
        sheet.title("The instrument");
        sheet.paragraph(&format!("{reason}."));
    }
    verdict(&mut sheet, answer);
    working(&mut sheet, answer, by);
    readings(&mut sheet, answer, by);
    if let Some(why) = &answer.why {
        own_readings(&mut sheet, why, by);
        if let Some(own) = &answer.own {
            correct::explanations(&mut sheet, own);
        }
        differences(&mut sheet, why, by);
    }
    figure(&mut sheet, answer);
    cautions(&mut sheet, answer);
    sheet.text()
}

fn heading(sheet: &mut Sheet, answer: &CastAnswer) {
    let moment = &answer.moment.when;
    let by = match (&moment.zone, moment.clock.as_str()) {
        (Some(zone), _) => format!("by the clock of {zone}"),
        (None, "mean") => "local mean time".to_owned(),
        (None, "sun") => "local apparent time".to_owned(),
        (None, offset) => format!("by a clock at {offset}"),
    };
    sheet.line(&format!(
        "{}, {by} ({} calendar)",
        whole_seconds(&moment.clock_time),
        moment.calendar
    ));
    let place = &answer.place;
    let coordinates = format!(
        "{} {}",
        side(place.latitude_deg, "N", "S"),
        side(place.longitude_deg, "E", "W")
    );
    // A place without a name is named by its coordinates.
    if place.name.contains('°') {
        sheet.line(&place.name);
    } else {
        sheet.line(&format!("{}, {coordinates}", place.name));
    }
    let instrument = &answer.instrument;
    sheet.line(&format!(
        "with {}, {} mm, plate {}",
        instrument.called,
        instrument.diameter_mm,
        side(instrument.plate_latitude_deg, "N", "S")
    ));
}

/// `42°53′ N`.
fn side(deg: f64, positive: &str, negative: &str) -> String {
    let letter = if deg < 0.0 { negative } else { positive };
    format!("{} {letter}", Degrees(Angle::from_deg(deg)))
}

fn time(sheet: &mut Sheet, answer: &CastAnswer) {
    sheet.title("The time");
    for step in &answer.moment.steps {
        let amount = signed_seconds(step.amount_s);
        sheet.line(&format!(
            "  {:<18}{amount:>12}   {}",
            step.what.replace('-', " "),
            whole_seconds(&step.result)
        ));
        sheet.indented(&step.reason, 6);
    }
    for note in &answer.moment.when.notes {
        sheet.indented(&format!("Note: {}.", note.text), 2);
    }
    candidates(sheet, answer);
}

/// The clocks by which it may have been told, where that is doubtful.
fn candidates(sheet: &mut Sheet, answer: &CastAnswer) {
    if answer.candidates.is_empty() {
        return;
    }
    sheet.gap();
    sheet.line("  It may have been told by another clock:");
    for one in &answer.candidates {
        let taken = if one.taken { "taken: " } else { "" };
        let option = one.clock.as_deref().unwrap_or("zone");
        sheet.entry(
            &format!("  --clock {option}"),
            22,
            &format!(
                "{taken}{}; ascendant {} ({})",
                one.words,
                one.ascendant_text.as_deref().unwrap_or("none"),
                one.source
            ),
        );
    }
}

/// How far the instrument may be trusted, before anything is turned.
fn verdict(sheet: &mut Sheet, answer: &CastAnswer) {
    let Some(verdict) = &answer.verdict else {
        return;
    };
    sheet.title("How far it may be trusted");
    sheet.paragraph(&verdict.sentence);
    for sentence in verdict
        .known
        .iter()
        .chain(verdict.hangs.iter().map(|hangs| &hangs.sentence))
    {
        sheet.indented(sentence, 2);
    }
    if !verdict.ways.is_empty() {
        sheet.line("To do better:");
    }
    for way in &verdict.ways {
        sheet.indented(&way.sentence, 2);
    }
    let with_table = |way: &desk::WayAnswer| way.way == "correction-afterwards";
    if let Some(correction) = &verdict.correction
        && verdict.ways.iter().any(with_table)
    {
        sheet.paragraph(&format!("{}:", correction.title));
        for lines in correction.lines.chunks(2) {
            let lines: Vec<String> = lines
                .iter()
                .map(|line| format!("{:<20}{:<8}", line.read_text, line.add_text))
                .collect();
            sheet.line(&format!("  {}", lines.join("    ").trim_end()));
        }
    }
}

/// The setting, and the steps of the procedure that is followed.
fn working(sheet: &mut Sheet, answer: &CastAnswer, by: &str) {
    let Some(working) = &answer.working else {
        return;
    };
    sheet.title(&format!("The working, cusps by {}", by.replace('_', " ")));
    let followed = working
        .steps
        .iter()
        .enumerate()
        .filter(|(_, step)| step.procedure.is_none_or(|procedure| procedure == by));
    // Numbered as in the whole working, so that `draw --step` shows the same step.
    for (number, step) in followed {
        sheet.item(number + 1, &step.instruction);
    }
}

fn readings(sheet: &mut Sheet, answer: &CastAnswer, by: &str) {
    let (Some(reading), Some(why)) = (&answer.reading, &answer.why) else {
        return;
    };
    sheet.title("You should read");
    sheet.line(&format!(
        "  {:<11}{:<22}{:<10}{:<22}{}",
        "", "on the instrument", "reads to", "calculated", "differs"
    ));
    for (name, read, reads_to, one) in [
        (
            "ascendant",
            reading.ascendant_deg,
            reading.reads_to_deg.ascendant,
            &why.ascendant,
        ),
        (
            "midheaven",
            reading.midheaven_deg,
            reading.reads_to_deg.midheaven,
            &why.midheaven,
        ),
    ] {
        match &one.reason {
            Some(reason) => sheet.indented(&format!("{name}: {reason}"), 2),
            None => sheet.line(&format!(
                "  {name:<11}{:<22}{:<10}{:<22}{}",
                degree(read),
                fineness(reads_to),
                degree(one.exact_deg),
                difference(one)
            )),
        }
    }
    // The procedure that is followed comes first.
    let (followed, others): (Vec<_>, Vec<_>) = reading
        .cusps
        .iter()
        .partition(|(procedure, _)| **procedure == by);
    for (procedure, cusps) in followed.into_iter().chain(others) {
        sheet.gap();
        sheet.line(&format!(
            "  by {}, which gives {}; held against {}",
            procedure.replace('_', " "),
            gives(procedure, answer.instrument.house_lines),
            answer.figure.method
        ));
        sheet.line(&format!(
            "  {:<25}{:<10}{:<32}{}",
            "", "reads to", "line", "differs"
        ));
        let whys = why
            .cusps
            .get(procedure)
            .map(Vec::as_slice)
            .unwrap_or_default();
        for (cusp, why) in cusps.iter().zip(whys) {
            let how = if cusp.opposite { "opposite" } else { "direct" };
            let name = numeral(cusp.house);
            match &cusp.reason {
                Some(reason) => sheet.indented(&format!("{name}: {reason}"), 2),
                None => sheet.line(&format!(
                    "  {name:<5}{:<20}{:<10}{:<32}{}",
                    degree(cusp.deg),
                    fineness(cusp.reads_to_deg),
                    format!("{}, {how}", cusp.line),
                    difference(&why.why)
                )),
            }
        }
    }
}

/// The house method that a procedure answers to.
fn gives<'a>(procedure: &str, house_lines: &'a str) -> &'a str {
    match procedure {
        "direct_cut" => "placidus",
        "house_lines" => house_lines,
        _ => "alcabitius",
    }
}

/// A house's numeral.
fn numeral(house: u8) -> &'static str {
    House::from_number(house).map_or("", House::roman)
}

fn degree(deg: Option<f64>) -> String {
    deg.map_or("–".to_owned(), |deg| {
        Zodiacal(Angle::from_deg(deg)).to_string()
    })
}

/// How far the instrument's reading is off; what is unexplained belongs to the
/// person's own.
fn difference(one: &WhyOne) -> String {
    let unexplained = unexplained(one).unwrap_or(0.0);
    one.difference_deg
        .map_or("–".to_owned(), |deg| signed_degrees(deg - unexplained))
}

/// What stays unexplained of a person's own reading; `None` where there is none.
fn unexplained(one: &WhyOne) -> Option<f64> {
    let share = one
        .shares
        .iter()
        .find(|share| share.cause == "unexplained")?;
    Some(share.deg)
}

/// The cusps but I and X, which are the ascendant and the midheaven.
fn other_cusps<'a>(why: &'a WhyAnswer, by: &str) -> impl Iterator<Item = &'a WhyCuspAnswer> {
    let cusps = why.cusps.get(by).map(Vec::as_slice).unwrap_or_default();
    cusps.iter().filter(|cusp| !matches!(cusp.house, 1 | 10))
}

/// What the person read, beside what is calculated.
fn own_readings(sheet: &mut Sheet, why: &WhyAnswer, by: &str) {
    let cusps = other_cusps(why, by).map(|cusp| (numeral(cusp.house), &cusp.why));
    let own: Vec<_> = [("ascendant", &why.ascendant), ("midheaven", &why.midheaven)]
        .into_iter()
        .chain(cusps)
        .filter_map(|(name, one)| Some((name, one, unexplained(one)?)))
        .collect();
    if own.is_empty() {
        return;
    }
    sheet.title("What you read");
    sheet.line(&format!(
        "  {:<11}{:<22}{:<22}{:<12}{}",
        "", "your reading", "calculated", "differs", "unexplained"
    ));
    for (name, one, unexplained) in own {
        sheet.line(&format!(
            "  {name:<11}{:<22}{:<22}{:<12}{}",
            degree(one.read_deg),
            degree(one.exact_deg),
            one.difference_deg.map_or("–".to_owned(), signed_degrees),
            signed_degrees(unexplained)
        ));
    }
}

/// How finely something reads: in minutes, or degrees where it is coarse.
fn fineness(deg: Option<f64>) -> String {
    match deg {
        None => "–".to_owned(),
        Some(deg) if deg < 1.0 => format!("{:.0}′", deg * 60.0),
        Some(deg) => Degrees(Angle::from_deg(deg)).to_string(),
    }
}

fn differences(sheet: &mut Sheet, why: &WhyAnswer, by: &str) {
    sheet.title("Why they differ");
    // The lower half repeats the upper, unless it was read.
    let cusps = other_cusps(why, by)
        .filter(|cusp| matches!(cusp.house, 2 | 3 | 11 | 12) || unexplained(&cusp.why).is_some());
    let all = [&why.ascendant, &why.midheaven]
        .into_iter()
        .chain(cusps.map(|cusp| &cusp.why));
    for one in all {
        if let Some(sentence) = &one.sentence {
            sheet.paragraph(sentence);
        }
        let shares: Vec<String> = one
            .shares
            .iter()
            .filter(|share| is_seen(share))
            .map(share_words)
            .collect();
        if !shares.is_empty() {
            sheet.indented(&shares.join(", "), 4);
        }
    }
}

/// Shares below a second of arc are left to the JSON.
fn is_seen(share: &ShareAnswer) -> bool {
    share.deg.abs() >= 1.0 / 3600.0
}

fn share_words(share: &ShareAnswer) -> String {
    format!("{} {}", share.cause, signed_degrees(share.deg))
}

fn figure(sheet: &mut Sheet, answer: &CastAnswer) {
    sheet.title(&format!(
        "The figure (chart) as calculated, houses by {}",
        answer.figure.method
    ));
    match answer.figure.methods.get(answer.figure.method) {
        Some(MethodAnswer::Cusps(cusps)) => {
            let cusp = |house: u8| {
                let exact = cusps.get(usize::from(house) - 1).copied();
                format!("{:<6}{}", numeral(house), degree(exact))
            };
            for house in 1..=6 {
                sheet.line(&format!("  {:<32}{}", cusp(house), cusp(house + 6)));
            }
        }
        Some(MethodAnswer::NoAnswer { error }) => sheet.paragraph(&format!("{error}.")),
        None => {}
    }
    sheet.gap();
    for body in &answer.sky.bodies {
        let way = if body.speed_deg_per_day < 0.0 {
            "retrograde"
        } else {
            ""
        };
        let longitude = Zodiacal(Angle::from_deg(body.longitude_deg)).to_string();
        let latitude = signed_degrees(body.latitude_deg);
        sheet.line(
            format!(
                "  {:<10}{longitude:<24}latitude {latitude:<10}{way}",
                body.name
            )
            .trim_end(),
        );
    }
}

fn cautions(sheet: &mut Sheet, answer: &CastAnswer) {
    sheet.title("Cautions");
    sheet.paragraph(&format!("{} {}", caution::SUN, caution::NO_ADVICE));
    for caution in &answer.cautions {
        sheet.paragraph(caution);
    }
}

fn signed_seconds(seconds: f64) -> String {
    let sign = if seconds < 0.0 { '−' } else { '+' };
    let whole = seconds.abs().round();
    let (hours, minutes) = ((whole / 3600.0).floor(), (whole / 60.0).floor() % 60.0);
    format!("{sign}{hours}:{minutes:02}:{:02}", whole % 60.0)
}
