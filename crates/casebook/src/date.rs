use std::time::{SystemTime, UNIX_EPOCH};

/// Seconds of UTC since the beginning of 1970.
pub(crate) fn now_unix_s() -> i64 {
    let since = SystemTime::now().duration_since(UNIX_EPOCH);
    since.map_or(0, |since| i64::try_from(since.as_secs()).unwrap_or(0))
}

/// The date of that, `YYYY-MM-DD`, in the Gregorian calendar: J. Meeus, Astronomical
/// Algorithms (2nd ed. 1998), chapter 7, with years that begin in March.
pub(crate) fn date(unix_s: i64) -> String {
    let days = unix_s.div_euclid(86_400) + 719_468;
    let era = days.div_euclid(146_097);
    let of_era = days.rem_euclid(146_097);
    let year = (of_era - of_era / 1460 + of_era / 36_524 - of_era / 146_096) / 365;
    let of_year = of_era - (365 * year + year / 4 - year / 100);
    let month = (5 * of_year + 2) / 153;
    let day = of_year - (153 * month + 2) / 5 + 1;
    let (month, next) = if month < 10 {
        (month + 3, 0)
    } else {
        (month - 9, 1)
    };
    format!("{:04}-{month:02}-{day:02}", year + era * 400 + next)
}

#[cfg(test)]
mod tests {
    use super::date;

    #[test]
    fn days_have_their_dates() {
        assert_eq!(date(0), "1970-01-01");
        assert_eq!(date(951_782_400), "2000-02-29");
        assert_eq!(date(951_868_799), "2000-02-29");
        assert_eq!(date(1_735_689_599), "2024-12-31");
    }
}
