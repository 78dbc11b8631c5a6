use instrument::Instrument;

use crate::finding::Finding;
use crate::operation::Act;
use crate::operations::record::{
    AskedOf, Asks, BodyAsked, Record, Sighted, Source, Steps, TaskChoices, TaskInput,
};
use crate::operations::steps::{meridian_altitude, northward, seen_on_meridian, told_degree};
use crate::quantity::Quantity;
use crate::sight::{Sighting, Stated};

/// A planet's latitude by its altitude on the meridian.
pub(super) const RECORD: Record = Record {
    name: "planet-latitude",
    title: "A planet's latitude by its altitude on the meridian",
    source: Source::Treatise("II.30"),
    heading: "Stars, Moon and planets",
    weak: "Rough: the altitudes are compared along the hour circle, the latitude is reckoned across the ecliptic. The two agree at 0° Cancer and Capricorn alone.",
    taught: &[],
    needs: &[
        TaskInput::Stated(Stated::Degree),
        TaskInput::Seen(Sighting::WandererAltitude),
    ],
    asks: Asks {
        sighted: Sighted::OnMeridian(Sighting::WandererAltitude),
        body: BodyAsked::UnlessTold,
        ..Asks::NOTHING
    },
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(instrument: &Instrument, choices: &TaskChoices) -> Vec<Act> {
    let (seen, altitude) = seen_on_meridian(Sighting::WandererAltitude, choices);
    let of_degree = Quantity::Found(Finding::MeridianAltitude);
    let mut acts = vec![Act::ChoosePlate];
    acts.extend(seen);
    acts.extend(meridian_altitude(told_degree()));
    acts.push(northward(
        instrument,
        altitude,
        of_degree,
        Finding::PlanetLatitude,
    ));
    acts
}
