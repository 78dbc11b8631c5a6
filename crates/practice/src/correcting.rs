use crate::amount::Amount;
use crate::conditions::Conditions;
use crate::covariance::Covariance;
use crate::hand::{Errors, Fit};
use crate::operation::Operation;
use crate::quantity::Quantity;
use crate::slip::Slip;
use crate::value::Value;
use crate::within::{effects, steady};
use crate::working::Findings;

/// A pupil's reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PupilReading {
    /// The quantity that was read.
    pub quantity: Quantity,
    /// As written.
    pub value: Value,
    /// How finely it is written: to a degree where no minutes are, a sign where it is told
    /// alone; the value is then the middle of the sign.
    pub written_to: Amount,
}

impl PupilReading {
    /// The variance that rounding adds: that of an even spread over what it is written
    /// to, where not all of that is allowed for already.
    fn variance(&self) -> f64 {
        let step = if self.is_sign_alone() {
            0.0
        } else {
            self.written_to.number()
        };
        step.max(LEAST_WRITTEN).powi(2) / 12.0
    }

    /// Whether a sign of the zodiac is told, and no degree in it.
    pub(crate) fn is_sign_alone(&self) -> bool {
        is_sign(self.written_to)
    }
}

/// Whether something is written no finer than a sign of the zodiac.
fn is_sign(written_to: Amount) -> bool {
    const SIGN_DEG: f64 = 30.0;
    match written_to {
        Amount::Angle(to) => to.deg() >= SIGN_DEG,
        Amount::Time(_) | Amount::UnequalHours(_) | Amount::Points(_) | Amount::Length(_) => false,
    }
}

/// How far a value lies from what is shown. What is told no finer than a sign may stand
/// for anything in it, and counts from its nearer end.
#[must_use]
pub fn off(value: Value, written_to: Amount, shown: Value) -> Amount {
    let off = shown.to(value);
    if !is_sign(written_to) {
        return off;
    }
    let beyond = (off.number().abs() - written_to.number() / 2.0).max(0.0);
    off.with_number(beyond.copysign(off.number()))
}

/// What explains a pupil's readings.
#[derive(Clone, Debug)]
pub struct Explanation {
    /// The slips; none where the readings are right.
    pub slips: Vec<Slip>,
    /// Its place, from 1: slips that give the same readings share one.
    pub rank: usize,
    /// What is left between readings and what the instrument then shows, against
    /// what hand and eye can do: about 1 where it fits.
    pub misfit: f64,
    /// How likely it is among those tried, whoever's hand it was: 0 to 1.
    pub weight: f64,
    /// What the instrument shows so, in the order of the readings; `None` where
    /// nothing is then read.
    pub shows: Vec<Option<Value>>,
}

/// Readings held against what an instrument should show.
#[derive(Clone, Debug)]
pub struct Corrected {
    /// The best explanations, the likeliest first.
    pub explanations: Vec<Explanation>,
    /// Whether the best of them fits: where it does not, nothing here explains the
    /// readings.
    pub fits: bool,
    /// By how much the plate moves each of them, for it is not of the place's own latitude.
    pub by_plate: Vec<Option<Amount>>,
}

impl Corrected {
    /// Whether nothing was done wrong, as far as the readings tell.
    #[must_use]
    pub fn is_right(&self) -> bool {
        let first = self.explanations.first();
        self.fits && first.is_some_and(|first| first.slips.is_empty())
    }
}

/// What a slip costs an explanation, in units of the square of a deviation: one is put
/// forward when it makes the readings e^4.5 times, some 90 times, as likely.
const COST_OF_A_SLIP: f64 = 9.0;

/// How many explanations are given.
const MOST_GIVEN: usize = 8;

