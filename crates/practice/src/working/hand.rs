//! The hand at work, and where it sets the rete.

use instrument::{EclipticOver, Instrument, Point, State};
use sky::Angle;

use super::findings::Findings;
use super::reading::NoReading;
use crate::conditions::Conditions;
use crate::operation::{Act, Operation, Reckoning, Tower};
use crate::quantity::Quantity;
use crate::reads_to::Scale;
use crate::value::Value;

/// Where the rete comes to stand, and how finely that can be done.
pub(super) struct ReteSetting {
    pub(super) rete: Angle,
    pub(super) sets_to: Angle,
}

/// Whether an operation measures a height by the upright sides of the square.
fn is_by_versa(operation: &Operation) -> bool {
    operation.steps.iter().any(|step| {
        matches!(
            step.act,
            Act::Reckon(Reckoning::Height(Tower::Versa | Tower::VersaTwice))
        )
    })
}

/// The hand at work: how the parts stand and what has been found so far.
#[derive(Clone)]
pub(super) struct Hand<'a> {
    pub(super) conditions: &'a Conditions,
    pub(super) instrument: &'a Instrument,
    pub(super) state: State,
    /// How the parts stood when the Sun was set.
    pub(super) set: Option<State>,
    /// Why the rete does not stand where it should.
    pub(super) stuck: Option<NoReading>,
    /// How finely the last setting was made.
    pub(super) sets_to: Angle,
    /// What has been waxed.
    pub(super) waxed: Option<Point>,
    /// Whether the shadow square is read on its upright sides.
    pub(super) by_versa: bool,
    pub(super) findings: Findings,
    /// The ecliptic over the plate as it was last read.
    over: Option<EclipticOver<'a>>,
}

impl<'a> Hand<'a> {
    pub(super) fn new(
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
            by_versa: is_by_versa(operation),
            findings: Findings::with_room(operation.steps.len()),
            over: None,
        }
    }
}

impl<'a> Hand<'a> {
    /// The ecliptic over the plate as the parts stand now.
    pub(super) fn ecliptic_over(&mut self) -> &EclipticOver<'a> {
        let state = self.state;
        if self.over.as_ref().is_some_and(|over| !over.is_at(&state)) {
            self.over = None;
        }
        let instrument = self.instrument;
        self.over
            .get_or_insert_with(|| instrument.ecliptic_over(&state))
    }
}

impl Hand<'_> {
    pub(super) fn value(&self, quantity: Quantity) -> Result<Value, NoReading> {
        if let Quantity::Stated(stated) = quantity
            && let Some(value) = self.conditions.stated.get(&stated)
        {
            return Ok(*value);
        }
        let found = self.findings.get(quantity);
        found
            .map(|reading| reading.value)
            .ok_or(NoReading::Needs(quantity))
    }

    /// A value by which a part is set.
    pub(super) fn angle(&self, quantity: Quantity) -> Result<Angle, NoReading> {
        let value = self.value(quantity)?;
        value.angle().ok_or(NoReading::NoAngle(quantity))
    }

    /// How far the end of the rule that is set and read lies from the proper one.
    pub(super) fn end_of_rule(&self) -> Angle {
        if self.conditions.other_end {
            Angle::HALF_TURN
        } else {
            Angle::ZERO
        }
    }

    /// The limb, crossed squarely by the rule.
    pub(super) fn limb(&self) -> Scale {
        Scale::of_limb(self.instrument)
    }

    /// The scales of the back, read at the same radius as the limb.
    pub(super) fn back_scale(&self) -> Scale {
        Scale::of_back(self.instrument)
    }

    pub(super) fn ecliptic_scale(&self, crossing: &instrument::Crossing) -> Scale {
        Scale::of_ecliptic(self.instrument, crossing)
    }
}
