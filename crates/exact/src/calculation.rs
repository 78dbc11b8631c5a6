use std::collections::BTreeMap;

use figure::{ApparentDay, Site};
use practice::{Calculated, Conditions, Quantity, Task, TaskChoices, Value};
use sky::{Sky, SkyError};

use crate::facts::Facts;
use crate::moving_sun::Moving;
use crate::of_task::Calculation;

/// The exact answers to an operation under ideal conditions. A quantity that has no answer
/// (a star that never rises) is missing.
///
/// The Sun keeps its place, as it does on an instrument; [`calculated`] has what truly
/// happens beside it.
///
/// Where the treatise's own method is wrong or rough, the answer under the same name is the
/// right one: the degree of a star by the mean of two ascendants is held against the true
/// one.
#[must_use]
pub fn exact(task: Task, ideal: &Conditions, choices: &TaskChoices) -> BTreeMap<Quantity, Value> {
    (Calculation::of(task).held)(&Facts::of(ideal, choices)).0
}

/// What calculation gives for a task: [`exact`], with every event when it truly happens.
///
/// The sky is that of the moment asked about, the site its place. Events are those of
/// the day by the Sun that holds the moment; nights are counted from its sunset. An
/// altitude is passed on that day. What a star's altitude tells is taken within half a
/// turn of the moment.
///
/// # Errors
/// When an event is outside the span of the ephemeris.
pub fn calculated(
    task: Task,
    ideal: &Conditions,
    choices: &TaskChoices,
    sky: &Sky,
    site: Site,
) -> Result<BTreeMap<Quantity, Calculated>, SkyError> {
    let calculation = Calculation::of(task);
    let held = exact(task, ideal, choices);
    let moving = Moving {
        held_still: calculation.held,
        ideal,
        choices,
        held: &held,
        now: sky,
        site,
        day: ApparentDay::of(sky, site)?,
    };
    let mut found: BTreeMap<Quantity, Calculated> = held
        .iter()
        .map(|(quantity, value)| (*quantity, Calculated::at_the_moment(*value)))
        .collect();
    let events = calculation.moving.map(|events| events(&moving));
    for (quantity, event) in events.transpose()?.unwrap_or_default() {
        let Some(event) = event else {
            found.remove(&quantity);
            continue;
        };
        let sun_held = held.get(&quantity).copied().unwrap_or(event.value);
        let calculated = Calculated {
            truly: event.value,
            sun_held,
            at: event.at,
        };
        found.insert(quantity, calculated);
    }
    Ok(found)
}
