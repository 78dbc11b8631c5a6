use drawing::{Contour, Dash, Workpiece};
use instrument::{Length, Point};

use super::marks::marks;
use crate::cutting::Cutting;
use crate::error::PressError;
use crate::ink::Inked;
use crate::manifest::FilmEntry;
use crate::order::Order;
use crate::plane::grid::{Ring, Seen, Spot, point, ring};
use crate::plane::{self, area, metal, strokes};
use crate::work::Work;

/// A sheet of metal and what is etched on it.
pub(super) struct Job<'a> {
    pub(super) piece: &'a Workpiece,
    pub(super) front: &'a Inked,
    pub(super) back: Option<&'a Inked>,
}

/// A film: closed lines that neither cross nor overlap, dark within an odd number of them.
pub(super) struct Film {
    /// `front` or `back`.
    pub(super) side: &'static str,
    pub(super) dark: Vec<Ring>,
    /// Its corners at the top left and the lower right, as drawn.
    pub(super) low: Point,
    pub(super) high: Point,
}

/// Free room about a part, for marks.
const MARGIN_MM: f64 = 16.0;

/// No line on a film is finer.
const FINEST_MM: f64 = 0.02;

/// The least breadth of what is etched through along an edge, where the sheet is thin
/// (common practice: about the thickness of the sheet).
const LEAST_GAP_MM: f64 = 0.3;

