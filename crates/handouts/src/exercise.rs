use desk::words::Called;
use desk::{AskedAnswer, ExercisesAnswer, PupilAnswer, QuestionAnswer, TellTaleAnswer};
use press::{Block, Column, Handout, Question, Table};

use crate::lesson::sentence;

/// A pupil's sheet: the questions, with room to write.
#[must_use]
pub fn pupil_sheet(exercises: &ExercisesAnswer, pupil: &PupilAnswer) -> Handout {
    let mut blocks = vec![
        Block::Title(exercises.class.clone()),
        Block::Lead(format!("Exercises for {}", pupil.name)),
        Block::Lead(instrument(pupil)),
        Block::WriteIn(vec!["date".to_owned(), "time taken".to_owned()]),
        Block::Small(
            "Write degrees as 26°30′ Cancer, as finely as you can tell them apart, and beside \
             each the line on which you read it."
                .to_owned(),
        ),
    ];
    // How near the instrument comes is the key's affair.
    blocks.extend(pupil.notes.iter().skip(1).cloned().map(Block::Small));
    for question in &pupil.questions {
        blocks.push(printed_question(question));
    }
    Handout {
        title: format!("{}: exercises for {}", exercises.class, pupil.name),
        foot: drawn_with(exercises),
        blocks,
    }
}

/// A question with room to write.
pub(crate) fn printed_question(question: &QuestionAnswer) -> Block {
    let asks = question.asks.iter();
    Block::Question(Question {
        number: question.number,
        text: question.text.clone(),
        given: [question.given.as_slice(), &question.off].concat(),
        asks: asks.map(|asked| asked.what.clone()).collect(),
    })
}

/// The key to everyone's sheets at length: for each how the brass is set, on which lines it
/// is read, and what every slip known would show.
#[must_use]
pub fn long_key(exercises: &ExercisesAnswer) -> Handout {
    let mut blocks = Vec::new();
    for (index, pupil) in exercises.pupils.iter().enumerate() {
        if index > 0 {
            blocks.push(Block::NewPage);
        }
        blocks.push(Block::Title(format!("Key for {}", pupil.name)));
        blocks.push(Block::Lead(format!(
            "{}, {}",
            exercises.class,
            instrument(pupil)
        )));
        blocks.push(Block::Small(
            "Right is what comes so near to what this instrument reads, either way; what is \
             calculated lies within. Whole degrees are right with the nearest one. What follows \
             rightly from a wrong hour is right from there. Below stands what the commonest slips would show, by the names under \
             which “almuri correct” explains them; a dot where it is as it should be."
                .to_owned(),
        ));
        blocks.extend(pupil.notes.iter().cloned().map(Block::Small));
        for question in &pupil.questions {
            key(question, &mut blocks);
        }
    }
    Handout {
        title: format!("{}: key at length", exercises.class),
        foot: drawn_with(exercises),
        blocks,
    }
}

pub(crate) fn drawn_with(exercises: &ExercisesAnswer) -> String {
    format!("drawn with seed {}", exercises.seed)
}

fn instrument(pupil: &PupilAnswer) -> String {
    format!(
        "with {}, {} mm across; {}",
        Called(&pupil.instrument),
        pupil.diameter_mm,
        desk::level_name(pupil.level)
    )
}

fn key(question: &QuestionAnswer, blocks: &mut Vec<Block>) {
    blocks.push(Block::Heading(format!(
        "{}. {}",
        question.number, question.title
    )));
    let mut parts = vec![question.when.clone()];
    parts.extend(question.given.clone());
    parts.extend(question.off.clone());
    parts.push(question.setting.clone());
    if question.instead {
        parts.push(
            "Drawn in place of the class's question, which this instrument does not answer"
                .to_owned(),
        );
    }
    parts.retain(|part| !part.is_empty());
    let parts: Vec<String> = parts.iter().map(|part| sentence(part)).collect();
    if !parts.is_empty() {
        blocks.push(Block::Intro(parts.join(" ")));
    }
    blocks.push(Block::Table(Table {
        columns: vec![
            Column::left("", 36.0),
            Column::left("reads", 33.0),
            Column::right("to", 16.0),
            Column::right("right within", 20.0),
            Column::left("", 2.0),
            Column::left("on", 44.0),
            Column::left("calculated", 31.0),
        ],
        rows: question
            .asks
            .iter()
            .map(|one| {
                vec![
                    one.what.clone(),
                    one.reads.clone(),
                    or_dash(&one.reads_to),
                    format!("± {}", one.accept),
                    String::new(),
                    one.line.clone(),
                    or_dash(&one.exact),
                ]
            })
            .collect(),
        summed: false,
        whole: true,
        close: false,
    }));
    if !question.tell_tales.is_empty() {
        blocks.push(Block::Table(tell_tales(question)));
    }
}

/// A value, or a dash where there is none.
pub(crate) fn or_dash(text: &Option<String>) -> String {
    text.clone().unwrap_or_else(|| "–".to_owned())
}

/// A row for each slip: in columns where there is room, else in words.
fn tell_tales(question: &QuestionAnswer) -> Table {
    const MOST_COLUMNS: usize = 4;
    let mut columns = vec![Column::left("if instead", 40.0)];
    let in_columns = question.asks.len() <= MOST_COLUMNS;
    if in_columns {
        let heads = question.asks.iter();
        columns.extend(heads.map(|one| Column::left(short(one), 29.0)));
    } else {
        columns.push(Column::left("it shows", 136.0));
    }
    let row = |tale: &TellTaleAnswer| {
        let slips: Vec<String> = tale.slips.iter().map(|name| slip_words(name)).collect();
        let mut row = vec![slips.join(", or ")];
        let shown = question.asks.iter().zip(&tale.shows).zip(&tale.shows_deg);
        if in_columns {
            row.extend(shown.map(|((asked, text), deg)| {
                if differs(asked, *deg) {
                    text.clone()
                } else {
                    "·".to_owned()
                }
            }));
        } else {
            let other: Vec<String> = shown
                .filter(|((asked, _), deg)| differs(asked, **deg))
                .map(|((asked, text), _)| format!("{} {text}", short(asked)))
                .collect();
            row.push(other.join("; "));
        }
        row
    };
    // Two that differ by less than an answer may be off are no help at a glance.
    let tells = |tale: &&TellTaleAnswer| {
        let mut shown = question.asks.iter().zip(&tale.shows_deg);
        shown.any(|(asked, deg)| differs(asked, *deg))
    };
    Table {
        columns,
        rows: question.tell_tales.iter().filter(tells).map(row).collect(),
        summed: false,
        whole: false,
        close: false,
    }
}

/// Whether a value is further off than an answer may be.
pub(crate) fn differs(asked: &AskedAnswer, deg: f64) -> bool {
    let apart = (deg - asked.reads_deg).rem_euclid(360.0);
    apart.min(360.0 - apart) > asked.accept_deg
}

/// The name of a slip, as words.
pub(crate) fn slip_words(name: &str) -> String {
    let words = name.split('-').map(|word| match word {
        "sun" => "Sun",
        other => other,
    });
    words.collect::<Vec<_>>().join(" ")
}

/// What is asked, as the head of a narrow column.
pub(crate) fn short(asked: &AskedAnswer) -> &str {
    match asked.name.as_str() {
        "local-time" | "hour-for-rule" => "hour",
        "sun-degree" => "Sun",
        "sun-degree-by-altitude" => "Sun by its altitude",
        _ => &asked.what,
    }
}
