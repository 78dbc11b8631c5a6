//! What of the span is served by the ephemeris that is held.

use crate::ephemeris::Ephemeris;
use crate::{SkyError, Span};

impl Span {
    /// Whether there are positions for a Julian date (TT): it lies within, and what is held
    /// of the ephemeris reaches it. Never so for one that is not a number.
    #[must_use]
    pub fn contains_jd_tt(jd_tt: f64) -> bool {
        let within = (Span::FIRST_JD..=Span::LAST_JD).contains(&jd_tt);
        // Where nothing is held, or it is damaged, the sky itself says so.
        let reached = Ephemeris::held().map_or(true, |held| held.reaches(jd_tt));
        if within && !reached {
            Ephemeris::miss();
        }
        within && reached
    }

    /// Julian date (TT) at which positions end: that of the span, or of what is held of it.
    pub(crate) fn end_jd() -> f64 {
        Ephemeris::held().map_or(Span::LAST_JD, |held| held.reach.1)
    }

    /// Why there are no positions for a Julian date (TT).
    pub(crate) fn outside(jd_tt: f64) -> SkyError {
        match Ephemeris::held() {
            Ok(whole) if whole.is_whole() => SkyError::OutsideSpan { jd_tt },
            Ok(part) => {
                Ephemeris::miss();
                let (first_jd, last_jd) = part.reach;
                SkyError::OutsidePart {
                    jd_tt,
                    first_jd,
                    last_jd,
                }
            }
            Err(error) => error,
        }
    }
}
