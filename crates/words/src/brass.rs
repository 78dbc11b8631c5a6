//! Numbers and places as one instrument shows them: which side, which numeral, how many
//! strokes.

use std::fmt;

use instrument::{
    DayStrokes, Eye, Instrument, Language, LimbHours, LineId, Orientation, Point, Top, UnequalHour,
    YearDay,
};
use moment::{Calendar, MONTHS};
use sky::{Angle, Zodiacal};

use crate::number::{Degrees, TimeOfDay};
use crate::sentence::{Sentence, said};
use crate::strokes::{Between, of_the_way, parts};

/// An instrument as the one who holds it sees it.
#[derive(Clone, Copy)]
pub(crate) struct Brass<'a> {
    pub(crate) instrument: &'a Instrument,
}

impl Brass<'_> {
    fn orientation(&self) -> Orientation {
        self.instrument.orientation()
    }

    /// The side of the east as one looks at the front: `left` or `right`.
    pub(crate) fn east(&self) -> &'static str {
        if self.orientation().east_is_left() {
            "left"
        } else {
            "right"
        }
    }

    /// The side of the west.
    pub(crate) fn west(&self) -> &'static str {
        if self.orientation().east_is_left() {
            "right"
        } else {
            "left"
        }
    }

    /// The way of the daily motion, in which the hours run.
    pub(crate) fn onward(&self) -> &'static str {
        if self.orientation().clockwise() {
            "clockwise"
        } else {
            "anticlockwise"
        }
    }

    /// The other way, in which the signs run.
    pub(crate) fn back(&self) -> &'static str {
        if self.orientation().clockwise() {
            "anticlockwise"
        } else {
            "clockwise"
        }
    }

    /// Where noon is: `top` or `bottom`.
    pub(crate) fn noon(&self) -> &'static str {
        match self.instrument.specification().top {
            Top::Noon => "top",
            Top::Midnight => "bottom",
        }
    }

    /// Where midnight is.
    pub(crate) fn midnight(&self) -> &'static str {
        match self.instrument.specification().top {
            Top::Noon => "bottom",
            Top::Midnight => "top",
        }
    }

    /// On which side of the upright line a point of the front lies.
    pub(crate) fn side(&self, p: Point) -> &'static str {
        if self.orientation().drawn(p).x < 0.0 {
            "left"
        } else {
            "right"
        }
    }

    /// Which way the rule's long end points.
    pub(crate) fn points(&self, rule: Angle) -> &'static str {
        points(self.orientation().bearing(rule))
    }

    /// A place of the limb by its hours: `a little over one stroke past the V left of the
    /// twelve at the top (the morning's), clockwise`.
    pub(crate) fn hour(&self, hour_angle: Angle, reads_to: Angle) -> Sentence {
        let minutes = self.instrument.graduation().limb_minutes();
        let division = Angle::from_deg(f64::from(minutes) / 4.0);
        // Quarters and halves of an hour have longer strokes, where they have any and are
        // wanted for counting.
        let named = match minutes {
            1 | 5 => 15,
            2 => 30,
            _ => 60,
        };
        let from_midnight = (hour_angle + Angle::HALF_TURN).in_turn();
        let spacing = Angle::from_deg(f64::from(named) / 4.0);
        let told = Between::of(from_midnight, division, spacing, reads_to);
        let per_hour = i64::from(60 / named);
        let quarter = told.anchor.rem_euclid(per_hour) * i64::from(named / 15);
        let hour = told.anchor.div_euclid(per_hour);
        let hour = if quarter == 3 { hour + 1 } else { hour }.rem_euclid(24);
        let finer = format!("{:#}", TimeOfDay(hour_angle + Angle::HALF_TURN));
        let (onward, back) = (self.onward(), self.back());
        let strokes = told.counted();
        let place = match (quarter, told.is_on_it(), told.before) {
            (0, true, _) => "at".to_owned(),
            (0, _, false) => format!("{strokes} past"),
            (0, _, true) => format!("{strokes} short of"),
            (1, true, _) => "a quarter of an hour past".to_owned(),
            (1, _, false) => format!("a quarter of an hour and {strokes} past"),
            (1, _, true) => format!("a quarter of an hour less {strokes} past"),
            (2, true, _) => "half an hour past".to_owned(),
            (2, _, false) => format!("half an hour and {strokes} past"),
            (2, _, true) => format!("half an hour less {strokes} past"),
            (_, true, _) => "a quarter of an hour short of".to_owned(),
            (_, _, false) => format!("a quarter of an hour less {strokes} short of"),
            (_, _, true) => format!("a quarter of an hour and {strokes} short of"),
        };
        let way = match place.rsplit(' ').next() {
            Some("past") => format!(", {onward} of it"),
            Some("of") => format!(", {back} of it"),
            _ => String::new(),
        };
        let numeral = self.numeral(u8::try_from(hour).unwrap_or(0));
        said![
            Sentence::number(place, finer),
            " ",
            Sentence::line(numeral, LineId::LimbHours),
            way
        ]
    }

    /// The numeral of an hour from midnight, with which of two like ones is meant.
    fn numeral(&self, hour: u8) -> String {
        let (noon, midnight) = (self.noon(), self.midnight());
        let numbering = self.instrument.specification().limb_hours;
        let name = numeral(numbering, hour);
        let at_top = match self.instrument.specification().top {
            Top::Noon => 12,
            Top::Midnight => 0,
        };
        if !self.instrument.graduation().limb_numerals() {
            // Without numerals the long strokes of the hours are counted from the top.
            let onward = (u32::from(hour) + 24 - at_top) % 24;
            return match onward {
                0 => "the stroke at the top".to_owned(),
                12 => "the stroke at the bottom".to_owned(),
                n if n < 12 => format!(
                    "the {} long stroke {} of the one at the top",
                    ordinal(n),
                    self.onward()
                ),
                n => format!(
                    "the {} long stroke {} of the one at the top",
                    ordinal(24 - n),
                    self.back()
                ),
            };
        }
        let top = match (numbering, at_top) {
            (LimbHours::TwiceTwelve, _) => "twelve",
            (LimbHours::TwentyFour, 12) => "12",
            (LimbHours::TwentyFour, _) => "24",
        };
        match hour {
            0 => format!("the {name} at the {midnight} (midnight's)"),
            12 => format!("the {name} at the {noon} (noon's)"),
            1..12 => format!(
                "the {name} {} of the {top} at the top (the morning's)",
                self.east()
            ),
            13..18 => format!(
                "the {name} {} of the {top} at the top (the afternoon's)",
                self.west()
            ),
            _ => format!(
                "the {name} {} of the {top} at the top (the evening's)",
                self.west()
            ),
        }
    }

    /// The hours, from midnight, whose numerals stand on either side of a place of the
    /// limb: the lettered text and its hour angle.
    pub(crate) fn numerals_beside(&self, hour_angle: Angle) -> Vec<(String, Angle)> {
        if !self.instrument.graduation().limb_numerals() {
            return Vec::new();
        }
        let numbering = self.instrument.specification().limb_hours;
        let below = (hour_angle + Angle::HALF_TURN).in_turn().hours().floor();
        [below, below + 1.0]
            .into_iter()
            .map(|hour| {
                #[expect(
                    clippy::cast_possible_truncation,
                    clippy::cast_sign_loss,
                    reason = "0 to 24"
                )]
                let name = numeral(numbering, hour.rem_euclid(24.0) as u8);
                (name, Angle::from_hours(hour) - Angle::HALF_TURN)
            })
            .collect()
    }

    /// A place of the limb by its degrees, which run once round from noon: `at about 285
    /// of the limb's degrees, on the left`; by its hours, where degrees bear no numbers.
    pub(crate) fn limb(&self, hour_angle: Angle, reads_to: Angle) -> Sentence {
        if !self.instrument.graduation().limb_numbers() {
            return self.hour(hour_angle, reads_to);
        }
        let turned = hour_angle.in_turn();
        let text = about(turned, reads_to, Angle::FULL_TURN, "");
        let p = Point::polar(1.0, hour_angle);
        let degrees = Sentence::line("the limb's degrees", LineId::LimbDegrees);
        said![
            "at ",
            Sentence::number(text, from_noon(hour_angle)),
            " of ",
            degrees,
            format!(", on the {}", self.side(p))
        ]
    }

    /// An arc of the limb: `about 37°`.
    pub(crate) fn arc(&self, arc: Angle) -> Sentence {
        let degrees = arc.abs().deg().round();
        let text = if degrees < 0.5 {
            "less than a degree".to_owned()
        } else {
            format!("about {degrees}°")
        };
        Sentence::number(text, Degrees(arc).to_string())
    }

    /// A degree of the zodiac on the ecliptic ring: `about 29 Leo, one stroke short of
    /// the sign's end`.
    pub(crate) fn on_ecliptic(&self, longitude: Angle, reads_to: Angle) -> Sentence {
        let division = self.instrument.specification().ecliptic_division;
        degree(longitude, division, reads_to)
    }

    /// The same on the zodiac scale of the back.
    pub(crate) fn on_zodiac_scale(&self, longitude: Angle, reads_to: Angle) -> Sentence {
        degree(longitude, self.instrument.graduation().zodiac(), reads_to)
    }

    /// How finely a degree is set on the ecliptic ring where it is crossed squarely.
    pub(crate) fn ecliptic_sets_to(&self, eye: Eye) -> Angle {
        if eye.is_perfect() {
            return Angle::ZERO;
        }
        let ring = self.instrument.projection().equator_mm().to_radians();
        let division = self.instrument.specification().ecliptic_division;
        let part = division * eye.part_of_division;
        Angle::from_deg((eye.least.mm() / ring).max(part.deg()))
    }

    /// An altitude on the scale of the back: `about 32°, two strokes past the 30`.
    pub(crate) fn on_altitude_scale(&self, altitude: Angle, reads_to: Angle) -> Sentence {
        let division = self.instrument.graduation().altitudes();
        let told = Between::of(altitude, division, Angle::from_deg(10.0), reads_to);
        let named = told.anchor * 10;
        let strokes = told.counted();
        let offset = match (named, told.is_on_it(), told.before) {
            (0, true, _) => "on the level line".to_owned(),
            (0, ..) => format!("{strokes} above the level line"),
            (_, true, _) => format!("on the stroke of {named}"),
            (_, _, false) => format!("{strokes} above the {named}"),
            (_, _, true) => format!("{strokes} below the {named}"),
        };
        let about = about(altitude, reads_to, Angle::FULL_TURN, "°");
        Sentence::number(format!("{about}, {offset}"), Degrees(altitude).to_string())
    }

    /// An unequal hour among its lines.
    pub(crate) fn among_hour_lines(&self, hour: f64, reads_to: f64) -> Sentence {
        let line = |degrees: f64| {
            let number = (degrees / 15.0).round();
            match number {
                n if n < 0.5 => Sentence::line("the western horizon", LineId::Horizon),
                n if n > 11.5 => Sentence::line("the eastern horizon", LineId::Horizon),
                n if (n - 6.0).abs() < 0.5 => {
                    Sentence::line("the midnight line, the sixth", LineId::MidnightLine)
                }
                #[expect(
                    clippy::cast_possible_truncation,
                    clippy::cast_sign_loss,
                    reason = "1 to 11"
                )]
                n => match UnequalHour::new(n as u8) {
                    Some(hour) => Sentence::line(format!("line {n}"), LineId::UnequalHour(hour)),
                    None => format!("line {n}").into(),
                },
            }
        };
        // Between two lines there is a twelfth of day or night, whatever it measures.
        let hours = Angle::from_hours;
        let gone = hours(hour.rem_euclid(12.0));
        self.between(gone, hours(1.0), hours(reads_to), line, "to")
    }

    /// An altitude among the almucantars: `about 32°, two fifths of the way from the
    /// almucantar 30° up to the almucantar 35°`.
    pub(crate) fn among_almucantars(&self, altitude: Angle, reads_to: Angle) -> Sentence {
        let step = f64::from(self.instrument.almucantar_step());
        let beyond = altitude > Angle::QUARTER_TURN;
        let counted = if beyond {
            Angle::HALF_TURN - altitude
        } else {
            altitude
        };
        let line = |deg: f64| {
            if deg.abs() < 0.5 {
                Sentence::line("the horizon", LineId::Horizon)
            } else if deg >= 90.0 {
                "the zenith".into()
            } else {
                let minutes = instrument::Minutes::nearest(deg);
                Sentence::line(
                    format!("the almucantar {minutes}"),
                    LineId::Almucantar(minutes),
                )
            }
        };
        let division = Angle::from_deg(step);
        let place = self.between(counted, division, reads_to, line, "up to");
        let beyond = if beyond { ", beyond the zenith" } else { "" };
        let told = about(altitude, reads_to, Angle::FULL_TURN, "");
        let finer = Degrees(altitude).to_string();
        let sign = if altitude < Angle::ZERO { "−" } else { "" };
        said![
            Sentence::number(
                format!("{sign}{told}°").replace("′°", "′"),
                format!("{sign}{finer}")
            ),
            ", ",
            place,
            beyond
        ]
    }

    /// Where a value lies between two lines of a net.
    pub(crate) fn between(
        &self,
        value: Angle,
        division: Angle,
        reads_to: Angle,
        line: impl Fn(f64) -> Sentence,
        onto: &str,
    ) -> Sentence {
        let of = parts(division, reads_to);
        let counted = (value / division * f64::from(of)).round();
        let below = (counted / f64::from(of)).floor();
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "less than of"
        )]
        let rest = (counted - below * f64::from(of)) as u32;
        let (from, to) = (below * division.deg(), (below + 1.0) * division.deg());
        if rest == 0 {
            return said!["on ", line(from)];
        }
        said![
            format!("{} from ", of_the_way(rest, of)),
            line(from),
            format!(" {onto} "),
            line(to)
        ]
    }

    /// A date on the calendar scale of the back, or on the date ring, by the strokes that
    /// it has.
    pub(crate) fn date(&self, date: YearDay, on: &LineId, reads_to: Angle) -> Sentence {
        let graduation = self.instrument.graduation();
        let every = if *on == LineId::DateRing {
            graduation.ring_days()
        } else {
            graduation.calendar_days()
        };
        let dates = self.instrument.dates();
        let made_for = &self.instrument.specification().date_scale;
        let leap_day = date.month == 2 && date.day == 29 && !dates.is_leap();
        let (month, day, part) = if leap_day {
            (3, 1, 0.0)
        } else {
            (date.month, date.day, date.part)
        };
        let of_year = |month: u8, day: f64| f64::from(dates.month_begins(month)) + day - 1.0;
        let here = of_year(month, f64::from(day)) + part;
        let strokes = self.day_strokes(every);
        let year = f64::from(if dates.is_leap() { 366_u16 } else { 365 });
        let before = strokes
            .iter()
            .filter(|(at, _)| *at <= here + 1e-9)
            .max_by(|a, b| a.0.total_cmp(&b.0))
            .copied()
            .or_else(|| {
                let last = strokes.iter().max_by(|a, b| a.0.total_cmp(&b.0))?;
                Some((last.0 - year, last.1))
            });
        let after = strokes
            .iter()
            .filter(|(at, _)| *at > here + 1e-9)
            .min_by(|a, b| a.0.total_cmp(&b.0))
            .copied()
            .or_else(|| {
                let first = strokes.iter().min_by(|a, b| a.0.total_cmp(&b.0))?;
                Some((first.0 + year, first.1))
            });
        let (Some((from, from_name)), Some((to, to_name))) = (before, after) else {
            return String::new().into();
        };
        // A day is a degree of the year, near enough for how finely it is told.
        let of = parts(Angle::from_deg(to - from), reads_to);
        let counted = ((here - from) / (to - from) * f64::from(of)).round();
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "0 to of"
        )]
        let counted = counted as u32;
        let text = match counted {
            0 => format!("the {from_name}"),
            n if n == of => format!("the {to_name}"),
            n => format!(
                "{} from the {from_name} to the {to_name}",
                of_the_way(n, of)
            ),
        };
        let calendar = match made_for.calendar {
            Calendar::Julian => " (Julian calendar)",
            Calendar::Gregorian => "",
        };
        let month = MONTHS
            .get(usize::from(date.month.saturating_sub(1)))
            .unwrap_or(&"");
        let hours = (date.part * 24.0).round();
        said![
            Sentence::number(
                text,
                format!("{} {month}, {hours} h from midnight", date.day)
            ),
            calendar
        ]
    }

    /// The strokes of a scale of dates in days from the New Year, with what each stands for.
    fn day_strokes(&self, every: u8) -> Vec<(f64, DayStroke)> {
        let dates = self.instrument.dates();
        let kind = self.instrument.specification().date_scale.strokes;
        let mut strokes: Vec<(f64, DayStroke)> = Vec::new();
        for (month, name) in (1_u8..).zip(MONTHS) {
            let begins = f64::from(dates.month_begins(month));
            let last = match month {
                2 => 28 + u8::from(dates.is_leap()),
                4 | 6 | 9 | 11 => 30,
                _ => 31,
            };
            for day in (1..=last).filter(|day| day % every == 0) {
                let at = begins + f64::from(day - 1) + kind.part_of_day();
                strokes.push((at, DayStroke::Day(kind, day, name)));
            }
        }
        for (month, name) in (1_u8..).zip(MONTHS) {
            let begins = f64::from(dates.month_begins(month));
            if strokes.iter().all(|(at, _)| (at - begins).abs() > 1e-9) {
                strokes.push((begins, DayStroke::Month(name)));
            }
        }
        strokes
    }

    /// An azimuth among the azimuth lines.
    pub(crate) fn among_azimuths(&self, azimuth: Angle, reads_to: Angle) -> Sentence {
        let step = self.instrument.azimuth_step();
        let step = step.map_or(90.0, instrument::Minutes::deg);
        let line = |deg: f64| {
            let minutes = instrument::Minutes::nearest(deg.rem_euclid(360.0));
            match minutes.deg() {
                deg if deg < 0.5 => "north".into(),
                deg if (deg - 90.0).abs() < 0.5 => {
                    Sentence::line("the prime vertical's eastern half", LineId::PrimeVertical)
                }
                deg if (deg - 180.0).abs() < 0.5 => "south".into(),
                deg if (deg - 270.0).abs() < 0.5 => {
                    Sentence::line("the prime vertical's western half", LineId::PrimeVertical)
                }
                _ => Sentence::line(
                    format!("the azimuth line {minutes}"),
                    LineId::Azimuth(minutes),
                ),
            }
        };
        let turned = azimuth.in_turn();
        let told = about(turned, reads_to, Angle::FULL_TURN, "");
        said![
            Sentence::number(
                format!("{told}°").replace("′°", "′"),
                format!("{} from north by east", Degrees(turned))
            ),
            ", ",
            self.between(turned, Angle::from_deg(step), reads_to, line, "to")
        ]
    }
}

