use drawing::Layer;
use serde::Serialize;

/// What a machine does with what is put down: a layer of the files.
///
/// They stand in the order of work: what is cut out has lost its hold, so that nothing
/// can be engraved or drilled on it any more.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Work {
    /// Nothing: it guides the eye.
    Guide,
    /// Scores lightly along lines.
    Score,
    /// Engraves along lines, to full depth.
    EngraveLine,
    /// Engraves what closed outlines enclose: letters.
    EngraveFill,
    /// Drills round holes.
    Drill,
    /// Cuts through, openings within a part.
    CutInside,
    /// Cuts through, round a part.
    CutOutside,
}

/// How a layer is told from the others, and what it is for.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct WorkEntry {
    /// Its name in SVG, as the identity of a group, and in DXF, as that of a layer.
    pub name: &'static str,
    /// What the machine does.
    pub does: &'static str,
    /// Its colour in SVG.
    pub colour: &'static str,
    /// The same colour in DXF, by the numbers of the format.
    pub dxf_colour: u8,
}

impl Work {
    /// All of them, in the order of work.
    pub const ALL: [Work; 7] = [
        Work::Guide,
        Work::Score,
        Work::EngraveLine,
        Work::EngraveFill,
        Work::Drill,
        Work::CutInside,
        Work::CutOutside,
    ];

    /// What is told of it: the one list of names and colours. The colours are pure ones, by
    /// which the programs of machines tell layers apart.
    #[must_use]
    pub const fn entry(self) -> WorkEntry {
        let (name, does, colour, dxf_colour) = match self {
            Work::Guide => ("guide", "nothing: it guides the eye", "#0000ff", 5),
            Work::Score => ("score", "scores lightly along lines", "#808080", 8),
            Work::EngraveLine => ("engrave-line", "engraves along lines", "#000000", 7),
            Work::EngraveFill => (
                "engrave-fill",
                "engraves what closed outlines enclose: letters",
                "#00ff00",
                3,
            ),
            Work::Drill => (
                "drill",
                "drills round holes, at their true size",
                "#ff00ff",
                6,
            ),
            Work::CutInside => ("cut-inside", "cuts openings within a part", "#00ffff", 4),
            Work::CutOutside => ("cut-outside", "cuts round a part, last", "#ff0000", 1),
        };
        WorkEntry {
            name,
            does,
            colour,
            dxf_colour,
        }
    }

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        self.entry().name
    }

    /// Whether it goes through the metal.
    #[must_use]
    pub const fn is_through(self) -> bool {
        match self {
            Work::Guide | Work::Score | Work::EngraveLine | Work::EngraveFill => false,
            Work::Drill | Work::CutInside | Work::CutOutside => true,
        }
    }

    /// What is done with an item of a drawing; its edges are cut round it.
    pub(crate) fn of(layer: Layer, filled: bool) -> Work {
        match layer {
            Layer::Guide => Work::Guide,
            Layer::Score => Work::Score,
            Layer::Engrave if filled => Work::EngraveFill,
            Layer::Engrave => Work::EngraveLine,
            Layer::Cut => Work::CutOutside,
        }
    }
}
