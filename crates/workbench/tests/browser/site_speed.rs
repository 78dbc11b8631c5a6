//! How soon the page without a server has its first reading, how fast it turns, and what
//! memory it takes.

#![expect(clippy::print_stdout, reason = "it tells what it measured")]

use serde_json::json;

use crate::site::Opened;
use crate::webdriver::Browser;

/// So often each is opened, by a browser that has nothing of it yet.
const OPENED: usize = 5;
const TURNS: usize = 1000;

/// Notes when the first case is answered and the parts are set.
const NOTE: &str = "new MutationObserver(() => { \
       if (document.body?.dataset.ready === 'yes') window.readyAt ??= performance.now(); \
     }).observe(document, { subtree: true, attributes: true, attributeFilter: ['data-ready'] });";

#[test]
#[ignore = "measures, and holds nothing against what it measured"]
fn how_soon_and_how_fast() {
    for opened in Opened::both().into_iter().flatten() {
        let (mut soon, mut turns, mut memory) = (Vec::new(), Vec::new(), 0);
        for _ in 0..OPENED {
            let browser = Browser::start(1440, 900);
            browser.cdp(
                "Page.addScriptToEvaluateOnNewDocument",
                json!({ "source": NOTE }),
            );
            opened.at(&browser, "");
            soon.push(browser.run("return window.readyAt").as_f64().unwrap());
            let script = format!(
                "const done = arguments[arguments.length - 1]; \
                 const case_ = {{ when: '2024-05-14 09:20', at: 'Santiago de Compostela, Galicia, Spain' }}; \
                 import('{}').then(async ({{ ask }}) => {{ \
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
                opened.module("desk-here")
            );
            let took = browser.run_async(&script);
            turns.extend(
                took.as_array()
                    .unwrap()
                    .iter()
                    .map(|one| one.as_f64().unwrap()),
            );
            memory = memory.max(browser.memory_mb());
        }
        soon.sort_by(f64::total_cmp);
        turns.sort_by(f64::total_cmp);
        let part = |hundredths: usize| turns[turns.len() * hundredths / 100];
        println!(
            "| {} | {:.0} ms | {:.0} ms | {:.2} ms | {:.2} ms | {memory} MB |",
            opened.name(),
            soon[OPENED / 2],
            soon[OPENED - 1],
            part(50),
            part(99),
        );
    }
}
