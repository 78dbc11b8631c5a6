use std::collections::BTreeMap;

use instrument::{Instrument, LineId, NoCrossing, Pick, RetePoint, State};
use sky::Angle;
use thiserror::Error;

use crate::conditions::{Conditions, SunTaken};
use crate::operation::{Act, Brought, Operation, Reckoning, Sense, Step};
use crate::procedure::Procedure;
use crate::quantity::Quantity;
use crate::reads_to::Scale;

/// An operation carried out.
#[derive(Clone, Debug)]
pub struct Working {
    /// What the operation is for.
    pub title: &'static str,
    /// Each step with how the parts stood before and after it.
    pub steps: Vec<Done>,
    found: BTreeMap<Quantity, Reading>,
}

/// A step carried out.
#[derive(Clone, Debug)]
pub struct Done {
    /// What was done.
    pub act: Act,
    /// The cusp procedure it belongs to; `None` for what all of them share.
    pub procedure: Option<Procedure>,
    /// How the parts stood before.
    pub before: State,
    /// How they stand after.
    pub after: State,
    /// The lines to look at.
    pub lines: Vec<LineId>,
    /// What was found, or why nothing was; `None` where nothing is read.
    pub outcome: Option<Result<(Quantity, Reading), NoReading>>,
}

impl Done {
    /// How far the rete was turned: positive onward, with the daily motion,
    /// negative back.
    #[must_use]
    pub fn rete_turn(&self) -> Angle {
        match &self.act {
            Act::TurnRete { sense, .. } => sense.turn(self.before.rete, self.after.rete),
            _ => self.before.rete.to(self.after.rete),
        }
    }
}

/// A value read on a scale.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// As read.
    pub value: Angle,
    /// How finely it can be read; zero when nothing is rounded.
    pub reads_to: Angle,
}

/// Why there is no reading.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum NoReading {
    /// The lines do not give one.
    #[error(transparent)]
    Lines(#[from] NoCrossing),
    /// What it needs was not found.
    #[error("the {0} it needs was not found")]
    Needs(Quantity),
    /// The operation has no step that reads it.
    #[error("the {0} is not read in this working")]
    NotRead(Quantity),
}

impl Working {
    /// What was found of a quantity.
    ///
    /// # Errors
    /// When no step reads it, or the step had no reading; then with its reason.
    pub fn reading(&self, quantity: Quantity) -> Result<Reading, NoReading> {
        if let Some(reading) = self.found.get(&quantity) {
            return Ok(*reading);
        }
        let failed = self
            .steps
            .iter()
            .find(|step| step.act.finds() == Some(quantity));
        match failed.and_then(|step| step.outcome.clone()) {
            Some(Err(why)) => Err(why),
            _ => Err(NoReading::NotRead(quantity)),
        }
    }
}

impl Act {
    /// The quantity that the step finds, if it finds one.
    #[must_use]
    pub fn finds(&self) -> Option<Quantity> {
        match self {
            Act::Reckon(Reckoning::HourForRule) => Some(Quantity::HourForRule),
            Act::Reckon(Reckoning::ThirdOfLimb(house)) => Some(Quantity::LimbForCusp(*house)),
            Act::ReadSunDegree => Some(Quantity::SunDegree),
            Act::ReadLimb { finds, .. } | Act::ReadEcliptic { finds, .. } => Some(*finds),
            Act::ChoosePlate | Act::TurnRuleOnto(_) | Act::TurnRete { .. } | Act::Return => None,
        }
    }
}

impl Sense {
    /// The turn from one position of the rete to another, in this sense.
    fn turn(self, from: Angle, to: Angle) -> Angle {
        match self {
            Sense::Either => from.to(to),
            Sense::Onward => (to - from).in_turn(),
            Sense::Back => -(from - to).in_turn(),
        }
    }
}

/// Carries an operation out. Every operation ends: a step that cannot be done
/// leaves the parts as they are and says why, and so do those that need it.
#[must_use]
pub fn carry_out(operation: &Operation, conditions: &Conditions) -> Working {
    let mut hand = Hand {
        conditions,
        instrument: &conditions.instrument,
        state: State::at_rest(conditions.plate),
        set: None,
        found: BTreeMap::new(),
    };
    let steps = operation.steps.iter().map(|step| hand.does(step)).collect();
    Working {
        title: operation.title,
        steps,
        found: hand.found,
    }
}

