//! The JSON Schemas that are committed: those of the answers' types, every one of
//! them, and kept by answers of every kind.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

mod schema;

use std::collections::{BTreeMap, BTreeSet};

use desk::{
    Cabinet, CastRequest, ChooseRequest, Class, CompareRequest, CorrectRequest, DuringRequest,
    ExamineRequest, FigureRequest, FrontRequest, LessonRequest, MomentsRequest, PlanetsRequest,
    PlatesRequest, ProofreadRequest, ProofreadRow, ReckonRequest, RevolutionRequest, StateRequest,
    TableRequest, TurnRequest, WithInstrument, WorkRequest, YearRequest,
};
use patience::Patience;
use schema::{committed, keeps_to};
use serde::Serialize;

#[test]
fn those_committed_are_those_of_the_types() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/schema");
    for (name, schema) in desk::schemas() {
        let text = serde_json::to_string_pretty(&schema).unwrap() + "\n";
        let path = format!("{folder}/{name}.json");
        if std::env::var_os("ALMURI_WRITE_SCHEMA").is_some() {
            std::fs::write(&path, &text).unwrap();
        }
        assert!(
            text == std::fs::read_to_string(&path).unwrap_or_default(),
            "the answer's types and schema/{name}.json differ; ALMURI_WRITE_SCHEMA=1 cargo test -p desk --test schemas writes it anew"
        );
    }
    let committed: BTreeSet<String> = std::fs::read_dir(folder)
        .unwrap()
        .map(|file| file.unwrap().file_name().into_string().unwrap())
        .collect();
    let named = desk::schemas()
        .into_iter()
        .map(|(name, _)| format!("{name}.json"));
    assert_eq!(committed, named.collect());
}

fn santiago() -> CastRequest {
    CastRequest {
        when: "2024-05-14 09:20".to_owned(),
        at: "42.8806,-8.5449".to_owned(),
        zone: Some("Europe/Madrid".to_owned()),
        ..CastRequest::default()
    }
}

fn texts<const N: usize>(pairs: [(&str, &str); N]) -> BTreeMap<String, String> {
    let owned = pairs.map(|(name, value)| (name.to_owned(), value.to_owned()));
    BTreeMap::from(owned)
}

#[track_caller]
fn kept<T: Serialize>(name: &str, answer: T) {
    keeps_to(&serde_json::to_value(answer).unwrap(), &committed(name));
}

/// Cases with everything, and those in which much is null.
fn cases() -> [CastRequest; 4] {
    [
        CastRequest {
            read: texts([("ascendant", "2 Cancer"), ("III", "20 Leo")]),
            ..santiago()
        },
        CastRequest {
            at: "-33.9,18.4".to_owned(),
            ..santiago()
        },
        CastRequest {
            at: "78.2,15.6".to_owned(),
            houses: Some("placidus".to_owned()),
            ..santiago()
        },
        CastRequest {
            with: Some(WithInstrument::Named("southern instrument".to_owned())),
            ..santiago()
        },
    ]
}

#[test]
fn casts_and_figures_keep_to_theirs() {
    let cabinet = Cabinet::built_in();
    for case in cases() {
        kept("cast", desk::cast(&case, &cabinet, None).unwrap());
        let figure = FigureRequest {
            cast: case,
            ..FigureRequest::default()
        };
        kept("figure", desk::figure(&figure, &cabinet, None).unwrap());
    }
    let planets = PlanetsRequest {
        when: "2024-05-14 09:20".to_owned(),
        at: Some("42.8806,-8.5449".to_owned()),
        ..PlanetsRequest::default()
    };
    kept("planets", desk::planets(&planets, None).unwrap());
    let revolution = RevolutionRequest {
        moment: santiago(),
        year: 2026,
        at: None,
    };
    let answer = desk::revolution(&revolution, &cabinet, None).unwrap();
    kept("revolution", answer);
    let examine = ExamineRequest {
        measurements: include_str!("../../../data/measurements/from-a-drawer.toml").to_owned(),
        with: Some(WithInstrument::Named("class instrument".to_owned())),
        within_mm: None,
    };
    kept("examine", desk::examine(&examine, &cabinet).unwrap());
    let marks = include_str!("../../../data/measurements/from-a-picture.toml");
    let pictured = ExamineRequest {
        measurements: marks.to_owned(),
        ..examine
    };
    kept("examine", desk::examine(&pictured, &cabinet).unwrap());
    for measurements in [
        marks,
        "version = 1\nname = \"none\"\npicture_px = [300, 200]\nmarks = []\n",
    ] {
        let propose = desk::ProposeRequest {
            measurements: measurements.to_owned(),
            at_px: [1200.0, 800.0],
        };
        kept("propose", desk::propose(&propose).unwrap());
    }
    let face = desk::FaceRequest {
        measurements: marks.to_owned(),
        with: WithInstrument::Named("class instrument".to_owned()),
    };
    kept("face", desk::face(&face, &cabinet).unwrap());
    let setting = desk::SettingRequest {
        measurements: include_str!("../../../data/measurements/as-it-was-set.toml").to_owned(),
        case: santiago(),
    };
    kept("setting", desk::setting(&setting, &cabinet, None).unwrap());
}

