//! Pictures of the parts of an instrument of card, drawn of the parts themselves.

use drawing::{Contour, Dash, Face, Piece, Workpiece};
use instrument::{Part, Point};
use sky::Angle;

use crate::chords::chords;
use crate::ink::{Ink, Inked, Shade};
use crate::leaf::{Leaf, Words};
use crate::work::Work;

/// How flat a part lies that is seen from the side.
pub(crate) const FLAT: f64 = 0.3;
/// How wide the edge of a part is drawn, what is cut now, and what is on it.
const EDGE_MM: f64 = 0.25;
const CUT_MM: f64 = 0.7;
const LINE_MM: f64 = 0.1;

/// How large letters are that children read: 13 points.
pub(crate) const READ: f64 = 4.6;

pub(crate) fn at(x: f64, y: f64) -> Point {
    Point { x, y }
}

/// A part of card: its metal, and what is printed on it.
#[derive(Clone, Copy)]
pub(crate) struct CardPart<'a> {
    pub(crate) piece: &'a Workpiece,
    pub(crate) inked: &'a Inked,
}

impl CardPart<'_> {
    /// The edges in which it is cut out.
    fn edges(&self) -> Vec<Contour> {
        let cut = [Work::Drill, Work::CutInside, Work::CutOutside];
        let inks = self.inked.inks.iter();
        inks.filter(|ink| cut.contains(&ink.work))
            .flat_map(|ink| ink.contours.iter().cloned())
            .collect()
    }

    /// The corners at the top left and the lower right.
    fn bounds(&self) -> (Point, Point) {
        let mut low = at(f64::MAX, f64::MAX);
        let mut high = at(f64::MIN, f64::MIN);
        for edge in self.edges() {
            let (l, h) = edge.bounds();
            low = at(low.x.min(l.x), low.y.min(l.y));
            high = at(high.x.max(h.x), high.y.max(h.y));
        }
        (low, high)
    }

    /// Its openings, without small holes.
    fn opening(&self) -> Vec<Contour> {
        let (low, high) = self.bounds();
        let wide = |edge: &Contour| {
            let (l, h) = edge.bounds();
            h.x - l.x
        };
        let edges = self.edges().into_iter();
        edges
            .filter(|edge| {
                let part = wide(edge) / (high.x - low.x);
                (0.3..0.97).contains(&part)
            })
            .collect()
    }

    /// The hole by which it hangs: the highest round one.
    pub(crate) fn highest_hole(&self) -> Option<Point> {
        let (low, high) = self.bounds();
        let edges = self.edges().into_iter();
        edges
            .map(|edge| edge.bounds())
            .filter(|(l, h)| h.x - l.x < 0.2 * (high.x - low.x))
            .map(|(l, h)| (l + h) * 0.5)
            .min_by(|a, b| a.y.total_cmp(&b.y))
    }
}

/// Where a part is drawn: its middle, how large, how flat, turned round or not.
#[derive(Clone, Copy)]
pub(crate) struct Where {
    pub(crate) centre: Point,
    pub(crate) scale: f64,
    pub(crate) flat: f64,
    pub(crate) behind: bool,
    /// Whether what is upright lies across.
    pub(crate) lying: bool,
}

impl Where {
    /// In the middle of a room, as large as it fits.
    pub(crate) fn within(part: &CardPart<'_>, centre: Point, (width, height): (f64, f64)) -> Where {
        let (low, high) = part.bounds();
        let scale = (width / (high.x - low.x)).min(height / (high.y - low.y));
        Where {
            centre: centre - (low + high) * (0.5 * scale),
            scale,
            flat: 1.0,
            behind: false,
            lying: false,
        }
    }

    /// The same for a part that lies across.
    pub(crate) fn lying(part: &CardPart<'_>, centre: Point, (width, height): (f64, f64)) -> Where {
        let (low, high) = part.bounds();
        let scale = (width / (high.y - low.y)).min(height / (high.x - low.x));
        let middle = (low + high) * (0.5 * scale);
        Where {
            centre: centre - at(middle.y, -middle.x),
            scale,
            flat: 1.0,
            behind: false,
            lying: true,
        }
    }

