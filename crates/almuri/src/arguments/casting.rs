use std::path::PathBuf;

use clap::Args;

/// What belongs to a moment and a place.
#[derive(Args, Debug, Default)]
pub(crate) struct MomentArguments {
    /// A town, `latitude,longitude` in degrees, or `42°53′N 8°33′W`; the home place unless said
    #[arg(long, value_name = "PLACE", allow_hyphen_values = true)]
    pub(crate) at: Option<String>,
    /// The zone, such as Europe/Madrid, instead of the place's own
    #[arg(long, value_name = "ZONE")]
    pub(crate) zone: Option<String>,
    /// The kind of clock: zone, mean, sun, an offset such as +01:00, or an old reckoning:
    /// unequal-day, unequal-night (after the date's day) or unequal-night-before, from-sunset
    /// (before the date, the Italian use) or from-sunset-of-date, from-sunrise, each also with
    /// -visible
    #[arg(long, value_name = "KIND", allow_hyphen_values = true)]
    pub(crate) clock: Option<String>,
    /// The calendar of the date: gregorian or julian
    #[arg(long, value_name = "CALENDAR")]
    pub(crate) calendar: Option<String>,
    /// Which instant, where a clock time came twice or not at all: earlier or later
    #[arg(long, value_name = "WHICH")]
    pub(crate) which: Option<String>,
    /// Where the Sun's degree is taken from: instrument (its own scale or ring) or ephemeris
    #[arg(long, value_name = "SOURCE")]
    pub(crate) sun: Option<String>,
    /// On which plates it is worked: nearest, or two-in-proportion with the place between them
    #[arg(long, value_name = "PLATES")]
    pub(crate) plates: Option<String>,
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

/// A cast by itself; a figure has the rule of its houses among its own.
#[derive(Args, Debug)]
pub(crate) struct CastAloneArguments {
    #[command(flatten)]
    pub(crate) cast: CastArguments,
    /// Where houses begin to count in what hangs on the verdict: cusp or five-degrees
    #[arg(long, value_name = "RULE")]
    pub(crate) border: Option<String>,
}

#[derive(Args, Debug)]
pub(crate) struct DrawArguments {
    /// Date and time for which it is set, `YYYY-MM-DD HH:MM[:SS]`, or `now`; at rest without
    #[arg(value_name = "WHEN", allow_hyphen_values = true)]
    pub(crate) when: Option<String>,
    #[command(flatten)]
    pub(crate) moment: MomentArguments,
    /// An instrument of the cabinet, or a specification file
    #[arg(long, value_name = "INSTRUMENT")]
    pub(crate) with: Option<String>,
    /// The latitude of the plate to lay in, at rest; the nearest at hand is taken
    #[arg(
        long,
        value_name = "DEGREES",
        allow_hyphen_values = true,
        conflicts_with = "when"
    )]
    pub(crate) plate: Option<f64>,
    /// Show this step of the working, its lines lit; 1 is the first
    #[arg(long, value_name = "NUMBER", requires = "when")]
    pub(crate) step: Option<usize>,
    /// Light the lines from which the cusps are read by turning, direct-cut, limb-thirds
    /// or house-lines
    #[arg(
        long,
        value_name = "PROCEDURE",
        requires = "when",
        conflicts_with = "step"
    )]
    pub(crate) by: Option<String>,
    /// What is left out of the sum: summer-time, zone, longitude, equation-of-time
    #[arg(
        long,
        value_name = "CORRECTION",
        value_delimiter = ',',
        requires = "when"
    )]
    pub(crate) without: Vec<String>,
    /// The file that the SVG goes into; standard output, or -, unless said
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: Option<PathBuf>,
    /// Overwrite a file that is there
    #[arg(long, requires = "output")]
    pub(crate) overwrite: bool,
    /// Say what was written as one JSON object; without a file the SVG is in it
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Args, Debug)]
pub(crate) struct StandArguments {
    /// Date and time on the clock, `YYYY-MM-DD HH:MM[:SS]`, or `now`: they give the date,
    /// and how the parts stand that are not said
    #[arg(value_name = "WHEN", allow_hyphen_values = true)]
    pub(crate) when: String,
    /// How far 0° Aries has turned past noon, in degrees: `rete_deg` in the JSON of cast
    #[arg(long, value_name = "DEGREES", allow_hyphen_values = true)]
    pub(crate) rete: Option<f64>,
    /// How far the rule stands past noon, in degrees, or the hour it shows, `6:49`
    #[arg(long, value_name = "DEGREES|HOUR", allow_hyphen_values = true)]
    pub(crate) rule: Option<String>,
    /// The degree of the zodiac scale under the alidade, from 0° Aries
    #[arg(long, value_name = "DEGREES", allow_hyphen_values = true)]
    pub(crate) alidade: Option<f64>,
    /// The latitude of the plate that is laid in
    #[arg(long, value_name = "DEGREES", allow_hyphen_values = true)]
    pub(crate) plate: Option<f64>,
    /// A file of marks in a photograph of it as it was set: strokes of the limb, the hole,
    /// almuri and rule; rete and rule stand as they do there
    #[arg(long, value_name = "FILE", conflicts_with_all = ["rete", "rule", "alidade", "plate"])]
    pub(crate) marks: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) moment: MomentArguments,
    /// An instrument of the cabinet, or a specification file
    #[arg(long, value_name = "INSTRUMENT")]
    pub(crate) with: Option<String>,
    /// One JSON object instead of the sheet
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Args, Debug)]
pub(crate) struct WorkArguments {
    /// The operation, such as hour-by-sun; without one they are listed
    #[arg(value_name = "OPERATION")]
    pub(crate) operation: Option<String>,
    /// Date and time on the clock, `YYYY-MM-DD HH:MM[:SS]`, or `now`
    #[arg(value_name = "WHEN", allow_hyphen_values = true)]
    pub(crate) when: Option<String>,
    #[command(flatten)]
    pub(crate) moment: MomentArguments,
    /// An instrument of the cabinet, or a specification file
    #[arg(long, value_name = "INSTRUMENT")]
    pub(crate) with: Option<String>,
    /// A star of the rete
    #[arg(long, value_name = "STAR")]
    pub(crate) star: Option<String>,
    /// The Moon or a planet, instead of telling its degree, latitude and altitude
    #[arg(long, value_name = "BODY")]
    pub(crate) body: Option<String>,
    /// What I saw: altitude=25°30′, noon-altitude=…, shadow=4; several times
    #[arg(long, value_name = "WHAT=VALUE")]
    pub(crate) read: Vec<String>,
    /// The error of my hand in what I saw, either way, in degrees or points; ¼ unless said
    #[arg(long, value_name = "DEGREES")]
    pub(crate) hand: Option<f64>,
    /// What is told: degree="11 Pisces", latitude=-3, distance=20; several times
    #[arg(long, value_name = "WHAT=VALUE")]
    pub(crate) tell: Vec<String>,
    /// Seen in the morning or the evening, in the east or the west; on the meridian, in the
    /// north or the south
    #[arg(long, value_name = "SIDE")]
    pub(crate) side: Option<String>,
    /// Whose altitude, azimuth or rising: sun, star or degree
    #[arg(long, value_name = "WHOSE")]
    pub(crate) of: Option<String>,
    /// One JSON object instead of the sheet
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Args, Debug)]
pub(crate) struct FilmArguments {
    #[command(flatten)]
    pub(crate) work: WorkArguments,
    /// How the pictures lie: wide (1920 × 1080) or tall (1080 × 1920)
    #[arg(long, value_name = "SHAPE", default_value = "wide")]
    pub(crate) shape: String,
    /// What a first card says
    #[arg(long, value_name = "TEXT")]
    pub(crate) title: Option<String>,
    /// What a last card says: a line of your own
    #[arg(long, value_name = "TEXT")]
    pub(crate) end: Option<String>,
    /// The folder that it goes into
    #[arg(short, long, value_name = "FOLDER", default_value = "film")]
    pub(crate) output: PathBuf,
    /// Overwrite files of the same names
    #[arg(long)]
    pub(crate) overwrite: bool,
}
