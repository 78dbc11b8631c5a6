use std::fmt;

use instrument::{LineId, Part};

/// Something of the instrument that can be shown.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Shown {
    /// A line, a scale or a pointer.
    Line(LineId),
    /// A whole part.
    Part(Part),
}

/// The line by its name; a part by its name after `part:`.
impl fmt::Display for Shown {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Shown::Line(line) => write!(f, "{line}"),
            Shown::Part(part) => write!(
                f,
                "part:{}",
                match part {
                    Part::Mater => "mater",
                    Part::Plate => "plate",
                    Part::Rete => "rete",
                    Part::Rule => "rule",
                    Part::Back => "back",
                    Part::Alidade => "alidade",
                    Part::Pinnule => "pinnule",
                    Part::Pin => "pin",
                    Part::Wedge => "wedge",
                    Part::Ring => "ring",
                }
            ),
        }
    }
}
