//! The commands beside `cast`: operations, correcting, uncertain times, revolutions,
//! comparisons, films, drawings, plates; what they print, and how they refuse.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::path::Path;
use std::process::{Command, Output};

use serde_json::Value;

/// The command, with no settings kept.
fn almuri(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_almuri"))
        .args(arguments)
        .env("XDG_CONFIG_HOME", folder)
        .output()
        .unwrap()
}

#[track_caller]
fn said(output: &Output) -> String {
    let error = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success() && error.is_empty(), "{error}");
    String::from_utf8(output.stdout.clone()).unwrap()
}

/// What a command prints as a page: its lines fit one.
#[track_caller]
fn sheet(arguments: &[&str]) -> String {
    let folder = tempfile::tempdir().unwrap();
    let text = said(&almuri(folder.path(), arguments));
    for line in text.lines() {
        assert!(line.chars().count() <= 80, "too wide: {line}");
    }
    text
}

/// One object, or one list, and nothing else.
#[track_caller]
fn json(arguments: &[&str]) -> Value {
    let folder = tempfile::tempdir().unwrap();
    let text = said(&almuri(folder.path(), &[arguments, &["--json"]].concat()));
    assert_eq!(text.lines().count(), 1);
    serde_json::from_str(&text).unwrap()
}

/// Exit code 2, a message that names what is wrong, nothing on standard output.
#[track_caller]
fn refused(arguments: &[&str], names: &str) {
    let folder = tempfile::tempdir().unwrap();
    for form in [&[] as &[&str], &["--json"]] {
        let output = almuri(folder.path(), &[arguments, form].concat());
        let said = String::from_utf8_lossy(&output.stderr);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}: {said}");
        assert!(output.stdout.is_empty(), "{arguments:?}");
        assert!(said.contains(names), "{names:?} is not in: {said}");
        assert!(!said.contains("panicked"), "{said}");
    }
}

