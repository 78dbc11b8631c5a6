//! What each slip does to the readings, by plain arithmetic: steady hands on a perfect scale
//! leave nothing else.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::collections::BTreeSet;

use instrument::{Eye, House, Instrument, LineId, Minutes, Specification, UnequalHour, YearDay};
use practice::{
    Act, Amount, Conditions, Correction, Figures, Given, Procedure, PupilReading, Quantity,
    ReadingVerdict, Seen, Sighting, Slip, SunPlace, Task, TaskChoices, Term, Value, Working,
    carry_out, casting, correct, marked, tell_tales,
};
use sky::{Angle, Latitude};

const TURNING: Procedure = Procedure::Turning;

/// What is added to the clock: an hour of summer time and one of the zone off, eight degrees
/// of longitude and an equation of three.
const SUMMER_DEG: f64 = -15.0;
const ZONE_DEG: f64 = -15.0;
const LONGITUDE_DEG: f64 = 8.0;
const EQUATION_DEG: f64 = 3.0;

fn instrument(date_from: &str) -> Instrument {
    let text = format!(
        "version = 1\nname = \"invented\"\ndiameter_mm = 300\nepoch_year = 2025\n\
         plates_deg = [38, 42, 46]\ndate_from = \"{date_from}\"\n"
    );
    Instrument::new(Specification::from_toml(&text).unwrap())
}

/// The forenoon of a day in some month, at 42° on its own plate.
fn conditions(date_from: &str, month: u8) -> Conditions {
    let instrument = instrument(date_from);
    let date = YearDay {
        month,
        day: 14,
        part: 0.4,
    };
    let longitude = instrument.dates().at(date);
    let (sin, cos) = longitude.sin_cos();
    let obliquity = instrument.obliquity();
    let term = |correction, deg| Term {
        correction,
        amount: Angle::from_deg(deg),
    };
    let given = Given {
        latitude: Latitude::from_deg(42.0).unwrap(),
        clock: Angle::from_hours(-2.0),
        to_mean: vec![
            term(Correction::SummerTime, SUMMER_DEG),
            term(Correction::Zone, ZONE_DEG),
            term(Correction::Longitude, LONGITUDE_DEG),
        ],
        equation_of_time: Angle::from_deg(EQUATION_DEG),
        clock_is_apparent: false,
        date,
        sun: SunPlace {
            longitude,
            right_ascension: Angle::atan2(sin * obliquity.cos(), cos).in_turn(),
            declination: Latitude::asin(longitude.sin() * obliquity.sin()),
        },
    };
    Conditions {
        setting: Eye::PERFECT,
        reading: Eye::PERFECT,
        figures: Figures::Exact,
        ..Conditions::actual(given, instrument, &[])
    }
}

/// By how much a slip moves a reading, in degrees; `None` where there is no occasion for it.
fn moves(slip: Slip, conditions: &Conditions, quantity: Quantity) -> Option<f64> {
    let operation = casting(&conditions.instrument, &[TURNING]);
    let read = |operation: &_, conditions: &_| {
        let working = carry_out(operation, conditions);
        working.reading(quantity).unwrap().value
    };
    let right = read(&operation, conditions);
    let (mut operation, mut conditions) = (operation, conditions.clone());
    slip.apply(&mut operation, &mut conditions)
        .then(|| right.to(read(&operation, &conditions)).number())
}

/// The short way round.
fn apart(a: f64, b: f64) -> f64 {
    ((a - b + 180.0).rem_euclid(360.0) - 180.0).abs()
}

const EXACT_DEG: f64 = 1e-6;

