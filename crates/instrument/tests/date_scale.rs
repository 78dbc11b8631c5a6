//! Scales of dates as makers divide them: for one year or for the mean of four, from the
//! first year of the calendar scale to the last.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use instrument::{Instrument, Quadrant, Specification, YearDay};
use sky::{Angle, Instant, Sky};

/// Places of the sky as the scale takes them and as they are asked for here are the same
/// sums.
const SAME_DEG: f64 = 1e-9;

fn specified(more: &str) -> Result<Specification, String> {
    let text = format!(
        "version = 1\nname = \"invented\"\ndiameter_mm = 200\nepoch_year = 1500\n\
         plates_deg = [42]\ndate_from = \"zodiac\"\n{more}\n"
    );
    Specification::from_toml(&text).map_err(|error| error.to_string())
}

fn made(more: &str) -> Instrument {
    Instrument::new(specified(more).unwrap())
}

/// Whatever date stands at a place of the scale, the scale gives that place for it: on each
/// day of the year, the first and the last among them; but for the last of a leap year, which
/// lies over the first, for in 366 days the Sun goes further than round.
#[test]
fn a_place_of_the_scale_is_one_date() {
    for (more, days) in [
        ("calendar_year = 2025", 365),
        ("calendar_year = 2024", 366),
        ("calendar_year = 2025\ncalendar_leap_mean = true", 365),
        ("calendar_year = 1300\ncalendar_leap_mean = true", 365),
    ] {
        let made = made(more);
        let dates = made.dates();
        assert_eq!(dates.strokes().len(), days + 1, "{more}");
        let lengths = [
            31,
            if days == 366 { 29 } else { 28 },
            31,
            30,
            31,
            30,
            31,
            31,
            30,
            31,
            30,
            31,
        ];
        let all = (1..=12_u8).zip(lengths).flat_map(|(month, length)| {
            (1..=length).map(move |day| YearDay {
                month,
                day,
                part: 0.25,
            })
        });
        let mut tried = 0;
        for date in all {
            let back = dates.date_at(dates.at(date));
            tried += 1;
            if tried == 366 {
                assert_eq!((back.month, back.day), (1, 1), "{more}");
                continue;
            }
            assert_eq!((back.month, back.day), (date.month, date.day), "{more}");
            assert!((back.part - date.part).abs() < SAME_DEG, "{more}: {back:?}");
        }
        assert_eq!(tried, days, "{more}");
    }
}

/// A scale for the mean of four years has each stroke at the mean of the Sun's places on that
/// day in all four of them (midnights by J. Meeus, *Astronomical Algorithms*, chapter 7).
#[test]
fn a_mean_of_four_years_is_the_mean_of_all_four() {
    let made = made("calendar_year = 2025\ncalendar_leap_mean = true");
    // 0h on 1 January 2025 to 2028, and on 1 October.
    let new_years = [2_460_676.5, 2_461_041.5, 2_461_406.5, 2_461_771.5];
    let octobers = [273.0, 273.0, 273.0, 274.0];
    for (month, later) in [(1, [0.0; 4]), (10, octobers)] {
        let places: Vec<Angle> = new_years
            .iter()
            .zip(later)
            .map(|(new_year, later)| {
                let sky = Sky::at(Instant::from_jd_ut(new_year + later)).unwrap();
                sky.sun().longitude
            })
            .collect();
        let off: f64 = places.iter().map(|place| places[0].to(*place).deg()).sum();
        let mean = places[0] + Angle::from_deg(off / 4.0);
        let date = YearDay {
            month,
            day: 1,
            part: 0.0,
        };
        let found = made.dates().at(date);
        assert!(
            mean.to(found).deg().abs() < SAME_DEG,
            "{month}: {found:?} {mean:?}"
        );
    }
}

/// From −600 to 2649 the ephemeris has the Sun of the whole year, and so has a scale; beyond
/// there is none, and the message says so.
#[test]
fn the_calendar_scale_has_a_first_year_and_a_last() {
    for year in [-600, 2649] {
        let made = made(&format!("calendar_year = {year}"));
        assert!(made.dates().strokes().len() >= 366, "{year}");
    }
    let refused = |more: &str| {
        let refused = specified(more).unwrap_err();
        assert!(
            refused.contains("calendar_year") && refused.contains("2650"),
            "{refused}"
        );
    };
    for year in [-601, 2650, 2651] {
        refused(&format!("calendar_year = {year}"));
    }
    // Midnight comes earlier in the east; and of four years the last counts.
    refused("calendar_year = -600\ncalendar_meridian_deg = 90");
    refused("calendar_year = 2647\ncalendar_leap_mean = true");
    let mean = made("calendar_year = 2646\ncalendar_leap_mean = true");
    assert_eq!(mean.dates().strokes().len(), 366);
}

/// What a file does not ask for is not made.
#[test]
fn a_back_has_a_sine_quadrant_where_it_is_asked_for() {
    let parts = |more: &str| specified(more).unwrap().parts;
    let plain = parts("");
    assert!(plain.quadrant == Quadrant::Title && plain.horizons.is_empty());
    assert!(parts("[parts]\nsine_quadrant = true").quadrant == Quadrant::Sines);
}