/// Which way something points, by its bearing from the top.
pub(crate) fn points(bearing: Angle) -> &'static str {
    const WAYS: [&str; 8] = [
        "straight up",
        "up to the right",
        "to the right",
        "down to the right",
        "straight down",
        "down to the left",
        "to the left",
        "up to the left",
    ];
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "0 to 8"
    )]
    let eighth = (bearing.in_turn().deg() / 45.0).round() as usize % 8;
    WAYS.get(eighth).copied().unwrap_or("")
}

/// The name of an hour from midnight as it is lettered.
fn numeral(numbering: LimbHours, hour: u8) -> String {
    const TWELVE: [&str; 12] = [
        "XII", "I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X", "XI",
    ];
    match numbering {
        LimbHours::TwiceTwelve => TWELVE
            .get(usize::from(hour % 12))
            .copied()
            .unwrap_or("")
            .to_owned(),
        LimbHours::TwentyFour => match hour % 24 {
            0 => "24".to_owned(),
            hour => hour.to_string(),
        },
    }
}

/// What a stroke of a scale of dates stands for.
#[derive(Clone, Copy)]
enum DayStroke {
    Day(DayStrokes, u8, &'static str),
    Month(&'static str),
}

impl fmt::Display for DayStroke {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            DayStroke::Day(kind, day, month) => {
                let said = match kind {
                    DayStrokes::Begin => "stroke that begins",
                    DayStrokes::Noon => "stroke for noon of",
                    DayStrokes::End => "stroke that ends",
                };
                write!(f, "{said} {day} {month}")
            }
            DayStroke::Month(name) => write!(f, "line where {name} begins"),
        }
    }
}

