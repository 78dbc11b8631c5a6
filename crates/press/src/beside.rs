//! The same work for several things that do not hang on one another, two of them at once.

use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::mpsc::{self, RecvTimeoutError};
use std::thread::{self, Builder};
use std::time::Duration;

use patience::Patience;

use crate::error::PressError;

/// So often it is asked whether anybody waits while only the helper is still at work.
const LOOK: Duration = Duration::from_millis(20);

/// Does some work for each thing and gives what comes of it in the order of the things: the
/// same, and where several fail the same failure, as doing it for one after the other.
///
/// # Errors
/// That of the first thing whose work fails, or that nobody waits any longer.
pub(crate) fn each<T: Sync, R: Send>(
    things: &[T],
    patience: Patience<'_>,
    work: impl Fn(&T, Patience<'_>) -> Result<R, PressError> + Sync,
) -> Result<Vec<R>, PressError> {
    // Inside a page there are no threads.
    if things.len() > 1 && !cfg!(target_family = "wasm") && cores() > 1 {
        return helped(things, patience, work);
    }
    by_one(things, patience, work)
}

fn cores() -> usize {
    thread::available_parallelism().map_or(1, usize::from)
}

fn by_one<T, R>(
    things: &[T],
    patience: Patience<'_>,
    work: impl Fn(&T, Patience<'_>) -> Result<R, PressError>,
) -> Result<Vec<R>, PressError> {
    let made = patience.each(things).map(|one| {
        let (thing, own) = one?;
        work(thing, own)
    });
    made.collect()
}

/// The same by this thread and one that helps it. There are no more, for what is made at once
/// stands in memory at once. Only this thread tells how far the work is.
fn helped<T: Sync, R: Send>(
    things: &[T],
    patience: Patience<'_>,
    work: impl Fn(&T, Patience<'_>) -> Result<R, PressError> + Sync,
) -> Result<Vec<R>, PressError> {
    let turns = Turns::of(things.len());
    let done = |number: usize, own: Patience<'_>| {
        let thing = things.get(number)?;
        let waited_for = own.at(0, 1).map_err(PressError::from);
        let made = waited_for.and_then(|()| work(thing, own));
        if made.is_err() {
            turns.failed.fetch_min(number, Ordering::Relaxed);
        }
        Some((number, made))
    };
    let (sender, receiver) = mpsc::channel();
    let mut made = thread::scope(|scope| {
        let helper = || {
            // It goes with the helper, so that the helper's end is heard.
            let sender = sender;
            while let Some(number) = turns.next() {
                let waits = |_| turns.goes_on(number);
                let told = done(number, Patience::of(&waits)).map(|one| sender.send(one));
                if !matches!(told, Some(Ok(()))) {
                    break;
                }
            }
        };
        // Where no thread is to be had, this one does all of it.
        let _helper = Builder::new().spawn_scoped(scope, helper);
        let mut made = Vec::new();
        while let Some(number) = turns.next() {
            made.extend(done(number, patience.part(number, things.len())));
        }
        loop {
            match receiver.recv_timeout(LOOK) {
                Ok(one) => made.push(one),
                Err(RecvTimeoutError::Timeout) => {
                    if patience.at(things.len(), things.len()).is_err() {
                        turns.given_up.store(true, Ordering::Relaxed);
                    }
                }
                Err(RecvTimeoutError::Disconnected) => return made,
            }
        }
    });
    made.sort_by_key(|(number, _)| *number);
    made.into_iter().map(|(_, made)| made).collect()
}

/// What is taken next, and what ends the taking.
struct Turns {
    taken: AtomicUsize,
    all: usize,
    /// The first of which it is known that its work failed. What stands before it is still
    /// done: the first failure is told, whichever is heard of first.
    failed: AtomicUsize,
    given_up: AtomicBool,
}

impl Turns {
    fn of(all: usize) -> Turns {
        Turns {
            taken: AtomicUsize::new(0),
            all,
            failed: AtomicUsize::new(usize::MAX),
            given_up: AtomicBool::new(false),
        }
    }

    fn next(&self) -> Option<usize> {
        let number = self.taken.fetch_add(1, Ordering::Relaxed);
        (number < self.all && self.goes_on(number)).then_some(number)
    }

    fn goes_on(&self, number: usize) -> bool {
        number <= self.failed.load(Ordering::Relaxed) && !self.given_up.load(Ordering::Relaxed)
    }
}

#[cfg(test)]
mod tests {
    use std::cell::RefCell;
    use std::sync::Barrier;

    use patience::GivenUp;

    use super::*;

    fn failure(number: usize) -> PressError {
        PressError::Document {
            what: number.to_string(),
            why: String::new(),
        }
    }

    /// Some work, longer for some than for others, so that they end out of their order.
    fn worked(number: usize) -> usize {
        thread::sleep(Duration::from_millis([3, 0, 1, 0][number % 4]));
        number * number
    }

    #[test]
    fn what_is_made_by_two_stands_in_its_order() {
        let things: Vec<usize> = (0..40).collect();
        let heard = RefCell::new(Vec::new());
        let waits = |share| {
            heard.borrow_mut().push(share);
            true
        };
        let own = thread::current().id();
        let begun = Barrier::new(2);
        let by = |number: &usize, patience: Patience<'_>| {
            // The first two wait for each other, so that each thread has one of them.
            if *number < 2 {
                begun.wait();
            }
            patience.at(1, 2)?;
            Ok((worked(*number), thread::current().id()))
        };
        let made = helped(&things, Patience::of(&waits), by).unwrap();
        let numbers: Vec<usize> = made.iter().map(|(made, _)| *made).collect();
        assert_eq!(
            numbers,
            things.iter().map(|n| n * n).collect::<Vec<usize>>()
        );
        assert!(made.iter().any(|(_, by)| *by == own));
        assert!(made.iter().any(|(_, by)| *by != own));
        // What is heard goes on to the end, and never back.
        assert!(heard.borrow().is_sorted() && heard.borrow().len() > 1);
        assert_eq!(helped(&things[..0], Patience::ENDLESS, by), Ok(Vec::new()));
    }

    #[test]
    fn the_first_failure_is_told_whichever_was_earlier() {
        let things: Vec<usize> = (0..40).collect();
        for first in [0, 1, 2, 5, 38, 39] {
            let work = |number: &usize, _: Patience<'_>| {
                // The first takes the longest, so that later ones fail before it.
                if *number == first {
                    thread::sleep(Duration::from_millis(10));
                }
                if *number >= first {
                    return Err(failure(*number));
                }
                Ok(worked(*number))
            };
            let told = Err(failure(first));
            assert_eq!(helped(&things, Patience::ENDLESS, work), told);
            assert_eq!(by_one(&things, Patience::ENDLESS, work), told);
        }
    }

    /// Two threads wait for each other, so that each has one of two things; then this one is
    /// done, and the other would go on for ever.
    #[test]
    fn a_helper_hears_that_nobody_waits() {
        let begun = Barrier::new(2);
        let own = thread::current().id();
        let work = |_: &usize, patience: Patience<'_>| {
            begun.wait();
            while thread::current().id() != own {
                patience.at(0, 1)?;
                thread::sleep(Duration::from_millis(1));
            }
            Ok(())
        };
        let looks = RefCell::new(0);
        let waits = |_| {
            *looks.borrow_mut() += 1;
            *looks.borrow() < 3
        };
        let told = helped(&[0, 1], Patience::of(&waits), work);
        assert_eq!(told, Err(PressError::GivenUp(GivenUp)));
        assert!(*looks.borrow() >= 3);
    }
}
