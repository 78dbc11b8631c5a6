use std::cell::RefCell;
use std::io::Read;
use std::path::{Path, PathBuf};

use ::casebook::{
    Case, CaseId, Casebook, CasebookError, CsvFor, Imported, Kept, Undone, Unreadable,
};
use desk::{Cabinet, CastRequest};
use serde::Serialize;

use crate::arguments::{CaseArguments, CasebookArguments, CasebookCommand};
use crate::failure::Failure;
use crate::part_file::PartFile;
use crate::progress::Progress;
use crate::{book_file, cabinet, output, with};

impl From<CasebookError> for Failure {
    fn from(error: CasebookError) -> Failure {
        if error.is_bad_input() {
            Failure::bad_input(error)
        } else {
            Failure::other(error)
        }
    }
}

/// Keeps, finds, edits and deletes cases, and carries them in and out.
pub(crate) fn run(arguments: &CasebookArguments) -> Result<String, Failure> {
    let answer = answer(arguments)?;
    Ok(if arguments.json {
        answer
    } else {
        without_commands(&answer)
    })
}

/// A case may come from a stranger's file: what would command the terminal is not
/// passed on to it.
pub(crate) fn without_commands(text: &str) -> String {
    text.chars()
        .map(|c| match c {
            '\n' | '\t' => c,
            c if c.is_control() => '\u{FFFD}',
            c => c,
        })
        .collect()
}

fn answer(arguments: &CasebookArguments) -> Result<String, Failure> {
    let path = match &arguments.book {
        Some(path) => path.clone(),
        None => book_file::place()?,
    };
    let json = arguments.json;
    match &arguments.command {
        CasebookCommand::Restore { backup } => return restore(&path, backup, json),
        CasebookCommand::Backups => return backups(&path, json),
        _ => {}
    }
    let mut book = Casebook::open(&path)?;
    for notice in book.notices() {
        output::tell(&without_commands(&notice));
    }
    match &arguments.command {
        CasebookCommand::Keep { name, when, case } => {
            let fresh = Case {
                name: name.clone(),
                when: when.clone(),
                ..Case::default()
            };
            let kept = book.keep(checked(said(fresh, case)?)?)?;
            one(&kept, json)
        }
        CasebookCommand::Edit {
            id,
            name,
            when,
            case,
        } => {
            let before = book.get(CaseId(*id))?;
            let mut changed = before.case;
            for (field, given) in [(&mut changed.name, name), (&mut changed.when, when)] {
                if let Some(given) = given {
                    field.clone_from(given);
                }
            }
            let changed = checked(said(changed, case)?)?;
            let kept = book.edit(before.id, before.version, changed)?;
            one(&kept, json)
        }
        CasebookCommand::List { limit } => many(&book, "", *limit, json),
        CasebookCommand::Find { words, limit } => many(&book, &words.join(" "), *limit, json),
        CasebookCommand::Show { id } => one(&book.get(CaseId(*id))?, json),
        CasebookCommand::Tags => tags(&book, json),
        CasebookCommand::Undo => undo(&mut book, json),
        CasebookCommand::Delete { id, yes } => delete(&mut book, CaseId(*id), *yes, json),
        CasebookCommand::Export {
            output,
            overwrite,
            for_spreadsheets,
        } => export(&book, output, *for_spreadsheets, *overwrite, json),
        CasebookCommand::Import { file, good_only } => import(&mut book, file, *good_only, json),
        CasebookCommand::BackUp { name } => {
            let backup = book.back_up(name)?;
            Ok(if json {
                serde_json::json!({ "name": backup.name, "bytes": backup.bytes }).to_string() + "\n"
            } else {
                format!("backed up as {}\n", backup.name)
            })
        }
        CasebookCommand::Check => {
            book.check()?;
            let cases = book.len()?;
            Ok(if json {
                serde_json::json!({ "sound": true, "cases": cases }).to_string() + "\n"
            } else {
                format!("{} is sound; it holds {cases} cases\n", path.display())
            })
        }
        CasebookCommand::Restore { .. } | CasebookCommand::Backups => Ok(String::new()),
    }
}

