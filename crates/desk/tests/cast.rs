//! The answer to a cast, as a whole: what its keys promise.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

mod schema;

use desk::{
    Cabinet, CastAnswer, CastRequest, DrawnPoint, Field, MethodAnswer, StateRequest, TurnRequest,
    WithInstrument, cast,
};
use proptest::prelude::*;
use schema::{committed, keeps_to};

fn request(when: &str, at: &str) -> CastRequest {
    CastRequest {
        when: when.to_owned(),
        at: at.to_owned(),
        zone: Some("Europe/Madrid".to_owned()),
        ..CastRequest::default()
    }
}

fn santiago() -> CastRequest {
    request("2024-05-14 09:20", "42.8806,-8.5449")
}

fn answered(request: &CastRequest) -> CastAnswer {
    cast(request, &Cabinet::built_in(), None).unwrap()
}

/// The time chain adds up, key by key, as its definitions say.
#[test]
fn the_time_adds_up() {
    let answer = answered(&santiago());
    let moment = &answer.moment;
    assert_eq!(moment.when.utc_offset_s, Some(7200.0));
    assert!((moment.summer_time_s - 3600.0).abs() < 1e-9);
    let longitude = answer.place.longitude_deg;
    assert!((moment.longitude_correction_s - (240.0 * longitude - 3600.0)).abs() < 1e-9);
    let clock_h = 9.0 + 20.0 / 60.0;
    let mean_h = clock_h + (moment.longitude_correction_s - moment.summer_time_s) / 3600.0;
    assert!((moment.local_mean_time_h - mean_h).abs() < 1e-9);
    assert!(
        (moment.local_apparent_time_h - mean_h - moment.equation_of_time_s / 3600.0).abs() < 1e-9
    );
    // Local apparent time is the Sun's hour angle and 12 h.
    let sun = &answer.sky.bodies[0];
    let hour_angle = moment.sidereal_time_deg - sun.right_ascension_deg;
    let difference = (hour_angle / 15.0 + 12.0 - moment.local_apparent_time_h).rem_euclid(24.0);
    assert!(difference.min(24.0 - difference) < 1e-9);
}

/// A town asked for by another of its names is found, and that is said.
#[test]
fn another_name_of_a_town_is_noted() {
    let answer = answered(&CastRequest {
        zone: None,
        ..request("1950-05-14 09:20", "Bombay, India")
    });
    assert_eq!(answer.place.name, "Mumbai, Maharashtra, India");
    let notes: Vec<&str> = answer
        .moment
        .when
        .notes
        .iter()
        .map(|note| note.text.as_str())
        .collect();
    assert!(
        notes.contains(
            &"“Bombay” is taken for Mumbai, Maharashtra, India, which is or was called so too"
        ),
        "{notes:?}"
    );
}

/// The ten names, in order, and nothing else.
#[test]
fn the_bodies_have_their_names() {
    let answer = answered(&santiago());
    let names: Vec<&str> = answer.sky.bodies.iter().map(|body| body.name).collect();
    assert_eq!(
        names,
        [
            "Sun", "Moon", "Mercury", "Venus", "Mars", "Jupiter", "Saturn", "Uranus", "Neptune",
            "Pluto"
        ]
    );
}

/// An instrument of the other hemisphere reads nothing and says why.
#[test]
fn the_other_hemisphere_is_not_read() {
    let answer = answered(&CastRequest {
        with: Some(WithInstrument::Named("Southern Instrument".to_owned())),
        ..santiago()
    });
    assert!(answer.reading.is_none() && answer.why.is_none() && answer.working.is_none());
    assert!(answer.reason.unwrap().contains("southern hemisphere"));
    // What a perfect instrument would show is that of the place's own hemisphere.
    assert!(answer.ideal.ascendant_deg.is_some());
}

/// Without a word the instrument is the first of the place's hemisphere.
#[test]
fn the_usual_instrument_is_of_the_hemisphere() {
    let south = answered(&CastRequest {
        at: "-37.8,144.96".to_owned(),
        ..santiago()
    });
    assert_eq!(south.instrument.hemisphere, "south");
    assert!(south.reading.is_some());
    assert_eq!(answered(&santiago()).instrument.hemisphere, "north");
}

