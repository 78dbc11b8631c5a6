//! The clocks by which a moment may have been told, each with the ascendant that it gives.

use moment::{CandidateClock, Clock};
use sky::Zodiacal;

use crate::answer::CandidateAnswer;
use crate::casting::{Casting, told_moment};
use crate::old_clock::OldClock;
use crate::request::CastRequest;

/// Less than this apart, two clocks are one.
const SAME_S: f64 = 1.0;

impl Casting {
    /// The clocks by which it may have been told, where their history is doubtful: first
    /// that of the zone's record. `request` is what the casting was understood from.
    pub(crate) fn candidates(&self, request: &CastRequest) -> Vec<CandidateAnswer> {
        let moment = &self.moment;
        let Ok(told) = told_moment(request) else {
            return Vec::new();
        };
        // The hour as it was said, by whatever clock.
        let Ok(said) = told.by_clock(Clock::Mean).moment(None) else {
            return Vec::new();
        };
        if moment::is_on_record(said.civil()) {
            return Vec::new();
        }
        let place = moment.place().clone().with_zone_of_nearest_town();
        moment::candidates(&place, told.zone().or(place.zone), said.civil())
            .into_iter()
            .filter_map(|candidate| {
                let by = match candidate.clock {
                    CandidateClock::Known(clock) => told.by_clock(clock),
                    CandidateClock::Old(name) => told.by_old_clock(OldClock::named(name)?),
                };
                let there = by.moment(None).ok()?;
                let of_record = candidate.clock == CandidateClock::Known(Clock::Zone);
                let apart_s = there.instant().seconds_since(moment.instant()).abs();
                let ascendant = self.site().horizon(there.sky()).ascendant().ok();
                Some(CandidateAnswer {
                    clock: (!of_record).then(|| candidate.clock.to_string()),
                    words: candidate.words,
                    source: candidate.source,
                    utc: there.utc().to_string(),
                    ascendant_deg: ascendant.map(|degree| degree.in_turn().deg()),
                    ascendant_text: ascendant.map(|degree| Zodiacal(degree).to_string()),
                    taken: apart_s < SAME_S,
                })
            })
            .collect()
    }
}