#[test]
fn the_instrument_as_it_stands_keeps_to_its_own() {
    let cabinet = Cabinet::built_in();
    for case in cases() {
        for rete_deg in [0.0, 100.0, 250.0] {
            let turned = TurnRequest {
                state: StateRequest {
                    plate_latitude_deg: 42.0,
                    rete_deg,
                    ..StateRequest::default()
                },
                case: case.clone(),
                pointer: None,
            };
            kept("turn", desk::turn(&turned, &cabinet, None).unwrap());
        }
    }
    let asked = FrontRequest {
        plate_latitude_deg: 42.0,
        ..FrontRequest::default()
    };
    kept("front", desk::front(&asked, &cabinet).unwrap());
    kept("back", desk::back(&asked, &cabinet).unwrap());
    kept("instruments", desk::instruments(&cabinet));
}

#[test]
fn tables_keep_to_theirs() {
    kept("tables", desk::table_kinds());
    let request = TableRequest {
        at: Some("51.5333,0".to_owned()),
        year: Some(2027),
        month: Some(2),
        ..TableRequest::default()
    };
    let sheet = ReckonRequest {
        when: "2024-05-14 09:20".to_owned(),
        at: "42.8806,-8.5449".to_owned(),
        zone: Some("Europe/Madrid".to_owned()),
        second_difference: true,
        ..ReckonRequest::default()
    };
    kept(
        "reckon",
        desk::reckoned(&sheet, &Cabinet::built_in(), None).unwrap(),
    );
    let own = ReckonRequest {
        read: texts([("ascendant", "28 Cancer"), ("sidereal-time", "22:15:56")]),
        with: Some(WithInstrument::Named("class instrument".to_owned())),
        ..sheet.clone()
    };
    kept(
        "reckon",
        desk::reckoned(&own, &Cabinet::built_in(), None).unwrap(),
    );
    let row = |line: u64| ProofreadRow {
        line,
        // The fifth row has ten degrees too many.
        cells: vec![
            line.to_string(),
            format!("{}°30′", 2 * line + if line == 5 { 10 } else { 0 }),
        ],
    };
    let table = ProofreadRequest {
        columns: vec!["at".to_owned(), "degrees".to_owned()],
        rows: (1..10).map(row).collect(),
        sums: vec!["at + at = degrees".to_owned()],
        ..ProofreadRequest::default()
    };
    kept("proofread", desk::proofread(&table).unwrap());
    let polar = ReckonRequest {
        at: "78.2,15.6".to_owned(),
        houses: Some("placidus".to_owned()),
        ..sheet
    };
    kept(
        "reckon",
        desk::reckoned(&polar, &Cabinet::built_in(), None).unwrap(),
    );
    let book = desk::table_book(&request, None).unwrap();
    assert_eq!(book.len(), desk::table_kinds().len());
    for table in book {
        kept("table", table.answer);
    }
}

