//! Readings held against what should be, in the words of an answer.

use practice::{Amount, Marked, Procedure, ReadingVerdict, Value, off};
use words::ValueInWords;

use crate::answer::{CorrectReading, ExplanationAnswer, amount_deg, reads_to_text};
use crate::given_reading::{GivenReading, ReadingOf, own_or_opposite};

/// Values as numbers and in words.
pub(crate) fn told(
    values: impl Iterator<Item = (ReadingOf, Option<Value>)>,
) -> (Vec<Option<f64>>, Vec<Option<String>>) {
    values
        .map(|(what, value)| {
            (
                value.map(|one| what.number(one)),
                value.map(|one| ValueInWords(one).to_string()),
            )
        })
        .unzip()
}

/// What the explanations come to.
pub(crate) fn verdict(
    fits: bool,
    explanations: &[ExplanationAnswer],
    readings: &[CorrectReading],
) -> (&'static str, String) {
    let first: Vec<&ExplanationAnswer> = explanations.iter().filter(|one| one.rank == 1).collect();
    match first.as_slice() {
        _ if !fits => no_slip_fits(readings),
        [] => ("unexplained", "There is nothing to go by.".to_owned()),
        [one, ..] if one.slips.is_empty() => ("right", right_words(readings)),
        several => {
            let each: Vec<String> = several
                .iter()
                .map(|one| {
                    let words: Vec<&str> =
                        one.slips.iter().map(|slip| slip.words.as_str()).collect();
                    words.join(" And: ")
                })
                .collect();
            let sentence = match each.as_slice() {
                [one] => one.clone(),
                several => {
                    let number = match several.len() {
                        2 => "two",
                        3 => "three",
                        _ => "several",
                    };
                    format!(
                        "One of these {number}, for they give the same readings: {}",
                        several.join(" Or: ")
                    )
                }
            };
            ("slips", sentence)
        }
    }
}

/// Where no slip explains the readings: whether one of them does.
fn no_slip_fits(readings: &[CorrectReading]) -> (&'static str, String) {
    let of_mark = |mark: ReadingVerdict| readings.iter().filter(move |one| one.mark == mark.name());
    let mut wrong = of_mark(ReadingVerdict::Wrong);
    match (wrong.next(), wrong.next()) {
        (Some(one), None) if of_mark(ReadingVerdict::Follows).next().is_some() => (
            "follows",
            format!(
                "The {} is wrong, for no reason that is known here; what follows from it is right.",
                one.what
            ),
        ),
        _ => (
            "unexplained",
            "Nothing that is known here, nor any two things together, explains these readings."
                .to_owned(),
        ),
    }
}

/// What is said where nothing was done wrong.
fn right_words(readings: &[CorrectReading]) -> String {
    let rough = readings
        .iter()
        .filter(|one| one.mark == ReadingVerdict::Rough.name());
    let times = rough.filter_map(|one| Some(one.difference_deg?.abs() / one.within_deg?));
    let most = times.fold(0.0, f64::max);
    if most == 0.0 {
        return "The readings are right, within what the instrument allows.".to_owned();
    }
    format!(
        "No slip was made; the hand is rough, up to {most:.1} times as far off as the instrument allows. Set and read more slowly."
    )
}

impl CorrectReading {
    /// What was read, held against nothing yet.
    pub(crate) fn read(reading: &GivenReading) -> CorrectReading {
        let what = reading.what;
        CorrectReading {
            what: what.name(),
            measure: what.measure().name(),
            read_deg: what.number(reading.value),
            read_text: reading.said(),
            should_deg: None,
            should_text: None,
            within_deg: None,
            within_text: None,
            follows_deg: None,
            follows_text: None,
            difference_deg: None,
            mark: ReadingVerdict::Wrong.name(),
        }
    }

    /// Held against what should be read, right within a tolerance.
    pub(crate) fn against(
        reading: &GivenReading,
        should: Value,
        tolerance: Amount,
        mark: ReadingVerdict,
    ) -> CorrectReading {
        let what = reading.what;
        CorrectReading {
            should_deg: Some(what.number(should)),
            should_text: Some(ValueInWords(should).to_string()),
            within_deg: Some(amount_deg(tolerance)),
            within_text: reads_to_text(tolerance),
            difference_deg: Some(amount_deg(off(reading.value, reading.written_to, should))),
            mark: mark.name(),
            ..CorrectReading::read(reading)
        }
    }

    pub(crate) fn marked(reading: &GivenReading, marked: &Marked, by: Procedure) -> CorrectReading {
        let what = reading.what;
        let own = |value| own_or_opposite(by, what, value);
        let follows = marked.follows.map(own);
        let held = match marked.should {
            Some(should) => {
                CorrectReading::against(reading, own(should), marked.tolerance, marked.mark)
            }
            None => CorrectReading::read(reading),
        };
        CorrectReading {
            follows_deg: follows.map(|follows| what.number(follows)),
            follows_text: follows.map(|follows| ValueInWords(follows).to_string()),
            ..held
        }
    }
}
