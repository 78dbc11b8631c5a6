//! The clocks that are offered where a clock's history is doubtful, against a written list
//! of twenty historical cases (`reference/clocks_historical.csv`).

use desk::{Cabinet, CandidateAnswer, CastAnswer, CastRequest, cast};

fn answered(when: &str, at: &str, clock: Option<&str>) -> CastAnswer {
    let request = CastRequest {
        when: when.to_owned(),
        at: at.to_owned(),
        clock: clock.map(str::to_owned),
        ..CastRequest::default()
    };
    cast(&request, &Cabinet::built_in(), None).unwrap_or_else(|refused| panic!("{at}: {refused}"))
}

/// `+01:19:45`, in seconds.
fn seconds(text: &str) -> Option<f64> {
    let sign = if text.starts_with('-') { -1.0 } else { 1.0 };
    let parts: Vec<f64> = text
        .trim_start_matches(['+', '-'])
        .split(':')
        .map(|part| part.parse().ok())
        .collect::<Option<_>>()?;
    let [hours, minutes, seconds] = parts.as_slice() else {
        return None;
    };
    Some(sign * (hours * 3600.0 + minutes * 60.0 + seconds))
}

/// How far the clock of a candidate is ahead of UT at the moment of a case.
fn ahead(when: &str, at: &str, one: &CandidateAnswer) -> f64 {
    let answer = answered(when, at, one.clock.as_deref());
    let moment = &answer.moment;
    // Local mean time less the correction for the longitude is the clock's.
    moment
        .when
        .utc_offset_s
        .unwrap_or(answer.place.longitude_deg * 240.0)
}

#[test]
fn twenty_historical_cases_are_offered_their_clocks() {
    let list = include_str!("../../../reference/clocks_historical.csv");
    let cases = list.lines().filter(|line| !line.starts_with('#'));
    let mut count = 0;
    for line in cases {
        let cells: Vec<&str> = line.splitn(4, ';').collect();
        let &[when, at, clocks, _] = cells.as_slice() else {
            panic!("four cells: {line}");
        };
        let answer = answered(when, at, None);
        let offered: Vec<f64> = answer
            .candidates
            .iter()
            .filter(|one| {
                !one.clock
                    .as_deref()
                    .is_some_and(|clock| clock.starts_with("from-"))
            })
            .map(|one| ahead(when, at, one))
            .collect();
        for wanted in clocks.split(' ') {
            match seconds(wanted) {
                // A town's own meridian is known to four seconds of time.
                Some(wanted) => assert!(
                    offered.iter().any(|one| (one - wanted).abs() < 4.0),
                    "{when} {at}: {wanted} is not among {offered:?}"
                ),
                None => assert!(
                    answer
                        .candidates
                        .iter()
                        .any(|one| one.clock.as_deref() == Some(wanted)),
                    "{when} {at}: {wanted}"
                ),
            }
        }
        // The record's own is taken, and comes first.
        assert!(
            answer.candidates[0].taken && answer.candidates[0].clock.is_none(),
            "{at}"
        );
        let taken = answer.candidates.iter().filter(|one| one.taken);
        assert_eq!(taken.count(), 1, "{at}");
        assert!(answer.candidates.iter().all(|one| !one.source.is_empty()));
        count += 1;
    }
    assert_eq!(count, 20);
}

/// Kraków on 2 March 1897: by Warsaw's time 4°15′ Leo, by mean time 5°02′, by Central
/// European time 8°36′. Whichever is taken, all stand there still.
#[test]
fn each_has_the_ascendant_that_it_gives_and_stays_when_another_is_taken() {
    let (when, at) = ("1897-03-02 14:10", "Kraków, Poland");
    let answer = answered(when, at, None);
    let given: Vec<(Option<&str>, Option<&str>)> = answer
        .candidates
        .iter()
        .map(|one| (one.clock.as_deref(), one.ascendant_text.as_deref()))
        .collect();
    assert_eq!(
        given,
        [
            (None, Some("4°15′ Leo")),
            (Some("mean"), Some("5°02′ Leo")),
            (Some("+01:00"), Some("8°36′ Leo")),
        ]
    );
    for (index, one) in answer.candidates.iter().enumerate() {
        let then = answered(when, at, one.clock.as_deref());
        let (there, here) = (
            then.figure.ascendant_deg.unwrap(),
            one.ascendant_deg.unwrap(),
        );
        assert!((there - here).abs() < 1e-9);
        let taken: Vec<usize> = (0..3).filter(|at| then.candidates[*at].taken).collect();
        assert_eq!(taken, [index]);
    }
}

/// Nothing is offered where there is nothing to doubt.
#[test]
fn a_plain_time_has_no_candidates() {
    for (when, at) in [
        ("2024-05-14 09:20", "Kraków, Poland"),
        ("1971-06-01 10:00", "Köln, North Rhine-Westphalia, Germany"),
        ("1960-06-01 10:00", "Berlin, Germany"),
        ("1930-06-01 10:00", "Paris, France"),
        ("1950-01-01 12:00", "Chicago, Illinois, United States"),
    ] {
        assert!(
            answered(when, at, None).candidates.is_empty(),
            "{when} {at}"
        );
    }
}
