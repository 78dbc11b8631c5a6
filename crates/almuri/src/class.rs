use std::path::{Path, PathBuf};

use ::casebook::{Casebook, Class, ClassId, Deleted, KeptClass, KeptPaper, Paper};
use page::{ClassPrint, Fault, Giving, Read};
use press::PageSize;

use crate::arguments::{ClassArguments, ClassCommand};
use crate::book_file::place;
use crate::cabinet;
use crate::casebook::without_commands;
use crate::class_post::{Posting, collect, post};
use crate::exercises::class_text;
use crate::failure::Failure;
use crate::interrupt;
use crate::output::tell;
use crate::part_file::PartFile;
use crate::sheet::Sheet;

impl From<Fault> for Failure {
    fn from(fault: Fault) -> Failure {
        match fault {
            Fault::Refused(refusal) => refusal.into(),
            Fault::Asked(why) => Failure::bad_input(why),
            Fault::Elsewhere => Failure::other("this build is not the whole one"),
            Fault::Inner(why) => Failure::other(why),
        }
    }
}

/// Keeps classes, gives sheets out to them, corrects what they read, and prints.
pub(crate) fn run(arguments: &ClassArguments) -> Result<String, Failure> {
    let path = match &arguments.book {
        Some(path) => path.clone(),
        None => place()?,
    };
    let mut book = Casebook::open(&path)?;
    for notice in book.notices() {
        tell(&without_commands(&notice));
    }
    let answer = answer(arguments, &mut book)?;
    Ok(if arguments.json {
        answer
    } else {
        without_commands(&answer)
    })
}

fn answer(arguments: &ClassArguments, book: &mut Casebook) -> Result<String, Failure> {
    let json = arguments.json;
    match &arguments.command {
        ClassCommand::List => list(book, json),
        ClassCommand::Keep { file } => {
            let kept = book.keep_class(&of_file(file)?)?;
            one(&kept, json)
        }
        ClassCommand::Edit { id, file } => {
            let before = book.class(ClassId(*id))?;
            let kept = book.edit_class(before.id, before.version, &of_file(file)?)?;
            one(&kept, json)
        }
        ClassCommand::Show { id } => show(book, ClassId(*id), json),
        ClassCommand::GiveOut {
            id,
            year,
            seed,
            questions,
            each_their_own,
        } => {
            let giving = Giving {
                year: *year,
                seed: *seed,
                questions: *questions,
                same_questions: !each_their_own,
            };
            give_out(book, ClassId(*id), &giving, json)
        }
        ClassCommand::Sheet { id, sheet, pupil } => {
            paper(&of_pupil(book, ClassId(*id), *sheet, pupil)?, json)
        }
        ClassCommand::Answer {
            id,
            sheet,
            pupil,
            read,
        } => {
            let before = of_pupil(book, ClassId(*id), *sheet, pupil)?;
            let read = with_read(&before.paper, read)?;
            let after = page::answered(&before.paper, &read, &cabinet::at_hand())?;
            paper(&book.edit_paper(before.id, before.version, &after)?, json)
        }
        ClassCommand::Post {
            id,
            sheet,
            one_for_all,
            corrected,
            site,
            output,
            overwrite,
        } => {
            let posting = Posting {
                sheet: *sheet,
                one_for_all: *one_for_all,
                corrects: *corrected,
                site: site.as_deref(),
                output,
                overwrite: *overwrite,
            };
            post(book, ClassId(*id), &posting, json)
        }
        ClassCommand::Collect {
            id,
            from,
            overwrite,
        } => collect(book, ClassId(*id), from, *overwrite, json),
        ClassCommand::Print {
            id,
            what,
            sheet,
            output,
            overwrite,
            page,
        } => {
            let printing = ToPrint {
                what: *what,
                sheet: *sheet,
                output: output.as_deref(),
                overwrite: *overwrite,
                size: PageSize::parse(page)?,
            };
            print(book, ClassId(*id), &printing, json)
        }
        ClassCommand::Delete { id, pupil, yes } => {
            delete(book, ClassId(*id), pupil.as_deref(), *yes, json)
        }
    }
}

fn of_file(path: &Path) -> Result<Class, Failure> {
    let text = class_text(path)?;
    page::class_of_text(&text, &cabinet::at_hand()).map_err(|fault| match fault {
        fault @ (Fault::Elsewhere | Fault::Inner(_)) => fault.into(),
        Fault::Asked(why) | Fault::Refused(desk::Refusal { message: why, .. }) => {
            Failure::bad_input(format!("{}: {why}", path.display()))
        }
    })
}

fn to_json(value: &impl serde::Serialize) -> Result<String, Failure> {
    Ok(serde_json::to_string(value).map_err(Failure::other)? + "\n")
}

