//! Exercises and worked examples: every key is what the instrument says, every tell-tale
//! is its slip, and what is written is read back and corrected.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::collections::BTreeSet;

use desk::{
    Cabinet, CastRequest, Class, CorrectExerciseRequest, CourseRequest, ExercisesAnswer,
    LessonRequest, PupilAnswer, QuestionAnswer, WithInstrument, WorkRequest,
};
use patience::Patience;
use proptest::prelude::*;

/// Nobody gives up here.
const ENDLESS: Patience<'static> = Patience::ENDLESS;

/// Values go through numbers of degrees and back.
const SAME: f64 = 1e-9;

/// A class, and the instruments of its pupils.
type WithBrass = (Class, Vec<WithInstrument>);

fn class(head: &str, pupils: &[(&str, &str, &str)]) -> WithBrass {
    let mut text = format!(
        "version = 1\nname = \"An invented class\"\nplace = \"Santiago de Compostela, Spain\"\nyear = 2026\n{head}\n"
    );
    for (name, _, more) in pupils {
        text.push_str(&format!(
            "[[pupils]]\nname = \"{name}\"\nwith = \"x\"\n{more}\n"
        ));
    }
    let named = |with: &str| {
        if with.contains('=') {
            WithInstrument::Specification(with.to_owned())
        } else {
            WithInstrument::Named(with.to_owned())
        }
    };
    let instruments = pupils.iter().map(|(_, with, _)| named(with)).collect();
    (Class::from_toml(&text).unwrap(), instruments)
}

fn whole_cabinet(head: &str) -> WithBrass {
    class(
        head,
        &[
            ("Aldara Example", "class instrument", ""),
            ("Brais Example", "date-ring instrument", ""),
            ("Clodio Example", "pocket instrument", ""),
            ("Delia Example", "lecture instrument", "level = 3"),
            ("Edurne Example", "southern instrument", ""),
        ],
    )
}

fn drawn((class, instruments): &WithBrass) -> ExercisesAnswer {
    desk::exercises(class, instruments, &Cabinet::built_in(), ENDLESS).unwrap()
}

fn all(exercises: &ExercisesAnswer) -> impl Iterator<Item = (&PupilAnswer, &QuestionAnswer)> {
    exercises.pupils.iter().flat_map(|pupil| {
        let questions = pupil.questions.iter();
        questions.map(move |question| (pupil, question))
    })
}

fn cast(request: &CastRequest) -> desk::CastAnswer {
    desk::cast(request, &Cabinet::built_in(), None).unwrap()
}

/// What `cast` or `work` reads of a thing that is asked.
fn read_elsewhere(question: &QuestionAnswer, name: &str, without: &[&str]) -> f64 {
    let mut moment = question.request.moment.clone();
    moment.without = without.iter().map(|one| (*one).to_owned()).collect();
    if question.request.operation != "cast" {
        let request = WorkRequest {
            moment,
            ..question.request.clone()
        };
        let answer = desk::work(&request, &Cabinet::built_in(), None).unwrap();
        let found = answer.findings.iter().find(|one| one.name == name);
        let found = found.unwrap();
        // A time of day is kept from midnight when it is asked of a pupil.
        return found.deg.unwrap();
    }
    let answer = cast(&moment);
    let reading = answer.reading.unwrap();
    let number = |numeral: &str| {
        let numerals = [
            "I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X", "XI", "XII",
        ];
        numerals.iter().position(|one| *one == numeral)
    };
    match name {
        "ascendant" => reading.ascendant_deg.unwrap(),
        "midheaven" => reading.midheaven_deg.unwrap(),
        "local-time" | "sun-degree" => {
            let what = if name == "local-time" {
                "hour for the rule"
            } else {
                "Sun's degree"
            };
            let steps = answer.working.unwrap().steps;
            let step = steps.iter().find_map(|step| {
                let read = step.reading.as_ref()?;
                (read.what == what).then_some(read.deg)
            });
            let from = if name == "local-time" { 180.0 } else { 0.0 };
            (step.unwrap() + from).rem_euclid(360.0)
        }
        house => reading.cusps[answer.by][number(house).unwrap()]
            .deg
            .unwrap(),
    }
}

