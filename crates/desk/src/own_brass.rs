//! A form about an instrument of one's own, as whoever has it in hand fills it in, made
//! into a specification; and back.

use instrument::{
    DateFrom, Hemisphere, HouseLines, LimbHours, Specification, SpecificationText, Top, toml_text,
};
use moment::{Calendar, CivilDate, MONTHS};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use sky::{Instant, Plain, Sky};

use crate::answer::InstrumentAnswer;
use crate::cabinet::described;
use crate::refusal::{Field, Refusal, quoted};
use crate::work_texts::degrees;

/// What is asked when a form is to be made into a specification, or the other way round.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct BrassRequest {
    /// The specification to begin from: what the form does not ask stays as it is there.
    pub text: Option<String>,
    /// The form as it is filled in; without it, the one that the text would fill in.
    pub form: Option<BrassForm>,
}

/// The form, in texts as they are typed and chosen. What is empty is not known.
#[derive(Clone, Debug, Default, PartialEq, Eq, Deserialize, Serialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct BrassForm {
    /// What it is called.
    pub name: String,
    /// A sentence about it.
    pub description: String,
    /// Across the mater, without the throne: `60`, `60 mm`, `6 cm` or `2.4 in`.
    pub diameter: String,
    /// `north` or `south`.
    pub hemisphere: String,
    /// `noon-up` or `midnight-up`.
    pub orientation: String,
    /// `twice-twelve` or `twenty-four`.
    pub limb_hours: String,
    /// Where its dates stand: `back`, `ring` (on the rete) or `none`.
    pub dates: String,
    /// How the days of a ring are divided: `equal` or `sun`.
    pub days: String,
    /// The latitudes lettered on its plates: `45, 48`.
    pub plates: String,
    /// The unequal-hour lines: `arcs` or `curves`.
    pub hour_lines: String,
    /// The house lines: `none`, `regiomontanus` or `campanus`.
    pub house_lines: String,
    /// The year it was made, or made for.
    pub year: String,
    /// The date that stands at the beginning of Aries: `20 March`.
    pub aries: String,
    /// The obliquity of its ecliptic, in degrees.
    pub obliquity: String,
}

/// Something said of one field of the form.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct BrassNote {
    /// The field, by its name in the form; empty where the whole is meant.
    pub field: String,
    /// A sentence.
    pub text: String,
}

/// A form and its specification.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct BrassAnswer {
    /// The form.
    pub form: BrassForm,
    /// The specification. Where something is missing something usual stands in its place,
    /// so that it can be drawn; it is not to be kept then.
    pub text: String,
    /// What is missing or cannot be used; nothing where the specification may be kept.
    pub faults: Vec<BrassNote>,
    /// What was taken for what is not known, and why.
    pub taken: Vec<BrassNote>,
    /// The instrument; none where it cannot be built even so.
    pub instrument: Option<InstrumentAnswer>,
}

/// Makes a form into a specification; or a specification into the form it would fill in.
///
/// # Errors
/// When the text that it begins from is no specification.
pub fn own_brass(request: &BrassRequest) -> Result<BrassAnswer, Refusal> {
    let refused = |error| Refusal::new(Field::With, error);
    let before = request.text.as_deref();
    let begun = SpecificationText::of(before.unwrap_or("version = 1\n")).map_err(refused)?;
    let Some(form) = &request.form else {
        let form = match before {
            Some(text) => read(&begun, &Specification::from_toml(text).map_err(refused)?),
            None => blank(),
        };
        return own_brass(&BrassRequest {
            text: request.text.clone(),
            form: Some(form),
        });
    };
    let mut writing = Writing {
        text: begun,
        faults: Vec::new(),
        taken: Vec::new(),
    };
    writing.write(form);
    let Writing {
        text,
        mut faults,
        taken,
    } = writing;
    let built = Specification::from_toml(text.as_str());
    if let Err(error) = &built {
        faults.push(note("", &error.to_string()));
    }
    Ok(BrassAnswer {
        form: form.clone(),
        text: text.as_str().to_owned(),
        faults,
        taken,
        instrument: built
            .ok()
            .map(|specification| described(&instrument::Instrument::new(specification))),
    })
}

