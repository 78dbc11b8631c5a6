//! Examining: what is measured on instruments whose specification is known leads back to
//! it, and within what it says it is known.
//!
//! What is measured is taken from the drawn circles, which come from planes cutting the
//! sphere; what is found comes from places on the meridian. The two share no formula.

#![expect(clippy::unwrap_used, reason = "helpers of tests break off as tests do")]

use instrument::{
    Circline, Examined, Instrument, Length, Measurements, NoYear, Point, Specification,
};
use proptest::prelude::*;
use sky::{Angle, JulianEpoch, Latitude, astrolabe_stars};

fn made(text: &str) -> Instrument {
    let head = "version = 1\nname = \"invented\"\n";
    Instrument::new(Specification::from_toml(&format!("{head}{text}")).unwrap())
}

/// Where a line crosses the meridian, from midnight towards noon.
fn on_meridian(line: &Circline) -> Vec<f64> {
    let meridian = Circline::straight(Point::POLE, Point { x: 1.0, y: 0.0 });
    let mut at: Vec<f64> = line
        .meets(&meridian)
        .points()
        .iter()
        .map(|one| one.x)
        .collect();
    at.sort_by(f64::total_cmp);
    at
}

/// What one would measure on an instrument, to the last digit, with `noise` of the length
/// added by turns.
fn measured(instrument: &Instrument, mut noise: impl FnMut() -> f64) -> String {
    let projection = instrument.projection();
    let north = instrument.specification().hemisphere == instrument::Hemisphere::North;
    let tropic = Latitude::asin(instrument.obliquity().sin());
    let [outer, inner] = if north {
        [-tropic, tropic]
    } else {
        [tropic, -tropic]
    };
    let mut length = |mm: f64| mm + noise();
    let mut text = format!(
        "version = 1\nname = \"measured\"\nhemisphere = \"{}\"\nmeasured_to_mm = 0.1\n[circles]\n",
        if north { "north" } else { "south" }
    );
    let [capricorn, cancer] = if north {
        [outer, inner]
    } else {
        [inner, outer]
    };
    for (key, declination) in [
        ("capricorn_mm", capricorn),
        ("equator_mm", Latitude::ZERO),
        ("cancer_mm", cancer),
    ] {
        let diameter = length(2.0 * projection.radius(declination));
        text.push_str(&format!("{key} = {diameter:.9}\n"));
    }
    let solstices = [Angle::QUARTER_TURN, -Angle::QUARTER_TURN];
    let ends = solstices.map(|degree| instrument.rete().degree(degree).radius());
    let [nearest, farthest] = [ends[0].min(ends[1]), ends[0].max(ends[1])].map(&mut length);
    text.push_str(&format!(
        "[ecliptic]\nnearest_mm = {nearest:.9}\nfarthest_mm = {farthest:.9}\n"
    ));
    for latitude in &instrument.specification().plates {
        text.push_str(&format!(
            "[[plates]]\nlettered_deg = {}\nalmucantars = [\n",
            latitude.deg()
        ));
        let plate = instrument.plate(*latitude);
        for altitude in [0, 10, 20, 30, 50, 70] {
            let line = plate.almucantar(Latitude::from_deg(f64::from(altitude)).unwrap());
            let [midnight, noon] = on_meridian(&line)[..] else {
                continue;
            };
            // The horizon's far side may lie off the plate, as on the brass.
            if noon.abs() < projection.radius(outer) {
                text.push_str(&format!(
                    "{{ altitude_deg = {altitude}, noon_mm = {:.9}, midnight_mm = {:.9} }},\n",
                    length(noon),
                    length(midnight)
                ));
            } else {
                text.push_str(&format!(
                    "{{ altitude_deg = {altitude}, midnight_mm = {:.9} }},\n",
                    length(midnight)
                ));
            }
        }
        text.push_str("]\n");
    }
    for star in instrument.stars() {
        let radius = projection.radius(star.declination);
        let (sine, cosine) = star.right_ascension.sin_cos();
        // The degree that culminates with it.
        let degree = Angle::atan2(sine / instrument.obliquity().cos(), cosine).in_turn();
        let degree = (degree + Angle::from_rad(length(0.0) / radius))
            .in_turn()
            .deg();
        let sign = sky::Sign::ALL[(degree / 30.0) as usize].name();
        text.push_str(&format!(
            "[[stars]]\nname = \"{}\"\nwith = \"{:.10} {sign}\"\nradius_mm = {:.9}\n",
            star.name,
            degree % 30.0,
            length(radius)
        ));
    }
    text
}

