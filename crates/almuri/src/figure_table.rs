use std::fmt::Write;

use desk::words::{Angle, Degrees, House, Zodiacal};
use desk::{CellAnswer, DignitiesAnswer, FinishedAnswer, FinishedFigure, LeafAnswer, PlacedAnswer};

use crate::failure::Failure;

/// A part of the table: its name, and how it is written.
type Part = (&'static str, fn(&mut String, &FinishedAnswer));

/// The parts of the table, in an order that can be read aloud.
const PARTS: [Part; 9] = [
    ("moment", heading),
    ("cusps", angles),
    ("planets", |text, answer| {
        bodies(text, &answer.exact, answer.read.as_ref());
    }),
    ("dignities", |text, answer| dignities(text, &answer.exact)),
    ("receptions", |text, answer| receptions(text, &answer.exact)),
    ("lots", |text, answer| {
        lots(text, &answer.exact, answer.read.as_ref());
    }),
    ("aspects", |text, answer| aspects(text, &answer.exact)),
    ("changes", differences),
    ("rules", rules),
];

/// Every part and every leaf.
pub(crate) const ALL: &str = "all";

/// Which of the parts that are named are leaves, to be asked for.
///
/// # Errors
/// When a part is named that there is not.
pub(crate) fn leaves(only: &[String]) -> Result<Vec<String>, Failure> {
    let known: Vec<&str> = desk::figure_leaves().iter().map(|leaf| leaf.name).collect();
    let is_part = |name: &&String| PARTS.iter().any(|(part, _)| part == name);
    for name in only {
        if name != ALL && !is_part(&name) && !known.contains(&name.as_str()) {
            let parts = PARTS.iter().map(|(part, _)| *part);
            let names: Vec<&str> = parts.chain(known).chain([ALL]).collect();
            return Err(Failure::bad_input(format!(
                "{name:?} is no part of a figure; {} would do",
                names.join(", ")
            )));
        }
    }
    Ok(only.iter().filter(|name| !is_part(name)).cloned().collect())
}

/// A finished figure as plain text: its first page, or the parts and leaves that are named.
pub(crate) fn table(answer: &FinishedAnswer, only: &[String]) -> String {
    let wanted = |part: &str| only.iter().any(|name| name == part || name == ALL);
    let mut text = String::new();
    for (part, write) in PARTS {
        if only.is_empty() || wanted(part) {
            write(&mut text, answer);
        }
    }
    for one in &answer.leaves {
        leaf(&mut text, one);
    }
    if only.is_empty() {
        let names = desk::figure_leaves().into_iter().map(|leaf| leaf.name);
        let names: Vec<&str> = names.collect();
        title(&mut text, "Leaves (--only NAME, or --only all)");
        line(&mut text, &names.join(", "));
    }
    text.trim_start_matches('\n').to_owned()
}

/// A leaf, its columns as wide as what stands in them.
fn leaf(text: &mut String, leaf: &LeafAnswer) {
    const GAP: usize = 2;
    title(text, leaf.title);
    let width = |column: usize| {
        let cells = leaf.rows.iter().filter_map(|row| row.get(column));
        let cells = cells.map(|cell| cell.said.chars().count());
        let head = leaf
            .columns
            .get(column)
            .map_or(0, |head| head.chars().count());
        cells.chain([head]).max().unwrap_or(0)
    };
    let widths: Vec<usize> = (0..leaf.columns.len()).map(width).collect();
    let padded = |cells: Vec<&str>| {
        let mut row = String::new();
        for (cell, width) in cells.into_iter().zip(&widths) {
            let _ = write!(row, "{cell:<width$}", width = width + GAP);
        }
        row
    };
    line(text, &padded(leaf.columns.clone()));
    for row in &leaf.rows {
        line(
            text,
            &padded(row.iter().map(|cell| cell.said.as_str()).collect()),
        );
    }
    if leaf.rows.is_empty() {
        line(text, "none");
    }
    for note in leaf.notes.iter().chain(&leaf.changes) {
        line(text, note);
    }
    for source in &leaf.sources {
        line(text, &format!("Source: {source}"));
    }
}

/// Leaves as comma-separated values: one as its table, several as a row for each cell.
pub(crate) fn csv(leaves: &[LeafAnswer]) -> Result<String, Failure> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    let mut write = |record: &[&str]| writer.write_record(record).map_err(Failure::other);
    match leaves {
        [] => {
            return Err(Failure::bad_input(
                "--csv writes leaves, and --only names none; one of those that the table names at its end, or all, would do",
            ));
        }
        [leaf] => {
            write(&leaf.columns)?;
            for row in &leaf.rows {
                let cells: Vec<String> = row.iter().map(CellAnswer::plain).collect();
                write(&cells.iter().map(String::as_str).collect::<Vec<_>>())?;
            }
        }
        leaves => {
            write(&["leaf", "row", "column", "value"])?;
            for leaf in leaves {
                for row in &leaf.rows {
                    let name = row.first().map_or("", |cell| cell.said.as_str());
                    for (cell, column) in row.iter().zip(&leaf.columns).skip(1) {
                        write(&[leaf.name, name, column, &cell.plain()])?;
                    }
                }
            }
        }
    }
    let bytes = writer.into_inner().map_err(Failure::other)?;
    String::from_utf8(bytes).map_err(Failure::other)
}

