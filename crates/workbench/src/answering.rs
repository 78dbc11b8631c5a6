use std::sync::Arc;
use std::time::{Duration, SystemTime, UNIX_EPOCH};

use axum::extract::rejection::JsonRejection;
use axum::extract::{DefaultBodyLimit, State};
use axum::http::StatusCode;
use axum::middleware::from_fn_with_state;
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use axum::{Json, Router};
use desk::{
    Cabinet, CastRequest, CorrectRequest, FigureRequest, FrontRequest, InstrumentAnswer,
    OperationAnswer, TurnRequest, WorkRequest,
};
use serde::{Deserialize, Serialize};
use tower_http::catch_panic::CatchPanicLayer;
use tower_http::timeout::TimeoutLayer;

use crate::asset;
use crate::fault::{Fault, panicked};
use crate::guard::{MOST_BYTES, OwnNames, guard};
use crate::kept::{Keeper, Kept, NotKept};

/// No answer takes longer; a body that trickles in is given up.
const LONGEST: Duration = Duration::from_secs(10);

/// What the server asks: the desk, with the instruments at hand, and the keeper of
/// the settings.
#[derive(Clone)]
pub struct Desk {
    cabinet: Arc<Cabinet>,
    keeper: Arc<dyn Keeper>,
}

impl Desk {
    /// With these instruments, and settings kept by this keeper.
    #[must_use]
    pub fn new(cabinet: Cabinet, keeper: impl Keeper) -> Desk {
        Desk {
            cabinet: Arc::new(cabinet),
            keeper: Arc::new(keeper),
        }
    }
}

/// The whole server as a router, for a port of the loopback address.
pub fn app(desk: Desk, port: u16) -> Router {
    Router::new()
        .route("/desk/start", get(start))
        .route("/desk/cast", post(cast))
        .route("/desk/turn", post(turn))
        .route("/desk/figure", post(figure))
        .route("/desk/front", post(front))
        .route("/desk/back", post(back))
        .route("/desk/operations", get(operations))
        .route("/desk/work", post(work))
        .route("/desk/correct", post(correct))
        .route("/desk/suggest", post(suggest))
        .route("/desk/settings", post(keep))
        .fallback(asset::asset)
        .method_not_allowed_fallback(not_allowed)
        .with_state(desk)
        .layer(DefaultBodyLimit::max(MOST_BYTES))
        .layer(CatchPanicLayer::custom(panicked))
        .layer(TimeoutLayer::with_status_code(
            StatusCode::REQUEST_TIMEOUT,
            LONGEST,
        ))
        .layer(from_fn_with_state(OwnNames::on_port(port), guard))
}

/// What the page needs before the first case.
#[derive(Serialize)]
struct Start {
    version: &'static str,
    cabinet: Vec<InstrumentAnswer>,
    methods: Vec<&'static str>,
    settings: Kept,
}

async fn start(State(desk): State<Desk>) -> Result<Response, Fault> {
    let settings = desk.keeper.kept().map_err(not_kept)?;
    let answer = Start {
        version: env!("CARGO_PKG_VERSION"),
        cabinet: desk::instruments(&desk.cabinet),
        methods: desk::methods(),
        settings,
    };
    Ok(Json(answer).into_response())
}

type Body<T> = Result<Json<T>, JsonRejection>;

async fn cast(State(desk): State<Desk>, body: Body<CastRequest>) -> Result<Response, Fault> {
    let Json(request) = body?;
    reckon(move || Ok(desk::cast(&request, &desk.cabinet, now_unix_s())?)).await
}

async fn turn(State(desk): State<Desk>, body: Body<TurnRequest>) -> Result<Response, Fault> {
    let Json(request) = body?;
    reckon(move || Ok(desk::turn(&request, &desk.cabinet, now_unix_s())?)).await
}

async fn figure(State(desk): State<Desk>, body: Body<FigureRequest>) -> Result<Response, Fault> {
    let Json(request) = body?;
    reckon(move || Ok(desk::figure(&request, &desk.cabinet, now_unix_s())?)).await
}

async fn back(State(desk): State<Desk>, body: Body<FrontRequest>) -> Result<Response, Fault> {
    let Json(request) = body?;
    reckon(move || Ok(desk::back(&request, &desk.cabinet)?)).await
}

async fn front(State(desk): State<Desk>, body: Body<FrontRequest>) -> Result<Response, Fault> {
    let Json(request) = body?;
    reckon(move || Ok(desk::front(&request, &desk.cabinet)?)).await
}

async fn operations() -> Json<Vec<OperationAnswer>> {
    Json(desk::operations())
}

async fn work(State(desk): State<Desk>, body: Body<WorkRequest>) -> Result<Response, Fault> {
    let Json(request) = body?;
    reckon(move || Ok(desk::work(&request, &desk.cabinet, now_unix_s())?)).await
}

async fn correct(State(desk): State<Desk>, body: Body<CorrectRequest>) -> Result<Response, Fault> {
    let Json(request) = body?;
    reckon(move || Ok(desk::correct(&request, &desk.cabinet, now_unix_s())?)).await
}

/// What has been typed of a place so far.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Typed {
    text: String,
}

async fn suggest(body: Body<Typed>) -> Result<Response, Fault> {
    let Json(typed) = body?;
    reckon(move || Ok(desk::suggest(&typed.text))).await
}

async fn keep(State(desk): State<Desk>, body: Body<Kept>) -> Result<Response, Fault> {
    let Json(kept) = body?;
    reckon(move || desk.keeper.keep(kept).map_err(not_kept)).await
}

fn not_kept(why: NotKept) -> Fault {
    Fault::Request(StatusCode::UNPROCESSABLE_ENTITY, why.to_string())
}

async fn not_allowed() -> Fault {
    Fault::Request(
        StatusCode::METHOD_NOT_ALLOWED,
        "This is not how the page asks.".to_owned(),
    )
}

/// Reckons beside the threads that serve, so that a long answer holds up no other.
async fn reckon<T, F>(work: F) -> Result<Response, Fault>
where
    T: Serialize + Send + 'static,
    F: FnOnce() -> Result<T, Fault> + Send + 'static,
{
    let done = tokio::task::spawn_blocking(work).await;
    let answer = done.map_err(Fault::inner)??;
    Ok(Json(answer).into_response())
}

/// The time now, in seconds since the beginning of 1970.
fn now_unix_s() -> Option<f64> {
    let since = SystemTime::now().duration_since(UNIX_EPOCH).ok()?;
    Some(since.as_secs_f64())
}
