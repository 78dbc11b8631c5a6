//! The server as a router, asked without a socket.

#![expect(clippy::unwrap_used, reason = "helpers of tests break off as tests do")]

use axum::body::{Body, to_bytes};
use axum::http::{Request, StatusCode};
use axum::response::Response;
use desk::Cabinet;
use serde_json::{Value, json};
use tower::ServiceExt;
use workbench::{Book, Desk, Nowhere, app};

const PORT: u16 = 7314;

async fn answer(request: Request<Body>) -> Response {
    let desk = Desk::new(
        Cabinet::built_in(),
        Nowhere::default(),
        Book::at(Err("no casebook is needed here".to_owned())),
    );
    app(desk, PORT).oneshot(request).await.unwrap()
}

fn get(path: &str) -> axum::http::request::Builder {
    Request::get(path).header("host", format!("127.0.0.1:{PORT}"))
}

fn post(path: &str, body: impl ToString) -> Request<Body> {
    Request::post(path)
        .header("host", format!("127.0.0.1:{PORT}"))
        .header("content-type", "application/json")
        .body(Body::from(body.to_string()))
        .unwrap()
}

async fn json_of(response: Response) -> Value {
    let bytes = to_bytes(response.into_body(), 1 << 22).await.unwrap();
    serde_json::from_slice(&bytes).unwrap()
}

/// The demonstration.
fn case() -> Value {
    json!({ "when": "2024-05-14 09:20", "at": "42.8806,-8.5449", "zone": "Europe/Madrid" })
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
            wanted.extend(named(&text, "from \"./").map(|name| format!("js/{name}")));
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
            let aside = name.ends_with(".d.ts") || name.ends_with(".txt");
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
async fn settings_are_kept() {
    let desk = Desk::new(
        Cabinet::built_in(),
        Nowhere::default(),
        Book::at(Err("no casebook is needed here".to_owned())),
    );
    let router = app(desk, PORT);
    let kept =
        json!({ "home": "Lisbon", "zone": null, "with": null, "houses": null, "by": "turning" });
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
    let put = Request::put("/").header("host", format!("127.0.0.1:{PORT}"));
    let response = answer(put.body(Body::empty()).unwrap()).await;
    assert_eq!(response.status(), StatusCode::METHOD_NOT_ALLOWED);
    let wrong = get("/desk/cast").body(Body::empty()).unwrap();
    assert_eq!(answer(wrong).await.status(), StatusCode::METHOD_NOT_ALLOWED);
}
