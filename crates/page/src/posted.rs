//! Sheets that go to pupils as a page of their own, and the answers that come back. Neither
//! bears a name: a pupil is a number in the class, which the teacher's book knows.

use casebook::{Class, ClassId, KeptPaper, Paper, PaperId};
use desk::{Cabinet, ExercisesAnswer, WithInstrument};
use serde::{Deserialize, Serialize};

use crate::Fault;
use crate::class::{Read, answered, asked, given_out};

/// The version of both forms.
const VERSION: u32 = 1;

/// What a pupils' page has beside the desk: sheets without a key and without names.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Posted {
    /// The version of this form: 1.
    pub version: u32,
    /// What stands at the head of the sheets.
    pub class: String,
    /// The sheet's number.
    pub sheet: u32,
    /// Whether the page corrects what is read; else it only saves it.
    pub corrects: bool,
    /// One pupil's, or everyone's.
    pub papers: Vec<PostedPaper>,
}

/// A pupil's sheet on a pupils' page.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PostedPaper {
    /// The pupil's number: the place among those who were given the sheet, from 1.
    pub number: usize,
    /// What it is known by again.
    pub mark: String,
    /// The questions, in the form of `exercises.json`, without their key.
    pub asked: ExercisesAnswer,
}

/// What pupils' pages save.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CameBack {
    /// The version of this form: 1.
    pub version: u32,
    /// What stood at the head of the sheet.
    pub class: String,
    /// The sheet's number.
    pub sheet: u32,
    /// The answers.
    pub answers: Vec<CameBackPaper>,
}

/// A pupil's answers to a sheet.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CameBackPaper {
    /// As it was posted.
    pub number: usize,
    /// As it was posted.
    pub mark: String,
    /// What was read.
    pub read: Read,
}

/// A sheet of a class, or its last where none is named, as it goes to its pupils, and the
/// pupils' names in the order of their numbers.
///
/// # Errors
/// When no such sheet was given out, or one paper of it cannot be read.
pub fn posted(
    class: &Class,
    papers: &[KeptPaper],
    sheet: Option<u32>,
    corrects: bool,
    cabinet: &Cabinet,
) -> Result<(Posted, Vec<String>), Fault> {
    let (first, others) = given_out(class, papers, sheet)?;
    let papers: Vec<&KeptPaper> = std::iter::once(first).chain(others).collect();
    let sheets = papers.iter().zip(1..).map(|(kept, number)| {
        let asked = for_post(&kept.paper, number, cabinet)?;
        Ok(PostedPaper {
            number,
            mark: mark(&kept.paper)?,
            asked,
        })
    });
    let posted = Posted {
        version: VERSION,
        class: class.name.clone(),
        sheet: first.paper.sheet,
        corrects,
        papers: sheets.collect::<Result<_, Fault>>()?,
    };
    let names = papers.iter().map(|kept| kept.paper.pupil.clone());
    Ok((posted, names.collect()))
}

/// What a pupil's number is called where a name would stand.
fn numbered(number: usize) -> String {
    format!("number {number}")
}

/// A paper's questions without key and name, with instruments that need be in no cabinet.
fn for_post(paper: &Paper, number: usize, cabinet: &Cabinet) -> Result<ExercisesAnswer, Fault> {
    let mut asked = asked(paper)?.without_key();
    for pupil in &mut asked.pupils {
        pupil.name = numbered(number);
        for question in &mut pupil.questions {
            let with = &mut question.request.moment.with;
            if let Some(WithInstrument::Named(name)) = with
                && let Some(text) = cabinet.own_text(name)
            {
                *with = Some(WithInstrument::Specification(text.to_owned()));
            }
        }
    }
    Ok(asked)
}

/// What a paper's questions are known by again, whatever was answered and whoever was asked:
/// of what was printed on it alone, so that a later program and another book know it too.
fn mark(paper: &Paper) -> Result<String, Fault> {
    let mut printed = format!("{} {}", paper.sheet, paper.given);
    for question in asked(paper)?.pupils.iter().flat_map(|one| &one.questions) {
        printed.push_str(&format!("\n{} {}", question.number, question.text));
    }
    Ok(format!("{:08x}", crc32fast::hash(printed.as_bytes())))
}

