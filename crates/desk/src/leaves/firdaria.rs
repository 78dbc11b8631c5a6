use figure::{Firdaria, FirdariaByNight, Sect, YEAR_DAYS, firdaria};

use sky::SkyError;

use super::leaf::{Hangs, Leaf, Made, Opened};
use crate::answer::CellAnswer;

/// The firdaria with their parts; by night in both orders.
pub(super) const LEAF: Leaf = Leaf {
    name: "firdaria",
    title: "Firdaria",
    hangs: Hangs::Horizon,
    named_by: 1,
    make,
};

fn make(opened: &Opened<'_>) -> Result<Made, SkyError> {
    let sect = opened.figure.sect;
    let orders: &[(FirdariaByNight, &str)] = match sect {
        Sect::Day => &[(FirdariaByNight::NodesLast, "by day")],
        Sect::Night => &[
            (FirdariaByNight::NodesLast, "by night, nodes last"),
            (
                FirdariaByNight::NodesAfterMars,
                "by night, nodes after Mars",
            ),
        ],
    };
    let birth = opened.sky.instant();
    let at = |years: f64| opened.at(birth.plus_seconds(years * YEAR_DAYS * 86_400.0));
    let mut rows = Vec::new();
    for (by_night, order) in orders {
        for period in firdaria(sect, *by_night) {
            let mut row = |part: &str, from: f64, until: f64| {
                rows.push(vec![
                    CellAnswer::said(format!("{order}: {}{part}", period.lord.name())),
                    CellAnswer::number(from, 2),
                    CellAnswer::number(until, 2),
                    at(from),
                    at(until),
                ]);
            };
            row("", period.from, period.until);
            for (planet, from, until) in &period.parts {
                row(&format!(", {planet}"), *from, *until);
            }
        }
    }
    Ok(Made {
        sources: vec![Firdaria::SOURCE.to_owned()],
        columns: vec!["", "from age", "to age", "begins", "ends"],
        rows,
        notes: Vec::new(),
    })
}
