//! Heights by the shadow square: the supplementary conclusions 41 to 43.

use crate::operation::{Act, Reckoning, Tower};
use crate::sight::Sight;
use crate::task::Task;

pub(super) fn acts(task: Task) -> Option<Vec<Act>> {
    let tower = match task {
        Task::HeightByRecta => Tower::Recta,
        Task::HeightByVersa => Tower::Versa,
        Task::HeightByRectaTwice => Tower::RectaTwice,
        Task::HeightByVersaTwice => Tower::VersaTwice,
        Task::RectaToVersa => {
            let to_versa = Act::Reckon(Reckoning::RectaToVersa);
            return Some(vec![Act::Observe(Sight::Shadow), to_versa]);
        }
        _ => return None,
    };
    let mut acts = vec![Act::Observe(Sight::Shadow)];
    if matches!(tower, Tower::RectaTwice | Tower::VersaTwice) {
        acts.push(Act::Observe(Sight::OtherShadow));
    }
    acts.push(Act::Reckon(Reckoning::Height(tower)));
    Some(acts)
}
