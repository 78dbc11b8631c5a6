//! Old instruments as Epact, the catalogue of the Museum of the History of Science at
//! Oxford, describes them, made anew and held against it.

#![expect(
    clippy::unwrap_used,
    reason = "a helper that finds nothing fails its test"
)]

use drawing::{Item, Making, Workpiece, workpieces};
use instrument::{Instrument, LineId, Specification, YearDay};
use sky::Angle;

fn made(text: &str) -> (Instrument, Vec<Workpiece>) {
    let instrument = Instrument::new(Specification::from_toml(text).unwrap());
    let pieces = workpieces(&instrument, &Making::ALL);
    let least = instrument.specification().parts.least_width;
    for piece in &pieces {
        assert_eq!(piece.proven(least), Ok(()), "{}", piece.name);
    }
    (instrument, pieces)
}

/// The names of a piece's lines, each with how many strokes it has.
fn lines(pieces: &[Workpiece], name: &str) -> Vec<(String, usize)> {
    let piece = pieces.iter().find(|piece| piece.name == name).unwrap();
    let mut counted: Vec<(String, usize)> = Vec::new();
    for item in &piece.items {
        let Item::Stroke(trace) = item else { continue };
        // The ecliptic itself is the ring's edge, and engraved where metal crosses it.
        if trace.line == Some(LineId::Ecliptic) && !trace.scale {
            continue;
        }
        let Some(line) = &trace.line else { continue };
        let line = line.to_string();
        match counted.iter_mut().find(|one| one.0 == line) {
            Some(one) => one.1 += trace.contours.len(),
            None => counted.push((line, trace.contours.len())),
        }
    }
    counted
}

fn count(lines: &[(String, usize)], begins: &str) -> usize {
    lines.iter().filter(|one| one.0.starts_with(begins)).count()
}

/// Epact 40428, 1326: 132 mm; plates for Oxford 51°50′, Paris 48°32′, Jerusalem 32°;
/// almucantars every 5°, the prime vertical drawn, no houses.
#[test]
fn the_english_astrolabe_of_1326() {
    let (instrument, pieces) = made(include_str!("../../../data/museum/england-1326.toml"));
    let (low, high) = pieces[0].bounds();
    assert!((high.x - low.x - 132.0).abs() < 1e-9);
    for (name, latitude) in [
        ("plate-1a", 51.0 + 50.0 / 60.0),
        ("plate-1b", 48.0 + 32.0 / 60.0),
        ("plate-2a", 32.0),
    ] {
        let lines = lines(&pieces, name);
        assert_eq!(count(&lines, "almucantar"), 17, "{name}: 5° to 85°");
        assert_eq!(count(&lines, "prime vertical"), 1);
        assert_eq!(count(&lines, "house"), 0);
        // Conclusion II.21 of the Treatise on the Astrolabe (1391): a plate's latitude is
        // the count from the equator to the zenith on the meridian, and from the pole to
        // the horizon in the north. Drawn noon up, the zenith stands above the pole.
        let plate = instrument.plate(
            instrument.specification().plates[match name {
                "plate-1a" => 0,
                "plate-1b" => 1,
                _ => 2,
            }],
        );
        let equator = instrument.projection().equator_mm();
        let half = |deg: f64| (deg / 2.0).to_radians().tan();
        let zenith = equator * half(90.0 - latitude);
        let north = equator * half(latitude);
        let horizon = plate.horizon().as_circle().unwrap();
        // Latitudes are kept to the digits of the specification.
        assert!(
            (horizon.1 - (horizon.0.radius() + north)).abs() < 1e-5,
            "{name}"
        );
        // The prime vertical passes through the zenith, nearest the pole on its circle.
        let vertical = plate.azimuth(Angle::QUARTER_TURN).as_circle().unwrap();
        let nearest = vertical.1 - vertical.0.radius();
        assert!((nearest - zenith).abs() < 1e-5, "{name}");
    }
    // Fourteenth-century English ecliptics are divided every 2°, limbs every degree.
    let ecliptic = lines(&pieces, "rete");
    let strokes = ecliptic.iter().find(|one| one.0 == "ecliptic").unwrap().1;
    assert_eq!(strokes, 180);
    let limb = lines(&pieces, "mater");
    let degrees = limb
        .iter()
        .find(|one| one.0 == LineId::LimbDegrees.to_string())
        .unwrap()
        .1;
    assert!(
        (355..=360).contains(&degrees),
        "the notch may take some: {degrees}"
    );
}

/// Epact 98589, about 1370: 154 mm; a plate for 45° with houses, twilight line and
/// unequal hours; the ecliptic divided every 3°.
#[test]
fn the_english_astrolabe_of_about_1370() {
    let (_, pieces) = made(include_str!("../../../data/museum/england-1370.toml"));
    let plate = lines(&pieces, "plate-1a");
    assert_eq!(count(&plate, "almucantar"), 22, "every 4°");
    assert_eq!(count(&plate, "house line"), 4, "those below the horizon");
    // The twelfth part of the night six times over: the middle one is the midnight line.
    assert_eq!(count(&plate, "unequal-hour line"), 10);
    assert_eq!(count(&plate, "twilight"), 1);
    let rete = lines(&pieces, "rete");
    assert_eq!(rete.iter().find(|one| one.0 == "ecliptic").unwrap().1, 120);
}

/// Where old calendar scales have the vernal equinox, in days of March gone: Epact 34135
/// (about 1370) 11½, 32497 (about 1500) 10½, 94204 (late fifteenth century) 10¾. Epact
/// 23142 (about 1570) has 10½, half a day late of the sky.
#[test]
fn the_equinox_of_old_calendar_scales() {
    /// A quarter of a day is what the catalogue gives, and the dates are good to decades.
    const AGREES_DAYS: f64 = 0.3;
    for (year, engraved, late) in [
        (1370, 11.5, 0.0),
        (1500, 10.5, 0.0),
        (1485, 10.75, 0.0),
        (1570, 10.5, 0.5),
    ] {
        let text = format!(
            "version = 1\nname = \"old\"\ndiameter_mm = 140\nepoch_year = {year}\n\
             plates_deg = [45]\ncalendar = \"julian\"\ncalendar_leap_mean = true\n\
             day_strokes = \"end\"\n"
        );
        let instrument = Instrument::new(Specification::from_toml(&text).unwrap());
        let sun = |day: u8| {
            let stroke = YearDay {
                month: 3,
                day,
                part: 1.0,
            };
            instrument.back().sun(stroke).signed().deg()
        };
        let day = (5..20)
            .find(|day| sun(*day) <= 0.0 && sun(*day + 1) > 0.0)
            .unwrap();
        let gone = f64::from(day) + sun(day) / (sun(day) - sun(day + 1));
        assert!(
            (gone - (engraved - late)).abs() < AGREES_DAYS,
            "{year}: {gone}"
        );
    }
}