/// A specification under another name.
///
/// # Errors
/// When the text is no specification, or would be none under that name.
pub fn renamed(text: &str, name: &str) -> Result<String, Refusal> {
    let refused = |error| Refusal::new(Field::With, error);
    let mut text = SpecificationText::of(text).map_err(refused)?;
    text.set("name", &toml_text(name.trim()));
    Specification::from_toml(text.as_str()).map_err(refused)?;
    Ok(text.as_str().to_owned())
}

/// The form before anything is filled in: what is most often so.
fn blank() -> BrassForm {
    BrassForm {
        hemisphere: Hemisphere::North.name().to_owned(),
        orientation: Top::Noon.name().to_owned(),
        limb_hours: LimbHours::TwiceTwelve.name().to_owned(),
        dates: "back".to_owned(),
        house_lines: "none".to_owned(),
        ..BrassForm::default()
    }
}

/// The form that a specification fills in.
fn read(text: &SpecificationText, is: &Specification) -> BrassForm {
    let plain = |number: f64| Plain(number).to_string();
    let (dates, days) = match is.date_from {
        DateFrom::Zodiac => ("back", ""),
        DateFrom::EqualDayRing => ("ring", "equal"),
        DateFrom::TrueSunRing => ("ring", "sun"),
        DateFrom::Given => ("none", ""),
    };
    let plates: Vec<String> = is.plates.iter().map(|one| plain(one.deg())).collect();
    let stated = |key: &str, said: String| if text.has(key) { said } else { String::new() };
    BrassForm {
        name: is.name.clone(),
        description: is.description.clone(),
        diameter: plain(is.diameter.mm()),
        hemisphere: is.hemisphere.name().to_owned(),
        orientation: is.top.name().to_owned(),
        limb_hours: is.limb_hours.name().to_owned(),
        dates: dates.to_owned(),
        days: days.to_owned(),
        plates: plates.join(", "),
        hour_lines: stated("unequal_hour_lines", is.hour_lines.name().to_owned()),
        house_lines: is.house_lines.map_or("none", HouseLines::name).to_owned(),
        year: stated("epoch_year", plain(is.epoch_year)),
        aries: stated(
            "calendar",
            aries_words(is.epoch_year, is.date_scale.calendar),
        ),
        obliquity: stated("obliquity_deg", plain(is.obliquity.deg())),
    }
}

/// A form that is being written into a text.
struct Writing {
    text: SpecificationText,
    faults: Vec<BrassNote>,
    taken: Vec<BrassNote>,
}

fn note(field: &str, text: &str) -> BrassNote {
    BrassNote {
        field: field.to_owned(),
        text: text.to_owned(),
    }
}

impl Writing {
    fn fault(&mut self, field: &str, text: &str) {
        self.faults.push(note(field, text));
    }

    fn take(&mut self, field: &str, text: &str) {
        self.taken.push(note(field, text));
    }

    fn write(&mut self, form: &BrassForm) {
        self.text.set("version", "1");
        self.name(form);
        self.diameter(&form.diameter);
        let hemisphere = self.one_of("hemisphere", &form.hemisphere, "hemisphere");
        self.one_of("orientation", &form.orientation, "orientation");
        self.epoch(form);
        self.plates(&form.plates, hemisphere == Some("south"));
        self.dates(form);
        self.one_of("limb_hours", &form.limb_hours, "limb_hours");
        if self
            .one_of("hour_lines", &form.hour_lines, "unequal_hour_lines")
            .is_none()
        {
            self.take(
                "hour_lines",
                "Taken for circular arcs, which most plates have.",
            );
        }
        self.one_of("house_lines", &form.house_lines, "house_lines");
    }

