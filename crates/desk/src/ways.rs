//! How to come nearer with what is at hand, each way with what it would bring.

use instrument::{DateFrom, HourLines, Instrument};
use practice::{Amount, Trust, Value};
use words::{AtMost, Called, NorthOrSouth};

use crate::answer::WayAnswer;
use crate::cabinet::{Cabinet, serves};
use crate::casting::{Casting, Plates, SunFrom};
use crate::correction::Correction;
use crate::revolution::capital;
use crate::trust::OnAngles;

/// What brings less than this part of what may be off is not offered.
const LEAST_GAIN: f64 = 0.1;

/// A way thought of.
struct Thought {
    way: &'static str,
    /// What is done.
    words: String,
    /// How far the angles may then be trusted.
    then: OnAngles,
    with: Option<String>,
    sun: Option<SunFrom>,
    /// Whether it is worked on two plates.
    two_plates: bool,
    /// Whether nothing is left out of the sum.
    in_full: bool,
}

/// The ways that bring something, the best first. Each is thought of as the Sun is taken
/// now, and with its degree from the ephemeris: of two errors that cancel by chance, one
/// mended alone makes the other felt.
pub(crate) fn ways(
    casting: &Casting,
    now: OnAngles,
    worst_cusp: Option<Trust>,
    correction: Option<&Correction>,
    cabinet: &Cabinet,
) -> Vec<WayAnswer> {
    let as_now = Thought::of_angles(now);
    let by_ephemeris = sun_from_ephemeris(casting);
    let of_each = |way: &dyn Fn(&Thought, &Casting) -> Option<Thought>| {
        let plain = way(&as_now, casting);
        let other = by_ephemeris
            .as_ref()
            .and_then(|(thought, casting)| way(thought, casting));
        // What asks for less is taken where it brings as much.
        match (plain, other) {
            (Some(plain), Some(other)) if other.is_better_than(plain.then) => Some(other),
            (None, other) => other,
            (plain, _) => plain,
        }
    };
    let corrected = of_each(&|base, _| corrected_afterwards(casting, base, correction?));
    let on_two = of_each(&on_two_plates);
    let on_another = of_each(&|base, casting| on_another_instrument(base, casting, cabinet));
    let alone = by_ephemeris.map(|(thought, _)| thought);
    let in_full = sum_in_full(casting);
    let mut worth: Vec<Thought> = [in_full, alone, on_two, corrected, on_another]
        .into_iter()
        .flatten()
        .filter(|thought| thought.is_better_than(now))
        .collect();
    worth.sort_by(|one, other| one.off_deg().total_cmp(&other.off_deg()));
    let angles = worth.into_iter().filter_map(Thought::answer);
    angles.chain(curves(casting, now, worst_cusp)).collect()
}

/// The sum with all its corrections, where one is left out.
fn sum_in_full(casting: &Casting) -> Option<Thought> {
    if casting.left_out.is_empty() {
        return None;
    }
    let left_out = casting.left_out.iter().map(|one| one.words());
    let words = format!(
        "The sum in full, with {}",
        left_out.collect::<Vec<_>>().join(", ")
    );
    let casting = Casting {
        left_out: Vec::new(),
        ..casting.clone()
    };
    Some(Thought {
        way: "sum-in-full",
        words,
        in_full: true,
        ..Thought::alone(&casting)
    })
}

/// The Sun's degree from elsewhere than the engraved scale; with the case so worked.
fn sun_from_ephemeris(casting: &Casting) -> Option<(Thought, Casting)> {
    let scale = match casting.instrument.date_from() {
        DateFrom::Zodiac => "the calendar scale",
        DateFrom::EqualDayRing | DateFrom::TrueSunRing => "the ring of dates",
        DateFrom::Given => return None,
    };
    let casting = Casting {
        sun: SunFrom::Ephemeris,
        ..with(casting, casting.instrument.with_sun_given())
    };
    let thought = Thought {
        way: "sun-from-ephemeris",
        words: format!("The Sun’s degree from the ephemeris instead of {scale}"),
        sun: Some(SunFrom::Ephemeris),
        ..Thought::alone(&casting)
    };
    Some((thought, casting))
}

/// Two plates in proportion, where the latitude lies between two.
fn on_two_plates(base: &Thought, casting: &Casting) -> Option<Thought> {
    let latitude = casting.latitude();
    let plates = match casting.plates {
        Plates::Nearest => Plates::two(&casting.instrument, latitude)?,
        Plates::TwoInProportion(_) => return None,
    };
    let on_two = Casting {
        plates,
        ..casting.clone()
    };
    let conditions = on_two.actual();
    Some(Thought {
        way: "two-plates",
        words: format!(
            "The plates for {} and {} in proportion{}",
            NorthOrSouth(conditions.plate),
            NorthOrSouth(conditions.other_plate),
            base.and_sun()
        ),
        then: on_two.on_angles(),
        with: None,
        sun: base.sun,
        two_plates: true,
        in_full: false,
    })
}

