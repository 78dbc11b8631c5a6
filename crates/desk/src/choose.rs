use ::moment::Moment;
use figure::{Almanac, Choices, Choosing, Condition, Method, Site, Spans};
use patience::Patience;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use sky::{Instant, Plain};

use crate::answer::{CalendarAnswer, ClockTimeAnswer, PlaceAnswer, RuleAnswer};
use crate::choose_wish::{FORMS, Wanted, Wish};
use crate::figure_case::{FigureRequest, choices};
use crate::moment::understood_place;
use crate::moment_texts::MomentTexts;
use crate::refusal::{Field, Refusal, quoted};

/// What is asked when a time is sought: between when, where, and what is wished. The same
/// keys make a file, in TOML, with `version = 1`.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct ChooseRequest {
    /// The earliest moment, `YYYY-MM-DD`, with `HH:MM` if wished, or `now`.
    pub from: String,
    /// The latest; a date alone is meant with all its day.
    pub to: String,
    /// A town or coordinates.
    pub at: String,
    /// The zone, instead of the place's own.
    pub zone: Option<String>,
    /// `zone` (unless said), `mean`, `sun`, or an offset such as `+01:00`.
    pub clock: Option<String>,
    /// `gregorian` or `julian`.
    pub calendar: Option<String>,
    /// What must hold, all of it: `Moon waxing`, `hour of Venus`; see [`choose_forms`].
    pub must: Vec<String>,
    /// What had rather hold: the more of it, the better a time.
    pub rather: Vec<String>,
    /// The shortest time that is of use, in minutes; 1 unless said.
    pub lasting_min: Option<f64>,
    /// The house method; alcabitius unless said.
    pub houses: Option<String>,
    /// Where houses begin to count: `cusp` or `five-degrees`.
    pub border: Option<String>,
    /// What is taken for sunrise: `centre` or `upper-limb`.
    pub sunrise: Option<String>,
    /// The terms: `egyptian`, `ptolemy` or `lilly`.
    pub terms: Option<String>,
    /// The rulers of triplicities: `lilly`, `ptolemy` or `dorotheus`.
    pub triplicities: Option<String>,
    /// The orbs: `lilly`, `lilly-smaller` or `biruni`.
    pub orbs: Option<String>,
    /// The limits of the Sun's beams: `lilly`, `middleton` or `paulus`.
    pub beams: Option<String>,
}

/// The times at which all that must hold does, the best first. What holds is said, and
/// never what it means.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct ChooseAnswer {
    /// The place.
    pub place: PlaceAnswer,
    /// The zone by whose clock times are said; null for other clocks.
    pub zone: Option<String>,
    /// The calendar of the dates: `gregorian` or `julian`.
    pub calendar: CalendarAnswer,
    /// The earliest moment looked at, on the clock.
    pub from: ClockTimeAnswer,
    /// The latest.
    pub until: ClockTimeAnswer,
    /// The same in UTC.
    pub from_utc: String,
    /// The same in UTC.
    pub until_utc: String,
    /// The earliest moment, as a Julian date of Universal Time.
    pub from_jd_ut: f64,
    /// The wishes: first what must hold, then what had rather.
    pub wishes: Vec<WishAnswer>,
    /// By which rules, with where they are in print.
    pub rules: Vec<RuleAnswer>,
    /// The times, ranked.
    pub times: Vec<TimeAnswer>,
    /// Where there is none, at which wish it ended; else how much there is.
    pub summary: String,
}

/// A wish.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct WishAnswer {
    /// As it was written.
    pub text: String,
    /// What it was taken for.
    pub means: String,
    /// Whether it must hold, or had rather.
    pub must: bool,
    /// For how long it holds alone, in seconds.
    pub holds_s: f64,
    /// For how long all that must hold, up to and with this wish, does; null for what had
    /// rather hold.
    pub left_s: Option<f64>,
}

/// A time.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct TimeAnswer {
    /// 1 where most of what had rather hold does; as many as have as much share a rank.
    pub rank: usize,
    /// When it begins, on the clock, to the second.
    pub from: ClockTimeAnswer,
    /// When it ends.
    pub until: ClockTimeAnswer,
    /// The same in UTC.
    pub from_utc: String,
    /// The same in UTC.
    pub until_utc: String,
    /// When it begins, as a Julian date of Universal Time.
    pub from_jd_ut: f64,
    /// When it ends.
    pub until_jd_ut: f64,
    /// How long it is, in seconds.
    pub lasts_s: f64,
    /// What of that which had rather hold does, throughout.
    pub holds: Vec<String>,
    /// What does not.
    pub lacks: Vec<String>,
}

