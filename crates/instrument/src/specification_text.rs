use std::ops::Range;

use toml::Table;
use toml::de::{DeTable, DeValue};

use crate::field_kind::FieldValue;
use crate::specification_toml::{SpecificationError, keys_of};

/// The text of a specification in which single keys are written, with everything else in
/// it as it was: comments, the order of keys, and what a later version may bring. A key of a
/// section is named with it: `parts.tracery`.
///
/// ```
/// use instrument::SpecificationText;
/// let mut text = SpecificationText::of("version = 1\nname = \"old\" # a heading\n")?;
/// text.set("name", "\"new\"");
/// text.set("plates_deg", "[45]");
/// text.set("parts.throne", "\"crown\"");
/// assert_eq!(
///     text.as_str(),
///     "version = 1\nname = \"new\" # a heading\nplates_deg = [45]\n\n[parts]\nthrone = \"crown\"\n"
/// );
/// text.remove("plates_deg");
/// assert_eq!(
///     text.as_str(),
///     "version = 1\nname = \"new\" # a heading\n\n[parts]\nthrone = \"crown\"\n"
/// );
/// # Ok::<(), instrument::SpecificationError>(())
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SpecificationText(String);

/// Where a key stands in the text: itself, and its value.
#[derive(Clone)]
struct Entry {
    key: Range<usize>,
    value: Range<usize>,
}

/// How a section is written.
enum Section {
    /// `[parts]` on a line that ends there, and lines below it.
    Headed { line_end: usize },
    /// `parts = { … }`, with the place behind the bracket.
    Inline { inside: usize },
    /// `parts.tracery = …` on lines of their own.
    Dotted,
}

impl SpecificationText {
    /// Of a text that is TOML; whether it specifies an instrument is not asked.
    ///
    /// # Errors
    /// When it is no TOML.
    pub fn of(text: &str) -> Result<SpecificationText, SpecificationError> {
        crate::toml_fields::table_of(text, "a specification", "diameter_mm = 180")?;
        Ok(SpecificationText(text.to_owned()))
    }

    /// The line at which a text stops being TOML; none where it is TOML.
    #[must_use]
    pub fn unreadable_line(text: &str) -> Option<usize> {
        let error = text.parse::<Table>().err()?;
        let start = error.span().map_or(0, |span| span.start);
        Some(line_at(text, start))
    }

    /// The text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// What it says.
    pub(crate) fn table(&self) -> Table {
        // It was TOML when it was taken, and stays so with every change.
        self.0.parse().unwrap_or_default()
    }

    /// Whether a key is in it.
    #[must_use]
    pub fn has(&self, key: &str) -> bool {
        self.entry(key).is_some()
    }

    /// The line, counted from 1, on which a key stands.
    #[must_use]
    pub fn line(&self, key: &str) -> Option<usize> {
        Some(line_at(&self.0, self.entry(key)?.key.start))
    }

    /// Writes a value, itself TOML: in the place of the one that is there, or else on a line
    /// behind the keys that usually stand before it, in its section. What would no longer be
    /// TOML, because the text has something else by the section's name, is not written.
    pub fn set(&mut self, key: &str, value: &str) {
        let before = self.0.clone();
        self.write(key, value);
        if self.0.parse::<Table>().is_err() {
            self.0 = before;
        }
    }

    fn write(&mut self, key: &str, value: &str) {
        if let Some(entry) = self.entry(key) {
            self.0.replace_range(entry.value, value);
            return;
        }
        let (within, bare) = key.split_once('.').unwrap_or(("", key));
        let earlier = keys_of(within).iter().take_while(|other| **other != bare);
        let behind = earlier
            .filter_map(|other| self.entry(&in_section(within, other)))
            .map(|entry| entry.value.end)
            .max();
        let section = match within {
            "" => None,
            within => Some(self.section(within)),
        };
        match section {
            None => self.insert_line(behind.map_or(0, |end| self.line_end(end)), key, value),
            Some(Some(Section::Headed { line_end })) => {
                let at = behind.map_or(line_end, |end| self.line_end(end));
                self.insert_line(at, bare, value);
            }
            Some(Some(Section::Dotted)) => {
                let last = behind.or_else(|| self.last_of(within));
                self.insert_line(last.map_or(0, |end| self.line_end(end)), key, value);
            }
            Some(Some(Section::Inline { inside })) => match self.last_of(within) {
                Some(last) => self.0.insert_str(last, &format!(", {bare} = {value}")),
                None => self.0.insert_str(inside, &format!(" {bare} = {value} ")),
            },
            Some(None) => {
                let end = self.0.trim_end().len();
                let gap = if end == 0 { "" } else { "\n\n" };
                self.0.truncate(end);
                self.0
                    .push_str(&format!("{gap}[{within}]\n{bare} = {value}\n"));
            }
        }
    }

