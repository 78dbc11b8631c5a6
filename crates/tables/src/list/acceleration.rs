use super::kind::{Kind, Needs};
use super::written::whole;
use crate::{Argument, Cell, Column, Definition, Exact, Figure, Form, Head, PartOf};

/// The acceleration of sidereal on mean time.
pub(super) const ACCELERATION: Kind = Kind {
    name: "acceleration",
    what: "what sidereal time gains on mean time in hours and minutes",
    needs: Needs::Nothing,
    define: |_| Ok(definition()),
};

/// The definition, for who works with the pen.
pub(crate) fn definition() -> Box<dyn Definition> {
    Box::new(Acceleration)
}

/// By how much of itself a length of mean time is longer in sidereal time (Explanatory
/// Supplement to the Astronomical Almanac, 1992, eq. 2.24-1; from memory).
const GAIN: f64 = 0.002_737_909_35;

struct Acceleration;

impl Definition for Acceleration {
    fn head(&self) -> Head {
        Head {
            title: "Acceleration of sidereal on mean time".to_owned(),
            definitions: vec![
                "What is added to a length of mean time to have it in sidereal time: 9.8565 s for \
                 an hour. Take hours and minutes apart and add them."
                    .to_owned(),
            ],
            argument: Column::new("mean_time_h", "mean time", Form::Span),
            columns: vec![Column::new("acceleration_s", "acceleration", Form::Minutes)],
        }
    }

    fn parts(&self) -> Vec<PartOf> {
        let minutes = (0..60).map(|minutes| f64::from(minutes) / 60.0);
        let part = |heading: &str, lengths: Vec<f64>| PartOf {
            heading: heading.to_owned(),
            arguments: lengths
                .into_iter()
                .map(|hours| Argument {
                    at: hours,
                    written: Cell::Figure(Figure::written(Form::Span, hours)),
                })
                .collect(),
            notes: Vec::new(),
        };
        vec![
            part("Hours", (0..=24).map(|hour| whole(hour).at).collect()),
            part("Minutes", minutes.collect()),
        ]
    }

    fn exact(&self, at: f64) -> Vec<Exact> {
        vec![Exact::Number(at * 3600.0 * GAIN)]
    }
}
