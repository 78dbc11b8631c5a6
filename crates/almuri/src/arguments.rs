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
    /// The casebook's file, instead of the usual one
    #[arg(long, value_name = "FILE")]
    pub(crate) book: Option<PathBuf>,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Cast a figure: the setting, the working, the readings, and why they differ from calculation
    Cast(CastArguments),
    /// Finish a figure: planets in houses, hour, lots, dignities, aspects; as a table or drawn
    Figure(Box<FigureArguments>),
    /// Keep cases, find them again, edit, undo, delete; export and import them
    Casebook(Box<CasebookArguments>),
    /// Finish every figure of a table, over all cores
    Batch(Box<BatchArguments>),
    /// Work an operation of the classical treatise; alone, list them
    Work(WorkArguments),
    /// Read an instrument as it stands: what rete, rule and alidade show, turned by hand
    Stand(StandArguments),
    /// Where the planets are: at a moment, or over years as a table of values
    Planets(PlanetsArguments),
    /// Correct a pupil's readings, or find what a printed figure was made by
    Correct(CorrectArguments),
    /// Look through an uncertain time: what holds throughout, what changes when
    During(DuringArguments),
    /// Cast the revolution of a year: the Sun back at its degree
    Revolution(RevolutionArguments),
    /// Compare instruments over a year: how far ascendant, midheaven and cusps are off
    Compare(CompareArguments),
    /// From an ascendant back to the moments of the year that have it
    Moments(MomentsArguments),
    /// Make a film of an operation: a moving SVG, captions, numbered frames, a rehearsal sheet
    Film(FilmArguments),
    /// Draw the front of an instrument as SVG, at rest or set for a moment
    Draw(DrawArguments),
    /// Make the files for an instrument's parts: for printer, cutter and engraver
    Make(MakeArguments),
    /// Which plate serves which town, and how well
    Plates(PlatesArguments),
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
    /// The kind of clock: zone, mean, sun, an offset such as +01:00, or an old reckoning:
    /// unequal-day, unequal-night, from-sunset, from-sunrise, each also with -visible
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
    /// Where the SVG goes; - for standard output
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: Option<PathBuf>,
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
    /// Seen in the morning or the evening, in the east or the west
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
pub(crate) struct PlanetsArguments {
    /// Date and time on the clock, `YYYY-MM-DD HH:MM[:SS]`, or `now`; in Universal Time
    /// where no place, zone or clock is said
    #[arg(
        value_name = "WHEN",
        allow_hyphen_values = true,
        required_unless_present = "from",
        conflicts_with = "from"
    )]
    pub(crate) when: Option<String>,
    /// A whole ephemeris, as comma-separated values: the first moment
    #[arg(long, value_name = "WHEN", allow_hyphen_values = true, requires_all = ["to", "every"])]
    pub(crate) from: Option<String>,
    /// The last moment of an ephemeris
    #[arg(
        long,
        value_name = "WHEN",
        allow_hyphen_values = true,
        requires = "from"
    )]
    pub(crate) to: Option<String>,
    /// How far apart its moments are: 1d, 6h, 30min, 90s
    #[arg(
        long,
        value_name = "STEP",
        allow_hyphen_values = true,
        requires = "from"
    )]
    pub(crate) every: Option<String>,
    /// Where the ephemeris goes; standard output, or -, unless said
    #[arg(short, long, value_name = "FILE", requires = "from")]
    pub(crate) output: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) moment: MomentArguments,
    /// One JSON object instead of the table
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Args, Debug)]
pub(crate) struct CorrectArguments {
    /// Date and time on the clock, `YYYY-MM-DD HH:MM[:SS]`, or `now`
    #[arg(value_name = "WHEN", allow_hyphen_values = true)]
    pub(crate) when: String,
    #[command(flatten)]
    pub(crate) moment: MomentArguments,
    /// An instrument of the cabinet, or a specification file
    #[arg(long, value_name = "INSTRUMENT")]
    pub(crate) with: Option<String>,
    /// The cusp procedure that was followed: turning, direct-cut, limb-thirds or house-lines
    #[arg(long, value_name = "PROCEDURE")]
    pub(crate) by: Option<String>,
    /// The house method that a printed figure should have
    #[arg(long, value_name = "METHOD")]
    pub(crate) houses: Option<String>,
    /// What was read: local-time=6:49, sun-degree, ascendant="11°30′ Pisces", midheaven, or a house; several times
    #[arg(long, value_name = "WHAT=VALUE")]
    pub(crate) read: Vec<String>,
    /// The readings are a figure from a printout or a book
    #[arg(long)]
    pub(crate) figure: bool,
    /// One JSON object instead of the sheet
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Args, Debug)]
pub(crate) struct DuringArguments {
    /// The earliest date and time on the clock, `YYYY-MM-DD HH:MM[:SS]`
    #[arg(value_name = "WHEN", allow_hyphen_values = true)]
    pub(crate) when: String,
    /// The latest time, `HH:MM`
    #[arg(value_name = "UNTIL")]
    pub(crate) until: String,
    #[command(flatten)]
    pub(crate) moment: MomentArguments,
    /// The house method
    #[arg(long, value_name = "METHOD")]
    pub(crate) houses: Option<String>,
    /// One JSON object instead of the sheet
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Args, Debug)]
pub(crate) struct RevolutionArguments {
    /// The date and time of the beginning, `YYYY-MM-DD HH:MM[:SS]`
    #[arg(value_name = "WHEN", allow_hyphen_values = true)]
    pub(crate) when: String,
    /// The year in which the Sun returns
    #[arg(value_name = "YEAR", allow_hyphen_values = true)]
    pub(crate) year: i32,
    #[command(flatten)]
    pub(crate) moment: MomentArguments,
    /// Where the revolution is cast, if not where it began
    #[arg(long, value_name = "PLACE", allow_hyphen_values = true)]
    pub(crate) cast_at: Option<String>,
    /// An instrument of the cabinet, or a specification file
    #[arg(long, value_name = "INSTRUMENT")]
    pub(crate) with: Option<String>,
    /// One JSON object instead of the sheet
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Args, Debug)]
pub(crate) struct CompareArguments {
    /// The date and time at which the year begins, `YYYY-MM-DD HH:MM[:SS]`, or `now`
    #[arg(value_name = "WHEN", allow_hyphen_values = true)]
    pub(crate) when: String,
    #[command(flatten)]
    pub(crate) moment: MomentArguments,
    /// An instrument of the cabinet, or a specification file; several times, or all that serve
    #[arg(long, value_name = "INSTRUMENT")]
    pub(crate) with: Vec<String>,
    /// The cusp procedure: turning, direct-cut, limb-thirds or house-lines
    #[arg(long, value_name = "PROCEDURE")]
    pub(crate) by: Option<String>,
    /// The house method it is held against
    #[arg(long, value_name = "METHOD")]
    pub(crate) houses: Option<String>,
    /// Draw it too, by the end of the file's name as SVG, PDF or PNG
    #[arg(long, value_name = "FILE")]
    pub(crate) picture: Option<PathBuf>,
    /// One JSON object instead of the table
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Args, Debug)]
pub(crate) struct MomentsArguments {
    /// The degree on the eastern horizon, such as "11 Pisces"
    #[arg(value_name = "DEGREE")]
    pub(crate) ascendant: String,
    /// The day with which the year begins, `YYYY-MM-DD`
    #[arg(value_name = "FROM", allow_hyphen_values = true)]
    pub(crate) from: String,
    #[command(flatten)]
    pub(crate) moment: MomentArguments,
    /// An instrument of the cabinet, or a specification file
    #[arg(long, value_name = "INSTRUMENT")]
    pub(crate) with: Option<String>,
    /// One JSON object instead of the table
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Args, Debug)]
pub(crate) struct FilmArguments {
    #[command(flatten)]
    pub(crate) work: WorkArguments,
    /// The folder that it goes into
    #[arg(short, long, value_name = "FOLDER", default_value = "film")]
    pub(crate) output: PathBuf,
}

