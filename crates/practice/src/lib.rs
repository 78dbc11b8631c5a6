//! Working with the astrolabe: operations as steps, what is read, and why reading
//! and calculation differ.
//!
//! An [`Operation`] is data. [`carry_out`] does it under [`Conditions`] and gives a
//! [`Working`], every step with how the parts stand and what is read. The same
//! operation under conditions ever less ideal is an [`Account`].
//!
//! Nothing here asks how the sky stands: a working is given a clock, a date and the
//! Sun's degree, and reads the rest off the instrument's lines.

mod account;
mod as_it_stands;
mod cast;
mod cause;
mod conditions;
mod given;
mod instruction;
mod operation;
mod procedure;
mod quantity;
mod readings;
mod reads_to;
pub mod words;
mod working;

pub use account::{Account, Asked, Share, Why};
pub use as_it_stands::AsItStands;
pub use cast::{casting, procedures};
pub use cause::Cause;
pub use conditions::{Conditions, SunTaken};
pub use given::{Correction, Given, SunPlace, Term};
pub use operation::{Act, Brought, Operation, Reckoning, Sense, Step};
pub use procedure::{CuspFrom, Procedure};
pub use quantity::Quantity;
pub use readings::{CuspReading, twelve_cusps};
pub use working::{Done, NoReading, Reading, Working, carry_out};