/// The page of a site that is one file, with sheets in it.
///
/// # Errors
/// When the text is no such page.
pub fn pupils_page(site: &str, posted: &Posted) -> Result<String, Fault> {
    let is_site = site.contains(" data-desk=\"here\"") && site.contains("data-piece=");
    let end = site.find("</head>").filter(|_| is_site);
    let (Some(end), false) = (end, site.contains(POSTED)) else {
        return Err(Fault::asked(
            "this is not the page as one file; almuri.html, which `cargo xtask site` builds, would do",
        ));
    };
    let (head, rest) = site.split_at(end);
    let sheets = serde_json::to_string(posted).map_err(Fault::inner)?;
    // No text may end the element it stands in.
    let sheets = sheets.replace('<', "\\u003c");
    Ok(format!("{head}{POSTED}{sheets}</script>\n{rest}"))
}

/// How the sheets begin within a page; `posted.js` finds them there.
const POSTED: &str = "<script type=\"application/json\" id=\"posted\">";

/// A file of answers, read.
///
/// # Errors
/// When the text is none.
pub fn came_back(text: &str) -> Result<CameBack, Fault> {
    let wrong = |why: String| {
        Fault::asked(format!(
            "these are no answers of a pupils’ page ({why}); a file that such a page saved would do"
        ))
    };
    let came: CameBack = serde_json::from_str(text).map_err(|error| wrong(error.to_string()))?;
    if came.version != VERSION {
        return Err(wrong(format!("version {} is not known here", came.version)));
    }
    Ok(came)
}

/// A paper as it stands with the answers that came back, corrected; and which paper it was.
#[derive(Clone, Debug, PartialEq)]
pub struct Collected {
    /// The paper as it was kept before.
    pub before: KeptPaper,
    /// With the answers; nothing where it has these already.
    pub after: Option<Paper>,
}

impl Collected {
    /// How the paper is edited, if it is.
    #[must_use]
    pub fn edit(&self) -> Option<(PaperId, i64, &Paper)> {
        Some((self.before.id, self.before.version, self.after.as_ref()?))
    }
}

