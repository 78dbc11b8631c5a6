use instrument::{Instrument, Pick};

use crate::finding::Finding;
use crate::operation::{Act, Along, RetePlace};
use crate::operations::record::{
    AskedOf, Asks, BodyAsked, Record, Source, Steps, TaskChoices, TaskInput,
};
use crate::operations::steps::{meridian_altitude, onto_horizon, rising, told_degree};
use crate::sight::Stated;

/// The degree with which a planet of some latitude rises.
pub(super) const RECORD: Record = Record {
    name: "rising-degree-of-planet",
    title: "The degree with which a planet of some latitude rises",
    source: Source::Treatise("II.40"),
    heading: "Stars, Moon and planets",
    weak: "The treatise lays the latitude off along the rule, which is off by degrees far from the solstices; on the circle of latitude it is right.",
    taught: &[],
    needs: &[
        TaskInput::Stated(Stated::Degree),
        TaskInput::Stated(Stated::Latitude),
    ],
    asks: Asks {
        body: BodyAsked::UnlessTold,
        ..Asks::NOTHING
    },
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(_: &Instrument, _: &TaskChoices) -> Vec<Act> {
    let mut acts = vec![
        Act::ChoosePlate,
        Act::Wax(Along::CircleOfLatitude),
        onto_horizon(RetePlace::Waxed, Pick::Eastern),
        rising(Finding::RisingDegree),
    ];
    acts.extend(meridian_altitude(told_degree()));
    acts.extend([
        Act::Wax(Along::Rule),
        onto_horizon(RetePlace::Waxed, Pick::Eastern),
        rising(Finding::OldRisingDegree),
    ]);
    acts
}
