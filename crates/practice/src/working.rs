use std::collections::BTreeMap;

use instrument::{Instrument, LineId, NoCrossing, Pick, Point, RetePoint, State};
use sky::Angle;
use thiserror::Error;

use crate::amount::Amount;
use crate::conditions::{Conditions, SunTaken};
use crate::finding::Finding;
use crate::operation::{Act, Brought, Operation, Reckoning, Sense, Step};
use crate::procedure::Procedure;
use crate::quantity::{Note, Quantity};
use crate::reads_to::Scale;
use crate::value::Value;

mod acts;
mod lines;
mod reckoning;

/// An operation carried out.
#[derive(Clone, Debug)]
pub struct Working {
    /// What the operation is for.
    pub title: &'static str,
    /// Each step with how the parts stood before and after it.
    pub steps: Vec<Done>,
    findings: Findings,
}

/// What an operation finds, without the steps that led there.
#[derive(Clone, Debug, Default)]
pub(crate) struct Findings {
    found: BTreeMap<Quantity, Reading>,
    /// What was looked for and not found, and why; the first reason of each counts.
    missed: Vec<(Quantity, NoReading)>,
}

impl Findings {
    /// As [`carry_out`], for what is found alone.
    pub(crate) fn of(operation: &Operation, conditions: &Conditions) -> Findings {
        Findings::with(operation, conditions, None)
    }

    /// The same with a small error in one step.
    pub(crate) fn nudged(operation: &Operation, conditions: &Conditions, nudge: Nudge) -> Findings {
        Findings::with(operation, conditions, Some(nudge))
    }

    fn with(operation: &Operation, conditions: &Conditions, nudge: Option<Nudge>) -> Findings {
        let instrument = conditions.instrument.with_plate(conditions.plate);
        let mut hand = Hand::new(operation, conditions, &instrument);
        for (number, step) in operation.steps.iter().enumerate() {
            let nudge = nudge.filter(|nudge| nudge.step == number);
            hand.acts(&step.act, nudge.map_or(0.0, |nudge| nudge.by));
        }
        hand.findings
    }

    /// As [`Working::found`].
    pub(crate) fn found(&self) -> impl Iterator<Item = (Quantity, Reading)> {
        let found = self.found.iter();
        found.map(|(quantity, reading)| (*quantity, *reading))
    }

    /// As [`Working::reading`].
    pub(crate) fn reading(&self, quantity: Quantity) -> Result<Reading, NoReading> {
        if let Some(reading) = self.found.get(&quantity) {
            return Ok(*reading);
        }
        let missed = self.missed.iter().find(|(what, _)| *what == quantity);
        Err(missed.map_or(NoReading::NotRead(quantity), |(_, why)| why.clone()))
    }
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
    /// How finely the rete or the rule is set, as a turn of it; zero where nothing
    /// is set or nothing is rounded.
    pub sets_to: Angle,
    /// What has been marked with wax on the rete, in its own frame.
    pub waxed: Option<Point>,
    /// What was found, or why nothing was; `None` where nothing is read.
    pub outcome: Option<Result<(Quantity, Reading), NoReading>>,
}

impl Done {
    /// Whether this is the step in which the Sun is brought under the rule.
    #[must_use]
    pub fn is_setting_of_the_sun(&self) -> bool {
        matches!(
            self.act,
            Act::TurnRete {
                what: Brought::Sun,
                ..
            }
        )
    }

    /// How far the rete was turned: positive onward, with the daily motion,
    /// negative back.
    #[must_use]
    pub fn rete_turn(&self) -> Angle {
        if let Act::TurnRete { sense, .. } = &self.act {
            sense.turn(self.before.rete, self.after.rete)
        } else {
            self.before.rete.to(self.after.rete)
        }
    }
}

/// A value read on a scale.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// As read.
    pub value: Value,
    /// How finely it can be read; nothing when nothing is rounded.
    pub reads_to: Amount,
}