fn examined(text: &str) -> Examined {
    Examined::of(&Measurements::from_toml(text).unwrap())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    /// What was measured without error leads back to what was drawn.
    #[test]
    fn what_was_drawn_is_found(
        diameter in 60.0..450.0_f64,
        year in 900.0..2100.0_f64,
        latitude in 3.0..66.0_f64,
        south in any::<bool>(),
    ) {
        let sign = if south { -1.0 } else { 1.0 };
        let instrument = made(&format!(
            "diameter_mm = {diameter}\nepoch_year = {year}\nhemisphere = \"{}\"\nplates_deg = [{}]\n",
            if south { "south" } else { "north" }, latitude * sign
        ));
        let found = examined(&measured(&instrument, || 0.0));
        let circles = found.circles.unwrap();
        prop_assert!((circles.obliquity.at - instrument.obliquity()).abs().deg() < 1e-6);
        prop_assert!((circles.equator.at.mm() - instrument.projection().equator_mm()).abs() < 1e-6);
        prop_assert!((circles.year.unwrap().at - year).abs() < 0.1);
        prop_assert!(circles.ecliptic_offset.unwrap().at.mm().abs() < 1e-6);
        let plate = found.plates[0].clone().unwrap();
        prop_assert!((plate.latitude.at.deg() - latitude * sign).abs() < 1e-6, "{:?}", plate);
        prop_assert!(plate.off_centre.is_none_or(|off| off.at.mm().abs() < 1e-5));
        let stars = found.stars.unwrap();
        prop_assert!((stars.year.at - year).abs() < 0.01, "{} {year}", stars.year.at);
        for one in &stars.stars {
            prop_assert!(!one.doubtful && one.off.mm() < 1e-4, "{} {:?}", one.star.label(), one);
        }
    }
}

/// Numbers of a normal distribution, the same on every machine (Marsaglia's polar way over
/// a generator of Lehmer's).
fn normal(seed: u64) -> impl FnMut() -> f64 {
    let mut state = seed * 2 + 1;
    let mut even = move || {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (state >> 11) as f64 / (1_u64 << 53) as f64
    };
    move || loop {
        let (x, y) = (2.0 * even() - 1.0, 2.0 * even() - 1.0);
        let square: f64 = x * x + y * y;
        if square > 0.0 && square < 1.0 {
            return x * (-2.0 * square.ln() / square).sqrt();
        }
    }
}

/// The errors that are stated are those that are made: over many instruments measured with
/// a caliper good to 0.1 mm, what is found lies within one standard error about as often as
/// a normal distribution has it, 68 %.
#[test]
fn the_errors_stated_are_those_made() {
    let (mut tried, mut within) = ([0_u32; 6], [0_u32; 6]);
    for seed in 0..120_u32 {
        let latitude = 20.0 + f64::from(seed) * 0.3;
        let year = 1000.0 + f64::from(seed) * 7.0;
        let instrument = made(&format!(
            "diameter_mm = 180\nepoch_year = {year}\nplates_deg = [{latitude}]\n"
        ));
        let mut noise = normal(u64::from(seed));
        let found = examined(&measured(&instrument, || 0.1 * noise()));
        let circles = found.circles.unwrap();
        let plate = found.plates[0].clone().unwrap();
        let stars = found.stars.unwrap();
        let ring = circles.ecliptic_offset.unwrap();
        let middle = plate.off_centre.unwrap();
        let equator_mm = instrument.projection().equator_mm();
        let off = [
            (circles.obliquity.at - instrument.obliquity()).deg() / circles.obliquity.within.deg(),
            (circles.equator.at.mm() - equator_mm) / circles.equator.within.mm(),
            ring.at.mm() / ring.within.mm(),
            middle.at.mm() / middle.within.mm(),
            (plate.latitude.at.deg() - latitude) / plate.latitude.within.deg(),
            (stars.year.at - year) / stars.year.within,
        ];
        for ((off, tried), within) in off.iter().zip(&mut tried).zip(&mut within) {
            *tried += 1;
            *within += u32::from(off.abs() < 1.0);
            assert!(off.abs() < 5.0, "{seed}: {off}");
        }
        // A caliper tells a plate's latitude to a few minutes.
        assert!(plate.latitude.within.deg() < 0.3, "{:?}", plate.latitude);
    }
    for (tried, within) in tried.iter().zip(within) {
        let part = f64::from(within) / f64::from(*tried);
        assert!((0.5..0.85).contains(&part), "{part}");
    }
}

