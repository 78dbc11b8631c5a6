use std::path::PathBuf;

use clap::Args;

#[derive(Args, Debug)]
pub(crate) struct MakeArguments {
    /// An instrument of the cabinet, or a specification file
    #[arg(long, value_name = "INSTRUMENT")]
    pub(crate) with: Option<String>,
    /// The folder that the files go into
    #[arg(short, long, alias = "out", value_name = "FOLDER")]
    pub(crate) output: PathBuf,
    /// The parts: mater, back, plates, rete, rule, alidade, pin, ring; all unless said
    #[arg(long, value_name = "PARTS", value_delimiter = ',')]
    pub(crate) parts: Vec<String>,
    /// The formats: svg, dxf, pdf, png, paper (to cut and fold), 3mf and stl (solids), film and
    /// film-png (for etching), assembly (a page); svg, dxf and pdf unless said
    #[arg(long, value_name = "FORMATS", value_delimiter = ',')]
    pub(crate) formats: Vec<String>,
    /// A plate for this latitude or town instead of the instrument's own; several times
    #[arg(long, value_name = "PLACE", allow_hyphen_values = true)]
    pub(crate) plate: Vec<String>,
    /// The paper: a4, a3, letter, or millimetres such as 300x450
    #[arg(long, value_name = "SIZE", default_value = "a4")]
    pub(crate) page: String,
    /// Where its buyer is, for the code that its sheet bears where the page's address is kept
    /// (`almuri settings --page-address`); the home place unless said
    #[arg(long, value_name = "PLACE", allow_hyphen_values = true)]
    pub(crate) at: Option<String>,
    /// Dots per inch of pictures
    #[arg(long, value_name = "DOTS", default_value_t = 200.0)]
    pub(crate) dpi: f64,
    /// The date of calculation as it is to be written; today unless said
    #[arg(long, value_name = "DATE")]
    pub(crate) dated: Option<String>,
    #[command(flatten)]
    pub(crate) tools: ToolArguments,
    #[command(flatten)]
    pub(crate) lines: LineArguments,
    #[command(flatten)]
    pub(crate) films: EtchingArguments,
    #[command(flatten)]
    pub(crate) rates: RateArguments,
    /// Overwrite files of the same names
    #[arg(long)]
    pub(crate) overwrite: bool,
    /// Say what was written as one JSON object
    #[arg(long)]
    pub(crate) json: bool,
}

/// What is allowed for a machine's tools, in SVG and DXF.
#[derive(Args, Debug)]
#[command(next_help_heading = "What the tools ask for, in SVG and DXF")]
pub(crate) struct ToolArguments {
    /// The whole breadth that cutting takes away; fits.kerf_mm of the specification unless said
    #[arg(long, value_name = "MM", allow_hyphen_values = true)]
    pub(crate) kerf: Option<f64>,
    /// Drill round holes no broader than this; 6 unless said, and 0 where a kerf is allowed for
    #[arg(long, value_name = "MM", allow_hyphen_values = true)]
    pub(crate) drill_up_to: Option<f64>,
    /// Open square inner corners for a milling cutter of this diameter
    #[arg(long, value_name = "MM", allow_hyphen_values = true)]
    pub(crate) cutter: Option<f64>,
    /// Hold each part in its sheet by so many tabs
    #[arg(long, value_name = "COUNT", value_parser = clap::value_parser!(u8).range(1..=24))]
    pub(crate) tabs: Option<u8>,
    /// How broad each tab is left; 1 unless said
    #[arg(long, value_name = "MM", requires = "tabs", allow_hyphen_values = true)]
    pub(crate) tab_width: Option<f64>,
    /// Come in from so far beside the edge, in what falls away
    #[arg(long, value_name = "MM", allow_hyphen_values = true)]
    pub(crate) lead_in: Option<f64>,
}

/// How lines stand in solids.
#[derive(Args, Debug)]
#[command(
    next_help_heading = "How lines stand in solids, in 3MF and STL, and how broad they are there and on films"
)]
pub(crate) struct LineArguments {
    /// Sink lines and letters so deep; 0.2 unless said, less in what is thin; 0 for none
    #[arg(long, value_name = "MM", allow_hyphen_values = true)]
    pub(crate) engrave_depth: Option<f64>,
    /// Raise lines and letters so high instead
    #[arg(long, value_name = "MM", allow_hyphen_values = true)]
    pub(crate) raised: Option<f64>,
    /// Make no line narrower than this; as on paper unless said
    #[arg(long, value_name = "MM", allow_hyphen_values = true)]
    pub(crate) line_width: Option<f64>,
}

/// Of what it is made, how many, and what that costs by one's own rates.
#[derive(Args, Debug)]
#[command(next_help_heading = "Materials, and one's own rates: none is assumed")]
pub(crate) struct RateArguments {
    /// Of what the sheets are: brass, copper, nickel-silver, aluminium, steel,
    /// stainless-steel, acrylic or plywood
    #[arg(long, value_name = "MATERIAL", default_value = "brass")]
    pub(crate) of: String,
    /// How many instruments are reckoned
    #[arg(long, value_name = "COUNT", default_value_t = 1)]
    pub(crate) batch: u16,
    /// What a kilogram of sheet costs
    #[arg(long, value_name = "PRICE", allow_hyphen_values = true)]
    pub(crate) price_kg: Option<f64>,
    /// What an hour of the machine costs
    #[arg(long, value_name = "PRICE", allow_hyphen_values = true)]
    pub(crate) price_hour: Option<f64>,
    /// How many millimetres are cut in a minute
    #[arg(long, value_name = "MM", allow_hyphen_values = true)]
    pub(crate) cut_speed: Option<f64>,
    /// How many millimetres are engraved in a minute
    #[arg(long, value_name = "MM", allow_hyphen_values = true)]
    pub(crate) engrave_speed: Option<f64>,
}

