use std::collections::BTreeMap;

use sky::Angle;

use crate::conditions::{Conditions, Figures};
use crate::operation::{Act, Operation, Reckoning};
use crate::quantity::Quantity;
use crate::working::{Findings, Nudge, Reading, Working, carry_out};
use instrument::Eye;

/// How near each quantity of a working comes to what the brass itself shows, for all
/// that hand and eye can do: either way, in nineteen cases of twenty.
///
/// The operation is carried out once more for every step, with the largest error
/// that the step can have put into it; the effects are added as independent errors
/// are. Where an error either way leaves no answer the other way's counts twice.
/// It holds no error of the instrument itself; those are the shares of an
/// [`Account`](crate::Account).
#[must_use]
pub fn within(operation: &Operation, conditions: &Conditions) -> BTreeMap<Quantity, Angle> {
    let mut squares: BTreeMap<Quantity, f64> = BTreeMap::new();
    for effect in effects(operation, conditions) {
        for (quantity, effect) in effect {
            *squares.entry(quantity).or_default() += effect.deg() * effect.deg();
        }
    }
    // An even spread over ±e has the deviation e/√3; two of them hold 95 %.
    let within = |square: f64| Angle::from_deg((square / 3.0).sqrt() * 2.0);
    squares
        .into_iter()
        .map(|(quantity, square)| (quantity, within(square)))
        .collect()
}

/// By how much the instrument itself puts each quantity off, however steadily it is set
/// and read: its plate, its epoch, its scales, its arcs and faults, and that it holds the
/// Sun still. The sum on paper is no part of it.
#[must_use]
pub fn instrument_error(
    operation: &Operation,
    ideal: &Conditions,
    actual: &Conditions,
) -> BTreeMap<Quantity, Angle> {
    let off = instrument_off(operation, ideal, actual).into_iter();
    off.map(|(quantity, off)| (quantity, off.abs())).collect()
}

/// The same with its sign: what it shows less what is so.
fn instrument_off(
    operation: &Operation,
    ideal: &Conditions,
    actual: &Conditions,
) -> BTreeMap<Quantity, Angle> {
    // What is left out of the sum is no fault of the brass.
    let ideal = Conditions {
        left_out: actual.left_out.clone(),
        ..steady(ideal)
    };
    let truth = Findings::of(operation, &ideal);
    let shown = Findings::of(operation, &steady(actual));
    shown
        .found()
        .filter(|(quantity, _)| *quantity != Quantity::HourForRule)
        .filter_map(|(quantity, shown)| {
            let truth = truth.reading(quantity).ok()?;
            let moves = ideal.sun_moves.get(&quantity).copied().unwrap_or_default();
            Some((quantity, moves + truth.value.to(shown.value)))
        })
        .collect()
}

/// How far what is read of a quantity may lie from what is so.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Trust {
    /// By how much the instrument shows it too far on, however steadily it is set and
    /// read: this is known.
    pub off: Angle,
    /// What hand and eye may add to that, either way, in nineteen cases of twenty.
    pub hand: Angle,
}

impl Trust {
    /// How far the reading lies from what is so at the most, either way.
    #[must_use]
    pub fn at_most(self) -> Angle {
        self.off.abs() + self.hand
    }

    /// The least and the most that may be read where this is so.
    #[must_use]
    pub fn readings(self, truth: Angle) -> [Angle; 2] {
        let shown = truth + self.off;
        [shown - self.hand, shown + self.hand]
    }
}

/// How far each quantity of a working may be trusted.
#[must_use]
pub fn trust(
    operation: &Operation,
    ideal: &Conditions,
    actual: &Conditions,
) -> BTreeMap<Quantity, Trust> {
    let off = instrument_off(operation, ideal, actual);
    let hands = within(operation, actual).into_iter();
    hands
        .map(|(quantity, hand)| {
            let off = off.get(&quantity).copied().unwrap_or_default();
            (quantity, Trust { off, hand })
        })
        .collect()
}

/// How near the truth each quantity of a working comes: for all that hand and eye can
/// do, in nineteen cases of twenty, and for all that the instrument is off.
#[must_use]
pub fn near_truth(
    operation: &Operation,
    ideal: &Conditions,
    actual: &Conditions,
) -> BTreeMap<Quantity, Angle> {
    let trust = trust(operation, ideal, actual).into_iter();
    trust
        .map(|(quantity, trust)| (quantity, trust.at_most()))
        .collect()
}

/// The same person with a steady hand and a perfect eye.
pub(crate) fn steady(conditions: &Conditions) -> Conditions {
    Conditions {
        setting: Eye::PERFECT,
        reading: Eye::PERFECT,
        figures: Figures::Exact,
        ..conditions.clone()
    }
}

/// What the largest error in each step does to every quantity.
pub(crate) fn effects(
    operation: &Operation,
    conditions: &Conditions,
) -> Vec<BTreeMap<Quantity, Angle>> {
    let rounded = carry_out(operation, conditions);
    let steady = steady(conditions);
    let truth = Findings::of(operation, &steady);
    half_steps(&rounded, conditions.figures)
        .into_iter()
        .filter(|(_, half)| *half > Angle::ZERO)
        .map(|(step, half)| {
            let nudged = |by| Findings::nudged(operation, &steady, Nudge { step, by });
            let (more, less) = (nudged(half), nudged(-half));
            let effect = |(quantity, reading): (Quantity, Reading)| {
                let moved = |found: &Findings| {
                    let there = found.reading(quantity).ok()?;
                    Some(reading.value.to(there.value))
                };
                let effect = match (moved(&more), moved(&less)) {
                    (Some(more), Some(less)) if more.abs() < less.abs() => -less,
                    (Some(more), Some(_)) => more,
                    (Some(more), None) => more * 2.0,
                    (None, Some(less)) => less * -2.0,
                    (None, None) => Angle::ZERO,
                };
                (quantity, effect)
            };
            truth.found().map(effect).collect()
        })
        .collect()
}

/// Half of what each step sets and reads to. A sum has the last digit of two figures
/// that are put into it, and of its own.
fn half_steps(working: &Working, figures: Figures) -> Vec<(usize, Angle)> {
    let steps = working.steps.iter().enumerate();
    steps
        .map(|(number, done)| {
            let reads = match (&done.act, &done.outcome) {
                (Act::Reckon(Reckoning::HourForRule), _) | (_, None | Some(Err(_))) => Angle::ZERO,
                (Act::Reckon(_), Some(Ok((quantity, _)))) => match figures {
                    Figures::Exact => Angle::ZERO,
                    Figures::Written => quantity.measure().written_to() * 2.0,
                },
                (_, Some(Ok((_, reading)))) => reading.reads_to,
            };
            let both = reads.deg().hypot(done.sets_to.deg());
            (number, Angle::from_deg(both / 2.0))
        })
        .collect()
}
