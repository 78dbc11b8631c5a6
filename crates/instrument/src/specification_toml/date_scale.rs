//! The year and the calendar of the scale of dates.

use moment::Calendar;
use sky::{Angle, Span};
use toml::Value;

use crate::specification::{DateScaleFor, DayStrokes};
use crate::toml_fields::{Fields, Read};

impl Fields<'_> {
    pub(super) fn date_scale(&self, epoch_year: f64) -> Read<DateScaleFor> {
        let year = self
            .number("calendar_year", -600.0, 2650.0)?
            .unwrap_or(epoch_year);
        #[expect(
            clippy::cast_possible_truncation,
            reason = "the range is checked above"
        )]
        let year = year.floor() as i32;
        let calendar = self
            .choice(
                "calendar",
                &[Calendar::Gregorian, Calendar::Julian],
                Calendar::name,
            )?
            .unwrap_or(if year < 1583 {
                Calendar::Julian
            } else {
                Calendar::Gregorian
            });
        let scale = DateScaleFor {
            year,
            leap_mean: self.truth("calendar_leap_mean")?.unwrap_or(false),
            calendar,
            strokes: self
                .choice("day_strokes", &DayStrokes::ALL, DayStrokes::name)?
                .unwrap_or(DayStrokes::Begin),
            meridian: Angle::from_deg(
                self.number("calendar_meridian_deg", -180.0, 180.0)?
                    .unwrap_or(0.0),
            ),
        };
        let read = if scale.is_of_known_days() {
            Ok(Some(scale))
        } else {
            let would_do = format!("a calendar_year whose days lie in {}", Span::DATES);
            Err(self.wrong(
                "calendar_year",
                &Value::Integer(i64::from(year)),
                "has days on which the Sun's place is not known",
                &would_do,
            ))
        };
        let in_our_time = DateScaleFor {
            year: 2000,
            calendar: Calendar::Gregorian,
            ..scale
        };
        Ok(self.or_told("calendar_year", read)?.unwrap_or(in_our_time))
    }
}
