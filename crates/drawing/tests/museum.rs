//! Old instruments as Epact, the catalogue of the Museum of the History of Science at
//! Oxford, describes them, made anew and held against it.

#![expect(
    clippy::unwrap_used,
    reason = "a helper that finds nothing fails its test"
)]

use std::fmt::Write as _;

use drawing::{Item, Making, Workpiece, workpieces};
use instrument::{Instrument, LineId, Part, SHADOW_POINTS, Specification, YearDay};
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
    for (name, side, latitude) in [
        ("plate-3b", 5, 51.0 + 50.0 / 60.0),
        ("plate-3a", 4, 48.0 + 32.0 / 60.0),
        ("plate-1a", 0, 32.0),
    ] {
        let lines = lines(&pieces, name);
        assert_eq!(count(&lines, "almucantar"), 17, "{name}: 5° to 85°");
        assert_eq!(count(&lines, "prime vertical"), 1);
        assert_eq!(count(&lines, "house"), 0);
        // Conclusion II.21 of the Treatise on the Astrolabe (1391): a plate's latitude is
        // the count from the equator to the zenith on the meridian, and from the pole to
        // the horizon in the north. Drawn noon up, the zenith stands above the pole.
        let plate = instrument.plate(instrument.specification().plates[side]);
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

/// What is printed of old astrolabes, and the specifications after them.
const PRINTED: &str = include_str!("../../../data/museum/measurements.tsv");
const REBUILT: [(&str, &str); 4] = [
    (
        "england-1326",
        include_str!("../../../data/museum/england-1326.toml"),
    ),
    (
        "england-lettered",
        include_str!("../../../data/museum/england-lettered.toml"),
    ),
    (
        "italy-1500",
        include_str!("../../../data/museum/italy-1500.toml"),
    ),
    (
        "england-1370",
        include_str!("../../../data/museum/england-1370.toml"),
    ),
];

/// A row of what is printed.
struct Row<'a> {
    instrument: &'a str,
    what: &'a str,
    printed: &'a str,
    /// How far ours may stand off; none where the print cannot be met.
    within: Option<f64>,
    source: &'a str,
    remark: &'a str,
}

fn rows() -> Vec<Row<'static>> {
    let lines = PRINTED.lines().filter(|line| !line.starts_with('#'));
    let cells = lines
        .skip(1)
        .map(|line| line.split('\t').collect::<Vec<_>>());
    cells
        .map(|cells| Row {
            instrument: cells[0],
            what: cells[1],
            printed: cells[2],
            within: (!cells[3].is_empty()).then(|| cells[3].parse().unwrap()),
            source: cells[4],
            remark: cells[5],
        })
        .collect()
}

/// A number as catalogues print it: `132`, `10½`, `51°50′`.
fn number(printed: &str) -> f64 {
    if let Some((whole, minutes)) = printed.split_once('°') {
        return whole.parse::<f64>().unwrap()
            + minutes.trim_end_matches('′').parse::<f64>().unwrap() / 60.0;
    }
    match printed.strip_suffix('½') {
        Some(whole) => whole.parse::<f64>().unwrap() + 0.5,
        None => printed.parse().unwrap(),
    }
}

/// An instrument made anew, to be measured.
struct Rebuilt {
    instrument: Instrument,
    pieces: Vec<Workpiece>,
}

impl Rebuilt {
    fn piece(&self, name: &str) -> &Workpiece {
        self.pieces.iter().find(|piece| piece.name == name).unwrap()
    }

    /// Left, right, foot and head of a line as it is drawn.
    fn bounds(&self, piece: &str, line: &LineId) -> (f64, f64, f64, f64) {
        let mut bounds = (f64::MAX, f64::MIN, f64::MAX, f64::MIN);
        for item in &self.piece(piece).items {
            let Item::Stroke(trace) = item else { continue };
            if trace.line.as_ref() != Some(line) {
                continue;
            }
            for contour in &trace.contours {
                let (low, high) = contour.bounds();
                bounds.0 = bounds.0.min(low.x);
                bounds.1 = bounds.1.max(high.x);
                bounds.2 = bounds.2.min(low.y);
                bounds.3 = bounds.3.max(high.y);
            }
        }
        bounds
    }

