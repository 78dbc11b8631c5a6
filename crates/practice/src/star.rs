use sky::{Angle, Latitude};

/// A star of the rete, as it is taken in a working: where it truly stands, or
/// where its pointer does.
#[derive(Clone, Debug, PartialEq)]
pub struct StarTaken {
    /// What its pointer is lettered with.
    pub name: String,
    /// Its right ascension.
    pub right_ascension: Angle,
    /// Its declination.
    pub declination: Latitude,
}
