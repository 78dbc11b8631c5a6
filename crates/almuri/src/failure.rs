use std::fmt;
use std::io::Write;
use std::process::ExitCode;

use patience::GivenUp;

/// Why a command came to nothing: bad input leaves with 2, anything else with 1.
#[derive(Debug)]
pub(crate) struct Failure {
    message: String,
    code: u8,
    /// Whether another way of writing the line may have been meant.
    may_be_meant: bool,
}

/// Beyond this a message is no help, however long the input was.
const MOST_CHARACTERS: usize = 1200;

impl Failure {
    /// The input cannot be understood or answered.
    pub(crate) fn bad_input(message: impl fmt::Display) -> Failure {
        Failure {
            message: message.to_string(),
            code: 2,
            may_be_meant: false,
        }
    }

    /// Something else went wrong.
    pub(crate) fn other(message: impl fmt::Display) -> Failure {
        Failure {
            message: message.to_string(),
            code: 1,
            may_be_meant: false,
        }
    }

    /// The command line itself is off.
    pub(crate) fn arguments(error: &clap::Error) -> Failure {
        let rendered = error.render().to_string();
        let message = rendered.strip_prefix("error: ").unwrap_or(&rendered);
        // What the numbers of the standard library say of themselves tells nobody what
        // would be accepted.
        let told = message
            .replace(
                "invalid digit found in string",
                "it is no whole number; one such as 2026 would do",
            )
            .replace(
                "invalid float literal",
                "it is no number; one such as 12.5 would do",
            );
        Failure {
            may_be_meant: true,
            ..Failure::bad_input(told.trim())
        }
    }

    /// Whether the line that was written may have been meant otherwise.
    pub(crate) fn may_be_meant(&self) -> bool {
        self.may_be_meant
    }

    /// With the whole line as it may have been meant: of a message about the line itself the
    /// first sentence is enough then.
    pub(crate) fn with_line(self, line: &str) -> Failure {
        let first = self.message.lines().next().unwrap_or_default();
        Failure {
            message: format!("{first}\ndid you mean\n    {line}"),
            ..self
        }
    }

    /// Says it on standard error, and with which code the program is to end.
    pub(crate) fn report(&self) -> ExitCode {
        ExitCode::from(self.report_plainly())
    }

    /// The same, the code as a number.
    pub(crate) fn report_plainly(&self) -> u8 {
        // Whatever was typed may stand in it: nothing that moves the cursor does.
        let plain = |c: char| if c.is_control() && c != '\n' { '·' } else { c };
        let mut message: String = self
            .message
            .chars()
            .take(MOST_CHARACTERS)
            .map(plain)
            .collect();
        if self.message.chars().count() > MOST_CHARACTERS {
            message.push('…');
        }
        // Where standard error is gone there is nobody left to tell.
        let _ = writeln!(std::io::stderr(), "almuri: {message}");
        self.code
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.message)
    }
}

impl From<GivenUp> for Failure {
    fn from(given_up: GivenUp) -> Failure {
        Failure::other(given_up)
    }
}

impl From<desk::Refusal> for Failure {
    fn from(refusal: desk::Refusal) -> Failure {
        Failure {
            may_be_meant: matches!(refusal.field, desk::Field::When | desk::Field::At),
            ..Failure::bad_input(refusal)
        }
    }
}
