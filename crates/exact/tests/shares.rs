//! Why reading and calculation differ: every share is the difference of two runs,
//! the shares add up, and each cause shows itself where it is at work and nowhere
//! else.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::sync::LazyLock;

use instrument::{Instrument, Specification, YearDay};
use practice::{
    Account, Asked, Calculated, Cause, Conditions, Correction, Figures, Given, Procedure, Quantity,
    SunPlace, Term, Why, carry_out, casting, procedures,
};
use proptest::prelude::*;
use sky::{Angle, Instant, Latitude, Sky};

fn built(more: &str) -> Instrument {
    let text =
        format!("version = 1\nname = \"made up\"\ndiameter_mm = 200\nepoch_year = 2025\n{more}\n");
    Instrument::new(Specification::from_toml(&text).unwrap())
}

static WORN: LazyLock<Instrument> = LazyLock::new(|| {
    built(
        "plates_deg = [40, 47]\ncalendar_leap_mean = true\n[faults]\npin_play_mm = 0.2\n\
         plate_turned_deg = 0.3\necliptic_offset_mm = 0.1\nrule_offset_mm = 0.1",
    )
});
static RING: LazyLock<Instrument> =
    LazyLock::new(|| built("plates_deg = [40, 47]\ndate_from = \"equal-day-ring\""));
static PLAIN: LazyLock<Instrument> = LazyLock::new(|| {
    built(
        "plates_deg = [40, 47]\ndate_from = \"given\"\neye_mm = 0\nunequal_hour_lines = \"curves\"",
    )
});

/// What a person has at a moment, at a zone two hours ahead of Greenwich of which
/// one is summer time.
fn given(jd_ut: f64, latitude_deg: f64, longitude_deg: f64) -> (Given, Sky) {
    let sky = Sky::at(Instant::from_jd_ut(jd_ut)).unwrap();
    let sun = sky.sun();
    let day = (jd_ut + 0.5).rem_euclid(1.0);
    let given = Given {
        latitude: Latitude::from_deg(latitude_deg).unwrap(),
        clock: Angle::from_hours(day * 24.0 + 2.0),
        to_mean: vec![
            Term {
                correction: Correction::SummerTime,
                amount: Angle::from_hours(-1.0),
            },
            Term {
                correction: Correction::Zone,
                amount: Angle::from_hours(-1.0),
            },
            Term {
                correction: Correction::Longitude,
                amount: Angle::from_deg(longitude_deg),
            },
        ],
        equation_of_time: Angle::from_hours(sky.equation_of_time_s() / 3600.0),
        clock_is_apparent: false,
        date: year_day(jd_ut),
        sun: SunPlace {
            longitude: sun.longitude,
            right_ascension: sun.right_ascension,
            declination: sun.declination,
        },
    };
    (given, sky)
}

/// The Gregorian date.
fn year_day(jd_ut: f64) -> YearDay {
    #[expect(
        clippy::cast_possible_truncation,
        reason = "Julian day numbers are small"
    )]
    let number = (jd_ut + 0.5).floor() as i32;
    let date = moment::CivilDate::from_julian_day_number(moment::Calendar::Gregorian, number);
    YearDay {
        month: date.month(),
        day: date.day(),
        part: (jd_ut + 0.5).rem_euclid(1.0),
    }
}

struct Case {
    ideal: Conditions,
    actual: Conditions,
    account: Account,
    sidereal_time: Angle,
    rate: f64,
}

impl Case {
    fn new(
        instrument: &Instrument,
        jd_ut: f64,
        latitude: f64,
        longitude: f64,
        left_out: &[Correction],
    ) -> Case {
        let (given, sky) = given(jd_ut, latitude, longitude);
        let ideal = Conditions::ideal(given.clone(), instrument, sky.obliquity());
        let actual = Conditions::actual(given, instrument.clone(), left_out);
        let operation = casting(instrument, &procedures(instrument));
        let sidereal_time = sky.sidereal_time() + Angle::from_deg(longitude);
        let horizon = |more: f64| figure::Horizon {
            sidereal_time: sidereal_time + Angle::from_deg(more),
            obliquity: sky.obliquity(),
            latitude: actual.given.latitude,
        };
        let rate = horizon(0.0)
            .ascendant()
            .unwrap()
            .to(horizon(0.01).ascendant().unwrap())
            .deg()
            / 0.01;
        Case {
            account: Account::of(&operation, &ideal, &actual),
            ideal,
            actual,
            sidereal_time,
            rate: rate.abs().max(1.0),
        }
    }

