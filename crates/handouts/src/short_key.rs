//! The key that a teacher has beside the sheets: two pages for five pupils.

use desk::words::with_signs_drawn;
use desk::{AskedAnswer, ExercisesAnswer, PupilAnswer, QuestionAnswer, TellTaleAnswer, level_name};
use press::{Block, Column, Handout, Table};

use crate::exercise::{differs, drawn_with, or_dash, short, slip_words};
use crate::lesson::sentence;

/// So many slips have a column.
const SLIPS: usize = 4;

/// A question as several are asked it, each with their own instrument.
struct Asked<'a> {
    question: &'a QuestionAnswer,
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
    for asked in all_asked(exercises) {
        let question = asked.question;
        let names = match asked.by.as_slice() {
            [(one, _)] if exercises.pupils.len() > 1 => format!(", {}", one.name),
            _ => String::new(),
        };
        let mut parts = vec![
            format!("{}. {}{names}", question.number, question.title),
            question.when.clone(),
        ];
        parts.extend(question.given.clone());
        parts.retain(|part| !part.is_empty());
        let parts: Vec<String> = parts.iter().map(|part| sentence(part)).collect();
        blocks.push(Block::Table(Table {
            caption: parts.join(" "),
            ..table(exercises, &asked)
        }));
    }
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

/// The questions in the order in which they are first asked.
fn all_asked(exercises: &ExercisesAnswer) -> Vec<Asked<'_>> {
    let mut all: Vec<Asked<'_>> = Vec::new();
    for pupil in &exercises.pupils {
        for question in &pupil.questions {
            let same = |asked: &&mut Asked<'_>| {
                let one = asked.question;
                (one.number, &one.text) == (question.number, &question.text)
            };
            match all.iter_mut().find(same) {
                Some(asked) => asked.by.push((pupil, question)),
                None => all.push(Asked {
                    question,
                    by: vec![(pupil, question)],
                }),
            }
        }
    }
    all.sort_by_key(|asked| asked.question.number);
    all
}

/// A row for everything asked of every instrument.
fn table(exercises: &ExercisesAnswer, asked: &Asked<'_>) -> Table {
    let slips = likeliest(asked);
    let several = asked.by.len() > 1;
    let mut columns = vec![
        Column::left("", if several { 31.0 } else { 1.0 }),
        Column::left("", 19.0),
        Column::left("shows", 18.0),
        Column::left("right", 18.0),
        Column::left("within", 17.0),
    ];
    columns.extend(slips.iter().map(|slips| {
        let words: Vec<String> = slips.iter().map(|name| slip_words(name)).collect();
        Column::left(&words.join(", or "), 21.0)
    }));
    // Where there are fewer slips, the others stand as they do elsewhere.
    columns.extend((slips.len()..SLIPS).map(|_| Column::left("", 21.0)));
    let mut rows: Vec<Vec<String>> = Vec::new();
    for (whose, question) in by_answer(exercises, asked) {
        for (index, one) in question.asks.iter().enumerate() {
            let whose = if index == 0 {
                whose.clone()
            } else {
                String::new()
            };
            let mut row = vec![
                whose,
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
        whole: true,
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

/// The question once for all who should answer it alike, told by their instruments, or by
/// their names where others with the same instrument have another answer.
fn by_answer<'a>(
    exercises: &'a ExercisesAnswer,
    asked: &Asked<'a>,
) -> Vec<(String, &'a QuestionAnswer)> {
    let mut all: Vec<(Vec<&PupilAnswer>, &QuestionAnswer)> = Vec::new();
    for (pupil, question) in &asked.by {
        let same = all.iter_mut().find(|(_, other)| {
            other.asks == question.asks && other.tell_tales == question.tell_tales
        });
        match same {
            Some((pupils, _)) => pupils.push(pupil),
            None => all.push((vec![pupil], question)),
        }
    }
    let whose = |pupils: &[&PupilAnswer]| {
        if asked.by.len() == 1 {
            return String::new();
        }
        let mut instruments: Vec<&str> = pupils.iter().map(|one| one.instrument.as_str()).collect();
        instruments.sort_unstable();
        instruments.dedup();
        let is_here = |one: &PupilAnswer| pupils.iter().any(|here| here.name == one.name);
        let mut of_them = exercises.pupils.iter();
        let all_here =
            of_them.all(|one| !instruments.contains(&one.instrument.as_str()) || is_here(one));
        let names: Vec<&str> = pupils.iter().map(|one| one.name.as_str()).collect();
        if all_here || names.len() > 2 {
            instruments.join(", ")
        } else {
            names.join(", ")
        }
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
        _ => short(asked),
    }
}

/// A value as it stands in a narrow column: signs drawn, and said in one way.
fn closely(value: &str) -> String {
    let (value, _) = value.split_once(" (").unwrap_or((value, ""));
    with_signs_drawn(value)
}
