//! The two roads to every number: what an ideal instrument shows and what
//! spherical trigonometry says agree, and share nothing on the way.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::collections::BTreeMap;
use std::sync::Mutex;

use figure::{Horizon, Method};
use instrument::{HourLines, House, HouseLines, Instrument, Specification, YearDay};
use practice::{
    Conditions, Given, Procedure, Quantity, SunPlace, SunTaken, Term, Working, carry_out, casting,
    procedures, twelve_cusps,
};
use proptest::prelude::*;
use sky::{Angle, Latitude};

/// What the roads may differ by: the last digits of some dozens of operations on
/// numbers of double precision, widened where the ecliptic lies flat on the horizon.
const AGREE: Angle = Angle::from_deg(1e-9);

/// Ideal instruments, built once each: dividing a date scale takes milliseconds.
fn instrument(hemisphere: &str, top: &str, house_lines: &str) -> Instrument {
    static BUILT: Mutex<BTreeMap<String, Instrument>> = Mutex::new(BTreeMap::new());
    let mut built = BUILT.lock().unwrap();
    let kind = format!("{hemisphere} {top} {house_lines}");
    let new = || Instrument::new(specification(hemisphere, top, house_lines));
    built.entry(kind).or_insert_with(new).clone()
}

fn specification(hemisphere: &str, top: &str, house_lines: &str) -> Specification {
    let plate = if hemisphere == "north" { 45 } else { -45 };
    let text = format!(
        "version = 1\nname = \"ideal\"\ndiameter_mm = 200\nhemisphere = \"{hemisphere}\"\n\
         orientation = \"{top}\"\nepoch_year = 2000\nplates_deg = [{plate}]\n\
         house_lines = \"{house_lines}\"\ndate_from = \"given\"\nlimb_division_deg = 1\n"
    );
    Specification::from_toml(&text).unwrap()
}

/// A sky with its Sun on the ecliptic: the sidereal time is what the Sun's degree
/// and the hour make it.
#[derive(Clone, Copy, Debug)]
struct Case {
    horizon: Horizon,
    sun: Angle,
}

impl Case {
    fn given(&self) -> Given {
        let right_ascension = self.horizon.right_ascension(self.sun);
        Given {
            latitude: self.horizon.latitude,
            clock: self.horizon.sidereal_time - right_ascension + Angle::HALF_TURN,
            to_mean: Vec::<Term>::new(),
            equation_of_time: Angle::ZERO,
            clock_is_apparent: true,
            date: YearDay {
                month: 1,
                day: 1,
                part: 0.0,
            },
            sun: SunPlace {
                longitude: self.sun,
                right_ascension,
                declination: self.horizon.declination(self.sun),
            },
        }
    }

    fn work(&self, instrument: &Instrument, hour_lines: HourLines) -> Working {
        let mut ideal = Conditions::ideal(self.given(), instrument, self.horizon.obliquity);
        ideal.sun = SunTaken::OnEcliptic;
        ideal.instrument = ideal.instrument.with_hour_lines(hour_lines);
        carry_out(&casting(instrument, &procedures(instrument)), &ideal)
    }
}

fn cases(latitudes: std::ops::Range<f64>) -> impl Strategy<Value = Case> {
    (0.0..360.0, latitudes, 23.0..23.9, 0.0..360.0).prop_map(|(theta, latitude, obliquity, sun)| {
        Case {
            horizon: Horizon {
                sidereal_time: Angle::from_deg(theta),
                obliquity: Angle::from_deg(obliquity),
                latitude: Latitude::from_deg(latitude).unwrap(),
            },
            sun: Angle::from_deg(sun),
        }
    })
}

fn off(read: Angle, exact: Angle) -> Angle {
    exact.to(read).abs()
}

