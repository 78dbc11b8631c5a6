//! Working with the pen against calculation, and against figures worked by hand in print.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::sync::LazyLock;

use desk::{Cabinet, ReckonAnswer, ReckonRequest, Road, WhyOne};
use proptest::prelude::*;

/// Built once: its instruments are read from their specifications.
static CABINET: LazyLock<Cabinet> = LazyLock::new(Cabinet::built_in);

#[track_caller]
fn reckoned(request: &ReckonRequest) -> ReckonAnswer {
    desk::reckoned(request, &CABINET, None).unwrap()
}

/// The number of a line, as the sheet has it.
#[track_caller]
fn line(answer: &ReckonAnswer, what: &str) -> String {
    let mut lines = answer.working.steps.iter().flat_map(|step| &step.lines);
    let found = lines.find(|line| line.what == what);
    found.unwrap_or_else(|| panic!("no {what}")).figure.clone()
}

/// The cell of a table, by its name, row and column, that the sheet takes.
#[track_caller]
fn cell(answer: &ReckonAnswer, table: &str, row: &str, column: &str) -> String {
    let mut takes = answer.working.steps.iter().flat_map(|step| &step.takes);
    let found = takes.find(|one| one.table == table && one.row == row && one.column == column);
    let found = found.unwrap_or_else(|| panic!("nothing is taken from {table}, {row}, {column}"));
    found.cell.clone()
}

/// M. Heindel, Simplified Scientific Astrology (5th ed. 1919), scans 51–75: 2 August 1909,
/// 8 h 23 m in the morning by the place's own time, at 88° west.
#[test]
fn a_figure_of_1909_step_by_step() {
    let answer = reckoned(&ReckonRequest {
        when: "1909-08-02 08:23".to_owned(),
        at: "41.8333,-88".to_owned(),
        clock: Some("mean".to_owned()),
        houses: Some("placidus".to_owned()),
        ..ReckonRequest::default()
    });
    // 88° west are 5 h 52 m: Greenwich time 14 h 15 m, 2 h 15 m after noon.
    assert_eq!(
        line(&answer, "longitude, 4 minutes a degree"),
        "5 h 52 m 00 s"
    );
    assert_eq!(line(&answer, "Universal Time"), "14 h 15 m 00 s");
    assert_eq!(line(&answer, "time gone since"), "2 h 15 m 00 s");
    // He has 8 h 41 m, the seconds dropped.
    let noon = cell(&answer, "sidereal-time", "2 August 1909", "sidereal time");
    assert_eq!(noon, "8 h 41 m 45 s");
    // The logarithm of 2 h 15 m is 1.0280.
    assert_eq!(cell(&answer, "diurnal-logarithms", "15", "2"), "1.0280");
    // The Sun 9♌31 and 10♌28 (the sky has 10♌29), the Moon 17♒55 and 2♓39, within 1′.
    let minutes = |text: String| {
        let (deg, rest) = text.split_once('°').unwrap();
        deg.parse::<f64>().unwrap() * 60.0 + rest[..2].parse::<f64>().unwrap()
    };
    for (row, column, printed) in [
        ("2 August 1909", "Sun", 9.0 * 60.0 + 31.0),
        ("3 August 1909", "Sun", 10.0 * 60.0 + 28.0),
        ("2 August 1909", "Moon", 17.0 * 60.0 + 55.0),
        ("3 August 1909", "Moon", 2.0 * 60.0 + 39.0),
    ] {
        let ours = minutes(cell(&answer, "ephemeris", row, column));
        assert!((ours - printed).abs() <= 1.0, "{row} {column}: {ours}");
    }
}

/// The same by the time he reckons the planets for, a quarter past two in the morning at
/// Greenwich, 9 h 45 m before noon: from the noon before it is 14 h 15 m after. His Sun is
/// 10♌05, by 1.4025 and .3912 from the noon behind.
#[test]
fn the_sun_of_1909_is_his() {
    let answer = reckoned(&ReckonRequest {
        when: "1909-08-03 02:15".to_owned(),
        at: "0,0".to_owned(),
        clock: Some("+00:00".to_owned()),
        ..ReckonRequest::default()
    });
    let sun = &answer.found.bodies[0];
    let printed = 120.0 + 10.0 + 5.0 / 60.0;
    assert!(
        (sun.longitude_deg - printed).abs() <= 1.01 / 60.0,
        "{}",
        sun.longitude_deg
    );
}