/// A case with what the arguments say of it.
fn said(mut case: Case, arguments: &CaseArguments) -> Result<Case, Failure> {
    if let Some(at) = &arguments.at {
        case.at.clone_from(at);
    }
    for (field, given) in [
        (&mut case.zone, &arguments.zone),
        (&mut case.clock, &arguments.clock),
        (&mut case.calendar, &arguments.calendar),
        (&mut case.which, &arguments.which),
        (&mut case.houses, &arguments.houses),
        (&mut case.with, &arguments.with),
        (&mut case.by, &arguments.by),
        (&mut case.sun, &arguments.sun),
        (&mut case.plates, &arguments.plates),
    ] {
        if given.is_some() {
            field.clone_from(given);
        }
    }
    if let Some(note) = &arguments.note {
        case.note.clone_from(note);
    }
    case.tags.extend(arguments.tag.iter().cloned());
    case.tags.retain(|tag| !arguments.untag.contains(tag));
    for reading in &arguments.read {
        let (what, degree) = pair("read", reading)?;
        case.readings.retain(|one| one.what != what);
        case.readings.push(casebook::Reading {
            what,
            degree,
            who: None,
        });
    }
    for mark in &arguments.mark {
        let (what, mark) = pair("mark", mark)?;
        case.marks.retain(|one| one.what != what);
        case.marks.push(casebook::GivenMark {
            what,
            mark,
            remark: String::new(),
        });
    }
    Ok(case)
}

fn pair(option: &str, given: &str) -> Result<(String, String), Failure> {
    let (what, is) = given.split_once('=').ok_or_else(|| {
        let shown: String = given.chars().take(60).collect();
        Failure::bad_input(format!(
            "--{option} {shown:?} is not of the form WHAT=VALUE"
        ))
    })?;
    Ok((what.trim().to_owned(), is.trim().to_owned()))
}

/// The cast that a case asks for, its instrument one of the cabinet or a file.
pub(crate) fn cast_of(case: &Case, cabinet: &Cabinet) -> Result<CastRequest, Failure> {
    let with = case.with.as_deref();
    Ok(CastRequest {
        with: with
            .map(|name| with::instrument(name, cabinet))
            .transpose()?,
        ..page::cast_of(case)
    })
}

/// A case whose moment, place and readings the desk understands.
fn checked(case: Case) -> Result<Case, Failure> {
    fits(&case, &cabinet::at_hand())?;
    Ok(case)
}

fn fits(case: &Case, cabinet: &Cabinet) -> Result<(), Failure> {
    let cast = cast_of(case, cabinet)?;
    page::fit_to_keep(case, &cast, cabinet).map_err(Failure::bad_input)
}

fn to_json(value: &impl Serialize) -> Result<String, Failure> {
    Ok(serde_json::to_string(value).map_err(Failure::other)? + "\n")
}

fn one(kept: &Kept, json: bool) -> Result<String, Failure> {
    if json {
        return to_json(kept);
    }
    let case = &kept.case;
    let mut text = format!("{:<12}{}\n", format!("case {}", kept.id), case.name);
    let mut line = |name: &str, value: &str| {
        if !value.is_empty() {
            text.push_str(&format!("{name:<12}{value}\n"));
        }
    };
    line("when", &case.when);
    line("at", &case.at);
    for (name, value) in [
        ("zone", &case.zone),
        ("clock", &case.clock),
        ("calendar", &case.calendar),
        ("which", &case.which),
        ("houses", &case.houses),
        ("with", &case.with),
        ("by", &case.by),
        ("sun", &case.sun),
        ("plates", &case.plates),
    ] {
        line(name, value.as_deref().unwrap_or(""));
    }
    for reading in &case.readings {
        line("read", &format!("{} {}", reading.what, reading.degree));
    }
    for mark in &case.marks {
        line(
            "mark",
            &format!("{}: {} {}", mark.what, mark.mark, mark.remark),
        );
    }
    line("tags", &case.tags.join(", "));
    line("note", &case.note);
    Ok(text)
}

/// Cases as they are listed.
#[derive(Serialize)]
struct Listed<'a> {
    cases: &'a [Kept],
    more: bool,
    unreadable: &'a [Unreadable],
}

fn many(book: &Casebook, words: &str, limit: usize, json: bool) -> Result<String, Failure> {
    let found = book.find(words, limit)?;
    if json {
        return to_json(&Listed {
            cases: &found.cases,
            more: found.more,
            unreadable: &found.unreadable,
        });
    }
    let mut text = String::new();
    for kept in &found.cases {
        let case = &kept.case;
        text.push_str(&format!(
            "{:>6}  {:<28}  {:<19}  {}\n",
            kept.id.0, case.name, case.when, case.at
        ));
    }
    for unreadable in &found.unreadable {
        text.push_str(&format!("{:>6}  {}\n", unreadable.id.0, unreadable.why));
    }
    if found.cases.is_empty() && found.unreadable.is_empty() {
        text.push_str("no such case\n");
    }
    if found.more && found.cases.len() + found.unreadable.len() < limit {
        text.push_str("and more than are shown at once; `casebook find` looks among them\n");
    } else if found.more {
        text.push_str("and more; --limit shows more of them\n");
    }
    Ok(text)
}

