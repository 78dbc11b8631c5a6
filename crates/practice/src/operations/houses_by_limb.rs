use crate::operations::record::{AskedOf, Asks, Record, Source, Steps};
use crate::procedure::Procedure;

/// The houses by thirds of the limb.
pub(super) const RECORD: Record = Record {
    name: "houses-by-limb",
    title: "The houses by thirds of the limb",
    source: Source::Treatise("II.37"),
    heading: "The figure",
    weak: "Free of the hour lines, and so the better way on plates engraved with arcs.",
    taught: &[],
    needs: &[],
    asks: Asks::NOTHING,
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Casting(Procedure::LimbThirds),
};