/// A pointer that was bent or belongs to another star is found out, and does not move the
/// year.
#[test]
fn a_bent_pointer_is_left_out_of_account() {
    let instrument = made("diameter_mm = 220\nepoch_year = 1400\nplates_deg = [48]\n");
    let text = measured(&instrument, || 0.0);
    // The first pointer's tip, a centimetre further out.
    let (head, tail) = text.split_once("radius_mm = ").unwrap();
    let end = tail.find('\n').unwrap();
    let radius: f64 = tail[..end].parse().unwrap();
    let bent = format!("{head}radius_mm = {}{}", radius + 10.0, &tail[end..]);
    let name = instrument.stars()[0].name;
    let found = examined(&bent).stars.unwrap();
    assert!((found.year.at - 1400.0).abs() < 0.1, "{:?}", found.year);
    let doubtful: Vec<_> = found.stars.iter().filter(|one| one.doubtful).collect();
    assert_eq!(doubtful.len(), 1);
    assert!(doubtful[0].star.instrument_name == Some(name) || doubtful[0].star.label() == name);
}

/// A middle that is off is found, as long as crossings on both sides were measured, and the
/// latitude does not suffer.
#[test]
fn a_plate_off_its_middle_is_told() {
    let instrument = made("diameter_mm = 180\nepoch_year = 1400\nplates_deg = [48]\n");
    let text = measured(&instrument, || 0.0);
    let moved: String = text
        .lines()
        .map(|line| {
            let mut line = line.to_owned();
            for key in ["noon_mm = ", "midnight_mm = "] {
                if let Some((head, tail)) = line.clone().split_once(&format!(" {key}")) {
                    let end = tail.find([',', ' ']).unwrap_or(tail.len());
                    let mm: f64 = tail[..end].parse().unwrap();
                    line = format!("{head} {key}{}{}", mm + 0.7, &tail[end..]);
                }
            }
            line + "\n"
        })
        .collect();
    let plate = examined(&moved).plates[0].clone().unwrap();
    assert!((plate.off_centre.unwrap().at.mm() - 0.7).abs() < 1e-6);
    assert!((plate.latitude.at.deg() - 48.0).abs() < 1e-6);
}

/// The bull *Inter gravissimas* (1582) took out ten days for the equinox to come back from
/// 11 March, where it was then, to 21 March, where the council of 325 had it.
#[test]
fn a_julian_calendar_scale_tells_its_year() {
    let text = |date: &str, calendar: &str| {
        format!(
            "version = 1\nname = \"scale\"\n[calendar]\ncalendar = \"{calendar}\"\n\
             degrees = [{{ date = \"{date}\", degree = \"0 Aries\" }}]\n"
        )
    };
    let year = |date: &str| examined(&text(date, "julian")).calendar.unwrap();
    // A stroke stands for the beginning of its day; the equinox comes within it.
    let (council, bull) = (year("03-21").unwrap(), year("03-11").unwrap());
    assert!((council.at - 325.0).abs() < 131.0, "{council:?}");
    assert!((bull.at - 1582.0).abs() < 131.0, "{bull:?}");
    assert_eq!(
        examined(&text("03-20", "gregorian")).calendar,
        Some(Err(NoYear::Gregorian))
    );
    assert_eq!(year("09-12"), Err(NoYear::NoneFits));
    // The scale of a known instrument, read all round the year.
    let instrument = made(
        "diameter_mm = 180\nepoch_year = 1326\nplates_deg = [52]\ncalendar_leap_mean = true\n",
    );
    let mut degrees = String::new();
    for month in 1..=12 {
        let date = instrument::YearDay {
            month,
            day: 5,
            part: 0.0,
        };
        let at = instrument.dates().at(date);
        degrees.push_str(&format!(
            "{{ date = \"{month}-5\", degree = \"{}\" }},\n",
            sky::Zodiacal(at)
        ));
    }
    let text = format!("version = 1\nname = \"scale\"\n[calendar]\ndegrees = [{degrees}]\n");
    let found = examined(&text).calendar.unwrap().unwrap();
    assert!((found.at - 1328.0).abs() < 3.0, "{found:?}");
}

