//! The scene of lines and letters, and its SVG.
//!
//! [`front()`] draws an [`Instrument`](instrument::Instrument) with its parts set: a
//! [`Scene`] of groups, one for each part that moves by itself, made of strokes,
//! metal and lettering. [`Scene::svg`] writes it as SVG. Nothing here computes
//! astronomy: every line comes from `instrument`, and its orientation is applied
//! here and nowhere else.

#![deny(clippy::wildcard_enum_match_arm)]

mod back;
mod back_quadrant;
mod back_view;
mod brass_figure;
mod comparison_sheet;
mod contour;
mod cotangents;
mod date_ring;
mod ecliptic_ring;
mod face;
#[cfg(test)]
mod figure_checks;
mod figure_sheet;
mod floor;
mod footing;
mod frame;
mod front;
mod gazetteer;
mod glyphs;
mod hershey;
mod horizons;
mod label_box;
mod ledger;
mod ledger_sheet;
mod lettering;
mod letters;
mod limb;
mod measures;
mod motion;
mod named_parts;
mod number;
mod page;
mod pen;
mod piece;
mod pin;
mod planet_glyph;
mod plate;
mod plate_errors;
mod pointer;
mod rete;
mod round_figure;
mod rule;
mod scaled;
mod scene;
mod shackle;
mod sign_glyph;
mod smooth;
mod smooth_line;
mod solid;
mod spread;
mod square_figure;
mod stack;
mod style;
mod svg;
mod texts;
mod thinning;
mod throne;
mod tracery;
mod trim;
mod weeks_sheet;
mod workpiece;
mod wrapping;
mod zodiac_ring;

pub use back_view::back;
pub use comparison_sheet::{ComparedRow, ComparisonSheet, ErrorSpan};
pub use contour::Contour;
pub use face::Face;
pub use figure_sheet::{
    FARTHEST_DEG, FigureDrawing, FigureSheet, ListBeneath, Placement, Standing, StarPlacement,
};
pub use frame::Seat;
pub use front::{Front, Setting, front};
pub use glyphs::{ITALIC_FONT, ROMAN_FONT, text_width};
pub use label_box::LabelBox;
pub use lettering::{Baseline, Lettering};
pub use letters::{lacking, lettered};
pub use motion::{MovingCaption, MovingPicture, MovingSide, Span, Turning};
pub use named_parts::{Name, Named};
pub use number::write_number;
pub use page::Run;
pub use piece::Piece;
pub use planet_glyph::{FigurePoint, planet_glyph};
pub use plate_errors::{PlateError, plate_errors};
pub use pointer::Pointer;
pub use scene::{Dash, Fill, Group, Item, Layer, Metal, Region, Scene, Trace, Weight};
pub use sign_glyph::sign_glyph;
pub use solid::{Body, Flaw, Solid, ThinSpot};
pub use stack::{Spacers, Stack};
pub use style::style_sheet;
pub use svg::{Svg, centred_text, escaped};
pub use thinning::Thinning;
pub use weeks_sheet::{WeekBar, WeekRow, WeeksSheet};
pub use workpiece::{
    Making, UnknownLetter, Workpiece, most_plates, plate_workpiece, workpieces, workpieces_while,
};
pub use wrapping::wrapped;
pub use zodiac_ring::{CellSign, RingCell, engraved_rings, ring_cells};
