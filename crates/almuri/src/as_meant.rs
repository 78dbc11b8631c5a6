//! A command line that was not understood, as it may have been meant: the date and the
//! time in quotes, the town behind `--at`, and both as they are asked for. It is offered,
//! never carried out.

use std::ops::RangeInclusive;

use clap::{ArgAction, ArgMatches, CommandFactory};
use desk::{DuringRequest, Field, Refusal};

use crate::arguments::{Arguments, MomentArguments};
use crate::cabinet;
use crate::cast::{moment_request, now_unix_s};
use crate::failure::Failure;

/// What failed, with the whole line as it may have been meant where one would be understood.
pub(crate) fn offered(failure: Failure, written: &[String]) -> Failure {
    match failure.may_be_meant().then(|| line(written)).flatten() {
        Some(line) => failure.with_line(&line),
        None => failure,
    }
}

/// The whole line as it may have been meant, if one other than what was written would be
/// understood, and nothing in it is wrong.
fn line(written: &[String]) -> Option<String> {
    let (name, rest) = written.split_first()?;
    let command = Arguments::command();
    let command = command.find_subcommand(name)?;
    let said = Said::of(rest, command)?;
    let meant = said.meant(name, command)?;
    let differs = meant != written;
    let whole = std::iter::once("almuri".to_owned()).chain(meant.iter().cloned());
    if !differs {
        return None;
    }
    let understood = Arguments::command().try_get_matches_from(whole).ok()?;
    let (_, values) = understood.subcommand()?;
    is_right(name, values).then(|| {
        let words = meant.iter().map(|word| in_quotes(word));
        std::iter::once("almuri".to_owned())
            .chain(words)
            .collect::<Vec<_>>()
            .join(" ")
    })
}

/// Whether a command would not find fault with its years, its moments and how they are
/// meant. What it would ask for, such as a calendar, may be missing.
fn is_right(command: &str, values: &ArgMatches) -> bool {
    let year = values.try_get_one::<i32>("year").ok().flatten();
    if year.is_some_and(|year| !years(command).contains(year)) {
        return false;
    }
    let text = |id| values.try_get_one::<String>(id).ok().flatten().cloned();
    let moment = MomentArguments {
        at: text("at"),
        zone: text("zone"),
        clock: text("clock"),
        calendar: text("calendar"),
        which: text("which"),
        no_settings: values.try_get_one("no_settings").ok().flatten() == Some(&true),
        ..MomentArguments::default()
    };
    let whens: Vec<String> = ["when", "from", "to"]
        .into_iter()
        .filter_map(text)
        .collect();
    let whens = match whens.as_slice() {
        // The place by itself, at any time.
        [] => vec!["now".to_owned()],
        _ => whens,
    };
    let cabinet = cabinet::at_hand();
    whens.iter().all(|when| {
        let at_noon = when != "now" && !when.contains(' ');
        let when = if at_noon {
            format!("{when} 12:00")
        } else {
            when.clone()
        };
        // Without a place, or with an instrument that is none, that is told next.
        let Ok(asked) = moment_request(&when, &moment, None, &cabinet) else {
            return true;
        };
        let asked = desk::CastRequest {
            houses: text("houses").or(asked.houses),
            ..asked
        };
        let refusal = match text("until") {
            Some(until) => {
                let during = DuringRequest {
                    moment: asked,
                    until,
                    outer: false,
                };
                desk::during(&during, &cabinet, now_unix_s()).err()
            }
            None => desk::cast(&asked, &cabinet, now_unix_s()).err(),
        };
        refusal.is_none_or(|refusal| is_a_question(&refusal, &moment))
    })
}

/// Whether it asks for what was not said.
fn is_a_question(refusal: &Refusal, said: &MomentArguments) -> bool {
    match refusal.field {
        Field::Zone => said.zone.is_none(),
        Field::Calendar => said.calendar.is_none(),
        Field::Which => said.which.is_none(),
        _ => false,
    }
}

/// The years that a command takes.
fn years(command: &str) -> RangeInclusive<i32> {
    match command {
        "year" => desk::BOOK_YEARS,
        "course" => desk::COURSE_YEARS,
        _ => desk::REVOLUTION_YEARS,
    }
}

/// What was written behind the command's name.
#[derive(Default)]
struct Said {
    /// Words that belong to no option, in order.
    words: Vec<String>,
    /// The place that is said by `--at`.
    at: Option<String>,
    /// All other options with their values, as they were written.
    options: Vec<String>,
}

