use sky::{Angle, Latitude};

use super::kind::{Kind, Needs};
use super::written::{one_part, to_second};
use crate::{Argument, Cell, Column, Definition, Exact, Figure, Form, Head, PartOf};

/// The poles of the houses.
pub(super) const POSITIONS: Kind = Kind {
    name: "positions",
    what: "the heights of the pole above the circles of position of XI, XII, II, III by latitude",
    needs: Needs::Obliquity,
    define: |ask| {
        Ok(Box::new(Positions {
            obliquity: ask.obliquity()?,
        }))
    },
};

struct Positions {
    obliquity: Angle,
}

impl Positions {
    /// The pole under which the end of the ecliptic has a part of the ascensional
    /// difference that it has at a latitude: tan π = sin(part · A) / tan ε, where
    /// sin A = tan φ tan ε. None beyond the polar circles.
    fn by_difference(&self, latitude: Latitude, part: f64) -> Option<f64> {
        let sine = latitude.tan() * self.obliquity.tan();
        if sine.abs() > 1.0 {
            return None;
        }
        let difference = Angle::asin(sine) * part;
        Some(Angle::atan2(difference.sin(), self.obliquity.tan()).deg())
    }
}

impl Definition for Positions {
    fn head(&self) -> Head {
        Head {
            title: format!(
                "Poles of the houses for every latitude, obliquity {}",
                to_second(self.obliquity)
            ),
            definitions: vec![
                "The height of the pole above the circle of position on which a cusp lies: with it \
                 for a latitude, a table of oblique ascensions gives the cusp as it gives the \
                 ascendant (G. Wharton, Works, 1683, pp. 229–237)."
                    .to_owned(),
                "By regiomontanus: its tangent is the latitude's times the sine of 30° for XI and \
                 III, of 60° for XII and II; this is exact."
                    .to_owned(),
                "By thirds of the ascensional difference of the tropic's degree, as used for \
                 placidus (Kirby and Bishop, The Marrow of Astrology, 1687, II, p. 5): one pole for \
                 a house is an approximation, for every degree has its own. A stroke stands beyond \
                 the polar circle."
                    .to_owned(),
            ],
            argument: Column::new("latitude_deg", "latitude", Form::WholeDegrees),
            columns: vec![
                Column::new("regiomontanus_xi_iii_deg", "XI, III", Form::Degrees),
                Column::new("regiomontanus_xii_ii_deg", "XII, II", Form::Degrees),
                Column::new("thirds_xi_iii_deg", "XI, III by thirds", Form::Degrees),
                Column::new("thirds_xii_ii_deg", "XII, II by thirds", Form::Degrees),
            ],
        }
    }

    fn parts(&self) -> Vec<PartOf> {
        one_part((1..=66).map(|deg| Argument {
            at: f64::from(deg),
            written: Cell::Figure(Figure::written(Form::WholeDegrees, f64::from(deg))),
        }))
    }

    fn exact(&self, at: f64) -> Vec<Exact> {
        let Ok(latitude) = Latitude::from_deg(at) else {
            return vec![Exact::Nothing; 4];
        };
        let circle = |deg: f64| {
            let along = Angle::from_deg(deg).sin();
            Angle::atan2(latitude.tan() * along, 1.0).deg()
        };
        vec![
            Exact::Number(circle(30.0)),
            Exact::Number(circle(60.0)),
            self.by_difference(latitude, 1.0 / 3.0).into(),
            self.by_difference(latitude, 2.0 / 3.0).into(),
        ]
    }
}