/// Finds the slips, one or two, that would explain a pupil's readings.
///
/// Each slip is worked into the operation, which is carried out under the actual
/// conditions; what remains is measured against the errors that hand and eye can
/// make in each step, which are shared by the readings that depend on it.
#[must_use]
pub fn correct(operation: &Operation, actual: &Conditions, readings: &[PupilReading]) -> Corrected {
    let bench = Bench {
        operation,
        actual,
        readings,
    };
    let Trial { right, singles, .. } = bench.trial();
    let mut attempts = Vec::new();
    attempts.extend(right.clone());
    attempts.extend(singles.iter().cloned());
    if !attempts
        .iter()
        .any(|one| is_good(one.fit.square, readings.len()))
    {
        attempts.extend(bench.pairs(right.as_ref(), &singles));
    }
    attempts.sort_by(|a, b| a.score().total_cmp(&b.score()));
    let limit = readings.len() as f64;
    let best = attempts.first().map(|best| best.fit.square);
    // A thousandth of right readings would lie further off.
    let fits = best.is_some_and(|square| square <= limit + 3.3 * (2.0 * limit).sqrt() + 6.0);
    Corrected {
        explanations: ranked(attempts, readings.len()),
        fits,
        by_plate: bench.by_plate(),
    }
}

/// Whether what is left over is no more than is to be expected: no second slip is then
/// looked for.
fn is_good(square: f64, readings: usize) -> bool {
    let limit = readings as f64;
    square <= limit + 2.0 * (2.0 * limit).sqrt()
}

/// What is being tried.
pub(crate) struct Bench<'a> {
    pub(crate) operation: &'a Operation,
    pub(crate) actual: &'a Conditions,
    pub(crate) readings: &'a [PupilReading],
}

/// Everything that is tried singly: no slip at all, and each of them.
pub(crate) struct Trial<'a> {
    bench: &'a Bench<'a>,
    right: Option<Attempt>,
    singles: Vec<Attempt>,
}

impl Trial<'_> {
    fn of(&self, slip: Slip) -> Option<&Attempt> {
        self.singles.iter().find(|one| one.slips == [slip])
    }

    /// Whether readings like these would be put down to a slip before all others.
    pub(crate) fn is_put_down_to(&self, slip: Slip, values: &[Value]) -> bool {
        let readings: Vec<PupilReading> = self
            .bench
            .readings
            .iter()
            .zip(values)
            .map(|(reading, value)| PupilReading {
                value: *value,
                ..*reading
            })
            .collect();
        let bench = Bench {
            readings: &readings,
            ..*self.bench
        };
        let fitted = self.right.iter().chain(&self.singles).map(|attempt| {
            let fit = bench.fit(&attempt.shows, &attempt.errors);
            (attempt, fit, fit.deviance + attempt.cost())
        });
        let best = fitted.min_by(|(.., a), (.., b)| a.total_cmp(b));
        let (Some((best, fit, _)), Some(own)) = (best, self.of(slip)) else {
            return false;
        };
        is_good(fit.square, values.len()) && own.ranks_with(best)
    }
}

#[derive(Clone)]
struct Attempt {
    slips: Vec<Slip>,
    shows: Vec<Option<Value>>,
    errors: Errors,
    fit: Fit,
}

impl Attempt {
    fn cost(&self) -> f64 {
        COST_OF_A_SLIP * self.slips.len() as f64
    }

    fn score(&self) -> f64 {
        self.fit.deviance + self.cost()
    }

    /// Whether it has the place of one that leads: as many slips, and the same readings.
    fn ranks_with(&self, leader: &Attempt) -> bool {
        self.slips.len() == leader.slips.len() && self.shows_as(leader)
    }

    /// Whether no reading of a steady hand could tell the two apart.
    fn shows_as(&self, other: &Attempt) -> bool {
        let both = self.shows.iter().zip(&other.shows);
        let apart: Option<Vec<f64>> = both
            .map(|pair| match pair {
                (Some(one), Some(other)) => Some(one.to(*other).number()),
                (None, None) => Some(0.0),
                _ => None,
            })
            .collect();
        apart.is_some_and(|apart| self.errors.apart(&apart) < SAME)
    }
}

/// Two explanations whose readings lie no further apart than this, in the square of a
/// deviation, are one to any hand.
const SAME: f64 = 0.3;

/// What a missing reading counts for: as much as one six deviations off.
const MISSING: f64 = 36.0;