fn line(text: &mut String, line: &str) {
    // Writing to a String cannot fail.
    let _ = writeln!(text, "{}", line.trim_end());
}

fn title(text: &mut String, title: &str) {
    let rule = "─".repeat(title.chars().count());
    let _ = writeln!(text, "\n{title}\n{rule}");
}

fn zodiacal(deg: Option<f64>) -> String {
    deg.map_or("–".to_owned(), |deg| {
        Zodiacal(Angle::from_deg(deg)).to_string()
    })
}

fn house(house: Option<u8>) -> &'static str {
    house.and_then(House::from_number).map_or("–", House::roman)
}

fn degrees(deg: f64) -> String {
    Degrees(Angle::from_deg(deg.abs())).to_string()
}

fn heading(text: &mut String, answer: &FinishedAnswer) {
    let moment = &answer.moment.when;
    line(
        text,
        &format!(
            "{} ({} calendar)",
            crate::sheet::whole_seconds(&moment.clock_time),
            moment.calendar
        ),
    );
    let place = &answer.place;
    line(
        text,
        &format!(
            "{}, {:.4}°, {:.4}°",
            place.name, place.latitude_deg, place.longitude_deg
        ),
    );
    let exact = &answer.exact;
    line(text, &format!("a figure of the {}", exact.sect));
    match &exact.hour {
        Some(hour) => {
            line(
                text,
                &format!(
                    "hour {} of the {}, ruled by {}, in the day of {}",
                    hour.number,
                    hour.of,
                    the(hour.ruler),
                    the(hour.day_ruler)
                ),
            );
            line(
                text,
                &format!(
                    "    from {} to {}, {:.1} minutes long",
                    hour.begins, hour.ends, hour.minutes
                ),
            );
            let ends = match hour.of {
                "day" => ["sunrise", "sunset"],
                _ => ["sunset", "sunrise"],
            };
            line(
                text,
                &format!(
                    "    {} {}, {} {}",
                    ends[0], hour.between[0], ends[1], hour.between[1]
                ),
            );
        }
        None => line(text, "no planetary hour, for the Sun does not rise and set"),
    }
    if let Some(lunation) = &exact.lunation {
        let degree = zodiacal(Some(lunation.longitude_deg));
        line(
            text,
            &format!(
                "{} Moon before it in {degree}, {}",
                lunation.phase, lunation.at
            ),
        );
    }
}

/// The Sun and the Moon have the article.
fn the(name: &str) -> String {
    match name {
        "Sun" | "Moon" => format!("the {name}"),
        other => other.to_owned(),
    }
}