/// How much a small error of the hour is enlarged in the ascendant: its rate.
fn rate(case: &Case) -> f64 {
    let moved = Horizon {
        sidereal_time: case.horizon.sidereal_time + Angle::from_deg(1e-4),
        ..case.horizon
    };
    let (one, other) = (
        case.horizon.ascendant().unwrap(),
        moved.ascendant().unwrap(),
    );
    (one.to(other).deg() / 1e-4).abs().max(1.0)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..Default::default() })]

    #[test]
    fn an_ideal_reading_is_the_exact_figure(case in cases(-66.0..66.0), midnight_up in any::<bool>(), campanus in any::<bool>()) {
        let hemisphere = if case.horizon.latitude.deg() < 0.0 { "south" } else { "north" };
        let top = if midnight_up { "midnight-up" } else { "noon-up" };
        let method = if campanus { HouseLines::Campanus } else { HouseLines::Regiomontanus };
        let instrument = instrument(hemisphere, top, method.name());
        let working = case.work(&instrument, HourLines::Curves);
        let horizon = &case.horizon;
        let tolerance = AGREE * rate(&case);
        let ascendant = working.reading(Quantity::Ascendant).unwrap().value;
        prop_assert!(off(ascendant, horizon.ascendant().unwrap()) < tolerance);
        let midheaven = working.reading(Quantity::Midheaven).unwrap().value;
        prop_assert!(off(midheaven, horizon.midheaven()) < AGREE);
        for (procedure, exact) in [
            (Procedure::Turning, Method::Alcabitius),
            (Procedure::LimbThirds, Method::Alcabitius),
            (Procedure::DirectCut, Method::Placidus),
            (Procedure::HouseLines(method), if campanus { Method::Campanus } else { Method::Regiomontanus }),
        ] {
            let exact = exact.cusps(horizon).unwrap().all();
            for (cusp, exact) in twelve_cusps(&working, procedure).into_iter().zip(exact) {
                let read = cusp.reading.clone().unwrap().value;
                prop_assert!(
                    off(read, exact) < tolerance * 20.0,
                    "{procedure:?} {}: {read} and {exact}", cusp.house
                );
            }
        }
    }

    /// With arcs the cusps are off by the arcs alone: at most what design and
    /// geometry allow (own computation, ε 23.44°: turning 0.14° at 45°, direct cut 0.17°).
    #[test]
    fn arcs_cost_little_up_to_45_degrees(case in cases(-45.0..45.0)) {
        let hemisphere = if case.horizon.latitude.deg() < 0.0 { "south" } else { "north" };
        let instrument = instrument(hemisphere, "noon-up", "none");
        let (arcs, curves) = (case.work(&instrument, HourLines::Arcs), case.work(&instrument, HourLines::Curves));
        prop_assert_eq!(arcs.reading(Quantity::Ascendant), curves.reading(Quantity::Ascendant));
        for (procedure, most) in [(Procedure::Turning, 0.16), (Procedure::DirectCut, 0.2), (Procedure::LimbThirds, 0.0)] {
            let pairs = twelve_cusps(&arcs, procedure).into_iter().zip(twelve_cusps(&curves, procedure));
            for (arc, curve) in pairs {
                let difference = off(arc.reading.clone().unwrap().value, curve.reading.clone().unwrap().value);
                prop_assert!(difference.deg() <= most, "{procedure:?} {}: {difference}", arc.house);
            }
        }
    }

    /// The half-turn mirror: the southern sky at sidereal time θ is the northern at
    /// θ + 180° with every sign exchanged for its opposite.
    #[test]
    fn a_southern_case_mirrors_its_northern_twin(case in cases(1.0..66.0)) {
        let twin = Case {
            horizon: Horizon {
                sidereal_time: case.horizon.sidereal_time + Angle::HALF_TURN,
                latitude: -case.horizon.latitude,
                ..case.horizon
            },
            sun: case.sun + Angle::HALF_TURN,
        };
        let north = case.work(&instrument("north", "noon-up", "regiomontanus"), HourLines::Arcs);
        let south = twin.work(&instrument("south", "noon-up", "regiomontanus"), HourLines::Arcs);
        for procedure in [Procedure::Turning, Procedure::DirectCut, Procedure::LimbThirds, Procedure::HouseLines(HouseLines::Regiomontanus)] {
            for (one, other) in twelve_cusps(&north, procedure).into_iter().zip(twelve_cusps(&south, procedure)) {
                let turned = other.reading.clone().unwrap().value + Angle::HALF_TURN;
                prop_assert!(off(turned, one.reading.clone().unwrap().value) < AGREE * 20.0 * rate(&case));
            }
        }
    }

    #[test]
    fn the_four_orientations_read_alike(case in cases(-66.0..66.0)) {
        let hemisphere = if case.horizon.latitude.deg() < 0.0 { "south" } else { "north" };
        let noon = case.work(&instrument(hemisphere, "noon-up", "none"), HourLines::Arcs);
        let midnight = case.work(&instrument(hemisphere, "midnight-up", "none"), HourLines::Arcs);
        for house in House::ALL {
            let quantity = Procedure::Turning.quantity(house);
            let read = |working: &Working| working.reading(quantity).unwrap().value;
            prop_assert!(off(read(&noon), read(&midnight)) < AGREE * rate(&case));
        }
    }
}
