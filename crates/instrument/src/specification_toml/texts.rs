//! The table `[texts]`: an owner's own words.

use toml::{Table, Value};

use crate::field_kind::FieldKind;
use crate::specification::Texts;
use crate::toml_fields::{Fields, Read};

/// Every key of the table `[texts]`, as documented on [`Texts`].
pub(super) const TEXT_KEYS: [&str; 4] = ["throne", "back", "floor", "plates"];

impl Fields<'_> {
    pub(super) fn texts(&self) -> Read<Texts> {
        let empty = Table::new();
        let fields = self.section("texts", "texts.", &TEXT_KEYS, &empty)?;
        Ok(Texts {
            throne: fields.lines("throne")?,
            back: fields.lines("back")?,
            floor: fields.lines("floor")?,
            plates: fields.lines("plates")?,
        })
    }

    /// One line, or a list of them.
    fn lines(&self, key: &str) -> Read<Vec<String>> {
        const MOST: usize = 12;
        const LONGEST: usize = 80;
        self.is(key, || FieldKind::Lines {
            most: MOST,
            longest: LONGEST,
        });
        let wanted = format!("a line of 1 to {LONGEST} characters, or a list of 1 to {MOST} lines");
        let line = |one: &Value| match one {
            Value::String(text) => {
                let text = text.trim();
                let fits = (1..=LONGEST).contains(&text.chars().count());
                (fits && !text.chars().any(char::is_control)).then(|| text.to_owned())
            }
            _ => None,
        };
        let read = |value: &Value| {
            let lines: Option<Vec<String>> = match value {
                Value::Array(list) if (1..=MOST).contains(&list.len()) => {
                    list.iter().map(line).collect()
                }
                other => line(other).map(|one| vec![one]),
            };
            lines.ok_or_else(|| self.wrong(key, value, "does not do", &wanted))
        };
        let read = self.table.get(key).map(read).transpose();
        Ok(self.or_told(key, read)?.unwrap_or_default())
    }
}