impl Bench<'_> {
    /// Tries no slip at all, and each of them; those that leave everything as it should
    /// be say nothing.
    pub(crate) fn trial(&self) -> Trial<'_> {
        let right = self.attempt(&[], true);
        let singles = Slip::ALL
            .into_iter()
            .filter_map(|slip| self.attempt(&[slip], true))
            .filter(|attempt| right.as_ref().is_none_or(|right| !attempt.shows_as(right)))
            .collect();
        Trial {
            bench: self,
            right,
            singles,
        }
    }

    fn attempt(&self, slips: &[Slip], own_errors: bool) -> Option<Attempt> {
        let (operation, conditions) = self.with(slips)?;
        let shows = self.shows(&operation, &conditions);
        let mut attempt = Attempt {
            slips: slips.to_vec(),
            shows,
            errors: Errors::default(),
            fit: Fit::NONE,
        };
        if own_errors {
            attempt.errors = self.errors(&operation, &conditions);
            attempt.fit = self.fit(&attempt.shows, &attempt.errors);
        }
        Some(attempt)
    }

    /// Operation and conditions with slips worked in; `None` where there is no
    /// occasion for one of them.
    pub(crate) fn with(&self, slips: &[Slip]) -> Option<(Operation, Conditions)> {
        let (mut operation, mut conditions) = (self.operation.clone(), self.actual.clone());
        slips
            .iter()
            .all(|slip| slip.apply(&mut operation, &mut conditions))
            .then_some((operation, conditions))
    }

    fn shows(&self, operation: &Operation, conditions: &Conditions) -> Vec<Option<Value>> {
        let found = Findings::of(operation, &steady(conditions));
        let quantities = self.readings.iter().map(|reading| reading.quantity);
        quantities
            .map(|quantity| found.reading(quantity).ok().map(|reading| reading.value))
            .collect()
    }

    fn errors(&self, operation: &Operation, conditions: &Conditions) -> Errors {
        let mut hand = Covariance::zero(self.readings.len());
        for effect in effects(operation, conditions) {
            let row: Vec<f64> = self
                .readings
                .iter()
                .map(|reading| effect.on(reading.quantity).map_or(0.0, Amount::number))
                .collect();
            // An even spread over ±e has the variance e²/3.
            hand.add(&row, 1.0 / 3.0);
        }
        let written: Vec<f64> = self.readings.iter().map(PupilReading::variance).collect();
        Errors::of(&hand, &written)
    }

    fn fit(&self, shows: &[Option<Value>], errors: &Errors) -> Fit {
        let missing = shows.iter().filter(|shown| shown.is_none()).count();
        let off: Vec<f64> = self
            .readings
            .iter()
            .zip(shows)
            .map(|(reading, shown)| {
                shown.map_or(0.0, |shown| {
                    off(reading.value, reading.written_to, shown).number()
                })
            })
            .collect();
        let fit = errors.fit(&off);
        Fit {
            deviance: fit.deviance + MISSING * missing as f64,
            square: fit.square + MISSING * missing as f64,
            ..fit
        }
    }

    fn pairs(&self, right: Option<&Attempt>, singles: &[Attempt]) -> Vec<Attempt> {
        let mut pairs = Vec::new();
        for (index, first) in singles.iter().enumerate() {
            for second in singles.iter().skip(index + 1) {
                let slips = [first.slips.as_slice(), second.slips.as_slice()].concat();
                let Some(mut pair) = self.attempt(&slips, false) else {
                    continue;
                };
                pair.errors = first.errors.clone();
                // Two slips that cancel, or of which one alone would do, say nothing.
                let idle = pair.shows_as(first) || pair.shows_as(second);
                if idle || right.is_some_and(|right| pair.shows_as(right)) {
                    continue;
                }
                let fits = [first, second].map(|one| self.fit(&pair.shows, &one.errors));
                let [by_first, by_second] = fits;
                let better = by_first.deviance <= by_second.deviance;
                pair.fit = if better { by_first } else { by_second };
                pairs.push(pair);
            }
        }
        pairs
    }

    fn by_plate(&self) -> Vec<Option<Amount>> {
        let own = Conditions {
            plate: self.actual.given.latitude,
            ..self.actual.clone()
        };
        let own = self.shows(self.operation, &own);
        let here = self.shows(self.operation, self.actual);
        let pairs = own.into_iter().zip(here);
        pairs.map(|(own, here)| Some(own?.to(here?))).collect()
    }
}

/// However fine it is written, no reading counts as finer than a minute of arc, or a
/// sixtieth of an hour, a point or a length.
const LEAST_WRITTEN: f64 = 1.0 / 60.0;

