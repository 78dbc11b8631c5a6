//! Steps that several operations have in common.

use instrument::{DateFrom, Hemisphere, Instrument, LineId, Minutes, Pick};

use crate::finding::Finding;
use crate::operation::{Act, Reckoning, RetePlace, Sense, Spot};
use crate::operations::record::TaskChoices;
use crate::quantity::{Note, Quantity};
use crate::sight::{Sighting, Stated};
/// The Sun's degree from the back, where there is a scale.
pub(super) fn sun_from_back(instrument: &Instrument) -> Vec<Act> {
    match instrument.date_from() {
        DateFrom::Zodiac => vec![Act::ReadSunDegree],
        DateFrom::EqualDayRing | DateFrom::TrueSunRing | DateFrom::Given => Vec::new(),
    }
}

/// The plate laid in, and the Sun's degree from the back, where there is a scale.
pub(super) fn plate_and_sun(instrument: &Instrument) -> Vec<Act> {
    let mut acts = vec![Act::ChoosePlate];
    acts.extend(sun_from_back(instrument));
    acts
}

/// The rete turned so that a place of it has the altitude seen.
pub(super) fn at_altitude(what: RetePlace, side: Pick) -> [Act; 2] {
    [
        Act::Observe(Sighting::Altitude),
        Act::TurnReteToAltitude {
            what,
            altitude: Quantity::Seen(Sighting::Altitude),
            side,
        },
    ]
}

/// The hour under the Sun.
pub(super) fn hour(finding: Finding) -> Act {
    Act::ReadLimb {
        over: RetePlace::Sun,
        finds: Quantity::Found(finding),
    }
}

/// The ascendant read.
pub(super) fn ascendant() -> Act {
    Act::ReadEcliptic {
        at: LineId::Horizon,
        pick: Pick::Eastern,
        finds: Quantity::Ascendant,
    }
}

/// The midheaven read.
pub(super) fn midheaven() -> Act {
    Act::ReadEcliptic {
        at: LineId::MeridianLine,
        pick: Pick::Drawn,
        finds: Quantity::Midheaven,
    }
}

pub(super) fn onto_meridian(what: RetePlace) -> Act {
    Act::TurnRete {
        what,
        onto: LineId::MeridianLine,
        pick: Pick::Drawn,
        sense: Sense::Either,
    }
}

/// The altitude on the meridian of a place of the rete.
pub(super) fn meridian_altitude(what: RetePlace) -> [Act; 2] {
    [
        onto_meridian(what),
        Act::ReadAltitude {
            of: Spot::OnRete(what),
            finds: Quantity::Found(Finding::MeridianAltitude),
        },
    ]
}

pub(super) fn equator_altitude() -> Act {
    Act::ReadAltitude {
        of: Spot::EquatorAtNoon,
        finds: Quantity::Found(Finding::EquatorAltitude),
    }
}

/// What is north of it culminates above the equator in the north, below it in the south:
/// the first less the second, or there the second less the first, is counted northward.
pub(super) fn northward(
    instrument: &Instrument,
    of: Quantity,
    from: Quantity,
    finding: Finding,
) -> Act {
    Act::Reckon(match instrument.specification().hemisphere {
        Hemisphere::North => Reckoning::Less(of, from, finding),
        Hemisphere::South => Reckoning::Less(from, of, finding),
    })
}

/// An altitude seen on the meridian, counted on through the zenith where it stands
/// beyond: the steps, and what is then reckoned with.
pub(super) fn seen_on_meridian(sight: Sighting, choices: &TaskChoices) -> (Vec<Act>, Quantity) {
    let seen = Act::Observe(sight);
    if choices.beyond_zenith {
        let counted = Act::Reckon(Reckoning::ThroughZenith(sight));
        let found = Quantity::Found(Finding::ThroughZenith);
        (vec![seen, counted], found)
    } else {
        (vec![seen], Quantity::Seen(sight))
    }
}

/// How far north of the equator a place of the rete culminates.
pub(super) fn declination(instrument: &Instrument, what: RetePlace) -> Vec<Act> {
    let mut acts = Vec::from(meridian_altitude(what));
    acts.push(equator_altitude());
    acts.push(northward(
        instrument,
        Quantity::Found(Finding::MeridianAltitude),
        Quantity::Found(Finding::EquatorAltitude),
        Finding::Declination,
    ));
    acts
}

