use schemars::JsonSchema;
use serde::Serialize;

use crate::answer::{ReadAnswer, StateAnswer};

/// What is read with the parts as they stand, and what that position means.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct TurnAnswer {
    /// How the parts stand.
    pub state: StateAnswer,
    /// The degree on the eastern horizon; null where there is none.
    pub ascendant: Option<ReadAnswer>,
    /// The degree on the meridian line; null where there is none.
    pub midheaven: Option<ReadAnswer>,
    /// The time under the rule.
    pub hour: HourAnswer,
    /// The degree of the ecliptic under the rule; null where there is none.
    pub under_rule: Option<ReadAnswer>,
    /// The date that lies under the rule: on the ring, or the day on which the Sun
    /// stands in that degree by the calendar scale; null where the instrument has no dates.
    pub date_under_rule: Option<String>,
    /// The degree of the zodiac scale under the alidade, on the back.
    pub alidade: ReadAnswer,
    /// The date of the calendar scale under the alidade; null where the instrument
    /// takes no dates from its back.
    pub date_under_alidade: Option<String>,
    /// The Sun's altitude with the rete so turned; below the horizon negative.
    pub sun_altitude: ReadAnswer,
    /// What lies under the pointer, where one is shown.
    pub under_pointer: Option<PointerAnswer>,
    /// The moment that this position means on this date; null where it means none.
    pub means: Option<MeansAnswer>,
    /// All of it in words, to be read out.
    pub words: String,
}

/// A time as the limb shows it.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct HourAnswer {
    /// The hour angle under the rule.
    pub deg: f64,
    /// How finely it can be read.
    pub reads_to_deg: f64,
    /// The same as a length of time, `35 s`; null where it is read perfectly.
    pub reads_to_text: Option<String>,
    /// The time of day, such as `6 h 49 m`.
    pub text: String,
    /// `local apparent time`, or `local mean time` where the date is taken from a
    /// ring of equal days.
    pub time: &'static str,
}

/// What lies under a pointer on the front.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PointerAnswer {
    /// The altitude there.
    pub altitude: String,
    /// How finely it can be read; null where it is read perfectly.
    pub altitude_reads_to_text: Option<String>,
    /// The degree of the zodiac, near the ecliptic's edge.
    pub degree: Option<String>,
    /// How finely that can be read.
    pub degree_reads_to_text: Option<String>,
    /// The star whose pointer ends there.
    pub star: Option<StarAnswer>,
}

/// A star as its pointer shows it.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct StarAnswer {
    /// Its name on the rete.
    pub name: &'static str,
    /// Its modern designation.
    pub designation: &'static str,
    /// Its altitude with the rete so turned.
    pub altitude: String,
    /// How finely it can be read; null where it is read perfectly.
    pub altitude_reads_to_text: Option<String>,
}

/// The moment that a position of the rete means.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct MeansAnswer {
    /// The hour that the rule would show over the Sun.
    pub hour: String,
    /// Date and time on the clock, as a request takes it.
    pub when: String,
    /// The same in words, to the minute.
    pub text: String,
}
