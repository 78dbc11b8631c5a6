//! Classes that are kept: what is given out to them, corrected, looked at and printed. Where
//! they are kept is the holder's affair.

use std::collections::{BTreeMap, BTreeSet};

use casebook::{Answer, Answered, Asked, Class, KeptPaper, Paper, Pupil};
use desk::{
    Cabinet, ClassPlan, ClassReport, ExercisesAnswer, MarkedReading, PupilPlan, QuestionMarks,
    SheetMarks, WithInstrument, level_name,
};
use patience::Patience;
use press::{PageSize, PressError};
use serde::{Deserialize, Serialize};

use crate::Fault;

/// How a sheet is drawn for a class.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Giving {
    /// The year of the dates.
    pub year: i32,
    /// From what everything is drawn.
    pub seed: u64,
    /// How many questions each has.
    pub questions: u32,
    /// Whether everyone is asked the same, as far as their instruments answer it.
    #[serde(default = "yes")]
    pub same_questions: bool,
}

fn yes() -> bool {
    true
}

/// A class out of its file, to be kept.
///
/// # Errors
/// When the text is no class file, or a pupil's instrument is none of the cabinet.
pub fn class_of_text(text: &str, cabinet: &Cabinet) -> Result<Class, Fault> {
    let file = desk::Class::from_toml(text)?;
    let class = Class {
        name: file.name,
        place: file.place,
        zone: file.zone,
        by: file.by,
        level: level_name(file.level).to_owned(),
        operations: file.operations,
        pupils: file
            .pupils
            .into_iter()
            .map(|pupil| Pupil {
                name: pupil.name,
                with: pupil.with,
                place: pupil.place,
                level: pupil.level.map(|level| level_name(level).to_owned()),
            })
            .collect(),
        note: String::new(),
    };
    class_fits(&class, cabinet)?;
    Ok(class)
}

/// Whether a class can be kept: it has what a class needs, its place is known, and so are
/// the instruments of its pupils.
///
/// # Errors
/// In words, for a person.
pub fn class_fits(class: &Class, cabinet: &Cabinet) -> Result<(), Fault> {
    class
        .check()
        .map_err(|why| Fault::asked(format!("this class cannot be kept: {why}")))?;
    let giving = Giving {
        year: 2000,
        seed: 0,
        questions: 1,
        same_questions: true,
    };
    planned(class, &giving)?;
    instruments(class, cabinet)?;
    let places = class.pupils.iter().filter_map(|pupil| pupil.place.as_ref());
    for place in places.chain([&class.place]) {
        desk::understood_place(place)?;
    }
    Ok(())
}

/// A class as exercises are drawn for it.
fn planned(class: &Class, giving: &Giving) -> Result<desk::Class, Fault> {
    let pupils = class.pupils.iter().map(|pupil| PupilPlan {
        name: pupil.name.clone(),
        with: pupil.with.clone(),
        place: pupil.place.clone(),
        level: pupil.level.clone(),
    });
    Ok(desk::Class::planned(ClassPlan {
        name: class.name.clone(),
        place: class.place.clone(),
        zone: class.zone.clone(),
        year: giving.year.into(),
        seed: giving.seed,
        questions: giving.questions.into(),
        level: class.level.clone(),
        operations: class.operations.clone(),
        by: class.by.clone(),
        same_questions: giving.same_questions,
        pupils: pupils.collect(),
    })?)
}

/// The instruments of a class's pupils: those of the cabinet alone are kept with it.
fn instruments(class: &Class, cabinet: &Cabinet) -> Result<Vec<WithInstrument>, Fault> {
    let named = class
        .pupils
        .iter()
        .map(|pupil| match cabinet.named(&pupil.with) {
            Ok(_) => Ok(WithInstrument::Named(pupil.with.clone())),
            Err(why) => Err(Fault::asked(format!("pupil “{}”: {why}", pupil.name))),
        });
    named.collect()
}

/// A sheet for everyone of a class, drawn; its number and day are given to it by whoever
/// keeps it.
///
/// # Errors
/// When it cannot be drawn, or nobody waits for it any longer.
pub fn drawn_papers(
    class: &Class,
    giving: &Giving,
    cabinet: &Cabinet,
    patience: Patience<'_>,
) -> Result<Vec<Paper>, Fault> {
    let planned = planned(class, giving)?;
    let drawn = desk::exercises(&planned, &instruments(class, cabinet)?, cabinet, patience)?;
    let papers = drawn.pupils.iter().map(|pupil| {
        let own = ExercisesAnswer {
            pupils: vec![pupil.clone()],
            ..drawn.clone()
        };
        Ok(Paper {
            pupil: pupil.name.clone(),
            asked: Asked::of(&own).map_err(Fault::inner)?,
            ..Paper::default()
        })
    });
    papers.collect()
}

