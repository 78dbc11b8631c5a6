use figure::{AspectCourse, Chain, Mate};

use sky::SkyError;

use super::leaf::{Hangs, Leaf, Made, Opened};
use crate::answer::CellAnswer;

/// Translation, collection, prohibition, frustration, abscission and refranation.
pub(super) const LEAF: Leaf = Leaf {
    name: "chains",
    title: "Translation, collection, and what hinders an aspect",
    hangs: Hangs::Moment,
    named_by: 3,
    make,
};

fn make(opened: &Opened<'_>) -> Result<Made, SkyError> {
    let courses = opened.courses();
    let aspects = opened.figure.aspects.iter();
    let aspects: Vec<AspectCourse> = aspects
        .map(|aspect| AspectCourse::of(*aspect, courses))
        .collect();
    let link = |mate: &Mate| format!("{} of {}", mate.kind.name(), mate.body);
    let at = |mate: &Mate| opened.at(mate.exact.at);
    let rows = figure::chains(&aspects, courses).into_iter().map(|chain| {
        let (who, how, first, then) = match &chain {
            Chain::Translation { carrier, from, to } => (
                format!("{carrier} carries {} to {}", from.body, to.body),
                format!("from the {}, to the {}", from.kind.name(), to.kind.name()),
                at(from),
                at(to),
            ),
            Chain::Collection {
                collector,
                first,
                second,
            } => (
                format!("{collector} collects {} and {}", first.body, second.body),
                format!("{}, {}", first.kind.name(), second.kind.name()),
                at(first),
                at(second),
            ),
            Chain::Prohibition(one) | Chain::Frustration(one) | Chain::Abscission(one) => (
                format!("{} to {}", one.faster, link(&one.to)),
                format!("{} by {}", one.third, link(&one.with)),
                at(&one.with),
                at(&one.to),
            ),
            Chain::Refranation {
                faster,
                slower,
                kind,
                stops,
            } => (
                format!("{faster} to {} of {slower}", kind.name()),
                "stops drawing nearer".to_owned(),
                opened.at(stops.at),
                CellAnswer::none(),
            ),
        };
        vec![
            CellAnswer::said(chain.name()),
            CellAnswer::said(who),
            CellAnswer::said(how),
            first,
            then,
        ]
    });
    let rows = rows.collect();
    Ok(Made {
        sources: vec![
            "translation, prohibition, refranation and frustration: Middleton, Practical Astrology (1679), pp. 69–72; Lilly, Christian Astrology (1647; ed. 1852, pp. 78–79, 341–345)".to_owned(),
            "collection: Lilly (ed. 1852, p. 79), where the two receive the third; in a translation he asks that the one it parts from receive it (p. 78); both stand under receptions".to_owned(),
            "abscission of light: Bonatti, Liber astronomiae (from memory): a planet in the next sign comes back to the one that is sought".to_owned(),
        ],
        columns: vec!["", "who", "how", "first", "then"],
        rows,
        notes: vec![
            "Only aspects within their orbs take part. A third planet swifter than the one that \
             applies prohibits; a slower one frustrates a conjunction."
                .to_owned(),
        ],
    })
}
