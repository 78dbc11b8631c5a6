/// What parts the columns and the lines of a table, by its first line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Parting {
    /// The one of comma, semicolon and tab between which the first line has all the columns
    /// that are needed. Where it has them by none, the first that it holds, so that what is
    /// said of it is said of its columns.
    pub separator: u8,
    /// Whether lines end with a return and a new line.
    with_return: bool,
}

impl Parting {
    /// Of a table that begins so.
    #[must_use]
    pub fn of(table: &[u8], needed: &[&str]) -> Parting {
        const KNOWN: [u8; 3] = [b',', b';', b'\t'];
        let ends = |byte: &u8| b"\r\n".contains(byte);
        let end = table.iter().position(ends).unwrap_or(table.len());
        let (header, rest) = table.split_at(end);
        let has_all = |separator: &u8| {
            let mut reader = csv::ReaderBuilder::new()
                .delimiter(*separator)
                .from_reader(header);
            let names = reader.headers().cloned().unwrap_or_default();
            let names: Vec<String> = names.iter().map(column_name).collect();
            needed
                .iter()
                .all(|name| names.iter().any(|one| one == name))
        };
        let found = KNOWN.into_iter().find(has_all);
        let holds = |separator: &u8| header.contains(separator);
        let found = found.or_else(|| KNOWN.into_iter().find(holds));
        Parting {
            separator: found.unwrap_or(b','),
            with_return: rest.starts_with(b"\r\n"),
        }
    }

    /// The line at a place in the table, from 1; 0 where it is not known.
    #[must_use]
    pub fn line(&self, place: Option<&csv::Position>) -> u64 {
        // A row is taken to end with the return, and its new line is counted with the next.
        place.map_or(0, |place| place.line() + u64::from(self.with_return))
    }

    /// That a place on the Earth is not what may be one number with a decimal comma, where
    /// no commas part the columns: `42,88` is 42.88 to those who write such tables.
    ///
    /// # Errors
    /// When it may be.
    pub fn is_no_decimal_comma(&self, at: &str) -> Result<(), String> {
        let figures = |text: &str| !text.is_empty() && text.bytes().all(|c| c.is_ascii_digit());
        let unsigned = at.trim().trim_start_matches(['+', '-', '−']);
        let doubtful = unsigned
            .split_once(',')
            .is_some_and(|(whole, rest)| figures(whole) && figures(rest));
        if self.separator == b',' || !doubtful {
            return Ok(());
        }
        Err(format!(
            "“{}” may be one number with a decimal comma, or a latitude and a longitude; both with points, such as 42.88,-8.54, would do",
            at.trim()
        ))
    }
}

/// The name of a column, however the header writes it.
#[must_use]
pub fn column_name(written: &str) -> String {
    written.trim_start_matches('\u{feff}').trim().to_lowercase()
}
