//! The words at the foot of a drawing's page, and how they keep within narrow paper.

use drawing::{Face, text_width};
use instrument::Point;

/// The type of the words beside the line by which a page's scale is checked.
pub(crate) const CHECK_FACE: Face = Face::Italic;

/// The size at which a text is no broader than its room, and no larger than is usual.
pub(crate) fn no_broader(text: &str, face: Face, usual_mm: f64, room_mm: f64) -> f64 {
    usual_mm.min(room_mm / text_width(text, face))
}

/// Words beside or above the line by which a page's scale is checked: from the line's left
/// end, with the size of their type.
pub(crate) type CheckWords = (Point, f64, String);

/// What that line says: beside it, and on narrow pages above it.
pub(crate) fn check_words(room_mm: f64) -> Vec<CheckWords> {
    const USUAL_MM: f64 = 2.7;
    const BESIDE_MM: f64 = 103.0;
    let measured = "From end to end 100 mm. If it is not, print again at 100 %,";
    let how = "“actual size”, without fitting to the page.";
    let at = |x: f64, y: f64| Point { x, y };
    if BESIDE_MM + USUAL_MM * text_width(measured, CHECK_FACE) <= room_mm {
        return vec![
            (at(BESIDE_MM, -2.2), USUAL_MM, measured.to_owned()),
            (at(BESIDE_MM, 0.9), USUAL_MM, how.to_owned()),
        ];
    }
    let all = format!("{measured} {how}");
    let size = no_broader(&all, CHECK_FACE, USUAL_MM, room_mm);
    vec![(at(0.0, -4.2), size, all)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::order::PageSize;
    use crate::page::room;

    /// On every paper, from the narrowest on, the foot stays within the margins and can be
    /// read: type of 2.2 mm and more (common practice: 6 points).
    #[test]
    fn the_foot_keeps_within_the_paper() {
        let notes = "An instrument with a long name — mater: the limb, with throne and notch — row 2 \
                     of 2, column 2 of 2: lay the crosses on one another";
        let mut narrow = 0;
        for width_mm in 148..=2000 {
            let width_mm = f64::from(width_mm);
            let (room, _) = room(PageSize {
                width_mm,
                height_mm: 297.0,
            });
            let words = check_words(room);
            narrow += usize::from(words.len() == 1);
            for (at, size, text) in words {
                let end = at.x + size * text_width(&text, CHECK_FACE);
                assert!(
                    end <= room + 1e-9 && size >= 2.2,
                    "{width_mm}: {end} {size}"
                );
            }
            let size = no_broader(notes, Face::Roman, 3.1, room);
            let end = size * text_width(notes, Face::Roman);
            assert!(
                end <= room + 1e-9 && size >= 2.2,
                "{width_mm}: {end} {size}"
            );
        }
        assert!(narrow > 20, "{narrow}");
    }
}
