//! Which plate serves which town.

use desk::{Cabinet, PlatesRequest, part_pictures, plates};
use patience::Patience;
use proptest::prelude::*;

fn request(towns: &[&str], stock: &[f64]) -> PlatesRequest {
    PlatesRequest {
        towns: towns.iter().map(|town| (*town).to_owned()).collect(),
        stock_deg: stock.to_vec(),
        ..PlatesRequest::default()
    }
}

/// The ascendant's error by its own formula, tan λ = cos θ / −(sin θ cos ε + tan φ sin ε)
/// (Meeus, Astronomical Algorithms, ch. 14), with the obliquity of 2000.
fn largest_ascendant_error(town: f64, plate: f64) -> f64 {
    let (sin_e, cos_e) = 23.439_279_4_f64.to_radians().sin_cos();
    let ascendant = |theta: f64, phi: f64| {
        let (sin, cos) = theta.to_radians().sin_cos();
        let phi = phi.to_radians();
        cos.atan2(-(sin * cos_e + phi.tan() * sin_e)).to_degrees()
    };
    (0..360)
        .map(|n| {
            let theta = f64::from(n) + 0.5;
            let off = ascendant(theta, plate) - ascendant(theta, town);
            ((off + 540.0).rem_euclid(360.0) - 180.0).abs()
        })
        .fold(0.0, f64::max)
}

#[test]
fn errors_are_those_of_the_formula() {
    for (town, plate) in [(43.3, 42.0), (51.75, 50.0), (-33.9, -36.0), (10.0, 20.0)] {
        let answer = plates(
            &request(&[&format!("{town},0")], &[plate]),
            Patience::ENDLESS,
        )
        .unwrap();
        let error = answer.towns[0].error.unwrap();
        let wanted = largest_ascendant_error(town, plate);
        assert!((error.largest_ascendant_deg - wanted).abs() < 1e-6);
        assert!(error.typical_ascendant_deg < error.largest_ascendant_deg);
    }
}

/// A quarter of a degree off the plate, and four degrees between the plates.
#[test]
fn the_proportion_of_two_plates_is_far_better() {
    let answer = plates(&request(&["44,0"], &[42.0, 46.0]), Patience::ENDLESS).unwrap();
    let town = &answer.towns[0];
    let two = town.proportion.as_ref().unwrap();
    assert!((two.part - 0.5).abs() < 1e-9);
    assert!(two.error.largest() < 0.15, "{}", two.error.largest());
    assert!(two.times_better > 10.0);
    assert_eq!(town.advice, "proportion");
    assert_eq!(two.working.len(), 3);
}

#[test]
fn beyond_the_polar_circle_the_nearest_plate_is_still_the_best() {
    for town in ["69.65,18.96", "67,0", "78.2,15.6"] {
        let answer = plates(&request(&[town], &[42.0, 46.0, 50.0]), Patience::ENDLESS).unwrap();
        assert_eq!(answer.towns[0].best_plate_deg, Some(50.0), "{town}");
    }
}

#[test]
fn cards_have_the_days_of_their_year() {
    let mut asked = request(&["Madrid, Spain"], &[40.0]);
    asked.year = Some(2025);
    let answer = plates(&asked, Patience::ENDLESS).unwrap();
    let card = answer.towns[0].card.as_ref().unwrap();
    // Madrid stands 3.70° west and keeps the time of 15° east: 18.70 × 4 minutes.
    assert!((card.fixed_minutes.unwrap() + 74.8).abs() < 0.1);
    let summer = &card.summer_time[0];
    // The last Sundays of March and October 2025 (Directive 2000/84/EC).
    assert_eq!(
        [summer.from.to_string(), summer.to.to_string()],
        ["2025-03-30", "2025-10-26"]
    );
    assert!((summer.minutes - 60.0).abs() < 1e-9);
    assert_eq!(card.equation_of_time.len(), 53);
    asked.date_from = Some("equal-day-ring".to_owned());
    let ring = plates(&asked, Patience::ENDLESS).unwrap();
    assert!(
        ring.towns[0]
            .card
            .as_ref()
            .unwrap()
            .equation_of_time
            .is_empty()
    );
    // In Chile the southern summer runs over the New Year.
    let mut southern = request(&["-33.45,-70.66"], &[-33.0]);
    southern.year = Some(2025);
    let answer = plates(&southern, Patience::ENDLESS).unwrap();
    assert_eq!(answer.towns[0].card.as_ref().unwrap().summer_time.len(), 2);
}

