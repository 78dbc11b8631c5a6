use drawing::{Flaw, UnknownLetter};
use patience::GivenUp;
use thiserror::Error;

/// Why a set cannot be made.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum PressError {
    /// A part cannot be cut of metal.
    #[error(
        "the {part} cannot be cut as one piece: {flaw}; a smaller parts.least_width_mm, fewer star_pointers or a larger diameter_mm would do"
    )]
    Uncuttable {
        /// The part.
        part: String,
        /// What is wrong with it, and where.
        flaw: Flaw,
    },
    /// More plates are asked for than are made at once.
    #[error(
        "{plates} plates of {diameter_mm} mm are more than are made at once; {most} of that size would do, and the others by themselves"
    )]
    TooMany {
        /// How many are asked for.
        plates: usize,
        /// Across the mater.
        diameter_mm: f64,
        /// How many would do.
        most: usize,
    },
    /// A part that has a material of its own is none of those that are laid.
    #[error("“{name}” is none of the parts; {would_do} would do")]
    NoSuchPart {
        /// What was named.
        name: String,
        /// What they are called.
        would_do: String,
    },
    /// Edges are let out by so much that the relief for a cutter would close again.
    #[error(
        "a kerf of {kerf_mm} mm leaves nothing of the relief for a cutter of {cutter_mm} mm; a kerf below {} mm would do, or 0 where the machine's own program allows for its cutter", cutter_mm / 2.0
    )]
    KerfAndCutter {
        /// The breadth of the cut.
        kerf_mm: f64,
        /// The diameter of the cutter.
        cutter_mm: f64,
    },
    /// Lines are to be deeper than the part allows.
    #[error(
        "lines of {depth_mm} mm are too deep for the {part}, of {thickness_mm:.2} mm where it is engraved: a third is left between two sides; {most_mm:.2} or less would do"
    )]
    TooDeep {
        /// The part.
        part: String,
        /// How deep they are to be.
        depth_mm: f64,
        /// How thick the metal is there.
        thickness_mm: f64,
        /// How deep they may be.
        most_mm: f64,
    },
    /// The etch would eat away all that is left of a line on a film.
    #[error(
        "an undercut of {undercut_mm} mm leaves nothing of lines of {line_mm:.3} mm on the film of {part}; {most_mm:.3} or less would do, or --line-width {least_mm:.3} or more"
    )]
    Undercut {
        /// The part.
        part: String,
        /// How far the etch eats beneath the resist.
        undercut_mm: f64,
        /// The breadth of the finest line.
        line_mm: f64,
        /// What undercut would do.
        most_mm: f64,
        /// What breadth would do.
        least_mm: f64,
    },
    /// A film's picture would have too many dots.
    #[error(
        "a film of {width_mm:.0} by {height_mm:.0} mm with {dots_per_inch} dots per inch is larger than any made here; --film-dpi {most} or less would do, or the format film, which has no dots"
    )]
    FilmTooLarge {
        /// Its width.
        width_mm: f64,
        /// Its height.
        height_mm: f64,
        /// How fine it is to be.
        dots_per_inch: f64,
        /// How fine it may be.
        most: f64,
    },
    /// A part is to bear letters that the font has not.
    #[error("the {part}: {unknown}")]
    Letter {
        /// The part.
        part: String,
        /// What is to be engraved, and what is lacking.
        unknown: UnknownLetter,
    },
    /// The program was built without what is asked for.
    #[error(
        "this build makes no {0}; one with the feature “documents” does, and svg or dxf would do"
    )]
    NotBuilt(&'static str),
    /// A document could not be put together.
    #[error("{what} cannot be put together: {why}")]
    Document {
        /// Which.
        what: String,
        /// Why.
        why: String,
    },
    /// Nobody waits for it any longer.
    #[error(transparent)]
    GivenUp(#[from] GivenUp),
}
