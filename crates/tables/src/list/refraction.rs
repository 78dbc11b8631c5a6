use figure::Refraction as Air;
use sky::Angle;

use super::kind::{Kind, Needs};
use super::written::one_part;
use crate::{Argument, Cell, Column, Definition, Exact, Figure, Form, Head, PartOf};

/// Mean refraction.
pub(super) const REFRACTION: Kind = Kind {
    name: "refraction",
    what: "how much the air raises what is seen, by its altitude",
    needs: Needs::Nothing,
    define: |_| Ok(Box::new(Refraction)),
};

struct Refraction;

/// Altitudes in sixths of a degree up to the first, then coarser.
const STEPS: [(u32, u32, u32); 4] = [(0, 60, 1), (60, 120, 3), (120, 240, 6), (240, 541, 30)];

impl Definition for Refraction {
    fn head(&self) -> Head {
        Head {
            title: "Mean refraction".to_owned(),
            definitions: vec![
                "How much the air has raised what is seen at an altitude: take it off for the true \
                 altitude. At 10 °C and 1010 hPa; Sæmundsson's formula (Sky and Telescope 72, 1986, \
                 p. 70). Near the horizon the weather changes it by minutes, and now and then by \
                 much more."
                    .to_owned(),
                "Never sight the Sun directly: let its light fall through the pinnules.".to_owned(),
            ],
            argument: Column::new("seen_altitude_deg", "seen", Form::Degrees),
            columns: vec![Column::new("refraction_arcmin", "refraction, ′", Form::Number(1))],
        }
    }

    fn parts(&self) -> Vec<PartOf> {
        let sixths = STEPS
            .iter()
            .flat_map(|(from, to, step)| (*from..*to).step_by(*step as usize));
        one_part(sixths.map(|sixth| {
            let at = f64::from(sixth) / 6.0;
            Argument {
                at,
                written: Cell::Figure(Figure::written(Form::Degrees, at)),
            }
        }))
    }

    fn exact(&self, at: f64) -> Vec<Exact> {
        let raised = Air::Mean.of_seen(Angle::from_deg(at));
        vec![Exact::Number(raised.deg() * 60.0)]
    }
}
