use sky::{Angle, Sign};

use crate::Planet;

/// The planet exalted in a sign: Ptolemy, Tetrabiblos I.19.
pub(super) const fn in_sign(sign: Sign) -> Option<Planet> {
    match sign {
        Sign::Aries => Some(Planet::Sun),
        Sign::Taurus => Some(Planet::Moon),
        Sign::Cancer => Some(Planet::Jupiter),
        Sign::Virgo => Some(Planet::Mercury),
        Sign::Libra => Some(Planet::Saturn),
        Sign::Capricorn => Some(Planet::Mars),
        Sign::Pisces => Some(Planet::Venus),
        Sign::Gemini | Sign::Leo | Sign::Scorpio | Sign::Sagittarius | Sign::Aquarius => None,
    }
}

/// The end of the degree in which a planet is exalted, "the 19th of Aries" as
/// 19°: W. Lilly, Christian Astrology (1647; ed. 1852, p. 72); J. Middleton, Practical
/// Astrology (1679), I.7, p. 60. Ptolemy gives the sign alone.
#[must_use]
pub fn exaltation_of_planet(planet: Planet) -> Angle {
    let (sign, deg) = match planet {
        Planet::Sun => (Sign::Aries, 19.0),
        Planet::Moon => (Sign::Taurus, 3.0),
        Planet::Jupiter => (Sign::Cancer, 15.0),
        Planet::Mercury => (Sign::Virgo, 15.0),
        Planet::Saturn => (Sign::Libra, 21.0),
        Planet::Mars => (Sign::Capricorn, 28.0),
        Planet::Venus => (Sign::Pisces, 27.0),
    };
    sign.begins() + Angle::from_deg(deg)
}
