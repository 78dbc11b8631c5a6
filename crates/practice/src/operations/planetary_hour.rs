use instrument::Instrument;

use crate::finding::Finding;
use crate::operation::Act;
use crate::operations::record::{AskedOf, Asks, Record, Source, Steps, TaskChoices, Taught};
use crate::operations::steps::{by_the_clock, plate_and_sun};
use crate::quantity::Quantity;

/// The unequal hour and its planet.
pub(super) const RECORD: Record = Record {
    name: "planetary-hour",
    title: "The unequal hour and its planet",
    source: Source::Treatise("II.12"),
    heading: "Day, night and unequal hours",
    weak: "Near the end of an hour the lines do not tell which it is: look at what it reads to. Lines engraved as arcs are off by up to a minute or two of time at 52°.",
    taught: &[Taught { level: 2, place: 4 }],
    needs: &[],
    asks: Asks::NOTHING,
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(instrument: &Instrument, _: &TaskChoices) -> Vec<Act> {
    let mut acts = plate_and_sun(instrument);
    acts.extend(by_the_clock());
    acts.push(Act::ReadUnequalHour {
        finds: Quantity::Found(Finding::UnequalHour),
    });
    acts
}
