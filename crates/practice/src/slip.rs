use instrument::{DateFrom, Hemisphere, LineId, Pick, UnequalHour, YearDay};
use sky::{Angle, Latitude};

use crate::amount::Amount;
use crate::conditions::Conditions;
use crate::given::{Correction, Term};
use crate::operation::{Act, Operation, RetePlace};
use crate::procedure::Procedure;
use crate::quantity::Quantity;

/// A slip of the hand, the eye or the pen: a change to how an operation is done,
/// so that what comes of it is found by doing it so.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Slip {
    /// Summer time was not taken off.
    SummerTimeLeftIn,
    /// Summer time was put on instead of taken off.
    SummerTimePutOn,
    /// The clock was taken for the Sun's own: neither zone nor longitude was corrected for.
    ZoneAndLongitudeLeftOut,
    /// The longitude was not corrected for.
    LongitudeLeftOut,
    /// The longitude was corrected the wrong way.
    LongitudeWrongWay,
    /// A minute was reckoned for every degree of longitude instead of four.
    MinuteADegree,
    /// The equation of time was left out.
    EquationLeftOut,
    /// The equation of time was applied the wrong way.
    EquationWrongWay,
    /// The equation of time was applied with a ring of equal days.
    EquationWithRing,
    /// Morning was taken for evening, or noon for midnight.
    MorningForEvening,
    /// The rule was set an hour early.
    HourEarly,
    /// The rule was set an hour late.
    HourLate,
    /// The degree opposite the Sun was set.
    OppositeSun,
    /// The rule was set, or read, by its other end.
    OtherEndOfRule,
    /// The date was taken a month later.
    NextMonth,
    /// The date was taken a month earlier.
    MonthBefore,
    /// The Sun's degree was taken in the next sign.
    SunNextSign,
    /// The Sun's degree was taken in the sign before.
    SunSignBefore,
    /// The Sun's degree was read ten degrees too far.
    SunTenMore,
    /// The Sun's degree was read ten degrees short.
    SunTenLess,
    /// The next plate northward was laid in.
    NextPlateNorth,
    /// The next plate southward was laid in.
    NextPlateSouth,
    /// The readings are those of a plate for the place's own latitude, which the one at
    /// hand fits badly: no slip of the reader's.
    OwnPlate,
    /// The ascendant was read on the western horizon.
    WesternHorizon,
    /// The midheaven was read on the midnight line.
    MidnightLine,
    /// The lines of turning and of the direct cut were exchanged: 8 with 10, 2 with 4.
    LinesOfOtherRow,
    /// Ascendant and opposite were exchanged in turning.
    OppositeTurned,
    /// Each unequal-hour line was taken one too far.
    NextHourLine,
    /// Each unequal-hour line was taken one too early.
    HourLineBefore,
    /// The cusps were cut directly, the rete at rest.
    DirectCut,
    /// The cusps were read at their opposites: on the noon line instead of the midnight line.
    CuspsOpposite,
    /// The ascendant was read in the next sign.
    AscendantNextSign,
    /// The ascendant was read in the sign before.
    AscendantSignBefore,
    /// The ascendant was read ten degrees too far.
    AscendantTenMore,
    /// The ascendant was read ten degrees short.
    AscendantTenLess,
    /// The midheaven was read in the next sign.
    MidheavenNextSign,
    /// The midheaven was read in the sign before.
    MidheavenSignBefore,
}