    pub(crate) fn of(&self, p: Point) -> Point {
        let x = if self.behind { -p.x } else { p.x };
        let p = if self.lying { at(p.y, -x) } else { at(x, p.y) };
        self.centre + at(p.x * self.scale, p.y * self.scale * self.flat)
    }

    fn carried(&self, contour: &Contour) -> Contour {
        let mut points = chords(contour, 0.03 / self.scale)
            .into_iter()
            .map(|p| self.of(p));
        let start = points.next().unwrap_or_default();
        let pieces = points.map(|to| Piece::Line { to }).collect();
        if contour.outline().2 {
            Contour::closed(start, pieces)
        } else {
            Contour::open(start, pieces)
        }
    }
}

/// What of a part is shown.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Shown {
    /// Its lines.
    Printed,
    /// Nothing: its other side.
    Blank,
    /// Its lines, and its outline as what is cut now.
    CutRound,
    /// Its lines, and its opening grey, as what is cut away now.
    CutOpening,
}

impl Leaf {
    pub(crate) fn say(&mut self, at: Point, size_mm: f64, face: Face, text: &str) {
        self.words.push(Words {
            at,
            size_mm,
            face,
            text: text.to_owned(),
        });
    }

    pub(crate) fn put(&mut self, contours: Vec<Contour>, shade: Shade, width_mm: f64, dash: Dash) {
        let ink = Ink {
            work: Work::EngraveLine,
            line: None,
            contours,
            filled: shade != Shade::Black,
            shade,
            width_mm,
            dash,
        };
        self.inks.push((ink, Point::POLE));
    }

    /// A closed row of straight lines, white within.
    pub(crate) fn shape(&mut self, corners: &[Point], shade: Shade, width_mm: f64) {
        let Some((first, rest)) = corners.split_first() else {
            return;
        };
        let pieces = rest.iter().map(|to| Piece::Line { to: *to }).collect();
        let contour = Contour::closed(*first, pieces);
        self.put(vec![contour.clone()], shade, 0.0, Dash::Whole);
        self.put(vec![contour], Shade::Black, width_mm, Dash::Whole);
    }

    pub(crate) fn sheet_of(&mut self, low: Point, high: Point, shade: Shade) {
        let corners = [low, at(high.x, low.y), high, at(low.x, high.y)];
        self.shape(&corners, shade, 0.2);
    }

    pub(crate) fn arrow(&mut self, from: Point, to: Point) {
        let along = (to - from) * (1.0 / (to - from).radius().max(1e-9));
        let aside = at(-along.y, along.x);
        self.line(vec![Contour::line(from, to - along * 1.5)], 0.45);
        let back = to - along * 3.0;
        self.put(
            vec![Contour::closed(
                to,
                [back + aside * 1.3, back - aside * 1.3]
                    .map(|to| Piece::Line { to })
                    .to_vec(),
            )],
            Shade::Black,
            0.4,
            Dash::Whole,
        );
    }

