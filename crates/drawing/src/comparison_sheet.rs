use instrument::{Length, Point};
use sky::Angle;

use crate::contour::Contour;
use crate::face::Face;
use crate::figure_sheet::REACH_MM;
use crate::lettering::width;
use crate::page::{Leaf, Page};
use crate::scene::{Fill, Item, Layer, Metal, Region, Scene, Weight};

/// Instruments compared, to be drawn: how far each is off, on a scale of equal ratios.
///
/// It is drawn in ink alone, as a figure is.
#[derive(Clone, Debug, PartialEq)]
pub struct ComparisonSheet {
    /// What the drawing shows, in a few words.
    pub title: String,
    /// The same in some sentences, for those who do not see it.
    pub description: String,
    /// The lines under the title: where, by which procedure, over how many moments.
    pub heading: Vec<String>,
    /// The instruments, from above.
    pub instruments: Vec<ComparedRow>,
}

/// An instrument among those compared.
#[derive(Clone, Debug, PartialEq)]
pub struct ComparedRow {
    /// What it is called.
    pub name: String,
    /// What else is to be known of it: plate and lines.
    pub particulars: String,
    /// Across the mater.
    pub diameter: Length,
    /// What is read on it, and how far that is off; `None` where nothing is read.
    pub errors: Vec<(&'static str, Option<ErrorSpan>)>,
}

/// An error's spread.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ErrorSpan {
    /// To be expected.
    pub expected: Angle,
    /// Nine in ten are no larger.
    pub nine_in_ten: Angle,
    /// The largest met with.
    pub largest: Angle,
}

/// Where the scale begins and ends, across; left of it stand the names, right of it
/// the values.
const LEFT: f64 = -33.0;
const RIGHT: f64 = 68.0;
/// The edges of the sheet.
const EDGE: f64 = 99.0;
/// Where the values to be expected end; the largest end at the edge.
const EXPECTED: f64 = 83.0;
/// Where the rows begin and end, down.
const TOP: f64 = -66.0;
const BOTTOM: f64 = 76.0;
/// Instruments are drawn this much smaller than they are, or smaller still where one
/// would stand in the way of another.
const SMALLER: f64 = 30.0;

impl ComparisonSheet {
    /// The sheet as a drawing.
    #[must_use]
    pub fn scene(&self) -> Scene {
        Leaf::square(self.page(), REACH_MM).scene(&self.title, &self.description, "comparison")
    }

    fn page(&self) -> Page {
        let mut page = Page::default();
        page.left(&self.title, 5.6, Face::Roman, Point { x: -EDGE, y: -92.0 });
        for (n, line) in self.heading.iter().enumerate() {
            let y = -84.5 + 5.0 * n as f64;
            page.left(
                line,
                fitting(line, Face::Italic, 3.6, 2.0 * EDGE),
                Face::Italic,
                Point { x: -EDGE, y },
            );
        }
        let scale = Scale::holding(self.spans());
        let height = ((BOTTOM - TOP) / self.instruments.len().max(1) as f64).min(36.0);
        let bottom = TOP + height * self.instruments.len() as f64;
        scale.draw(&mut page, bottom);
        let largest = self.instruments.iter().map(|row| row.diameter.mm());
        let smaller = (largest.fold(1.0, f64::max) / (height * 0.8).min(16.0)).max(SMALLER);
        for (n, row) in self.instruments.iter().enumerate() {
            let band = Band {
                top: TOP + height * n as f64,
                height,
            };
            row.draw(&mut page, &scale, band, smaller);
        }
        legend(&mut page, bottom + 15.0);
        page
    }

    fn spans(&self) -> impl Iterator<Item = ErrorSpan> {
        let errors = self.instruments.iter().flat_map(|row| &row.errors);
        errors.filter_map(|(_, span)| *span)
    }
}

/// The part of the sheet that an instrument has.
#[derive(Clone, Copy)]
struct Band {
    top: f64,
    height: f64,
}

