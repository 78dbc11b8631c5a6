use instrument::{LineId, Orientation, Part, Point};
use sky::Angle;

use crate::contour::Contour;
use crate::lettering::Lettering;

/// A drawing as data: what every format prints.
///
/// All points are as drawn: x to the right and y down, in millimetres from the
/// pole, which lies in the middle; directions and turns run clockwise.
#[derive(Clone, Debug, PartialEq)]
pub struct Scene {
    /// What the drawing shows, in a few words.
    pub title: String,
    /// The same in some sentences, for those who do not see it.
    pub description: String,
    /// How far the drawing reaches from the middle, in millimetres, to the left and right.
    pub reach_mm: f64,
    /// And upwards and downwards; no less where it is round.
    pub upright_mm: f64,
    /// The width of the finest line, in millimetres; see [`Weight::times_hair`].
    pub hair_mm: f64,
    /// The parts, from the lowest to the uppermost.
    pub groups: Vec<Group>,
}

impl Scene {
    /// The same with some of its lines lit, those being read: they lie above the others of
    /// their part.
    #[must_use]
    pub fn with_lit(mut self, lines: &[LineId]) -> Scene {
        for group in &mut self.groups {
            for item in &mut group.items {
                if let Item::Stroke(trace) = item {
                    trace.lit |= trace.line.as_ref().is_some_and(|line| lines.contains(line));
                }
            }
            group
                .items
                .sort_by_key(|item| matches!(item, Item::Stroke(trace) if trace.lit));
        }
        self
    }
}

/// Everything that is drawn of one part and turns with it.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// Its name, such as `rete`; no two groups of a scene share it.
    pub name: &'static str,
    /// The part it belongs to.
    pub part: Part,
    /// The part in words, for those who do not see it.
    pub title: String,
    /// How far it is turned about its own pole, clockwise. Its items are given unturned.
    pub turn: Angle,
    /// Where its own pole stands, once it is turned.
    pub pole: Point,
    /// What it consists of, from below upwards.
    pub items: Vec<Item>,
}

/// One thing drawn.
#[derive(Clone, Debug, PartialEq)]
pub enum Item {
    /// A line, or several that are one by name, such as the strokes of a scale.
    Stroke(Trace),
    /// A surface.
    Fill(Fill),
    /// Letters or figures.
    Text(Lettering),
}

/// A line as drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Trace {
    /// Which line of the instrument it is, if it is one that has a name.
    pub line: Option<LineId>,
    /// Its pieces.
    pub contours: Vec<Contour>,
    /// How heavy it is.
    pub weight: Weight,
    /// Whether it is broken.
    pub dash: Dash,
    /// Whether it is the strokes of a scale, which stand too close to be thickened.
    pub scale: bool,
    /// Whether it is among the lines being read.
    pub lit: bool,
    /// What a machine does with it.
    pub layer: Layer,
}

/// How heavy a line is, in five steps that a reader can tell apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Weight {
    /// What fills the ground: azimuths, the finest divisions.
    Hair,
    /// The ordinary line: almucantars, divisions.
    Fine,
    /// What divides: every tenth almucantar, tropics, hour lines.
    Middle,
    /// Edges of parts.
    Edge,
    /// The horizon, and what else is strongest.
    Strong,
}

impl Weight {
    /// All of them, from the lightest.
    pub const ALL: [Weight; 5] = [
        Weight::Hair,
        Weight::Fine,
        Weight::Middle,
        Weight::Edge,
        Weight::Strong,
    ];

    /// How many times as wide as the finest line.
    #[must_use]
    pub fn times_hair(self) -> f64 {
        match self {
            Weight::Hair => 1.0,
            Weight::Fine => 1.5,
            Weight::Middle => 2.1,
            Weight::Edge => 2.9,
            Weight::Strong => 4.2,
        }
    }

