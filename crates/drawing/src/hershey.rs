use std::collections::HashMap;
use std::sync::OnceLock;

use instrument::Point;

/// The plain Roman of the Hershey fonts, each glyph one line from the space on.
const ROMAN: &str = include_str!("../../../data/hershey/rowmans.jhf");

/// The height of a capital in the units of the fonts.
pub(crate) const CAPITAL: f64 = 21.0;

/// The baseline in the units of the fonts, y down.
const BASELINE: f64 = 9.0;

/// A letter in single strokes, in units of the fonts: y down from the baseline.
#[derive(Clone, Debug, Default)]
pub(crate) struct Glyph {
    pub(crate) width: f64,
    pub(crate) strokes: Vec<Vec<Point>>,
}

/// A full stop stands so much higher between two hours, at half the height of a capital.
const RAISED: f64 = 9.5;

/// The letter of a character; `None` where the fonts have none.
pub(crate) fn glyph(character: char) -> Option<Glyph> {
    static GLYPHS: OnceLock<HashMap<char, Glyph>> = OnceLock::new();
    let glyphs = GLYPHS.get_or_init(|| {
        (' '..='~')
            .zip(records(ROMAN))
            .filter_map(|(character, record)| Some((character, read(&record)?)))
            .collect()
    });
    let known = |c: char| glyphs.get(&c).cloned();
    match character {
        '°' => Some(ring()),
        '′' => Some(stroke(4.0, &[(2.5, -21.0), (1.0, -14.0)])),
        '″' => {
            let mut two = stroke(7.0, &[(2.5, -21.0), (1.0, -14.0)]);
            two.strokes
                .push(vec![Point { x: 6.0, y: -21.0 }, Point { x: 4.5, y: -14.0 }]);
            Some(two)
        }
        '·' => {
            let mut stop = known('.')?;
            for point in stop.strokes.iter_mut().flatten() {
                point.y -= RAISED;
            }
            Some(stop)
        }
        '−' | '–' => known('-'),
        '’' => known('\''),
        other => known(other).or_else(|| {
            let (letter, accent) = parted(other)?;
            Some(known(letter)?.with(accent))
        }),
    }
}

/// The records of a file, whose long lines are broken.
fn records(text: &str) -> Vec<String> {
    let mut records: Vec<String> = Vec::new();
    let mut missing = 0_usize;
    for line in text.lines() {
        if missing > 0 {
            missing = missing.saturating_sub(line.len());
            if let Some(last) = records.last_mut() {
                last.push_str(line);
            }
            continue;
        }
        let count: usize = line
            .get(5..8)
            .and_then(|n| n.trim().parse().ok())
            .unwrap_or(0);
        missing = (8 + 2 * count).saturating_sub(line.len());
        records.push(line.to_owned());
    }
    records
}

/// Pairs of letters about R: the edges, then the strokes, parted by " R".
fn read(record: &str) -> Option<Glyph> {
    let bytes = record.as_bytes().get(8..)?;
    let value = |byte: u8| f64::from(i32::from(byte) - i32::from(b'R'));
    let mut pairs = bytes.chunks_exact(2);
    let [left, right] = *pairs.next()? else {
        return None;
    };
    let (left, right) = (value(left), value(right));
    let mut strokes: Vec<Vec<Point>> = vec![Vec::new()];
    for pair in pairs {
        let &[x, y] = pair else { continue };
        if (x, y) == (b' ', b'R') {
            strokes.push(Vec::new());
        } else if let Some(stroke) = strokes.last_mut() {
            stroke.push(Point {
                x: value(x) - left,
                y: value(y) - BASELINE,
            });
        }
    }
    strokes.retain(|stroke| stroke.len() > 1);
    Some(Glyph {
        width: right - left,
        strokes,
    })
}

fn stroke(width: f64, points: &[(f64, f64)]) -> Glyph {
    let points = points.iter().map(|(x, y)| Point { x: *x, y: *y }).collect();
    Glyph {
        width,
        strokes: vec![points],
    }
}

fn ring() -> Glyph {
    let points: Vec<(f64, f64)> = (0..=12)
        .map(|n| {
            let (sin, cos) = libm::sincos(std::f64::consts::TAU * f64::from(n) / 12.0);
            (4.5 + 2.8 * cos, -18.2 + 2.8 * sin)
        })
        .collect();
    stroke(9.0, &points)
}

/// A mark on a letter.
#[derive(Clone, Copy)]
enum Accent {
    Grave,
    Acute,
    Circumflex,
    Tilde,
    Diaeresis,
    Ring,
    Macron,
    Caron,
    Cedilla,
    Slash,
}

