//! A table of one's own, looked through for the printer's slips.

use std::collections::BTreeMap;

use ::tables::{Figure, Form, Misprint, Sum, jumps, sums, waver};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use sky::{Sign, Zodiacal};

use crate::refusal::{Field, Refusal, quoted};

/// A table that is to be looked through: texts, as they are printed.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct ProofreadRequest {
    /// The names of its columns.
    pub columns: Vec<String>,
    /// Its rows.
    pub rows: Vec<ProofreadRow>,
    /// The columns that are looked through; all that have numbers unless said.
    pub only: Vec<String>,
    /// The column of the arguments; the first unless said.
    pub by: Option<String>,
    /// A column whose every value begins a table of its own.
    pub each: Option<String>,
    /// Sums that should come out, such as `sun + time = sidereal`, by the names of columns.
    pub sums: Vec<String>,
    /// How far a number may be from what its neighbours want, in minutes or in the last digit of
    /// what is printed, more than 0; ten times what half of its column keeps to, unless said.
    pub within: Option<f64>,
}

/// A row of it.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, JsonSchema)]
pub struct ProofreadRow {
    /// Its line in the file.
    pub line: u64,
    /// Its cells.
    pub cells: Vec<String>,
}

/// What is found in a table that was looked through.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct ProofreadAnswer {
    /// The columns that were looked through.
    pub columns: Vec<ProofreadColumnAnswer>,
    /// The numbers that jump, in the order of their lines.
    pub slips: Vec<MisprintAnswer>,
    /// The sums that are none.
    pub sums: Vec<WrongSumAnswer>,
}

/// A column that was looked through.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct ProofreadColumnAnswer {
    /// Its name.
    pub column: String,
    /// The column of the table, where there are several.
    pub of: Option<String>,
    /// How many numbers.
    pub numbers: usize,
    /// How far a number may be from what its neighbours want: degrees, hours or the number
    /// itself.
    pub within: f64,
    /// The same in words.
    pub within_text: String,
}

/// A number that does not belong where it stands.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct MisprintAnswer {
    /// Its line in the file.
    pub line: u64,
    /// Its argument, as printed.
    pub row: String,
    /// Its column.
    pub column: String,
    /// What is printed.
    pub printed: String,
    /// What its neighbours want there.
    pub wanted: String,
    /// Printed less wanted: degrees, hours or the number itself.
    pub off: f64,
    /// What may have happened.
    pub words: String,
}

/// A sum that is none.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct WrongSumAnswer {
    /// Its line in the file.
    pub line: u64,
    /// Its argument, as printed.
    pub row: String,
    /// The sum that was asked.
    pub sum: String,
    /// What is printed.
    pub printed: String,
    /// What the parts make.
    pub makes: String,
}

/// What the numbers of a column are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    /// Degrees, with their sign or without.
    Degrees,
    /// Hours.
    Hours,
    /// Plain numbers, with so many decimals.
    Plain(u8),
}

impl Kind {
    const fn form(self) -> Form {
        match self {
            Kind::Degrees => Form::Degrees,
            Kind::Hours => Form::Span,
            Kind::Plain(places) => Form::Number(places),
        }
    }

    /// After how much it may begin anew, the least first.
    const fn rounds(self) -> &'static [f64] {
        match self {
            Kind::Degrees => &[30.0, 360.0],
            Kind::Hours => &[24.0],
            Kind::Plain(_) => &[],
        }
    }
}

/// A number of a cell, with what it is.
fn number(text: &str) -> Option<(f64, Kind)> {
    let text = text.trim().replace('−', "-");
    if text.contains('°') {
        if let Ok(Zodiacal(degree)) = text.parse() {
            return Some((degree.deg(), Kind::Degrees));
        }
        let (deg, rest) = text.split_once('°')?;
        let minutes = rest.trim().trim_end_matches(['′', '\'', '’']).trim();
        return Some((sexagesimal(deg, minutes, "")?, Kind::Degrees));
    }
    let is_time = text.contains(':') || text.contains('h');
    if is_time {
        let parts: Vec<&str> = text
            .split([':', 'h', 'm', 's', ' '])
            .filter(|part| !part.is_empty())
            .collect();
        let hours = match *parts.as_slice() {
            [hours] => sexagesimal(hours, "", ""),
            [hours, minutes] => sexagesimal(hours, minutes, ""),
            [hours, minutes, seconds] => sexagesimal(hours, minutes, seconds),
            _ => None,
        };
        return Some((hours?, Kind::Hours));
    }
    let places = text.split_once('.').map_or(0, |(_, rest)| rest.len());
    let number: f64 = text.parse().ok().filter(|one: &f64| one.is_finite())?;
    Some((number, Kind::Plain(u8::try_from(places).ok()?)))
}