impl Reading {
    /// An angle read on a scale that tells so much apart.
    pub(crate) const fn on_scale(value: Value, reads_to: Angle) -> Reading {
        Reading {
            value,
            reads_to: value.measure().amount(reads_to.deg()),
        }
    }
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
    /// No star was named, or the rete has no pointer for it.
    #[error("no star of the rete was named")]
    Star,
    /// Nothing has been marked with wax.
    #[error("nothing has been marked on the rete")]
    Wax,
    /// A sum on paper gives no number.
    #[error(transparent)]
    Sum(#[from] NoNumber),
    /// A part cannot be turned by it: it is a number of hours, of points, or a length.
    #[error("the {0} is no angle, and no part can be set by it")]
    NoAngle(Quantity),
    /// The operation has no step that reads it.
    #[error("the {0} is not read in this working")]
    NotRead(Quantity),
}

/// Why a sum on paper gives no number.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum NoNumber {
    /// The shadow square is cut at no point, and nothing is divided by nothing.
    #[error("no point of the shadow square is cut, and nothing can be divided by that")]
    NoPoints,
    /// The stations do not differ.
    #[error(
        "from both stations the same point of the shadow square is cut, and nothing can be divided by the difference"
    )]
    NoDifference,
    /// It is larger than any number that can be written.
    #[error("the number that comes out is too large to be written")]
    TooLarge,
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

impl Act {
    /// The quantity that the step finds, if it finds one.
    #[must_use]
    pub fn finds(&self) -> Option<Quantity> {
        match self {
            Act::Reckon(reckoning) => Some(reckoning.finds()),
            Act::ReadSunDegree => Some(Quantity::SunDegree),
            Act::Observe(sight) => Some(Quantity::Seen(*sight)),
            Act::ReadLimb { finds, .. }
            | Act::ReadEcliptic { finds, .. }
            | Act::ReadAlmuri { finds }
            | Act::TurnEclipticToAltitude { finds, .. }
            | Act::ReadAltitude { finds, .. }
            | Act::ReadAzimuth { finds, .. }
            | Act::ReadEclipticAtAltitude { finds, .. }
            | Act::ReadUnequalHour { finds } => Some(*finds),
            Act::ChoosePlate
            | Act::ExchangePlate
            | Act::TurnRuleOnto(_)
            | Act::TurnRete { .. }
            | Act::TurnReteToAltitude { .. }
            | Act::TurnAlmuriOnto(_)
            | Act::Wax(_)
            | Act::Return => None,
        }
    }
}

impl Act {
    /// Whether it moves the rete; going back counts where there is somewhere to go.
    fn turns_rete(&self, has_been_set: bool) -> bool {
        match self {
            Act::Return => has_been_set,
            Act::TurnEclipticToAltitude { .. }
            | Act::TurnRete { .. }
            | Act::TurnReteToAltitude { .. }
            | Act::TurnAlmuriOnto(_) => true,
            Act::Reckon(_)
            | Act::ChoosePlate
            | Act::ExchangePlate
            | Act::ReadSunDegree
            | Act::TurnRuleOnto(_)
            | Act::ReadLimb { .. }
            | Act::ReadAlmuri { .. }
            | Act::ReadAltitude { .. }
            | Act::ReadAzimuth { .. }
            | Act::ReadEclipticAtAltitude { .. }
            | Act::ReadUnequalHour { .. }
            | Act::Wax(_)
            | Act::Observe(_)
            | Act::ReadEcliptic { .. } => false,
        }
    }

    /// Whether it moves the rete and reads nothing.
    fn only_turns_rete(&self) -> bool {
        matches!(
            self,
            Act::TurnRete { .. } | Act::TurnReteToAltitude { .. } | Act::TurnAlmuriOnto(_)
        )
    }

    /// Whether it sets the rete by the Sun, to which it is brought back later.
    fn is_for_sun(&self) -> bool {
        matches!(
            self,
            Act::TurnRete {
                what: Brought::Sun,
                ..
            } | Act::TurnReteToAltitude {
                what: Brought::Sun,
                ..
            }
        )
    }
}

