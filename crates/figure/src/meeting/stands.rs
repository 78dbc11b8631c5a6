use sky::Body;

use super::Exact;

/// A body stands still.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stands {
    /// Which.
    pub body: Body,
    /// When.
    pub exact: Exact,
    /// Whether it goes backward thereafter.
    pub turns_retrograde: bool,
}
