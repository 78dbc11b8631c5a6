//! The text of the time zone database: rules, zones and links, as described
//! in the `zic` manual page of the database's own code.

use std::collections::BTreeMap;

/// Stands before the zones whose history the release calls less reliable.
pub(super) const BACKZONE_LINE: &str = "# backzone";

/// A release, read.
pub(super) struct Database {
    pub(super) release: String,
    pub(super) rules: BTreeMap<String, Vec<Rule>>,
    pub(super) zones: Vec<Zone>,
    /// From a name to the name it stands for.
    pub(super) links: BTreeMap<String, String>,
}

pub(super) struct Zone {
    pub(super) name: String,
    pub(super) from_backzone: bool,
    pub(super) eras: Vec<Era>,
}

/// One line of a zone: how its clocks went until a moment.
pub(super) struct Era {
    pub(super) standard_s: i64,
    pub(super) saving: Saving,
    pub(super) format: String,
    pub(super) until: Option<(i64, Yearly)>,
}

pub(super) enum Saving {
    Fixed(i64),
    Rules(String),
}

pub(super) struct Rule {
    pub(super) from: i64,
    /// None: for ever.
    pub(super) to: Option<i64>,
    pub(super) at: Yearly,
    pub(super) saving_s: i64,
    pub(super) letters: String,
}

/// A day and time within any year.
#[derive(Clone, Copy)]
pub(super) struct Yearly {
    pub(super) month: u8,
    pub(super) day: Day,
    pub(super) seconds: i64,
    pub(super) clock: Clock,
}

/// Weekdays count from 0 for Sunday.
#[derive(Clone, Copy)]
pub(super) enum Day {
    OfMonth(u8),
    Last(u8),
    OnOrAfter(u8, u8),
    OnOrBefore(u8, u8),
}

#[derive(Clone, Copy, PartialEq)]
pub(super) enum Clock {
    Wall,
    Standard,
    Universal,
}

pub(super) fn parse(text: &str) -> Result<Database, String> {
    let mut database = Database {
        release: String::new(),
        rules: BTreeMap::new(),
        zones: Vec::new(),
        links: BTreeMap::new(),
    };
    let mut in_backzone = false;
    let mut open = false;
    for line in text.lines() {
        if let Some(release) = line.strip_prefix("# tzdata ") {
            release.clone_into(&mut database.release);
            continue;
        }
        if line == BACKZONE_LINE {
            in_backzone = true;
            continue;
        }
        let fields: Vec<&str> = line.split(' ').collect();
        let wrong = || format!("not understood: {line}");
        match fields.as_slice() {
            [
                "Rule",
                name,
                from,
                to,
                "-",
                month,
                day,
                time,
                saving,
                letters,
            ] => {
                let from: i64 = from.parse().map_err(|_| wrong())?;
                let rule = Rule {
                    from,
                    to: match *to {
                        "only" => Some(from),
                        "max" => None,
                        year => Some(year.parse().map_err(|_| wrong())?),
                    },
                    at: yearly(&[month, day, time]).ok_or_else(wrong)?,
                    saving_s: duration(saving).ok_or_else(wrong)?,
                    letters: if *letters == "-" { "" } else { letters }.to_owned(),
                };
                let rules = database.rules.entry((*name).to_owned()).or_default();
                rules.push(rule);
            }
            ["Link", target, name] => {
                database
                    .links
                    .insert((*name).to_owned(), (*target).to_owned());
            }
            ["Zone", name, rest @ ..] => {
                let era = era(rest).ok_or_else(wrong)?;
                open = era.until.is_some();
                database.zones.push(Zone {
                    name: (*name).to_owned(),
                    from_backzone: in_backzone,
                    eras: vec![era],
                });
            }
            rest if open => {
                let era = era(rest).ok_or_else(wrong)?;
                open = era.until.is_some();
                database.zones.last_mut().ok_or_else(wrong)?.eras.push(era);
            }
            _ => return Err(wrong()),
        }
    }
    Ok(database)
}

fn era(fields: &[&str]) -> Option<Era> {
    let [standard, saving, format, until @ ..] = fields else {
        return None;
    };
    Some(Era {
        standard_s: duration(standard)?,
        saving: match duration(saving) {
            Some(saving_s) => Saving::Fixed(saving_s),
            None => Saving::Rules((*saving).to_owned()),
        },
        format: (*format).to_owned(),
        until: match until {
            [] => None,
            [year, rest @ ..] => Some((year.parse().ok()?, yearly(rest)?)),
        },
    })
}

/// `[month [day [time]]]`.
fn yearly(fields: &[&str]) -> Option<Yearly> {
    const MONTHS: [&str; 12] = [
        "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec",
    ];
    let month = match fields.first() {
        None => 1,
        Some(name) => MONTHS.iter().position(|month| name == month)? as u8 + 1,
    };
    let day = match fields.get(1) {
        None => Day::OfMonth(1),
        Some(text) => day(text)?,
    };
    let (seconds, clock) = match fields.get(2) {
        None => (0, Clock::Wall),
        Some(text) => match text.char_indices().last()? {
            (end, 's') => (duration(text.get(..end)?)?, Clock::Standard),
            (end, 'u' | 'g' | 'z') => (duration(text.get(..end)?)?, Clock::Universal),
            (end, 'w') => (duration(text.get(..end)?)?, Clock::Wall),
            _ => (duration(text)?, Clock::Wall),
        },
    };
    (fields.len() <= 3).then_some(Yearly {
        month,
        day,
        seconds,
        clock,
    })
}

fn day(text: &str) -> Option<Day> {
    const WEEKDAYS: [&str; 7] = ["Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"];
    let weekday = |name: &str| Some(WEEKDAYS.iter().position(|day| name == *day)? as u8);
    if let Some(name) = text.strip_prefix("last") {
        Some(Day::Last(weekday(name)?))
    } else if let Some((name, from)) = text.split_once(">=") {
        Some(Day::OnOrAfter(weekday(name)?, from.parse().ok()?))
    } else if let Some((name, to)) = text.split_once("<=") {
        Some(Day::OnOrBefore(weekday(name)?, to.parse().ok()?))
    } else {
        Some(Day::OfMonth(text.parse().ok()?))
    }
}

/// `[-]h[:mm[:ss]]` in seconds; a lone `-` is nothing.
fn duration(text: &str) -> Option<i64> {
    if text == "-" {
        return Some(0);
    }
    let (sign, digits) = match text.strip_prefix('-') {
        Some(rest) => (-1, rest),
        None => (1, text),
    };
    let mut seconds = 0;
    let mut unit = 3600;
    for part in digits.split(':') {
        if part.is_empty() || !part.bytes().all(|byte| byte.is_ascii_digit()) || unit == 0 {
            return None;
        }
        seconds += unit * part.parse::<i64>().ok()?;
        unit /= 60;
    }
    Some(sign * seconds)
}
