//! Films for etching, read back dot by dot: both sides lie on one another, lines are as
//! broad as they should be, and nothing is made that cannot be used.

#![cfg(feature = "documents")]
#![expect(
    clippy::unwrap_used,
    reason = "a helper that finds nothing fails its test"
)]

use instrument::{Instrument, Specification};
use patience::Patience;
use press::{FilmSense, Filming, Format, Making, Order, PressError, Printed, Set, Shaping, set};

const TEXT: &str = "version = 1\nname = \"etched piece\"\nepoch_year = 2025\ndiameter_mm = 60\nplates_deg = [51.5, 42]\n";

fn made(filming: Filming, parts: &[Making], formats: &[Format]) -> Result<Set, PressError> {
    let order = Order {
        parts: parts.to_vec(),
        formats: formats.to_vec(),
        filming,
        // So small a piece has lines that no undercut could be taken from.
        shaping: Shaping::of(None, None, Some(0.12)).unwrap(),
        ..Order::default()
    };
    let instrument = Instrument::new(Specification::from_toml(TEXT).unwrap());
    set(&instrument, &order, Patience::ENDLESS)
}

/// A picture of one bit for each dot (PNG, third edition of the W3C): rows of dots, dark ones
/// true, and how many dots there are to the millimetre.
struct Picture {
    rows: Vec<Vec<bool>>,
    to_the_mm: f64,
}

impl Picture {
    fn read(bytes: &[u8]) -> Picture {
        assert_eq!(&bytes[..8], b"\x89PNG\r\n\x1a\n");
        let u32_at = |at: usize| u32::from_be_bytes(bytes[at..at + 4].try_into().unwrap()) as usize;
        let (mut at, mut packed, mut size, mut to_the_mm) = (8, Vec::new(), (0, 0), 0.0);
        loop {
            let length = u32_at(at);
            let content = &bytes[at + 8..at + 8 + length];
            match &bytes[at + 4..at + 8] {
                b"IHDR" => {
                    size = (u32_at(at + 8), u32_at(at + 12));
                    assert_eq!(content[8..], [1, 0, 0, 0, 0]);
                }
                b"pHYs" => {
                    assert_eq!(content[8], 1);
                    to_the_mm = f64::from(u32::try_from(u32_at(at + 8)).unwrap()) / 1000.0;
                }
                b"IDAT" => packed.extend(content),
                b"IEND" => break,
                other => panic!("{other:?}"),
            }
            at += length + 12;
        }
        let bytes = miniz_oxide::inflate::decompress_to_vec_zlib(&packed).unwrap();
        let (columns, wide) = (size.0, size.0.div_ceil(8));
        assert_eq!(bytes.len(), size.1 * (wide + 1));
        let mut above = vec![0_u8; wide];
        let rows = bytes.chunks_exact(wide + 1).map(|row| {
            assert_eq!(row[0], 2);
            let row: Vec<u8> = row[1..]
                .iter()
                .zip(&above)
                .map(|(a, b)| a.wrapping_add(*b))
                .collect();
            above = row.clone();
            (0..columns)
                .map(|n| row[n / 8] & (0x80 >> (n % 8)) == 0)
                .collect()
        });
        Picture {
            rows: rows.collect(),
            to_the_mm,
        }
    }

    fn size_mm(&self) -> (f64, f64) {
        (
            self.rows[0].len() as f64 / self.to_the_mm,
            self.rows.len() as f64 / self.to_the_mm,
        )
    }

    fn turned_over(mut self) -> Picture {
        for row in &mut self.rows {
            row.reverse();
        }
        self
    }

    /// Where the dark within a distance of a place has its middle, in millimetres from the
    /// corner at the top left.
    fn middle_of_dark(&self, (x, y): (f64, f64), within_mm: f64) -> (f64, f64) {
        let (mut sum, mut count) = ((0.0, 0.0), 0.0);
        for (r, row) in self.rows.iter().enumerate() {
            for (c, dark) in row.iter().enumerate() {
                let at = (
                    (c as f64 + 0.5) / self.to_the_mm,
                    (r as f64 + 0.5) / self.to_the_mm,
                );
                if *dark && (at.0 - x).abs() < within_mm && (at.1 - y).abs() < within_mm {
                    sum = (sum.0 + at.0, sum.1 + at.1);
                    count += 1.0;
                }
            }
        }
        assert!(count > 0.0, "nothing dark at {x}, {y}");
        (sum.0 / count, sum.1 / count)
    }

