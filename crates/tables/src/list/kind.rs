use crate::{Ask, Definition, Table, TableError};

/// A table of the list: everything known of it stands in one value in one file.
#[derive(Clone, Copy)]
pub struct Kind {
    /// Its name: `oblique-ascensions`.
    pub name: &'static str,
    /// What it is for, in one line.
    pub what: &'static str,
    /// What it is made for.
    pub needs: Needs,
    pub(super) define: fn(&Ask) -> Result<Box<dyn Definition>, TableError>,
}

/// What a table is made for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Needs {
    /// Nothing: it is the same everywhere and always.
    Nothing,
    /// The obliquity of a year.
    Obliquity,
    /// A latitude, and the obliquity of a year.
    Latitude,
    /// The days of a year.
    Days,
    /// The days of a year at a place.
    DaysAtPlace,
}

impl Kind {
    /// The definition for what is asked.
    ///
    /// # Errors
    /// When the table cannot be made for it.
    pub fn define(&self, ask: &Ask) -> Result<Box<dyn Definition>, TableError> {
        (self.define)(ask)
    }

    /// The printed table.
    ///
    /// # Errors
    /// When the table cannot be made for what is asked.
    pub fn make(&self, ask: &Ask) -> Result<Table, TableError> {
        Ok(Table::of(self.name, self.define(ask)?.as_ref()))
    }
}