    fn name(&mut self, form: &BrassForm) {
        let name = form.name.trim();
        match name.chars().count() {
            0 => {
                self.fault(
                    "name",
                    "What is it called? A name such as my key ring would do.",
                );
                self.text.set("name", "\"an instrument of my own\"");
            }
            1..=80 => self.text.set("name", &toml_text(name)),
            more => {
                self.fault(
                    "name",
                    &format!("A name of {more} characters; one of 80 at most would do."),
                );
                self.text.set("name", "\"an instrument of my own\"");
            }
        }
        match form.description.trim() {
            "" => self.text.remove("description"),
            text => self.text.set("description", &toml_text(text)),
        }
    }

    fn diameter(&mut self, typed: &str) {
        /// What stands in where nothing is said: it is drawn so, and never kept.
        const STAND_IN: &str = "100";
        let fault = match millimetres(typed) {
            Some(mm) if (30.0..=1000.0).contains(&mm) => {
                self.text.set("diameter_mm", &Plain(mm).to_string());
                return;
            }
            Some(mm) => format!("{} mm across; 30 to 1000 would do.", Plain(mm)),
            None if typed.trim().is_empty() => {
                "How broad is it, without the throne? 60 mm would do.".to_owned()
            }
            None => format!("{} is no length; 60 mm would do.", quoted(typed)),
        };
        self.fault("diameter", &fault);
        self.text.set("diameter_mm", STAND_IN);
    }

