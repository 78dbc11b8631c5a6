use std::path::PathBuf;

use clap::Args;

use super::MomentArguments;

#[derive(Args, Debug)]
pub(crate) struct ReckonArguments {
    /// Date and time on the clock, `YYYY-MM-DD HH:MM[:SS]`, or `now`
    #[arg(value_name = "WHEN", allow_hyphen_values = true)]
    pub(crate) when: String,
    #[command(flatten)]
    pub(crate) moment: MomentArguments,
    /// The house method of the table of houses
    #[arg(long, value_name = "METHOD")]
    pub(crate) houses: Option<String>,
    /// The latitude that the table of houses is made for, in degrees; the place's unless said
    #[arg(long, value_name = "DEGREES", allow_hyphen_values = true)]
    pub(crate) table_latitude: Option<f64>,
    /// At which hour the ephemeris has its days: noon unless said, or midnight
    #[arg(long, value_name = "HOUR")]
    pub(crate) hour: Option<String>,
    /// Take the Moon's second difference
    #[arg(long)]
    pub(crate) second_difference: bool,
    /// What you found on a sheet of your own, such as ascendant="11°30′ Pisces", Moon="2 Leo"
    /// or sidereal-time=22:15:56: it is corrected
    #[arg(long, value_name = "NAME=VALUE")]
    pub(crate) read: Vec<String>,
    /// An instrument that the case is worked with too: the three roads beside each other
    #[arg(long, value_name = "INSTRUMENT")]
    pub(crate) with: Option<String>,
    /// The cusp procedure on it; turning unless said
    #[arg(long, value_name = "PROCEDURE", requires = "with")]
    pub(crate) by: Option<String>,
    /// What is left out of the sum: summer-time, zone, longitude, equation-of-time
    #[arg(long, value_name = "CORRECTION", value_delimiter = ',')]
    pub(crate) without: Vec<String>,
    /// A PDF that the sheet is typeset into
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: Option<PathBuf>,
    /// Leave the numbers of the PDF to be found, with the rows of the tables beside them: an
    /// exercise, to which the sheet is the key
    #[arg(long, requires = "output")]
    pub(crate) blank: bool,
    /// The paper of the PDF: a4, a3, letter, or such as 300x450 in millimetres
    #[arg(long, value_name = "SIZE", default_value = "a4")]
    pub(crate) page: String,
    /// Overwrite a file that is there
    #[arg(long, requires = "output")]
    pub(crate) overwrite: bool,
    /// One JSON object instead of the sheet
    #[arg(long)]
    pub(crate) json: bool,
}