/// J. Newton, Cosmographia (1679), pp. 295–302: 20 March 1674 (Julian), one in the
/// afternoon by the Sun, at 51.533°: the sidereal time 24.39°, midheaven 26.31° Aries,
/// ascendant 14.04° Leo, by regiomontanus XI 70.803°, II 153.740°. (His own XII and
/// ascendant among the cusps, 113.669° and 121.693°, are slips of his pen; pp. 298–300 have
/// the ascendant right.)
#[test]
fn a_figure_of_1674() {
    let answer = reckoned(&ReckonRequest {
        when: "1674-03-20 13:00".to_owned(),
        at: "51.5333,0".to_owned(),
        clock: Some("sun".to_owned()),
        calendar: Some("julian".to_owned()),
        houses: Some("regiomontanus".to_owned()),
        ..ReckonRequest::default()
    });
    let found = &answer.found;
    // His Sun, 10.23° Aries, is 7′ ahead of the sky's.
    let near = |found: f64, printed: f64, within: f64| {
        assert!(
            (found - printed).abs() <= within,
            "{found}, printed {printed}"
        );
    };
    near(found.midheaven_deg, 26.31, 0.1);
    near(found.ascendant_deg.unwrap(), 134.04, 0.1);
    near(found.cusps_deg[10].unwrap(), 70.803, 0.12);
    near(found.cusps_deg[1].unwrap(), 153.740, 0.1);
    // What he slipped in: XII 109.14° by his own numbers put right.
    near(found.cusps_deg[11].unwrap(), 109.14, 0.12);
}

/// G. Wharton, Works (1683), pp. 229–237: 12 June 1646 (Julian), 7 h 54 m 41 s by the Sun
/// in the afternoon, latitude 53½°, by regiomontanus: X 2♏16 XI 19♏59 XII 5♐01 I 24♐45
/// II 3♒17 III 0♈06. By tables of sines he has it within 2′ of his own Sun and obliquity;
/// his Sun is 1′ from the sky's.
#[test]
fn a_figure_of_1646() {
    let answer = reckoned(&ReckonRequest {
        when: "1646-06-12 19:54:41".to_owned(),
        at: "53.5,-2".to_owned(),
        clock: Some("sun".to_owned()),
        calendar: Some("julian".to_owned()),
        houses: Some("regiomontanus".to_owned()),
        ..ReckonRequest::default()
    });
    for (house, printed) in [
        (9, 212.0 + 16.0 / 60.0),
        (10, 229.0 + 59.0 / 60.0),
        (11, 245.0 + 1.0 / 60.0),
        (0, 264.0 + 45.0 / 60.0),
        (1, 303.0 + 17.0 / 60.0),
        (2, 360.0 + 6.0 / 60.0),
    ] {
        let found = answer.found.cusps_deg[house].unwrap();
        let off = (found - printed + 540.0).rem_euclid(360.0) - 180.0;
        assert!(off.abs() <= 6.0 / 60.0, "{house}: {}", off * 60.0);
    }
}

/// A figure is the same whether the ephemeris has its days at noon or at midnight, within
/// what both sheets say.
#[test]
fn noon_and_midnight_lead_to_the_same_place() {
    let with = |hour: &str| {
        reckoned(&ReckonRequest {
            when: "2024-05-14 09:20".to_owned(),
            at: "42.8806,-8.5449".to_owned(),
            zone: Some("Europe/Madrid".to_owned()),
            hour: Some(hour.to_owned()),
            ..ReckonRequest::default()
        })
    };
    let [noon, midnight] = ["noon", "midnight"].map(with);
    assert_ne!(
        noon.working.steps[1].takes[0].row,
        midnight.working.steps[1].takes[0].row
    );
    for index in 0..12 {
        let [a, b] = [&noon, &midnight].map(|one| one.found.cusps_deg[index].unwrap());
        let within = noon.within.cusps_deg[index] + midnight.within.cusps_deg[index];
        assert!((a - b).abs() <= within);
    }
}

