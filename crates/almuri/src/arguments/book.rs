use std::path::PathBuf;

use clap::{Args, Subcommand};

use super::RuleArguments;

#[derive(Args, Debug)]
pub(crate) struct CasebookArguments {
    #[command(subcommand)]
    pub(crate) command: CasebookCommand,
    /// The casebook's file, instead of the usual one
    #[arg(long, value_name = "FILE", global = true)]
    pub(crate) book: Option<PathBuf>,
    /// One JSON object instead of text
    #[arg(long, global = true)]
    pub(crate) json: bool,
}

#[derive(Debug, Subcommand)]
pub(crate) enum CasebookCommand {
    /// Keep a case
    Keep {
        /// What it is called
        name: String,
        /// Date and time on the clock, `YYYY-MM-DD HH:MM[:SS]`
        #[arg(allow_hyphen_values = true)]
        when: String,
        #[command(flatten)]
        case: Box<CaseArguments>,
    },
    /// Change a case; what is not said stays
    Edit {
        /// Its number
        id: i64,
        /// What it is called
        #[arg(long)]
        name: Option<String>,
        /// Date and time on the clock
        #[arg(long, allow_hyphen_values = true)]
        when: Option<String>,
        #[command(flatten)]
        case: Box<CaseArguments>,
    },
    /// List the cases kept last
    List {
        /// How many at most
        #[arg(long, default_value_t = 30)]
        limit: usize,
    },
    /// Find cases by the beginnings of words in name, moment, place, note and tags
    Find {
        /// The words; all must occur
        #[arg(required = true)]
        words: Vec<String>,
        /// How many at most
        #[arg(long, default_value_t = 30)]
        limit: usize,
    },
    /// Show a case
    Show {
        /// Its number
        id: i64,
    },
    /// List the tags in use
    Tags,
    /// Undo the last edit, or the keeping of a case
    Undo,
    /// Delete a case for good, from the backups too
    Delete {
        /// Its number
        id: i64,
        /// This is meant
        #[arg(long)]
        yes: bool,
    },
    /// Write all cases to a .json or .csv file; beyond 50,000 cases or 15 MB to several,
    /// each of which can be read in
    Export {
        /// The file that they go into
        #[arg(short, long, value_name = "FILE")]
        output: PathBuf,
        /// Overwrite a file that is there
        #[arg(long)]
        overwrite: bool,
        /// Put an apostrophe before texts of a .csv that spreadsheets take for formulas;
        /// without it they stay as they are, so that they can be read in again
        #[arg(long)]
        for_spreadsheets: bool,
    },
    /// Keep the cases of a .json or .csv file
    Import {
        /// The file
        file: PathBuf,
        /// Keep the good rows though there are bad ones
        #[arg(long)]
        good_only: bool,
    },
    /// Make a backup with a name; one with the day's date is made every day
    BackUp {
        /// Its name: letters, figures, - and _
        name: String,
    },
    /// List the backups
    Backups,
    /// Put a backup in the casebook's place, which is kept beside it
    Restore {
        /// Its name, such as 2024-05-14
        backup: String,
    },
    /// Look through the whole casebook for damage
    Check,
}

/// What belongs to a case.
#[derive(Args, Debug)]
pub(crate) struct CaseArguments {
    /// A town, `latitude,longitude` in degrees, or `42°53′N 8°33′W`
    #[arg(long, value_name = "PLACE", allow_hyphen_values = true)]
    pub(crate) at: Option<String>,
    /// The zone
    #[arg(long)]
    pub(crate) zone: Option<String>,
    /// The kind of clock
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) clock: Option<String>,
    /// The calendar
    #[arg(long)]
    pub(crate) calendar: Option<String>,
    /// Which instant: earlier or later
    #[arg(long)]
    pub(crate) which: Option<String>,
    /// The house method
    #[arg(long)]
    pub(crate) houses: Option<String>,
    /// The instrument
    #[arg(long)]
    pub(crate) with: Option<String>,
    /// The cusp procedure
    #[arg(long)]
    pub(crate) by: Option<String>,
    /// Where the Sun's degree is taken from: instrument or ephemeris
    #[arg(long)]
    pub(crate) sun: Option<String>,
    /// On which plates it is worked: nearest or two-in-proportion
    #[arg(long)]
    pub(crate) plates: Option<String>,
    /// A reading taken: `ascendant="11 Pisces"`; several times
    #[arg(long, value_name = "WHAT=DEGREE")]
    pub(crate) read: Vec<String>,
    /// A mark given: `"the setting=7/10"`; several times
    #[arg(long, value_name = "WHAT=MARK")]
    pub(crate) mark: Vec<String>,
    /// A note
    #[arg(long)]
    pub(crate) note: Option<String>,
    /// A tag; several times
    #[arg(long)]
    pub(crate) tag: Vec<String>,
    /// A tag to take away; several times
    #[arg(long)]
    pub(crate) untag: Vec<String>,
}

#[derive(Args, Debug)]
pub(crate) struct BatchArguments {
    /// A table with a header: `when` and `at`, and as wanted name, zone, clock, calendar,
    /// which, houses; - is standard input
    #[arg(value_name = "CASES.CSV")]
    pub(crate) input: PathBuf,
    /// The file that the figures go into: .csv, or .jsonl with a JSON object on each line;
    /// - is standard output, as .csv
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: PathBuf,
    /// Overwrite a file that is there; an unfinished one is gone on with all the same
    #[arg(long)]
    pub(crate) overwrite: bool,
    /// Put an apostrophe before texts of a .csv that spreadsheets take for formulas;
    /// without it they stay as they are, so that programs find what was given
    #[arg(long)]
    pub(crate) for_spreadsheets: bool,
    /// Leave out the line of column names, for pieces of one table that are put together
    #[arg(long)]
    pub(crate) without_header: bool,
    /// The house method, where a row does not say its own
    #[arg(long, value_name = "METHOD")]
    pub(crate) houses: Option<String>,
    #[command(flatten)]
    pub(crate) rules: RuleArguments,
    /// How many cores to work on; all of them unless said
    #[arg(long, value_name = "NUMBER")]
    pub(crate) cores: Option<usize>,
    /// Begin anew, though an unfinished run could be taken up
    #[arg(long)]
    pub(crate) afresh: bool,
    /// Say what was done as one JSON object
    #[arg(long)]
    pub(crate) json: bool,
}