    fn dark(&self) -> usize {
        self.rows.iter().flatten().filter(|dark| **dark).count()
    }
}

fn picture(set: &Set, name: &str) -> Picture {
    Picture::read(
        &set.files
            .iter()
            .find(|file| file.name == name)
            .unwrap()
            .bytes,
    )
}

#[test]
fn both_sides_lie_on_one_another() {
    for part in [Making::Plates, Making::Mater] {
        let set = made(Filming::default(), &[part], &[Format::FilmPng]).unwrap();
        let name = &set.manifest.films[0].name;
        let front = picture(&set, &format!("{name}-film-front.png"));
        let back = picture(&set, &format!("{name}-film-back.png")).turned_over();
        assert!((front.to_the_mm - 100.0).abs() < 1e-9);
        let (width, height) = front.size_mm();
        assert!(
            (width - back.size_mm().0).abs() < 1e-9 && (height - back.size_mm().1).abs() < 1e-9
        );
        let told = &set.manifest.films[0];
        assert!((width - told.width_mm).abs() <= 0.01 && (height - told.height_mm).abs() <= 0.01);
        // Crosses stand 6 mm from the corners, holes 6 mm from the sides, not at one height.
        let (x, y) = (6.0, 6.0);
        let crosses = [
            (x, y),
            (width - x, y),
            (x, height - y),
            (width - x, height - y),
        ];
        let holes = [(x, height / 2.0 - 10.0), (width - x, height / 2.0)];
        for place in crosses.into_iter().chain(holes) {
            let (a, b) = (
                front.middle_of_dark(place, 4.5),
                back.middle_of_dark(place, 4.5),
            );
            assert!(
                (a.0 - b.0).hypot(a.1 - b.1) < 0.01,
                "{place:?}: {a:?}, {b:?}"
            );
            assert!(
                (a.0 - place.0).hypot(a.1 - place.1) < 0.01,
                "{place:?}: {a:?}"
            );
        }
        // Turned about, the holes would not fit.
        let turned = (width - holes[0].0, height - holes[0].1);
        assert!((turned.1 - holes[1].1).abs() > 5.0);
    }
}

/// Several sheets are worked at by two threads at once, one alone by one: every file is the
/// same to the byte, and they stand in the order of the parts.
#[test]
fn films_are_the_same_whether_made_alone_or_with_others() {
    let formats = [Format::Film, Format::FilmPng, Format::Svg];
    let films = |parts: &[Making]| -> Vec<Printed> {
        let filming = Filming {
            dots_per_inch: 600.0,
            ..Filming::default()
        };
        let mut files = made(filming, parts, &formats).unwrap().files;
        files.retain(|file| !file.name.starts_with("manifest") && !file.name.starts_with("sheet"));
        files
    };
    let whole = films(&Making::ALL);
    let alone = Making::ALL.map(|part| films(&[part]));
    // First what is drawn of each, then films.
    let is_film = |file: &&Printed| file.name.contains("-film");
    let drawn = alone.iter().flatten().filter(|file| !is_film(file));
    let filmed = alone.iter().flatten().filter(is_film);
    assert_eq!(
        whole.iter().collect::<Vec<_>>(),
        drawn.chain(filmed).collect::<Vec<_>>()
    );
    assert!(whole.iter().filter(is_film).count() > 20);
}

