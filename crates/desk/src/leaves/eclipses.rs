use figure::{SolarKind, lunar_eclipses, solar_eclipses};
use sky::{Body, Instant, Sky, SkyError};

use super::leaf::{Hangs, Leaf, Made, Opened};
use crate::answer::CellAnswer;

/// The eclipses of the year before the moment.
pub(super) const LEAF: Leaf = Leaf {
    name: "eclipses",
    title: "Eclipses before the moment",
    hangs: Hangs::Neither,
    named_by: 1,
    make,
};

fn make(opened: &Opened<'_>) -> Result<Made, SkyError> {
    /// Thirteen months, in which both kinds fall.
    const BEFORE_S: f64 = 400.0 * 86_400.0;
    let until = opened.sky.instant();
    let from = until.plus_seconds(-BEFORE_S);
    let mut found: Vec<(Instant, &str, String, Body)> = Vec::new();
    for eclipse in solar_eclipses(from, until)? {
        let kind = match eclipse.kind {
            SolarKind::Partial => "partial",
            SolarKind::Annular => "annular",
            SolarKind::Total => "total",
        };
        let here = eclipse.at(opened.finishing.site)?;
        let seen = here.map_or_else(
            || "not seen from the place".to_owned(),
            |here| format!("{:.2} of the Sun’s diameter from the place", here.magnitude),
        );
        found.push((
            eclipse.greatest,
            "Sun",
            format!("{kind}, {seen}"),
            Body::Sun,
        ));
    }
    for eclipse in lunar_eclipses(from, until)? {
        let (kind, magnitude) = if eclipse.total.is_some() {
            ("total", eclipse.umbral_magnitude)
        } else if eclipse.umbra.is_some() {
            ("partial", eclipse.umbral_magnitude)
        } else {
            ("penumbral", eclipse.penumbral_magnitude)
        };
        let how = format!("{kind}, magnitude {magnitude:.2}");
        found.push((eclipse.greatest, "Moon", how, Body::Moon));
    }
    found.sort_by(|a, b| {
        a.0.seconds_since(until)
            .total_cmp(&b.0.seconds_since(until))
    });
    let mut rows = Vec::new();
    for (greatest, of, how, body) in found {
        let sky = Sky::at(greatest)?;
        rows.push(vec![
            CellAnswer::said(format!("eclipse of the {of}")),
            opened.at(greatest),
            CellAnswer::degree(sky.body(body).longitude),
            CellAnswer::said(how),
        ]);
    }
    Ok(Made {
        sources: vec![
            "eclipses before an event: Ptolemy, Tetrabiblos II.4 (tr. Ashmand 1822, pp. 52–53)"
                .to_owned(),
        ],
        columns: vec!["", "greatest", "degree", "how"],
        rows,
        notes: Vec::new(),
    })
}
