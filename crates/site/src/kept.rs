//! What the browser, which keeps the cases itself, asks about them.

use std::io;

use casebook::{Case, CaseId, ClassOut, CsvCases, CsvFor, JsonCases, Kept};
use desk::{CastRequest, WithInstrument};
use page::{Answer, Fault, FormIn, FormOut, Holder, cast_of, fit_to_keep, json, plates_to_make};
use serde::{Deserialize, Serialize};

use crate::Held;

fn read<'a, T: Deserialize<'a>>(body: &'a [u8]) -> Result<T, Fault> {
    serde_json::from_slice(body).map_err(Fault::asked)
}

/// A case, tidied, if it can be kept.
pub(crate) fn fit(held: &mut Held, body: Vec<u8>) -> Result<Answer, Fault> {
    let case: Case = read(&body)?;
    let case = case.tidied();
    fit_to_keep(&case, &cast_of(&case), &held.cabinet()).map_err(Fault::Asked)?;
    json(&case)
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Text {
    form: FormIn,
    text: String,
}

/// What a text holds.
#[derive(Serialize)]
struct Rows {
    good: Vec<Case>,
    bad: Vec<BadRow>,
    classes: Vec<ClassOut>,
}

#[derive(Serialize)]
struct BadRow {
    line: u64,
    why: String,
}

/// The cases of a text, and the rows that are none.
pub(crate) fn rows(held: &mut Held, body: Vec<u8>) -> Result<Answer, Fault> {
    let Text { form, text } = read(&body)?;
    let cabinet = held.cabinet();
    let fits = |case: &Case| fit_to_keep(case, &cast_of(case), &cabinet);
    let found = form.rows(&text, fits).map_err(Fault::asked)?;
    let bad = found.bad.into_iter().map(|row| BadRow {
        line: row.line,
        why: row.why,
    });
    json(&Rows {
        good: found.good.into_iter().map(|(_, case)| case).collect(),
        bad: bad.collect(),
        classes: found.classes,
    })
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Cases {
    form: FormOut,
    cases: Vec<Case>,
}

#[derive(Serialize)]
struct Exported {
    text: String,
    cases: u64,
}

/// As many of the cases as are read in at once, from the first, as a text.
pub(crate) fn text(_: &mut Held, body: Vec<u8>) -> Result<Answer, Fault> {
    let Cases { form, cases } = read(&body)?;
    let mut out = Vec::new();
    let written = match form {
        FormOut::Json => in_json(&cases, &mut out),
        FormOut::Csv => in_table(&cases, CsvFor::Reading, &mut out),
        FormOut::Spreadsheet => in_table(&cases, CsvFor::Spreadsheets, &mut out),
    };
    let cases = written.map_err(Fault::inner)?;
    let text = String::from_utf8(out).map_err(Fault::inner)?;
    json(&Exported { text, cases })
}

fn in_json(cases: &[Case], out: &mut Vec<u8>) -> io::Result<u64> {
    let mut file = JsonCases::begin(out, false)?;
    for case in cases {
        if !file.case(case)? {
            break;
        }
    }
    file.end()
}

fn in_table(cases: &[Case], csv_for: CsvFor, out: &mut Vec<u8>) -> io::Result<u64> {
    let mut table = CsvCases::begin(csv_for, out)?;
    for case in cases {
        if !table.case(case)? {
            break;
        }
    }
    table.end()
}

/// A case as the browser keeps it.
#[derive(Deserialize)]
struct KeptCase {
    id: i64,
    version: i64,
    kept_unix_s: i64,
    changed_unix_s: i64,
    case: Case,
}

/// How many plates are shown.
const SHOWN: usize = 6;

/// The plates that the last cases lack.
pub(crate) fn plates(held: &mut Held, body: Vec<u8>) -> Result<Answer, Fault> {
    let last: Vec<KeptCase> = read(&body)?;
    let last: Vec<Kept> = last
        .into_iter()
        .map(|kept| Kept {
            id: CaseId(kept.id),
            version: kept.version,
            kept_unix_s: kept.kept_unix_s,
            changed_unix_s: kept.changed_unix_s,
            case: kept.case,
        })
        .collect();
    let usual = held.settings.with.clone();
    json(&plates_to_make(
        &last,
        usual.as_deref(),
        &held.cabinet(),
        SHOWN,
    ))
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Specification {
    text: String,
    instead_of: Option<String>,
}

#[derive(Serialize)]
struct Named {
    name: String,
}

/// What a specification that can be kept is called.
pub(crate) fn instrument(held: &mut Held, body: Vec<u8>) -> Result<Answer, Fault> {
    let Specification { text, instead_of } = read(&body)?;
    let name = held.cabinet().fit_to_keep(&text, instead_of.as_deref())?;
    json(&Named { name })
}

/// Whether settings would let the page begin with them.
pub(crate) fn settings(held: &mut Held, body: Vec<u8>) -> Result<Answer, Fault> {
    let kept: page::Kept = read(&body)?;
    desk::FigureForm::named(kept.figures.as_deref())?;
    kept.linked_to()?;
    let request = CastRequest {
        when: "2000-01-01 12:00".to_owned(),
        at: kept.home.unwrap_or_else(|| "0,0".to_owned()),
        zone: kept.zone,
        clock: Some("+00:00".to_owned()),
        houses: kept.houses,
        with: kept.with.map(WithInstrument::Named),
        by: kept.by,
        sun: kept.sun,
        ..CastRequest::default()
    };
    desk::cast(&request, &held.cabinet(), None)?;
    json(&())
}