impl Said {
    fn of(written: &[String], command: &clap::Command) -> Option<Said> {
        /// More words than any line wants.
        const MOST: usize = 64;
        if written.len() > MOST {
            return None;
        }
        let mut said = Said::default();
        let mut words = written.iter();
        while let Some(word) = words.next() {
            let Some(option) = option_of(word, command) else {
                said.words.push(word.clone());
                continue;
            };
            let value = match option {
                Kind::Flag => None,
                Kind::Value if word.starts_with("--") && word.contains('=') => None,
                Kind::Value => Some(words.next()?.clone()),
                Kind::At => {
                    said.at = Some(match word.split_once('=') {
                        Some((_, place)) => place.to_owned(),
                        None => words.next()?.clone(),
                    });
                    continue;
                }
            };
            said.options.push(word.clone());
            said.options.extend(value);
        }
        Some(said)
    }

    /// The line put together again, behind `almuri`.
    fn meant(mut self, name: &str, command: &clap::Command) -> Option<Vec<String>> {
        let mut meant = vec![name.to_owned()];
        for positional in command.get_positionals() {
            match positional.get_id().as_str() {
                "when" => meant.push(self.take_moment()?),
                "until" => meant.push(self.take(|word| word.contains(':'))?),
                "year" => meant.push(self.take(|word| word.parse::<i32>().is_ok())?),
                // An operation has a name of one word.
                "operation" => meant.push(
                    self.take(|word| word.chars().all(|c| c.is_ascii_lowercase() || c == '-'))?,
                ),
                // Another command's words are its own.
                _ => return None,
            }
        }
        let place = match (self.at, self.words.join(" ")) {
            (Some(at), more) if more.is_empty() => Some(at),
            (Some(at), more) => Some(format!("{at} {more}")),
            (None, more) if more.is_empty() => None,
            (None, more) => Some(more),
        };
        if let Some(place) = place {
            meant.push("--at".to_owned());
            meant.push(desk::place_meant(&place)?);
        }
        meant.append(&mut self.options);
        Some(meant)
    }

    /// Takes the first word of a kind away.
    fn take(&mut self, is_meant: impl Fn(&str) -> bool) -> Option<String> {
        let at = self.words.iter().position(|word| is_meant(word))?;
        Some(self.words.remove(at))
    }

    /// Takes the words away that say a date and a time, wherever they stand.
    fn take_moment(&mut self) -> Option<String> {
        /// `19 August 2001 2:30 pm`.
        const MOST: usize = 5;
        for from in 0..self.words.len() {
            let most = (self.words.len() - from).min(MOST);
            for count in (1..=most).rev() {
                let text = self.words.get(from..from + count)?.join(" ");
                let Some(moment) = moment(&text) else {
                    continue;
                };
                self.words.drain(from..from + count);
                return Some(moment);
            }
        }
        None
    }
}

/// What kind of word begins with a hyphen.
enum Kind {
    Flag,
    Value,
    At,
}

fn option_of(word: &str, command: &clap::Command) -> Option<Kind> {
    let option = match word.strip_prefix("--") {
        Some(long) => {
            let name = long.split('=').next().unwrap_or_default();
            command
                .get_arguments()
                .find(|argument| argument.get_long() == Some(name))?
        }
        None => {
            let short = word.strip_prefix('-')?.chars().next()?;
            command
                .get_arguments()
                .find(|argument| argument.get_short() == Some(short))?
        }
    };
    Some(match option.get_action() {
        _ if option.get_id() == "at" => Kind::At,
        ArgAction::Set | ArgAction::Append => Kind::Value,
        _ => Kind::Flag,
    })
}

/// A moment as it is asked for, if a text may mean one. Of several that it may mean the
/// likeliest is offered.
fn moment(text: &str) -> Option<String> {
    if text.eq_ignore_ascii_case("now") {
        return Some("now".to_owned());
    }
    desk::dates_meant(text)
        .into_iter()
        .find(|one| one.contains(' '))
}