#[test]
fn operations_keep_to_theirs() {
    let cabinet = Cabinet::built_in();
    kept("operations", desk::operations());
    let all = desk::operations();
    let plain = all.iter().map(|operation| WorkRequest {
        operation: operation.name.to_owned(),
        moment: santiago(),
        star: Some("Alramech".to_owned()),
        body: Some("Sun".to_owned()),
        told: texts([
            ("other-degree", "0 Taurus"),
            ("unequal-hours", "3"),
            ("distance", "20"),
        ]),
        ..WorkRequest::default()
    });
    let mut answered = 0;
    for request in plain {
        match desk::work(&request, &cabinet, None) {
            Ok(answer) => {
                answered += 1;
                kept("work", answer);
            }
            Err(refusal) => kept("refusal", refusal),
        }
    }
    assert!(answered > 30, "{answered}");
    for operation in ["cast", "day-and-night"] {
        let asked = LessonRequest {
            work: WorkRequest {
                operation: operation.to_owned(),
                moment: santiago(),
                ..WorkRequest::default()
            },
        };
        let lesson = desk::lesson(&asked, &cabinet, None).unwrap();
        kept("lesson", lesson.answer);
    }
    let class = Class::from_toml(desk::EXAMPLE_CLASS).unwrap();
    let instruments: Vec<_> = desk::instruments(&cabinet)
        .into_iter()
        .map(|one| WithInstrument::Named(one.name))
        .take(class.pupils.len())
        .collect();
    kept(
        "exercises",
        desk::exercises(&class, &instruments, &cabinet, Patience::ENDLESS).unwrap(),
    );
    let film = desk::FilmRequest {
        work: WorkRequest {
            operation: "hour-by-sun".to_owned(),
            moment: santiago(),
            ..WorkRequest::default()
        },
        ..desk::FilmRequest::default()
    };
    kept("film", desk::film(&film, &cabinet, None).unwrap());
}

#[test]
fn what_is_asked_about_readings_times_and_instruments_keeps_to_its_own() {
    let cabinet = Cabinet::built_in();
    for figure in [false, true] {
        let readings = CorrectRequest {
            moment: santiago(),
            read: texts([("ascendant", "2 Cancer"), ("midheaven", "29 Aquarius")]),
            figure,
        };
        kept("correct", desk::correct(&readings, &cabinet, None).unwrap());
    }
    let uncertain = DuringRequest {
        moment: santiago(),
        until: "10:20".to_owned(),
        outer: false,
    };
    kept("during", desk::during(&uncertain, &cabinet, None).unwrap());
    let back = MomentsRequest {
        moment: santiago(),
        ascendant: "11 Pisces".to_owned(),
    };
    kept("moments", desk::moments(&back, &cabinet, None).unwrap());
    let compared = CompareRequest {
        moment: santiago(),
        with: vec![WithInstrument::Named("pocket instrument".to_owned())],
    };
    kept("compare", desk::compare(&compared, &cabinet, None).unwrap());
    let plates = PlatesRequest {
        towns: vec!["42.8806,-8.5449".to_owned(), "69.6,19".to_owned()],
        stock_deg: vec![42.0, 46.0],
        year: Some(2026),
        ..PlatesRequest::default()
    };
    kept("plates", desk::plates(&plates, Patience::ENDLESS).unwrap());
    kept("figure_rules", desk::figure_rules());
    let chosen = ChooseRequest {
        from: "2027-03-01".to_owned(),
        to: "2027-03-07".to_owned(),
        at: "Lisbon, Portugal".to_owned(),
        must: vec!["hour of Venus".to_owned()],
        rather: vec!["Moon waxing".to_owned()],
        ..ChooseRequest::default()
    };
    kept(
        "choose",
        desk::choose(&chosen, None, Patience::ENDLESS).unwrap(),
    );
    kept("choose_forms", desk::choose_forms());
    let year = YearRequest {
        year: 2027,
        at: "Lisbon, Portugal".to_owned(),
        hours_of: vec!["Venus".to_owned()],
        ..YearRequest::default()
    };
    kept("year", desk::year(&year, &cabinet).unwrap());
    kept("suggest", desk::suggest("Santiago", None));
    for text in ["version = 1\ndiameter_mm = 20\n", "version ="] {
        let asked = desk::SpecificationRequest {
            text: text.to_owned(),
            set: Vec::new(),
        };
        kept("specification", desk::specification_form(&asked));
    }
}
