//! Legal time: the IANA time zone database with its whole history.

mod change;
mod local;
mod span;
mod table;
mod yearly;
mod zones;

pub(crate) use change::Change;
pub(crate) use local::{By, Local, offset_in};
pub use span::ZoneSpan;
pub use zones::Zone;
