//! The third road: tables as they are printed, with their digits, and working from
//! them with the pen.
//!
//! A [`Table`] is made of a [`Definition`], which knows what is exactly so; what is
//! printed is rounded, and says how wrong a straight line between its rows can be.
//! All tables stand in one list, [`TABLES`], and each in one file.
//!
//! ```
//! use tables::{Ask, Cell, TABLES};
//! use sky::{Angle, Latitude};
//! let ask = Ask {
//!     latitude: Some(Latitude::from_deg(51.0 + 32.0 / 60.0)?),
//!     obliquity: Some(Angle::from_deg(23.5)),
//!     method: figure::Method::Placidus,
//!     by: tables::By::Midheaven,
//!     ..Ask::of_year(1687)
//! };
//! let houses = tables::named("houses")?.make(&ask)?;
//! // Kirby and Bishop, The Marrow of Astrology (1687) II, p. 7 on, print 8°40′, 22°27′,
//! // 26°42′ for XI, XII and I with the head of Aries on the midheaven.
//! let written: Vec<String> = houses.parts[0].rows[0].cells[1..4].iter().map(Cell::to_string).collect();
//! assert_eq!(written, ["8°42′ Taurus", "22°32′ Gemini", "26°39′ Cancer"]);
//! # assert_eq!(TABLES.len(), 18);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

#![deny(clippy::wildcard_enum_match_arm)]

mod ask;
mod days;
mod events;
mod form;
mod list;
pub mod pen;

mod proof;
mod table;

pub use ask::{Ask, By, DayHour, TableError};
pub use days::Days;
pub use figure::House;
pub use form::{Figure, Form};
pub use list::{Kind, Needs, TABLES, named};
pub use proof::{Misprint, MisprintKind, Sum, jumps, sums, waver};
pub use table::{
    Argument, Between, Cell, Column, Definition, Exact, Head, Part, PartOf, Row, Table,
};
