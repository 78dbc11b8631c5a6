use std::collections::BTreeMap;

use practice::{Finding, Quantity, Value};
use sky::Angle;

use crate::facts::Facts;

/// The exact answers to an operation; what has no answer is not among them.
#[derive(Default)]
pub(crate) struct Answers(pub(crate) BTreeMap<Quantity, Value>);

impl Answers {
    pub(crate) fn of<const N: usize>(found: [(Finding, Option<Angle>); N]) -> Answers {
        let mut answers = Answers::default();
        for (finding, value) in found {
            answers.put(Quantity::Found(finding), value);
        }
        answers
    }

    /// An angle of the quantity's kind; of a quantity that is none there is no answer.
    pub(crate) fn put(&mut self, quantity: Quantity, angle: Option<Angle>) {
        let value = angle.and_then(|angle| quantity.measure().of_angle(angle));
        self.put_value(quantity, value);
    }

    pub(crate) fn put_value(&mut self, quantity: Quantity, value: Option<Value>) {
        if let Some(value) = value.filter(|value| value.number().is_finite()) {
            self.0.insert(quantity, value);
        }
    }

    /// With ascendant and midheaven at a sidereal time.
    pub(crate) fn with_angles(mut self, facts: &Facts<'_>, sidereal_time: Angle) -> Answers {
        let horizon = facts.horizon(sidereal_time);
        self.put(Quantity::Ascendant, horizon.ascendant().ok());
        self.put(Quantity::Midheaven, Some(horizon.midheaven()));
        self
    }
}
