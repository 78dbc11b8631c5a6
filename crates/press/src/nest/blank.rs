use drawing::Workpiece;
use instrument::{Instrument, Part, Point};

use super::stock::Stock;
use crate::chords::chords;
use crate::ink::Inked;

/// A part as it is cut of a sheet: its edges, and what is engraved on its sides.
#[derive(Clone)]
pub(super) struct Blank {
    /// Its name, such as `plate-1`; among parts of several instruments with the number of
    /// its own before it.
    pub(super) name: String,
    /// What the part is called, and its sheet, whatever the number of its instrument.
    part: [String; 2],
    /// The name of its instrument.
    pub(super) instrument: String,
    pub(super) thickness_mm: f64,
    pub(super) area_mm2: f64,
    /// The material that it is to be of, if that is said.
    pub(super) material: Option<String>,
    /// The edges of its metal, in chords.
    pub(super) rings: Vec<Vec<Point>>,
    pub(super) front: Inked,
    pub(super) back: Option<Inked>,
}

/// Edges are followed this closely when room is sought: a part may reach so far beyond its
/// chords.
pub(super) const SAGITTA_MM: f64 = 0.01;

impl Blank {
    /// The blanks of an instrument, of each as many as are needed. The pin is turned, and
    /// none of them. `of` numbers the instrument among several.
    pub(super) fn all(
        instrument: &Instrument,
        of: Option<usize>,
        made: Vec<(Workpiece, Inked)>,
    ) -> Vec<Blank> {
        let mut blanks: Vec<(u16, Blank)> = Vec::new();
        for (piece, inked) in made {
            if piece.part == Part::Pin {
                continue;
            }
            let name = match of {
                Some(number) => format!("{number}-{}", piece.sheet),
                None => piece.sheet.clone(),
            };
            if let Some((_, other)) = blanks.iter_mut().find(|(_, blank)| blank.name == name) {
                other.back = Some(inked);
                continue;
            }
            let blank = Blank {
                name,
                part: [piece.name.clone(), piece.sheet.clone()],
                instrument: instrument.specification().name.clone(),
                thickness_mm: piece.thickness.mm(),
                area_mm2: piece.solid.area_mm2(),
                material: None,
                rings: piece
                    .solid
                    .edges()
                    .map(|edge| chords(edge, SAGITTA_MM))
                    .collect(),
                front: inked,
                back: None,
            };
            blanks.push((piece.count, blank));
        }
        let copies = |(count, blank): (u16, Blank)| std::iter::repeat_n(blank, usize::from(count));
        blanks.into_iter().flat_map(copies).collect()
    }

    /// Whether it is meant by a name: its own, that of its sheet, with the number of its
    /// instrument or without, or `plates` for each.
    pub(super) fn is(&self, name: &str) -> bool {
        let [_, sheet] = &self.part;
        let is_plate = name == "plates" && sheet.starts_with("plate-");
        self.name == name || self.part.iter().any(|one| one == name) || is_plate
    }

    /// Whether it may be cut of sheets of a kind.
    pub(super) fn takes(&self, stock: &Stock) -> bool {
        /// Thicknesses are stated to a hundredth of a millimetre.
        const SAME_MM: f64 = 0.005;
        let is_material = |wanted: &String| wanted.eq_ignore_ascii_case(&stock.material);
        (self.thickness_mm - stock.thickness_mm).abs() < SAME_MM
            && self.material.as_ref().is_none_or(is_material)
    }
}
