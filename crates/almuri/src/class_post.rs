//! Sheets that go to pupils as pages of their own, and their answers.

use std::fs;
use std::path::{Path, PathBuf};

use ::casebook::{Casebook, ClassId};
use page::{Collected, Posted};
use press::Printed;

use crate::cabinet;
use crate::exercises::text_of;
use crate::failure::Failure;
use crate::set_folder::SetFolder;
use crate::sheet::Sheet;

/// Where the page as one file was built, from the folder one is in.
const SITE: &str = "target/site/almuri.html";

/// The page has all data in it.
const MOST_SITE_BYTES: u64 = 256 * 1024 * 1024;

/// So long a file of answers is none; and so many are taken at once.
const MOST_ANSWER_BYTES: u64 = 1024 * 1024;
const MOST_FILES: usize = 1000;

/// Which sheets, and how they are posted.
pub(crate) struct Posting<'a> {
    pub(crate) sheet: Option<u32>,
    pub(crate) one_for_all: bool,
    pub(crate) corrects: bool,
    pub(crate) site: Option<&'a Path>,
    pub(crate) output: &'a Path,
    pub(crate) overwrite: bool,
}

/// Writes pupils' pages.
pub(crate) fn post(
    book: &Casebook,
    id: ClassId,
    posting: &Posting<'_>,
    json: bool,
) -> Result<String, Failure> {
    let kept = book.class(id)?;
    let papers = book.papers(id)?;
    let cabinet = cabinet::at_hand();
    let (posted, names) = page::posted(
        &kept.class,
        &papers,
        posting.sheet,
        posting.corrects,
        &cabinet,
    )?;
    let site = posting.site.unwrap_or(Path::new(SITE));
    let text = text_of(
        site,
        MOST_SITE_BYTES,
        "the page as one file, almuri.html, which `cargo xtask site` builds,",
    )?;
    let named = |name: String, posted: &Posted| {
        let page = page::pupils_page(&text, posted).map_err(|fault| {
            let why = Failure::from(fault);
            Failure::bad_input(format!("{}: {why}", site.display()))
        })?;
        Ok::<_, Failure>(Printed {
            name,
            bytes: page.into_bytes(),
        })
    };
    let files: Vec<Printed> = if posting.one_for_all {
        vec![named(format!("sheet-{}.html", posted.sheet), &posted)?]
    } else {
        let alone = posted.papers.iter().map(|paper| {
            let one = Posted {
                papers: vec![paper.clone()],
                ..posted.clone()
            };
            named(
                format!("sheet-{}-number-{}.html", one.sheet, paper.number),
                &one,
            )
        });
        alone.collect::<Result<_, _>>()?
    };
    let to = SetFolder::of(posting.output, posting.overwrite, &[])?;
    to.put(&files)?;
    let paths = files
        .iter()
        .map(|file| posting.output.join(&file.name).display().to_string());
    if json {
        let numbers: Vec<serde_json::Value> = (1..)
            .zip(&names)
            .map(|(number, name)| serde_json::json!({ "number": number, "pupil": name }))
            .collect();
        let told = serde_json::json!({
            "files": paths.collect::<Vec<_>>(), "sheet": posted.sheet, "numbers": numbers,
        });
        return Ok(told.to_string() + "\n");
    }
    let mut sheet = Sheet::default();
    for path in paths {
        sheet.line(&path);
    }
    sheet.title("Whose number is which; it stands on no page");
    for (number, name) in (1..).zip(&names) {
        sheet.line(&format!("  {number:>3}  {name}"));
    }
    Ok(sheet.text())
}

/// What came of a file of answers.
struct Taken {
    file: PathBuf,
    came: Result<Vec<Collected>, String>,
}

/// Enters what pupils' pages saved, file by file: one that cannot be taken is told of, and
/// the others are entered.
pub(crate) fn collect(
    book: &mut Casebook,
    id: ClassId,
    from: &[PathBuf],
    overwrite: bool,
    json: bool,
) -> Result<String, Failure> {
    let cabinet = cabinet::at_hand();
    book.class(id)?;
    let mut papers = book.papers(id)?;
    let mut all = Vec::new();
    for file in files(from)? {
        let came = text_of(&file, MOST_ANSWER_BYTES, "a file that a pupils’ page saved").and_then(
            |text| {
                let came = page::came_back(&text)?;
                let all = page::collected(id, &papers, &came, overwrite, &cabinet)?;
                // The next file may be of the same pupil.
                for edited in book.edit_papers(all.iter().filter_map(Collected::edit))? {
                    if let Some(paper) = papers.iter_mut().find(|one| one.id == edited.id) {
                        *paper = edited;
                    }
                }
                Ok(all)
            },
        );
        all.push(Taken {
            file,
            came: came.map_err(|failure| failure.to_string()),
        });
    }
    if json {
        return Ok(told_in_json(&all).to_string() + "\n");
    }
    let mut text = String::new();
    for Taken { file, came } in &all {
        let file = file.display();
        match came {
            Ok(papers) => {
                for one in papers {
                    let whose = &one.before.paper.pupil;
                    let how = match one.after {
                        Some(_) => "entered and corrected",
                        None => "entered already",
                    };
                    text.push_str(&format!("{file}: {whose}: {how}\n"));
                }
            }
            Err(why) => text.push_str(&format!("{file}: not taken: {why}\n")),
        }
    }
    if all.iter().all(|one| one.came.is_err()) {
        return Err(Failure::bad_input(text.trim_end()));
    }
    text.push_str(&format!("`almuri class show {id}` shows the class\n"));
    Ok(text)
}

fn told_in_json(all: &[Taken]) -> serde_json::Value {
    let mut taken = Vec::new();
    let mut refused = Vec::new();
    for Taken { file, came } in all {
        let file = file.display().to_string();
        match came {
            Ok(papers) => taken.extend(papers.iter().map(|one| {
                serde_json::json!({
                    "file": file, "pupil": one.before.paper.pupil, "sheet": one.before.paper.sheet,
                    "new": one.after.is_some(),
                })
            })),
            Err(why) => refused.push(serde_json::json!({ "file": file, "why": why })),
        }
    }
    serde_json::json!({ "taken": taken, "refused": refused })
}

/// The files that are named, and those of folders that end in .json, in order.
fn files(from: &[PathBuf]) -> Result<Vec<PathBuf>, Failure> {
    let mut all = Vec::new();
    for path in from {
        if !path.is_dir() {
            all.push(path.clone());
            continue;
        }
        let unreadable =
            |error| Failure::bad_input(format!("{} cannot be read: {error}", path.display()));
        let mut within = Vec::new();
        for entry in fs::read_dir(path).map_err(unreadable)? {
            let file = entry.map_err(unreadable)?.path();
            let ends = file.extension().and_then(|end| end.to_str());
            if ends.is_some_and(|end| end.eq_ignore_ascii_case("json")) && file.is_file() {
                within.push(file);
            }
        }
        if within.is_empty() {
            return Err(Failure::bad_input(format!(
                "there are no answers in {}; files that pupils’ pages saved, which end in .json, would do",
                path.display()
            )));
        }
        within.sort();
        all.extend(within);
    }
    if all.len() > MOST_FILES {
        return Err(Failure::bad_input(format!(
            "{} files are too many at once; {MOST_FILES} would do",
            all.len()
        )));
    }
    Ok(all)
}
