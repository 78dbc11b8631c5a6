use super::kind::{Kind, Needs};
use super::written::one_part;
use crate::{Argument, Cell, Column, Definition, Exact, Figure, Form, Head, PartOf};

/// The factor of second differences.
pub(super) const SECOND_DIFFERENCES: Kind = Kind {
    name: "second-differences",
    what: "by what part of them second differences bend the way between two days",
    needs: Needs::Nothing,
    define: |_| Ok(definition()),
};

/// The definition, for who works with the pen.
pub(crate) fn definition() -> Box<dyn Definition> {
    Box::new(SecondDifferences)
}

struct SecondDifferences;

impl Definition for SecondDifferences {
    fn head(&self) -> Head {
        Head {
            title: "The factor of second differences".to_owned(),
            definitions: vec![
                "For going between two days when the motion changes: the motion of the day after \
                 less that of the day before, times this factor, is taken off what the straight \
                 line gives (added, where the motion lessens). A quarter of the part of the day \
                 gone times the part to come (Bessel's rule; from memory)."
                    .to_owned(),
            ],
            argument: Column::new("time_gone_h", "time gone", Form::Span),
            columns: vec![Column::new("factor", "factor", Form::Number(4))],
        }
    }

    fn parts(&self) -> Vec<PartOf> {
        one_part((0..=96).map(|quarter| {
            let at = f64::from(quarter) / 4.0;
            Argument {
                at,
                written: Cell::Figure(Figure::written(Form::Span, at)),
            }
        }))
    }

    fn exact(&self, at: f64) -> Vec<Exact> {
        let part = at / 24.0;
        vec![Exact::Number(part * (1.0 - part) / 4.0)]
    }
}
