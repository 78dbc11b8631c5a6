use drawing::{Scene, Svg, WeekBar, WeekRow, WeeksSheet};
use moment::{Calendar, CivilDate, MONTHS};

use crate::choose::{ChooseAnswer, TimeAnswer, length};
use crate::figure_sheet::short;

const DAYS: [&str; 7] = [
    "Monday",
    "Tuesday",
    "Wednesday",
    "Thursday",
    "Friday",
    "Saturday",
    "Sunday",
];

/// Draws the times that were found in the course of the weeks, each as high as much of
/// what had rather hold does.
#[must_use]
pub fn choice_scene(answer: &ChooseAnswer) -> Scene {
    let calendar = answer.calendar.parse().unwrap_or(Calendar::Gregorian);
    let first = day_of(&answer.from, calendar).unwrap_or_default();
    let last = day_of(&answer.until, calendar).unwrap_or_default();
    // Julian day 0 was a Monday.
    let monday = first.floor() - first.floor().rem_euclid(7.0);
    let count = ((last - monday) / 7.0).ceil().max(1.0);
    let shown = count.min(WeeksSheet::MOST as f64);
    let rathers = answer.wishes.iter().filter(|wish| !wish.must).count();
    let weeks = (0..shown as u32).map(|week| {
        let begins = monday + 7.0 * f64::from(week);
        let bars = answer.times.iter();
        WeekRow {
            label: label(begins, calendar),
            bars: bars
                .filter_map(|time| bar(time, begins, rathers, calendar))
                .collect(),
        }
    });
    let left_out = count - shown;
    let heading = [
        Some(format!(
            "{}, {} to {}",
            short(&answer.place.name),
            date(&answer.from),
            date(&answer.until)
        )),
        Some(answer.summary.clone()),
        (left_out > 0.0).then(|| format!("the {left_out:.0} weeks that follow have no room here")),
    ];
    WeeksSheet {
        title: wished(answer),
        description: description(answer),
        heading: heading.into_iter().flatten().collect(),
        days: DAYS,
        weeks: weeks.collect(),
    }
    .scene()
}

/// The same as SVG for a page that has its own colours and ground.
#[must_use]
pub fn choice_svg(answer: &ChooseAnswer, id_prefix: &str) -> String {
    choice_scene(answer).svg(&Svg {
        id_prefix: id_prefix.to_owned(),
        styled: false,
        paper: false,
        outlined: false,
    })
}

fn wished(answer: &ChooseAnswer) -> String {
    let must = answer.wishes.iter().filter(|wish| wish.must);
    must.map(|wish| wish.text.as_str())
        .collect::<Vec<_>>()
        .join(", ")
}

fn description(answer: &ChooseAnswer) -> String {
    let mut text = format!("{}.", answer.summary);
    for time in answer.times.iter().take(20) {
        text.push_str(&format!(
            " {} to {}, {}.",
            time.from,
            time.until,
            length(time.lasts_s)
        ));
    }
    text
}

fn bar(time: &TimeAnswer, begins: f64, rathers: usize, calendar: Calendar) -> Option<WeekBar> {
    let from = day_of(&time.from, calendar)? - begins;
    let until = day_of(&time.until, calendar)? - begins;
    (until > 0.0 && from < 7.0).then(|| WeekBar {
        from,
        until,
        good: if rathers == 0 {
            1.0
        } else {
            time.holds.len() as f64 / rathers as f64
        },
    })
}

fn date(clock: &str) -> &str {
    clock.split(' ').next().unwrap_or_default()
}

fn label(day: f64, calendar: Calendar) -> String {
    let date = CivilDate::from_julian_day_number(calendar, day as i32);
    let month = MONTHS.get(usize::from(date.month()) - 1);
    let month: String = month.map_or("", |name| *name).chars().take(3).collect();
    format!("{} {month}", date.day())
}

/// What a clock shows, `2027-03-01 09:20:00`, in days.
fn day_of(clock: &str, calendar: Calendar) -> Option<f64> {
    let (date, time) = clock.split_once(' ')?;
    let mut parts = date.rsplitn(3, '-');
    let day: u8 = parts.next()?.parse().ok()?;
    let month: u8 = parts.next()?.parse().ok()?;
    let year: i32 = parts.next()?.parse().ok()?;
    let date = CivilDate::new(calendar, year, month, day).ok()?;
    let mut seconds = 0.0;
    for part in time.split(':') {
        seconds = seconds * 60.0 + part.parse::<f64>().ok()?;
    }
    Some(f64::from(date.julian_day_number()) + seconds / 86_400.0)
}