fn angles(text: &mut String, answer: &FinishedAnswer) {
    title(text, "Angles and cusps");
    let (exact, read) = (&answer.exact, answer.read.as_ref());
    line(text, &format!("{:<12}{}", "", exact.from));
    if let Some(read) = read {
        line(text, &format!("{:<12}beside it: {}", "", read.from));
    }
    let mut row = |name: &str, deg: Option<f64>, other: Option<f64>| {
        line(
            text,
            &format!("{name:<12}{:<22}{}", zodiacal(deg), beside(read, other)),
        );
    };
    row(
        "ascendant",
        exact.ascendant_deg,
        read.and_then(|read| read.ascendant_deg),
    );
    row(
        "midheaven",
        Some(exact.midheaven_deg),
        read.map(|read| read.midheaven_deg),
    );
    for house in House::ALL {
        let cusp = |figure: &FinishedFigure| Some(figure.cusps_deg?[house.index()]);
        row(house.roman(), cusp(exact), read.and_then(cusp));
    }
    if let Some(reason) = &answer.reason {
        line(text, &format!("no reading: {reason}"));
    }
}

fn beside(read: Option<&FinishedFigure>, deg: Option<f64>) -> String {
    read.map_or_else(String::new, |_| zodiacal(deg))
}

fn bodies(text: &mut String, exact: &FinishedFigure, read: Option<&FinishedFigure>) {
    title(text, "Planets");
    let by_reading = if read.is_some() { "as read" } else { "" };
    line(
        text,
        &format!(
            "{:<12}{:<22}{:<7}{:<9}{:<12}{:<11}antiscion",
            "", "longitude", "house", by_reading, "latitude", "in a day"
        ),
    );
    for (index, body) in exact.bodies.iter().enumerate() {
        let as_read = read
            .and_then(|read| read.bodies.get(index))
            .map_or("", |body| house(body.house));
        let sign = if body.latitude_deg < 0.0 { "S" } else { "N" };
        let latitude = format!("{} {sign}", degrees(body.latitude_deg));
        line(
            text,
            &format!(
                "{:<12}{:<22}{:<7}{as_read:<9}{latitude:<12}{:<11}{}",
                body.name,
                zodiacal(Some(body.longitude_deg)),
                house(body.house),
                daily(body.speed_deg_per_day),
                zodiacal(Some(body.antiscion_deg)),
            ),
        );
        let state = state(body);
        if !state.is_empty() {
            line(text, &format!("{:<12}{state}", ""));
        }
    }
    for (index, node) in exact.nodes.iter().enumerate() {
        let as_read = read
            .and_then(|read| read.nodes.get(index))
            .map_or("", |node| house(node.house));
        line(
            text,
            &format!(
                "{:<12}{:<22}{:<7}{as_read}",
                node.name,
                zodiacal(Some(node.longitude_deg)),
                house(node.house)
            ),
        );
    }
    for star in &exact.stars {
        line(
            text,
            &format!(
                "{:<12}{:<22}near {}, within {}",
                star.star,
                zodiacal(Some(star.longitude_deg)),
                star.near,
                degrees(star.away_deg)
            ),
        );
    }
}

fn daily(deg: f64) -> String {
    let sign = if deg < 0.0 { "−" } else { "+" };
    format!("{sign}{}", degrees(deg))
}

/// What is to be said of a planet besides where it is.
fn state(body: &PlacedAnswer) -> String {
    let mut words = Vec::new();
    if body.retrograde {
        words.push("retrograde");
    }
    match body.swift {
        Some(true) => words.push("swift"),
        Some(false) => words.push("slow"),
        None => {}
    }
    words.extend(body.under_sun);
    words.push(if body.up {
        "above the horizon"
    } else {
        "below the horizon"
    });
    words.join(", ")
}

fn dignities(text: &mut String, exact: &FinishedFigure) {
    title(text, "Essential dignities");
    line(
        text,
        &format!(
            "{:<12}{:<9}{:<9}{:<22}{:<9}{:<9}points",
            "", "sign", "exalted", "triplicity", "term", "face"
        ),
    );
    for body in &exact.bodies {
        let Some(dignities) = &body.dignities else {
            continue;
        };
        let DignitiesAnswer {
            ruler, term, face, ..
        } = dignities;
        line(
            text,
            &format!(
                "{:<12}{ruler:<9}{:<9}{:<22}{term:<9}{face:<9}{:+}  {}",
                body.name,
                dignities.exalted.unwrap_or("–"),
                triplicity(&dignities.triplicity),
                dignities.score,
                dignities.has.join(", ")
            ),
        );
    }
}

