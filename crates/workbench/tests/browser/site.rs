//! The page without a server: a folder behind a plain static server, and one file opened
//! from the disk without a network. Both say what the desk says.
//!
//! `cargo xtask site` builds them; `ALMURI_SITE` says where they lie, and without it nothing
//! is tried here.

use std::collections::HashMap;
use std::io::{BufRead, BufReader, Write};
use std::net::{TcpListener, TcpStream};
use std::path::PathBuf;
use std::sync::{Arc, Mutex};

use desk::Cabinet;
use page::{Holder, Kept};
use serde_json::{Value, json};

use crate::bench::{Bench, DEMONSTRATION};
use crate::webdriver::Browser;

/// Where the site was built.
fn built() -> Option<PathBuf> {
    let Some(folder) = std::env::var_os("ALMURI_SITE").map(PathBuf::from) else {
        ordeal::tell(
            "the page without a server",
            0,
            "not tried: no site was built",
        );
        return None;
    };
    assert!(folder.join("index.html").is_file(), "{}", folder.display());
    Some(folder)
}

/// The two ways to open it.
pub(crate) enum Opened {
    Folder(Host),
    File(String),
}

impl Opened {
    pub(crate) fn both() -> Option<[Opened; 2]> {
        let folder = built()?;
        let file = format!("file://{}", folder.join("almuri.html").display());
        Some([Opened::Folder(Host::of(folder)), Opened::File(file)])
    }

    pub(crate) fn address(&self) -> &str {
        match self {
            Opened::Folder(host) => &host.address,
            Opened::File(address) => address,
        }
    }

    pub(crate) fn name(&self) -> &'static str {
        match self {
            Opened::Folder(_) => "the folder",
            Opened::File(_) => "the one file",
        }
    }

    /// Opens it at a case, and waits until that is answered.
    pub(crate) fn at(&self, browser: &Browser, fragment: &str) {
        if let Opened::File(_) = self {
            let offline = json!({ "offline": true, "latency": 0, "downloadThroughput": 0, "uploadThroughput": 0 });
            browser.cdp("Network.enable", json!({}));
            browser.cdp("Network.emulateNetworkConditions", offline);
        }
        browser.go(&format!("{}{fragment}", self.address()));
        browser.wait("return document.body.dataset.ready === 'yes'");
    }

    /// How a script within the page names a module.
    pub(crate) fn module(&self, name: &str) -> String {
        match self {
            Opened::Folder(_) => format!("./js/{name}.js"),
            Opened::File(_) => format!("almuri/{name}.js"),
        }
    }

    /// Asks the page's own desk.
    fn ask_for_text(&self, browser: &Browser, name: &str, body: &Value) -> (u64, String) {
        let script = format!(
            "const done = arguments[arguments.length - 1]; import('{}').then(({{ ask }}) => \
             ask('/desk/{name}', {{ method: 'POST', body: JSON.stringify({body}) }})) \
             .then(async (told) => done([told.status, await told.text()]), (error) => done([0, String(error)]))",
            self.module("desk-here")
        );
        let got = browser.run_async(&script);
        (
            got[0].as_u64().unwrap(),
            got[1].as_str().unwrap().to_owned(),
        )
    }

    /// The same, where the answer is JSON.
    fn ask(&self, browser: &Browser, name: &str, body: &Value) -> (u64, Value) {
        let (status, text) = self.ask_for_text(browser, name, body);
        (status, serde_json::from_str(&text).unwrap())
    }
}

/// A plain static server on a port of its own, as any host is.
#[derive(Clone)]
pub(crate) struct Host {
    address: String,
    state: Arc<Mutex<State>>,
}

struct State {
    folder: PathBuf,
    /// Files that it has otherwise than the folder.
    changed: HashMap<String, Vec<u8>>,
    is_away: bool,
}

