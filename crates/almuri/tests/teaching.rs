//! Worked examples, exercises and their correcting: what is written, and how they refuse.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::path::Path;
use std::process::{Command, Output};

use serde_json::Value;

/// The command, in a folder and with no settings kept.
fn almuri(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_almuri"))
        .args(arguments)
        .current_dir(folder)
        .env("XDG_CONFIG_HOME", folder.join("settings"))
        .output()
        .unwrap()
}

#[track_caller]
fn said(output: &Output) -> String {
    let error = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success() && error.is_empty(), "{error}");
    String::from_utf8(output.stdout.clone()).unwrap()
}

/// Exit code 2, a message that names what is wrong, nothing on standard output.
#[track_caller]
fn refused(folder: &Path, arguments: &[&str], names: &[&str]) {
    let output = almuri(folder, arguments);
    let said = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(2), "{arguments:?}: {said}");
    assert!(output.stdout.is_empty(), "{arguments:?}");
    for name in names {
        assert!(said.contains(name), "{name:?} is not in: {said}");
    }
    assert!(!said.contains("panicked"), "{said}");
}

const CLASS: &str = include_str!("../../../data/classes/tuesday.toml");

fn with_class(folder: &Path, text: &str) {
    std::fs::write(folder.join("class.toml"), text).unwrap();
}

#[test]
fn a_lesson_is_a_pdf_and_says_what_is_in_it() {
    let folder = tempfile::tempdir().unwrap();
    let at = [
        "2024-05-14 09:20",
        "--at",
        "42.8806,-8.5449",
        "--zone",
        "Europe/Madrid",
    ];
    let cast = [&["lesson", "cast"], at.as_slice(), &["-o", "cast.pdf"]].concat();
    assert_eq!(said(&almuri(folder.path(), &cast)), "cast.pdf\n");
    let bytes = std::fs::read(folder.path().join("cast.pdf")).unwrap();
    assert!(bytes.starts_with(b"%PDF"));
    let again = [cast.as_slice(), &["--json", "--overwrite"]].concat();
    let told: Value = serde_json::from_str(&said(&almuri(folder.path(), &again))).unwrap();
    assert_eq!(told["sum"][4]["result"], "6 h 49 m 28 s");
    assert_eq!(told["steps"].as_array().unwrap().len(), 19);
    // The same bytes, the second time.
    assert!(bytes == std::fs::read(folder.path().join("cast.pdf")).unwrap());
    let listed = said(&almuri(folder.path(), &["lesson"]));
    assert!(listed.starts_with("cast ") && listed.contains("hour-by-sun"));
    let tower = [
        "lesson",
        "height-by-recta",
        "--read",
        "shadow=4",
        "--tell",
        "distance=20",
        "--page",
        "letter",
    ];
    assert_eq!(said(&almuri(folder.path(), &tower)), "lesson.pdf\n");
}

#[test]
fn lessons_refuse() {
    let folder = tempfile::tempdir().unwrap();
    let at = ["2024-05-14 09:20", "--at", "42.8806,-8.5449"];
    let of = |first: &[&'static str], more: &[&'static str]| [first, &at, more].concat();
    for (arguments, names) in [
        (
            of(&["lesson", "juggle"], &[]),
            vec!["juggle", "almuri work", "cast"],
        ),
        (
            of(&["lesson", "cast"], &["-o", "lesson.svg"]),
            vec!["lesson.svg", ".pdf"],
        ),
        (
            of(&["lesson", "cast"], &["--page", "a9"]),
            vec!["a9", "letter"],
        ),
        (
            of(&["lesson", "cast"], &["--with", "southern instrument"]),
            vec!["southern instrument", "other hemisphere"],
        ),
        (
            of(&["lesson", "cast"], &["--read", "ascendant=3 Leo"]),
            vec!["--read", "almuri correct"],
        ),
        (
            of(&["lesson", "day-and-night"], &["--by", "turning"]),
            vec!["--by", "cast"],
        ),
        (vec!["lesson", "cast"], vec!["no moment is said"]),
        (
            vec!["lesson", "cast", "2024-05-14 09:20"],
            vec!["no place is said"],
        ),
        (
            of(&["lesson", "cast"], &["--by", "guess"]),
            vec!["guess", "turning"],
        ),
    ] {
        refused(folder.path(), &arguments, &names);
    }
    assert!(std::fs::read_dir(folder.path()).unwrap().next().is_none());
}

