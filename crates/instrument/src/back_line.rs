use crate::form::Quadrant;
use crate::instrument::Instrument;

/// What the back of some instruments bears besides its common scales, and what operations
/// read there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BackLine {
    /// Sines and cosines by parts of the radius.
    Sines,
    /// The Sun's noon altitudes through the year.
    NoonAltitudes,
    /// The Sun's altitudes at the equal hours.
    EqualHours,
    /// The Sun's altitudes in the direction of Mecca.
    Qibla,
    /// The scale of cotangents, in digits and feet.
    Cotangents,
    /// Rings of faces, terms or mansions.
    Rings,
}

impl BackLine {
    /// What it is, to follow “bears”.
    #[must_use]
    pub fn called(self) -> &'static str {
        match self {
            BackLine::Sines => "quadrant of sines",
            BackLine::NoonAltitudes => "noon altitudes of the Sun",
            BackLine::EqualHours => "equal hours of a latitude",
            BackLine::Qibla => "qibla curves",
            BackLine::Cotangents => "scale of cotangents",
            BackLine::Rings => "ring of faces, terms or mansions",
        }
    }

    /// What has to stand in a specification for an instrument to bear it.
    #[must_use]
    pub fn asked_for_by(self) -> &'static str {
        match self {
            BackLine::Sines => "parts.quadrant = \"sines\"",
            BackLine::NoonAltitudes => "parts.quadrant = \"noon-altitudes\"",
            BackLine::EqualHours => "parts.quadrant = \"equal-hours\"",
            BackLine::Qibla => "parts.quadrant = \"qibla\"",
            BackLine::Cotangents => "parts.cotangents = true",
            BackLine::Rings => "parts.rings = [\"faces\", \"egyptian-terms\", \"mansions\"]",
        }
    }
}

impl Instrument {
    /// Whether the back bears it. A key to the stars in the field takes the place of its
    /// quadrants and cotangents.
    #[must_use]
    pub fn bears(&self, line: BackLine) -> bool {
        let parts = &self.specification().parts;
        let quadrant = |quadrant| self.has_shadow_square() && parts.quadrant == quadrant;
        match line {
            BackLine::Sines => quadrant(Quadrant::Sines),
            BackLine::NoonAltitudes => quadrant(Quadrant::NoonAltitudes),
            BackLine::EqualHours => quadrant(Quadrant::EqualHours),
            BackLine::Qibla => quadrant(Quadrant::Qibla),
            BackLine::Cotangents => self.has_shadow_square() && parts.cotangents,
            BackLine::Rings => !parts.rings.is_empty(),
        }
    }

    /// In how many parts the radius of the sine quadrant is cut by its parallels: 60, or 30 or
    /// 12 where these would stand closer than the least gap. Numbered they are by sixtieths.
    #[must_use]
    pub fn sine_parallels(&self) -> u8 {
        let gap = self.fineness().least_gap().mm();
        let radius = self.back().bands.field;
        [60_u8, 30]
            .into_iter()
            .find(|count| radius / f64::from(*count) >= gap)
            .unwrap_or(12)
    }
}