impl Host {
    fn of(folder: PathBuf) -> Host {
        let listener = TcpListener::bind("127.0.0.1:0").unwrap();
        let address = format!("http://{}/", listener.local_addr().unwrap());
        let state = Arc::new(Mutex::new(State {
            folder,
            changed: HashMap::new(),
            is_away: false,
        }));
        let host = Host { address, state };
        let serving = host.clone();
        std::thread::spawn(move || {
            for stream in listener.incoming().map_while(Result::ok) {
                let host = serving.clone();
                std::thread::spawn(move || {
                    let _ = host.answered(stream);
                });
            }
        });
        host
    }

    /// From now on there is no network, or there is one again.
    fn is_away(&self, is_away: bool) {
        self.state.lock().unwrap().is_away = is_away;
    }

    /// From now on a file has other words.
    fn changes(&self, path: &str, from: &str, to: &str) {
        let mut state = self.state.lock().unwrap();
        let text = std::fs::read_to_string(state.folder.join(path)).unwrap();
        assert!(text.contains(from), "{path}");
        let changed = text.replace(from, to).into_bytes();
        state.changed.insert(path.to_owned(), changed);
    }

    fn file(&self, path: &str) -> Option<Vec<u8>> {
        let state = self.state.lock().unwrap();
        if let Some(bytes) = state.changed.get(path) {
            return Some(bytes.clone());
        }
        std::fs::read(state.folder.join(path)).ok()
    }

    fn answered(&self, mut stream: TcpStream) -> std::io::Result<()> {
        if self.state.lock().unwrap().is_away {
            return Ok(());
        }
        let mut lines = BufReader::new(stream.try_clone()?).lines();
        let first = lines.next().transpose()?.unwrap_or_default();
        for line in lines {
            if line?.is_empty() {
                break;
            }
        }
        let path = first
            .split(' ')
            .nth(1)
            .unwrap_or("/")
            .trim_start_matches('/');
        let path = if path.is_empty() { "index.html" } else { path };
        let kind = match path.rsplit('.').next().unwrap_or_default() {
            "html" => "text/html",
            "js" => "text/javascript",
            "css" => "text/css",
            "svg" => "image/svg+xml",
            "png" => "image/png",
            "webmanifest" => "application/manifest+json",
            _ => "application/octet-stream",
        };
        match self.file(path) {
            Some(bytes) => {
                let length = bytes.len();
                write!(
                    stream,
                    "HTTP/1.1 200 OK\r\nContent-Type: {kind}\r\nContent-Length: {length}\r\nConnection: close\r\n\r\n"
                )?;
                stream.write_all(&bytes)
            }
            None => write!(
                stream,
                "HTTP/1.1 404 Not Found\r\nContent-Length: 0\r\nConnection: close\r\n\r\n"
            ),
        }
    }
}

/// The desk of these tests, asked by the same questions.
struct Here(Arc<Cabinet>);

impl Holder for Here {
    fn cabinet(&self) -> Arc<Cabinet> {
        Arc::clone(&self.0)
    }

    fn settings(&self) -> Result<Kept, String> {
        Ok(Kept::default())
    }

    fn now_unix_s(&self) -> Option<f64> {
        None
    }
}