impl ComparedRow {
    fn draw(&self, page: &mut Page, scale: &Scale, band: Band, smaller: f64) {
        let Band { top, height } = band;
        page.line(Weight::Hair, vec![across(-EDGE, EDGE, top)]);
        let step = height / (self.errors.len().max(1) as f64 + 1.0);
        let size = (step * 0.62).min(3.3);
        // The instrument's size, all in one proportion.
        let radius = self.diameter.mm() / smaller / 2.0;
        let middle = Point {
            x: -EDGE + 8.0,
            y: top + height / 2.0,
        };
        page.line(Weight::Middle, vec![Contour::circle(middle, radius)]);
        let room = LEFT - 18.0 - (-EDGE + 18.0);
        for (text, line, size, face) in [
            (&self.name, 0.42, size * 1.1, Face::Roman),
            (&self.particulars, 0.62, size * 0.9, Face::Italic),
        ] {
            let at = Point {
                x: -EDGE + 18.0,
                y: top + height * line,
            };
            page.left(text, fitting(text, face, size, room), face, at);
        }
        for (n, (what, span)) in self.errors.iter().enumerate() {
            let y = top + step * (n as f64 + 1.0);
            let label = Point { x: LEFT - 2.0, y };
            page.right(what, size, Face::Italic, label);
            match span {
                Some(span) => span.draw(page, scale, y, size),
                None => page.left("no reading", size, Face::Italic, Point { x: LEFT + 2.0, y }),
            }
        }
    }
}

impl ErrorSpan {
    fn draw(&self, page: &mut Page, scale: &Scale, y: f64, size: f64) {
        let at = |error: Angle| scale.at(error.deg());
        let [expected, nine, largest] = [self.expected, self.nine_in_ten, self.largest].map(at);
        page.line(Weight::Middle, vec![across(expected, largest, y)]);
        page.line(Weight::Edge, vec![upright(nine, y, size * 0.34)]);
        page.line(Weight::Middle, vec![upright(largest, y, size * 0.2)]);
        dot(page, Point { x: expected, y }, size * 0.27);
        for (error, x) in [(self.expected, EXPECTED), (self.largest, EDGE)] {
            page.right(&minutes(error), size, Face::Roman, Point { x, y });
        }
    }
}

/// The least error that is told from none: a quarter of a minute.
const LEAST_DEG: f64 = 0.25 / 60.0;

/// A scale on which equal steps are equal ratios, from 1, 2, 5 or 10 of something to
/// another.
struct Scale {
    first: f64,
    last: f64,
}

/// What is numbered: in minutes of arc to the half degree, and then in degrees.
const NUMBERED: [(f64, &str); 19] = [
    (0.25, "¼′"),
    (0.5, "½′"),
    (1.0, "1′"),
    (2.0, "2′"),
    (5.0, "5′"),
    (10.0, "10′"),
    (20.0, "20′"),
    (30.0, "30′"),
    (60.0, "1°"),
    (120.0, "2°"),
    (300.0, "5°"),
    (600.0, "10°"),
    (1200.0, "20°"),
    (2400.0, "40°"),
    (3600.0, "60°"),
    (5400.0, "90°"),
    (7200.0, "120°"),
    (9000.0, "150°"),
    (10_800.0, "180°"),
];

impl Scale {
    /// The least that holds some errors.
    fn holding(spans: impl Iterator<Item = ErrorSpan>) -> Scale {
        let (mut low, mut high) = (f64::INFINITY, 0.0_f64);
        for span in spans {
            low = low.min(span.expected.deg().max(LEAST_DEG));
            high = high.max(span.largest.deg());
        }
        let numbers = || NUMBERED.iter().map(|(minutes, _)| minutes / 60.0);
        let first = numbers().rfind(|one| *one <= low);
        let last = numbers().find(|one| *one >= high.max(LEAST_DEG * 4.0));
        let (first, last) = (first.unwrap_or(LEAST_DEG), last.unwrap_or(180.0));
        Scale {
            // Where nothing is read, from a minute to a degree.
            first: if low.is_finite() { first } else { 1.0 / 60.0 },
            last: if low.is_finite() { last } else { 1.0 },
        }
    }

