//! From a zone's lines to the moments at which its clocks changed, the way
//! `zic` of the database's own code goes about it, but keeping standard
//! offset and saving apart.

use super::source::{Clock, Database, Day, Era, Rule, Saving, Yearly, Zone};

/// What the clocks showed between two changes.
#[derive(PartialEq)]
pub(super) struct Kind {
    pub(super) standard_s: i64,
    pub(super) saving_s: i64,
    pub(super) abbreviation: String,
}

impl Kind {
    pub(super) fn offset_s(&self) -> i64 {
        self.standard_s + self.saving_s
    }
}

/// A zone's whole history, and the two changes it makes every year from then on.
pub(super) struct History {
    pub(super) first: Kind,
    /// In seconds of UT since 1970.
    pub(super) changes: Vec<(i64, Kind)>,
    pub(super) tail: Option<Tail>,
}

pub(super) struct Tail {
    /// The first year that has none of the listed changes.
    pub(super) from_year: i64,
    pub(super) yearly: [(YearlyUt, Kind); 2],
}

/// Month, day, and seconds after that day's 0 h UT.
pub(super) struct YearlyUt {
    pub(super) month: u8,
    pub(super) day: Day,
    pub(super) seconds_ut: i64,
}

pub(super) fn compile(database: &Database, zone: &Zone) -> Result<History, String> {
    let mut first = None;
    let mut changes = Vec::new();
    let mut tail = None;
    // When the era at hand began; None for the first.
    let mut start: Option<i64> = None;
    for era in &zone.eras {
        let saving_at_end_s = match &era.saving {
            Saving::Fixed(saving_s) => {
                let kind = kind(era, *saving_s, "")?;
                match start {
                    Some(start) => changes.push((start, kind)),
                    None => first = Some(kind),
                }
                *saving_s
            }
            Saving::Rules(name) => {
                let rules = database.rules.get(name);
                let rules = rules.ok_or_else(|| format!("{}: no rule {name}", zone.name))?;
                let last_year = last_listed_year(rules, start);
                let run = run(era, rules, last_year);
                let begun = start.unwrap_or(i64::MIN);
                let opening_change = run.changes.iter().rfind(|(at, _)| *at <= begun);
                let (saving_s, letters) = match opening_change {
                    Some((_, rule)) => (rule.saving_s, rule.letters.as_str()),
                    // Standard time, by the letters of the next rule that brings it.
                    None => {
                        let mut seen = run.changes.iter().map(|(_, rule)| *rule).chain(run.next);
                        let standard = seen.find(|rule| rule.saving_s == 0);
                        (0, standard.map_or("", |rule| rule.letters.as_str()))
                    }
                };
                let opening = kind(era, saving_s, letters)?;
                match start {
                    Some(start) => changes.push((start, opening)),
                    None => first = Some(opening),
                }
                for (at, rule) in run.changes.iter().filter(|(at, _)| *at > begun) {
                    changes.push((*at, kind(era, rule.saving_s, &rule.letters)?));
                }
                if era.until.is_none() {
                    tail = yearly_tail(era, rules, last_year)?;
                }
                run.saving_at_end_s
            }
        };
        start = era
            .until
            .map(|(year, at)| ut(year, &at, era.standard_s, saving_at_end_s));
    }
    Ok(History {
        first: first.ok_or("a zone without lines")?,
        changes,
        tail,
    })
}

/// The rules of an era as they took effect, one after the other.
struct Run<'a> {
    changes: Vec<(i64, &'a Rule)>,
    /// The rule that would have been next, had the era not ended.
    next: Option<&'a Rule>,
    saving_at_end_s: i64,
}

fn run<'a>(era: &Era, rules: &'a [Rule], last_year: i64) -> Run<'a> {
    let mut run = Run {
        changes: Vec::new(),
        next: None,
        saving_at_end_s: 0,
    };
    let first_year = rules.iter().map(|rule| rule.from).min().unwrap_or(0);
    let last_year = match era.until {
        Some((year, _)) => year,
        None => last_year,
    };
    for year in first_year..=last_year {
        let mut due: Vec<&Rule> = rules
            .iter()
            .filter(|rule| rule.from <= year && rule.to.is_none_or(|to| year <= to))
            .collect();
        // What a wall clock shows depends on the saving then in force, so the
        // earliest is chosen anew each time.
        let at = |rule: &Rule, saving_s| ut(year, &rule.at, era.standard_s, saving_s);
        while let Some(earliest) =
            (0..due.len()).min_by_key(|index| at(due[*index], run.saving_at_end_s))
        {
            let rule = due.swap_remove(earliest);
            let at = at(rule, run.saving_at_end_s);
            let end = era
                .until
                .map(|(year, until)| ut(year, &until, era.standard_s, run.saving_at_end_s));
            if end.is_some_and(|end| at >= end) {
                run.next = Some(rule);
                return run;
            }
            run.saving_at_end_s = rule.saving_s;
            run.changes.push((at, rule));
        }
    }
    run
}

