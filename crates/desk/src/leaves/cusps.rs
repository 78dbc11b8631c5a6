use figure::{Dignities, Dignity, House, sign_and_degree};

use sky::SkyError;

use super::leaf::{Hangs, Leaf, Made, Opened, list};
use crate::answer::CellAnswer;

/// The lords of the cusps, where they stand, and the signs that no cusp is in.
pub(super) const LEAF: Leaf = Leaf {
    name: "lords",
    title: "Lords of the cusps",
    hangs: Hangs::Horizon,
    named_by: 1,
    make,
};

fn make(opened: &Opened<'_>) -> Result<Made, SkyError> {
    let figure = opened.figure;
    let tables = opened.choices().dignities;
    let mut rows = Vec::new();
    let mut notes = Vec::new();
    match &figure.cusps {
        Ok(cusps) => {
            for house in House::ALL {
                let cusp = cusps.get(house);
                let rulers = tables.rulers(cusp);
                let lord = figure.body(rulers.rulership.body());
                let has = lord
                    .and_then(|lord| lord.dignities.as_ref())
                    .map(|dignities| {
                        Dignities::all(dignities)
                            .map(Dignity::name)
                            .collect::<Vec<_>>()
                    });
                let lords_house = lord.and_then(|lord| lord.house);
                rows.push(vec![
                    CellAnswer::said(format!("cusp {house}")),
                    CellAnswer::said(rulers.sign.name()),
                    CellAnswer::degree(cusp),
                    CellAnswer::planet(rulers.rulership),
                    lord.map_or_else(CellAnswer::none, |lord| {
                        CellAnswer::degree(lord.place.longitude)
                    }),
                    lords_house.map_or_else(CellAnswer::none, |house| {
                        CellAnswer::said(house.to_string())
                    }),
                    list(has.unwrap_or_default()),
                    list(tables.almutens(cusp, figure.sect)),
                ]);
            }
            for (sign, house) in cusps.intercepted() {
                notes.push(format!("{} is intercepted in house {house}.", sign.name()));
            }
            for house in House::ALL {
                let sign = |house| sign_and_degree(cusps.get(house)).0;
                if sign(house) == sign(house.next()) {
                    notes.push(format!(
                        "{} is on cusps {house} and {}.",
                        sign(house).name(),
                        house.next()
                    ));
                }
            }
        }
        Err(none) => notes.push(format!("{none}.")),
    }
    Ok(Made {
        sources: vec![
            tables.points.source().to_owned(),
            tables.terms.source().to_owned(),
            tables.triplicities.source().to_owned(),
        ],
        columns: vec![
            "",
            "sign",
            "degree",
            "lord",
            "stands at",
            "in house",
            "which is its",
            "almuten",
        ],
        rows,
        notes,
    })
}
