use std::path::PathBuf;

use clap::builder::{PossibleValuesParser, TypedValueParser};
use clap::{Args, Subcommand};
use page::ClassPrint;

#[derive(Args, Debug)]
pub(crate) struct ClassArguments {
    #[command(subcommand)]
    pub(crate) command: ClassCommand,
    /// The casebook's file, instead of the usual one
    #[arg(long, value_name = "FILE", global = true)]
    pub(crate) book: Option<PathBuf>,
    /// One JSON object instead of text
    #[arg(long, global = true)]
    pub(crate) json: bool,
}

#[derive(Debug, Subcommand)]
pub(crate) enum ClassCommand {
    /// List the classes that are kept
    List,
    /// Keep a class from its file: names, instruments, levels, place; see docs/teaching.md
    Keep {
        /// The class file
        file: PathBuf,
    },
    /// Put a class file in the place of a class that is kept; its sheets stay as they are
    Edit {
        /// Its number
        id: i64,
        /// The class file
        file: PathBuf,
    },
    /// Show a class: who is in it, how everyone fared, what is common, what to teach next
    Show {
        /// Its number
        id: i64,
    },
    /// Draw a sheet for everyone and keep it with the class
    GiveOut {
        /// The class's number
        id: i64,
        /// The year of the dates
        #[arg(long, value_name = "YEAR")]
        year: i32,
        /// From what it is drawn: the same seed gives the same sheets
        #[arg(long, value_name = "NUMBER", default_value_t = 1)]
        seed: u64,
        /// How many questions everyone has
        #[arg(long, value_name = "COUNT", default_value_t = 6)]
        questions: u32,
        /// Ask everyone something else
        #[arg(long)]
        each_their_own: bool,
    },
    /// Show what a pupil was asked and answered
    Sheet {
        /// The class's number
        id: i64,
        /// Which sheet, by its number
        sheet: u32,
        /// Whose
        pupil: String,
    },
    /// Enter and correct what a pupil read; what is not said stays as it was entered
    Answer {
        /// The class's number
        id: i64,
        /// Which sheet, by its number
        sheet: u32,
        /// Whose
        pupil: String,
        /// What was read, by the question's number: 1.ascendant="11 Pisces"; nothing behind
        /// the sign takes it away; several times
        #[arg(long, value_name = "QUESTION.WHAT=VALUE", required = true)]
        read: Vec<String>,
    },
    /// Write the sheets as pages that pupils open in a browser, without a network and without
    /// anyone's name: a page for each, by number, or one for all
    Post {
        /// The class's number
        id: i64,
        /// Which sheet, by its number; the last unless said
        #[arg(long, value_name = "NUMBER")]
        sheet: Option<u32>,
        /// One page for all, on which everyone chooses their number
        #[arg(long)]
        one_for_all: bool,
        /// The pages correct what is read; unless said they only save it
        #[arg(long)]
        corrected: bool,
        /// The page as one file, as `cargo xtask site` builds it in target/site
        #[arg(long, value_name = "FILE")]
        site: Option<PathBuf>,
        /// The folder that the pages go into
        #[arg(short, long, value_name = "FOLDER", default_value = "pupils")]
        output: PathBuf,
        /// Overwrite files of the same names
        #[arg(long)]
        overwrite: bool,
    },
    /// Enter and correct what pupils' pages saved
    Collect {
        /// The class's number
        id: i64,
        /// Files of answers, or folders of them
        #[arg(required = true)]
        from: Vec<PathBuf>,
        /// What was answered before gives way
        #[arg(long)]
        overwrite: bool,
    },
    /// Print the sheets, the key, the key at length or the seating list as a PDF
    Print {
        /// The class's number
        id: i64,
        /// What
        #[arg(value_parser = class_print())]
        what: ClassPrint,
        /// Which sheet, by its number; the last unless said
        #[arg(long, value_name = "NUMBER")]
        sheet: Option<u32>,
        /// The file that the PDF goes into; named after what it is unless said
        #[arg(short, long, value_name = "FILE")]
        output: Option<PathBuf>,
        /// Overwrite a file that is there
        #[arg(long)]
        overwrite: bool,
        /// The paper: a4, letter, or millimetres such as 300x450
        #[arg(long, value_name = "SIZE", default_value = "a4")]
        page: String,
    },
    /// Delete a class for good with all its sheets, or all that one pupil was given and read;
    /// from the backups too
    Delete {
        /// Its number
        id: i64,
        /// What this pupil was given and read, and not the class
        #[arg(long, value_name = "NAME")]
        pupil: Option<String>,
        /// This is meant
        #[arg(long)]
        yes: bool,
    },
}

/// What is printed of a class, by its name.
fn class_print() -> impl TypedValueParser<Value = ClassPrint> {
    let names = ClassPrint::ALL.map(ClassPrint::name);
    PossibleValuesParser::new(names).try_map(|name| {
        let of_this_name = |one: &ClassPrint| one.name() == name;
        ClassPrint::ALL.into_iter().find(of_this_name).ok_or(name)
    })
}