fn tags(book: &Casebook, json: bool) -> Result<String, Failure> {
    let tags = book.tags()?;
    if json {
        let all: std::collections::BTreeMap<_, _> = tags.into_iter().collect();
        return to_json(&all);
    }
    Ok(tags
        .iter()
        .map(|(tag, count)| format!("{count:>6}  {tag}\n"))
        .collect())
}

fn undo(book: &mut Casebook, json: bool) -> Result<String, Failure> {
    match book.undo()? {
        Undone::Restored(kept) if json => one(&kept, true),
        Undone::Restored(kept) => Ok(format!(
            "case {} is again as it was\n\n{}",
            kept.id,
            one(&kept, false)?
        )),
        Undone::Removed(id, _) if json => {
            Ok(serde_json::json!({ "removed": id }).to_string() + "\n")
        }
        Undone::OfClass(said) if json => {
            Ok(serde_json::json!({ "of_class": said }).to_string() + "\n")
        }
        Undone::OfClass(said) => Ok(format!("{said}\n")),
        Undone::Removed(id, name) => Ok(format!("case {id}, {name}, is kept no more\n")),
    }
}

fn delete(book: &mut Casebook, id: CaseId, yes: bool, json: bool) -> Result<String, Failure> {
    let name = match book.get(id) {
        Ok(kept) => format!("case {id}, {},", kept.case.name),
        Err(CasebookError::Unreadable(_)) => format!("case {id}, which cannot be read,"),
        Err(other) => return Err(other.into()),
    };
    if !yes {
        return Err(Failure::bad_input(format!(
            "{name} would be gone for good, from the backups too; --yes says that this is meant"
        )));
    }
    let left = book.delete(id)?.left;
    if json {
        let left: Vec<_> = left
            .iter()
            .map(|left| serde_json::json!({ "file": left.path.display().to_string(), "why": left.why }))
            .collect();
        return Ok(serde_json::json!({ "deleted": id, "left": left }).to_string() + "\n");
    }
    if left.is_empty() {
        return Ok(format!("{name} is deleted, from the backups too\n"));
    }
    let mut text = format!(
        "{name} is deleted from the casebook; it may still stand in the files below, and every opening tries again\n"
    );
    for left in left {
        text.push_str(&format!("  {left}\n"));
    }
    Ok(text)
}

/// Whether a file holds comma-separated values or JSON, by the end of its name.
fn is_csv(path: &Path) -> Result<bool, Failure> {
    let end = path
        .extension()
        .and_then(|end| end.to_str())
        .map(str::to_lowercase);
    match end.as_deref() {
        Some("csv") => Ok(true),
        Some("json") => Ok(false),
        _ => Err(Failure::bad_input(format!(
            "{} ends neither in .csv nor in .json; one of them would do",
            path.display()
        ))),
    }
}

/// What is read in at once; a casebook of 100,000 cases has some 20 MB.
const MOST_BYTES: u64 = 64 * 1024 * 1024;

/// Whom a table is written for, by whether `--for-spreadsheets` is said.
pub(crate) fn csv_for(spreadsheets: bool) -> CsvFor {
    if spreadsheets {
        CsvFor::Spreadsheets
    } else {
        CsvFor::Reading
    }
}

/// That `--for-spreadsheets` is said of a file that none reads.
pub(crate) fn not_for_spreadsheets(path: &Path) -> Failure {
    Failure::bad_input(format!(
        "--for-spreadsheets is for tables, and {} is none; a name that ends in .csv would do",
        path.display()
    ))
}

fn export(
    book: &Casebook,
    output: &Path,
    for_spreadsheets: bool,
    overwrite: bool,
    json: bool,
) -> Result<String, Failure> {
    let csv = is_csv(output)?;
    if for_spreadsheets && !csv {
        return Err(not_for_spreadsheets(output));
    }
    // A book of more cases than are read in at once goes into several files, which get
    // their names when all are whole.
    let (mut files, mut names) = (Vec::new(), Vec::new());
    let (mut cases, mut behind) = (0, None);
    let mut progress = Progress::new(book.len()?, false);
    loop {
        let name = numbered(output, files.len() + 1);
        let mut file = PartFile::create(&name, overwrite)?;
        let written = if csv {
            ::casebook::write_csv(book, behind, csv_for(for_spreadsheets), &mut file)
        } else {
            ::casebook::write_json(book, behind, &mut file)
        };
        let part = match written {
            Err(CasebookError::Out(error)) => return Err(file.failure(&error)),
            other => other?,
        };
        cases += part.cases;
        progress.at(cases);
        files.push(file);
        names.push(name.display().to_string());
        behind = part.next;
        if behind.is_none() {
            break;
        }
    }
    drop(progress);
    files.into_iter().try_for_each(PartFile::finish)?;
    Ok(if json {
        serde_json::json!({ "file": output.display().to_string(), "files": names, "cases": cases })
            .to_string()
            + "\n"
    } else {
        let apart = if names.len() > 1 {
            "; each is read in by itself"
        } else {
            ""
        };
        format!("{cases} cases written to {}{apart}\n", names.join(", "))
    })
}

