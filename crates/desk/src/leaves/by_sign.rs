use figure::AspectKind;

use sky::SkyError;

use super::leaf::{Hangs, Leaf, Made, Opened};
use crate::answer::CellAnswer;

/// Aspects by sign, whether or not the degrees are near.
pub(super) const LEAF: Leaf = Leaf {
    name: "by-sign",
    title: "Aspects by sign",
    hangs: Hangs::Moment,
    named_by: 1,
    make,
};

fn make(opened: &Opened<'_>) -> Result<Made, SkyError> {
    let bodies = &opened.figure.bodies;
    let mut rows = Vec::new();
    for (index, one) in bodies.iter().enumerate() {
        for other in bodies.iter().skip(index + 1) {
            let (a, b) = (one.place.longitude, other.place.longitude);
            let Some(kind) = AspectKind::by_sign(a, b) else {
                continue;
            };
            let by_degree = opened.figure.aspects.iter().any(|aspect| {
                let pair = (aspect.faster, aspect.slower);
                aspect.kind == kind
                    && (pair == (one.body, other.body) || pair == (other.body, one.body))
            });
            rows.push(vec![
                CellAnswer::said(format!("{} and {}", one.body, other.body)),
                CellAnswer::said(kind.name()),
                CellAnswer::arc(a.to(b).abs() - kind.arc()),
                CellAnswer::yes(by_degree),
            ]);
        }
    }
    Ok(Made {
        sources: vec!["Ptolemy, Tetrabiblos I.13".to_owned()],
        columns: vec!["", "aspect", "from exact", "by degree too"],
        rows,
        notes: Vec::new(),
    })
}