#[test]
fn a_slip_moves_its_own_reading_by_as_much_as_it_says() {
    let cusp = |number| TURNING.quantity(House::from_number(number).unwrap());
    let conditions = conditions("zodiac", 5);
    for (slip, quantity, by) in [
        (Slip::SummerTimeLeftIn, Quantity::HourForRule, -SUMMER_DEG),
        (
            Slip::SummerTimePutOn,
            Quantity::HourForRule,
            -2.0 * SUMMER_DEG,
        ),
        (
            Slip::LongitudeLeftOut,
            Quantity::HourForRule,
            -LONGITUDE_DEG,
        ),
        (
            Slip::LongitudeWrongWay,
            Quantity::HourForRule,
            -2.0 * LONGITUDE_DEG,
        ),
        // A minute for four is a quarter of it.
        (
            Slip::MinuteADegree,
            Quantity::HourForRule,
            -0.75 * LONGITUDE_DEG,
        ),
        (
            Slip::ZoneAndLongitudeLeftOut,
            Quantity::HourForRule,
            -ZONE_DEG - LONGITUDE_DEG,
        ),
        (Slip::EquationLeftOut, Quantity::HourForRule, -EQUATION_DEG),
        (
            Slip::EquationWrongWay,
            Quantity::HourForRule,
            -2.0 * EQUATION_DEG,
        ),
        (Slip::MorningForEvening, Quantity::HourForRule, 180.0),
        (Slip::HourEarly, Quantity::HourForRule, -15.0),
        (Slip::HourLate, Quantity::HourForRule, 15.0),
        (Slip::SunNextSign, Quantity::SunDegree, 30.0),
        (Slip::SunSignBefore, Quantity::SunDegree, -30.0),
        (Slip::SunTenMore, Quantity::SunDegree, 10.0),
        (Slip::SunTenLess, Quantity::SunDegree, -10.0),
        // Horizon and meridian halve the ecliptic.
        (Slip::WesternHorizon, Quantity::Ascendant, 180.0),
        (Slip::MidnightLine, Quantity::Midheaven, 180.0),
        (Slip::CuspsOpposite, cusp(2), 180.0),
        (Slip::AscendantNextSign, Quantity::Ascendant, 30.0),
        (Slip::AscendantSignBefore, Quantity::Ascendant, -30.0),
        (Slip::AscendantTenMore, Quantity::Ascendant, 10.0),
        (Slip::AscendantTenLess, Quantity::Ascendant, -10.0),
        (Slip::MidheavenNextSign, Quantity::Midheaven, 30.0),
        (Slip::MidheavenSignBefore, Quantity::Midheaven, -30.0),
    ] {
        let moved = moves(slip, &conditions, quantity).unwrap();
        assert!(apart(moved, by) < EXACT_DEG, "{slip:?}: {moved}, not {by}");
    }
}

/// The scale of dates is read a month on, or eleven, which is a month before; December is
/// followed by January.
#[test]
fn another_month_has_its_own_degree() {
    for month in 1..=12 {
        let here = conditions("zodiac", month);
        let dates = here.instrument.dates();
        let at = |month| {
            dates.at(YearDay {
                month,
                ..here.given.date
            })
        };
        for (slip, other) in [
            (Slip::NextMonth, if month == 12 { 1 } else { month + 1 }),
            (Slip::MonthBefore, if month == 1 { 12 } else { month - 1 }),
        ] {
            let moved = moves(slip, &here, Quantity::SunDegree).unwrap();
            let by = at(month).to(at(other)).deg();
            assert!(apart(moved, by) < EXACT_DEG, "{slip:?} in {month}: {moved}");
        }
    }
}

/// Lines taken for those of the other row give each cusp the other's degree, and what is cut
/// directly is what that procedure reads.
#[test]
fn other_lines_give_other_cusps() {
    let conditions = conditions("zodiac", 5);
    let of = |procedure: Procedure, slip: Option<Slip>, house| {
        let (mut operation, mut conditions) = (
            casting(&conditions.instrument, &[procedure]),
            conditions.clone(),
        );
        assert!(slip.is_none_or(|slip| slip.apply(&mut operation, &mut conditions)));
        let quantity = procedure.quantity(House::from_number(house).unwrap());
        let reading = carry_out(&operation, &conditions).reading(quantity);
        reading.unwrap().value.number()
    };
    for (house, other) in [(2, 3), (3, 2), (5, 6), (6, 5)] {
        let taken = of(TURNING, Some(Slip::LinesOfOtherRow), house);
        let right = of(TURNING, None, other);
        assert!(apart(taken, right) < EXACT_DEG, "{house}: {taken}, {right}");
        let taken = of(TURNING, Some(Slip::DirectCut), house);
        let right = of(Procedure::DirectCut, None, house);
        assert!(apart(taken, right) < EXACT_DEG, "{house}: {taken}, {right}");
    }
}

/// No occasion: a correction that is nothing, a ring without a scale to misread, an equation
/// where none belongs, a plate fewer.
#[test]
fn where_there_is_no_occasion_there_is_no_slip() {
    let zodiac = conditions("zodiac", 5);
    let mut winter = zodiac.clone();
    winter.given.to_mean[0].amount = Angle::ZERO;
    let ring = conditions("equal-day-ring", 5);
    let mut last_plate = zodiac.clone();
    last_plate.plate = Latitude::from_deg(46.0).unwrap();
    for (slip, without, with) in [
        (Slip::SummerTimeLeftIn, &winter, &zodiac),
        (Slip::SummerTimePutOn, &winter, &zodiac),
        (Slip::SunNextSign, &ring, &zodiac),
        (Slip::EquationLeftOut, &ring, &zodiac),
        (Slip::EquationWrongWay, &ring, &zodiac),
        (Slip::EquationWithRing, &zodiac, &ring),
        (Slip::NextPlateNorth, &last_plate, &zodiac),
    ] {
        for (conditions, occasion) in [(without, false), (with, true)] {
            let mut operation = casting(&conditions.instrument, &[TURNING]);
            let applied = slip.apply(&mut operation, &mut conditions.clone());
            assert_eq!(applied, occasion, "{slip:?}");
        }
    }
    // Where neither ascendant nor midheaven is read, and nothing is turned onto a line.
    for slip in [
        Slip::WesternHorizon,
        Slip::MidnightLine,
        Slip::OppositeSun,
        Slip::OppositeTurned,
        Slip::NextHourLine,
        Slip::DirectCut,
        Slip::CuspsOpposite,
    ] {
        let mut operation = Task::SunDegree.operation(&zodiac.instrument, &TaskChoices::default());
        assert!(!slip.apply(&mut operation, &mut zodiac.clone()), "{slip:?}");
    }
}