    /// The latitude for which a plate is drawn, by a ruler on its drawing: conclusion II.21
    /// of the Treatise on the Astrolabe (1391) counts from the pole to the horizon in the
    /// north; there the horizon is as far from the middle as tan φ/2 of the equator's radius
    /// (stereographic projection).
    fn latitude_deg(&self, piece: &str) -> f64 {
        let (left, right, _, _) = self.bounds(piece, &LineId::Equator);
        // Noon stands above, and heights grow downwards.
        let (_, _, _, north) = self.bounds(piece, &LineId::Horizon);
        2.0 * (north / ((right - left) / 2.0)).atan().to_degrees()
    }

    /// How many days of a month are gone when its calendar scale shows a degree.
    fn days_gone(&self, month: u8, degree: f64) -> f64 {
        let sun = |day: u8| {
            let stroke = YearDay {
                month,
                day,
                part: 1.0,
            };
            (self.instrument.back().sun(stroke) - Angle::from_deg(degree))
                .signed()
                .deg()
        };
        let day = (5..25)
            .find(|day| sun(*day) <= 0.0 && sun(*day + 1) > 0.0)
            .unwrap();
        f64::from(day) + sun(day) / (sun(day) - sun(day + 1))
    }

    /// What this instrument has of what is printed. A star that has its pointer counts for
    /// the name that is printed.
    fn measured(&self, row: &Row<'_>) -> String {
        let (what, side) = match row.what.split_once(" of side ") {
            Some((what, side)) => (what, side.split(',').next().unwrap().parse().unwrap()),
            None => (row.what, 1_u8),
        };
        let plate = format!(
            "plate-{}{}",
            side.div_ceil(2),
            if side % 2 == 1 { 'a' } else { 'b' }
        );
        let named = |piece: &str, begins: &str| count(&lines(&self.pieces, piece), begins);
        let strokes = |piece: &str, line: LineId| {
            let lines = lines(&self.pieces, piece);
            let line = line.to_string();
            lines
                .iter()
                .find(|one| one.0 == line)
                .map_or(0, |one| one.1)
        };
        let step = |names: &str| {
            let all = lines(&self.pieces, &plate);
            let degrees = all.iter().filter_map(|(name, _)| {
                let degrees = name.strip_prefix(names)?.split('°').next()?;
                degrees.trim().parse::<f64>().ok().filter(|deg| *deg > 0.0)
            });
            degrees.fold(f64::INFINITY, f64::min).to_string()
        };
        match what {
            "diameter mm" => {
                let (low, high) = self.piece("mater").bounds();
                format!("{}", ((high.x - low.x) * 1e6).round() / 1e6)
            }
            "latitude" => {
                let minutes = (self.latitude_deg(&plate) * 60.0 * 1e3).round() / 1e3;
                let whole = (minutes / 60.0).floor();
                format!("{whole}°{}′", minutes - whole * 60.0)
            }
            "sides" => {
                let plates = self.pieces.iter().filter(|one| one.part == Part::Plate);
                plates.filter(|one| !one.is_filler()).count().to_string()
            }
            "almucantars" => step("almucantar "),
            "azimuths" => step("azimuth "),
            "prime vertical" => named(&plate, "prime vertical").to_string(),
            "other azimuths" => named(&plate, "azimuth").to_string(),
            "unequal-hour lines" => (named(&plate, "unequal-hour line")
                + usize::from(
                    named(&plate, "midnight line") > 0 || named(&plate, "meridian line") > 0,
                ))
            .to_string(),
            "house lines" => named(&plate, "house line").to_string(),
            "twilight line" => named(&plate, "twilight").to_string(),
            "ecliptic divided every °" => (360 / strokes("rete", LineId::Ecliptic)).to_string(),
            // The notch takes some strokes.
            "limb divided every °" => {
                let degrees = strokes("mater", LineId::LimbDegrees);
                #[expect(clippy::cast_precision_loss, reason = "some hundreds")]
                let step = (360.0 / degrees as f64).round();
                step.to_string()
            }
            "stars" => self.piece("rete").pointers.len().to_string(),
            "vernal equinox, days of March gone" => format!("{:.2}", self.days_gone(3, 0.0)),
            "autumnal equinox, days of September gone" => {
                format!("{:.2}", self.days_gone(9, 180.0))
            }
            "points of the shadow square" => SHADOW_POINTS.to_string(),
            "horizons of one plate" => {
                let all = self
                    .pieces
                    .iter()
                    .map(|piece| named(&piece.name, "horizon of latitude"));
                all.max().unwrap().to_string()
            }
            _ => {
                let star = row.what.strip_prefix("star ").unwrap();
                let pointers = &self.piece("rete").pointers;
                let meant = pointers.iter().find(|one| one.star.designation == star);
                meant.map_or_else(|| "none".to_owned(), |_| row.printed.to_owned())
            }
        }
    }
}