impl Slip {
    /// All of them.
    pub const ALL: [Slip; 37] = [
        Slip::SummerTimeLeftIn,
        Slip::SummerTimePutOn,
        Slip::ZoneAndLongitudeLeftOut,
        Slip::LongitudeLeftOut,
        Slip::LongitudeWrongWay,
        Slip::MinuteADegree,
        Slip::EquationLeftOut,
        Slip::EquationWrongWay,
        Slip::EquationWithRing,
        Slip::MorningForEvening,
        Slip::HourEarly,
        Slip::HourLate,
        Slip::OppositeSun,
        Slip::OtherEndOfRule,
        Slip::NextMonth,
        Slip::MonthBefore,
        Slip::SunNextSign,
        Slip::SunSignBefore,
        Slip::SunTenMore,
        Slip::SunTenLess,
        Slip::NextPlateNorth,
        Slip::NextPlateSouth,
        Slip::OwnPlate,
        Slip::WesternHorizon,
        Slip::MidnightLine,
        Slip::LinesOfOtherRow,
        Slip::OppositeTurned,
        Slip::NextHourLine,
        Slip::HourLineBefore,
        Slip::DirectCut,
        Slip::CuspsOpposite,
        Slip::AscendantNextSign,
        Slip::AscendantSignBefore,
        Slip::AscendantTenMore,
        Slip::AscendantTenLess,
        Slip::MidheavenNextSign,
        Slip::MidheavenSignBefore,
    ];