/// A number in sixties; its sign is that of the whole.
fn sexagesimal(whole: &str, minutes: &str, seconds: &str) -> Option<f64> {
    let part = |text: &str| match text {
        "" => Some(0.0),
        text => text.parse().ok().filter(|one: &f64| one.is_finite()),
    };
    let sign = if whole.trim_start().starts_with('-') {
        -1.0
    } else {
        1.0
    };
    let size = part(whole.trim())?.abs() + part(minutes)? / 60.0 + part(seconds)? / 3600.0;
    Some(sign * size)
}

/// A column that is looked through: the places of its rows, their arguments and numbers.
struct Looked {
    kind: Kind,
    /// After how much it begins anew; none where it was not laid end to end.
    round: Option<f64>,
    rows: Vec<usize>,
    numbers: Vec<(f64, f64)>,
}

/// Looks a table through for numbers that jump and for sums that are none, from the table
/// alone.
///
/// # Errors
/// When a column is not there, has no numbers to go by, or has two rows for one argument, and
/// when no number can be within what is asked.
pub fn proofread(request: &ProofreadRequest) -> Result<ProofreadAnswer, Refusal> {
    if let Some(within) = request.within
        && !(within.is_finite() && within > 0.0)
    {
        return Err(refused(format!(
            "a number cannot be within {within} of what is wanted; more than 0 minutes, or of the \
             last digit, would do"
        )));
    }
    let by = match &request.by {
        Some(name) => place(request, name)?,
        None => 0,
    };
    let each = request.each.as_ref().map(|name| place(request, name));
    let each = each.transpose()?;
    let asked: Vec<usize> = if request.only.is_empty() {
        (0..request.columns.len())
            .filter(|one| *one != by && Some(*one) != each)
            .collect()
    } else {
        let places = request.only.iter().map(|name| place(request, name));
        places.collect::<Result<_, _>>()?
    };
    let mut answer = ProofreadAnswer {
        columns: Vec::new(),
        slips: Vec::new(),
        sums: Vec::new(),
    };
    for table in tables_in(request, each) {
        for column in &asked {
            let Some(looked) = looked(request, &table, by, *column)? else {
                if request.only.is_empty() {
                    continue;
                }
                return Err(refused(format!(
                    "column {} has too few numbers to go by; seven rows of them would do, written \
                     as 8°42′, 6:49 or 1.4025",
                    quoted(name(request, *column))
                )));
            };
            look_through(request, (by, each), *column, &looked, &mut answer);
        }
    }
    for sum in &request.sums {
        add_up(request, by, sum, &mut answer)?;
    }
    if answer.columns.is_empty() && request.sums.is_empty() {
        return Err(refused(
            "there is no column of numbers in it; a first line with the names of the columns, and \
             numbers such as 8°42′, 6:49 or 1.4025, would do"
                .to_owned(),
        ));
    }
    answer.slips.sort_by_key(|slip| slip.line);
    Ok(answer)
}

fn refused(message: String) -> Refusal {
    Refusal::new(Field::Table, message)
}

fn name(request: &ProofreadRequest, column: usize) -> &str {
    request.columns.get(column).map_or("", String::as_str)
}

fn place(request: &ProofreadRequest, name: &str) -> Result<usize, Refusal> {
    let same = |one: &String| one.trim().eq_ignore_ascii_case(name.trim());
    request
        .columns
        .iter()
        .position(same)
        .ok_or_else(|| Refusal {
            choices: request.columns.clone(),
            ..refused(format!(
                "there is no column {}; {} would do",
                quoted(name),
                request.columns.join(", ")
            ))
        })
}