/// A form that a wish can have.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct WishForm {
    /// An example.
    pub example: &'static str,
    /// What it asks.
    pub asks: &'static str,
}

/// The forms that a wish can have.
#[must_use]
pub fn choose_forms() -> Vec<WishForm> {
    let form = |(example, asks)| WishForm { example, asks };
    FORMS.map(form).to_vec()
}

/// The most that is looked through, in days; and the most wishes.
const MOST_DAYS: f64 = 3660.0;
const MOST_WISHES: usize = 24;
/// The most wishes for houses, each counted by the days that are looked through: cusps that
/// a body meets take ten times as long to find as anything else.
const MOST_HOUSE_DAYS: f64 = 9000.0;
/// More times than this nobody looks through.
const MOST_TIMES: usize = 5000;
/// A file is no longer than this.
const MOST_BYTES: usize = 64 * 1024;

const DAY_S: f64 = 86_400.0;

impl ChooseRequest {
    /// Reads what is asked from the text of a file.
    ///
    /// # Errors
    /// When the text is no such file; the message says on which line and what would do.
    pub fn from_toml(text: &str) -> Result<ChooseRequest, Refusal> {
        let refused = |why: &str| Refusal::new(Field::Wish, format!("the file of wishes {why}"));
        if text.len() > MOST_BYTES {
            return Err(refused("is longer than 64 KB; a shorter one would do"));
        }
        let mut table: toml::Table =
            toml::from_str(text).map_err(|error| refused(error.to_string().trim()))?;
        match table.remove("version") {
            Some(toml::Value::Integer(1)) => {}
            Some(other) => {
                let shown = quoted(&other.to_string());
                return Err(refused(&format!(
                    "is of version {shown}; version = 1 would do"
                )));
            }
            None => return Err(refused("says no version; version = 1 would do")),
        }
        let read = ChooseRequest::deserialize(table);
        read.map_err(|error| refused(&format!("is not understood: {}", error.message())))
    }
}

/// Seeks the times at which all that must hold does, and ranks them by what had rather.
/// Every beginning and end is found, to the second.
///
/// # Errors
/// When the request cannot be understood, asks beyond the ephemeris, or nobody waits any
/// longer.
pub fn choose(
    request: &ChooseRequest,
    now_unix_s: Option<f64>,
    patience: Patience<'_>,
) -> Result<ChooseAnswer, Refusal> {
    let search = Search::of(request, now_unix_s)?;
    let bounds = search.almanac.bounds();
    let mut left = Spans::one(bounds.0, bounds.1);
    let mut wishes = Vec::new();
    let all = search.must.len() + search.rather.len();
    for (number, wish) in search.must.iter().enumerate() {
        patience.at(number, all)?;
        let holds = search.spans(wish)?;
        left = left.and(&holds);
        wishes.push(wish.answer(&holds, Some(&left)));
    }
    let rathers = search
        .rather
        .iter()
        .zip(search.must.len()..)
        .map(|(wish, number)| {
            patience.at(number, all)?;
            search.spans(wish)
        })
        .collect::<Result<Vec<Spans>, Refusal>>()?;
    let both = search.rather.iter().zip(&rathers);
    wishes.extend(both.map(|(wish, holds)| wish.answer(holds, None)));

    let least_s = search.least_s;
    let left = left.lasting(least_s);
    let mut pieces = left.cut_by(&rathers);
    pieces.retain(|piece| piece.until - piece.from >= least_s);
    if pieces.len() > MOST_TIMES {
        return Err(Refusal::new(
            Field::Wish,
            format!(
                "there are {} such times, more than anyone looks through; another wish that must hold, or an earlier end, would do",
                pieces.len()
            ),
        ));
    }
    let count = |holds: &[bool]| holds.iter().filter(|one| **one).count();
    // The sort keeps the order of time among equals.
    pieces.sort_by_key(|piece| std::cmp::Reverse(count(&piece.holds)));
    let mut times: Vec<TimeAnswer> = Vec::new();
    let mut last = None;
    for piece in &pieces {
        let held = count(&piece.holds);
        let rank = match (last, times.last()) {
            (Some(before), Some(time)) if before == held => time.rank,
            _ => times.len() + 1,
        };
        last = Some(held);
        times.push(search.time(piece, rank)?);
    }
    Ok(ChooseAnswer {
        place: PlaceAnswer::of(search.first.place()),
        zone: search.first.zone().map(|zone| zone.name().to_owned()),
        calendar: CalendarAnswer(search.first.civil().date.calendar()),
        from: search.clock(bounds.0)?,
        until: search.clock(bounds.1)?,
        from_utc: search.utc(bounds.0),
        until_utc: search.utc(bounds.1),
        from_jd_ut: search.to_second(bounds.0).jd_ut(),
        summary: summary(&wishes, &times, least_s),
        wishes,
        rules: search.rules(),
        times,
    })
}

