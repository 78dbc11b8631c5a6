use sky::Sky;

use super::kind::{Kind, Needs};
use crate::{Column, Days, Definition, Exact, Form, Head, PartOf};

/// The equation of time.
pub(super) const EQUATION_OF_TIME: Kind = Kind {
    name: "equation-of-time",
    what: "how far the Sun is ahead of the mean Sun, every day of a year",
    needs: Needs::Days,
    define: |ask| {
        Ok(Box::new(EquationOfTime {
            days: Days::of(ask)?,
        }))
    },
};

/// The definition for some days at Greenwich, for who works with the pen.
pub(crate) fn at_greenwich(days: Days) -> Box<dyn Definition> {
    Box::new(EquationOfTime { days })
}

struct EquationOfTime {
    days: Days,
}

impl Definition for EquationOfTime {
    fn head(&self) -> Head {
        Head {
            title: format!("Equation of time {}", self.days.span()),
            definitions: vec![
                format!("At {}.", self.days.clock()),
                "Apparent less mean solar time: + where the sundial is ahead of the mean clock. \
                 Add it to mean time for the time by the Sun; take it off for the other way."
                    .to_owned(),
            ],
            argument: Column::words("date", "day"),
            columns: vec![Column::new("equation_of_time_s", "equation of time", Form::SignedMinutes)],
        }
    }

    fn parts(&self) -> Vec<PartOf> {
        self.days.parts(|_| Vec::new())
    }

    fn exact(&self, at: f64) -> Vec<Exact> {
        let sky = self.days.instant(at).and_then(|instant| Sky::at(instant).ok());
        vec![sky.map(|sky| sky.equation_of_time_s()).into()]
    }
}