fn list(book: &Casebook, json: bool) -> Result<String, Failure> {
    let classes = book.classes()?;
    if json {
        return to_json(&serde_json::json!({ "classes": classes }));
    }
    if classes.is_empty() {
        return Ok("no class is kept; `almuri class keep FILE` keeps one\n".to_owned());
    }
    let line = |kept: &KeptClass| {
        let class = &kept.class;
        format!(
            "{:>6}  {:<28}  {:>3} pupils  {:<10}  {}\n",
            kept.id.0,
            class.name,
            class.pupils.len(),
            class.level,
            class.place
        )
    };
    Ok(classes.iter().map(line).collect())
}

fn one(kept: &KeptClass, json: bool) -> Result<String, Failure> {
    if json {
        return to_json(kept);
    }
    let class = &kept.class;
    let mut text = format!(
        "class {}, {}: {}, {}\n",
        kept.id, class.name, class.place, class.level
    );
    for pupil in &class.pupils {
        let own = [&pupil.place, &pupil.level].into_iter().flatten();
        let own: String = own.map(|one| format!(", {one}")).collect();
        text.push_str(&format!("  {:<28}  {}{own}\n", pupil.name, pupil.with));
    }
    Ok(text)
}

fn show(book: &Casebook, id: ClassId, json: bool) -> Result<String, Failure> {
    let kept = book.class(id)?;
    let look = page::class_look(&kept.class, &book.papers(id)?)?;
    if json {
        return to_json(&serde_json::json!({ "kept": kept, "look": look }));
    }
    let mut sheet = Sheet::default();
    sheet.line(one(&kept, false)?.trim_end());
    if look.sheets.is_empty() {
        sheet.title("Sheets");
        sheet.line("None was given out yet; `almuri class give-out` draws one.");
        return Ok(sheet.text());
    }
    sheet.title("Sheets");
    for one in look.sheets.iter().rev() {
        let answered = one.papers.iter().filter(|paper| paper.answered).count();
        sheet.line(&format!(
            "  {:>3}  given out {}, {answered} of {} answered",
            one.sheet,
            one.given,
            one.papers.len()
        ));
    }
    sheet.title("What to teach next");
    for (number, one) in (1..).zip(&look.report.next) {
        let whom = if one.pupils.is_empty() {
            String::new()
        } else {
            format!(" For {}.", one.pupils.join(", "))
        };
        sheet.item(number, &format!("{}{whom}", one.sentence));
    }
    sheet.title("What is common");
    for slip in &look.report.common {
        sheet.paragraph(&format!(
            "{} {} times: {}.",
            slip.words,
            slip.times,
            slip.pupils.join(", ")
        ));
    }
    sheet.title("Who read what");
    for pupil in &look.report.pupils {
        let right = match pupil.sheets {
            0 => "–".to_owned(),
            _ => format!("{} of {}", pupil.right, pupil.of),
        };
        sheet.line(&format!(
            "  {:<28}  {right:>10}  {}",
            pupil.name,
            pupil.slips.join(" ")
        ));
    }
    Ok(sheet.text())
}

fn give_out(
    book: &mut Casebook,
    id: ClassId,
    giving: &Giving,
    json: bool,
) -> Result<String, Failure> {
    let kept = book.class(id)?;
    let cabinet = cabinet::at_hand();
    let papers = interrupt::work(|patience| {
        Ok::<_, Failure>(page::drawn_papers(&kept.class, giving, &cabinet, patience)?)
    })?;
    let count = papers.len();
    let sheet = book.give_out(id, papers)?;
    Ok(if json {
        serde_json::json!({ "sheet": sheet, "papers": count }).to_string() + "\n"
    } else {
        format!(
            "sheet {sheet} of {}, for {count} pupils; `almuri class print {id} sheets` prints it\n",
            kept.class.name
        )
    })
}

/// What was given to a pupil.
fn of_pupil(book: &Casebook, id: ClassId, sheet: u32, pupil: &str) -> Result<KeptPaper, Failure> {
    let papers = book.papers(id)?;
    let here: Vec<KeptPaper> = papers
        .into_iter()
        .filter(|kept| kept.paper.sheet == sheet)
        .collect();
    let wanted = pupil.trim().to_lowercase();
    let names: Vec<&str> = here.iter().map(|kept| kept.paper.pupil.as_str()).collect();
    let why = if names.is_empty() {
        format!(
            "class {id} was given no sheet {sheet}; `almuri class show {id}` lists those it was given"
        )
    } else {
        format!(
            "“{pupil}” was not given sheet {sheet}; {} would do",
            names.join(", ")
        )
    };
    let found = here
        .into_iter()
        .find(|kept| kept.paper.pupil.to_lowercase() == wanted);
    found.ok_or_else(|| Failure::bad_input(why))
}