/// What is left out is that cause's share, and nothing else's.
#[test]
fn what_is_left_out_is_told() {
    let answer = reckoned(&ReckonRequest {
        when: "2024-05-14 09:20".to_owned(),
        at: "42.8806,-8.5449".to_owned(),
        zone: Some("Europe/Madrid".to_owned()),
        without: vec!["summer-time".to_owned()],
        table_latitude: Some(46.0),
        ..ReckonRequest::default()
    });
    let share = |name: &str| {
        let mut shares = answer.why.midheaven.shares.iter();
        shares.find(|share| share.cause == name).unwrap().deg
    };
    // An hour of the sky.
    assert!((share("summer-time").abs() - 15.0).abs() < 2.0);
    assert!(share("zone").abs() < 1e-9 && share("table-latitude").abs() < 1e-9);
    let mut shares = answer.why.ascendant.shares.iter();
    let latitude = shares
        .find(|share| share.cause == "table-latitude")
        .unwrap();
    assert!(latitude.deg.abs() > 1.0);
}

#[test]
fn what_cannot_be_worked_says_what_would_do() {
    let base = ReckonRequest {
        when: "2024-05-14 09:20".to_owned(),
        at: "42.8806,-8.5449".to_owned(),
        zone: Some("Europe/Madrid".to_owned()),
        ..ReckonRequest::default()
    };
    let refused = |request: ReckonRequest| {
        desk::reckoned(&request, &Cabinet::built_in(), None)
            .unwrap_err()
            .message
    };
    let old = ReckonRequest {
        clock: Some("unequal-day".to_owned()),
        ..base.clone()
    };
    assert!(refused(old).contains("zone, mean, sun or an offset"));
    let hour = ReckonRequest {
        hour: Some("dawn".to_owned()),
        ..base.clone()
    };
    assert!(refused(hour).contains("noon or midnight would do"));
    let pole = ReckonRequest {
        at: "90,0".to_owned(),
        ..base
    };
    assert!(refused(pole).contains("between the poles"));
}

fn requests() -> impl Strategy<Value = ReckonRequest> {
    let places = (-62.0..62.0f64, -180.0..180.0f64);
    let dates = (-400..2500i32, 1..=12u8, 1..=28u8, 0..86_400u32);
    let choices = (
        any::<bool>(),
        any::<bool>(),
        0..3usize,
        0..6usize,
        -2.0..2.0f64,
    );
    (places, dates, choices).prop_map(|((latitude, longitude), date, choices)| {
        let (year, month, day, second) = date;
        let (midnight, second_difference, clock, method, off) = choices;
        let (hour, minute) = (second / 3600, second / 60 % 60);
        let sign = if year < 0 { "-" } else { "" };
        ReckonRequest {
            when: format!(
                "{sign}{:04}-{month:02}-{day:02} {hour:02}:{minute:02}:{:02}",
                year.abs(),
                second % 60
            ),
            at: format!("{latitude:.4},{longitude:.4}"),
            clock: Some(["+00:00", "mean", "sun"][clock].to_owned()),
            calendar: Some(if year < 1583 { "julian" } else { "gregorian" }.to_owned()),
            houses: Some(
                [
                    "alcabitius",
                    "regiomontanus",
                    "campanus",
                    "placidus",
                    "porphyry",
                    "equal",
                ][method]
                    .to_owned(),
            ),
            hour: midnight.then(|| "midnight".to_owned()),
            second_difference,
            // One in two has a book for another latitude.
            table_latitude: (off > 0.0).then(|| (latitude + off * 0.5).clamp(-62.0, 62.0)),
            ..ReckonRequest::default()
        }
    })
}

