use std::ops::RangeInclusive;

/// The years of the examples: by the Gregorian calendar, within the ephemeris.
pub const COURSE_YEARS: RangeInclusive<i32> = 1583..=2650;
