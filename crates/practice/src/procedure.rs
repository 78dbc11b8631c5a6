use instrument::{House, HouseLines, LineId, UnequalHour};

/// A way of reading the cusps off an instrument. They give different answers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Procedure {
    /// The ascendant's degree, or its opposite, is turned onto unequal-hour lines
    /// and the cusp read on the midnight line (Chaucer, *Astrolabe* II.36).
    Turning,
    /// The rete stays; a cusp is where the ecliptic crosses an unequal-hour line.
    DirectCut,
    /// The arc of the limb from the ascendant to the meridian is cut in three
    /// (Chaucer, *Astrolabe* II.37).
    LimbThirds,
    /// The rete stays; a cusp is where the ecliptic crosses a house line engraved for it.
    HouseLines(HouseLines),
}

/// How one cusp is had by a procedure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CuspFrom {
    /// The house whose cusp is read on the instrument.
    pub read: House,
    /// The line that belongs to it: the one a degree is turned onto, or that the
    /// ecliptic crosses.
    pub line: LineId,
    /// Whether the cusp is the opposite of the degree read.
    pub opposite: bool,
}

impl Procedure {
    /// Its name in commands and answers.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Procedure::Turning => "turning",
            Procedure::DirectCut => "direct_cut",
            Procedure::LimbThirds => "limb_thirds",
            Procedure::HouseLines(_) => "house_lines",
        }
    }

    /// The houses whose cusps are read on the instrument, beside I and X.
    #[must_use]
    pub fn read_houses(self) -> [House; 4] {
        let numbers: [usize; 4] = match self {
            Procedure::LimbThirds => [11, 12, 2, 3],
            Procedure::Turning | Procedure::DirectCut | Procedure::HouseLines(_) => [2, 3, 5, 6],
        };
        numbers.map(|number| House::ALL[number - 1])
    }

    /// The unequal-hour line for a house that is read, by turning or direct cut.
    ///
    /// | | II | III | V | VI |
    /// |---|---|---|---|---|
    /// | turning | 8 | 10 | 2 | 4 |
    /// | direct cut | 10 | 8 | 4 | 2 |
    #[must_use]
    pub fn hour_line(self, house: House) -> Option<UnequalHour> {
        let number = match (self, house.number()) {
            (Procedure::Turning, 2) | (Procedure::DirectCut, 3) => 8,
            (Procedure::Turning, 3) | (Procedure::DirectCut, 2) => 10,
            (Procedure::Turning, 5) | (Procedure::DirectCut, 6) => 2,
            (Procedure::Turning, 6) | (Procedure::DirectCut, 5) => 4,
            _ => return None,
        };
        UnequalHour::new(number)
    }

    /// How the cusp of a house is had.
    #[must_use]
    pub fn cusp_from(self, house: House) -> CuspFrom {
        let opposite = !self.reads(house);
        let read = if opposite { house.opposite() } else { house };
        let line = match (read.number(), self) {
            (1, _) => LineId::Horizon,
            (10, _) => LineId::MeridianLine,
            (_, Procedure::HouseLines(method)) => LineId::House(method, read),
            (_, Procedure::LimbThirds) => LineId::LimbDegrees,
            _ => self
                .hour_line(read)
                .map_or(LineId::MidnightLine, LineId::UnequalHour),
        };
        CuspFrom {
            read,
            line,
            opposite,
        }
    }

    /// Whether a cusp is read directly.
    fn reads(self, house: House) -> bool {
        matches!(house.number(), 1 | 10) || self.read_houses().contains(&house)
    }
}