    /// Its name in answers.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Slip::SummerTimeLeftIn => "summer-time-left-in",
            Slip::SummerTimePutOn => "summer-time-put-on",
            Slip::ZoneAndLongitudeLeftOut => "clock-taken-as-local",
            Slip::LongitudeLeftOut => "longitude-left-out",
            Slip::LongitudeWrongWay => "longitude-wrong-way",
            Slip::MinuteADegree => "minute-a-degree",
            Slip::EquationLeftOut => "equation-left-out",
            Slip::EquationWrongWay => "equation-wrong-way",
            Slip::EquationWithRing => "equation-with-ring",
            Slip::MorningForEvening => "morning-for-evening",
            Slip::HourEarly => "hour-early",
            Slip::HourLate => "hour-late",
            Slip::OppositeSun => "opposite-sun",
            Slip::OtherEndOfRule => "other-end-of-rule",
            Slip::NextMonth => "next-month",
            Slip::MonthBefore => "month-before",
            Slip::SunNextSign => "sun-next-sign",
            Slip::SunSignBefore => "sun-sign-before",
            Slip::SunTenMore => "sun-ten-more",
            Slip::SunTenLess => "sun-ten-less",
            Slip::NextPlateNorth => "next-plate-north",
            Slip::NextPlateSouth => "next-plate-south",
            Slip::OwnPlate => "plate-fits-badly",
            Slip::WesternHorizon => "western-horizon",
            Slip::MidnightLine => "midnight-line",
            Slip::LinesOfOtherRow => "lines-of-other-row",
            Slip::OppositeTurned => "opposite-turned",
            Slip::NextHourLine => "next-hour-line",
            Slip::HourLineBefore => "hour-line-before",
            Slip::DirectCut => "direct-cut",
            Slip::CuspsOpposite => "cusps-opposite",
            Slip::AscendantNextSign => "ascendant-next-sign",
            Slip::AscendantSignBefore => "ascendant-sign-before",
            Slip::AscendantTenMore => "ascendant-ten-more",
            Slip::AscendantTenLess => "ascendant-ten-less",
            Slip::MidheavenNextSign => "midheaven-next-sign",
            Slip::MidheavenSignBefore => "midheaven-sign-before",
        }
    }

    /// What was done, in a sentence.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Slip::SummerTimeLeftIn => "Summer time was not taken off.",
            Slip::SummerTimePutOn => "Summer time was put on instead of taken off.",
            Slip::ZoneAndLongitudeLeftOut => {
                "The clock was taken for the Sun's own: neither zone nor longitude was corrected for."
            }
            Slip::LongitudeLeftOut => "The longitude was not corrected for.",
            Slip::LongitudeWrongWay => "The longitude was corrected the wrong way.",
            Slip::MinuteADegree => {
                "A minute was reckoned for every degree of longitude instead of four."
            }
            Slip::EquationLeftOut => "The equation of time was left out.",
            Slip::EquationWrongWay => "The equation of time was applied the wrong way.",
            Slip::EquationWithRing => "The equation of time was applied with a ring of equal days.",
            Slip::MorningForEvening => "Morning was taken for evening, or noon for midnight.",
            Slip::HourEarly => "The rule was set an hour early.",
            Slip::HourLate => "The rule was set an hour late.",
            Slip::OppositeSun => "The degree opposite the Sun was set.",
            Slip::OtherEndOfRule => "The rule was set, or read, by its other end.",
            Slip::NextMonth => "The date was taken a month later.",
            Slip::MonthBefore => "The date was taken a month earlier.",
            Slip::SunNextSign => "The Sun's degree was taken in the next sign.",
            Slip::SunSignBefore => "The Sun's degree was taken in the sign before.",
            Slip::SunTenMore => "The Sun's degree was read ten degrees too far.",
            Slip::SunTenLess => "The Sun's degree was read ten degrees short.",
            Slip::NextPlateNorth => "The next plate northward was laid in.",
            Slip::NextPlateSouth => "The next plate southward was laid in.",
            Slip::OwnPlate => {
                "The plate fits this latitude badly: a plate of the place's own would show these readings."
            }
            Slip::WesternHorizon => "The ascendant was read on the western horizon.",
            Slip::MidnightLine => "The midheaven was read on the midnight line.",
            Slip::LinesOfOtherRow => {
                "The lines of turning and of the direct cut were exchanged: 8 with 10, 2 with 4."
            }
            Slip::OppositeTurned => "Ascendant and opposite were exchanged in turning.",
            Slip::NextHourLine => "Each unequal-hour line was taken one too far.",
            Slip::HourLineBefore => "Each unequal-hour line was taken one too early.",
            Slip::DirectCut => "The cusps were cut directly, the rete at rest.",
            Slip::CuspsOpposite => {
                "The cusps were read at their opposites: on the noon line instead of the midnight line."
            }
            Slip::AscendantNextSign => "The ascendant was read in the next sign.",
            Slip::AscendantSignBefore => "The ascendant was read in the sign before.",
            Slip::AscendantTenMore => "The ascendant was read ten degrees too far.",
            Slip::AscendantTenLess => "The ascendant was read ten degrees short.",
            Slip::MidheavenNextSign => "The midheaven was read in the next sign.",
            Slip::MidheavenSignBefore => "The midheaven was read in the sign before.",
        }
    }

    /// What to do about it, in a sentence.
    #[must_use]
    pub fn mend(self) -> &'static str {
        match self {
            Slip::SummerTimeLeftIn => {
                "Take an hour off while summer time is in force, before anything else."
            }
            Slip::SummerTimePutOn => "The clock is ahead in summer: take the hour off.",
            Slip::ZoneAndLongitudeLeftOut => {
                "Take the zone off to reach Greenwich, then add four minutes for every degree east, or take them off west."
            }
            Slip::LongitudeLeftOut => {
                "Four minutes for every degree: added east of Greenwich, taken off west."
            }
            Slip::LongitudeWrongWay => "The east is later: add in the east, take off in the west.",
            Slip::MinuteADegree => "The Earth turns a degree in four minutes.",
            Slip::EquationLeftOut => {
                "The rule keeps the Sun's time: apply the equation of the day."
            }
            Slip::EquationWrongWay => {
                "Add it where the sundial is ahead of the clock (November), take it off where it is behind (February)."
            }
            Slip::EquationWithRing => {
                "A ring of equal days carries the mean Sun: set it to mean time, without the equation."
            }
            Slip::MorningForEvening => "Look whether the Sun should stand above the horizon.",
            Slip::HourEarly => "Count the hours of the limb again.",
            Slip::HourLate => "Count the hours of the limb again.",
            Slip::OppositeSun => "By day the Sun's own degree lies above the horizon.",
            Slip::OtherEndOfRule => {
                "The Sun lies under the end that points to the hour: by day above the horizon."
            }
            Slip::NextMonth | Slip::MonthBefore => {
                "Look for the month's name, on the calendar scale or at the head of the ephemeris."
            }
            Slip::SunNextSign => "The name of a sign stands over its thirty degrees.",
            Slip::SunSignBefore => "The name of a sign stands over its thirty degrees.",
            Slip::SunTenMore => "Count the tens again.",
            Slip::SunTenLess => "Count the tens again.",
            Slip::NextPlateNorth => "Look for the latitude engraved on the plate.",
            Slip::NextPlateSouth => "Look for the latitude engraved on the plate.",
            Slip::OwnPlate => {
                "Read on the plates to either side and take the proportion, or have a plate made for the place."
            }
            Slip::WesternHorizon => {
                "The ascendant rises: read in the east, which is left on a northern plate with noon up."
            }
            Slip::MidnightLine => "Read on the noon half of the meridian line.",
            Slip::LinesOfOtherRow => {
                "Turning: the ascendant back onto 8 for II and 10 for III, its opposite onward onto 2 for V and 4 for VI."
            }
            Slip::OppositeTurned => {
                "The ascendant itself goes onto 8 and 10, its opposite onto 2 and 4."
            }
            Slip::NextHourLine => "Count the lines from the western horizon.",
            Slip::HourLineBefore => "Count the lines from the western horizon.",
            Slip::DirectCut => {
                "Turn the ascendant onto each line and read on the midnight line; the direct cut gives other houses."
            }
            Slip::CuspsOpposite => "II, III, V and VI stand on the midnight line.",
            Slip::AscendantNextSign => "The name of a sign stands over its thirty degrees.",
            Slip::AscendantSignBefore => "The name of a sign stands over its thirty degrees.",
            Slip::AscendantTenMore => "Count the tens again.",
            Slip::AscendantTenLess => "Count the tens again.",
            Slip::MidheavenNextSign => "The name of a sign stands over its thirty degrees.",
            Slip::MidheavenSignBefore => "The name of a sign stands over its thirty degrees.",
        }
    }

    /// Works the slip into an operation and its conditions. `false` where there is
    /// no occasion for it: no summer time to forget, no other plate to lay in.
    #[must_use]
    pub fn apply(self, operation: &mut Operation, conditions: &mut Conditions) -> bool {
        match self {
            Slip::SummerTimeLeftIn => leave_out(conditions, Correction::SummerTime),
            Slip::SummerTimePutOn => scale(conditions, Correction::SummerTime, -1.0),
            Slip::ZoneAndLongitudeLeftOut => {
                let zone = leave_out(conditions, Correction::Zone);
                let longitude = leave_out(conditions, Correction::Longitude);
                zone && longitude
            }
            Slip::LongitudeLeftOut => leave_out(conditions, Correction::Longitude),
            Slip::LongitudeWrongWay => scale(conditions, Correction::Longitude, -1.0),
            Slip::MinuteADegree => scale(conditions, Correction::Longitude, 0.25),
            Slip::EquationLeftOut => {
                let belongs = !conditions.wants_mean_time();
                belongs && conditions.left_out.insert(Correction::EquationOfTime)
            }
            Slip::EquationWrongWay => {
                let belongs = !conditions.wants_mean_time()
                    && !conditions.left_out.contains(&Correction::EquationOfTime);
                conditions.given.equation_of_time = -conditions.given.equation_of_time;
                belongs
            }
            Slip::EquationWithRing => {
                let amount = conditions.given.equation_of_time;
                let correction = Correction::Longitude;
                conditions.given.to_mean.push(Term { correction, amount });
                conditions.wants_mean_time()
            }
            Slip::MorningForEvening => later(conditions, Angle::HALF_TURN),
            Slip::HourEarly => later(conditions, Angle::from_hours(-1.0)),
            Slip::HourLate => later(conditions, Angle::from_hours(1.0)),
            Slip::OppositeSun => change(operation, |act| match act {
                Act::TurnRete { what, .. } if *what == RetePlace::Sun => {
                    *what = RetePlace::OppositeSun;
                    true
                }
                _ => false,
            }),
            Slip::OtherEndOfRule => {
                conditions.other_end = true;
                uses_rule(operation)
            }
            Slip::NextMonth => months_later(conditions, 1),
            Slip::MonthBefore => months_later(conditions, 11),
            Slip::SunNextSign => sun_misread(conditions, 30.0),
            Slip::SunSignBefore => sun_misread(conditions, -30.0),
            Slip::SunTenMore => sun_misread(conditions, 10.0),
            Slip::SunTenLess => sun_misread(conditions, -10.0),
            Slip::NextPlateNorth => other_plate(conditions, 1.0),
            Slip::NextPlateSouth => other_plate(conditions, -1.0),
            Slip::OwnPlate => {
                let own = conditions.given.latitude;
                let differs = (conditions.plate.deg() - own.deg()).abs() > 0.1;
                conditions.plate = own;
                differs
            }
            Slip::WesternHorizon => change(operation, |act| match act {
                Act::ReadEcliptic { pick, finds, .. } if *finds == Quantity::Ascendant => {
                    *pick = Pick::Western;
                    true
                }
                _ => false,
            }),
            Slip::MidnightLine => change(operation, |act| match act {
                Act::ReadEcliptic { at, finds, .. } if *finds == Quantity::Midheaven => {
                    *at = LineId::MidnightLine;
                    true
                }
                _ => false,
            }),
            Slip::LinesOfOtherRow => other_lines(operation, |number| match number {
                8 => 10,
                10 => 8,
                2 => 4,
                4 => 2,
                other => other,
            }),
            Slip::NextHourLine => other_lines(operation, |number| number + 1),
            Slip::HourLineBefore => other_lines(operation, |number| number.saturating_sub(1)),
            Slip::OppositeTurned => change(operation, |act| match act {
                Act::TurnRete { what, .. } => match *what {
                    RetePlace::Degree(quantity) => {
                        *what = RetePlace::Opposite(quantity);
                        true
                    }
                    RetePlace::Opposite(quantity) => {
                        *what = RetePlace::Degree(quantity);
                        true
                    }
                    _ => false,
                },
                _ => false,
            }),
            Slip::DirectCut => cut_directly(operation),
            Slip::CuspsOpposite => {
                let cusps: Vec<Quantity> = operation
                    .steps
                    .iter()
                    .filter_map(|step| step.act.finds())
                    .filter(|quantity| matches!(quantity, Quantity::Cusp(..)))
                    .collect();
                for cusp in &cusps {
                    misread(conditions, *cusp, 180.0);
                }
                !cusps.is_empty()
            }
            Slip::AscendantNextSign => misread(conditions, Quantity::Ascendant, 30.0),
            Slip::AscendantSignBefore => misread(conditions, Quantity::Ascendant, -30.0),
            Slip::AscendantTenMore => misread(conditions, Quantity::Ascendant, 10.0),
            Slip::AscendantTenLess => misread(conditions, Quantity::Ascendant, -10.0),
            Slip::MidheavenNextSign => misread(conditions, Quantity::Midheaven, 30.0),
            Slip::MidheavenSignBefore => misread(conditions, Quantity::Midheaven, -30.0),
        }
    }
}

