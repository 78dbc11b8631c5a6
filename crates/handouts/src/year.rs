use desk::words::{Angle, Body, Degrees, MONTHS};
use desk::{ClockTimeAnswer, DateAnswer, EveningStarAnswer, YearAnswer, YearDayAnswer};
use press::{
    CalendarEvent, CalendarFile, CalendarTime, NoCalendarYear, SignAndDegree, YearBook, YearLine,
    YearMonth, YearNote,
};

/// The year as a book to be printed.
#[must_use]
pub fn year_handout(answer: &YearAnswer) -> YearBook {
    let months = (1..).zip(MONTHS).map(|(month, name)| YearMonth {
        name,
        days: answer
            .days
            .iter()
            .filter(|day| day.date.month() == month)
            .map(line)
            .collect(),
        events: answer
            .events
            .iter()
            // The table says where the Moon is.
            .filter(|event| event.kind != "moon-ingress" && event.at.date().month() == month)
            .map(|event| YearNote {
                day: event.at.date().day().to_string(),
                time: to_minute(event.at),
                what: event.what.clone(),
            })
            .collect(),
        stars: answer
            .stars
            .iter()
            .filter(|star| star.from.month() == month)
            .map(star)
            .collect(),
    });
    YearBook {
        year: answer.year,
        town: answer.place.name.clone(),
        latitude_deg: answer.place.latitude_deg,
        longitude_deg: answer.place.longitude_deg,
        instrument: answer.instrument.called.clone(),
        plate_deg: answer.instrument.plate_latitude_deg,
        first: first(answer),
        glance: answer
            .events
            .iter()
            .filter(|event| event.at_a_glance)
            .map(|event| YearNote {
                day: in_short(event.at.date()),
                time: String::new(),
                what: event.what.clone(),
            })
            .collect(),
        months: months.collect(),
        meant: answer.meant.clone(),
    }
}

fn first(answer: &YearAnswer) -> Vec<String> {
    let mut paragraphs = Vec::new();
    if let Some(card) = &answer.town.card {
        if let Some(minutes) = card.fixed_minutes {
            let what = if minutes < 0.0 { "take off" } else { "add" };
            paragraphs.push(format!(
                "From the clock to the rule: take summer time off where it is in force, then {what} {} for the town’s longitude. This is local mean time.",
                minutes_and_seconds(minutes.abs())
            ));
        }
        for span in &card.summer_time {
            paragraphs.push(format!(
                "Summer time of {:.0} minutes is in force from {} to {}, by the rules known when this was made.",
                span.minutes,
                in_words(span.from),
                in_words(span.to)
            ));
        }
    }
    paragraphs.push(if answer.instrument.date_from == "equal-day-ring" {
        "Set the date on the ring, which has equal days, and the rule to local mean time: the equation of time is not applied.".to_owned()
    } else {
        "Add the equation of time of the day, as the month’s table has it with its sign: this is the time by the Sun, to which the rule is set over the Sun’s degree.".to_owned()
    });
    let plate = Degrees(Angle::from_deg(answer.instrument.plate_latitude_deg.abs()));
    paragraphs.push(match &answer.town.error {
        Some(error) => format!(
            "Lay in the plate of {plate}. For this town it shows the ascendant {} off at most, {} half of the time; cusps {} at most.",
            degrees(error.largest_ascendant_deg),
            degrees(error.typical_ascendant_deg),
            degrees(error.largest_cusp_deg)
        ),
        None => format!("The plate nearest to this town is that of {plate}."),
    });
    if let Some(two) = &answer.town.proportion {
        paragraphs.push(format!(
            "Reading on the plates of {}° and {}° and taking {} of the way from the first to the second, one is {:.0} times nearer.",
            two.plates_deg[0], two.plates_deg[1], (two.part * 100.0).round() / 100.0, two.times_better
        ));
    }
    paragraphs.push("The day of a planet begins at its sunrise, and the planet rules its first hour; the others follow down the spheres: Saturn, Jupiter, Mars, the Sun, Venus, Mercury, the Moon, and Saturn again.".to_owned());
    paragraphs
}

fn line(day: &YearDayAnswer) -> YearLine {
    let hour = |seconds: Option<f64>| seconds.map_or_else(dash, |s| minutes_and_tenths(s / 60.0));
    let sun = |time: Option<ClockTimeAnswer>| time.map_or_else(dash, to_minute);
    let ruler = Body::ALL.into_iter().find(|body| body.name() == day.ruler);
    YearLine {
        day: day.date.day(),
        weekday: day.weekday.chars().take(2).collect(),
        ruler: ruler.unwrap_or(Body::Sun),
        scale: day.scale_deg.map(degree),
        sun: degree(day.sun_deg),
        times: [
            sun(day.sunrise),
            sun(day.sunset),
            hour(day.day_hour_s),
            hour(day.night_hour_s),
            signed_minutes(day.equation_of_time_s),
        ],
        moon: degree(day.moon_deg),
        elongation: Angle::from_deg(day.elongation_deg),
    }
}

