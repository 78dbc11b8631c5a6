use instrument::Point;

use crate::comparison_sheet::fitting;
use crate::contour::Contour;
use crate::face::Face;
use crate::figure_sheet::REACH_MM;
use crate::page::{Leaf, Page};
use crate::piece::Piece;
use crate::scene::{Metal, Region, Scene, Weight};

/// Times in the course of weeks, to be drawn: a row for each week, with the days side by
/// side, and in it a bar for each time, the higher the better.
///
/// It is drawn in ink alone, as a figure is.
#[derive(Clone, Debug, PartialEq)]
pub struct WeeksSheet {
    /// What the drawing shows, in a few words.
    pub title: String,
    /// The same in some sentences, for those who do not see it.
    pub description: String,
    /// The lines under the title.
    pub heading: Vec<String>,
    /// The names of the seven days, as a week has them here.
    pub days: [&'static str; 7],
    /// The weeks, from above; no more than [`WeeksSheet::MOST`].
    pub weeks: Vec<WeekRow>,
}

/// A week.
#[derive(Clone, Debug, PartialEq)]
pub struct WeekRow {
    /// The date on which it begins.
    pub label: String,
    /// The times.
    pub bars: Vec<WeekBar>,
}

/// A time within a week.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WeekBar {
    /// Where it begins, in days from the beginning of the week.
    pub from: f64,
    /// Where it ends.
    pub until: f64,
    /// How much of what is wished holds, 0 to 1.
    pub good: f64,
}

const EDGE: f64 = 99.0;
const LEFT: f64 = -76.0;
const TOP: f64 = -66.0;
const BOTTOM: f64 = 95.0;
const DAY: f64 = (EDGE - LEFT) / 7.0;
/// A time of a few minutes would not be seen.
const LEAST_WIDTH: f64 = 0.35;

impl WeeksSheet {
    /// More weeks than this no sheet holds.
    pub const MOST: usize = 54;

    /// The sheet as a drawing.
    #[must_use]
    pub fn scene(&self) -> Scene {
        let mut page = Page::default();
        let title = fitting(&self.title, Face::Roman, 5.6, 2.0 * EDGE);
        page.left(
            &self.title,
            title,
            Face::Roman,
            Point { x: -EDGE, y: -92.0 },
        );
        for (n, line) in self.heading.iter().enumerate() {
            let y = -84.5 + 5.0 * n as f64;
            let size = fitting(line, Face::Italic, 3.6, 2.0 * EDGE);
            page.left(line, size, Face::Italic, Point { x: -EDGE, y });
        }
        let shown = self.weeks.len().min(WeeksSheet::MOST);
        let height = ((BOTTOM - TOP) / shown.max(1) as f64).min(12.0);
        let bottom = TOP + height * shown as f64;
        let day_edges = (0..=7).map(|day| LEFT + DAY * f64::from(day));
        let upright = |x| Contour::line(Point { x, y: TOP }, Point { x, y: bottom });
        page.line(Weight::Hair, day_edges.map(upright).collect());
        for (day, name) in self.days.iter().enumerate() {
            let middle = Point {
                x: LEFT + DAY * (day as f64 + 0.5),
                y: TOP - 2.6,
            };
            page.text(name, 3.2, Face::Italic, middle);
        }
        let across = |y| Contour::line(Point { x: LEFT, y }, Point { x: EDGE, y });
        let rows = (0..=shown).map(|row| across(TOP + height * row as f64));
        page.line(Weight::Hair, rows.collect());
        let mut bars = Vec::new();
        for (row, week) in self.weeks.iter().take(shown).enumerate() {
            let foot = TOP + height * (row as f64 + 1.0);
            let label = Point {
                x: LEFT - 2.0,
                y: foot - height / 2.0,
            };
            page.right(&week.label, (height * 0.72).min(3.2), Face::Roman, label);
            bars.extend(week.bars.iter().map(|bar| bar.region(foot, height)));
        }
        // Each for itself: those of a few minutes are drawn broader than they are, and may
        // overlap.
        for bar in bars {
            page.fill(Metal::Dark, vec![bar]);
        }
        Leaf::square(page, REACH_MM).scene(&self.title, &self.description, "weeks")
    }
}

impl WeekBar {
    fn region(&self, foot: f64, row: f64) -> Region {
        let x = |day: f64| LEFT + DAY * day.clamp(0.0, 7.0);
        let (from, until) = (x(self.from), x(self.until));
        let until = until.max(from + LEAST_WIDTH).min(EDGE);
        let from = from.min(until - LEAST_WIDTH);
        let head = foot - row * (0.22 + 0.6 * self.good.clamp(0.0, 1.0));
        let corner = |x, y| Point { x, y };
        let sides = [corner(from, head), corner(until, head), corner(until, foot)];
        Region::whole(Contour::closed(
            corner(from, foot),
            sides.into_iter().map(|to| Piece::Line { to }).collect(),
        ))
    }
}