/// The difference is within what the sheet states, and its shares add up to it.
fn holds(why: &WhyOne, within_deg: f64, second_leaps: bool) -> Result<(), TestCaseError> {
    let Some(difference) = why.difference_deg else {
        return Ok(());
    };
    prop_assert!(
        difference.abs() <= within_deg,
        "{}: {}′ within {}′",
        why.sentence.clone().unwrap_or_default(),
        difference * 60.0,
        within_deg * 60.0
    );
    let sum: f64 = why.shares.iter().map(|share| share.deg).sum();
    prop_assert!((sum - difference).abs() < 1e-9, "{sum} {difference}");
    // The way itself costs nothing: by ideal tables it leads to what is exactly so. But between
    // two noons it counts evenly, and a day with a leap second is a second longer.
    let costs = why.shares[0].deg.abs();
    prop_assert!(second_leaps || costs < 1e-6, "{:?}", why.shares[0]);
    Ok(())
}

/// Whether the day may have a leap second, by whatever clock: at the ends of June and December
/// from 1972 to 2016 (IERS, Bulletin C).
fn second_may_leap(when: &str) -> bool {
    const ENDS: [&str; 8] = [
        "06-29", "06-30", "07-01", "07-02", "12-30", "12-31", "01-01", "01-02",
    ];
    let day = when.split(' ').next().unwrap_or_default();
    ("1971-12-31".."2017-01-04").contains(&day) && ENDS.iter().any(|end| day.ends_with(end))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(500))]

    #[test]
    fn random_hand_casts_keep_to_what_their_sheets_state(request in requests()) {
        let answer = desk::reckoned(&request, &CABINET, None).unwrap();
        let (why, within) = (&answer.why, &answer.within);
        let leaps = second_may_leap(&request.when);
        holds(&why.ascendant, within.cusps_deg[0], leaps)?;
        holds(&why.midheaven, within.cusps_deg[9], leaps)?;
        for (why, within) in why.cusps.iter().zip(within.cusps_deg) {
            holds(why, within, leaps)?;
        }
        for (why, within) in why.bodies.iter().zip(&within.bodies_deg) {
            holds(&why.why, *within, leaps)?;
        }
    }
}

fn demonstration() -> ReckonRequest {
    ReckonRequest {
        when: "2024-05-14 09:20".to_owned(),
        at: "42.8806,-8.5449".to_owned(),
        zone: Some("Europe/Madrid".to_owned()),
        ..ReckonRequest::default()
    }
}

fn told(deg: f64) -> String {
    sky::Zodiacal(sky::Angle::from_deg(deg)).to_string()
}

/// The three roads stand beside each other, and of any two the shares add up to what parts
/// them: of pen and brass too.
#[test]
fn why_they_differ_speaks_of_any_two_of_three_roads() {
    let answer = reckoned(&ReckonRequest {
        with: Some(desk::WithInstrument::Named("class instrument".to_owned())),
        table_latitude: Some(42.0),
        ..demonstration()
    });
    let roads = answer.roads.unwrap();
    assert_eq!(roads.numbers.len(), 14);
    for number in &roads.numbers {
        let pairs: Vec<_> = number
            .between
            .iter()
            .map(|two| (two.one, two.other))
            .collect();
        let all = [
            (Road::Pen, Road::Brass),
            (Road::Pen, Road::Calculation),
            (Road::Brass, Road::Calculation),
        ];
        assert_eq!(pairs, all, "{}", number.what);
        let of = |road: Road| match road {
            Road::Pen => number.pen_deg.unwrap(),
            Road::Brass => number.brass_deg.unwrap(),
            Road::Calculation => number.calculated_deg.unwrap(),
        };
        for two in &number.between {
            let apart = (of(two.one) - of(two.other) + 540.0).rem_euclid(360.0) - 180.0;
            assert!(
                (apart - two.difference_deg).abs() < 1e-9,
                "{}",
                two.sentence
            );
            let sum: f64 = two.shares.iter().map(|share| share.deg).sum();
            assert!((sum - two.difference_deg).abs() < 1e-9, "{}", two.sentence);
        }
        // Each road's own causes are there: the table's latitude and the plate's, which are
        // one here and take each other away.
        let share = |cause: &str| {
            let mut shares = number.between[0].shares.iter();
            shares.find(|one| one.cause == cause).unwrap().deg
        };
        let both = share("table-latitude") + share("plate-latitude");
        assert!(both.abs() < 0.02, "{}: {both}", number.what);
    }
}

