use std::path::PathBuf;

use clap::Args;

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
    /// How figures are drawn: round, square or as-instrument
    #[arg(long, value_name = "FORM")]
    pub(crate) figures: Option<String>,
    /// Forget a setting by its option's name, such as `zone`; several times; alone, all of them
    #[arg(long, value_name = "SETTING", num_args = 0..=1, default_missing_value = "all")]
    pub(crate) forget: Vec<String>,
    /// JSON instead of text
    #[arg(long)]
    pub(crate) json: bool,
}
