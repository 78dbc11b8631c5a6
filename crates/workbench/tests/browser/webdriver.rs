//! As much of the WebDriver protocol as the tests need, over the loopback address.

use std::collections::HashMap;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use serde_json::{Value, json};

/// How long a page may take for anything that is waited for.
const PATIENCE: Duration = Duration::from_secs(15);

/// How long a script may take that says itself when it is done.
const SLOWEST_SCRIPT: Duration = Duration::from_secs(300);

const INSTALL: &str = "`cargo xtask setup` installs Chromium and its driver";

/// A browser without a window, and the driver that leads it. Both end with it.
pub(crate) struct Browser {
    driver: Child,
    port: u16,
    session: String,
}

/// A tab of the window.
pub(crate) struct Tab(String);

/// An element of the page.
#[derive(Clone, Debug)]
pub(crate) struct Element(String);

/// Memory in use, in thousands of bytes of 1024.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Memory {
    /// Of the process that draws the page, the largest that does.
    pub(crate) resident_kb: u64,
    /// How much of that is the browser's own program and its libraries, which all its
    /// processes share.
    pub(crate) program_kb: u64,
    /// Of all processes of the browser without its program, what several share counted once.
    pub(crate) all_kb: u64,
}

/// By this key the protocol names elements.
const ELEMENT: &str = "element-6066-11e4-a52e-4f735466cecf";

impl Browser {
    /// Starts a driver on a port of its choice. It takes the same number for either kind
    /// of address, and gives up where another program has one of them: then another
    /// number is tried.
    fn driver() -> (Child, u16) {
        const TRIES: u32 = 5;
        for _ in 0..TRIES {
            let mut driver = Command::new("chromedriver")
                .arg("--port=0")
                .stdout(Stdio::piped())
                .stderr(Stdio::null())
                .spawn()
                .unwrap_or_else(|error| panic!("chromedriver does not start ({error}): {INSTALL}"));
            let lines = BufReader::new(driver.stdout.take().unwrap()).lines();
            let port = lines.map_while(Result::ok).find_map(|line| {
                let (_, port) = line.split_once("started successfully on port ")?;
                port.trim_end_matches('.').parse().ok()
            });
            if let Some(port) = port {
                return (driver, port);
            }
            let _ = driver.wait();
        }
        panic!("chromedriver found no port in {TRIES} tries");
    }

    /// Starts one with a window of this size.
    pub(crate) fn start(width: u32, height: u32) -> Browser {
        Browser::started(width, height, &[])
    }

    /// The same whose window is a private one.
    pub(crate) fn start_private(width: u32, height: u32) -> Browser {
        Browser::started(width, height, &["--incognito"])
    }

    fn started(width: u32, height: u32, further: &[&str]) -> Browser {
        let (driver, port) = Browser::driver();
        let mut browser = Browser {
            driver,
            port,
            session: String::new(),
        };
        let size = format!("--window-size={width},{height}");
        let mut arguments = vec![
            "--headless=new",
            "--no-sandbox",
            "--disable-gpu",
            "--disable-dev-shm-usage",
            "--hide-scrollbars",
            "--force-prefers-reduced-motion",
            &size,
        ];
        arguments.extend(further);
        let wanted = json!({ "capabilities": { "alwaysMatch": {
            "browserName": "chrome",
            "timeouts": { "script": SLOWEST_SCRIPT.as_millis() },
            "goog:loggingPrefs": { "browser": "ALL" },
            "goog:chromeOptions": { "args": arguments },
        }}});
        let got = browser.call("POST", "/session", &wanted);
        browser.session = got["sessionId"]
            .as_str()
            .unwrap_or_else(|| panic!("no browser ({got}): {INSTALL}"))
            .to_owned();
        // The window's edges are not the page's: the page is to have this size.
        browser.cdp(
            "Emulation.setDeviceMetricsOverride",
            json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": false }),
        );
        browser
    }

    /// Opens another tab of the same window; what is done then is done there.
    pub(crate) fn new_tab(&self) -> Tab {
        let got = self.command("POST", "window/new", &json!({ "type": "tab" }));
        let tab = Tab(got["handle"].as_str().unwrap().to_owned());
        self.go_to(&tab);
        tab
    }

    /// The tab in which things are done.
    pub(crate) fn tab(&self) -> Tab {
        let got = self.command("GET", "window", &Value::Null);
        Tab(got.as_str().unwrap().to_owned())
    }

    pub(crate) fn go_to(&self, Tab(handle): &Tab) {
        self.command("POST", "window", &json!({ "handle": handle }));
    }

    /// Closes the tab in which things are done, in the midst of whatever it does.
    pub(crate) fn close_tab(&self) {
        self.command("DELETE", "window", &Value::Null);
    }

