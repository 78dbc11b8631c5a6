//! How long work is waited for.
//!
//! What may take longer than a moment is handed a [`Patience`]: between its parts it tells
//! how far it is, and hears whether anybody still waits. Who waits, and by which clock, is
//! the affair of whoever began the work: here are no clocks, threads or signals.

use std::fmt;

use thiserror::Error;

/// Nobody waits for the work any longer, so that it was left where it was.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
#[error("the work was left, for nobody waited for it any longer")]
pub struct GivenUp;

/// Someone who waits for a piece of work, or for a part of one.
#[derive(Clone, Copy)]
pub struct Patience<'a> {
    /// Hears which share of the whole is done, and says whether it is still waited for.
    waits: &'a dyn Fn(f64) -> bool,
    /// The shares of the whole at which this part begins and ends.
    span: (f64, f64),
}

impl Patience<'static> {
    /// Waits until the end, whenever that is.
    pub const ENDLESS: Patience<'static> = Patience {
        waits: &|_| true,
        span: (0.0, 1.0),
    };
}

impl<'a> Patience<'a> {
    /// Waits as long as `waits` says so; it hears from 0 to 1 how far the work is.
    #[must_use]
    pub fn of(waits: &'a dyn Fn(f64) -> bool) -> Patience<'a> {
        Patience {
            waits,
            span: (0.0, 1.0),
        }
    }

    /// Notes how many parts of all are done.
    ///
    /// # Errors
    /// When nobody waits for the others.
    pub fn at(self, done: usize, all: usize) -> Result<(), GivenUp> {
        let (from, _) = self.part(done, all).span;
        if (self.waits)(from) {
            Ok(())
        } else {
            Err(GivenUp)
        }
    }

    /// The patience for one part of all, the first having the number 0.
    #[must_use]
    pub fn part(self, number: usize, all: usize) -> Patience<'a> {
        let (from, to) = self.span;
        #[expect(clippy::cast_precision_loss, reason = "parts are few")]
        let share =
            |number: usize| from + (to - from) * (number.min(all) as f64) / all.max(1) as f64;
        Patience {
            waits: self.waits,
            span: (share(number), share(number.saturating_add(1))),
        }
    }

    /// The same things one after the other, as long as they are waited for.
    pub fn each<T>(
        self,
        all: &'a [T],
    ) -> impl Iterator<Item = Result<(&'a T, Patience<'a>), GivenUp>> {
        all.iter().enumerate().map(move |(number, one)| {
            self.at(number, all.len())?;
            Ok((one, self.part(number, all.len())))
        })
    }
}

impl fmt::Debug for Patience<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (from, to) = self.span;
        write!(f, "Patience({from}..{to})")
    }
}

#[cfg(test)]
mod tests {
    use std::cell::RefCell;

    use super::*;

    #[test]
    fn parts_of_parts_tell_how_far_the_whole_is() {
        let heard = RefCell::new(Vec::new());
        let waits = |share| {
            heard.borrow_mut().push(share);
            true
        };
        let patience = Patience::of(&waits);
        for one in patience.each(&["a", "b"]) {
            let (_, own) = one.expect("waited for");
            own.at(1, 2).expect("waited for");
        }
        patience.at(2, 2).expect("waited for");
        assert_eq!(*heard.borrow(), [0.0, 0.25, 0.5, 0.75, 1.0]);
    }

    #[test]
    fn work_is_left_when_nobody_waits() {
        let waits = |share: f64| share < 0.5;
        let worked: Result<Vec<&i32>, GivenUp> = Patience::of(&waits)
            .each(&[1, 2, 3, 4])
            .map(|one| one.map(|(one, _)| one))
            .collect();
        assert_eq!(worked, Err(GivenUp));
        assert_eq!(Patience::ENDLESS.at(0, 0), Ok(()));
    }
}
