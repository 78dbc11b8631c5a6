use sky::Angle;

/// By which zodiac the mansions of the Moon are counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum MansionZodiac {
    /// From the head of Aries: H. C. Agrippa, De occulta philosophia II.33 (1533; from
    /// memory).
    Tropical,
    /// From 20°06′ Aries, where the first mansion's stars stood by then: W. Ramesey,
    /// Astrologia Restaurata (1653), p. 130, a table of all twenty-eight.
    Ramesey,
}

/// A mansion of the Moon.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mansion {
    /// From 1 to 28.
    pub number: u8,
    /// Where it begins.
    pub begins: Angle,
}

/// How many there are.
const COUNT: u8 = 28;

impl MansionZodiac {
    /// Both.
    pub const ALL: [MansionZodiac; 2] = [MansionZodiac::Tropical, MansionZodiac::Ramesey];

    /// Where it is in print.
    #[must_use]
    pub const fn source(self) -> &'static str {
        match self {
            MansionZodiac::Tropical => {
                "mansions from 0° Aries: Agrippa, De occulta philosophia (1533), II.33 (from memory)"
            }
            MansionZodiac::Ramesey => {
                "mansions from 20°06′ Aries: Ramesey, Astrologia Restaurata (1653), p. 130"
            }
        }
    }

    /// Where the first begins.
    #[must_use]
    pub const fn first(self) -> Angle {
        match self {
            MansionZodiac::Tropical => Angle::ZERO,
            MansionZodiac::Ramesey => Angle::from_arcmin(20.0 * 60.0 + 6.0),
        }
    }

    /// A mansion by its number, counted round.
    #[must_use]
    pub fn mansion(self, number: u8) -> Mansion {
        let from_first = (number + COUNT - 1) % COUNT;
        let on = Angle::from_deg(360.0 / f64::from(COUNT) * f64::from(from_first));
        Mansion {
            number: from_first + 1,
            begins: (self.first() + on).in_turn(),
        }
    }

    /// The mansion that holds a longitude.
    #[must_use]
    pub fn at(self, longitude: Angle) -> Mansion {
        let passed = (longitude - self.first()).in_turn();
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a part of a turn in 28ths"
        )]
        let whole = (passed.deg() / 360.0 * f64::from(COUNT)).floor() as u8;
        self.mansion(whole + 1)
    }
}

/// The dodecatemorion of a degree: as many twelfths of a turn from the head of its sign as
/// it has degrees of it, so that each sign holds all twelve. Firmicus Maternus, Mathesis
/// II.13 (4th century; from memory).
#[must_use]
pub fn dodecatemorion(longitude: Angle) -> Angle {
    let (sign, within_deg) = crate::sign_and_degree(longitude);
    (sign.begins() + Angle::from_deg(12.0 * within_deg)).in_turn()
}