fn apart(one: f64, other: f64) -> f64 {
    let apart = (one - other).rem_euclid(360.0);
    apart.min(360.0 - apart)
}

#[test]
fn every_key_is_what_the_instrument_reads() {
    for head in [
        "seed = 1\nlevel = 1",
        "seed = 2\nlevel = 2\nquestions = 8",
        "seed = 3\nlevel = 3\nquestions = 8\nby = \"limb-thirds\"",
    ] {
        let exercises = drawn(&whole_cabinet(head));
        for (pupil, question) in all(&exercises) {
            for asked in &question.asks {
                let there = read_elsewhere(question, &asked.name, &[]);
                assert!(
                    apart(asked.reads_deg, there) < SAME,
                    "{} {} {}: {} {there}",
                    pupil.name,
                    question.number,
                    asked.name,
                    asked.reads_deg
                );
                assert!(asked.accept_deg > 0.0 && !asked.line.is_empty());
            }
        }
    }
}

/// The sum is told to leave a correction out, as a pupil would.
#[test]
fn a_tell_tale_is_what_comes_of_its_slip() {
    let exercises = drawn(&whole_cabinet("seed = 5\nlevel = 2\nquestions = 9"));
    let mut seen = BTreeSet::new();
    for (_, question) in all(&exercises).filter(|(_, one)| one.request.operation == "cast") {
        for (slip, without) in [
            ("summer-time-left-in", vec!["summer-time"]),
            ("longitude-left-out", vec!["longitude"]),
            ("equation-left-out", vec!["equation-of-time"]),
            ("clock-taken-as-local", vec!["zone", "longitude"]),
        ] {
            let tales = question.tell_tales.iter();
            let Some(tale) = tales.into_iter().find(|tale| tale.slips[0] == slip) else {
                continue;
            };
            seen.insert(slip);
            for (asked, shown) in question.asks.iter().zip(&tale.shows_deg) {
                let there = read_elsewhere(question, &asked.name, &without);
                assert!(apart(*shown, there) < SAME, "{slip} {}", asked.name);
            }
        }
    }
    assert_eq!(seen.len(), 4, "{seen:?}");
}

#[test]
fn what_is_written_is_read_back_and_each_tell_tale_put_down_to_its_slip() {
    let whole = drawn(&whole_cabinet("seed = 11\nlevel = 2"));
    let written = serde_json::to_string(&whole).unwrap();
    let exercises = desk::exercises_of_json(&written).unwrap();
    for ((_, question), (_, before)) in all(&exercises).zip(all(&whole)) {
        assert!(question.request == before.request && question.text == before.text);
        assert_eq!(question.asks.len(), before.asks.len());
    }
    let cabinet = Cabinet::built_in();
    let corrected = |pupil: &PupilAnswer, question: &QuestionAnswer, texts: &[String]| {
        let names = question.asks.iter().map(|asked| asked.name.clone());
        let request = CorrectExerciseRequest {
            pupil: pupil.name.clone(),
            question: question.number,
            read: names.zip(texts.iter().cloned()).collect(),
        };
        desk::correct_exercise(&exercises, &request, &cabinet)
            .unwrap()
            .judged
    };
    let mut tried = 0;
    for (index, (pupil, question)) in all(&exercises).enumerate() {
        let right: Vec<String> = question.asks.iter().map(|one| one.reads.clone()).collect();
        let answer = corrected(pupil, question, &right);
        assert_eq!(
            answer.verdict, "right",
            "{} {}",
            pupil.name, question.number
        );
        // Every second one: they are corrected in the dozens.
        for tale in question.tell_tales.iter().skip(index % 2).step_by(2) {
            let answer = corrected(pupil, question, &tale.shows);
            let first = answer.explanations.iter().filter(|one| one.rank == 1);
            let named: Vec<&str> = first
                .flat_map(|one| one.slips.iter().map(|slip| slip.name.as_str()))
                .collect();
            assert!(
                tale.slips.iter().all(|slip| named.contains(&slip.as_str())),
                "{} {}: {:?} but {named:?}",
                pupil.name,
                question.number,
                tale.slips
            );
            tried += 1;
        }
    }
    assert!(tried > 80, "{tried}");
}