fn cell(request: &ProofreadRequest, row: usize, column: usize) -> &str {
    let row = request.rows.get(row);
    row.and_then(|row| row.cells.get(column))
        .map_or("", |cell| cell.trim())
}

/// The places of the rows, parted by what stands in a column.
fn tables_in(request: &ProofreadRequest, each: Option<usize>) -> Vec<Vec<usize>> {
    let mut tables: Vec<Vec<usize>> = Vec::new();
    let mut places: BTreeMap<&str, usize> = BTreeMap::new();
    for row in 0..request.rows.len() {
        let of = each.map_or("", |each| cell(request, row, each));
        let place = *places.entry(of).or_insert(tables.len());
        match tables.get_mut(place) {
            Some(rows) => rows.push(row),
            None => tables.push(vec![row]),
        }
    }
    tables
}

/// The numbers of a column, in the order of their arguments, laid end to end where they begin
/// anew; none where most cells are none.
///
/// # Errors
/// When two of them have the same argument: nothing then tells which comes first.
fn looked(
    request: &ProofreadRequest,
    table: &[usize],
    by: usize,
    column: usize,
) -> Result<Option<Looked>, Refusal> {
    /// A number is held against three on either side.
    const LEAST: usize = 7;
    let arguments: Vec<Option<f64>> = table
        .iter()
        .map(|row| number(cell(request, *row, by)).map(|(at, _)| at))
        .collect();
    let mut found: Vec<(usize, f64, f64, Kind)> = table
        .iter()
        .zip(arguments)
        .filter_map(|(row, at)| {
            let (value, kind) = number(cell(request, *row, column))?;
            Some((*row, at?, value, kind))
        })
        .collect();
    if found.len() < LEAST || found.len() * 5 < table.len() * 4 {
        return Ok(None);
    }
    found.sort_by(|a, b| a.1.total_cmp(&b.1));
    if let Some([one, other]) = found.array_windows().find(|[one, other]| one.1 >= other.1) {
        let line = |row: usize| request.rows.get(row).map_or(0, |row| row.line);
        return Err(refused(format!(
            "lines {} and {} both have {} in the column {}; each row needs an argument of its \
             own, or, where the file holds several tables, a column that parts them (--each)",
            line(one.0),
            line(other.0),
            quoted(cell(request, other.0, by)),
            quoted(name(request, by)),
        )));
    }
    let Some(kind) = found.iter().map(|one| one.3).max_by_key(|kind| match kind {
        Kind::Plain(places) => i32::from(*places),
        // One that is written in degrees or hours says what all are.
        Kind::Degrees | Kind::Hours => i32::MAX,
    }) else {
        return Ok(None);
    };
    let values: Vec<f64> = found.iter().map(|one| one.2).collect();
    let round = begins_anew(&values, kind);
    let on_end = match round {
        Some(round) => laid_end_to_end(&values, round),
        None => values,
    };
    Ok(Some(Looked {
        kind,
        round,
        rows: found.iter().map(|one| one.0).collect(),
        numbers: found.iter().map(|one| one.1).zip(on_end).collect(),
    }))
}

/// After how much a column begins anew; none where it never does.
fn begins_anew(values: &[f64], kind: Kind) -> Option<f64> {
    let falls = |round: f64| {
        let mut pairs = values.windows(2);
        pairs.any(|pair| (pair[1] - pair[0]).abs() > round / 2.0)
    };
    let fits = |round: f64| values.iter().all(|value| (0.0..=round).contains(value));
    let mut rounds = kind.rounds().iter().copied();
    rounds.find(|round| fits(*round) && falls(*round))
}

/// Degrees that begin anew with every sign, or hours with every day, as they go on: each is the
/// one nearest to the number before it.
fn laid_end_to_end(values: &[f64], round: f64) -> Vec<f64> {
    let mut last = values.first().copied().unwrap_or_default();
    let each = values.iter().map(|value| {
        let turned = (last - value) / round;
        last = value + turned.round() * round;
        last
    });
    each.collect()
}

