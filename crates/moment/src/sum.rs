use sky::{Angle, Sky};

use crate::step::{Signed, Unsigned};
use crate::zone::By;
use crate::{CivilTime, Place, StepKind, TimeKind, TimeOfDay, TimeStep, UtcOffset, Zone};

/// What the lines of the sum are made of.
pub(crate) struct Sum<'a> {
    pub(crate) place: &'a Place,
    pub(crate) civil: CivilTime,
    pub(crate) utc: CivilTime,
    pub(crate) local_mean_time: CivilTime,
    pub(crate) local_apparent_time: CivilTime,
    pub(crate) equation_of_time_s: f64,
}

impl Sum<'_> {
    pub(crate) fn zone_clock(&self, zone: Zone, by: By) -> Vec<TimeStep> {
        let summer_s = by.span.summer_time_s();
        let standard_s = by.offset_s - summer_s;
        let name = by.span.abbreviation();
        let summer = if summer_s > 0.0 {
            let since = zone.in_force_since(by.span).map_or(String::new(), |since| {
                // The database reaches back a few centuries, within exact numbers.
                let calendar = self.civil.date.calendar();
                let since = CivilTime::from_seconds_since_1970(calendar, since as f64);
                format!(", in force since {since:#} UTC")
            });
            format!("summer time ({name}, {}){since}", Signed(summer_s))
        } else {
            format!("no summer time in force ({name})")
        };
        let offset = UtcOffset::from_seconds(standard_s).unwrap_or_default();
        let standard = if !by.span.is_local_mean_time() {
            format!("the standard time of {zone} is UTC{offset}")
        } else if (by.offset_s - by.span.offset().seconds()).abs() > 0.0 {
            format!("{zone} had no standard time yet: local mean time of the place itself")
        } else {
            let town = zone.town();
            format!("{zone} had no standard time yet: local mean time of {town}, UTC{offset}")
        };
        vec![
            TimeStep::new(
                StepKind::SummerTime,
                (TimeKind::Clock, TimeKind::Standard),
                0.0 - summer_s,
                self.civil.plus_seconds(-summer_s),
                summer,
            ),
            TimeStep::new(
                StepKind::Zone,
                (TimeKind::Standard, TimeKind::Universal),
                0.0 - standard_s,
                self.utc,
                standard,
            ),
            self.longitude(),
            self.equation_of_time(),
        ]
    }

    pub(crate) fn offset_clock(&self, offset: UtcOffset) -> Vec<TimeStep> {
        let zone = TimeStep::new(
            StepKind::Zone,
            (TimeKind::Clock, TimeKind::Universal),
            0.0 - offset.seconds(),
            self.utc,
            format!("the clock keeps UTC{offset}"),
        );
        vec![zone, self.longitude(), self.equation_of_time()]
    }

    fn longitude_reason(&self) -> String {
        let deg = self.place.longitude.deg();
        let side = if deg < 0.0 { "west" } else { "east" };
        format!(
            "4 minutes for each degree of longitude, {:.4}° {side}",
            deg.abs()
        )
    }

    fn longitude(&self) -> TimeStep {
        TimeStep::new(
            StepKind::Longitude,
            (TimeKind::Universal, TimeKind::LocalMean),
            self.place.mean_time_ahead_of_ut_s(),
            self.local_mean_time,
            self.longitude_reason(),
        )
    }

    pub(crate) fn longitude_to_ut(&self) -> TimeStep {
        TimeStep::new(
            StepKind::Longitude,
            (TimeKind::LocalMean, TimeKind::Universal),
            0.0 - self.place.mean_time_ahead_of_ut_s(),
            self.utc,
            format!(
                "from local mean to Universal Time: {}",
                self.longitude_reason()
            ),
        )
    }

    fn equation_reason(&self) -> String {
        let ahead = if self.equation_of_time_s < 0.0 {
            "behind"
        } else {
            "ahead of"
        };
        let size = Unsigned(self.equation_of_time_s);
        format!("equation of time: the Sun is {size} {ahead} the mean Sun")
    }

    pub(crate) fn equation_of_time(&self) -> TimeStep {
        TimeStep::new(
            StepKind::EquationOfTime,
            (TimeKind::LocalMean, TimeKind::LocalApparent),
            self.equation_of_time_s,
            self.local_apparent_time,
            self.equation_reason(),
        )
    }

    pub(crate) fn equation_of_time_off(&self) -> TimeStep {
        TimeStep::new(
            StepKind::EquationOfTime,
            (TimeKind::LocalApparent, TimeKind::LocalMean),
            0.0 - self.equation_of_time_s,
            self.local_mean_time,
            self.equation_reason(),
        )
    }

    pub(crate) fn sidereal_time(&self, sky: &Sky, sidereal_time: Angle) -> TimeStep {
        let right_ascension = sky.sun().right_ascension.in_turn();
        let amount = (right_ascension - Angle::HALF_TURN).in_turn();
        let (_, result) = TimeOfDay::after_midnight(sidereal_time.hours() * 3600.0);
        TimeStep {
            what: StepKind::SiderealTime,
            from: TimeKind::LocalApparent,
            to: TimeKind::Sidereal,
            amount_s: amount.hours() * 3600.0,
            result,
            date: None,
            reason: format!(
                "right ascension of the Sun, {}, less 12 h",
                Unsigned(right_ascension.hours() * 3600.0)
            ),
        }
    }
}
