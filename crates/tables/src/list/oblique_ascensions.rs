use figure::DailyCourse;
use sky::{Angle, Latitude};

use super::kind::{Kind, Needs};
use super::written::{by_signs, horizon_of, north_or_south, to_second};
use crate::{Column, Definition, Exact, Form, Head, PartOf};

/// Ascensional differences, oblique ascensions and semi-arcs.
pub(super) const OBLIQUE_ASCENSIONS: Kind = Kind {
    name: "oblique-ascensions",
    what: "ascensional difference, oblique ascension and descension, and semi-arcs for a latitude",
    needs: Needs::Latitude,
    define: |ask| {
        Ok(Box::new(ObliqueAscensions {
            latitude: ask.latitude_for("oblique-ascensions")?,
            obliquity: ask.obliquity()?,
        }))
    },
};

struct ObliqueAscensions {
    latitude: Latitude,
    obliquity: Angle,
}

impl Definition for ObliqueAscensions {
    fn head(&self) -> Head {
        Head {
            title: format!(
                "Oblique ascensions and semi-arcs for latitude {}, obliquity {}",
                north_or_south(self.latitude),
                to_second(self.obliquity)
            ),
            definitions: vec![
                "The oblique ascension is the equator's degree that rises with a degree of the \
                 ecliptic: its right ascension less its ascensional difference; the oblique \
                 descension sets with it: right ascension and difference together."
                    .to_owned(),
                "The diurnal semi-arc, from rising to the meridian, is 6 hours and the ascensional \
                 difference in time; the two semi-arcs make 12 hours."
                    .to_owned(),
                "Of the centre, without refraction. A stroke stands where a degree neither rises \
                 nor sets."
                    .to_owned(),
            ],
            argument: Column::new("longitude_deg", "degree", Form::ZodiacDegree),
            columns: vec![
                Column::new("ascensional_difference_deg", "asc. diff.", Form::Degrees),
                Column::new("oblique_ascension_deg", "obl. asc.", Form::Turn),
                Column::new("oblique_descension_deg", "obl. desc.", Form::Turn),
                Column::new("diurnal_semi_arc_h", "by day", Form::Span),
                Column::new("nocturnal_semi_arc_h", "by night", Form::Span),
            ],
        }
    }

    fn parts(&self) -> Vec<PartOf> {
        by_signs(|sign| sign.name().to_owned())
    }

    fn exact(&self, at: f64) -> Vec<Exact> {
        let horizon = horizon_of(self.latitude, self.obliquity);
        let degree = Angle::from_deg(at);
        let DailyCourse::RisesAndSets(arcs) = horizon.course_of_degree(degree) else {
            return vec![Exact::Nothing; 5];
        };
        let right_ascension = horizon.right_ascension(degree);
        let difference = arcs.ascensional_difference();
        [
            difference.deg(),
            (right_ascension - difference).deg(),
            (right_ascension + difference).deg(),
            arcs.diurnal().hours(),
            arcs.nocturnal().hours(),
        ]
        .map(Exact::Number)
        .to_vec()
    }
}
