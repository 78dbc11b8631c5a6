//! How well correcting finds what was done, measured on hands that scatter.
//!
//!     cargo run --example hands -p desk > reference/hands.md
//!
//! For random moments in nine towns each slip is worked in; what the instrument then
//! shows is put off by the hand's own scatter, written to 5′, and corrected. The tables
//! of `reference/hands.md` are what this prints.

#![expect(clippy::print_stdout, reason = "the tables are what it is for")]

use std::collections::BTreeMap;
use std::process::ExitCode;

use desk::{Cabinet, CastRequest, Casting, Refusal, WithInstrument};
use instrument::DateFrom;
use practice::{
    Conditions, Corrected, Operation, PupilReading, Quantity, Slip, carry_out, casting, correct,
    within,
};
use sky::Angle;

/// Where figures are cast: towns between 37° and 52° north, on both sides of Greenwich.
const TOWNS: [(&str, &str); 9] = [
    ("37.3891,-5.9845", "Europe/Madrid"),
    ("39.8581,-4.0226", "Europe/Madrid"),
    ("41.0082,28.9784", "Europe/Istanbul"),
    ("42.8806,-8.5449", "Europe/Madrid"),
    ("43.7696,11.2558", "Europe/Rome"),
    ("45.4375,12.3358", "Europe/Rome"),
    ("48.8566,2.3522", "Europe/Paris"),
    ("50.0614,19.9366", "Europe/Warsaw"),
    ("51.5085,-0.1257", "Europe/London"),
];

const INSTRUMENTS: [&str; 2] = ["class instrument", "lecture instrument"];

/// The moments drawn for each town and instrument.
const MOMENTS: usize = 4;

/// How a hand errs.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Errs {
    /// In each reading by itself.
    ByReading,
    /// In each step, so that a part set badly puts off all that is read from it.
    ByStep,
}

/// Even numbers (SplitMix64), and errors as Gauss has them (Box and Muller).
struct Chance(u64);

impl Chance {
    fn even(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn below(&mut self, n: u32) -> u32 {
        (self.even() * f64::from(n)) as u32
    }

    fn gauss(&mut self) -> f64 {
        let radius = (-2.0 * (1.0 - self.even()).ln()).sqrt();
        radius * (self.even() * std::f64::consts::TAU).cos()
    }
}

/// A figure to be cast, and what of it is read.
struct Case {
    operation: Operation,
    actual: Conditions,
    asked: Vec<Quantity>,
}

fn case(
    cabinet: &Cabinet,
    town: usize,
    instrument: &str,
    all: bool,
    chance: &mut Chance,
) -> Result<Case, Refusal> {
    let (at, zone) = TOWNS[town];
    let request = CastRequest {
        when: format!(
            "{}-{:02}-{:02} {:02}:{:02}",
            1990 + chance.below(35),
            1 + chance.below(12),
            1 + chance.below(28),
            // No hour in which clocks are put forward or back.
            4 + chance.below(19),
            chance.below(60)
        ),
        at: at.to_owned(),
        zone: Some(zone.to_owned()),
        with: Some(WithInstrument::Named(instrument.to_owned())),
        ..CastRequest::default()
    };
    let of = Casting::of(&request, cabinet, None)?;
    let mut asked = vec![Quantity::Ascendant, Quantity::Midheaven];
    if all {
        asked.push(Quantity::HourForRule);
        if of.instrument.date_from() == DateFrom::Zodiac {
            asked.push(Quantity::SunDegree);
        }
        asked.extend(of.by.read_houses().map(|house| of.by.quantity(house)));
    }
    Ok(Case {
        operation: casting(&of.instrument, &[of.by]),
        actual: of.actual(),
        asked,
    })
}

/// What a hand writes down after some slips; `None` where there is no occasion for
/// them, or where no reading is moved by more than twice what a steady hand comes near.
fn written(
    case: &Case,
    slips: &[Slip],
    scatter: f64,
    errs: Errs,
    chance: &mut Chance,
) -> Option<Vec<PupilReading>> {
    let (mut operation, mut actual) = (case.operation.clone(), case.actual.clone());
    if !slips
        .iter()
        .all(|slip| slip.apply(&mut operation, &mut actual))
    {
        return None;
    }
    let perfect = |conditions: &Conditions| Conditions {
        setting: instrument::Eye::PERFECT,
        reading: instrument::Eye::PERFECT,
        ..conditions.clone()
    };
    let right = carry_out(&case.operation, &perfect(&case.actual));
    let done = carry_out(&operation, &perfect(&actual));
    let near = within(&case.operation, &case.actual);
    let near_now = within(&operation, &actual);
    let mut shows = slips.is_empty();
    let _ = errs;
    let readings = case.asked.iter().filter_map(|quantity| {
        let value = done.reading(*quantity).ok()?.value;
        let near = near.get(quantity).copied().unwrap_or_default();
        if let Ok(right) = right.reading(*quantity) {
            shows |= right.value.to(value).abs() > near * 2.0;
        }
        let now = near_now.get(quantity).copied().unwrap_or_default();
        let off = now * (scatter * chance.gauss() / 1.96);
        let (step, told) = match quantity {
            Quantity::HourForRule => (0.25, 0.25),
            _ => (5.0 / 60.0, 1.0 / 60.0),
        };
        Some(PupilReading {
            quantity: *quantity,
            value: Angle::from_deg(((value + off).deg() / step).round() * step),
            written_to: Angle::from_deg(told),
        })
    });
    let readings: Vec<PupilReading> = readings.collect();
    shows.then_some(readings)
}

#[derive(Clone, Copy, Default)]
struct Counts {
    tried: usize,
    first: usize,
    to_third: usize,
    several: usize,
}

impl Counts {
    fn add(&mut self, found: &Corrected, slip: Slip) {
        let rank = found
            .explanations
            .iter()
            .find(|one| one.slips == [slip])
            .map(|one| one.rank);
        let first = found
            .explanations
            .iter()
            .filter(|one| one.rank == 1)
            .count();
        self.tried += 1;
        self.first += usize::from(rank == Some(1));
        self.to_third += usize::from(rank.is_some_and(|rank| rank <= 3));
        self.several += usize::from(first > 1);
    }

