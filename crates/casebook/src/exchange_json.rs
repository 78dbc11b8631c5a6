use std::io::{self, Write};

use serde::Deserialize;
use serde_json::value::RawValue;

use crate::Case;
use crate::imported::{Imported, NoCasebook};
#[cfg(feature = "book")]
use crate::{Casebook, CasebookError};

/// What the exchange file says of itself.
const FORMAT: &str = "almuri casebook";
const VERSION: u32 = 1;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Exchange<'a> {
    format: String,
    version: u32,
    #[serde(borrow)]
    cases: Vec<&'a RawValue>,
}

/// Reads an exchange file: one JSON object with `format`, `version` and `cases`, each
/// case with the fields of [`Case`]. `check` says what else may be wrong with one.
///
/// # Errors
/// When the text is no such file at all.
pub fn read_json(
    text: &str,
    check: impl Fn(&Case) -> Result<(), String>,
) -> Result<Imported, NoCasebook> {
    let text = text.trim_start_matches('\u{feff}');
    let exchange: Exchange<'_> = serde_json::from_str(text).map_err(|error| {
        NoCasebook(format!(
            "this is no casebook in JSON: {error}; {{\"format\":\"{FORMAT}\",\"version\":{VERSION},\"cases\":[…]}} would do"
        ))
    })?;
    if exchange.format != FORMAT || exchange.version != VERSION {
        return Err(NoCasebook(format!(
            "format {:?} of version {} is not known; {FORMAT:?} of version {VERSION} would do",
            exchange.format, exchange.version
        )));
    }
    let mut imported = Imported::default();
    let (mut line, mut counted) = (1, 0);
    for raw in exchange.cases {
        // A case is a part of the text, so that its place is known.
        let at = (raw.get().as_ptr() as usize).saturating_sub(text.as_ptr() as usize);
        let between = text.as_bytes().get(counted..at).unwrap_or_default();
        line += between.iter().filter(|byte| **byte == b'\n').count() as u64;
        counted = at;
        let case = serde_json::from_str::<Case>(raw.get()).map_err(|error| {
            // Its own line and column are within the case; ours is said beside it.
            let said = error.to_string();
            said.split(" at line ").next().unwrap_or(&said).to_owned()
        });
        imported.row(line, case, &check);
    }
    Ok(imported)
}

/// Writes cases, one on each line.
#[derive(Debug)]
pub struct JsonCases<W> {
    out: W,
    count: u64,
}

impl<W: Write> JsonCases<W> {
    /// Begins the file.
    ///
    /// # Errors
    /// When it cannot be written.
    pub fn begin(mut out: W) -> io::Result<JsonCases<W>> {
        write!(
            out,
            "{{\"format\":\"{FORMAT}\",\"version\":{VERSION},\"cases\":["
        )?;
        Ok(JsonCases { out, count: 0 })
    }

    /// Writes a case.
    ///
    /// # Errors
    /// When it cannot be written.
    pub fn case(&mut self, case: &Case) -> io::Result<()> {
        let before = if self.count == 0 { "\n" } else { ",\n" };
        self.count += 1;
        write!(self.out, "{before}{}", serde_json::to_string(case)?)
    }

    /// Ends the file, and tells how many cases are in it.
    ///
    /// # Errors
    /// When it cannot be written.
    pub fn end(mut self) -> io::Result<u64> {
        self.out.write_all(b"\n]}\n")?;
        self.out.flush()?;
        Ok(self.count)
    }
}

/// Writes a whole casebook, a case on each line.
///
/// # Errors
/// When it cannot be read or written.
#[cfg(feature = "book")]
pub fn write_json(book: &Casebook, out: &mut impl Write) -> Result<u64, CasebookError> {
    book.is_sound_now()?;
    let written = |error: io::Error| CasebookError::file(book.path(), error);
    let mut cases = JsonCases::begin(out).map_err(written)?;
    book.each(|kept| cases.case(&kept.case).map_err(written))?;
    cases.end().map_err(written)
}