/// A request understood.
struct Search {
    first: Moment,
    almanac: Almanac,
    site: Site,
    choices: Choices,
    must: Vec<Wish>,
    rather: Vec<Wish>,
    least_s: f64,
}

impl Search {
    fn of(request: &ChooseRequest, now_unix_s: Option<f64>) -> Result<Search, Refusal> {
        let place = understood_place(&request.at)?;
        let moment = |when: &str, field: Field| {
            let texts = MomentTexts {
                when,
                zone: request.zone.as_deref(),
                clock: request.clock.as_deref(),
                calendar: request.calendar.as_deref(),
                which: Some("earlier"),
            };
            texts
                .at(place.clone(), now_unix_s)
                .map_err(|refusal| Refusal {
                    field: if refusal.field == Field::When {
                        field
                    } else {
                        refusal.field
                    },
                    ..refusal
                })
        };
        let first = moment(&with_time(&request.from), Field::From)?;
        let last = moment(&with_time(&request.to), Field::To)?;
        let until = if is_date(&request.to) {
            last.day().map_err(|error| Refusal::new(Field::To, error))?[1]
        } else {
            last.instant()
        };
        let days = until.seconds_since(first.instant()) / DAY_S;
        if days <= 0.0 {
            return Err(Refusal::new(
                Field::To,
                format!(
                    "the end {} is not after the beginning {}; a later one would do",
                    quoted(&request.to),
                    quoted(&request.from)
                ),
            ));
        }
        if days > MOST_DAYS {
            return Err(Refusal::new(
                Field::To,
                format!(
                    "from {} to {} are {days:.0} days; ten years at once would do",
                    quoted(&request.from),
                    quoted(&request.to)
                ),
            ));
        }
        let choices = rules(request)?;
        let wishes = |texts: &[String]| {
            let wishes = texts.iter().map(|text| Wish::parse(text, choices.orbs));
            wishes.collect::<Result<Vec<Wish>, Refusal>>()
        };
        let (must, rather) = (wishes(&request.must)?, wishes(&request.rather)?);
        if must.is_empty() || must.len() + rather.len() > MOST_WISHES {
            return Err(Refusal::new(
                Field::Wish,
                format!(
                    "{} wishes that must hold and {} that had rather are not looked for; one that must and {MOST_WISHES} in all would do",
                    must.len(),
                    rather.len()
                ),
            ));
        }
        let of_houses = must
            .iter()
            .chain(&rather)
            .filter(|wish| matches!(wish.wanted, Wanted::Sky(Condition::InHouse(..))))
            .count() as f64;
        if of_houses * days > MOST_HOUSE_DAYS {
            return Err(Refusal::new(
                Field::Wish,
                format!(
                    "{of_houses} wishes for planets in houses, over {days:.0} days, are not looked for at once; {:.0} days, or {:.0} such wishes, would do",
                    (MOST_HOUSE_DAYS / of_houses).floor(),
                    (MOST_HOUSE_DAYS / days).floor(),
                ),
            ));
        }
        let least_min = request.lasting_min.unwrap_or(1.0);
        if !(0.0..=14_400.0).contains(&least_min) {
            return Err(Refusal::new(
                Field::Wish,
                format!(
                    "times lasting {} minutes are not looked for; 0 to 14400 would do",
                    Plain(least_min)
                ),
            ));
        }
        let almanac =
            Almanac::of(first.instant(), until).map_err(|error| Refusal::new(Field::To, error))?;
        let site = Site {
            latitude: first.place().latitude,
            longitude: first.place().longitude,
        };
        Ok(Search {
            first,
            almanac,
            site,
            choices,
            must,
            rather,
            least_s: least_min * 60.0,
        })
    }