#[test]
fn a_place_that_kept_the_julian_calendar_longer_has_exercises_of_its_years() {
    let (mut class, brass) = class("seed = 3", &[("One Example", "lecture instrument", "")]);
    class.year = 1600;
    class.place = "London, England, United Kingdom".to_owned();
    let exercises = drawn(&(class, brass));
    let cabinet = Cabinet::built_in();
    for (pupil, question) in all(&exercises) {
        if question.request.operation == "cast" {
            assert!(
                question.text.contains("(Gregorian calendar)"),
                "{}",
                question.text
            );
        }
        let read = question
            .asks
            .iter()
            .map(|one| (one.name.clone(), one.reads.clone()));
        let request = CorrectExerciseRequest {
            pupil: pupil.name.clone(),
            question: question.number,
            read: read.collect(),
        };
        let answer = desk::correct_exercise(&exercises, &request, &cabinet)
            .unwrap()
            .judged;
        assert_eq!(answer.verdict, "right", "{}", question.text);
    }
}

#[test]
fn the_same_seed_draws_the_same_and_another_another() {
    let json = |head| serde_json::to_string(&drawn(&whole_cabinet(head))).unwrap();
    assert!(json("seed = 7") == json("seed = 7"));
    assert!(json("seed = 7") != json("seed = 8"));
}

#[test]
fn the_same_question_has_another_key_on_another_instrument() {
    let exercises = drawn(&whole_cabinet("seed = 7\noperations = [\"cast\"]"));
    let [class, ring, pocket, ..] = exercises.pupils.as_slice() else {
        panic!("five pupils");
    };
    let mut common = 0;
    for number in 0..class.questions.len() {
        let of = |pupil: &PupilAnswer| {
            let question = &pupil.questions[number];
            let asked = question.asks.iter().find(|one| one.name == "ascendant");
            // What a plate is too far off for is drawn anew.
            (!question.instead).then(|| {
                (
                    question.request.moment.when.clone(),
                    asked.unwrap().reads_deg,
                )
            })
        };
        let (when, here) = of(class).unwrap();
        for (other, there) in [of(ring), of(pocket)].into_iter().flatten() {
            assert_eq!(when, other);
            assert!(apart(here, there) > 1e-6);
            common += 1;
        }
    }
    assert!(common >= 4, "{common}");
    // A southern instrument is asked of the south, and each of its own level has its own.
    for (pupil, question) in all(&exercises) {
        match pupil.instrument.as_str() {
            "southern instrument" => assert!(question.instead && question.setting.contains('S')),
            "class instrument" => assert!(!question.instead),
            _ => {}
        }
    }
}

#[test]
fn questions_spread_over_year_day_and_zodiac() {
    for (seed, level) in [(1, 1), (2, 2), (3, 3), (4, 1)] {
        let head =
            format!("seed = {seed}\nlevel = {level}\nquestions = 12\noperations = [\"cast\"]");
        let exercises = drawn(&class(&head, &[("Aldara Example", "class instrument", "")]));
        let (mut months, mut quarters, mut halves) =
            (BTreeSet::new(), BTreeSet::new(), BTreeSet::new());
        for (_, question) in all(&exercises) {
            let when = &question.request.moment.when;
            months.insert(when[5..7].to_owned());
            halves.insert(&when[11..13] < "12");
            let asked = question.asks.iter().find(|one| one.name == "ascendant");
            quarters.insert((asked.unwrap().exact_deg.unwrap() / 90.0) as u8);
        }
        assert!(months.len() >= 11, "{months:?}");
        // At the last level every second is drawn where the ascendant moves fast.
        let least = if level == 3 { 3 } else { 4 };
        assert!(quarters.len() >= least, "seed {seed}: {quarters:?}");
        assert_eq!(halves.len(), 2);
    }
}