    fn insert_line(&mut self, at: usize, key: &str, value: &str) {
        let gap = match self.0.get(..at) {
            Some(head) if !head.is_empty() && !head.ends_with('\n') => "\n",
            _ => "",
        };
        self.0.insert_str(at, &format!("{gap}{key} = {value}\n"));
    }

    /// Takes a key away, with its line. A comment behind it stays, on a line by itself.
    pub fn remove(&mut self, key: &str) {
        let Some(entry) = self.entry(key) else {
            return;
        };
        let before = self.0.clone();
        let section = key
            .split_once('.')
            .and_then(|(within, _)| self.section(within));
        if let Some(Section::Inline { .. }) = section {
            self.remove_inline(&entry);
        } else {
            let start = self.line_start(entry.key.start);
            let end = self.line_end(entry.value.end);
            let behind = self.0.get(entry.value.end..end).unwrap_or_default();
            let comment = behind.trim_start().to_owned();
            self.0.replace_range(start..end, &comment);
        }
        if self.0.parse::<Table>().is_err() {
            self.0 = before;
        }
    }

    /// Takes a key out of `{ … }`, with one of the commas beside it.
    fn remove_inline(&mut self, entry: &Entry) {
        let rest = self.0.get(entry.value.end..).unwrap_or_default();
        let gap = rest.len() - rest.trim_start().len();
        if rest.trim_start().starts_with(',') {
            let end = entry.value.end + gap + 1;
            let space = self.0.get(end..).unwrap_or_default();
            let end = end + space.len() - space.trim_start_matches(' ').len();
            self.0.replace_range(entry.key.start..end, "");
        } else {
            let head = self.0.get(..entry.key.start).unwrap_or_default().trim_end();
            let start = head
                .strip_suffix(',')
                .map_or(entry.key.start, |head| head.trim_end().len());
            self.0.replace_range(start..entry.value.end, "");
        }
    }

    /// The comments in it, each from its `#`.
    #[must_use]
    pub fn comments(&self) -> Vec<&str> {
        let mut found = Vec::new();
        let mut rest = self.0.as_str();
        while let Some(at) = rest.find(['#', '"', '\'']) {
            let from = rest.get(at..).unwrap_or_default();
            rest = if from.starts_with('#') {
                let (comment, rest) = from.split_once('\n').unwrap_or((from, ""));
                found.push(comment.trim_end());
                rest
            } else {
                behind_string(from)
            };
        }
        found
    }

    /// Where the line begins on which a place lies.
    fn line_start(&self, at: usize) -> usize {
        let head = self.0.get(..at).unwrap_or_default();
        head.rfind('\n').map_or(0, |end| end + 1)
    }

    /// Where the line ends on which a place lies, its break included.
    fn line_end(&self, at: usize) -> usize {
        let rest = self.0.get(at..).unwrap_or_default();
        rest.find('\n')
            .map_or(self.0.len(), |length| at + length + 1)
    }

    /// How a section is written, if it is there.
    fn section(&self, within: &str) -> Option<Section> {
        let table = DeTable::parse(&self.0).ok()?;
        let (_, section) = table.get_ref().iter().find(|(key, value)| {
            key.get_ref() == within && matches!(value.get_ref(), DeValue::Table(_))
        })?;
        let span = section.span();
        let text = self.0.get(span.start..).unwrap_or_default();
        Some(if text.starts_with('{') {
            Section::Inline {
                inside: span.start + 1,
            }
        } else if text.starts_with('[') {
            Section::Headed {
                line_end: self.line_end(span.end),
            }
        } else {
            Section::Dotted
        })
    }

