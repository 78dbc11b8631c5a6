//! Correcting: for random cases each slip is made, the readings are rounded as a
//! reader would, and the slip must be named.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]
#![expect(clippy::print_stdout, reason = "the confusion table is for people")]

use std::collections::BTreeMap;

use instrument::{House, Instrument, Specification, YearDay};
use practice::{
    Amount, Conditions, Correction, Explanation, Given, Procedure, PupilReading, Quantity, Slip,
    SunPlace, Term, Value, carry_out, casting, correct, tell_tales, tolerances, within,
};
use sky::{Angle, Latitude};

/// Steps of a quarter turn and the golden part of it: even and without pattern.
struct Spread(f64);

impl Spread {
    fn next(&mut self, from: f64, to: f64) -> f64 {
        self.0 = (self.0 + 0.618_033_988_749_895).fract();
        // A second stirring, or successive numbers would march together.
        let stirred = (self.0 * 7919.0).fract();
        from + (to - from) * stirred
    }
}

fn instruments() -> Vec<Instrument> {
    let build = |size: u32, from: &str, plates: &str| {
        let text = format!(
            "version = 1\nname = \"invented\"\ndiameter_mm = {size}\nhemisphere = \"north\"\n\
             orientation = \"noon-up\"\nepoch_year = 2025\nplates_deg = [{plates}]\n\
             date_from = \"{from}\"\ncalendar_leap_mean = true\n"
        );
        Instrument::new(Specification::from_toml(&text).unwrap())
    };
    vec![
        build(180, "zodiac", "38, 42, 46, 50"),
        build(300, "zodiac", "36, 40, 44, 48, 52"),
        build(210, "equal-day-ring", "40, 45, 50, 55"),
    ]
}

fn actual(instrument: &Instrument, spread: &mut Spread) -> Conditions {
    let date = YearDay {
        month: spread.next(1.0, 12.99) as u8,
        day: spread.next(1.0, 27.99) as u8,
        part: 0.4,
    };
    let place = instrument.dates().at(date);
    let ring = instrument.date_from().wants_mean_time();
    let equation = Angle::from_deg(spread.next(-4.0, 4.0));
    // A ring of equal days carries the mean Sun.
    let right_ascension = if ring { place + equation } else { place };
    let obliquity = instrument.obliquity();
    let longitude = if ring {
        let (sin, cos) = right_ascension.sin_cos();
        Angle::atan2(sin, cos * obliquity.cos()).in_turn()
    } else {
        place
    };
    let sun = SunPlace {
        longitude,
        right_ascension,
        declination: Latitude::asin(longitude.sin() * obliquity.sin()),
    };
    let plates = &instrument.specification().plates;
    let plate = plates[spread.next(0.0, plates.len() as f64 - 0.01) as usize];
    let latitude = Latitude::from_deg(plate.deg() + spread.next(-1.0, 1.0)).unwrap();
    let term = |correction, deg: f64| Term {
        correction,
        amount: Angle::from_deg(deg),
    };
    let given = Given {
        latitude,
        clock: Angle::from_deg(spread.next(0.0, 360.0)),
        to_mean: vec![
            term(Correction::SummerTime, -15.0),
            term(Correction::Zone, -15.0),
            term(Correction::Longitude, spread.next(-12.0, 24.0)),
        ],
        equation_of_time: equation,
        clock_is_apparent: false,
        date,
        sun,
    };
    Conditions::actual(given, instrument.clone(), &[])
}

const PROCEDURE: Procedure = Procedure::Turning;

fn quantities(instrument: &Instrument) -> Vec<Quantity> {
    let mut asked = vec![Quantity::HourForRule];
    if instrument.date_from() == instrument::DateFrom::Zodiac {
        asked.push(Quantity::SunDegree);
    }
    asked.extend([Quantity::Ascendant, Quantity::Midheaven]);
    let cusps = PROCEDURE
        .read_houses()
        .map(|house| PROCEDURE.quantity(house));
    asked.extend(cusps);
    asked
}

