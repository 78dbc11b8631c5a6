use instrument::{Instrument, LineId, Pick, UnequalHour};

use crate::finding::Finding;
use crate::operation::{Act, RetePlace, Sense};
use crate::operations::record::{AskedOf, Asks, Record, Source, Steps, TaskChoices, TaskInput};
use crate::operations::steps::{hour, onto_horizon, plate_and_sun};
use crate::sight::Stated;

/// When an unequal hour begins and ends.
pub(super) const RECORD: Record = Record {
    name: "hour-span",
    title: "When an unequal hour begins and ends",
    source: Source::Treatise("II.12"),
    heading: "Day, night and unequal hours",
    weak: "As good as the hour lines: arcs are off by up to a minute or two of time at 52°.",
    taught: &[],
    needs: &[TaskInput::Stated(Stated::UnequalHours)],
    asks: Asks {
        numbered_hour: true,
        ..Asks::NOTHING
    },
    asked_of: AskedOf::Sky,
    end: None,
    steps: Steps::Acts(acts),
};

fn acts(instrument: &Instrument, choices: &TaskChoices) -> Vec<Act> {
    let mut acts = plate_and_sun(instrument);
    let number = choices.hour.clamp(1, 24) - 1;
    acts.extend(onto_hour_line(number, Finding::HourBegins));
    acts.extend(onto_hour_line(number + 1, Finding::HourEnds));
    acts
}

/// The Sun, or its opposite, brought to the end of so many unequal hours, and the
/// hour read under the Sun. Hours 12 to 24 are those of the night.
fn onto_hour_line(hours: u8, finding: Finding) -> Vec<Act> {
    let (what, number) = if hours > 12 {
        (RetePlace::Sun, hours - 12)
    } else {
        (RetePlace::OppositeSun, hours)
    };
    let turn = match (UnequalHour::new(number), number) {
        (_, 0) => onto_horizon(what, Pick::Western),
        (_, 12) => onto_horizon(what, Pick::Eastern),
        (_, 6) | (None, _) => Act::TurnRete {
            what,
            onto: LineId::MidnightLine,
            pick: Pick::Drawn,
            sense: Sense::Either,
        },
        (Some(hour), _) => Act::TurnRete {
            what,
            onto: LineId::UnequalHour(hour),
            pick: Pick::Drawn,
            sense: Sense::Either,
        },
    };
    vec![turn, hour(finding)]
}