    fn in_hundred(self, count: usize) -> String {
        if self.tried == 0 {
            return "–".to_owned();
        }
        format!("{:.1}", 100.0 * count as f64 / self.tried as f64)
    }
}

fn main() -> ExitCode {
    match run() {
        Ok(()) => ExitCode::SUCCESS,
        Err(refusal) => {
            println!("{}", refusal.message);
            ExitCode::FAILURE
        }
    }
}

fn run() -> Result<(), Refusal> {
    let cabinet = Cabinet::built_in();
    let verbose = std::env::args().any(|word| word == "--confused");
    for (all, scatter) in [(false, 1.0), (false, 2.0), (true, 1.0), (true, 2.0)] {
        for errs in [Errs::ByReading] {
            let mut chance = Chance(1391);
            let mut total = Counts::default();
            let mut by_slip: BTreeMap<Slip, Counts> = BTreeMap::new();
            let mut confused: BTreeMap<(Slip, String), usize> = BTreeMap::new();
            let (mut right, mut rights) = (0, 0);
            for instrument in INSTRUMENTS {
                for town in 0..TOWNS.len() {
                    for _ in 0..MOMENTS {
                        let case = case(&cabinet, town, instrument, all, &mut chance)?;
                        if let Some(readings) = written(&case, &[], scatter, errs, &mut chance) {
                            let found = correct(&case.operation, &case.actual, &readings);
                            rights += 1;
                            right += usize::from(
                                found.fits
                                    && found
                                        .explanations
                                        .first()
                                        .is_some_and(|one| one.slips.is_empty()),
                            );
                        }
                        for slip in Slip::ALL {
                            let Some(readings) =
                                written(&case, &[slip], scatter, errs, &mut chance)
                            else {
                                continue;
                            };
                            let found = correct(&case.operation, &case.actual, &readings);
                            total.add(&found, slip);
                            let own = by_slip.entry(slip).or_default();
                            let before = own.first;
                            own.add(&found, slip);
                            if own.first == before && verbose {
                                let names: Vec<String> = found
                                    .explanations
                                    .iter()
                                    .filter(|one| one.rank == 1)
                                    .map(|one| {
                                        one.slips
                                            .iter()
                                            .map(|slip| slip.name())
                                            .collect::<Vec<_>>()
                                            .join("+")
                                    })
                                    .collect();
                                *confused.entry((slip, names.join("|"))).or_default() += 1;
                            }
                        }
                    }
                }
            }
            println!(
                "all {all} scatter {scatter}: {} tried, first {}, to third {}, several {}, right {right} of {rights}",
                total.tried,
                total.in_hundred(total.first),
                total.in_hundred(total.to_third),
                total.in_hundred(total.several)
            );
            for ((slip, other), count) in confused {
                println!("   {} as {other}: {count}", slip.name());
            }
        }
    }
    Ok(())
}