    /// Writes one of the names that a key may have; a key is left out where the name is
    /// empty. The name is what the reading of the specification knows: a wrong one is told
    /// by that.
    fn one_of<'a>(&mut self, field: &str, name: &'a str, key: &str) -> Option<&'a str> {
        let accepted: &[&str] = match key {
            "hemisphere" => &["north", "south"],
            "orientation" => &["noon-up", "midnight-up"],
            "limb_hours" => &["twice-twelve", "twenty-four"],
            "unequal_hour_lines" => &["arcs", "curves"],
            _ => &["none", "regiomontanus", "campanus"],
        };
        if name.is_empty() {
            self.text.remove(key);
            return None;
        }
        if !accepted.contains(&name) {
            self.fault(
                field,
                &format!(
                    "{} is not known; {} would do.",
                    quoted(name),
                    accepted.join(" or ")
                ),
            );
            return None;
        }
        self.text.set(key, &toml_text(name));
        Some(name)
    }

    fn plates(&mut self, typed: &str, south: bool) {
        let stand_in = if south { "[-35]" } else { "[45]" };
        let said = lettered(typed);
        let mut latitudes: Vec<f64> = Vec::new();
        for one in &said {
            let bare = one.trim_end_matches(['N', 'n', 'S', 's']).trim_end();
            let is_south = one.ends_with(['S', 's']);
            let is_north = one.ends_with(['N', 'n']);
            let fault = match degrees(bare) {
                None => format!("{} is no latitude; 45, 48 would do.", quoted(one)),
                Some(deg) if deg.abs() > 90.0 => {
                    format!("{} is no latitude; 0 to 90 would do.", quoted(one))
                }
                // On a southern piece they are lettered without a sign.
                Some(deg) if south && !is_north => {
                    latitudes.push(-deg.abs());
                    continue;
                }
                Some(deg) if !south && !is_south && deg >= 0.0 => {
                    latitudes.push(deg);
                    continue;
                }
                Some(_) => format!(
                    "{} lies in the other hemisphere than the instrument; change one of them.",
                    quoted(one)
                ),
            };
            self.fault("plates", &fault);
        }
        if said.is_empty() {
            self.fault(
                "plates",
                "Which latitudes are lettered on its plates? 45, 48 would do; the workshop’s “Examine an instrument” finds it for a plate without a letter.",
            );
        } else if latitudes.len() > 60 {
            self.fault(
                "plates",
                "A cabinet has room for 60 plates of an instrument.",
            );
            latitudes.truncate(60);
        }
        if latitudes.is_empty() {
            self.text.set("plates_deg", stand_in);
            return;
        }
        let numbers: Vec<String> = latitudes
            .iter()
            .map(|one| Plain(*one).to_string())
            .collect();
        self.text
            .set("plates_deg", &format!("[{}]", numbers.join(", ")));
    }

    fn dates(&mut self, form: &BrassForm) {
        let from = match (form.dates.as_str(), form.days.as_str()) {
            ("back", _) => DateFrom::Zodiac,
            ("none", _) => DateFrom::Given,
            ("ring", "equal") => DateFrom::EqualDayRing,
            ("ring", "sun") => DateFrom::TrueSunRing,
            ("ring", _) => {
                self.take(
                    "days",
                    "Taken for equal days. It is worth finding out: the other kind parts from it by up to 4° of the limb, a quarter of an hour.",
                );
                DateFrom::EqualDayRing
            }
            (other, _) => {
                self.fault(
                    "dates",
                    &format!(
                        "{} is not known; back, ring or none would do.",
                        quoted(other)
                    ),
                );
                return;
            }
        };
        self.text.set("date_from", &toml_text(from.name()));
    }

    /// For which year it is, and by which calendar: as is said, or as its calendar looks.
    fn epoch(&mut self, form: &BrassForm) {
        let year = self.number("year", &form.year, -600.0..=2650.0, "2024");
        let aries = self.aries(&form.aries);
        let (year, calendar) = match (year, aries) {
            (Some(year), None) => (year, None),
            (Some(year), Some(date)) => (year, Some(self.calendar_of(year, date))),
            (None, Some(date)) => self.year_of(date),
            (None, None) => {
                self.take(
                    "year",
                    "Taken for 2000, which a piece of our time may be: stars move by 1° in 72 years, and the calendar by a day in 3000.",
                );
                (2000.0, None)
            }
        };
        self.text.set("epoch_year", &Plain(year).to_string());
        match calendar {
            None => self.text.remove("calendar"),
            Some(Calendar::Julian) => self.text.set("calendar", "\"julian\""),
            Some(Calendar::Gregorian) => self.text.set("calendar", "\"gregorian\""),
        }
        match self.number("obliquity", &form.obliquity, 22.0..=25.0, "23.44") {
            Some(deg) => self.text.set("obliquity_deg", &Plain(deg).to_string()),
            None => {
                self.text.remove("obliquity_deg");
                if let Some(deg) = obliquity(year) {
                    self.take(
                        "obliquity",
                        &format!("Taken for {deg:.2}°, that of the year {}.", Plain(year)),
                    );
                }
            }
        }
    }

    /// A number within a range, if one is typed.
    fn number(
        &mut self,
        field: &str,
        typed: &str,
        range: std::ops::RangeInclusive<f64>,
        such_as: &str,
    ) -> Option<f64> {
        if typed.trim().is_empty() {
            return None;
        }
        let number = degrees(typed.trim().trim_end_matches('°'));
        match number.filter(|number| range.contains(number)) {
            Some(number) => Some(number),
            None => {
                self.fault(
                    field,
                    &format!(
                        "{} cannot be used; a number from {} to {}, such as {such_as}, would do.",
                        quoted(typed),
                        Plain(*range.start()),
                        Plain(*range.end())
                    ),
                );
                None
            }
        }
    }

    /// The date at which Aries begins, as month and day.
    fn aries(&mut self, typed: &str) -> Option<(u8, u8)> {
        if typed.trim().is_empty() {
            return None;
        }
        let date = date_without_year(typed).filter(|date| ((2, 25)..=(3, 31)).contains(date));
        if date.is_none() {
            self.fault(
                "aries",
                &format!(
                    "{} cannot be it; a date from 25 February to 31 March, such as 20 March or 11 March, would do.",
                    quoted(typed)
                ),
            );
        }
        date
    }

    /// By which calendar the Sun enters Aries on a date of a year.
    fn calendar_of(&mut self, year: f64, date: (u8, u8)) -> Calendar {
        let apart =
            |calendar| equinox(year, calendar).map_or(f64::MAX, |day| (day - day_of(date)).abs());
        let (julian, gregorian) = (apart(Calendar::Julian), apart(Calendar::Gregorian));
        let calendar = if julian < gregorian {
            Calendar::Julian
        } else {
            Calendar::Gregorian
        };
        if julian.min(gregorian) > 2.0 {
            self.take(
                "aries",
                &format!(
                    "In {} the Sun entered Aries on {} by this, the {calendar} calendar: the brass says otherwise, and was laid out by an older table, or for another year.",
                    Plain(year),
                    aries_words(year, calendar)
                ),
            );
        } else {
            self.take("aries", &format!("A {calendar} calendar."));
        }
        calendar
    }

    /// For which year a calendar is that has the Sun enter Aries on a date.
    fn year_of(&mut self, date: (u8, u8)) -> (f64, Option<Calendar>) {
        /// The Gregorian calendar has it on 19 to 21 March for ever.
        const GREGORIAN_FROM: (u8, u8) = (3, 18);
        if date >= GREGORIAN_FROM {
            self.take(
                "year",
                "Taken for 2000: Aries begins so in the Gregorian calendar, which does not tell the century.",
            );
            return (2000.0, Some(Calendar::Gregorian));
        }
        // The Julian equinox falls a day earlier in 128 years, as good as evenly.
        let mut year: f64 = 1000.0;
        for _ in 0..3 {
            let later = equinox(year, Calendar::Julian).map_or(0.0, |day| day - day_of(date));
            year = (year + 128.0 * later).clamp(-300.0, 2500.0);
        }
        // A date is as good as half a day.
        let year = (year / 10.0).round() * 10.0;
        self.take(
            "year",
            &format!(
                "Taken for about {year}: by the Julian calendar the Sun entered Aries on that date then, give or take sixty years."
            ),
        );
        (year, Some(Calendar::Julian))
    }
}

