//! The accidental dignities and debilities: what house, motion, light and company give or
//! take from a planet, whatever its sign.

mod befalls;
mod fortune;
mod kind;
mod near;
mod points;
mod standing;

pub use fortune::FortuneState;
pub use kind::{Accident, PointedStar};
pub use points::AccidentPoints;
pub use standing::{Standing, joy_of};
