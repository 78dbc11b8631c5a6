//! A workbench under test: the server on a port of its own, and a browser at it.

use std::path::{Path, PathBuf};

use casebook::CabinetFolder;
use desk::{Cabinet, CastAnswer, CastRequest, WithInstrument};
use serde_json::{Value, json};
use tempfile::TempDir;
use workbench::{Book, Desk, Nowhere, Shelf};

use crate::webdriver::Browser;

/// The demonstration's own case.
pub(crate) const DEMONSTRATION: [(&str, &str); 3] = [
    ("when", "2024-05-14 09:20"),
    ("at", "Santiago de Compostela, Galicia, Spain"),
    ("with", "class instrument"),
];

pub(crate) struct Bench {
    pub(crate) browser: Browser,
    /// The address that opens its page.
    page: String,
    /// Where its casebook and its cabinet lie; it goes away with the bench.
    folder: TempDir,
}

impl Bench {
    /// Opens the workbench with nothing in the address.
    pub(crate) fn open(width: u32, height: u32) -> Bench {
        Bench::at(width, height, &[])
    }

    /// Opens it at a case; the first walk is not begun.
    pub(crate) fn at(width: u32, height: u32, case: &[(&str, &str)]) -> Bench {
        let bench = Bench::unopened(width, height);
        bench.go(case);
        bench
    }

    /// Opens it with nothing in the address, once the browser was told something.
    pub(crate) fn noted(width: u32, height: u32, tell: impl FnOnce(&Browser)) -> Bench {
        let bench = Bench::unopened(width, height);
        tell(&bench.browser);
        bench.go(&[]);
        bench
    }

    fn unopened(width: u32, height: u32) -> Bench {
        let folder = tempfile::tempdir().unwrap();
        let page = serve(folder.path());
        let browser = Browser::start(width, height);
        Bench {
            browser,
            page,
            folder,
        }
    }

    /// The same after the program was started anew.
    pub(crate) fn restarted(self, case: &[(&str, &str)]) -> Bench {
        let page = serve(self.folder.path());
        let bench = Bench { page, ..self };
        bench.go(case);
        bench
    }

    /// Where its own instruments lie.
    pub(crate) fn cabinet(&self) -> PathBuf {
        self.folder.path().join("cabinet")
    }

    /// Goes to a case and waits until it is answered and the parts are set.
    pub(crate) fn go(&self, case: &[(&str, &str)]) {
        let fragment: Vec<String> = case
            .iter()
            .map(|(name, value)| format!("{name}={}", value.replace(' ', "+").replace(',', "%2C")))
            .collect();
        // A new fragment alone would not load the page anew.
        self.browser.go("about:blank");
        let fragment = fragment.join("&");
        self.browser.go(&format!("{}#{fragment}", self.page));
        self.settled();
    }

    /// Waits until the page has an answer and the newest position has been read.
    pub(crate) fn settled(&self) {
        self.browser
            .wait("return document.body.dataset.ready === 'yes'");
        self.browser.wait(
            "const live = document.querySelector('#live'); return live && live.dataset.busy !== 'yes'",
        );
    }

    /// The number of answers so far, to wait for the next one.
    pub(crate) fn answers(&self) -> i64 {
        self.browser
            .run("return Number(document.body.dataset.answers ?? 0)")
            .as_i64()
            .unwrap()
    }

    /// Does something that asks the desk, and waits for what it says.
    pub(crate) fn asking(&self, act: impl FnOnce(&Browser)) {
        let before = self.answers();
        act(&self.browser);
        self.browser.wait(&format!(
            "return Number(document.body.dataset.answers ?? 0) > {before}"
        ));
        self.settled();
    }

    /// How the parts stand, to the last digit.
    pub(crate) fn state(&self) -> (f64, f64) {
        let got = self.browser.run(
            "const { rete, rule } = document.querySelector('#stage').dataset; \
             return [Number(rete), Number(rule)]",
        );
        (got[0].as_f64().unwrap(), got[1].as_f64().unwrap())
    }

    /// The box of an element in the window: left, top, width, height.
    pub(crate) fn area(&self, selector: &str) -> [f64; 4] {
        let got = self.browser.run_with(
            "const box = document.querySelector(arguments[0]).getBoundingClientRect(); \
             return [box.left, box.top, box.width, box.height]",
            &json!([selector]),
        );
        [0, 1, 2, 3].map(|index| got[index].as_f64().unwrap())
    }

    /// Nothing on the page is seriously hard to use for anyone, by axe-core.
    pub(crate) fn is_accessible(&self, state: &str) {
        let axe =
            Path::new(env!("CARGO_MANIFEST_DIR")).join("page/node_modules/axe-core/axe.min.js");
        let script = std::fs::read_to_string(&axe).unwrap_or_else(|error| {
            panic!("axe-core is not here ({error}): run `npm ci` in crates/workbench/page")
        });
        self.browser.run(&script);
        let found = self.browser.run_async(
            "const done = arguments[arguments.length - 1]; \
             axe.run(document, { resultTypes: ['violations'] }).then(({ violations }) => done( \
                 violations.filter(({ impact }) => impact === 'serious' || impact === 'critical') \
                     .map(({ id, help, nodes }) => `${id}: ${help}: ` + nodes.slice(0, 3).map(({ target, failureSummary }) => `${target} ${failureSummary}`).join('; '))), \
                 (error) => done([String(error)]))",
        );
        assert_eq!(found, json!([]), "{state}");
    }

    /// No complaint in the console, and nothing asked of any other address.
    pub(crate) fn is_clean(&self) {
        assert_eq!(self.browser.complaints(), Vec::<String>::new());
        let foreign = self.browser.run(
            "return performance.getEntriesByType('resource').map(({ name }) => name) \
                 .filter((name) => !name.startsWith(location.origin + '/'))",
        );
        assert_eq!(foreign, json!([]));
    }
}

/// Serves a workbench until the tests end.
fn serve(folder: &Path) -> String {
    let (tell, told) = std::sync::mpsc::channel();
    let book = Book::at(Ok(folder.join("casebook.sqlite")));
    let cabinet = CabinetFolder::at(folder.join("cabinet"));
    std::thread::spawn(move || {
        let shelf = Shelf::of(Ok(cabinet), || None);
        let desk = Desk::new(shelf, Nowhere::default(), book);
        workbench::run(desk, Some(0), |address, session| {
            tell.send(session.page(address)).unwrap();
        })
        .unwrap();
    });
    told.recv().unwrap()
}

/// What the desk itself says of a case.
pub(crate) fn cast(case: &[(&str, &str)]) -> CastAnswer {
    desk::cast(&request(case), &Cabinet::built_in(), None).unwrap()
}

/// A case as the desk is asked.
pub(crate) fn request(case: &[(&str, &str)]) -> CastRequest {
    let of = |name: &str| {
        let found = case.iter().find(|(key, _)| *key == name);
        found.map(|(_, value)| (*value).to_owned())
    };
    CastRequest {
        when: of("when").unwrap(),
        at: of("at").unwrap(),
        with: of("with").map(WithInstrument::Named),
        which: of("which"),
        by: of("by"),
        sun: of("sun"),
        ..CastRequest::default()
    }
}

/// A value's text.
pub(crate) fn texts(value: &Value) -> Vec<String> {
    let all = value.as_array().cloned().unwrap_or_default();
    all.iter()
        .map(|one| one.as_str().unwrap_or_default().to_owned())
        .collect()
}
