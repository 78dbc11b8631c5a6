//! What an operation finds are numbers, each in a place of its own, and north is positive.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use case::{Case, angle, cases};
use exact::exact;
use practice::{
    Figures, Finding, Quantity, Seen, Sighting, Stated, Task, TaskChoices, Value, carry_out, within,
};
use proptest::prelude::*;

mod case;

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    /// What is found has a place of its own, is of its own kind, and nothing that is told is
    /// no number.
    #[test]
    fn findings_are_numbers_each_in_its_own_place(
        case in prop_oneof![cases(-0.5..90.0), cases(-90.0..-0.5)],
        extremes in proptest::collection::vec(
            prop_oneof![Just(0.0), Just(12.0), Just(45.0), Just(90.0), Just(1e-300), 0.0..90.0], 12
        ),
        beyond_zenith in any::<bool>(),
    ) {
        for task in Task::ALL {
            let choices = TaskChoices { beyond_zenith, ..case.choices(task) };
            let mut conditions = case.conditions(task, &choices);
            conditions.setting = conditions.instrument.eye();
            conditions.reading = conditions.instrument.eye();
            for (sight, value) in Sighting::ALL.into_iter().zip(&extremes) {
                let measure = sight.measure();
                let within = Some(measure.amount(0.0));
                let seen = Seen { value: measure.value(*value), within };
                conditions.seen.insert(sight, seen);
            }
            for (stated, value) in Stated::ALL.into_iter().zip(&extremes[4..]) {
                conditions.stated.insert(stated, stated.measure().value(*value));
            }
            for figures in [Figures::Written, Figures::Exact] {
                conditions.figures = figures;
                let operation = task.operation(&conditions.instrument, &choices);
                let mut places: Vec<Quantity> =
                    operation.steps.iter().filter_map(|step| step.act.finds()).collect();
                let all = places.len();
                places.sort();
                places.dedup();
                prop_assert_eq!(places.len(), all, "{} finds something twice", task);
                let working = carry_out(&operation, &conditions);
                for (quantity, reading) in working.found() {
                    let (value, reads_to) = (reading.value, reading.reads_to);
                    prop_assert!(
                        value.number().is_finite() && reads_to.number().is_finite(),
                        "{task} {}: {reading:?}", quantity.name()
                    );
                    prop_assert_eq!(value.measure(), quantity.measure(), "{} {}", task, quantity);
                    prop_assert_eq!(reads_to, quantity.measure().amount(reads_to.number()));
                }
                for (quantity, within) in within(&operation, &conditions) {
                    let finite = within.number().is_finite();
                    prop_assert!(finite, "{task} {}: {within:?}", quantity.name());
                }
                for (quantity, exact) in exact(task, &conditions, &choices) {
                    let finite = exact.number().is_finite();
                    prop_assert!(finite, "{task} {}: {exact:?}", quantity.name());
                    prop_assert_eq!(exact.measure(), quantity.measure(), "{} {}", task, quantity);
                }
            }
        }
    }
}

/// In the south too, north is positive: declinations and latitudes come out as the
/// ephemeris has them.
#[test]
fn signs_are_northward_on_southern_instruments() {
    let case = Case {
        latitude: -34.0,
        degrees: (350.0, 0.0),
        obliquity: 23.44,
        sun: 0.0,
        hour: 0.0,
        star: (0.0, 0.0),
        planet_latitude: 0.0,
        high: (0.5, 0.5),
        west: false,
        number: 1,
    };
    let task = Task::Declination;
    let choices = case.choices(task);
    let conditions = case.conditions(task, &choices);
    let operation = task.operation(&conditions.instrument, &choices);
    let found = carry_out(&operation, &conditions).reading(Quantity::Found(Finding::Declination));
    let declination = found.unwrap().value.number();
    let (sin, sin_e) = (350f64.to_radians().sin(), case.obliquity.to_radians().sin());
    let expected = (sin * sin_e).asin().to_degrees();
    assert!((declination - expected).abs() < 1e-9, "{declination}");
    assert!(declination < 0.0);
    // 55° on the meridian of 34° south is a declination of 1° north, and the planet
    // stands north of its degree.
    let task = Task::PlanetLatitude;
    let choices = case.choices(task);
    let mut conditions = case.conditions(task, &choices);
    let seen = Seen {
        value: Value::Height(angle(55.0)),
        within: None,
    };
    conditions.seen.insert(Sighting::WandererAltitude, seen);
    let operation = task.operation(&conditions.instrument, &choices);
    let latitude = Quantity::Found(Finding::PlanetLatitude);
    let read = carry_out(&operation, &conditions)
        .reading(latitude)
        .unwrap()
        .value;
    assert!(
        (read.number() - (1.0 - declination)).abs() < 1e-9,
        "{read:?}"
    );
    let exact = exact(task, &conditions, &choices)[&latitude];
    assert!(exact.number() > 4.0, "{exact:?}");
}
