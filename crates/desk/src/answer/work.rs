use schemars::JsonSchema;
use serde::Serialize;

use super::{InstrumentAnswer, MomentAnswer, PlaceAnswer, ShareAnswer, WorkingAnswer};

/// An operation of the treatise, worked.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct WorkAnswer {
    /// Which operation.
    pub operation: OperationAnswer,
    /// The moment.
    pub moment: MomentAnswer,
    /// The place.
    pub place: PlaceAnswer,
    /// The instrument.
    pub instrument: InstrumentAnswer,
    /// The star asked about, by its pointer's name.
    pub star: Option<String>,
    /// What was seen or would be.
    pub seen: Vec<SeenAnswer>,
    /// What is done.
    pub working: WorkingAnswer,
    /// What is found, the chief thing first.
    pub findings: Vec<FindingAnswer>,
    /// What else is to be said of it.
    pub notes: Vec<String>,
}

/// An operation.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct OperationAnswer {
    /// Its name.
    pub name: &'static str,
    /// What it is for.
    pub title: &'static str,
    /// Where Chaucer's treatise has it.
    pub source: &'static str,
    /// Whether that is a place in the treatise.
    pub in_treatise: bool,
    /// When it is weak.
    pub weak: &'static str,
    /// What it needs besides moment, place and instrument: `star`, or the names of
    /// what is seen or told.
    pub needs: Vec<&'static str>,
    /// The heading under which it is looked for.
    pub heading: &'static str,
    /// What a form for it asks, in order: what it needs, and what it may be told.
    pub asks: Vec<AskAnswer>,
}

/// A thing that an operation asks.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct AskAnswer {
    /// Its name.
    pub name: &'static str,
    /// Its place in the request: `star`, `body`, `seen`, `told`, `hand`, `side`, `of`.
    #[schemars(extend("enum" = ["star", "body", "seen", "told", "hand", "side", "of"]))]
    pub place: &'static str,
    /// What it is, in words.
    pub words: &'static str,
    /// What it is counted in, such as `degrees`; null where that goes without saying.
    pub counted_in: Option<&'static str>,
    /// The values it can have, where they are few.
    pub choices: Vec<&'static str>,
    /// A value that would do.
    pub example: &'static str,
    /// Whether there is no answer without it, or without something in its place.
    pub needed: bool,
    /// What it means to leave it out.
    pub left_out: Option<&'static str>,
    /// It is asked only where the operation is worked of this: `star` or `degree`.
    pub where_of: Option<&'static str>,
}

/// Something seen.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct SeenAnswer {
    /// What it is.
    pub name: &'static str,
    /// Its value in degrees, or in points of the shadow square; of an altitude, as it is
    /// seen.
    pub deg: f64,
    /// By how much the air raises it, which the value holds: mean refraction.
    pub raised_deg: f64,
    /// By how much it is seen lower from the place than from the Earth's centre, which the
    /// value holds: parallax.
    pub lowered_deg: f64,
    /// The error of the hand, where a person's own value was given.
    pub within_deg: Option<f64>,
    /// Whether it was given, or is what would be seen.
    pub given: bool,
}

/// A thing found.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct FindingAnswer {
    /// Its name.
    pub name: String,
    /// Its name in words.
    pub what: String,
    /// What kind of number it is: `degree`, `time-of-day` (an hour angle from
    /// noon), `arc`, `height`, `azimuth`, `unequal-hours` (15° each), `number`.
    #[schemars(extend("enum" = ["degree", "time-of-day", "arc", "height", "azimuth", "unequal-hours", "number"]))]
    pub measure: &'static str,
    /// As read; null where it cannot be.
    pub deg: Option<f64>,
    /// As the trade says it.
    pub text: Option<String>,
    /// For a time of day, what the clock shows then, to the minute.
    pub clock: Option<String>,
    /// The date that the clock shows then: often another than the Sun's.
    pub clock_date: Option<String>,
    /// How finely the last reading is made.
    pub reads_to_deg: Option<f64>,
    /// The same as the trade says it.
    pub reads_to_text: Option<String>,
    /// How near the truth it comes: for all that hand and eye can do, either way in
    /// nineteen cases of twenty, and for all that this instrument is off.
    pub within_deg: Option<f64>,
    /// The same as the trade says it.
    pub within_text: Option<String>,
    /// By calculation, as it truly happens, the Sun moving; null where there is nothing
    /// to calculate or no answer.
    pub exact_deg: Option<f64>,
    /// The same as the trade says it.
    pub exact_text: Option<String>,
    /// For a time of day, date and time on the clock when it truly happens, to the second.
    pub exact_clock: Option<String>,
    /// Reading minus calculation.
    pub difference_deg: Option<f64>,
    /// The difference by its causes.
    pub shares: Vec<ShareAnswer>,
    /// The difference in a sentence.
    pub sentence: Option<String>,
    /// Why there is no reading, where there is none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reason: Option<String>,
}
