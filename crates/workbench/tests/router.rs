//! The server as a router, asked without a socket.

#![expect(clippy::unwrap_used, reason = "helpers of tests break off as tests do")]

mod asked;

use asked::{PORT, answer, get, json_of, post, session};
use axum::Router;
use axum::body::{Body, to_bytes};
use axum::http::{Request, StatusCode};
use casebook::{CabinetFolder, Casebook};
use desk::Cabinet;
use serde_json::{Value, json};
use tower::ServiceExt;
use workbench::{Book, Desk, Nowhere, Session, Shelf, app};

/// The demonstration.
fn case() -> Value {
    json!({ "when": "2024-05-14 09:20", "at": "42.8806,-8.5449", "zone": "Europe/Madrid" })
}

/// What is served with a casebook and the cabinet that comes with the program.
fn served_with(book: Book) -> Router {
    let desk = Desk::new(Cabinet::built_in(), Nowhere::default(), book);
    app(desk, PORT, session())
}

#[tokio::test]
async fn the_page_and_all_it_names_are_served_with_the_policy() {
    let response = answer(get("/").body(Body::empty()).unwrap()).await;
    assert_eq!(response.status(), StatusCode::OK);
    let policy = response.headers()["content-security-policy"]
        .to_str()
        .unwrap()
        .to_owned();
    assert!(
        policy.contains("default-src 'none'") && !policy.contains("unsafe"),
        "{policy}"
    );
    let page = to_bytes(response.into_body(), 1 << 20).await.unwrap();
    let page = String::from_utf8(page.to_vec()).unwrap();
    let mut wanted: Vec<String> = named(&page, "src=\"")
        .chain(named(&page, "href=\"/"))
        .collect();
    let mut seen = Vec::new();
    while let Some(path) = wanted.pop() {
        let path = format!("/{}", path.trim_start_matches('/'));
        if seen.contains(&path) {
            continue;
        }
        let response = answer(get(&path).body(Body::empty()).unwrap()).await;
        assert_eq!(response.status(), StatusCode::OK, "{path}");
        assert_eq!(response.headers()["x-content-type-options"], "nosniff");
        let bytes = to_bytes(response.into_body(), 1 << 20).await.unwrap();
        if path.ends_with(".js") {
            let text = String::from_utf8(bytes.to_vec()).unwrap();
            let imported = named(&text, "from \"./").chain(named(&text, "import(\"./"));
            // Types are for whoever checks the modules, not for the browser.
            let modules = imported.filter(|name| name != "types.js" && name != "answers.js");
            wanted.extend(modules.map(|name| format!("js/{name}")));
        } else if path.ends_with(".css") {
            let text = String::from_utf8(bytes.to_vec()).unwrap();
            wanted.extend(named(&text, "url(\""));
        }
        seen.push(path);
    }
    // And no module lies about that nobody asks for.
    for folder in ["js", "style", "fonts"] {
        for entry in std::fs::read_dir(format!("page/{folder}")).unwrap() {
            let name = entry.unwrap().file_name().into_string().unwrap();
            let path = format!("/{folder}/{name}");
            // The desk's own worker is for a page that holds the desk itself.
            let aside =
                name.ends_with(".d.ts") || name.ends_with(".txt") || name == "desk-worker.js";
            assert!(aside || seen.contains(&path), "{path} is not used");
        }
    }
}

/// What stands in quotes after each occurrence of a beginning.
fn named(text: &str, beginning: &str) -> impl Iterator<Item = String> {
    text.split(beginning)
        .skip(1)
        .filter_map(|rest| rest.split('"').next())
        .map(str::to_owned)
        .collect::<Vec<_>>()
        .into_iter()
}

