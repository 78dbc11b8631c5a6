//! A figure from a printout or a book: which method, clock, calendar, place would
//! give it? Every departure is a case understood anew.

use figure::{Horizon, Method};
use moment::{Calendar, Clock, Moment, Place, UtcOffset};
use practice::{ReadingVerdict, Value, off};
use sky::{Angle, House};

use crate::answer::{
    CorrectAnswer, CorrectReading, ExplanationAnswer, JudgedAnswer, MomentAnswer, PlaceAnswer,
    SlipAnswer,
};
use crate::casting::{Casting, told_moment};
use crate::given_reading::{GivenReading, ReadingOf};
use crate::judging::{told as told_values, verdict};
use crate::moment::ToldMoment;
use crate::refusal::Refusal;
use crate::request::CastRequest;

/// Another understanding of the same case.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Departure {
    SummerTimeForgotten,
    LocalMeanTime,
    SunTime,
    GreenwichTime,
    OtherCalendar,
    HalfADay,
    HourLate,
    HourEarly,
    WestForEast,
    SouthForNorth,
    GeocentricLatitude,
    /// The figure is for some quarters of a minute later.
    Minutes(i16),
}

impl Departure {
    const ALL: [Departure; 11] = [
        Departure::SummerTimeForgotten,
        Departure::LocalMeanTime,
        Departure::SunTime,
        Departure::GreenwichTime,
        Departure::OtherCalendar,
        Departure::HalfADay,
        Departure::HourLate,
        Departure::HourEarly,
        Departure::WestForEast,
        Departure::SouthForNorth,
        Departure::GeocentricLatitude,
    ];

    fn words(self) -> [&'static str; 3] {
        match self {
            Departure::SummerTimeForgotten => [
                "summer-time-forgotten",
                "The time was taken without summer time.",
                "Give the time as the clock showed it, or with the right offset.",
            ],
            Departure::LocalMeanTime => [
                "local-mean-time",
                "The time was taken as local mean time.",
                "Ask with --clock mean.",
            ],
            Departure::SunTime => [
                "local-apparent-time",
                "The time was taken as the Sun's own.",
                "Ask with --clock sun.",
            ],
            Departure::GreenwichTime => [
                "greenwich-time",
                "The time was taken as Greenwich time.",
                "Ask with --clock +00:00.",
            ],
            Departure::OtherCalendar => [
                "other-calendar",
                "The date was taken in the other calendar.",
                "Ask with --calendar julian or gregorian.",
            ],
            Departure::HalfADay => [
                "half-a-day",
                "Morning was taken for evening, or evening for morning.",
                "Give the hour from 0 to 24.",
            ],
            Departure::HourLate => [
                "hour-late",
                "The figure is for an hour later.",
                "Ask for the zone, and whether summer time was in force.",
            ],
            Departure::HourEarly => [
                "hour-early",
                "The figure is for an hour earlier.",
                "Ask for the zone, and whether summer time was in force.",
            ],
            Departure::WestForEast => [
                "west-for-east",
                "The longitude was taken on the other side of Greenwich.",
                "East is positive here.",
            ],
            Departure::SouthForNorth => [
                "south-for-north",
                "The latitude was taken in the other hemisphere.",
                "North is positive here.",
            ],
            Departure::GeocentricLatitude => [
                "geocentric-latitude",
                "The latitude was reduced to the Earth's centre before use.",
                "The horizon stands square to the plumb line: the latitude of the map is used as it is.",
            ],
            Departure::Minutes(later) if later < 0 => [
                "minutes-early",
                "The figure is for some minutes earlier.",
                "Ask how exactly the time is known, and for which town the figure was cast.",
            ],
            Departure::Minutes(_) => [
                "minutes-late",
                "The figure is for some minutes later.",
                "Ask how exactly the time is known, and for which town the figure was cast.",
            ],
        }
    }

    /// The same in words, where it has a size.
    fn by_how_much(self) -> Option<String> {
        let Departure::Minutes(quarters) = self else {
            return None;
        };
        let way = if quarters < 0 { "earlier" } else { "later" };
        let minutes = f64::from(quarters.abs()) / 4.0;
        Some(format!("The figure is for {minutes:.1} minutes {way}."))
    }