/// The questions of a paper.
pub(crate) fn asked(paper: &Paper) -> Result<ExercisesAnswer, Fault> {
    Ok(desk::exercises_of_json(paper.asked.text())?)
}

/// What was read, by the question's number and the name of what is asked.
pub type Read = BTreeMap<usize, BTreeMap<String, String>>;

/// A paper with answers, corrected.
///
/// # Errors
/// When an answer cannot be understood.
pub fn answered(paper: &Paper, read: &Read, cabinet: &Cabinet) -> Result<Paper, Fault> {
    let asked = asked(paper)?;
    let marked = desk::mark_sheet(&asked, &paper.pupil, read, cabinet)?;
    let answers = marked.into_iter().map(|one| Answered {
        question: u32::try_from(one.question).unwrap_or(u32::MAX),
        read: one
            .read
            .into_iter()
            .map(|reading| Answer {
                what: reading.what,
                value: reading.value,
                mark: reading.mark,
            })
            .collect(),
        verdict: one.verdict,
        sentence: one.sentence,
        slips: one.slips,
    });
    Ok(Paper {
        answers: answers.collect(),
        ..paper.clone()
    })
}

/// A class as it is looked at.
#[derive(Clone, Debug, Serialize)]
pub struct ClassLook {
    /// Its sheets, the last first.
    pub sheets: Vec<SheetLook>,
    /// What its answers say.
    pub report: ClassReport,
}

/// What was given out together.
#[derive(Clone, Debug, Serialize)]
pub struct SheetLook {
    /// Its number.
    pub sheet: u32,
    /// The day on which it was given out.
    pub given: String,
    /// Everyone's.
    pub papers: Vec<PaperLook>,
}

/// How a paper stands.
#[derive(Clone, Debug, Serialize)]
pub struct PaperLook {
    /// Its number in the book.
    pub id: i64,
    /// Whose it is.
    pub pupil: String,
    /// Whether it was answered.
    pub answered: bool,
    /// How many readings are right, or follow rightly.
    pub right: usize,
    /// How many are asked.
    pub of: usize,
}

/// A class with its papers, as it is looked at.
///
/// # Errors
/// When a paper cannot be read.
pub fn class_look(class: &Class, papers: &[KeptPaper]) -> Result<ClassLook, Fault> {
    let mut sheets: Vec<SheetLook> = Vec::new();
    for kept in papers.iter().rev() {
        let marks = sheet_marks(&kept.paper)?;
        let look = PaperLook {
            id: kept.id.0,
            pupil: kept.paper.pupil.clone(),
            answered: !kept.paper.answers.is_empty(),
            right: marks.questions.iter().map(|one| one.right).sum(),
            of: marks.questions.iter().map(|one| one.of).sum(),
        };
        match sheets.iter_mut().find(|one| one.sheet == kept.paper.sheet) {
            Some(sheet) => sheet.papers.insert(0, look),
            None => sheets.push(SheetLook {
                sheet: kept.paper.sheet,
                given: kept.paper.given.clone(),
                papers: vec![look],
            }),
        }
    }
    Ok(ClassLook {
        sheets,
        report: report(class, papers.iter().map(|kept| &kept.paper))?,
    })
}

/// What a class's answers say.
fn report<'a>(
    class: &Class,
    papers: impl Iterator<Item = &'a Paper>,
) -> Result<ClassReport, Fault> {
    let answered = papers.filter(|paper| !paper.answers.is_empty());
    let marks: Vec<SheetMarks> = answered.map(sheet_marks).collect::<Result<_, _>>()?;
    let names: Vec<String> = class
        .pupils
        .iter()
        .map(|pupil| pupil.name.clone())
        .collect();
    Ok(desk::class_report(&names, &marks))
}

