//! What is said: the sentences that tell what to do at an instrument, and one way to
//! write each kind of number.
//!
//! It is fed with identities and numbers, a [`practice::Working`] above all, and finds
//! nothing out for itself.

mod called;
mod instruction;
mod number;
mod why;

pub use called::Called;
pub use instruction::instruction;
pub use number::{Day, Degrees, Difference, Fineness, Length, OnEarth, Said, TimeOfDay};
pub use why::difference;
