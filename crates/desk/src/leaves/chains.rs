use figure::{AspectCourse, Between, Chain, Mate};

use sky::SkyError;

use super::leaf::{Leaf, Made, Opened};
use crate::answer::CellAnswer;

/// Translation, collection, prohibition, frustration, abscission and refranation.
pub(super) const LEAF: Leaf = Leaf {
    name: "chains",
    title: "Translation, collection, and what hinders an aspect",
    on_horizon: false,
    make,
};

fn make(opened: &Opened<'_>) -> Result<Made, SkyError> {
    let courses = opened.courses();
    let aspects = opened.figure.aspects.iter();
    let aspects: Vec<AspectCourse> = aspects
        .map(|aspect| AspectCourse::of(*aspect, courses))
        .collect();
    let link = |mate: &Mate| {
        format!(
            "{} of {} {}",
            mate.kind.name(),
            mate.body,
            opened.at(mate.exact.at).said
        )
    };
    let between = |one: &Between| {
        (
            format!("{} to {}", one.faster, link(&one.to)),
            format!("{} by {}", one.third, link(&one.with)),
        )
    };
    let rows = figure::chains(&aspects, courses).into_iter().map(|chain| {
        let (what, how) = match &chain {
            Chain::Translation { carrier, from, to } => (
                format!("{carrier} carries {} to {}", from.body, to.body),
                format!("from the {}, to the {}", link(from), link(to)),
            ),
            Chain::Collection {
                collector,
                first,
                second,
            } => (
                format!("{collector} collects {} and {}", first.body, second.body),
                format!("{}, {}", link(first), link(second)),
            ),
            Chain::Prohibition(one) | Chain::Frustration(one) | Chain::Abscission(one) => {
                between(one)
            }
            Chain::Refranation {
                faster,
                slower,
                kind,
                stops,
            } => (
                format!("{faster} to {} of {slower}", kind.name()),
                format!("stops drawing nearer {}", opened.at(stops.at).said),
            ),
        };
        vec![
            CellAnswer::said(chain.name()),
            CellAnswer::said(what),
            CellAnswer::said(how),
        ]
    });
    let rows = rows.collect();
    Ok(Made {
        sources: vec![
            "translation, prohibition, refranation and frustration: Middleton, Practical Astrology (1679), pp. 69–72; Lilly, Christian Astrology (1647; ed. 1852, pp. 78–79, 341–345)".to_owned(),
            "collection: Lilly (ed. 1852, p. 79); whether the two receive the third stands under receptions".to_owned(),
            "abscission of light: Bonatti, Liber astronomiae (from memory): a planet in the next sign comes back to the one that is sought".to_owned(),
        ],
        columns: vec!["", "who", "how and when"],
        rows,
        notes: vec![
            "Only aspects within their orbs take part. A third planet swifter than the one that \
             applies prohibits; a slower one frustrates a conjunction."
                .to_owned(),
        ],
    })
}
