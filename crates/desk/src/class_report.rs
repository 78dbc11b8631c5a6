//! What a class's answers say: who read what rightly, which slips are common, and what to
//! teach next.

use schemars::JsonSchema;
use serde::Serialize;

use crate::class::{LEVELS, level_name};
use crate::course::next_lesson;
use crate::known_slip::KnownSlip;

/// A sheet that was answered, as far as a report needs it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SheetMarks {
    /// Which of the class's sheets, from 1.
    pub sheet: u32,
    /// Whose.
    pub pupil: String,
    /// Their level, from 1.
    pub level: u8,
    /// Its questions.
    pub questions: Vec<QuestionMarks>,
}

/// A question of it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct QuestionMarks {
    /// `cast` or an operation.
    pub operation: String,
    /// What it is about.
    pub title: String,
    /// How many readings are right, or follow rightly.
    pub right: usize,
    /// How many are asked.
    pub of: usize,
    /// The names of the slips made.
    pub slips: Vec<String>,
}

/// What a class's answers say.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ClassReport {
    /// Pupil by pupil, in the order of the class.
    pub pupils: Vec<PupilReport>,
    /// The slips made, by how many made them.
    pub common: Vec<CommonSlip>,
    /// The operations asked, the worst read first.
    pub operations: Vec<OperationReport>,
    /// What to teach next, what matters most first.
    pub next: Vec<NextAnswer>,
}

/// How a pupil fared.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PupilReport {
    /// The name.
    pub name: String,
    /// How many sheets were answered.
    pub sheets: usize,
    /// How many readings are right, or follow rightly.
    pub right: usize,
    /// How many were asked.
    pub of: usize,
    /// What was done wrong, a sentence for each slip, the commonest first.
    pub slips: Vec<String>,
}

/// A slip that was made.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct CommonSlip {
    /// Its name.
    pub slip: String,
    /// What was done.
    pub words: String,
    /// What to do about it.
    pub mend: String,
    /// How often it was made.
    pub times: usize,
    /// Who made it.
    pub pupils: Vec<String>,
}

/// How an operation was read.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct OperationReport {
    /// `cast` or an operation.
    pub operation: String,
    /// What it is about.
    pub title: String,
    /// How many readings are right, or follow rightly.
    pub right: usize,
    /// How many were asked.
    pub of: usize,
}

/// Something to teach next.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct NextAnswer {
    /// `slip` that is common, an operation that is to be worked `together` again, a `lesson`
    /// that comes next, or a `level`.
    #[schemars(extend("enum" = ["slip", "together", "lesson", "level"]))]
    pub what: &'static str,
    /// What to do, in a sentence.
    pub sentence: String,
    /// For whom; empty where it is for all.
    pub pupils: Vec<String>,
}

/// A slip is taught against once so many made it, and one in so many of those who answered
/// (common practice).
const SO_MANY: usize = 2;
const ONE_IN: usize = 6;
/// Less right than this is worked together again, more goes on (common practice).
const TOGETHER_BELOW: f64 = 0.5;
const GOES_ON_FROM: f64 = 0.7;
/// More than this is ready for the next level.
const NEXT_LEVEL_FROM: f64 = 0.9;

/// What the answered sheets of a class say. `pupils` are its names, in order.
#[must_use]
pub fn class_report(pupils: &[String], sheets: &[SheetMarks]) -> ClassReport {
    let common = common(pupils, sheets);
    let operations = operations(sheets);
    let pupils: Vec<PupilReport> = pupils
        .iter()
        .map(|name| pupil(name, sheets, &common))
        .collect();
    let next = next(&pupils, sheets, &common, &operations);
    ClassReport {
        pupils,
        common,
        operations,
        next,
    }
}

fn common(pupils: &[String], sheets: &[SheetMarks]) -> Vec<CommonSlip> {
    let mut all: Vec<CommonSlip> = Vec::new();
    for sheet in sheets {
        for name in sheet.questions.iter().flat_map(|one| &one.slips) {
            let Some(slip) = KnownSlip::named(name) else {
                continue;
            };
            let at = all.iter().position(|one| one.slip == *name);
            let at = at.unwrap_or_else(|| {
                all.push(CommonSlip {
                    slip: name.clone(),
                    words: slip.words().to_owned(),
                    mend: slip.mend().to_owned(),
                    times: 0,
                    pupils: Vec::new(),
                });
                all.len() - 1
            });
            if let Some(one) = all.get_mut(at) {
                one.times += 1;
                if !one.pupils.contains(&sheet.pupil) {
                    one.pupils.push(sheet.pupil.clone());
                }
            }
        }
    }
    for one in &mut all {
        let place = |name: &String| pupils.iter().position(|pupil| pupil == name);
        one.pupils.sort_by_key(place);
    }
    all.sort_by_key(|one| std::cmp::Reverse((one.pupils.len(), one.times)));
    all
}

