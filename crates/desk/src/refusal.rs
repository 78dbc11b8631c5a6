use patience::GivenUp;
use schemars::JsonSchema;
use serde::Serialize;
use thiserror::Error;

/// A request that cannot be answered: what was wrong with it and what would be
/// accepted, in one message for a person.
#[derive(Clone, Debug, Error, PartialEq, Eq, Serialize, JsonSchema)]
#[error("{message}")]
pub struct Refusal {
    /// Which part of the request is meant.
    pub field: Field,
    /// Which value of that part, where it has several: `altitude` of what is seen,
    /// `ascendant` of what is read.
    pub value: Option<String>,
    /// The message: it names the value and says what would be accepted.
    pub message: String,
    /// Values that would be accepted, where the request could mean several things.
    pub choices: Vec<String>,
}

/// The parts of a request.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Field {
    /// The date and time.
    When,
    /// The place.
    At,
    /// The zone.
    Zone,
    /// The kind of clock.
    Clock,
    /// The calendar.
    Calendar,
    /// Which of two instants.
    Which,
    /// The house method.
    Houses,
    /// The instrument.
    With,
    /// A person's own reading.
    Read,
    /// Where the Sun's degree is taken from.
    Sun,
    /// What was left out.
    Without,
    /// The cusp procedure.
    By,
    /// The plate.
    Plate,
    /// The step of the working.
    Step,
    /// The operation.
    Operation,
    /// The star.
    Star,
    /// The Moon or a planet.
    Body,
    /// What is told with the question.
    Tell,
    /// The error of the hand.
    Hand,
    /// The half of the sky.
    Side,
    /// Whose altitude or azimuth is meant.
    Of,
    /// Where an ephemeris begins.
    From,
    /// Where it ends.
    To,
    /// How far apart its moments are.
    Every,
    /// A rule by which a figure is finished.
    Rule,
    /// A list of lots.
    Lots,
    /// How a figure is drawn.
    Form,
    /// How the parts stand.
    State,
    /// What was measured on an instrument.
    Measurements,
    /// What is wished of a time.
    Wish,
    /// A class for which exercises are drawn.
    Class,
    /// Exercises that were drawn, a pupil among them, or a question.
    Exercise,
    /// A table by its name.
    Table,
    /// The obliquity that a table is made for.
    Obliquity,
    /// The hour at which what is told by days stands.
    Hour,
    /// None of them: nobody waits for the answer any longer.
    Wait,
}

impl Refusal {
    /// A refusal with a message and no choices.
    pub(crate) fn new(field: Field, message: impl ToString) -> Refusal {
        Refusal {
            field,
            value: None,
            message: message.to_string(),
            choices: Vec::new(),
        }
    }

    /// That there are no more of something than are worked at once.
    ///
    /// # Errors
    /// When there are more.
    pub(crate) fn beyond(
        field: Field,
        count: usize,
        most: usize,
        what: &str,
    ) -> Result<(), Refusal> {
        if count <= most {
            return Ok(());
        }
        Err(Refusal::new(
            field,
            format!("{count} {what} are too many at once; {most} at most would do"),
        ))
    }

    /// The same, of one value of the field.
    pub(crate) fn of(self, value: &str) -> Refusal {
        Refusal {
            value: Some(value.to_owned()),
            ..self
        }
    }
}

impl From<GivenUp> for Refusal {
    fn from(given_up: GivenUp) -> Refusal {
        Refusal::new(Field::Wait, given_up)
    }
}

/// A value short enough to stand in a message, in quotes, without the characters
/// that would move a terminal's cursor.
pub(crate) fn quoted(value: &str) -> String {
    const MOST: usize = 60;
    let count = value.chars().count();
    let shown: String = value
        .chars()
        .take(MOST)
        .map(|c| if c.is_control() { '·' } else { c })
        .collect();
    if count <= MOST {
        format!("“{shown}”")
    } else {
        format!("“{shown}…” ({count} characters)")
    }
}