/// How many pages a PDF has.
fn pages(file: &Path) -> usize {
    let bytes = std::fs::read(file).unwrap();
    let name = b"/Type/Page";
    let is_page = |at: usize| bytes.get(at + name.len()) != Some(&b's');
    let found = bytes.windows(name.len()).enumerate();
    found
        .filter(|(at, some)| some == name && is_page(*at))
        .count()
}

/// Five pupils of three levels, each with their own instrument and nearly all questions their
/// own: the key is two pages, the long one many.
#[test]
fn the_key_of_a_mixed_class_of_five_is_two_pages() {
    let folder = tempfile::tempdir().unwrap();
    with_class(folder.path(), CLASS);
    said(&almuri(
        folder.path(),
        &["exercises", "class.toml", "-o", "week", "--key-at-length"],
    ));
    let of = |name: &str| pages(&folder.path().join("week").join(name));
    assert_eq!(of("key.pdf"), 2);
    assert!(of("key-at-length.pdf") > 4);
}

#[test]
fn a_class_has_its_sheets_its_key_and_a_file_to_correct_by() {
    let folder = tempfile::tempdir().unwrap();
    // A pupil's own specification lies beside the class file.
    let own = include_str!("../../../data/cabinet/class.toml").replace("180", "300");
    std::fs::write(folder.path().join("own.toml"), own).unwrap();
    with_class(
        folder.path(),
        &format!("{CLASS}\n[[pupils]]\nname = \"Fiz Example\"\nwith = \"own.toml\"\n"),
    );
    let text = said(&almuri(
        folder.path(),
        &["exercises", "class.toml", "-o", "week"],
    ));
    // After the files stands what each instrument can be asked.
    let is_file = |line: &&str| line.starts_with("week/");
    let files: Vec<&str> = text.lines().filter(is_file).collect();
    assert_eq!(files.len(), 8, "{text}");
    assert!(
        text.contains("What this instrument shows is right"),
        "{text}"
    );
    for file in &files {
        let bytes = std::fs::read(folder.path().join(file)).unwrap();
        assert!(
            bytes.starts_with(b"%PDF") == file.ends_with(".pdf"),
            "{file}"
        );
    }
    let written = || std::fs::read_to_string(folder.path().join("week/exercises.json")).unwrap();
    let before = written();
    let exercises: Value = serde_json::from_str(&before).unwrap();
    assert_eq!(exercises["version"], 1);
    assert_eq!(exercises["pupils"][5]["diameter_mm"], 300.0);
    // What is there is left, or the same again.
    refused(
        folder.path(),
        &["exercises", "class.toml", "-o", "week"],
        &["--overwrite"],
    );
    let again = [
        "exercises",
        "class.toml",
        "-o",
        "week",
        "--overwrite",
        "--json",
    ];
    let told: Value = serde_json::from_str(&said(&almuri(folder.path(), &again))).unwrap();
    assert_eq!(told["files"].as_array().unwrap().len(), 8);
    assert!(written() == before);

    // The first question of the first, read as if the longitude had been left out.
    let question = &exercises["pupils"][0]["questions"][0];
    let tales = question["tell_tales"].as_array().unwrap();
    let tale = tales
        .iter()
        .find(|tale| tale["slips"][0] == "longitude-left-out")
        .unwrap();
    let mut arguments: Vec<String> = [
        "correct",
        "--exercises",
        "week/exercises.json",
        "--pupil",
        "aldara example",
        "--question",
        "1",
        "--json",
    ]
    .map(str::to_owned)
    .to_vec();
    for (asked, shown) in question["asks"]
        .as_array()
        .unwrap()
        .iter()
        .zip(tale["shows"].as_array().unwrap())
    {
        arguments.push("--read".to_owned());
        let (name, shown) = (asked["name"].as_str().unwrap(), shown.as_str().unwrap());
        arguments.push(format!("{name}={shown}"));
    }
    let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let answer: Value = serde_json::from_str(&said(&almuri(folder.path(), &arguments))).unwrap();
    assert_eq!(answer["verdict"], "slips");
    let first = &answer["explanations"][0]["slips"][0]["name"];
    assert_eq!(first, "longitude-left-out");

    // An operation of the treatise: its readings by their own names, as a page.
    let hour = [
        "correct",
        "--exercises",
        "week/exercises.json",
        "--pupil",
        "Aldara Example",
        "--question",
        "6",
    ];
    refused(
        folder.path(),
        &[&hour, ["--read", "colour=3"].as_slice()].concat(),
        &["colour", "hour, ascendant"],
    );
    refused(
        folder.path(),
        &[&hour, ["--read", "hour=late"].as_slice()].concat(),
        &["late", "6:49"],
    );
    refused(folder.path(), &hour, &["nothing is read", "hour"]);
    let page = said(&almuri(
        folder.path(),
        &[&hour, ["--read", "hour=9:00"].as_slice()].concat(),
    ));
    assert!(
        page.contains("What explains them") && page.lines().all(|line| line.chars().count() <= 80)
    );
    for (pupil, number, names) in [
        ("Nobody", "1", vec!["Nobody", "Aldara Example"]),
        ("Aldara Example", "9", vec!["question 9", "1 to 6"]),
    ] {
        let arguments = [
            "correct",
            "--exercises",
            "week/exercises.json",
            "--pupil",
            pupil,
            "--question",
            number,
            "--read",
            "ascendant=1 Leo",
        ];
        refused(folder.path(), &arguments, &names);
    }
    for more in [&["--question", "1"] as &[&str], &["--pupil", "x"]] {
        let arguments = [
            &[
                "correct",
                "--exercises",
                "week/exercises.json",
                "--read",
                "ascendant=1 Leo",
            ],
            more,
        ]
        .concat();
        refused(folder.path(), &arguments, &["--"]);
    }
    let not_one = [
        "correct",
        "--exercises",
        "class.toml",
        "--pupil",
        "x",
        "--question",
        "1",
    ];
    refused(folder.path(), &not_one, &["class.toml", "exercises.json"]);
}