/// The pole's altitude from a meridian altitude seen and a declination read.
pub(super) fn latitude_by(
    instrument: &Instrument,
    what: RetePlace,
    choices: &TaskChoices,
) -> Vec<Act> {
    let (mut acts, seen) = seen_on_meridian(Sighting::NoonAltitude, choices);
    acts.extend(declination(instrument, what));
    let declination = Quantity::Found(Finding::Declination);
    let here = Finding::EquatorHere;
    acts.push(Act::Reckon(match instrument.specification().hemisphere {
        Hemisphere::North => Reckoning::Less(seen, declination, here),
        Hemisphere::South => Reckoning::Sum(seen, declination, here),
    }));
    acts.push(Act::Reckon(Reckoning::RestOfRight(
        Quantity::Found(here),
        Finding::PoleAltitude,
    )));
    acts
}

pub(super) fn azimuth(of: RetePlace, finding: Finding) -> Act {
    Act::ReadAzimuth {
        of,
        finds: Quantity::Found(finding),
    }
}

/// The rete turned until something lies on the eastern or western horizon.
pub(super) fn onto_horizon(what: RetePlace, pick: Pick) -> Act {
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
            what: RetePlace::Sun,
            onto: LineId::RuleEdge,
            pick: Pick::Drawn,
            sense: Sense::Either,
        },
    ]
}

/// The hour at which the Sun is 18° deep: its opposite is then as high on the other side.
pub(super) fn sun_at_18(pick: Pick, finding: Finding) -> [Act; 2] {
    [
        Act::TurnRete {
            what: RetePlace::OppositeSun,
            onto: LineId::Almucantar(Minutes::from_whole_deg(18)),
            pick,
            sense: Sense::Either,
        },
        hour(finding),
    ]
}

pub(super) fn sun_rises() -> [Act; 2] {
    [
        onto_horizon(RetePlace::Sun, Pick::Eastern),
        hour(Finding::Sunrise),
    ]
}

pub(super) fn sun_sets() -> [Act; 2] {
    [
        onto_horizon(RetePlace::Sun, Pick::Western),
        hour(Finding::Sunset),
    ]
}

pub(super) fn count(from: Finding, to: Finding, finds: Finding) -> Act {
    let (from, to) = (Quantity::Found(from), Quantity::Found(to));
    Act::Reckon(Reckoning::Count(from, to, finds))
}

pub(super) fn day_arc() -> Vec<Act> {
    let mut acts = Vec::from(sun_rises());
    acts.extend(sun_sets());
    acts.push(count(Finding::Sunrise, Finding::Sunset, Finding::DayArc));
    acts
}

pub(super) fn unequal_hours() -> [Act; 2] {
    let day = Quantity::Found(Finding::DayArc);
    let hour = Quantity::Found(Finding::UnequalHourOfDay);
    [
        Act::Reckon(Reckoning::Twelfth(day, Finding::UnequalHourOfDay)),
        Act::Reckon(Reckoning::RestOfThirty(hour, Finding::UnequalHourOfNight)),
    ]
}

/// Where the almuri stands, noted.
pub(super) fn noted(note: Note) -> Act {
    Act::ReadAlmuri {
        finds: Quantity::Noted(note),
    }
}

/// The arc of the limb between the two places that were noted.
pub(super) fn between_notes(finds: Finding) -> Act {
    let (first, second) = (Quantity::Noted(Note::First), Quantity::Noted(Note::Second));
    Act::Reckon(Reckoning::Count(first, second, finds))
}

/// From rising over the meridian to setting, each with its hour.
pub(super) fn rising_to_setting(what: RetePlace) -> [Act; 9] {
    [
        onto_horizon(what, Pick::Eastern),
        noted(Note::First),
        hour(Finding::Rising),
        onto_meridian(what),
        hour(Finding::Culmination),
        onto_horizon(what, Pick::Western),
        noted(Note::Second),
        hour(Finding::Setting),
        between_notes(Finding::ArcAbove),
    ]
}

/// The degree on the meridian line.
pub(super) fn culminating(finding: Finding) -> Act {
    Act::ReadEcliptic {
        at: LineId::MeridianLine,
        pick: Pick::Drawn,
        finds: Quantity::Found(finding),
    }
}

/// The degree on the eastern horizon.
pub(super) fn rising(finding: Finding) -> Act {
    Act::ReadEcliptic {
        at: LineId::Horizon,
        pick: Pick::Eastern,
        finds: Quantity::Found(finding),
    }
}

/// The degree that is told.
pub(super) fn told_degree() -> RetePlace {
    RetePlace::Degree(Quantity::Stated(Stated::Degree))
}

/// The two degrees that are told.
pub(super) fn told_degrees() -> (Quantity, Quantity) {
    (
        Quantity::Stated(Stated::Degree),
        Quantity::Stated(Stated::OtherDegree),
    )
}
