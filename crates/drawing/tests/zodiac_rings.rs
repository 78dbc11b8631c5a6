//! Rings of faces, terms and mansions: their strokes at the degrees in print, what stands in
//! them by the tables in print, and nothing touching.

#![expect(
    clippy::unwrap_used,
    reason = "a helper that finds nothing fails its test"
)]

use drawing::{CellSign, Item, Making, Workpiece, ring_cells, workpieces};
use instrument::{Instrument, LineId, Point, Specification, ZodiacRing};

mod followed;
use followed::points;

fn instrument(diameter: f64, rings: &str) -> Instrument {
    let text = format!(
        "version = 1\nname = \"rings\"\ndiameter_mm = {diameter}\nepoch_year = 2025\nplates_deg = [50]\n\
         [parts]\nrings = {rings}\n"
    );
    Instrument::new(Specification::from_toml(&text).unwrap())
}

fn back(instrument: &Instrument) -> Workpiece {
    let pieces = workpieces(instrument, &[Making::Back]);
    pieces
        .into_iter()
        .find(|piece| piece.name == "back")
        .unwrap()
}

/// The longitude of a place as drawn, in degrees: the head of Aries is on the left and the
/// signs run against the clock.
fn longitude(p: Point) -> f64 {
    let from_left = p.y.atan2(-p.x).to_degrees();
    from_left.rem_euclid(360.0)
}

/// The planets' initials and the ends of the terms of a sign.
fn row(ring: ZodiacRing, sign: usize) -> Vec<(String, f64)> {
    let within = 30.0 * sign as f64;
    let cells = ring_cells(ring).into_iter();
    let own = cells.filter(|cell| (-1e-9..30.0 - 1e-9).contains(&(cell.begins.deg() - within)));
    own.map(|cell| {
        let CellSign::Lord(planet) = cell.sign else {
            panic!("a planet")
        };
        (
            planet.name().to_owned(),
            cell.begins.deg() + cell.breadth.deg() - within,
        )
    })
    .collect()
}

/// Terms of Ptolemy's table as J. Middleton prints it, *Practical Astrology* (1679), p. 60,
/// the first of Aries and the last of Aquarius; the Egyptians' of Aries by Tetrabiblos I.20;
/// faces of Aries, Mars, Sun and Venus, and the last of Pisces, Mars again (p. 60).
#[test]
fn lords_are_those_in_print() {
    let is = |ring, sign, wanted: &[(&str, f64)]| {
        let found = row(ring, sign);
        assert_eq!(found.len(), wanted.len());
        for ((planet, end), (name, printed)) in found.iter().zip(wanted) {
            assert!(
                planet.eq_ignore_ascii_case(name) && (end - printed).abs() < 1e-9,
                "{found:?}"
            );
        }
    };
    let aries = [
        ("Jupiter", 6.0),
        ("Venus", 14.0),
        ("Mercury", 21.0),
        ("Mars", 26.0),
        ("Saturn", 30.0),
    ];
    is(ZodiacRing::LillysTerms, 0, &aries);
    let aquarius = [
        ("Saturn", 6.0),
        ("Mercury", 12.0),
        ("Venus", 20.0),
        ("Jupiter", 25.0),
        ("Mars", 30.0),
    ];
    is(ZodiacRing::LillysTerms, 10, &aquarius);
    let egyptian = [
        ("Jupiter", 6.0),
        ("Venus", 12.0),
        ("Mercury", 20.0),
        ("Mars", 25.0),
        ("Saturn", 30.0),
    ];
    is(ZodiacRing::EgyptianTerms, 0, &egyptian);
    is(
        ZodiacRing::Faces,
        0,
        &[("Mars", 10.0), ("Sun", 20.0), ("Venus", 30.0)],
    );
    is(
        ZodiacRing::Faces,
        11,
        &[("Saturn", 10.0), ("Jupiter", 20.0), ("Mars", 30.0)],
    );
}

/// Mansions begin where Agrippa says (*De occulta philosophia* II.33, in the English of 1651):
/// the second at 12°51′22″ of Aries, the third at 25°42′51″, the fourth at 8°34′17″ of Taurus,
/// the fifth at 21°25′40″; he rounds as he goes, by at most five seconds.
#[test]
fn mansions_begin_as_agrippa_says() {
    let cells = ring_cells(ZodiacRing::Mansions);
    assert_eq!(cells.len(), 28);
    let printed = [
        0.0,
        12.0 + 51.0 / 60.0 + 22.0 / 3600.0,
        25.0 + 42.0 / 60.0 + 51.0 / 3600.0,
        38.0 + 34.0 / 60.0 + 17.0 / 3600.0,
        51.0 + 25.0 / 60.0 + 40.0 / 3600.0,
    ];
    for (cell, printed) in cells.iter().zip(printed) {
        assert!((cell.begins.deg() - printed).abs() < 5.0 / 3600.0);
    }
    for cell in cells {
        assert!((cell.breadth.deg() - (12.0 + 51.0 / 60.0 + 26.0 / 3600.0)).abs() < 0.5 / 3600.0);
    }
}

