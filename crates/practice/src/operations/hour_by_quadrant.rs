use instrument::{BackLine, Instrument};

use crate::on_back::OnBack;
use crate::operation::Act;
use crate::operations::record::{
    AskedOf, Asks, Record, Sighted, Source, Steps, TaskChoices, TaskInput,
};
use crate::operations::steps::sun_from_back;
use crate::sight::Sighting;

/// The equal hour from the Sun's altitude by the back's quadrant.
pub(super) const RECORD: Record = Record {
    name: "hour-by-quadrant",
    title: "The equal hour from the Sun's altitude by the back's quadrant",
    source: Source::Elsewhere(
        "S. Münster, Compositio horologiorum (1531), the quadrant of one region; from memory",
    ),
    heading: "The back's own lines",
    weak: "For the quadrant's own latitude alone, and worth little near noon, when the altitude stands still. The degrees between two arcs of signs and the minutes between two hours are estimated.",
    taught: &[],
    needs: &[TaskInput::Seen(Sighting::Altitude)],
    asks: Asks {
        sighted: Sighted::EastOrWest,
        back: Some(BackLine::EqualHours),
        ..Asks::NOTHING
    },
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(instrument: &Instrument, choices: &TaskChoices) -> Vec<Act> {
    let mut acts = sun_from_back(instrument);
    acts.push(Act::Observe(Sighting::Altitude));
    acts.push(Act::ReadOnBack(OnBack::EqualHour(choices.side)));
    acts
}