impl Reckoning {
    /// The quantity that it finds.
    #[must_use]
    pub fn finds(self) -> Quantity {
        match self {
            Reckoning::HourForRule => Quantity::HourForRule,
            Reckoning::ThirdOfLimb(house) => Quantity::LimbForCusp(house),
            Reckoning::Count(.., finds)
            | Reckoning::RestOfTurn(_, finds)
            | Reckoning::Twelfth(_, finds)
            | Reckoning::RestOfThirty(_, finds)
            | Reckoning::Hours(_, finds)
            | Reckoning::Less(.., finds)
            | Reckoning::Sum(.., finds)
            | Reckoning::Mean(.., finds)
            | Reckoning::RestOfRight(_, finds)
            | Reckoning::FromSouth(_, finds)
            | Reckoning::MidDegree(.., finds) => Quantity::Found(finds),
            Reckoning::ThroughZenith(_) => Quantity::Found(Finding::ThroughZenith),
            Reckoning::Midway(.., note) => Quantity::Noted(note),
            Reckoning::InProportion(_) => Quantity::Noted(Note::Between),
            Reckoning::BetweenPlates(what) => what.quantity(),
            Reckoning::Beside(_, side) => Quantity::Engraved(side),
            Reckoning::Height(_) => Quantity::Found(Finding::TowerHeight),
            Reckoning::RectaToVersa => Quantity::Found(Finding::Versa),
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

/// A small error put into one step: into what is read, or how the part is set.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Nudge {
    /// The step's number, from 0.
    pub(crate) step: usize,
    /// How much is added: in degrees where a part is set, to what is read in its own unit.
    pub(crate) by: f64,
}

/// The hand at work: how the parts stand and what has been found so far.
struct Hand<'a> {
    conditions: &'a Conditions,
    instrument: &'a Instrument,
    state: State,
    /// How the parts stood when the Sun was set.
    set: Option<State>,
    /// Why the rete does not stand where it should.
    stuck: Option<NoReading>,
    /// How finely the last setting was made.
    sets_to: Angle,
    /// What has been waxed.
    waxed: Option<Point>,
    /// Whether the shadow square is read on its upright sides.
    by_versa: bool,
    findings: Findings,
}

impl<'a> Hand<'a> {
    fn new(
        operation: &Operation,
        conditions: &'a Conditions,
        instrument: &'a Instrument,
    ) -> Hand<'a> {
        Hand {
            conditions,
            instrument,
            state: State::at_rest(conditions.plate),
            set: None,
            stuck: None,
            sets_to: Angle::ZERO,
            waxed: None,
            by_versa: acts::is_by_versa(operation),
            findings: Findings::default(),
        }
    }
}