/// One's own reading is explained, and what is left over says so.
#[test]
fn ones_own_reading_is_explained() {
    let request = CastRequest {
        read: [
            ("ascendant".to_owned(), "11 Cancer".to_owned()),
            ("ii".to_owned(), "4 Leo".to_owned()),
        ]
        .into(),
        without: vec!["zone".to_owned(), "longitude".to_owned()],
        ..santiago()
    };
    let why = answered(&request).why.unwrap();
    assert_eq!(why.ascendant.read_deg, Some(101.0));
    let last = why.ascendant.shares.last().unwrap();
    assert_eq!(last.cause, "unexplained");
    let sum: f64 = why.ascendant.shares.iter().map(|share| share.deg).sum();
    assert!((sum - why.ascendant.difference_deg.unwrap()).abs() < 1e-9);
    assert!(
        why.ascendant
            .shares
            .iter()
            .any(|share| share.cause == "zone" && share.deg.abs() > 1.0)
    );
    assert_eq!(why.cusps["turning"][1].why.read_deg, Some(124.0));
    // Only what was read has a rest to explain.
    assert!(
        why.midheaven
            .shares
            .iter()
            .all(|share| share.cause != "unexplained")
    );
}

/// One's own reading is held against what the instrument shows, and a slip is named.
#[test]
fn ones_own_reading_is_put_down_to_its_slip() {
    let with = |read: &[(&str, &str)]| {
        let own = read.iter();
        let own = own.map(|(what, value)| ((*what).to_owned(), (*value).to_owned()));
        let request = CastRequest {
            read: own.collect(),
            ..santiago()
        };
        answered(&request).own
    };
    assert!(with(&[]).is_none());
    let shown = answered(&santiago()).reading.unwrap();
    let ascendant = shown.ascendant_deg.unwrap();
    let midheaven = shown.midheaven_deg.unwrap();
    let deg = |deg: f64| format!("{:.2}", deg.rem_euclid(360.0));
    let right = with(&[
        ("ascendant", &deg(ascendant)),
        ("midheaven", &deg(midheaven)),
    ]);
    let right = right.unwrap();
    assert_eq!(right.verdict, "right", "{}", right.sentence);
    // Under the other end of the rule the sky stands as twelve hours later.
    let later = answered(&request("2024-05-14 21:20", "42.8806,-8.5449"));
    let later = later.reading.unwrap();
    let own = with(&[
        ("ascendant", &deg(later.ascendant_deg.unwrap())),
        ("midheaven", &deg(later.midheaven_deg.unwrap())),
    ]);
    let own = own.unwrap();
    let named: Vec<&str> = own
        .explanations
        .iter()
        .filter(|one| one.rank == 1)
        .map(|one| one.slips[0].name.as_str())
        .collect();
    assert!(named.contains(&"other-end-of-rule"), "{named:?}");
    assert!(own.sentence.starts_with("One of these"), "{}", own.sentence);
}

/// A sign alone is a reading: right in the sign that rises, and told as it was given.
#[test]
fn a_sign_alone_may_be_read() {
    let with = |sign: &str| {
        let request = CastRequest {
            read: [("ascendant".to_owned(), sign.to_owned())].into(),
            ..request("2024-05-14 10:20", "42.8806,-8.5449")
        };
        answered(&request)
    };
    let answer = with("cancer");
    let rises = answer.reading.unwrap().ascendant_deg.unwrap();
    assert!((90.0..120.0).contains(&rises), "{rises}");
    let own = answer.own.unwrap();
    assert_eq!(own.verdict, "right", "{}", own.sentence);
    assert_eq!(own.readings[0].read_text, "Cancer");
    assert_eq!(own.readings[0].difference_deg, Some(0.0));
    // No degree was read, so nothing of it is left to explain.
    let shares = answer.why.unwrap().ascendant.shares;
    assert!(shares.iter().all(|share| share.cause != "unexplained"));
    let west = with("Capricorn").own.unwrap();
    assert_eq!(west.readings[0].mark, "wrong");
    assert_eq!(west.verdict, "slips", "{}", west.sentence);
    assert!(
        west.sentence.contains("western horizon"),
        "{}",
        west.sentence
    );
}

