use std::ops::Range;

use toml::de::{DeTable, DeValue};

use crate::specification_toml::{KEYS, SpecificationError};

/// The text of a specification in which single keys are written, with everything else in
/// it as it was: comments, the order of keys, and what a later version may bring.
///
/// ```
/// use instrument::SpecificationText;
/// let mut text = SpecificationText::of("version = 1\nname = \"old\" # a heading\n")?;
/// text.set("name", "\"new\"");
/// text.set("plates_deg", "[45]");
/// assert_eq!(text.as_str(), "version = 1\nname = \"new\" # a heading\nplates_deg = [45]\n");
/// text.remove("plates_deg");
/// assert_eq!(text.as_str(), "version = 1\nname = \"new\" # a heading\n");
/// # Ok::<(), instrument::SpecificationError>(())
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SpecificationText(String);

/// Where a key stands in the text: itself, and its value.
struct Entry {
    key: Range<usize>,
    value: Range<usize>,
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

    /// The text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// Whether a key is in it, outside the sections.
    #[must_use]
    pub fn has(&self, key: &str) -> bool {
        self.entry(key).is_some()
    }

    /// Writes a value, itself TOML, for a key outside the sections: in the place of the
    /// one that is there, or else on a line behind the keys that usually stand before it.
    pub fn set(&mut self, key: &str, value: &str) {
        if let Some(entry) = self.entry(key) {
            self.0.replace_range(entry.value, value);
            return;
        }
        let before = KEYS.iter().take_while(|other| **other != key);
        let behind = before
            .filter_map(|other| self.entry(other))
            .map(|entry| entry.value.end)
            .max();
        let at = behind.map_or(0, |end| self.line_end(end));
        let gap = match self.0.get(..at) {
            Some(head) if !head.is_empty() && !head.ends_with('\n') => "\n",
            _ => "",
        };
        self.0.insert_str(at, &format!("{gap}{key} = {value}\n"));
    }

    /// Takes a key outside the sections away, with the rest of its line.
    pub fn remove(&mut self, key: &str) {
        if let Some(entry) = self.entry(key) {
            let end = self.line_end(entry.value.end);
            self.0.replace_range(entry.key.start..end, "");
        }
    }

    /// Where the line ends on which a place lies, its break included.
    fn line_end(&self, at: usize) -> usize {
        let rest = self.0.get(at..).unwrap_or_default();
        rest.find('\n')
            .map_or(self.0.len(), |length| at + length + 1)
    }

    fn entry(&self, wanted: &str) -> Option<Entry> {
        // It was TOML when it was taken, and stays so with every change.
        let table = DeTable::parse(&self.0).ok()?;
        let entries = table.get_ref().iter();
        entries
            .filter(|(key, value)| {
                key.get_ref() == wanted && !matches!(value.get_ref(), DeValue::Table(_))
            })
            .map(|(key, value)| Entry {
                key: key.span(),
                value: value.span(),
            })
            .next()
    }
}

/// A text as TOML writes it.
#[must_use]
pub fn toml_text(text: &str) -> String {
    toml::Value::String(text.to_owned()).to_string()
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