/// Every boundary has its stroke, across the whole ring, and no planet's character comes near
/// one, whatever the size.
#[test]
fn strokes_stand_at_the_boundaries_and_nothing_touches() {
    let all = "[\"mansions\", \"egyptian-terms\", \"faces\", \"lillys-terms\"]";
    for diameter in [60.0, 90.0, 120.0, 180.0, 400.0] {
        let made = instrument(diameter, all);
        let bands = made.back().bands;
        let breadth = (bands.rings - bands.field) / 4.0;
        let piece = back(&made);
        let rings = made.specification().parts.rings.clone();
        for (n, ring) in rings.into_iter().enumerate() {
            let outer = bands.rings - breadth * n as f64;
            let mut strokes: Vec<f64> = Vec::new();
            let mut glyphs: Vec<Point> = Vec::new();
            for item in &piece.items {
                let Item::Stroke(trace) = item else { continue };
                for contour in &trace.contours {
                    let points = points(contour);
                    if trace.line == Some(LineId::ZodiacRing(ring)) {
                        let reach: Vec<f64> = points.iter().map(|p| p.radius()).collect();
                        let (least, most) = (
                            reach.iter().copied().fold(1e9, f64::min),
                            reach.iter().copied().fold(0.0, f64::max),
                        );
                        assert!(
                            (most - outer).abs() < 1e-6 && (outer - least - breadth).abs() < 1e-6
                        );
                        strokes.push(longitude(points[0]));
                    } else if trace.line.is_none()
                        && points.iter().all(|p| {
                            p.radius() < outer - 1e-6 && p.radius() > outer - breadth + 1e-6
                        })
                    {
                        glyphs.extend(points);
                    }
                }
            }
            let cells = ring_cells(ring);
            if strokes.is_empty() {
                assert!(
                    piece
                        .thinned
                        .iter()
                        .any(|one| one.what == format!("ring of {}", ring.called())),
                    "{diameter}"
                );
                continue;
            }
            assert_eq!(strokes.len(), cells.len(), "{diameter}: {}", ring.called());
            for cell in &cells {
                let off =
                    |at: &f64| ((at - cell.begins.deg() + 180.0).rem_euclid(360.0) - 180.0).abs();
                let least = strokes.iter().map(off).fold(f64::INFINITY, f64::min);
                assert!(least < 1e-6, "{}: {least}", ring.called());
            }
            for p in &glyphs {
                let apart = |at: &f64| {
                    let off = (longitude(*p) - at + 180.0).rem_euclid(360.0) - 180.0;
                    off.to_radians().abs() * p.radius()
                };
                let least = strokes.iter().map(apart).fold(f64::INFINITY, f64::min);
                // The widths of half a hair and half a fine line.
                assert!(
                    least > 1.5 * piece.hair_mm,
                    "{diameter}: {}: {least}",
                    ring.called()
                );
            }
            let lettered = piece.items.iter().filter(|item| matches!(item, Item::Text(one) if one.line == Some(LineId::ZodiacRing(ring)))).count();
            let told = piece
                .thinned
                .iter()
                .any(|one| one.what.contains("mansions"));
            if ring == ZodiacRing::Mansions {
                assert!(
                    lettered == 28 || (lettered == 0 && told),
                    "{diameter}: {lettered}"
                );
            } else {
                assert!(!glyphs.is_empty(), "{diameter}: {}", ring.called());
            }
        }
    }
}

#[test]
fn rings_that_cannot_be_are_refused() {
    for (rings, message) in [
        (
            "[\"hours\"]",
            "is not known; a list of up to 4 of \"faces\"",
        ),
        ("[\"faces\", \"faces\"]", "stands there twice"),
        ("\"faces\"", "is not a list"),
        ("[1]", "is not known"),
        (
            "[\"faces\", \"egyptian-terms\", \"ptolemys-terms\", \"lillys-terms\", \"mansions\"]",
            "is too long",
        ),
    ] {
        let text = format!(
            "version = 1\nname = \"rings\"\ndiameter_mm = 90\nepoch_year = 2025\nplates_deg = [50]\n[parts]\nrings = {rings}\n"
        );
        let told = Specification::from_toml(&text).unwrap_err().to_string();
        assert!(
            told.contains("parts.rings = ") && told.contains(message),
            "{told}"
        );
    }
}
