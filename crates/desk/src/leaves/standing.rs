use figure::Planet;

use sky::SkyError;

use super::leaf::{Hangs, Leaf, Made, Opened};
use crate::answer::CellAnswer;

/// Day and night, joys, and the halves of the circle.
pub(super) const LEAF: Leaf = Leaf {
    name: "standing",
    title: "Day and night, joys and halves of the circle",
    hangs: Hangs::Horizon,
    named_by: 1,
    make,
};

fn make(opened: &Opened<'_>) -> Result<Made, SkyError> {
    let mut rows = Vec::new();
    for planet in Planet::ALL {
        let Some(standing) = opened.figure.standing(planet) else {
            continue;
        };
        let either = |is: Option<bool>, yes: &str, no: &str| {
            is.map_or_else(CellAnswer::none, |is| {
                CellAnswer::said(if is { yes } else { no })
            })
        };
        rows.push(vec![
            CellAnswer::planet(planet),
            either(Some(standing.diurnal), "day", "night"),
            CellAnswer::yes(standing.of_the_time),
            CellAnswer::yes(standing.on_its_side),
            CellAnswer::yes(standing.in_its_sign),
            CellAnswer::yes(standing.hayz()),
            standing.joy.map_or_else(CellAnswer::none, CellAnswer::yes),
            either(standing.oriental, "before the Sun", "after the Sun"),
            either(standing.eastern, "eastern", "western"),
            either(Some(standing.up), "above", "below"),
        ]);
    }
    Ok(Made {
        sources: vec![
            "day and night: Ptolemy, Tetrabiblos I.7, where Mercury belongs to the day while he rises before the Sun".to_owned(),
            "masculine and feminine signs: Ptolemy, Tetrabiblos I.12".to_owned(),
            "hayz: al-Bīrūnī, Tafhīm §496 (from memory), with Mars in a masculine sign".to_owned(),
            "joys: Lilly, Christian Astrology (1647; ed. 1852, pp. 28–34); Paulus of Alexandria, Introduction 24 (from memory)".to_owned(),
        ],
        columns: vec![
            "",
            "belongs to",
            "figure of its half",
            "on its side of the horizon",
            "in a sign of its sex",
            "hayz",
            "joy",
            "rises",
            "half",
            "horizon",
        ],
        rows,
        notes: Vec::new(),
    })
}
