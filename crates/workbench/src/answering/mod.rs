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
    Cabinet, CabinetAnswer, CastRequest, ClockAnswer, CorrectRequest, FigureRequest, FrontRequest,
    HouseMethod, InstrumentAnswer, OperationAnswer, OwnAnswer, RuleChoices, TurnRequest,
    UnreadAnswer, WorkRequest,
};
use serde::{Deserialize, Serialize};
use tower_http::catch_panic::CatchPanicLayer;
use tower_http::timeout::TimeoutLayer;

use crate::asset;
use crate::book::Book;
use crate::fault::{Fault, panicked};
use crate::guard::{IMPORT, Own, guard};
use crate::kept::{Keeper, Kept, NotKept};
use crate::session::Session;
use crate::shelf::Shelf;
use crate::waiting::LongWork;

mod cabinet;
mod casebook;
mod drawn;
mod pen;
mod teaching;
mod times;
mod today;
mod workshop;

/// No answer takes longer.
const LONGEST: Duration = Duration::from_secs(10);

/// A set of large parts takes seconds, on a slow machine or behind another many more.
const LONGEST_WORK: Duration = Duration::from_secs(120);

/// A whole casebook may be read in, or cleaned of what was deleted. A change is waited for
/// until it is answered for.
const LONGEST_CHANGE: Duration = Duration::from_secs(600);

/// What the server asks: the desk, with the instruments at hand, the keeper of the
/// settings, and the casebook.
#[derive(Clone)]
pub struct Desk {
    shelf: Arc<Shelf>,
    keeper: Arc<dyn Keeper>,
    book: Arc<Book>,
    long_work: LongWork,
}

impl Desk {
    /// With these instruments, settings kept by this keeper, and this casebook.
    #[must_use]
    pub fn new(shelf: impl Into<Shelf>, keeper: impl Keeper, book: Book) -> Desk {
        Desk {
            shelf: Arc::new(shelf.into()),
            keeper: Arc::new(keeper),
            book: Arc::new(book),
            long_work: LongWork::default(),
        }
    }

    /// The instruments as they stand now.
    fn cabinet(&self) -> Arc<Cabinet> {
        self.shelf.cabinet()
    }
}

/// The whole server as a router, for a port of the loopback address and whoever has
/// opened the session.
pub fn app(desk: Desk, port: u16, session: Session) -> Router {
    let own = from_fn_with_state(Own::on_port(port, session), guard);
    let quick = Router::new()
        .route("/desk/start", get(start))
        .route("/desk/cast", post(cast))
        .route("/desk/turn", post(turn))
        .route("/desk/figure", post(figure))
        .route("/desk/figure/file", post(drawn::figure_file))
        .route("/desk/figure/drawn", post(drawn::figure))
        .route("/desk/front", post(front))
        .route("/desk/back", post(back))
        .route("/desk/parts", post(parts))
        .route("/desk/operations", get(operations))
        .route("/desk/work", post(work))
        .route("/desk/correct", post(correct))
        .route("/desk/suggest", post(suggest))
        .route("/desk/during", post(times::during))
        .route("/desk/reckon", post(pen::reckoned))
        .route("/desk/revolution", post(times::revolution))
        .route("/desk/moments", post(times::moments))
        .route("/desk/choose", post(times::choose))
        .route("/desk/choose/forms", get(times::choose_forms))
        .route("/desk/choose/calendar", post(times::choose_calendar))
        .route("/desk/year/book", post(times::year_book))
        .route("/desk/year/calendar", post(times::year_calendar))
        .route("/desk/settings", post(keep))
        .route("/desk/today", post(today::today))
        .route("/desk/cabinet", get(cabinet::list))
        .route("/desk/cabinet/brass", post(cabinet::brass))
        .route("/desk/cabinet/text", post(cabinet::text))
        .route("/desk/cabinet/keep", post(cabinet::keep))
        .route("/desk/cabinet/delete", post(cabinet::delete))
        .route("/desk/teaching/correct", post(teaching::correct))
        .route("/desk/teaching/try", post(teaching::try_one))
        .route("/desk/casebook/find", post(casebook::find))
        .route("/desk/workshop/examine", post(workshop::examine))
        .route("/desk/workshop/example", get(workshop::example))
        .route("/desk/workshop/compare", post(drawn::comparison))
        .fallback(asset::asset)
        .layer(within(LONGEST));
    let long = Router::new()
        .route("/desk/workshop/preview", post(workshop::preview))
        .route("/desk/workshop/card", post(workshop::card))
        .route("/desk/workshop/plates", post(workshop::plates))
        .route("/desk/workshop/make", post(workshop::make))
        .route("/desk/teaching/handout", post(teaching::handout))
        .route("/desk/teaching/exercises", post(teaching::exercises))
        .layer(within(LONGEST_WORK));
    let changes = Router::new()
        .route("/desk/casebook/keep", post(casebook::keep))
        .route("/desk/casebook/edit", post(casebook::edit))
        .route("/desk/casebook/undo", post(casebook::undo))
        .route("/desk/casebook/delete", post(casebook::delete))
        .route("/desk/casebook/export", post(casebook::export))
        .route(IMPORT, post(casebook::import))
        .layer(within(LONGEST_CHANGE));
    quick
        .merge(long)
        .merge(changes)
        .method_not_allowed_fallback(not_allowed)
        .with_state(desk)
        // The guard has bounded it already.
        .layer(DefaultBodyLimit::disable())
        .layer(CatchPanicLayer::custom(panicked))
        .layer(own)
}

