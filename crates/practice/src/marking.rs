use std::collections::BTreeMap;

use crate::amount::Amount;
use crate::conditions::Conditions;
use crate::correcting::PupilReading;
use crate::operation::Operation;
use crate::quantity::Quantity;
use crate::value::Value;
use crate::within::{instrument_error, within};
use crate::working::{Findings, carry_out};

/// A reading, marked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Marked {
    /// What the instrument shows; `None` where it shows nothing.
    pub should: Option<Value>,
    /// How far off, either way, a reading is right.
    pub tolerance: Amount,
    /// What follows from the reader's own earlier readings, where that is something else.
    pub follows: Option<Value>,
    /// What it comes to.
    pub mark: ReadingVerdict,
}

/// What a reading comes to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReadingVerdict {
    /// It is what this instrument shows.
    Right,
    /// It follows rightly from an earlier reading that is not.
    Follows,
    /// It is further off than it should be, by a rough hand and by no slip.
    Rough,
    /// It is none of these.
    Wrong,
}

impl ReadingVerdict {
    /// Its name in answers.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            ReadingVerdict::Right => "right",
            ReadingVerdict::Follows => "follows",
            ReadingVerdict::Rough => "rough",
            ReadingVerdict::Wrong => "wrong",
        }
    }
}

/// How far off, either way, an answer is right, wherever it is marked: as far as hand
/// and eye come of what the brass shows, half of what it is written to at the finest, and
/// as far as the brass is off itself, up to the most that a question may be off. Both what
/// this brass shows and what is calculated are then right. A question may be off by
/// [`Measure::most_off`](crate::Measure::most_off), and by what hand and eye leave on a
/// small instrument.
///
/// It is the same on a key and at a desk, and does not depend on what else is read, nor on
/// how an answer is written.
#[must_use]
pub fn tolerances(
    operation: &Operation,
    ideal: &Conditions,
    actual: &Conditions,
) -> BTreeMap<Quantity, Amount> {
    let off = instrument_error(operation, ideal, actual);
    let near = within(operation, actual).into_iter();
    near.map(|(quantity, near)| {
        let measure = quantity.measure();
        let hand = libm::hypot(near.number(), measure.answered_to().number() / 2.0);
        let off = off.get(&quantity).map_or(0.0, |off| off.number());
        let off = off.min(measure.most_off().number().max(hand));
        (quantity, measure.amount(hand + off))
    })
    .collect()
}

/// Whether an answer is right: what is written in whole degrees, or as a sign alone, is
/// right with whichever lies nearest.
fn is_right(shown: Value, reading: &PupilReading, tolerance: Amount) -> bool {
    let off = shown.to(reading.value).number().abs();
    off <= tolerance.number() + reading.written_to.number() / 2.0
}

/// Readings held against what the instrument shows, and against what follows from those
/// that came before: whoever reckons a wrong hour and reads rightly from there has
/// made one mistake.
#[must_use]
pub fn marked(
    operation: &Operation,
    ideal: &Conditions,
    actual: &Conditions,
    readings: &[PupilReading],
) -> Vec<Marked> {
    let shown = carry_out(operation, actual);
    let tolerances = tolerances(operation, ideal, actual);
    let mut marks: Vec<Marked> = readings
        .iter()
        .map(|reading| {
            let least = reading.quantity.measure().answered_to() * 0.5;
            let tolerance = tolerances.get(&reading.quantity).copied().unwrap_or(least);
            let should = shown.reading(reading.quantity).ok().map(|one| one.value);
            let right = should.is_some_and(|should| is_right(should, reading, tolerance));
            Marked {
                should,
                tolerance,
                follows: None,
                mark: if right {
                    ReadingVerdict::Right
                } else {
                    ReadingVerdict::Wrong
                },
            }
        })
        .collect();
    if marks.iter().all(|one| one.mark == ReadingVerdict::Right) {
        return marks;
    }
    // In the order in which they are read, each from the reader's own before it.
    let mut own = actual.clone();
    for step in &operation.steps {
        let finds = step.act.finds();
        let both = readings.iter().zip(&mut marks);
        for (reading, one) in both.filter(|(reading, _)| Some(reading.quantity) == finds) {
            let found = Findings::of(operation, &own).reading(reading.quantity);
            let Ok(follows) = found.map(|one| one.value) else {
                continue;
            };
            if one
                .should
                .is_none_or(|should| should.to(follows).number().abs() > one.tolerance.number())
            {
                one.follows = Some(follows);
            }
            if one.mark == ReadingVerdict::Wrong && is_right(follows, reading, one.tolerance) {
                one.mark = ReadingVerdict::Follows;
            }
            // From a sign alone nothing can be worked.
            if !reading.is_sign_alone() {
                let off = follows.to(reading.value);
                let misread = own.misread.entry(reading.quantity);
                let misread = misread.or_insert(off.with_number(0.0));
                *misread = misread.plus(off);
            }
        }
    }
    marks
}