/// Leaves a correction out of the sum.
fn leave_out(conditions: &mut Conditions, correction: Correction) -> bool {
    let mut terms = conditions.given.to_mean.iter();
    let matters = terms.any(|term| term.correction == correction && term.amount != Angle::ZERO);
    conditions.left_out.insert(correction) && matters
}

/// Puts a correction into the sum so many times.
fn scale(conditions: &mut Conditions, correction: Correction, by: f64) -> bool {
    let mut matters = false;
    if conditions.left_out.contains(&correction) {
        return false;
    }
    for term in &mut conditions.given.to_mean {
        if term.correction == correction && term.amount != Angle::ZERO {
            term.amount = term.amount * by;
            matters = true;
        }
    }
    matters
}

fn later(conditions: &mut Conditions, by: Angle) -> bool {
    conditions.given.clock += by;
    true
}

/// The date in another month of the scale; who is given the degree takes it from that
/// month of an ephemeris.
fn months_later(conditions: &mut Conditions, months: u8) -> bool {
    let here = conditions.given.date;
    let there = YearDay {
        month: (here.month + months - 1) % 12 + 1,
        ..here
    };
    conditions.given.date = there;
    if conditions.instrument.date_from() == DateFrom::Given {
        let dates = conditions.instrument.dates();
        let moved = dates.at(here).to(dates.at(there));
        conditions.given.sun.longitude += moved;
    }
    true
}

