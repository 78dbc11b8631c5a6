use sky::{Angle, Sign};

use crate::{Horizon, NoAnswer, Planet, TermTable, sign_and_degree};

/// The ascendant directed through a term.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Distribution {
    /// The ruler of the term, the distributor.
    pub ruler: Planet,
    /// Where it begins in the zodiac; the ascendant itself for the first.
    pub begins: Angle,
    /// The equator's arc that rises from the ascendant to there: a degree is a year.
    pub arc: Angle,
}

impl Distribution {
    /// Where it is in print.
    pub const SOURCE: &'static str = "by oblique ascensions, a degree of the equator a year, and who has the terms: Ptolemy, Tetrabiblos III.10 and IV.10 (tr. Ashmand 1822, p. 140); through the terms alone: al-Qabīṣī, Introduction IV (from memory)";
}

/// The distributors of the ascendant through the terms, until so much of the equator has
/// risen.
///
/// # Errors
/// Where a degree on the way neither rises nor sets.
pub fn distributions(
    horizon: &Horizon,
    ascendant: Angle,
    terms: TermTable,
    until: Angle,
) -> Result<Vec<Distribution>, NoAnswer> {
    let rises = horizon.oblique_ascension(ascendant)?;
    let (sign, within_deg) = sign_and_degree(ascendant);
    let mut found = vec![Distribution {
        ruler: terms.at(sign, within_deg).ruler,
        begins: ascendant,
        arc: Angle::ZERO,
    }];
    // Signs from the ascendant's own, each with the beginnings of its terms.
    for on in 0..12 {
        let there = Sign::ALL[(sign as usize + on) % 12];
        let mut begins_deg = 0.0;
        for term in terms.of(there) {
            let begins = there.begins() + Angle::from_deg(begins_deg);
            begins_deg = f64::from(term.end_deg);
            if on == 0 && begins.deg() <= ascendant.in_turn().deg() {
                continue;
            }
            let arc = (horizon.oblique_ascension(begins)? - rises).in_turn();
            if arc > until {
                return Ok(found);
            }
            found.push(Distribution {
                ruler: term.ruler,
                begins,
                arc,
            });
        }
    }
    Ok(found)
}
