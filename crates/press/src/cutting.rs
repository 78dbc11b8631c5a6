//! How a machine goes through the metal: what is allowed for its tool, what is drilled,
//! where a part keeps hold of its sheet, and where the tool comes in.

use drawing::{Body, Contour, Piece, Region, Solid};
use instrument::{Length, Part, Point};
use sky::Angle;

use crate::order_error::{OrderError, in_range};
use crate::work::Work;

/// Settings of the cut. Without any, every edge is a closed line at its true place, and
/// round holes of up to [`Cutting::DRILLED`] are drilled.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Cutting {
    /// The whole breadth that cutting takes away; that of the specification unless said.
    pub kerf: Option<Length>,
    /// Round holes no broader than this are drilled and not cut. Unless said it is
    /// [`Cutting::DRILLED`], and nothing where a kerf is allowed for: then a beam cuts them.
    pub drilled: Option<Length>,
    /// The diameter of a milling cutter: square inner corners that another part must fill
    /// are relieved for it.
    pub cutter: Option<Length>,
    /// The bridges by which a part keeps hold of its sheet.
    pub tabs: Option<Tabs>,
    /// How far off the edge the tool begins, in what falls away.
    pub lead_in: Option<Length>,
}

/// Bridges left in the outline of a part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tabs {
    /// How many, at even distances.
    pub count: u8,
    /// How broad each is left.
    pub breadth: Length,
}

impl Cutting {
    /// The broadest hole that is drilled unless said; larger ones are usually cut or bored
    /// (common practice).
    pub const DRILLED: Length = Length::from_mm(6.0);

    /// How broad a tab is unless said.
    pub const TAB: Length = Length::from_mm(1.0);

    /// Whether every number is one that a machine has.
    ///
    /// # Errors
    /// The first that is not, with what would do.
    pub fn checked(self) -> Result<Cutting, OrderError> {
        let tabs = self.tabs.map(|tabs| f64::from(tabs.count));
        in_range([
            ("kerf", self.kerf.map(Length::mm), 0.0, 3.0),
            ("drill-up-to", self.drilled.map(Length::mm), 0.0, 25.0),
            ("cutter", self.cutter.map(Length::mm), 0.1, 12.0),
            ("tabs", tabs, 1.0, 24.0),
            (
                "tab-width",
                self.tabs.map(|tabs| tabs.breadth.mm()),
                0.1,
                20.0,
            ),
            ("lead-in", self.lead_in.map(Length::mm), 0.1, 20.0),
        ])?;
        Ok(self)
    }

    /// The same at true size: what a person reads and a printer prints.
    pub(crate) fn true_size(self, kerf_mm: f64) -> Cutting {
        Cutting {
            kerf: Some(Length::ZERO),
            drilled: Some(Length::from_mm(self.drilled_mm(kerf_mm))),
            ..Cutting::default()
        }
    }

    /// The breadth of the cut, where the specification states one.
    pub(crate) fn kerf_mm(&self, stated: Length) -> f64 {
        self.kerf.unwrap_or(stated).mm()
    }

    /// The broadest hole that is drilled.
    pub(crate) fn drilled_mm(&self, kerf_mm: f64) -> f64 {
        match self.drilled {
            Some(drilled) => drilled.mm(),
            None if kerf_mm > 0.0 => 0.0,
            None => Cutting::DRILLED.mm(),
        }
    }
}

/// What goes through the metal of a part, by the work that does it, and what could not be
/// done as it was asked.
pub(crate) struct Through {
    pub(crate) lines: Vec<(Work, Vec<Contour>)>,
    /// Openings that the kerf closes.
    pub(crate) closed_up: bool,
    /// How many cuts had no room for the tool to come in from outside.
    pub(crate) without_lead_in: usize,
}

