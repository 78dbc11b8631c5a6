use instrument::{LineId, Part, Point};
use sky::Angle;

use crate::contour::Contour;
use crate::face::Face;
use crate::lettering::{Baseline, Lettering, width};
use crate::scene::{Dash, Group, Item, Layer, Scene, Trace, Weight};

/// A name to stand beside a drawn instrument.
#[derive(Clone, Debug, PartialEq)]
pub struct Name {
    /// The name.
    pub text: String,
    /// What it names.
    pub of: Named,
}

/// What of an instrument is named.
#[derive(Clone, Debug, PartialEq)]
pub enum Named {
    /// A part.
    Part(Part),
    /// A line.
    Line(LineId),
}

/// How far from the middle the names begin, and how far the sheet reaches, in radii of
/// the mater.
const NAMES: f64 = 1.14;
const REACH: f64 = 1.84;
/// The size of the type, in radii of the mater.
const TYPE: f64 = 0.066;

impl Scene {
    /// The same with names at its sides, each with a leader to what it names. What is not
    /// drawn is not named.
    #[must_use]
    pub fn with_names(mut self, names: &[Name]) -> Scene {
        let reach = self.reach_mm;
        let mut taken: Vec<Point> = Vec::new();
        let mut placed: Vec<(&Name, Point)> = Vec::new();
        for name in names {
            if let Some(at) = self.place_of(&name.of, &taken) {
                taken.push(at);
                placed.push((name, at));
            }
        }
        // Half of them on either side, the leftmost on the left.
        placed.sort_by(|a, b| a.1.x.total_cmp(&b.1.x));
        let right = placed.split_off(placed.len().div_ceil(2));
        let mut items = Vec::new();
        for (side, mut column) in [(-1.0, placed), (1.0, right)] {
            column.sort_by(|a, b| a.1.y.total_cmp(&b.1.y));
            let count = column.len();
            for (index, (name, at)) in column.into_iter().enumerate() {
                #[expect(clippy::cast_precision_loss, reason = "some twenty names")]
                let down = ((index as f64 + 0.5) / count as f64 - 0.5) * 2.0 * 0.98;
                items.extend(labelled(name, at, side, down * reach, reach, self.hair_mm));
            }
        }
        self.groups.push(Group {
            name: "names",
            part: Part::Pin,
            title: "the names of the parts".to_owned(),
            turn: Angle::ZERO,
            pole: Point::POLE,
            items,
        });
        self.reach_mm = reach * REACH;
        self.upright_mm = reach * REACH;
        self
    }

    /// A place of what is named, as far as may be from those taken.
    fn place_of(&self, named: &Named, taken: &[Point]) -> Option<Point> {
        let candidates = match named {
            Named::Part(part) => self.places_of_part(*part),
            Named::Line(line) => self.places_of_line(line),
        };
        let free = |p: &Point| {
            let near = taken.iter().map(|other| (*p - *other).radius());
            near.fold(self.reach_mm * 0.3, f64::min)
        };
        candidates
            .into_iter()
            .max_by(|a, b| free(a).total_cmp(&free(b)))
    }

    fn places_of_part(&self, part: Part) -> Vec<Point> {
        let reach = self.reach_mm;
        let on = |radius: f64, deg: f64| Point::polar(reach * radius, Angle::from_deg(deg));
        let turned = |part: Part| {
            let group = self.groups.iter().find(|group| group.part == part)?;
            Some(group.turn)
        };
        match part {
            Part::Mater | Part::Back => vec![on(0.99, 40.0), on(0.99, 140.0)],
            Part::Plate => vec![on(0.5, 62.0), on(0.5, 118.0), on(0.3, 75.0)],
            Part::Rete => self.places_of_line(&LineId::Ecliptic),
            // Along its arm: the rule's edge lies level at turn 0, the alidade upright.
            Part::Rule => self.places_of_line(&LineId::RuleEdge),
            Part::Alidade => turned(part).map_or(Vec::new(), |turn| {
                vec![on(0.4, turn.deg() - 90.0), on(0.3, turn.deg() + 90.0)]
            }),
            Part::Pinnule => turned(Part::Alidade).map_or(Vec::new(), |turn| {
                vec![on(0.79, turn.deg() - 90.0), on(0.79, turn.deg() + 90.0)]
            }),
            Part::Pin => vec![Point::POLE],
            Part::Wedge | Part::Ring => Vec::new(),
        }
    }

    /// Points along a line, as it is turned.
    fn places_of_line(&self, line: &LineId) -> Vec<Point> {
        let mut found = Vec::new();
        for group in &self.groups {
            for item in &group.items {
                let Item::Stroke(trace) = item else { continue };
                if trace.line.as_ref() != Some(line) {
                    continue;
                }
                for contour in &trace.contours {
                    let (mut at, pieces, _) = contour.outline();
                    for piece in pieces.iter() {
                        for part in [0.2, 0.35, 0.5, 0.65, 0.8] {
                            found.push(piece.at(at, part).turned(group.turn) + group.pole);
                        }
                        at = piece.end();
                    }
                }
            }
        }
        found
    }
}

/// A name on one side with its leader.
fn labelled(name: &Name, at: Point, side: f64, down: f64, reach: f64, hair: f64) -> [Item; 3] {
    let size_mm = reach * TYPE;
    let length = width(&name.text) * size_mm;
    let edge = Point {
        x: side * reach * NAMES,
        y: down,
    };
    let middle = Point {
        x: edge.x + side * (length / 2.0 + 0.25 * size_mm),
        y: down,
    };
    let line = match &name.of {
        Named::Line(line) => Some(line.clone()),
        Named::Part(_) => None,
    };
    let stroke = |contour: Contour| {
        Item::Stroke(Trace {
            line: None,
            contours: vec![contour],
            weight: Weight::Fine,
            dash: Dash::Whole,
            scale: false,
            lit: false,
            layer: Layer::Guide,
        })
    };
    [
        stroke(Contour::line(edge, at)),
        stroke(Contour::circle(at, hair * 5.0)),
        Item::Text(Lettering {
            text: name.text.clone(),
            size_mm,
            face: Face::Roman,
            baseline: Baseline::upright(middle, Angle::ZERO),
            clears: false,
            line,
        }),
    ]
}
