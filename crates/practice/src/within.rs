use std::collections::BTreeMap;

use crate::amount::Amount;
use crate::conditions::{Conditions, Figures};
use crate::operation::{Act, Operation, Reckoning};
use crate::quantity::Quantity;
use crate::value::Value;
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
pub fn within(operation: &Operation, conditions: &Conditions) -> BTreeMap<Quantity, Amount> {
    let mut squares: BTreeMap<Quantity, f64> = BTreeMap::new();
    for effect in effects(operation, conditions) {
        for (quantity, effect) in effect {
            *squares.entry(quantity).or_default() += effect.number() * effect.number();
        }
    }
    // An even spread over ±e has the deviation e/√3; two of them hold 95 %.
    let within = |square: f64| (square / 3.0).sqrt() * 2.0;
    squares
        .into_iter()
        .map(|(quantity, square)| (quantity, quantity.measure().amount(within(square))))
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
) -> BTreeMap<Quantity, Amount> {
    // What is left out of the sum is no fault of the brass.
    let ideal = Conditions {
        left_out: actual.left_out.clone(),
        ..ideal.clone()
    };
    let off = known_off(operation, &ideal, actual).into_iter();
    off.map(|(quantity, off)| (quantity, off.abs())).collect()
}

/// By how much each quantity is put off, however steadily it is set and read: what is
/// shown less what is so.
fn known_off(
    operation: &Operation,
    ideal: &Conditions,
    actual: &Conditions,
) -> BTreeMap<Quantity, Amount> {
    let ideal = steady(ideal);
    let truth = Findings::of(operation, &ideal);
    let shown = Findings::of(operation, &steady(actual));
    shown
        .found()
        .filter(|(quantity, _)| *quantity != Quantity::HourForRule)
        .filter_map(|(quantity, shown)| {
            let truth = truth.reading(quantity).ok()?;
            let off = truth.value.to(shown.value);
            let moves = ideal.sun_moves.get(&quantity).copied();
            Some((quantity, moves.map_or(off, |moves| moves.plus(off))))
        })
        .collect()
}

/// How far what is read of a quantity may lie from what is so.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trust {
    /// By how much it is shown too far on, however steadily it is set and read, by the
    /// instrument and by what is left out of the sum: this is known.
    pub off: Amount,
    /// What hand and eye may add to that, either way, in nineteen cases of twenty.
    pub hand: Amount,
}

impl Trust {
    /// How far the reading lies from what is so at the most, either way.
    #[must_use]
    pub fn at_most(self) -> Amount {
        self.off.abs().plus(self.hand)
    }

    /// The least and the most that may be read where this is so.
    #[must_use]
    pub fn readings(self, truth: Value) -> [Value; 2] {
        let shown = truth.moved(self.off);
        [shown.moved(self.hand * -1.0), shown.moved(self.hand)]
    }
}

/// How far each quantity of a working may be trusted, worked as it is: what is left out of
/// the sum puts it off as a plate of another latitude does.
#[must_use]
pub fn trust(
    operation: &Operation,
    ideal: &Conditions,
    actual: &Conditions,
) -> BTreeMap<Quantity, Trust> {
    let off = known_off(operation, ideal, actual);
    let hands = within(operation, actual).into_iter();
    hands
        .map(|(quantity, hand)| {
            let off = off.get(&quantity).copied();
            let off = off.unwrap_or(hand.with_number(0.0));
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
) -> BTreeMap<Quantity, Amount> {
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
) -> Vec<BTreeMap<Quantity, Amount>> {
    let rounded = carry_out(operation, conditions);
    let steady = steady(conditions);
    let truth = Findings::of(operation, &steady);
    half_steps(&rounded, conditions.figures)
        .into_iter()
        .filter(|(_, half)| *half > 0.0)
        .map(|(step, half)| {
            let nudged = |by| Findings::nudged(operation, &steady, Nudge { step, by });
            let (more, less) = (nudged(half), nudged(-half));
            let effect = |(quantity, reading): (Quantity, Reading)| {
                let moved = |found: &Findings| {
                    let there = found.reading(quantity).ok()?;
                    Some(reading.value.to(there.value))
                };
                let effect = match (moved(&more), moved(&less)) {
                    (Some(more), Some(less)) if more.number().abs() < less.number().abs() => {
                        less * -1.0
                    }
                    (Some(more), Some(_)) => more,
                    (Some(more), None) => more * 2.0,
                    (None, Some(less)) => less * -2.0,
                    (None, None) => quantity.measure().amount(0.0),
                };
                (quantity, effect)
            };
            truth.found().map(effect).collect()
        })
        .collect()
}

/// Half of what each step sets and reads to: degrees where a part is set, what is read in
/// its own unit. A sum has the last digit of two figures
/// that are put into it, and of its own.
fn half_steps(working: &Working, figures: Figures) -> Vec<(usize, f64)> {
    let steps = working.steps.iter().enumerate();
    steps
        .map(|(number, done)| {
            let reads = match (&done.act, &done.outcome) {
                (Act::Reckon(Reckoning::HourForRule), _) | (_, None | Some(Err(_))) => 0.0,
                (Act::Reckon(_), Some(Ok((quantity, _)))) => match figures {
                    Figures::Exact => 0.0,
                    Figures::Written => quantity.measure().written_to().number() * 2.0,
                },
                (_, Some(Ok((_, reading)))) => reading.reads_to.number(),
            };
            (number, libm::hypot(reads, done.sets_to.deg()) / 2.0)
        })
        .collect()
}
