use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::known_slip::KnownSlip;
use crate::request_work::{RECKON, WorkRequest};

/// Exercises with their keys, for everyone of a class. What is written of it is read
/// again when answers are corrected.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ExercisesAnswer {
    /// The version of this form: 1.
    pub version: u32,
    /// What stands at the head of every sheet.
    pub class: String,
    /// The year of the dates.
    pub year: i32,
    /// From what everything was drawn.
    pub seed: u64,
    /// The pupils, in order.
    pub pupils: Vec<PupilAnswer>,
}

impl ExercisesAnswer {
    /// The same without what only a teacher is to see: no settings, no values, no tell-tales.
    /// Answers are corrected by it as well, for the question itself is all that takes.
    #[must_use]
    pub fn without_key(&self) -> ExercisesAnswer {
        let mut all = self.clone();
        let questions = all.pupils.iter_mut().flat_map(|pupil| &mut pupil.questions);
        for question in questions {
            question.setting.clear();
            question.tell_tales.clear();
            for asked in &mut question.asks {
                *asked = AskedAnswer {
                    name: std::mem::take(&mut asked.name),
                    what: std::mem::take(&mut asked.what),
                    measure: std::mem::take(&mut asked.measure),
                    ..AskedAnswer::default()
                };
            }
        }
        all
    }
}

/// A pupil's exercises.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PupilAnswer {
    /// The pupil's name.
    pub name: String,
    /// The name of the instrument.
    pub instrument: String,
    /// How large it is.
    pub diameter_mm: f64,
    /// How hard the questions are: 1 to 3.
    pub level: u8,
    /// What is to be known of these questions: how near the instrument comes, and which are
    /// asked of another town for its sake.
    #[serde(default)]
    pub notes: Vec<String>,
    /// The questions, in order.
    pub questions: Vec<QuestionAnswer>,
}

/// A question with its key.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct QuestionAnswer {
    /// Its number, from 1.
    pub number: usize,
    /// What it is about.
    pub title: String,
    /// Its date, time and place, as far as it has them.
    pub when: String,
    /// What is asked, in words: title, date, time and place, and what to do.
    pub text: String,
    /// What is given with it, one a line.
    pub given: Vec<String>,
    /// What this instrument is far off in, one a line.
    #[serde(default)]
    pub off: Vec<String>,
    /// The question itself: `operation` is `cast` or one of the treatise.
    pub request: WorkRequest,
    /// Whether it stands in the place of one that this instrument does not answer.
    pub instead: bool,
    /// How the brass is set for it.
    pub setting: String,
    /// What is to be read.
    pub asks: Vec<AskedAnswer>,
    /// What the commonest slips would show.
    pub tell_tales: Vec<TellTaleAnswer>,
}

impl QuestionAnswer {
    /// Whether it is answered with tables and pen, without an instrument.
    #[must_use]
    pub fn is_of_pen(&self) -> bool {
        self.request.operation == RECKON
    }
}

/// Something to be read, with its key.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct AskedAnswer {
    /// Its name, under which an answer is corrected.
    pub name: String,
    /// The same in words.
    pub what: String,
    /// What kind of number it is; as in the findings of `work`.
    pub measure: String,
    /// What this pupil's instrument reads.
    pub reads_deg: f64,
    /// The same as the trade says it.
    pub reads: String,
    /// How finely it is read; null where it is reckoned.
    pub reads_to_deg: Option<f64>,
    /// The same as the trade says it.
    pub reads_to: Option<String>,
    /// How far off, either way, an answer is still right: as far as hand and eye come, and
    /// as far as the instrument is off itself.
    pub accept_deg: f64,
    /// The same as the trade says it.
    pub accept: String,
    /// The lines it is read on.
    pub line: String,
    /// By calculation; null where there is nothing to calculate.
    pub exact_deg: Option<f64>,
    /// The same as the trade says it.
    pub exact: Option<String>,
}

/// What is read when a slip is made.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct TellTaleAnswer {
    /// The slips' names; several where no reading could tell them apart.
    pub slips: Vec<String>,
    /// What was done, in a sentence for each.
    pub words: Vec<String>,
    /// What is then read, in the order of what is asked.
    pub shows_deg: Vec<f64>,
    /// The same as the trade says it.
    pub shows: Vec<String>,
}

impl TellTaleAnswer {
    /// How many slips are made more often than the likeliest of these.
    #[must_use]
    pub fn less_likely_than(&self) -> usize {
        let slips = self.slips.iter().filter_map(|name| KnownSlip::named(name));
        let ranks = slips.map(KnownSlip::less_likely_than);
        ranks.min().unwrap_or(usize::MAX)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_done_more_often_with_the_pen_comes_first() {
        let tale = |slips: &[&str]| TellTaleAnswer {
            slips: slips.iter().map(|one| (*one).to_owned()).collect(),
            words: Vec::new(),
            shows_deg: Vec::new(),
            shows: Vec::new(),
        };
        let rank = |slips: &[&str]| tale(slips).less_likely_than();
        assert!(rank(&["longitude"]) < rank(&["backwards"]));
        assert_eq!(rank(&["backwards", "longitude"]), rank(&["longitude"]));
    }
}
