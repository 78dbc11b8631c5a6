//! The clocks by which a moment may have been told, each with the ascendant that it gives.

use sky::Zodiacal;

use crate::answer::CandidateAnswer;
use crate::casting::{Casting, understood_moment};
use crate::request::CastRequest;

/// Less than this apart, two clocks are one.
const SAME_S: f64 = 1.0;

impl Casting {
    /// The clocks by which it may have been told, where their history is doubtful: first
    /// that of the zone's record. `request` is what the casting was understood from.
    pub(crate) fn candidates(&self, request: &CastRequest) -> Vec<CandidateAnswer> {
        let moment = &self.moment;
        let place = moment.place.clone().with_zone_of_nearest_town();
        let named = request.zone.as_deref();
        let named = named.and_then(|name| moment::Zone::named(name).ok());
        let by = |clock: Option<String>| {
            let asked = CastRequest {
                clock,
                ..request.clone()
            };
            understood_moment(&asked, None).ok()
        };
        // The hour as it was said, by whatever clock.
        let Some(said) = by(Some("mean".to_owned())) else {
            return Vec::new();
        };
        moment::candidates(&place, named.or(place.zone), said.civil)
            .into_iter()
            .filter_map(|candidate| {
                let clock = (candidate.clock != "zone").then(|| candidate.clock.clone());
                let there = by(clock.clone())?;
                let apart_s = there.instant.seconds_since(moment.instant).abs();
                let ascendant = self.site().horizon(&there.sky).ascendant().ok();
                Some(CandidateAnswer {
                    clock,
                    words: candidate.words,
                    source: candidate.source,
                    utc: there.utc.to_string(),
                    ascendant_deg: ascendant.map(|degree| degree.in_turn().deg()),
                    ascendant_text: ascendant.map(|degree| Zodiacal(degree).to_string()),
                    taken: apart_s < SAME_S,
                })
            })
            .collect()
    }
}