/// Whether the rule is set to an hour, or the limb read under it.
fn uses_rule(operation: &Operation) -> bool {
    let mut acts = operation.steps.iter().map(|step| &step.act);
    acts.any(|act| matches!(act, Act::TurnRuleOnto(_) | Act::ReadLimb { .. }))
}

fn misread(conditions: &mut Conditions, quantity: Quantity, by_deg: f64) -> bool {
    let by = Amount::Angle(Angle::from_deg(by_deg));
    let misread = conditions
        .misread
        .entry(quantity)
        .or_insert(by.with_number(0.0));
    *misread = misread.plus(by);
    true
}

/// Where there is a zodiac scale it is misread; where the degree is given, the ecliptic is.
fn sun_misread(conditions: &mut Conditions, by_deg: f64) -> bool {
    match conditions.instrument.date_from() {
        DateFrom::Zodiac => misread(conditions, Quantity::SunDegree, by_deg),
        DateFrom::Given => {
            conditions.given.sun.longitude += Angle::from_deg(by_deg);
            true
        }
        DateFrom::EqualDayRing | DateFrom::TrueSunRing => false,
    }
}

/// The plate next to the right one.
fn other_plate(conditions: &mut Conditions, northward: f64) -> bool {
    let here = conditions.plate.deg();
    let plates = conditions.instrument.specification().plates.iter();
    let next = plates
        .filter(|plate| (plate.deg() - here) * northward > 1e-6)
        .min_by(|a, b| {
            let off = |plate: &Latitude| (plate.deg() - here).abs();
            off(a).total_cmp(&off(b))
        });
    let serves = |plate: &Latitude| {
        let side = Hemisphere::of(*plate);
        side.is_none_or(|side| side == conditions.instrument.specification().hemisphere)
    };
    match next.copied().filter(serves) {
        Some(plate) => {
            conditions.plate = plate;
            true
        }
        None => false,
    }
}

