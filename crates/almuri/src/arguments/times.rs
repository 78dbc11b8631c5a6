use std::path::PathBuf;

use clap::Args;

use super::MomentArguments;

/// A place, of which no one moment is asked.
#[derive(Args, Debug)]
pub(crate) struct PlaceArguments {
    /// A town, `latitude,longitude` in degrees, or `42°53′N 8°33′W`; the home place unless said
    #[arg(long, value_name = "PLACE", allow_hyphen_values = true)]
    pub(crate) at: Option<String>,
    /// The zone, such as Europe/Madrid, instead of the place's own
    #[arg(long, value_name = "ZONE")]
    pub(crate) zone: Option<String>,
    /// Ignore the settings
    #[arg(long)]
    pub(crate) no_settings: bool,
}

impl PlaceArguments {
    /// As of a moment of which nothing else is said.
    pub(crate) fn moment(&self) -> MomentArguments {
        MomentArguments {
            at: self.at.clone(),
            zone: self.zone.clone(),
            no_settings: self.no_settings,
            ..MomentArguments::default()
        }
    }
}

#[derive(Args, Debug)]
pub(crate) struct ChooseArguments {
    /// The earliest moment: a date, with a time if wished, or `now`
    #[arg(long, value_name = "WHEN", allow_hyphen_values = true)]
    pub(crate) from: Option<String>,
    /// The latest; a date alone is meant with all its day
    #[arg(long, value_name = "WHEN", allow_hyphen_values = true)]
    pub(crate) to: Option<String>,
    /// What must hold: "Moon waxing", "hour of Venus"; several times
    #[arg(long, value_name = "WISH")]
    pub(crate) must: Vec<String>,
    /// What had rather hold: the more of it, the higher a time stands; several times
    #[arg(long, value_name = "WISH")]
    pub(crate) rather: Vec<String>,
    /// A TOML file of wishes, with version = 1 and keys named like these options
    #[arg(long, value_name = "FILE")]
    pub(crate) wishes: Option<PathBuf>,
    /// The shortest time that is of use, in minutes; 1 unless said
    #[arg(long, value_name = "MINUTES")]
    pub(crate) lasting: Option<f64>,
    #[command(flatten)]
    pub(crate) place: PlaceArguments,
    /// The kind of clock: zone, mean, sun, or an offset such as +01:00
    #[arg(long, value_name = "KIND", allow_hyphen_values = true)]
    pub(crate) clock: Option<String>,
    /// The calendar of the dates: gregorian or julian
    #[arg(long, value_name = "CALENDAR")]
    pub(crate) calendar: Option<String>,
    /// The house method
    #[arg(long, value_name = "METHOD")]
    pub(crate) houses: Option<String>,
    /// Where houses begin to count: cusp or five-degrees
    #[arg(long, value_name = "RULE")]
    pub(crate) border: Option<String>,
    /// What is taken for sunrise: centre or upper-limb
    #[arg(long, value_name = "SUNRISE")]
    pub(crate) sunrise: Option<String>,
    /// The terms: egyptian, ptolemy or lilly
    #[arg(long, value_name = "TABLE")]
    pub(crate) terms: Option<String>,
    /// The rulers of triplicities: lilly, ptolemy or dorotheus
    #[arg(long, value_name = "TABLE")]
    pub(crate) triplicities: Option<String>,
    /// The orbs of aspects: lilly, lilly-smaller or biruni
    #[arg(long, value_name = "TABLE")]
    pub(crate) orbs: Option<String>,
    /// The limits of the Sun's beams: lilly, middleton or paulus
    #[arg(long, value_name = "TABLE")]
    pub(crate) beams: Option<String>,
    /// How many times the table shows; 20 unless said
    #[arg(long, value_name = "NUMBER", default_value_t = 20)]
    pub(crate) most: usize,
    /// A file that the times go into, by its end: .csv, .ics for a calendar, or .svg, .pdf,
    /// .png for a strip of the weeks; several times
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: Vec<PathBuf>,
    /// In a calendar, an alarm so many minutes before
    #[arg(long, value_name = "MINUTES", requires = "output", value_parser = clap::value_parser!(u32).range(0..=40_320))]
    pub(crate) alarm: Option<u32>,
    /// Overwrite files that are there
    #[arg(long, requires = "output")]
    pub(crate) overwrite: bool,
    /// One JSON object instead of the table
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Args, Debug)]
pub(crate) struct YearArguments {
    /// The year, 1583 to 2649
    #[arg(value_name = "YEAR")]
    pub(crate) year: i32,
    #[command(flatten)]
    pub(crate) place: PlaceArguments,
    /// An instrument of the cabinet, or a specification file
    #[arg(long, value_name = "INSTRUMENT")]
    pub(crate) with: Option<String>,
    /// A file that the year goes into, by its end: .pdf for the book, .ics for a calendar,
    /// .csv for the days as a table; several times
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: Vec<PathBuf>,
    /// The paper of the book: a5, a6, or a5-folded and a6-folded, two pages on a side in the
    /// order in which a booklet is folded
    #[arg(long, value_name = "PAPER", default_value = "a5")]
    pub(crate) paper: String,
    /// What goes into a calendar: lunation, ingress, moon-ingress, station, appearance, eclipse, clock
    #[arg(
        long,
        value_name = "KIND",
        value_delimiter = ',',
        default_value = "lunation,ingress,station,eclipse,clock",
        value_parser = ["lunation", "ingress", "moon-ingress", "station", "appearance", "eclipse", "clock"]
    )]
    pub(crate) kinds: Vec<String>,
    /// Planets whose unequal hours go into a calendar and the JSON, such as Venus,Jupiter
    #[arg(long, value_name = "PLANET", value_delimiter = ',')]
    pub(crate) hours_of: Vec<String>,
    /// In a calendar, an alarm so many minutes before
    #[arg(long, value_name = "MINUTES", requires = "output", value_parser = clap::value_parser!(u32).range(0..=40_320))]
    pub(crate) alarm: Option<u32>,
    /// Overwrite files that are there
    #[arg(long, requires = "output")]
    pub(crate) overwrite: bool,
    /// One JSON object instead of the list
    #[arg(long)]
    pub(crate) json: bool,
}
