//! The page without a server in Firefox, where that is there: another engine has to read
//! what Chromium reads.

use std::io::{Read, Write};
use std::net::{TcpListener, TcpStream};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use serde_json::{Value, json};
use tempfile::TempDir;

use crate::bench::{DEMONSTRATION, cast};
use crate::site::Opened;

/// How long it may take to begin, and for anything that is waited for.
const PATIENCE: Duration = Duration::from_secs(120);

/// By this key the protocol names elements.
const ELEMENT: &str = "element-6066-11e4-a52e-4f735466cecf";

/// A Firefox without a window, led by its own protocol (Marionette): a message is its
/// length, a colon, and JSON.
struct Firefox {
    program: Child,
    stream: TcpStream,
    next: u32,
    /// Its profile, which goes away with it.
    _profile: TempDir,
}

impl Firefox {
    /// None where there is no Firefox.
    fn start() -> Option<Firefox> {
        let profile = tempfile::tempdir().unwrap();
        let free = TcpListener::bind("127.0.0.1:0").unwrap();
        let port = free.local_addr().unwrap().port();
        drop(free);
        let settings = format!("user_pref(\"marionette.port\", {port});\n");
        std::fs::write(profile.path().join("user.js"), settings).unwrap();
        let mut program = ["firefox", "firefox-esr"].iter().find_map(|name| {
            Command::new(name)
                .args(["--headless", "--marionette", "--no-remote", "--profile"])
                .arg(profile.path())
                // Within a container there is none to be had.
                .env("MOZ_DISABLE_CONTENT_SANDBOX", "1")
                .stdout(Stdio::null())
                .stderr(Stdio::null())
                .spawn()
                .ok()
        })?;
        let begun = Instant::now();
        let stream = loop {
            if let Ok(stream) = TcpStream::connect(("127.0.0.1", port)) {
                break stream;
            }
            if begun.elapsed() > PATIENCE {
                let _ = program.kill();
                panic!("Firefox does not begin to listen");
            }
            std::thread::sleep(Duration::from_millis(100));
        };
        let mut firefox = Firefox {
            program,
            stream,
            next: 0,
            _profile: profile,
        };
        // It says first who it is.
        firefox.read();
        firefox.call("WebDriver:NewSession", &json!({}));
        Some(firefox)
    }

    fn read(&mut self) -> Value {
        let mut length = 0;
        loop {
            let mut byte = [0];
            self.stream.read_exact(&mut byte).unwrap();
            match byte[0] {
                b':' => break,
                digit => length = length * 10 + usize::from(digit - b'0'),
            }
        }
        let mut bytes = vec![0; length];
        self.stream.read_exact(&mut bytes).unwrap();
        serde_json::from_slice(&bytes).unwrap()
    }

    fn call(&mut self, name: &str, parameters: &Value) -> Value {
        self.next += 1;
        let message = json!([0, self.next, name, parameters]).to_string();
        write!(self.stream, "{}:{message}", message.len()).unwrap();
        let answer = self.read();
        assert!(answer[2].is_null(), "{name} {parameters}: {}", answer[2]);
        answer[3].clone()
    }

    fn run(&mut self, script: &str) -> Value {
        let parameters = json!({ "script": script, "args": [] });
        self.call("WebDriver:ExecuteScript", &parameters)["value"].clone()
    }

    fn wait(&mut self, script: &str) -> Value {
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
            std::thread::sleep(Duration::from_millis(50));
        }
    }

    fn keys(&mut self, selector: &str, text: &str) {
        let found = self.call(
            "WebDriver:FindElement",
            &json!({ "using": "css selector", "value": selector }),
        );
        let id = found["value"][ELEMENT].clone();
        self.call(
            "WebDriver:ElementSendKeys",
            &json!({ "id": id, "text": text }),
        );
    }
}

impl Drop for Firefox {
    fn drop(&mut self) {
        let _ = self.program.kill();
        let _ = self.program.wait();
    }
}

#[test]
fn firefox_opens_it_casts_and_turns() {
    for opened in Opened::both().into_iter().flatten() {
        let Some(mut firefox) = Firefox::start() else {
            ordeal::tell("the page in Firefox", 0, "not tried: there is none here");
            return;
        };
        firefox.call("WebDriver:Navigate", &json!({ "url": opened.address() }));
        firefox.wait("return document.body.dataset.ready === 'yes'");
        let set = cast(&DEMONSTRATION).set.unwrap();
        let facts = firefox.run(
            "return [...document.querySelectorAll('.set-facts strong')].map((one) => one.textContent)",
        );
        assert_eq!(facts, json!([set.plate, set.degree_or_date, set.hour]));
        let live = "return document.querySelector('#live').textContent";
        let before = firefox.run(live);
        firefox.keys("#hand-rete", "\u{e014}");
        firefox.wait(&format!(
            "return document.querySelector('#live').textContent !== {before}"
        ));
    }
}
