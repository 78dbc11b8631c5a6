//! Fields of our own files, read one by one: each that cannot be used is named, with
//! what would do.

use sky::Plain;
use toml::{Table, Value};

use crate::field_kind::FieldKind;
use crate::field_listener::FieldListener;

/// A field that cannot be used: which, what is wrong with it, and what would do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct FieldError(pub(crate) String);

/// What is read, or which field cannot be.
pub(crate) type Read<T> = Result<T, FieldError>;

/// Texts longer than this are none of our files; the limit keeps a mistaken one from
/// being parsed at length.
const MOST_BYTES: usize = 64 * 1024;

/// By so much a bound that is a part of a diameter may be off what it is told as: 0.06 of
/// 180 mm is told as 10.8 and is 10.799999999999999.
const LAST_DIGIT: f64 = 1e-9;

/// The table of a file's text. `what` it is, and a line such as it has, are for the
/// message.
pub(crate) fn table_of(text: &str, what: &str, line_such_as: &str) -> Read<Table> {
    if text.len() > MOST_BYTES {
        return Err(FieldError(format!(
            "the text is {} bytes long; {what} has at most {MOST_BYTES}",
            text.len()
        )));
    }
    text.parse().map_err(|error: toml::de::Error| {
        let line = error.span().map_or(1, |span| {
            text.get(..span.start).unwrap_or("").lines().count().max(1)
        });
        FieldError(format!(
            "line {line} is not TOML: {}; lines such as `{line_such_as}` would do",
            error.message()
        ))
    })
}

/// A table being read field by field.
pub(crate) struct Fields<'a> {
    pub(crate) table: &'a Table,
    /// What its fields are called by in messages, such as `faults.`.
    pub(crate) within: &'a str,
    /// Who wants to hear which fields are asked for. Faults are told there too, and what
    /// cannot be used is read as if it were left out.
    pub(crate) listener: Option<&'a FieldListener>,
}