/// The table's correction, put on the ascendant that is read.
fn corrected_afterwards(
    casting: &Casting,
    base: &Thought,
    correction: &Correction,
) -> Option<Thought> {
    let ascendant = base.then.ascendant?;
    let truly = casting.horizon().ascendant().ok()?;
    let read = Value::Degree(truly).moved(ascendant.off);
    let put_on = Amount::Angle(correction.at(read.angle()?));
    Some(Thought {
        way: "correction-afterwards",
        words: format!(
            "The table’s correction put on the ascendant afterwards{}",
            base.and_sun()
        ),
        then: OnAngles {
            ascendant: Some(Trust {
                off: ascendant.off.plus(put_on),
                ..ascendant
            }),
            ..base.then
        },
        with: None,
        sun: base.sun,
        two_plates: false,
        in_full: false,
    })
}

/// The instrument of the cabinet that comes nearest.
fn on_another_instrument(base: &Thought, casting: &Casting, cabinet: &Cabinet) -> Option<Thought> {
    let latitude = casting.latitude();
    let name = |instrument: &Instrument| instrument.specification().name.clone();
    let own = name(&casting.instrument);
    let others = cabinet
        .at_hand()
        .filter(|one| serves(one, latitude) && one.specification().name != own);
    let tried = others.map(|one| (one, with(casting, casting.sun.taken(one)).on_angles()));
    let (nearest, then) =
        tried.min_by(|(_, one), (_, other)| off_deg(*one).total_cmp(&off_deg(*other)))?;
    Some(Thought {
        way: "another-instrument",
        words: format!(
            "With {}, plate {}{}",
            Called(&name(nearest)),
            NorthOrSouth(nearest.nearest_plate(latitude)),
            base.and_sun()
        ),
        then,
        with: Some(name(nearest)),
        sun: base.sun,
        two_plates: false,
        in_full: false,
    })
}

/// Unequal-hour lines as true curves, where arcs put a cusp off.
fn curves(casting: &Casting, angles: OnAngles, worst_cusp: Option<Trust>) -> Option<WayAnswer> {
    let arcs = casting.instrument.hour_lines() == HourLines::Arcs;
    let (ascendant, midheaven) = angles.ascendant.zip(angles.midheaven).filter(|_| arcs)?;
    let now = worst_cusp?;
    let curved = casting.instrument.with_hour_lines(HourLines::Curves);
    let (_, then) = with(casting, curved).worst_cusp()?;
    (then.at_most() <= now.at_most() * (1.0 - LEAST_GAIN)).then(|| WayAnswer {
        way: "curves",
        sentence: format!(
            "Unequal-hour lines as true curves instead of arcs, on a plate made anew: the \
             worst cusp within {} instead of {}.",
            AtMost(then.at_most()),
            AtMost(now.at_most())
        ),
        verdict: angles.verdict().name(),
        ascendant_within_deg: ascendant.at_most().number(),
        midheaven_within_deg: midheaven.at_most().number(),
        worst_cusp_within_deg: Some(then.at_most().number()),
        with: None,
        plates: None,
        sun: None,
        in_full: false,
    })
}

impl Thought {
    /// The case as it is.
    fn alone(casting: &Casting) -> Thought {
        Thought::of_angles(casting.on_angles())
    }

    /// The case as it is, where it is known how far its angles may be trusted.
    fn of_angles(then: OnAngles) -> Thought {
        Thought {
            way: "",
            words: String::new(),
            then,
            with: None,
            sun: None,
            two_plates: false,
            in_full: false,
        }
    }

    /// How far the worse angle may be off; further than any, where one cannot be read.
    fn off_deg(&self) -> f64 {
        off_deg(self.then)
    }

    fn is_better_than(&self, other: OnAngles) -> bool {
        self.off_deg() <= off_deg(other) * (1.0 - LEAST_GAIN)
    }

    fn and_sun(&self) -> &'static str {
        match self.sun {
            None => "",
            Some(_) => " and the Sun’s degree from the ephemeris",
        }
    }

    fn answer(self) -> Option<WayAnswer> {
        let (ascendant, midheaven) = self.then.ascendant.zip(self.then.midheaven)?;
        Some(WayAnswer {
            way: self.way,
            sentence: format!(
                "{}: the ascendant within {}, the midheaven {}.",
                capital(&self.words),
                AtMost(ascendant.at_most()),
                AtMost(midheaven.at_most())
            ),
            verdict: self.then.verdict().name(),
            ascendant_within_deg: ascendant.at_most().number(),
            midheaven_within_deg: midheaven.at_most().number(),
            worst_cusp_within_deg: None,
            with: self.with,
            plates: self.two_plates.then_some(Plates::NAMES[1]),
            sun: self.sun.map(SunFrom::name),
            in_full: self.in_full,
        })
    }
}

fn off_deg(angles: OnAngles) -> f64 {
    angles.at_most().map_or(360.0, Amount::number)
}

/// The same case with another instrument.
fn with(casting: &Casting, instrument: Instrument) -> Casting {
    Casting {
        plates: match casting.plates {
            Plates::Nearest => Plates::Nearest,
            // On another's plates where there are two, else on its nearest.
            Plates::TwoInProportion(_) => {
                Plates::two(&instrument, casting.latitude()).unwrap_or_default()
            }
        },
        instrument,
        ..casting.clone()
    }
}