/// What a pupil writes down: to the minute of time and the minute of arc.
fn written(quantity: Quantity, value: Value) -> PupilReading {
    let step = if quantity == Quantity::HourForRule {
        0.25
    } else {
        1.0 / 60.0
    };
    PupilReading {
        quantity,
        value: value
            .measure()
            .value((value.number() / step).round() * step),
        written_to: value.measure().amount(step),
    }
}

/// The readings after some slips, and whether any is moved by more than twice what
/// it can be read to; `None` where there is no occasion for them.
fn read(actual: &Conditions, slips: &[Slip]) -> Option<(Vec<PupilReading>, bool)> {
    let right = casting(&actual.instrument, &[PROCEDURE]);
    let (mut operation, mut conditions) = (right.clone(), actual.clone());
    if !slips
        .iter()
        .all(|slip| slip.apply(&mut operation, &mut conditions))
    {
        return None;
    }
    let (should, does) = (
        carry_out(&right, actual),
        carry_out(&operation, &conditions),
    );
    let within = within(&right, actual);
    let mut moved = false;
    let readings: Vec<PupilReading> = quantities(&actual.instrument)
        .into_iter()
        .filter_map(|quantity| {
            let value = does.reading(quantity).ok()?.value;
            if let Ok(reading) = should.reading(quantity) {
                let fine = within.get(&quantity).map_or(0.0, |fine| fine.number());
                let fine = reading.reads_to.number().max(fine).max(0.25);
                moved |= reading.value.to(value).number().abs() > fine * 2.0;
            }
            Some(written(quantity, value))
        })
        .collect();
    Some((readings, moved))
}

const CASES: usize = 6;

#[test]
fn each_slip_is_named() {
    let mut spread = Spread(0.1234);
    let mut tried: BTreeMap<Slip, [usize; 4]> = BTreeMap::new();
    let mut confused: BTreeMap<(Slip, String), usize> = BTreeMap::new();
    for instrument in instruments() {
        for _ in 0..CASES {
            let actual = actual(&instrument, &mut spread);
            for slip in Slip::ALL {
                let Some((readings, true)) = read(&actual, &[slip]) else {
                    continue;
                };
                let operation = casting(&instrument, &[PROCEDURE]);
                let found = correct(&operation, &actual, &readings);
                let rank = found
                    .explanations
                    .iter()
                    .find(|one| one.slips == [slip])
                    .map(|one| one.rank);
                let counts = tried.entry(slip).or_default();
                counts[0] += 1;
                match rank {
                    Some(1) => counts[1] += 1,
                    Some(2 | 3) => counts[2] += 1,
                    _ => counts[3] += 1,
                }
                if rank != Some(1) {
                    let first = found.explanations.first().map(|one| {
                        let names: Vec<&str> = one.slips.iter().map(|slip| slip.name()).collect();
                        names.join(" + ")
                    });
                    *confused
                        .entry((slip, first.unwrap_or_default()))
                        .or_default() += 1;
                }
            }
        }
    }
    let mut all = [0; 4];
    println!(
        "{:<26}{:>6}{:>7}{:>9}{:>7}",
        "slip", "tried", "first", "to third", "later"
    );
    for (slip, counts) in &tried {
        println!(
            "{:<26}{:>6}{:>7}{:>9}{:>7}",
            slip.name(),
            counts[0],
            counts[1],
            counts[2],
            counts[3]
        );
        for (sum, count) in all.iter_mut().zip(counts) {
            *sum += count;
        }
    }
    println!("all {all:?}");
    for ((slip, other), count) in &confused {
        println!("{} taken for {other:?}: {count}", slip.name());
    }
    let [tried_all, first, to_third, _] = all.map(|count| count as f64);
    assert!(tried.len() >= 20, "{} slips had occasion", tried.len());
    assert!(first >= 0.90 * tried_all, "{all:?}");
    assert!(first + to_third >= 0.98 * tried_all, "{all:?}");
}

