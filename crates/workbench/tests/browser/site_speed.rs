//! How soon the page has its first reading, how fast its desk answers a turn, and what memory
//! it takes: without a server beside with one.
//!
//! `ALMURI_SITE=target/site cargo test --release --test browser site_speed -- --ignored
//! --nocapture`, on a machine that does nothing else.

#![expect(clippy::print_stdout, reason = "it tells what it measured")]

use std::time::Duration;

use serde_json::json;

use crate::bench::Bench;
use crate::site::Opened;
use crate::webdriver::{Browser, Memory};

/// So often each is opened, by a browser that has nothing of it yet.
const OPENED: usize = 5;
const TURNS: usize = 1000;

/// By then the page has done what it leaves for later.
const REST: Duration = Duration::from_secs(8);

/// Notes when the first case is answered and the parts are set.
const NOTE: &str = "new MutationObserver(() => { \
       if (document.body?.dataset.ready === 'yes') window.readyAt ??= performance.now(); \
     }).observe(document, { subtree: true, attributes: true, attributeFilter: ['data-ready'] });";

/// A door to the desk: how its page is opened, and how a script on it asks.
struct Door {
    name: &'static str,
    opened: Option<Opened>,
}

impl Door {
    fn all() -> Vec<Door> {
        let mut doors = vec![Door {
            name: "the server",
            opened: None,
        }];
        doors.extend(Opened::both().into_iter().flatten().map(|opened| Door {
            name: opened.name(),
            opened: Some(opened),
        }));
        doors
    }

    /// The page in a browser that has nothing of it yet, once its first case is answered.
    fn page(&self) -> Page {
        let noted = |browser: &Browser| {
            browser.cdp(
                "Page.addScriptToEvaluateOnNewDocument",
                json!({ "source": NOTE }),
            );
        };
        match &self.opened {
            None => Page::Served(Bench::noted(1440, 900, noted)),
            Some(opened) => {
                let browser = Browser::start(1440, 900);
                noted(&browser);
                opened.at(&browser, "");
                Page::Here(browser)
            }
        }
    }

    /// A function that asks the desk.
    fn ask(&self) -> String {
        match &self.opened {
            None => "Promise.resolve((path, how) => fetch(path, { ...how, headers: { 'content-type': 'application/json' } }))".to_owned(),
            Some(opened) => format!("import('{}').then(({{ ask }}) => ask)", opened.module("desk-here")),
        }
    }
}

enum Page {
    Served(Bench),
    Here(Browser),
}

impl Page {
    fn browser(&self) -> &Browser {
        match self {
            Page::Served(bench) => &bench.browser,
            Page::Here(browser) => browser,
        }
    }
}

#[test]
#[ignore = "measures, and holds nothing against what it measured"]
fn how_soon_and_how_fast() {
    let empty = Browser::start(1440, 900);
    empty.go("data:text/html,<title>empty</title>");
    let without = at_rest(&empty);
    drop(empty);
    println!("an empty page: {}", told(without, without));
    for door in Door::all() {
        let (mut soon, mut turns, mut memories) = (Vec::new(), Vec::new(), Vec::new());
        for _ in 0..OPENED {
            let page = door.page();
            let browser = page.browser();
            soon.push(browser.run("return window.readyAt").as_f64().unwrap());
            let script = format!(
                "const done = arguments[arguments.length - 1]; \
                 const case_ = {{ when: '2024-05-14 09:20', at: 'Santiago de Compostela, Galicia, Spain' }}; \
                 {}.then(async (ask) => {{ \
                   const took = []; \
                   for (let n = 0; n < {TURNS}; n += 1) {{ \
                     const body = JSON.stringify({{ case: case_, pointer: null, state: {{ plate_latitude_deg: 42, rete_deg: n * 0.37, rule_deg: n * 0.21, alidade_deg: 0 }} }}); \
                     const begun = performance.now(); \
                     const told = await ask('/desk/turn', {{ method: 'POST', body }}); \
                     await told.json(); \
                     took.push(performance.now() - begun); \
                   }} \
                   done(took); \
                 }});",
                door.ask()
            );
            let took: Vec<f64> = serde_json::from_value(browser.run_async(&script)).unwrap();
            turns.extend(took);
            memories.push((browser.memory(), at_rest(browser)));
        }
        soon.sort_by(f64::total_cmp);
        turns.sort_by(f64::total_cmp);
        let part = |hundredths: usize| turns[turns.len() * hundredths / 100];
        println!(
            "| {} | {:.0} ms | {:.0} ms | {:.2} ms | {:.2} ms |",
            door.name,
            soon[OPENED / 2],
            soon[OPENED - 1],
            part(50),
            part(99),
        );
        let largest = |memories: Vec<Memory>| {
            let largest = memories.into_iter().max_by_key(|memory| memory.resident_kb);
            told(largest.unwrap(), without)
        };
        let (turned, rested) = memories.into_iter().unzip();
        println!("{}, turned: {}", door.name, largest(turned));
        println!("{}, at rest: {}", door.name, largest(rested));
    }
}

/// What it takes some seconds later, when what can wait is done too.
fn at_rest(browser: &Browser) -> Memory {
    std::thread::sleep(REST);
    browser.memory()
}

/// A row of the table.
fn told(memory: Memory, without: Memory) -> String {
    let mb = |kb: u64| kb / 1024;
    format!(
        "{} MB resident, {} MB of it the browser's program, {} MB without; all processes together take {} MB more than with an empty page, without the program",
        mb(memory.resident_kb),
        mb(memory.program_kb),
        mb(memory.resident_kb - memory.program_kb),
        mb(memory.all_kb.saturating_sub(without.all_kb)),
    )
}