/// Changes acts; whether any was.
fn change(operation: &mut Operation, mut with: impl FnMut(&mut Act) -> bool) -> bool {
    let mut changed = false;
    for step in &mut operation.steps {
        changed |= with(&mut step.act);
    }
    changed
}

/// Takes other unequal-hour lines.
fn other_lines(operation: &mut Operation, number: impl Fn(u8) -> u8) -> bool {
    change(operation, |act| {
        let line = match act {
            Act::TurnRete { onto, .. } => onto,
            Act::ReadEcliptic { at, .. } => at,
            _ => return false,
        };
        let LineId::UnequalHour(hour) = line else {
            return false;
        };
        let other = number(hour.number()).clamp(1, 11);
        match UnequalHour::new(other) {
            // The sixth line is the midnight line.
            Some(hour) if hour.number() != 6 => *line = LineId::UnequalHour(hour),
            _ => *line = LineId::MidnightLine,
        }
        true
    })
}

/// Cuts directly what should be turned for.
fn cut_directly(operation: &mut Operation) -> bool {
    let turning = |step: &crate::operation::Step| step.procedure == Some(Procedure::Turning);
    if !operation.steps.iter().any(turning) {
        return false;
    }
    operation
        .steps
        .retain(|step| !(turning(step) && matches!(step.act, Act::TurnRete { .. } | Act::Return)));
    change(operation, |act| match act {
        Act::ReadEcliptic { at, finds, .. } => {
            let Quantity::Cusp(Procedure::Turning, house) = *finds else {
                return false;
            };
            match Procedure::DirectCut.hour_line(house) {
                Some(hour) => {
                    *at = LineId::UnequalHour(hour);
                    true
                }
                None => false,
            }
        }
        _ => false,
    })
}
