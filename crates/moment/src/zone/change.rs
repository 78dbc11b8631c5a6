/// What is odd about a time of day near a change of the clocks.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub(crate) enum Change {
    /// The clocks were put forward over it: it did not exist.
    Gap,
    /// The clocks were put back over it: it came twice.
    Fold,
}