#[test]
fn right_readings_are_called_right() {
    let mut spread = Spread(0.77);
    let (mut right, mut all) = (0, 0);
    for instrument in instruments() {
        for _ in 0..40 {
            let actual = actual(&instrument, &mut spread);
            let (readings, _) = read(&actual, &[]).unwrap();
            let found = correct(&casting(&instrument, &[PROCEDURE]), &actual, &readings);
            all += 1;
            right += usize::from(found.fits && found.explanations[0].slips.is_empty());
        }
    }
    println!("right readings called right: {right} of {all}");
    assert!(right * 100 >= all * 95, "{right} of {all}");
}

#[test]
fn two_slips_together_are_found() {
    let mut spread = Spread(0.31);
    let pairs = [
        [Slip::SummerTimeLeftIn, Slip::LinesOfOtherRow],
        [Slip::LongitudeWrongWay, Slip::WesternHorizon],
        [Slip::NextMonth, Slip::NextHourLine],
        [Slip::MorningForEvening, Slip::MidheavenNextSign],
    ];
    let (mut first, mut to_third, mut all) = (0, 0, 0);
    for instrument in &instruments()[..2] {
        for pair in &pairs {
            for _ in 0..3 {
                let actual = actual(instrument, &mut spread);
                let Some((readings, true)) = read(&actual, pair) else {
                    continue;
                };
                let found = correct(&casting(instrument, &[PROCEDURE]), &actual, &readings);
                let rank = found
                    .explanations
                    .iter()
                    .find(|one| {
                        one.slips.iter().all(|slip| pair.contains(slip)) && one.slips.len() == 2
                    })
                    .map(|one| one.rank);
                all += 1;
                first += usize::from(rank == Some(1));
                to_third += usize::from(rank.is_some_and(|rank| rank <= 3));
            }
        }
    }
    println!("pairs: {first} first, {to_third} to third, of {all}");
    assert!(to_third * 10 >= all * 9, "{to_third} of {all}");
}

#[test]
fn nonsense_is_said_to_be_explained_by_nothing() {
    let instrument = &instruments()[0];
    let actual = actual(instrument, &mut Spread(0.5));
    let readings: Vec<PupilReading> = [(2, 17.3), (3, 205.0), (5, 290.0), (6, 41.0), (1, 133.0)]
        .into_iter()
        .map(|(house, deg)| PupilReading {
            quantity: PROCEDURE.quantity(House::from_number(house).unwrap()),
            value: Value::Degree(Angle::from_deg(deg)),
            written_to: Amount::Angle(Angle::from_deg(1.0)),
        })
        .collect();
    let found = correct(&casting(instrument, &[PROCEDURE]), &actual, &readings);
    assert!(!found.fits);
}

