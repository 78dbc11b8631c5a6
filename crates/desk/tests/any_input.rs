//! Whatever is written where something is to be understood: it is read or refused, at once,
//! and nothing breaks. Inputs are good ones that were spoiled, the same on every machine.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::LazyLock;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;
use std::time::{Duration, Instant};

use desk::{Cabinet, Class, EXAMPLE_CLASS, EXAMPLE_MEASUREMENTS, WithInstrument};
use instrument::{Measurements, Specification};
use moment::{Calendar, Clock, Moment, Place, SaidMoment, Zone};
use ordeal::{Dice, Thorns, tell, times};
use patience::Patience;
use sky::Zodiacal;

/// No input may take longer.
const LONGEST: Duration = Duration::from_secs(1);

/// The whole test may take no more memory, with the gazetteer and all that is embedded.
const MOST_MEMORY_KB: u64 = 200 * 1024;

/// Something that is understood: what it is called, good inputs, how many of ten thousand
/// are for it, and how it is read. A misspelt place is looked for among all names that there
/// are, so that few are tried.
struct Parser {
    name: &'static str,
    good: Vec<String>,
    share: u64,
    read: fn(&str),
}

fn owned(good: &[&str]) -> Vec<String> {
    good.iter().map(|text| (*text).to_owned()).collect()
}

fn parsers() -> Vec<Parser> {
    let specifications = [
        include_str!("../../../data/cabinet/class.toml"),
        include_str!("../../../data/cabinet/date-ring.toml"),
        include_str!("../../../data/cabinet/southern.toml"),
        include_str!("../../../data/museum/england-1326.toml"),
    ];
    vec![
        Parser {
            name: "dates and times",
            good: owned(&[
                "2024-05-14 09:20",
                "-0043-03-15 12:00:30.5",
                "1582-10-15 00:00",
                "now",
                "14 May 2024, 9.20",
                "2016-12-31 23:59:60",
            ]),
            share: 3300,
            read: |text| {
                let place = Place::at(42.88, -8.54).unwrap();
                for (clock, calendar) in
                    [(Clock::Mean, None), (Clock::Zone, Some(Calendar::Julian))]
                {
                    let said = SaidMoment::new(text, place.clone()).map(|said| SaidMoment {
                        clock,
                        calendar,
                        zone: Zone::named("Europe/Madrid").ok(),
                        ..said
                    });
                    let moment = said.and_then(|said| Moment::resolve(&said, None));
                    let _ = moment.map_err(|error| error.to_string());
                }
            },
        },
        Parser {
            name: "dates meant",
            good: owned(&[
                "14.5.2024 9:20",
                "May 14th 2024 9.20 pm",
                "3/4/1999",
                "2024-5-14 9:5",
            ]),
            share: 1000,
            read: |text| drop(desk::dates_meant(text)),
        },
        Parser {
            name: "clocks and zones",
            good: owned(&[
                "zone",
                "mean",
                "+05:30",
                "-12:00:15",
                "Europe/Madrid",
                "America/Argentina/Ushuaia",
            ]),
            share: 1600,
            read: |text| {
                let _ = text.parse::<Clock>().map_err(|error| error.to_string());
                let _ = Zone::named(text).map_err(|error| error.to_string());
            },
        },
        Parser {
            name: "degrees of the zodiac",
            good: owned(&[
                "11 Pisces",
                "11°30′ Pisces",
                "341.5",
                "29°59′59″ virgo",
                "0 Aries",
            ]),
            share: 3310,
            read: |text| {
                let _ = text.parse::<Zodiacal>().map_err(|error| error.to_string());
            },
        },
        Parser {
            name: "places",
            good: owned(&[
                "42.8806,-8.5449",
                "42°53′N 8°33′W",
                "Lisbon, Portugal",
                "Santiago de Compostela, Galicia, Spain",
                "Leipzig",
                "Constantinople",
            ]),
            share: 3,
            read: |text| {
                let _ = Place::find(text).map_err(|error| error.to_string());
            },
        },
        Parser {
            name: "specifications",
            good: owned(&specifications),
            share: 300,
            read: |text| {
                let _ = Specification::from_toml(text).map_err(|error| error.to_string());
            },
        },
        Parser {
            name: "measurements",
            good: owned(&[EXAMPLE_MEASUREMENTS]),
            share: 280,
            read: |text| {
                let _ = Measurements::from_toml(text).map_err(|error| error.to_string());
            },
        },
        Parser {
            name: "classes",
            good: owned(&[EXAMPLE_CLASS]),
            share: 90,
            read: |text| {
                let _ = Class::from_toml(text).map_err(|error| error.to_string());
            },
        },
        Parser {
            name: "lots",
            good: owned(&[include_str!("../../../data/lots.toml")]),
            share: 100,
            read: |text| {
                let lots = figure::Lots::built_in();
                let _ = lots.extended_by(text).map_err(|error| error.to_string());
            },
        },
        Parser {
            name: "exercises",
            good: vec![exercises()],
            share: 17,
            read: |text| {
                let _ = desk::exercises_of_json(text).map_err(|error| error.to_string());
            },
        },
    ]
}

