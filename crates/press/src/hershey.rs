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

/// The letter of a character.
pub(crate) fn glyph(character: char) -> Glyph {
    static GLYPHS: OnceLock<HashMap<char, Glyph>> = OnceLock::new();
    let glyphs = GLYPHS.get_or_init(|| {
        (' '..='~')
            .zip(records(ROMAN))
            .filter_map(|(character, record)| Some((character, read(&record)?)))
            .collect()
    });
    let known = |c: char| glyphs.get(&c).cloned();
    match character {
        '°' => ring(),
        '′' => stroke(4.0, &[(2.5, -21.0), (1.0, -14.0)]),
        '″' => {
            let mut two = stroke(7.0, &[(2.5, -21.0), (1.0, -14.0)]);
            two.strokes
                .push(vec![Point { x: 6.0, y: -21.0 }, Point { x: 4.5, y: -14.0 }]);
            two
        }
        '−' | '–' => known('-').unwrap_or_default(),
        '’' => known('\'').unwrap_or_default(),
        other => known(other)
            .or_else(|| known(bare(other)))
            .unwrap_or_default(),
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
            let (sin, cos) = (std::f64::consts::TAU * f64::from(n) / 12.0).sin_cos();
            (4.5 + 2.8 * cos, -18.2 + 2.8 * sin)
        })
        .collect();
    stroke(9.0, &points)
}

/// A letter without its accent, as far as names of places and stars have them.
fn bare(character: char) -> char {
    match character {
        'À'..='Å' | 'Ā' => 'A',
        'à'..='å' | 'ā' => 'a',
        'Ç' | 'Č' => 'C',
        'ç' | 'č' => 'c',
        'È'..='Ë' => 'E',
        'è'..='ë' | 'ē' => 'e',
        'Ì'..='Ï' => 'I',
        'ì'..='ï' | 'ī' => 'i',
        'Ñ' => 'N',
        'ñ' => 'n',
        'Ò'..='Ö' | 'Ø' => 'O',
        'ò'..='ö' | 'ø' | 'ō' => 'o',
        'Š' => 'S',
        'š' => 's',
        'Ù'..='Ü' => 'U',
        'ù'..='ü' | 'ū' => 'u',
        'Ž' => 'Z',
        'ž' => 'z',
        _ => '?',
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_letter_has_strokes_between_its_edges() {
        for character in '!'..='~' {
            let glyph = glyph(character);
            assert!(!glyph.strokes.is_empty(), "{character}");
            assert!(glyph.width > 2.0, "{character}");
        }
        // A capital stands on the baseline and is as high as said.
        let heights: Vec<f64> = glyph('H').strokes.iter().flatten().map(|p| p.y).collect();
        let lowest = heights.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let highest = heights.iter().copied().fold(f64::INFINITY, f64::min);
        assert!((lowest, highest) == (0.0, -CAPITAL), "{lowest} {highest}");
    }
}
