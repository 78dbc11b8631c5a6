use sky::Angle;

use crate::conditions::{Conditions, SunTaken};
use crate::operation::{Act, Operation, Step};
use crate::quantity::Quantity;
use crate::value::Value;

mod acts;
mod done;
mod findings;
mod finds;
mod hand;
mod lines;
mod on_back;
mod passed;
mod reading;
mod reckoning;
mod turning;

pub use done::Done;
pub(crate) use findings::Findings;
use hand::Hand;
use passed::Passed;
use reading::of_angle;
pub use reading::{NoNumber, NoReading, Reading};

/// An operation carried out.
#[derive(Clone, Debug)]
pub struct Working {
    /// What the operation is for.
    pub title: &'static str,
    /// Each step with how the parts stood before and after it.
    pub steps: Vec<Done>,
    findings: Findings,
}

impl Findings {
    /// As [`carry_out`], for what is found alone.
    pub(crate) fn of(operation: &Operation, conditions: &Conditions) -> Findings {
        let instrument = conditions.instrument.with_plate(conditions.plate);
        let mut hand = Hand::new(operation, conditions, &instrument);
        hand.goes_on(&operation.steps);
        hand.findings
    }
}

impl Working {
    /// What was found of a quantity.
    ///
    /// # Errors
    /// When no step reads it, or the step had no reading; then with its reason.
    pub fn reading(&self, quantity: Quantity) -> Result<Reading, NoReading> {
        self.findings.reading(quantity)
    }

    pub(crate) fn findings(&self) -> &Findings {
        &self.findings
    }
}

impl Working {
    /// Everything that was found.
    pub fn found(&self) -> impl Iterator<Item = (Quantity, Reading)> {
        self.findings.found()
    }
}

/// Carries an operation out. Every operation ends: a step that cannot be done
/// leaves the parts as they are and says why, and so do those that need it.
#[must_use]
pub fn carry_out(operation: &Operation, conditions: &Conditions) -> Working {
    let instrument = conditions.instrument.with_plate(conditions.plate);
    let mut hand = Hand::new(operation, conditions, &instrument);
    let steps = operation.steps.iter();
    let steps = steps.map(|step| hand.does(step)).collect();
    Working {
        title: operation.title,
        steps,
        findings: hand.findings,
    }
}

/// What a step came to, without how the parts stood.
pub(crate) struct Outcome {
    /// What was found, or why nothing was; `None` where nothing is read.
    pub(crate) found: Option<Result<(Quantity, Reading), NoReading>>,
    /// How finely the rete or the rule was set.
    pub(crate) sets_to: Angle,
}

impl Outcome {
    /// Those of all steps of an operation.
    pub(crate) fn each(operation: &Operation, conditions: &Conditions) -> Vec<Outcome> {
        let instrument = conditions.instrument.with_plate(conditions.plate);
        let mut hand = Hand::new(operation, conditions, &instrument);
        let steps = operation.steps.iter();
        steps
            .map(|step| Outcome {
                found: hand.acts(&step.act, 0.0),
                sets_to: hand.sets_to,
            })
            .collect()
    }
}

/// What is found where one step by itself is off by a little, either way.
pub(crate) struct Nudged {
    pub(crate) more: Findings,
    pub(crate) less: Findings,
}

impl Nudged {
    /// What is found with no error, and with each step's own in turn: in degrees where a part
    /// is set, in its own unit what is read; a step without one is passed over. What comes
    /// before a step is the same with and without its error, and is done once; so is what
    /// comes after it and does not hang on it.
    pub(crate) fn each(
        operation: &Operation,
        conditions: &Conditions,
        errors: &[f64],
    ) -> (Findings, Vec<Nudged>) {
        let instrument = conditions.instrument.with_plate(conditions.plate);
        let beginning = Hand::new(operation, conditions, &instrument);
        let mut hand = beginning.clone();
        let course: Vec<Passed<'_>> = operation
            .steps
            .iter()
            .map(|step| hand.passes(&step.act))
            .collect();
        let truth = hand.findings;

        let mut hand = beginning;
        let mut nudged = Vec::new();
        let mut errors = errors.iter();
        let mut rest = course.as_slice();
        while let Some((passed, after)) = rest.split_first() {
            let error = errors.next().copied().unwrap_or_default();
            if error > 0.0 {
                let off = |by: f64| hand.clone().goes_astray(passed, by, after);
                nudged.push(Nudged {
                    more: off(error),
                    less: off(-error),
                });
            }
            hand.follows(passed);
            rest = after;
        }
        (truth, nudged)
    }

