//! What is said: the sentences that tell what to do at an instrument, one way to write
//! each kind of number, and what the words of the trade mean.
//!
//! It is fed with identities and numbers, a [`practice::Working`] above all, and finds
//! nothing out for itself but how an instrument shows a number: by which numeral, on
//! which side, so many strokes on.

#![deny(clippy::wildcard_enum_match_arm)]

mod brass;
mod called;
pub mod caution;
mod field;
mod first_hour;
mod glossary;
mod instruction;
mod landmark;
mod number;
mod pen;
mod sentence;
mod shown;
mod signs;
mod strokes;
mod verdict;
mod why;

pub use called::Called;
pub use field::{FieldGroup, FieldWords};
pub use first_hour::{FIRST_HOUR, Section};
pub use glossary::{GLOSSARY, Kind, Picture, Word};
pub use instruction::instruction;
pub use landmark::{Landmark, landmarks};
pub use number::{
    Day, Degrees, Difference, Fineness, NorthOrSouth, TimeOfDay, TimeSpan, ValueInWords,
};
pub use pen::{
    pen_cause, pen_difference, pen_line, pen_mend, pen_sign, pen_slip, pen_slip_anywhere, pen_step,
    roads_difference,
};
pub use sentence::{Run, Sentence};
pub use shown::Shown;
pub use signs::with_signs_drawn;
pub use verdict::{AtMost, known_to_be_off, verdict};
pub use why::difference;
