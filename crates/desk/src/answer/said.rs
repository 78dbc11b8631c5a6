use instrument::Part;
use practice::{Conditions, Done, Working};
use schemars::JsonSchema;
use serde::Serialize;
use words::{Run, Sentence, landmarks};

use crate::answer::DrawnPoint;

/// A run of a sentence: words with what they name, or a number with the finer one
/// behind it.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct RunAnswer {
    /// The words. The texts of all runs put together are the sentence.
    pub text: String,
    /// What of the instrument they name: lines by the names that `lines` has, parts by
    /// their name after `part:`.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub shows: Vec<String>,
    /// The word of the glossary that explains them.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub word: Option<&'static str>,
    /// The number as it was found, where the words tell it as the instrument can show it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub finer: Option<String>,
    /// Whether it tells what the step finds.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub found: bool,
}

/// A numeral or number engraved beside the place of a step.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct NumeralAnswer {
    /// What is engraved.
    pub text: String,
    /// Where it stands, as drawn.
    #[serde(flatten)]
    pub at: DrawnPoint,
}

impl RunAnswer {
    pub(crate) fn all(sentence: Sentence) -> Vec<RunAnswer> {
        let runs = sentence.into_runs().into_iter();
        runs.map(RunAnswer::of).collect()
    }

    fn of(run: Run) -> RunAnswer {
        RunAnswer {
            shows: run.shows.iter().map(ToString::to_string).collect(),
            text: run.text,
            word: run.word,
            finer: run.finer,
            found: run.found,
        }
    }
}

impl NumeralAnswer {
    /// Those beside the place of a step, on its side of the instrument.
    pub(crate) fn beside(
        working: &Working,
        step: usize,
        done: &Done,
        conditions: &Conditions,
    ) -> Vec<NumeralAnswer> {
        let back = on_back(done);
        landmarks(working, step, conditions)
            .into_iter()
            .map(|landmark| NumeralAnswer {
                at: if back {
                    DrawnPoint::on_back(landmark.at)
                } else {
                    DrawnPoint::of(&conditions.instrument, landmark.at)
                },
                text: landmark.text,
            })
            .collect()
    }
}

/// A word of the trade, explained.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct WordAnswer {
    /// The word.
    pub word: &'static str,
    /// What it means.
    pub meaning: &'static str,
    /// What older texts call it.
    pub older: Vec<&'static str>,
    /// What else it is commonly called.
    pub common: Vec<&'static str>,
    /// What of the instrument shows it: lines by their names, parts by theirs after
    /// `part:`. Empty for what is no place of the instrument, or not on this one.
    pub shows: Vec<String>,
}

impl WordAnswer {
    pub(crate) fn of(word: &'static words::Word, shows: Vec<String>) -> WordAnswer {
        WordAnswer {
            word: word.word,
            meaning: word.meaning,
            older: word.older.to_vec(),
            common: word.common.to_vec(),
            shows,
        }
    }
}

/// Whether a step is done on the back: its lines stand there.
pub(crate) fn on_back(done: &Done) -> bool {
    let back = [Part::Back, Part::Alidade];
    done.lines.iter().any(|line| back.contains(&line.part()))
}
