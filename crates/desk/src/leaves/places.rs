use figure::{House, Placed};
use sky::{Angle, SkyError};

use super::leaf::{Hangs, Leaf, Made, Opened};
use crate::answer::CellAnswer;

/// Angles, cusps, bodies, nodes and lots in one table.
pub(super) const LEAF: Leaf = Leaf {
    name: "places",
    title: "All places",
    hangs: Hangs::Horizon,
    named_by: 1,
    make,
};

fn make(opened: &Opened<'_>) -> Result<Made, SkyError> {
    let figure = opened.figure;
    let house = |house: Option<House>| {
        house.map_or_else(CellAnswer::none, |house| {
            CellAnswer::said(house.to_string())
        })
    };
    let border = opened.choices().border;
    let in_house = |at: Angle| {
        figure
            .cusps
            .as_ref()
            .ok()
            .map(|cusps| border.house_of(cusps, at))
    };
    let bare = |name: String, at: Option<Angle>, held: Option<House>| {
        let mut row = vec![
            CellAnswer::said(name),
            at.map_or_else(CellAnswer::none, CellAnswer::degree),
            house(held),
        ];
        row.resize_with(7, CellAnswer::none);
        row
    };
    let mut rows = vec![
        bare("ascendant".to_owned(), figure.ascendant.ok(), None),
        bare("midheaven".to_owned(), Some(figure.midheaven), None),
    ];
    if let Ok(cusps) = &figure.cusps {
        for house in House::ALL {
            rows.push(bare(format!("cusp {house}"), Some(cusps.get(house)), None));
        }
    }
    rows.extend(figure.bodies.iter().map(|placed| {
        let Placed { place, motion, .. } = placed;
        vec![
            CellAnswer::said(placed.body.name()),
            CellAnswer::degree(place.longitude),
            house(placed.house),
            CellAnswer::arc(place.latitude.angle()),
            CellAnswer::arc(place.declination.angle()),
            CellAnswer::arc(motion.speed),
            motion.mean.map_or_else(CellAnswer::none, CellAnswer::arc),
        ]
    }));
    let (north, its_house) = figure.north_node;
    let south = (north + Angle::HALF_TURN).in_turn();
    rows.push(bare("north node".to_owned(), Some(north), its_house));
    rows.push(bare("south node".to_owned(), Some(south), in_house(south)));
    for (lot, place) in opened.choices().lots.all().iter().zip(&figure.lots) {
        let at = place.map(|(longitude, _)| longitude);
        let held = place.and_then(|(_, house)| house);
        rows.push(bare(format!("lot of {}", lot.name), at, held));
    }
    Ok(Made {
        sources: vec![
            opened.choices().method.source().to_owned(),
            "mean motions: Middleton, Practical Astrology (1679), p. 58".to_owned(),
        ],
        columns: vec![
            "",
            "longitude",
            "house",
            "latitude",
            "declination",
            "in a day",
            "mean",
        ],
        rows,
        notes: Vec::new(),
    })
}