/// Three hundred, over three thousand years and all kinds of answers.
fn questions() -> Vec<(&'static str, Value)> {
    const PLACES: [&str; 6] = [
        "42.8806,-8.5449",
        "Sevilla, Spain",
        "Kraków, Poland",
        "-33.9,18.4",
        "Madrid",
        "64.1,-21.9",
    ];
    const WITH: [&str; 5] = [
        "class instrument",
        "date-ring instrument",
        "pocket instrument",
        "lecture instrument",
        "southern instrument",
    ];
    const TYPED: [&str; 4] = ["san", "toled", "kra", "new y"];
    (0..300_u32)
        .map(|n| {
            let year = [2024, 1987, 1850, 1700, 1492, 1300, 900, 250, -100, 2300][n as usize % 10];
            let when = format!(
                "{year:04}-{:02}-{:02} {:02}:{:02}",
                n % 12 + 1,
                n % 28 + 1,
                n * 7 % 24,
                n * 13 % 60
            );
            let case = json!({
                "when": when, "at": PLACES[n as usize % 6], "clock": if n % 4 == 0 { "mean" } else { "+01:00" },
                "calendar": if year < 1583 { "julian" } else { "gregorian" },
                "with": { "named": WITH[n as usize / 2 % 5] },
            });
            match n % 10 {
                0..=4 => ("cast", case),
                5 => ("figure", json!({ "cast": case })),
                6 => (
                    "workshop/specification",
                    json!({ "text": "version = 1", "set": [{ "key": "diameter_mm", "to": format!("{} mm", n + 20) }] }),
                ),
                7 => ("work", json!({ "operation": "day-and-night", "moment": case })),
                8 => ("suggest", json!({ "text": TYPED[n as usize / 10 % 4] })),
                _ => ("front", json!({ "with": { "named": WITH[n as usize / 10 % 5] }, "plate_latitude_deg": 42.0 })),
            }
        })
        .collect()
}

#[test]
fn three_hundred_questions_are_answered_by_both_doors_to_the_last_digit() {
    let Some(opened) = Opened::both() else { return };
    let here = Here(Arc::new(Cabinet::built_in()));
    let mut good = 0;
    let expected: Vec<(u64, String)> = questions()
        .iter()
        .map(|(name, body)| {
            let question = page::question(name).unwrap();
            match question.answer(
                body.to_string().as_bytes(),
                &here,
                patience::Patience::ENDLESS,
            ) {
                Ok(answer) => (200, String::from_utf8(answer.bytes).unwrap()),
                Err(fault) => (422, fault.told().to_string()),
            }
        })
        .inspect(|(status, _)| good += usize::from(*status == 200))
        .collect();
    assert!(good > 200, "{good} are answered");
    for opened in opened {
        let browser = Browser::start(1440, 900);
        opened.at(&browser, "");
        for ((name, body), (status, answer)) in questions().iter().zip(&expected) {
            let told = opened.ask_for_text(&browser, name, body);
            assert_eq!(told, (*status, answer.clone()), "{name} {body}");
        }
    }
}

#[test]
fn the_page_says_the_same_through_either_door() {
    let Some(opened) = Opened::both() else { return };
    let served = Bench::at(1440, 900, &DEMONSTRATION);
    let all = "return [...document.querySelectorAll('.set-facts strong, .sum, .reads .reading, #headline')].map((one) => one.textContent)";
    let expected = served.browser.run(all);
    let fragment = served.browser.run("return location.hash");
    for opened in opened {
        let browser = Browser::start(1440, 900);
        opened.at(&browser, fragment.as_str().unwrap());
        assert_eq!(browser.run(all), expected);
        // The instrument turns under the hand, and its readings follow.
        let live = "return document.querySelector('#live').textContent";
        let before = browser.run(live);
        browser.keys("#hand-rete", "\u{e014}");
        browser.wait(&format!(
            "return document.querySelector('#live').textContent !== {before}"
        ));
        assert_eq!(browser.complaints(), Vec::<String>::new());
    }
}

