use std::path::PathBuf;

use clap::{Args, Parser, Subcommand};

/// Cast figures with an astrolabe: how to set it, what it should read, what
/// calculation gives, and why they differ. Without a command the workbench is
/// started: a page on this machine's own address.
#[derive(Debug, Parser)]
#[command(
    name = "almuri",
    version,
    args_conflicts_with_subcommands = true,
    disable_help_subcommand = true
)]
pub(crate) struct Arguments {
    #[command(flatten)]
    pub(crate) workbench: WorkbenchArguments,
    #[command(subcommand)]
    pub(crate) command: Option<Command>,
}

#[derive(Args, Debug)]
pub(crate) struct WorkbenchArguments {
    /// Do not open the page in the browser
    #[arg(long)]
    pub(crate) no_open: bool,
    /// The port of the loopback address; 0 takes any that is free
    #[arg(long, value_name = "PORT")]
    pub(crate) port: Option<u16>,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Cast a figure: the setting, the working, the readings, and why they differ from calculation
    Cast(CastArguments),
    /// List the instruments at hand, show one, or check a specification
    Cabinet(CabinetArguments),
    /// Show or change the home place, the usual instrument and the usual method
    Settings(SettingsArguments),
}

/// What belongs to a moment and a place.
#[derive(Args, Debug)]
pub(crate) struct MomentArguments {
    /// A town, `latitude,longitude` in degrees, or `42°53′N 8°33′W`; the home place unless said
    #[arg(long, value_name = "PLACE", allow_hyphen_values = true)]
    pub(crate) at: Option<String>,
    /// The zone, such as Europe/Madrid, instead of the place's own
    #[arg(long, value_name = "ZONE")]
    pub(crate) zone: Option<String>,
    /// The kind of clock: zone, mean, sun, or an offset such as +01:00
    #[arg(long, value_name = "KIND", allow_hyphen_values = true)]
    pub(crate) clock: Option<String>,
    /// The calendar of the date: gregorian or julian
    #[arg(long, value_name = "CALENDAR")]
    pub(crate) calendar: Option<String>,
    /// Which instant, where a clock time came twice or not at all: earlier or later
    #[arg(long, value_name = "WHICH")]
    pub(crate) which: Option<String>,
    /// Ignore the settings
    #[arg(long)]
    pub(crate) no_settings: bool,
}

#[derive(Args, Debug)]
pub(crate) struct CastArguments {
    /// Date and time on the clock, `YYYY-MM-DD HH:MM[:SS]`, or `now`
    #[arg(value_name = "WHEN", allow_hyphen_values = true)]
    pub(crate) when: String,
    #[command(flatten)]
    pub(crate) moment: MomentArguments,
    /// An instrument of the cabinet, or a specification file
    #[arg(long, value_name = "INSTRUMENT")]
    pub(crate) with: Option<String>,
    /// The house method of the calculated figure
    #[arg(long, value_name = "METHOD")]
    pub(crate) houses: Option<String>,
    /// The cusp procedure to follow: turning, direct-cut, limb-thirds or house-lines
    #[arg(long, value_name = "PROCEDURE")]
    pub(crate) by: Option<String>,
    /// What I read: `ascendant="11 Pisces"`, `midheaven=…`, or a house, `III=…`; several times
    #[arg(long, value_name = "WHAT=DEGREE")]
    pub(crate) read: Vec<String>,
    /// What I left out of the sum: summer-time, zone, longitude, equation-of-time
    #[arg(long, value_name = "CORRECTION", value_delimiter = ',')]
    pub(crate) without: Vec<String>,
    /// One JSON object instead of the sheet
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Args, Debug)]
pub(crate) struct CabinetArguments {
    /// The instrument to show
    #[arg(value_name = "INSTRUMENT", conflicts_with = "check")]
    pub(crate) show: Option<String>,
    /// Check a specification file
    #[arg(long, value_name = "FILE")]
    pub(crate) check: Option<PathBuf>,
    /// JSON instead of text
    #[arg(long)]
    pub(crate) json: bool,
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
    /// Forget all settings
    #[arg(long, conflicts_with_all = ["home", "zone", "with", "houses", "by"])]
    pub(crate) forget: bool,
    /// JSON instead of text
    #[arg(long)]
    pub(crate) json: bool,
}
