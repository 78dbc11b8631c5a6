//! The two roads to every number: what an ideal instrument shows and what
//! spherical trigonometry says agree, and share nothing on the way.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::collections::BTreeMap;
use std::sync::Mutex;

use figure::{Horizon, Method};
use instrument::{HourLines, House, HouseLines, Instrument, Specification, YearDay};
use practice::{
    Conditions, CuspReading, Given, Procedure, Quantity, SunPlace, SunTaken, Term, Working,
    carry_out, casting, procedures, twelve_cusps,
};
use proptest::prelude::*;
use sky::{Angle, Latitude};

/// What is promised of two roads within the polar circles, whatever the case.
const PROMISED: Angle = Angle::from_deg(1e-9);

/// What they may differ by for each degree of gain: the last digits of some dozens of
/// operations. A degree of 300° is held to 6e-14° by numbers of double precision, and in
/// 600 000 random cases up to 89° of latitude no reading was off by more than 3e-13° for
/// each degree of its gain.
const AGREE: Angle = Angle::from_deg(1e-12);

/// Ideal instruments, built once each: dividing a date scale takes milliseconds.
fn instrument(hemisphere: &str, top: &str, house_lines: &str) -> Instrument {
    of_size(200, hemisphere, top, house_lines)
}

fn of_size(diameter_mm: u32, hemisphere: &str, top: &str, house_lines: &str) -> Instrument {
    static BUILT: Mutex<BTreeMap<String, Instrument>> = Mutex::new(BTreeMap::new());
    let mut built = BUILT.lock().unwrap();
    let kind = format!("{diameter_mm} {hemisphere} {top} {house_lines}");
    let new = || Instrument::new(specification(diameter_mm, hemisphere, top, house_lines));
    built.entry(kind).or_insert_with(new).clone()
}

