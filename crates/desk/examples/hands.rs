//! How well correcting finds what was done, measured on hands that scatter.
//!
//!     cargo run --example hands -p desk > reference/hands.md
//!
//! For random moments in nine towns each slip is worked in; what the instrument then
//! shows is put off by the hand's own scatter, each reading by itself, written to 5′, and
//! corrected. The tables of `reference/hands.md` are what this prints. `angles 2` after
//! `--` measures the two angles at twice the scatter alone, and says what was taken for
//! what.

#![expect(clippy::print_stdout, reason = "the tables are what it is for")]

use std::collections::BTreeMap;
use std::process::ExitCode;

use desk::{Cabinet, CastRequest, Casting, Refusal, WithInstrument};
use instrument::{DateFrom, Eye};
use practice::{
    Conditions, Corrected, Figures, Operation, PupilReading, Quantity, Slip, carry_out, casting,
    correct, within,
};

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
/// How often readings without a slip are made of each.
const RIGHT_HANDS: usize = 3;

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
    town: (&str, &str),
    instrument: &str,
    asked: Asked,
    chance: &mut Chance,
) -> Result<Case, Refusal> {
    let (at, zone) = town;
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
    let mut quantities = vec![Quantity::Ascendant, Quantity::Midheaven];
    if asked == Asked::All {
        quantities.push(Quantity::HourForRule);
        if of.instrument.date_from() == DateFrom::Zodiac {
            quantities.push(Quantity::SunDegree);
        }
        quantities.extend(of.by.read_houses().map(|house| of.by.quantity(house)));
    }
    Ok(Case {
        operation: casting(&of.instrument, &[of.by]),
        actual: of.actual(),
        asked: quantities,
    })
}

impl Case {
    /// What a hand writes down after some slips; `None` where there is no occasion for
    /// them, or where none of the readings shows them: by more than twice what hand and
    /// eye come near.
    fn written(
        &self,
        slips: &[Slip],
        scatter: f64,
        chance: &mut Chance,
    ) -> Option<Vec<PupilReading>> {
        let (mut operation, mut actual) = (self.operation.clone(), self.actual.clone());
        let mut occasion = |slip: &Slip| slip.apply(&mut operation, &mut actual);
        if !slips.iter().all(&mut occasion) {
            return None;
        }
        let right = carry_out(&self.operation, &steady(&self.actual));
        let done = carry_out(&operation, &steady(&actual));
        let near = within(&self.operation, &self.actual);
        let near_so = within(&operation, &actual);
        let mut shows = slips.is_empty();
        let readings = self.asked.iter().filter_map(|quantity| {
            let value = done.reading(*quantity).ok()?.value;
            if let (Ok(right), Some(near)) = (right.reading(*quantity), near.get(quantity)) {
                shows |= right.value.to(value).abs() > *near * 2.0;
            }
            // Nineteen of twenty lie within 1.96 deviations.
            let deviation = near_so.get(quantity).map_or(0.0, |near| near.number()) / 1.96;
            let read = value.number() + deviation * scatter * chance.gauss();
            let (step_deg, written_to) = match quantity {
                // A sum is written to the minute of time.
                Quantity::HourForRule => (0.25, 0.25),
                _ => (5.0 / 60.0, 1.0 / 60.0),
            };
            Some(PupilReading {
                quantity: *quantity,
                value: value.measure().value((read / step_deg).round() * step_deg),
                written_to: value.measure().amount(written_to),
            })
        });
        let readings: Vec<PupilReading> = readings.collect();
        shows.then_some(readings)
    }

    fn corrected(&self, readings: &[PupilReading]) -> Corrected {
        correct(&self.operation, &self.actual, readings)
    }
}

/// The same person with a steady hand and a perfect eye.
fn steady(conditions: &Conditions) -> Conditions {
    Conditions {
        setting: Eye::PERFECT,
        reading: Eye::PERFECT,
        figures: Figures::Exact,
        ..conditions.clone()
    }
}

/// Which readings are given.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Asked {
    Angles,
    All,
}

impl Asked {
    fn name(self) -> &'static str {
        match self {
            Asked::Angles => "angles",
            Asked::All => "all",
        }
    }

    fn words(self) -> &'static str {
        match self {
            Asked::Angles => "ascendant and midheaven",
            Asked::All => "these, the hour, the Sun's degree where it is read, and the cusps",
        }
    }
}

#[derive(Clone, Copy, Default)]
struct Counts {
    tried: usize,
    first: usize,
    to_third: usize,
    /// How many explanations share the first place.
    named: usize,
}

impl Counts {
    /// Counts what was found of a slip; whether it stands first.
    fn add(&mut self, found: &Corrected, slip: Slip) -> bool {
        let own = found.explanations.iter().find(|one| one.slips == [slip]);
        let rank = own.map(|one| one.rank);
        let first = found.explanations.iter().filter(|one| one.rank == 1);
        self.tried += 1;
        self.first += usize::from(rank == Some(1));
        self.to_third += usize::from(rank.is_some_and(|rank| rank <= 3));
        self.named += first.count();
        rank == Some(1)
    }

