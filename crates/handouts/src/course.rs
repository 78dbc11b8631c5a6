use std::sync::Arc;

use desk::words::{FIRST_HOUR, GLOSSARY, caution};
use desk::{Course, Scene};
use press::{Block, Column, Handout, Picture, Table};

use crate::exercise::printed_question;
use crate::lesson::{leads, lesson_blocks};

/// A course as one book: what it teaches in which order, then lesson after lesson with
/// its worked example and its exercises.
#[must_use]
pub fn course_handout(course: &Course) -> Handout {
    let exercises = &course.exercises;
    let mut blocks = vec![
        Block::Title(exercises.class.clone()),
        Block::Lead(format!(
            "{} lessons, each with a worked example and two exercises, in the order in which they \
             are best learned",
            course.lessons.len()
        )),
        Block::Heading("The lessons".to_owned()),
        Block::Table(Table {
            columns: vec![
                Column::right("", 7.0),
                Column::left("lesson", 66.0),
                Column::left("what it adds", 98.0),
            ],
            rows: course
                .lessons
                .iter()
                .enumerate()
                .map(|(index, lesson)| {
                    vec![
                        format!("{}.", index + 1),
                        lesson.title.clone(),
                        lesson.why.to_owned(),
                    ]
                })
                .collect(),
            summed: false,
            whole: true,
            close: false,
        }),
        Block::Small(
            "The answers to the exercises are in the key, as this instrument reads them."
                .to_owned(),
        ),
        Block::Heading("Cautions".to_owned()),
        Block::Text(caution::SUN.to_owned()),
    ];
    blocks.extend(lesson_nought(course));
    for (index, lesson) in course.lessons.iter().enumerate() {
        blocks.push(Block::NewPage);
        blocks.push(Block::Title(format!("{}. {}", index + 1, lesson.title)));
        blocks.push(Block::Lead(lesson.why.to_owned()));
        let leads = leads(&lesson.example.answer);
        blocks.push(Block::Heading("A worked example".to_owned()));
        blocks.push(Block::Intro(leads.join("; ") + "."));
        blocks.extend(lesson_blocks(&lesson.example));
        blocks.push(Block::Heading("Exercises".to_owned()));
        let questions = lesson.questions.iter().map(printed_question);
        blocks.extend(questions);
    }
    Handout {
        title: exercises.class.clone(),
        foot: format!("drawn with seed {}", exercises.seed),
        blocks,
    }
}

/// Lesson nought: the parts of the instrument, how it is held, and the words.
fn lesson_nought(course: &Course) -> Vec<Block> {
    let picture = |scene: &Scene| {
        Block::Named(Box::new(Picture {
            scene: Arc::new(scene.clone()),
            look_at: None,
            glass: None,
        }))
    };
    let mut blocks = vec![
        Block::NewPage,
        Block::Title("The first hour".to_owned()),
        Block::Lead("What one knows before anything is worked.".to_owned()),
    ];
    blocks.extend(course.named_parts.iter().map(picture));
    for section in FIRST_HOUR {
        blocks.push(Block::Heading(section.title.to_owned()));
        blocks.extend(
            section
                .paragraphs
                .iter()
                .map(|paragraph| Block::Text((*paragraph).to_owned())),
        );
    }
    blocks.push(Block::Heading("The words".to_owned()));
    blocks.push(Block::Table(Table {
        columns: vec![
            Column::left("word", 34.0),
            Column::left("what it means", 92.0),
            Column::left("also called, and in older texts", 45.0),
        ],
        rows: GLOSSARY
            .iter()
            .map(|word| {
                vec![
                    word.word.to_owned(),
                    word.meaning.to_owned(),
                    [word.common, word.older].concat().join(", "),
                ]
            })
            .collect(),
        summed: false,
        whole: false,
        close: false,
    }));
    blocks
}
