use figure::Planet;
use sky::{SkyError, star_named};

use super::leaf::{Hangs, Leaf, Made, Opened, list};
use crate::answer::CellAnswer;

use Planet::{Jupiter, Mars, Mercury, Moon, Saturn, Venus};

/// Stars of the rete with their magnitudes and natures.
pub(super) const LEAF: Leaf = Leaf {
    name: "stars",
    title: "Stars: places, magnitudes and natures",
    hangs: Hangs::Horizon,
    named_by: 1,
    make,
};

/// Of the nature of which planets, the stronger first: Ptolemy, Tetrabiblos I.9 (from
/// memory), by Hipparcos number.
const NATURES: [(u32, &[Planet]); 22] = [
    (21_421, &[Mars]),
    (49_669, &[Mars, Jupiter]),
    (65_474, &[Venus, Mars]),
    (80_763, &[Mars, Jupiter]),
    (32_349, &[Jupiter, Mars]),
    (37_279, &[Mercury, Mars]),
    (69_673, &[Mars, Jupiter]),
    (91_262, &[Venus, Mercury]),
    (97_649, &[Mars, Jupiter]),
    (27_989, &[Mars, Mercury]),
    (24_436, &[Jupiter, Saturn]),
    (113_368, &[Venus, Mercury]),
    (24_608, &[Mars, Mercury]),
    (36_850, &[Mercury]),
    (37_826, &[Mars]),
    (46_390, &[Saturn, Venus]),
    (76_267, &[Venus, Mercury]),
    (113_963, &[Mars, Mercury]),
    (57_632, &[Saturn, Venus]),
    (14_576, &[Jupiter, Saturn]),
    (30_438, &[Saturn, Jupiter]),
    (17_702, &[Moon, Mars]),
];

fn make(opened: &Opened<'_>) -> Result<Made, SkyError> {
    let horizon = &opened.figure.horizon;
    let border = opened.choices().border;
    let mut rows = Vec::new();
    for (hip, natures) in NATURES {
        let Ok(star) = star_named(&format!("HIP {hip}")) else {
            continue;
        };
        let place = opened.sky.star(star);
        let up = horizon
            .position(place.right_ascension, place.declination)
            .altitude;
        let house = opened.figure.cusps.as_ref().ok();
        let house = house.map(|cusps| border.house_of(cusps, place.longitude));
        rows.push(vec![
            CellAnswer::said(star.label()),
            CellAnswer::degree(place.longitude),
            CellAnswer::arc(place.latitude.angle()),
            house.map_or_else(CellAnswer::none, |house| {
                CellAnswer::said(house.to_string())
            }),
            CellAnswer::said(if up > sky::Angle::ZERO {
                "above"
            } else {
                "below"
            }),
            CellAnswer::number(star.magnitude, 1),
            list(natures),
        ]);
    }
    Ok(Made {
        sources: vec!["natures: Ptolemy, Tetrabiblos I.9 (from memory)".to_owned()],
        columns: vec![
            "",
            "longitude",
            "latitude",
            "house",
            "horizon",
            "magnitude",
            "nature of",
        ],
        rows,
        notes: Vec::new(),
    })
}
