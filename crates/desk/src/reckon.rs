use ::tables::pen::{Account, Opened, Quantity, Reading, Reckoned, Step, reckon};
use figure::House;
use schemars::JsonSchema;
use serde::Serialize;
use sky::{Angle, Body};

use crate::answer::{JudgedAnswer, PlaceAnswer, ShareAnswer, WhenAnswer, WhyOne};
use crate::cabinet::Cabinet;
use crate::reckon_case::{Case, ReckonRequest};
use crate::reckon_corrected::{judged_sheet, own_readings};
use crate::refusal::Refusal;
use crate::roads::{RoadsAnswer, roads};
use crate::tables::refused;

/// A figure worked with the pen.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct ReckonAnswer {
    /// The moment.
    pub moment: WhenAnswer,
    /// The place.
    pub place: PlaceAnswer,
    /// The tables that are worked with.
    pub tables: TablesUsedAnswer,
    /// What the sheet finds.
    pub found: FoundAnswer,
    /// How far that may be off by what the tables say of themselves.
    pub within: WithinAnswer,
    /// The sheet.
    pub working: SheetAnswer,
    /// Why what is found and calculation differ; of what a person found, where that is given.
    pub why: WhyFoundAnswer,
    /// What a person found, corrected; null where nothing is given.
    pub own: Option<JudgedAnswer>,
    /// The three roads beside each other; null where no instrument is asked for.
    pub roads: Option<RoadsAnswer>,
}

/// The tables that a sheet is worked with.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct TablesUsedAnswer {
    /// The method of the table of houses.
    pub houses: &'static str,
    /// The latitude that it is made for.
    pub latitude_deg: f64,
    /// The obliquity that it is made for.
    pub obliquity_deg: f64,
    /// The hour at which the ephemeris has its days.
    pub hour: &'static str,
    /// Whether the Moon's second difference is taken.
    pub second_difference: bool,
}

/// What a sheet finds.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct FoundAnswer {
    /// The local sidereal time, in hours.
    pub sidereal_time_h: f64,
    /// The ascendant; null where the table has a stroke.
    pub ascendant_deg: Option<f64>,
    /// The midheaven.
    pub midheaven_deg: f64,
    /// The cusps, I to XII.
    pub cusps_deg: [Option<f64>; 12],
    /// The bodies.
    pub bodies: Vec<FoundBodyAnswer>,
    /// The lot of Fortune.
    pub fortune_deg: Option<f64>,
}

/// A body's place as it is found.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct FoundBodyAnswer {
    /// Its name.
    pub name: &'static str,
    /// Its longitude.
    pub longitude_deg: f64,
}

/// How far what is found may be off, in degrees.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct WithinAnswer {
    /// The local sidereal time, in seconds.
    pub sidereal_time_s: f64,
    /// The cusps, I to XII: the ascendant and the midheaven are the first and the tenth.
    pub cusps_deg: [f64; 12],
    /// The bodies, in the order in which they are found.
    pub bodies_deg: Vec<f64>,
    /// The lot of Fortune.
    pub fortune_deg: f64,
}

/// A sheet.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct SheetAnswer {
    /// What is worked.
    pub title: String,
    /// The tables that cells are taken from, each once.
    pub tables: Vec<SheetTableAnswer>,
    /// The steps.
    pub steps: Vec<SheetStepAnswer>,
}

/// A table that a sheet takes from.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SheetTableAnswer {
    /// Its name.
    pub name: &'static str,
    /// Its title.
    pub title: String,
}

/// A step of a sheet.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct SheetStepAnswer {
    /// What is done.
    pub instruction: String,
    /// The cells that are taken.
    pub takes: Vec<TakenAnswer>,
    /// The pages they stand on, open there.
    pub opened: Vec<OpenedAnswer>,
    /// The lines that are written.
    pub lines: Vec<SheetLineAnswer>,
}

/// A cell that is taken from a table.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct TakenAnswer {
    /// The table's name.
    pub table: &'static str,
    /// Its title.
    pub title: String,
    /// The row.
    pub row: String,
    /// The column.
    pub column: String,
    /// What is printed there.
    pub cell: String,
}