/// The lines along which a part is drilled and cut.
pub(crate) fn through(solid: &Solid, part: Part, cutting: &Cutting, kerf_mm: f64) -> Through {
    let drilled_mm = cutting.drilled_mm(kerf_mm);
    let is_drilled = |hole: &&Contour| match hole {
        // A hair more, for what is rounded.
        Contour::Circle { radius_mm, .. } => 2.0 * radius_mm <= drilled_mm + 1e-6,
        Contour::Path { .. } => false,
    };
    let holes = || solid.bodies.iter().flat_map(|body| &body.holes);
    let drill: Vec<Contour> = holes().filter(is_drilled).cloned().collect();
    let undrilled = Solid {
        bodies: solid
            .bodies
            .iter()
            .map(|body| Body {
                outline: body.outline.clone(),
                holes: body
                    .holes
                    .iter()
                    .filter(|hole| !is_drilled(hole))
                    .cloned()
                    .collect(),
            })
            .collect(),
    };
    let relieved = match cutting.cutter {
        Some(cutter) => relieved(undrilled, part, cutter.mm() / 2.0),
        None => undrilled,
    };
    let cut = relieved.grown(kerf_mm / 2.0);
    let openings = |solid: &Solid| {
        solid
            .bodies
            .iter()
            .map(|body| body.holes.len())
            .sum::<usize>()
    };
    let closed_up = openings(&cut) < openings(&relieved);
    let mut without_lead_in = 0;
    let mut led = |contours: Vec<Contour>, is_inside: bool| -> Vec<Contour> {
        let Some(lead_in) = cutting.lead_in else {
            return contours;
        };
        contours
            .into_iter()
            .map(|contour| {
                with_lead_in(&contour, lead_in.mm(), is_inside).unwrap_or_else(|| {
                    without_lead_in += 1;
                    contour
                })
            })
            .collect()
    };
    let inside = cut
        .bodies
        .iter()
        .flat_map(|body| body.holes.clone())
        .collect();
    let inside = led(inside, true);
    let outlines = cut.bodies.iter().map(|body| body.outline.clone());
    let outside = match cutting.tabs {
        Some(tabs) => outlines
            .flat_map(|outline| tabbed(&outline, tabs, kerf_mm))
            .collect(),
        None => led(outlines.collect(), false),
    };
    let mut lines = vec![
        (Work::Drill, drill),
        (Work::CutInside, inside),
        (Work::CutOutside, outside),
    ];
    lines.retain(|(_, contours)| !contours.is_empty());
    Through {
        lines,
        closed_up,
        without_lead_in,
    }
}

/// Curves are followed by arcs that leave them by no more than this, in millimetres.
const WITHIN_MM: f64 = 0.001;

/// The solid with its square inner corners opened for a round cutter: a circle of its size
/// whose edge passes a hair beyond the corner. Only corners that another part must fill are
/// square between a straight edge and another; a rete, a wedge and a pin have none such.
fn relieved(solid: Solid, part: Part, radius_mm: f64) -> Solid {
    /// Corners more open than this are no seat for another part.
    const MOST_OPEN: Angle = Angle::from_deg(100.0);
    /// What a cutter leaves is gone for certain.
    const BEYOND: f64 = 1.02;
    match part {
        Part::Rete | Part::Wedge | Part::Pin | Part::Rule | Part::Back | Part::Ring => {
            return solid;
        }
        Part::Mater | Part::Plate | Part::Alidade | Part::Pinnule => {}
    }
    let is_metal = |p: Point| {
        solid
            .bodies
            .iter()
            .any(|body| body.outline.encloses(p) && !body.holes.iter().any(|hole| hole.encloses(p)))
    };
    let mut discs = Vec::new();
    for edge in solid.edges() {
        let corners = corners(edge);
        for corner in corners {
            let (back, onward) = (-corner.arrives, corner.leaves);
            let open = back.direction().to(onward.direction()).abs();
            let middle = back + onward;
            if open > MOST_OPEN || !corner.is_straight || middle.radius() < 1e-6 {
                continue;
            }
            let into = middle * (1.0 / middle.radius());
            if is_metal(corner.at + into * 0.01) {
                continue;
            }
            discs.push(Contour::circle(
                corner.at + into * radius_mm,
                radius_mm * BEYOND,
            ));
        }
    }
    if discs.is_empty() {
        return solid;
    }
    let regions: Vec<Region> = solid.regions();
    Solid::of(&regions, &discs)
}

/// A corner of an edge: where two of its pieces meet.
struct Corner {
    at: Point,
    /// Unit vectors along the pieces, onward.
    arrives: Point,
    leaves: Point,
    /// Whether one of them is straight.
    is_straight: bool,
}

fn corners(edge: &Contour) -> Vec<Corner> {
    let runs = runs(edge);
    let next = runs.iter().cycle().skip(1);
    runs.iter()
        .zip(next)
        .map(|((from, piece), (at, after))| Corner {
            at: *at,
            arrives: along(*from, piece, 1.0),
            leaves: along(*at, after, 0.0),
            is_straight: [piece, after]
                .into_iter()
                .any(|piece| matches!(piece, Piece::Line { .. })),
        })
        .collect()
}

