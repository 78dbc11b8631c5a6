use schemars::JsonSchema;
use serde::Serialize;

use crate::old_clock::OldClock;

/// A kind of clock by which a time may be told.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ClockAnswer {
    /// Its name in a request.
    pub name: String,
    /// What it is.
    pub words: String,
    /// Whether it is one of the old reckonings, from the Sun's rising or setting.
    pub old: bool,
}

/// The kinds of clock that have a name; besides them there are offsets such as `+01:00`.
#[must_use]
pub fn clocks() -> Vec<ClockAnswer> {
    let today = [
        ("zone", "the zone’s clock"),
        ("mean", "local mean time"),
        ("sun", "the Sun (local apparent time)"),
    ];
    let today = today.map(|(name, words)| ClockAnswer {
        name: name.to_owned(),
        words: words.to_owned(),
        old: false,
    });
    let old = OldClock::all().map(|clock| ClockAnswer {
        name: clock.name(),
        words: clock.kind(),
        old: true,
    });
    today.into_iter().chain(old).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::CastRequest;

    #[test]
    fn every_kind_is_understood_by_its_name() {
        let clocks = clocks();
        for clock in &clocks {
            let request = CastRequest {
                when: "2024-05-14 03:20".to_owned(),
                at: "42.8806,-8.5449".to_owned(),
                zone: Some("Europe/Madrid".to_owned()),
                clock: Some(clock.name.clone()),
                ..CastRequest::default()
            };
            crate::cast(&request, &crate::Cabinet::built_in(), None)
                .unwrap_or_else(|refusal| panic!("{}: {refusal}", clock.name));
            let others = clocks.iter().filter(|one| one.words == clock.words);
            assert_eq!(others.count(), 1, "{}", clock.words);
        }
    }
}