#[derive(Args, Debug)]
pub(crate) struct MakeArguments {
    /// An instrument of the cabinet, or a specification file
    #[arg(long, value_name = "INSTRUMENT")]
    pub(crate) with: Option<String>,
    /// The folder for the files; none of them is overwritten
    #[arg(short, long, value_name = "FOLDER")]
    pub(crate) out: PathBuf,
    /// The parts: mater, back, plates, rete, rule, alidade, pin; all unless said
    #[arg(long, value_name = "PARTS", value_delimiter = ',')]
    pub(crate) parts: Vec<String>,
    /// The formats: svg, dxf, pdf, png, paper (to cut and fold); svg, dxf and pdf unless said
    #[arg(long, value_name = "FORMATS", value_delimiter = ',')]
    pub(crate) formats: Vec<String>,
    /// A plate for this latitude or town instead of the instrument's own; several times
    #[arg(long, value_name = "PLACE", allow_hyphen_values = true)]
    pub(crate) plate: Vec<String>,
    /// The paper: a4, a3, letter, or millimetres such as 300x450
    #[arg(long, value_name = "SIZE", default_value = "a4")]
    pub(crate) page: String,
    /// Dots per inch of pictures
    #[arg(long, value_name = "DOTS", default_value_t = 200.0)]
    pub(crate) dpi: f64,
    /// The date of calculation as it is to be written; today unless said
    #[arg(long, value_name = "DATE")]
    pub(crate) dated: Option<String>,
    /// Overwrite files of the same names
    #[arg(long)]
    pub(crate) overwrite: bool,
    /// Say what was written as one JSON object
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Args, Debug)]
pub(crate) struct PlatesArguments {
    /// A file with a town on each line, or towns parted by semicolons
    #[arg(long, value_name = "FILE|LIST", allow_hyphen_values = true)]
    pub(crate) towns: String,
    /// The latitudes of the plates in stock, in degrees
    #[arg(
        long,
        value_name = "LATITUDES",
        value_delimiter = ',',
        allow_hyphen_values = true
    )]
    pub(crate) stock: Vec<f64>,
    /// The largest error that is suffered, in degrees; 1 unless said
    #[arg(long, value_name = "DEGREES")]
    pub(crate) within: Option<f64>,
    /// The house method of the cusps; alcabitius unless said
    #[arg(long, value_name = "METHOD")]
    pub(crate) houses: Option<String>,
    /// A card for each town, with the dates of this year
    #[arg(long, value_name = "YEAR")]
    pub(crate) cards: Option<i32>,
    /// Where the date is taken from, for the cards: zodiac, equal-day-ring, true-sun-ring or given
    #[arg(long, value_name = "KIND")]
    pub(crate) date_from: Option<String>,
    /// Put the cards into this folder, each a PDF of one page to give away
    #[arg(short, long, value_name = "FOLDER", requires = "cards")]
    pub(crate) out: Option<PathBuf>,
    /// The paper of the cards: a5, a6, or a4 or letter with crosses to cut by
    #[arg(long, value_name = "PAPER", default_value = "a5", requires = "out")]
    pub(crate) paper: String,
    /// Replace cards that are there already
    #[arg(long, requires = "out")]
    pub(crate) overwrite: bool,
    /// One JSON object instead of the table
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Args, Debug)]
pub(crate) struct FigureArguments {
    #[command(flatten)]
    pub(crate) cast: CastArguments,
    #[command(flatten)]
    pub(crate) rules: RuleArguments,
    /// How it is drawn: round, the ascendant on the left; square, as in the old books; or
    /// as-instrument, round and lying as the instrument lies
    #[arg(long, value_name = "FORM", requires = "output")]
    pub(crate) form: Option<String>,
    /// Draw it into this file, by its end as SVG, PDF or PNG; - for SVG on standard output
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: Option<PathBuf>,
}