    fn in_hundred(self, count: usize) -> String {
        if self.tried == 0 {
            return "–".to_owned();
        }
        format!("{:.1}", 100.0 * count as f64 / self.tried as f64)
    }
}

/// What came of one hand and one choice of readings.
struct Measured {
    asked: Asked,
    scatter: f64,
    all: Counts,
    by_slip: BTreeMap<Slip, Counts>,
    /// What was taken for what, and how often.
    taken: BTreeMap<(Slip, String), usize>,
    right: usize,
    rights: usize,
}

fn measured(cabinet: &Cabinet, asked: Asked, scatter: f64) -> Result<Measured, Refusal> {
    let mut chance = Chance(1391);
    let mut found = Measured {
        asked,
        scatter,
        all: Counts::default(),
        by_slip: BTreeMap::new(),
        taken: BTreeMap::new(),
        right: 0,
        rights: 0,
    };
    for instrument in INSTRUMENTS {
        for town in TOWNS {
            for _ in 0..MOMENTS {
                let case = case(cabinet, town, instrument, asked, &mut chance)?;
                for _ in 0..RIGHT_HANDS {
                    if let Some(readings) = case.written(&[], scatter, &mut chance) {
                        found.rights += 1;
                        found.right += usize::from(case.corrected(&readings).is_right());
                    }
                }
                for slip in Slip::ALL {
                    if let Some(readings) = case.written(&[slip], scatter, &mut chance) {
                        found.count(&case.corrected(&readings), slip);
                    }
                }
            }
        }
    }
    Ok(found)
}

impl Measured {
    fn count(&mut self, corrected: &Corrected, slip: Slip) {
        self.all.add(corrected, slip);
        if self.by_slip.entry(slip).or_default().add(corrected, slip) {
            return;
        }
        let first = corrected.explanations.iter().filter(|one| one.rank == 1);
        let names: Vec<String> = first
            .map(|one| {
                let slips: Vec<&str> = one.slips.iter().map(|slip| slip.name()).collect();
                if slips.is_empty() {
                    "right".to_owned()
                } else {
                    slips.join(" and ")
                }
            })
            .collect();
        *self.taken.entry((slip, names.join(" or "))).or_default() += 1;
    }

    fn row(&self) {
        println!(
            "| {} | {} | {} | {} | {} | {:.2} | {} of {} |",
            self.scatter,
            self.asked.words(),
            self.all.tried,
            self.all.in_hundred(self.all.first),
            self.all.in_hundred(self.all.to_third),
            self.all.named as f64 / self.all.tried.max(1) as f64,
            self.right,
            self.rights
        );
    }
}

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    match run(&words) {
        Ok(()) => ExitCode::SUCCESS,
        Err(refusal) => {
            println!("{}", refusal.message);
            ExitCode::FAILURE
        }
    }
}

fn run(words: &[String]) -> Result<(), Refusal> {
    let cabinet = Cabinet::built_in();
    let mut all = Vec::new();
    println!("{HEAD}");
    for (asked, scatter) in [
        (Asked::Angles, 1.0),
        (Asked::Angles, 2.0),
        (Asked::All, 1.0),
        (Asked::All, 2.0),
    ] {
        let wanted = [asked.name().to_owned(), scatter.to_string()];
        if words.is_empty() || words == wanted {
            let found = measured(&cabinet, asked, scatter)?;
            found.row();
            all.push(found);
        }
    }
    if !words.is_empty() {
        for ((slip, other), count) in all.iter().flat_map(|one| &one.taken) {
            println!("{} taken for {other}: {count}", slip.name());
        }
        return Ok(());
    }
    println!("{BY_SLIP}");
    for slip in Slip::ALL {
        let cells = all.iter().map(|one| {
            let own = one.by_slip.get(&slip).copied().unwrap_or_default();
            format!("{} of {} ({})", own.first, own.tried, own.to_third)
        });
        let cells: Vec<String> = cells.collect();
        println!("| {} | {} |", slip.name(), cells.join(" | "));
    }
    Ok(())
}

const HEAD: &str = "\
# Correcting, measured on hands that scatter

    cargo run --example hands -p desk > reference/hands.md

For random moments from 1990 to 2024 in nine towns between 37° and 52° north, each slip is
worked into the casting of a figure on the class instrument and on the lecture instrument.
What they then show is put off by the hand's scatter, each reading by itself and as Gauss
has it, is written to 5′ of arc (the hour to a minute), and is corrected as anybody's
readings are. Scatter 1 puts nineteen of twenty readings within what the instrument allows,
scatter 2 within twice as much, as a beginner's hand does. Asked of are the slips that
show: that move one reading at least by more than twice what the instrument allows.

“First” is the slip made at the first place, “to third” at one of the first three; slips
between which no hand can tell share a place, and “named” is how many stand there on the
average. “Right” is how often readings with no slip in them are called right.

| scatter | readings | slips | first, % | to third, % | named | right |
|---|---|---|---|---|---|---|";

const BY_SLIP: &str = "
## By slip

How often it stood first of how many times it showed, and within the first three in
brackets; by readings and scatter as above.

| slip | angles, 1 | angles, 2 | all, 1 | all, 2 |
|---|---|---|---|---|";
