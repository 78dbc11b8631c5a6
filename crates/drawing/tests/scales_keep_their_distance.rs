//! No two strokes of a scale stand closer than the least gap, on any part of any size.

use drawing::{Contour, Item, Making, workpieces};
use instrument::{Instrument, LineId, Point, Specification};
use proptest::prelude::*;

/// Points along a stroke from where it is read; none of what is no stroke.
fn points(contour: &Contour) -> Option<Vec<Point>> {
    /// So many that none leaves a bent stroke by a hundredth of a millimetre.
    const STEPS: u32 = 16;
    let Contour::Path { start, pieces, .. } = contour else {
        return None;
    };
    let mut points = vec![*start];
    let mut at = *start;
    for piece in pieces {
        points.extend((1..=STEPS).map(|n| piece.at(at, f64::from(n) / f64::from(STEPS))));
        at = piece.end();
    }
    Some(points)
}

/// How far two strokes are apart.
fn apart(one: &[Point], other: &[Point]) -> f64 {
    let from = |p: Point, line: &[Point]| {
        let pairs = line.windows(2).map(|pair| {
            let along = pair[1] - pair[0];
            let part = ((p - pair[0]).dot(along) / along.dot(along).max(1e-18)).clamp(0.0, 1.0);
            (p - (pair[0] + along * part)).radius()
        });
        pairs.fold(f64::INFINITY, f64::min)
    };
    let all = |line: &[Point], other: &[Point]| {
        line.iter()
            .map(|p| from(*p, other))
            .fold(f64::INFINITY, f64::min)
    };
    all(one, other).min(all(other, one))
}

fn is_read_by_strokes(line: &LineId) -> bool {
    matches!(
        line,
        LineId::LimbDegrees
            | LineId::LimbHours
            | LineId::AltitudeScale
            | LineId::ZodiacScale
            | LineId::CalendarScale
            | LineId::DateRing
            | LineId::Ecliptic
            | LineId::RuleDeclinations
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn strokes_keep_the_least_gap(
        size in 45.0..400.0_f64, gap in 0.3..0.8_f64, epoch in -500..2600_i32,
        dates in prop::sample::select(vec!["zodiac", "equal-day-ring", "true-sun-ring"]),
        calendar in prop::sample::select(vec!["concentric", "eccentric"]),
    ) {
        let text = format!(
            "version = 1\nname = \"scales\"\ndiameter_mm = {size}\nepoch_year = {epoch}\nplates_deg = [45]\n\
             date_from = \"{dates}\"\nstar_pointers = 1\n[parts]\nleast_gap_mm = {gap}\n\
             calendar_scale = \"{calendar}\"\nrule = \"declinations\"\n"
        );
        let instrument = Instrument::new(Specification::from_toml(&text).unwrap());
        let parts = [Making::Mater, Making::Back, Making::Rete, Making::Rule];
        for piece in workpieces(&instrument, &parts) {
            let mut scales: Vec<(LineId, Vec<Vec<Point>>)> = Vec::new();
            for item in &piece.items {
                let Item::Stroke(trace) = item else { continue };
                let Some(line) = trace.line.clone().filter(|line| trace.scale && is_read_by_strokes(line)) else { continue };
                let strokes = trace.contours.iter().filter_map(points);
                match scales.iter_mut().find(|(known, _)| *known == line) {
                    Some((_, all)) => all.extend(strokes),
                    None => scales.push((line, strokes.collect())),
                }
            }
            for (line, mut strokes) in scales {
                strokes.sort_by(|a, b| a[0].direction().deg().total_cmp(&b[0].direction().deg()));
                for (n, one) in strokes.iter().enumerate() {
                    for other in strokes.iter().skip(n + 1).take(4) {
                        let least = apart(one, other);
                        // The same stroke by two weights is one.
                        let same = (one[0] - other[0]).radius() < 1e-6;
                        prop_assert!(same || least >= gap * 0.999, "{} {line}: {least} of {gap}", piece.name);
                    }
                }
            }
        }
    }
}
