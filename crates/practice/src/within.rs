use std::collections::BTreeMap;

use crate::amount::Amount;
use crate::conditions::{Conditions, Figures};
use crate::operation::{Act, Operation, Reckoning};
use crate::quantity::Quantity;
use crate::value::Value;
use crate::working::{Findings, Nudged, Outcome, Reading};
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
    added_up(effects(operation, conditions))
}

/// Independent errors together; nothing where no step has an error.
fn added_up(effects: Vec<Effect>) -> BTreeMap<Quantity, Amount> {
    let mut squares: Vec<(Quantity, f64)> = Vec::new();
    for Effect(effect) in effects {
        if squares.is_empty() {
            squares = effect
                .iter()
                .map(|(quantity, _)| (*quantity, 0.0))
                .collect();
        }
        for ((_, square), (_, effect)) in squares.iter_mut().zip(effect) {
            *square += effect.number() * effect.number();
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
    let shown = Findings::of(operation, &steady(actual));
    let known = Known::of(operation, &ideal, &shown);
    let quantities = shown.found().map(|(quantity, _)| quantity);
    quantities
        .filter_map(|quantity| Some((quantity, known.off(quantity)?.abs())))
        .collect()
}

/// What is known of how far each quantity is put off, however steadily it is set and read.
struct Known<'a> {
    ideal: &'a Conditions,
    /// What is so.
    truth: Findings,
    /// What is shown to a steady hand and a perfect eye.
    shown: &'a Findings,
}

impl Known<'_> {
    fn of<'a>(operation: &Operation, ideal: &'a Conditions, shown: &'a Findings) -> Known<'a> {
        Known {
            truth: Findings::of(operation, &steady(ideal)),
            ideal,
            shown,
        }
    }

    /// What is shown less what is so; none of the sum on paper.
    fn off(&self, quantity: Quantity) -> Option<Amount> {
        if quantity == Quantity::HourForRule {
            return None;
        }
        let (truth, shown) = (self.truth.get(quantity)?, self.shown.get(quantity)?);
        let off = truth.value.to(shown.value);
        let moves = self.ideal.sun_moves.get(&quantity);
        Some(moves.map_or(off, |moves| moves.plus(off)))
    }
}

