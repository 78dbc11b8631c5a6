//! A hand beside another that goes the same way without its error: what both do alike is
//! done once.

use instrument::{Point, State};

use super::findings::Findings;
use super::finds::Needs;
use super::hand::Hand;
use super::reading::{NoReading, Reading};
use crate::operation::Act;
use crate::quantity::Quantity;

/// How the parts stand, with all that a step may look at besides what was found.
#[derive(Clone, PartialEq)]
pub(super) struct Stand {
    state: State,
    set: Option<State>,
    stuck: Option<NoReading>,
    waxed: Option<Point>,
}

/// A step that a hand without error has done.
pub(super) struct Passed<'a> {
    act: &'a Act,
    before: Stand,
    after: Stand,
    outcome: Option<Result<(Quantity, Reading), NoReading>>,
}

impl Hand<'_> {
    fn stand(&self) -> Stand {
        Stand {
            state: self.state,
            set: self.set,
            stuck: self.stuck.clone(),
            waxed: self.waxed,
        }
    }

    /// Does a step, and remembers how.
    pub(super) fn passes<'a>(&mut self, act: &'a Act) -> Passed<'a> {
        let before = self.stand();
        let outcome = self.acts(act, 0.0);
        Passed {
            act,
            before,
            after: self.stand(),
            outcome,
        }
    }

    /// Stands as the other did after a step, and notes what it noted.
    pub(super) fn follows(&mut self, passed: &Passed<'_>) {
        let Stand {
            state,
            set,
            stuck,
            waxed,
        } = passed.after.clone();
        self.state = state;
        self.set = set;
        self.stuck = stuck;
        self.waxed = waxed;
        match (&passed.outcome, passed.act.finds()) {
            (Some(Ok((quantity, reading))), _) => self.findings.note(*quantity, *reading),
            (Some(Err(why)), Some(quantity)) => self.findings.miss(quantity, why.clone()),
            (Some(Err(_)) | None, _) => {}
        }
    }

    /// Does a step with an error, and all steps after it without: those that look at nothing
    /// else than the other hand did are as they were then.
    pub(super) fn goes_astray(
        mut self,
        step: &Passed<'_>,
        error: f64,
        after: &[Passed<'_>],
    ) -> Findings {
        let mut otherwise = Otherwise::default();
        let same = self.acts(step.act, error) == step.outcome;
        otherwise.note(step.act, same);
        for passed in after {
            let alike = self.stands_as(&passed.before) && !otherwise.matters_to(passed.act);
            let same = if alike {
                self.follows(passed);
                true
            } else {
                self.acts(passed.act, 0.0) == passed.outcome
            };
            otherwise.note(passed.act, same);
        }
        self.findings
    }

    fn stands_as(&self, stand: &Stand) -> bool {
        self.state == stand.state
            && self.set == stand.set
            && self.stuck == stand.stuck
            && self.waxed == stand.waxed
    }
}

/// What one hand has found otherwise than the other.
#[derive(Default)]
struct Otherwise(Vec<Quantity>);

impl Otherwise {
    /// After a step: whether it came to the same for both.
    fn note(&mut self, act: &Act, same: bool) {
        let Some(quantity) = act.finds() else {
            return;
        };
        self.0.retain(|other| *other != quantity);
        if !same {
            self.0.push(quantity);
        }
    }

    /// Whether a step may look at any of it.
    fn matters_to(&self, act: &Act) -> bool {
        match act.needs() {
            Needs::These(needed) => needed.iter().flatten().any(|one| self.0.contains(one)),
            Needs::Any => !self.0.is_empty(),
        }
    }
}
