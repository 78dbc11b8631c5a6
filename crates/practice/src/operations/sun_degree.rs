use instrument::Instrument;

use crate::operation::Act;
use crate::operations::record::{AskedOf, Asks, Record, Source, Steps, TaskChoices, Taught};
use crate::quantity::Quantity;

/// The Sun's degree for a date.
pub(super) const RECORD: Record = Record {
    name: "sun-degree",
    title: "The Sun's degree for a date",
    source: Source::Treatise("II.1"),
    heading: "The Sun and its degree",
    weak: "As good as the calendar scale: it is divided for one year or for the mean of four, so the Sun may stand up to half a degree off; about the solstices that hardly moves its declination, about the equinoxes it moves it most.",
    taught: &[Taught { level: 1, place: 2 }],
    needs: &[],
    asks: Asks::NOTHING,
    asked_of: AskedOf::CalendarScale,
    end: Some(Quantity::SunDegree),
    steps: Steps::Acts(acts),
};

fn acts(_: &Instrument, _: &TaskChoices) -> Vec<Act> {
    vec![Act::ReadSunDegree]
}
