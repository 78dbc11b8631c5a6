use ::tables::pen::{
    Account, Found, Given, Hand, Kept, LeftOut, Quantity, Reckoned, Step, account, reckon,
};
use ::tables::{Ask, DayHour};
use figure::{House, Method};
use moment::{Clock, Moment};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use sky::{Angle, Body, Latitude};

use crate::answer::{PlaceAnswer, ShareAnswer, WhenAnswer, WhyOne};
use crate::moment::understood_place;
use crate::moment_texts::MomentTexts;
use crate::old_clock::OldClock;
use crate::refusal::{Field, Refusal, quoted};
use crate::tables::{one_of, refused};

/// What is asked when a figure is to be worked with the pen: texts, as a person gives them.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct ReckonRequest {
    /// `YYYY-MM-DD HH:MM[:SS]`, or `now`.
    pub when: String,
    /// A town, or coordinates.
    pub at: String,
    /// The zone, instead of the place's own.
    pub zone: Option<String>,
    /// `zone` (unless said), `mean`, `sun`, or an offset such as `+01:00`.
    pub clock: Option<String>,
    /// `gregorian` or `julian`.
    pub calendar: Option<String>,
    /// `earlier` or `later`, where a clock time came twice or not at all.
    pub which: Option<String>,
    /// The house method of the table of houses; alcabitius unless said.
    pub houses: Option<String>,
    /// The latitude that the table of houses is made for, in degrees; the place's unless
    /// said.
    pub table_latitude: Option<f64>,
    /// At which hour the ephemeris has its days: `noon` unless said, or `midnight`.
    pub hour: Option<String>,
    /// Whether the Moon's second difference is taken.
    pub second_difference: bool,
    /// What is left out of the sum: `summer-time`, `zone`, `longitude`, `equation-of-time`.
    pub without: Vec<String>,
}

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
    /// Why what is found and calculation differ.
    pub why: WhyFoundAnswer,
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

/// Works a figure with the pen. `now_unix_s` is the time now, for requests that say so.
///
/// # Errors
/// When the request cannot be understood, or tables do not reach it.
pub fn reckoned(request: &ReckonRequest, now_unix_s: Option<f64>) -> Result<ReckonAnswer, Refusal> {
    let moment = understood(request, now_unix_s)?;
    let method = match &request.houses {
        None => Method::default(),
        Some(name) => name
            .parse()
            .map_err(|error: figure::UnknownMethod| Refusal::new(Field::Houses, error))?,
    };
    let given = given(&moment, method);
    let hand = hand(request, &given)?;
    let reckoned = reckon(&given, &hand).map_err(refused)?;
    let ideal = Hand::ideal(&given, moment.sky.obliquity(), hand.hour);
    let account = account(&given, exact(&moment, method), &ideal, &hand).map_err(refused)?;
    Ok(answer(&moment, &given, &hand, &reckoned, &account))
}

fn understood(request: &ReckonRequest, now_unix_s: Option<f64>) -> Result<Moment, Refusal> {
    if let Some(clock) = &request.clock
        && OldClock::named(clock).is_some()
    {
        return Err(Refusal::new(
            Field::Clock,
            format!(
                "with the pen one begins from a mean clock or the Sun's, and {} is an old \
                 reckoning; zone, mean, sun or an offset such as +01:00 would do",
                quoted(clock)
            ),
        ));
    }
    let said = MomentTexts {
        when: &request.when,
        zone: request.zone.as_deref(),
        clock: request.clock.as_deref(),
        calendar: request.calendar.as_deref(),
        which: request.which.as_deref(),
    };
    said.at(understood_place(&request.at)?, now_unix_s)
}

fn given(moment: &Moment, method: Method) -> Given {
    Given {
        date: moment.civil.date,
        clock_s: moment.civil.time.seconds(),
        kept: match (moment.clock, moment.standard_offset_s) {
            (Clock::Sun, _) => Kept::Sun,
            (_, Some(ahead_s)) => Kept::Standard {
                ahead_s,
                summer_s: moment.summer_time_s,
            },
            (_, None) => Kept::Mean,
        },
        latitude: moment.place.latitude,
        longitude: moment.place.longitude,
        method,
    }
}

/// As the person works, and by which tables.
fn hand(request: &ReckonRequest, given: &Given) -> Result<Hand, Refusal> {
    let table_latitude = match request.table_latitude {
        Some(deg) => Latitude::from_deg(deg).map_err(|error| Refusal::new(Field::Table, error))?,
        // As its title has it, to the minute.
        None => {
            let deg = (given.latitude.deg() * 60.0).round() / 60.0;
            Latitude::from_deg(deg).unwrap_or(given.latitude)
        }
    };
    let year = Ask {
        calendar: given.date.calendar(),
        ..Ask::of_year(given.date.year())
    };
    Ok(Hand {
        table_latitude,
        obliquity: year.obliquity().map_err(refused)?,
        hour: match &request.hour {
            Some(hour) => one_of(hour, Field::Hour, &DayHour::ALL, DayHour::name)?,
            None => DayHour::default(),
        },
        second_difference: request.second_difference,
        left_out: request
            .without
            .iter()
            .map(|name| one_of(name, Field::Without, &LeftOut::ALL, LeftOut::name))
            .collect::<Result<_, _>>()?,
        has_digits: true,
        has_rows: true,
    })
}

/// What calculation gives.
fn exact(moment: &Moment, method: Method) -> Found {
    let horizon = figure::Horizon {
        sidereal_time: moment.sidereal_time,
        obliquity: moment.sky.obliquity(),
        latitude: moment.place.latitude,
    };
    let cusps = method.cusps(&horizon).ok().map(|cusps| cusps.all());
    let midheaven = horizon.midheaven();
    let mut all = cusps.map_or([None; 12], |all| all.map(|cusp| Some(cusp.deg())));
    // The meridian has an answer where a method has none.
    all[House::X.index()] = Some(midheaven.deg());
    all[House::IV.index()] = Some((midheaven + Angle::HALF_TURN).in_turn().deg());
    let place = |body: Body| moment.sky.body(body).longitude.deg();
    Found::finished(midheaven.deg(), all, Body::ALL.map(place).to_vec())
}

fn answer(
    moment: &Moment,
    given: &Given,
    hand: &Hand,
    reckoned: &Reckoned,
    account: &Account,
) -> ReckonAnswer {
    let found = &reckoned.found;
    let within = &reckoned.within;
    ReckonAnswer {
        moment: WhenAnswer::of(moment),
        place: PlaceAnswer::of(&moment.place),
        tables: TablesUsedAnswer {
            houses: given.method.name(),
            latitude_deg: hand.table_latitude.deg(),
            obliquity_deg: hand.obliquity.deg(),
            hour: hand.hour.name(),
            second_difference: hand.second_difference,
        },
        found: FoundAnswer {
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
            ascendant: why(account, Quantity::Ascendant, "The ascendant"),
            midheaven: why(account, Quantity::Midheaven, "The midheaven"),
            cusps: House::ALL
                .iter()
                .map(|house| why(account, Quantity::Cusp(*house), &format!("Cusp {house}")))
                .collect(),
            bodies: Body::ALL
                .iter()
                .map(|body| WhyBodyAnswer {
                    name: body.name(),
                    why: why(account, Quantity::Place(*body), &begun(*body)),
                })
                .collect(),
            fortune: why(account, Quantity::Fortune, "The lot of Fortune"),
        },
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

fn why(account: &Account, quantity: Quantity, name: &str) -> WhyOne {
    let Some(why) = account.why(quantity) else {
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
