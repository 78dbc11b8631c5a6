//! A time is sought: when conditions hold at a place, with every beginning and end found
//! and none passed over ([`Choosing`] says why).

mod almanac;
mod condition;
mod search;
mod spans;

pub use almanac::Almanac;
pub use condition::{Arc, AspectSought, Condition, FigureAngle, Within};
pub use search::Choosing;
pub use spans::{Piece, Spans};