/// The papers of a class with answers that came back. What was answered before gives way only
/// where that is said.
///
/// # Errors
/// When one was not given to this class, was answered otherwise before, or cannot be
/// corrected.
pub fn collected(
    class: ClassId,
    papers: &[KeptPaper],
    came: &CameBack,
    instead: bool,
    cabinet: &Cabinet,
) -> Result<Vec<Collected>, Fault> {
    let mut numbers: Vec<usize> = came.answers.iter().map(|one| one.number).collect();
    numbers.sort_unstable();
    if let Some([twice, _]) = numbers.array_windows().find(|[one, next]| one == next) {
        return Err(Fault::asked(format!(
            "number {twice} stands in it twice; each once would do"
        )));
    }
    let given: Vec<&KeptPaper> = papers
        .iter()
        .filter(|kept| kept.class == class && kept.paper.sheet == came.sheet)
        .collect();
    let one = |answers: &CameBackPaper| {
        let place = answers.number.checked_sub(1);
        let before = place.and_then(|place| given.get(place).copied());
        let is_same = before.map(|kept| mark(&kept.paper)).transpose()?;
        let Some(before) = before.filter(|_| is_same.as_ref() == Some(&answers.mark)) else {
            return Err(Fault::asked(format!(
                "sheet {} of number {} was not given out to this class of this book",
                came.sheet, answers.number
            )));
        };
        if answers.read.values().all(|read| read.is_empty()) {
            return Err(Fault::asked(format!(
                "nothing is answered on sheet {} of number {}; a reading would do",
                came.sheet, answers.number
            )));
        }
        let after = answered(&before.paper, &answers.read, cabinet)?;
        let same = after.answers == before.paper.answers;
        if !same && !before.paper.answers.is_empty() && !instead {
            return Err(Fault::asked(format!(
                "sheet {} of {} was answered otherwise before; it stays as it is unless these \
                 are to stand in its place (on the command line `--overwrite`)",
                came.sheet, before.paper.pupil
            )));
        }
        Ok(Collected {
            before: before.clone(),
            after: (!same).then_some(after),
        })
    };
    came.answers.iter().map(one).collect()
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use casebook::Pupil;
    use desk::CabinetFile;
    use patience::Patience;

    use super::*;
    use crate::class::{Giving, drawn_papers};

    /// The names of an invented class, which may stand nowhere.
    const NAMES: [&str; 3] = ["Aldara Example", "Brais Example", "Clodio Example"];

    fn cabinet() -> Cabinet {
        Cabinet::with_own(vec![CabinetFile {
            file: "own.toml".to_owned(),
            in_folder: true,
            text: Ok(
                "version = 1\nname = \"my own ring\"\ndiameter_mm = 120\nepoch_year = 2024\n\
                      plates_deg = [43]\n"
                    .to_owned(),
            ),
        }])
    }

    fn said(fault: &Fault) -> String {
        fault.told().to_string()
    }

    fn class() -> Class {
        let with = ["class instrument", "my own ring", "class instrument"];
        Class {
            name: "An invented class".to_owned(),
            place: "Santiago de Compostela, Galicia, Spain".to_owned(),
            level: "beginner".to_owned(),
            operations: vec!["cast".to_owned()],
            pupils: NAMES
                .iter()
                .zip(with)
                .map(|(name, with)| Pupil {
                    name: (*name).to_owned(),
                    with: with.to_owned(),
                    ..Pupil::default()
                })
                .collect(),
            ..Class::default()
        }
    }

    /// Its papers, as they are kept.
    fn papers() -> Vec<KeptPaper> {
        let giving = Giving {
            year: 2026,
            seed: 7,
            questions: 1,
            same_questions: true,
        };
        let papers = drawn_papers(&class(), &giving, &cabinet(), Patience::ENDLESS).expect("drawn");
        let kept = papers.into_iter().zip(10..).map(|(paper, id)| KeptPaper {
            id: PaperId(id),
            class: ClassId(1),
            version: 1,
            kept_unix_s: 0,
            changed_unix_s: 0,
            paper: Paper { sheet: 4, ..paper },
        });
        kept.collect()
    }

    /// What the key says is read, as it would come back.
    fn as_the_key_says(papers: &[KeptPaper], posted: &Posted) -> CameBack {
        let answers = papers.iter().zip(&posted.papers).map(|(kept, posted)| {
            let key = asked(&kept.paper).expect("a paper");
            let question = &key.pupils[0].questions[0];
            let read = question.asks.iter();
            let read = read.map(|one| (one.name.clone(), one.reads.clone()));
            CameBackPaper {
                number: posted.number,
                mark: posted.mark.clone(),
                read: BTreeMap::from([(question.number, read.collect())]),
            }
        });
        CameBack {
            version: VERSION,
            class: posted.class.clone(),
            sheet: posted.sheet,
            answers: answers.collect(),
        }
    }

    #[test]
    fn neither_names_nor_keys_go_out_and_every_instrument_does() {
        let papers = papers();
        let (posted, names) = posted(&class(), &papers, None, true, &cabinet()).expect("all");
        assert_eq!(names, NAMES);
        let site = "<html data-desk=\"here\"><head></head><script data-piece=\"x\"></script>";
        let page = pupils_page(site, &posted).expect("a page");
        for name in NAMES {
            let first = name.split(' ').next().unwrap_or_default();
            assert!(!page.contains(first), "{name} went out");
        }
        for kept in &papers {
            let key = asked(&kept.paper).expect("a paper");
            for question in key.pupils.iter().flat_map(|pupil| &pupil.questions) {
                assert!(!page.contains(&question.setting), "{}", question.setting);
                for one in &question.asks {
                    assert!(
                        !one.reads.is_empty() && !page.contains(&one.reads),
                        "{}",
                        one.reads
                    );
                }
            }
        }
        // One's own is in no other cabinet.
        assert!(page.contains("diameter_mm = 120"), "{page}");
        // It is in the head, and is what was put in.
        let (_, rest) = page.split_once(POSTED).expect("the sheets");
        let (sheets, rest) = rest.split_once("</script>").expect("their end");
        assert_eq!(rest.trim_start().split('>').next(), Some("</head"));
        let back: Posted = serde_json::from_str(sheets).expect("JSON");
        assert_eq!(back, posted);
        // A page of sheets is no site, nor is any other text.
        for wrong in [page.as_str(), "<html><head></head>", ""] {
            let why = pupils_page(wrong, &posted).expect_err("no site");
            let why = said(&why);
            assert!(why.contains("almuri.html"), "{why}");
        }
    }

    #[test]
    fn a_sheet_that_was_not_given_out_is_named_with_those_that_were() {
        let papers = papers();
        let sheet = |papers: &[KeptPaper], sheet| {
            posted(&class(), papers, sheet, true, &cabinet()).map(|(posted, _)| posted.sheet)
        };
        assert_eq!(sheet(&papers, None).ok(), Some(4));
        let why = said(&sheet(&papers, Some(9)).expect_err("none"));
        let told = "sheet 9 was not given out to “An invented class”; 4 would do";
        assert!(why.contains(told), "{why}");
        let why = said(&sheet(&[], None).expect_err("none"));
        let told = "no sheet was given out to “An invented class” yet";
        assert!(why.contains(told), "{why}");
    }

    #[test]
    fn what_comes_back_is_corrected_as_if_it_were_entered() {
        let papers = papers();
        let (posted, _) = posted(&class(), &papers, None, false, &cabinet()).expect("all");
        let came = as_the_key_says(&papers, &posted);
        let text = serde_json::to_string(&came).expect("JSON");
        let came = came_back(&text).expect("read");
        let taken = |papers: &[KeptPaper], came: &CameBack, instead: bool| {
            collected(ClassId(1), papers, came, instead, &cabinet())
        };
        let all = taken(&papers, &came, false).expect("taken");
        assert_eq!(all.len(), NAMES.len());
        let mut kept = papers.clone();
        for (kept, one) in kept.iter_mut().zip(&all) {
            let after = one.after.clone().expect("new");
            let read = &came
                .answers
                .iter()
                .find(|a| {
                    papers
                        .get(a.number - 1)
                        .is_some_and(|one| one.id == kept.id)
                })
                .expect("its")
                .read;
            assert_eq!(
                after,
                answered(&kept.paper, read, &cabinet()).expect("corrected")
            );
            assert!(
                after.answers.iter().all(|one| one.verdict == "right"),
                "{after:?}"
            );
            kept.paper = after;
        }
        // The same again changes nothing; another answer gives way only if that is said.
        let again = taken(&kept, &came, false).expect("the same");
        assert!(again.iter().all(|one| one.after.is_none()));
        let mut other = came.clone();
        other.answers.truncate(1);
        for read in other.answers[0].read.values_mut() {
            read.retain(|what, _| what == "ascendant");
        }
        let why = said(&taken(&kept, &other, false).expect_err("otherwise"));
        assert!(why.contains("answered otherwise before"), "{why}");
        assert!(
            taken(&kept, &other, true).expect("instead")[0]
                .after
                .is_some()
        );
        // Another class's, another sheet's, and what is no such file.
        let mut strange = came.clone();
        strange.answers[0].mark = "00000000".to_owned();
        assert!(taken(&papers, &strange, true).is_err());
        assert!(collected(ClassId(2), &papers, &came, true, &cabinet()).is_err());
        for wrong in [
            "",
            "{}",
            "[]",
            &text.replacen("\"version\":1", "\"version\":2", 1),
        ] {
            let why = said(&came_back(wrong).expect_err(wrong));
            assert!(why.contains("pupils’ page"), "{why}");
        }
    }
}