fn operations(sheets: &[SheetMarks]) -> Vec<OperationReport> {
    let mut all: Vec<OperationReport> = Vec::new();
    for one in sheets.iter().flat_map(|sheet| &sheet.questions) {
        match all
            .iter_mut()
            .find(|known| known.operation == one.operation)
        {
            Some(known) => {
                known.right += one.right;
                known.of += one.of;
            }
            None => all.push(OperationReport {
                operation: one.operation.clone(),
                title: one.title.clone(),
                right: one.right,
                of: one.of,
            }),
        }
    }
    all.sort_by(|a, b| part(a.right, a.of).total_cmp(&part(b.right, b.of)));
    all
}

fn pupil(name: &str, sheets: &[SheetMarks], common: &[CommonSlip]) -> PupilReport {
    let own = || sheets.iter().filter(|sheet| sheet.pupil == name);
    let questions = || own().flat_map(|sheet| &sheet.questions);
    let made = common.iter().filter(|slip| {
        let mut slips = questions().flat_map(|one| &one.slips);
        slips.any(|made| *made == slip.slip)
    });
    PupilReport {
        name: name.to_owned(),
        sheets: own().count(),
        right: questions().map(|one| one.right).sum(),
        of: questions().map(|one| one.of).sum(),
        slips: made.map(|slip| slip.words.clone()).collect(),
    }
}

#[expect(clippy::cast_precision_loss, reason = "some hundred readings")]
fn part(right: usize, of: usize) -> f64 {
    right as f64 / of.max(1) as f64
}

