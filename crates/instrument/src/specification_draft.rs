use toml::{Table, Value};

use crate::field_kind::{FieldKind, FieldValue};
use crate::specification::Specification;
use crate::specification_text::SpecificationText;
use crate::specification_toml::{SpecificationError, read_along};

/// A specification as it is being written, right or not yet right: all its fields, what is
/// wrong with which, and what comes about where the usual stands in the place of that.
///
/// ```
/// use instrument::{FieldKind, SpecificationDraft};
/// let text = "version = 1\nname = \"mine\"\ndiameter_mm = 20\nepoch_year = 2025\nplates_deg = [45]\n";
/// let draft = SpecificationDraft::of(text)?;
/// let wrong = &draft.faults[0];
/// assert_eq!((wrong.key.as_deref(), wrong.line), (Some("diameter_mm"), Some(3)));
/// let diameter = draft.field("diameter_mm").unwrap();
/// assert_eq!(diameter.kind, FieldKind::Number { least: 30.0, most: 1000.0 });
/// // It can be drawn all the same.
/// assert_eq!(draft.specification.unwrap().plates.len(), 1);
/// # Ok::<(), instrument::SpecificationError>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct SpecificationDraft {
    /// Every field there is, in the order in which they are read.
    pub fields: Vec<DraftField>,
    /// What is wrong; nothing where the text specifies an instrument.
    pub faults: Vec<DraftFault>,
    /// The specification, with what is usual in the place of what is wrong or missing; none
    /// where not even so one comes about.
    pub specification: Option<Specification>,
}

/// A field of a specification, and what the text says of it.
#[derive(Clone, Debug, PartialEq)]
pub struct DraftField {
    /// Its name, with its section: `diameter_mm`, `parts.tracery`.
    pub key: String,
    /// What it accepts.
    pub kind: FieldKind,
    /// Whether it must be there.
    pub needed: bool,
    /// What the text says, be it right or wrong.
    pub stated: Option<FieldValue>,
    /// What holds where the text says nothing of it, if that can be told.
    pub usual: Option<FieldValue>,
    /// The line of the text on which it stands.
    pub line: Option<usize>,
}

/// Something that is wrong with a specification.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DraftFault {
    /// The field, by its name with its section; none where the text as a whole is meant. It
    /// may be one that is not known.
    pub key: Option<String>,
    /// The line on which it stands, if it stands anywhere.
    pub line: Option<usize>,
    /// What is wrong, and what would do.
    pub text: String,
}

impl SpecificationDraft {
    /// Of a text that is TOML.
    ///
    /// # Errors
    /// When it is no TOML; [`SpecificationText::unreadable_line`] tells where.
    pub fn of(text: &str) -> Result<SpecificationDraft, SpecificationError> {
        let text = SpecificationText::of(text)?;
        let table = text.table();
        let (specification, heard) = read_along(&table);
        let fields = heard.fields.into_iter().map(|(key, kind)| {
            let stated = at(&table, &key);
            let usual = match stated {
                None => specification.as_ref().and_then(|is| is.value(&key)),
                Some(_) => read_along(&without(&table, &key))
                    .0
                    .and_then(|is| is.value(&key)),
            };
            DraftField {
                needed: heard.needed.contains(&key),
                stated: stated.map(FieldValue::from),
                usual,
                line: text.line(&key),
                key,
                kind,
            }
        });
        let faults = heard.faults.into_iter().map(|(key, what)| DraftFault {
            line: key.as_ref().and_then(|key| text.line(key)),
            key,
            text: what,
        });
        Ok(SpecificationDraft {
            fields: fields.collect(),
            faults: faults.collect(),
            specification,
        })
    }

    /// A field, by its name with its section.
    #[must_use]
    pub fn field(&self, key: &str) -> Option<&DraftField> {
        self.fields.iter().find(|field| field.key == key)
    }
}

/// What stands under a name with its section.
fn at<'a>(table: &'a Table, key: &str) -> Option<&'a Value> {
    match key.split_once('.') {
        None => table.get(key),
        Some((section, key)) => table.get(section)?.get(key),
    }
}

/// The same without it.
fn without(table: &Table, key: &str) -> Table {
    let mut less = table.clone();
    match key.split_once('.') {
        None => {
            less.remove(key);
        }
        Some((section, key)) => {
            if let Some(Value::Table(section)) = less.get_mut(section) {
                section.remove(key);
            }
        }
    }
    less
}
