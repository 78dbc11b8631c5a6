use std::path::PathBuf;

use clap::Args;

#[derive(Args, Debug)]
pub(crate) struct TablesArguments {
    /// The table, or `book` for all of them; alone, list them
    #[arg(value_name = "NAME")]
    pub(crate) name: Option<String>,
    /// A town, `latitude,longitude` in degrees, or `42°53′N 8°33′W`; the home place unless said
    #[arg(long, value_name = "PLACE", allow_hyphen_values = true)]
    pub(crate) at: Option<String>,
    /// The zone, such as Europe/Madrid, instead of the place's own
    #[arg(long, value_name = "ZONE")]
    pub(crate) zone: Option<String>,
    /// By which clock of the place days are counted, zone or mean; at Greenwich unless said
    #[arg(long, value_name = "KIND")]
    pub(crate) clock: Option<String>,
    /// The year of the days and of the obliquity; this year unless said
    #[arg(long, value_name = "YEAR", allow_hyphen_values = true)]
    pub(crate) year: Option<i32>,
    /// A month alone, 1 to 12
    #[arg(long, value_name = "MONTH")]
    pub(crate) month: Option<u8>,
    /// The calendar of the days: gregorian or julian
    #[arg(long, value_name = "CALENDAR")]
    pub(crate) calendar: Option<String>,
    /// At which hour the days stand: noon unless said, or midnight
    #[arg(long, value_name = "HOUR")]
    pub(crate) hour: Option<String>,
    /// The obliquity in degrees, instead of the year's, to try an old print
    #[arg(long, value_name = "DEGREES")]
    pub(crate) obliquity: Option<f64>,
    /// The house method
    #[arg(long, value_name = "METHOD")]
    pub(crate) houses: Option<String>,
    /// What a table of houses is entered with: sidereal-time unless said, or midheaven
    #[arg(long, value_name = "ARGUMENT")]
    pub(crate) by: Option<String>,
    /// The file it goes into, by its end as PDF, CSV, JSON or text
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: Option<PathBuf>,
    /// The paper of a PDF: a4, a3, letter, or such as 300x450 in millimetres
    #[arg(long, value_name = "SIZE", default_value = "a4")]
    pub(crate) page: String,
    /// Overwrite a file that is there
    #[arg(long, requires = "output")]
    pub(crate) overwrite: bool,
    /// Comma-separated values instead of the page
    #[arg(long, conflicts_with = "json")]
    pub(crate) csv: bool,
    /// One JSON object instead of the page
    #[arg(long)]
    pub(crate) json: bool,
    /// Ignore the settings
    #[arg(long)]
    pub(crate) no_settings: bool,
}
