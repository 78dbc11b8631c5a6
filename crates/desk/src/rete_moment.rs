use instrument::{DateFrom, RetePoint, State, YearDay};
use moment::{Clock, Moment, SaidMoment, When};
use practice::Given;
use sky::Angle;
use words::TimeOfDay;

use crate::answer::MeansAnswer;
use crate::casting::Casting;

/// The moment that a position of the rete means on the date of a case: where the
/// Sun of that day stands on the limb is the time by the Sun, and the sum done
/// backwards leads from it to the clock.
pub(crate) fn moment_of_rete(case: &Casting, given: &Given, state: &State) -> Option<MeansAnswer> {
    let moment = &case.moment;
    let by_mean_sun = case.instrument.date_from().wants_mean_time();
    let now = if by_mean_sun {
        moment.local_mean_time()
    } else {
        moment.local_apparent_time()
    };
    // The Sun moves a degree in a day, so that its place is wanted for the very
    // time that is looked for: twice brings it within a tenth of a second.
    let mut later_h = 0.0;
    for _ in 0..2 {
        let date = YearDay {
            part: given.date.part + later_h / 24.0,
            ..given.date
        };
        let hour = hour_of_sun(case, given, state, date);
        let clock_h = given.clock.hours();
        later_h = (clock_h + (hour.hours() - now.time.hours())).rem_euclid(24.0) - clock_h;
    }
    let by_sun = SaidMoment {
        when: When::clock_shows(now.plus_seconds((later_h * 3600.0).round())),
        place: moment.place().clone(),
        calendar: None,
        clock: if by_mean_sun { Clock::Mean } else { Clock::Sun },
        zone: None,
        which: None,
    };
    let meant = Moment::resolve(&by_sun, None).ok()?;
    let shown = moment.at(When::utc_is(meant.utc().to_the_second())).ok()?;
    let hour = now.plus_seconds((later_h * 3600.0).round()).time.hours();
    Some(MeansAnswer {
        hour: TimeOfDay(Angle::from_hours(hour)).to_string(),
        when: shown.civil().to_string(),
        text: to_the_minute(&shown),
    })
}

/// The time of day that the rule would show, laid over the Sun.
fn hour_of_sun(case: &Casting, given: &Given, state: &State, date: YearDay) -> Angle {
    let instrument = &case.instrument;
    let sun = match instrument.date_from() {
        DateFrom::Zodiac => RetePoint::Degree(instrument.dates().at(date)),
        DateFrom::Given => RetePoint::Degree(given.sun.longitude),
        DateFrom::EqualDayRing | DateFrom::TrueSunRing => {
            RetePoint::Date(instrument.dates().at(date))
        }
    };
    let at = instrument.rete_point(sun, state.rete);
    (instrument.rule_over(at) + Angle::HALF_TURN).in_turn()
}

/// `14 May 2024, 09:20`: no position is set to the second.
fn to_the_minute(moment: &Moment) -> String {
    let date = moment.civil().plus_seconds(30.0).date;
    let time = moment.civil().plus_seconds(30.0).time.seconds();
    let day = words::Day(YearDay {
        month: date.month(),
        day: date.day(),
        part: 0.0,
    });
    let minutes = (time / 60.0).floor();
    format!(
        "{day} {}, {:02}:{:02} by {}",
        date.year(),
        (minutes / 60.0).floor(),
        minutes % 60.0,
        match (moment.clock(), moment.zone()) {
            (Clock::Zone, Some(zone)) => format!("the clock of {}", zone.name()),
            (Clock::Mean, _) => "local mean time".to_owned(),
            (Clock::Sun, _) => "the Sun".to_owned(),
            _ => "the clock".to_owned(),
        }
    )
}
