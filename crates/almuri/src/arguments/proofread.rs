use std::path::PathBuf;

use clap::Args;

#[derive(Args, Debug)]
pub(crate) struct ProofreadArguments {
    /// The table: values separated by commas, the names of the columns in the first line
    #[arg(value_name = "FILE")]
    pub(crate) table: PathBuf,
    /// A column that is looked through; all that have numbers unless said
    #[arg(long, value_name = "NAME", value_delimiter = ',')]
    pub(crate) column: Vec<String>,
    /// The column of the arguments; the first unless said
    #[arg(long, value_name = "NAME")]
    pub(crate) by: Option<String>,
    /// A column whose every value begins a table of its own, such as the latitude
    #[arg(long, value_name = "NAME")]
    pub(crate) each: Option<String>,
    /// A sum that should come out, such as "sun + time = sidereal", by the names of columns
    #[arg(long, value_name = "SUM")]
    pub(crate) sum: Vec<String>,
    /// How far a number may be from what its neighbours want: minutes, or of plain numbers the
    /// last digit; ten times what half of its column keeps to, unless said
    #[arg(long, value_name = "SIZE")]
    pub(crate) within: Option<f64>,
    /// One JSON object instead of the sheet
    #[arg(long)]
    pub(crate) json: bool,
}
