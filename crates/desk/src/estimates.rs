use sky::Angle;
use words::Degrees;

use crate::answer::EstimateAnswer;

/// Degrees with their standard error.
pub(crate) fn degrees(estimate: EstimateAnswer) -> String {
    let sign = if estimate.at < 0.0 { "−" } else { "" };
    format!(
        "{sign}{} ± {}",
        Degrees(Angle::from_deg(estimate.at)),
        // An error is not told as nothing.
        Degrees(Angle::from_deg(estimate.within.max(1.0 / 60.0)))
    )
}

/// Years with their standard error.
pub(crate) fn years(estimate: EstimateAnswer) -> String {
    format!("{:.0} ± {:.0}", estimate.at, estimate.within.max(1.0))
}
