use instrument::Instrument;

use crate::operation::Act;
use crate::operations::record::{AskedOf, Asks, BodyAsked, Need, Record, Source, Steps, Way};
use crate::operations::steps::{declination, told_degree};
use crate::sight::Told;

/// The declination of a degree.
pub(super) const RECORD: Record = Record {
    name: "declination",
    title: "The declination of a degree",
    source: Source::Treatise("II.20"),
    heading: "The Sun and its degree",
    weak: "As good as the almucantars; about the solstices nearly exact for any degree.",
    taught: &[],
    needs: &[Need::Told(Told::Degree)],
    asks: Asks {
        body: BodyAsked::Or("the degree"),
        suns_degree: true,
        ..Asks::NOTHING
    },
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(instrument: &Instrument, _: &Way) -> Vec<Act> {
    let mut acts = vec![Act::ChoosePlate];
    acts.extend(declination(instrument, told_degree()));
    acts
}
