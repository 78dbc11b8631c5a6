use instrument::{Instrument, LineId, Pick};

use crate::finding::Finding;
use crate::operation::{Act, RetePlace};
use crate::operations::record::{
    AskedOf, Asks, Record, Source, Stars, Steps, TaskChoices, TaskInput,
};
use crate::operations::steps::{onto_horizon, rising};
use crate::quantity::Quantity;

/// The degrees that rise and set with a star.
pub(super) const RECORD: Record = Record {
    name: "rising-degree",
    title: "The degrees that rise and set with a star",
    source: Source::Treatise("II.19"),
    heading: "Stars, Moon and planets",
    weak: "Coarse where the ecliptic lies flat on the horizon, about 0° Libra setting and 0° Aries rising in the north.",
    taught: &[],
    needs: &[TaskInput::Star],
    asks: Asks {
        stars: Stars::RiseAndSet,
        ..Asks::NOTHING
    },
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(_: &Instrument, _: &TaskChoices) -> Vec<Act> {
    vec![
        Act::ChoosePlate,
        onto_horizon(RetePlace::Star, Pick::Eastern),
        rising(Finding::RisingDegree),
        onto_horizon(RetePlace::Star, Pick::Western),
        Act::ReadEcliptic {
            at: LineId::Horizon,
            pick: Pick::Western,
            finds: Quantity::Found(Finding::SettingDegree),
        },
    ]
}
