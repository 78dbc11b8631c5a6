use std::fmt;

use sky::Angle;

/// Whether the Sun is above the horizon.
///
/// A figure is of the day while the Sun's centre stands above the true horizon,
/// without refraction, as an instrument shows it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Sect {
    /// The Sun is up.
    Day,
    /// The Sun is down.
    Night,
}

impl Sect {
    /// By the Sun's altitude.
    #[must_use]
    pub fn of_altitude(altitude: Angle) -> Sect {
        if altitude > Angle::ZERO {
            Sect::Day
        } else {
            Sect::Night
        }
    }

    /// By the ascendant alone: the half of the ecliptic that has risen last and
    /// not yet set is the one behind the ascendant.
    #[must_use]
    pub fn of_ascendant(ascendant: Angle, sun: Angle) -> Sect {
        if (ascendant - sun).in_turn() < Angle::HALF_TURN {
            Sect::Day
        } else {
            Sect::Night
        }
    }

    /// `day` or `night`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Sect::Day => "day",
            Sect::Night => "night",
        }
    }
}

impl fmt::Display for Sect {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.name())
    }
}
