//! The key that a teacher has beside the sheets: two pages for five pupils.

use desk::words::with_signs_drawn;
use desk::{AskedAnswer, ExercisesAnswer, PupilAnswer, QuestionAnswer, TellTaleAnswer, level_name};
use press::{Block, Column, Handout, Table};

use crate::exercise::{differs, drawn_with, or_dash, short, slip_words};
use crate::lesson::sentence;

/// How many slips have a column each.
const SLIPS: usize = 4;

/// A question that several are asked, of the same moment or each of another, each with their
/// own instrument.
struct Asked<'a> {
    number: usize,
    title: &'a str,
    by: Vec<(&'a PupilAnswer, &'a QuestionAnswer)>,
}

/// The key to everyone's sheets in short: what each brass shows, what is right, how near,
/// and what the four likeliest slips would show.
#[must_use]
pub fn class_key(exercises: &ExercisesAnswer) -> Handout {
    let mut blocks = vec![
        Block::Title(format!("{}: key", exercises.class)),
        Block::Small(
            "Right is what comes so near to what the brass shows, either way; what is right by \
             calculation lies within. Whole degrees are right with the nearest one, and what follows rightly \
             from a wrong hour is right from there. The last columns are what the likeliest slips \
             would show; a dot where it is as it should be."
                .to_owned(),
        ),
        Block::Small(who_has_what(exercises)),
    ];
    let asked = all_asked(exercises);
    blocks.extend(
        asked
            .iter()
            .map(|asked| Block::Table(table(exercises, asked))),
    );
    Handout {
        title: format!("{}: key", exercises.class),
        foot: drawn_with(exercises),
        blocks,
    }
}

/// Who has which instrument, a sentence for each.
fn who_has_what(exercises: &ExercisesAnswer) -> String {
    let mut all: Vec<(&str, u8, Vec<&str>)> = Vec::new();
    for pupil in &exercises.pupils {
        let same = all.iter_mut().find(|(instrument, level, _)| {
            *instrument == pupil.instrument && *level == pupil.level
        });
        match same {
            Some((_, _, names)) => names.push(&pupil.name),
            None => all.push((&pupil.instrument, pupil.level, vec![&pupil.name])),
        }
    }
    let said = all.into_iter().map(|(instrument, level, names)| {
        format!("{instrument}, {}: {}.", level_name(level), names.join(", "))
    });
    said.collect::<Vec<_>>().join(" ")
}

/// The questions by their numbers, those of one number and kind together.
fn all_asked(exercises: &ExercisesAnswer) -> Vec<Asked<'_>> {
    let mut all: Vec<Asked<'_>> = Vec::new();
    for pupil in &exercises.pupils {
        for question in &pupil.questions {
            let same = |asked: &&mut Asked<'_>| {
                (asked.number, asked.title) == (question.number, question.title.as_str())
            };
            match all.iter_mut().find(same) {
                Some(asked) => asked.by.push((pupil, question)),
                None => all.push(Asked {
                    number: question.number,
                    title: &question.title,
                    by: vec![(pupil, question)],
                }),
            }
        }
    }
    all.sort_by_key(|asked| asked.number);
    // Those of one moment stand together.
    for asked in &mut all {
        let first = |question: &QuestionAnswer| {
            let mut by = asked.by.iter();
            by.position(|(_, other)| other.text == question.text)
        };
        let mut by: Vec<_> = asked
            .by
            .iter()
            .map(|(pupil, question)| (first(question), *pupil, *question))
            .collect();
        by.sort_by_key(|(first, ..)| *first);
        asked.by = by
            .into_iter()
            .map(|(_, pupil, question)| (pupil, question))
            .collect();
    }
    all
}

/// Of which moment a question is asked, and what is given with it; shorter than on the
/// sheet, where it is found by name and number.
fn of_when(question: &QuestionAnswer) -> String {
    let moment = &question.request.moment;
    let (date, time) = moment.when.split_once(' ').unwrap_or((&moment.when, ""));
    let town = moment.at.split(", ").next().unwrap_or_default();
    // What the sheet does not say of it would lead astray.
    let has = |text: &str| question.when.contains(text);
    let is_dated = date.split('-').next().is_some_and(has);
    let is_timed = is_dated && has(" h ");
    let parts = [(date, is_dated), (time, is_timed)];
    let parts = parts
        .into_iter()
        .filter(|(part, is_said)| *is_said && !part.is_empty());
    let when: Vec<&str> = parts.map(|(part, _)| part).collect();
    let mut said = vec![when.join(" ")];
    if !question.when.is_empty() {
        said.push(town.to_owned());
    }
    said.retain(|part| !part.is_empty());
    let mut said = vec![sentence(&said.join(", "))];
    said.extend(question.given.iter().map(|given| with_signs_drawn(given)));
    said.retain(|part| !part.is_empty());
    said.join(" ")
}

