use std::sync::Arc;

use desk::Cabinet;
use patience::Patience;

use crate::{Answer, Fault, Kept};

/// Who holds what an answer may need beside the question.
pub trait Holder {
    /// The instruments as they stand now.
    fn cabinet(&self) -> Arc<Cabinet>;

    /// The settings.
    ///
    /// # Errors
    /// When they cannot be read, in words.
    fn settings(&self) -> Result<Kept, String>;

    /// The time now, in seconds since the beginning of 1970, where it is known.
    fn now_unix_s(&self) -> Option<f64>;
}

/// How long whoever asks may have to wait.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pace {
    /// Milliseconds, some seconds at most.
    Quick,
    /// A set of files takes as long as there are files.
    Slow,
}

/// A question of the page.
#[derive(Debug)]
pub struct Question {
    /// By what it is asked, such as `workshop/card`.
    pub name: &'static str,
    /// How long it may take.
    pub pace: Pace,
    /// Whether it is asked without a body.
    pub is_bare: bool,
    answer: fn(&[u8], &dyn Holder, Patience<'_>) -> Result<Answer, Fault>,
}

impl Question {
    /// The answer to it.
    ///
    /// # Errors
    /// When it cannot be answered.
    pub fn answer(
        &self,
        body: &[u8],
        holder: &dyn Holder,
        patience: Patience<'_>,
    ) -> Result<Answer, Fault> {
        (self.answer)(body, holder, patience)
    }

    pub(crate) const fn new(
        name: &'static str,
        answer: fn(&[u8], &dyn Holder, Patience<'_>) -> Result<Answer, Fault>,
    ) -> Question {
        Question {
            name,
            pace: Pace::Quick,
            is_bare: false,
            answer,
        }
    }

    /// A question that is asked seldom and whose answer takes much code: files, and what examines
    /// an instrument. The small build has nothing of it.
    pub(crate) const fn large(
        name: &'static str,
        answer: fn(&[u8], &dyn Holder, Patience<'_>) -> Result<Answer, Fault>,
    ) -> Question {
        if cfg!(feature = "whole") {
            Question::new(name, answer)
        } else {
            Question::new(name, |_, _, _| Err(Fault::Elsewhere))
        }
    }

    pub(crate) const fn slow(self) -> Question {
        Question {
            pace: Pace::Slow,
            ..self
        }
    }

    pub(crate) const fn bare(self) -> Question {
        Question {
            is_bare: true,
            ..self
        }
    }
}