/// What cannot be understood is refused, in the field it belongs to.
#[test]
fn refusals_name_their_field() {
    let cabinet = Cabinet::built_in();
    let refused = |request: CastRequest| cast(&request, &cabinet, None).unwrap_err();
    let long = "9".repeat(100_000);
    let cases: Vec<(CastRequest, Field)> = vec![
        (request("2024-02-30 12:00", "0,0"), Field::When),
        (request("2024-05-14 24:61", "0,0"), Field::When),
        (request("now", "0,0"), Field::When),
        (request(&long, "0,0"), Field::When),
        (request("2024-05-14 09:20", "91,0"), Field::At),
        (request("2024-05-14 09:20", "NaN,0"), Field::At),
        (request("2024-05-14 09:20", "Nowhere at all"), Field::At),
        (request("2024-05-14 09:20", &long), Field::At),
        (
            CastRequest {
                zone: Some("Mars/Olympus".to_owned()),
                ..santiago()
            },
            Field::Zone,
        ),
        (
            CastRequest {
                clock: Some("cuckoo".to_owned()),
                ..santiago()
            },
            Field::Clock,
        ),
        (
            CastRequest {
                calendar: Some("lunar".to_owned()),
                ..santiago()
            },
            Field::Calendar,
        ),
        (
            CastRequest {
                which: Some("both".to_owned()),
                ..santiago()
            },
            Field::Which,
        ),
        (
            CastRequest {
                houses: Some("P".to_owned()),
                ..santiago()
            },
            Field::Houses,
        ),
        (
            CastRequest {
                by: Some("guessing".to_owned()),
                ..santiago()
            },
            Field::By,
        ),
        (
            CastRequest {
                by: Some("house-lines".to_owned()),
                ..santiago()
            },
            Field::By,
        ),
        (
            CastRequest {
                without: vec!["doubt".to_owned()],
                ..santiago()
            },
            Field::Without,
        ),
        (
            CastRequest {
                read: [("ascendant".to_owned(), "31 Leo".to_owned())].into(),
                ..santiago()
            },
            Field::Read,
        ),
        (
            CastRequest {
                read: [("XIII".to_owned(), "3 Leo".to_owned())].into(),
                ..santiago()
            },
            Field::Read,
        ),
        (
            CastRequest {
                with: Some(WithInstrument::Named("no such".to_owned())),
                ..santiago()
            },
            Field::With,
        ),
        (
            CastRequest {
                with: Some(WithInstrument::Specification("version = 2".to_owned())),
                ..santiago()
            },
            Field::With,
        ),
        // A time that did not exist, and one that came twice.
        (request("2024-03-31 02:30", "42.8806,-8.5449"), Field::Which),
        (request("2024-10-27 02:30", "42.8806,-8.5449"), Field::Which),
        (
            CastRequest {
                zone: None,
                at: "-40,-120".to_owned(),
                ..santiago()
            },
            Field::Zone,
        ),
    ];
    for (request, field) in cases {
        let when = request.when.chars().take(30).collect::<String>();
        let refusal = refused(request);
        assert_eq!(refusal.field, field, "{when}: {refusal}");
        assert!(refusal.message.len() < 600, "{}", refusal.message.len());
    }
}