    fn horizon(&self) -> figure::Horizon {
        figure::Horizon {
            sidereal_time: self.sidereal_time,
            obliquity: self.ideal.instrument.obliquity(),
            latitude: self.actual.given.latitude,
        }
    }

    fn why(&self, quantity: Quantity, exact: Angle) -> Why {
        let asked = Asked {
            quantity,
            opposite: false,
            exact: Calculated::at_the_moment(practice::Value::Degree(exact)),
            own: None,
        };
        self.account.why(asked).unwrap()
    }

    fn ascendant(&self) -> Why {
        self.why(Quantity::Ascendant, self.horizon().ascendant().unwrap())
    }
}

fn share(why: &Why, cause: Cause) -> Angle {
    let mut shares = why.shares.iter();
    let share = shares.find(|share| share.cause == cause).unwrap();
    share.amount.angle().unwrap()
}

fn sum(why: &Why) -> Angle {
    let shares = why.shares.iter();
    shares.map(|share| share.amount.angle().unwrap()).sum()
}

fn moments() -> impl Strategy<Value = (f64, f64, f64)> {
    // 1900 to 2100, and places where plates for 40° and 47° are of some use.
    (
        2_415_021.0..2_488_069.0_f64,
        30.0..60.0_f64,
        -30.0..30.0_f64,
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn shares_add_up_to_the_whole_difference((jd, latitude, longitude) in moments(), ring in any::<bool>(), left in proptest::sample::subsequence(Correction::ALL.to_vec(), 0..=4)) {
        let instrument = if ring { &RING } else { &WORN };
        let case = Case::new(instrument, jd, latitude, longitude, &left);
        let ascendant = case.horizon().ascendant().unwrap();
        for quantity in [Quantity::Ascendant, Quantity::Cusp(Procedure::Turning, instrument::House::ALL[1])] {
            let asked = Asked { quantity, opposite: false, exact: Calculated::at_the_moment(practice::Value::Degree(ascendant)), own: None };
            let Ok(why) = case.account.why(asked) else { continue };
                        prop_assert!((sum(&why) - why.difference().angle().unwrap()).signed().abs().deg() < 1e-9);
            // Every cause is there, in order, whether it is at work or not.
            let causes: Vec<Cause> = why.shares.iter().map(|share| share.cause).collect();
            prop_assert_eq!(&causes[1..], &Cause::REPLAYED[..]);
        }
        // Ideal conditions leave nothing over: the two roads meet.
        let procedure = share(&case.ascendant(), Cause::Procedure);
        prop_assert!(procedure.abs().deg() < 2e-9 * case.rate, "{procedure}");
    }

    /// Each share is the difference of two runs made apart from the account: the
    /// conditions with all idealisations up to the cause given up, less those before it.
    #[test]
    fn each_share_is_the_difference_of_two_runs((jd, latitude, longitude) in moments()) {
        let case = Case::new(&WORN, jd, latitude, longitude, &Correction::ALL);
        let why = case.ascendant();
        let operation = casting(&WORN, &procedures(&WORN));
        let run = |given_up: &[Cause]| {
            let mut conditions = case.ideal.clone();
            for cause in given_up {
                conditions.give_up(*cause, &case.actual);
            }
            carry_out(&operation, &conditions).reading(Quantity::Ascendant).unwrap().value.angle().unwrap()
        };
        for (index, cause) in Cause::REPLAYED.into_iter().enumerate() {
            let difference = run(&Cause::REPLAYED[..index]).to(run(&Cause::REPLAYED[..=index]));
            prop_assert!((difference - share(&why, cause)).abs().deg() < 1e-12, "{cause:?}");
        }
    }

    /// A plate of another latitude shows under its own name and nowhere else, when
    /// nothing else is wrong; the Sun's latitude, about a second of arc, is not the plate's.
    #[test]
    fn a_plate_off_shows_as_the_plates_latitude((jd, _, longitude) in moments()) {
        let (_, sky) = given(jd, 52.0, longitude);
        let case = Case::new(&PLAIN.with_obliquity(sky.obliquity()), jd, 52.0, longitude, &[]);
        let why = case.ascendant();
        for share in &why.shares {
            let amount = share.amount.angle().unwrap();
            match share.cause {
                // Near an equinox point it may be next to nothing: all horizons meet there.
                Cause::PlateLatitude => prop_assert_ne!(amount, Angle::ZERO),
                Cause::SunLatitude => prop_assert!(amount.abs().arcsec() < 1.5 * case.rate),
                Cause::Procedure => prop_assert!(amount.abs().deg() < 2e-9 * case.rate),
                _ => prop_assert_eq!(amount, Angle::ZERO, "{:?}", share.cause),
            }
        }
    }

    /// A ring of equal days, with local mean time, and a zodiac scale, with local
    /// apparent time, lead to the same ascendant: the ring leaves the equation of
    /// the equinoxes, and what its stated year is off by is a matter of days, so
    /// both are put to the moment's own.
    #[test]
    fn a_ring_of_equal_days_agrees_with_the_zodiac_in_its_own_time((jd, latitude, longitude) in moments()) {
        let (given, sky) = given(jd, latitude, longitude);
        let sun = Conditions::ideal(given.clone(), &PLAIN, sky.obliquity());
        let by_sun = sun.hour_for_rule() + sky.sun().right_ascension;
        let mut ring = Conditions::actual(given, RING.clone(), &[]);
        ring.figures = Figures::Exact;
        prop_assert!(ring.wants_mean_time());
        let by_ring = ring.hour_for_rule() + sky.mean_sun() - sky.equation_of_equinoxes();
        let off = by_sun.to(by_ring).abs();
        prop_assert!(off.deg() < 0.005, "{off}");
        // The equation of time is no small matter: up to 4° of the limb.
        prop_assert!((by_sun.to(by_ring) + sky.equation_of_equinoxes()).abs().deg() < 1e-9);
    }
}

/// Every cause is seen at work.
#[test]
fn every_cause_shows_itself() {
    // 14 May 2024, 7 h 20 m UT.
    let worn = Case::new(&WORN, 2_460_444.805_556, 44.0, -8.5, &Correction::ALL);
    let cusp = Quantity::Cusp(Procedure::DirectCut, instrument::House::ALL[1]);
    let alcabitius = figure::Method::Alcabitius
        .cusps(&worn.horizon())
        .unwrap()
        .all()[1];
    let why = worn.why(cusp, alcabitius);
    for cause in Cause::REPLAYED.into_iter().chain([Cause::Procedure]) {
        // Casting sights nothing, and is done at the moment itself.
        let elsewhere = matches!(cause, Cause::SunMoves | Cause::Refraction);
        assert_eq!(share(&why, cause) == Angle::ZERO, elsewhere, "{cause:?}");
    }
    // The direct cut is placidus: asked for alcabitius, the procedure is the largest share but the clock's.
    let placidus = figure::Method::Placidus
        .cusps(&worn.horizon())
        .unwrap()
        .all()[1];
    let procedure = share(&why, Cause::Procedure);
    assert!(
        (procedure - alcabitius.to(placidus)).abs().deg() < 1e-7,
        "{procedure}"
    );
    let own = Asked {
        quantity: Quantity::Ascendant,
        opposite: false,
        exact: Calculated::at_the_moment(practice::Value::Degree(
            worn.horizon().ascendant().unwrap(),
        )),
        own: Some(practice::Value::Degree(Angle::from_deg(100.0))),
    };
    let why = worn.account.why(own).unwrap();
    assert_ne!(share(&why, Cause::Unexplained), Angle::ZERO);
    assert_eq!(why.read.angle(), Some(Angle::from_deg(100.0)));
    assert!(
        (sum(&why) - why.difference().angle().unwrap())
            .signed()
            .abs()
            .deg()
            < 1e-9
    );
}

/// What is left out costs what it should: an hour of summer time is an hour of the rule.
#[test]
fn what_is_left_out_is_left_out_of_the_sum() {
    let whole = Case::new(&PLAIN, 2_460_444.8, 44.0, -8.5, &[])
        .actual
        .hour_for_rule();
    for (correction, amount) in [
        (Correction::SummerTime, 15.0),
        (Correction::Zone, 15.0),
        (Correction::Longitude, 8.5),
    ] {
        let without = Case::new(&PLAIN, 2_460_444.8, 44.0, -8.5, &[correction])
            .actual
            .hour_for_rule();
        assert!(
            (whole.to(without).deg() - amount).abs() < 1e-9,
            "{correction:?}"
        );
    }
    // On a ring of equal days nothing is left out by leaving out the equation of time.
    let ring = |left: &[Correction]| {
        Case::new(&RING, 2_460_444.8, 44.0, -8.5, left)
            .actual
            .hour_for_rule()
    };
    assert_eq!(ring(&[]), ring(&[Correction::EquationOfTime]));
}