fn look_through(
    request: &ProofreadRequest,
    (by, each): (usize, Option<usize>),
    column: usize,
    looked: &Looked,
    answer: &mut ProofreadAnswer,
) {
    /// So many times what half of a column keeps to is the printer’s: those who reckoned a
    /// table waver by some times as much.
    const TIMES: f64 = 10.0;
    /// Numbers rounded to their last digit waver by that.
    const LEAST: f64 = 3.0;
    let form = looked.kind.form();
    let within = match request.within {
        Some(within) => within / form.per_unit(),
        None => (waver(&looked.numbers, form) * TIMES).max(LEAST / form.per_unit()),
    };
    let first = looked.rows.first().copied().unwrap_or_default();
    answer.columns.push(ProofreadColumnAnswer {
        column: name(request, column).to_owned(),
        of: each.map(|each| format!("{} {}", name(request, each), cell(request, first, each))),
        numbers: looked.numbers.len(),
        within,
        within_text: form.size(within),
    });
    for Misprint { row, off, kind } in jumps(&looked.numbers, form, within) {
        let Some((place, (_, printed))) = looked.rows.get(row).zip(looked.numbers.get(row)) else {
            continue;
        };
        answer.slips.push(MisprintAnswer {
            line: request.rows.get(*place).map_or(0, |row| row.line),
            row: cell(request, *place, by).to_owned(),
            column: name(request, column).to_owned(),
            printed: cell(request, *place, column).to_owned(),
            wanted: as_printed(printed - off, cell(request, *place, column), looked),
            off,
            words: kind.words().to_owned(),
        });
    }
}

/// A number as its cell would have it: in a sign where it stands in one, with its sign where
/// that is printed, and begun anew where its column is.
fn as_printed(value: f64, cell: &str, looked: &Looked) -> String {
    let form = looked.kind.form();
    let names_sign = Sign::ALL.iter().any(|sign| cell.contains(sign.name()));
    if looked.kind == Kind::Degrees && names_sign {
        return Figure::written(Form::Zodiac, value).to_string();
    }
    let printed = match looked.round {
        // It is rounded first, so that the last half minute of a sign is 0° of the next.
        Some(round) => {
            let digits = (value * form.per_unit()).round();
            digits.rem_euclid(round * form.per_unit()) / form.per_unit()
        }
        None => value,
    };
    Figure::written(form, printed).to_string()
}