/// A command's first words, the demonstration's place, and more.
fn at_santiago<'a>(first: &[&'a str], more: &[&'a str]) -> Vec<&'a str> {
    let place = ["--at", "42.8806,-8.5449", "--zone", "Europe/Madrid"];
    [first, &place, more].concat()
}

const WHEN: &str = "2024-05-14 09:20";

fn deg(value: &Value) -> f64 {
    value.as_f64().unwrap()
}

#[test]
fn work_lists_the_operations_and_works_each_as_a_page_and_an_object() {
    let listed = json(&["work"]);
    let names: Vec<&str> = listed["operations"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| one["name"].as_str().unwrap())
        .collect();
    let text = sheet(&["work"]);
    assert!(names.iter().all(|name| text.contains(name)));
    let asked = at_santiago(
        &["work", "hour-by-sun", "2024-05-14 10:20"],
        &["--read", "altitude=32°30′", "--side", "Morning"],
    );
    let text = sheet(&asked);
    for part in ["The working", "What is found", "When it is weak", "within"] {
        assert!(text.contains(part), "{part}");
    }
    let answer = json(&asked);
    assert_eq!(answer["operation"]["name"], "hour-by-sun");
    assert_eq!(answer["seen"][0]["given"], true);
    // The Sun at 32°30′ on the way up: near ten and a quarter by that clock.
    let hour = deg(&answer["findings"][0]["deg"]);
    assert!((hour + 62.0).abs() < 2.0, "{hour}");
    // Without a moment, on the instrument's first plate.
    let tower = [
        "work",
        "height-by-recta",
        "--read",
        "shadow=4",
        "--tell",
        "distance=20",
    ];
    assert!((deg(&json(&tower)["findings"][0]["deg"]) - 60.0).abs() < 1e-9);
}

#[test]
fn work_refuses() {
    let by_sun = ["work", "hour-by-sun", WHEN];
    for (more, names) in [
        (vec!["--read", "altitude=high"], "high"),
        (vec!["--read", "altitude"], "altitude"),
        (vec!["--read", "depth=3"], "depth"),
        (
            vec!["--read", "altitude=3", "--read", "altitude=4"],
            "altitude",
        ),
        (vec!["--tell", "degree=31 Leo"], "31 Leo"),
        (vec!["--side", "north"], "north"),
        (vec!["--of", "moon"], "moon"),
        (vec!["--star", "Nowhere"], "Nowhere"),
        (vec!["--body", "Vulcan"], "Vulcan"),
        (vec!["--hand", "21"], "21"),
        (vec!["--hand", "NaN"], "NaN"),
        (vec!["--with", "no such instrument"], "no such instrument"),
        (vec!["--with", "southern instrument"], "southern instrument"),
    ] {
        refused(&at_santiago(&by_sun, &more), names);
    }
    refused(&["work", "dance"], "dance");
    refused(&at_santiago(&["work", "hour-by-star", WHEN], &[]), "star");
    refused(
        &["work", "hour-by-sun", "2024-02-30 12:00", "--at", "0,0"],
        "2024-02-30",
    );
}

#[test]
fn a_pupil_is_corrected() {
    // An hour on is what the instrument shows to who forgot summer time.
    let later = json(&at_santiago(&["cast", "2024-05-14 10:20"], &[]));
    let degree = |what: &str| {
        format!(
            "{what}={:.2}",
            deg(&later["reading"][format!("{what}_deg")])
        )
    };
    let (ascendant, midheaven) = (degree("ascendant"), degree("midheaven"));
    let read = ["--read", &ascendant, "--read", &midheaven];
    let asked = at_santiago(&["correct", WHEN], &read);
    let answer = json(&asked);
    assert_eq!(answer["verdict"], "slips");
    assert_eq!(
        answer["explanations"][0]["slips"][0]["name"],
        "summer-time-left-in"
    );
    assert!(sheet(&asked).contains("Summer time was not taken off."));
    // The very readings of the moment are right.
    let now = json(&at_santiago(&["cast", WHEN], &[]));
    let right = format!("ascendant={:.2}", deg(&now["reading"]["ascendant_deg"]));
    let answer = json(&at_santiago(&["correct", WHEN], &["--read", &right]));
    assert_eq!(answer["verdict"], "right");
    // A printed figure, by a method of another name.
    let cusps = json(&at_santiago(
        &["cast", WHEN],
        &["--houses", "Regiomontanus"],
    ));
    let cusp = |house: usize, name: &str| {
        format!(
            "{name}={:.2}",
            deg(&cusps["figure"]["cusps_deg"][house - 1])
        )
    };
    let (i, ii, iii, x) = (cusp(1, "I"), cusp(2, "II"), cusp(3, "III"), cusp(10, "X"));
    let printed = [
        "--figure", "--read", &i, "--read", &ii, "--read", &iii, "--read", &x,
    ];
    let answer = json(&at_santiago(&["correct", WHEN], &printed));
    let first = answer["explanations"][0].to_string();
    assert!(first.contains("regiomontanus"), "{first}");
}

#[test]
fn correct_refuses() {
    for (more, names) in [
        (vec![], "nothing is read"),
        (vec!["--read", "ascendant=33 Leo"], "33 Leo"),
        (vec!["--read", "navel=3 Leo"], "navel"),
        (vec!["--read", "local-time=25:00"], "25:00"),
        (vec!["--read", "I=3 Leo", "--by", "dice"], "dice"),
        (vec!["--read", "I=3 Leo", "--houses", "K"], "\"K\""),
        (
            vec!["--read", "I=3 Leo", "--with", "southern instrument"],
            "southern instrument",
        ),
    ] {
        refused(&at_santiago(&["correct", WHEN], &more), names);
    }
}

#[test]
fn an_uncertain_time_is_looked_through() {
    let asked = at_santiago(&["during", WHEN, "10:20"], &[]);
    let answer = json(&asked);
    assert_eq!(answer["from"], "2024-05-14 09:20:00");
    assert_eq!(answer["until"], "2024-05-14 10:20:00");
    let cast = json(&at_santiago(&["cast", WHEN], &[]));
    assert_eq!(
        answer["travels"][0]["from_deg"],
        cast["figure"]["ascendant_deg"]
    );
    let changes = answer["changes"].as_array().unwrap();
    let signs = changes
        .iter()
        .filter(|change| change["what"] == "ascendant");
    assert_eq!(
        signs.map(|one| one["to"].clone()).collect::<Vec<_>>(),
        ["Cancer"]
    );
    let text = sheet(&asked);
    assert!(text.contains("ascendant: Gemini to Cancer"));
    refused(&at_santiago(&["during", WHEN, "soon"], &[]), "soon");
    refused(&at_santiago(&["during", WHEN, "25:00"], &[]), "25:00");
    refused(
        &at_santiago(&["during", WHEN, "10:20", "--houses", "K"], &[]),
        "\"K\"",
    );
}

#[test]
fn the_sun_comes_back_to_its_degree() {
    let asked = at_santiago(&["revolution", WHEN, "2026"], &[]);
    let answer = json(&asked);
    assert_eq!(answer["years"], 2);
    let sun = &answer["cast"]["sky"]["bodies"][0];
    assert!((deg(&sun["longitude_deg"]) - deg(&answer["sun_deg"])).abs() < 1e-6);
    assert!(sheet(&asked).contains("after 2 years"));
    let elsewhere = at_santiago(
        &["revolution", WHEN, "2026"],
        &["--cast-at", "Lisbon, Portugal"],
    );
    let place = json(&elsewhere)["cast"]["place"]["name"].clone();
    assert!(place.as_str().unwrap().contains("Lisbon"), "{place}");
    refused(&at_santiago(&["revolution", WHEN, "9999"], &[]), "9999");
    refused(&at_santiago(&["revolution", WHEN, "2700"], &[]), "2650");
    refused(
        &at_santiago(&["revolution", WHEN, "2651"], &[]),
        "year 2651",
    );
    refused(&at_santiago(&["revolution", WHEN, "soon"], &[]), "soon");
    refused(
        &at_santiago(&["revolution", WHEN, "soon"], &[]),
        "2026 would do",
    );
    refused(
        &at_santiago(&["revolution", WHEN, "2026"], &["--cast-at", "Atlantis"]),
        "Atlantis",
    );
}

#[test]
fn instruments_are_compared() {
    let asked = at_santiago(
        &["compare", WHEN],
        &[
            "--with",
            "pocket instrument",
            "--with",
            "lecture instrument",
        ],
    );
    let answer = json(&asked);
    let expected = |number: usize| deg(&answer["instruments"][number]["ascendant"]["expected_deg"]);
    assert!(expected(0) > expected(1), "the larger reads finer");
    assert!(sheet(&asked).contains("pocket instrument"));
    let folder = tempfile::tempdir().unwrap();
    for (name, begins) in [
        ("a.svg", "<svg"),
        ("a.pdf", "%PDF"),
        ("a.png", "\u{fffd}PNG"),
    ] {
        let path = folder.path().join(name);
        let picture = ["--picture", path.to_str().unwrap()];
        said(&almuri(folder.path(), &[&asked[..], &picture].concat()));
        let bytes = std::fs::read(&path).unwrap();
        assert!(
            String::from_utf8_lossy(&bytes).starts_with(begins),
            "{name}"
        );
    }
    let svg = std::fs::read_to_string(folder.path().join("a.svg")).unwrap();
    let drawn = roxmltree::Document::parse(&svg).unwrap();
    // Letters are outlines, and what they say stands beside them.
    let texts: Vec<&str> = drawn
        .descendants()
        .filter_map(|node| node.attribute("aria-label"))
        .collect();
    assert!(texts.contains(&"pocket instrument") && texts.contains(&"midheaven"));
    let picture = ["--picture", "a.bmp"];
    refused(&at_santiago(&["compare", WHEN], &picture), "a.bmp");
    refused(
        &at_santiago(&["compare", WHEN], &["--with", "no such instrument"]),
        "no such instrument",
    );
    refused(
        &at_santiago(&["compare", WHEN], &["--with", "southern instrument"]),
        "serves",
    );
    refused(&at_santiago(&["compare", WHEN], &["--by", "dice"]), "dice");
}

#[test]
fn from_an_ascendant_back_to_the_moments_of_a_year() {
    let asked = at_santiago(&["moments", "11 Pisces", "2024-01-01"], &[]);
    let answer = json(&asked);
    let days = answer["days"].as_array().unwrap();
    assert_eq!(days.len(), 37);
    let text = sheet(&asked);
    assert!(text.contains("11 Pisces") && text.contains("2024-01-01"));
    refused(
        &at_santiago(&["moments", "31 Pisces", "2024-01-01"], &[]),
        "31 Pisces",
    );
    refused(
        &at_santiago(&["moments", "11 Pisces", "2024-13-01"], &[]),
        "2024-13-01",
    );
}

#[test]
fn a_film_is_made_of_an_operation() {
    let folder = tempfile::tempdir().unwrap();
    let into = folder.path().join("film");
    let film = |operation, more: &[&str]| {
        let output = ["-o", into.to_str().unwrap()];
        let asked = [&["film", operation, WHEN], &output as &[&str], more].concat();
        almuri(folder.path(), &at_santiago(&asked, &[]))
    };
    let answer: Value = serde_json::from_str(&said(&film("hour-by-sun", &["--json"]))).unwrap();
    let frames = answer["frames"].as_u64().unwrap();
    for number in 1..=frames {
        let svg = std::fs::read_to_string(into.join(format!("frame-{number:03}.svg"))).unwrap();
        roxmltree::Document::parse(&svg).unwrap();
    }
    let moving = std::fs::read_to_string(into.join("film.svg")).unwrap();
    let drawn = roxmltree::Document::parse(&moving).unwrap();
    let ids: Vec<&str> = drawn
        .descendants()
        .filter_map(|node| node.attribute("id"))
        .collect();
    let unlike: std::collections::BTreeSet<&str> = ids.iter().copied().collect();
    assert_eq!(ids.len(), unlike.len(), "an id stands twice");
    let captions = std::fs::read_to_string(into.join("film.vtt")).unwrap();
    assert!(captions.starts_with("WEBVTT\n"));
    assert_eq!(captions.matches(" --> ").count() as u64, frames);
    assert!(into.join("rehearsal.txt").is_file());
    let script = std::fs::read_to_string(into.join("script.txt")).unwrap();
    assert_eq!(script.matches(", picture ").count() as u64, frames);
    let cards = [
        "--shape",
        "tall",
        "--title",
        "An invented lesson",
        "--end",
        "From an invented workshop",
        "--overwrite",
        "--json",
    ];
    let cast: Value = serde_json::from_str(&said(&film("cast", &cards))).unwrap();
    let last = cast["frames"].as_u64().unwrap();
    let picture = std::fs::read(into.join(format!("frame-{last:03}.png"))).unwrap();
    // A PNG says its width and height in the 17th to 24th byte (ISO/IEC 15948, 11.2.2).
    assert_eq!(picture[16..24], [0, 0, 4, 0x38, 0, 0, 7, 0x80]);
    let captions = std::fs::read_to_string(into.join("film.vtt")).unwrap();
    assert!(
        captions.contains("An invented lesson") && captions.contains("From an invented workshop")
    );
    let output = film("cast", &["--overwrite", "--shape", "round"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("wide or tall would do"));
    let output = film("dance", &["--overwrite"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("dance"));
}

#[test]
fn an_instrument_is_read_as_it_stands() {
    let cast = json(&at_santiago(&["cast", WHEN], &[]));
    // Unless said otherwise it stands as it is set.
    let standing = json(&at_santiago(&["stand", WHEN], &[]));
    for angle in ["ascendant", "midheaven"] {
        let read = cast["reading"][format!("{angle}_deg")].clone();
        assert_eq!(standing[angle]["deg"], read, "{angle}");
    }
    // At every step of the working the same parts give the same reading.
    let mut compared = 0;
    for step in cast["working"]["steps"].as_array().unwrap() {
        let Some(reading) = step.get("reading") else {
            continue;
        };
        let number = |key: &str| step["state"][key].to_string();
        let (rete, rule) = (number("rete_deg"), number("rule_deg"));
        let said = [
            "--rete",
            &rete,
            "--rule",
            &rule,
            "--plate",
            &number("plate_latitude_deg"),
        ];
        let stands = json(&at_santiago(&["stand", WHEN], &said));
        let what = match reading["what"].as_str().unwrap() {
            "ascendant" => "ascendant",
            "midheaven" => "midheaven",
            _ if step["procedure"] == "limb_thirds" && step["lines"][1] == "rule" => "under_rule",
            _ => continue,
        };
        for key in ["deg", "reads_to_deg", "reads_to_text"] {
            assert_eq!(stands[what][key], reading[key], "{what}, {key}");
        }
        compared += 1;
    }
    assert!(compared >= 2, "{compared}");
    // An hour under the rule is an hour.
    let hour = json(&at_santiago(&["stand", WHEN], &["--rule", "6:48"]));
    assert_eq!(hour["hour"]["text"], "6 h 48 m");
    assert!((deg(&hour["state"]["rule_deg"]) - 282.0).abs() < 1e-9);
    let text = sheet(&at_santiago(&["stand", WHEN], &["--rete", "-26.3"]));
    assert!(text.contains("This position means 14 May 2024"));
    // How finely each is read: the rule on the limb in time.
    let (_, shows) = text.split_once("What it shows").unwrap();
    let line = |what: &str| {
        let found = shows
            .lines()
            .find(|line| line.trim_start().starts_with(what));
        found.unwrap().to_owned()
    };
    for what in [
        "ascendant",
        "midheaven",
        "under the rule",
        "the Sun's altitude",
    ] {
        assert!(
            line(what).contains("reads to ") && line(what).ends_with('′'),
            "{text}"
        );
    }
    assert!(line("the rule").ends_with("reads to 35 s"), "{text}");
    for (more, names) in [
        (["--rule", "dawn"], "dawn"),
        (["--rule", "24:10"], "24:10"),
        (["--rete", "NaN"], "NaN"),
        (["--rete", "1e300"], "1e300"),
        (["--alidade", "-inf"], "-inf"),
        (["--plate", "95"], "95"),
        (["--with", "nothing"], "nothing"),
    ] {
        refused(&at_santiago(&["stand", WHEN], &more), names);
    }
}

#[test]
fn a_drawing_shows_what_is_read_and_what_was_left_out() {
    let folder = tempfile::tempdir().unwrap();
    let drawn = |more: &[&str]| said(&almuri(folder.path(), &at_santiago(&["draw", WHEN], more)));
    let plain = drawn(&[]);
    let lit = drawn(&["--by", "Direct-cut"]);
    let name = |line: &&str| {
        let (_, rest) = line.split_once("data-line=\"")?;
        rest.split_once('"').map(|(name, _)| name.to_owned())
    };
    let lines: Vec<String> = lit
        .lines()
        .filter(|line| line.contains(" lit\""))
        .collect::<Vec<_>>()
        .iter()
        .filter_map(name)
        .collect();
    for line in [
        "horizon",
        "ecliptic",
        "unequal-hour line 8",
        "unequal-hour line 2",
    ] {
        assert!(lines.iter().any(|one| one == line), "{line} in {lines:?}");
    }
    assert!(!plain.contains(" lit\""));
    // A day is no different, an hour of the zone is.
    assert_ne!(plain, drawn(&["--without", "Zone"]));
    refused(&at_santiago(&["draw", WHEN], &["--by", "dice"]), "dice");
    refused(
        &at_santiago(&["draw", WHEN], &["--without", "doubt"]),
        "doubt",
    );
    refused(&["draw", "--by", "turning"], "WHEN");
}

#[test]
fn plates_are_chosen_for_towns() {
    let asked = [
        "plates",
        "--towns",
        "42.8806,-8.5449; 51.75,-1.26",
        "--stock",
        "42,46,50",
        "--houses",
        "Placidus",
    ];
    let answer = json(&asked);
    assert_eq!(answer["method"], "placidus");
    assert_eq!(answer["towns"].as_array().unwrap().len(), 2);
    assert!((deg(&answer["towns"][0]["best_plate_deg"]) - 42.0).abs() < 1e-9);
    let text = sheet(&[&asked as &[&str], &["--cards", "2026"]].concat());
    assert!(text.contains("summer time") && text.contains("equation of time"));
    for (more, names) in [
        (["--towns", "Atlantis", "--stock", "42"], "Atlantis"),
        (["--towns", "0,0", "--stock", "142"], "142"),
        (["--towns", "0,0", "--stock", "forty"], "forty"),
        (["--towns", "0,0", "--within", "-1"], "-1"),
        (["--towns", "0,0", "--houses", "K"], "\"K\""),
        (["--towns", "0,0", "--date-from", "moon"], "moon"),
    ] {
        refused(&[&["plates"], &more as &[&str]].concat(), names);
    }
}

/// Names are taken in letters of either case, wherever they are said.
#[test]
fn names_are_taken_in_either_case() {
    for more in [
        ["--houses", "Placidus"],
        ["--by", "LIMB-THIRDS"],
        ["--without", "Zone,Longitude"],
        ["--clock", "Mean"],
        ["--clock", "From-Sunrise"],
        ["--calendar", "Gregorian"],
        ["--which", "Earlier"],
        ["--with", "Pocket Instrument"],
    ] {
        let lower = [more[0], &more[1].to_lowercase()];
        let [one, other] = [more, lower].map(|more| {
            let mut answer = json(&[
                "cast",
                "2024-05-14 09:20",
                "--at",
                "42.8806,-8.5449",
                more[0],
                more[1],
            ]);
            answer["moment"]["clock"] = Value::Null;
            answer
        });
        assert_eq!(one, other, "{more:?}");
    }
}

/// A clock that is none is answered with all that there are.
#[test]
fn a_wrong_clock_is_told_the_old_reckonings_too() {
    for name in [
        "zone",
        "mean",
        "sun",
        "+01:00",
        "unequal-day",
        "from-sunset",
        "-visible",
    ] {
        refused(
            &at_santiago(&["cast", WHEN, "--clock", "hourglass"], &[]),
            name,
        );
    }
}

#[test]
fn nothing_is_left_where_a_film_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let into = folder.path().join("film");
    let output = almuri(
        folder.path(),
        &at_santiago(
            &[
                "film",
                "hour-by-sun",
                "2024-05-14 02:20",
                "-o",
                into.to_str().unwrap(),
            ],
            &[],
        ),
    );
    assert_eq!(output.status.code(), Some(2));
    assert!(!into.exists());
}

const DRAWER: &str = concat!(
    env!("CARGO_MANIFEST_DIR"),
    "/../../data/measurements/from-a-drawer.toml"
);

const PICTURE: &str = concat!(
    env!("CARGO_MANIFEST_DIR"),
    "/../../data/measurements/from-a-picture.toml"
);

#[test]
fn an_instrument_is_examined() {
    let text = sheet(&["examine", DRAWER]);
    let words: Vec<&str> = text.split_whitespace().collect();
    assert!(words.join(" ").contains("not what stands on it"), "{text}");
    assert!(text.contains("left out"), "{text}");
    let answer = json(&["examine", DRAWER, DRAWER, "--with", "class instrument"]);
    let all = answer["examined"].as_array().unwrap();
    assert_eq!(all.len(), 2);
    assert!(deg(&all[0]["plates"][0]["latitude_deg"]["at"]) > 51.0);
    assert!(all[0]["against"]["missed"].as_u64().unwrap() > 0);
    let batch = sheet(&["examine", DRAWER, DRAWER, "--with", "class instrument"]);
    assert!(batch.contains("All together"), "{batch}");
    // What was found is kept as a specification, and worked with.
    let folder = tempfile::tempdir().unwrap();
    let kept = folder.path().join("drawer.toml");
    let kept = kept.to_str().unwrap();
    sheet(&["examine", DRAWER, "--out", kept]);
    refused(&["examine", DRAWER, "--out", kept], "is there already");
    sheet(&["examine", DRAWER, "--out", kept, "--overwrite"]);
    let cast = sheet(&at_santiago(&["cast", WHEN], &["--with", kept]));
    assert!(cast.contains("as measured"), "{cast}");
    // The picture that was marked is found from the drawing over it, wherever one stands.
    let [picture, over] =
        ["my brass.jpg", "drawings/over.svg"].map(|name| folder.path().join(name));
    std::fs::write(&picture, "").unwrap();
    std::fs::create_dir(folder.path().join("drawings")).unwrap();
    let [picture, over] = [&picture, &over].map(|path| path.to_str().unwrap());
    let laid_over = ["examine", PICTURE, "--overlay", over, "--photograph"];
    sheet(&[&laid_over[..], &[picture]].concat());
    let drawn = std::fs::read_to_string(over).unwrap();
    assert!(drawn.contains("href=\"../my%20brass.jpg\""), "{drawn}");
    refused(
        &[&laid_over[..], &["nowhere.jpg", "--overwrite"]].concat(),
        "nowhere.jpg",
    );
    refused(&["examine", "nowhere.toml"], "nowhere.toml");
    refused(&["examine", kept], "is not a known field");
    refused(
        &["examine", DRAWER, "--with", "southern instrument"],
        "hemisphere",
    );
    refused(
        &[
            "examine",
            DRAWER,
            "--with",
            "class instrument",
            "--within",
            "-1",
        ],
        "0.2",
    );
    refused(
        &["examine", DRAWER, DRAWER, "--out", "x.toml"],
        "one instrument",
    );
}