impl<'t> Fields<'t> {
    /// A table in which the first field that cannot be used is an error.
    pub(crate) fn of(table: &'t Table, within: &'t str) -> Fields<'t> {
        Fields {
            table,
            within,
            listener: None,
        }
    }

    /// Tells a listener of what kind a field is, whether it is there or not.
    pub(crate) fn is(&self, key: &str, kind: impl FnOnce() -> FieldKind) {
        if let Some(listener) = self.listener {
            listener.field(format!("{}{key}", self.within), kind());
        }
    }

    /// What was read of a field; what cannot be used is told to a listener, if there is one,
    /// and read as if it were left out.
    pub(crate) fn or_told<T>(&self, key: &str, read: Read<Option<T>>) -> Read<Option<T>> {
        match (read, self.listener) {
            (Err(FieldError(text)), Some(listener)) => {
                listener.fault(Some(format!("{}{key}", self.within)), text);
                Ok(None)
            }
            (read, _) => read,
        }
    }

    /// What must be there. A listener is told that it is missing, and something stands in
    /// for it.
    pub(crate) fn needed<T>(
        &self,
        key: &str,
        read: Option<T>,
        such_as: &str,
        stand_in: T,
    ) -> Read<T> {
        if let Some(listener) = self.listener {
            listener.needed(format!("{}{key}", self.within));
        }
        let missing = match read {
            Some(value) => return Ok(value),
            None => Err(self.missing(key, such_as)),
        };
        // What is there and cannot be used has been told already.
        if self.listener.is_some() && self.table.contains_key(key) {
            return Ok(stand_in);
        }
        Ok(self.or_told(key, missing)?.unwrap_or(stand_in))
    }

    /// Only the first version of a file is known.
    pub(crate) fn version_1(&self) -> Read<()> {
        let read = match self.table.get("version") {
            Some(Value::Integer(1)) => Ok(None),
            Some(other) => Err(self.wrong("version", other, "is not known", "version = 1")),
            None => Err(self.missing("version", "version = 1")),
        };
        self.or_told::<()>("version", read).map(|_| ())
    }

    /// The table of a key, read with its own keys; an empty one where it is left out.
    pub(crate) fn section<'a>(
        &'a self,
        key: &str,
        within: &'a str,
        keys: &[&str],
        empty: &'a Table,
    ) -> Read<Fields<'a>> {
        let read = match self.table.get(key) {
            None => Ok(None),
            Some(Value::Table(table)) => Ok(Some(table)),
            Some(other) => {
                let wanted = format!("a section [{key}]");
                Err(self.wrong(key, other, "is not a table", &wanted))
            }
        };
        let fields = Fields {
            table: self.or_told(key, read)?.unwrap_or(empty),
            within,
            listener: self.listener,
        };
        fields.only(keys)?;
        Ok(fields)
    }

    /// Refuses keys that are not in the list.
    pub(crate) fn only(&self, keys: &[&str]) -> Read<()> {
        for key in self.table.keys() {
            if !keys.contains(&key.as_str()) {
                let nearest = nearest(key, keys).map_or(String::new(), |near| {
                    format!("{}{near} would do; ", self.within)
                });
                let error = FieldError(format!(
                    "{}{} is not a known field; {nearest}known are {}",
                    self.within,
                    shortened(key),
                    keys.join(", ")
                ));
                self.or_told::<()>(key, Err(error))?;
            }
        }
        Ok(())
    }

    pub(crate) fn number(&self, key: &str, least: f64, most: f64) -> Read<Option<f64>> {
        self.is(key, || FieldKind::Number { least, most });
        let read = |value: &Value| {
            let wanted = format!("a number from {} to {}", Plain(least), Plain(most));
            match as_number(value) {
                None => Err(self.wrong(key, value, "is not a number", &wanted)),
                Some(number) if (least - LAST_DIGIT..=most + LAST_DIGIT).contains(&number) => {
                    Ok(number)
                }
                Some(_) => Err(self.wrong(key, value, "is out of range", &wanted)),
            }
        };
        self.or_told(key, self.table.get(key).map(read).transpose())
    }

    pub(crate) fn one_of(&self, key: &str, accepted: &[f64]) -> Read<Option<f64>> {
        self.is(key, || FieldKind::OneOf(accepted.to_vec()));
        let read = |value: &Value| {
            let found =
                as_number(value).and_then(|n| accepted.iter().find(|a| (**a - n).abs() < 1e-9));
            found.copied().ok_or_else(|| {
                let wanted = listed(accepted);
                self.wrong(key, value, "is not among the divisions in use", &wanted)
            })
        };
        self.or_told(key, self.table.get(key).map(read).transpose())
    }

    pub(crate) fn whole(&self, key: &str, accepted: &[u8]) -> Read<Option<u8>> {
        let as_numbers: Vec<f64> = accepted.iter().map(|n| f64::from(*n)).collect();
        let number = self.one_of(key, &as_numbers)?;
        Ok(number.and_then(|n| {
            accepted
                .iter()
                .copied()
                .find(|a| (f64::from(*a) - n).abs() < 0.5)
        }))
    }

    pub(crate) fn count(&self, key: &str, most: u8) -> Read<Option<u8>> {
        self.is(key, || FieldKind::Count { most });
        let read = |value: &Value| {
            let count = match value {
                Value::Integer(n) => u8::try_from(*n).ok().filter(|n| *n <= most),
                _ => None,
            };
            count.ok_or_else(|| {
                let wanted = format!("a whole number from 0 to {most}");
                self.wrong(key, value, "is not a count that fits", &wanted)
            })
        };
        self.or_told(key, self.table.get(key).map(read).transpose())
    }

    pub(crate) fn truth(&self, key: &str) -> Read<Option<bool>> {
        self.is(key, || FieldKind::Truth);
        let read = |value: &Value| match value {
            Value::Boolean(truth) => Ok(*truth),
            other => Err(self.wrong(key, other, "is neither", "true or false")),
        };
        self.or_told(key, self.table.get(key).map(read).transpose())
    }

    pub(crate) fn text(
        &self,
        key: &str,
        characters: std::ops::RangeInclusive<usize>,
    ) -> Read<Option<String>> {
        let (least, most) = characters.clone().into_inner();
        self.is(key, || FieldKind::Text { least, most });
        let read = |value: &Value| match value {
            Value::String(text)
                if characters.contains(&text.trim().chars().count())
                    && !text.chars().any(char::is_control) =>
            {
                Ok(text.trim().to_owned())
            }
            other => {
                let wanted = format!("a text of {least} to {most} characters");
                Err(self.wrong(key, other, "does not do", &wanted))
            }
        };
        self.or_told(key, self.table.get(key).map(read).transpose())
    }

    pub(crate) fn choice<T: Copy>(
        &self,
        key: &str,
        all: &[T],
        name: fn(T) -> &'static str,
    ) -> Read<Option<T>> {
        self.is(key, || {
            FieldKind::Choice(all.iter().map(|one| name(*one)).collect())
        });
        let read = |value: &Value| {
            let found = match value {
                Value::String(text) => all.iter().copied().find(|one| name(*one) == text),
                _ => None,
            };
            found.ok_or_else(|| {
                let names: Vec<String> = all
                    .iter()
                    .map(|one| format!("\"{}\"", name(*one)))
                    .collect();
                self.wrong(key, value, "is not known", &names.join(" or "))
            })
        };
        self.or_told(key, self.table.get(key).map(read).transpose())
    }

    pub(crate) fn wrong(&self, key: &str, value: &Value, what: &str, would_do: &str) -> FieldError {
        FieldError(format!(
            "{}{key} = {} {what}; {would_do} would do",
            self.within,
            shortened(&written(value))
        ))
    }

    pub(crate) fn missing(&self, key: &str, would_do: &str) -> FieldError {
        FieldError(format!(
            "{}{key} is missing; {would_do} would do",
            self.within
        ))
    }
}

