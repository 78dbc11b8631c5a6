use figure::{Distribution, YEAR_DAYS, distributions};
use sky::{Angle, SkyError};

use super::leaf::{Hangs, Leaf, Made, Opened};
use crate::answer::CellAnswer;

/// The ascendant directed through the terms.
pub(super) const LEAF: Leaf = Leaf {
    name: "distributors",
    title: "Distributors: the ascendant through the terms",
    hangs: Hangs::Horizon,
    named_by: 1,
    make,
};

fn make(opened: &Opened<'_>) -> Result<Made, SkyError> {
    const UNTIL: Angle = Angle::from_deg(100.0);
    let figure = opened.figure;
    let terms = opened.choices().dignities.terms;
    let found = figure
        .ascendant
        .and_then(|ascendant| distributions(&figure.horizon, ascendant, terms, UNTIL));
    let birth = opened.sky.instant();
    let mut notes = vec![
        "On the rete: lay each degree on the eastern horizon; the turn from the ascendant is the \
         arc."
            .to_owned(),
    ];
    let mut rows = Vec::new();
    match found {
        Ok(found) => {
            for (index, one) in found.into_iter().enumerate() {
                let years = one.arc.deg();
                let name = if index == 0 {
                    format!("{} at the ascendant", one.ruler)
                } else {
                    format!("{} from {}", one.ruler, sky::Zodiacal(one.begins))
                };
                rows.push(vec![
                    CellAnswer::said(name),
                    CellAnswer::degree(one.begins),
                    CellAnswer::arc(one.arc),
                    CellAnswer::number(years, 2),
                    opened.at(birth.plus_seconds(years * YEAR_DAYS * 86_400.0)),
                ]);
            }
        }
        Err(none) => notes.push(format!("{none}.")),
    }
    Ok(Made {
        sources: vec![Distribution::SOURCE.to_owned(), terms.source().to_owned()],
        columns: vec!["", "term begins", "arc", "age", "when"],
        rows,
        notes,
    })
}
