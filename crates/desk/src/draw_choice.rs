use drawing::{Scene, Svg, WeekBar, WeekRow, WeeksSheet};
use moment::{Calendar, CivilDate, MONTHS, WEEKDAYS};

use crate::answer::ClockTimeAnswer;
use crate::choose::{ChooseAnswer, TimeAnswer, length};
use crate::figure_sheet::short;

/// Draws the times that were found in the course of the weeks, each as high as much of
/// what had rather hold does.
#[must_use]
pub fn choice_scene(answer: &ChooseAnswer) -> Scene {
    let calendar = answer.from.0.date.calendar();
    let (first, last) = (days(answer.from), days(answer.until));
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
            bars: bars.filter_map(|time| bar(time, begins, rathers)).collect(),
        }
    });
    let left_out = count - shown;
    let heading = [
        Some(format!(
            "{}, {} to {}",
            short(&answer.place.name),
            answer.from.date(),
            answer.until.date()
        )),
        Some(answer.summary.clone()),
        (left_out > 0.0).then(|| format!("the {left_out:.0} weeks that follow have no room here")),
    ];
    WeeksSheet {
        title: wished(answer),
        description: description(answer),
        heading: heading.into_iter().flatten().collect(),
        days: WEEKDAYS,
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

fn bar(time: &TimeAnswer, begins: f64, rathers: usize) -> Option<WeekBar> {
    let from = days(time.from) - begins;
    let until = days(time.until) - begins;
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

fn label(day: f64, calendar: Calendar) -> String {
    let date = CivilDate::from_julian_day_number(calendar, day as i32);
    let month = MONTHS.get(usize::from(date.month()) - 1);
    let month: String = month.map_or("", |name| *name).chars().take(3).collect();
    format!("{} {month}", date.day())
}

/// What a clock shows, in days.
fn days(shown: ClockTimeAnswer) -> f64 {
    let ClockTimeAnswer(civil) = shown;
    f64::from(civil.date.julian_day_number()) + civil.time.hours() / 24.0
}