#[test]
fn a_course_is_a_book_with_its_key() {
    let folder = tempfile::tempdir().unwrap();
    let course = [
        "course",
        "--at",
        "Paris, France",
        "--year",
        "2026",
        "--with",
        "pocket instrument",
    ];
    let text = said(&almuri(folder.path(), &course));
    assert_eq!(
        text,
        "course/course.pdf\ncourse/key.pdf\ncourse/exercises.json\n"
    );
    refused(folder.path(), &course, &["course.pdf", "--overwrite"]);
    refused(
        folder.path(),
        &["course", "--year", "2026"],
        &["no place is said"],
    );
    refused(
        folder.path(),
        &[&course, ["--page", "a9"].as_slice()].concat(),
        &["a9"],
    );
}

#[test]
fn class_files_are_refused_with_file_line_and_pupil() {
    let folder = tempfile::tempdir().unwrap();
    let run = ["exercises", "class.toml", "-o", "week"];
    refused(
        folder.path(),
        &run,
        &["class.toml", "cannot be read", "class file"],
    );
    std::fs::create_dir(folder.path().join("class.d")).unwrap();
    refused(
        folder.path(),
        &["exercises", "class.d"],
        &["class.d", "no file"],
    );
    for (text, names) in [
        (
            CLASS.replace("seed = 1391", "sead = 1"),
            vec!["line 6", "sead", "seed"],
        ),
        (
            CLASS.replace("level = \"adept\"", "level = 7"),
            vec!["line 23", "Delia", "beginner, practised, adept"],
        ),
        (
            CLASS.replace("pocket instrument", "brass thing"),
            vec![
                "line 18",
                "“Clodio Example”",
                "brass thing",
                "class instrument",
            ],
        ),
        (
            CLASS.replace("lecture instrument", "missing.toml"),
            vec!["“Delia Example”", "missing.toml"],
        ),
        (
            CLASS.replace("Santiago de Compostela, Spain", "Santiago"),
            vec!["place", "Santiago"],
        ),
        (
            CLASS.replace("version = 1", "version = 3"),
            vec!["line 2", "version"],
        ),
        ("\u{fffd}".to_owned(), vec!["line 1"]),
    ] {
        with_class(folder.path(), &text);
        refused(folder.path(), &run, &[names, vec!["class.toml"]].concat());
    }
    std::fs::write(folder.path().join("class.toml"), vec![b'#'; 300_000]).unwrap();
    refused(folder.path(), &run, &["class.toml", "longer"]);
    assert!(!folder.path().join("week").exists());
}

