use schemars::JsonSchema;
use serde::Serialize;

use super::{InstrumentAnswer, MomentAnswer, PlaceAnswer};

/// A pupil's readings, or a figure from elsewhere, held against what should be.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct CorrectAnswer {
    /// The moment.
    pub moment: MomentAnswer,
    /// The place.
    pub place: PlaceAnswer,
    /// The instrument; null where a printed figure is asked about.
    pub instrument: Option<InstrumentAnswer>,
    /// The cusp procedure; null where a printed figure is asked about.
    pub by: Option<&'static str>,
    /// What they come to.
    #[serde(flatten)]
    pub judged: JudgedAnswer,
}

/// What readings come to.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct JudgedAnswer {
    /// The readings one by one.
    pub readings: Vec<CorrectReading>,
    /// `right` where nothing was done wrong, `slips` where something known explains them,
    /// `follows` where one thing is wrong for no known reason and all else follows from
    /// it, or `unexplained`.
    #[schemars(extend("enum" = ["right", "slips", "follows", "unexplained"]))]
    pub verdict: &'static str,
    /// The verdict in a sentence.
    pub sentence: String,
    /// How badly the plate fits the latitude; null where it moves no reading further than
    /// that can be told, and where a printed figure is asked about.
    pub plate: Option<PlateFitAnswer>,
    /// What would explain them, the likeliest first.
    pub explanations: Vec<ExplanationAnswer>,
}

/// A plate that fits the latitude badly.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PlateFitAnswer {
    /// The latitude of the plate less that of the place.
    pub off_deg: f64,
    /// By how much it moves what should be read, in the order of the readings.
    pub moves_deg: Vec<Option<f64>>,
    /// The same in a sentence.
    pub sentence: String,
}

/// A reading held against what should be.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct CorrectReading {
    /// Of what.
    pub what: String,
    /// What kind of number it is; as in the findings of `work`.
    pub measure: &'static str,
    /// As read; the middle of the sign where a sign alone is told.
    pub read_deg: f64,
    /// The same in words.
    pub read_text: String,
    /// What should be read; null where nothing can be.
    pub should_deg: Option<f64>,
    /// The same in words.
    pub should_text: Option<String>,
    /// Within what it is right, either way; the same on a key, at a desk and on the page.
    pub within_deg: Option<f64>,
    /// The same in words.
    pub within_text: Option<String>,
    /// What follows from the reader's own earlier readings; null where that is what
    /// should be read.
    pub follows_deg: Option<f64>,
    /// The same in words.
    pub follows_text: Option<String>,
    /// Reading less what should be read; of a sign alone, from its nearer end.
    pub difference_deg: Option<f64>,
    /// `right`; `follows` rightly from an earlier reading that is wrong; `rough`, for it
    /// is further off than that but by no slip; or `wrong`.
    #[schemars(extend("enum" = ["right", "follows", "rough", "wrong"]))]
    pub mark: &'static str,
}

/// What would explain readings.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct ExplanationAnswer {
    /// Its place; explanations that give the same readings share one.
    pub rank: usize,
    /// The slips, or for a printed figure the departures and the house method; none
    /// where all is right.
    pub slips: Vec<SlipAnswer>,
    /// What is left over against what is to be expected: about 1 where it fits.
    pub misfit: f64,
    /// How likely it is among those tried, 0 to 1.
    pub weight: f64,
    /// What would be read so, in the order of the readings.
    pub shows_deg: Vec<Option<f64>>,
    /// The same in words.
    pub shows_text: Vec<Option<String>>,
}

/// A slip.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct SlipAnswer {
    /// Its name.
    pub name: String,
    /// What was done.
    pub words: String,
    /// What to do about it.
    pub mend: String,
}