impl Job<'_> {
    pub(super) fn sheet(&self) -> &str {
        &self.piece.sheet
    }

    /// Both films.
    pub(super) fn films(&self, order: &Order, title: &str) -> Result<[Film; 2], PressError> {
        let reach = self.reach();
        let edges = self.edges(order)?;
        let filming = &order.filming;
        let film = |side: &'static str, ink: Option<&Inked>| -> Result<Film, PressError> {
            let is_back = side == "back";
            let mut dark = match ink {
                Some(ink) => self.lines(ink, order)?,
                None => Vec::new(),
            };
            let turned = |ring: &Ring| {
                if is_back {
                    mirrored(ring)
                } else {
                    ring.clone()
                }
            };
            dark.extend(edges.iter().map(turned));
            let told = format!(
                "{title}: {} {side}, {}. Reads right {}.",
                self.sheet(),
                filming.sense.name(),
                if filming.mirrored {
                    "from its other side"
                } else {
                    "with the emulsion down"
                }
            );
            dark.extend(marks(reach, is_back, &told));
            let dark = area::united(&dark);
            Ok(Film {
                side,
                dark: if filming.mirrored {
                    dark.iter().map(mirrored).collect()
                } else {
                    dark
                },
                low: Point::POLE
                    - Point {
                        x: reach.0,
                        y: -reach.1,
                    },
                high: Point {
                    x: reach.0,
                    y: reach.2,
                },
            })
            .map(|film| film.in_sense(order))
        };
        Ok([film("front", Some(self.front))?, film("back", self.back)?])
    }

    /// How far the films reach to either side, upwards (negative, as drawn) and downwards.
    fn reach(&self) -> (f64, f64, f64) {
        let (low, high) = self.piece.bounds();
        // To both sides alike, so that one film turned over lies on the other.
        let aside = low.x.abs().max(high.x.abs()) + MARGIN_MM;
        (aside.max(40.0), low.y - MARGIN_MM, high.y + MARGIN_MM)
    }

    /// The lines and letters of a side, less what the etch eats beneath the resist.
    fn lines(&self, ink: &Inked, order: &Order) -> Result<Vec<Ring>, PressError> {
        let undercut = order.filming.undercut_mm;
        let breadth = |on_paper: f64| order.shaping.breadth_mm(on_paper) - 2.0 * undercut;
        let strokes = plane::engraved(ink).filter(|ink| !ink.filled);
        let finest = strokes.map(|ink| ink.width_mm).min_by(f64::total_cmp);
        if let Some(finest) = finest.filter(|finest| breadth(*finest) < FINEST_MM) {
            let line_mm = order.shaping.breadth_mm(finest);
            return Err(PressError::Undercut {
                part: ink.name.clone(),
                undercut_mm: undercut,
                line_mm,
                most_mm: ((line_mm - FINEST_MM) / 2.0).max(0.0),
                least_mm: FINEST_MM + 2.0 * undercut,
            });
        }
        Ok(plane::covered(
            plane::engraved(ink),
            Seen::FromAbove,
            breadth,
            -undercut,
        ))
    }

    /// What is etched along the part's edges, as its front shows it: right through on both
    /// sides but for tabs, or a fine line to saw by.
    fn edges(&self, order: &Order) -> Result<Vec<Ring>, PressError> {
        let undercut = order.filming.undercut_mm;
        if !order.filming.through {
            let cuts = self.front.inks.iter().filter(|ink| match ink.work {
                Work::Drill | Work::CutInside | Work::CutOutside => true,
                Work::Guide | Work::Score | Work::EngraveLine | Work::EngraveFill => false,
            });
            let mut rings = Vec::new();
            for ink in cuts {
                let breadth = (ink.width_mm - 2.0 * undercut).max(FINEST_MM);
                for contour in &ink.contours {
                    strokes::stroked(contour, breadth, Dash::Whole, Seen::FromAbove, &mut rings);
                }
            }
            return Ok(rings);
        }
        let gap = self.piece.thickness.mm().max(LEAST_GAP_MM);
        let metal = area::united(&metal(&self.piece.solid, Seen::FromAbove));
        if gap <= undercut + FINEST_MM {
            return Err(PressError::Undercut {
                part: self.sheet().to_owned(),
                undercut_mm: undercut,
                line_mm: gap,
                most_mm: gap - FINEST_MM,
                least_mm: gap,
            });
        }
        let about = area::without(
            &plane::let_out(metal.clone(), gap),
            &plane::let_out(metal, undercut),
        );
        let tabs = order.cutting.tabs;
        let (count, breadth) = tabs.map_or((4, Cutting::TAB), |tabs| (tabs.count, tabs.breadth));
        Ok(area::without(
            &about,
            &self.tabs(count, breadth, gap, undercut),
        ))
    }

    /// What is left of the gap about the outlines, broader by what the etch eats of it.
    fn tabs(&self, count: u8, breadth: Length, gap: f64, undercut: f64) -> Vec<Ring> {
        let mut tabs = Vec::new();
        for body in &self.piece.solid.bodies {
            let Some(outline) = ring(
                crate::chords::chords(&body.outline, plane::SAGITTA_MM),
                Seen::FromAbove,
            ) else {
                continue;
            };
            let corners: Vec<Point> = outline.iter().map(|spot| point(*spot)).collect();
            let sides = || corners.iter().zip(corners.iter().cycle().skip(1));
            let whole: f64 = sides().map(|(a, b)| (*b - *a).radius()).sum();
            let mut gone = 0.0;
            let mut next = 0_u8;
            for (from, to) in sides() {
                let length = (*to - *from).radius();
                // The first stands half a distance from where the outline begins.
                let place = |n: u8| whole * (f64::from(n) + 0.5) / f64::from(count.max(1));
                while next < count && place(next) < gone + length {
                    let at = *from + (*to - *from) * ((place(next) - gone) / length);
                    let out = (*to - *from).perpendicular() * (1.0 / length);
                    let reach = out * (2.0 * gap);
                    strokes::stroked(
                        &Contour::line(at - reach, at + reach),
                        breadth.mm() + 2.0 * undercut.max(0.0),
                        Dash::Whole,
                        Seen::FromAbove,
                        &mut tabs,
                    );
                    next += 1;
                }
                gone += length;
            }
        }
        tabs
    }

    pub(super) fn entry(&self, film: &Film, order: &Order, files: Vec<String>) -> FilmEntry {
        let filming = &order.filming;
        FilmEntry::of(
            self.sheet(),
            self.piece.count,
            (film.high.x - film.low.x, film.high.y - film.low.y),
            filming,
            files,
        )
    }
}

impl Film {
    /// The same, dark where it was clear if that is asked for.
    fn in_sense(self, order: &Order) -> Film {
        match order.filming.sense {
            crate::filming::FilmSense::Positive => self,
            crate::filming::FilmSense::Negative => {
                let (low, high) = (self.low, self.high);
                let corners = [
                    low,
                    Point {
                        x: high.x,
                        y: low.y,
                    },
                    high,
                    Point {
                        x: low.x,
                        y: high.y,
                    },
                ];
                let mut dark = self.dark;
                dark.extend(ring(corners, Seen::FromAbove));
                Film {
                    side: self.side,
                    dark,
                    low,
                    high,
                }
            }
        }
    }

    /// Its size, and its dark lines from its corner at the top left.
    pub(super) fn page(&self) -> ((f64, f64), Vec<Vec<Point>>) {
        let lines = self.dark.iter().map(|ring| {
            let from_corner = |spot: &Spot| point(*spot) - self.low;
            ring.iter().map(from_corner).collect()
        });
        (
            (self.high.x - self.low.x, self.high.y - self.low.y),
            lines.collect(),
        )
    }
}

/// The same turned over about the upright line.
fn mirrored(ring: &Ring) -> Ring {
    ring.iter()
        .rev()
        .map(|spot| Spot::new(-spot.x, spot.y))
        .collect()
}