#[test]
fn parts_have_pictures_for_the_page() {
    let cabinet = Cabinet::built_in();
    let all = part_pictures(None, &[], &[], &cabinet, Patience::ENDLESS).unwrap();
    assert_eq!(all.first().unwrap().name, "mater");
    assert!(
        all.iter()
            .all(|part| part.flaw.is_none() && part.svg.starts_with("<svg"))
    );
    for part in &all {
        let width = format!("width=\"{:.3}", part.width_mm);
        let width = width.trim_end_matches('0').trim_end_matches('.');
        assert!(part.svg.contains(width), "{}: not {width}", part.name);
    }
    let error = part_pictures(
        None,
        &[],
        &["wheel".to_owned()],
        &cabinet,
        Patience::ENDLESS,
    )
    .unwrap_err();
    assert!(error.to_string().contains("wheel"));
}

#[test]
fn what_cannot_be_understood_is_refused() {
    let message = |asked: &PlatesRequest| plates(asked, Patience::ENDLESS).unwrap_err().to_string();
    assert!(message(&request(&[], &[40.0])).contains("no town is named"));
    assert!(message(&request(&["Nonesuchville"], &[40.0])).contains("Nonesuchville"));
    assert!(message(&request(&["40,0"], &[140.0])).contains("140"));
    let mut asked = request(&["40,0"], &[40.0]);
    asked.within_deg = Some(-1.0);
    assert!(message(&asked).contains("-1"));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 12, ..ProptestConfig::default() })]

    /// Every town is served by a plate of the set that keeps within the error, and of
    /// towns each in a plate of its own no two could share one.
    #[test]
    fn the_smallest_set_serves_all_and_has_none_too_many(
        latitudes in prop::collection::vec(-55.0..55.0_f64, 1..6), within in 0.3..3.0_f64,
    ) {
        let names: Vec<String> = latitudes.iter().map(|deg| format!("{deg:.4},0")).collect();
        let named: Vec<&str> = names.iter().map(String::as_str).collect();
        let mut asked = request(&named, &[]);
        asked.within_deg = Some(within);
        let set = plates(&asked, Patience::ENDLESS).unwrap().smallest_set;
        let served: usize = set.iter().map(|plate| plate.towns.len()).sum();
        prop_assert_eq!(served, latitudes.len());
        let stock: Vec<f64> = set.iter().map(|plate| plate.plate_deg).collect();
        let mut asked = request(&named, &stock);
        asked.within_deg = Some(within);
        let answer = plates(&asked, Patience::ENDLESS).unwrap();
        for town in &answer.towns {
            prop_assert!(town.error.unwrap().largest() <= within + 1e-6);
            prop_assert_eq!(town.advice, "plate");
        }
        // Without any one of its plates the set fails some town.
        for left_out in 0..stock.len() {
            let rest: Vec<f64> = stock
                .iter()
                .enumerate()
                .filter(|(n, _)| *n != left_out)
                .map(|(_, deg)| *deg)
                .collect();
            let mut asked = request(&named, &rest);
            asked.within_deg = Some(within);
            let answer = plates(&asked, Patience::ENDLESS).unwrap();
            let fails = answer
                .towns
                .iter()
                .any(|town| town.error.is_none_or(|error| error.largest() > within));
            prop_assert!(fails, "{left_out} of {stock:?} is one too many");
        }
    }
}
