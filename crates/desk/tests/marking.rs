//! Answers are marked alike on a key and at a desk: by what the brass shows, by what is
//! calculated, and by what follows from a reader's own hour.

use desk::{
    AskedAnswer, Cabinet, CastRequest, Class, CorrectExerciseRequest, CorrectRequest,
    WithInstrument,
};
use patience::Patience;

/// Values go through numbers of degrees and back.
const SAME: f64 = 1e-9;

/// With plates four degrees and a half from the class's town, questions are asked of towns
/// that they serve, and whoever answers as is calculated is right, as is whoever answers
/// as the brass shows; a key and the desk have one tolerance.
#[test]
fn what_is_calculated_is_right_though_no_plate_is_of_the_town() {
    let class = Class::from_toml(
        "version = 1\nname = \"An invented class\"\nplace = \"Sevilla, Spain\"\n\
                year = 2026\nseed = 5\nlevel = 2\n\
                operations = [\"cast\", \"hour-by-sun\", \"day-and-night\"]\n\
                [[pupils]]\nname = \"One Example\"\nwith = \"class instrument\"\n",
    )
    .unwrap();
    let own = [WithInstrument::Named("class instrument".to_owned())];
    let cabinet = Cabinet::built_in();
    let exercises = desk::exercises(&class, &own, &cabinet, Patience::ENDLESS).unwrap();
    let pupil = &exercises.pupils[0];
    assert!(
        pupil.notes.iter().any(|note| note.contains("In Sevilla")),
        "{:?}",
        pupil.notes
    );
    let mut checked = 0;
    for question in &pupil.questions {
        let with = |text: fn(&AskedAnswer) -> Option<String>| {
            let asks = question.asks.iter();
            let read = asks.filter_map(|one| Some((one.name.clone(), text(one)?)));
            let request = CorrectExerciseRequest {
                pupil: pupil.name.clone(),
                question: question.number,
                read: read.collect(),
            };
            let answer = desk::correct_exercise(&exercises, &request, &cabinet);
            answer.unwrap().judged
        };
        for text in [
            (|one| one.exact.clone()) as fn(&AskedAnswer) -> Option<String>,
            |one| Some(one.reads.clone()),
        ] {
            for reading in with(text).readings {
                // A cusp by another procedure is another cusp.
                if reading.what.starts_with("cusp") {
                    continue;
                }
                assert_eq!(reading.mark, "right", "{}: {reading:?}", question.text);
                let asks = &question.asks;
                let key = asks
                    .iter()
                    .find(|one| (one.accept_deg - reading.within_deg.unwrap()).abs() < SAME);
                assert!(key.is_some(), "{}: {reading:?}", question.text);
                checked += 1;
            }
        }
    }
    assert!(checked > 20, "{checked}");
}

/// Who reckons a wrong hour and reads rightly from there has made one mistake.
#[test]
fn what_follows_from_a_wrong_hour_is_right_from_there() {
    let cabinet = Cabinet::built_in();
    let at = |when: &str| CastRequest {
        when: when.to_owned(),
        at: "42.8806,-8.5449".to_owned(),
        zone: Some("Europe/Madrid".to_owned()),
        ..CastRequest::default()
    };
    // Seventeen minutes, which no slip that is known gives.
    let later = desk::cast(&at("2024-05-14 09:37"), &cabinet, None).unwrap();
    let read = later.reading.unwrap();
    let text = |deg: f64| format!("{deg:.2}");
    let request = CorrectRequest {
        moment: at("2024-05-14 09:20"),
        read: [
            ("local-time".to_owned(), later.set.unwrap().hour),
            ("ascendant".to_owned(), text(read.ascendant_deg.unwrap())),
            ("midheaven".to_owned(), text(read.midheaven_deg.unwrap())),
        ]
        .into(),
        figure: false,
    };
    let judged = desk::correct(&request, &cabinet, None).unwrap().judged;
    let marks: Vec<(&str, &str)> = judged
        .readings
        .iter()
        .map(|one| (one.what.as_str(), one.mark))
        .collect();
    assert_eq!(
        marks,
        [
            ("ascendant", "follows"),
            ("local time", "wrong"),
            ("midheaven", "follows")
        ]
    );
    assert_eq!(judged.verdict, "follows", "{}", judged.sentence);
}
