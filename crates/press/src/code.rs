#[cfg(feature = "documents")]
use drawing::{Contour, Piece};
#[cfg(feature = "documents")]
use instrument::Point;
use qrcode::{Color, EcLevel, QrCode};
use thiserror::Error;

/// So many squares around a code stay light (ISO/IEC 18004, 9.1).
const QUIET: usize = 4;

/// A text as squares that a telephone reads: a QR code (ISO/IEC 18004), of which a seventh
/// may be smeared.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Code {
    text: String,
    wide: usize,
    dark: Vec<bool>,
}

/// A text is longer than a code holds.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[error(
    "a link of {0} letters is longer than a code holds, which is 2,300; an instrument whose specification has less in it would do, or settings without a page's address"
)]
pub struct TooLong(usize);

/// Dark squares beside one another, in squares from the upper left corner of the code with
/// the light edge around it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Dark {
    /// From the left.
    pub x: usize,
    /// From above.
    pub y: usize,
    /// How many.
    pub length: usize,
}

impl Code {
    /// The code of a text.
    ///
    /// # Errors
    /// When the text is too long.
    pub fn of(text: &str) -> Result<Code, TooLong> {
        let code = QrCode::with_error_correction_level(text, EcLevel::M)
            .map_err(|_| TooLong(text.chars().count()))?;
        Ok(Code {
            text: text.to_owned(),
            wide: code.width(),
            dark: code
                .to_colors()
                .into_iter()
                .map(|color| color == Color::Dark)
                .collect(),
        })
    }

    /// What a telephone reads in it.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Its dark squares as they are filled, with the upper left corner of the light edge at a
    /// place and so broad.
    #[cfg(feature = "documents")]
    pub(crate) fn squares(&self, corner: Point, wide_mm: f64) -> Vec<Contour> {
        #[expect(clippy::cast_precision_loss, reason = "some hundred squares")]
        let at = |x: usize, y: usize| {
            let square = wide_mm / self.wide() as f64;
            Point {
                x: corner.x + x as f64 * square,
                y: corner.y + y as f64 * square,
            }
        };
        let runs = self.dark().into_iter().map(|Dark { x, y, length }| {
            let corners = [at(x + length, y), at(x + length, y + 1), at(x, y + 1)];
            let sides = corners.map(|to| Piece::Line { to }).to_vec();
            Contour::closed(at(x, y), sides)
        });
        runs.collect()
    }

    /// Its width and height in squares, with the light edge around it.
    #[must_use]
    pub fn wide(&self) -> usize {
        self.wide + 2 * QUIET
    }

    fn is_dark(&self, x: usize, y: usize) -> bool {
        let within = |at: usize| at.checked_sub(QUIET).filter(|at| *at < self.wide);
        match (within(x), within(y)) {
            (Some(x), Some(y)) => self.dark.get(y * self.wide + x).copied().unwrap_or(false),
            _ => false,
        }
    }

    /// Its dark squares, row by row.
    #[must_use]
    pub fn dark(&self) -> Vec<Dark> {
        let mut runs = Vec::new();
        for y in 0..self.wide() {
            let mut x = 0;
            while x < self.wide() {
                let length = (x..self.wide()).take_while(|x| self.is_dark(*x, y)).count();
                if length > 0 {
                    runs.push(Dark { x, y, length });
                }
                x += length.max(1);
            }
        }
        runs
    }

    /// The code in letters for a terminal, two rows of squares to a line, black on white
    /// whatever the terminal's own colours are.
    #[must_use]
    pub fn in_letters(&self) -> String {
        const BLACK_ON_WHITE: &str = "\u{1b}[38;5;16;48;5;231m";
        const AS_BEFORE: &str = "\u{1b}[0m";
        let mut text = String::new();
        for y in (0..self.wide()).step_by(2) {
            text.push_str(BLACK_ON_WHITE);
            for x in 0..self.wide() {
                text.push(match (self.is_dark(x, y), self.is_dark(x, y + 1)) {
                    (true, true) => '█',
                    (true, false) => '▀',
                    (false, true) => '▄',
                    (false, false) => ' ',
                });
            }
            text.push_str(AS_BEFORE);
            text.push('\n');
        }
        text
    }

