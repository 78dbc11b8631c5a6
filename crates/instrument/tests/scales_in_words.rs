//! Scales as people divide, read and name them.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use instrument::{Instrument, Seen, Specification, YearDay};

fn instrument(diameter_mm: u32) -> Instrument {
    let text = format!(
        "version = 1\nname = \"invented\"\ndiameter_mm = {diameter_mm}\nepoch_year = 2025\n\
         plates_deg = [42]\ndate_from = \"zodiac\"\n"
    );
    Instrument::new(Specification::from_toml(&text).unwrap())
}

/// A mark lies on a scale or on an engraved line, to its ends and no further.
#[test]
fn marks_are_named_within_their_scales() {
    for (kind, least, most) in [
        ("limb", -360, 360),
        ("almucantar", -18, 89),
        ("azimuth", 0, 360),
        ("unequal hour", 1, 11),
    ] {
        let is_named = |number: i32| format!("{kind} {number}").parse::<Seen>().is_ok();
        assert!(is_named(least) && is_named(most), "{kind}");
        assert!(!is_named(least - 1) && !is_named(most + 1), "{kind}");
    }
}

/// Tenths of a day are counted from the stroke before, one of them in words.
#[test]
fn a_date_is_said_in_tenths_of_a_day() {
    let instrument = instrument(200);
    let said: Vec<String> = (0..10)
        .map(|tenth| {
            instrument.dates().said(YearDay {
                month: 5,
                day: 14,
                part: f64::from(tenth) / 10.0,
            })
        })
        .collect();
    for tenth in 0..10 {
        let beyond = match tenth {
            0 => "the stroke ".to_owned(),
            1 => "a tenth of a day beyond ".to_owned(),
            more => format!("{more} tenths of a day beyond "),
        };
        let many = said.iter().filter(|one| one.starts_with(&beyond)).count();
        assert_eq!(many, 1, "{beyond:?}: {said:?}");
    }
}

/// A finer division of the calendar would bring strokes nearer together than the least gap,
/// but for days themselves; so it grows finer with the size.
#[test]
fn days_are_divided_as_finely_as_the_least_gap_allows() {
    const STEPS: [u8; 4] = [1, 2, 5, 10];
    let mut seen = Vec::new();
    for diameter_mm in (60..=400).step_by(20) {
        let instrument = instrument(diameter_mm);
        let gap = instrument.fineness().least_gap().mm();
        // The scale lies between half the radius and all of it; the Sun goes 57′ to 61.2′ in
        // a day.
        let radius = f64::from(diameter_mm) / 2.0;
        let of_circle = |arcmin: f64| std::f64::consts::TAU * arcmin / 21_600.0;
        let (least, most) = (0.5 * radius * of_circle(57.0), radius * of_circle(61.2));
        let days = instrument.graduation().calendar_days();
        assert!(f64::from(days) * most >= gap, "{diameter_mm} mm: {days}");
        let finer = STEPS.iter().rev().find(|step| **step < days);
        if let Some(finer) = finer {
            assert!(f64::from(*finer) * least < gap, "{diameter_mm} mm: {days}");
        }
        seen.push(days);
    }
    assert!(seen.is_sorted_by(|one, next| one >= next), "{seen:?}");
}