/// The letters with each mark, and without it, in the same order.
const ACCENTED: [(Accent, &str, &str); 10] = [
    (Accent::Grave, "ÀÈÌÒÙàèìòù", "AEIOUaeiou"),
    (
        Accent::Acute,
        "ÁÉÍÓÚÝĆŃŚŹáéíóúýćńśź",
        "AEIOUYCNSZaeiouycnsz",
    ),
    (Accent::Circumflex, "ÂÊÎÔÛâêîôû", "AEIOUaeiou"),
    (Accent::Tilde, "ÃÑÕãñõ", "ANOano"),
    (Accent::Diaeresis, "ÄËÏÖÜŸäëïöüÿ", "AEIOUYaeiouy"),
    (Accent::Ring, "ÅŮåů", "AUau"),
    (Accent::Macron, "ĀĒĪŌŪāēīōū", "AEIOUaeiou"),
    (Accent::Caron, "ČĎĚŇŘŠŤŽčďěňřšťž", "CDENRSTZcdenrstz"),
    (Accent::Cedilla, "ÇŞŢçşţ", "CSTcst"),
    (Accent::Slash, "ØŁøł", "OLol"),
];

/// A letter and the mark on it.
fn parted(character: char) -> Option<(char, Accent)> {
    ACCENTED.iter().find_map(|(accent, with, without)| {
        let found = with.chars().zip(without.chars());
        let mut found = found.filter(|(whole, _)| *whole == character);
        found.next().map(|(_, letter)| (letter, *accent))
    })
}

impl Glyph {
    /// The letter with a mark on it, in strokes of the same kind.
    fn with(mut self, accent: Accent) -> Glyph {
        let points = || self.strokes.iter().flatten();
        let top = points().map(|p| p.y).fold(0.0, f64::min);
        let (middle, over) = (self.width / 2.0, top - 3.0);
        let strokes: Vec<Vec<(f64, f64)>> = match accent {
            Accent::Grave => vec![vec![(-2.5, -3.5), (1.5, 0.0)]],
            Accent::Acute => vec![vec![(2.5, -3.5), (-1.5, 0.0)]],
            Accent::Circumflex => vec![vec![(-3.5, 0.0), (0.0, -3.5), (3.5, 0.0)]],
            Accent::Caron => vec![vec![(-3.5, -3.5), (0.0, 0.0), (3.5, -3.5)]],
            Accent::Macron => vec![vec![(-4.0, -1.0), (4.0, -1.0)]],
            Accent::Tilde => vec![vec![(-4.0, 0.0), (-1.5, -2.0), (1.5, 0.0), (4.0, -2.0)]],
            Accent::Diaeresis => [-3.0, 3.0].map(|x| vec![(x, -1.5), (x, -0.5)]).to_vec(),
            Accent::Ring => {
                let round = (0..=8).map(|n| {
                    let (sin, cos) = libm::sincos(std::f64::consts::TAU * f64::from(n) / 8.0);
                    (2.0 * cos, 2.0 * sin - 2.0)
                });
                vec![round.collect()]
            }
            // The two that do not stand over the letter are given from the middle of its foot.
            Accent::Cedilla | Accent::Slash => Vec::new(),
        };
        let place = |x: f64, y: f64| Point { x: middle + x, y };
        let above = strokes.into_iter().map(|stroke| {
            stroke
                .into_iter()
                .map(|(x, y)| place(x, over + y))
                .collect()
        });
        let mut marks: Vec<Vec<Point>> = above.collect();
        match accent {
            Accent::Cedilla => marks.push(vec![
                place(0.0, 0.0),
                place(1.5, 3.0),
                place(0.0, 5.0),
                place(-2.0, 4.5),
            ]),
            Accent::Slash => marks.push(vec![place(-5.0, top * 0.25), place(5.0, top * 0.75)]),
            Accent::Grave
            | Accent::Acute
            | Accent::Circumflex
            | Accent::Tilde
            | Accent::Diaeresis
            | Accent::Ring
            | Accent::Macron
            | Accent::Caron => {}
        }
        self.strokes.extend(marks);
        self
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_letter_has_strokes_between_its_edges() {
        for character in '!'..='~' {
            let glyph = glyph(character).unwrap();
            assert!(!glyph.strokes.is_empty(), "{character}");
            assert!(glyph.width > 2.0, "{character}");
        }
        // A capital stands on the baseline and is as high as said.
        let heights: Vec<f64> = glyph('H')
            .unwrap()
            .strokes
            .iter()
            .flatten()
            .map(|p| p.y)
            .collect();
        let lowest = heights.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let highest = heights.iter().copied().fold(f64::INFINITY, f64::min);
        assert!((lowest, highest) == (0.0, -CAPITAL), "{lowest} {highest}");
    }

    #[test]
    fn accents_are_marks_on_their_letters() {
        for (_, with, without) in ACCENTED {
            assert_eq!(with.chars().count(), without.chars().count());
            for (whole, letter) in with.chars().zip(without.chars()) {
                let (whole, letter) = (glyph(whole).unwrap(), glyph(letter).unwrap());
                assert!(whole.strokes.len() > letter.strokes.len());
            }
        }
        for foreign in ['Д', 'ش', '金', 'ß'] {
            assert!(glyph(foreign).is_none(), "{foreign}");
        }
    }
}