    /// Where the last value of a section ends.
    fn last_of(&self, within: &str) -> Option<usize> {
        let keys = keys_of(within).iter();
        let known = keys.filter_map(|key| self.entry(&in_section(within, key)));
        known.map(|entry| entry.value.end).max()
    }

    fn entry(&self, wanted: &str) -> Option<Entry> {
        let table = DeTable::parse(&self.0).ok()?;
        let (within, bare) = wanted.split_once('.').unwrap_or(("", wanted));
        let table = match within {
            "" => table.get_ref(),
            within => {
                let DeValue::Table(section) = table.get_ref().get(within)?.get_ref() else {
                    return None;
                };
                section
            }
        };
        let (key, value) = table.iter().find(|(key, value)| {
            key.get_ref() == bare && !matches!(value.get_ref(), DeValue::Table(_))
        })?;
        Some(Entry {
            key: key.span(),
            value: value.span(),
        })
    }
}

/// A key's name, with its section if it has one.
fn in_section(within: &str, key: &str) -> String {
    match within {
        "" => key.to_owned(),
        within => format!("{within}.{key}"),
    }
}

/// The line, counted from 1, on which a place of a text lies.
fn line_at(text: &str, at: usize) -> usize {
    let head = text.get(..at).unwrap_or(text);
    head.matches('\n').count() + 1
}

/// What follows the string with which a text begins.
fn behind_string(text: &str) -> &str {
    let quote = text.get(..1).unwrap_or_default();
    let long = text.get(..3).filter(|mark| *mark == quote.repeat(3));
    let mark = long.unwrap_or(quote);
    let mut rest = text.get(mark.len()..).unwrap_or_default();
    loop {
        let Some(at) = rest.find([quote.chars().next().unwrap_or('"'), '\\']) else {
            return "";
        };
        let from = rest.get(at..).unwrap_or_default();
        if from.starts_with('\\') && quote == "\"" {
            let escaped = from.chars().nth(1).map_or(0, char::len_utf8);
            rest = from.get(1 + escaped..).unwrap_or_default();
        } else if let Some(behind) = from.strip_prefix(mark) {
            return behind;
        } else {
            rest = from.get(1..).unwrap_or_default();
        }
    }
}

/// A text as TOML writes it.
#[must_use]
pub fn toml_text(text: &str) -> String {
    FieldValue::Text(text.to_owned()).toml()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn what_is_not_set_stays_as_it_was() {
        let before = "# mine\nversion = 1\nplates_deg = [ # of brass\n  42,\n  46,\n]\n\n[faults]\npin_play_mm = 0.1 # worn";
        let mut text = SpecificationText::of(before).unwrap();
        text.set("plates_deg", "[50]");
        text.set("name", "\"one\"");
        text.set("twilight_line", "false");
        assert_eq!(
            text.as_str(),
            "# mine\nversion = 1\nname = \"one\"\nplates_deg = [50]\ntwilight_line = false\n\n[faults]\npin_play_mm = 0.1 # worn"
        );
        // A key of a section is another.
        text.remove("pin_play_mm");
        assert!(text.as_str().ends_with("pin_play_mm = 0.1 # worn"));
        text.remove("plates_deg");
        assert!(!text.has("plates_deg"));
        assert!(SpecificationText::of("name =").is_err());
    }

    #[test]
    fn a_text_without_a_break_at_its_end_is_gone_on_with() {
        let mut text = SpecificationText::of("version = 1").unwrap();
        text.set("name", "\"one\"");
        assert_eq!(text.as_str(), "version = 1\nname = \"one\"\n");
    }

    proptest! {
        #[test]
        fn any_name_is_written_so_that_it_is_read_again(name in any::<String>()) {
            let mut text = SpecificationText::of("version = 1\n").unwrap();
            text.set("name", &toml_text(&name));
            text.set("description", &toml_text(&name));
            let table: toml::Table = text.as_str().parse().unwrap();
            prop_assert_eq!(table["name"].as_str(), Some(name.as_str()));
            prop_assert_eq!(table["description"].as_str(), Some(name.as_str()));
        }
    }
}