/// Tries a sum on every row that has all of it.
fn add_up(
    request: &ProofreadRequest,
    by: usize,
    sum: &str,
    answer: &mut ProofreadAnswer,
) -> Result<(), Refusal> {
    let Some((parts, whole)) = sum.split_once('=') else {
        return Err(refused(format!(
            "{} is no sum; one such as “sun + time = sidereal”, by the names of columns, would do",
            quoted(sum)
        )));
    };
    let parts: Vec<usize> = parts
        .split('+')
        .map(|name| place(request, name))
        .collect::<Result<_, _>>()?;
    let whole = place(request, whole)?;
    let mut rows: Vec<(usize, Vec<f64>, f64, Kind)> = Vec::new();
    for row in 0..request.rows.len() {
        let each: Option<Vec<(f64, Kind)>> = parts
            .iter()
            .map(|part| number(cell(request, row, *part)))
            .collect();
        if let (Some(each), Some((whole, kind))) = (each, number(cell(request, row, whole))) {
            rows.push((row, each.iter().map(|(one, _)| *one).collect(), whole, kind));
        }
    }
    for (row, parts, printed, kind) in rows {
        let form = match kind {
            // Degrees and hours are counted round.
            Kind::Degrees => Form::Turn,
            Kind::Hours => Form::Clock,
            Kind::Plain(_) => kind.form(),
        };
        // Whoever adds what is printed makes no rounding: half a last digit parts them.
        let within = request.within.unwrap_or(0.5) / form.per_unit();
        for Sum { off, .. } in sums(&[(parts, printed)], form, within) {
            answer.sums.push(WrongSumAnswer {
                line: request.rows.get(row).map_or(0, |row| row.line),
                row: cell(request, row, by).to_owned(),
                sum: sum.trim().to_owned(),
                printed: cell(request, row, whole).to_owned(),
                makes: Figure::written(form, printed - off).to_string(),
            });
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_read_as_they_are_printed() {
        for (text, value, kind) in [
            ("8°42′", 8.7, Kind::Degrees),
            ("−0°30′", -0.5, Kind::Degrees),
            ("8°42′ Taurus", 38.7, Kind::Degrees),
            ("7:24", 7.4, Kind::Hours),
            ("7 h 24 m", 7.4, Kind::Hours),
            ("1.4025", 1.4025, Kind::Plain(4)),
        ] {
            let (read, what) = number(text).unwrap();
            assert!(
                (read - value).abs() < 1e-9 && what == kind,
                "{text}: {read}"
            );
        }
        assert_eq!(number("–"), None);
        assert_eq!(number(""), None);
    }

    #[test]
    fn degrees_in_signs_are_laid_end_to_end() {
        let printed = [28.0, 29.5, 1.0, 2.5, 14.0, 5.5, 27.0, 28.5, 0.0];
        assert_eq!(begins_anew(&printed, Kind::Degrees), Some(30.0));
        let on_end = laid_end_to_end(&printed, 30.0);
        let expected = [28.0, 29.5, 31.0, 32.5, 44.0, 35.5, 27.0, 28.5, 30.0];
        assert_eq!(on_end, expected);
    }

    /// A table of nine rows, whose lines begin at 2, as the head is the first.
    fn table(cells: [&str; 9]) -> ProofreadRequest {
        let row = |(line, cell): (u64, &str)| ProofreadRow {
            line,
            cells: vec![line.to_string(), cell.to_owned()],
        };
        ProofreadRequest {
            columns: ["row", "number"].map(str::to_owned).to_vec(),
            rows: (2..).zip(cells).map(row).collect(),
            ..ProofreadRequest::default()
        }
    }

    #[test]
    fn what_is_wanted_stands_as_its_column_does() {
        for (cells, line, wanted) in [
            // Nothing begins anew: a tens slip does not turn it into another sign.
            (
                [
                    "5°10′",
                    "10°10′",
                    "15°10′",
                    "20°10′",
                    "45°10′",
                    "30°10′",
                    "35°10′",
                    "40°10′",
                    "45°10′",
                ],
                6,
                "25°10′",
            ),
            (
                [
                    "330°00′",
                    "340°00′",
                    "350°00′",
                    "0°00′",
                    "350°00′",
                    "20°00′",
                    "30°00′",
                    "40°00′",
                    "50°00′",
                ],
                6,
                "10°00′",
            ),
            (
                [
                    "20:00", "21:00", "22:00", "23:00", "4:00", "1:00", "2:00", "3:00", "4:00",
                ],
                6,
                "0 h 00 m",
            ),
            (
                [
                    "26°00′",
                    "27°00′",
                    "28°00′",
                    "29°00′",
                    "10°00′",
                    "1°00′",
                    "2°00′",
                    "3°00′",
                    "4°00′",
                ],
                6,
                "0°00′",
            ),
        ] {
            let request = ProofreadRequest {
                within: Some(120.0),
                ..table(cells)
            };
            let answer = proofread(&request).unwrap();
            let slip = answer.slips.iter().find(|slip| slip.line == line);
            let slip = slip.unwrap_or_else(|| panic!("{wanted}: {:?}", answer.slips));
            assert_eq!(slip.wanted, wanted);
        }
    }

    #[test]
    fn two_rows_for_one_argument_are_refused() {
        let mut request = table([
            "1°00′", "2°00′", "3°00′", "4°00′", "5°00′", "6°00′", "7°00′", "8°00′", "9°00′",
        ]);
        request.rows[7].cells[0] = "4".to_owned();
        let message = proofread(&request).unwrap_err().message;
        assert!(
            message.contains("lines 4 and 9") && message.contains("--each"),
            "{message}"
        );
    }

    #[test]
    fn a_margin_that_no_number_keeps_to_is_refused() {
        for within in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            let request = ProofreadRequest {
                within: Some(within),
                ..table(["1"; 9])
            };
            let message = proofread(&request).unwrap_err().message;
            assert!(message.contains("more than 0"), "{message}");
        }
    }
}
