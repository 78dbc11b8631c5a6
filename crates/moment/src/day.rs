use sky::{Instant, Sky, SkyError};

use crate::time_of_day::SECONDS_PER_DAY;
use crate::zone::offset_in;
use crate::{CivilTime, Clock, Moment, TimeOfDay};

/// Seconds of UT since the beginning of 1970, at Julian date 2440587.5.
fn unix_s(instant: Instant) -> f64 {
    let (day, fraction) = instant.ut_parts();
    (day - 2_440_587.5 + fraction) * SECONDS_PER_DAY
}

fn plus_ut_seconds(instant: Instant, seconds: f64) -> Instant {
    let (day, fraction) = instant.ut_parts();
    Instant::from_ut(day, fraction + seconds / SECONDS_PER_DAY)
}

impl Moment {
    /// What the moment's clock shows at another instant, in the calendar of its date:
    /// by the zone's rules of that instant, where the clock goes by a zone.
    ///
    /// # Errors
    /// By the Sun's clock alone, when the sky does not reach the instant.
    pub fn clock_at(&self, instant: Instant) -> Result<CivilTime, SkyError> {
        let mean_s = self.place().mean_time_ahead_of_ut_s();
        let offset_s = match (self.clock(), self.zone()) {
            (Clock::Offset(offset), _) => offset.seconds(),
            (Clock::Zone, Some(zone)) => {
                let span = zone.span_at(unix_s(instant).floor() as i64);
                let own = (self.place().zone == Some(zone)).then_some(mean_s);
                offset_in(span, own)
            }
            (Clock::Sun, _) => mean_s + Sky::at(instant)?.equation_of_time_s(),
            _ => mean_s,
        };
        let [(day, fraction), (here_day, here_fraction)] =
            [instant, self.instant()].map(Instant::ut_parts);
        let since_s = (day - here_day + (fraction - here_fraction)) * SECONDS_PER_DAY;
        let seconds = self.utc().time.seconds() + since_s + offset_s;
        let midnight = CivilTime {
            time: TimeOfDay::MIDNIGHT,
            ..self.utc()
        };
        // Without the last digits, for a midnight not to fall into the day before.
        Ok(midnight.plus_seconds((seconds * 1e6).round() / 1e6))
    }

    /// The day of the moment by its own clock: its midnight, and the one that ends it.
    /// Where the clock leaves midnight out, the instant at which it does so, to an hour.
    ///
    /// # Errors
    /// By the Sun's clock alone, when the sky does not reach so far.
    pub fn day(&self) -> Result<[Instant; 2], SkyError> {
        let midnight = CivilTime {
            time: TimeOfDay::MIDNIGHT,
            ..self.civil()
        };
        let begin = self.shown(midnight, self.instant())?;
        let next = midnight.plus_seconds(SECONDS_PER_DAY);
        Ok([begin, self.shown(next, begin)?])
    }

    /// When the clock shows a time that is within a day or two of an instant.
    fn shown(&self, wanted: CivilTime, near: Instant) -> Result<Instant, SkyError> {
        // The second round mends a change of the clocks on the way, the third the
        // equation of time.
        (0..3).try_fold(near, |instant, _| {
            let off_s = wanted.seconds_since_1970() - self.clock_at(instant)?.seconds_since_1970();
            Ok(plus_ut_seconds(instant, off_s))
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Place, SaidMoment};

    fn day_of(when: &str, clock: &str) -> (f64, String, String) {
        let said = SaidMoment {
            clock: clock.parse().expect("a clock"),
            ..SaidMoment::new(
                when,
                Place::find("Santiago de Compostela, Spain").expect("a town"),
            )
            .expect("a time")
        };
        let moment = Moment::resolve(&said, None).expect("a moment");
        let [begin, end] = moment.day().expect("in span");
        let hours = (unix_s(end) - unix_s(begin)) / 3600.0;
        let at = |instant| format!("{:#}", moment.clock_at(instant).expect("in span"));
        (hours, at(begin), at(end))
    }

    /// In 2024 summer time began on 31 March and ended on 27 October.
    #[test]
    fn days_of_the_clock_are_shorter_and_longer_when_it_is_changed() {
        for (when, hours) in [
            ("2024-03-30 12:00", 24.0),
            ("2024-03-31 12:00", 23.0),
            ("2024-10-27 01:00", 25.0),
        ] {
            let (found, begin, end) = day_of(when, "zone");
            assert!((found - hours).abs() < 1e-6, "{when}: {found} hours");
            assert!(
                begin.ends_with(" 00:00") && end.ends_with(" 00:00"),
                "{begin}, {end}"
            );
        }
    }

    #[test]
    fn days_by_other_clocks() {
        for clock in ["mean", "sun", "+05:30"] {
            let (hours, begin, _) = day_of("2024-12-22 23:59:30", clock);
            // Around the solstice the Sun's day is half a minute longer.
            assert!((hours - 24.0).abs() < 31.0 / 3600.0, "{clock}: {hours}");
            assert_eq!(begin, "2024-12-22 00:00", "{clock}");
        }
    }
}