    /// When a wish is met.
    fn spans(&self, wish: &Wish) -> Result<Spans, Refusal> {
        let bounds = self.almanac.bounds();
        let holds = match &wish.wanted {
            Wanted::Sky(condition) => {
                let ahead = |instant| self.ahead_s(instant);
                let choosing = Choosing {
                    almanac: &self.almanac,
                    site: self.site,
                    choices: &self.choices,
                    clock_ahead_of_ut_s: &ahead,
                };
                let of_house = matches!(condition, figure::Condition::InHouse(..));
                if of_house && !choosing.has_houses() {
                    return Err(Refusal::new(
                        Field::Houses,
                        format!(
                            "houses by {} are not sought beyond {}° of latitude, where they are not always to be had; whole-sign and equal would do",
                            self.choices.method,
                            Plain(Choosing::HOUSES_TO_DEG)
                        ),
                    ));
                }
                choosing
                    .spans(condition)
                    .map_err(|error| Refusal::new(Field::From, error))?
            }
            Wanted::Clock(from, until) => self.by_clock(&[*from, *until], |_, seconds| {
                if from < until {
                    (*from..*until).contains(&seconds)
                } else {
                    seconds >= *from || seconds < *until
                }
            }),
            Wanted::Weekday(days) => self.by_clock(&[0.0], |day, _| {
                // Julian day 0 was a Monday.
                days.contains(&day.rem_euclid(7))
            }),
        };
        Ok(if wish.negated {
            holds.not(bounds)
        } else {
            holds
        })
    }

    /// When something holds that hangs on the clock's day and its seconds since midnight
    /// alone, and changes at the times of day that are named. The clock itself is put
    /// forward or back between two of its readings, six hours apart: such a change is
    /// narrowed down to the second, and is a boundary too.
    fn by_clock(&self, times_of_day: &[f64], holds: impl Fn(i32, f64) -> bool) -> Spans {
        const READ_EVERY_S: f64 = 21_600.0;
        let instant = |at: f64| self.almanac.from().plus_seconds(at);
        let ahead = |at: f64| self.ahead_s(instant(at));
        let shown = |at: f64| {
            let (day, fraction) = instant(at).ut_parts();
            let seconds = fraction * DAY_S + ahead(at);
            // Half a millisecond past the reading that is meant.
            let days = ((seconds + 5e-4) / DAY_S).floor();
            ((day + 0.5 + days) as i32, seconds - days * DAY_S)
        };
        let (from, until) = self.almanac.bounds();
        let mut seams = Vec::new();
        let mut at = from - DAY_S;
        while at < until + DAY_S {
            let (_, since_midnight) = shown(at);
            for time in times_of_day {
                let seam = at - since_midnight + time;
                // The clock may have changed in between.
                seams.push(seam + (ahead(at) - ahead(seam)));
                seams.push(seam);
            }
            let (mut before, mut after) = (at, at + READ_EVERY_S);
            let was = ahead(before);
            if (ahead(after) - was).abs() > 1.0 {
                while after - before > 0.5e-3 {
                    let middle = f64::midpoint(before, after);
                    if (ahead(middle) - was).abs() > 1.0 {
                        after = middle;
                    } else {
                        before = middle;
                    }
                }
                seams.push(after);
            }
            at += READ_EVERY_S;
        }
        Spans::between(seams, (from, until), |at| {
            let (day, seconds) = shown(at);
            holds(day, seconds)
        })
    }

    /// How far the clock is ahead of UT.
    fn ahead_s(&self, instant: Instant) -> f64 {
        let mean_s = self.first.place().longitude.deg() * 240.0;
        let Ok(clock) = self.first.clock_at(instant) else {
            return mean_s;
        };
        let (day, fraction) = instant.ut_parts();
        let days = f64::from(clock.date.julian_day_number()) - 0.5 - day;
        days * DAY_S + clock.time.seconds() - fraction * DAY_S
    }

    /// What the clock shows, to the second.
    fn clock(&self, at: f64) -> Result<ClockTimeAnswer, Refusal> {
        let shown = self.first.clock_at(self.to_second(at));
        shown
            .map(ClockTimeAnswer)
            .map_err(|error| Refusal::new(Field::To, error))
    }

    fn utc(&self, at: f64) -> String {
        self.first
            .utc()
            .plus_seconds(self.ut_seconds(at))
            .to_string()
    }

    /// The nearest whole second of UT.
    fn to_second(&self, at: f64) -> Instant {
        let (day, fraction) = self.almanac.from().plus_seconds(at).ut_parts();
        Instant::from_ut(day, (fraction * DAY_S).round() / DAY_S)
    }

    /// Since the beginning, in seconds of UT, to the second.
    fn ut_seconds(&self, at: f64) -> f64 {
        let (from_day, from) = self.first.instant().ut_parts();
        let (day, fraction) = self.to_second(at).ut_parts();
        (day - from_day) * DAY_S + (fraction - from) * DAY_S
    }