    fn at(&self, deg: f64) -> f64 {
        let part = libm::log(deg.max(self.first) / self.first) / libm::log(self.last / self.first);
        LEFT + (RIGHT - LEFT) * part
    }

    fn draw(&self, page: &mut Page, bottom: f64) {
        /// Numbers nearer to each other cannot be read.
        const APART: f64 = 6.2;
        let (mut fine, mut numbered, mut last) = (Vec::new(), Vec::new(), f64::NEG_INFINITY);
        for (minutes, text) in NUMBERED {
            let deg = minutes / 60.0;
            if deg < self.first - 1e-9 || deg > self.last + 1e-9 {
                continue;
            }
            let x = self.at(deg);
            if x - last < APART {
                continue;
            }
            last = x;
            numbered.push(Contour::line(
                Point { x, y: TOP - 2.4 },
                Point { x, y: bottom + 2.4 },
            ));
            for y in [TOP - 5.0, bottom + 5.0] {
                page.text(text, 3.2, Face::Roman, Point { x, y });
            }
        }
        for minutes in divisions() {
            let deg = minutes / 60.0;
            if deg < self.first - 1e-9 || deg > self.last + 1e-9 {
                continue;
            }
            let x = self.at(deg);
            for (y, length) in [(TOP, -1.4), (bottom, 1.4)] {
                fine.push(Contour::line(Point { x, y }, Point { x, y: y + length }));
            }
        }
        page.line(Weight::Hair, numbered);
        page.line(Weight::Fine, fine);
        page.line(
            Weight::Middle,
            vec![across(LEFT, RIGHT, TOP), across(LEFT, RIGHT, bottom)],
        );
        page.line(Weight::Hair, vec![across(-EDGE, EDGE, bottom)]);
        for (text, x) in [("expected", EXPECTED), ("largest", EDGE)] {
            page.right(text, 2.9, Face::Italic, Point { x, y: TOP - 5.0 });
        }
    }
}

/// Where the scale has strokes, in minutes: at every one of the first ten of a kind,
/// and then at every fifth.
fn divisions() -> impl Iterator<Item = f64> {
    let of = |unit: f64, last: u16| {
        let fine = (1..10).chain((10..=last).step_by(5));
        fine.map(move |number| f64::from(number) * unit)
    };
    of(1.0, 55).chain(of(60.0, 180))
}

/// What the marks mean.
fn legend(page: &mut Page, y: f64) {
    let at = |x: f64| Point { x, y };
    page.line(
        Weight::Middle,
        vec![across(-33.0, -13.0, y), upright(-13.0, y, 0.7)],
    );
    page.line(Weight::Edge, vec![upright(-20.0, y, 1.2)]);
    dot(page, at(-33.0), 0.95);
    page.right("to be expected", 3.2, Face::Italic, at(-36.0));
    page.left(
        "nine in ten no larger than the upright, the largest at the end",
        3.2,
        Face::Italic,
        at(-10.0),
    );
}

impl Page {
    /// Letters that begin at a place.
    pub(crate) fn left(&mut self, text: &str, size_mm: f64, face: Face, at: Point) {
        let half = width_in(text, face) * size_mm / 2.0;
        self.text(
            text,
            size_mm,
            face,
            Point {
                x: at.x + half,
                y: at.y,
            },
        );
    }

    /// Letters that end at a place.
    pub(crate) fn right(&mut self, text: &str, size_mm: f64, face: Face, at: Point) {
        let half = width_in(text, face) * size_mm / 2.0;
        self.text(
            text,
            size_mm,
            face,
            Point {
                x: at.x - half,
                y: at.y,
            },
        );
    }
}

/// A size at which a text keeps within a width, and no larger than asked.
pub(crate) fn fitting(text: &str, face: Face, most_mm: f64, width_mm: f64) -> f64 {
    most_mm.min(width_mm / width_in(text, face).max(1e-9))
}

/// A text's width in parts of its size; italic letters of the sheet's font run a
/// fifteenth narrower.
fn width_in(text: &str, face: Face) -> f64 {
    match face {
        Face::Italic => width(text) * 14.0 / 15.0,
        _ => width(text),
    }
}

