use instrument::{BackLine, Instrument};

use crate::on_back::OnBack;
use crate::operation::Act;
use crate::operations::record::{AskedOf, Asks, Record, Source, Steps, TaskChoices};
use crate::operations::steps::sun_from_back;

/// The Sun's altitude at noon by the back's quadrant.
pub(super) const RECORD: Record = Record {
    name: "noon-altitude-by-arcs",
    title: "The Sun's altitude at noon by the curves of the back",
    source: Source::Elsewhere(
        "the scale: Museum of the History of Science, Oxford, Astrolabe Catalogue, 134; its use: common practice",
    ),
    heading: "The back's own lines",
    weak: "The degrees between two arcs of signs are estimated: little is lost about the solstices, up to a degree about the equinoxes. Between the latitudes that have a curve take what lies between.",
    taught: &[],
    needs: &[],
    asks: Asks {
        back: Some(BackLine::NoonAltitudes),
        ..Asks::NOTHING
    },
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(instrument: &Instrument, _: &TaskChoices) -> Vec<Act> {
    let mut acts = sun_from_back(instrument);
    acts.push(Act::ReadOnBack(OnBack::NoonAltitude));
    acts
}
