//! How far what is read may be trusted, said in a line.

use practice::{Amount, Trust, Verdict};
use sky::Angle;

use crate::number::{Degrees, Difference};

/// An angle as what a reading keeps within: up to the next five minutes, so that it holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AtMost(pub Amount);

impl std::fmt::Display for AtMost {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        // What is a five to the last digit is no more than that.
        let fives = (self.0.number().abs() * 12.0 - 1e-9).ceil().max(1.0);
        write!(f, "{}", Degrees(Angle::from_deg(fives / 12.0)))
    }
}

/// The verdict in a line: on an ascendant and a midheaven, `None` where it cannot be read.
#[must_use]
pub fn verdict(verdict: Verdict, ascendant: Option<Trust>, midheaven: Option<Trust>) -> String {
    let at_most = |trust: Trust| AtMost(trust.at_most());
    let (Some(ascendant), Some(midheaven)) = (ascendant, midheaven) else {
        let what = match (ascendant, midheaven) {
            (None, None) => "neither ascendant nor midheaven",
            (None, _) => "no ascendant",
            _ => "no midheaven",
        };
        return format!("Not to be trusted: {what} can be read on this plate.");
    };
    let worse = at_most(if ascendant.at_most() < midheaven.at_most() {
        midheaven
    } else {
        ascendant
    });
    let (ascendant, midheaven) = (at_most(ascendant), at_most(midheaven));
    match verdict {
        Verdict::Good => format!("Good: ascendant and midheaven are within {worse}."),
        Verdict::Usable => format!(
            "Usable within {worse}: the ascendant may be {ascendant} off, the midheaven {midheaven}."
        ),
        Verdict::NotToBeTrusted => format!(
            "Not to be trusted: the ascendant may be {ascendant} off, the midheaven {midheaven}."
        ),
    }
}

/// What a reading is known to be put off by, and for what: `Worked so, the ascendant is shown
/// 3°52′ too far on, mostly: a plate for another latitude.` None where that is less than
/// five minutes.
#[must_use]
pub fn known_to_be_off(name: &str, off: Amount, mostly: Option<&str>) -> Option<String> {
    if off.number().abs() < 5.0 / 60.0 {
        return None;
    }
    let way = if off.is_some() {
        "too far on"
    } else {
        "too far back"
    };
    let mostly = mostly.map_or(String::new(), |cause| format!(", mostly: {cause}"));
    Some(format!(
        "Worked so, {name} is shown {} {way}{mostly}.",
        Difference(off)
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_said_to_hold_holds() {
        let said = |arcmin| AtMost(Amount::Angle(Angle::from_arcmin(arcmin))).to_string();
        assert_eq!(said(0.0), "0°05′");
        assert_eq!(said(5.0), "0°05′");
        assert_eq!(said(5.1), "0°10′");
        assert_eq!(said(59.0), "1°00′");
        assert_eq!(said(-61.0), "1°05′");
    }
}