pub(crate) fn as_number(value: &Value) -> Option<f64> {
    match value {
        #[expect(
            clippy::cast_precision_loss,
            reason = "every accepted range is far below 2⁵³"
        )]
        Value::Integer(n) => Some(*n as f64),
        Value::Float(x) => Some(*x),
        _ => None,
    }
}

/// A value as it may be written in a file.
fn written(value: &Value) -> String {
    match value {
        Value::Float(number) => Plain(*number).to_string(),
        Value::Array(all) => {
            let all: Vec<String> = all.iter().map(written).collect();
            format!("[{}]", all.join(", "))
        }
        other => other.to_string(),
    }
}

fn listed(numbers: &[f64]) -> String {
    let texts: Vec<String> = numbers.iter().map(|one| Plain(*one).to_string()).collect();
    texts.join(", ")
}

/// The key that one which is not known was most likely meant for: so near that at most a
/// third of its letters are wrong, missing, too many or changed with their neighbour.
fn nearest<'a>(key: &str, keys: &[&'a str]) -> Option<&'a str> {
    if key.chars().count() > MOST_LETTERS {
        return None;
    }
    let off = |known: &&&str| slips(key, known);
    let near = keys.iter().min_by_key(off)?;
    let length = key.chars().count().max(near.chars().count());
    (off(&near) * 3 <= length).then_some(near)
}

/// Longer than any key: what is as long is none that was misspelt.
const MOST_LETTERS: usize = 60;

/// How many slips of the pen lead from one word to another: a letter wrong, missing or
/// too many, or two neighbours changed (Damerau and Levenshtein's distance, each pair
/// changed once at most).
fn slips(one: &str, other: &str) -> usize {
    let (one, other): (Vec<char>, Vec<char>) = (one.chars().collect(), other.chars().collect());
    let mut before: Vec<usize> = Vec::new();
    let mut last: Vec<usize> = (0..=other.len()).collect();
    for (i, a) in one.iter().enumerate() {
        let mut row = vec![i + 1];
        for (j, b) in other.iter().enumerate() {
            let mut least = (last[j] + usize::from(a != b))
                .min(last[j + 1] + 1)
                .min(row[j] + 1);
            if i > 0 && j > 0 && one[i - 1] == *b && other[j - 1] == *a {
                least = least.min(before[j - 1] + 1);
            }
            row.push(least);
        }
        before = std::mem::replace(&mut last, row);
    }
    last.last().copied().unwrap_or_default()
}

/// A value short enough to stand in a message.
fn shortened(text: &str) -> String {
    const MOST: usize = 60;
    if text.chars().count() <= MOST {
        return text.to_owned();
    }
    let head: String = text.chars().take(MOST).collect();
    format!("{head}…")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_misspelt_key_is_answered_with_the_nearest() {
        const KEYS: [&str; 5] = ["diameter_mm", "name", "plates_deg", "stars", "kerf_mm"];
        for (written, meant) in [
            ("diametre_mm", Some("diameter_mm")),
            ("diameter", Some("diameter_mm")),
            ("plate_deg", Some("plates_deg")),
            ("nmae", Some("name")),
            ("Kerf_mm", Some("kerf_mm")),
            ("star", Some("stars")),
            // Nothing like any of them.
            ("colour", None),
            ("", None),
            (&"n".repeat(10_000), None),
        ] {
            assert_eq!(nearest(written, &KEYS), meant, "{}", shortened(written));
        }
    }
}