/// What was left out is lacking only where it is something.
#[test]
fn what_is_nothing_is_not_lacking() {
    let mut conditions = conditions("zodiac", 5);
    conditions.left_out.insert(Correction::SummerTime);
    assert_eq!(conditions.lacking(), [Correction::SummerTime]);
    conditions.given.to_mean[0].amount = Angle::ZERO;
    assert_eq!(conditions.lacking(), []);
}

/// The hour, the ascendant and the midheaven as a working reads them, written as they are asked.
fn figure_read(working: &Working) -> [PupilReading; 3] {
    let asked = [
        Quantity::HourForRule,
        Quantity::Ascendant,
        Quantity::Midheaven,
    ];
    asked.map(|quantity| PupilReading {
        quantity,
        value: working.reading(quantity).unwrap().value,
        written_to: quantity.measure().answered_to(),
    })
}

/// Whoever leaves summer time in and reads rightly from there has one thing wrong: the hour.
/// What follows from it is told where it is another degree, and not of the hour itself.
#[test]
fn what_follows_from_a_wrong_hour_follows() {
    let actual = conditions("zodiac", 5);
    let operation = casting(&actual.instrument, &[TURNING]);
    let (mut slipped, mut conditions) = (operation.clone(), actual.clone());
    assert!(Slip::SummerTimeLeftIn.apply(&mut slipped, &mut conditions));
    let working = carry_out(&slipped, &conditions);
    let readings = figure_read(&working);
    let marks = marked(&operation, &actual, &actual, &readings);
    assert_eq!(marks[0].mark, ReadingVerdict::Wrong);
    assert_eq!(marks[0].follows, None);
    for (one, reading) in marks.iter().zip(&readings).skip(1) {
        assert_eq!(one.mark, ReadingVerdict::Follows);
        let off = one.follows.unwrap().to(reading.value).number();
        assert!(off.abs() < EXACT_DEG, "{off}");
    }
}

/// An hour has no error but that of writing it down: an even spread over its last digit,
/// whose standard deviation is a √12th of it. Of hands that would explain it as well the
/// likeliest is the steady one, which makes no more of it.
#[test]
fn what_is_written_coarsely_fits_more_easily() {
    let actual = conditions("zodiac", 5);
    let operation = casting(&actual.instrument, &[TURNING]);
    let working = carry_out(&operation, &actual);
    let right = working.reading(Quantity::HourForRule).unwrap().value;
    let misfit = |written_deg: f64| {
        let reading = PupilReading {
            quantity: Quantity::HourForRule,
            value: right.measure().value(right.number() + 0.5),
            written_to: Amount::Time(Angle::from_deg(written_deg)),
        };
        let found = correct(&operation, &actual, &[reading]);
        let explanations = found.explanations.iter();
        let none = explanations.into_iter().find(|one| one.slips.is_empty());
        none.unwrap().misfit
    };
    for written_deg in [0.25, 1.0, 3.75] {
        let wanted = 0.5 * 12.0_f64.sqrt() / written_deg;
        let found = misfit(written_deg);
        assert!((found - wanted).abs() < 1e-6, "{found}, not {wanted}");
    }
}

/// Two slips are looked for together where none alone explains the readings, and only there.
#[test]
fn pairs_of_slips_are_for_what_no_slip_alone_explains() {
    let actual = conditions("zodiac", 5);
    let operation = casting(&actual.instrument, &[TURNING]);
    for slips in [
        &[][..],
        &[Slip::SummerTimeLeftIn],
        &[Slip::SummerTimeLeftIn, Slip::MidheavenNextSign],
    ] {
        let (mut slipped, mut conditions) = (operation.clone(), actual.clone());
        for slip in slips {
            assert!(slip.apply(&mut slipped, &mut conditions));
        }
        let working = carry_out(&slipped, &conditions);
        let readings = figure_read(&working);
        let found = correct(&operation, &actual, &readings);
        assert!(found.fits);
        assert_eq!(found.explanations[0].slips, slips);
        let most = found.explanations.iter().map(|one| one.slips.len()).max();
        assert_eq!(most, Some(slips.len().max(1)), "{slips:?}");
    }
}

