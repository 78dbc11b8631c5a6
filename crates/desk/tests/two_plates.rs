//! Casting on two plates in proportion, against what is known of its error.

use desk::{Cabinet, CastRequest, PlatesRequest, WhyOne, WithInstrument, cast, plates};
use patience::Patience;

/// Two plates, read without rounding: what is left is the proportion's own error.
const PERFECT: &str = r#"
version = 1
name = "two plates"
diameter_mm = 180
hemisphere = "north"
orientation = "noon-up"
epoch_year = 2024
plates_deg = [42, 46]
date_from = "given"
unequal_hour_lines = "curves"
house_lines = "none"
eye_mm = 0
"#;

fn request(hour: f64, latitude: f64) -> CastRequest {
    let minutes = (hour * 60.0).round();
    CastRequest {
        when: format!(
            "2024-05-14 {:02}:{:02}",
            (minutes / 60.0).floor(),
            minutes % 60.0
        ),
        at: format!("{latitude},11.3"),
        clock: Some("sun".to_owned()),
        with: Some(WithInstrument::Specification(PERFECT.to_owned())),
        plates: Some("two-in-proportion".to_owned()),
        ..CastRequest::default()
    }
}

fn share(why: &WhyOne) -> f64 {
    let of_plate = why
        .shares
        .iter()
        .find(|share| share.cause == "plate-latitude");
    of_plate.expect("it is accounted for").deg
}

/// Over a day it errs by as much as the workshop reckons from exact trigonometry over all
/// sidereal times, never by more; on the nearest plate alone it is many times that.
#[test]
fn it_errs_by_what_is_known_of_it() {
    let asked = PlatesRequest {
        towns: vec!["44,11.3".to_owned()],
        stock_deg: vec![42.0, 46.0],
        ..PlatesRequest::default()
    };
    let known = plates(&asked, Patience::ENDLESS).expect("an answer");
    let known = known.towns[0]
        .proportion
        .as_ref()
        .expect("it lies between")
        .error;
    let (mut ascendant, mut cusp, mut alone) = (0.0_f64, 0.0_f64, 0.0_f64);
    for quarter in 0..96 {
        let asked = request(f64::from(quarter) / 4.0, 44.0);
        let answer = cast(&asked, &Cabinet::built_in(), None).expect("an answer");
        let why = answer.why.expect("of this hemisphere");
        ascendant = ascendant.max(share(&why.ascendant).abs());
        for one in &why.cusps["turning"] {
            cusp = cusp.max(share(&one.why).abs());
        }
        assert!(share(&why.midheaven).abs() < 1e-12);
        let nearest = CastRequest {
            plates: None,
            ..asked
        };
        let answer = cast(&nearest, &Cabinet::built_in(), None).expect("an answer");
        let why = answer.why.expect("of this hemisphere");
        alone = alone.max(share(&why.ascendant).abs());
    }
    assert!(
        ascendant <= known.largest_ascendant_deg * 1.01,
        "{ascendant} {known:?}"
    );
    assert!(
        ascendant >= known.largest_ascendant_deg * 0.95,
        "{ascendant} {known:?}"
    );
    assert!(
        cusp <= known.largest_cusp_deg.max(known.largest_ascendant_deg) * 1.01,
        "{cusp} {known:?}"
    );
    assert!(alone > 10.0 * ascendant, "{alone} {ascendant}");
}

/// What is on a plate of its own, or between no two, is told so.
#[test]
fn it_needs_two_plates_with_the_place_between_them() {
    for latitude in [42.0, 41.0, 47.0] {
        let refused = cast(&request(9.0, latitude), &Cabinet::built_in(), None).unwrap_err();
        assert!(
            refused
                .message
                .starts_with("no two plates of two plates have "),
            "{refused}"
        );
        assert_eq!(refused.choices, ["nearest"]);
    }
}

/// On the plates of the class instrument it is worked in steps that follow one another, and
/// its account adds up like any other.
#[test]
fn it_is_worked_and_explained_like_the_others() {
    let asked = CastRequest {
        with: Some(WithInstrument::Named("class instrument".to_owned())),
        ..request(9.33, 44.0)
    };
    let answer = cast(&asked, &Cabinet::built_in(), None).expect("an answer");
    let steps = answer.working.expect("a working").steps;
    let plate = |deg: f64| {
        steps
            .iter()
            .filter(|step| (step.state.plate_latitude_deg - deg).abs() < 1e-9)
            .count()
    };
    assert!(plate(42.0) > 20 && plate(46.0) > 20);
    let sentence = |text: &str| steps.iter().any(|step| step.instruction.contains(text));
    assert!(sentence(
        "exchange the plate: lay in the plate for 46°00′ N"
    ));
    assert!(sentence(
        "The place lies 2°00′ from the first plate, and the plates are 4°00′ apart"
    ));
    let set = answer.set.expect("it is set");
    assert_eq!(
        (set.plate.as_str(), set.other_plate.as_deref()),
        ("42°00′ N", Some("46°00′ N"))
    );
    let why = answer.why.expect("an account");
    for one in why
        .cusps
        .values()
        .flatten()
        .map(|one| &one.why)
        .chain([&why.ascendant, &why.midheaven])
    {
        let sum: f64 = one.shares.iter().map(|share| share.deg).sum();
        assert!((sum - one.difference_deg.expect("a difference")).abs() < 1e-9);
    }
    let verdict = answer.verdict.expect("a verdict");
    assert_eq!(verdict.verdict, "good");
}
