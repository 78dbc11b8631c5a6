use sky::Sign;

use super::near::is_oriental;
use crate::{Figure, House, Planet, Sect, sign_and_degree};

/// How a planet stands to day and night and to the halves of the circle. No book here
/// counts points for it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Standing {
    /// Whether it is of the day's planets. Mercury is while it rises before the Sun:
    /// Ptolemy, Tetrabiblos I.7.
    pub diurnal: bool,
    /// Whether the figure is of its own half, day or night.
    pub of_the_time: bool,
    /// Whether it stands on the right side of the horizon: a planet of the day with the
    /// Sun, one of the night across from it.
    pub on_its_side: bool,
    /// Whether a masculine planet is in a masculine sign, or a feminine in a feminine.
    pub in_its_sign: bool,
    /// Whether it rises before the Sun; none for the Sun itself.
    pub oriental: Option<bool>,
    /// Whether it is in the eastern half, from the fourth over the first to the tenth;
    /// none where there are no houses.
    pub eastern: Option<bool>,
    /// Whether it is above the horizon.
    pub up: bool,
    /// Whether it is in the house of its joy; none where there are no houses.
    pub joy: Option<bool>,
}

impl Standing {
    /// Whether it has all three parts of hayz: al-Bīrūnī, Tafhīm §496 (1029; from memory),
    /// with Mars, of the night, in a masculine sign.
    #[must_use]
    pub const fn hayz(&self) -> bool {
        self.of_the_time && self.on_its_side && self.in_its_sign
    }
}

/// The house in which a planet rejoices: Paulus of Alexandria, Introduction 24 (378; from
/// memory).
#[must_use]
pub const fn joy_of(planet: Planet) -> House {
    match planet {
        Planet::Mercury => House::I,
        Planet::Moon => House::III,
        Planet::Venus => House::V,
        Planet::Mars => House::VI,
        Planet::Sun => House::IX,
        Planet::Jupiter => House::XI,
        Planet::Saturn => House::XII,
    }
}

impl Figure {
    /// How a planet of the figure stands; none where it is not shown.
    #[must_use]
    pub fn standing(&self, planet: Planet) -> Option<Standing> {
        let placed = self.body(planet.body())?;
        let sun = self.body(sky::Body::Sun)?;
        let oriental = (planet != Planet::Sun)
            .then(|| is_oriental(placed.place.longitude, sun.place.longitude));
        let morning = oriental == Some(true);
        let diurnal = match planet {
            Planet::Saturn | Planet::Jupiter | Planet::Sun => true,
            Planet::Mars | Planet::Venus | Planet::Moon => false,
            Planet::Mercury => morning,
        };
        let masculine = match planet {
            Planet::Saturn | Planet::Jupiter | Planet::Mars | Planet::Sun => true,
            Planet::Venus | Planet::Moon => false,
            Planet::Mercury => morning,
        };
        let day = self.sect == Sect::Day;
        Some(Standing {
            diurnal,
            of_the_time: diurnal == day,
            on_its_side: placed.up == (diurnal == day),
            in_its_sign: masculine == is_masculine(sign_and_degree(placed.place.longitude).0),
            oriental,
            eastern: placed.house.map(|house| match house {
                House::X | House::XI | House::XII | House::I | House::II | House::III => true,
                House::IV | House::V | House::VI | House::VII | House::VIII | House::IX => false,
            }),
            up: placed.up,
            joy: placed.house.map(|house| house == joy_of(planet)),
        })
    }
}

/// Aries and every other one after it: Ptolemy, Tetrabiblos I.12.
fn is_masculine(sign: Sign) -> bool {
    (sign as usize).is_multiple_of(2)
}
