use desk::words::{Angle, Body, Degrees};
use desk::{EveningStarAnswer, YearAnswer, YearDayAnswer, YearEventAnswer};
use press::{
    CalendarEvent, CalendarFile, CalendarTime, NoCalendarYear, SignAndDegree, YearBook, YearLine,
    YearMonth, YearNote,
};

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// The year as a book to be printed.
#[must_use]
pub fn year_handout(answer: &YearAnswer) -> YearBook {
    let months = (1..).zip(MONTHS).map(|(month, name)| YearMonth {
        name,
        days: answer
            .days
            .iter()
            .filter(|day| month_of(&day.date) == Some(month))
            .map(line)
            .collect(),
        events: answer
            .events
            .iter()
            // The table says where the Moon is.
            .filter(|event| event.kind != "moon-ingress" && month_of(&event.at) == Some(month))
            .map(|event| YearNote {
                day: day_of(&event.at),
                time: to_minute(&event.at),
                what: event.what.clone(),
            })
            .collect(),
        stars: answer
            .stars
            .iter()
            .filter(|star| month_of(&star.from) == Some(month))
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
            .filter(|event| at_a_glance(event))
            .map(|event| YearNote {
                day: format!("{} {}", day_of(&event.at), short_month(&event.at)),
                time: String::new(),
                what: event.what.clone(),
            })
            .collect(),
        months: months.collect(),
        meant: answer.meant.clone(),
    }
}

/// Eclipses, seasons, stations and the clock.
fn at_a_glance(event: &YearEventAnswer) -> bool {
    let season =
        event.kind == "ingress" && event.what.starts_with("Sun") && event.what.contains(':');
    season || matches!(event.kind, "eclipse" | "station" | "clock")
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
                in_words(&span.from),
                in_words(&span.to)
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
    let sun = |time: &Option<String>| time.as_deref().map_or_else(dash, to_minute);
    let ruler = Body::ALL.into_iter().find(|body| body.name() == day.ruler);
    YearLine {
        day: day_of(&day.date).parse().unwrap_or_default(),
        weekday: day.weekday.chars().take(2).collect(),
        ruler: ruler.unwrap_or(Body::Sun),
        scale: day.scale_deg.map(degree),
        sun: degree(day.sun_deg),
        times: [
            sun(&day.sunrise),
            sun(&day.sunset),
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
        day: format!("from {}", day_of(&star.from)),
        time: String::new(),
        what: format!(
            "{}, {:.0}° high in the {}, at {}",
            star.called(),
            star.altitude_deg,
            quarter(star.azimuth_deg),
            to_minute(&star.at)
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

fn month_of(date: &str) -> Option<usize> {
    part(date, 1)?.parse().ok()
}

fn day_of(date: &str) -> String {
    part(date, 0).map_or_else(dash, |day| day.trim_start_matches('0').to_owned())
}

/// `28 March`.
fn in_words(date: &str) -> String {
    let name = month_of(date).and_then(|month| MONTHS.get(month.checked_sub(1)?));
    name.map_or_else(dash, |name| format!("{} {name}", day_of(date)))
}

fn short_month(date: &str) -> String {
    let name = month_of(date).and_then(|month| MONTHS.get(month.checked_sub(1)?));
    name.map_or_else(dash, |name| name.chars().take(3).collect())
}

/// A part of `2027-03-01 …`, counted from the day.
fn part(date: &str, from_day: usize) -> Option<&str> {
    date.split(' ').next()?.rsplit('-').nth(from_day)
}

/// The time of a clock, to the minute.
fn to_minute(clock: &str) -> String {
    let time = clock.rsplit(' ').next().unwrap_or_default();
    let parts: Vec<f64> = time
        .split(':')
        .filter_map(|part| part.parse().ok())
        .collect();
    let [hours, minutes, seconds] = parts.as_slice() else {
        return dash();
    };
    // The last half minute of a day stays with its date.
    let whole = (hours * 60.0 + minutes + f64::from(*seconds >= 30.0)).min(1439.0);
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