/// What was entered before, with what is read now.
fn with_read(paper: &Paper, given: &[String]) -> Result<Read, Failure> {
    let mut read = Read::new();
    for answered in &paper.answers {
        let question = usize::try_from(answered.question).unwrap_or_default();
        let entered = answered
            .read
            .iter()
            .map(|one| (one.what.clone(), one.value.clone()));
        read.entry(question).or_default().extend(entered);
    }
    for one in given {
        let parts = one.split_once('=').and_then(|(what, value)| {
            let (question, what) = what.split_once('.')?;
            Some((question.trim().parse().ok()?, what.trim(), value.trim()))
        });
        let (question, what, value) = parts.ok_or_else(|| {
            let shown: String = one.chars().take(60).collect();
            Failure::bad_input(format!(
                "--read “{shown}” is not of the form QUESTION.WHAT=VALUE; 1.ascendant=\"11 Pisces\" would do"
            ))
        })?;
        read.entry(question)
            .or_default()
            .insert(what.to_owned(), value.to_owned());
    }
    Ok(read)
}

fn paper(kept: &KeptPaper, json: bool) -> Result<String, Failure> {
    if json {
        return to_json(kept);
    }
    let paper = &kept.paper;
    let asked = desk::exercises_of_json(paper.asked.text())?;
    let mut sheet = Sheet::default();
    sheet.line(&format!(
        "sheet {} of {}, given out {}",
        paper.sheet, paper.pupil, paper.given
    ));
    for question in asked.pupils.iter().flat_map(|pupil| &pupil.questions) {
        sheet.title(&format!("{}. {}", question.number, question.title));
        sheet.paragraph(&question.text);
        let answered = paper
            .answers
            .iter()
            .find(|one| usize::try_from(one.question) == Ok(question.number));
        let source = if question.is_of_pen() {
            "the tables give"
        } else {
            "the brass shows"
        };
        for asked in &question.asks {
            let read = answered.and_then(|all| all.read.iter().find(|one| one.what == asked.name));
            let (value, mark) =
                read.map_or(("–", ""), |one| (one.value.as_str(), one.mark.as_str()));
            sheet.line(&format!(
                "  {:<24}{value:<20}{mark:<9}{source} {}, ± {}",
                asked.name, asked.reads, asked.accept
            ));
        }
        if let Some(answered) = answered {
            sheet.paragraph(&answered.sentence);
        }
    }
    Ok(sheet.text())
}

struct ToPrint<'a> {
    what: ClassPrint,
    sheet: Option<u32>,
    output: Option<&'a Path>,
    overwrite: bool,
    size: PageSize,
}

fn print(
    book: &Casebook,
    id: ClassId,
    printing: &ToPrint<'_>,
    json: bool,
) -> Result<String, Failure> {
    let kept = book.class(id)?;
    let papers = book.papers(id)?;
    let named = PathBuf::from(format!("{}.pdf", printing.what.name()));
    let output = printing.output.unwrap_or(&named);
    let mut file = PartFile::create(output, printing.overwrite)?;
    let bytes = interrupt::work(|patience| {
        let (class, size) = (&kept.class, printing.size);
        Ok::<_, Failure>(page::class_print(
            class,
            &papers,
            (printing.what, printing.sheet),
            size,
            patience,
        )?)
    })?;
    file.write_all(&bytes)?;
    file.finish()?;
    Ok(if json {
        serde_json::json!({ "file": output.display().to_string() }).to_string() + "\n"
    } else {
        format!("{}\n", output.display())
    })
}

fn delete(
    book: &mut Casebook,
    id: ClassId,
    pupil: Option<&str>,
    yes: bool,
    json: bool,
) -> Result<String, Failure> {
    let kept = book.class(id)?;
    let what = match pupil {
        Some(pupil) => format!("all that {pupil} was given and read in {}", kept.class.name),
        None => format!("class {id}, {}, with all its sheets", kept.class.name),
    };
    if !yes {
        return Err(Failure::bad_input(format!(
            "{what} would be gone for good, from the backups too; --yes says that this is meant"
        )));
    }
    let Deleted { left } = match pupil {
        Some(pupil) => book.delete_papers_of(id, pupil)?,
        None => book.delete_class(id, kept.version)?,
    };
    if json {
        let left: Vec<String> = left.iter().map(ToString::to_string).collect();
        return to_json(&serde_json::json!({ "deleted": what, "left": left }));
    }
    let mut text = format!("{what}: deleted, from the backups too\n");
    for left in left {
        text.push_str(&format!(
            "it may still stand in {left}; every opening tries again\n"
        ));
    }
    Ok(text)
}
