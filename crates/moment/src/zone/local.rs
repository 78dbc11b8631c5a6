use super::{Change, Zone, ZoneSpan};

/// A span by which a clock reading is understood, and how far it puts the clock
/// ahead of UT.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct By {
    pub(crate) span: ZoneSpan,
    pub(crate) offset_s: f64,
}

/// What a reading of a zone's clocks can mean.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Local {
    Plain(By),
    /// The two meanings, the earlier instant first.
    Doubtful(Change, [By; 2]),
}

/// No clock is further from UT, so that no other span can matter.
const FURTHEST_S: f64 = 100_000.0;

impl Zone {
    /// What is meant by a reading of the zone's clocks, in seconds since 1970 by
    /// those clocks. Where the table has local mean time, that of the place itself
    /// stands for it, if given (in seconds ahead of UT).
    pub(crate) fn at_local(self, local_s: f64, own_mean_time_s: Option<f64>) -> Local {
        let by = |span: ZoneSpan| By {
            span,
            offset_s: offset_in(span, own_mean_time_s),
        };
        let mut spans = vec![by(self.span_at((local_s - FURTHEST_S).floor() as i64))];
        while let Some(until) = spans
            .last()
            .and_then(|last| last.span.until)
            .filter(|until| (*until as f64) < local_s + FURTHEST_S)
        {
            spans.push(by(self.span_at(until)));
        }
        let begun = |by: &By| {
            by.span
                .from
                .is_none_or(|from| from as f64 <= local_s - by.offset_s)
        };
        let over = |by: &By| {
            by.span
                .until
                .is_some_and(|until| until as f64 <= local_s - by.offset_s)
        };
        let mut holding = spans.iter().filter(|by| begun(by) && !over(by));
        match (holding.next(), holding.next_back()) {
            (Some(only), None) => Local::Plain(*only),
            (Some(earlier), Some(later)) => Local::Doubtful(Change::Fold, [*earlier, *later]),
            _ => {
                // The last span to be over already, and the one after it.
                let last = spans.iter().rposition(over).unwrap_or(0);
                match (spans.get(last), spans.get(last + 1)) {
                    (Some(before), Some(after)) => Local::Doubtful(Change::Gap, [*after, *before]),
                    _ => Local::Plain(by(self.span_at(local_s as i64))),
                }
            }
        }
    }
}

/// How far the clocks of a span are ahead of UT, its local mean time replaced by
/// the place's own.
pub(crate) fn offset_in(span: ZoneSpan, own_mean_time_s: Option<f64>) -> f64 {
    let listed_s = span.standard_offset_s() + span.summer_time_s();
    match own_mean_time_s {
        // Alaska and Manila kept the date of the other side before they had
        // standard time: their days count as the table has them.
        Some(own_s) if span.is_local_mean_time() => {
            own_s + ((listed_s - own_s) / 86_400.0).round() * 86_400.0
        }
        _ => listed_s,
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn zone(number: usize) -> Zone {
        let zones: Vec<Zone> = Zone::all().collect();
        zones[number % zones.len()]
    }

    #[test]
    fn no_offset_is_a_day_or_more_and_no_reading_has_three_meanings() {
        for zone in Zone::all() {
            let mut span = zone.span_at(i64::MIN / 2);
            // To 2100, so that yearly changes are seen too.
            while let Some(until) = span.until.filter(|until| *until < 4_102_444_800) {
                let next = zone.span_at(until);
                let offset_s =
                    |span: ZoneSpan| f64::from(span.kind.standard_s + span.kind.saving_s);
                assert!(offset_s(next).abs() < 86_400.0, "{zone}");
                // Each reading in the span is past the change after the next.
                if let Some(then) = next.until {
                    let third = zone.span_at(then);
                    let back_s = offset_s(span) - offset_s(third);
                    assert!((then - until) as f64 > back_s, "{zone} {until}");
                }
                span = next;
            }
        }
    }

    proptest! {
        #[test]
        fn a_clock_reading_leads_back_to_its_second(
            number: usize,
            unix_s in -20_000_000_000..20_000_000_000i64,
            own_s in proptest::option::of(-43_200.0..43_200.0),
        ) {
            let zone = zone(number);
            let span = zone.span_at(unix_s);
            prop_assert!(span.from.is_none_or(|from| from <= unix_s));
            prop_assert!(span.until.is_none_or(|until| unix_s < until));
            let offset_s = offset_in(span, own_s);
            let meant = match zone.at_local(unix_s as f64 + offset_s, own_s) {
                Local::Plain(by) => vec![by],
                Local::Doubtful(change, [earlier, later]) => {
                    prop_assert_eq!(change, Change::Fold);
                    prop_assert!(earlier.offset_s > later.offset_s);
                    vec![earlier, later]
                }
            };
            prop_assert!(meant.contains(&By { span, offset_s }), "{} {:?}", zone, meant);
        }

        #[test]
        fn around_a_change_a_reading_is_plain_doubled_or_left_out(
            number: usize,
            unix_s in -5_000_000_000..4_000_000_000i64,
            later_s in -10_000..10_000i64,
        ) {
            let zone = zone(number);
            let Some(until) = zone.span_at(unix_s).until else { return Ok(()) };
            let before = zone.span_at(until - 1);
            let after = zone.span_at(until);
            let local_s = (until + later_s) as f64 + before.offset().seconds();
            match zone.at_local(local_s, None) {
                Local::Plain(by) => {
                    let ut_s = (local_s - by.offset_s) as i64;
                    prop_assert_eq!(zone.span_at(ut_s), by.span);
                }
                Local::Doubtful(Change::Gap, [earlier, later]) => {
                    // Neither offset leads to a second at which it was in force.
                    let (earlier_s, later_s) = (local_s - earlier.offset_s, local_s - later.offset_s);
                    prop_assert!(earlier_s < later_s);
                    prop_assert_ne!(zone.span_at(earlier_s as i64), earlier.span);
                    prop_assert_ne!(zone.span_at(later_s as i64), later.span);
                    prop_assert_eq!(later.span.until, earlier.span.from);
                }
                Local::Doubtful(Change::Fold, [earlier, later]) => {
                    prop_assert_eq!(zone.span_at((local_s - earlier.offset_s) as i64), earlier.span);
                    prop_assert_eq!(zone.span_at((local_s - later.offset_s) as i64), later.span);
                }
            }
            let _ = after;
        }
    }
}