/// A page of a table, open where cells are taken from it.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct OpenedAnswer {
    /// The table's name.
    pub table: &'static str,
    /// Its title.
    pub title: String,
    /// What stands above its arguments.
    pub argument: String,
    /// The headings of the columns that are seen.
    pub columns: Vec<String>,
    /// The rows that are taken from, with those beside them.
    pub rows: Vec<OpenedRowAnswer>,
}

/// A row of an open page.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct OpenedRowAnswer {
    /// Its argument.
    pub row: String,
    /// What is printed in the columns that are seen.
    pub cells: Vec<String>,
    /// Which of these are taken.
    pub lit: Vec<bool>,
}

/// A line of a sheet.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct SheetLineAnswer {
    /// What it is.
    pub what: String,
    /// What is done with its number: nothing, `+`, `−`, `×` or `=`.
    pub sign: &'static str,
    /// Its number, as it is written.
    pub figure: String,
}

/// Why what is found and calculation differ.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct WhyFoundAnswer {
    /// In the ascendant.
    pub ascendant: WhyOne,
    /// In the midheaven.
    pub midheaven: WhyOne,
    /// In the cusps, I to XII.
    pub cusps: Vec<WhyOne>,
    /// In the bodies.
    pub bodies: Vec<WhyBodyAnswer>,
    /// In the lot of Fortune.
    pub fortune: WhyOne,
}

/// Why a body's place differs.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct WhyBodyAnswer {
    /// Its name.
    pub name: &'static str,
    /// The account.
    #[serde(flatten)]
    pub why: WhyOne,
}

/// Works a figure with the pen, corrects what a person found so, and holds it against an
/// instrument, as far as these are asked for. `now_unix_s` is the time now, for requests
/// that say so.
///
/// # Errors
/// When the request cannot be understood, or tables do not reach it.
pub fn reckoned(
    request: &ReckonRequest,
    cabinet: &Cabinet,
    now_unix_s: Option<f64>,
) -> Result<ReckonAnswer, Refusal> {
    let case = Case::of(request, now_unix_s)?;
    let own = own_readings(&request.read)?;
    let reckoned = reckon(&case.given, &case.hand).map_err(refused)?;
    let account = case.account()?;
    let judged = match own.as_slice() {
        [] => None,
        own => Some(judged_sheet(&case, own)?),
    };
    let mut answer = answer(&case, &own, &reckoned, &account);
    answer.own = judged;
    if request.with.is_some() {
        let why = &answer.why;
        let pen = (&why.ascendant, &why.midheaven, why.cusps.as_slice());
        answer.roads = Some(roads(&request.on_the_brass(), pen, cabinet, now_unix_s)?);
    }
    Ok(answer)
}

fn answer(case: &Case, own: &[Reading], reckoned: &Reckoned, account: &Account) -> ReckonAnswer {
    let Case {
        moment,
        given,
        hand,
    } = case;
    let why = |quantity: Quantity, name: &str| {
        let own = own.iter().find(|one| one.quantity == quantity);
        why(account, quantity, own.map(|own| own.value), name)
    };
    let found = &reckoned.found;
    let within = &reckoned.within;
    ReckonAnswer {
        moment: WhenAnswer::of(moment),
        place: PlaceAnswer::of(moment.place()),
        tables: TablesUsedAnswer {
            houses: given.method.name(),
            latitude_deg: hand.table_latitude.deg(),
            obliquity_deg: hand.obliquity.deg(),
            hour: hand.hour.name(),
            second_difference: hand.second_difference,
        },
        found: FoundAnswer {
            sidereal_time_h: found.sidereal_h,
            ascendant_deg: found.ascendant,
            midheaven_deg: found.midheaven,
            cusps_deg: found.cusps,
            bodies: Body::ALL
                .iter()
                .zip(&found.bodies)
                .map(|(body, deg)| FoundBodyAnswer {
                    name: body.name(),
                    longitude_deg: *deg,
                })
                .collect(),
            fortune_deg: found.fortune,
        },
        within: WithinAnswer {
            sidereal_time_s: within.sidereal_time() * 240.0,
            cusps_deg: House::ALL.map(|house| within.cusp(house)),
            bodies_deg: Body::ALL.iter().map(|body| within.body(*body)).collect(),
            fortune_deg: within.fortune(),
        },
        working: SheetAnswer {
            title: "A figure by tables and pen".to_owned(),
            tables: tables_of(&reckoned.steps),
            steps: reckoned.steps.iter().map(step_answer).collect(),
        },
        why: WhyFoundAnswer {
            ascendant: why(Quantity::Ascendant, "The ascendant"),
            midheaven: why(Quantity::Midheaven, "The midheaven"),
            cusps: House::ALL
                .iter()
                .map(|house| why(Quantity::Cusp(*house), &format!("Cusp {house}")))
                .collect(),
            bodies: Body::ALL
                .iter()
                .map(|body| WhyBodyAnswer {
                    name: body.name(),
                    why: why(Quantity::Place(*body), &begun(*body)),
                })
                .collect(),
            fortune: why(Quantity::Fortune, "The lot of Fortune"),
        },
        own: None,
        roads: None,
    }
}

