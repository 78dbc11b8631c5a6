use super::Zone;
use super::table::Kind;
use crate::{Calendar, CivilTime, UtcOffset};

/// A stretch of time between two changes of a zone's clocks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ZoneSpan {
    pub(super) from: Option<i64>,
    pub(super) until: Option<i64>,
    pub(super) kind: Kind,
}

impl ZoneSpan {
    /// When it began, in seconds of UT since 1970; None where the history begins.
    #[must_use]
    pub const fn from_unix_s(&self) -> Option<i64> {
        self.from
    }

    /// When it ended, in seconds of UT since 1970; None where there is no end.
    #[must_use]
    pub const fn until_unix_s(&self) -> Option<i64> {
        self.until
    }

    /// Standard time minus UTC, in seconds.
    #[must_use]
    pub fn standard_offset_s(&self) -> f64 {
        f64::from(self.kind.standard_s)
    }

    /// Summer time minus standard time, in seconds; 0 where none is in force,
    /// never negative.
    #[must_use]
    pub fn summer_time_s(&self) -> f64 {
        f64::from(self.kind.saving_s)
    }

    /// Clock time minus UTC.
    #[must_use]
    pub fn offset(&self) -> UtcOffset {
        // Every offset of the database is less than a day, which a test sees to.
        UtcOffset::from_seconds(self.standard_offset_s() + self.summer_time_s()).unwrap_or_default()
    }

    /// What the clocks' time was called, such as `CEST`.
    #[must_use]
    pub const fn abbreviation(&self) -> &'static str {
        self.kind.abbreviation
    }

    /// Whether the zone had no standard time yet, and its table has the local mean
    /// time of its main town.
    #[must_use]
    pub fn is_local_mean_time(&self) -> bool {
        self.kind.abbreviation == "LMT"
    }
}

impl Zone {
    /// The span that a second of UT (counted since 1970) lies in.
    ///
    /// ```
    /// use moment::Zone;
    /// let london = Zone::named("Europe/London")?;
    /// let july_1944 = london.span_at(-804_902_400);
    /// assert_eq!(july_1944.summer_time_s(), 7200.0);
    /// assert_eq!(july_1944.abbreviation(), "BDST");
    /// # Ok::<(), moment::MomentError>(())
    /// ```
    #[must_use]
    pub fn span_at(self, unix_s: i64) -> ZoneSpan {
        let record = self.record();
        let count = record.change_count();
        // The number of listed changes that have happened.
        let (mut low, mut high) = (0, count);
        while low < high {
            let middle = usize::midpoint(low, high);
            if record.change(middle).0 <= unix_s {
                low = middle + 1;
            } else {
                high = middle;
            }
        }
        let mut from = low.checked_sub(1).map(|index| record.change(index));
        let mut until = (low < count).then(|| record.change(low).0);
        if let (None, Some((from_year, yearly))) = (until, record.tail()) {
            let year = gregorian_year(unix_s);
            let years = year.saturating_sub(1).max(from_year)..=year.max(from_year) + 1;
            for year in years {
                for change in yearly {
                    let at = change.in_year(year);
                    if at <= unix_s {
                        if from.is_none_or(|(before, _)| before <= at) {
                            from = Some((at, change.kind));
                        }
                    } else if until.is_none_or(|next| at < next) {
                        until = Some(at);
                    }
                }
            }
        }
        ZoneSpan {
            from: from.map(|(at, _)| at),
            until,
            kind: record.kind(from.map_or(0, |(_, kind)| kind)),
        }
    }

    /// The span before.
    pub(super) fn before(self, span: &ZoneSpan) -> Option<ZoneSpan> {
        span.from.map(|from| self.span_at(from - 1))
    }

    /// Since when summer time has been in force as it is in this span, in seconds
    /// of UT since 1970: changes of name alone do not count.
    pub(crate) fn in_force_since(self, span: ZoneSpan) -> Option<i64> {
        let mut since = span;
        while let Some(before) = self.before(&since) {
            if (before.kind.standard_s, before.kind.saving_s)
                != (span.kind.standard_s, span.kind.saving_s)
            {
                break;
            }
            since = before;
        }
        since.from
    }
}

fn gregorian_year(unix_s: i64) -> i32 {
    // Far beyond any year that can be given the loss of a few seconds is nothing.
    let time = CivilTime::from_seconds_since_1970(Calendar::Gregorian, unix_s as f64);
    time.date.year()
}