fn within(longest: Duration) -> TimeoutLayer {
    TimeoutLayer::with_status_code(StatusCode::REQUEST_TIMEOUT, longest)
}

/// What the page needs before the first case.
#[derive(Serialize)]
struct Start {
    version: &'static str,
    cabinet: Vec<InstrumentAnswer>,
    own: Vec<OwnAnswer>,
    unread: Vec<UnreadAnswer>,
    methods: Vec<HouseMethod>,
    clocks: Vec<ClockAnswer>,
    forms: [&'static str; 5],
    filled: [&'static str; 4],
    rules: Vec<RuleChoices>,
    parts: [&'static str; 7],
    formats: [&'static str; 5],
    settings: Kept,
}

async fn start(State(desk): State<Desk>) -> Result<Response, Fault> {
    let settings = desk.keeper.kept().map_err(not_kept)?;
    let CabinetAnswer {
        instruments,
        own,
        unread,
    } = desk::cabinet(&desk.cabinet());
    let answer = Start {
        version: env!("CARGO_PKG_VERSION"),
        cabinet: instruments,
        own,
        unread,
        methods: desk::methods(),
        clocks: desk::clocks(),
        forms: desk::FigureForm::ALL.map(desk::FigureForm::name),
        filled: desk::FigureFilled::ALL.map(desk::FigureFilled::name),
        rules: desk::figure_rules(),
        parts: press::Making::ALL.map(press::Making::name),
        formats: press::Format::ALL.map(press::Format::name),
        settings,
    };
    Ok(Json(answer).into_response())
}

type Body<T> = Result<Json<T>, JsonRejection>;

async fn cast(State(desk): State<Desk>, body: Body<CastRequest>) -> Result<Response, Fault> {
    let Json(request) = body?;
    reckon(move || Ok(desk::cast(&request, &desk.cabinet(), now_unix_s())?)).await
}

async fn turn(State(desk): State<Desk>, body: Body<TurnRequest>) -> Result<Response, Fault> {
    let Json(request) = body?;
    reckon(move || Ok(desk::turn(&request, &desk.cabinet(), now_unix_s())?)).await
}

async fn figure(State(desk): State<Desk>, body: Body<FigureRequest>) -> Result<Response, Fault> {
    let Json(request) = body?;
    reckon(move || Ok(desk::figure(&request, &desk.cabinet(), now_unix_s())?)).await
}

async fn back(State(desk): State<Desk>, body: Body<FrontRequest>) -> Result<Response, Fault> {
    let Json(request) = body?;
    reckon(move || Ok(desk::back(&request, &desk.cabinet())?)).await
}

async fn front(State(desk): State<Desk>, body: Body<FrontRequest>) -> Result<Response, Fault> {
    let Json(request) = body?;
    reckon(move || Ok(desk::front(&request, &desk.cabinet())?)).await
}

async fn parts(State(desk): State<Desk>, body: Body<FrontRequest>) -> Result<Response, Fault> {
    let Json(request) = body?;
    reckon(move || Ok(desk::parts(&request, &desk.cabinet())?)).await
}

async fn operations() -> Json<Vec<OperationAnswer>> {
    Json(desk::operations())
}

async fn work(State(desk): State<Desk>, body: Body<WorkRequest>) -> Result<Response, Fault> {
    let Json(request) = body?;
    reckon(move || Ok(desk::work(&request, &desk.cabinet(), now_unix_s())?)).await
}

async fn correct(State(desk): State<Desk>, body: Body<CorrectRequest>) -> Result<Response, Fault> {
    let Json(request) = body?;
    reckon(move || Ok(desk::correct(&request, &desk.cabinet(), now_unix_s())?)).await
}

/// What has been typed of a place so far.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Typed {
    text: String,
}

async fn suggest(State(desk): State<Desk>, body: Body<Typed>) -> Result<Response, Fault> {
    let Json(typed) = body?;
    reckon(move || {
        // Settings that cannot be read are told where they are asked for: here they only
        // would bring what is near to the top.
        let home = desk.keeper.kept().ok().and_then(|kept| kept.home);
        Ok(desk::suggest(&typed.text, home.as_deref()))
    })
    .await
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
