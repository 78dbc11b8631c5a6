use std::collections::BTreeMap;

use figure::{Horizon, Method};
use schemars::JsonSchema;
use serde::Serialize;

/// The exact figure, by spherical trigonometry.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct FigureAnswer {
    /// The house method asked for.
    pub method: &'static str,
    /// The ascendant; null where the ecliptic lies in the horizon, or at a pole.
    pub ascendant_deg: Option<f64>,
    /// The midheaven.
    pub midheaven_deg: f64,
    /// The cusps by that method, from I to XII; null where it has no answer.
    pub cusps_deg: Option<[f64; 12]>,
    /// The cusps by every method.
    pub methods: BTreeMap<&'static str, MethodAnswer>,
}

/// The cusps by one method, or why it has none.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[serde(untagged)]
pub enum MethodAnswer {
    /// From I to XII.
    Cusps([f64; 12]),
    /// Why there are none.
    NoAnswer {
        /// The reason.
        error: String,
    },
}

impl FigureAnswer {
    pub(crate) fn of(horizon: &Horizon, method: Method) -> FigureAnswer {
        let methods: BTreeMap<&'static str, MethodAnswer> = Method::ALL
            .into_iter()
            .map(|method| (method.name(), MethodAnswer::of(horizon, method)))
            .collect();
        FigureAnswer {
            method: method.name(),
            ascendant_deg: horizon.ascendant().ok().map(|angle| angle.in_turn().deg()),
            midheaven_deg: horizon.midheaven().in_turn().deg(),
            cusps_deg: match methods.get(method.name()) {
                Some(MethodAnswer::Cusps(cusps)) => Some(*cusps),
                _ => None,
            },
            methods,
        }
    }
}

impl MethodAnswer {
    fn of(horizon: &Horizon, method: Method) -> MethodAnswer {
        match method.cusps(horizon) {
            Ok(cusps) => MethodAnswer::Cusps(cusps.all().map(|cusp| cusp.in_turn().deg())),
            Err(why) => MethodAnswer::NoAnswer {
                error: why.to_string(),
            },
        }
    }
}