/// However fast the rete is turned, it is read at the end where it stands.
#[test]
fn no_turn_is_dropped() {
    let Some(opened) = Opened::both() else { return };
    for opened in opened {
        let browser = Browser::start(1440, 900);
        opened.at(&browser, "");
        browser.wait("return document.querySelector('#live').dataset.busy !== 'yes'");
        // All before the first of them is answered.
        browser.run(
            "for (let turns = 0; turns < 100; turns += 1) \
               document.querySelector('#hand-rete').dispatchEvent(new KeyboardEvent('keydown', { key: 'ArrowRight' }))",
        );
        browser.wait("return document.querySelector('#live').dataset.busy !== 'yes'");
        let read = browser.run(
            "const { rete, rule, alidade } = document.querySelector('#stage').dataset; \
             const case_ = new URLSearchParams(location.hash.slice(1)); \
             return [document.querySelector('#live .reading').textContent, Number(rete), Number(rule), Number(alidade), \
               case_.get('when'), case_.get('at'), case_.get('with')]",
        );
        let case = json!({ "when": read[4], "at": read[5], "with": { "named": read[6] } });
        let (_, cast) = opened.ask(&browser, "cast", &case);
        let plate = &cast["instrument"]["plate_latitude_deg"];
        let state = json!({
            "plate_latitude_deg": plate, "rete_deg": read[1], "rule_deg": read[2], "alidade_deg": read[3],
        });
        let asked = json!({ "case": case, "state": state, "pointer": null });
        let (status, turn) = opened.ask(&browser, "turn", &asked);
        assert_eq!(status, 200, "{turn}");
        assert_eq!(turn["ascendant"]["text"], read[0], "{state}");
        let set = cast["working"]["steps"].as_array().unwrap();
        assert!(
            set.iter().all(|step| step["state"]["rete_deg"] != read[1]),
            "it was turned"
        );
    }
}

/// A pupils’ page, made of the one file, opened without a network: a number is chosen, the
/// sheet is worked, corrected on the spot and saved; nothing on it tells an answer, and the
/// teacher's book takes what it saved.
#[test]
fn a_pupils_page_is_worked_and_comes_back() {
    let Some(folder) = built() else { return };
    let place = tempfile::tempdir().unwrap();
    let mut book = casebook::Casebook::open(&place.path().join("book.sqlite")).unwrap();
    let cabinet = Cabinet::built_in();
    let class: casebook::Class = serde_json::from_value(json!({
        "name": "An invented class", "place": "Sevilla, Spain", "level": "beginner",
        "pupils": [
            { "name": "Aldara Example", "with": "class instrument" },
            { "name": "Brais Example", "with": "date-ring instrument" },
        ],
    }))
    .unwrap();
    let kept = book.keep_class(&class).unwrap();
    let giving = serde_json::from_value(json!({
        "year": 2026, "seed": 7, "questions": 2, "same_questions": true,
    }))
    .unwrap();
    let drawn = page::drawn_papers(&class, &giving, &cabinet, patience::Patience::ENDLESS).unwrap();
    book.give_out(kept.id, drawn).unwrap();
    let papers = book.papers(kept.id).unwrap();
    let (posted, _) = page::posted(&class, &papers, None, true, &cabinet).unwrap();
    let site = std::fs::read_to_string(folder.join("almuri.html")).unwrap();
    let file = place.path().join("sheet.html");
    std::fs::write(&file, page::pupils_page(&site, &posted).unwrap()).unwrap();

    let browser = Browser::start(1440, 900);
    Opened::File(format!("file://{}", file.display())).at(&browser, "");
    browser.run("document.querySelector('#posted-number').value = '2'; document.querySelector('#posted-number').dispatchEvent(new Event('change'))");
    browser.wait(
        "return document.querySelector('#posted-questions').textContent.includes('Number 2')",
    );
    for told in [
        "#readings",
        "#set",
        "#live",
        "#steps",
        "#why",
        "#classes",
        "#casebook",
    ] {
        let shown = format!("return document.querySelector('{told}').checkVisibility()");
        assert_eq!(browser.run(&shown), json!(false), "{told}");
    }
    assert_eq!(
        browser.run("return document.querySelector('#stage').checkVisibility()"),
        json!(true)
    );
    // As the key has it, which is in the teacher's book alone.
    let key = desk::exercises_of_json(papers[1].paper.asked.text()).unwrap();
    let question = &key.pupils[0].questions[0];
    for asked in &question.asks {
        let field = format!("posted-{}-{}", question.number, asked.name);
        browser.run_with(
            "const field = document.getElementById(arguments[0]); field.value = arguments[1]; field.dispatchEvent(new Event('input', { bubbles: true }))",
            &json!([field, asked.reads]),
        );
    }
    browser.click(&format!("#posted-correct-{}", question.number));
    let verdict = format!("#posted-verdict-{}", question.number);
    browser.wait(&format!(
        "return document.querySelector('{verdict}').dataset.verdict"
    ));
    assert_eq!(
        browser.run(&format!(
            "return document.querySelector('{verdict}').dataset.verdict"
        )),
        json!("right")
    );
    browser.run(
        "window.saved = null; let last = null; const make = URL.createObjectURL; \
         URL.createObjectURL = (blob) => { last = blob; return make.call(URL, blob); }; \
         HTMLAnchorElement.prototype.click = function () { last.text().then((text) => { window.saved = text; }); };",
    );
    browser.click("#posted-save");
    let saved = browser.wait("return window.saved");
    assert_eq!(browser.complaints(), Vec::<String>::new());
    let came = page::came_back(saved.as_str().unwrap()).unwrap();
    let all = page::collected(kept.id, &papers, &came, false, &cabinet).unwrap();
    assert_eq!(all.len(), 1);
    assert_eq!(all[0].before.paper.pupil, "Brais Example");
    let answers = &all[0].after.as_ref().unwrap().answers;
    assert_eq!(answers[0].verdict, "right", "{answers:?}");
    // What was written is there when the page is opened again, on this machine alone.
    browser.go("about:blank");
    Opened::File(format!("file://{}", file.display())).at(&browser, "");
    browser.run("document.querySelector('#posted-number').value = '2'; document.querySelector('#posted-number').dispatchEvent(new Event('change'))");
    let field = format!("posted-{}-{}", question.number, question.asks[0].name);
    browser.wait(&format!(
        "return (document.getElementById('{field}')?.value ?? '') !== ''"
    ));
}