/// Changes are listed one by one through this year; what goes on for ever
/// after it is the same every year.
fn last_listed_year(rules: &[Rule], start: Option<i64>) -> i64 {
    let begun = start.map_or(0, |start| 1970 + start.div_euclid(31_556_952));
    let rules = rules.iter().map(|rule| rule.to.unwrap_or(rule.from));
    rules.max().unwrap_or(0).max(begun) + 1
}

fn yearly_tail(era: &Era, rules: &[Rule], last_year: i64) -> Result<Option<Tail>, String> {
    let unending: Vec<&Rule> = rules.iter().filter(|rule| rule.to.is_none()).collect();
    let [one, other] = match unending.as_slice() {
        [] => return Ok(None),
        [one, other] => [*one, *other],
        _ => return Err("more or fewer than two rules without an end".to_owned()),
    };
    let change = |rule: &Rule, before: &Rule| -> Result<(YearlyUt, Kind), String> {
        let shown_s = offset_of(rule.at.clock, era.standard_s, before.saving_s);
        let at = YearlyUt {
            month: rule.at.month,
            day: rule.at.day,
            seconds_ut: rule.at.seconds - shown_s,
        };
        Ok((at, kind(era, rule.saving_s, &rule.letters)?))
    };
    Ok(Some(Tail {
        from_year: last_year + 1,
        yearly: [change(one, other)?, change(other, one)?],
    }))
}

fn kind(era: &Era, saving_s: i64, letters: &str) -> Result<Kind, String> {
    let abbreviation = match era.format.split_once('/') {
        Some((standard, summer)) => if saving_s == 0 { standard } else { summer }.to_owned(),
        None => era.format.replace("%s", letters),
    };
    if saving_s < 0 || abbreviation.contains('%') || abbreviation.is_empty() {
        return Err(format!(
            "{}: not in rearguard form (saving {saving_s} s, abbreviation {abbreviation:?})",
            era.format
        ));
    }
    Ok(Kind {
        standard_s: era.standard_s,
        saving_s,
        abbreviation,
    })
}

/// How far ahead of UT the clock is by which a change is timed.
fn offset_of(clock: Clock, standard_s: i64, saving_s: i64) -> i64 {
    match clock {
        Clock::Universal => 0,
        Clock::Standard => standard_s,
        Clock::Wall => standard_s + saving_s,
    }
}

fn ut(year: i64, at: &Yearly, standard_s: i64, saving_s: i64) -> i64 {
    let day = match at.day {
        Day::OfMonth(day) => days(year, at.month, day),
        Day::OnOrAfter(weekday, from) => {
            let from = days(year, at.month, from);
            from + (i64::from(weekday) - weekday_of(from)).rem_euclid(7)
        }
        Day::OnOrBefore(weekday, to) => on_or_before(weekday, days(year, at.month, to)),
        Day::Last(weekday) => {
            let (year, month) = match at.month {
                12 => (year + 1, 1),
                month => (year, month + 1),
            };
            on_or_before(weekday, days(year, month, 1) - 1)
        }
    };
    day * 86_400 + at.seconds - offset_of(at.clock, standard_s, saving_s)
}

fn on_or_before(weekday: u8, to: i64) -> i64 {
    to - (weekday_of(to) - i64::from(weekday)).rem_euclid(7)
}

/// 0 for Sunday; day 0, 1970-01-01, was a Thursday.
fn weekday_of(day: i64) -> i64 {
    (day + 4).rem_euclid(7)
}

/// Days from 1970-01-01 in the Gregorian calendar.
fn days(year: i64, month: u8, day: u8) -> i64 {
    // Years counted from March put the leap day at their end.
    let (year, month) = match month {
        1 | 2 => (year - 1, i64::from(month) + 9),
        _ => (year, i64::from(month) - 3),
    };
    let leap_days = year.div_euclid(4) - year.div_euclid(100) + year.div_euclid(400);
    365 * year + leap_days + (153 * month + 2) / 5 + i64::from(day) - 719_469
}

#[cfg(test)]
mod tests {
    #[test]
    fn days_count_from_1970() {
        assert_eq!(super::days(1970, 1, 1), 0);
        assert_eq!(super::days(2000, 3, 1), 11_017);
        assert_eq!(super::days(1969, 12, 31), -1);
    }
}
