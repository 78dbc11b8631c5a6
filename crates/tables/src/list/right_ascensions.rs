use sky::{Angle, Latitude};

use super::kind::{Kind, Needs};
use super::written::{by_signs, horizon_of, to_second};
use crate::{Column, Definition, Exact, Form, Head, PartOf};

/// Right ascensions and declinations of the degrees.
pub(super) const RIGHT_ASCENSIONS: Kind = Kind {
    name: "right-ascensions",
    what: "right ascension and declination of every degree of the ecliptic",
    needs: Needs::Obliquity,
    define: |ask| {
        Ok(Box::new(RightAscensions {
            obliquity: ask.obliquity()?,
        }))
    },
};

struct RightAscensions {
    obliquity: Angle,
}

impl Definition for RightAscensions {
    fn head(&self) -> Head {
        Head {
            title: format!(
                "Right ascensions and declinations of the ecliptic, obliquity {}",
                to_second(self.obliquity)
            ),
            definitions: vec![
                "Of the degrees of the ecliptic itself, without latitude.".to_owned(),
                "The right ascension is counted from the head of Aries, in degrees and in time, \
                 15° an hour; north declinations are positive."
                    .to_owned(),
            ],
            argument: Column::new("longitude_deg", "degree", Form::ZodiacDegree),
            columns: vec![
                Column::new("right_ascension_deg", "right ascension", Form::Turn),
                Column::new("right_ascension_h", "in time", Form::ClockToSecond),
                Column::new("declination_deg", "declination", Form::Degrees),
            ],
        }
    }

    fn parts(&self) -> Vec<PartOf> {
        by_signs(|sign| sign.name().to_owned())
    }

    fn exact(&self, at: f64) -> Vec<Exact> {
        let horizon = horizon_of(Latitude::ZERO, self.obliquity);
        let degree = Angle::from_deg(at);
        let right_ascension = horizon.right_ascension(degree);
        vec![
            Exact::Number(right_ascension.deg()),
            Exact::Number(right_ascension.hours()),
            Exact::Number(horizon.declination(degree).deg()),
        ]
    }
}