#[tokio::test]
async fn the_desk_answers_through_the_server_as_it_does_by_itself() {
    let cabinet = Cabinet::built_in();
    let request = serde_json::from_value(case()).unwrap();
    let own = desk::cast(&request, &cabinet, None).unwrap();
    let own = serde_json::to_string(&own).unwrap();
    let response = answer(post("/desk/cast", case())).await;
    assert_eq!(response.status(), StatusCode::OK);
    let bytes = to_bytes(response.into_body(), 1 << 22).await.unwrap();
    assert!(
        bytes == own.as_bytes(),
        "another answer than the desk's own"
    );
    let own: Value = serde_json::from_str(&own).unwrap();

    let set = own["working"]["steps"][5]["state"].clone();
    let turn = json!({ "case": case(), "state": set, "pointer": null });
    let read = json_of(answer(post("/desk/turn", &turn)).await).await;
    // The instrument set shows what the working reads on it. Reading a number from
    // JSON may cost its last digit, which is less than 1e-12 of a degree.
    for what in ["ascendant", "midheaven"] {
        let (live, worked) = (&read[what]["deg"], &own["reading"][format!("{what}_deg")]);
        let off = live.as_f64().unwrap() - worked.as_f64().unwrap();
        assert!(off.abs() < 1e-9, "{what}: {live} {worked}");
    }
    // Backwards it means the moment it was set for, within what setting can tell
    // apart: the hour to a tenth of a degree (24 s), the degree to half of 12′.
    let means = read["means"]["when"].as_str().unwrap();
    assert!(
        means.starts_with("2024-05-14 09:19") || means.starts_with("2024-05-14 09:20"),
        "{means}"
    );
}

#[tokio::test]
async fn a_refusal_names_its_field() {
    for (change, field) in [
        (json!({ "when": "2023-02-29 10:00" }), "when"),
        (json!({ "at": "Nowhereton" }), "at"),
        (json!({ "with": { "named": "no such" } }), "with"),
        (json!({ "zone": null, "at": "-40,-120" }), "zone"),
        (json!({ "when": "2024-03-31 02:30" }), "which"),
        (json!({ "read": { "ascendant": "41 Pisces" } }), "read"),
    ] {
        let mut asked = case();
        asked
            .as_object_mut()
            .unwrap()
            .extend(change.as_object().unwrap().clone());
        let response = answer(post("/desk/cast", &asked)).await;
        assert_eq!(
            response.status(),
            StatusCode::UNPROCESSABLE_ENTITY,
            "{asked}"
        );
        let refusal = json_of(response).await;
        assert_eq!(refusal["field"], field, "{refusal}");
        assert!(refusal["message"].as_str().unwrap().len() > 10);
    }
    let wild = json!({ "case": case(), "state": { "plate_latitude_deg": 1e9, "rete_deg": 1e300 } });
    let response = answer(post("/desk/turn", &wild)).await;
    assert_eq!(json_of(response).await["field"], "state");
}

#[tokio::test]
async fn operations_are_listed_worked_and_refused_by_the_value_that_is_wrong() {
    let all = answer(get("/desk/operations").body(Body::empty()).unwrap()).await;
    let all = json_of(all).await;
    assert_eq!(all, json!(desk::operations()));
    // What a form needs to ask is said with the operation.
    let asks = |name: &str| {
        let mut kinds = all.as_array().unwrap().iter();
        let kind = kinds.find(|kind| kind["name"] == name).unwrap();
        let asks = kind["asks"].as_array().unwrap().iter();
        asks.map(|ask| ask["name"].as_str().unwrap().to_owned())
            .collect::<Vec<_>>()
    };
    assert_eq!(asks("hour-by-star"), ["star", "altitude", "hand", "side"]);
    assert_eq!(asks("azimuth-at-hour"), ["of", "star", "degree"]);
    assert_eq!(asks("day-and-night"), Vec::<String>::new());

    let work = json!({ "operation": "hour-by-star", "moment": case(), "star": "any" });
    let worked = json_of(answer(post("/desk/work", work)).await).await;
    assert!(worked["findings"][0]["text"].is_string(), "{worked}");
    let wrong =
        json!({ "operation": "hour-by-sun", "moment": case(), "seen": { "altitude": "95" } });
    let refused = answer(post("/desk/work", wrong)).await;
    assert_eq!(refused.status(), StatusCode::UNPROCESSABLE_ENTITY);
    let refused = json_of(refused).await;
    assert_eq!(refused["field"], "read");
    assert_eq!(refused["value"], "altitude");

    let read = json!({ "moment": case(), "read": { "ascendant": "41 Gemini" } });
    let refused = json_of(answer(post("/desk/correct", read)).await).await;
    assert_eq!(refused["value"], "ascendant");
}

