use instrument::{LineId, Pick, Point, State};
use practice::{Act, Amount, Conditions, Done, Quantity, Sighting, Value, Working};
use schemars::JsonSchema;
use serde::Serialize;
use sky::Angle;
use words::{Fineness, ValueInWords};

use crate::answer::numbers::{amount_deg, value_deg};
use crate::answer::{DrawnPoint, NumeralAnswer, RunAnswer, on_back};

/// An operation carried out, step by step.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct WorkingAnswer {
    /// What it is for.
    pub title: &'static str,
    /// Its steps.
    pub steps: Vec<WorkingStepAnswer>,
}

/// A step of a working.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct WorkingStepAnswer {
    /// What to do and what is then seen.
    pub instruction: String,
    /// The same in runs, with what each names and the finer number behind it.
    pub said: Vec<RunAnswer>,
    /// What is engraved beside the place and tells where it is.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub numerals: Vec<NumeralAnswer>,
    /// How the parts stand after it.
    pub state: StateAnswer,
    /// The cusp procedure it belongs to; null for what all of them share.
    pub procedure: Option<&'static str>,
    /// The lines to look at.
    pub lines: Vec<String>,
    /// The side of the instrument on which it is done: `front` or `back`.
    #[schemars(extend("enum" = ["front", "back"]))]
    pub side: &'static str,
    /// Where to look, where a line is read or brought onto another.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub look_at: Option<DrawnPoint>,
    /// How far the rete is turned: positive onward, negative back; absent when it stays.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rete_turn_deg: Option<f64>,
    /// What is read, where something is.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reading: Option<ReadAnswer>,
    /// Why nothing is, where something should be.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reason: Option<String>,
}

/// How the moving parts stand.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct StateAnswer {
    /// The plate, by its latitude.
    pub plate_latitude_deg: f64,
    /// The hour angle of 0° Aries.
    pub rete_deg: f64,
    /// The hour angle of the rule on the limb.
    pub rule_deg: f64,
    /// The degree of the zodiac scale under the alidade.
    pub alidade_deg: f64,
}

/// A value read.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct ReadAnswer {
    /// What it is, by its fixed name.
    pub name: String,
    /// The same in words.
    pub what: String,
    /// Its value: a degree of the zodiac, or an hour angle.
    pub deg: f64,
    /// How finely it can be read.
    pub reads_to_deg: f64,
    /// The same as the trade says it; null where it is read perfectly.
    pub reads_to_text: Option<String>,
    /// The value as the trade says it.
    pub text: Option<String>,
}

/// How finely a value is read, in words; none where it is read perfectly.
pub(crate) fn reads_to_text(reads_to: Amount) -> Option<String> {
    reads_to.is_some().then(|| Fineness(reads_to).to_string())
}

impl WorkingAnswer {
    pub(crate) fn of(working: &Working, conditions: &Conditions) -> WorkingAnswer {
        let steps = working.steps.iter().enumerate();
        WorkingAnswer {
            title: working.title,
            steps: steps
                .map(|(number, done)| {
                    let sentence =
                        words::instruction(working, number, conditions).unwrap_or_default();
                    WorkingStepAnswer {
                        instruction: sentence.text(),
                        said: RunAnswer::all(sentence),
                        numerals: NumeralAnswer::beside(working, number, done, conditions),
                        look_at: look_at(done, conditions),
                        ..WorkingStepAnswer::of(done)
                    }
                })
                .collect(),
        }
    }
}

impl WorkingStepAnswer {
    fn of(done: &Done) -> WorkingStepAnswer {
        WorkingStepAnswer {
            instruction: String::new(),
            said: Vec::new(),
            numerals: Vec::new(),
            state: StateAnswer::of(&done.after),
            procedure: done.procedure.map(practice::Procedure::name),
            side: if on_back(done) { "back" } else { "front" },
            look_at: None,
            lines: done.lines.iter().map(ToString::to_string).collect(),
            rete_turn_deg: (done.before.rete != done.after.rete).then(|| done.rete_turn().deg()),
            reading: match &done.outcome {
                Some(Ok((quantity, reading))) => Some(ReadAnswer {
                    name: quantity.name(),
                    what: quantity.to_string(),
                    deg: signed_where_it_can_be(*quantity, reading.value),
                    reads_to_deg: amount_deg(reading.reads_to),
                    reads_to_text: reads_to_text(reading.reads_to),
                    text: Some(ValueInWords(reading.value).to_string()),
                }),
                _ => None,
            },
            reason: match &done.outcome {
                Some(Err(why)) => Some(why.to_string()),
                _ => None,
            },
        }
    }
}

/// The place where a step is done or read, on its side of the instrument.
pub(crate) fn look_at(done: &Done, conditions: &Conditions) -> Option<DrawnPoint> {
    let instrument = &conditions.instrument;
    let crossing = |line, pick| {
        let crossing = instrument.read_ecliptic(&done.after, line, pick).ok()?;
        Some(crossing.at)
    };
    let along = instrument.rule_edge(done.after.rule).along;
    let under_rule = || instrument.pin() + along * instrument.limb_mm();
    let p = match &done.act {
        Act::ReadEcliptic { at, pick, .. } => crossing(at, *pick)?,
        Act::TurnRete { onto, .. } if *onto == LineId::RuleEdge => {
            crossing(onto, Pick::Drawn).unwrap_or_else(under_rule)
        }
        Act::TurnRete { onto, pick, .. } => crossing(onto, *pick)?,
        Act::TurnRuleOnto(_) | Act::ReadLimb { .. } => under_rule(),
        Act::ReadSunDegree => {
            let back = instrument.back();
            let bearing = back.zodiac(done.after.alidade);
            return Some(DrawnPoint::on_back(Point::polar(
                back.bands.zodiac,
                bearing,
            )));
        }
        Act::Observe(Sighting::MorningShadow | Sighting::EveningShadow) => return None,
        Act::Observe(sight) => {
            let back = instrument.back();
            // The alidade's end up to the left, or the other on the shadow square.
            let bearing = back.zodiac(done.after.alidade);
            let (bearing, radius) = match sight {
                Sighting::Shadow | Sighting::OtherShadow => {
                    let (sine, cosine) = bearing.sin_cos();
                    let across = sine.abs().max(cosine.abs());
                    (bearing, back.shadow_side() / across)
                }
                _ => (bearing + Angle::HALF_TURN, back.bands.zodiac),
            };
            return Some(DrawnPoint::on_back(Point::polar(radius, bearing)));
        }
        _ => return None,
    };
    Some(DrawnPoint::of(instrument, p))
}

impl StateAnswer {
    pub(crate) fn of(state: &State) -> StateAnswer {
        StateAnswer {
            plate_latitude_deg: state.plate.deg(),
            rete_deg: state.rete.in_turn().deg(),
            rule_deg: state.rule.in_turn().deg(),
            alidade_deg: state.alidade.in_turn().deg(),
        }
    }
}

/// What an operation finds keeps its sign where it can have one; what goes round is
/// in [0°, 360°).
fn signed_where_it_can_be(quantity: Quantity, value: Value) -> f64 {
    match value {
        Value::Degree(angle) | Value::Azimuth(angle) | Value::TimeOfDay(angle) => {
            angle.in_turn().deg()
        }
        // A place of the limb goes round, an arc of it can be more than a turn.
        Value::Arc(place) if !matches!(quantity, Quantity::Found(_)) => place.in_turn().deg(),
        Value::Arc(_)
        | Value::Height(_)
        | Value::UnequalHours(_)
        | Value::Points(_)
        | Value::Length(_) => value_deg(value),
    }
}
