use std::fmt;
use std::ops::Add;

use sky::Latitude;

/// An angle that a line is named by, to the minute of arc.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Minutes(i32);

impl Minutes {
    /// From whole degrees.
    #[must_use]
    pub const fn from_whole_deg(deg: i32) -> Minutes {
        Minutes(deg * 60)
    }

    /// The nearest minute.
    #[must_use]
    pub fn nearest(deg: f64) -> Minutes {
        #[expect(
            clippy::cast_possible_truncation,
            reason = "angles are far below i32::MAX minutes; the cast saturates"
        )]
        Minutes((deg * 60.0).round() as i32)
    }

    /// Nothing.
    pub const ZERO: Minutes = Minutes(0);

    /// Whether it is a whole multiple of another angle; of none where that is nothing.
    #[must_use]
    pub fn is_multiple_of(self, part: Minutes) -> bool {
        self.0.checked_rem(part.0) == Some(0)
    }

    /// In degrees.
    #[must_use]
    pub fn deg(self) -> f64 {
        f64::from(self.0) / 60.0
    }

    /// As a latitude or altitude; the nearest pole beyond ±90°.
    #[must_use]
    pub fn latitude(self) -> Latitude {
        Latitude::from_deg(self.deg().clamp(-90.0, 90.0)).unwrap_or_default()
    }
}

impl Add for Minutes {
    type Output = Minutes;

    fn add(self, other: Minutes) -> Minutes {
        Minutes(self.0.saturating_add(other.0))
    }
}

/// `30°` or `22°30′`, with a true minus sign.
impl fmt::Display for Minutes {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.0 < 0 { "−" } else { "" };
        let (deg, min) = (self.0.abs() / 60, self.0.abs() % 60);
        match min {
            0 => write!(f, "{sign}{deg}°"),
            _ => write!(f, "{sign}{deg}°{min:02}′"),
        }
    }
}
