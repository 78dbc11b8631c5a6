//! Right and oblique ascensions: conclusions 26 to 28.

use instrument::Pick;

use super::angles::onto_meridian;
use super::day::onto_horizon;
use crate::finding::Finding;
use crate::operation::{Act, Brought, Reckoning};
use crate::quantity::{Note, Quantity};
use crate::sight::Told;
use crate::task::{Task, Way};

pub(super) fn acts(task: Task, _: &Way) -> Option<Vec<Act>> {
    let (onto, finding): (fn(Brought) -> Act, _) = match task {
        Task::RightAscension => (onto_meridian, Finding::RightAscension),
        Task::ObliqueAscension => (
            |what| onto_horizon(what, Pick::Eastern),
            Finding::ObliqueAscension,
        ),
        _ => return None,
    };
    let noted = |note| Act::ReadAlmuri {
        finds: Quantity::Noted(note),
    };
    let degree = |told| Brought::Degree(Quantity::Told(told));
    Some(vec![
        Act::ChoosePlate,
        onto(degree(Told::Degree)),
        noted(Note::First),
        onto(degree(Told::OtherDegree)),
        noted(Note::Second),
        Act::Reckon(Reckoning::Count(
            Quantity::Noted(Note::First),
            Quantity::Noted(Note::Second),
            finding,
        )),
    ])
}