/// As many cases as a long practice has.
const MANY: u32 = 10_000;

/// From the desk's casebook to the browser's and back: not a letter is lost, and the rules
/// are the same.
#[test]
fn a_casebook_goes_to_the_browser_and_back() {
    let Some(opened) = Opened::both() else { return };
    let folder = tempfile::tempdir().unwrap();
    let mut book = casebook::Casebook::open(&folder.path().join("book.sqlite")).unwrap();
    let case = |n: u32| -> casebook::Case {
        serde_json::from_value(json!({
            "name": format!("Invented {n}"), "when": "1987-11-03 21:45", "at": "Sevilla, Spain",
            "readings": [{ "what": "ascendant", "degree": "11 Pisces", "who": "a pupil" }],
            "marks": [{ "what": "ascendant", "mark": "7/10", "remark": "; and = and \"so on\"" }],
            "figure": "as printed\nin two lines", "note": "größer, ☉", "tags": ["spring", "pupil"],
        }))
        .unwrap()
    };
    book.keep_all((0..MANY).map(case).collect()).unwrap();
    let mut text = Vec::new();
    casebook::write_json(&book, None, &mut text).unwrap();
    let text = String::from_utf8(text).unwrap();
    for opened in opened {
        let browser = Browser::start(1440, 900);
        opened.at(&browser, "");
        let ask =
            |what: &str, body: Value| opened.ask(&browser, &format!("casebook/{what}"), &body);
        let (_, brought) = ask("import", json!({ "form": "json", "text": text }));
        assert_eq!(brought["kept"], MANY, "{brought}");
        let (_, carried) = ask("export", json!({ "form": "json" }));
        assert!(
            carried["text"] == text,
            "what comes back is what was brought"
        );
        let (status, table) = ask("export", json!({ "form": "spreadsheet" }));
        assert_eq!((status, &table["cases"]), (200, &json!(MANY)), "{table}");
        // An edit names the version it began from; it is undone; a deletion is for good.
        let edited = json!({ "id": 7, "version": 1, "case": case(MANY) });
        assert_eq!(ask("edit", edited.clone()).0, 200);
        let (status, refused) = ask("edit", edited);
        assert_eq!(status, 422);
        assert!(
            refused["message"]
                .as_str()
                .unwrap()
                .contains("changed meanwhile")
        );
        let (_, found) = ask("find", json!({ "words": format!("invented {MANY}") }));
        assert_eq!(found["cases"][0]["id"], 7, "{found}");
        let said = found["notices"].to_string();
        assert!(
            said.contains("in this browser") && said.contains("1 case is in no copy yet"),
            "{said}"
        );
        assert_eq!(
            ask("undo", json!({})).1["restored"]["case"]["name"],
            "Invented 6"
        );
        assert_eq!(ask("delete", json!({ "id": 7, "version": 3 })).0, 200);
        assert_eq!(ask("find", json!({})).1["total"], MANY - 1);
        // It is there when the page is opened again.
        opened.at(&browser, "#when=2000-01-01+12%3A00&at=0%2C0&clock=mean");
        browser.go("about:blank");
        opened.at(&browser, "");
        assert_eq!(
            ask("find", json!({ "words": "pupil" })).1["total"],
            MANY - 1
        );
    }
}

