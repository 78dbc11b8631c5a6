//! A question in words, that tells no more of the moment than it may.

use instrument::{DateFrom, Pick};
use practice::{Act, OnBack, Operation, Reckoning, RetePlace, Sighting, Spot, Stated, Value};
use sky::{Angle, Zodiacal};
use words::{TimeOfDay, ValueInWords};

use crate::posed_question::PosedQuestion;
use crate::spoken::{clock_words, dated};

/// What of the moment a question tells.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Shown {
    pub(crate) date: bool,
    pub(crate) time: bool,
    pub(crate) place: bool,
}

impl Shown {
    /// What the steps of an operation need.
    pub(crate) fn of(operation: &Operation) -> Shown {
        let acts = || operation.steps.iter().map(|step| &step.act);
        let time = acts().any(|act| *act == Act::Reckon(Reckoning::HourForRule));
        Shown {
            time,
            date: time || acts().any(uses_sun),
            place: acts().any(|act| {
                matches!(
                    act,
                    Act::ChoosePlate
                        | Act::ReadOnBack(OnBack::NoonAltitude | OnBack::TowardsMecca { .. })
                )
            }),
        }
    }
}

fn uses_sun(act: &Act) -> bool {
    let sun = |what: &RetePlace| matches!(what, RetePlace::Sun | RetePlace::OppositeSun);
    match act {
        Act::ReadSunDegree | Act::ReadUnequalHour { .. } | Act::TurnEclipticToAltitude { .. } => {
            true
        }
        Act::ReadOnBack(what) => matches!(
            what,
            OnBack::NoonAltitude | OnBack::TowardsMecca { .. } | OnBack::EqualHour(_)
        ),
        Act::ReadLimb { over, .. } => sun(over),
        Act::TurnRete { what, .. }
        | Act::TurnReteToAltitude { what, .. }
        | Act::ReadAzimuth { of: what, .. } => sun(what),
        Act::ReadAltitude {
            of: Spot::OnRete(what),
            ..
        } => sun(what),
        _ => false,
    }
}

/// A question in words.
pub(crate) struct InWords {
    /// What it is about.
    pub(crate) title: String,
    /// Its date, time and place, as far as it has them.
    pub(crate) when: String,
    /// All that is asked.
    pub(crate) text: String,
    /// What is given with it.
    pub(crate) given: Vec<String>,
}

/// Puts a question into words.
pub(crate) fn in_words(asking: &PosedQuestion) -> InWords {
    let casting = &asking.casting;
    let moment = &casting.moment;
    let date = dated(moment);
    let time = TimeOfDay(Angle::from_hours(moment.civil().time.hours()));
    let town = &moment.place().name;
    let Some(work) = asking.work() else {
        let day = match casting.instrument.date_from() {
            DateFrom::Given => {
                let sun = Zodiacal(moment.sky().sun().longitude);
                vec![format!("The Sun stands at {sun}.")]
            }
            _ => Vec::new(),
        };
        let when = format!("{date}, {time} {}, in {town}.", clock_words(moment));
        return InWords {
            title: "Casting a figure".to_owned(),
            text: format!("{when} Set your instrument, and read."),
            when,
            given: day,
        };
    };
    let shown = Shown::of(&asking.operation);
    let when = match (shown.time, shown.date, shown.place) {
        (true, ..) => format!("{date}, {time} {}, in {town}.", clock_words(moment)),
        (false, true, _) => format!("{date}, in {town}; take the date for noon."),
        (false, false, true) => format!("In {town}."),
        (false, false, false) => String::new(),
    };
    let title = work.task().title().to_owned();
    let text = format!("{title}. {when}").trim().to_owned();
    let mut given = Vec::new();
    if shown.date && casting.instrument.date_from() == DateFrom::Given {
        let sun = Zodiacal(moment.sky().sun().longitude);
        given.push(format!("The Sun stands at {sun}."));
    }
    let whose = work.star_name().unwrap_or("the Sun");
    let side = match (work.task().takes_side(), work.choices().side) {
        (false, _) => "",
        (true, Pick::Western) => ", in the west",
        (true, _) => ", in the east",
    };
    let star_seen = work
        .seen()
        .any(|(sight, _)| matches!(sight, Sighting::Altitude | Sighting::NoonAltitude));
    if let (Some(star), false) = (work.star_name(), star_seen) {
        given.push(format!("The star is {star}."));
    }
    for (sight, seen) in work.seen() {
        let value = ValueInWords(seen.value);
        given.push(match sight {
            Sighting::Altitude => format!("The altitude of {whose} is {value}{side}."),
            Sighting::NoonAltitude => {
                let side = match work.side_of_meridian() {
                    Some(side) if work.choices().beyond_zenith => format!(", in the {side}"),
                    _ => String::new(),
                };
                format!("The altitude of {whose} on the meridian is {value}{side}.")
            }
            Sighting::Shadow | Sighting::OtherShadow => {
                let station = if sight == Sighting::Shadow {
                    ""
                } else {
                    ", from the second station"
                };
                format!("The alidade cuts {value} points of the shadow square{station}.")
            }
            _ => format!("The {} is {value}.", sight.words()),
        });
    }
    for (stated, value) in work.stated() {
        let said = ValueInWords(value);
        given.push(match stated {
            Stated::EyeHeight if value == Value::Length(0.0) => continue,
            Stated::Degree => format!("The degree is {said}."),
            Stated::OtherDegree => format!("The second degree is {said}."),
            Stated::Latitude => format!("Its latitude is {said}."),
            Stated::UnequalHours if work.task().takes_numbered_hour() => {
                format!("The unequal hour is number {}.", value.number().round())
            }
            Stated::UnequalHours => format!("There are {} unequal hours.", value.number().round()),
            Stated::Distance => format!("The distance is {said} paces."),
            Stated::EyeHeight => format!("The eye is {said} paces high."),
        });
    }
    InWords {
        title,
        when,
        text,
        given,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cabinet::Cabinet;
    use crate::correct_exercise::asking_of;
    use crate::request_work::WorkRequest;

    /// A height from two stations: which shadow was cut from the second is said of it alone,
    /// and how high the eye is where it is above the ground.
    #[test]
    fn what_is_seen_and_told_is_said_once_and_nothing_of_nothing() {
        let given = |eye: &[(&str, &str)]| {
            let request = WorkRequest {
                operation: "height-by-recta-twice".to_owned(),
                seen: [("shadow", "4"), ("other-shadow", "8")]
                    .map(|(name, value)| (name.to_owned(), value.to_owned()))
                    .into(),
                told: [("distance", "20")]
                    .iter()
                    .chain(eye)
                    .map(|(name, value)| ((*name).to_owned(), (*value).to_owned()))
                    .collect(),
                ..WorkRequest::default()
            };
            in_words(&asking_of(&request, &Cabinet::built_in()).unwrap()).given
        };
        let seen = [
            "The alidade cuts 4 points of the shadow square.",
            "The alidade cuts 8 points of the shadow square, from the second station.",
            "The distance is 20 paces.",
        ];
        for eye in [&[][..], &[("eye-height", "0")]] {
            assert_eq!(given(eye), seen);
        }
        let with_eye = given(&[("eye-height", "2")]);
        assert_eq!(with_eye[..3], seen);
        assert_eq!(with_eye[3..], ["The eye is 2 paces high."]);
    }
}