/// The ascendant moves slower where beginners read it than where the last level does.
#[test]
fn the_first_level_reads_well_and_the_last_awkwardly() {
    let pace = |level: u8| {
        let head = format!("seed = 21\nlevel = {level}\nquestions = 12\noperations = [\"cast\"]");
        let exercises = drawn(&class(&head, &[("Aldara Example", "class instrument", "")]));
        // At the last level the first of every two is drawn so.
        let paces: Vec<f64> = all(&exercises)
            .step_by(2)
            .map(|(_, question)| {
                let at = |minutes: &str| {
                    let when = &question.request.moment.when;
                    let later = CastRequest {
                        when: format!("{when}:{minutes}"),
                        ..question.request.moment.clone()
                    };
                    cast(&later).figure.ascendant_deg.unwrap()
                };
                apart(at("00"), at("59"))
            })
            .collect();
        paces.iter().sum::<f64>() / 6.0
    };
    let (first, last) = (pace(1), pace(3));
    assert!(first * 1.3 < last, "{first} {last}");
}

#[test]
fn every_operation_can_be_asked_on_paper() {
    let names: Vec<String> = desk::operations()
        .iter()
        // The class instrument's back has no lines of its own.
        .filter(|one| one.name != "altitude" && one.heading != "The back's own lines")
        .map(|one| format!("\"{}\"", one.name))
        .collect();
    let head = format!(
        "seed = 4\nlevel = 2\nquestions = {}\noperations = [{}]",
        names.len(),
        names.join(", ")
    );
    let exercises = drawn(&class(&head, &[("Aldara Example", "class instrument", "")]));
    let mut replaced = Vec::new();
    for ((_, question), name) in all(&exercises).zip(&names) {
        if format!("\"{}\"", question.request.operation) != *name {
            replaced.push(name);
        }
        // What is sought is not told.
        if question.request.operation.starts_with("hour-by") {
            assert!(question.text.contains("take the date for noon"));
            assert!(!question.text.contains(" h "), "{}", question.text);
        }
    }
    assert!(replaced.is_empty(), "{replaced:?}");
}

#[test]
fn a_ring_is_asked_for_no_degree_of_a_scale_it_lacks() {
    let exercises = drawn(&class(
        "seed = 9\noperations = [\"sun-degree\", \"cast\"]",
        &[
            ("Aldara Example", "class instrument", ""),
            ("Brais Example", "date-ring instrument", ""),
        ],
    ));
    let of = |index: usize| &exercises.pupils[index].questions;
    assert_eq!(of(0)[0].request.operation, "sun-degree");
    assert!(of(1)[0].instead);
    assert_eq!(of(1)[0].request.operation, "cast");
    let asks = of(1).iter().flat_map(|one| &one.asks);
    assert!(asks.into_iter().all(|asked| asked.name != "sun-degree"));
    // The hour is the mean Sun's.
    assert!(of(1)[0].asks[0].what.contains("mean"));
}