/// The tables that cells are taken from, in the order in which they are opened.
fn tables_of(steps: &[Step]) -> Vec<SheetTableAnswer> {
    let mut tables: Vec<SheetTableAnswer> = Vec::new();
    for taken in steps.iter().flat_map(|step| &step.takes) {
        let table = SheetTableAnswer {
            name: taken.table,
            title: taken.title.clone(),
        };
        if !tables.contains(&table) {
            tables.push(table);
        }
    }
    tables
}

fn step_answer(step: &Step) -> SheetStepAnswer {
    SheetStepAnswer {
        instruction: words::pen_step(step.what),
        takes: step
            .takes
            .iter()
            .map(|taken| TakenAnswer {
                table: taken.table,
                title: taken.title.clone(),
                row: taken.row.clone(),
                column: taken.column.clone(),
                cell: taken.cell.to_string(),
            })
            .collect(),
        opened: step.opened.iter().map(opened_answer).collect(),
        lines: step
            .lines
            .iter()
            .map(|line| SheetLineAnswer {
                what: words::pen_line(step.what, line.entry),
                sign: words::pen_sign(line.role),
                figure: line.figure.to_string(),
            })
            .collect(),
    }
}

fn opened_answer(opened: &Opened) -> OpenedAnswer {
    OpenedAnswer {
        table: opened.table,
        title: opened.title.clone(),
        argument: opened.argument.clone(),
        columns: opened.columns.clone(),
        rows: opened
            .rows
            .iter()
            .map(|row| OpenedRowAnswer {
                row: row.row.clone(),
                cells: row.cells.clone(),
                lit: row.lit.clone(),
            })
            .collect(),
    }
}

/// A body at the beginning of a sentence.
fn begun(body: Body) -> String {
    match body {
        Body::Sun | Body::Moon => format!("The {body}"),
        Body::Mercury
        | Body::Venus
        | Body::Mars
        | Body::Jupiter
        | Body::Saturn
        | Body::Uranus
        | Body::Neptune
        | Body::Pluto => body.to_string(),
    }
}

fn why(account: &Account, quantity: Quantity, own: Option<Angle>, name: &str) -> WhyOne {
    let Some(why) = account.why_own(quantity, own) else {
        return WhyOne::none(format!(
            "{name} has no place in the table, or calculation has no answer"
        ));
    };
    WhyOne {
        read_deg: Some(why.found.in_turn().deg()),
        exact_deg: Some(why.exact.in_turn().deg()),
        difference_deg: Some(why.difference().deg()),
        shares: why
            .shares
            .iter()
            .map(|share| ShareAnswer {
                cause: share.cause.name(),
                words: words::pen_cause(share.cause),
                deg: share.amount.deg(),
            })
            .collect(),
        sentence: Some(words::pen_difference(&why, name)),
        reason: None,
    }
}
