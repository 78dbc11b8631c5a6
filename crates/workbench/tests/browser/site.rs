//! The page without a server: a folder behind a plain static server, and one file opened
//! from the disk without a network. Both say what the desk says.
//!
//! `cargo xtask site` builds them; `ALMURI_SITE` says where they lie, and without it nothing
//! is tried here.

use std::io::{BufRead, BufReader, Write};
use std::net::TcpListener;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use desk::Cabinet;
use page::{Holder, Kept};
use serde_json::{Value, json};

use crate::bench::{Bench, DEMONSTRATION};
use crate::webdriver::Browser;

/// What sines differ by between the processor's library and WebAssembly's.
const LIBRARIES_DIFFER: f64 = 1e-9;

/// Where the site was built.
fn built() -> Option<PathBuf> {
    let folder = std::env::var_os("ALMURI_SITE").map(PathBuf::from)?;
    assert!(folder.join("index.html").is_file(), "{}", folder.display());
    Some(folder)
}

/// The two ways to open it.
enum Opened {
    Folder(String),
    File(String),
}

impl Opened {
    fn both() -> Option<[Opened; 2]> {
        let folder = built()?;
        let file = format!("file://{}", folder.join("almuri.html").display());
        Some([Opened::Folder(served(folder)), Opened::File(file)])
    }

    /// Opens it at a case, and waits until that is answered.
    fn at(&self, browser: &Browser, fragment: &str) {
        let address = match self {
            Opened::Folder(address) => address,
            Opened::File(address) => {
                let offline = json!({ "offline": true, "latency": 0, "downloadThroughput": 0, "uploadThroughput": 0 });
                browser.cdp("Network.enable", json!({}));
                browser.cdp("Network.emulateNetworkConditions", offline);
                address
            }
        };
        browser.go(&format!("{address}{fragment}"));
        browser.wait("return document.body.dataset.ready === 'yes'");
    }

    /// How a script within the page names the door.
    fn door(&self) -> &'static str {
        match self {
            Opened::Folder(_) => "./js/desk-here.js",
            Opened::File(_) => "almuri/desk-here.js",
        }
    }

    /// Asks the page's own desk.
    fn ask(&self, browser: &Browser, name: &str, body: &Value) -> (u64, Value) {
        let script = format!(
            "const done = arguments[arguments.length - 1]; import('{}').then(({{ ask }}) => \
             ask('/desk/{name}', {{ method: 'POST', body: JSON.stringify({body}) }})) \
             .then(async (told) => done([told.status, await told.json()]), (error) => done([0, String(error)]))",
            self.door()
        );
        let got = browser.run_async(&script);
        (got[0].as_u64().unwrap(), got[1].clone())
    }
}

/// A plain static server on a port of its own, as any host is.
fn served(folder: PathBuf) -> String {
    let listener = TcpListener::bind("127.0.0.1:0").unwrap();
    let address = format!("http://{}/", listener.local_addr().unwrap());
    let folder = Arc::new(folder);
    std::thread::spawn(move || {
        for stream in listener.incoming().map_while(Result::ok) {
            let folder = Arc::clone(&folder);
            std::thread::spawn(move || {
                let _ = answered(stream, &folder);
            });
        }
    });
    address
}

fn answered(mut stream: std::net::TcpStream, folder: &Path) -> std::io::Result<()> {
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
        _ => "application/octet-stream",
    };
    match std::fs::read(folder.join(path)) {
        Ok(bytes) => {
            let length = bytes.len();
            write!(
                stream,
                "HTTP/1.1 200 OK\r\nContent-Type: {kind}\r\nContent-Length: {length}\r\nConnection: close\r\n\r\n"
            )?;
            stream.write_all(&bytes)
        }
        Err(_) => write!(
            stream,
            "HTTP/1.1 404 Not Found\r\nContent-Length: 0\r\nConnection: close\r\n\r\n"
        ),
    }
}

