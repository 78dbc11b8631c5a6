use super::kind::{Kind, Needs};
use super::written::{one_part, whole};
use crate::{Column, Definition, Exact, Form, Head, PartOf};

/// Logarithms for a part of a day.
pub(super) const DIURNAL_LOGARITHMS: Kind = Kind {
    name: "diurnal-logarithms",
    what: "logarithms for going between the days of an ephemeris: of 24 hours or degrees",
    needs: Needs::Nothing,
    define: |_| Ok(diurnal()),
};

/// The definition of the diurnal ones, for who works with the pen.
pub(crate) fn diurnal() -> Box<dyn Definition> {
    Box::new(Logarithms {
        title: "Diurnal logarithms",
        of: "24 hours or degrees",
        whole: 24,
        unit: ("h or °", "minutes"),
    })
}

/// Logarithms for a part of three hours.
pub(super) const TERNARY_LOGARITHMS: Kind = Kind {
    name: "ternary-logarithms",
    what: "the same of three hours or degrees, to the second",
    needs: Needs::Nothing,
    define: |_| {
        Ok(Box::new(Logarithms {
            title: "Ternary logarithms",
            of: "3 hours or degrees, 180 minutes",
            whole: 180,
            unit: ("′", "seconds"),
        }))
    },
};

/// Logarithms for a part of sixty.
pub(super) const LOGISTIC_LOGARITHMS: Kind = Kind {
    name: "logistic-logarithms",
    what: "the same of sixty minutes or degrees, to the sixtieth",
    needs: Needs::Nothing,
    define: |_| {
        Ok(Box::new(Logarithms {
            title: "Logistic logarithms",
            of: "60 minutes, hours or degrees",
            whole: 60,
            unit: ("° or ′", "sixtieths"),
        }))
    },
};

/// log (whole / part), of parts in units and sixtieths of them.
struct Logarithms {
    title: &'static str,
    of: &'static str,
    whole: u32,
    /// What heads the columns, and the rows.
    unit: (&'static str, &'static str),
}

impl Definition for Logarithms {
    fn head(&self) -> Head {
        let (units, sixtieths) = self.unit;
        Head {
            title: format!("{} of {}", self.title, self.of),
            definitions: vec![
                format!(
                    "The logarithm of the whole, {}, less that of the part; the head is in {units}, \
                     the side in {sixtieths}.",
                    self.of
                ),
                "Add the logarithm of the time gone and that of the motion in the whole: the sum is \
                 that of the motion in the time gone. Nothing has no logarithm."
                    .to_owned(),
            ],
            argument: Column::new(sixtieths, sixtieths, Form::Number(0)),
            columns: (0..self.whole)
                .map(|unit| Column::new(&unit.to_string(), &unit.to_string(), Form::Number(4)))
                .collect(),
        }
    }

    fn parts(&self) -> Vec<PartOf> {
        one_part((0..60).map(whole))
    }

    fn exact(&self, at: f64) -> Vec<Exact> {
        let logarithm = |unit: u32| {
            let part = f64::from(unit) + at / 60.0;
            (part > 0.0).then(|| libm::log10(f64::from(self.whole) / part))
        };
        (0..self.whole).map(|unit| logarithm(unit).into()).collect()
    }
}
