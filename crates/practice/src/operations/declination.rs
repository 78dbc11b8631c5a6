use instrument::Instrument;

use crate::operation::Act;
use crate::operations::record::{
    AskedOf, Asks, BodyAsked, Record, Source, Steps, TaskChoices, TaskInput,
};
use crate::operations::steps::{declination, told_degree};
use crate::sight::Stated;

/// The declination of a degree.
pub(super) const RECORD: Record = Record {
    name: "declination",
    title: "The declination of a degree",
    source: Source::Treatise("II.20"),
    heading: "The Sun and its degree",
    weak: "As good as the almucantars; about the solstices nearly exact for any degree.",
    taught: &[],
    needs: &[TaskInput::Stated(Stated::Degree)],
    asks: Asks {
        body: BodyAsked::Or("the degree"),
        suns_degree: true,
        ..Asks::NOTHING
    },
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(instrument: &Instrument, _: &TaskChoices) -> Vec<Act> {
    let mut acts = vec![Act::ChoosePlate];
    acts.extend(declination(instrument, told_degree()));
    acts
}