    /// The moment understood in the other way, or as it is where the departure is one of
    /// the case; none where there is no occasion to.
    fn of_moment(self, told: ToldMoment, moment: &Moment) -> Option<ToldMoment> {
        match self {
            Departure::SummerTimeForgotten => {
                let offset = UtcOffset::from_seconds(moment.standard_offset_s()?)?;
                let had_summer_time = moment.summer_time_s() != 0.0;
                had_summer_time.then(|| told.by_clock(Clock::Offset(offset)))
            }
            Departure::LocalMeanTime => {
                moment.standard_offset_s()?;
                Some(told.by_clock(Clock::Mean))
            }
            Departure::SunTime => (moment.clock() != Clock::Sun).then(|| told.by_clock(Clock::Sun)),
            Departure::GreenwichTime => (moment.utc_offset_s() != Some(0.0))
                .then(|| told.by_clock(Clock::Offset(UtcOffset::default()))),
            Departure::OtherCalendar => {
                Some(told.in_calendar(match moment.civil().date.calendar() {
                    Calendar::Julian => Calendar::Gregorian,
                    Calendar::Gregorian => Calendar::Julian,
                }))
            }
            Departure::WestForEast => {
                let place = moment.place();
                let west = Place::at(place.latitude.deg(), -place.longitude.deg()).ok()?;
                let zone = told.zone().or(moment.zone());
                Some(told.of_place(west, zone))
            }
            // These are made to the case itself.
            Departure::HalfADay
            | Departure::HourLate
            | Departure::HourEarly
            | Departure::SouthForNorth
            | Departure::GeocentricLatitude
            | Departure::Minutes(_) => Some(told),
        }
    }

    fn of_horizon(self, horizon: &mut figure::Horizon) {
        /// Sidereal time gains so much on the clock.
        const SIDEREAL: f64 = 1.002_737_909;
        let later = |hours: f64| Angle::from_hours(hours * SIDEREAL);
        match self {
            Departure::HalfADay => horizon.sidereal_time += later(12.0),
            Departure::HourLate => horizon.sidereal_time += later(1.0),
            Departure::HourEarly => horizon.sidereal_time -= later(1.0),
            Departure::SouthForNorth => horizon.latitude = -horizon.latitude,
            Departure::GeocentricLatitude => {
                // (1 − f)² of the Earth's ellipsoid (WGS 84).
                let tangent = horizon.latitude.tan() * 0.993_305_620;
                let angle = Angle::atan2(tangent, 1.0);
                horizon.latitude = sky::Latitude::from_deg(angle.deg()).unwrap_or(horizon.latitude);
            }
            Departure::Minutes(quarters) => {
                horizon.sidereal_time += later(f64::from(quarters) / 240.0);
            }
            Departure::SummerTimeForgotten
            | Departure::LocalMeanTime
            | Departure::SunTime
            | Departure::GreenwichTime
            | Departure::OtherCalendar
            | Departure::WestForEast => {}
        }
    }
}

/// A clock is put off by no more than so many quarters of a minute, to see whether a
/// figure is for another time.
const MOST_QUARTERS: i16 = 80;

/// What a printed degree may be off beside how finely it is written, 4′: tables were
/// entered at the nearest row, and sums were rounded (common practice).
const PRINTED: f64 = 4.0 / 60.0;