/// The edge along which a plate is etched through from both sides is the same on both films,
/// the back's turned over, and where the plate ends: all round, within a hundredth of a
/// millimetre and the breadth of a dot.
#[test]
fn what_is_etched_from_both_sides_meets() {
    let filming = Filming {
        through: true,
        ..Filming::default()
    };
    let set = made(filming, &[Making::Plates], &[Format::FilmPng]).unwrap();
    let radius = set.manifest.pieces[0].width_mm / 2.0;
    let front = picture(&set, "plate-1-film-front.png");
    let back = picture(&set, "plate-1-film-back.png").turned_over();
    let centre = (front.size_mm().0 / 2.0, 16.0 + radius);
    // From within what is etched away, inwards to the metal.
    let edge = |picture: &Picture, turn: f64| {
        let is_dark = |r: f64| {
            let (x, y) = (centre.0 + r * turn.sin(), centre.1 - r * turn.cos());
            picture.rows[(y * picture.to_the_mm) as usize][(x * picture.to_the_mm) as usize]
        };
        let reach = (0..400).map(|n| radius + 0.1 - 0.001 * f64::from(n));
        is_dark(radius + 0.1).then(|| reach.take_while(|r| is_dark(*r)).last())?
    };
    let mut met = 0;
    for n in 0..720 {
        let turn = f64::from(n).to_radians() / 2.0;
        let edges = [edge(&front, turn), edge(&back, turn)];
        let [Some(one), Some(other)] = edges else {
            continue;
        };
        // Not beside tabs, nor where a line runs up to the edge.
        if (one - radius).abs() > 0.03 || (other - radius).abs() > 0.03 {
            continue;
        }
        met += 1;
        assert!((one - other).abs() < 0.016, "{turn}: {one} {other}");
        assert!((one - radius).abs() < 0.016, "{turn}: {one} {radius}");
    }
    assert!(met > 640, "{met}");
}

/// Along a row that crosses the meridian line of the plate alone, the line is as broad as the
/// manifest of lines says, less the undercut at each of its two edges.
#[test]
fn lines_are_drawn_in_by_the_undercut() {
    let breadth = |undercut_mm: f64| {
        let filming = Filming {
            undercut_mm,
            ..Filming::default()
        };
        let set = made(filming, &[Making::Plates], &[Format::FilmPng]).unwrap();
        let picture = picture(&set, "plate-1-film-front.png");
        let middle = picture.rows[0].len() / 2;
        // The commonest breadth of what is dark about the middle, over all rows.
        let mut counts = std::collections::BTreeMap::new();
        for row in &picture.rows {
            if row[middle] {
                let left = row[..middle].iter().rev().take_while(|dark| **dark).count();
                let right = row[middle..].iter().take_while(|dark| **dark).count();
                *counts.entry(left + right).or_insert(0) += 1;
            }
        }
        let most = counts.iter().max_by_key(|(_, count)| **count).unwrap().0;
        (*most as f64 / picture.to_the_mm, picture.dark())
    };
    let (whole, dark) = breadth(0.0);
    for undercut in [0.02, -0.03] {
        let (one, other) = breadth(undercut);
        assert!(
            (one - (whole - 2.0 * undercut)).abs() < 0.0101,
            "{whole}, {one}"
        );
        assert_eq!(undercut > 0.0, other < dark);
    }
}

/// Letters with hairlines that the etch eats away are told of, as many of each part as there
/// are; none where nothing is eaten, and none of letters of a single stroke.
#[test]
fn letters_whose_hairlines_vanish_are_told() {
    let warned = |undercut_mm: f64, letters: &str| {
        let order = Order {
            parts: vec![Making::Plates],
            formats: vec![Format::Film],
            filming: Filming {
                undercut_mm,
                ..Filming::default()
            },
            shaping: Shaping::of(None, None, Some(0.12)).unwrap(),
            ..Order::default()
        };
        let text = format!("{TEXT}[parts]\nletters = \"{letters}\"\n");
        let instrument = Instrument::new(Specification::from_toml(&text).unwrap());
        let manifest = set(&instrument, &order, Patience::ENDLESS)
            .unwrap()
            .manifest;
        (manifest.warnings, manifest.films.len())
    };
    assert_eq!(warned(0.0, "serif"), (Vec::new(), 1));
    assert_eq!(warned(-0.05, "serif").0, Vec::<String>::new());
    assert_eq!(warned(0.04, "single-stroke").0, Vec::<String>::new());
    let (told, _) = warned(0.04, "serif");
    assert!(
        told[0].starts_with("plate-1a: an undercut of 0.04 mm"),
        "{told:?}"
    );
    // What is said to keep them does, and a little more does not.
    let below = told[0].split("an undercut below ").nth(1).unwrap();
    let below: f64 = below.split(' ').next().unwrap().parse().unwrap();
    assert!(below > 0.0 && below < 0.04, "{below}");
    assert!(
        warned(below - 0.001, "serif")
            .0
            .iter()
            .all(|one| !one.starts_with("plate-1a:"))
    );
    assert!(
        warned(below + 0.001, "serif")
            .0
            .iter()
            .any(|one| one.starts_with("plate-1a:"))
    );
}

