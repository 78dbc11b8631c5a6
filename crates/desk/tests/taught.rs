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

/// The lines of a picture that are lit.
fn lit(scene: &drawing::Scene) -> Vec<String> {
    let items = scene.groups.iter().flat_map(|group| &group.items);
    let lines = items.filter_map(|item| match item {
        drawing::Item::Stroke(trace) if trace.lit => trace.line.as_ref().map(ToString::to_string),
        _ => None,
    });
    lines.collect()
}

/// The class instrument has every second almucantar, a small picture carries every fifth at
/// best; the one that is looked at is drawn all the same.
#[test]
fn what_is_looked_at_is_drawn_however_small_the_picture() {
    let request = LessonRequest {
        work: WorkRequest {
            operation: "hour-by-sun".to_owned(),
            moment: case("class instrument"),
            seen: BTreeMap::from([("altitude".to_owned(), "31".to_owned())]),
            ..WorkRequest::default()
        },
    };
    let lesson = lesson(&request, &Cabinet::built_in(), None).unwrap();
    let mut almucantars = 0;
    for (step, picture) in lesson.answer.steps.iter().zip(&lesson.pictures) {
        let (Some(picture), Some((_, named))) = (picture, step.remark.split_once("Look at: "))
        else {
            continue;
        };
        let lit = lit(&picture.scene);
        for line in named.split('.').next().unwrap().split(", ") {
            assert!(
                lit.iter().any(|one| one == line),
                "{line} is not in {lit:?}"
            );
            almucantars += usize::from(line == "almucantar 32°");
        }
    }
    assert!(almucantars > 0, "{:?}", lesson.answer.steps);
}

/// The small picture is of the same instrument: what is looked at lies in it where it lies
/// under the glass, but for a limb that is broader in proportion.
#[test]
fn the_small_picture_and_the_glass_look_at_one_place() {
    let mut compared = 0;
    for picture in worked("cast", "class instrument")
        .pictures
        .into_iter()
        .flatten()
    {
        let (Some(small), Some(glass)) = (picture.look_at, picture.glass) else {
            continue;
        };
        let large = glass.at * (1.0 / glass.scene.reach_mm);
        let along = (small.x * large.x + small.y * large.y) / (small.radius() * large.radius());
        let part = small.radius() / large.radius();
        assert!(
            along > 0.998 && (0.8..1.25).contains(&part),
            "{small:?} {large:?}"
        );
        compared += 1;
    }
    assert!(compared > 5, "{compared}");
}

/// Everyone of a class has the same question, whatever they hold; who has a level of their
/// own has their own.
#[test]
fn a_class_is_asked_the_same_but_for_who_has_a_level_of_their_own() {
    let class = Class::from_toml(
        "version = 1\nname = \"An invented class\"\n\
         place = \"Santiago de Compostela, Spain\"\nyear = 2026\nseed = 5\nquestions = 1\n\
         operations = [\"sun-degree\"]\n\
         [[pupils]]\nname = \"One Example\"\nwith = \"x\"\n\
         [[pupils]]\nname = \"Two Example\"\nwith = \"x\"\n\
         [[pupils]]\nname = \"Three Example\"\nwith = \"x\"\nlevel = 3\n",
    )
    .unwrap();
    assert_eq!((class.level, class.same_questions), (1, true));
    let class_set = || WithInstrument::Named("class instrument".to_owned());
    let other = WithInstrument::Specification(
        "version = 1\nname = \"another\"\ndiameter_mm = 250\nepoch_year = 2025\n\
         plates_deg = [43]\ndate_from = \"zodiac\"\n"
            .to_owned(),
    );
    let brass = [class_set(), other, class_set()];
    let all = exercises(&class, &brass, &Cabinet::built_in(), Patience::ENDLESS).unwrap();
    let when: Vec<&str> = all
        .pupils
        .iter()
        .map(|pupil| pupil.questions[0].request.moment.when.as_str())
        .collect();
    assert_eq!(when[0], when[1]);
    assert_ne!(when[0], when[2]);
    assert!(all.pupils.iter().all(|pupil| !pupil.questions[0].instead));
}

/// That the nearest plate is off is said where questions are asked of another town for it: not
/// where a plate is of the place, though the level leads elsewhere, nor where all is asked at
/// home.
#[test]
fn a_pupil_is_told_of_a_plate_that_is_off_where_it_matters() {
    let noted = |plates: &str, level: u8| {
        let class = Class::from_toml(&format!(
            "version = 1\nname = \"An invented class\"\n\
             place = \"Santiago de Compostela, Spain\"\nyear = 2026\nseed = 5\nquestions = 3\n\
             level = {level}\noperations = [\"sun-degree\"]\n\
             [[pupils]]\nname = \"One Example\"\nwith = \"x\"\n"
        ))
        .unwrap();
        let brass = [WithInstrument::Specification(format!(
            "version = 1\nname = \"invented\"\ndiameter_mm = 200\nepoch_year = 2025\n\
             plates_deg = [{plates}]\ndate_from = \"zodiac\"\n"
        ))];
        let all = exercises(&class, &brass, &Cabinet::built_in(), Patience::ENDLESS).unwrap();
        let pupil = &all.pupils[0];
        let home = |at: &str| at.contains("Santiago");
        let away = pupil
            .questions
            .iter()
            .any(|one| !home(&one.request.moment.at));
        assert_eq!(away, level > 1, "{plates}");
        pupil
            .notes
            .iter()
            .any(|note| note.contains("the nearest plate"))
    };
    assert!(!noted("42.88, 50.1", 2));
    assert!(!noted("41.9, 50.1", 1));
    assert!(noted("41.9, 50.1", 2));
}

/// The table to open first, and its row, stand beside what the pen is to find.
#[test]
fn a_key_of_the_pen_names_the_table_that_is_opened_first() {
    let class = Class::from_toml(
        "version = 1\nname = \"An invented class\"\n\
         place = \"Santiago de Compostela, Spain\"\nyear = 2026\nseed = 5\nquestions = 1\n\
         operations = [\"reckon\"]\n\
         [[pupils]]\nname = \"One Example\"\nwith = \"class instrument\"\n",
    )
    .unwrap();
    let brass = [WithInstrument::Named("class instrument".to_owned())];
    let all = exercises(&class, &brass, &Cabinet::built_in(), Patience::ENDLESS).unwrap();
    let asks = &all.pupils[0].questions[0].asks;
    let opened: Vec<(&str, &str)> = asks
        .iter()
        .map(|one| (one.name.as_str(), one.line.split(',').next().unwrap()))
        .collect();
    assert_eq!(
        opened,
        [
            ("sidereal-time", "sidereal-time"),
            ("midheaven", "houses"),
            ("ascendant", "houses"),
            ("sun", "ephemeris")
        ]
    );
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

/// Where the names of the stars have taken the shadow square's place, no shadow is read.
#[test]
fn an_instrument_without_a_shadow_square_measures_no_shadows() {
    for (with, measures) in [("class instrument", true), ("key-ring instrument", false)] {
        let request = WorkRequest {
            operation: "height-by-recta".to_owned(),
            moment: case(with),
            seen: BTreeMap::from([("shadow".to_owned(), "4".to_owned())]),
            told: BTreeMap::from([("distance".to_owned(), "20".to_owned())]),
            ..WorkRequest::default()
        };
        match desk::work(&request, &Cabinet::built_in(), None) {
            Ok(_) => assert!(measures, "{with}"),
            Err(refusal) => {
                let said = refusal.to_string();
                assert!(
                    !measures && said.contains("shadow square"),
                    "{with}: {said}"
                );
            }
        }
    }
}
