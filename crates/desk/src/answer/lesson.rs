use schemars::JsonSchema;
use serde::Serialize;

use crate::answer::RunAnswer;

/// A working as a worked example, in words ready to be typeset.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct LessonAnswer {
    /// The operation: `cast`, or one of the treatise.
    pub operation: String,
    /// What it is for.
    pub title: String,
    /// Where Chaucer's treatise has it; null for casting a figure.
    pub source: Option<&'static str>,
    /// Whether that is a place in the treatise.
    pub in_treatise: bool,
    /// The moment, in words; null where the operation needs none.
    pub moment: Option<String>,
    /// The place, in words; null where the operation needs none.
    pub place: Option<String>,
    /// The instrument, in words.
    pub instrument: String,
    /// What is seen or told with it, one a line.
    pub given: Vec<String>,
    /// The sum from the clock to the rule; empty where nothing is set by the clock.
    pub sum: Vec<SumLineAnswer>,
    /// What is done, in order.
    pub steps: Vec<LessonStepAnswer>,
    /// What is read.
    pub readings: Vec<LessonReadingAnswer>,
    /// What else is to be said of it.
    pub notes: Vec<String>,
    /// When it is weak; null for casting a figure.
    pub weak: Option<&'static str>,
    /// What to beware of.
    pub cautions: Vec<String>,
}

/// A line of the sum from the clock to the rule.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct SumLineAnswer {
    /// What is taken into account.
    pub words: String,
    /// Why so much; empty where that needs no saying.
    pub reason: String,
    /// The amount with its sign; empty for the first line and the last.
    pub amount: String,
    /// The time of day that comes of it.
    pub result: String,
}

/// A step of a worked example.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct LessonStepAnswer {
    /// Its number, from 1.
    pub number: usize,
    /// What to do and what is then seen.
    pub instruction: String,
    /// The same in runs, with what each names and the finer number behind it.
    pub said: Vec<RunAnswer>,
    /// Where to look, and how finely it is read; empty where there is nothing to say.
    pub remark: String,
    /// The side on which it is done: `front`, `back`, or `paper`.
    pub side: &'static str,
}

/// A value read in a worked example.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct LessonReadingAnswer {
    /// What it is, by its name in `work`: `hour`, `ascendant`, or a house's numeral.
    pub name: String,
    /// The same in words.
    pub what: String,
    /// As read; null where it cannot be.
    pub read: Option<String>,
    /// On which line, and whether as the opposite.
    pub line: String,
    /// Whether it is had as the opposite of another.
    pub opposite: bool,
    /// How finely it is read; null where it is not, or is reckoned.
    pub reads_to: Option<String>,
    /// By calculation; null where there is nothing to calculate.
    pub exact: Option<String>,
    /// Reading less calculation, with its sign.
    pub differs: Option<String>,
    /// The parts of that, by cause, those of no amount left out.
    pub shares: Vec<LessonShareAnswer>,
    /// The difference in a sentence.
    pub sentence: Option<String>,
    /// Why nothing is read, where nothing is.
    pub reason: Option<String>,
}

/// A cause's part of a difference, in words.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct LessonShareAnswer {
    /// The cause, by its fixed name.
    pub cause: &'static str,
    /// What the cause is, in plain words.
    pub words: String,
    /// How much it moves the reading, with its sign.
    pub amount: String,
}