/// A class is kept, given a sheet, answered, corrected, printed and deleted, each in a run of
/// its own: what is in the book is all that is known.
#[test]
fn a_class_is_kept_and_worked_with() {
    let folder = tempfile::tempdir().unwrap();
    with_class(folder.path(), CLASS);
    let book = folder.path().join("book.sqlite");
    let class = |arguments: &[&str]| {
        let book = ["class", "--book", book.to_str().unwrap()];
        said(&almuri(
            folder.path(),
            &[book.as_slice(), arguments].concat(),
        ))
    };
    let kept = class(&["keep", "class.toml"]);
    assert!(
        kept.contains("Delia Example") && kept.contains("adept"),
        "{kept}"
    );
    let given = class(&["give-out", "1", "--year", "2026", "--questions", "2"]);
    assert!(
        given.starts_with("sheet 1 of Tuesday class, for 5 pupils"),
        "{given}"
    );
    let sheet = class(&["sheet", "1", "1", "aldara example", "--json"]);
    let sheet: serde_json::Value = serde_json::from_str(&sheet).unwrap();
    let question = &sheet["paper"]["asked"]["pupils"][0]["questions"][0];
    // The first is read as the brass shows it, but for what one slip shows.
    let tale = &question["tell_tales"][0];
    let mut answers = vec![
        "answer".to_owned(),
        "1".to_owned(),
        "1".to_owned(),
        "Aldara Example".to_owned(),
    ];
    for (asked, shows) in question["asks"]
        .as_array()
        .unwrap()
        .iter()
        .zip(tale["shows"].as_array().unwrap())
    {
        answers.push("--read".to_owned());
        answers.push(format!(
            "1.{}={}",
            asked["name"].as_str().unwrap(),
            shows.as_str().unwrap()
        ));
    }
    let answers: Vec<&str> = answers.iter().map(String::as_str).collect();
    let corrected = class(&answers);
    let words = tale["words"][0].as_str().unwrap();
    let shown = class(&["show", "1"]);
    assert!(shown.contains("1 of 5 answered"), "{shown}");
    let flat = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        flat(&shown).contains(words),
        "{words}: {shown}\n{corrected}"
    );
    for what in ["sheets", "key", "key-at-length", "seating"] {
        class(&["print", "1", what]);
        let pdf = std::fs::read(folder.path().join(format!("{what}.pdf"))).unwrap();
        assert!(pdf.starts_with(b"%PDF"), "{what}");
    }
    refused(
        folder.path(),
        &[
            "class",
            "--book",
            "book.sqlite",
            "answer",
            "1",
            "1",
            "Aldara Example",
            "--read",
            "ascendant=3",
        ],
        &["ascendant=3", "QUESTION.WHAT=VALUE"],
    );
    refused(
        folder.path(),
        &[
            "class",
            "--book",
            "book.sqlite",
            "sheet",
            "1",
            "2",
            "Aldara Example",
        ],
        &["no sheet 2"],
    );
    refused(
        folder.path(),
        &["class", "--book", "book.sqlite", "delete", "1"],
        &["Tuesday class", "--yes"],
    );
    class(&["delete", "1", "--yes"]);
    assert!(class(&["list"]).contains("no class is kept"));
}

