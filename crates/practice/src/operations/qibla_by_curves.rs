use instrument::{BackLine, Instrument};

use crate::finding::Finding;
use crate::on_back::OnBack;
use crate::operation::Act;
use crate::operations::record::{AskedOf, Asks, Record, Source, Steps, TaskChoices};
use crate::operations::steps::sun_from_back;

/// The Sun's altitude in the direction of Mecca by the back's quadrant.
pub(super) const RECORD: Record = Record {
    name: "qibla-by-curves",
    title: "The Sun's altitude in the direction of Mecca by the curves of the back",
    source: Source::Elsewhere(
        "the curves: Museum of the History of Science, Oxford, Astrolabe Catalogue, 134; their use: common practice",
    ),
    heading: "The back's own lines",
    weak: "For the curve's own place alone: another city's direction is another. Where the curve runs along the arc of the day the altitude is read badly, and the degrees between two arcs of signs are estimated. The altitude is the Sun's as it stands, without refraction; low down it is seen a few minutes higher.",
    taught: &[],
    needs: &[],
    asks: Asks {
        back: Some(BackLine::Qibla),
        ..Asks::NOTHING
    },
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(instrument: &Instrument, choices: &TaskChoices) -> Vec<Act> {
    let mut acts = sun_from_back(instrument);
    let crossings = choices.towards_mecca;
    acts.push(Act::ReadOnBack(OnBack::TowardsMecca {
        leg: crossings.lower,
        finds: Finding::TowardsMecca,
    }));
    acts.extend(crossings.higher.map(|leg| {
        Act::ReadOnBack(OnBack::TowardsMecca {
            leg,
            finds: Finding::HigherTowardsMecca,
        })
    }));
    acts
}