fn ordinal(n: u32) -> &'static str {
    const WORDS: [&str; 12] = [
        "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth",
        "tenth", "eleventh", "twelfth",
    ];
    usize::try_from(n)
        .ok()
        .and_then(|n| WORDS.get(n.saturating_sub(1)))
        .copied()
        .unwrap_or("")
}

/// Degrees no finer than they are read: `about 29`, `about 28¼`, `28°50′`; with a unit after
/// them where they are coarse.
fn about(value: Angle, reads_to: Angle, turn: Angle, unit: &str) -> String {
    const NICE: [f64; 6] = [60.0, 30.0, 15.0, 10.0, 5.0, 1.0];
    let to = reads_to.deg() * 60.0 * 1.1;
    let step = NICE.into_iter().find(|step| *step <= to).unwrap_or(1.0);
    let minutes = (value.abs().deg() * 60.0 / step).round() * step;
    let minutes = minutes % (turn.deg() * 60.0);
    let (deg, rest) = ((minutes / 60.0).floor(), minutes % 60.0);
    if step >= 15.0 {
        let part = match rest {
            15.0 => "¼",
            30.0 => "½",
            45.0 => "¾",
            _ => "",
        };
        format!("about {deg}{part}{unit}")
    } else {
        format!("{deg}°{rest:02}′")
    }
}