#[tokio::test]
async fn settings_are_kept() {
    let router = served_with(Book::at(Err("no casebook is needed here".to_owned())));
    let kept = json!({
        "home": "Lisbon", "zone": null, "with": null, "houses": null, "by": "turning", "sun": null, "figures": "square", "page_address": "https://example.org/almuri/",
    });
    let response = router
        .clone()
        .oneshot(post("/desk/settings", &kept))
        .await
        .unwrap();
    assert_eq!(response.status(), StatusCode::OK);
    let start = router
        .oneshot(get("/desk/start").body(Body::empty()).unwrap())
        .await
        .unwrap();
    assert_eq!(json_of(start).await["settings"], kept);
}

#[tokio::test]
async fn foreign_hosts_and_origins_are_refused() {
    for (host, origin) in [
        ("evil.example", None),
        ("127.0.0.1:80", None),
        ("127.0.0.1", None),
        ("127.0.0.1:7314.evil.example", None),
        ("localhost:7314", Some("http://evil.example")),
        ("localhost:7314", Some("https://localhost:7314")),
        ("localhost:7314", Some("null")),
    ] {
        let mut request = Request::get("/desk/start").header("host", host);
        if let Some(origin) = origin {
            request = request.header("origin", origin);
        }
        let response = answer(request.body(Body::empty()).unwrap()).await;
        assert_eq!(
            response.status(),
            StatusCode::FORBIDDEN,
            "{host} {origin:?}"
        );
        assert!(response.headers().contains_key("content-security-policy"));
    }
    let none = Request::get("/").body(Body::empty()).unwrap();
    assert_eq!(answer(none).await.status(), StatusCode::FORBIDDEN);
    let cross = get("/desk/start").header("sec-fetch-site", "cross-site");
    assert_eq!(
        answer(cross.body(Body::empty()).unwrap()).await.status(),
        StatusCode::FORBIDDEN
    );
    for host in ["localhost:7314", "[::1]:7314", "LOCALHOST:7314"] {
        let own = Request::get("/")
            .header("host", host)
            .header("cookie", session().cookie(PORT))
            .header("origin", format!("http://{host}"))
            .header("sec-fetch-site", "same-origin");
        let response = answer(own.body(Body::empty()).unwrap()).await;
        assert_eq!(response.status(), StatusCode::OK, "{host}");
    }
}

#[tokio::test]
async fn bodies_too_large_or_malformed_are_refused_in_a_sentence() {
    let large = json!({ "when": "x".repeat(200_000) });
    let response = answer(post("/desk/cast", &large)).await;
    assert_eq!(response.status(), StatusCode::PAYLOAD_TOO_LARGE);
    for body in [
        "",
        "{",
        "[]",
        "null",
        "{\"when\":7}",
        "{\"no such key\":1}",
        "\u{0}\u{1}",
    ] {
        let response = answer(post("/desk/cast", body)).await;
        assert!(
            response.status().is_client_error(),
            "{body}: {}",
            response.status()
        );
        assert!(json_of(response).await["message"].is_string(), "{body}");
    }
    // A form on another page can send these without asking first.
    let plain = Request::post("/desk/cast")
        .header("host", format!("127.0.0.1:{PORT}"))
        .header("cookie", session().cookie(PORT))
        .header("content-type", "text/plain")
        .body(Body::from(case().to_string()))
        .unwrap();
    assert_eq!(
        answer(plain).await.status(),
        StatusCode::UNSUPPORTED_MEDIA_TYPE
    );
    let deep = "[".repeat(100_000);
    assert!(
        answer(post("/desk/cast", deep))
            .await
            .status()
            .is_client_error()
    );
}

