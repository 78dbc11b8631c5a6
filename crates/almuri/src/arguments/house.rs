use std::path::PathBuf;

use clap::{Args, Subcommand};

#[derive(Args, Debug)]
#[command(args_conflicts_with_subcommands = true, disable_help_subcommand = true)]
pub(crate) struct CabinetArguments {
    #[command(subcommand)]
    pub(crate) command: Option<CabinetCommand>,
    /// The instrument to show
    #[arg(value_name = "INSTRUMENT", conflicts_with = "check")]
    pub(crate) show: Option<String>,
    /// Check a specification file
    #[arg(long, value_name = "FILE")]
    pub(crate) check: Option<PathBuf>,
    /// JSON instead of text
    #[arg(long, global = true)]
    pub(crate) json: bool,
}

#[derive(Debug, Subcommand)]
pub(crate) enum CabinetCommand {
    /// Keep the instrument of a specification file: it is then in every list, here and on the page
    Add {
        /// The specification, in TOML; see docs/specification.md
        #[arg(value_name = "FILE")]
        file: PathBuf,
        /// What it is to be called, instead of what the file says
        #[arg(long, value_name = "NAME")]
        name: Option<String>,
        /// Make it the usual instrument
        #[arg(long)]
        usual: bool,
        /// Put it in the place of one's own of the same name
        #[arg(long)]
        overwrite: bool,
    },
    /// Copy an instrument, one that comes with the program too, under another name
    Copy {
        /// The instrument
        #[arg(value_name = "INSTRUMENT")]
        name: String,
        /// What the copy is called
        #[arg(value_name = "NAME")]
        copy: String,
    },
    /// Write an instrument's specification into a file
    Export {
        /// The instrument
        #[arg(value_name = "INSTRUMENT")]
        name: String,
        /// The file; - for standard output
        #[arg(short, long, value_name = "FILE", default_value = "-")]
        output: PathBuf,
        /// Overwrite a file that is there
        #[arg(long)]
        overwrite: bool,
    },
    /// Take an instrument of one's own out of the cabinet, for good
    Remove {
        /// The instrument
        #[arg(value_name = "INSTRUMENT")]
        name: String,
        /// This is meant
        #[arg(long)]
        yes: bool,
    },
}

#[derive(Args, Debug)]
pub(crate) struct SettingsArguments {
    /// The home place, used where no place is said
    #[arg(long, value_name = "PLACE", allow_hyphen_values = true)]
    pub(crate) home: Option<String>,
    /// The home place's zone, where it is given by coordinates
    #[arg(long, value_name = "ZONE")]
    pub(crate) zone: Option<String>,
    /// The usual instrument
    #[arg(long, value_name = "INSTRUMENT")]
    pub(crate) with: Option<String>,
    /// The usual house method
    #[arg(long, value_name = "METHOD")]
    pub(crate) houses: Option<String>,
    /// The usual cusp procedure
    #[arg(long, value_name = "PROCEDURE")]
    pub(crate) by: Option<String>,
    /// Where the Sun's degree is usually taken from: instrument or ephemeris
    #[arg(long, value_name = "SOURCE")]
    pub(crate) sun: Option<String>,
    /// How figures are drawn: brass, brass-narrow, square, round, round-narrow, as-instrument or
    /// as-instrument-narrow
    #[arg(long, value_name = "FORM")]
    pub(crate) figures: Option<String>,
    /// Where others can open the page, such as `https://example.org/almuri/`: cards, handouts and
    /// the sheets of made instruments then bear a code for telephones
    #[arg(long, value_name = "ADDRESS")]
    pub(crate) page_address: Option<String>,
    /// Forget a setting by its option's name, such as `zone`; several times; alone, all of them
    #[arg(long, value_name = "SETTING", num_args = 0..=1, default_missing_value = "all")]
    pub(crate) forget: Vec<String>,
    /// JSON instead of text
    #[arg(long)]
    pub(crate) json: bool,
}
