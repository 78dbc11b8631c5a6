//! Files for printers and machines.
//!
//! [`press()`] takes an instrument and an [`Order`] and gives the whole set: for every
//! workpiece SVG and DXF with a layer for each kind of [`Work`], PDF at true
//! size, PNG, and with them a manifest and a sheet on assembly and use. Nothing is
//! written here: the files come back as bytes. What cannot be cut is refused.

mod archive;
#[cfg(feature = "documents")]
mod assembly;
mod beside;
mod card;
#[cfg(feature = "documents")]
mod child_model;
#[cfg(feature = "documents")]
mod child_page;
#[cfg(feature = "documents")]
mod child_pictures;
#[cfg(feature = "documents")]
mod child_steps;
#[cfg(feature = "documents")]
mod child_words;
mod chords;
mod clear;
mod code;
mod cutting;
mod drawing_file;
mod dxf;
mod error;
#[cfg(feature = "documents")]
mod figures;
mod filming;
#[cfg(feature = "documents")]
mod films;
#[cfg(feature = "documents")]
mod fitting;
#[cfg(feature = "documents")]
mod flow;
#[cfg(feature = "documents")]
mod foot_words;
mod gauge;
mod handout;
mod icalendar;
mod ink;
#[cfg(feature = "documents")]
mod leaf;
mod manifest;
mod materials;
#[cfg(feature = "documents")]
mod moves;
mod nest;
mod number;
mod order;
mod order_error;
#[cfg(feature = "documents")]
mod page;
#[cfg(feature = "documents")]
mod paper_model;
#[cfg(feature = "documents")]
mod parted;
#[cfg(feature = "documents")]
mod pdf;
#[cfg(feature = "documents")]
mod pdf_paths;
#[cfg(feature = "documents")]
mod plane;
#[cfg(feature = "documents")]
mod png;
mod press;
mod printed;
mod printing;
mod rates;
#[cfg(feature = "documents")]
mod row;
#[cfg(feature = "documents")]
mod rows;
#[cfg(feature = "documents")]
mod scene_pdf;
mod shaping;
mod sheet;
#[cfg(feature = "documents")]
mod solids;
#[cfg(feature = "stills")]
mod still;
mod svg;
mod travel;
mod work;
mod year_book;
#[cfg(feature = "documents")]
mod year_leaves;

pub use archive::{Packing, archive};
pub use card::{Card, CardDay, CardPaper, CardPlate};
pub use code::{Code, Dark, TooLong};
pub use cutting::{Cutting, Tabs};
pub use drawing::Making;
pub use drawing_file::{DrawingFormat, drawing_file, drawings_on_pages};
pub use dxf::dxf;
pub use error::PressError;
pub use filming::{FilmSense, Filming};
pub use gauge::GaugeEntry;
pub use handout::{
    Block, CodeBlock, Column, Figure, FigurePart, FigureTable, Form, FormLine, Glass, Handout,
    Picture, Question, StepBlock, SumRow, Table,
};
pub use icalendar::{CalendarEvent, CalendarFile, CalendarTime, NoCalendarYear};
pub use ink::{Ink, Inked, Shade};
pub use instrument::Length;
pub use manifest::{
    CuttingEntry, DrillEntry, FilmEntry, LayerTotals, Manifest, PieceTotals, PlateErrorRow,
    PlateErrorsEntry, PointerEntry, SheetEntry, SolidEntry, StackEntry, StarLeftOut, Thinned,
    TravelEntry,
};
pub use materials::{MaterialPart, MaterialTotals, MaterialsEntry};
pub use nest::{
    NestOrder, NestTold, Nested, NestedPart, NestedSheet, Outline, PartLeft, Placing, Stock, nest,
    packed,
};
pub use order::{Format, Order, PageSize};
pub use order_error::OrderError;
#[cfg(feature = "documents")]
pub use pdf::pdf;
#[cfg(feature = "documents")]
pub use png::png;
pub use press::{Set, press, pressed, set};
pub use printed::Printed;
pub use printing::{card, handout, handouts_in_one, year_book};
pub use rates::{Rates, Stuff};
pub use shaping::{Relief, Shaping};
pub use sheet::{Columns, Paragraph};
#[cfg(feature = "stills")]
pub use still::still;
pub use svg::svg;
pub use work::{Work, WorkEntry};
pub use year_book::{BookPaper, SignAndDegree, YearBook, YearLine, YearMonth, YearNote};