fn specification(
    diameter_mm: u32,
    hemisphere: &str,
    top: &str,
    house_lines: &str,
) -> Specification {
    let plate = if hemisphere == "north" { 45 } else { -45 };
    let text = format!(
        "version = 1\nname = \"ideal\"\ndiameter_mm = {diameter_mm}\nhemisphere = \"{hemisphere}\"\n\
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

fn degree(cusp: &CuspReading) -> Angle {
    cusp.reading.clone().unwrap().value.angle().unwrap()
}

fn off(read: Angle, exact: Angle) -> Angle {
    exact.to(read).abs()
}

/// How much a small error in what is given (the hour, the obliquity, the latitude) is
/// enlarged in what is found of it; never less than 1.
fn gain(case: &Case, find: impl Fn(&Horizon) -> Option<Angle>) -> f64 {
    const STEP: Angle = Angle::from_deg(1e-4);
    let here = case.horizon;
    let moved = [
        Horizon {
            sidereal_time: here.sidereal_time + STEP,
            ..here
        },
        Horizon {
            obliquity: here.obliquity + STEP,
            ..here
        },
        Horizon {
            latitude: Latitude::from_deg(here.latitude.deg() + STEP.deg()).unwrap(),
            ..here
        },
    ];
    let changes = moved
        .iter()
        .filter_map(|moved| Some(find(&here)?.to(find(moved)?)));
    changes.fold(1.0, |most, change| most.max((change / STEP).abs()))
}

/// How much is lost besides when the ascendant is handed on as a degree and its night
/// arc found again from its declination, as in turning: near the meridian a small error
/// of the declination δ is a great one of the half arc D, by tan φ / (cos² δ sin D), and
/// the ecliptic's declination grows by 0.4 of a degree at most for each of its own. On
/// the brass it is the same: there the degree's circle runs along the horizon.
fn handed_on(case: &Case) -> f64 {
    let horizon = &case.horizon;
    let ascendant = horizon.ascendant().unwrap();
    let half_arc = horizon.sidereal_time - horizon.right_ascension(ascendant);
    let declination = horizon.declination(ascendant);
    let slope = horizon.latitude.angle().tan() / (declination.cos().powi(2) * half_arc.sin());
    1.0 + 0.41 * slope.abs()
}

/// All readings of an ideal instrument with what they should be and their gains.
fn both_roads(case: &Case, instrument: &Instrument) -> Vec<(String, Angle, Angle, f64)> {
    let working = case.work(instrument, HourLines::Curves);
    let horizon = &case.horizon;
    let read = |quantity| working.reading(quantity).unwrap().value.angle().unwrap();
    let mut all = vec![
        (
            "ascendant".to_owned(),
            read(Quantity::Ascendant),
            horizon.ascendant().unwrap(),
            gain(case, |moved| moved.ascendant().ok()),
        ),
        (
            "midheaven".to_owned(),
            read(Quantity::Midheaven),
            horizon.midheaven(),
            gain(case, |moved| Some(moved.midheaven())),
        ),
    ];
    for procedure in procedures(instrument) {
        let method = match procedure {
            Procedure::Turning | Procedure::LimbThirds => Method::Alcabitius,
            Procedure::DirectCut => Method::Placidus,
            Procedure::HouseLines(HouseLines::Regiomontanus) => Method::Regiomontanus,
            Procedure::HouseLines(HouseLines::Campanus) => Method::Campanus,
        };
        let Ok(exact) = method.cusps(horizon) else {
            continue;
        };
        let cusps = twelve_cusps(&working, procedure)
            .into_iter()
            .zip(exact.all());
        for (number, (cusp, exact)) in cusps.enumerate() {
            let gain = gain(case, |moved| Some(method.cusps(moved).ok()?.all()[number]));
            let gain = match procedure {
                Procedure::Turning if !matches!(number, 0 | 3 | 6 | 9) => gain * handed_on(case),
                _ => gain,
            };
            // Where a cusp's circle grazes the horizon, within the last digits, the
            // instrument may find that it does not cross it.
            let declination = horizon.declination(exact).angle();
            let grazes = 1.0 - (declination.tan() * horizon.latitude.angle().tan()).abs();
            match cusp.reading {
                Ok(reading) => {
                    let name = format!("{} {}", procedure.name(), cusp.house);
                    all.push((name, reading.value.angle().unwrap(), exact, gain));
                }
                Err(why) => assert!(grazes.abs() < 1e-7, "{procedure:?} {why}"),
            }
        }
    }
    all
}

fn instruments() -> impl Strategy<Value = (u32, bool, bool)> {
    (
        prop_oneof![Just(54_u32), Just(200), Just(460)],
        any::<bool>(),
        any::<bool>(),
    )
}

fn chosen((diameter_mm, midnight_up, campanus): (u32, bool, bool), case: &Case) -> Instrument {
    let hemisphere = if case.horizon.latitude.deg() < 0.0 {
        "south"
    } else {
        "north"
    };
    let top = if midnight_up {
        "midnight-up"
    } else {
        "noon-up"
    };
    let houses = if campanus {
        HouseLines::Campanus
    } else {
        HouseLines::Regiomontanus
    };
    of_size(diameter_mm, hemisphere, top, houses.name())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn an_ideal_reading_is_the_exact_figure(case in cases(-66.0..66.0), kind in instruments()) {
        let all = both_roads(&case, &chosen(kind, &case));
        // Ascendant, midheaven, and twelve cusps by each of four procedures.
        prop_assert_eq!(all.len(), 2 + 4 * 12);
        for (what, read, exact, gain) in all {
            prop_assert!(off(read, exact) < PROMISED, "{what}: {read} and {exact}");
            prop_assert!(off(read, exact) < AGREE * gain, "{what}: {read} and {exact}, gain {gain}");
        }
    }

    /// Beyond the polar circles whatever has an answer is read as well, but that an
    /// ascendant may stand so near the meridian that its arc is lost in its last digits.
    #[test]
    fn beyond_the_polar_circles_too(latitude in cases(66.0..89.0), south: bool, kind in instruments()) {
        let mut case = latitude;
        if south {
            case.horizon.latitude = -case.horizon.latitude;
        }
        for (what, read, exact, gain) in both_roads(&case, &chosen(kind, &case)) {
            prop_assert!(off(read, exact) < AGREE * gain, "{what}: {read} and {exact}, gain {gain}");
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
                let difference = off(degree(&arc), degree(&curve));
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
                prop_assert!(off(degree(&other) + Angle::HALF_TURN, degree(&one)) < PROMISED);
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
            let read = |working: &Working| working.reading(quantity).unwrap().value.angle().unwrap();
            prop_assert!(off(read(&noon), read(&midnight)) < PROMISED);
        }
    }
}
