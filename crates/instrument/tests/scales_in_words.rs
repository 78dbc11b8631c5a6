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

/// A finer division would bring strokes nearer together than the least gap, a coarser one is
/// not needed. Every scale lies between half the radius and all of it; the Sun goes 57′ to
/// 61.2′ in a day.
#[test]
fn scales_are_divided_as_finely_as_the_least_gap_allows() {
    for diameter_mm in (60..=400).step_by(20) {
        let instrument = instrument(diameter_mm);
        let gap = instrument.fineness().least_gap().mm();
        let radius = f64::from(diameter_mm) / 2.0;
        let graduation = instrument.graduation();
        let days = f64::from(graduation.calendar_days());
        let minutes = f64::from(graduation.limb_minutes());
        for (what, step, steps, arc_deg) in [
            ("days", days, &[1.0, 2.0, 5.0, 10.0][..], [0.95, 1.02]),
            (
                "zodiac",
                graduation.zodiac().deg(),
                &[0.5, 1.0, 2.0, 5.0, 10.0],
                [1.0; 2],
            ),
            (
                "altitudes",
                graduation.altitudes().deg(),
                &[0.5, 1.0, 2.0, 5.0],
                [1.0; 2],
            ),
            (
                "limb",
                minutes,
                &[1.0, 2.0, 5.0, 10.0, 15.0, 30.0],
                [0.25; 2],
            ),
        ] {
            let [least, most] = arc_deg.map(f64::to_radians);
            let told = format!("{what} of {diameter_mm} mm: {step}");
            assert!(steps.contains(&step), "{told}");
            assert!(step * most * radius >= gap, "{told}");
            if let Some(finer) = steps.iter().rev().find(|finer| **finer < step) {
                assert!(finer * least * 0.5 * radius < gap, "{told}");
            }
        }
    }
}
