use figure::{Planet, Sect, ruler_of_hour};

use super::kind::{Kind, Needs};
use super::written::{one_part, whole};
use crate::{Column, Definition, Exact, Head, PartOf};

/// The planets of the hours.
pub(super) const RULERS_OF_HOURS: Kind = Kind {
    name: "rulers-of-hours",
    what: "the planet of every hour of the day and the night, by the day of the week",
    needs: Needs::Nothing,
    define: |_| Ok(Box::new(RulersOfHours)),
};

struct RulersOfHours;

/// The days, with their planets (common practice).
const DAYS: [(&str, Planet); 7] = [
    ("Sunday", Planet::Sun),
    ("Monday", Planet::Moon),
    ("Tuesday", Planet::Mars),
    ("Wednesday", Planet::Mercury),
    ("Thursday", Planet::Jupiter),
    ("Friday", Planet::Venus),
    ("Saturday", Planet::Saturn),
];

impl Definition for RulersOfHours {
    fn head(&self) -> Head {
        Head {
            title: "The planets of the hours".to_owned(),
            definitions: vec![
                "The first hour from sunrise is the planet's of the day, and the others follow down \
                 the spheres (G. Chaucer, A Treatise on the Astrolabe, 1391, ed. Skeat 1894, II.12). \
                 Hours 1 to 12 are of the day, 13 to 24 of the night after it; the planetary day \
                 lasts to the next sunrise."
                    .to_owned(),
            ],
            argument: Column::new("hour", "hour", crate::Form::Number(0)),
            columns: DAYS
                .iter()
                .map(|(day, _)| Column::words(&day.to_lowercase(), day))
                .collect(),
        }
    }

    fn parts(&self) -> Vec<PartOf> {
        one_part((1..=24).map(whole))
    }

    fn exact(&self, at: f64) -> Vec<Exact> {
        let hour = at as u8;
        let (sect, number) = if hour > 12 {
            (Sect::Night, hour - 12)
        } else {
            (Sect::Day, hour)
        };
        DAYS.iter()
            .map(|(_, ruler)| Exact::Words(ruler_of_hour(*ruler, sect, number).name().to_owned()))
            .collect()
    }

    fn has_between(&self) -> bool {
        false
    }
}
