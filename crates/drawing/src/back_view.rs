use instrument::{Faults, Instrument, Minutes, Point};
use sky::Angle;

use crate::contour::Contour;
use crate::measures::Measures;
use crate::scene::{Fill, Group, Item, Layer, Region, Scene};
use crate::workpiece::{Shop, Workpiece};

/// The back of an instrument, seen from behind with the throne up: its scales, and
/// the alidade with its line on a degree of the zodiac scale.
///
/// The throne itself lies beyond what is shown, as it does on the front.
#[must_use]
pub fn back(instrument: &Instrument, alidade: Angle) -> Scene {
    let measures = Measures::of(instrument);
    let bearing = instrument.back().zodiac(alidade);
    let sound = instrument.with_faults(Faults::NONE);
    let shop = Shop::new(&sound);
    let (back, alidade_made) = (shop.back(), shop.alidade());
    let disc = within(measures.mater, back.solid.regions());
    let metal = alidade_made.solid.regions();
    let groups = vec![
        group("back", back, disc, Angle::ZERO),
        group("alidade", alidade_made, metal, bearing),
    ];
    Scene {
        title: format!("{}, back", instrument.specification().name),
        description: format!(
            "The back of an astrolabe, seen from behind: altitudes, zodiac, calendar and \
             quadrants. The alidade lies on {} of the zodiac scale.",
            Minutes::nearest(alidade.in_turn().deg())
        ),
        reach_mm: measures.mater,
        upright_mm: measures.mater,
        hair_mm: measures.hair,
        groups,
    }
}

/// The disc of this radius, with the holes of the metal that lie within it: no throne.
fn within(radius_mm: f64, metal: Vec<Region>) -> Vec<Region> {
    let inside = |hole: &Contour| {
        let (low, high) = hole.bounds();
        let corners = [low.x, low.y, high.x, high.y];
        corners
            .iter()
            .all(|side| side.abs() < radius_mm / std::f64::consts::SQRT_2)
    };
    let holes = metal.into_iter().flat_map(|region| region.holes);
    vec![Region {
        outline: Contour::circle(Point::POLE, radius_mm),
        holes: holes.filter(inside).collect(),
    }]
}

fn group(name: &'static str, piece: Workpiece, metal: Vec<Region>, turn: Angle) -> Group {
    let mut items = vec![Item::Fill(Fill {
        metal: piece.metal,
        regions: metal,
        layer: Layer::Cut,
    })];
    items.extend(piece.items);
    Group {
        name,
        part: piece.part,
        title: piece.title,
        turn,
        pole: Point::POLE,
        items,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use instrument::{LineId, Specification};

    /// The alidade's line, turned, lies where the back has the degree engraved.
    #[test]
    fn the_alidade_points_at_its_degree() {
        let text = include_str!("../../../data/cabinet/class.toml");
        let instrument = Instrument::new(Specification::from_toml(text).unwrap());
        let scene = back(&instrument, Angle::from_deg(53.7));
        let names: Vec<&str> = scene.groups.iter().map(|group| group.name).collect();
        assert_eq!(names, ["back", "alidade"]);
        let alidade = &scene.groups[1];
        // 0° Aries on the left, the signs against the clock: 270° − 53.7°.
        assert!((alidade.turn.in_turn().deg() - 216.3).abs() < 1e-9);
        let has_line = alidade.items.iter().any(
            |item| matches!(item, Item::Stroke(trace) if trace.line == Some(LineId::AlidadeLine)),
        );
        assert!(has_line);
    }
}