/// A word as a shell takes it.
fn in_quotes(word: &str) -> String {
    let plain = |c: char| c.is_alphanumeric() || "-_./:=,+@%".contains(c);
    if !word.is_empty() && word.chars().all(plain) {
        return word.to_owned();
    }
    let mut quoted = String::from("\"");
    for c in word.chars() {
        if matches!(c, '"' | '\\' | '$' | '`') {
            quoted.push('\\');
        }
        quoted.push(c);
    }
    quoted + "\""
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn offers(written: &[&str], meant: Option<&str>) {
        let written: Vec<String> = written.iter().map(|word| (*word).to_owned()).collect();
        assert_eq!(line(&written).as_deref(), meant);
    }

    #[test]
    fn a_line_is_offered_as_it_may_have_been_meant() {
        let leipzig = "almuri cast \"2001-08-19 14:30\" --at \"Leipzig, Saxony, Germany\"";
        for written in [
            &["cast", "2001-08-19", "14:30", "--at", "leipzig germany"][..],
            &["cast", "2001-08-19", "14:30", "leipzig", "germany"],
            &["cast", "19.08.2001 14:30", "leipzig  germany"],
            &[
                "cast",
                "19 August 2001",
                "2:30",
                "pm",
                "--at",
                "leipzig",
                "germany",
            ],
            &["cast", "leipzig", "germany", "19.08.2001", "14.30"],
        ] {
            offers(written, Some(leipzig));
        }
        offers(
            &[
                "figure",
                "19.08.2001",
                "14:30",
                "--at=leipzig germany",
                "-o",
                "my figure.svg",
            ],
            Some(
                "almuri figure \"2001-08-19 14:30\" --at \"Leipzig, Saxony, Germany\" -o \"my figure.svg\"",
            ),
        );
        offers(
            &[
                "work",
                "hour-by-sun",
                "2001-08-19",
                "14:30",
                "--at",
                "51.3,12.4",
                "--read",
                "altitude=30",
            ],
            Some("almuri work hour-by-sun \"2001-08-19 14:30\" --at 51.3,12.4 --read altitude=30"),
        );
        offers(
            &[
                "during",
                "2001-08-19",
                "14:30",
                "15:10",
                "--at",
                "51.3,12.4",
            ],
            Some("almuri during \"2001-08-19 14:30\" 15:10 --at 51.3,12.4"),
        );
    }

    #[test]
    fn what_will_be_asked_for_does_not_keep_a_line_back() {
        offers(
            &["cast", "1700-02-01", "12:00", "london", "united kingdom"],
            Some("almuri cast \"1700-02-01 12:00\" --at \"London, England, United Kingdom\""),
        );
        offers(
            &["year", "2027", "--at", "leipzig germany"],
            Some("almuri year 2027 --at \"Leipzig, Saxony, Germany\""),
        );
    }

    #[test]
    fn nothing_is_offered_that_would_not_be_understood() {
        for written in [
            &["cast", "yesterday", "--at", "leipzig germany"][..],
            &[
                "cast",
                "2001-08-19 14:30",
                "--at",
                "Leipzig, Saxony, Germany",
            ],
            &["cast", "2001-08-19", "14:30", "--at", "xqzzy"],
            &["cast", "2001-08-19", "14:30", "--at"],
            &["cast", "2001-08-19", "14:30", "--no-such-option"],
            &["nothing"],
            &[],
            // Something else is wrong with them.
            &["year", "20277", "--at", "lisbon"],
            &["year", "20277", "lisbon", "portugal"],
            &["course", "--year", "12", "--at", "lisbon"],
            &[
                "revolution",
                "2001-08-19",
                "14:30",
                "9999",
                "leipzig",
                "germany",
            ],
            &[
                "cast",
                "2001-08-19",
                "14:30",
                "leipzig germany",
                "--houses",
                "tents",
            ],
            &[
                "cast",
                "2001-08-19",
                "14:30",
                "leipzig germany",
                "--zone",
                "Moon/Sea",
            ],
            &["during", "2001-08-19", "14:30", "25:10", "leipzig germany"],
            &["choose", "--from", "2001-13-40", "--at", "leipzig germany"],
        ] {
            offers(written, None);
        }
    }

    #[test]
    fn words_are_quoted_for_a_shell() {
        assert_eq!(in_quotes("a b"), "\"a b\"");
        assert_eq!(in_quotes("$HOME \"x\""), "\"\\$HOME \\\"x\\\"\"");
        assert_eq!(in_quotes(""), "\"\"");
        assert_eq!(in_quotes("42.88,-8.54"), "42.88,-8.54");
    }
}
