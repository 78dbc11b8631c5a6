use figure::sign_and_degree;
use sky::{Angle, Body, Sign, SkyError};

use super::leaf::{Leaf, Made, Opened};
use crate::answer::CellAnswer;

/// What is looked at before a question is judged.
pub(super) const LEAF: Leaf = Leaf {
    name: "considerations",
    title: "Considerations before judgement",
    on_horizon: true,
    make,
};

fn make(opened: &Opened<'_>) -> Result<Made, SkyError> {
    let figure = opened.figure;
    let tables = opened.choices().dignities;
    let row = |what: &str, is: Option<bool>| {
        vec![
            CellAnswer::said(what),
            is.map_or_else(CellAnswer::none, CellAnswer::yes),
        ]
    };
    let ascendant = figure.ascendant.ok();
    let rising = ascendant.map(|at| sign_and_degree(at).1);
    let hour = figure.hour.as_ref().ok().map(|hour| hour.ruler);
    let lord = ascendant.map(|at| tables.rulers(at).rulership);
    let same = hour.zip(lord).map(|(hour, lord)| hour == lord);
    let triplicity = hour.zip(ascendant).map(|(hour, at)| {
        let triplicity = tables.rulers(at).triplicity;
        [
            Some(triplicity.day),
            Some(triplicity.night),
            triplicity.always,
        ]
        .contains(&Some(hour))
    });
    let burnt = opened.longitude(Body::Moon).map(|moon| {
        let from = Sign::Libra.begins() + Angle::from_deg(15.0);
        (moon - from).in_turn() < Angle::from_deg(30.0)
    });
    Ok(Made {
        sources: vec![
            "Middleton, Practical Astrology (1679), pp. 95–97; the burnt way from 15° Libra to 15° Scorpio, p. 97".to_owned(),
        ],
        columns: vec!["", "is so"],
        rows: vec![
            row("the first two degrees of a sign rise", rising.map(|deg| deg < 2.0)),
            row("the last degrees of a sign rise, from 28°", rising.map(|deg| deg >= 28.0)),
            row("the hour is of the lord of the ascendant", same),
            row("the hour’s planet rules the ascendant’s triplicity", triplicity),
            row("the Moon is in the burnt way", burnt),
        ],
        notes: Vec::new(),
    })
}
