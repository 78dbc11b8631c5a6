use instrument::{Instrument, Minutes, Part, Point};
use sky::Angle;

use crate::measures::Measures;
use crate::scene::{Fill, Group, Item, Layer, Scene};
use crate::workpiece::{Making, Workpiece, workpieces};

/// The back of an instrument, seen from behind with the throne up: its scales, and
/// the alidade with its line on a degree of the zodiac scale.
///
/// The throne itself lies beyond what is shown, as it does on the front.
#[must_use]
pub fn back(instrument: &Instrument, alidade: Angle) -> Scene {
    let measures = Measures::of(instrument);
    let bearing = instrument.back().zodiac(alidade);
    let groups = workpieces(instrument, &[Making::Back, Making::Alidade])
        .into_iter()
        .filter_map(|piece| match piece.part {
            Part::Back => Some(group("back", piece, Angle::ZERO)),
            Part::Alidade if piece.name == "alidade" => Some(group("alidade", piece, bearing)),
            _ => None,
        })
        .collect();
    Scene {
        title: format!("{}, back", instrument.specification().name),
        description: format!(
            "The back of an astrolabe, seen from behind: altitudes, zodiac, calendar and \
             quadrants. The alidade lies on {} of the zodiac scale.",
            Minutes::nearest(alidade.in_turn().deg())
        ),
        reach_mm: measures.mater,
        hair_mm: measures.hair,
        groups,
    }
}

fn group(name: &'static str, piece: Workpiece, turn: Angle) -> Group {
    let mut items = vec![Item::Fill(Fill {
        metal: piece.metal,
        regions: piece.solid.regions(),
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
