use std::path::PathBuf;

use clap::Args;

use super::{CastArguments, MomentArguments};

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
    /// The file that the ephemeris goes into; standard output, or -, unless said
    #[arg(short, long, value_name = "FILE", requires = "from")]
    pub(crate) output: Option<PathBuf>,
    /// Overwrite a file that is there
    #[arg(long, requires = "output")]
    pub(crate) overwrite: bool,
    #[command(flatten)]
    pub(crate) moment: MomentArguments,
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
    /// Only these parts, with commas between them: moment, cusps, planets, dignities,
    /// receptions, lots, aspects, changes, rules; or a leaf of those that the table names at
    /// its end; or all, every one
    #[arg(
        long,
        value_name = "PARTS",
        value_delimiter = ',',
        conflicts_with_all = ["output", "json"]
    )]
    pub(crate) only: Vec<String>,
    /// The moment that time lords and returns are asked about, `YYYY-MM-DD HH:MM`
    #[arg(long, value_name = "WHEN", allow_hyphen_values = true)]
    pub(crate) on: Option<String>,
    /// The leaves as comma-separated values, angles in degrees: a row for each cell, or the
    /// table itself where --only names one leaf
    #[arg(long, conflicts_with_all = ["output", "json"])]
    pub(crate) csv: bool,
    /// How it is drawn: brass, as it stands on the instrument, the ledger on both sides;
    /// brass-narrow, the ledger beneath; square, as in the old books; round, a plain
    /// circle, or round-narrow; as-instrument, a plain circle lying as the instrument lies,
    /// or as-instrument-narrow
    #[arg(long, value_name = "FORM", requires = "output")]
    pub(crate) form: Option<String>,
    /// What it is filled in with: calculated; as-read, what the instrument shows or --read
    /// says; both, one beside the other, as usual with --read; or blank, a sheet to be
    /// filled in
    #[arg(long, value_name = "WITH", requires = "output")]
    pub(crate) filled: Option<String>,
    /// The file that it is drawn into, by its end as SVG, PDF or PNG; - for SVG on standard
    /// output
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: Option<PathBuf>,
    /// Overwrite a file that is there
    #[arg(long, requires = "output")]
    pub(crate) overwrite: bool,
}

/// By which rules a figure is finished.
#[derive(Args, Debug)]
pub(crate) struct RuleArguments {
    /// Whose rules are taken, all together: ptolemy, alqabisi, bonatti or lilly; none where
    /// each is by itself. A rule named besides is as named
    #[arg(long, value_name = "AUTHOR")]
    pub(crate) author: Option<String>,
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
    /// The points of dignities: lilly, alqabisi or ptolemy
    #[arg(long, value_name = "TABLE")]
    pub(crate) points: Option<String>,
    /// What mutual reception counts: counted, points and not peregrine; points-alone; or
    /// left-out
    #[arg(long, value_name = "RULE")]
    pub(crate) receptions: Option<String>,
    /// The orbs of aspects: lilly, lilly-smaller or biruni
    #[arg(long, value_name = "TABLE")]
    pub(crate) orbs: Option<String>,
    /// The limits of the Sun's beams: lilly, middleton or paulus
    #[arg(long, value_name = "TABLE")]
    pub(crate) beams: Option<String>,
    /// The points of accidental dignities: lilly or middleton
    #[arg(long, value_name = "TABLE")]
    pub(crate) accidents: Option<String>,
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
