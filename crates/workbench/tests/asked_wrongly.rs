//! Questions of the wrong shape and of too great a size, asked of the server without a
//! socket.

#![expect(clippy::unwrap_used, reason = "helpers of tests break off as tests do")]

mod asked;

use asked::{answer, get, json_of, post, server};
use axum::body::Body;
use axum::http::StatusCode;
use serde_json::json;
use tower::ServiceExt;

/// A list is no object that says nothing, and what is not said is not forgotten.
#[tokio::test]
async fn settings_of_another_shape_are_refused_and_change_nothing() {
    let router = server();
    let kept = json!({
        "home": "Lisbon", "zone": null, "with": null, "houses": null, "by": null, "sun": null, "figures": null, "page_address": null,
    });
    let asked = |request| router.clone().oneshot(request);
    asked(post("/desk/settings", &kept)).await.unwrap();
    for wrong in [
        "[]",
        " [\"Lisbon\", null, null, null, null, null, null, null]",
        "null",
        "\"home\"",
        "{}",
        "{\"home\": null}",
        "{\"home\": [], \"zone\": null, \"with\": null, \"houses\": null, \"by\": null, \"sun\": null, \"figures\": null, \"page_address\": null}",
        "{",
        "",
    ] {
        let response = asked(post("/desk/settings", wrong)).await.unwrap();
        assert!(response.status().is_client_error(), "{wrong}");
        let message = json_of(response).await["message"].to_string();
        assert!(message.len() > 10, "{wrong}: {message}");
        let start = asked(get("/desk/start").body(Body::empty()).unwrap());
        assert_eq!(
            json_of(start.await.unwrap()).await["settings"],
            kept,
            "{wrong}"
        );
    }
    // Nor is a list a case, a class or anything else that is asked about.
    for path in ["/desk/cast", "/desk/workshop/make", "/desk/casebook/find"] {
        let response = asked(post(path, "[]")).await.unwrap();
        assert_eq!(
            response.status(),
            StatusCode::UNPROCESSABLE_ENTITY,
            "{path}"
        );
    }
}

/// What would take too long is refused, and told what would not.
#[tokio::test]
async fn each_question_has_its_bound() {
    let towns = |count: usize| vec!["40,0"; count];
    for (path, body, said) in [
        (
            "/desk/workshop/plates",
            json!({ "towns": ["40,0"], "stock_deg": vec![40; 101] }),
            "100 at most",
        ),
        (
            "/desk/workshop/card",
            json!({ "plates": { "towns": towns(2), "year": 2026 }, "paper": "a5" }),
            "a card is of one town",
        ),
        (
            "/desk/workshop/card",
            json!({ "plates": { "towns": towns(2001), "year": 2026 }, "paper": "a5" }),
            "a card is of one town",
        ),
    ] {
        let response = answer(post(path, body)).await;
        assert_eq!(
            response.status(),
            StatusCode::UNPROCESSABLE_ENTITY,
            "{path}"
        );
        let message = json_of(response).await["message"].to_string();
        assert!(message.contains(said), "{message}");
    }
}

#[tokio::test]
async fn more_towns_than_are_answered_in_time_are_refused_with_the_number() {
    let asked = |count: usize| {
        let towns = vec!["52,0"; count];
        post(
            "/desk/workshop/plates",
            json!({ "towns": towns, "stock_deg": [51.0] }),
        )
    };
    let refused = answer(asked(2001)).await;
    assert_eq!(refused.status(), StatusCode::UNPROCESSABLE_ENTITY);
    let said = json_of(refused).await["message"].to_string();
    assert!(
        said.contains("2001 towns") && said.contains("2000 at most would do"),
        "{said}"
    );
    let few = answer(asked(3)).await;
    assert_eq!(few.status(), StatusCode::OK);
    assert_eq!(json_of(few).await["towns"].as_array().unwrap().len(), 3);
}