/// By which rules a figure is finished.
#[derive(Args, Debug)]
pub(crate) struct RuleArguments {
    /// Where houses begin to count: cusp or five-degrees
    #[arg(long, value_name = "RULE")]
    pub(crate) border: Option<String>,
    /// Show Uranus, Neptune and Pluto too
    #[arg(long)]
    pub(crate) outer: bool,
    /// The Moon's node: mean or true
    #[arg(long, value_name = "NODE")]
    pub(crate) node: Option<String>,
    /// What is taken for sunrise: centre or upper-limb
    #[arg(long, value_name = "SUNRISE")]
    pub(crate) sunrise: Option<String>,
    /// The terms: egyptian, ptolemy or lilly
    #[arg(long, value_name = "TABLE")]
    pub(crate) terms: Option<String>,
    /// The rulers of triplicities: lilly, ptolemy or dorotheus
    #[arg(long, value_name = "TABLE")]
    pub(crate) triplicities: Option<String>,
    /// The points of dignities: lilly or alqabisi
    #[arg(long, value_name = "TABLE")]
    pub(crate) points: Option<String>,
    /// The orbs of aspects: lilly, lilly-smaller or biruni
    #[arg(long, value_name = "TABLE")]
    pub(crate) orbs: Option<String>,
    /// The limits of the Sun's beams: lilly or paulus
    #[arg(long, value_name = "TABLE")]
    pub(crate) beams: Option<String>,
    /// A list of lots of my own, added to the built-in ones
    #[arg(long, value_name = "FILE")]
    pub(crate) lots: Option<PathBuf>,
    /// Lots by night: as-listed or unchanged
    #[arg(long, value_name = "RULE")]
    pub(crate) lots_by_night: Option<String>,
    /// How near a star must stand to be named, in degrees of longitude; 1 unless said
    #[arg(long, value_name = "DEGREES")]
    pub(crate) star_orb: Option<f64>,
    /// To how many seconds the clock is trusted; 240 unless said
    #[arg(long, value_name = "SECONDS")]
    pub(crate) clock_within: Option<f64>,
}

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
    /// Write all cases to a .json or .csv file
    Export {
        /// Where they go
        #[arg(short, long, value_name = "FILE")]
        output: PathBuf,
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
    /// which, houses
    #[arg(value_name = "CASES.CSV")]
    pub(crate) input: PathBuf,
    /// Where the figures go: a .csv file, or .jsonl with a JSON object on each line
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: PathBuf,
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