/// How films for etching are made.
#[derive(Args, Debug)]
#[command(next_help_heading = "Films for etching, as PDF and as pictures of one bit")]
pub(crate) struct EtchingArguments {
    /// positive: what is etched is dark, for resists that light hardens; or negative
    #[arg(long, value_name = "SENSE", default_value = "positive")]
    pub(crate) film: String,
    /// Mirror the films, for a printer that lays its ink on top; else they read right with
    /// the emulsion down
    #[arg(long)]
    pub(crate) film_mirrored: bool,
    /// Draw every edge in by what the etch eats beneath the resist; negative lets it out
    #[arg(
        long,
        value_name = "MM",
        default_value_t = 0.0,
        allow_hyphen_values = true
    )]
    pub(crate) undercut: f64,
    /// Etch parts through along their edges, from both sides, but for tabs (4 unless said)
    #[arg(long)]
    pub(crate) etch_through: bool,
    /// Dots per inch of the pictures
    #[arg(long, value_name = "DOTS", default_value_t = 2540.0)]
    pub(crate) film_dpi: f64,
}

#[derive(Args, Debug)]
pub(crate) struct NestArguments {
    /// An instrument of the cabinet, or a specification file; several for an order of several
    #[arg(long, value_name = "INSTRUMENT")]
    pub(crate) with: Vec<String>,
    /// A sheet, with its material: `brass 300x400x1.5`, `2 walnut 200x300x3 grain`; several
    /// times. As many are taken as are needed where no number stands before it
    #[arg(long = "sheet", value_name = "SHEET", required = true)]
    pub(crate) sheets: Vec<String>,
    /// The folder that the files go into
    #[arg(short, long, alias = "out", value_name = "FOLDER")]
    pub(crate) output: PathBuf,
    /// The parts: mater, back, plates, rete, rule, alidade, pin, ring; all unless said
    #[arg(long, value_name = "PARTS", value_delimiter = ',')]
    pub(crate) parts: Vec<String>,
    /// A part that is of a material of its own, such as rete=steel; several times
    #[arg(long = "material", value_name = "PART=MATERIAL")]
    pub(crate) materials: Vec<String>,
    /// The least distance between parts; 3 unless said
    #[arg(long, value_name = "MM", allow_hyphen_values = true)]
    pub(crate) spacing: Option<f64>,
    /// The least distance from a sheet's edge; 8 unless said
    #[arg(long, value_name = "MM", allow_hyphen_values = true)]
    pub(crate) margin: Option<f64>,
    /// The formats: svg, dxf, pdf; all three unless said
    #[arg(long, value_name = "FORMATS", value_delimiter = ',')]
    pub(crate) formats: Vec<String>,
    #[command(flatten)]
    pub(crate) tools: ToolArguments,
    /// Overwrite files of the same names
    #[arg(long)]
    pub(crate) overwrite: bool,
    /// Say what lies where as one JSON object
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
    /// The instrument that the cards go with, in the code that they bear where the page's
    /// address is kept (`almuri settings --page-address`); the usual one unless said
    #[arg(long, value_name = "INSTRUMENT", requires = "output")]
    pub(crate) with: Option<String>,
    /// Put the cards into this folder, each a PDF of one page to give away
    #[arg(short, long, alias = "out", value_name = "FOLDER", requires = "cards")]
    pub(crate) output: Option<PathBuf>,
    /// The paper of the cards: a5, a6, or a4 or letter with crosses to cut by
    #[arg(long, value_name = "PAPER", default_value = "a5", requires = "output")]
    pub(crate) paper: String,
    /// Overwrite files of the same names
    #[arg(long, requires = "output")]
    pub(crate) overwrite: bool,
    /// One JSON object instead of the table
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Args, Debug)]
pub(crate) struct ExamineArguments {
    /// Files of measurements, one for each instrument
    #[arg(value_name = "FILE", required = true)]
    pub(crate) files: Vec<PathBuf>,
    /// What they were to be: an instrument of the cabinet, or a specification file
    #[arg(long, value_name = "INSTRUMENT")]
    pub(crate) with: Option<String>,
    /// How far a length may be off what it was to be, in millimetres; 0.2 unless said
    #[arg(long, value_name = "MM", requires = "with", allow_hyphen_values = true)]
    pub(crate) within: Option<f64>,
    /// The file for a specification of what was found, of a single instrument
    #[arg(short, long, alias = "out", value_name = "FILE")]
    pub(crate) output: Option<PathBuf>,
    /// Of marks in a photograph: the SVG file in which the lines that were found are drawn over
    /// it, with how far marks are off, enlarged; with --with a map of how far the piece is off
    #[arg(long, value_name = "FILE")]
    pub(crate) overlay: Option<PathBuf>,
    /// The photograph, which that drawing is laid over; it is named in it, not copied
    #[arg(long, value_name = "FILE", requires = "overlay")]
    pub(crate) photograph: Option<PathBuf>,
    /// Overwrite a file that is there
    #[arg(long)]
    pub(crate) overwrite: bool,
    /// One JSON object instead of the sheet
    #[arg(long)]
    pub(crate) json: bool,
}