pub(crate) fn explained(
    request: &CastRequest,
    casting: &Casting,
    readings: &[GivenReading],
    now_unix_s: Option<f64>,
) -> Result<CorrectAnswer, Refusal> {
    let told = told_moment(request)?;
    let mut tried = Vec::new();
    let mut sets: Vec<Vec<Departure>> = vec![Vec::new()];
    sets.extend(Departure::ALL.into_iter().map(|one| vec![one]));
    for (index, one) in Departure::ALL.into_iter().enumerate() {
        sets.extend(
            Departure::ALL
                .into_iter()
                .skip(index + 1)
                .map(|other| vec![one, other]),
        );
    }
    // What is put off by a minute or so is nearer to everything else, too.
    let minutes = (-MOST_QUARTERS..=MOST_QUARTERS).filter(|quarters| *quarters != 0);
    for departures in sets {
        let understood = departures.iter().try_fold(told.clone(), |told, one| {
            one.of_moment(told, &casting.moment)
        });
        // A departure that cannot be understood explains nothing.
        let moment = understood.map(|told| told.moment(now_unix_s));
        let Some(Ok(moment)) = moment else {
            continue;
        };
        let case = Casting {
            moment,
            ..casting.clone()
        };
        let mut horizon = case.horizon();
        departures
            .iter()
            .for_each(|one| one.of_horizon(&mut horizon));
        for method in Method::ALL {
            let shows = |horizon: &Horizon| shows(&case, method, horizon, readings);
            if let Some(shows) = shows(&horizon) {
                tried.push(Tried::of(
                    departures.clone(),
                    method,
                    readings,
                    shows,
                    casting.method,
                ));
            }
            if departures.is_empty() && method == casting.method {
                let moved = minutes.clone().filter_map(|quarters| {
                    let off = Departure::Minutes(quarters);
                    let mut horizon = horizon;
                    off.of_horizon(&mut horizon);
                    let shows = shows(&horizon)?;
                    Some(Tried::of(vec![off], method, readings, shows, method))
                });
                let best = moved.min_by(|a, b| a.score.total_cmp(&b.score));
                tried.extend(best);
            }
        }
    }
    let as_asked = tried.iter().find(|one| one.is_as_asked()).cloned();
    if let Some(as_asked) = &as_asked {
        // What comes nearer by less than the readings are fine explains nothing.
        let fine = as_printed(readings);
        let limit = as_asked.off - fine;
        tried.retain(|one| one.is_as_asked() || one.off < limit);
    }
    tried.sort_by(|a, b| a.score.total_cmp(&b.score));
    let answers = readings.iter().enumerate().map(|(index, reading)| {
        let shown = as_asked.as_ref().and_then(|one| one.shows.get(index));
        let should = shown.copied().flatten();
        let within = reading.what.measure().amount(within(reading));
        match should {
            Some(should) => {
                let right = should.to(reading.value).number().abs() <= within.number();
                let mark = if right {
                    ReadingVerdict::Right
                } else {
                    ReadingVerdict::Wrong
                };
                CorrectReading::against(reading, should, within, mark)
            }
            None => CorrectReading::read(reading),
        }
    });
    let answers: Vec<CorrectReading> = answers.collect();
    let right = answers
        .iter()
        .all(|one| one.mark == ReadingVerdict::Right.name());
    let fits = tried.first().is_some_and(|best| {
        if best.is_as_asked() {
            right
        } else {
            best.misfit < 2.5
        }
    });
    let explanations = ranked(&tried, readings);
    let (verdict, sentence) = verdict(fits, &explanations, &answers);
    Ok(CorrectAnswer {
        moment: MomentAnswer::of(&casting.moment),
        place: PlaceAnswer::of(casting.moment.place()),
        instrument: None,
        by: None,
        judged: JudgedAnswer {
            readings: answers,
            verdict,
            sentence,
            plate: None,
            explanations,
        },
    })
}

/// What a figure shows of what is read; nothing where the method has no cusps.
fn shows(
    case: &Casting,
    method: Method,
    horizon: &Horizon,
    readings: &[GivenReading],
) -> Option<Vec<Option<Value>>> {
    let cusps = method.cusps(horizon).ok()?;
    let cusp = |house: House| Some(cusps.get(house));
    let sun = case.moment.sky().sun().longitude;
    let local = Angle::from_hours(case.moment.local_apparent_time_h()) - Angle::HALF_TURN;
    let shown = |reading: &GivenReading| match reading.what {
        ReadingOf::LocalTime => Some(local),
        ReadingOf::SunDegree => Some(sun),
        ReadingOf::Ascendant => horizon.ascendant().ok(),
        ReadingOf::Midheaven => Some(horizon.midheaven()),
        ReadingOf::Cusp(house) => cusp(house),
        // A printed figure has no more than these.
        ReadingOf::Found(_) => None,
    };
    let of_kind = |reading: &GivenReading| reading.what.measure().of_angle(shown(reading)?);
    Some(readings.iter().map(of_kind).collect())
}