/// The name of the n-th file, from 1: `cases.json`, `cases-2.json`.
fn numbered(path: &Path, n: usize) -> PathBuf {
    if n == 1 {
        return path.to_owned();
    }
    let stem = path.file_stem().unwrap_or_default().display();
    let end = path.extension().unwrap_or_default().display();
    path.with_file_name(format!("{stem}-{n}.{end}"))
}

fn import(
    book: &mut Casebook,
    file: &Path,
    good_only: bool,
    json: bool,
) -> Result<String, Failure> {
    let csv = is_csv(file)?;
    let unreadable = |why: &dyn std::fmt::Display| {
        Failure::bad_input(format!(
            "{} cannot be read ({why}); a text in UTF-8 would do",
            file.display()
        ))
    };
    let mut text = String::new();
    std::fs::File::open(file)
        .and_then(|file| file.take(MOST_BYTES + 1).read_to_string(&mut text))
        .map_err(|error| unreadable(&error))?;
    if u64::try_from(text.len()).unwrap_or(u64::MAX) > MOST_BYTES {
        return Err(unreadable(&format!(
            "it is longer than {MOST_BYTES} bytes; in parts it would do"
        )));
    }
    let cabinet = cabinet::at_hand();
    // More or less: a note may have lines of its own.
    let rows = if csv {
        text.lines().count()
    } else {
        text.matches("\"when\"").count()
    };
    let progress = RefCell::new((0, Progress::new(rows as u64, false)));
    let fits = |case: &Case| {
        let (seen, progress) = &mut *progress.borrow_mut();
        *seen += 1;
        progress.at(*seen);
        fits(case, &cabinet).map_err(|failure| failure.to_string())
    };
    let Imported { good, bad, classes } = if csv {
        ::casebook::read_csv(text.as_bytes(), fits).map_err(CasebookError::from)?
    } else {
        ::casebook::read_json(&text, fits).map_err(CasebookError::from)?
    };
    drop(progress);
    if !bad.is_empty() && !good_only {
        let lines: Vec<String> = bad
            .iter()
            .take(20)
            .map(|row| format!("line {}: {}", row.line, row.why))
            .collect();
        let more = if bad.len() > lines.len() { "\n…" } else { "" };
        return Err(Failure::bad_input(format!(
            "{} of {} rows cannot be kept, and none was; --good-only keeps the others\n{}{more}",
            bad.len(),
            bad.len() + good.len() + classes.len(),
            lines.join("\n")
        )));
    }
    let cases = good.into_iter().map(|(_, case)| case).collect();
    let kept = book.keep_imported(cases, &classes)?;
    if json {
        let bad: Vec<_> = bad
            .iter()
            .map(|row| serde_json::json!({ "line": row.line, "why": row.why }))
            .collect();
        return Ok(serde_json::json!({ "kept": kept, "bad": bad }).to_string() + "\n");
    }
    let mut said = format!("{} cases kept\n", kept - classes.len());
    if !classes.is_empty() {
        said = format!(
            "{} cases and {} classes kept\n",
            kept - classes.len(),
            classes.len()
        );
    }
    for row in bad {
        said.push_str(&format!("line {} not: {}\n", row.line, row.why));
    }
    Ok(said)
}

fn backups(path: &Path, json: bool) -> Result<String, Failure> {
    let all = Casebook::backups_of(path)?;
    if json {
        let all: Vec<_> = all
            .iter()
            .map(|one| serde_json::json!({ "name": one.name, "bytes": one.bytes }))
            .collect();
        return to_json(&serde_json::json!({ "backups": all }));
    }
    if all.is_empty() {
        return Ok("none has been made yet\n".to_owned());
    }
    Ok(all
        .iter()
        .map(|one| format!("{:<20}{:>12} bytes\n", one.name, one.bytes))
        .collect())
}

fn restore(path: &Path, backup: &str, json: bool) -> Result<String, Failure> {
    let aside = Casebook::restore(path, backup)?;
    Ok(if json {
        let before = aside.map(|path| path.display().to_string());
        serde_json::json!({ "restored": backup, "before": before }).to_string() + "\n"
    } else {
        let kept = aside.map_or_else(String::new, |aside| {
            format!("; what was there is kept as {}", aside.display())
        });
        format!("the casebook is as it was in the backup {backup}{kept}\n")
    })
}
