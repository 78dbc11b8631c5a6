use figure::{DailyCourse, Planet, Sect, ruler_of_day, ruler_of_hour};
use sky::{Angle, Instant};

use crate::casting::Casting;

/// The planet of the hour at a moment, by calculation; in words where the Sun does
/// not rise and set.
pub(crate) fn at(casting: &Casting) -> String {
    let moment = &casting.moment;
    let declination = moment.sky.sun().declination;
    let DailyCourse::RisesAndSets(arcs) = casting.horizon().daily_course(declination) else {
        return "none: the Sun does not rise and set".to_owned();
    };
    let local = moment.local_apparent_time;
    let hour = Angle::from_hours(local.time.hours()) - Angle::HALF_TURN;
    let since_sunrise = (hour - arcs.rising()).in_turn();
    let gone = if since_sunrise < arcs.day() {
        since_sunrise / arcs.unequal_hour_of_day()
    } else {
        12.0 + (hour - arcs.setting()).in_turn() / arcs.unequal_hour_of_night()
    };
    let after_midnight = gone >= 12.0 && local.time.hours() < 12.0;
    let day = local.date.julian_day_number() - i32::from(after_midnight);
    ruler(day, gone).to_owned()
}

/// The planet of an unequal hour: the first of Sunday is the Sun's, and so on down
/// the order, day and night without a break (Chaucer, *Astrolabe* II.12).
///
/// The day, by its Julian day number, is the one at whose sunrise the counting
/// began; the hours gone since are 0 to 12 by day, 12 to 24 by night.
pub(crate) fn ruler(julian_day_number: i32, hours_gone: f64) -> &'static str {
    // A Julian day number is the Julian date of that day's noon.
    let noon = Instant::from_jd_ut(f64::from(julian_day_number));
    let sect = if hours_gone < 12.0 {
        Sect::Day
    } else {
        Sect::Night
    };
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "1 to 12"
    )]
    let number = (hours_gone.clamp(0.0, 23.9) % 12.0) as u8 + 1;
    match ruler_of_hour(ruler_of_day(noon, 0.0), sect, number) {
        Planet::Sun => "the Sun",
        Planet::Moon => "the Moon",
        planet => planet.name(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Chaucer, *Astrolabe* II.12 (ed. Skeat 1894): Saturday begins ♄ ♃ ♂ ☉ ♀ ☿ ☽, its
    /// night begins with Mercury, and Sunday's first hour is the Sun's.
    #[test]
    fn saturday_as_the_treatise_has_it() {
        // Saturday 13 March 1389 (Julian calendar).
        let saturday = 2_228_476;
        let day: Vec<&str> = (0..12)
            .map(|hour| ruler(saturday, f64::from(hour)))
            .collect();
        assert_eq!(
            day,
            [
                "Saturn", "Jupiter", "Mars", "the Sun", "Venus", "Mercury", "the Moon", "Saturn",
                "Jupiter", "Mars", "the Sun", "Venus"
            ]
        );
        assert_eq!(ruler(saturday, 12.3), "Mercury");
        assert_eq!(ruler(saturday + 1, 0.9), "the Sun");
    }
}