/// Numbers, wherever they stand, differ by no more than the libraries do; all else is the
/// same. Says whether even the last digit is.
fn alike(one: &Value, other: &Value, at: &str) -> bool {
    match (one, other) {
        (Value::Number(a), Value::Number(b)) => {
            let (a, b) = (a.as_f64().unwrap(), b.as_f64().unwrap());
            let most = LIBRARIES_DIFFER * a.abs().max(1.0);
            assert!((a - b).abs() <= most, "{at}: {a} and {b}");
            a.to_bits() == b.to_bits()
        }
        (Value::Array(a), Value::Array(b)) => {
            assert_eq!(a.len(), b.len(), "{at}");
            let each = a.iter().zip(b).enumerate();
            each.fold(true, |same, (n, (a, b))| {
                alike(a, b, &format!("{at}/{n}")) && same
            })
        }
        (Value::Object(a), Value::Object(b)) => {
            let names = |object: &serde_json::Map<String, Value>| {
                object.keys().cloned().collect::<Vec<_>>()
            };
            assert_eq!(names(a), names(b), "{at}");
            a.iter().fold(true, |same, (name, a)| {
                alike(a, &b[name], &format!("{at}/{name}")) && same
            })
        }
        _ => {
            assert_eq!(one, other, "{at}");
            true
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
                5 | 6 => ("figure", json!({ "cast": case })),
                7 => ("work", json!({ "operation": "day-and-night", "moment": case })),
                8 => ("suggest", json!({ "text": TYPED[n as usize / 10 % 4] })),
                _ => ("front", json!({ "with": { "named": WITH[n as usize / 10 % 5] }, "plate_latitude_deg": 42.0 })),
            }
        })
        .collect()
}

#[test]
fn three_hundred_questions_are_answered_alike_by_both_doors() {
    let Some(opened) = Opened::both() else { return };
    let here = Here(Arc::new(Cabinet::built_in()));
    let mut good = 0;
    let expected: Vec<(u64, Value)> = questions()
        .iter()
        .map(|(name, body)| {
            let question = page::question(name).unwrap();
            match question.answer(
                body.to_string().as_bytes(),
                &here,
                patience::Patience::ENDLESS,
            ) {
                Ok(answer) => (200, serde_json::from_slice(&answer.bytes).unwrap()),
                Err(fault) => (422, fault.told()),
            }
        })
        .inspect(|(status, _)| good += usize::from(*status == 200))
        .collect();
    assert!(good > 200, "{good} are answered");
    for opened in opened {
        let browser = Browser::start(1440, 900);
        opened.at(&browser, "");
        for ((name, body), (status, answer)) in questions().iter().zip(&expected) {
            let (got, told) = opened.ask(&browser, name, body);
            assert_eq!(got, *status, "{name} {body}: {told}, and {answer}");
            alike(&told, answer, &format!("{name} {body}"));
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
    book.keep_all((0..500).map(case).collect()).unwrap();
    let mut text = Vec::new();
    casebook::write_json(&book, &mut text).unwrap();
    let text = String::from_utf8(text).unwrap();
    for opened in opened {
        let browser = Browser::start(1440, 900);
        opened.at(&browser, "");
        let ask =
            |what: &str, body: Value| opened.ask(&browser, &format!("casebook/{what}"), &body);
        let (_, brought) = ask("import", json!({ "form": "json", "text": text }));
        assert_eq!(brought["kept"], 500, "{brought}");
        let (_, carried) = ask("export", json!({ "form": "json" }));
        assert!(
            carried["text"] == text,
            "what comes back is what was brought"
        );
        // An edit names the version it began from; it is undone; a deletion is for good.
        let edited = json!({ "id": 7, "version": 1, "case": case(1000) });
        assert_eq!(ask("edit", edited.clone()).0, 200);
        let (status, refused) = ask("edit", edited);
        assert_eq!(status, 422);
        assert!(
            refused["message"]
                .as_str()
                .unwrap()
                .contains("changed meanwhile")
        );
        let (_, found) = ask("find", json!({ "words": "invented 1000" }));
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
        assert_eq!(ask("find", json!({})).1["total"], 499);
        // It is there when the page is opened again.
        opened.at(&browser, "#when=2000-01-01+12%3A00&at=0%2C0&clock=mean");
        browser.go("about:blank");
        opened.at(&browser, "");
        assert_eq!(ask("find", json!({ "words": "pupil" })).1["total"], 499);
    }
}
