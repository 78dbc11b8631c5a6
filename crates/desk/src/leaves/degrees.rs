use figure::{MansionZodiac, TermTable, dodecatemorion, sign_and_degree};
use sky::{Angle, SkyError};

use super::leaf::{Hangs, Leaf, Made, Opened, list};
use crate::answer::CellAnswer;

/// What each degree belongs to: terms of every kind, face, twelfth part, mansion.
pub(super) const LEAF: Leaf = Leaf {
    name: "degrees",
    title: "Terms of every kind, faces, dodecatemoria, mansions",
    hangs: Hangs::Horizon,
    named_by: 1,
    make,
};

fn make(opened: &Opened<'_>) -> Result<Made, SkyError> {
    let figure = opened.figure;
    let tables = opened.choices().dignities;
    let mut places: Vec<(String, Angle)> = figure
        .ascendant
        .ok()
        .map(|at| ("ascendant".to_owned(), at))
        .into_iter()
        .collect();
    places.push(("midheaven".to_owned(), figure.midheaven));
    let bodies = figure.bodies.iter();
    places.extend(bodies.map(|one| (one.body.name().to_owned(), one.place.longitude)));
    places.extend(opened.fortune().map(|at| ("lot of Fortune".to_owned(), at)));
    let rows = places.into_iter().map(|(name, at)| {
        let (sign, deg) = sign_and_degree(at);
        let term = |table: TermTable| CellAnswer::planet(table.at(sign, deg).ruler);
        let mansion =
            |zodiac: MansionZodiac| CellAnswer::number(f64::from(zodiac.at(at).number), 0);
        vec![
            CellAnswer::said(name),
            CellAnswer::degree(at),
            term(TermTable::Egyptian),
            term(TermTable::Ptolemy),
            term(TermTable::Lilly),
            CellAnswer::planet(tables.rulers(at).face),
            CellAnswer::degree(dodecatemorion(at)),
            mansion(MansionZodiac::Tropical),
            mansion(MansionZodiac::Ramesey),
            list(tables.almutens(at, figure.sect)),
        ]
    });
    let mut sources: Vec<String> = TermTable::ALL
        .iter()
        .map(|table| format!("terms, {}: {}", table.name(), table.source()))
        .collect();
    sources.push("dodecatemoria: Firmicus Maternus, Mathesis II.13 (from memory)".to_owned());
    sources.extend(MansionZodiac::ALL.map(|zodiac| zodiac.source().to_owned()));
    Ok(Made {
        sources,
        columns: vec![
            "",
            "degree",
            "Egyptian term",
            "Ptolemy’s term",
            "Lilly’s term",
            "face",
            "dodecatemorion",
            "mansion from 0° Aries",
            "mansion from 20°06′ Aries",
            "almuten",
        ],
        rows: rows.collect(),
        notes: Vec::new(),
    })
}