/// A casebook that is more than is read in at once leaves in parts, and each is read in.
#[test]
fn a_large_casebook_leaves_the_browser_in_parts() {
    let Some([folder, _]) = Opened::both() else {
        return;
    };
    let browser = Browser::start(1440, 900);
    folder.at(&browser, "");
    let ask = |what: &str, body: Value| folder.ask(&browser, &format!("casebook/{what}"), &body);
    for number in 0..17 {
        let mut case = invented(number);
        case["note"] = json!("x".repeat(1_000_000));
        assert_eq!(ask("keep", case).0, 200);
    }
    let (_, first) = ask("export", json!({ "form": "json" }));
    assert_eq!((&first["cases"], &first["next"]), (&json!(16), &json!(16)));
    let (_, second) = ask("export", json!({ "form": "json", "behind": 16 }));
    assert_eq!(
        (&second["cases"], &second["next"]),
        (&json!(1), &Value::Null)
    );
    let (_, found) = ask("find", json!({}));
    assert!(
        !found["notices"].to_string().contains("in no copy"),
        "{found}"
    );
    let (_, brought) = ask("import", json!({ "form": "json", "text": second["text"] }));
    assert_eq!(brought["kept"], 1, "{brought}");
}

/// A case to be kept, by its number.
fn invented(number: u32) -> Value {
    json!({ "name": format!("Invented {number}"), "when": "1987-11-03 21:45", "at": "Sevilla, Spain" })
}

/// Opened again without a network it is whole; a new version says that it is there and waits
/// until it is taken.
#[test]
fn the_folder_opens_without_a_network_and_a_new_version_waits() {
    let Some([folder, _]) = Opened::both() else {
        return;
    };
    let Opened::Folder(host) = &folder else {
        return;
    };
    let browser = Browser::start(1440, 900);
    folder.at(&browser, "");
    // It keeps 20 MB, and answers for the page from then on.
    browser.run_async("navigator.serviceWorker.ready.then(() => arguments[0](true))");
    browser.wait("return navigator.serviceWorker.controller !== null");
    host.is_away(true);
    browser.go("about:blank");
    folder.at(&browser, "#when=0250-06-11+20%3A00&at=Sevilla%2C+Spain");
    let headline = browser.text("#headline");
    assert!(headline.contains("250"), "{headline}");
    // A file comes out of it too.
    let drawing = json!({ "drawing": { "figure": { "cast": {
        "when": "2024-05-14 09:20", "at": "Santiago de Compostela, Galicia, Spain" } } }, "format": "pdf" });
    let (status, file) = folder.ask_for_text(&browser, "figure/file", &drawing);
    assert!(status == 200 && file.starts_with("%PDF"), "{status} {file}");
    // So do a sheet worked with the pen, and the picture of a part as it would be made.
    let sheet = json!({ "reckon": { "when": "2024-05-14 09:20", "at": "Sevilla, Spain" },
        "blank": false, "page": "a4" });
    let (status, file) = folder.ask_for_text(&browser, "reckon/sheet", &sheet);
    assert!(status == 200 && file.starts_with("%PDF"), "{status} {file}");
    let parts = json!({ "with": { "named": "class instrument" }, "plates": [], "parts": ["rete"] });
    let (status, pictures) = folder.ask(&browser, "workshop/preview", &parts);
    assert!(
        status == 200 && pictures[0]["svg"].is_string(),
        "{pictures}"
    );

    host.is_away(false);
    host.changes(
        "sw.js",
        "const VERSION = \"almuri-",
        "const VERSION = \"almuri-next-",
    );
    host.changes(
        "index.html",
        "<title>Almuri</title>",
        "<title>Almuri, next</title>",
    );
    let title = "return document.title.includes('next')";
    browser.go("about:blank");
    folder.at(&browser, "");
    browser.run_async(
        "navigator.serviceWorker.ready.then(async (kept) => { \
           while (!kept.waiting) await new Promise((next) => setTimeout(next, 50)); \
           arguments[0](true); \
         })",
    );
    browser.wait("return document.querySelector('#new-version') !== null");
    assert_eq!(browser.run(title), false, "it waits");
    browser.click("#new-version button");
    browser.wait(title);
    browser.wait("return document.body.dataset.ready === 'yes'");
    assert_eq!(
        browser.run("return document.querySelector('#new-version')"),
        Value::Null
    );
}

