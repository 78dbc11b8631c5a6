/// What a row of the table is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// A case.
    Case,
    /// A class.
    Class,
    /// A paper of a class's pupil.
    Paper,
}

impl Kind {
    const ALL: [Kind; 3] = [Kind::Case, Kind::Class, Kind::Paper];

    /// As it stands in the file.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Kind::Case => "case",
            Kind::Class => "class",
            Kind::Paper => "paper",
        }
    }
}

impl rusqlite::types::FromSql for Kind {
    fn column_result(value: rusqlite::types::ValueRef<'_>) -> rusqlite::types::FromSqlResult<Kind> {
        let name = value.as_str()?;
        let mut all = Kind::ALL.into_iter();
        all.find(|kind| kind.name() == name)
            .ok_or(rusqlite::types::FromSqlError::InvalidType)
    }
}
