use figure::DailyCourse;
use sky::{Angle, Latitude};

use super::kind::{Kind, Needs};
use super::written::{by_signs, horizon_of, to_second};
use crate::{Ask, Column, Definition, Exact, Form, Head, PartOf, TableError};

/// Semi-diurnal arcs for latitudes side by side.
pub(super) const SEMI_ARCS: Kind = Kind {
    name: "semi-arcs",
    what: "semi-diurnal arcs for five latitudes side by side, to go between in proportion",
    needs: Needs::Latitude,
    define: |ask| Ok(Box::new(SemiArcs::of(ask)?)),
};

struct SemiArcs {
    latitudes: Vec<Latitude>,
    obliquity: Angle,
}

impl SemiArcs {
    /// Five whole degrees of latitude, the asked one among the middle ones.
    fn of(ask: &Ask) -> Result<SemiArcs, TableError> {
        const AT_MOST: f64 = 89.0;
        let asked = ask.latitude_for("semi-arcs")?.deg();
        let first = (asked.floor() - 2.0).clamp(-AT_MOST, AT_MOST - 4.0);
        Ok(SemiArcs {
            latitudes: (0..5)
                .filter_map(|step| Latitude::from_deg(first + f64::from(step)).ok())
                .collect(),
            obliquity: ask.obliquity()?,
        })
    }
}

impl Definition for SemiArcs {
    fn head(&self) -> Head {
        let column = |latitude: &Latitude| {
            let deg = latitude.deg();
            let side = if deg < 0.0 { "S" } else { "N" };
            Column::new(
                &format!("latitude_{deg}_h"),
                &format!("{}° {side}", deg.abs()),
                Form::Span,
            )
        };
        Head {
            title: format!(
                "Semi-diurnal arcs for latitudes in proportion, obliquity {}",
                to_second(self.obliquity)
            ),
            definitions: vec![
                "From the rising of a degree of the ecliptic to its passage of the meridian, in \
                 hours of the stars; twice as much it is above the horizon, and what is wanting \
                 to 12 hours is its nocturnal semi-arc."
                    .to_owned(),
                "Between two latitudes go in proportion. Of the centre, without refraction. A \
                 stroke stands where a degree neither rises nor sets."
                    .to_owned(),
            ],
            argument: Column::new("longitude_deg", "degree", Form::ZodiacDegree),
            columns: self.latitudes.iter().map(column).collect(),
        }
    }

    fn parts(&self) -> Vec<PartOf> {
        by_signs(|sign| sign.name().to_owned())
    }

    fn exact(&self, at: f64) -> Vec<Exact> {
        let arc = |latitude: &Latitude| {
            match horizon_of(*latitude, self.obliquity).course_of_degree(Angle::from_deg(at)) {
                DailyCourse::RisesAndSets(arcs) => Exact::Number(arcs.diurnal().hours()),
                DailyCourse::NeverSets | DailyCourse::NeverRises => Exact::Nothing,
            }
        };
        self.latitudes.iter().map(arc).collect()
    }
}