fn next(
    pupils: &[PupilReport],
    sheets: &[SheetMarks],
    common: &[CommonSlip],
    operations: &[OperationReport],
) -> Vec<NextAnswer> {
    let answered: Vec<&PupilReport> = pupils.iter().filter(|one| one.of > 0).collect();
    if answered.is_empty() {
        return Vec::new();
    }
    let many = SO_MANY.max(answered.len().div_ceil(ONE_IN));
    let slips = common.iter().filter(|slip| slip.pupils.len() >= many);
    let mut next: Vec<NextAnswer> = slips
        .map(|slip| NextAnswer {
            what: "slip",
            sentence: format!("{} {}", slip.words, slip.mend),
            pupils: slip.pupils.clone(),
        })
        .collect();
    let badly = operations
        .iter()
        .filter(|one| part(one.right, one.of) < TOGETHER_BELOW);
    next.extend(badly.map(|one| NextAnswer {
        what: "together",
        sentence: format!(
            "Work it together once more: {}; {} of {} readings are right.",
            one.title, one.right, one.of
        ),
        pupils: Vec::new(),
    }));
    let right = answered.iter().map(|one| one.right).sum();
    let of = answered.iter().map(|one| one.of).sum();
    if part(right, of) >= GOES_ON_FROM {
        let asked: Vec<(&str, u8)> = sheets
            .iter()
            .flat_map(|sheet| {
                let questions = sheet.questions.iter();
                questions.map(|one| (one.operation.as_str(), sheet.level))
            })
            .collect();
        next.extend(next_lesson(&asked).map(|(title, why)| NextAnswer {
            what: "lesson",
            sentence: format!("Next in the course: {title}. {why}"),
            pupils: Vec::new(),
        }));
    }
    for level in (1..).zip(LEVELS).map(|(level, _)| level) {
        let above = level_name(level + 1);
        let is_ready = |one: &&&PupilReport| {
            let mut own = sheets.iter().filter(|sheet| sheet.pupil == one.name);
            let theirs = own.by_ref().map(|sheet| sheet.level).max();
            theirs == Some(level) && part(one.right, one.of) >= NEXT_LEVEL_FROM
        };
        let ready: Vec<String> = answered
            .iter()
            .filter(is_ready)
            .map(|one| one.name.clone())
            .collect();
        if !above.is_empty() && !ready.is_empty() {
            next.push(NextAnswer {
                what: "level",
                sentence: format!("Ready for the level {above}."),
                pupils: ready,
            });
        }
    }
    next
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sheet(pupil: &str, right: usize, slips: &[&str]) -> SheetMarks {
        SheetMarks {
            sheet: 1,
            pupil: pupil.to_owned(),
            level: 1,
            questions: vec![QuestionMarks {
                operation: "sun-degree".to_owned(),
                title: "The Sun's degree for a date".to_owned(),
                right,
                of: 4,
                slips: slips.iter().map(|one| (*one).to_owned()).collect(),
            }],
        }
    }

    #[test]
    fn what_two_of_three_did_is_taught_next_and_who_has_all_right_goes_on() {
        let pupils = ["Aldara", "Brais", "Clodio", "Delia"].map(str::to_owned);
        let sheets = [
            sheet("Clodio", 3, &["next-month"]),
            sheet("Aldara", 3, &["next-month", "opposite-sun"]),
            sheet("Brais", 4, &[]),
        ];
        let report = class_report(&pupils, &sheets);
        let rights: Vec<(usize, usize)> = report
            .pupils
            .iter()
            .map(|one| (one.right, one.of))
            .collect();
        assert_eq!(rights, [(3, 4), (4, 4), (3, 4), (0, 0)]);
        assert_eq!(report.common[0].slip, "next-month");
        assert_eq!(report.common[0].pupils, ["Aldara", "Clodio"]);
        let what: Vec<&str> = report.next.iter().map(|one| one.what).collect();
        assert_eq!(what, ["slip", "lesson", "level"]);
        assert_eq!(report.next[2].pupils, ["Brais"]);
        // The Sun's degree has been asked, and the meridian's altitude comes after it.
        assert!(
            report.next[1].sentence.contains("meridian"),
            "{:?}",
            report.next[1]
        );
    }

    #[test]
    fn slips_of_the_pen_are_taught_against_as_those_of_the_hand_are() {
        let pupils = ["Aldara", "Brais"].map(str::to_owned);
        let sheets = pupils
            .each_ref()
            .map(|name| sheet(name, 3, &["acceleration"]));
        let report = class_report(&pupils, &sheets);
        assert_eq!(report.common[0].pupils, pupils);
        assert_eq!(report.next[0].what, "slip");
        assert!(
            report.next[0].sentence.contains("sidereal time gains"),
            "{}",
            report.next[0].sentence
        );
    }

    /// Each pupil's own slips, the commonest of the class first, and nobody else's.
    #[test]
    fn a_pupil_is_told_the_slips_that_were_theirs() {
        let pupils = ["Aldara", "Brais", "Clodio"].map(str::to_owned);
        let sheets = [
            sheet("Aldara", 2, &["opposite-sun", "next-month"]),
            sheet("Brais", 4, &[]),
            sheet("Clodio", 3, &["next-month"]),
        ];
        let report = class_report(&pupils, &sheets);
        let words = |name: &str| KnownSlip::named(name).unwrap().words().to_owned();
        let slips: Vec<Vec<String>> = report.pupils.into_iter().map(|one| one.slips).collect();
        assert_eq!(
            slips,
            [
                vec![words("next-month"), words("opposite-sun")],
                vec![],
                vec![words("next-month")]
            ]
        );
    }

    /// One in six of those who answered is many; whoever has not answered yet is no one.
    #[test]
    fn who_has_not_answered_is_not_counted() {
        let names: Vec<String> = (1..=13).map(|number| format!("Pupil {number}")).collect();
        let made = |many: usize| {
            let sheets: Vec<SheetMarks> = names[..many]
                .iter()
                .enumerate()
                .map(|(number, name)| match number {
                    0 | 1 => sheet(name, 3, &["next-month"]),
                    _ => sheet(name, 3, &[]),
                })
                .collect();
            let next = class_report(&names, &sheets).next;
            next.iter().any(|one| one.what == "slip")
        };
        assert!(made(2) && made(12));
        assert!(!made(13), "two of thirteen are less than one in six");
    }

    /// Whoever has all right is ready for the level above their own, and above the last there
    /// is none.
    #[test]
    fn who_is_ready_goes_on_to_the_level_above() {
        let pupils = ["Aldara", "Brais", "Clodio"].map(str::to_owned);
        let sheets: Vec<SheetMarks> = (1..)
            .zip(&pupils)
            .map(|(level, name)| SheetMarks {
                level,
                ..sheet(name, 4, &[])
            })
            .collect();
        let report = class_report(&pupils, &sheets);
        let ready: Vec<(&str, &[String])> = report
            .next
            .iter()
            .filter(|one| one.what == "level")
            .map(|one| (one.sentence.as_str(), one.pupils.as_slice()))
            .collect();
        assert_eq!(
            ready,
            [
                ("Ready for the level practised.", &pupils[..1]),
                ("Ready for the level adept.", &pupils[1..2])
            ]
        );
    }

    #[test]
    fn what_less_than_half_have_right_is_worked_together_again() {
        let report = class_report(&["Aldara".to_owned()], &[sheet("Aldara", 1, &[])]);
        let what: Vec<&str> = report.next.iter().map(|one| one.what).collect();
        assert_eq!(what, ["together"]);
        assert!(class_report(&["Aldara".to_owned()], &[]).next.is_empty());
    }
}
