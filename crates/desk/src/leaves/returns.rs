use sky::{Angle, Body, Instant, Phase, Sky, SkyError, ingresses, moon_phases, passages};

use super::leaf::{Hangs, Leaf, Made, Opened};
use crate::answer::CellAnswer;

/// Returns of Sun and Moon, lunations and the Sun's ingresses about a moment, each with the
/// angles of its figure at the place.
pub(super) const LEAF: Leaf = Leaf {
    name: "returns",
    title: "Returns, lunations and ingresses",
    hangs: Hangs::Neither,
    named_by: 1,
    make,
};

const DAY_S: f64 = 86_400.0;

fn make(opened: &Opened<'_>) -> Result<Made, SkyError> {
    let figures_own = opened.sky.instant();
    let about = opened
        .finishing
        .on
        .as_ref()
        .map_or(figures_own, |on| on.instant());
    let mut events: Vec<(String, Instant)> = Vec::new();
    for (body, name, days) in [
        (Body::Sun, "return of the Sun", 367.0),
        (Body::Moon, "return of the Moon", 28.5),
    ] {
        let Some(place) = opened.longitude(body) else {
            continue;
        };
        let (from, until) = (
            about.plus_seconds(-days * DAY_S),
            about.plus_seconds(days * DAY_S),
        );
        let found: Result<Vec<Instant>, SkyError> =
            passages(body, place, from, until).and_then(Iterator::collect);
        beside(found?, about, name, &mut events);
    }
    let (from, until) = (
        about.plus_seconds(-30.0 * DAY_S),
        about.plus_seconds(30.0 * DAY_S),
    );
    let moons: Result<Vec<_>, SkyError> = moon_phases(from, until).and_then(Iterator::collect);
    let moons = moons?;
    for (phase, name) in [(Phase::New, "new Moon"), (Phase::Full, "full Moon")] {
        let of_kind = moons.iter().filter(|moon| moon.phase == phase);
        let found = of_kind.map(|moon| moon.instant).collect();
        beside(found, about, name, &mut events);
    }
    let (from, until) = (
        about.plus_seconds(-367.0 * DAY_S),
        about.plus_seconds(367.0 * DAY_S),
    );
    let signs: Result<Vec<_>, SkyError> =
        ingresses(Body::Sun, from, until).and_then(Iterator::collect);
    let signs = signs?;
    for (deg, name) in [
        (0.0, "Sun into Aries"),
        (90.0, "Sun into Cancer"),
        (180.0, "Sun into Libra"),
        (270.0, "Sun into Capricorn"),
    ] {
        let border = Angle::from_deg(deg);
        let there = signs
            .iter()
            .filter(|one| one.border.to(border).abs() < Angle::from_deg(1.0));
        beside(
            there.map(|one| one.instant).collect(),
            about,
            name,
            &mut events,
        );
    }
    let mut rows = Vec::new();
    for (name, instant) in events {
        let sky = Sky::at(instant)?;
        let horizon = opened.finishing.site.horizon(&sky);
        rows.push(vec![
            CellAnswer::said(name),
            opened.at(instant),
            horizon
                .ascendant()
                .map_or_else(|_| CellAnswer::none(), CellAnswer::degree),
            CellAnswer::degree(horizon.midheaven()),
            CellAnswer::degree(sky.sun().longitude),
            CellAnswer::degree(sky.body(Body::Moon).longitude),
        ]);
    }
    Ok(Made {
        sources: vec![
            "returns of the Sun, and the ingress into Aries: Ptolemy, Tetrabiblos II.10 and IV.10, for the principle (from memory); common practice".to_owned(),
        ],
        columns: vec!["", "when", "ascendant", "midheaven", "Sun", "Moon"],
        rows,
        notes: vec![
            "Before and after the moment that is asked about; the ascendant is that of the place \
             of the figure, with the calculated horizon."
                .to_owned(),
        ],
    })
}

/// The last of some moments before another, and the first after it.
fn beside(all: Vec<Instant>, about: Instant, name: &str, events: &mut Vec<(String, Instant)>) {
    let before = all.iter().rev().find(|one| one.seconds_since(about) <= 0.0);
    let after = all.iter().find(|one| one.seconds_since(about) > 0.0);
    events.extend(before.map(|one| (format!("{name}, before"), *one)));
    events.extend(after.map(|one| (format!("{name}, after"), *one)));
}