/// The pieces of a closed contour, each with where it begins, and the one that closes it.
fn runs(contour: &Contour) -> Vec<(Point, Piece)> {
    let (start, pieces, closed) = contour.outline();
    let mut at = start;
    let mut runs = Vec::new();
    let closing = closed.then_some(Piece::Line { to: start });
    for piece in pieces.iter().copied().chain(closing) {
        if piece.length_mm(at) > 1e-6 {
            runs.push((at, piece));
        }
        at = piece.end();
    }
    runs
}

/// The unit vector along a piece at a part of it.
fn along(from: Point, piece: &Piece, part: f64) -> Point {
    const NEAR: f64 = 1e-4;
    let at = |part: f64| piece.at(from, part.clamp(0.0, 1.0));
    let chord = at(part + NEAR) - at(part - NEAR);
    chord * (1.0 / chord.radius().max(1e-12))
}

/// An outline that leaves some bridges uncut, broader by what the cut takes away of them.
fn tabbed(outline: &Contour, tabs: Tabs, kerf_mm: f64) -> Vec<Contour> {
    let runs = runs(&outline.as_arcs(WITHIN_MM));
    let whole: f64 = runs
        .iter()
        .map(|(from, piece)| piece.length_mm(*from))
        .sum();
    let count = f64::from(tabs.count);
    let gap = tabs.breadth.mm() + kerf_mm;
    // Where a part is so small that nothing would be cut, half of it is.
    let gap = gap.min(whole / count / 2.0);
    (0..tabs.count)
        .map(|n| {
            let middle = |n: u8| (f64::from(n) + 0.5) * whole / count;
            stretch(
                &runs,
                middle(n) + gap / 2.0,
                middle(n) + whole / count - gap / 2.0,
                whole,
            )
        })
        .collect()
}

/// A closed contour from one place along it to another, by their ways from its beginning.
fn stretch(runs: &[(Point, Piece)], from_mm: f64, to_mm: f64, whole_mm: f64) -> Contour {
    let mut start = None;
    let mut pieces = Vec::new();
    // Twice round, for what passes the beginning.
    for turn in [0.0, whole_mm] {
        let mut way = turn;
        for (from, piece) in runs {
            let length = piece.length_mm(*from);
            let first = ((from_mm - way) / length).clamp(0.0, 1.0);
            let last = ((to_mm - way) / length).clamp(0.0, 1.0);
            if (last - first) * length > 1e-6 {
                let (begin, part) = piece.between(*from, first, last);
                start.get_or_insert(begin);
                pieces.push(part);
            }
            way += length;
        }
    }
    Contour::open(start.unwrap_or_default(), pieces)
}

/// A closed contour begun in the middle of its longest piece, to which the tool comes
/// straight in from what falls away; nothing where there is no room for that.
fn with_lead_in(contour: &Contour, length_mm: f64, is_inside: bool) -> Option<Contour> {
    /// So much of the way is kept free of the edge opposite.
    const FREE: f64 = 0.25;
    let runs = runs(contour);
    let length = |(from, piece): &(Point, Piece)| piece.length_mm(*from);
    let whole: f64 = runs.iter().map(length).sum();
    let longest = runs
        .iter()
        .enumerate()
        .max_by(|a, b| length(a.1).total_cmp(&length(b.1)))?
        .0;
    let before: f64 = runs.iter().take(longest).map(length).sum();
    let (from, piece) = runs.get(longest)?;
    let begins = before + piece.length_mm(*from) / 2.0;
    let (at, across) = (
        piece.at(*from, 0.5),
        along(*from, piece, 0.5).perpendicular(),
    );
    let is_waste = |p: Point| contour.encloses(p) == is_inside;
    let out = [across, -across]
        .into_iter()
        .find(|out| is_waste(at + *out * 0.005))?;
    let has_room =
        |mm: &f64| (1..=20).all(|n| is_waste(at + out * (mm * (1.0 + FREE) * f64::from(n) / 20.0)));
    let mm = [1.0, 0.5, 0.25]
        .map(|part| length_mm * part)
        .into_iter()
        .find(has_room)?;
    let Contour::Path {
        start, mut pieces, ..
    } = stretch(&runs, begins, begins + whole, whole)
    else {
        return None;
    };
    pieces.insert(0, Piece::Line { to: start });
    Some(Contour::open(at + out * mm, pieces))
}
