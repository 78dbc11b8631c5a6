use crate::operations::record::{AskedOf, Asks, Record, Source, Steps};
use crate::procedure::Procedure;

/// The houses by the unequal-hour lines.
pub(super) const RECORD: Record = Record {
    name: "houses-by-hours",
    title: "The houses by the unequal-hour lines",
    source: Source::Treatise("II.36"),
    heading: "The figure",
    weak: "The same houses as by thirds of the limb; where the two differ on your instrument, the hour lines are off.",
    taught: &[],
    needs: &[],
    asks: Asks::NOTHING,
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Casting(Procedure::Turning),
};
