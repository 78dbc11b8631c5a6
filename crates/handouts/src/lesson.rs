use std::sync::Arc;

use desk::{Lesson, LessonAnswer, LessonPicture, LessonReadingAnswer, LessonShareAnswer};
use press::{Block, Code, CodeBlock, Column, Glass, Handout, Picture, StepBlock, SumRow, Table};

/// What stands at the end of a handout whose working the page can show.
fn code_block(code: Code) -> Block {
    Block::Code(CodeBlock {
        code,
        words: "Hold a telephone to the code: the page shows this working step by step, on the \
                same instrument."
            .to_owned(),
    })
}

/// A worked example, to be printed, with the code of a link to it where there is one.
#[must_use]
pub fn lesson_handout(lesson: &Lesson, code: Option<Code>) -> Handout {
    let answer = &lesson.answer;
    let mut blocks = vec![Block::Title(answer.title.clone())];
    blocks.extend(leads(answer).into_iter().map(Block::Lead));
    blocks.extend(lesson_blocks(lesson));
    blocks.extend(code.map(code_block));
    Handout {
        title: [Some(&answer.title), answer.moment.as_ref()]
            .into_iter()
            .flatten()
            .cloned()
            .collect::<Vec<_>>()
            .join(", "),
        foot: String::new(),
        blocks,
    }
}

/// What is given, the sum, the working, the readings, and why they differ.
pub(crate) fn lesson_blocks(lesson: &Lesson) -> Vec<Block> {
    let answer = &lesson.answer;
    let mut blocks = Vec::new();
    if !answer.given.is_empty() {
        blocks.push(Block::Heading("What is given".to_owned()));
        blocks.extend(answer.given.iter().map(|one| Block::Text(sentence(one))));
    }
    if !answer.sum.is_empty() {
        blocks.push(Block::Heading("From the clock to the rule".to_owned()));
        blocks.push(Block::Sum(sum_rows(answer)));
    }
    blocks.push(Block::Heading("The working".to_owned()));
    for (step, picture) in answer.steps.iter().zip(&lesson.pictures) {
        blocks.push(Block::Step(Box::new(StepBlock {
            number: step.number,
            text: step.instruction.clone(),
            remark: step.remark.clone(),
            picture: picture.as_ref().map(printed),
        })));
    }
    blocks.push(Block::Heading("What you should read".to_owned()));
    blocks.push(Block::Table(readings(&answer.readings)));
    for reading in &answer.readings {
        if let Some(reason) = &reading.reason {
            blocks.push(Block::Text(sentence(&format!(
                "{}: {reason}",
                reading.what
            ))));
        }
    }
    blocks.extend(answer.notes.iter().cloned().map(Block::Small));
    why(answer, &mut blocks);
    if let Some(weak) = answer.weak {
        blocks.push(Block::Heading("When it is weak".to_owned()));
        blocks.push(Block::Text(weak.to_owned()));
    }
    if !answer.cautions.is_empty() {
        blocks.push(Block::Heading("Cautions".to_owned()));
        blocks.extend(answer.cautions.iter().cloned().map(Block::Text));
    }
    blocks
}

/// What stands under the title.
pub(crate) fn leads(answer: &LessonAnswer) -> Vec<String> {
    let mut leads = Vec::new();
    leads.extend(answer.moment.clone());
    leads.extend(answer.place.clone());
    leads.push(match answer.source {
        Some(source) if answer.in_treatise => {
            format!("{}; the treatise, {source}", answer.instrument)
        }
        _ => answer.instrument.clone(),
    });
    leads
}

pub(crate) fn sum_rows(answer: &LessonAnswer) -> Vec<SumRow> {
    let row = |line: &desk::SumLineAnswer| SumRow {
        words: line.words.clone(),
        reason: line.reason.clone(),
        amount: line.amount.clone(),
        result: line.result.clone(),
    };
    answer.sum.iter().map(row).collect()
}

fn printed(picture: &LessonPicture) -> Picture {
    Picture {
        scene: Arc::clone(&picture.scene),
        look_at: picture.look_at,
        glass: picture.glass.as_ref().map(|glass| Glass {
            scene: Arc::clone(&glass.scene),
            at: glass.at,
            shows_mm: glass.shows_mm,
        }),
    }
}

fn or_dash(text: Option<&String>) -> String {
    text.map_or("–".to_owned(), Clone::clone)
}

fn readings(readings: &[LessonReadingAnswer]) -> Table {
    Table {
        columns: vec![
            Column::left("", 24.0),
            Column::left("you should read", 34.0),
            Column::left("on", 52.0),
            Column::right("it reads to", 20.0),
            Column::left("", 3.0),
            Column::left("calculated", 34.0),
            Column::right("differs by", 20.0),
        ],
        rows: readings
            .iter()
            .map(|one| {
                vec![
                    one.what.clone(),
                    or_dash(one.read.as_ref()),
                    one.line.clone(),
                    or_dash(one.reads_to.as_ref()),
                    String::new(),
                    or_dash(one.exact.as_ref()),
                    or_dash(one.differs.as_ref()),
                ]
            })
            .collect(),
        summed: false,
        whole: true,
        close: false,
    }
}

/// The shares of the differences, a column for each reading that is made directly.
fn why(answer: &LessonAnswer, blocks: &mut Vec<Block>) {
    const MOST_COLUMNS: usize = 6;
    let direct: Vec<&LessonReadingAnswer> = answer
        .readings
        .iter()
        .filter(|one| one.differs.is_some() && !one.opposite)
        .collect();
    if direct.is_empty() {
        return;
    }
    blocks.push(Block::Heading("Why they differ".to_owned()));
    for readings in direct.chunks(MOST_COLUMNS) {
        let mut causes: Vec<&LessonShareAnswer> = Vec::new();
        for share in readings.iter().flat_map(|one| &one.shares) {
            if causes.iter().all(|cause| cause.cause != share.cause) {
                causes.push(share);
            }
        }
        if causes.is_empty() {
            continue;
        }
        let mut columns = vec![Column::left("the share of", 56.0)];
        columns.extend(readings.iter().map(|one| Column::right(&one.what, 22.0)));
        let mut rows: Vec<Vec<String>> = causes
            .iter()
            .map(|cause| {
                let mut row = vec![cause.words.clone()];
                row.extend(readings.iter().map(|one| {
                    let share = one.shares.iter().find(|share| share.cause == cause.cause);
                    share.map_or("0".to_owned(), |share| share.amount.clone())
                }));
                row
            })
            .collect();
        let mut whole = vec!["together, reading less calculation".to_owned()];
        whole.extend(readings.iter().map(|one| or_dash(one.differs.as_ref())));
        rows.push(whole);
        blocks.push(Block::Table(Table {
            columns,
            rows,
            summed: true,
            whole: true,
            close: false,
        }));
    }
    // The cusps of a figure differ for the same reasons as its angles.
    let angles = |one: &&LessonReadingAnswer| {
        answer.source.is_some() || matches!(one.name.as_str(), "ascendant" | "midheaven")
    };
    for reading in direct.into_iter().filter(angles) {
        blocks.extend(reading.sentence.clone().map(Block::Small));
    }
}

/// With a capital and a full stop.
pub(crate) fn sentence(text: &str) -> String {
    let mut characters = text.chars();
    let Some(first) = characters.next() else {
        return String::new();
    };
    let stop = if text.ends_with('.') { "" } else { "." };
    first.to_uppercase().collect::<String>() + characters.as_str() + stop
}