/// The exercises of a small class, as they are written.
fn exercises() -> String {
    let class = Class::from_toml(
        "version = 1\nname = \"An invented class\"\nplace = \"42.88,-8.54\"\nzone = \"Europe/Madrid\"\n\
                year = 2026\nseed = 5\nquestions = 1\n\
         [[pupils]]\nname = \"One Example\"\nwith = \"class instrument\"\n",
    )
    .unwrap();
    let own = [WithInstrument::Named("class instrument".to_owned())];
    let drawn = desk::exercises(&class, &own, &Cabinet::built_in(), Patience::ENDLESS).unwrap();
    serde_json::to_string(&drawn).unwrap()
}

/// The processor's time that this thread has taken, where the system tells; else the time
/// of the clock, which goes on while others are at work.
fn time_of_thread() -> Duration {
    static BEGUN: LazyLock<Instant> = LazyLock::new(Instant::now);
    let told = std::fs::read_to_string("/proc/thread-self/schedstat").ok();
    let told = told.and_then(|text| text.split_whitespace().next()?.parse().ok());
    told.map_or_else(|| BEGUN.elapsed(), Duration::from_nanos)
}

/// The most memory that this process has taken, where the system tells.
fn most_memory_kb() -> Option<u64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status
        .lines()
        .find_map(|line| line.strip_prefix("VmHWM:"))?;
    line.split_whitespace().next()?.parse().ok()
}

/// Some inputs of a parser, from dice of their own.
struct Heap<'a> {
    parser: &'a Parser,
    seed: u64,
    inputs: u64,
}

/// The inputs of all parsers in heaps, so that each core may take the next.
fn heaps(parsers: &[Parser]) -> Vec<Heap<'_>> {
    /// How often all the shares are tried in the whole ordeal: ten million inputs.
    const WHOLE: u64 = 1000;
    const MOST: u64 = 5000;
    let mut heaps = Vec::new();
    for parser in parsers {
        let mut left = times(2 * parser.share, WHOLE * parser.share);
        while left > 0 {
            let inputs = left.min(MOST);
            left -= inputs;
            heaps.push(Heap {
                parser,
                seed: ((parser.name.len() as u64) << 32) + left,
                inputs,
            });
        }
    }
    heaps
}

impl Heap<'_> {
    /// Tries them, and tells how long the slowest took.
    fn try_all(&self, thorns: &Thorns) -> Duration {
        let Heap {
            parser,
            seed,
            inputs,
        } = self;
        let mut dice = Dice::seeded(*seed);
        let mut longest = Duration::ZERO;
        for _ in 0..*inputs {
            let text = thorns.spoil(&parser.good, &mut dice);
            let begun = time_of_thread();
            let read = catch_unwind(AssertUnwindSafe(|| (parser.read)(&text)));
            let took = time_of_thread().saturating_sub(begun);
            assert!(read.is_ok(), "{} broke on {text:?}", parser.name);
            assert!(took < LONGEST, "{}: {took:?} for {text:?}", parser.name);
            longest = longest.max(took);
        }
        longest
    }
}

#[test]
fn any_input_is_read_or_refused_at_once() {
    let parsers = parsers();
    assert_eq!(parsers.iter().map(|one| one.share).sum::<u64>(), 10_000);
    let (heaps, thorns, next) = (heaps(&parsers), Thorns::default(), AtomicUsize::new(0));
    let tried: u64 = heaps.iter().map(|heap| heap.inputs).sum();
    let slowest_of = || {
        let taken = std::iter::from_fn(|| heaps.get(next.fetch_add(1, Ordering::Relaxed)));
        taken
            .map(|heap| (heap.try_all(&thorns), heap.parser.name))
            .max()
    };
    let cores = thread::available_parallelism().map_or(1, usize::from);
    let longest = thread::scope(|scope| {
        let threads: Vec<_> = (0..cores).map(|_| scope.spawn(slowest_of)).collect();
        let slowest = threads.into_iter().map(|one| one.join().unwrap());
        slowest.flatten().max().unwrap()
    });
    let memory = most_memory_kb().unwrap_or(0);
    assert!(memory < MOST_MEMORY_KB, "{memory} kB");
    tell(
        "spoiled dates, clocks, places, degrees, specifications, measurements, classes, lots and exercises",
        tried,
        &format!(
            "all read or refused; the longest took {:.0} ms ({}), all together {} MB",
            longest.0.as_secs_f64() * 1000.0,
            longest.1,
            memory / 1024
        ),
    );
}