/// A degree of the zodiac as a scale of a division shows it.
fn degree(longitude: Angle, division: Angle, reads_to: Angle) -> Sentence {
    let named = match division.deg() {
        d if d < 1.5 => 5.0,
        d if d < 2.5 => 10.0,
        d if d < 4.0 => 30.0,
        _ => 10.0,
    };
    let place = longitude.in_turn();
    let told = Between::of(place, division, Angle::from_deg(named), reads_to);
    let per_sign = (30.0 / named).round();
    #[expect(clippy::cast_possible_truncation, reason = "3 or 6 or 1 to a sign")]
    let per_sign = per_sign as i64;
    let sign_of = |n: i64| {
        let index = usize::try_from(n.rem_euclid(12)).unwrap_or(0);
        Language::English
            .signs()
            .get(index)
            .copied()
            .unwrap_or_default()
    };
    let (sign, of_sign) = (
        told.anchor.div_euclid(per_sign),
        told.anchor.rem_euclid(per_sign),
    );
    let strokes = told.counted();
    #[expect(clippy::cast_precision_loss, reason = "0 to 25")]
    let numbered = of_sign as f64 * named;
    let offset = match (of_sign, told.is_on_it(), told.before) {
        (0, true, _) => "at the sign's beginning".to_owned(),
        (0, _, false) => format!("{strokes} past the sign's beginning"),
        (0, _, true) => format!("{strokes} short of the sign's end"),
        (_, true, _) => format!("on the stroke of its {numbered}"),
        (_, _, false) => format!("{strokes} past its {numbered}"),
        (_, _, true) => format!("{strokes} short of its {numbered}"),
    };
    // The sign is the one that the strokes speak of: at its very end not the next.
    let in_sign = if of_sign == 0 && told.before {
        sign - 1
    } else {
        sign
    };
    #[expect(clippy::cast_precision_loss, reason = "0 to 12")]
    let within = Angle::from_deg(in_sign as f64 * 30.0).to(place);
    let within = if within < Angle::ZERO {
        Angle::ZERO
    } else {
        within
    };
    let text = format!(
        "{} {}, {offset}",
        about(within, reads_to, Angle::FULL_TURN, ""),
        sign_of(in_sign)
    );
    Sentence::number(text, Zodiacal(longitude).to_string())
}

/// A place of the limb counted from noon, as the hours of a figure are.
pub(crate) fn from_noon(hour_angle: Angle) -> String {
    let hour_angle = hour_angle.signed();
    let side = if hour_angle < Angle::ZERO {
        "before"
    } else {
        "after"
    };
    format!("{} {side} noon", Degrees(hour_angle))
}
