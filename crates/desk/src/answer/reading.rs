use crate::answer::numbers::{amount_deg, in_range};
use std::collections::BTreeMap;

use practice::{Procedure, Quantity, Reading, Working, twelve_cusps};
use schemars::JsonSchema;
use serde::Serialize;

/// What is read on the instrument.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct ReadingAnswer {
    /// The ascendant; null where it cannot be read.
    pub ascendant_deg: Option<f64>,
    /// The midheaven; null where it cannot be read.
    pub midheaven_deg: Option<f64>,
    /// The cusps by each procedure that the instrument allows, from I to XII.
    pub cusps: BTreeMap<&'static str, Vec<CuspAnswer>>,
    /// How finely the ascendant and the midheaven can be read.
    pub reads_to_deg: ReadsToAnswer,
}

/// How finely the angles can be read.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct ReadsToAnswer {
    /// The ascendant.
    pub ascendant: Option<f64>,
    /// The midheaven.
    pub midheaven: Option<f64>,
}

/// A cusp as read.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct CuspAnswer {
    /// The house's number.
    pub house: u8,
    /// The degree; null where it cannot be read.
    pub deg: Option<f64>,
    /// How finely it can be read.
    pub reads_to_deg: Option<f64>,
    /// The line that belongs to it.
    pub line: String,
    /// Whether it is the opposite of the degree read.
    pub opposite: bool,
    /// Why there is no degree, where there is none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reason: Option<String>,
}

/// What a perfect instrument would show: set exactly, with a plate of the place's
/// own latitude and the moment's true obliquity, unequal-hour lines as arcs.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct IdealAnswer {
    /// The ascendant.
    pub ascendant_deg: Option<f64>,
    /// The midheaven.
    pub midheaven_deg: Option<f64>,
    /// The cusps by turning, from I to XII.
    pub turning_deg: [Option<f64>; 12],
    /// By direct cut.
    pub direct_cut_deg: [Option<f64>; 12],
    /// By thirds of the limb.
    pub limb_thirds_deg: [Option<f64>; 12],
}

impl ReadingAnswer {
    pub(crate) fn of(working: &Working, procedures: &[Procedure]) -> ReadingAnswer {
        let angle = |quantity| working.reading(quantity).ok();
        let (ascendant, midheaven) = (angle(Quantity::Ascendant), angle(Quantity::Midheaven));
        ReadingAnswer {
            ascendant_deg: ascendant.map(value),
            midheaven_deg: midheaven.map(value),
            cusps: procedures
                .iter()
                .map(|procedure| (procedure.name(), cusps(working, *procedure)))
                .collect(),
            reads_to_deg: ReadsToAnswer {
                ascendant: ascendant.map(|reading| amount_deg(reading.reads_to)),
                midheaven: midheaven.map(|reading| amount_deg(reading.reads_to)),
            },
        }
    }
}

impl IdealAnswer {
    pub(crate) fn of(working: &Working) -> IdealAnswer {
        let angle = |quantity| working.reading(quantity).ok().map(value);
        let cusps =
            |procedure| twelve_cusps(working, procedure).map(|cusp| cusp.reading.ok().map(value));
        IdealAnswer {
            ascendant_deg: angle(Quantity::Ascendant),
            midheaven_deg: angle(Quantity::Midheaven),
            turning_deg: cusps(Procedure::Turning),
            direct_cut_deg: cusps(Procedure::DirectCut),
            limb_thirds_deg: cusps(Procedure::LimbThirds),
        }
    }
}

fn cusps(working: &Working, procedure: Procedure) -> Vec<CuspAnswer> {
    let cusps = twelve_cusps(working, procedure).into_iter();
    cusps
        .map(|cusp| CuspAnswer {
            house: cusp.house.number(),
            deg: cusp.reading.as_ref().ok().copied().map(value),
            reads_to_deg: cusp
                .reading
                .as_ref()
                .ok()
                .map(|reading| amount_deg(reading.reads_to)),
            line: cusp.line.to_string(),
            opposite: cusp.opposite,
            reason: cusp.reading.err().map(|why| why.to_string()),
        })
        .collect()
}

fn value(reading: Reading) -> f64 {
    in_range(reading.value)
}
