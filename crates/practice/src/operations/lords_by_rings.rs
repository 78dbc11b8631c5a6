use instrument::{BackLine, Instrument};

use crate::on_back::OnBack;
use crate::operation::Act;
use crate::operations::record::{
    AskedOf, Asks, BodyAsked, Record, Source, Steps, TaskChoices, TaskInput,
};
use crate::sight::Stated;

/// The face, the term and the mansion of a degree by the rings of the back.
pub(super) const RECORD: Record = Record {
    name: "lords-by-rings",
    title: "The face, the term and the mansion of a degree by the rings of the back",
    source: Source::Elsewhere(
        "the scale: Museum of the History of Science, Oxford, Astrolabe Catalogue, 134; its use: common practice",
    ),
    heading: "The back's own lines",
    weak: "Exact, but where the degree lies within what the zodiac scale is read to of a boundary: there look at which side it is.",
    taught: &[],
    needs: &[TaskInput::Stated(Stated::Degree)],
    asks: Asks {
        body: BodyAsked::Or("the degree"),
        suns_degree: true,
        back: Some(BackLine::Rings),
        ..Asks::NOTHING
    },
    asked_of: AskedOf::Plate,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(instrument: &Instrument, _: &TaskChoices) -> Vec<Act> {
    let rings = instrument.specification().parts.rings.iter();
    rings
        .map(|ring| Act::ReadOnBack(OnBack::Part(*ring)))
        .collect()
}
