use instrument::Instrument;

use crate::finding::Finding;
use crate::operation::{Act, WhichDegree};
use crate::operations::record::{AskedOf, Asks, Record, Source, Steps, TaskChoices, TaskInput};
use crate::operations::steps::{meridian_altitude, told_degree};
use crate::quantity::Quantity;
use crate::sight::Stated;

/// The other day that is equally long.
pub(super) const RECORD: Record = Record {
    name: "equally-long-days",
    title: "The other day that is equally long",
    source: Source::Treatise("II.15–16"),
    heading: "The Sun and its degree",
    weak: "Near the solstices the two days run together and the degree is coarse.",
    taught: &[],
    needs: &[TaskInput::Stated(Stated::Degree)],
    asks: Asks {
        suns_degree: true,
        ..Asks::NOTHING
    },
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(_: &Instrument, _: &TaskChoices) -> Vec<Act> {
    let mut acts = vec![Act::ChoosePlate];
    acts.extend(meridian_altitude(told_degree()));
    acts.push(Act::TurnEclipticToAltitude {
        altitude: Quantity::Found(Finding::MeridianAltitude),
        which: WhichDegree::Not(Quantity::Stated(Stated::Degree)),
        finds: Quantity::Found(Finding::OtherDegree),
    });
    acts
}