/// Each line that is printed of four old instruments, held against what is made anew; where
/// print cannot be met, that stands in the data with its reason, and is true.
#[test]
fn old_instruments_made_anew_measure_what_catalogues_print() {
    let mut told = String::from(OPENING);
    for (name, text) in REBUILT {
        let (instrument, pieces) = made(text);
        let rebuilt = Rebuilt { instrument, pieces };
        let rows: Vec<Row<'_>> = rows()
            .into_iter()
            .filter(|row| row.instrument == name)
            .collect();
        assert!(rows.len() > 12, "{name}");
        let title = &rebuilt.instrument.specification().name;
        let mut title = title.strip_prefix("after ").unwrap().to_owned();
        title.replace_range(..1, &title[..1].to_uppercase());
        writeln!(
            told,
            "\n## {title}\n\n{}; `data/museum/{name}.toml`\n\n| what | printed | ours | |\n|---|---|---|---|",
            rows[0].source
        )
        .unwrap();
        for row in &rows {
            let ours = rebuilt.measured(row);
            let is_star = row.what.starts_with("star ");
            let same = if is_star {
                ours == row.printed
            } else {
                (number(&ours) - number(row.printed)).abs() <= row.within.unwrap_or(1e-9)
            };
            let of = row.what;
            match row.within {
                Some(within) => {
                    assert!(
                        same,
                        "{name}, {of}: {ours}, printed {} ± {within}",
                        row.printed
                    );
                }
                None => {
                    assert!(!same, "{name}, {of}: {ours} is met after all");
                    assert!(!row.remark.is_empty(), "{name}, {of}: why?");
                }
            }
            let ours = if is_star && same {
                of.strip_prefix("star ").unwrap().to_owned()
            } else {
                ours
            };
            let of = if is_star { "star" } else { of };
            let remark = match (row.within, row.remark) {
                (None, remark) => format!("**not met:** {remark}"),
                (Some(_), remark) => remark.to_owned(),
            };
            writeln!(told, "| {of} | {} | {ours} | {remark} |", row.printed).unwrap();
        }
    }
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../docs/old-instruments.md");
    if std::env::var_os("ALMURI_WRITE_MUSEUM").is_some() {
        std::fs::write(path, &told).unwrap();
    }
    let kept = std::fs::read_to_string(path).unwrap_or_default();
    assert!(
        kept == told,
        "docs/old-instruments.md is not what is measured: ALMURI_WRITE_MUSEUM=1 writes it"
    );
}

/// What stands above the tables.
const OPENING: &str = "\
# Old instruments made anew

Four astrolabes of the fourteenth and fifteenth centuries, each drawn from its own lines in
[a catalogue](../data/museum/measurements.tsv), and measured as if it lay on the table: the
latitudes with a ruler on the drawn plates, the equinoxes on the calendar scale for the
year, the divisions by counting strokes. What can be had of each is the specification in
[data/museum](../data/museum), to be given by name of the file:

    almuri make --with data/museum/italy-1500.toml -o brass

The design of retes and thrones is ours; catalogues print no radii and no places of stars, so
where a pointer stands is the sky's for the year and held against nothing. The equinoxes are
the sky's too, divided by calculation: that old calendar scales agree with it to a quarter of a
day or a half says how good the tables were by which they were divided. Where ours is not what
is printed, the reason stands in the last column. This page is written by a test.
";

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

/// Which star an old name means is told with who says so, or that it is from memory; where that
/// is today's name in another spelling, today's name is that star's.
#[test]
fn who_says_which_star_is_meant() {
    let (mut by_name, mut by_memory) = (0, 0);
    for row in rows() {
        let (Some(star), Some(_)) = (row.what.strip_prefix("star "), row.within) else {
            continue;
        };
        let told = row.remark.strip_prefix("which star: ").unwrap();
        if let Some(name) = told.strip_prefix("the IAU’s catalogue of star names: ") {
            let known = sky::star_named(name).map(|found| found.designation);
            assert_eq!(known, Ok(star), "{}: {name}", row.printed);
            by_name += 1;
        } else if told == "from memory" {
            by_memory += 1;
        } else {
            assert!(told.contains(": "), "{}: {told}", row.printed);
        }
    }
    assert!(by_name > 10, "{by_name}");
    assert_eq!(by_memory, 2);
}
