use super::kind::{Kind, Needs};
use super::written::{one_part, whole};
use crate::{Column, Definition, Exact, Form, Head, PartOf};

/// Products in sixties.
pub(super) const SEXAGESIMAL_MULTIPLICATION: Kind = Kind {
    name: "sexagesimal-multiplication",
    what: "the products of 1 to 60, in sixties",
    needs: Needs::Nothing,
    define: |_| Ok(Box::new(Products)),
};

struct Products;

impl Definition for Products {
    fn head(&self) -> Head {
        Head {
            title: "Sexagesimal multiplication".to_owned(),
            definitions: vec![
                "Every product in sixties and what is over. Minutes by minutes make seconds: 24′ \
                 by 35′ are 14′00″."
                    .to_owned(),
            ],
            argument: Column::new("factor", "", Form::Number(0)),
            columns: (1..=60)
                .map(|factor| Column::new(&factor.to_string(), &factor.to_string(), Form::Sixties))
                .collect(),
        }
    }

    fn parts(&self) -> Vec<PartOf> {
        one_part((1..=60).map(whole))
    }

    fn exact(&self, at: f64) -> Vec<Exact> {
        (1..=60)
            .map(|factor| Exact::Number(at * f64::from(factor)))
            .collect()
    }
}
