use figure::{Mate, MoonsCourse};
use sky::{Body, SkyError};

use super::leaf::{Hangs, Leaf, Made, Opened};
use crate::answer::CellAnswer;

/// The Moon's last and next, and whether she is void of course by two definitions.
pub(super) const LEAF: Leaf = Leaf {
    name: "moon",
    title: "The Moon’s last and next",
    hangs: Hangs::Moment,
    named_by: 1,
    make,
};

fn make(opened: &Opened<'_>) -> Result<Made, SkyError> {
    let mut rows = Vec::new();
    let mut notes = Vec::new();
    match MoonsCourse::of(opened.courses()) {
        None => notes.push("The ephemeris ends too near.".to_owned()),
        Some(moon) => {
            let row = |what: &str, said: String, at: CellAnswer| {
                vec![CellAnswer::said(what), CellAnswer::said(said), at]
            };
            let mate = |mate: Option<Mate>| match mate {
                Some(mate) => (
                    format!("{} of {}", mate.kind.name(), mate.body),
                    opened.at(mate.exact.at),
                ),
                None => ("–".to_owned(), CellAnswer::none()),
            };
            let (last, at) = mate(moon.last);
            rows.push(row("last aspect", last, at));
            let (next, at) = mate(moon.next);
            rows.push(row("next aspect", next, at));
            rows.push(row(
                "entered her sign",
                "–".to_owned(),
                opened.at(moon.entered.at),
            ));
            rows.push(row("leaves it", "–".to_owned(), opened.at(moon.leaves.at)));
            let yes = |is| CellAnswer::yes(is).said;
            rows.push(row(
                "void until she leaves her sign",
                yes(moon.is_void_in_sign()),
                CellAnswer::none(),
            ));
            rows.push(row(
                "void for the next thirty degrees",
                yes(moon.is_void_for_thirty_degrees()),
                opened.at(moon.thirty_degrees.at),
            ));
            if opened.figure.body(Body::Pluto).is_some() {
                notes.push(
                    "Uranus, Neptune and Pluto are among those she meets, as they are shown."
                        .to_owned(),
                );
            }
        }
    }
    Ok(Made {
        sources: vec![
            "void while she is in her sign: Middleton, Practical Astrology (1679), p. 71; Lilly, Christian Astrology (1647; ed. 1852, p. 345)".to_owned(),
            "void for thirty degrees: Antiochus of Athens, in Porphyry’s Introduction, 23 (from memory)".to_owned(),
        ],
        columns: vec!["", "which", "when"],
        rows,
        notes,
    })
}
