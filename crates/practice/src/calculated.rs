use sky::Instant;

use crate::value::Value;

/// What calculation gives for a quantity.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Calculated {
    /// As it truly happens, the Sun moving.
    pub truly: Value,
    /// The same if the Sun kept the place that it has at the moment asked about, as it
    /// does on an instrument. What the two differ by is the share of
    /// [`Cause::SunMoves`](crate::Cause::SunMoves).
    pub sun_held: Value,
    /// When it is, where it is a time.
    pub at: Option<Instant>,
}

impl Calculated {
    /// What is so at the moment itself, where the Sun has no time to move.
    #[must_use]
    pub const fn at_the_moment(value: Value) -> Calculated {
        Calculated {
            truly: value,
            sun_held: value,
            at: None,
        }
    }
}