/// Sheets go out as pages without a name in them, and what the pages save comes back into the
/// book.
#[test]
fn pupils_pages_go_out_and_their_answers_come_back() {
    let folder = tempfile::tempdir().unwrap();
    with_class(folder.path(), CLASS);
    let class = |arguments: &[&str]| {
        let book = ["class", "--book", "book.sqlite"];
        said(&almuri(folder.path(), &[&book, arguments].concat()))
    };
    class(&["keep", "class.toml"]);
    class(&["give-out", "1", "--year", "2026", "--questions", "1"]);
    // As much of a site as is looked at.
    let site = "<!doctype html><html data-desk=\"here\"><head></head><body>\
                <script data-piece=\"desk\"></script></body></html>";
    std::fs::write(folder.path().join("site.html"), site).unwrap();
    let posted = class(&["post", "1", "--site", "site.html", "--corrected"]);
    assert!(posted.contains("1  Aldara Example"), "{posted}");
    let names = ["Aldara", "Brais", "Clodio", "Delia"];
    for number in 1..=5 {
        let file = folder
            .path()
            .join(format!("pupils/sheet-1-number-{number}.html"));
        let page = std::fs::read_to_string(file).unwrap();
        assert!(page.contains("\"corrects\":true"), "{number}");
        for name in names {
            assert!(
                !page.contains(name),
                "{name} is on the page of number {number}"
            );
        }
    }
    class(&[
        "post",
        "1",
        "--site",
        "site.html",
        "--one-for-all",
        "-o",
        "all",
    ]);
    let page = std::fs::read_to_string(folder.path().join("all/sheet-1.html")).unwrap();
    let (_, sheets) = page.split_once("id=\"posted\">").unwrap();
    let (sheets, _) = sheets.split_once("</script>").unwrap();
    let sheets: serde_json::Value = serde_json::from_str(sheets).unwrap();
    assert_eq!(sheets["papers"].as_array().unwrap().len(), 5);

    // Two send their answers, as the page saves them: one as the key has it.
    std::fs::create_dir(folder.path().join("back")).unwrap();
    for (number, whose) in [(1, "Aldara Example"), (2, "Brais Example")] {
        let paper = &sheets["papers"][number - 1];
        let kept = class(&["sheet", "1", "1", whose, "--json"]);
        let kept: serde_json::Value = serde_json::from_str(&kept).unwrap();
        let key = &kept["paper"]["asked"]["pupils"][0]["questions"][0]["asks"][0];
        let value = if number == 1 {
            key["reads"].clone()
        } else {
            "1:00".into()
        };
        let answers = serde_json::json!({
            "version": 1, "class": "Tuesday class", "sheet": 1,
            "answers": [{
                "number": number, "mark": paper["mark"],
                "read": { "1": { key["name"].as_str().unwrap(): value } },
            }],
        });
        let file = folder.path().join(format!("back/number-{number}.json"));
        std::fs::write(file, answers.to_string()).unwrap();
    }
    std::fs::write(folder.path().join("back/other.json"), "{}").unwrap();
    let collected = class(&["collect", "1", "back"]);
    for said in [
        "Aldara Example: entered and corrected",
        "Brais Example: entered and corrected",
        "other.json: not taken",
    ] {
        assert!(collected.contains(said), "{said}: {collected}");
    }
    assert!(class(&["collect", "1", "back"]).contains("Aldara Example: entered already"));
    let shown = class(&["show", "1"]);
    assert!(shown.contains("2 of 5 answered"), "{shown}");
    let sheet = class(&["sheet", "1", "1", "Aldara Example"]);
    assert!(sheet.contains("right"), "{sheet}");
    refused(
        folder.path(),
        &[
            "class",
            "--book",
            "book.sqlite",
            "post",
            "1",
            "--site",
            "class.toml",
        ],
        &["class.toml", "almuri.html"],
    );
}