/// Where the store is full, is switched off, or forgets, the page says so, and nothing is
/// half done.
#[test]
fn a_store_that_does_not_keep_says_so() {
    let Some([folder, _]) = Opened::both() else {
        return;
    };
    let Opened::Folder(host) = &folder else {
        return;
    };
    let browser = Browser::start(1440, 900);
    folder.at(&browser, "");
    let ask = |what: &str, body: Value| folder.ask(&browser, what, &body);
    let quota = |size: Value| {
        let origin = host.address.trim_end_matches('/');
        let mut parameters = json!({ "origin": origin });
        if !size.is_null() {
            parameters["quotaSize"] = size;
        }
        browser.cdp("Storage.overrideQuotaForOrigin", parameters);
    };
    quota(json!(1));
    let long = json!({ "name": "Invented", "when": "1987-11-03 21:45", "at": "Sevilla, Spain",
        "note": "so on, ".repeat(2_000) });
    let (status, refused) = ask("casebook/keep", long.clone());
    assert_eq!(status, 422, "{refused}");
    let said = refused["message"].as_str().unwrap().to_owned();
    assert!(
        said.contains("no room") && said.contains("nothing was changed"),
        "{said}"
    );
    quota(Value::Null);
    assert_eq!(ask("casebook/find", json!({})).1["total"], 0);
    assert_eq!(ask("casebook/keep", long).0, 200);

    // A private window forgets.
    let browser = Browser::start_private(1440, 900);
    folder.at(&browser, "");
    let (_, kept) = folder.ask(&browser, "casebook/keep", &invented(1));
    assert_eq!(kept["id"], 1, "{kept}");
    let (_, found) = folder.ask(&browser, "casebook/find", &json!({}));
    let said = found["notices"].to_string();
    assert!(said.contains("a private window forgets"), "{said}");

    // A store that is switched off keeps nothing, and the rest works.
    let browser = Browser::start(1440, 900);
    let off = "Object.defineProperty(window, 'indexedDB', { value: { open() { throw new DOMException('off', 'SecurityError'); } } });";
    browser.cdp(
        "Page.addScriptToEvaluateOnNewDocument",
        json!({ "source": off }),
    );
    folder.at(&browser, "");
    let (status, refused) = folder.ask(&browser, "casebook/keep", &invented(1));
    assert_eq!(status, 422);
    let said = refused["message"].as_str().unwrap();
    assert!(said.contains("keeps nothing"), "{said}");
}

