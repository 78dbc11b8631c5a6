use instrument::Instrument;

use crate::finding::Finding;
use crate::operation::{Act, Reckoning};
use crate::operations::record::{AskedOf, Asks, Record, Source, Steps, TaskChoices, Taught};
use crate::operations::steps::{day_arc, plate_and_sun};
use crate::quantity::Quantity;

/// The arcs of day and night, sunrise and sunset.
pub(super) const RECORD: Record = Record {
    name: "day-and-night",
    title: "The arcs of day and night, sunrise and sunset",
    source: Source::Treatise("II.7"),
    heading: "Day, night and unequal hours",
    weak: "By the plate's horizon and the Sun's centre: the visible Sun rises some minutes earlier and sets as much later. On a slanting horizon, about the equinoxes in high latitudes, the setting is least certain.",
    taught: &[Taught { level: 1, place: 5 }],
    needs: &[],
    asks: Asks::NOTHING,
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(instrument: &Instrument, _: &TaskChoices) -> Vec<Act> {
    let mut acts = plate_and_sun(instrument);
    acts.extend(day_arc());
    let day = Quantity::Found(Finding::DayArc);
    acts.push(Act::Reckon(Reckoning::RestOfTurn(day, Finding::NightArc)));
    acts
}
