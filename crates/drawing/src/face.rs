/// The cut of the letters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Face {
    /// Upright.
    Roman,
    /// Slanting.
    Italic,
}