/// Mutual receptions, and others between planets in aspect.
fn receptions(text: &mut String, exact: &FinishedFigure) {
    let mut lines = Vec::new();
    for one in &exact.receptions {
        let aspect = one
            .aspect
            .map_or_else(String::new, |kind| format!(", in {kind}"));
        match one.in_return {
            // Each pair once.
            Some(_)
                if exact.receptions.iter().any(|other| {
                    (other.guest, other.host) == (one.host, one.guest)
                        && order(exact, other.guest) < order(exact, one.guest)
                }) => {}
            Some(back) => lines.push(format!(
                "{:<12}with {}: by {}, in return by {back}{aspect}",
                one.guest, one.host, one.by
            )),
            None if one.aspect.is_some() => lines.push(format!(
                "{:<12}received by {} by {}{aspect}",
                one.guest, one.host, one.by
            )),
            None => {}
        }
    }
    if !lines.is_empty() {
        title(text, "Receptions, mutual or in aspect");
        for one in lines {
            line(text, &one);
        }
    }
}

/// Where a planet stands in the list of the bodies.
fn order(exact: &FinishedFigure, name: &str) -> Option<usize> {
    exact.bodies.iter().position(|body| body.name == name)
}

/// The rulers by day, by night and always; one who rules both is named once.
fn triplicity(rulers: &[&str]) -> String {
    let mut named: Vec<&str> = rulers.to_vec();
    named.dedup();
    named.join(" ")
}

fn lots(text: &mut String, exact: &FinishedFigure, read: Option<&FinishedFigure>) {
    title(text, "Lots");
    for (index, lot) in exact.lots.iter().enumerate() {
        let other = read.and_then(|read| read.lots.get(index));
        let as_read = other.map_or_else(String::new, |lot| {
            format!(
                "as read {:<22}{}",
                zodiacal(lot.longitude_deg),
                house(lot.house)
            )
        });
        line(
            text,
            &format!(
                "{:<12}{:<22}{:<7}{as_read}",
                lot.name,
                zodiacal(lot.longitude_deg),
                house(lot.house)
            ),
        );
    }
}

fn aspects(text: &mut String, exact: &FinishedFigure) {
    title(text, "Aspects by degree");
    if exact.aspects.is_empty() {
        line(text, "none");
    }
    for aspect in &exact.aspects {
        let way = if aspect.applying {
            "applying"
        } else {
            "separating"
        };
        let out = if aspect.by_sign { "" } else { ", out of sign" };
        line(
            text,
            &format!(
                "{:<9}{:<13}{:<9}{way}, {} of {}{out}",
                aspect.faster,
                aspect.kind,
                aspect.slower,
                degrees(aspect.away_deg),
                degrees(aspect.limit_deg)
            ),
        );
    }
}

fn differences(text: &mut String, answer: &FinishedAnswer) {
    if answer.read.is_some() {
        title(text, "What the reading changes");
        if answer.changes.is_empty() {
            line(text, "nothing");
        }
        for change in &answer.changes {
            line(text, change);
        }
    }
    title(text, "What a little time would change");
    if answer.close.is_empty() {
        line(text, "nothing");
    }
    for close in &answer.close {
        line(text, &close.sentence);
    }
}

fn rules(text: &mut String, answer: &FinishedAnswer) {
    title(text, "By these rules");
    for rule in &answer.rules {
        line(
            text,
            &format!("{:<15}{:<14}{}", rule.rule, rule.choice, rule.source),
        );
    }
    for sentence in &answer.mixture {
        line(text, sentence);
    }
    line(
        text,
        "Where each lot is in print stands in the JSON (--json).",
    );
}
