//! Worked examples, questions and corrections, each small: what stands in them and what is
//! said of them.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::collections::BTreeMap;

use desk::{
    Cabinet, CastRequest, Class, CorrectRequest, JudgedAnswer, Lesson, LessonRequest,
    WithInstrument, WorkRequest, exercises, lesson,
};
use patience::Patience;

const SANTIAGO: &str = "42.8806,-8.5449";

fn case(with: &str) -> CastRequest {
    CastRequest {
        when: "2024-05-14 09:20".to_owned(),
        at: SANTIAGO.to_owned(),
        zone: Some("Europe/Madrid".to_owned()),
        with: Some(WithInstrument::Named(with.to_owned())),
        ..CastRequest::default()
    }
}

fn worked(operation: &str, with: &str) -> Lesson {
    let request = LessonRequest {
        work: WorkRequest {
            operation: operation.to_owned(),
            moment: case(with),
            ..WorkRequest::default()
        },
    };
    lesson(&request, &Cabinet::built_in(), None).unwrap()
}

/// Who is sent back to an earlier step finds the Sun set there; on paper there is nothing to
/// look at, and on the brass always something.
#[test]
fn a_worked_example_says_where_to_look_and_how_finely() {
    let answer = worked("cast", "class instrument").answer;
    let mut sent_back = 0;
    for step in &answer.steps {
        let remark = &step.remark;
        if let Some((_, after)) = remark.split_once("stands as after step ") {
            let number: usize = after.trim_end_matches('.').parse().unwrap();
            let there = &answer.steps[number - 1];
            assert!(there.instruction.contains("Sun"), "{remark}: {there:?}");
            sent_back += 1;
        } else {
            assert_eq!(remark.contains("Look at"), step.side != "paper", "{step:?}");
        }
        assert!(
            !remark.contains("to nothing") && !remark.contains("Look at: ."),
            "{remark}"
        );
    }
    assert!(sent_back > 0);
    let reads = answer
        .steps
        .iter()
        .filter(|step| step.remark.contains("It reads to "));
    // The Sun's degree, the ascendant, the midheaven and four cusps at the least.
    assert!(reads.count() >= 7);
}

/// A scale of the zodiac wants the Sun's own time, a ring of equal days the mean.
#[test]
fn the_sum_ends_with_the_time_that_the_rule_keeps() {
    for (with, time) in [
        ("class instrument", "local apparent time"),
        ("date-ring instrument", "local mean time"),
    ] {
        let sum = worked("cast", with).answer.sum;
        assert!(
            sum.last().unwrap().words.starts_with(time),
            "{with}: {sum:?}"
        );
    }
}

/// A cause that moves nothing which could be written down is left out, and no other.
#[test]
fn the_shares_of_a_worked_example_are_those_that_can_be_seen() {
    let readings = worked("cast", "pocket instrument").answer.readings;
    let shares: Vec<_> = readings.iter().flat_map(|one| &one.shares).collect();
    assert!(shares.len() > 5, "{shares:?}");
    for share in shares {
        let digits: Vec<char> = share.amount.chars().filter(char::is_ascii_digit).collect();
        assert!(digits.iter().any(|digit| *digit != '0'), "{share:?}");
    }
}

#[test]
fn an_example_of_nothing_says_what_there_is() {
    let refused = |operation: &str, when: &str| {
        let request = LessonRequest {
            work: WorkRequest {
                operation: operation.to_owned(),
                moment: CastRequest {
                    when: when.to_owned(),
                    ..case("class instrument")
                },
                ..WorkRequest::default()
            },
        };
        lesson(&request, &Cabinet::built_in(), None)
            .unwrap_err()
            .message
    };
    let cast = "cast is casting a figure";
    let unknown = refused("nonsense", "2024-05-14 09:20");
    assert!(unknown.contains(cast), "{unknown}");
    let no_day = refused("unequal-hours", "2024-05-32 09:20");
    assert!(!no_day.contains(cast), "{no_day}");
}

fn corrected(with: &str, readings: &[(&str, String)]) -> JudgedAnswer {
    let read = readings
        .iter()
        .map(|(name, value)| ((*name).to_owned(), value.clone()));
    let request = CorrectRequest {
        moment: case(with),
        read: read.collect::<BTreeMap<_, _>>(),
        figure: false,
    };
    desk::correct(&request, &Cabinet::built_in(), None)
        .unwrap()
        .judged
}

/// What the instrument reads at the moment: ascendant and midheaven in degrees.
fn shown(with: &str) -> [f64; 2] {
    let answer = desk::cast(&case(with), &Cabinet::built_in(), None).unwrap();
    let reading = answer.reading.unwrap();
    [reading.ascendant_deg, reading.midheaven_deg].map(Option::unwrap)
}

/// A steady hand is not told that it is rough, and sentences are set apart.
#[test]
fn right_readings_are_said_to_be_right() {
    let [ascendant, midheaven] = shown("class instrument");
    let judged = corrected(
        "class instrument",
        &[
            ("ascendant", format!("{:.2}", ascendant + 0.04)),
            ("midheaven", format!("{:.2}", midheaven - 0.04)),
        ],
    );
    assert_eq!(judged.verdict, "right");
    let right = "The readings are right, within what the instrument allows.";
    assert!(judged.sentence.starts_with(right), "{}", judged.sentence);
    assert!(!judged.sentence.contains(".T"), "{}", judged.sentence);
}