/// A person's own numbers: the slip is named, what remains has a share of its own, and the
/// shares still add up.
#[test]
fn what_a_person_found_is_corrected() {
    // Who takes the evening for the morning finds what the sheet of the evening has.
    let evening = reckoned(&ReckonRequest {
        when: "2024-05-14 21:20".to_owned(),
        ..demonstration()
    });
    let read = [
        ("ascendant", evening.found.ascendant_deg.unwrap()),
        ("midheaven", evening.found.midheaven_deg),
        ("moon", evening.found.bodies[1].longitude_deg),
    ];
    let answer = reckoned(&ReckonRequest {
        read: read
            .iter()
            .map(|(name, deg)| ((*name).to_owned(), told(*deg)))
            .collect(),
        ..demonstration()
    });
    let own = answer.own.as_ref().unwrap();
    assert_eq!(own.verdict, "slips", "{}", own.sentence);
    assert_eq!(own.explanations[0].slips[0].name, "half-day");
    let why = &answer.why.ascendant;
    let sum: f64 = why.shares.iter().map(|share| share.deg).sum();
    assert!((sum - why.difference_deg.unwrap()).abs() < 1e-9);
    let left = why.shares.last().unwrap();
    assert!(left.cause == "unexplained" && left.deg.abs() > 10.0);
    // What was not read has no such share.
    let others = &answer.why.bodies[2].why.shares;
    assert!(others.iter().all(|share| share.cause != "unexplained"));
}

/// A figure by tables and pen is asked of a class like any operation, with a key; who answers
/// by the key is right, and who makes the slip of a tell-tale is told so.
#[test]
fn it_is_an_exercise_with_a_key() {
    let class = "version = 1\nname = \"Invented\"\nplace = \"Lisbon, Portugal\"\nyear = 2027\n\
                 seed = 3\nquestions = 3\nlevel = 3\noperations = [\"reckon\"]\n\
                 [[pupils]]\nname = \"Ana\"\nwith = \"class instrument\"\n";
    let cabinet = Cabinet::built_in();
    let class = desk::Class::from_toml(class).unwrap();
    let own = [desk::WithInstrument::Named("class instrument".to_owned())];
    let exercises = desk::exercises(&class, &own, &cabinet, patience::Patience::ENDLESS).unwrap();
    let questions = &exercises.pupils[0].questions;
    assert_eq!(questions.len(), 3);
    let mut slips = 0;
    for question in questions {
        assert_eq!(question.request.operation, "reckon");
        let names: Vec<&str> = question.asks.iter().map(|one| one.name.as_str()).collect();
        assert!(
            names.starts_with(&["sidereal-time", "midheaven", "ascendant", "sun"]),
            "{names:?}"
        );
        let correct = |values: &[String]| {
            let read = names
                .iter()
                .map(|one| (*one).to_owned())
                .zip(values.iter().cloned());
            let answers = desk::CorrectExerciseRequest {
                pupil: "Ana".to_owned(),
                question: question.number,
                read: read.collect(),
            };
            desk::correct_exercise(&exercises, &answers, &cabinet)
                .unwrap()
                .judged
        };
        let key: Vec<String> = question.asks.iter().map(|one| one.reads.clone()).collect();
        assert_eq!(correct(&key).verdict, "right");
        for one in &question.asks {
            let apart = one.exact_deg.unwrap() - one.reads_deg;
            let apart = (apart + 540.0).rem_euclid(360.0) - 180.0;
            assert!(apart.abs() <= one.accept_deg, "{}: {apart}", one.name);
        }
        for tale in &question.tell_tales {
            let judged = correct(&tale.shows);
            assert_eq!(judged.verdict, "slips", "{:?}", tale.slips);
            let first = judged.explanations.iter().filter(|one| one.rank == 1);
            let found: Vec<&str> = first.map(|one| one.slips[0].name.as_str()).collect();
            assert!(
                found.contains(&tale.slips[0].as_str()),
                "{:?} {found:?}",
                tale.slips
            );
            slips += 1;
        }
    }
    assert!(slips > 20, "{slips}");
}