/// A tell-tale is its slip carried out, and a pupil who writes it down is told of that
/// slip first, and of all that no reading could tell from it.
#[test]
fn tell_tales_are_their_slips_and_are_put_down_to_them() {
    let mut spread = Spread(0.37);
    let (mut tried, mut slips_seen) = (0, std::collections::BTreeSet::new());
    for instrument in instruments() {
        for _ in 0..6 {
            let actual = actual(&instrument, &mut spread);
            let operation = casting(&instrument, &[PROCEDURE]);
            let written_to = |quantity: Quantity| {
                let nothing = quantity.measure().value(0.0);
                written(quantity, nothing).written_to
            };
            let asked: Vec<(Quantity, Amount)> = quantities(&instrument)
                .into_iter()
                .map(|quantity| (quantity, written_to(quantity)))
                .collect();
            for tale in tell_tales(&operation, &actual, &asked) {
                let first = tale.slips[0];
                slips_seen.extend(tale.slips.iter().copied());
                let (mut changed, mut conditions) = (operation.clone(), actual.clone());
                assert!(first.apply(&mut changed, &mut conditions));
                let working = carry_out(&changed, &conditions);
                for ((quantity, _), shown) in asked.iter().zip(&tale.shows) {
                    assert_eq!(working.reading(*quantity).unwrap().value, *shown);
                }
                let readings: Vec<PupilReading> = asked
                    .iter()
                    .zip(&tale.shows)
                    .map(|((quantity, _), shown)| written(*quantity, *shown))
                    .collect();
                let found = correct(&operation, &actual, &readings);
                assert!(found.fits, "{:?}", tale.slips);
                let named: Vec<Slip> = found
                    .explanations
                    .iter()
                    .filter(|one| one.rank == 1)
                    .flat_map(|one| one.slips.clone())
                    .collect();
                for slip in &tale.slips {
                    assert!(named.contains(slip), "{slip:?} is not in {named:?}");
                }
                tried += 1;
            }
        }
    }
    // Each of the commonest has its occasion.
    assert!(tried > 200, "{tried}");
    assert_eq!(slips_seen.len(), Slip::COMMONEST.len(), "{slips_seen:?}");
}

/// Midway between what is right and what a slip gives, either explains the reading as well.
/// What parts their weights is then what a slip costs: it is put forward when it makes the
/// readings e^4.5 times as likely, some ninety.
#[test]
fn a_slip_is_put_forward_when_it_is_ninety_times_as_likely() {
    let mut spread = Spread(0.59);
    let mut held = 0;
    for instrument in instruments() {
        let actual = actual(&instrument, &mut spread);
        let operation = casting(&instrument, &[PROCEDURE]);
        let hour = carry_out(&operation, &actual);
        let hour = hour.reading(Quantity::HourForRule).unwrap().value;
        let explained = |value| {
            let reading = PupilReading {
                value,
                ..written(Quantity::HourForRule, value)
            };
            let found = correct(&operation, &actual, &[reading]);
            found.explanations.into_iter()
        };
        let found: Vec<Explanation> = explained(hour).collect();
        let right = found[0].shows[0].unwrap();
        for wrong in found.iter().filter(|one| one.slips.len() == 1) {
            let off = right.to(wrong.shows[0].unwrap()).number();
            let midway = right.measure().value(right.number() + off / 2.0);
            let weight = |slips: &[Slip]| {
                let explanation = explained(midway).find(|one| one.slips == slips);
                let weight = explanation.map(|one| one.weight);
                // What is too unlikely for a number weighs nothing.
                weight.filter(|weight| *weight > 1e-200)
            };
            if let (Some(none), Some(one)) = (weight(&[]), weight(&wrong.slips)) {
                let ratio = none / one;
                assert!((ratio - 90.0).abs() < 0.1, "{:?}: {ratio}", wrong.slips);
                held += 1;
            }
        }
    }
    assert!(held >= 3, "{held} slips were weighed");
}

/// On brass that is true itself, an answer is right as far off as hand and eye come, or as
/// it is rounded, whichever is more, and no further than both together.
#[test]
fn an_answer_may_be_off_by_hand_and_rounding_alone() {
    let mut spread = Spread(0.23);
    for instrument in instruments() {
        let actual = actual(&instrument, &mut spread);
        let operation = casting(&instrument, &[PROCEDURE]);
        let hand = within(&operation, &actual);
        let tolerances = tolerances(&operation, &actual, &actual);
        assert_eq!(hand.len(), tolerances.len());
        for (quantity, tolerance) in tolerances {
            let hand = hand[&quantity].number();
            let rounding = quantity.measure().answered_to().number() / 2.0;
            let tolerance = tolerance.number();
            assert!(
                (hand.max(rounding)..=hand + rounding).contains(&tolerance),
                "{quantity:?}: {tolerance}, by hand {hand}, by rounding {rounding}"
            );
        }
    }
}