fn star(star: &EveningStarAnswer) -> YearNote {
    YearNote {
        day: format!("from {}", star.from.day()),
        time: String::new(),
        what: format!(
            "{}, {:.0}° high in the {}, at {}",
            star.called(),
            star.altitude_deg,
            quarter(star.azimuth_deg),
            to_minute(star.at)
        ),
    }
}

fn dash() -> String {
    "–".to_owned()
}

/// The nearest of eight winds.
fn quarter(azimuth_deg: f64) -> &'static str {
    const WINDS: [&str; 8] = [
        "north",
        "north-east",
        "east",
        "south-east",
        "south",
        "south-west",
        "west",
        "north-west",
    ];
    let wind = (azimuth_deg / 45.0).round().rem_euclid(8.0);
    WINDS[wind as usize % 8]
}

fn degree(deg: f64) -> SignAndDegree {
    let minutes = (deg * 60.0).round().rem_euclid(21_600.0);
    let sign = (minutes / 1800.0).floor();
    let within = minutes - sign * 1800.0;
    SignAndDegree {
        sign: sign as usize % 12,
        degree: format!("{:.0}°{:02.0}′", (within / 60.0).floor(), within % 60.0),
    }
}

fn degrees(deg: f64) -> String {
    Degrees(Angle::from_deg(deg)).to_string()
}

fn minutes_and_seconds(minutes: f64) -> String {
    let seconds = (minutes * 60.0).round();
    match ((seconds / 60.0).floor(), seconds % 60.0) {
        (whole, 0.0) => format!("{whole:.0} minutes"),
        (whole, rest) => format!("{whole:.0} minutes {rest:.0} seconds"),
    }
}

/// `62.3`, in minutes.
fn minutes_and_tenths(minutes: f64) -> String {
    format!("{minutes:.1}")
}

/// `+3m07s`, in which an equation of time is written.
fn signed_minutes(seconds: f64) -> String {
    let whole = seconds.round();
    let sign = if whole < 0.0 { '−' } else { '+' };
    let whole = whole.abs();
    format!("{sign}{:.0}m{:02.0}s", (whole / 60.0).floor(), whole % 60.0)
}

/// `28 March`.
fn in_words(date: DateAnswer) -> String {
    format!("{} {}", date.day(), month(date))
}

/// `28 Mar`.
fn in_short(date: DateAnswer) -> String {
    let month: String = month(date).chars().take(3).collect();
    format!("{} {month}", date.day())
}

fn month(date: DateAnswer) -> &'static str {
    MONTHS
        .get(usize::from(date.month()) - 1)
        .copied()
        .unwrap_or_default()
}

/// The time of a clock, to the minute.
fn to_minute(clock: ClockTimeAnswer) -> String {
    let minutes = (clock.time().seconds() / 60.0).round();
    // The last half minute of a day stays with its date.
    let whole = minutes.min(1439.0);
    format!("{:.0}:{:02.0}", (whole / 60.0).floor(), whole % 60.0)
}

/// The year's events of some kinds, and the hours of planets, as a calendar file.
///
/// # Errors
/// When the year is none that such a file can hold.
pub fn year_calendar(
    answer: &YearAnswer,
    kinds: &[String],
    alarm_min: Option<u32>,
) -> Result<String, NoCalendarYear> {
    let chosen = answer
        .events
        .iter()
        .filter(|event| kinds.iter().any(|kind| kind == event.kind));
    let happens = chosen.map(|event| CalendarEvent {
        begins: CalendarTime::of_jd_ut(event.jd_ut),
        ends: None,
        summary: event.what.clone(),
        description: format!("{} by the clock there", event.at),
        location: answer.place.name.clone(),
        category: event.kind,
        alarm_min,
    });
    let hours = answer.hours.iter().map(|hour| CalendarEvent {
        begins: CalendarTime::of_jd_ut(hour.from_jd_ut),
        ends: Some(CalendarTime::of_jd_ut(hour.until_jd_ut)),
        summary: format!("hour of {}", hour.planet),
        description: format!("{} to {} by the clock there", hour.from, hour.until),
        location: answer.place.name.clone(),
        category: "planetary hour",
        alarm_min,
    });
    let mut events: Vec<CalendarEvent> = happens.chain(hours).collect();
    events.sort_by_key(|event| event.begins);
    CalendarFile {
        name: format!("{}, {}", answer.year, answer.place.name),
        stamp: CalendarTime::of_jd_ut(answer.begins_jd_ut),
        events,
    }
    .text()
}
