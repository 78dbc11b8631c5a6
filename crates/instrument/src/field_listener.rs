use std::cell::RefCell;

use crate::field_kind::FieldKind;

/// Hears, while a specification is read, which fields are asked for and what is wrong with
/// them: so the list of all fields is that of the reading itself.
#[derive(Debug, Default)]
pub(crate) struct FieldListener(RefCell<Heard>);

/// What was heard.
#[derive(Clone, Debug, Default)]
pub(crate) struct Heard {
    /// Each field by its name, with its section, and its kind.
    pub(crate) fields: Vec<(String, FieldKind)>,
    /// Those that must be there.
    pub(crate) needed: Vec<String>,
    /// What is wrong, and with which field.
    pub(crate) faults: Vec<(Option<String>, String)>,
}

impl FieldListener {
    pub(crate) fn field(&self, key: String, kind: FieldKind) {
        let mut heard = self.0.borrow_mut();
        if heard.fields.iter().all(|(other, _)| *other != key) {
            heard.fields.push((key, kind));
        }
    }

    pub(crate) fn needed(&self, key: String) {
        self.0.borrow_mut().needed.push(key);
    }

    /// Of a field the first fault is told.
    pub(crate) fn fault(&self, key: Option<String>, text: String) {
        let mut heard = self.0.borrow_mut();
        if key.is_none() || heard.faults.iter().all(|(other, _)| *other != key) {
            heard.faults.push((key, text));
        }
    }

    pub(crate) fn heard(self) -> Heard {
        self.0.into_inner()
    }
}