/// Begins to keep cases one after the other, and tells other tabs of each that is kept.
fn begin_to_keep(opened: &Opened, browser: &Browser, from: u32, most: u32) {
    let script = format!(
        "window.done = false; \
         const {{ ask }} = await import('{}'); \
         const said = new BroadcastChannel('kept'); \
         for (let n = {from}; n < {from} + {most}; n += 1) {{ \
           const one = {{ name: `Invented ${{n}}`, when: '1987-11-03 21:45', at: 'Sevilla, Spain' }}; \
           const told = await ask('/desk/casebook/keep', {{ method: 'POST', body: JSON.stringify(one) }}); \
           if (told.status === 200) said.postMessage(n); \
         }} \
         window.done = true;",
        opened.module("desk-here")
    );
    browser.run(&format!("(async () => {{ {script} }})();"));
}

/// Two tabs that keep at once lose nothing, and neither writes over the other.
#[test]
fn two_tabs_at_once_lose_nothing() {
    const EACH: u32 = 100;
    for opened in Opened::both().into_iter().flatten() {
        let browser = Browser::start(1440, 900);
        opened.at(&browser, "");
        let first = browser.tab();
        let second = browser.new_tab();
        opened.at(&browser, "");
        begin_to_keep(&opened, &browser, 0, EACH);
        browser.go_to(&first);
        begin_to_keep(&opened, &browser, EACH, EACH);
        browser.wait("return window.done");
        browser.go_to(&second);
        browser.wait("return window.done");
        let (_, found) = opened.ask(&browser, "casebook/find", &json!({ "limit": 500 }));
        let mut names: Vec<&str> = found["cases"]
            .as_array()
            .unwrap()
            .iter()
            .map(|one| one["case"]["name"].as_str().unwrap())
            .collect();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), 2 * EACH as usize);
        // An edit that names an older version is told so, whichever tab it comes from.
        let edit = json!({ "id": 1, "version": 1, "case": invented(1000) });
        assert_eq!(opened.ask(&browser, "casebook/edit", &edit).0, 200);
        browser.go_to(&first);
        assert_eq!(opened.ask(&browser, "casebook/edit", &edit).0, 422);
    }
}

/// A tab that is closed in the midst of keeping loses nothing that it had said was kept.
#[test]
fn what_was_kept_outlives_the_tab() {
    let Some([folder, _]) = Opened::both() else {
        return;
    };
    let kills = u32::try_from(ordeal::times(5, 200)).unwrap();
    let browser = Browser::start(1440, 900);
    folder.at(&browser, "");
    let first = browser.tab();
    browser.run(
        "window.heard = []; new BroadcastChannel('kept').onmessage = ({ data }) => window.heard.push(data);",
    );
    for kill in 0..kills {
        browser.new_tab();
        folder.at(&browser, "");
        begin_to_keep(&folder, &browser, kill * 1000, 1000);
        std::thread::sleep(std::time::Duration::from_millis(u64::from(kill * 37 % 150)));
        browser.close_tab();
        browser.go_to(&first);
    }
    let heard = browser.run("return window.heard");
    let heard = heard.as_array().unwrap();
    assert!(heard.len() > kills as usize, "{} were kept", heard.len());
    let (_, carried) = folder.ask(&browser, "casebook/export", &json!({ "form": "json" }));
    let kept: Value = serde_json::from_str(carried["text"].as_str().unwrap()).unwrap();
    let names: std::collections::HashSet<&str> = kept["cases"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| one["name"].as_str().unwrap())
        .collect();
    for number in heard {
        let name = format!("Invented {number}");
        assert!(names.contains(name.as_str()), "{name} was kept and is gone");
    }
    ordeal::tell(
        "tabs closed in the midst of keeping",
        u64::from(kills),
        &format!(
            "all {} cases that were said to be kept are there",
            heard.len()
        ),
    );
    // Each can be undone: what is kept and what can be undone were written together.
    let (_, undone) = folder.ask(&browser, "casebook/undo", &json!({}));
    assert!(undone["removed"].is_string(), "{undone}");
}