    pub(crate) fn go(&self, address: &str) {
        self.command("POST", "url", &json!({ "url": address }));
    }

    /// Runs a script that returns a value.
    pub(crate) fn run(&self, script: &str) -> Value {
        self.run_with(script, &json!([]))
    }

    pub(crate) fn run_with(&self, script: &str, arguments: &Value) -> Value {
        self.command(
            "POST",
            "execute/sync",
            &json!({ "script": script, "args": arguments }),
        )
    }

    /// Runs a script that calls its last argument when it is done.
    pub(crate) fn run_async(&self, script: &str) -> Value {
        self.command(
            "POST",
            "execute/async",
            &json!({ "script": script, "args": [] }),
        )
    }

    /// Waits until a script returns something true.
    pub(crate) fn wait(&self, script: &str) -> Value {
        let begun = Instant::now();
        loop {
            let got = self.run(script);
            if !matches!(got, Value::Null | Value::Bool(false)) {
                return got;
            }
            assert!(
                begun.elapsed() < PATIENCE,
                "waited in vain for: {script}\nthe page says: {}",
                self.run("return document.body.innerText")
            );
            std::thread::sleep(Duration::from_millis(25));
        }
    }

    /// The one element of a selector.
    pub(crate) fn find(&self, selector: &str) -> Element {
        let got = self.command(
            "POST",
            "element",
            &json!({ "using": "css selector", "value": selector }),
        );
        let id = got[ELEMENT].as_str();
        Element(
            id.unwrap_or_else(|| panic!("no {selector}: {got}"))
                .to_owned(),
        )
    }

    pub(crate) fn click(&self, selector: &str) {
        let Element(id) = self.find(selector);
        self.command("POST", &format!("element/{id}/click"), &json!({}));
    }

    /// Types into a field, in place of what is there; `\u{e007}` is Enter.
    pub(crate) fn write(&self, selector: &str, text: &str) {
        let Element(id) = self.find(selector);
        self.run_with(
            "document.querySelector(arguments[0]).select()",
            &json!([selector]),
        );
        self.command(
            "POST",
            &format!("element/{id}/value"),
            &json!({ "text": text }),
        );
    }

    /// Sends keys to a field as they are.
    pub(crate) fn keys(&self, selector: &str, text: &str) {
        let Element(id) = self.find(selector);
        self.command(
            "POST",
            &format!("element/{id}/value"),
            &json!({ "text": text }),
        );
    }

    pub(crate) fn choose(&self, select: &str, value: &str) {
        self.run_with(
            "const [at, value] = arguments; const one = document.querySelector(at); \
             one.value = value; one.dispatchEvent(new Event('change', { bubbles: true }));",
            &json!([select, value]),
        );
    }

    pub(crate) fn text(&self, selector: &str) -> String {
        let Element(id) = self.find(selector);
        let got = self.command("GET", &format!("element/{id}/text"), &Value::Null);
        got.as_str().unwrap_or_default().to_owned()
    }

    /// Drags with the mouse through these places of the window.
    pub(crate) fn drag(&self, path: &[(f64, f64)]) {
        let mut actions = Vec::new();
        for (index, (x, y)) in path.iter().enumerate() {
            actions.push(
                json!({ "type": "pointerMove", "duration": 20, "x": x.round(), "y": y.round() }),
            );
            if index == 0 {
                actions.push(json!({ "type": "pointerDown", "button": 0 }));
            }
        }
        actions.push(json!({ "type": "pointerUp", "button": 0 }));
        let mouse = json!({ "type": "pointer", "id": "mouse", "parameters": { "pointerType": "mouse" }, "actions": actions });
        self.command("POST", "actions", &json!({ "actions": [mouse] }));
    }

    /// Presses a key, wherever the focus is.
    pub(crate) fn press(&self, key: &str) {
        let actions = ["keyDown", "keyUp"].map(|what| json!({ "type": what, "value": key }));
        let keys = json!({ "type": "key", "id": "keys", "actions": actions });
        self.command("POST", "actions", &json!({ "actions": [keys] }));
    }

    /// Turns the wheel at a place of the window.
    pub(crate) fn wheel(&self, (x, y): (f64, f64), by: i32) {
        #[expect(clippy::cast_possible_truncation, reason = "no window is that wide")]
        let (x, y) = (x.round() as i32, y.round() as i32);
        let scroll = json!({ "type": "scroll", "x": x, "y": y, "deltaX": 0, "deltaY": by, "duration": 0, "origin": "viewport" });
        let wheel = json!({ "type": "wheel", "id": "wheel", "actions": [scroll] });
        self.command("POST", "actions", &json!({ "actions": [wheel] }));
    }