/// How far what is read of a quantity may lie from what is so.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trust {
    /// By how much it is shown too far on, however steadily it is set and read, by the
    /// instrument and by what is left out of the sum: this is known.
    pub off: Amount,
    /// What a perfect instrument shows; none where it shows nothing.
    pub still: Option<Value>,
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
    let (shown, effects) = shown_and_effects(operation, actual);
    let known = Known::of(operation, ideal, &shown);
    let hands = added_up(effects).into_iter();
    hands
        .map(|(quantity, hand)| {
            let trust = Trust {
                off: known.off(quantity).unwrap_or(hand.with_number(0.0)),
                still: known.truth.get(quantity).map(|truth| truth.value),
                hand,
            };
            (quantity, trust)
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

/// What the largest error in a step does to every quantity, in their order.
pub(crate) struct Effect(Vec<(Quantity, Amount)>);

impl Effect {
    /// What it does to one of them.
    pub(crate) fn on(&self, quantity: Quantity) -> Option<Amount> {
        let place = self
            .0
            .binary_search_by_key(&quantity, |(one, _)| *one)
            .ok()?;
        self.0.get(place).map(|(_, effect)| *effect)
    }
}

/// What the largest error in each step does.
pub(crate) fn effects(operation: &Operation, conditions: &Conditions) -> Vec<Effect> {
    shown_and_effects(operation, conditions).1
}

/// What is shown to a steady hand and a perfect eye, and what the largest error in each step
/// does to it.
fn shown_and_effects(operation: &Operation, conditions: &Conditions) -> (Findings, Vec<Effect>) {
    let halves = half_steps(operation, conditions);
    let (truth, nudged) = Nudged::each(operation, &steady(conditions), &halves);
    let effects = nudged
        .into_iter()
        .map(|Nudged { more, less }| {
            let effect = |(quantity, reading): (Quantity, Reading)| {
                let moved = |found: &Findings| {
                    let there = found.get(quantity)?;
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
            Effect(truth.found().map(effect).collect())
        })
        .collect();
    (truth, effects)
}

/// Half of what each step sets and reads to: degrees where a part is set, what is read in
/// its own unit. A sum has the last digit of two figures
/// that are put into it, and of its own.
fn half_steps(operation: &Operation, conditions: &Conditions) -> Vec<f64> {
    let outcomes = Outcome::each(operation, conditions);
    let steps = operation.steps.iter().zip(outcomes);
    steps
        .map(|(step, outcome)| {
            let reads = match (&step.act, &outcome.found) {
                (Act::Reckon(Reckoning::HourForRule), _) | (_, None | Some(Err(_))) => 0.0,
                (Act::Reckon(_), Some(Ok((quantity, _)))) => match conditions.figures {
                    Figures::Exact => 0.0,
                    Figures::Written => quantity.measure().written_to().number() * 2.0,
                },
                (_, Some(Ok((_, reading)))) => reading.reads_to.number(),
            };
            libm::hypot(reads, outcome.sets_to.deg()) / 2.0
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use instrument::{Instrument, Specification};
    use moment::{Calendar, Moment, Place, SaidMoment};

    use super::*;
    use crate::cast::casting;
    use crate::given::Given;

    /// Each step's error is by itself, whatever errors other steps have, and goes either way:
    /// the ascendant moves as far on by the one as back by the other, but for its quickening.
    #[test]
    fn an_error_in_one_step_leaves_the_others_alone_and_goes_either_way() {
        let place = Place::find("Santiago de Compostela, Spain").unwrap();
        let said = SaidMoment::new("2024-05-14 09:20", place).unwrap();
        let moment = Moment::resolve(&said, None).unwrap();
        let text = "version = 1\nname = \"invented\"\ndiameter_mm = 180\nepoch_year = 2025\n\
                    plates_deg = [42]\ndate_from = \"zodiac\"\n";
        let brass = Instrument::new(Specification::from_toml(text).unwrap());
        let given = Given::of_moment(&moment, Calendar::Gregorian);
        let actual = Conditions::actual(given, brass.clone(), &[]);
        let operation = casting(&brass, &[]);
        let steady = steady(&actual);
        let errors = half_steps(&operation, &actual);
        let (truth, all) = Nudged::each(&operation, &steady, &errors);
        let own = Findings::of(&operation, &steady);
        assert!(truth.found().eq(own.found()));
        let ascendant = |found: &Findings| found.reading(Quantity::Ascendant).unwrap().value;
        let off = |found: &Findings| ascendant(&truth).to(ascendant(found)).number();
        let with_one = errors.iter().enumerate().filter(|(_, error)| **error > 0.0);
        let mut moved = 0;
        for ((step, error), of_all) in with_one.zip(&all) {
            let mut alone = vec![0.0; errors.len()];
            alone[step] = *error;
            let (_, alone) = Nudged::each(&operation, &steady, &alone);
            assert!(alone[0].more.found().eq(of_all.more.found()), "{step}");
            assert!(alone[0].less.found().eq(of_all.less.found()), "{step}");
            let (more, less) = (off(&of_all.more), off(&of_all.less));
            assert!(
                (more + less).abs() < 0.05 * more.abs() + 1e-12,
                "{step}: {more}, {less}"
            );
            moved += usize::from(more != 0.0);
        }
        // The Sun's degree, the rule, the rete, and the reading itself.
        assert!(moved >= 3, "{moved}");
    }

    /// What a hand with an error finds is what it finds who does every step again, and not
    /// only those that look at something else: on one plate and on two, by every procedure,
    /// and where a cusp is not to be had.
    #[test]
    fn what_does_not_hang_on_an_error_is_as_it_was() {
        let brass = |arcs: &str| {
            let text = format!(
                "version = 1\nname = \"invented\"\ndiameter_mm = 180\nepoch_year = 2025\n\
                 plates_deg = [42, 48, 66]\ndate_from = \"zodiac\"\n\
                 unequal_hour_lines = \"{arcs}\"\nhouse_lines = \"regiomontanus\"\n"
            );
            Instrument::new(Specification::from_toml(&text).unwrap())
        };
        let mut moved = 0;
        for (brass, latitude) in [("arcs", 43.0), ("curves", 43.0), ("curves", 71.0)]
            .map(|(arcs, latitude)| (brass(arcs), latitude))
        {
            for hour in 0..24 {
                let place = Place::at(latitude, -8.5).unwrap();
                let place = place.with_zone_of_nearest_town();
                let said = format!("2024-05-14 {hour:02}:20");
                let said = SaidMoment::new(&said, place).unwrap();
                let moment = Moment::resolve(&said, None).unwrap();
                let given = Given::of_moment(&moment, Calendar::Gregorian);
                let mut actual = Conditions::actual(given, brass.clone(), &[]);
                actual.other_plate = sky::Latitude::from_deg(48.0).unwrap();
                let all = crate::cast::procedures(&brass);
                for operation in [
                    casting(&brass, &all),
                    crate::cast::casting_on_two_plates(&brass, &all),
                ] {
                    moved += alike(&operation, &actual);
                }
            }
        }
        assert!(moved > 1000, "{moved}");
    }

    /// How many errors were tried.
    fn alike(operation: &Operation, actual: &Conditions) -> usize {
        let steady = steady(actual);
        let errors = half_steps(operation, actual);
        let (_, shared) = Nudged::each(operation, &steady, &errors);
        let again = Nudged::each_again(operation, &steady, &errors);
        assert_eq!(shared.len(), again.len());
        for (one, other) in shared.iter().zip(&again) {
            assert_eq!(one.more, other.more);
            assert_eq!(one.less, other.less);
        }
        again.len()
    }
}
