use std::fmt;
use std::str::FromStr;

use thiserror::Error;

use crate::Angle;

/// A sign of the zodiac: thirty degrees of the ecliptic.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Sign {
    /// 0° to 30°.
    Aries,
    /// 30° to 60°.
    Taurus,
    /// 60° to 90°.
    Gemini,
    /// 90° to 120°.
    Cancer,
    /// 120° to 150°.
    Leo,
    /// 150° to 180°.
    Virgo,
    /// 180° to 210°.
    Libra,
    /// 210° to 240°.
    Scorpio,
    /// 240° to 270°.
    Sagittarius,
    /// 270° to 300°.
    Capricorn,
    /// 300° to 330°.
    Aquarius,
    /// 330° to 360°.
    Pisces,
}

impl Sign {
    /// All twelve, from Aries.
    pub const ALL: [Sign; 12] = [
        Sign::Aries,
        Sign::Taurus,
        Sign::Gemini,
        Sign::Cancer,
        Sign::Leo,
        Sign::Virgo,
        Sign::Libra,
        Sign::Scorpio,
        Sign::Sagittarius,
        Sign::Capricorn,
        Sign::Aquarius,
        Sign::Pisces,
    ];

    /// Its name in full.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Sign::Aries => "Aries",
            Sign::Taurus => "Taurus",
            Sign::Gemini => "Gemini",
            Sign::Cancer => "Cancer",
            Sign::Leo => "Leo",
            Sign::Virgo => "Virgo",
            Sign::Libra => "Libra",
            Sign::Scorpio => "Scorpio",
            Sign::Sagittarius => "Sagittarius",
            Sign::Capricorn => "Capricorn",
            Sign::Aquarius => "Aquarius",
            Sign::Pisces => "Pisces",
        }
    }

    /// Its character.
    #[must_use]
    pub const fn symbol(self) -> char {
        const SYMBOLS: [char; 12] = [
            '♈', '♉', '♊', '♋', '♌', '♍', '♎', '♏', '♐', '♑', '♒', '♓',
        ];
        SYMBOLS[self as usize]
    }

    /// The longitude of its first point.
    #[must_use]
    pub fn begins(self) -> Angle {
        Angle::from_deg(30.0 * f64::from(self as u8))
    }
}

/// An ecliptic longitude, said as the trade says it: `26°36′ Cancer`.
///
/// Written to the nearest minute; read with degrees, and minutes and seconds if wanted.
///
/// ```
/// use sky::{Angle, Zodiacal};
/// assert_eq!(Zodiacal(Angle::from_deg(116.6)).to_string(), "26°36′ Cancer");
/// assert_eq!("11 Pisces".parse::<Zodiacal>()?.0.deg(), 341.0);
/// assert_eq!("11°30' pisces".parse::<Zodiacal>()?.0.deg(), 341.5);
/// assert!("31 Pisces".parse::<Zodiacal>().is_err());
/// # Ok::<(), sky::ZodiacalError>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Zodiacal(pub Angle);

impl Zodiacal {
    /// The sign in which it stands.
    #[must_use]
    pub fn sign(self) -> Sign {
        let degrees = self.0.in_turn();
        let signs = Sign::ALL.into_iter().rev();
        signs
            .filter(|sign| sign.begins() <= degrees)
            .take(1)
            .fold(Sign::Aries, |_, sign| sign)
    }
}

/// A text that says no degree of the zodiac.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[error("“{0}” is not a degree of the zodiac; 11 Pisces, 11°30′ Pisces or 341.5 would do")]
pub struct ZodiacalError(String);

impl fmt::Display for Zodiacal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let minutes = (self.0.in_turn().deg() * 60.0).round().rem_euclid(21_600.0);
        let (degrees, minute) = ((minutes / 60.0).floor(), minutes % 60.0);
        let sign = Sign::ALL
            .into_iter()
            .rev()
            .find(|sign| sign.begins().deg() <= degrees)
            .unwrap_or(Sign::Aries);
        let within = degrees - sign.begins().deg();
        f.pad(&format!("{within}°{minute:02}′ {}", sign.name()))
    }
}

impl FromStr for Zodiacal {
    type Err = ZodiacalError;

    fn from_str(text: &str) -> Result<Zodiacal, ZodiacalError> {
        let error = || {
            let plain = |c: char| if c.is_control() { '·' } else { c };
            let shown: String = text.chars().take(40).map(plain).collect();
            ZodiacalError(shown)
        };
        let name_at = text.find(char::is_alphabetic);
        let (number, name) = text.split_at(name_at.unwrap_or(text.len()));
        let parts: Vec<f64> = number
            .split(['°', '′', '\'', '’', '″', '"', ' '])
            .filter(|part| !part.is_empty())
            .map(|part| part.parse().map_err(|_| error()))
            .collect::<Result<_, _>>()?;
        let within = match *parts.as_slice() {
            [deg] => deg,
            [deg, min] if is_sixtieth(min) && deg.fract() == 0.0 => deg + min / 60.0,
            [deg, min, s]
                if is_sixtieth(min)
                    && is_sixtieth(s)
                    && deg.fract() == 0.0
                    && min.fract() == 0.0 =>
            {
                deg + min / 60.0 + s / 3600.0
            }
            _ => return Err(error()),
        };
        if name_at.is_none() {
            let accepted = parts.len() == 1 && (0.0..360.0).contains(&within);
            return if accepted {
                Ok(Zodiacal(Angle::from_deg(within)))
            } else {
                Err(error())
            };
        }
        let name = name.trim();
        let sign = Sign::ALL
            .into_iter()
            .find(|sign| sign.name().eq_ignore_ascii_case(name));
        match sign {
            Some(sign) if (0.0..30.0).contains(&within) => {
                Ok(Zodiacal(sign.begins() + Angle::from_deg(within)))
            }
            _ => Err(error()),
        }
    }
}

fn is_sixtieth(part: f64) -> bool {
    (0.0..60.0).contains(&part)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn minutes_carry_into_the_next_sign() {
        assert_eq!(
            Zodiacal(Angle::from_deg(359.9999)).to_string(),
            "0°00′ Aries"
        );
        assert_eq!(
            Zodiacal(Angle::from_deg(29.995)).to_string(),
            "0°00′ Taurus"
        );
        assert_eq!(Zodiacal(Angle::from_deg(-0.5)).to_string(), "29°30′ Pisces");
    }

    #[test]
    fn nonsense_is_refused() {
        for text in [
            "",
            "Pisces",
            "30 Pisces",
            "-1 Aries",
            "11 Fishes",
            "11°60′ Leo",
            "360",
            "NaN Leo",
            "inf",
            "1.5°30 Leo",
        ] {
            assert!(text.parse::<Zodiacal>().is_err(), "{text}");
        }
    }
}
