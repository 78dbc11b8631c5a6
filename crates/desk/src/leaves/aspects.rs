use figure::{AspectCourse, Exact, Side, Stands};

use sky::SkyError;

use super::leaf::{Hangs, Leaf, Made, Opened};
use crate::answer::CellAnswer;

/// Aspects by degree with the moments at which they are exact.
pub(super) const LEAF: Leaf = Leaf {
    name: "perfections",
    title: "Aspects by degree and when they are exact",
    hangs: Hangs::Moment,
    named_by: 3,
    make,
};

fn make(opened: &Opened<'_>) -> Result<Made, SkyError> {
    let courses = opened.courses();
    let mut rows = Vec::new();
    for aspect in &opened.figure.aspects {
        let course = AspectCourse::of(*aspect, courses);
        let exact = |exact: Option<Exact>| opened.at_if(exact.map(|exact| exact.at));
        rows.push(vec![
            CellAnswer::said(aspect.faster.name()),
            CellAnswer::said(aspect.kind.name()),
            CellAnswer::said(aspect.slower.name()),
            course
                .side
                .map(Side::name)
                .map_or_else(CellAnswer::none, CellAnswer::said),
            CellAnswer::yes(aspect.by_sign),
            CellAnswer::arc(aspect.away),
            CellAnswer::arc(aspect.limit),
            CellAnswer::said(if aspect.applying {
                "applying"
            } else {
                "separating"
            }),
            exact(course.before),
            exact(course.after),
            exact(course.turns_back),
            stations(opened, &course.stations),
        ]);
    }
    Ok(Made {
        sources: vec![
            opened.choices().orbs.source().to_owned(),
            "dexter against the order of the signs, sinister with it: common practice".to_owned(),
        ],
        columns: vec![
            "",
            "aspect",
            "to",
            "side",
            "by sign",
            "from exact",
            "orb",
            "now",
            "exact before",
            "exact after",
            "turns back",
            "stations before that",
        ],
        rows,
        notes: vec![format!(
            "By the true motions, to the second; the Moon is looked for a month either way, the \
             others {} days. Where two turn back, they draw nearer and stop before they are exact.",
            figure::Courses::REACH_DAYS
        )],
    })
}

fn stations(opened: &Opened<'_>, stations: &[Stands]) -> CellAnswer {
    let said = stations.iter().map(|one| {
        let turns = if one.turns_retrograde {
            "retrograde"
        } else {
            "direct"
        };
        format!("{} {turns} {}", one.body, opened.at(one.exact.at).said)
    });
    CellAnswer {
        jd_ut: stations.first().map(|one| one.exact.at.jd_ut()),
        ..super::leaf::list(said)
    }
}