impl Hand<'_> {
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
                self.findings.found.insert(quantity, reading);
                Ok((quantity, reading))
            }),
            Err(why) => {
                let missed = act.finds().map(|quantity| (quantity, why.clone()));
                self.findings.missed.extend(missed);
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
            Act::Return => {
                self.state = self.set.unwrap_or(self.state);
                Ok(None)
            }
            Act::ReadEcliptic { at, pick, .. } => {
                self.stands()?;
                let crossing = self.instrument.read_ecliptic(&self.state, at, *pick)?;
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

    fn stands_at(&mut self, set: acts::Set) -> Option<Reading> {
        self.state.rete = set.rete;
        self.sets_to = set.sets_to;
        None
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

    fn turn_rete(&self, what: Brought, onto: &LineId, pick: Pick) -> Result<acts::Set, NoReading> {
        let point = if what == Brought::Sun && *onto == LineId::RuleEdge {
            self.sun_on_rete()?
        } else {
            self.point_of(what)?
        };
        let with = |point| self.instrument.rete_with(point, &self.state, onto, pick);
        let exact = with(point)?;
        let perfect = acts::Set {
            rete: exact,
            sets_to: Angle::ZERO,
        };
        if self.conditions.setting.is_perfect() {
            return Ok(perfect);
        }
        // A setting is a reading made backwards: the place is found under the line
        // no finer than it could be read there.
        match point {
            RetePoint::Degree(degree) => {
                let turned = State {
                    rete: exact,
                    ..self.state
                };
                let crossing = self.instrument.crossing_at(degree, &turned, onto)?;
                let scale = self.ecliptic_scale(&crossing);
                let found = scale.rounded(degree, self.conditions.setting);
                let half = scale.reads_to(self.conditions.setting) / 2.0;
                // A degree beside the end of an hour line may have no place on it.
                let beside = |degree| with(RetePoint::Degree(degree)).unwrap_or(exact);
                Ok(acts::Set {
                    rete: beside(found),
                    sets_to: beside(degree - half).to(beside(degree + half)).abs(),
                })
            }
            // The date's place on the ring is rounded as it is found.
            RetePoint::Date(_) => Ok(acts::Set {
                sets_to: self.limb().reads_to(self.conditions.setting),
                ..perfect
            }),
            RetePoint::Place(..) | RetePoint::Waxed(_) => Ok(self.point_set(point, exact, onto)),
        }
    }

    /// A pointer's tip is brought onto a line as near as the eye sees.
    fn point_set(&self, point: RetePoint, exact: Angle, onto: &LineId) -> acts::Set {
        let at = self.instrument.rete_point(point, exact);
        let outwards = at - self.instrument.rete_centre();
        let sine = if *onto == LineId::RuleEdge {
            1.0
        } else {
            let trace = self.instrument.plate(self.state.plate).trace(onto).ok();
            let across = trace.and_then(|trace| trace.across(at)).unwrap_or_default();
            let sizes = across.radius() * outwards.radius();
            (across.cross(outwards).abs() / sizes).max(LEAST_SINE)
        };
        let step = Angle::from_rad(
            self.conditions.setting.least.mm() / (outwards.radius() * sine.min(1.0)),
        );
        acts::Set {
            rete: (step * (exact / step).round()).in_turn(),
            sets_to: step,
        }
    }

    /// Where the Sun is put on the rete.
    fn sun_on_rete(&self) -> Result<RetePoint, NoReading> {
        let sun = self.conditions.given.sun;
        Ok(match self.conditions.sun {
            SunTaken::TruePlace => RetePoint::Place(sun.right_ascension, sun.declination),
            SunTaken::OnEcliptic => RetePoint::Degree(sun.longitude),
            SunTaken::ByInstrument => match self.instrument.date_from() {
                instrument::DateFrom::Given => RetePoint::Degree(sun.longitude),
                instrument::DateFrom::Zodiac => RetePoint::Degree(self.angle(Quantity::SunDegree)?),
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

    fn value(&self, quantity: Quantity) -> Result<Value, NoReading> {
        if let Quantity::Told(told) = quantity
            && let Some(value) = self.conditions.told.get(&told)
        {
            return Ok(*value);
        }
        let found = self.findings.found.get(&quantity);
        found
            .map(|reading| reading.value)
            .ok_or(NoReading::Needs(quantity))
    }

    /// A value by which a part is set.
    fn angle(&self, quantity: Quantity) -> Result<Angle, NoReading> {
        let value = self.value(quantity)?;
        value.angle().ok_or(NoReading::NoAngle(quantity))
    }

    /// How far the end of the rule that is set and read lies from the proper one.
    fn end_of_rule(&self) -> Angle {
        if self.conditions.other_end {
            Angle::HALF_TURN
        } else {
            Angle::ZERO
        }
    }

    /// The limb, crossed squarely by the rule.
    fn limb(&self) -> Scale {
        Scale::of_limb(self.instrument)
    }

    /// The scales of the back, read at the same radius as the limb.
    fn back_scale(&self) -> Scale {
        Scale::of_back(self.instrument)
    }

    fn ecliptic_scale(&self, crossing: &instrument::Crossing) -> Scale {
        Scale::of_ecliptic(self.instrument, crossing)
    }
}

/// An angle that was read, as a value of its quantity's kind.
fn of_angle(quantity: Quantity, angle: Angle) -> Result<Value, NoReading> {
    let value = quantity.measure().of_angle(angle);
    value.ok_or(NoReading::NoAngle(quantity))
}

/// Below this a pointer runs along a line, and cannot be set on it any finer.
const LEAST_SINE: f64 = 0.02;
