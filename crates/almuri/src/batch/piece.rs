/// Some rows of the table, in order.
pub(super) struct Piece {
    pub(super) number: u64,
    pub(super) rows: Vec<csv::StringRecord>,
    /// Where the reading stood after it.
    pub(super) after: csv::Position,
}

/// The same, worked.
pub(super) struct Worked {
    pub(super) text: String,
    pub(super) rows: u64,
    pub(super) refused: u64,
    pub(super) after: csv::Position,
}