fn across(from: f64, to: f64, y: f64) -> Contour {
    Contour::line(Point { x: from, y }, Point { x: to, y })
}

fn upright(x: f64, y: f64, half: f64) -> Contour {
    Contour::line(Point { x, y: y - half }, Point { x, y: y + half })
}

fn dot(page: &mut Page, middle: Point, radius_mm: f64) {
    page.items.push(Item::Fill(Fill {
        metal: Metal::Dark,
        regions: vec![Region::whole(Contour::circle(middle, radius_mm))],
        layer: Layer::Engrave,
    }));
}

/// `1°08′`, or tenths of a minute where it is less than ten.
fn minutes(error: Angle) -> String {
    let whole = (error.deg() * 60.0).round();
    if whole < 10.0 {
        return format!("{:.1}′", error.deg() * 60.0);
    }
    if whole < 60.0 {
        return format!("{whole:.0}′");
    }
    format!("{:.0}°{:02.0}′", (whole / 60.0).floor(), whole % 60.0)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    prop_compose! {
        /// Errors from nothing to half a turn, or none read.
        fn spans()(least in 1e-7..1.0_f64, times in 1.0..20.0_f64, more in 1.0..9.0_f64, read: bool) -> Option<ErrorSpan> {
            read.then(|| ErrorSpan {
                expected: Angle::from_deg(least),
                nine_in_ten: Angle::from_deg(least * times),
                largest: Angle::from_deg(least * times * more),
            })
        }
    }

    prop_compose! {
        fn sheets()(
            spans in proptest::collection::vec(proptest::array::uniform3(spans()), 1..24),
            long: bool,
            diameter in 40.0..600.0_f64,
        ) -> ComparisonSheet {
            let name = if long { "a very long name, as long as a name may be here" } else { "brass" };
            let row = |errors: [Option<ErrorSpan>; 3]| ComparedRow {
                name: name.to_owned(),
                particulars: "180 mm, plate -41.25°, curves".to_owned(),
                diameter: Length::from_mm(diameter),
                errors: ["ascendant", "midheaven", "cusps"].into_iter().zip(errors).collect(),
            };
            ComparisonSheet {
                title: "How far off they read".to_owned(),
                description: String::new(),
                heading: vec![name.to_owned(); 2],
                instruments: spans.into_iter().map(row).collect(),
            }
        }
    }

    proptest! {
        /// However many instruments there are, no letters stand on others or beyond
        /// the sheet, and every value is in it.
        #[test]
        fn no_labels_overlap(sheet in sheets()) {
            let page = sheet.page();
            for (n, one) in page.boxes.iter().enumerate() {
                for corner in one.corners() {
                    prop_assert!(corner.x.abs() < 103.0 && corner.y.abs() < 103.0);
                }
                for other in &page.boxes[n + 1..] {
                    prop_assert!(!one.overlaps(other), "{one:?} {other:?}");
                }
            }
            let read = sheet.spans().count();
            let dots = page.items.iter().filter(|item| matches!(item, Item::Fill(_)));
            // And the one of the legend.
            prop_assert_eq!(dots.count(), read + 1);
        }

        /// A larger error stands further right, and all stand on the scale.
        #[test]
        fn the_scale_holds_them_in_order(sheet in sheets()) {
            let scale = Scale::holding(sheet.spans());
            for span in sheet.spans() {
                let [one, two, three] = [span.expected, span.nine_in_ten, span.largest].map(|error| scale.at(error.deg()));
                prop_assert!(LEFT - 1e-9 <= one && one <= two && two <= three && three <= RIGHT + 1e-9);
            }
        }
    }

    /// Ten minutes lie midway between one and a hundred: equal steps are equal ratios.
    #[test]
    fn equal_steps_are_equal_ratios() {
        let scale = Scale {
            first: 1.0 / 60.0,
            last: 100.0 / 60.0,
        };
        assert!((scale.at(10.0 / 60.0) - (LEFT + RIGHT) / 2.0).abs() < 1e-9);
    }
}