#[test]
fn class_files_are_refused_by_line_and_name() {
    let good = "version = 1\nname = \"A\"\nplace = \"42.9,-8.5\"\nyear = 2026\nseed = 1\n";
    let pupil = "[[pupils]]\nname = \"B\"\nwith = \"class instrument\"\n";
    let twice = format!("{pupil}[[pupils]]\nname = \"b\"\nwith = \"class instrument\"\n");
    for (text, names) in [
        (String::new(), vec!["line 1", "version"]),
        (good.to_owned(), vec!["nobody", "[[pupils]]"]),
        (
            format!("{good}colour = 3\n{pupil}"),
            vec!["line 6", "colour", "questions"],
        ),
        (
            format!("{good}level = 4\n{pupil}"),
            vec!["line 6", "level = 4", "beginner, practised, adept"],
        ),
        (
            format!("{good}questions = 0\n{pupil}"),
            vec!["line 6", "1 to 60"],
        ),
        (
            good.replace("2026", "1400") + pupil,
            vec!["line 4", "1400", "1583"],
        ),
        (
            good.replace("version = 1", "version = 2") + pupil,
            vec!["version = 1 would do"],
        ),
        (
            good.replace("\"A\"", "\" \"") + pupil,
            vec!["line 2", "name"],
        ),
        (
            format!("{good}operations = [\"juggle\"]\n{pupil}"),
            vec!["line 6", "juggle", "almuri work"],
        ),
        (
            format!("{good}operations = []\n{pupil}"),
            vec!["line 6", "cast"],
        ),
        (
            format!("{good}operations = [\"altitude\"]\n{pupil}"),
            vec!["line 6", "altitude"],
        ),
        (format!("{good}{twice}"), vec!["line 9", "“b”", "line 6"]),
        (
            format!("{good}[[pupils]]\nname = \"\"\nwith = \"x\"\n"),
            vec!["line 6", "name"],
        ),
        (
            format!("{good}[[pupils]]\nname = \"B\"\n"),
            vec!["line 6", "with"],
        ),
        (
            format!("{good}{pupil}level = 9\n"),
            vec!["line 6", "“B”", "level = 9", "beginner, practised, adept"],
        ),
        (
            format!("{good}{pupil}").repeat(2),
            vec!["line 10", "duplicate"],
        ),
        ("= \u{0}".to_owned(), vec!["line 1"]),
    ] {
        let refusal = desk::Class::from_toml(&text).unwrap_err().to_string();
        for name in names {
            assert!(refusal.contains(name), "{name:?} is not in: {refusal}");
        }
    }
    let (lost, brass) = class("seed = 1", &[("Aldara Example", "no such instrument", "")]);
    let refusal = desk::exercises(&lost, &brass, &Cabinet::built_in(), ENDLESS).unwrap_err();
    assert!(refusal.message.contains("Aldara") && refusal.message.contains("class instrument"));
    let (nowhere, brass) = class(
        "seed = 1",
        &[(
            "Aldara Example",
            "class instrument",
            "place = \"Nowhere at all\"",
        )],
    );
    let refusal = desk::exercises(&nowhere, &brass, &Cabinet::built_in(), ENDLESS).unwrap_err();
    assert!(refusal.message.contains("Aldara") && refusal.message.contains("Nowhere"));
}

#[test]
fn other_files_than_exercises_are_refused() {
    for text in [
        "",
        "{}",
        "[]",
        "{\"version\": 2}",
        "{\"version\": 1, \"pupils\": 3}",
    ] {
        let refusal = desk::exercises_of_json(text).unwrap_err();
        assert!(refusal.message.contains("exercises.json"), "{refusal}");
    }
    // The page hands them over as they are.
    let mut later = drawn(&class(
        "seed = 1\nquestions = 1",
        &[("One", "class instrument", "")],
    ));
    later.version = 2;
    let request = CorrectExerciseRequest {
        pupil: "One".to_owned(),
        question: 1,
        ..CorrectExerciseRequest::default()
    };
    let refusal = desk::correct_exercise(&later, &request, &Cabinet::built_in()).unwrap_err();
    assert!(refusal.message.contains("version 2"), "{refusal}");
}

#[test]
fn a_worked_example_has_a_picture_for_every_look_and_the_readings_of_the_working() {
    let cabinet = Cabinet::built_in();
    let request = LessonRequest {
        work: WorkRequest {
            operation: "cast".to_owned(),
            moment: CastRequest {
                when: "2024-05-14 09:20".to_owned(),
                at: "42.8806,-8.5449".to_owned(),
                zone: Some("Europe/Madrid".to_owned()),
                ..CastRequest::default()
            },
            ..WorkRequest::default()
        },
    };
    let lesson = desk::lesson(&request, &cabinet, None).unwrap();
    let answer = &lesson.answer;
    assert_eq!(answer.steps.len(), lesson.pictures.len());
    for (step, picture) in answer.steps.iter().zip(&lesson.pictures) {
        let looks = step.side != "paper" && !step.instruction.contains("back to where");
        assert_eq!(picture.is_some(), looks, "{}", step.instruction);
    }
    // From 9 h 20 m to 6 h 49 m, as the sheet of the cast has it.
    let results: Vec<&str> = answer.sum.iter().map(|line| line.result.as_str()).collect();
    assert_eq!(results.first(), Some(&"9 h 20 m 00 s"));
    assert_eq!(results.last(), Some(&"6 h 49 m 28 s"));
    let whole = desk::cast(&request.work.moment, &cabinet, None).unwrap();
    let ascendant = desk::words::Zodiacal(desk::words::Angle::from_deg(
        whole.reading.unwrap().ascendant_deg.unwrap(),
    ));
    assert_eq!(answer.readings.len(), 12);
    assert_eq!(answer.readings[0].read, Some(ascendant.to_string()));
    let mut stray = request.clone();
    stray.work.star = Some("Alkair".to_owned());
    let refusal = desk::lesson(&stray, &cabinet, None).unwrap_err();
    assert!(refusal.message.contains("no star"), "{refusal}");
    // Every picture has lines to look at.
    let lit = |picture: &desk::LessonPicture| {
        let items = picture.scene.groups.iter().flat_map(|group| &group.items);
        let mut strokes = items.filter_map(|item| match item {
            drawing::Item::Stroke(trace) => Some(trace.lit),
            _ => None,
        });
        strokes.any(|lit| lit)
    };
    assert!(lesson.pictures.iter().flatten().all(lit));
}