fn ranked(attempts: Vec<Attempt>, readings: usize) -> Vec<Explanation> {
    let best = attempts.first().map_or(0.0, Attempt::score);
    let likelihood = |attempt: &Attempt| libm::exp(-(attempt.score() - best) / 2.0);
    let all: f64 = attempts.iter().map(likelihood).sum();
    let mut leaders: Vec<Attempt> = Vec::new();
    let mut explanations = Vec::new();
    for attempt in attempts {
        let same = leaders.iter().position(|leader| attempt.ranks_with(leader));
        let rank = match same {
            Some(index) => index + 1,
            None => {
                leaders.push(attempt.clone());
                leaders.len()
            }
        };
        if rank > MOST_GIVEN {
            continue;
        }
        explanations.push(Explanation {
            weight: likelihood(&attempt) / all,
            misfit: attempt.fit.roughness * (attempt.fit.square / readings.max(1) as f64).sqrt(),
            slips: attempt.slips,
            shows: attempt.shows,
            rank,
        });
        if explanations.len() >= 3 * MOST_GIVEN {
            break;
        }
    }
    explanations.sort_by_key(|explanation| explanation.rank);
    explanations
}

#[cfg(test)]
mod tests {
    use instrument::{Instrument, Specification};
    use moment::{Calendar, Moment, Place, SaidMoment};

    use super::*;
    use crate::cast::casting;
    use crate::given::Given;

    /// A cast on a class's instrument, the longitude left out and the next month's Sun taken.
    fn with_trial(see: impl FnOnce(&Bench<'_>, &Trial<'_>)) {
        let place = Place::find("Santiago de Compostela, Spain").unwrap();
        let said = SaidMoment::new("2024-05-14 09:20", place).unwrap();
        let moment = Moment::resolve(&said, None).unwrap();
        let brass = Instrument::new(
            Specification::from_toml(
                "version = 1\nname = \"invented\"\ndiameter_mm = 180\nepoch_year = 2025\n\
                 plates_deg = [42, 46]\ndate_from = \"zodiac\"\n",
            )
            .unwrap(),
        );
        let given = Given::of_moment(&moment, Calendar::Gregorian);
        let actual = Conditions::actual(given, brass.clone(), &[]);
        let operation = casting(&brass, &[]);
        let read = |quantity| PupilReading {
            quantity,
            value: Value::Degree(sky::Angle::from_deg(77.0)),
            written_to: Amount::Angle(sky::Angle::from_deg(1.0 / 60.0)),
        };
        let readings = [Quantity::Ascendant, Quantity::Midheaven].map(read);
        let bench = Bench {
            operation: &operation,
            actual: &actual,
            readings: &readings,
        };
        see(&bench, &bench.trial());
    }

    /// A reading that a slip leaves nothing to read for counts as one six deviations off.
    #[test]
    fn what_is_then_not_read_counts_against_a_slip() {
        with_trial(|bench, trial| {
            let right = trial.right.as_ref().unwrap();
            let exactly: Vec<Option<Value>> =
                bench.readings.iter().map(|one| Some(one.value)).collect();
            let fit = |shows: &[Option<Value>]| bench.fit(shows, &right.errors);
            let all = fit(&exactly);
            for missing in 1..=2 {
                let mut shows = exactly.clone();
                shows[..missing].fill(None);
                let fit = fit(&shows);
                let counts = 36.0 * missing as f64;
                assert!((fit.square - all.square - counts).abs() < 1e-9);
                assert!((fit.deviance - all.deviance - counts).abs() < 1e-9);
            }
        });
    }

    /// Each slip of two brings the errors that are made with it; the pair has those of the one
    /// by which it is the likelier.
    #[test]
    fn a_pair_is_weighed_by_the_better_of_its_slips() {
        with_trial(|bench, trial| {
            let pairs = bench.pairs(trial.right.as_ref(), &trial.singles);
            let mut differ = 0;
            for pair in &pairs {
                let by = |slip: Slip| bench.fit(&pair.shows, &trial.of(slip).unwrap().errors);
                let [first, second] = [pair.slips[0], pair.slips[1]].map(|slip| by(slip).deviance);
                let better = first.min(second);
                assert!(
                    pair.fit.deviance.total_cmp(&better).is_eq(),
                    "{:?}",
                    pair.slips
                );
                differ += usize::from(first.total_cmp(&second).is_ne());
            }
            assert!(differ > 20, "{differ} of {}", pairs.len());
        });
    }
}
