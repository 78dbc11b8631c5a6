use crate::amount::Amount;
use crate::conditions::Conditions;
use crate::correcting::{Bench, PupilReading};
use crate::operation::Operation;
use crate::quantity::Quantity;
use crate::slip::Slip;
use crate::value::Value;
use crate::working::carry_out;

/// What an instrument shows when a slip is made, so that the slip is known by it.
#[derive(Clone, Debug, PartialEq)]
pub struct TellTale {
    /// The slips; several where no reading could tell them apart.
    pub slips: Vec<Slip>,
    /// What is then read, in the order of what is asked.
    pub shows: Vec<Value>,
}

impl Slip {
    /// Those that pupils make most, in the order in which a working meets them (common
    /// practice in teaching).
    pub const COMMONEST: [Slip; 22] = [
        Slip::SummerTimeLeftIn,
        Slip::SummerTimePutOn,
        Slip::ZoneAndLongitudeLeftOut,
        Slip::LongitudeLeftOut,
        Slip::LongitudeWrongWay,
        Slip::MinuteADegree,
        Slip::EquationLeftOut,
        Slip::EquationWrongWay,
        Slip::EquationWithRing,
        Slip::MorningForEvening,
        Slip::NextPlateNorth,
        Slip::NextPlateSouth,
        Slip::NextMonth,
        Slip::SunNextSign,
        Slip::OppositeSun,
        Slip::OtherEndOfRule,
        Slip::WesternHorizon,
        Slip::MidnightLine,
        Slip::LinesOfOtherRow,
        Slip::NextHourLine,
        Slip::DirectCut,
        Slip::CuspsOpposite,
    ];

    /// The same, those made most often first (common practice in teaching).
    pub const LIKELIEST: [Slip; 22] = [
        Slip::LongitudeLeftOut,
        Slip::SummerTimeLeftIn,
        Slip::EquationLeftOut,
        Slip::EquationWithRing,
        Slip::WesternHorizon,
        Slip::LinesOfOtherRow,
        Slip::NextMonth,
        Slip::ZoneAndLongitudeLeftOut,
        Slip::MorningForEvening,
        Slip::OtherEndOfRule,
        Slip::OppositeSun,
        Slip::CuspsOpposite,
        Slip::DirectCut,
        Slip::LongitudeWrongWay,
        Slip::EquationWrongWay,
        Slip::MidnightLine,
        Slip::NextPlateNorth,
        Slip::NextPlateSouth,
        Slip::SunNextSign,
        Slip::NextHourLine,
        Slip::SummerTimePutOn,
        Slip::MinuteADegree,
    ];
}

/// What the commonest slips would show of some quantities, each with what it is written
/// to. Left out is what [`correct`](crate::correct) would not put down to that slip
/// before all others: what leaves the readings as they should be, or shows as some other
/// slip does better.
#[must_use]
pub fn tell_tales(
    operation: &Operation,
    actual: &Conditions,
    asked: &[(Quantity, Amount)],
) -> Vec<TellTale> {
    let readings: Vec<PupilReading> = asked
        .iter()
        .map(|(quantity, written_to)| PupilReading {
            quantity: *quantity,
            value: quantity.measure().value(0.0),
            written_to: *written_to,
        })
        .collect();
    let bench = Bench {
        operation,
        actual,
        readings: &readings,
    };
    let trial = bench.trial();
    let mut found: Vec<TellTale> = Vec::new();
    for slip in Slip::COMMONEST {
        let Some((with, conditions)) = bench.with(&[slip]) else {
            continue;
        };
        let working = carry_out(&with, &conditions);
        let shows: Option<Vec<Value>> = asked
            .iter()
            .map(|(quantity, _)| Some(working.reading(*quantity).ok()?.value))
            .collect();
        let Some(shows) = shows else {
            continue;
        };
        let could_be = asked.iter().zip(&shows);
        let could_be = could_be
            .into_iter()
            .all(|(_, value)| could_be_written(*value));
        if !could_be || !trial.is_put_down_to(slip, &written(asked, &shows)) {
            continue;
        }
        let same = found
            .iter_mut()
            .find(|one| trial.is_put_down_to(slip, &written(asked, &one.shows)));
        match same {
            Some(one) => one.slips.push(slip),
            None => found.push(TellTale {
                slips: vec![slip],
                shows,
            }),
        }
    }
    found
}

/// Values as they are written.
fn written(asked: &[(Quantity, Amount)], values: &[Value]) -> Vec<Value> {
    let both = asked.iter().zip(values);
    let written = |value: &Value, to: f64| (value.number() / to).round() * to;
    both.map(|((_, to), value)| value.measure().value(written(value, to.number())))
        .collect()
}

/// Whether anyone would write it down: no height beyond the zenith's other side, nor below
/// the feet.
fn could_be_written(value: Value) -> bool {
    match value {
        Value::Height(height) => (-90.0..=180.0).contains(&height.deg()),
        Value::Degree(_)
        | Value::TimeOfDay(_)
        | Value::Arc(_)
        | Value::Azimuth(_)
        | Value::UnequalHours(_)
        | Value::Points(_)
        | Value::Length(_) => true,
    }
}

#[cfg(test)]
mod tests {
    use sky::Angle;

    use super::*;

    #[test]
    fn both_lists_have_the_same_slips() {
        let has = |slip: &Slip| Slip::LIKELIEST.contains(slip);
        assert!(Slip::COMMONEST.iter().all(has));
    }

    /// From the feet over the zenith to the other horizon; all else may be any number.
    #[test]
    fn a_height_is_written_down_where_there_is_one() {
        for (deg, could_be) in [
            (-91.0, false),
            (-90.0, true),
            (0.0, true),
            (180.0, true),
            (181.0, false),
        ] {
            let angle = Angle::from_deg(deg);
            assert_eq!(could_be_written(Value::Height(angle)), could_be, "{deg}");
            assert!(could_be_written(Value::Degree(angle)), "{deg}");
        }
    }
}
