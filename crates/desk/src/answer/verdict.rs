use schemars::JsonSchema;
use serde::Serialize;

/// How far what will be read may be trusted, told before anything is turned: by the brass,
/// by the hand, and by what is left out of the sum.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct VerdictAnswer {
    /// `good`, `usable` or `not-to-be-trusted`.
    #[schemars(extend("enum" = ["good", "usable", "not-to-be-trusted"]))]
    pub verdict: &'static str,
    /// The verdict in a line.
    pub sentence: String,
    /// What the angles are known to be put off by, and mostly for what; empty where that is
    /// little.
    pub known: Vec<String>,
    /// On the ascendant; null where it cannot be read.
    pub ascendant: Option<TrustAnswer>,
    /// On the midheaven; null where it cannot be read.
    pub midheaven: Option<TrustAnswer>,
    /// On the cusp that is read worst by the procedure that is followed; null where none is.
    pub worst_cusp: Option<WorstCuspAnswer>,
    /// What hangs on it: what may come out, or does come out, otherwise than it is.
    pub hangs: Vec<HangsAnswer>,
    /// How to do better with what is at hand, the best first; empty where it is good.
    pub ways: Vec<WayAnswer>,
    /// What to put on the ascendant afterwards for this place and plate; null where it is
    /// little.
    pub correction: Option<CorrectionAnswer>,
}

/// How far a value that is read may lie from what is so.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct TrustAnswer {
    /// By how much it is shown too far on, however steadily it is set and read.
    pub off_deg: f64,
    /// What hand and eye may add to that, either way, in nineteen cases of twenty.
    pub hand_deg: f64,
    /// Both together: how far off it may be, either way.
    pub within_deg: f64,
}

/// The cusp that is read worst.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct WorstCuspAnswer {
    /// Its house's number.
    pub house: u8,
    /// How far it may be off from what the procedure gives on a perfect instrument.
    #[serde(flatten)]
    pub trust: TrustAnswer,
}

/// Something that may come out otherwise than it is.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct HangsAnswer {
    /// `ascendant-sign`, `lord-of-ascendant`, `lord-of-hour`, `house` or `midheaven-sign`.
    #[schemars(extend("enum" = [
        "ascendant-sign", "lord-of-ascendant", "lord-of-hour", "house", "midheaven-sign"
    ]))]
    pub what: &'static str,
    /// Whether it comes out so whatever hand and eye do.
    pub surely: bool,
    /// The same in a sentence.
    pub sentence: String,
}

/// A way to come nearer.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct WayAnswer {
    /// `sum-in-full`, `sun-from-ephemeris`, `two-plates`, `another-instrument`,
    /// `correction-afterwards` or `curves`.
    #[schemars(extend("enum" = [
        "sum-in-full", "sun-from-ephemeris", "two-plates", "another-instrument",
        "correction-afterwards", "curves"
    ]))]
    pub way: &'static str,
    /// What it is and what it would bring, in a sentence.
    pub sentence: String,
    /// The verdict that there would be.
    #[schemars(extend("enum" = ["good", "usable", "not-to-be-trusted"]))]
    pub verdict: &'static str,
    /// How far the ascendant might then be off.
    pub ascendant_within_deg: f64,
    /// How far the midheaven might then be off.
    pub midheaven_within_deg: f64,
    /// How far the worst cusp might then be off; null where this way is not about cusps.
    pub worst_cusp_within_deg: Option<f64>,
    /// The name of the instrument, where it is another one.
    pub with: Option<String>,
    /// The value of `plates` in a request that takes this way; null where that is not it.
    pub plates: Option<&'static str>,
    /// The value of `sun` in a request that takes this way; null where that is not it.
    pub sun: Option<&'static str>,
    /// Whether a request that takes this way has nothing in `without`.
    pub in_full: bool,
}

/// What is put on the ascendant afterwards.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct CorrectionAnswer {
    /// For whom it is, in a line: the plate and the latitude.
    pub title: String,
    /// From 0° Aries on; between two lines the proportion is taken.
    pub lines: Vec<CorrectionLine>,
    /// What is left at the most between the lines.
    pub left_deg: f64,
    /// What is put on the reading of this moment; null where there is none.
    pub now: Option<CorrectionLine>,
}

/// A line of it.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct CorrectionLine {
    /// The ascendant as it is read.
    pub read_deg: f64,
    /// The same in words.
    pub read_text: String,
    /// What is added; negative where it is taken off.
    pub add_deg: f64,
    /// The same in words.
    pub add_text: String,
}