    /// A command of the browser's own protocol.
    pub(crate) fn cdp(&self, name: &str, parameters: Value) -> Value {
        self.command(
            "POST",
            "goog/cdp/execute",
            &json!({ "cmd": name, "params": parameters }),
        )
    }

    /// What memory it takes, as Linux counts it.
    pub(crate) fn memory(&self) -> Memory {
        let number = |text: &str, key: &str| -> Option<u64> {
            let rest = text.lines().find_map(|line| line.strip_prefix(key))?;
            rest.split_whitespace().next()?.parse().ok()
        };
        let mut parents = HashMap::new();
        let mut sizes = HashMap::new();
        for entry in std::fs::read_dir("/proc").unwrap().map_while(Result::ok) {
            let Some(id) = entry
                .file_name()
                .to_str()
                .and_then(|name| name.parse::<u64>().ok())
            else {
                continue;
            };
            let text = |name| std::fs::read_to_string(entry.path().join(name)).unwrap_or_default();
            let status = text("status");
            let of = |key| number(&status, key).unwrap_or(0);
            let shares = text("smaps_rollup");
            let own = |key| number(&shares, key).unwrap_or(0);
            parents.insert(id, of("PPid:"));
            let page = Memory {
                resident_kb: of("VmRSS:"),
                program_kb: of("RssFile:"),
                all_kb: own("Pss_Anon:") + own("Pss_Shmem:"),
            };
            // The browser's own bars and menus are pages too.
            let words = text("cmdline");
            let draws = words.contains("--type=renderer") && !words.contains("--top-chrome");
            sizes.insert(id, (draws, page));
        }
        let own = u64::from(self.driver.id());
        let is_own = |id: u64| {
            std::iter::successors(Some(id), |id| parents.get(id).copied().filter(|id| *id > 1))
                .any(|id| id == own)
        };
        sizes.retain(|id, _| is_own(*id) && *id != own);
        let all_kb = sizes.values().map(|(_, memory)| memory.all_kb).sum();
        let pages = sizes.into_values().filter(|(draws, _)| *draws);
        let largest = pages.map(|(_, memory)| memory);
        let largest = largest.max_by_key(|memory| memory.resident_kb).unwrap();
        Memory { all_kb, ..largest }
    }

    /// The window as a JPEG, in base64.
    pub(crate) fn picture(&self, quality: u8) -> String {
        let got = self.cdp(
            "Page.captureScreenshot",
            json!({ "format": "jpeg", "quality": quality }),
        );
        got["data"].as_str().unwrap_or_default().to_owned()
    }

    /// What the page has complained of since it was last asked.
    pub(crate) fn complaints(&self) -> Vec<String> {
        let got = self.command("POST", "se/log", &json!({ "type": "browser" }));
        let entries = got.as_array().cloned().unwrap_or_default();
        entries
            .iter()
            .filter(|entry| entry["level"] != "INFO" && entry["level"] != "DEBUG")
            .map(|entry| entry["message"].to_string())
            .collect()
    }

    fn command(&self, method: &str, path: &str, body: &Value) -> Value {
        self.call(method, &format!("/session/{}/{path}", self.session), body)
    }

    fn call(&self, method: &str, path: &str, body: &Value) -> Value {
        let body = if method == "POST" {
            body.to_string()
        } else {
            String::new()
        };
        let mut stream = TcpStream::connect(("127.0.0.1", self.port)).unwrap();
        write!(
            stream,
            "{method} {path} HTTP/1.1\r\nHost: 127.0.0.1\r\nConnection: close\r\n\
             Content-Type: application/json\r\nContent-Length: {}\r\n\r\n{body}",
            body.len()
        )
        .unwrap();
        let mut reader = BufReader::new(stream);
        let mut length = 0;
        loop {
            let mut line = String::new();
            reader.read_line(&mut line).unwrap();
            if line.trim().is_empty() {
                break;
            }
            if let Some((name, value)) = line.split_once(':')
                && name.eq_ignore_ascii_case("content-length")
            {
                length = value.trim().parse().unwrap();
            }
        }
        let mut answer = vec![0; length];
        reader.read_exact(&mut answer).unwrap();
        let answer: Value = serde_json::from_slice(&answer).unwrap();
        let value = &answer["value"];
        assert!(
            value["error"].is_null(),
            "{method} {path} {body}: {}",
            value["message"]
        );
        value.clone()
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        if !self.session.is_empty() && !std::thread::panicking() {
            self.call(
                "DELETE",
                &format!("/session/{}", self.session),
                &Value::Null,
            );
        }
        // Without its driver the browser ends as well.
        let _ = self.driver.kill();
        let _ = self.driver.wait();
    }
}