fn degrees(answer: &CastAnswer) -> Vec<f64> {
    let mut all = vec![answer.figure.midheaven_deg, answer.moment.sidereal_time_deg];
    all.extend(answer.figure.ascendant_deg);
    for method in answer.figure.methods.values() {
        if let MethodAnswer::Cusps(cusps) = method {
            all.extend(cusps);
        }
    }
    all.extend(
        answer
            .sky
            .bodies
            .iter()
            .flat_map(|body| [body.longitude_deg, body.right_ascension_deg]),
    );
    if let Some(reading) = &answer.reading {
        all.extend(reading.ascendant_deg.iter().chain(&reading.midheaven_deg));
        all.extend(reading.cusps.values().flatten().filter_map(|cusp| cusp.deg));
    }
    if let Some(working) = &answer.working {
        all.extend(
            working
                .steps
                .iter()
                .flat_map(|step| [step.state.rete_deg, step.state.rule_deg]),
        );
    }
    all
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    /// Anywhere and at any time there is an answer in range: no panic, no number
    /// that is none, no angle outside its turn.
    #[test]
    fn every_moment_and_place_has_an_answer_in_range(
        year in -598..2648_i32, month in 1..=12_u32, day in 1..=28_u32, hour in 0..24_u32, minute in 0..60_u32,
        latitude in prop_oneof![8 => -90.0..=90.0_f64, 1 => Just(90.0), 1 => Just(-90.0), 1 => Just(0.0)],
        longitude in -180.0..=180.0_f64,
        instrument in 0..5_usize, clock in 0..3_usize,
    ) {
        let cabinet = Cabinet::built_in();
        let name = cabinet.instruments().nth(instrument).unwrap().specification().name.clone();
        let request = CastRequest {
            when: format!("{year:05}-{month:02}-{day:02} {hour:02}:{minute:02}"),
            at: format!("{latitude},{longitude}"),
            clock: Some(["mean", "sun", "+03:30"][clock].to_owned()),
            with: Some(WithInstrument::Named(name)),
            zone: None,
            ..CastRequest::default()
        };
        let answer = match cast(&request, &cabinet, None) {
            Ok(answer) => answer,
            // The ten days that the reform of 1582 left out are refused.
            Err(refusal) => {
                prop_assert!(year == 1582 && month == 10, "{refusal}");
                return Ok(());
            }
        };
        for deg in degrees(&answer) {
            prop_assert!((0.0..360.0).contains(&deg), "{deg}");
        }
        // Numbers that are none would be written as null where none is allowed.
        let json = serde_json::to_value(&answer).unwrap();
        keeps_to(&json, &committed("cast"));
        if let Some(why) = &answer.why {
            let all = why.cusps.values().flatten().map(|cusp| &cusp.why).chain([&why.ascendant, &why.midheaven]);
            for one in all {
                let Some(difference) = one.difference_deg else { continue };
                prop_assert!(difference > -180.0 && difference <= 180.0);
                let sum: f64 = one.shares.iter().map(|share| share.deg).sum();
                let left = (sum - difference + 180.0).rem_euclid(360.0) - 180.0;
                prop_assert!(left.abs() < 1e-7, "{left}");
            }
        }
    }
}

/// Every live reading says how finely it reads, and a perfect eye says nothing.
#[test]
fn what_is_read_as_it_stands_says_how_finely() {
    let turned = |eye: &str| {
        let own = format!(
            "version = 1\nname = \"my own\"\ndiameter_mm = 180\nepoch_year = 2025\nplates_deg = [42]\n{eye}"
        );
        let request = TurnRequest {
            case: CastRequest {
                with: Some(WithInstrument::Specification(own)),
                ..santiago()
            },
            state: StateRequest {
                plate_latitude_deg: 42.0,
                ..StateRequest::default()
            },
            // The pole.
            pointer: Some(DrawnPoint {
                x_mm: 0.0,
                y_mm: 0.0,
            }),
        };
        let answer = desk::turn(&request, &Cabinet::built_in(), None).unwrap();
        let under = answer.under_pointer.unwrap();
        let all = [
            answer.ascendant.unwrap().reads_to_text,
            answer.midheaven.unwrap().reads_to_text,
            answer.hour.reads_to_text,
            answer.under_rule.unwrap().reads_to_text,
            answer.alidade.reads_to_text,
            answer.sun_altitude.reads_to_text,
            under.altitude_reads_to_text,
        ];
        (all, answer.words)
    };
    let (fine, words) = turned("");
    for to in &fine {
        assert!(to.is_some(), "{fine:?}");
    }
    for to in [&fine[0], &fine[1], &fine[2], &fine[3], &fine[5]] {
        let to = to.as_ref().unwrap();
        assert!(words.contains(&format!(", to {to}")), "{words}");
    }
    assert_eq!(fine[2].as_deref(), Some("35 s"));
    let (perfect, words) = turned("eye_mm = 0");
    assert_eq!(perfect, [const { None::<String> }; 7]);
    assert!(!words.contains(" to "), "{words}");
}