#[tokio::test]
async fn the_casebook_is_asked_kept_and_refused_in_sentences() {
    let folder = tempfile::tempdir().unwrap();
    let book = Book::at(Ok(folder.path().join("casebook.sqlite")));
    let router = served_with(book);
    let asked = |path: &str, body: Value| {
        let (router, request) = (router.clone(), post(path, &body));
        async move {
            let response = router.oneshot(request).await.unwrap();
            (response.status(), json_of(response).await)
        }
    };
    let case = json!({ "name": "A class, invented", "when": "2024-05-14 09:20", "at": "42.8806,-8.5449", "zone": "Europe/Madrid" });
    let (status, kept) = asked("/desk/casebook/keep", case.clone()).await;
    assert_eq!((status, &kept["id"]), (StatusCode::OK, &json!(1)));
    for (wrong, said) in [
        (json!({ "when": "now" }), "another time later"),
        (json!({ "when": "2024-02-30 09:20" }), "30"),
        (json!({ "at": "Nowhereton" }), "Nowhereton"),
        (json!({ "name": " " }), "a name is missing"),
        (json!({ "with": "../../secret" }), "no instrument"),
        (
            json!({ "readings": [{ "what": "ascendant", "degree": "41 Gemini" }] }),
            "41",
        ),
    ] {
        let mut bad = case.clone();
        bad.as_object_mut()
            .unwrap()
            .extend(wrong.as_object().unwrap().clone());
        let (status, answer) = asked("/desk/casebook/keep", bad).await;
        let message = answer["message"].as_str().unwrap();
        assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY, "{message}");
        assert!(message.contains(said), "{message}");
    }
    // An edit and a deletion that began from another state are refused.
    for path in ["/desk/casebook/edit", "/desk/casebook/delete"] {
        let mut stale = json!({ "id": 1, "version": 7 });
        if path.ends_with("edit") {
            stale["case"] = case.clone();
        }
        let (status, answer) = asked(path, stale).await;
        assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY);
        assert!(
            answer["message"]
                .as_str()
                .unwrap()
                .contains("changed meanwhile")
        );
    }
    let (_, found) = asked("/desk/casebook/find", json!({ "words": "class" })).await;
    assert_eq!(
        (&found["total"], &found["cases"][0]["id"]),
        (&json!(1), &json!(1))
    );
    // A whole book may be larger than a question, but not endless.
    let padded =
        json!({ "form": "csv", "text": format!("name,when,at\n{}", "\n".repeat(300_000)) });
    let (status, brought) = asked("/desk/casebook/import", padded).await;
    assert_eq!((status, &brought["kept"]), (StatusCode::OK, &json!(0)));
    let endless = Request::post("/desk/casebook/import")
        .header("host", format!("127.0.0.1:{PORT}"))
        .header("cookie", session().cookie(PORT))
        .header("content-type", "application/json")
        .header("content-length", (1_u64 << 31).to_string())
        .body(Body::empty())
        .unwrap();
    let response = router.clone().oneshot(endless).await.unwrap();
    assert_eq!(response.status(), StatusCode::PAYLOAD_TOO_LARGE);
}

#[tokio::test]
async fn the_page_carries_a_large_book_out_in_parts_that_it_carries_in() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("casebook.sqlite");
    let mut book = Casebook::open_without_backup(&path).unwrap();
    let large = casebook::Case {
        name: "A long one, invented".to_owned(),
        when: "2024-05-14 09:20".to_owned(),
        at: "Lisbon, Portugal".to_owned(),
        note: "x".repeat(1_000_000),
        ..casebook::Case::default()
    };
    book.keep_all(vec![large; 34]).unwrap();
    drop(book);
    let router = served_with(Book::at(Ok(path.clone())));
    for form in ["json", "spreadsheet", "csv"] {
        let (mut behind, mut cases, mut parts) = (Value::Null, 0, Vec::new());
        loop {
            let asked = post(
                "/desk/casebook/export",
                json!({ "form": form, "behind": behind }),
            );
            let got = router.clone().oneshot(asked).await.unwrap();
            assert_eq!(got.status(), StatusCode::OK, "{form}");
            let part = json_of(got).await;
            cases += part["cases"].as_u64().unwrap();
            parts.push(part["text"].as_str().unwrap().to_owned());
            behind = part["next"].clone();
            if behind.is_null() {
                break;
            }
        }
        assert_eq!((cases, parts.len()), (34, 3), "{form}");
        if form == "csv" {
            let last = json!({ "form": form, "text": parts[2] });
            let brought = router.clone().oneshot(post("/desk/casebook/import", last));
            assert_eq!(json_of(brought.await.unwrap()).await["kept"], 2);
        }
    }
}