/// A tell-tale is put down to slips that give its readings, each of them.
#[test]
fn a_tell_tale_is_of_all_that_give_it() {
    let actual = conditions("zodiac", 5);
    let operation = casting(&actual.instrument, &[TURNING]);
    let asked = [Quantity::HourForRule, Quantity::Ascendant]
        .map(|quantity| (quantity, quantity.measure().answered_to()));
    let right = carry_out(&operation, &actual);
    let tales = tell_tales(&operation, &actual, &asked);
    assert!(tales.len() >= 5, "{tales:?}");
    for tale in tales {
        for slip in tale.slips {
            for ((quantity, to), shown) in asked.iter().zip(&tale.shows) {
                let moved = moves(slip, &actual, *quantity).unwrap();
                let off = right.reading(*quantity).unwrap().value.to(*shown).number();
                assert!(apart(moved, off) <= to.number(), "{slip:?}: {moved}, {off}");
            }
        }
    }
}

/// Beside an altitude lie the engraved almucantars below and above it; one that is met needs
/// no other, the horizon is the lowest, and the zenith is none.
#[test]
fn lines_to_look_at_are_those_beside_what_is_read() {
    let mut conditions = conditions("zodiac", 5);
    let step = f64::from(conditions.instrument.almucantar_step());
    let operation = Task::HourBySun.operation(&conditions.instrument, &TaskChoices::default());
    for (altitude, wanted) in [
        (4.3 * step, vec![4.0 * step, 5.0 * step]),
        (4.0 * step, vec![4.0 * step]),
        (0.5 * step, vec![0.0, step]),
        (90.0 - 0.4 * step, vec![90.0 - step]),
    ] {
        let seen = Seen {
            value: Value::Height(Angle::from_deg(altitude)),
            within: None,
        };
        conditions.seen.insert(Sighting::Altitude, seen);
        let working = carry_out(&operation, &conditions);
        let lines: Vec<LineId> = working
            .steps
            .iter()
            .flat_map(|done| done.lines.clone())
            .filter(|line| matches!(line, LineId::Almucantar(_)))
            .collect();
        let wanted: Vec<LineId> = wanted
            .into_iter()
            .filter(|altitude| *altitude > 0.0)
            .map(|altitude| LineId::Almucantar(Minutes::nearest(altitude)))
            .collect();
        assert_eq!(lines, wanted, "{altitude}");
    }
    let operation = Task::PlanetaryHour.operation(&conditions.instrument, &TaskChoices::default());
    let working = carry_out(&operation, &conditions);
    let done = working.steps.iter().rev().find_map(|done| {
        let (_, reading) = done.outcome.as_ref()?.as_ref().ok()?;
        let Value::UnequalHours(hour) = reading.value else {
            return None;
        };
        Some((hour, done.lines.clone()))
    });
    let (hour, lines) = done.unwrap();
    // Where no line is engraved, the horizon or the meridian is in its place.
    // The hours of the night, from 12 to 24, stand at the lines of the day.
    let below = hour.rem_euclid(12.0).floor();
    let beside: Vec<LineId> = [below, below + 1.0]
        .into_iter()
        .filter_map(|number| UnequalHour::new(number as u8))
        .map(LineId::UnequalHour)
        .collect();
    assert_eq!(lines[1..], beside, "hour {hour}");
}

/// The cusps are had from the lines 8, 10, 2 and 4; whoever counts wrong by one has the lines
/// beside them.
#[test]
fn miscounted_hour_lines_are_the_next_ones() {
    let conditions = conditions("zodiac", 5);
    let lines = |slip: Slip| {
        let mut operation = casting(&conditions.instrument, &[TURNING]);
        assert!(slip.apply(&mut operation, &mut conditions.clone()));
        let turned = operation.steps.iter().filter_map(|step| match step.act {
            Act::TurnRete {
                onto: LineId::UnequalHour(hour),
                ..
            } => Some(hour.number()),
            _ => None,
        });
        turned.collect::<BTreeSet<u8>>()
    };
    assert_eq!(lines(Slip::NextHourLine), BTreeSet::from([9, 11, 3, 5]));
    assert_eq!(lines(Slip::HourLineBefore), BTreeSet::from([7, 9, 1, 3]));
}

/// After the cusps by the thirds of the limb the rule is brought back onto the hour, so that
/// what is worked next begins where everything began.
#[test]
fn after_the_thirds_of_the_limb_the_rule_is_on_the_hour_again() {
    let conditions = conditions("zodiac", 5);
    let operation = casting(&conditions.instrument, &[Procedure::LimbThirds]);
    let working = carry_out(&operation, &conditions);
    let set = working
        .steps
        .iter()
        .find(|done| done.is_setting_of_the_sun());
    let last = working.steps.last().unwrap();
    assert_eq!(last.after, set.unwrap().after);
}
