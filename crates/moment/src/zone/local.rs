use super::{Zone, ZoneSpan};

/// What is odd about a time of day near a change of the clocks.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub(crate) enum Change {
    /// The clocks were put forward over it: it did not exist.
    Gap,
    /// The clocks were put back over it: it came twice.
    Fold,
}

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