/// The latitudes of a list, each with its side if that is said: commas need not part them.
pub(crate) fn lettered(typed: &str) -> Vec<String> {
    let mut said: Vec<String> = Vec::new();
    for part in typed.split([',', ';', '\n']) {
        for (index, word) in part.split_whitespace().enumerate() {
            let is_side = ["N", "n", "S", "s"].contains(&word);
            let is_minutes = word
                .trim_end_matches(['N', 'n', 'S', 's'])
                .ends_with(['′', '\'', '’'])
                && !word.contains('°');
            match said.last_mut() {
                // `45° 30′ N` is one.
                Some(last) if index > 0 && (is_side || is_minutes) => {
                    last.push(' ');
                    last.push_str(word);
                }
                _ => said.push(word.to_owned()),
            }
        }
    }
    said
}

/// A length in millimetres.
pub(crate) fn millimetres(typed: &str) -> Option<f64> {
    let text = typed.trim().to_lowercase().replace(',', ".");
    let (number, unit) = [
        ("mm", 1.0),
        ("cm", 10.0),
        ("inches", 25.4),
        ("inch", 25.4),
        ("in", 25.4),
        ("\"", 25.4),
        ("″", 25.4),
    ]
    .into_iter()
    .find_map(|(unit, mm)| Some((text.strip_suffix(unit)?, mm)))
    .unwrap_or((&text, 1.0));
    let number: f64 = number.trim().parse().ok()?;
    let mm = (number * unit * 100.0).round() / 100.0;
    mm.is_finite().then_some(mm)
}

/// `11 March`, `March 11`, `11.3.`, `3-11` is none.
fn date_without_year(typed: &str) -> Option<(u8, u8)> {
    let words: Vec<String> = typed
        .split(|c: char| c.is_whitespace() || c == '.' || c == ',')
        .filter(|word| !word.is_empty())
        .map(str::to_lowercase)
        .collect();
    let [a, b] = words.as_slice() else {
        return None;
    };
    let month = |word: &str| {
        let named = MONTHS
            .iter()
            .position(|name| word.chars().count() >= 3 && name.to_lowercase().starts_with(word));
        named.and_then(|at| u8::try_from(at + 1).ok())
    };
    let day = |word: &str| {
        let digits = word.trim_end_matches(|c: char| c.is_ascii_alphabetic());
        digits
            .parse::<u8>()
            .ok()
            .filter(|day| (1..=31).contains(day))
    };
    let numbered = || {
        b.parse::<u8>()
            .ok()
            .filter(|month| (1..=12).contains(month))
    };
    match (month(a), month(b)) {
        (Some(month), None) => Some((month, day(b)?)),
        (None, Some(month)) => Some((month, day(a)?)),
        (None, None) => Some((numbered()?, day(a)?)),
        (Some(_), Some(_)) => None,
    }
}

