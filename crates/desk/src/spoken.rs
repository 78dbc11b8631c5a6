//! Moments, places and differences as a handout says them.

use moment::{Calendar, CivilDate, Clock, MONTHS, Moment, Place};
use practice::Amount;
use sky::Angle;
use words::{Degrees, Fineness, NorthOrSouth, TimeOfDay};

/// `14 May 2024`.
pub(crate) fn date_words(date: CivilDate) -> String {
    let month = usize::from(date.month().saturating_sub(1));
    let name = MONTHS.get(month).unwrap_or(&"");
    let year = date.year();
    // Astronomical years: 0 is 1 BC.
    if year > 0 {
        format!("{} {name} {year}", date.day())
    } else {
        format!("{} {name} {} BC", date.day(), 1 - year)
    }
}

/// The last year in which a place of the `moment` crate's table kept the Julian calendar.
const BOTH_CALENDARS_UNTIL: i32 = 1923;

/// The date of a moment: `14 May 2024`, and where the calendar may be asked after,
/// `14 May 1600 (Gregorian calendar)`.
pub(crate) fn dated(moment: &Moment) -> String {
    let date = moment.civil().date;
    let words = date_words(date);
    match date.calendar() {
        _ if date.year() > BOTH_CALENDARS_UNTIL => words,
        Calendar::Gregorian => format!("{words} (Gregorian calendar)"),
        Calendar::Julian => format!("{words} (Julian calendar)"),
    }
}

/// `14 May 2024, 9 h 20 m by the clock of Europe/Madrid`.
pub(crate) fn moment_words(moment: &Moment) -> String {
    let time = TimeOfDay(Angle::from_hours(moment.civil().time.hours()));
    format!("{}, {time} {}", dated(moment), clock_words(moment))
}

/// The clock by which a moment was told, in words.
pub(crate) fn clock_words(moment: &Moment) -> String {
    match (moment.clock(), moment.zone()) {
        (Clock::Mean, _) => "local mean time".to_owned(),
        (Clock::Sun, _) => "local apparent time".to_owned(),
        (Clock::Offset(offset), _) => format!("by a clock at {offset}"),
        (_, Some(zone)) => format!("by the clock of {}", zone.name().replace('_', " ")),
        (_, None) => "by the clock".to_owned(),
    }
}

/// The name with the coordinates, or the coordinates that are its name.
pub(crate) fn place_words(place: &Place) -> String {
    if place.name.contains('°') {
        return place.name.clone();
    }
    let side = if place.longitude < Angle::ZERO {
        "W"
    } else {
        "E"
    };
    format!(
        "{}, {} {} {side}",
        place.name,
        NorthOrSouth(place.latitude),
        Degrees(place.longitude)
    )
}

/// A difference with its sign.
pub(crate) fn signed(amount: Amount) -> String {
    let sign = if amount.number() < 0.0 { '−' } else { '+' };
    let last_digit = match amount {
        Amount::Angle(_) => 1.0 / 60.0,
        Amount::Time(_) => 1.0 / 240.0,
        Amount::UnequalHours(_) | Amount::Points(_) | Amount::Length(_) => 0.01,
    };
    if (amount.number() / last_digit).round() == 0.0 {
        return "0".to_owned();
    }
    // Under a degree in minutes alone.
    format!("{sign}{}", Fineness(amount))
}

#[cfg(test)]
mod tests {
    use super::*;
    use practice::Measure;

    #[test]
    fn differences_have_their_sign_and_no_more() {
        for (measure, number, said) in [
            (Measure::Degree, -58.0 / 60.0, "−58′"),
            (Measure::Height, 61.0 / 60.0, "+1°01′"),
            (Measure::Azimuth, 3.0 / 60.0, "+3′"),
            (Measure::Degree, 0.001, "0"),
            (Measure::TimeOfDay, 0.5, "+2 m"),
            (Measure::Arc, 0.0001, "0"),
            (Measure::UnequalHours, -0.0006, "0"),
            (Measure::Points, 0.25, "+0.25"),
        ] {
            assert_eq!(signed(measure.amount(number)), said);
        }
    }

    #[test]
    fn years_before_christ_are_said_so() {
        let date = |year| CivilDate::new(moment::Calendar::Julian, year, 3, 1).unwrap();
        assert_eq!(date_words(date(1391)), "1 March 1391");
        assert_eq!(date_words(date(0)), "1 March 1 BC");
        assert_eq!(date_words(date(-600)), "1 March 601 BC");
    }
}