    /// `hair`, `fine`, `middle`, `edge` or `strong`.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Weight::Hair => "hair",
            Weight::Fine => "fine",
            Weight::Middle => "middle",
            Weight::Edge => "edge",
            Weight::Strong => "strong",
        }
    }
}

/// Whether a line is whole or broken.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Dash {
    /// Unbroken.
    Whole,
    /// Long dashes.
    Dashed,
    /// Dots.
    Dotted,
}

/// A surface of metal, made of regions that may overlap: what is drawn is their
/// union.
#[derive(Clone, Debug, PartialEq)]
pub struct Fill {
    /// What it is made of.
    pub metal: Metal,
    /// The regions.
    pub regions: Vec<Region>,
    /// What a machine does with its outline.
    pub layer: Layer,
}

/// A closed outline, perhaps with holes.
#[derive(Clone, Debug, PartialEq)]
pub struct Region {
    /// The outer edge.
    pub outline: Contour,
    /// The edges of the holes within it.
    pub holes: Vec<Contour>,
}

impl Region {
    /// Without a hole.
    #[must_use]
    pub fn whole(outline: Contour) -> Region {
        Region {
            outline,
            holes: Vec::new(),
        }
    }

    /// All its edges.
    pub(crate) fn edges(&self) -> impl Iterator<Item = &Contour> {
        std::iter::once(&self.outline).chain(&self.holes)
    }

    /// Whether a point lies in it.
    pub(crate) fn holds(&self, p: Point) -> bool {
        self.outline.encloses(p) && !self.holes.iter().any(|hole| hole.encloses(p))
    }

    /// The same, as drawn in an orientation.
    pub(crate) fn drawn(&self, orientation: Orientation) -> Region {
        let drawn = |contour: &Contour| contour.drawn(orientation);
        Region {
            outline: drawn(&self.outline),
            holes: self.holes.iter().map(drawn).collect(),
        }
    }

    /// Between two circles about a centre.
    #[must_use]
    pub fn ring(centre: Point, outer_mm: f64, inner_mm: f64) -> Region {
        Region {
            outline: Contour::circle(centre, outer_mm),
            holes: vec![Contour::circle(centre, inner_mm)],
        }
    }
}

/// What a surface is made of, and so its colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Metal {
    /// The mater and its limb.
    Mater,
    /// The ground of the plate.
    Plate,
    /// The rete.
    Rete,
    /// The rule.
    Rule,
    /// Inlaid or blackened: small pointers that must be found at a glance.
    Dark,
    /// Paper: the sky above the horizon of a figure.
    Sky,
    /// Paper in a faint tone: what is below the horizon.
    Ground,
    /// Paper in a warmer tone: the ecliptic ring of a figure.
    Zodiac,
}

impl Metal {
    /// `mater`, `plate`, `rete`, `rule`, `dark`, `sky`, `ground` or `zodiac`.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Metal::Mater => "mater",
            Metal::Plate => "plate",
            Metal::Rete => "rete",
            Metal::Rule => "rule",
            Metal::Dark => "dark",
            Metal::Sky => "sky",
            Metal::Ground => "ground",
            Metal::Zodiac => "zodiac",
        }
    }
}

/// What a machine that makes the part does with an item.
///
/// They stand in the order of work: what is cut out has lost its hold, so that nothing
/// can be engraved on it any more.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Layer {
    /// Nothing: it guides the eye.
    Guide,
    /// Scores lightly.
    Score,
    /// Engraves to full depth.
    Engrave,
    /// Cuts through.
    Cut,
}

impl Layer {
    /// All of them, in the order of work.
    pub const ALL: [Layer; 4] = [Layer::Guide, Layer::Score, Layer::Engrave, Layer::Cut];

    /// `cut`, `engrave`, `score` or `guide`.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Layer::Cut => "cut",
            Layer::Engrave => "engrave",
            Layer::Score => "score",
            Layer::Guide => "guide",
        }
    }
}