#[test]
fn every_operation_has_a_worked_example_on_every_instrument() {
    let cabinet = Cabinet::built_in();
    let mut made = 0;
    let mut missing = BTreeSet::new();
    // The first eight differ in what they have, the others in their looks.
    for instrument in desk::instruments(&cabinet).into_iter().take(8) {
        let south = instrument.hemisphere == "south";
        for operation in desk::operations() {
            let request = LessonRequest {
                work: WorkRequest {
                    operation: operation.name.to_owned(),
                    moment: CastRequest {
                        when: "2026-05-14 10:20".to_owned(),
                        at: if south { "-37,150" } else { "46,7" }.to_owned(),
                        clock: Some("mean".to_owned()),
                        with: Some(WithInstrument::Named(instrument.name.clone())),
                        ..CastRequest::default()
                    },
                    star: Some("any".to_owned()),
                    told: [
                        ("degree", "11 Pisces"),
                        ("other-degree", "0 Taurus"),
                        ("latitude", "-3"),
                        ("unequal-hours", "3"),
                        ("distance", "20"),
                    ]
                    .map(|(name, value)| (name.to_owned(), value.to_owned()))
                    .into(),
                    seen: [
                        ("shadow", "4"),
                        ("other-shadow", "8"),
                        ("wanderer-altitude", "30"),
                        ("other-altitude", "31"),
                        ("morning-shadow", "300"),
                        ("evening-shadow", "62"),
                    ]
                    .map(|(name, value)| (name.to_owned(), value.to_owned()))
                    .into(),
                    ..WorkRequest::default()
                },
            };
            let Ok(lesson) = desk::lesson(&request, &cabinet, None) else {
                continue;
            };
            assert!(!lesson.answer.steps.is_empty() && !lesson.answer.readings.is_empty());
            made += 1;
            for (step, picture) in lesson.answer.steps.iter().zip(&lesson.pictures) {
                let Some(picture) = picture else { continue };
                let named = step.remark.split_once("Look at: ");
                let named = named.map_or("", |(_, rest)| rest.split('.').next().unwrap());
                let lit: BTreeSet<String> = picture
                    .scene
                    .groups
                    .iter()
                    .flat_map(|group| &group.items)
                    .filter_map(|item| match item {
                        drawing::Item::Stroke(trace) if trace.lit => {
                            trace.line.as_ref().map(ToString::to_string)
                        }
                        _ => None,
                    })
                    .collect();
                for line in named.split(", ").filter(|line| !line.is_empty()) {
                    if !lit.contains(line) {
                        missing.insert(line.to_owned());
                    }
                }
            }
        }
    }
    // Some stars are not up, and rings have no scale for the Sun's degree.
    assert!(made > 210, "{made}");
    assert!(missing.is_empty(), "{missing:?}");
}