#[tokio::test]
async fn a_casebook_that_cannot_be_used_says_why_and_stays_as_it_is() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("casebook.sqlite");
    std::fs::write(&path, "this is no casebook at all, but somebody's letter").unwrap();
    let book = Book::at(Ok(path.clone()));
    let router = served_with(book);
    let response = router.oneshot(post("/desk/today", "{}")).await.unwrap();
    assert_eq!(response.status(), StatusCode::INTERNAL_SERVER_ERROR);
    let message = json_of(response).await["message"].to_string();
    assert!(message.contains("damaged or is no casebook"), "{message}");
    assert!(
        std::fs::read_to_string(&path)
            .unwrap()
            .starts_with("this is no casebook")
    );
    let nowhere = answer(post("/desk/today", "{}")).await;
    assert!(
        json_of(nowhere).await["message"]
            .as_str()
            .unwrap()
            .contains("no casebook is needed")
    );
}

#[tokio::test]
async fn a_casebook_replaced_or_taken_away_meanwhile_loses_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("casebook.sqlite");
    let router = served_with(Book::at(Ok(path.clone())));
    let keep = async |name: &str| {
        let mut case = case();
        case["name"] = json!(name);
        let asked = post("/desk/casebook/keep", case);
        router.clone().oneshot(asked).await.unwrap()
    };
    let names = || {
        let book = Casebook::open_without_backup(&path).unwrap();
        let found = book.find("", 9).unwrap().cases;
        found
            .into_iter()
            .map(|kept| kept.case.name)
            .collect::<Vec<_>>()
    };
    assert_eq!(keep("first").await.status(), StatusCode::OK);
    let other = Casebook::open_without_backup(&path).unwrap();
    other.back_up("then").unwrap();
    drop(other);
    assert_eq!(keep("second").await.status(), StatusCode::OK);
    Casebook::restore(&path, "then").unwrap();
    assert_eq!(keep("third").await.status(), StatusCode::OK);
    assert_eq!(names(), ["third", "first"]);

    let elsewhere = folder.path().join("elsewhere.sqlite");
    std::fs::rename(&path, &elsewhere).unwrap();
    let refused = keep("fourth").await;
    assert_eq!(refused.status(), StatusCode::INTERNAL_SERVER_ERROR);
    let message = json_of(refused).await["message"].to_string();
    assert!(message.contains("no longer there"), "{message}");
    assert!(!path.exists(), "none is begun in its place");
    std::fs::rename(&elsewhere, &path).unwrap();
    assert_eq!(keep("fifth").await.status(), StatusCode::OK);
    assert_eq!(names(), ["fifth", "third", "first"]);
}

#[tokio::test]
async fn the_workshop_refuses_in_sentences() {
    for (path, asked, said) in [
        ("preview", json!({ "parts": ["wheel"] }), "wheel"),
        ("preview", json!({ "plates": ["-35"] }), "hemisphere"),
        ("preview", json!({ "plates": vec!["42"; 500] }), "500"),
        ("make", json!({ "formats": ["docx"] }), "docx"),
        ("make", json!({ "page": "postcard" }), "postcard"),
        ("plates", json!({ "towns": [] }), "no town"),
    ] {
        let response = answer(post(&format!("/desk/workshop/{path}"), &asked)).await;
        assert_eq!(
            response.status(),
            StatusCode::UNPROCESSABLE_ENTITY,
            "{asked}"
        );
        let message = json_of(response).await["message"].to_string();
        assert!(message.contains(said), "{message}");
    }
}

#[tokio::test]
async fn no_path_leads_out_of_the_page() {
    for path in [
        "/../Cargo.toml",
        "/js/../../src/lib.rs",
        "/%2e%2e/Cargo.toml",
        "/js/%2e%2e%2f%2e%2e%2fCargo.toml",
        "//etc/passwd",
        "/js/",
        "/js",
        "/node_modules/axe-core/axe.min.js",
        "/tsconfig.json",
        "/index.html%00.js",
        "/desk/cast/",
        "/JS/main.js",
    ] {
        let response = answer(get(path).body(Body::empty()).unwrap()).await;
        assert_eq!(response.status(), StatusCode::NOT_FOUND, "{path}");
    }
    let put = Request::put("/")
        .header("host", format!("127.0.0.1:{PORT}"))
        .header("cookie", session().cookie(PORT));
    let response = answer(put.body(Body::empty()).unwrap()).await;
    assert_eq!(response.status(), StatusCode::METHOD_NOT_ALLOWED);
    let wrong = get("/desk/cast").body(Body::empty()).unwrap();
    assert_eq!(answer(wrong).await.status(), StatusCode::METHOD_NOT_ALLOWED);
}

