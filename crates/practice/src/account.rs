use crate::amount::Amount;
use crate::calculated::Calculated;
use crate::cause::Cause;
use crate::conditions::Conditions;
use crate::operation::Operation;
use crate::quantity::Quantity;
use crate::value::Value;
use crate::working::{Findings, NoReading, Reading, Working, carry_out};

/// The same operation carried out from the ideal conditions to the actual ones,
/// giving up one idealisation after another: the account of why a reading and
/// calculation differ.
#[derive(Clone, Debug)]
pub struct Account {
    /// What is found under ideal conditions.
    ideal: Findings,
    /// Each cause with what is found after it was given up; `None` where that
    /// changed no condition, so that what was found before it still holds.
    rungs: Vec<(Cause, Option<Findings>)>,
    actual: Working,
}

/// A cause's part of a difference.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Share {
    /// The cause.
    pub cause: Cause,
    /// How much it moves the reading.
    pub amount: Amount,
}

/// A difference with its shares.
#[derive(Clone, Debug, PartialEq)]
pub struct Why {
    /// What was read.
    pub read: Value,
    /// What calculation gives.
    pub exact: Value,
    /// The shares, in the order of [`Cause`]; they add up to the difference.
    pub shares: Vec<Share>,
}

impl Why {
    /// Reading minus calculation, the short way round.
    #[must_use]
    pub fn difference(&self) -> Amount {
        self.exact.to(self.read)
    }

    /// The shares worth telling, the largest first.
    #[must_use]
    pub fn largest(&self) -> Vec<Share> {
        let mut shares = self.shares.clone();
        shares.retain(|share| share.amount.is_worth_telling());
        let size = |share: &Share| share.amount.number().abs();
        shares.sort_by(|a, b| size(b).total_cmp(&size(a)));
        shares
    }
}

impl Account {
    /// Carries the operation out under every mixture of ideal and actual
    /// conditions on the way from one to the other.
    #[must_use]
    pub fn of(operation: &Operation, ideal: &Conditions, actual: &Conditions) -> Account {
        let mut conditions = ideal.clone();
        let ideal = Findings::of(operation, &conditions);
        let mut rungs = Vec::with_capacity(Cause::REPLAYED.len());
        // What can be read is given up last: then it is worked as it actually is.
        let mut last = None;
        for cause in Cause::REPLAYED {
            let changes = conditions.give_up(cause, actual);
            let findings = changes.then(|| {
                if cause == Cause::Rounding {
                    let working = last.insert(carry_out(operation, &conditions));
                    working.findings().clone()
                } else {
                    Findings::of(operation, &conditions)
                }
            });
            rungs.push((cause, findings));
        }
        let actual = last.unwrap_or_else(|| carry_out(operation, &conditions));
        Account {
            ideal,
            rungs,
            actual,
        }
    }

    /// What is found of a quantity under ideal conditions.
    ///
    /// # Errors
    /// As [`Working::reading`].
    pub fn ideal(&self, quantity: Quantity) -> Result<Reading, NoReading> {
        self.ideal.reading(quantity)
    }

    /// The working under the actual conditions.
    #[must_use]
    pub fn actual(&self) -> &Working {
        &self.actual
    }

    /// Why a quantity, or its opposite, was read as it was and not as calculation
    /// has it. With a person's own reading, what the working cannot account for
    /// is [`Cause::Unexplained`].
    ///
    /// # Errors
    /// When one of the workings on the way has no reading of the quantity.
    pub fn why(&self, asked: Asked) -> Result<Why, NoReading> {
        let mut last = asked.of(&self.ideal)?;
        let mut shares = Vec::with_capacity(self.rungs.len() + 2);
        shares.push(Share {
            cause: Cause::Procedure,
            amount: asked.exact.sun_held.to(last),
        });
        for (cause, findings) in &self.rungs {
            if *cause == Cause::SunMoves {
                shares.push(Share {
                    cause: *cause,
                    amount: asked.exact.truly.to(asked.exact.sun_held),
                });
                continue;
            }
            let here = match findings {
                Some(findings) => asked.of(findings)?,
                None => last,
            };
            shares.push(Share {
                cause: *cause,
                amount: last.to(here),
            });
            last = here;
        }
        let read = asked.own.unwrap_or(last);
        if let Some(own) = asked.own {
            shares.push(Share {
                cause: Cause::Unexplained,
                amount: last.to(own),
            });
        }
        Ok(Why {
            read,
            exact: asked.exact.truly,
            shares,
        })
    }
}

/// What is asked of an account.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Asked {
    /// The quantity.
    pub quantity: Quantity,
    /// Whether the opposite of what is read is meant.
    pub opposite: bool,
    /// What calculation gives for it.
    pub exact: Calculated,
    /// A person's own reading of it.
    pub own: Option<Value>,
}

impl Asked {
    fn of(&self, findings: &Findings) -> Result<Value, NoReading> {
        let value = findings.reading(self.quantity)?.value;
        Ok(if self.opposite {
            value.opposite()
        } else {
            value
        })
    }
}
