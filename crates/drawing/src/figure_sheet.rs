use instrument::{Division, House, Instrument, Orientation};
use sky::{Angle, Latitude};

use crate::page::{Leaf, Run};
use crate::planet_glyph::FigurePoint;
use crate::scene::Scene;

/// A figure (chart) to be drawn: all that stands on the sheet.
///
/// It is drawn in ink alone: nothing in it has a colour of its own.
#[derive(Clone, Debug, PartialEq)]
pub struct FigureSheet {
    /// What the drawing shows, in a few words.
    pub title: String,
    /// The same in some sentences, for those who do not see it.
    pub description: String,
    /// Where angles and cusps come from: calculated, or read on which instrument.
    pub from: String,
    /// The lines of writing that say where, when, and by which rules.
    pub heading: Vec<String>,
    /// The ascendant, where there is one.
    pub ascendant: Option<Angle>,
    /// The midheaven.
    pub midheaven: Option<Angle>,
    /// The cusps, I to XII, where there are any.
    pub cusps: Option<[Angle; 12]>,
    /// What stands in it.
    pub marks: Vec<Placement>,
    /// The stars among which it stands.
    pub stars: Vec<StarPlacement>,
    /// What is told under it: aspects, lots.
    pub beneath: Vec<ListBeneath>,
    /// How the lines of the houses are drawn, or why there are none.
    pub about_lines: String,
    /// The brass that it stands on.
    pub standing: Standing,
    /// How the plain circle is turned: east, where the ascendant is, on the left
    /// and the midheaven above, unless it is to lie as an instrument does.
    pub orientation: Orientation,
    /// Whether it is a sheet to be filled in: rows without values.
    pub blank: bool,
}

/// How an instrument stands, with the lines that divide the houses.
#[derive(Clone, Debug)]
pub struct Standing {
    /// The instrument.
    pub instrument: Instrument,
    /// The latitude of the plate.
    pub plate: Latitude,
    /// How the rete is turned: the hour angle of 0° Aries.
    pub rete: Angle,
    /// By which lines the houses are divided; none where they are not.
    pub division: Option<Division>,
}

impl PartialEq for Standing {
    fn eq(&self, other: &Standing) -> bool {
        let made = |one: &Standing| one.instrument.specification().clone();
        (self.plate, self.rete, self.division) == (other.plate, other.rete, other.division)
            && made(self) == made(other)
    }
}

/// Something in a figure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placement {
    /// What.
    pub mark: FigurePoint,
    /// Where.
    pub longitude: Angle,
    /// How far it is from the ecliptic.
    pub latitude: Latitude,
    /// The house it counts with, where there are houses.
    pub house: Option<House>,
    /// Whether it goes backward.
    pub retrograde: bool,
}

/// A star in a figure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StarPlacement {
    /// Its name.
    pub name: &'static str,
    /// Where.
    pub longitude: Angle,
    /// How far it is from the ecliptic.
    pub latitude: Latitude,
}

/// Lines told under a figure.
#[derive(Clone, Debug, PartialEq)]
pub struct ListBeneath {
    /// What they are.
    pub title: &'static str,
    /// The lines.
    pub lines: Vec<Vec<Run>>,
}

/// The ways to draw a figure.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum FigureDrawing {
    /// As it stands on the brass, with a ledger on both sides.
    Brass,
    /// The same for a narrow page, with the ledger beneath.
    BrassNarrow,
    /// The square of the old books.
    Square,
    /// A plain circle with a ledger on both sides.
    Round,
    /// The same for a narrow page, with the ledger beneath.
    RoundNarrow,
}

impl FigureSheet {
    /// The figure as a drawing.
    #[must_use]
    pub fn scene(&self, drawing: FigureDrawing) -> Scene {
        self.leaf(drawing)
            .scene(&self.title, &self.description, "figure")
    }

    /// Two figures, one beside the other: of the same moment, calculated and as read.
    #[must_use]
    pub fn scene_with(&self, other: &FigureSheet, drawing: FigureDrawing) -> Scene {
        let description = format!(
            "{}: {} {}: {}",
            self.from, self.description, other.from, other.description
        );
        self.leaf(drawing)
            .with(other.leaf(drawing))
            .scene(&self.title, &description, "figure")
    }

    pub(crate) fn leaf(&self, drawing: FigureDrawing) -> Leaf {
        match drawing {
            FigureDrawing::Brass => self.brass_leaf(),
            FigureDrawing::BrassNarrow => self.narrow_brass_leaf(),
            FigureDrawing::Square => self.square_leaf(),
            FigureDrawing::Round => self.round_leaf(),
            FigureDrawing::RoundNarrow => self.narrow_round_leaf(),
        }
    }
}

/// How far beyond the equator, on the side of the outer tropic, a figure on the brass
/// reaches at least, in degrees: a little beyond the tropic, for what stands beyond it.
pub const FARTHEST_DEG: f64 = 29.6;

/// How far a square sheet reaches from its middle.
pub(crate) const REACH_MM: f64 = 103.0;

/// A degree of the zodiac as it is written, to the nearest minute.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Written {
    pub(crate) sign: usize,
    pub(crate) deg: u32,
    pub(crate) min: u32,
}

impl Written {
    pub(crate) fn of(longitude: Angle) -> Written {
        let minutes = (longitude.in_turn().deg() * 60.0).round();
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "0 to 21600"
        )]
        let minutes = minutes as u32 % 21_600;
        Written {
            sign: (minutes / 1800) as usize,
            deg: minutes / 60 % 30,
            min: minutes % 60,
        }
    }

    /// `26°36′`.
    pub(crate) fn text(self) -> String {
        format!("{}°{:02}′", self.deg, self.min)
    }
}