    /// A part, hiding what lies beneath it.
    pub(crate) fn part(&mut self, part: &CardPart<'_>, put: Where, shown: Shown) {
        let carried = |all: &[Contour]| all.iter().map(|one| put.carried(one)).collect::<Vec<_>>();
        let edges = carried(&part.edges());
        self.put(edges.clone(), Shade::Paper, 0.0, Dash::Whole);
        if shown != Shown::Blank {
            // What the eye can still tell apart at this size.
            let strong = 1.9 * part.piece.hair_mm;
            let lines = part.inked.inks.iter().filter(|ink| {
                (ink.work == Work::EngraveLine && ink.width_mm >= strong)
                    || ink.dash == Dash::Dashed
            });
            for ink in lines {
                let dash = if ink.work == Work::Score || ink.work == Work::Guide {
                    Dash::Dashed
                } else {
                    Dash::Whole
                };
                self.put(carried(&ink.contours), Shade::Black, LINE_MM, dash);
            }
            if put.scale > 0.18 && put.flat >= 1.0 {
                let letters = part.inked.on(Work::EngraveFill);
                for ink in letters.filter(|ink| ink.filled && ink.shade == Shade::Black) {
                    let mut ink = ink.clone();
                    ink.contours = carried(&ink.contours);
                    self.inks.push((ink, Point::POLE));
                }
            }
        }
        self.put(edges, Shade::Black, EDGE_MM, Dash::Whole);
        match shown {
            Shown::Printed | Shown::Blank => {}
            Shown::CutRound => {
                let (low, high) = part.bounds();
                let outer = part.edges().into_iter().filter(|edge| {
                    let (l, h) = edge.bounds();
                    h.x - l.x > 0.97 * (high.x - low.x)
                        || h.y - l.y > 0.4 * (high.y - low.y) && part.piece.part == Part::Alidade
                });
                let outer: Vec<Contour> = outer.collect();
                self.put(carried(&outer), Shade::Black, CUT_MM, Dash::Whole);
            }
            Shown::CutOpening => {
                let opening = carried(&part.opening());
                self.put(opening.clone(), Shade::Tone, 0.0, Dash::Whole);
                self.put(opening, Shade::Black, CUT_MM, Dash::Whole);
            }
        }
    }

    /// A hand-held awl over a spot.
    pub(crate) fn awl(&mut self, tip: Point) {
        self.shape(
            &[tip, tip + at(-0.6, -7.0), tip + at(0.6, -7.0)],
            Shade::Black,
            0.2,
        );
        self.shape(
            &[
                tip + at(-1.6, -7.0),
                tip + at(1.6, -7.0),
                tip + at(2.2, -13.0),
                tip + at(-2.2, -13.0),
            ],
            Shade::Tone,
            0.3,
        );
    }

    /// A knife with its point on a spot.
    pub(crate) fn knife(&mut self, tip: Point) {
        self.shape(
            &[tip, tip + at(2.4, -5.0), tip + at(4.4, -4.0)],
            Shade::Paper,
            0.3,
        );
        self.shape(
            &[
                tip + at(2.4, -5.0),
                tip + at(4.4, -4.0),
                tip + at(9.4, -13.5),
                tip + at(7.4, -14.5),
            ],
            Shade::Tone,
            0.3,
        );
    }

    /// Scissors with their point on a spot.
    pub(crate) fn scissors(&mut self, tip: Point) {
        let blades = [
            Contour::line(tip + at(-1.2, 0.6), tip + at(8.0, 4.2)),
            Contour::line(tip + at(-0.6, 2.8), tip + at(8.0, 0.4)),
        ];
        let loops = [
            Contour::circle(tip + at(10.2, 5.0), 2.2),
            Contour::circle(tip + at(10.2, -0.4), 2.2),
        ];
        self.put(loops.to_vec(), Shade::Paper, 0.0, Dash::Whole);
        self.line(blades.to_vec(), 0.6);
        self.line(loops.to_vec(), 0.6);
    }

    /// A string through a hole, up out of the picture.
    pub(crate) fn string(&mut self, hole: Point) {
        let up = hole + at(0.0, -11.0);
        self.line(
            vec![
                Contour::arc_by(hole, hole + at(-2.4, -6.0), up),
                Contour::arc_by(hole, hole + at(2.4, -6.0), up),
                Contour::circle(up + at(0.0, -0.9), 0.9),
            ],
            0.5,
        );
        let turn = Angle::QUARTER_TURN;
        self.line(
            vec![Contour::arc(
                up + at(0.0, -6.0),
                4.2,
                -turn * 2.0,
                turn * 4.0,
            )],
            0.5,
        );
    }
}