/// Who has not opened the address that was told gets nothing, not even the page.
#[tokio::test]
async fn another_account_gets_nothing() {
    let entrance = session().page("127.0.0.1:7314".parse().unwrap());
    let entrance = entrance.strip_prefix("http://127.0.0.1:7314").unwrap();
    let response = answer(
        Request::get(entrance)
            .header("host", format!("127.0.0.1:{PORT}"))
            .body(Body::empty())
            .unwrap(),
    )
    .await;
    assert_eq!(response.status(), StatusCode::SEE_OTHER);
    assert_eq!(response.headers()["location"], "/");
    let cookie = response.headers()["set-cookie"].to_str().unwrap();
    assert!(cookie.starts_with(&session().cookie(PORT)), "{cookie}");
    assert!(cookie.contains("HttpOnly") && cookie.contains("SameSite=Strict"));
    let other = Session::fresh().unwrap();
    assert_ne!(other, session());
    let foreign = other.cookie(PORT);
    let shortened = session().cookie(PORT);
    let shortened = &shortened[..shortened.len() - 1];
    for cookie in ["", "almuri-7314=", shortened, &foreign, "almuri-7314"] {
        for (method, path) in [
            ("GET", "/"),
            ("GET", "/js/main.js"),
            ("GET", "/enter/"),
            ("GET", "/enter/0123456789abcdef0123456789abcdef"),
            ("GET", "/desk/start"),
            ("POST", "/desk/casebook/export"),
            ("POST", "/desk/casebook/delete"),
            ("POST", "/desk/settings"),
            ("GET", "/no/such/thing"),
        ] {
            let request = Request::builder()
                .method(method)
                .uri(path)
                .header("host", format!("127.0.0.1:{PORT}"))
                .header("cookie", cookie)
                .header("content-type", "application/json")
                .body(Body::from("{}"))
                .unwrap();
            let response = answer(request).await;
            assert_eq!(response.status(), StatusCode::FORBIDDEN, "{cookie} {path}");
            assert!(response.headers().contains_key("content-security-policy"));
            assert!(!response.headers().contains_key("set-cookie"));
        }
    }
}