/// With the hole off the middle, the angle seen from it: worked with plane trigonometry.
#[test]
fn a_limb_off_its_middle_is_told() {
    let (radius, off, towards) = (85.0_f64, 0.4_f64, 130.0_f64);
    let hole = Point::polar(off, Angle::from_deg(towards));
    let pair = |turn: f64| -> [f64; 2] {
        let circle = Circline::circle(Point::POLE, radius);
        let along = Point::polar(1.0, Angle::from_deg(turn));
        let mut ends = [0.0; 2];
        for point in circle.meets(&Circline::straight(hole, along)).points() {
            let ahead = (*point - hole).dot(along) > 0.0;
            ends[usize::from(!ahead)] = point.direction().in_turn().deg();
        }
        ends
    };
    let ends: Vec<String> = (0..12)
        .map(|one| {
            let [a, b] = pair(f64::from(one) * 30.0 + 7.0);
            format!("[{a:.9}, {b:.9}]")
        })
        .collect();
    let text = format!(
        "version = 1\nname = \"limb\"\n[limb]\nradius_mm = {radius}\nends_deg = [{}]\n",
        ends.join(", ")
    );
    let limb = examined(&text).limb.unwrap();
    assert!(
        (limb.off_centre_length.unwrap().at.mm() - off).abs() < 1e-4,
        "{limb:?}"
    );
    assert!((limb.towards.deg() - towards).abs() < 0.3, "{limb:?}");
    assert!(
        limb.bent.at.abs().deg() < 1e-3 && limb.division.deg() < 1e-3,
        "{limb:?}"
    );
}

/// Nothing but names and one number each: nothing is found, and nothing is made up.
#[test]
fn too_little_finds_nothing() {
    let found = examined(
        "version = 1\nname = \"little\"\n[circles]\nequator_mm = 100\n[[plates]]\n\
         almucantars = [{ altitude_deg = 0, noon_mm = 40 }]\n",
    );
    assert!(found.circles.is_none() && found.stars.is_none() && found.limb.is_none());
    assert_eq!(found.plates.len(), 1);
}

/// One almucantar's crossing and the equator's diameter tell the latitude; how finely the
/// radius is known is half of how finely the diameter was measured.
#[test]
fn a_diameter_is_two_radii_measured_once() {
    for (latitude, measured_to_mm) in [(42.0_f64, 0.1), (51.5, 0.3)] {
        let from_pole = (90.0 - latitude + 60.0) / 2.0;
        let noon_mm = 50.0 * from_pole.to_radians().tan();
        let found = examined(&format!(
            "version = 1\nname = \"side\"\nmeasured_to_mm = {measured_to_mm}\n[[plates]]\n\
             lettered_deg = {latitude}\nequator_mm = 100\n\
             almucantars = [{{ altitude_deg = 30, noon_mm = {noon_mm:.9} }}]\n"
        ));
        let plate = found.plates[0].as_ref().unwrap();
        assert!((plate.latitude.at.deg() - latitude).abs() < 1e-6);
        assert!((plate.equator.at.mm() - 50.0).abs() < 1e-6);
        let within = plate.equator.within.mm();
        assert!((within - measured_to_mm / 2.0).abs() < 1e-6, "{within}");
    }
}