/// Days from the last of February, of a date in February or March.
fn day_of((month, day): (u8, u8)) -> f64 {
    f64::from(day) - if month == 2 { 28.0 } else { 0.0 }
}

/// When the Sun enters Aries, in days from the last of February (1 is the noon of 1 March),
/// in the mean of four years from a year; nothing beyond the ephemeris.
fn equinox(year: f64, calendar: Calendar) -> Option<f64> {
    #[expect(
        clippy::cast_possible_truncation,
        reason = "years are within −600 and 2650"
    )]
    let first = (year.floor() as i32).min(2646);
    let mut sum = 0.0;
    for year in first..first + 4 {
        let date = CivilDate::new(calendar, year, 3, 1).ok()?;
        let noon = f64::from(date.julian_day_number());
        // The Sun goes a degree a day within a hundredth: two steps settle.
        let mut days = 15.0;
        for _ in 0..4 {
            let sky = Sky::at(Instant::from_jd_ut(noon + days)).ok()?;
            days -= sky.sun().longitude.signed().deg() * 365.2422 / 360.0;
        }
        sum += days + 1.0;
    }
    Some(sum / 4.0)
}

/// The date on which the Sun enters Aries.
fn aries_words(year: f64, calendar: Calendar) -> String {
    let Some(days) = equinox(year, calendar) else {
        return String::new();
    };
    #[expect(clippy::cast_possible_truncation, reason = "a day of a month or two")]
    let day = days.round() as i32;
    match day {
        ..=0 => format!("{} February", 28 + day),
        32.. => format!("{} April", day - 31),
        _ => format!("{day} March"),
    }
}

fn obliquity(year: f64) -> Option<f64> {
    let instant = Instant::from_jd_tt(2_451_545.0 + (year - 2000.0) * 365.25);
    Some(Sky::at(instant).ok()?.mean_obliquity().deg())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_read_with_their_units() {
        for (typed, mm) in [
            ("60", 60.0),
            (" 60 mm", 60.0),
            ("6cm", 60.0),
            ("6,5 cm", 65.0),
            ("2.4 in", 60.96),
            ("2.5\"", 63.5),
        ] {
            assert_eq!(millimetres(typed), Some(mm), "{typed}");
        }
        for typed in ["", "broad", "6 0", "inf", "nan mm", "6 feet"] {
            assert_eq!(millimetres(typed), None, "{typed}");
        }
    }

    #[test]
    fn dates_are_read_in_words_and_in_numbers_day_first() {
        for (typed, date) in [
            ("11 March", (3, 11)),
            ("March 11", (3, 11)),
            ("11th Mar.", (3, 11)),
            ("11.3.", (3, 11)),
        ] {
            assert_eq!(date_without_year(typed), Some(date), "{typed}");
        }
        for typed in [
            "",
            "March",
            "3-11",
            "March April",
            "11 March 1400",
            "32 March",
        ] {
            assert_eq!(date_without_year(typed), None, "{typed}");
        }
    }

    /// In AD 325 the equinox was taken for 21 March, and in 1582, when the calendar was
    /// mended, it fell on 11 March (Inter gravissimas, 1582, and Clavius's explanation);
    /// since then it keeps to 20 or 21 March.
    #[test]
    fn the_sun_enters_aries_when_the_reformers_of_the_calendar_say() {
        // Days are counted from noon to noon: the 11th begins at 10.5.
        let mended = equinox(1580.0, Calendar::Julian).unwrap();
        assert!((mended - 11.0).abs() < 0.75, "{mended}");
        assert_eq!(aries_words(1584.0, Calendar::Gregorian), "20 March");
        assert_eq!(aries_words(2000.0, Calendar::Gregorian), "20 March");
        let nicaea = equinox(325.0, Calendar::Julian).unwrap();
        assert!((nicaea - 21.0).abs() < 1.25, "{nicaea}");
    }
}