/// How far off, in degrees, a printed reading is right.
fn within(reading: &GivenReading) -> f64 {
    reading.written_to.number() / 2.0 + PRINTED
}

/// How fine the readings are on the whole, in degrees.
fn as_printed(readings: &[GivenReading]) -> f64 {
    let squares: f64 = readings.iter().map(|one| within(one).powi(2)).sum();
    (squares / readings.len().max(1) as f64).sqrt()
}

#[derive(Clone)]
struct Tried {
    departures: Vec<Departure>,
    method: Method,
    other_method: bool,
    shows: Vec<Option<Value>>,
    misfit: f64,
    /// How far off the readings are on the whole, in degrees.
    off: f64,
    score: f64,
}

/// What another method, or another understanding, costs an explanation.
const COST: f64 = 9.0;

impl Tried {
    fn of(
        departures: Vec<Departure>,
        method: Method,
        readings: &[GivenReading],
        shows: Vec<Option<Value>>,
        asked: Method,
    ) -> Tried {
        let offs = || {
            readings.iter().zip(&shows).map(|(reading, shown)| {
                let value = reading.value;
                let off = shown.map(|shown| off(value, reading.written_to, shown).number());
                // The sign alone says where in it nothing stands.
                let fine = reading.written_to.number().min(1.0);
                (off.unwrap_or(180.0), libm::hypot(fine, PRINTED))
            })
        };
        let square: f64 = offs().map(|(off, fine)| (off / fine).powi(2)).sum();
        let squares: f64 = offs().map(|(off, _)| off * off).sum();
        let count = readings.len().max(1) as f64;
        let changes = departures.len() + usize::from(method != asked);
        Tried {
            misfit: (square / count).sqrt(),
            off: (squares / count).sqrt(),
            score: square + COST * changes as f64,
            other_method: method != asked,
            departures,
            method,
            shows,
        }
    }

    fn is_as_asked(&self) -> bool {
        self.departures.is_empty() && !self.other_method
    }

    fn slips(&self) -> Vec<SlipAnswer> {
        let departures = self.departures.iter().map(|one| {
            let [name, words, mend] = one.words();
            SlipAnswer {
                name: name.to_owned(),
                words: one.by_how_much().unwrap_or_else(|| words.to_owned()),
                mend: mend.to_owned(),
            }
        });
        let method = self.other_method.then(|| SlipAnswer {
            name: format!("houses-{}", self.method),
            words: format!("The houses are {}.", self.method),
            mend: format!("Ask with --houses {}.", self.method),
        });
        departures.chain(method).collect()
    }
}

fn ranked(tried: &[Tried], readings: &[GivenReading]) -> Vec<ExplanationAnswer> {
    let best = tried.first().map_or(0.0, |best| best.score);
    let likelihood = |one: &Tried| libm::exp(-(one.score - best) / 2.0);
    let all: f64 = tried.iter().map(likelihood).sum();
    let mut leaders: Vec<&Tried> = Vec::new();
    let mut explanations = Vec::new();
    for one in tried.iter().take(60) {
        let alike =
            |leader: &&Tried| leader.slips().len() == one.slips().len() && same(leader, one);
        let simpler = leaders
            .iter()
            .any(|leader| leader.slips().len() < one.slips().len() && same(leader, one));
        if simpler {
            continue;
        }
        let rank = match leaders.iter().position(alike) {
            Some(index) => index + 1,
            None => {
                leaders.push(one);
                leaders.len()
            }
        };
        if rank > 6 {
            continue;
        }
        let shows = readings.iter().zip(&one.shows);
        let (shows_deg, shows_text) =
            told_values(shows.map(|(reading, shown)| (reading.what, *shown)));
        explanations.push(ExplanationAnswer {
            rank,
            slips: one.slips(),
            misfit: one.misfit,
            weight: likelihood(one) / all,
            shows_deg,
            shows_text,
        });
    }
    explanations.sort_by_key(|one| one.rank);
    explanations
}

/// Whether print could not tell them apart.
fn same(one: &Tried, other: &Tried) -> bool {
    let mut both = one.shows.iter().zip(&other.shows);
    both.all(|pair| match pair {
        (Some(a), Some(b)) => !a.to(*b).is_worth_telling(),
        (None, None) => true,
        _ => false,
    })
}