#[test]
fn what_cannot_be_used_is_named() {
    let refused = |text: &str| {
        let text = format!("version = 1\nname = \"wrong\"\n{text}");
        Measurements::from_toml(&text).unwrap_err().to_string()
    };
    for (text, said) in [
        (
            "[circles]\ncapricorn_mm = -4",
            "circles.capricorn_mm = -4 is out of range",
        ),
        (
            "[circles]\ncancer = 4",
            "circles.cancer is not a known field",
        ),
        (
            "[[plates]]\nalmucantars = [{ noon_mm = 3 }]",
            "plates, number 1: almucantars, number 1: altitude_deg",
        ),
        (
            "[[plates]]\nlettered_deg = -42",
            "not of the northern hemisphere",
        ),
        (
            "[[stars]]\nname = \"Sirius B of nowhere\"",
            "Sirius B of nowhere",
        ),
        ("[[stars]]\nname = \"Sirius\"", "radius_mm"),
        (
            "[[stars]]\nname = \"Sirius\"\nwith = \"40 Gemini\"",
            "40 Gemini",
        ),
        (
            "[calendar]\ndegrees = [{ date = \"02-30\", degree = \"0 Aries\" }]",
            "02-30",
        ),
        ("[limb]\nends_deg = [[0, 180]]", "4 to 400"),
        (
            "[limb]\nends_deg = [[0, 180], [1, 181], [2, 182], [3]]",
            "no pair",
        ),
        (
            "[limb]\nends_deg = [[0, 180], [90, 270], [180, 0], [270, 190]]",
            "[270, 190] are no two ends of one rule",
        ),
        (
            "[circles]\ncapricorn_mm = 50\ncancer_mm = 114",
            "circles.capricorn_mm = 50 is no larger than cancer_mm",
        ),
        (
            "hemisphere = \"south\"\n[circles]\ncapricorn_mm = 114\nequator_mm = 75",
            "circles.equator_mm = 75 is no larger than capricorn_mm",
        ),
        (
            "[ecliptic]\nnearest_mm = 57\nfarthest_mm = 24",
            "ecliptic.farthest_mm = 24 is no farther than nearest_mm",
        ),
        (
            "[[plates]]\nalmucantars = [{ altitude_deg = 30, noon_mm = -40, midnight_mm = 7 }]",
            "noon_mm = -40 lies nearer to midnight than midnight_mm",
        ),
        ("stars = 3", "is not a list"),
        ("measured_to_mm = nan", "measured_to_mm"),
    ] {
        let message = refused(text);
        assert!(message.contains(said), "{message}");
    }
}

proptest! {
    /// Whatever is written, nothing panics, and what is found is finite.
    #[test]
    fn anything_is_answered(
        mm in prop::collection::vec(-500.0..500.0_f64, 12),
        altitudes in prop::collection::vec(-18.0..=90.0_f64, 4),
    ) {
        let mut text = "version = 1\nname = \"any\"\n[circles]\n".to_owned();
        // What stands in the wrong order is refused, which is tried elsewhere.
        let beyond = |mm: f64, other: f64| mm.abs() + other.abs() + 0.4;
        text.push_str(&format!("capricorn_mm = {}\nequator_mm = {}\n", beyond(mm[0], mm[1]), mm[1].abs() + 0.2));
        text.push_str(&format!("[ecliptic]\nnearest_mm = {}\nfarthest_mm = {}\n", mm[2].abs() + 0.2, beyond(mm[2], mm[3])));
        text.push_str("[[plates]]\nalmucantars = [\n");
        for (altitude, pair) in altitudes.iter().zip(mm[4..12].chunks(2)) {
            text.push_str(&format!("{{ altitude_deg = {altitude}, noon_mm = {}, midnight_mm = {} }},\n", pair[0].max(pair[1]), pair[0].min(pair[1])));
        }
        text.push_str("]\n");
        for (star, radius) in astrolabe_stars().zip(&mm) {
            text.push_str(&format!("[[stars]]\nname = \"{}\"\nradius_mm = {}\n", star.label(), radius.abs() + 0.2));
        }
        let found = examined(&text);
        for plate in found.plates.iter().flatten() {
            prop_assert!(plate.latitude.at.is_finite() && plate.latitude.within.is_finite());
            prop_assert!(plate.lines.iter().all(|line| line.should.mm().is_finite()));
        }
        if let Some(stars) = found.stars {
            prop_assert!(stars.year.at.is_finite());
            prop_assert!(JulianEpoch::from_year(stars.year.at).is_ok());
            prop_assert!(stars.stars.iter().all(|one| one.off >= Length::ZERO));
        }
    }
}
