//! Day and night, twilights, equal and unequal hours: conclusions 6 to 12.

use instrument::{Instrument, LineId, Minutes, Pick, UnequalHour};

use super::angles::onto_meridian;
use super::hour::{hour, plate_and_sun};
use crate::finding::Finding;
use crate::operation::{Act, Along, Brought, Reckoning, Sense};
use crate::quantity::{Note, Quantity};
use crate::sight::Told;
use crate::task::{Task, Way};

/// The rete turned until something lies on the eastern or western horizon.
pub(super) fn onto_horizon(what: Brought, pick: Pick) -> Act {
    Act::TurnRete {
        what,
        onto: LineId::Horizon,
        pick,
        sense: Sense::Either,
    }
}

/// The hour set by the clock, as in casting.
pub(super) fn by_the_clock() -> [Act; 3] {
    [
        Act::Reckon(Reckoning::HourForRule),
        Act::TurnRuleOnto(Quantity::HourForRule),
        Act::TurnRete {
            what: Brought::Sun,
            onto: LineId::RuleEdge,
            pick: Pick::Drawn,
            sense: Sense::Either,
        },
    ]
}

/// When the opposite of the Sun is as high in the west as the Sun is deep in the east.
fn opposite_at_18(pick: Pick, finding: Finding) -> [Act; 2] {
    [
        Act::TurnRete {
            what: Brought::OppositeSun,
            onto: LineId::Almucantar(Minutes::from_whole_deg(18)),
            pick,
            sense: Sense::Either,
        },
        hour(finding),
    ]
}

fn sun_rises() -> [Act; 2] {
    [
        onto_horizon(Brought::Sun, Pick::Eastern),
        hour(Finding::Sunrise),
    ]
}

fn sun_sets() -> [Act; 2] {
    [
        onto_horizon(Brought::Sun, Pick::Western),
        hour(Finding::Sunset),
    ]
}

fn count(from: Finding, to: Finding, finds: Finding) -> Act {
    let (from, to) = (Quantity::Found(from), Quantity::Found(to));
    Act::Reckon(Reckoning::Count(from, to, finds))
}

fn day_arc() -> Vec<Act> {
    let mut acts = Vec::from(sun_rises());
    acts.extend(sun_sets());
    acts.push(count(Finding::Sunrise, Finding::Sunset, Finding::DayArc));
    acts
}

fn unequal_hours() -> [Act; 2] {
    let day = Quantity::Found(Finding::DayArc);
    let hour = Quantity::Found(Finding::UnequalHourOfDay);
    [
        Act::Reckon(Reckoning::Twelfth(day, Finding::UnequalHourOfDay)),
        Act::Reckon(Reckoning::RestOfThirty(hour, Finding::UnequalHourOfNight)),
    ]
}

pub(super) fn acts(task: Task, instrument: &Instrument, way: &Way) -> Option<Vec<Act>> {
    let mut acts = plate_and_sun(instrument);
    match task {
        Task::DawnAndNightfall => {
            acts.extend(opposite_at_18(Pick::Western, Finding::Dawn));
            acts.extend(sun_rises());
            acts.push(count(Finding::Dawn, Finding::Sunrise, Finding::Twilight));
            acts.extend(opposite_at_18(Pick::Eastern, Finding::Nightfall));
        }
        Task::DayAndNight => {
            acts.extend(day_arc());
            let day = Quantity::Found(Finding::DayArc);
            acts.push(Act::Reckon(Reckoning::RestOfTurn(day, Finding::NightArc)));
        }
        Task::StarUp | Task::DegreeUp => {
            let what = match task {
                Task::DegreeUp => Brought::Degree(Quantity::Told(Told::Degree)),
                _ => Brought::Star,
            };
            let noted = |finds| Act::ReadAlmuri {
                finds: Quantity::Noted(finds),
            };
            acts.extend([
                onto_horizon(what, Pick::Eastern),
                noted(Note::First),
                hour(Finding::Rising),
                Act::TurnRete {
                    what,
                    onto: LineId::MeridianLine,
                    pick: Pick::Drawn,
                    sense: Sense::Either,
                },
                hour(Finding::Culmination),
                onto_horizon(what, Pick::Western),
                noted(Note::Second),
                hour(Finding::Setting),
                Act::Reckon(Reckoning::Count(
                    Quantity::Noted(Note::First),
                    Quantity::Noted(Note::Second),
                    Finding::ArcAbove,
                )),
            ]);
        }
        Task::EqualHours => {
            acts.extend(day_arc());
            acts.extend(unequal_hours());
            let hour = Quantity::Found(if way.hour > 12 {
                Finding::UnequalHourOfNight
            } else {
                Finding::UnequalHourOfDay
            });
            acts.push(Act::Reckon(Reckoning::Hours(hour, Finding::EqualHours)));
        }
        Task::DayWithTwilights => {
            acts.extend(opposite_at_18(Pick::Western, Finding::Dawn));
            acts.extend(opposite_at_18(Pick::Eastern, Finding::Nightfall));
            acts.push(count(
                Finding::Dawn,
                Finding::Nightfall,
                Finding::DayWithTwilights,
            ));
        }
        Task::UnequalHours => {
            acts.extend(day_arc());
            acts.extend(unequal_hours());
        }
        Task::HoursGone => {
            acts.extend(by_the_clock());
            acts.push(hour(Finding::Hour));
            acts.extend(sun_rises());
            acts.push(count(
                Finding::Sunrise,
                Finding::Hour,
                Finding::SinceSunrise,
            ));
            acts.extend(sun_sets());
            acts.push(count(Finding::Sunset, Finding::Hour, Finding::SinceSunset));
        }
        Task::PlanetaryHour => {
            acts.extend(by_the_clock());
            acts.push(Act::ReadUnequalHour {
                finds: Quantity::Found(Finding::UnequalHour),
            });
        }
        Task::DirectionToAscendant | Task::DirectionToMidheaven => {
            let noted = |note| Act::ReadAlmuri {
                finds: Quantity::Noted(note),
            };
            acts.extend(by_the_clock());
            acts.push(noted(Note::First));
            acts.push(Act::Wax(Along::CircleOfLatitude));
            acts.push(match task {
                Task::DirectionToAscendant => onto_horizon(Brought::Waxed, Pick::Eastern),
                _ => onto_meridian(Brought::Waxed),
            });
            acts.push(noted(Note::Second));
            acts.push(Act::Reckon(Reckoning::Count(
                Quantity::Noted(Note::First),
                Quantity::Noted(Note::Second),
                Finding::DirectionArc,
            )));
        }
        Task::HourSpan => {
            let number = way.hour.clamp(1, 24) - 1;
            acts.extend(onto_hour_line(number, Finding::HourBegins));
            acts.extend(onto_hour_line(number + 1, Finding::HourEnds));
        }
        _ => return None,
    }
    Some(acts)
}

/// The Sun, or its opposite, brought to the end of so many unequal hours, and the
/// hour read under the Sun. Hours 12 to 24 are those of the night.
fn onto_hour_line(hours: u8, finding: Finding) -> Vec<Act> {
    let (what, number) = if hours > 12 {
        (Brought::Sun, hours - 12)
    } else {
        (Brought::OppositeSun, hours)
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
