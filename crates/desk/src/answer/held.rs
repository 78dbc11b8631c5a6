use schemars::JsonSchema;
use serde::Serialize;

/// A delivered piece in its picture, beside what it was to be.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct HeldAnswer {
    /// What it was to be.
    pub name: String,
    /// The same within a sentence.
    pub called: String,
    /// For which latitude the plate was to be.
    pub plate_latitude_deg: f64,
    /// How far a mark may be off.
    pub within_mm: f64,
    /// How finely the picture tells a length: what a mark is off as a rule by the hand that
    /// put it. Null where the picture does not tell.
    pub tells_to_mm: Option<f64>,
    /// How many marks are within it.
    pub kept: usize,
    /// How many are not.
    pub missed: usize,
    /// What follows.
    pub verdict: HeldVerdict,
    /// Each mark, the worst first.
    pub marks: Vec<HeldMarkAnswer>,
    /// A map of them over the picture, as SVG in its pixels.
    pub map: String,
    /// By how much what marks are off is enlarged on it.
    pub enlarged: u32,
}

/// What follows for a delivered piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum HeldVerdict {
    /// Every mark is within the limit.
    Accepted,
    /// At least one is not.
    NotAccepted,
    /// No mark is of a line that the piece has, or the limit is less than twice what the
    /// picture tells to.
    NotJudged,
}

/// A mark beside where the specification has it.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct HeldMarkAnswer {
    /// What it is, as the file has it.
    pub of: String,
    /// How far it is off: across a line, or from a point.
    pub off_mm: f64,
    /// The same towards noon; on the rete towards 0° Aries.
    pub noon_mm: f64,
    /// And towards the west; on the rete towards where the hours run from there.
    pub west_mm: f64,
    /// Whether that is within what is allowed.
    pub kept: bool,
}