    /// The code as a drawing, black on white, with words for whoever does not see it.
    #[must_use]
    pub fn svg(&self, words: &str) -> String {
        let wide = self.wide();
        let mut path = String::new();
        for Dark { x, y, length } in self.dark() {
            path.push_str(&format!("M{x} {y}h{length}v1h-{length}z"));
        }
        let words = drawing::escaped(words);
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {wide} {wide}\" role=\"img\" \
             aria-label=\"{words}\" shape-rendering=\"crispEdges\"><path fill=\"#fff\" \
             d=\"M0 0h{wide}v{wide}h-{wide}z\"/><path d=\"{path}\"/></svg>"
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What another program reads in the squares that are dark by a function of their place.
    fn read(wide: usize, is_dark: impl Fn(usize, usize) -> bool) -> String {
        const DOTS: usize = 4;
        let side = wide * DOTS;
        let mut picture = rqrr::PreparedImage::prepare_from_greyscale(side, side, |x, y| {
            if is_dark(x / DOTS, y / DOTS) { 0 } else { 255 }
        });
        let found = picture.detect_grids();
        assert_eq!(found.len(), 1, "one code is seen");
        found[0].decode().expect("it is read").1
    }

    #[test]
    fn another_program_reads_what_was_written() {
        for text in [
            "a".to_owned(),
            "https://example.org/almuri/#when=now&at=A+Coru%C3%B1a%2C+Spain&with=class+instrument"
                .to_owned(),
            format!("https://example.org/#brass={}", "aZ-_9".repeat(150)),
            "größer, ☉".to_owned(),
        ] {
            let code = Code::of(&text).expect("short");
            let mut squares = vec![false; code.wide() * code.wide()];
            for Dark { x, y, length } in code.dark() {
                squares[y * code.wide() + x..][..length].fill(true);
            }
            let is_dark = |x: usize, y: usize| squares[y * code.wide() + x];
            assert_eq!(read(code.wide(), is_dark), text);
            // The letters of a terminal: a full block, its halves, and nothing.
            let lines: Vec<Vec<char>> = code
                .in_letters()
                .lines()
                .map(|line| line.chars().filter(|c| "█▀▄ ".contains(*c)).collect())
                .collect();
            let is_dark = |x: usize, y: usize| {
                matches!((lines[y / 2][x], y % 2), ('█', _) | ('▀', 0) | ('▄', 1))
            };
            assert_eq!(read(code.wide(), is_dark), text);
            assert_eq!(read_drawn(&code), text);
        }
    }

    /// What is read in the drawing: each piece of its path is `Mx yhnv1h-nz`.
    fn read_drawn(code: &Code) -> String {
        let drawing = code.svg("a code");
        let (_, path) = drawing.rsplit_once("<path d=\"").expect("a path");
        let (path, _) = path.split_once('"').expect("its end");
        let mut squares = vec![false; code.wide() * code.wide()];
        for piece in path.split_terminator('z') {
            let numbers: Vec<usize> = piece
                .split(|c: char| !c.is_ascii_digit())
                .filter_map(|number| number.parse().ok())
                .collect();
            let [x, y, length, 1, back] = numbers[..] else {
                panic!("{piece} is no row of squares");
            };
            assert_eq!(length, back);
            squares[y * code.wide() + x..][..length].fill(true);
        }
        read(code.wide(), |x, y| squares[y * code.wide() + x])
    }

    #[cfg(feature = "documents")]
    #[test]
    fn what_is_printed_is_read_too() {
        let code = Code::of("https://example.org/#when=now").expect("short");
        let corner = Point { x: 31.5, y: 12.0 };
        #[expect(clippy::cast_precision_loss, reason = "some dozens of squares")]
        let square = 38.0 / code.wide() as f64;
        let boxes: Vec<(Point, Point)> = code
            .squares(corner, 38.0)
            .iter()
            .map(drawing::Contour::bounds)
            .collect();
        #[expect(clippy::cast_precision_loss, reason = "some dozens of squares")]
        let is_dark = |x: usize, y: usize| {
            let x = corner.x + (x as f64 + 0.5) * square;
            let y = corner.y + (y as f64 + 0.5) * square;
            boxes
                .iter()
                .any(|(low, high)| low.x < x && x < high.x && low.y < y && y < high.y)
        };
        assert_eq!(read(code.wide(), is_dark), code.text());
    }

    #[test]
    fn a_code_is_square_with_its_three_finders_and_a_light_edge() {
        let code = Code::of("https://example.org/almuri/#when=now").expect("short");
        let wide = code.wide();
        // A symbol of version v is 17 + 4v squares wide (ISO/IEC 18004, 5.3.1).
        assert_eq!((wide - 2 * QUIET - 17) % 4, 0);
        let last = wide - QUIET - 7;
        for (left, top) in [(QUIET, QUIET), (last, QUIET), (QUIET, last)] {
            for n in 0..7 {
                assert!(code.is_dark(left + n, top) && code.is_dark(left + n, top + 6));
                assert!(code.is_dark(left, top + n) && code.is_dark(left + 6, top + n));
            }
            assert!(!code.is_dark(left + 1, top + 1) && code.is_dark(left + 3, top + 3));
        }
        let squares: usize = code.dark().iter().map(|run| run.length).sum();
        assert_eq!(squares, code.dark.iter().filter(|dark| **dark).count());
        assert!(
            code.dark()
                .iter()
                .all(|run| run.x >= QUIET && run.y >= QUIET)
        );
        assert_eq!(code.in_letters().lines().count(), wide.div_ceil(2));
        assert!(Code::of(&"a".repeat(3000)).is_err());
    }
}