fn sheet_marks(paper: &Paper) -> Result<SheetMarks, Fault> {
    let asked = asked(paper)?;
    let Some(pupil) = asked.pupils.first() else {
        return Err(Fault::asked(format!(
            "the sheet of {} asks nothing",
            paper.pupil
        )));
    };
    let questions = pupil.questions.iter().map(|question| {
        let answered = paper
            .answers
            .iter()
            .find(|one| usize::try_from(one.question) == Ok(question.number));
        let marks = answered.into_iter().flat_map(|one| &one.read);
        QuestionMarks {
            operation: question.request.operation.clone(),
            title: question.title.clone(),
            right: marks.filter(|one| MarkedReading::counts(&one.mark)).count(),
            of: question.asks.len(),
            slips: answered.map(|one| one.slips.clone()).unwrap_or_default(),
        }
    });
    Ok(SheetMarks {
        sheet: paper.sheet,
        pupil: paper.pupil.clone(),
        level: pupil.level,
        questions: questions.collect(),
    })
}

/// What is printed of a class.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ClassPrint {
    /// Everyone's sheet, one after the other.
    Sheets,
    /// The key in short.
    Key,
    /// The key at length.
    KeyAtLength,
    /// The seating list: how everyone fared, what is common, what to teach next.
    Seating,
}

impl ClassPrint {
    /// All of them.
    pub const ALL: [ClassPrint; 4] = [
        ClassPrint::Sheets,
        ClassPrint::Key,
        ClassPrint::KeyAtLength,
        ClassPrint::Seating,
    ];

    /// Its name, and that of its file.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            ClassPrint::Sheets => "sheets",
            ClassPrint::Key => "key",
            ClassPrint::KeyAtLength => "key-at-length",
            ClassPrint::Seating => "seating",
        }
    }
}

/// What was given out as one sheet of a class, or as its last where none is named: the first
/// paper, and the others.
///
/// # Errors
/// When nothing was given out as that sheet.
pub(crate) fn given_out<'a>(
    class: &Class,
    papers: &'a [KeptPaper],
    sheet: Option<u32>,
) -> Result<(&'a KeptPaper, Vec<&'a KeptPaper>), Fault> {
    let there: BTreeSet<u32> = papers.iter().map(|kept| kept.paper.sheet).collect();
    let name = &class.name;
    let Some(last) = there.last() else {
        return Err(Fault::asked(format!(
            "no sheet was given out to “{name}” yet"
        )));
    };
    let meant = sheet.unwrap_or(*last);
    let mut those = papers.iter().filter(|kept| kept.paper.sheet == meant);
    match those.next() {
        Some(first) => Ok((first, those.collect())),
        None => {
            let numbers: Vec<String> = there.iter().map(u32::to_string).collect();
            Err(Fault::asked(format!(
                "sheet {meant} was not given out to “{name}”; {} would do",
                numbers.join(", ")
            )))
        }
    }
}

/// Something of a class, printed: of one sheet, or of the last where none is named. The
/// seating list is of all sheets then.
///
/// # Errors
/// When there is no such sheet, or it cannot be printed.
pub fn class_print(
    class: &Class,
    papers: &[KeptPaper],
    (what, sheet): (ClassPrint, Option<u32>),
    size: PageSize,
    patience: Patience<'_>,
) -> Result<Vec<u8>, Fault> {
    let together = || {
        let (first, others) = given_out(class, papers, sheet)?;
        let mut all = asked(&first.paper)?;
        for kept in others {
            all.pupils.extend(asked(&kept.paper)?.pupils);
        }
        Ok::<_, Fault>(all)
    };
    let printed = |result: Result<Vec<u8>, PressError>| result.map_err(Fault::asked);
    match what {
        ClassPrint::Sheets => {
            let together = together()?;
            let sheets = together
                .pupils
                .iter()
                .map(|one| handouts::pupil_sheet(&together, one));
            let sheets: Vec<press::Handout> = sheets.collect();
            printed(press::handouts_in_one(&class.name, &sheets, size, patience))
        }
        ClassPrint::Key => printed(press::handout(
            &handouts::class_key(&together()?),
            size,
            patience,
        )),
        ClassPrint::KeyAtLength => printed(press::handout(
            &handouts::long_key(&together()?),
            size,
            patience,
        )),
        ClassPrint::Seating => {
            let those: Vec<&KeptPaper> = match sheet {
                Some(_) => {
                    let (first, others) = given_out(class, papers, sheet)?;
                    std::iter::once(first).chain(others).collect()
                }
                None => papers.iter().collect(),
            };
            let report = report(class, those.into_iter().map(|kept| &kept.paper))?;
            let handout = handouts::seating_list(&class.name, &report);
            printed(press::handout(&handout, size, patience))
        }
    }
}
