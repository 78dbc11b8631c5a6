use sky::{Angle, SkyError};

use super::leaf::{Hangs, Leaf, Made, Opened};
use crate::answer::CellAnswer;

/// Antiscia and parallels, with the moments at which they are exact.
pub(super) const LEAF: Leaf = Leaf {
    name: "antiscia",
    title: "Antiscia and parallels of declination",
    hangs: Hangs::Moment,
    named_by: 2,
    make,
};

fn make(opened: &Opened<'_>) -> Result<Made, SkyError> {
    const WITHIN: Angle = Angle::from_deg(1.0);
    let courses = opened.courses();
    let found = opened.figure.declinations(opened.sky, courses, WITHIN);
    let rows = found.into_iter().map(|one| {
        vec![
            CellAnswer::said(format!("{} and {}", one.faster, one.slower)),
            CellAnswer::said(one.meeting.name()),
            CellAnswer::arc(one.away),
            opened.at_if(one.before.map(|exact| exact.at)),
            opened.at_if(one.after.map(|exact| exact.at)),
        ]
    });
    Ok(Made {
        sources: vec![
            "antiscia: Middleton, Practical Astrology (1679), pp. 53–56".to_owned(),
            "parallels, and within 1° of both: common practice".to_owned(),
        ],
        columns: vec!["", "meeting", "from exact", "exact before", "exact after"],
        rows: rows.collect(),
        notes: Vec::new(),
    })
}