/// The hand at work: how the parts stand and what has been found so far.
struct Hand<'a> {
    conditions: &'a Conditions,
    instrument: &'a Instrument,
    state: State,
    /// How the parts stood when the Sun was set.
    set: Option<State>,
    found: BTreeMap<Quantity, Reading>,
}

impl Hand<'_> {
    fn does(&mut self, step: &Step) -> Done {
        let act = &step.act;
        let before = self.state;
        let outcome = match self.result(act) {
            Ok(None) => None,
            Ok(Some(reading)) => act.finds().map(|quantity| {
                self.found.insert(quantity, reading);
                Ok((quantity, reading))
            }),
            Err(why) => Some(Err(why)),
        };
        Done {
            act: act.clone(),
            procedure: step.procedure,
            before,
            after: self.state,
            lines: self.lines(act),
            outcome,
        }
    }

    fn result(&mut self, act: &Act) -> Result<Option<Reading>, NoReading> {
        match act {
            Act::Reckon(reckoning) => self.reckon(*reckoning).map(Some),
            Act::ChoosePlate => {
                self.state.plate = self.conditions.plate;
                Ok(None)
            }
            Act::ReadSunDegree => Ok(Some(self.read_sun_degree())),
            Act::TurnRuleOnto(hour_angle) => {
                let hour_angle = self.value(*hour_angle)?;
                self.state.rule = self.limb().rounded(hour_angle, self.conditions.setting);
                Ok(None)
            }
            Act::ReadLimb { over, .. } => {
                let point = RetePoint::Degree(self.value(*over)?);
                let at = self.instrument.rete_point(point, self.state.rete);
                let limb = self.limb();
                let exact = self.instrument.rule_over(at);
                self.state.rule = limb.rounded(exact, self.conditions.setting);
                Ok(Some(Reading {
                    value: limb.rounded(self.state.rule, self.conditions.reading),
                    reads_to: limb.reads_to(self.conditions.reading),
                }))
            }
            Act::TurnRete { what, onto, .. } => {
                let pick = Pick::Drawn;
                self.state.rete = self.turn_rete(*what, onto, pick)?;
                if *what == Brought::Sun {
                    self.set = Some(self.state);
                }
                Ok(None)
            }
            Act::Return => {
                self.state = self.set.unwrap_or(self.state);
                Ok(None)
            }
            Act::ReadEcliptic { at, pick, .. } => {
                self.needs_setting()?;
                let crossing = self.instrument.read_ecliptic(&self.state, at, *pick)?;
                let scale = self.ecliptic_scale(&crossing);
                Ok(Some(Reading {
                    value: scale
                        .rounded(crossing.longitude, self.conditions.reading)
                        .in_turn(),
                    reads_to: scale.reads_to(self.conditions.reading),
                }))
            }
        }
    }

    /// The ecliptic says nothing before the rete is set.
    fn needs_setting(&self) -> Result<(), NoReading> {
        match self.set {
            Some(_) => Ok(()),
            None => Err(NoReading::Needs(Quantity::HourForRule)),
        }
    }

    fn reckon(&self, reckoning: Reckoning) -> Result<Reading, NoReading> {
        let value = match reckoning {
            Reckoning::HourForRule => self.conditions.hour_for_rule(),
            Reckoning::ThirdOfLimb(house) => {
                // From the ascendant down to midnight lie houses II and III, from it
                // up to noon XII and XI.
                let ascendant = self.value(Quantity::LimbOfAscendant)?;
                let (meridian, thirds) = match house.number() {
                    12 => (Angle::ZERO, 1.0),
                    11 => (Angle::ZERO, 2.0),
                    2 => (Angle::HALF_TURN, 1.0),
                    _ => (Angle::HALF_TURN, 2.0),
                };
                // The ascendant is in the east: towards noon the hour angle grows,
                // towards midnight it falls.
                let arc = match house.number() {
                    11 | 12 => (meridian - ascendant).in_turn(),
                    _ => -(ascendant - meridian).in_turn(),
                };
                (ascendant + arc * (thirds / 3.0)).signed()
            }
        };
        Ok(Reading {
            value,
            reads_to: Angle::ZERO,
        })
    }

    /// The alidade onto the date, and the degree read under it. One is a setting,
    /// the other a reading.
    fn read_sun_degree(&mut self) -> Reading {
        let exact = self.instrument.dates().at(self.conditions.given.date);
        let scale = self.back_scale();
        self.state.alidade = scale.rounded(exact, self.conditions.setting).in_turn();
        Reading {
            value: scale
                .rounded(self.state.alidade, self.conditions.reading)
                .in_turn(),
            reads_to: scale.reads_to(self.conditions.reading),
        }
    }

    fn turn_rete(&self, what: Brought, onto: &LineId, pick: Pick) -> Result<Angle, NoReading> {
        let degree = match what {
            Brought::Degree(quantity) => self.value(quantity)?,
            Brought::Opposite(quantity) => self.value(quantity)? + Angle::HALF_TURN,
            Brought::Sun => match self.sun_on_rete()? {
                RetePoint::Degree(degree) => degree,
                elsewhere => {
                    return Ok(self
                        .instrument
                        .rete_with(elsewhere, &self.state, onto, pick)?);
                }
            },
        };
        let exact =
            self.instrument
                .rete_with(RetePoint::Degree(degree), &self.state, onto, pick)?;
        if self.conditions.setting.is_perfect() {
            return Ok(exact);
        }
        // A setting is a reading made backwards: the degree is found under the line
        // no finer than it could be read there.
        let turned = State {
            rete: exact,
            ..self.state
        };
        let crossing = self.instrument.crossing_at(degree, &turned, onto)?;
        let found = self
            .ecliptic_scale(&crossing)
            .rounded(degree, self.conditions.setting);
        let point = RetePoint::Degree(found);
        // A degree beside the end of an hour line may have no place on it.
        Ok(self
            .instrument
            .rete_with(point, &self.state, onto, pick)
            .unwrap_or(exact))
    }

    /// Where the Sun is put on the rete.
    fn sun_on_rete(&self) -> Result<RetePoint, NoReading> {
        let sun = self.conditions.given.sun;
        Ok(match self.conditions.sun {
            SunTaken::TruePlace => RetePoint::Place(sun.right_ascension, sun.declination),
            SunTaken::OnEcliptic => RetePoint::Degree(sun.longitude),
            SunTaken::ByInstrument => match self.instrument.date_from() {
                instrument::DateFrom::Given => RetePoint::Degree(sun.longitude),
                instrument::DateFrom::Zodiac => RetePoint::Degree(self.value(Quantity::SunDegree)?),
                instrument::DateFrom::EqualDayRing | instrument::DateFrom::TrueSunRing => {
                    let date = self.conditions.given.date;
                    let exact = self.instrument.dates().at(date);
                    let ring = Scale {
                        division: self.instrument.dates().day_width(date),
                        ..self.limb()
                    };
                    RetePoint::Date(ring.rounded(exact, self.conditions.setting))
                }
            },
        })
    }

    fn value(&self, quantity: Quantity) -> Result<Angle, NoReading> {
        let found = self.found.get(&quantity);
        found
            .map(|reading| reading.value)
            .ok_or(NoReading::Needs(quantity))
    }

    /// The limb, crossed squarely by the rule.
    fn limb(&self) -> Scale {
        Scale::of_limb(self.instrument)
    }

    /// The scales of the back, read at the same radius as the limb.
    fn back_scale(&self) -> Scale {
        Scale {
            division: Angle::from_deg(1.0),
            ..self.limb()
        }
    }

    fn ecliptic_scale(&self, crossing: &instrument::Crossing) -> Scale {
        Scale::of_ecliptic(self.instrument, crossing)
    }

    /// What to look at during a step.
    fn lines(&self, act: &Act) -> Vec<LineId> {
        match act {
            Act::Reckon(_) | Act::Return => Vec::new(),
            Act::ChoosePlate => vec![LineId::Horizon],
            Act::ReadSunDegree => vec![
                LineId::CalendarScale,
                LineId::AlidadeLine,
                LineId::ZodiacScale,
            ],
            Act::TurnRuleOnto(_) => vec![LineId::RuleEdge, LineId::LimbHours, LineId::LimbDegrees],
            Act::ReadLimb { .. } => vec![LineId::RuleEdge, LineId::Ecliptic, LineId::LimbDegrees],
            Act::TurnRete { what, onto, .. } => {
                let ring = *what == Brought::Sun
                    && self.conditions.sun == SunTaken::ByInstrument
                    && self.instrument.date_from().is_ring();
                let scale = if ring {
                    LineId::DateRing
                } else {
                    LineId::Ecliptic
                };
                vec![scale, onto.clone()]
            }
            Act::ReadEcliptic { at, .. } => vec![LineId::Ecliptic, at.clone()],
        }
    }
}
