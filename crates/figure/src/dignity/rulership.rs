use sky::Sign;

use crate::Planet;

/// The ruler of a sign: Ptolemy, Tetrabiblos I.17.
///
/// The Moon and the Sun have Cancer and Leo; from there the planets follow both
/// ways in the order of their spheres, up to Saturn in Capricorn and Aquarius.
pub(super) const fn of(sign: Sign) -> Planet {
    match sign {
        Sign::Cancer => Planet::Moon,
        Sign::Leo => Planet::Sun,
        Sign::Gemini | Sign::Virgo => Planet::Mercury,
        Sign::Taurus | Sign::Libra => Planet::Venus,
        Sign::Aries | Sign::Scorpio => Planet::Mars,
        Sign::Pisces | Sign::Sagittarius => Planet::Jupiter,
        Sign::Capricorn | Sign::Aquarius => Planet::Saturn,
    }
}