    fn time(&self, piece: &figure::Piece, rank: usize) -> Result<TimeAnswer, Refusal> {
        let [from, until] = [piece.from, piece.until].map(|at| self.to_second(at).jd_ut());
        let names = |wanted: bool| {
            let both = self.rather.iter().zip(&piece.holds);
            let those = both.filter(|(_, holds)| **holds == wanted);
            those.map(|(wish, _)| wish.text.clone()).collect()
        };
        Ok(TimeAnswer {
            rank,
            from: self.clock(piece.from)?,
            until: self.clock(piece.until)?,
            from_utc: self.utc(piece.from),
            until_utc: self.utc(piece.until),
            from_jd_ut: from,
            until_jd_ut: until,
            lasts_s: (piece.until - piece.from).round(),
            holds: names(true),
            lacks: names(false),
        })
    }

    fn rules(&self) -> Vec<RuleAnswer> {
        let choices = &self.choices;
        let tables = choices.dignities;
        let rule = |rule, choice, source| RuleAnswer {
            rule,
            choice,
            source,
        };
        vec![
            rule("houses", choices.method.name(), choices.method.source()),
            rule("border", choices.border.name(), choices.border.source()),
            rule("sunrise", choices.sunrise.name(), choices.sunrise.source()),
            rule("terms", tables.terms.name(), tables.terms.source()),
            rule(
                "triplicities",
                tables.triplicities.name(),
                tables.triplicities.source(),
            ),
            rule("orbs", choices.orbs.name(), choices.orbs.source()),
            rule("beams", choices.beams.name(), choices.beams.source()),
        ]
    }
}

impl Wish {
    fn answer(&self, holds: &Spans, left: Option<&Spans>) -> WishAnswer {
        WishAnswer {
            text: self.text.clone(),
            means: self.means.clone(),
            must: left.is_some(),
            holds_s: holds.total_s().round(),
            left_s: left.map(|left| left.total_s().round()),
        }
    }
}

fn rules(request: &ChooseRequest) -> Result<Choices, Refusal> {
    let method: Method = match &request.houses {
        None => Method::default(),
        Some(name) => name
            .parse()
            .map_err(|error| Refusal::new(Field::Houses, error))?,
    };
    Ok(Choices {
        method,
        ..choices(&FigureRequest {
            border: request.border.clone(),
            sunrise: request.sunrise.clone(),
            terms: request.terms.clone(),
            triplicities: request.triplicities.clone(),
            orbs: request.orbs.clone(),
            beams: request.beams.clone(),
            ..FigureRequest::default()
        })?
    })
}

fn is_date(when: &str) -> bool {
    let when = when.trim();
    !when.contains(':') && !when.eq_ignore_ascii_case("now")
}

fn with_time(when: &str) -> String {
    if is_date(when) {
        format!("{} 00:00", when.trim())
    } else {
        when.to_owned()
    }
}

fn summary(wishes: &[WishAnswer], times: &[TimeAnswer], least_s: f64) -> String {
    if times.is_empty() {
        let spent = wishes
            .iter()
            .position(|wish| wish.left_s.is_some_and(|left| left < least_s.max(1.0)));
        let Some(spent) = spent.and_then(|at| wishes.get(at).map(|wish| (at, wish))) else {
            return "All that must hold does, but never for so long at once".to_owned();
        };
        let (at, wish) = spent;
        if wish.holds_s < 1.0 {
            return format!("“{}” never holds in this time", wish.text);
        }
        let before = at.checked_sub(1).and_then(|before| wishes.get(before));
        let left = before.and_then(|before| before.left_s).unwrap_or_default();
        return format!(
            "All before “{}” holds for {} together, and then it never does",
            wish.text,
            length(left)
        );
    }
    let total: f64 = times.iter().map(|time| time.lasts_s).sum();
    let count = match times.len() {
        1 => "1 time".to_owned(),
        count => format!("{count} times"),
    };
    format!("{count}, {} together", length(total))
}

/// A length of time as one says it: `2 d 3 h`, `41 min`, `12 s`.
pub(crate) fn length(seconds: f64) -> String {
    let whole = seconds.round();
    if whole < 60.0 {
        return format!("{whole:.0} s");
    }
    let minutes = (seconds / 60.0).round();
    let (hours, days) = ((minutes / 60.0).floor(), (minutes / 1440.0).floor());
    if minutes < 60.0 {
        format!("{minutes:.0} min")
    } else if days < 1.0 {
        format!("{hours:.0} h {:02.0} min", minutes % 60.0)
    } else {
        format!("{days:.0} d {:.0} h", hours % 24.0)
    }
}