#[tokio::test]
async fn instruments_of_ones_own_are_kept_found_changed_and_deleted() {
    let folder = tempfile::tempdir().unwrap();
    let cabinet = CabinetFolder::at(folder.path().join("cabinet"));
    let shelf = Shelf::of(Ok(cabinet.clone()), || None);
    let book = Book::at(Err("no casebook is needed here".to_owned()));
    let router = app(Desk::new(shelf, Nowhere::default(), book), PORT, session());
    let asked = |path: &str, body: Value| {
        let (router, request) = (router.clone(), post(&format!("/desk/{path}"), &body));
        async move {
            let response = router.oneshot(request).await.unwrap();
            (response.status(), json_of(response).await)
        }
    };
    let text = "version = 1\nname = \"my key ring\"\ndiameter_mm = 60\nepoch_year = 2024\nplates_deg = [43]\n";
    let (status, kept) = asked("cabinet/keep", json!({ "text": text })).await;
    assert_eq!(
        (status, &kept["name"]),
        (StatusCode::OK, &json!("my key ring"))
    );
    assert_eq!(kept["own"][0]["file"], "my-key-ring.toml");
    let settings = json!({
        "home": null, "zone": null, "with": "my key ring", "houses": null, "by": null, "sun": null, "figures": null, "page_address": null,
    });
    assert_eq!(asked("settings", settings).await.0, StatusCode::OK);

    // At once in the other answers, and told by its name.
    let mut with = case();
    with["with"] = json!({ "named": "my key ring" });
    let (_, cast) = asked("cast", with.clone()).await;
    assert_eq!(cast["instrument"]["diameter_mm"], 60.0);
    let (_, specified) = asked("cabinet/text", json!({ "name": "my key ring" })).await;
    assert_eq!(specified, json!({ "text": text, "in_folder": true }));

    // What another program puts there or takes away is seen with the next question.
    cabinet
        .add("by hand", &text.replace("my key ring", "by hand"))
        .unwrap();
    with["with"] = json!({ "named": "by hand" });
    assert_eq!(asked("cast", with).await.0, StatusCode::OK);

    let before = json!({ "name": "my key ring", "text": text });
    let renamed = text.replace("my key ring", "my brass");
    let change = json!({ "text": renamed, "instead_of": before });
    let (status, changed) = asked("cabinet/keep", change.clone()).await;
    assert_eq!(
        (status, &changed["name"]),
        (StatusCode::OK, &json!("my brass"))
    );
    let start = get("/desk/start").body(Body::empty()).unwrap();
    let start = json_of(router.clone().oneshot(start).await.unwrap()).await;
    assert_eq!(
        start["settings"]["with"], "my brass",
        "the usual one is followed"
    );

    // Refused, in a sentence: stale, of another's name, built in, no specification, no such.
    for (path, body, said) in [
        ("keep", change, "no instrument of the cabinet"),
        (
            "delete",
            json!({ "name": "my brass", "text": text }),
            "changed meanwhile",
        ),
        (
            "delete",
            json!({ "name": "class instrument", "text": text }),
            "a copy of it would do",
        ),
        (
            "delete",
            json!({ "name": "../../secret", "text": text }),
            "no instrument",
        ),
        ("keep", json!({ "text": renamed }), "already"),
        ("keep", json!({ "text": "name =" }), "not TOML"),
        (
            "keep",
            json!({ "text": text.replace("my key ring", "class instrument") }),
            "already",
        ),
        ("text", json!({ "name": "nothing" }), "no instrument"),
        ("brass", json!({ "text": "name =" }), "not TOML"),
    ] {
        let (status, answer) = asked(&format!("cabinet/{path}"), body).await;
        let message = answer["message"].as_str().unwrap_or_default();
        assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY, "{said}: {answer}");
        assert!(message.contains(said), "{said}: {message}");
    }
    let (status, left) = asked(
        "cabinet/delete",
        json!({ "name": "my brass", "text": renamed }),
    )
    .await;
    assert_eq!(status, StatusCode::OK);
    assert_eq!(left["own"].as_array().unwrap().len(), 1);
    let start = get("/desk/start").body(Body::empty()).unwrap();
    let start = json_of(router.clone().oneshot(start).await.unwrap()).await;
    assert_eq!(start["settings"]["with"], Value::Null);
}

#[tokio::test]
async fn a_cabinet_that_cannot_be_read_says_so_and_the_program_s_own_are_there() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("cabinet");
    std::fs::write(&path, "this is no folder").unwrap();
    let shelf = Shelf::of(Ok(CabinetFolder::at(path)), || None);
    let book = Book::at(Err("no casebook is needed here".to_owned()));
    let router = app(Desk::new(shelf, Nowhere::default(), book), PORT, session());
    let list = get("/desk/cabinet").body(Body::empty()).unwrap();
    let list = json_of(router.clone().oneshot(list).await.unwrap()).await;
    assert_eq!(list["instruments"].as_array().unwrap().len(), 17);
    assert_eq!(list["unread"].as_array().unwrap().len(), 1);
    let text =
        "version = 1\nname = \"mine\"\ndiameter_mm = 60\nepoch_year = 2024\nplates_deg = [43]\n";
    let refused = router
        .oneshot(post("/desk/cabinet/keep", json!({ "text": text })))
        .await
        .unwrap();
    assert_eq!(refused.status(), StatusCode::INTERNAL_SERVER_ERROR);
    // A workbench without a folder keeps nothing, and says so.
    let refused = answer(post("/desk/cabinet/keep", json!({ "text": text }))).await;
    assert_eq!(refused.status(), StatusCode::UNPROCESSABLE_ENTITY);
}
