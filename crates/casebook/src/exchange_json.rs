use std::fmt;
use std::io::{self, Write};

use serde::de::{DeserializeOwned, IgnoredAny, SeqAccess, Visitor};
use serde::{Deserialize, Deserializer};
use serde_json::value::RawValue;

use crate::imported::{Imported, MOST_AT_ONCE, NoCasebook, too_many};
use crate::part::Fill;
use crate::{BadRow, Case, ClassOut, Paper};
#[cfg(feature = "book")]
use crate::{CaseId, Casebook, CasebookError, Part};

/// What the exchange file says of itself.
const FORMAT: &str = "almuri casebook";
const VERSION: u32 = 1;
/// That of a file with classes in it, which earlier programs do not know.
const WITH_CLASSES: u32 = 2;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Exchange<'a> {
    format: String,
    version: u32,
    #[serde(borrow)]
    cases: Rows<'a>,
    #[serde(borrow, default)]
    classes: Rows<'a>,
}

/// A list of the file, or as much of it as shows that it is longer than is read in at once.
#[derive(Default)]
struct Rows<'a>(Vec<&'a RawValue>);

impl<'de: 'a, 'a> Deserialize<'de> for Rows<'a> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Rows<'a>, D::Error> {
        struct Bounded;
        impl<'de> Visitor<'de> for Bounded {
            type Value = Vec<&'de RawValue>;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a list")
            }

            fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<Self::Value, A::Error> {
                let mut rows = Vec::new();
                while rows.len() <= MOST_AT_ONCE {
                    let Some(row) = list.next_element()? else {
                        return Ok(rows);
                    };
                    rows.push(row);
                }
                while list.next_element::<IgnoredAny>()?.is_some() {}
                Ok(rows)
            }
        }
        deserializer.deserialize_seq(Bounded).map(Rows)
    }
}

/// Reads an exchange file: one JSON object with `format`, `version` and `cases`, each
/// case with the fields of [`Case`], and with `classes`, each with the fields of
/// [`ClassOut`], where its version is 2. `check` says what else may be wrong with a case.
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
    let version = if exchange.classes.0.is_empty() {
        VERSION..=WITH_CLASSES
    } else {
        WITH_CLASSES..=WITH_CLASSES
    };
    if exchange.format != FORMAT || !version.contains(&exchange.version) {
        return Err(NoCasebook(format!(
            "format {:?} of version {} is not known; {FORMAT:?} of version {VERSION}, or of version {WITH_CLASSES} with classes, would do",
            exchange.format, exchange.version
        )));
    }
    if exchange.cases.0.len().max(exchange.classes.0.len()) > MOST_AT_ONCE {
        return Err(NoCasebook(too_many()));
    }
    let mut imported = Imported::default();
    let (mut line, mut counted) = (1, 0);
    let mut line_of = |raw: &RawValue| {
        // It is a part of the text, so that its place is known.
        let at = (raw.get().as_ptr() as usize).saturating_sub(text.as_ptr() as usize);
        if at < counted {
            (line, counted) = (1, 0);
        }
        let between = text.as_bytes().get(counted..at).unwrap_or_default();
        line += between.iter().filter(|byte| **byte == b'\n').count() as u64;
        counted = at;
        line
    };
    for raw in exchange.cases.0 {
        imported.row(line_of(raw), part(raw), &check);
        imported.is_worth_going_on()?;
    }
    for raw in exchange.classes.0 {
        let line = line_of(raw);
        let checked = part(raw).and_then(|out: ClassOut| {
            out.class.check()?;
            out.papers.iter().try_for_each(Paper::check)?;
            Ok(out)
        });
        match checked {
            Ok(out) => imported.classes.push(out),
            Err(why) => imported.bad.push(BadRow { line, why }),
        }
    }
    Ok(imported)
}

/// A part of the file.
fn part<T: DeserializeOwned>(raw: &RawValue) -> Result<T, String> {
    // As bytes, for so cases are read elsewhere: a page has that code once.
    serde_json::from_slice(raw.get().as_bytes()).map_err(|error| {
        // Its own line and column are within the part; ours is said beside it.
        let said = error.to_string();
        said.split(" at line ").next().unwrap_or(&said).to_owned()
    })
}

/// Writes cases, one on each line, and classes after them.
#[derive(Debug)]
pub struct JsonCases<W> {
    out: W,
    fill: Fill,
    classes: u64,
}

impl<W: Write> JsonCases<W> {
    /// Begins the file of a book that has classes, or has none.
    ///
    /// # Errors
    /// When it cannot be written.
    pub fn begin(mut out: W, has_classes: bool) -> io::Result<JsonCases<W>> {
        let version = if has_classes { WITH_CLASSES } else { VERSION };
        write!(
            out,
            "{{\"format\":\"{FORMAT}\",\"version\":{version},\"cases\":["
        )?;
        Ok(JsonCases {
            out,
            fill: Fill::default(),
            classes: 0,
        })
    }

    /// Writes a class, once all cases are written.
    ///
    /// # Errors
    /// When it cannot be written.
    pub fn class(&mut self, class: &ClassOut) -> io::Result<()> {
        let before = if self.classes == 0 {
            "\n],\"classes\":[\n"
        } else {
            ",\n"
        };
        self.classes += 1;
        write!(self.out, "{before}{}", serde_json::to_string(class)?)
    }

    /// Writes a case, unless the file would be more than is read in at once: says whether it did.
    ///
    /// # Errors
    /// When it cannot be written.
    pub fn case(&mut self, case: &Case) -> io::Result<bool> {
        if self.fill.is_full() {
            return Ok(false);
        }
        let before = if self.fill.cases() == 0 { "\n" } else { ",\n" };
        let text = serde_json::to_string(case)?;
        self.fill.takes(text.len());
        write!(self.out, "{before}{text}")?;
        Ok(true)
    }

    /// Ends the file, and tells how many cases are in it.
    ///
    /// # Errors
    /// When it cannot be written.
    pub fn end(mut self) -> io::Result<u64> {
        self.out.write_all(b"\n]}\n")?;
        self.out.flush()?;
        Ok(self.fill.cases())
    }
}

/// Writes the cases of a casebook behind one, or all, a case on each line: as many as are
/// read in at once. Behind the last case come the classes.
///
/// # Errors
/// When it cannot be read or written.
#[cfg(feature = "book")]
pub fn write_json(
    book: &Casebook,
    behind: Option<CaseId>,
    out: &mut impl Write,
) -> Result<Part, CasebookError> {
    book.is_sound_now()?;
    let written = CasebookError::Out;
    let has_classes = !book.classes()?.is_empty();
    let mut cases = JsonCases::begin(out, has_classes).map_err(written)?;
    let part = Part::of(book, behind, |case| cases.case(case).map_err(written))?;
    if part.next.is_none() {
        book.each_class(|class| cases.class(&class).map_err(written))?;
    }
    cases.end().map_err(written)?;
    Ok(part)
}