#[test]
fn negatives_and_mirrored_films_are_what_they_are_called() {
    let of = |sense, mirrored| {
        let filming = Filming {
            sense,
            mirrored,
            dots_per_inch: 600.0,
            through: true,
            ..Filming::default()
        };
        let set = made(filming, &[Making::Rete], &[Format::FilmPng]).unwrap();
        picture(&set, "rete-film-front.png")
    };
    let plain = of(FilmSense::Positive, false);
    // What is written on the film is not the same, so that only its middle is compared.
    let rows = |picture: Picture| {
        let (high, wide) = (picture.rows.len(), picture.rows[0].len());
        let rows = picture.rows[high / 5..high * 4 / 5].iter();
        rows.map(|row| row[wide / 5..wide * 4 / 5].to_vec())
            .collect::<Vec<_>>()
    };
    let differ = |a: &[Vec<bool>], b: &[Vec<bool>]| {
        let dots = a.iter().flatten().zip(b.iter().flatten());
        let all = a.iter().flatten().count();
        dots.filter(|(a, b)| a != b).count() as f64 / all as f64
    };
    let plain = rows(plain);
    let negative = rows(of(FilmSense::Negative, false));
    assert!(differ(&plain, &negative) > 0.999);
    let mirrored = rows(of(FilmSense::Positive, true).turned_over());
    assert!(differ(&plain, &mirrored) < 0.002);
    assert!(differ(&plain, &rows(of(FilmSense::Positive, true))) > 0.01);
}

#[test]
fn a_part_etched_through_hangs_on_its_tabs_alone() {
    let filming = Filming {
        through: true,
        dots_per_inch: 1000.0,
        ..Filming::default()
    };
    let set = made(filming, &[Making::Plates], &[Format::FilmPng, Format::Film]).unwrap();
    assert!(
        set.files
            .iter()
            .any(|file| file.name == "plate-1-films.pdf" && file.bytes.starts_with(b"%PDF"))
    );
    let picture = picture(&set, "plate-1-film-front.png");
    let (high, wide) = (picture.rows.len(), picture.rows[0].len());
    // Around the part, beyond its edge by half the gap: dark but for four tabs.
    let reach =
        set.manifest.pieces[0].width_mm / 2.0 + set.manifest.pieces[0].thickness_mm.max(0.3) / 2.0;
    let to_the_mm = picture.to_the_mm;
    // The part reaches further down than up, by its tongue.
    let centre_y = 16.0 + set.manifest.pieces[0].width_mm / 2.0;
    let mut changes = 0;
    let mut was = None;
    for n in 0..=36_000 {
        let a = f64::from(n) / 36_000.0 * std::f64::consts::TAU;
        let (x, y) = (
            wide as f64 / 2.0 + reach * a.sin() * to_the_mm,
            (centre_y - reach * a.cos()) * to_the_mm,
        );
        let near_tongue = a.cos() < -0.95;
        if near_tongue {
            continue;
        }
        let dark = picture.rows[(y as usize).min(high - 1)][x as usize];
        changes += i32::from(was.is_some_and(|was| was != dark));
        was = Some(dark);
    }
    assert!((6..=8).contains(&changes), "{changes}");
}

#[test]
fn what_cannot_be_etched_or_drawn_is_refused() {
    let much = Filming {
        undercut_mm: 0.15,
        ..Filming::default()
    };
    let refused = made(much, &[Making::Plates], &[Format::Film])
        .unwrap_err()
        .to_string();
    assert!(
        refused.contains("an undercut of 0.15 mm leaves nothing"),
        "{refused}"
    );
    assert!(refused.contains("or less would do"), "{refused}");
    assert!(
        Filming {
            undercut_mm: f64::NAN,
            ..Filming::default()
        }
        .checked()
        .is_err()
    );
    assert!(
        Filming {
            dots_per_inch: 1e9,
            ..Filming::default()
        }
        .checked()
        .is_err()
    );
    assert!(FilmSense::named("dark").is_err());
    let order = Order {
        parts: vec![Making::Rule],
        formats: vec![Format::FilmPng],
        ..Order::default()
    };
    let large = TEXT.replace("60", "900");
    let large = Instrument::new(Specification::from_toml(&large).unwrap());
    let refused = set(&large, &order, Patience::ENDLESS)
        .unwrap_err()
        .to_string();
    assert!(refused.contains("--film-dpi"), "{refused}");
}
