use instrument::Instrument;

use crate::finding::Finding;
use crate::operation::{Act, RetePlace};
use crate::operations::record::{AskedOf, Asks, Record, Source, Steps, TaskChoices, TaskInput};
use crate::operations::steps::{between_notes, noted, onto_meridian, told_degrees};
use crate::quantity::Note;
use crate::sight::Stated;

/// The right ascension of an arc of the zodiac.
pub(super) const RECORD: Record = Record {
    name: "right-ascension",
    title: "The right ascension of an arc of the zodiac",
    source: Source::Treatise("II.26–27"),
    heading: "The figure",
    weak: "The same on every plate; as good as the limb.",
    taught: &[],
    needs: &[
        TaskInput::Stated(Stated::Degree),
        TaskInput::Stated(Stated::OtherDegree),
    ],
    asks: Asks::NOTHING,
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(_: &Instrument, _: &TaskChoices) -> Vec<Act> {
    let (first, second) = told_degrees();
    vec![
        Act::ChoosePlate,
        onto_meridian(RetePlace::Degree(first)),
        noted(Note::First),
        onto_meridian(RetePlace::Degree(second)),
        noted(Note::Second),
        between_notes(Finding::RightAscension),
    ]
}