#[test]
fn a_course_leaves_out_what_an_instrument_lacks_and_is_corrected_like_a_class() {
    let cabinet = Cabinet::built_in();
    let request = |with: &str| CourseRequest {
        at: "Paris, France".to_owned(),
        with: Some(WithInstrument::Named(with.to_owned())),
        year: 2026,
        seed: 1,
        ..CourseRequest::default()
    };
    let with_scale = desk::course(&request("class instrument"), &cabinet, ENDLESS).unwrap();
    let with_ring = desk::course(&request("date-ring instrument"), &cabinet, ENDLESS).unwrap();
    assert_eq!(
        (with_scale.lessons.len(), with_ring.lessons.len()),
        (14, 13)
    );
    for course in [&with_scale, &with_ring] {
        let questions = &course.exercises.pupils[0].questions;
        assert_eq!(questions.len(), course.lessons.len() * 2);
        for (index, question) in questions.iter().enumerate() {
            assert_eq!(question.number, index + 1);
            let lesson = &course.lessons[index / 2];
            assert_eq!(question.request.operation, lesson.example.answer.operation);
            assert!(lesson.questions.contains(question));
        }
        let last = questions.last().unwrap();
        let read = CorrectExerciseRequest {
            pupil: "course".to_owned(),
            question: last.number,
            read: [("ascendant".to_owned(), last.asks[2].reads.clone())].into(),
        };
        desk::correct_exercise(&course.exercises, &read, &cabinet).unwrap();
    }
    for (wrong, names) in [
        (request("southern instrument"), "hemisphere"),
        (
            CourseRequest {
                year: 1066,
                ..request("class instrument")
            },
            "1583",
        ),
        (
            CourseRequest {
                at: "Nowhere at all".to_owned(),
                ..request("class instrument")
            },
            "Nowhere",
        ),
    ] {
        let refusal = desk::course(&wrong, &cabinet, ENDLESS).unwrap_err();
        assert!(refusal.message.contains(names), "{refusal}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 16, ..ProptestConfig::default() })]

    #[test]
    fn no_instrument_is_left_without_a_question(
        diameter in 35.0..500.0_f64,
        south: bool,
        midnight: bool,
        plates in prop::collection::vec(0.0..88.0_f64, 1..4),
        date_from in prop::sample::select(vec!["zodiac", "equal-day-ring", "true-sun-ring", "given"]),
        curves: bool,
        home in -70.0..70.0_f64,
        level in 1..4_u8,
        seed in 0..1000_u32,
    ) {
        let sign = if south { -1.0 } else { 1.0 };
        let plates: Vec<String> = plates.iter().map(|one| format!("{:.2}", one * sign)).collect();
        let specification = format!(
            "version = 1\nname = \"random\"\ndiameter_mm = {diameter:.1}\nhemisphere = \"{}\"\norientation = \"{}\"\nepoch_year = 1700\nplates_deg = [{}]\ndate_from = \"{date_from}\"\nunequal_hour_lines = \"{}\"\n",
            if south { "south" } else { "north" },
            if midnight { "midnight-up" } else { "noon-up" },
            plates.join(", "),
            if curves { "curves" } else { "arcs" },
        );
        let head = format!("seed = {seed}\nlevel = {level}\nquestions = 4");
        let (mut class, brass) = class(&head, &[("Someone", &specification, "")]);
        class.place = format!("{home:.3},20");
        class.zone = Some("Etc/GMT-1".to_owned());
        let exercises = drawn(&(class, brass));
        for (_, question) in all(&exercises) {
            prop_assert!(!question.asks.is_empty() && !question.text.is_empty());
            for asked in &question.asks {
                prop_assert!(asked.reads_deg.is_finite() && asked.accept_deg > 0.0);
            }
        }
    }
}

/// Whoever writes what stands in the key, as it stands there, has it right: each value, in
/// every operation that is asked.
#[test]
fn what_a_key_says_may_be_written_as_it_says_it() {
    let exercises = drawn(&whole_cabinet("seed = 11\nquestions = 12\nlevel = 2\n"));
    let mut seen = BTreeSet::new();
    for (pupil, question) in all(&exercises) {
        let read = question.asks.iter();
        let request = CorrectExerciseRequest {
            pupil: pupil.name.clone(),
            question: question.number,
            read: read
                .map(|asked| (asked.name.clone(), asked.reads.clone()))
                .collect(),
        };
        let answer = desk::correct_exercise(&exercises, &request, &Cabinet::built_in());
        let answer = answer.unwrap_or_else(|why| panic!("{}: {why}", question.title));
        for reading in &answer.judged.readings {
            assert_eq!(reading.mark, "right", "{}: {reading:?}", question.title);
            seen.insert(reading.measure);
        }
    }
    assert!(seen.len() >= 5, "{seen:?}");
}