/// A degree without minutes is right half a degree further off, for it is rounded; with its
/// minutes it is not, though they are none.
#[test]
fn a_whole_degree_is_rounded_and_one_with_its_minutes_is_not() {
    let with_minutes = |deg: f64| sky::Zodiacal(sky::Angle::from_deg(deg)).to_string();
    let mut tried = 0;
    for with in [
        "class instrument",
        "lecture instrument",
        "pocket instrument",
    ] {
        let [ascendant, _] = shown(with);
        let of = |value: String| {
            let judged = corrected(with, &[("ascendant", value)]);
            (
                judged.readings[0].mark,
                judged.readings[0].within_deg.unwrap(),
            )
        };
        let (_, within) = of(format!("{ascendant:.2}"));
        for whole in (-3..=3).map(|off| (ascendant + f64::from(off)).floor()) {
            let beyond = (whole - ascendant).abs() - within;
            if (0.05..0.45).contains(&beyond) {
                assert_eq!(
                    of(format!("{whole:.0}")).0,
                    "right",
                    "{with}, {ascendant}: {whole}"
                );
                assert_ne!(of(with_minutes(whole)).0, "right", "{with}: {whole}");
                tried += 1;
            }
        }
    }
    assert!(tried > 0);
}

/// The first level asks for the angles, the second for two cusps beside them, the third for
/// four; from the second on every third question may be asked of another town.
#[test]
fn a_level_asks_for_its_cusps_and_its_towns() {
    let own = [WithInstrument::Specification(
        "version = 1\nname = \"three plates\"\ndiameter_mm = 200\nplates_deg = [36, 40, 43]\n\
         date_from = \"zodiac\"\nepoch_year = 2025\n"
            .to_owned(),
    )];
    for (level, cusps) in [
        (1, &[][..]),
        (2, &["II", "III"]),
        (3, &["II", "III", "XI", "XII"]),
    ] {
        let class = Class::from_toml(&format!(
            "version = 1\nname = \"An invented class\"\n\
             place = \"Santiago de Compostela, Spain\"\nyear = 2026\nseed = 5\nquestions = 3\n\
             level = {level}\noperations = [\"cast\"]\n\
             [[pupils]]\nname = \"One Example\"\nwith = \"class instrument\"\n"
        ))
        .unwrap();
        let all = exercises(&class, &own, &Cabinet::built_in(), Patience::ENDLESS).unwrap();
        let questions = &all.pupils[0].questions;
        let home = |at: &str| at.contains("Santiago");
        let away = questions.iter().filter(|one| !home(&one.request.moment.at));
        assert!(away.count() <= usize::from(level > 1), "level {level}");
        for question in questions {
            let names = question.asks.iter().map(|one| one.name.as_str());
            let angles = ["local-time", "sun-degree", "ascendant", "midheaven", "hour"];
            let asked: Vec<&str> = names.filter(|name| !angles.contains(name)).collect();
            assert_eq!(asked, cusps, "{}", question.text);
        }
    }
}

/// On a southern plate nothing is read in the north, so nothing is corrected.
#[test]
fn an_instrument_of_the_other_hemisphere_is_not_corrected_by() {
    let request = CorrectRequest {
        moment: case("southern instrument"),
        read: BTreeMap::from([("ascendant".to_owned(), "11 Pisces".to_owned())]),
        figure: false,
    };
    let refused = desk::correct(&request, &Cabinet::built_in(), None).unwrap_err();
    assert!(refused.message.contains("south"), "{}", refused.message);
}

/// A sidereal time to the minute is right half a minute off; with its seconds it is not.
#[test]
fn a_sidereal_time_is_marked_by_what_it_is_written_to() {
    let case = case("class instrument");
    let cast = desk::cast(&case, &Cabinet::built_in(), None).unwrap();
    let seconds = (cast.moment.sidereal_time_deg * 240.0).round();
    let verdict = |time: String| {
        let request = desk::ReckonRequest {
            when: case.when.clone(),
            at: case.at.clone(),
            zone: case.zone.clone(),
            read: BTreeMap::from([("sidereal-time".to_owned(), time)]),
            ..desk::ReckonRequest::default()
        };
        let answer = desk::reckoned(&request, &Cabinet::built_in(), None);
        answer.unwrap().own.unwrap().verdict
    };
    let hours = (seconds / 3600.0).floor();
    let minutes = (seconds / 60.0).round() - 60.0 * hours;
    assert_eq!(verdict(format!("{hours}:{minutes:02}")), "right");
    // Two minutes off, with their seconds.
    let off = seconds + 120.0 - 3600.0 * hours;
    let (minutes, rest) = ((off / 60.0).floor(), off % 60.0);
    assert_ne!(verdict(format!("{hours}:{minutes:02}:{rest:02}")), "right");
    assert_ne!(verdict(format!("{hours}:{:02}", minutes + 1.0)), "right");
}
