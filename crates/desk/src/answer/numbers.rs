//! How answers carry values: as numbers, mostly of degrees.

use practice::{Amount, Measure, Value};

/// Degrees that an unequal hour counts for in answers, whatever its length.
const UNEQUAL_HOUR_DEG: f64 = 15.0;

/// Degrees, 15 for each unequal hour; points and lengths as they are.
pub(crate) fn value_deg(value: Value) -> f64 {
    match value {
        Value::UnequalHours(hours) => hours * UNEQUAL_HOUR_DEG,
        Value::Degree(_)
        | Value::TimeOfDay(_)
        | Value::Arc(_)
        | Value::Height(_)
        | Value::Azimuth(_)
        | Value::Points(_)
        | Value::Length(_) => value.number(),
    }
}

/// The same of an amount.
pub(crate) fn amount_deg(amount: Amount) -> f64 {
    match amount {
        Amount::UnequalHours(hours) => hours * UNEQUAL_HOUR_DEG,
        Amount::Angle(_) | Amount::Time(_) | Amount::Points(_) | Amount::Length(_) => {
            amount.number()
        }
    }
}

/// The amount that an answer carries.
pub(crate) fn amount_of_deg(measure: Measure, deg: f64) -> Amount {
    match measure {
        Measure::UnequalHours => measure.amount(deg / UNEQUAL_HOUR_DEG),
        Measure::Degree
        | Measure::TimeOfDay
        | Measure::Arc
        | Measure::Height
        | Measure::Azimuth
        | Measure::Points
        | Measure::Length => measure.amount(deg),
    }
}

/// What goes round is in [0, 360), times of day in (−180, 180] from noon; the rest keeps
/// its sign.
pub(crate) fn in_range(value: Value) -> f64 {
    match value {
        Value::Degree(angle) | Value::Azimuth(angle) => angle.in_turn().deg(),
        Value::TimeOfDay(hour) => hour.signed().deg(),
        Value::Arc(_)
        | Value::Height(_)
        | Value::UnequalHours(_)
        | Value::Points(_)
        | Value::Length(_) => value_deg(value),
    }
}
