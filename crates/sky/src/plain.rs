use std::fmt;

/// A number as it stands in a message, written as a person would: `400`, `0.5`; with an
/// exponent, `1e308`, where its figures would run on. Fifteen figures are told, as many
/// as a number surely keeps of those it was written with, so that 180 × 0.06 is 10.8.
///
/// ```
/// use sky::Plain;
/// assert_eq!(Plain(95.0).to_string(), "95");
/// assert_eq!(Plain(-0.25).to_string(), "-0.25");
/// assert_eq!(Plain(180.0 * 0.06).to_string(), "10.8");
/// assert_eq!(Plain(1e308).to_string(), "1e308");
/// assert_eq!(Plain(-1e-300).to_string(), "-1e-300");
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plain(pub f64);

impl Plain {
    /// From here on up, and from the least on down, an exponent is shorter to read.
    const MOST: f64 = 1e9;
    const LEAST: f64 = 1e-6;
}

impl fmt::Display for Plain {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // The shortest digits of the nearest number that has no more figures.
        let number = format!("{:.14e}", self.0).parse().unwrap_or(self.0);
        let size = f64::abs(number);
        if size.is_finite() && size != 0.0 && !(Plain::LEAST..Plain::MOST).contains(&size) {
            write!(f, "{number:e}")
        } else {
            write!(f, "{number}")
        }
    }
}
