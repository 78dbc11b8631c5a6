use std::collections::BTreeMap;

use sky::Angle;

use crate::conditions::Conditions;
use crate::operation::{Act, Operation};
use crate::quantity::Quantity;
use crate::working::{Nudge, Working, carry_out, carry_out_nudged};
use instrument::Eye;

/// How near the truth each quantity of a working comes, for all that hand and eye
/// can do: either way, in nineteen cases of twenty.
///
/// The operation is carried out once more for every step, with the largest error
/// that the step can have put into it; the effects are added as independent errors
/// are. Where an error either way leaves no answer the other way's counts twice.
/// It holds no error of the instrument itself; those are the shares of an
/// [`Account`](crate::Account).
#[must_use]
pub fn within(operation: &Operation, conditions: &Conditions) -> BTreeMap<Quantity, Angle> {
    let rounded = carry_out(operation, conditions);
    let mut steady = conditions.clone();
    steady.setting = Eye::PERFECT;
    steady.reading = Eye::PERFECT;
    let truth = carry_out(operation, &steady);
    let mut squares: BTreeMap<Quantity, f64> = BTreeMap::new();
    for (step, half) in half_steps(&rounded) {
        if half <= Angle::ZERO {
            continue;
        }
        let nudged = |by| carry_out_nudged(operation, &steady, Some(Nudge { step, by }));
        let (more, less) = (nudged(half), nudged(-half));
        for (quantity, reading) in truth.found() {
            let moved = |working: &Working| {
                let there = working.reading(quantity).ok()?;
                Some(reading.value.to(there.value).abs().deg())
            };
            let effect = match (moved(&more), moved(&less)) {
                (Some(more), Some(less)) => more.max(less),
                (Some(one), None) | (None, Some(one)) => 2.0 * one,
                (None, None) => 0.0,
            };
            *squares.entry(quantity).or_default() += effect * effect;
        }
    }
    // An even spread over ±e has the deviation e/√3; two of them hold 95 %.
    let within = |square: f64| Angle::from_deg((square / 3.0).sqrt() * 2.0);
    squares
        .into_iter()
        .map(|(quantity, square)| (quantity, within(square)))
        .collect()
}

/// Half of what each step sets and reads to.
fn half_steps(working: &Working) -> Vec<(usize, Angle)> {
    let steps = working.steps.iter().enumerate();
    steps
        .map(|(number, done)| {
            let reads = match &done.outcome {
                Some(Ok((_, reading))) if !matches!(done.act, Act::Reckon(_)) => reading.reads_to,
                _ => Angle::ZERO,
            };
            let both = reads.deg().hypot(done.sets_to.deg());
            (number, Angle::from_deg(both / 2.0))
        })
        .collect()
}
