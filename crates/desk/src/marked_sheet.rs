use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::ExercisesAnswer;
use crate::cabinet::Cabinet;
use crate::correct_exercise::{CorrectExerciseRequest, correct_exercise};
use crate::refusal::Refusal;

/// What was read of a question, marked.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct MarkedQuestion {
    /// Its number, from 1.
    pub question: usize,
    /// What was read, in the order of its names.
    pub read: Vec<MarkedReading>,
    /// `right`, `slips`, `follows` or `unexplained`.
    pub verdict: String,
    /// The verdict in a sentence.
    pub sentence: String,
    /// The names of the slips that explain it best; several ways where no reading tells
    /// them apart.
    pub slips: Vec<String>,
}

/// A reading, marked.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct MarkedReading {
    /// What was asked, by its name.
    pub what: String,
    /// What was written.
    pub value: String,
    /// `right`, `follows`, `rough` or `wrong`.
    pub mark: String,
}

impl MarkedReading {
    /// Whether a mark counts as right: what follows rightly from an earlier reading does.
    #[must_use]
    pub fn counts(mark: &str) -> bool {
        matches!(mark, "right" | "follows")
    }
}

/// Corrects all that a pupil read of a sheet: by the question's number, what was asked by
/// its name. Questions with nothing read are left out.
///
/// # Errors
/// When there is no such pupil or question, or an answer cannot be understood; the message
/// says of which question.
pub fn mark_sheet(
    exercises: &ExercisesAnswer,
    pupil: &str,
    read: &BTreeMap<usize, BTreeMap<String, String>>,
    cabinet: &Cabinet,
) -> Result<Vec<MarkedQuestion>, Refusal> {
    let mut marked = Vec::new();
    for (number, read) in read {
        let said = read
            .iter()
            .map(|(what, value)| (what.clone(), value.trim().to_owned()));
        let read: BTreeMap<String, String> = said.filter(|(_, value)| !value.is_empty()).collect();
        if read.is_empty() {
            continue;
        }
        let request = CorrectExerciseRequest {
            pupil: pupil.to_owned(),
            question: *number,
            read: read.clone(),
        };
        let answer = correct_exercise(exercises, &request, cabinet).map_err(|refusal| Refusal {
            message: format!("question {number}: {}", refusal.message),
            ..refusal
        })?;
        let judged = answer.judged;
        let best = judged.explanations.iter().filter(|one| one.rank == 1);
        let slips = best
            .flat_map(|one| &one.slips)
            .map(|slip| slip.name.clone());
        marked.push(MarkedQuestion {
            question: *number,
            read: read
                .into_iter()
                .zip(&judged.readings)
                .map(|((what, value), reading)| MarkedReading {
                    what,
                    value,
                    mark: reading.mark.to_owned(),
                })
                .collect(),
            slips: if judged.verdict == "slips" {
                slips.collect()
            } else {
                Vec::new()
            },
            verdict: judged.verdict.to_owned(),
            sentence: judged.sentence,
        });
    }
    Ok(marked)
}