/// A row for everything asked of every instrument.
fn table(exercises: &ExercisesAnswer, asked: &Asked<'_>) -> Table {
    let slips = likeliest(asked);
    let mut columns = vec![
        Column::left(&format!("{}. {}", asked.number, asked.title), 51.0),
        Column::left("", 17.0),
        Column::left("shows", 16.0),
        Column::left("right", 16.0),
        Column::left("within", 18.0),
    ];
    columns.extend(slips.iter().map(|slips| {
        let words: Vec<String> = slips.iter().map(|name| slip_words(name)).collect();
        Column::left(&words.join(", or "), 17.0)
    }));
    // Where there are fewer slips, the others stand as they do elsewhere.
    columns.extend((slips.len()..SLIPS).map(|_| Column::left("", 17.0)));
    let mut rows: Vec<Vec<String>> = Vec::new();
    let mut said = "";
    for (whose, question) in by_answer(exercises, asked) {
        // Of one moment it is said once.
        let when = if said == question.text {
            String::new()
        } else {
            of_when(question)
        };
        said = &question.text;
        let beside = [whose, when].map(|part| part.trim().to_owned());
        let beside: Vec<String> = beside.into_iter().filter(|one| !one.is_empty()).collect();
        let beside = beside.join(": ");
        for (index, one) in question.asks.iter().enumerate() {
            let beside = if index == 0 { beside.as_str() } else { "" };
            let mut row = vec![
                beside.to_owned(),
                shorter(one).to_owned(),
                closely(&one.reads),
                closely(&or_dash(&one.exact)),
                format!("± {}", one.accept),
            ];
            row.extend(slips.iter().map(|slips| {
                let tale = question.tell_tales.iter().find(|tale| tale.slips == *slips);
                let shown = tale.and_then(|tale| {
                    let text = tale.shows.get(index)?;
                    let deg = tale.shows_deg.get(index)?;
                    differs(one, *deg).then(|| closely(text))
                });
                shown.unwrap_or_else(|| "·".to_owned())
            }));
            row.resize(columns.len(), String::new());
            rows.push(row);
        }
    }
    Table {
        columns,
        rows,
        close: true,
        ..Table::default()
    }
}

/// The likeliest slips that some of the instruments tell of.
fn likeliest(asked: &Asked<'_>) -> Vec<Vec<String>> {
    let tells = |question: &QuestionAnswer, tale: &TellTaleAnswer| {
        let mut shown = question.asks.iter().zip(&tale.shows_deg);
        shown.any(|(one, deg)| differs(one, *deg))
    };
    let mut all: Vec<(usize, &Vec<String>)> = Vec::new();
    for (_, question) in &asked.by {
        for tale in &question.tell_tales {
            let known = all.iter().any(|(_, slips)| **slips == tale.slips);
            if !known && tells(question, tale) {
                all.push((tale.less_likely_than(), &tale.slips));
            }
        }
    }
    all.sort_by_key(|(rank, _)| *rank);
    let best = all.into_iter().take(SLIPS);
    best.map(|(_, slips)| slips.clone()).collect()
}

/// The question once for all who should answer it alike, told by their names, or by their
/// instruments where they are many.
fn by_answer<'a>(
    exercises: &'a ExercisesAnswer,
    asked: &Asked<'a>,
) -> Vec<(String, &'a QuestionAnswer)> {
    let mut all: Vec<(Vec<&PupilAnswer>, &QuestionAnswer)> = Vec::new();
    for (pupil, question) in &asked.by {
        let same = all.iter_mut().find(|(_, other)| {
            (&other.text, &other.asks, &other.tell_tales)
                == (&question.text, &question.asks, &question.tell_tales)
        });
        match same {
            Some((pupils, _)) => pupils.push(pupil),
            None => all.push((vec![pupil], question)),
        }
    }
    let whose = |pupils: &[&PupilAnswer]| {
        if exercises.pupils.len() == 1 {
            return String::new();
        }
        let names: Vec<&str> = pupils.iter().map(|one| one.name.as_str()).collect();
        if names.len() <= 2 {
            return names.join(", ");
        }
        let mut instruments: Vec<&str> = pupils.iter().map(|one| one.instrument.as_str()).collect();
        instruments.sort_unstable();
        instruments.dedup();
        instruments.join(", ")
    };
    all.into_iter()
        .map(|(pupils, question)| (whose(&pupils), question))
        .collect()
}

/// What is asked, as it stands in a narrow column.
fn shorter(asked: &AskedAnswer) -> &str {
    match asked.name.as_str() {
        "meridian-altitude" => "altitude",
        "day-arc" => "day",
        "night-arc" => "night",
        "oblique-ascension" => "ascension",
        "unequal-hour-of-day" => "day hour",
        "unequal-hour-of-night" => "night hour",
        _ => short(asked),
    }
}

/// A value as it stands in a narrow column: signs drawn, and said in one way.
fn closely(value: &str) -> String {
    let (value, _) = value.split_once(" (").unwrap_or((value, ""));
    with_signs_drawn(value).replace(" unequal hours of", " of")
}
