use instrument::Estimate;
use schemars::JsonSchema;
use serde::Serialize;

/// A value and its standard error, in the unit of its key.
#[derive(Clone, Copy, Debug, Serialize, JsonSchema)]
pub struct EstimateAnswer {
    /// The value.
    pub at: f64,
    /// Its standard error.
    pub within: f64,
}

impl EstimateAnswer {
    pub(crate) fn of<T>(estimate: Estimate<T>, number: impl Fn(T) -> f64) -> EstimateAnswer {
        EstimateAnswer {
            at: number(estimate.at),
            within: number(estimate.within),
        }
    }
}