    /// The same, with every step done again for every error.
    #[cfg(test)]
    pub(crate) fn each_again(
        operation: &Operation,
        conditions: &Conditions,
        errors: &[f64],
    ) -> Vec<Nudged> {
        let instrument = conditions.instrument.with_plate(conditions.plate);
        let with = |off: usize, error: f64| {
            let mut hand = Hand::new(operation, conditions, &instrument);
            for (number, step) in operation.steps.iter().enumerate() {
                hand.acts(&step.act, if number == off { error } else { 0.0 });
            }
            hand.findings
        };
        let errors = errors.iter().enumerate().filter(|(_, error)| **error > 0.0);
        errors
            .map(|(off, error)| Nudged {
                more: with(off, *error),
                less: with(off, -*error),
            })
            .collect()
    }
}

impl Hand<'_> {
    /// Does the rest of the steps, with no error.
    fn goes_on(&mut self, steps: &[Step]) {
        for step in steps {
            self.acts(&step.act, 0.0);
        }
    }

    fn does(&mut self, step: &Step) -> Done {
        let before = self.state;
        let outcome = self.acts(&step.act, 0.0);
        Done {
            act: step.act.clone(),
            procedure: step.procedure,
            before,
            after: self.state,
            lines: self.lines(&step.act),
            sets_to: self.sets_to,
            waxed: self.waxed,
            outcome,
        }
    }

    fn acts(&mut self, act: &Act, nudge: f64) -> Option<Result<(Quantity, Reading), NoReading>> {
        self.sets_to = Angle::ZERO;
        let result = self.result(act);
        if act.only_turns_rete() {
            self.state.rete = (self.state.rete + Angle::from_deg(nudge)).in_turn();
        } else if let Act::TurnRuleOnto(_) = act {
            self.state.rule += Angle::from_deg(nudge);
        }
        if act.turns_rete(self.set.is_some()) {
            self.stuck = result.as_ref().err().cloned();
        }
        if act.turns_rete(false) && result.is_ok() {
            let first = self.set.unwrap_or(self.state);
            self.set = Some(if act.is_for_sun() { self.state } else { first });
        }
        match result {
            Ok(None) => None,
            Ok(Some(mut reading)) => act.finds().map(|quantity| {
                reading.value = reading.value.moved(reading.reads_to.with_number(nudge));
                if let Some(misread) = self.conditions.misread.get(&quantity) {
                    reading.value = reading.value.moved(*misread);
                }
                self.findings.note(quantity, reading);
                Ok((quantity, reading))
            }),
            Err(why) => {
                if let Some(quantity) = act.finds() {
                    self.findings.miss(quantity, why.clone());
                }
                Some(Err(why))
            }
        }
    }

    fn result(&mut self, act: &Act) -> Result<Option<Reading>, NoReading> {
        match act {
            Act::Reckon(reckoning) => self.reckon(*reckoning).map(Some),
            Act::ChoosePlate => {
                self.state.plate = self.conditions.plate;
                Ok(None)
            }
            Act::ExchangePlate => {
                self.state.plate = self.conditions.other_plate;
                Ok(None)
            }
            Act::ReadSunDegree => Ok(Some(self.read_sun_degree())),
            Act::TurnRuleOnto(hour_angle) => {
                let hour_angle = self.angle(*hour_angle)?;
                let limb = self.limb();
                self.state.rule =
                    limb.rounded(hour_angle, self.conditions.setting) + self.end_of_rule();
                self.sets_to = limb.reads_to(self.conditions.setting);
                Ok(None)
            }
            Act::ReadLimb { over, finds } => {
                self.stands()?;
                let point = self.point_of(*over)?;
                let at = self.instrument.rete_point(point, self.state.rete);
                let limb = self.limb();
                let exact = self.instrument.rule_over(at);
                self.state.rule = limb.rounded(exact, self.conditions.setting);
                self.sets_to = limb.reads_to(self.conditions.setting);
                let under = limb.rounded(self.state.rule, self.conditions.reading);
                let value = of_angle(*finds, under + self.end_of_rule())?;
                let reads_to = limb.reads_to(self.conditions.reading);
                Ok(Some(Reading::on_scale(value, reads_to)))
            }
            Act::TurnRete {
                what, onto, pick, ..
            } => {
                let set = self.turn_rete(*what, onto, *pick)?;
                Ok(self.stands_at(set))
            }
            Act::TurnReteToAltitude {
                what,
                altitude,
                side,
            } => {
                let altitude = self.angle(*altitude)?;
                let set = self.turn_to_altitude(*what, altitude, *side)?;
                Ok(self.stands_at(set))
            }
            Act::TurnAlmuriOnto(onto) => {
                let set = self.turn_almuri(self.angle(*onto)?);
                Ok(self.stands_at(set))
            }
            Act::TurnEclipticToAltitude {
                altitude, which, ..
            } => {
                let (rete, reading) = self.turn_ecliptic(self.angle(*altitude)?, *which)?;
                self.state.rete = rete;
                Ok(Some(reading))
            }
            Act::Wax(along) => {
                self.waxed = Some(self.wax(*along)?);
                Ok(None)
            }
            Act::Observe(sight) => self.observe(*sight).map(Some),
            Act::ReadAlmuri { .. } => self.read_almuri().map(Some),
            Act::ReadAltitude { of, finds } => self.read_altitude(*of, *finds).map(Some),
            Act::ReadAzimuth { of, .. } => self.read_azimuth(*of).map(Some),
            Act::ReadEclipticAtAltitude { altitude, side, .. } => {
                let altitude = self.angle(*altitude)?;
                self.read_at_altitude(altitude, *side).map(Some)
            }
            Act::ReadUnequalHour { .. } => self.read_unequal_hour().map(Some),
            Act::ReadOnBack(what) => self.read_on_back(*what).map(Some),
            Act::Return => {
                self.state = self.set.unwrap_or(self.state);
                Ok(None)
            }
            Act::ReadEcliptic { at, pick, .. } => {
                self.stands()?;
                let rule = self.state.rule;
                let crossing = self.ecliptic_over().read(rule, at, *pick)?;
                Ok(Some(self.degree_at(&crossing)))
            }
        }
    }

    /// The rete says nothing before it is set, nor when it could not be set anew.
    fn stands(&self) -> Result<(), NoReading> {
        match (&self.stuck, self.set) {
            (Some(why), _) => Err(why.clone()),
            (None, Some(_)) => Ok(()),
            (None, None) => Err(NoReading::Needs(Quantity::HourForRule)),
        }
    }

    /// The alidade onto the date, and the degree read under it. One is a setting,
    /// the other a reading.
    fn read_sun_degree(&mut self) -> Reading {
        // A perfect scale has the Sun where it stands: what the instrument's own differs
        // by is the share of the Sun's degree.
        let exact = match self.conditions.sun {
            SunTaken::ByInstrument => self.instrument.dates().at(self.conditions.given.date),
            SunTaken::TruePlace | SunTaken::OnEcliptic => self.conditions.given.sun.longitude,
        };
        let scale = self.back_scale();
        self.state.alidade = scale.rounded(exact, self.conditions.setting).in_turn();
        self.sets_to = scale.reads_to(self.conditions.setting);
        let shown = scale.rounded(self.state.alidade, self.conditions.reading);
        let reads_to = scale.reads_to(self.conditions.reading);
        Reading::on_scale(Value::Degree(shown.in_turn()), reads_to)
    }

    /// The degree of the zodiac where the ecliptic crosses a line.
    fn degree_at(&self, crossing: &instrument::Crossing) -> Reading {
        let scale = self.ecliptic_scale(crossing);
        let degree = scale.rounded(crossing.longitude, self.conditions.reading);
        let reads_to = scale.reads_to(self.conditions.reading);
        Reading::on_scale(Value::Degree(degree.in_turn()), reads_to)
    }
}
