use figure::{Appearance, AppearanceKind, Planet, appearances, arcus_visionis_deg};
use sky::{Angle, SkyError};

use super::leaf::{Hangs, Leaf, Made, Opened};
use crate::answer::CellAnswer;

/// Heliacal risings and settings: what was seen last of each planet, and what will be next.
pub(super) const LEAF: Leaf = Leaf {
    name: "appearances",
    title: "First and last appearances: heliacal risings and settings",
    hangs: Hangs::Neither,
    named_by: 1,
    make,
};

/// So many days are looked through at a time, so many times.
const STEP_DAYS: f64 = 120.0;
const STEPS: u32 = 6;

fn make(opened: &Opened<'_>) -> Result<Made, SkyError> {
    let mut rows = Vec::new();
    for planet in Planet::ALL {
        let Some(arc_deg) = arcus_visionis_deg(planet) else {
            continue;
        };
        let last = nearest(opened, planet, -STEP_DAYS)?;
        let next = nearest(opened, planet, STEP_DAYS)?;
        let mut row = vec![
            CellAnswer::planet(planet),
            CellAnswer::arc(Angle::from_deg(arc_deg)),
        ];
        for one in [last, next] {
            row.push(one.map_or_else(CellAnswer::none, |one| CellAnswer::said(said(one.kind))));
            row.push(opened.at_if(one.map(|one| one.instant)));
        }
        rows.push(row);
    }
    Ok(Made {
        sources: vec![
            "Sun so deep that a planet on the horizon is seen: Ptolemy, Almagest XIII.7 (ed. Heiberg 1903, II, pp. 595–597), for clear summer air in Phoenicia".to_owned(),
        ],
        columns: vec!["", "Sun’s depth", "last", "when it was", "next", "when it will be"],
        rows,
        notes: vec![format!(
            "Looked for {:.0} days either way. Weather, hills and the eye make days of difference.",
            STEP_DAYS * f64::from(STEPS)
        )],
    })
}

/// The nearest before the moment, or after it.
fn nearest(
    opened: &Opened<'_>,
    planet: Planet,
    step_days: f64,
) -> Result<Option<Appearance>, SkyError> {
    let site = opened.finishing.casting.site();
    let now = opened.sky.instant();
    let at = |steps: u32| now.plus_seconds(f64::from(steps) * step_days * 86_400.0);
    for step in 0..STEPS {
        let (here, there) = (at(step), at(step + 1));
        let found = if step_days < 0.0 {
            appearances(planet, site, there, here)?.pop()
        } else {
            appearances(planet, site, here, there)?.into_iter().next()
        };
        if found.is_some() {
            return Ok(found);
        }
    }
    Ok(None)
}

const fn said(kind: AppearanceKind) -> &'static str {
    match kind {
        AppearanceKind::MorningFirst => "first morning",
        AppearanceKind::MorningLast => "last morning",
        AppearanceKind::EveningFirst => "first evening",
        AppearanceKind::EveningLast => "last evening",
    }
}
