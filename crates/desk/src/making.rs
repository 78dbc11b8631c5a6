use drawing::{Making, Svg, most_plates, workpieces_while};
use instrument::{Hemisphere, Instrument, SpecificationText};
use moment::{Calendar, CivilDate, Place};
use patience::Patience;
use schemars::JsonSchema;
use serde::Serialize;
use sky::Latitude;

use crate::cabinet::Cabinet;
use crate::refusal::{Field, Refusal, quoted};
use crate::request::WithInstrument;

/// No mater is that deep.
const MOST_PLATES: usize = 100;

/// The instrument that is to be made: one of the cabinet or a specification, with other
/// plates where towns or latitudes are named.
///
/// # Errors
/// When there is no such instrument or place, or a plate is of the other hemisphere.
pub fn to_make(
    with: Option<&WithInstrument>,
    plates: &[String],
    cabinet: &Cabinet,
) -> Result<Instrument, Refusal> {
    let found = cabinet.find(with, Latitude::ZERO)?;
    if plates.is_empty() {
        return Ok(found);
    }
    if plates.len() > MOST_PLATES {
        return Err(Refusal::new(
            Field::Plate,
            format!(
                "{} plates are more than one instrument holds; {MOST_PLATES} at most would do",
                plates.len()
            ),
        ));
    }
    let mut specification = found.specification().clone();
    specification.plates = plates
        .iter()
        .map(|text| {
            let latitude = latitude_of(text)?;
            let side = Hemisphere::of(latitude);
            if side.is_some_and(|side| side != specification.hemisphere) {
                return Err(Refusal::new(
                    Field::Plate,
                    format!(
                        "{} lies in the other hemisphere than {}; a place of the {}ern one would do",
                        quoted(text),
                        specification.name,
                        specification.hemisphere.name()
                    ),
                ));
            }
            Ok(latitude)
        })
        .collect::<Result<_, Refusal>>()?;
    Ok(Instrument::new(specification))
}

/// The instrument that is to be made, as whoever opens a link to it takes it: by its name
/// where it is made as it is, else by a specification with the plates that are named.
///
/// # Errors
/// As [`to_make`].
pub fn linked_to_make(
    with: Option<&WithInstrument>,
    plates: &[String],
    cabinet: &Cabinet,
) -> Result<WithInstrument, Refusal> {
    let made = to_make(with, plates, cabinet)?;
    let named = made.specification().name.clone();
    let with = with.cloned().unwrap_or(WithInstrument::Named(named));
    if plates.is_empty() {
        return Ok(with);
    }
    let text = match &with {
        WithInstrument::Specification(text) => text,
        WithInstrument::Named(name) => cabinet.specified(name)?.text,
    };
    let wrong = |error| Refusal::new(Field::With, error);
    let mut text = SpecificationText::of(text).map_err(wrong)?;
    let latitudes = made.specification().plates.iter();
    let latitudes: Vec<String> = latitudes
        .map(|latitude| format!("{:.4}", latitude.deg()))
        .collect();
    text.set("plates_deg", &format!("[{}]", latitudes.join(", ")));
    Ok(WithInstrument::Specification(text.as_str().to_owned()))
}

/// A part as it would be made, for the page to show.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PartPicture {
    /// The name that its files bear.
    pub name: String,
    /// What it is.
    pub title: String,
    /// Its picture at true size, as SVG, without colours: a page has its own.
    pub svg: String,
    /// The breadth of the picture.
    pub width_mm: f64,
    /// What its size leaves out.
    pub thinned: Vec<LeftOut>,
    /// On a plate, what it costs that its unequal-hour lines are arcs, in a sentence
    /// without its full stop; nothing where they are not.
    pub arcs: Option<String>,
    /// Why it cannot be made, and where; nothing where it can.
    pub flaw: Option<String>,
}

/// Something that a size leaves out, or carries only in part.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct LeftOut {
    /// What it is.
    pub what: String,
    /// What is there of it.
    pub shown: String,
    /// The key of the specification that overrules it.
    pub key: &'static str,
}

/// Pictures of the parts of an instrument as they would be made.
///
/// # Errors
/// As [`to_make`], when a part is not known, and when nobody waits any longer.
pub fn part_pictures(
    with: Option<&WithInstrument>,
    plates: &[String],
    parts: &[String],
    cabinet: &Cabinet,
    patience: Patience<'_>,
) -> Result<Vec<PartPicture>, Refusal> {
    let instrument = to_make(with, plates, cabinet)?;
    let wanted = parts
        .iter()
        .map(|name| {
            let found = Making::ALL.into_iter().find(|part| part.name() == name);
            found.ok_or_else(|| {
                let names = Making::ALL.map(Making::name);
                Refusal::new(
                    Field::With,
                    format!("{} is no part; {} would do", quoted(name), names.join(", ")),
                )
            })
        })
        .collect::<Result<Vec<Making>, Refusal>>()?;
    let wanted = if wanted.is_empty() {
        Making::ALL.to_vec()
    } else {
        wanted
    };
    let least_width = instrument.specification().parts.least_width;
    let letters = instrument.specification().parts.letters;
    let specification = instrument.specification();
    if wanted.contains(&Making::Plates) {
        let (count, most) = (
            specification.plates.len(),
            most_plates(specification.diameter),
        );
        Refusal::beyond(Field::Plate, count, most, "plates of that size")?;
    }
    let pieces = workpieces_while(&instrument, &wanted, patience.part(0, 2))?;
    let count = pieces.len();
    let pictured = pieces.into_iter().enumerate().map(|(number, piece)| {
        patience.part(1, 2).at(number, count)?;
        let options = Svg {
            id_prefix: format!("{}-", piece.name),
            styled: false,
            paper: false,
            outlined: false,
        };
        let scene = piece.scene();
        Ok(PartPicture {
            svg: scene.svg(&options),
            width_mm: scene.width_mm(),
            flaw: piece
                .proven(least_width)
                .err()
                .map(|flaw| flaw.to_string())
                .or_else(|| Some(piece.unknown_letter(letters)?.to_string())),
            arcs: piece.arcs.map(|cost| cost.to_string()),
            thinned: piece
                .thinned
                .into_iter()
                .map(|one| LeftOut {
                    what: one.what,
                    shown: one.shown,
                    key: one.key,
                })
                .collect(),
            name: piece.name,
            title: piece.title,
        })
    });
    pictured.collect()
}

/// A latitude in degrees, or that of a town.
pub(crate) fn latitude_of(text: &str) -> Result<Latitude, Refusal> {
    let deg = text.trim().parse::<f64>().ok();
    if let Some(deg) = deg.or_else(|| degrees_and_minutes(text)) {
        return Latitude::from_deg(deg).map_err(|error| Refusal::new(Field::Plate, error));
    }
    Place::find(text)
        .map(|place| place.latitude)
        .map_err(|error| Refusal::new(Field::Plate, error))
}

/// `42°30′`, `42°30′ N` or `34° S`, as makers write what they engrave; nothing where a
/// text is not of that kind.
fn degrees_and_minutes(text: &str) -> Option<f64> {
    let text = text.trim();
    let number = text.trim_end_matches(['N', 'n', 'S', 's']).trim_end();
    let (degrees, rest) = number.split_once('°')?;
    let degrees = degrees.trim().parse::<u8>().ok()?;
    let minutes = match rest.trim() {
        "" => 0.0,
        minutes => minutes
            .strip_suffix(['′', '\'', '’'])?
            .trim()
            .parse::<f64>()
            .ok()?,
    };
    let deg = f64::from(degrees) + minutes / 60.0;
    let south = text.ends_with(['S', 's']);
    (0.0..60.0)
        .contains(&minutes)
        .then_some(if south { -deg } else { deg })
}

/// The date at Greenwich, `YYYY-MM-DD`, of a number of seconds since 1970.
#[must_use]
pub fn date_of(unix_s: f64) -> String {
    /// The Julian day number of 1 January 1970.
    const EPOCH: f64 = 2_440_588.0;
    #[expect(
        clippy::cast_possible_truncation,
        reason = "a day number of any clock is far below 2³¹"
    )]
    let day = (EPOCH + (unix_s / 86_400.0).floor()) as i32;
    let date = CivilDate::from_julian_day_number(Calendar::Gregorian, day);
    format!("{:04}-{:02}-{:02}", date.year(), date.month(), date.day())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_latitude_is_said_in_decimals_or_in_minutes_or_by_a_place() {
        for (text, deg) in [
            ("42.5", 42.5),
            ("42°30′", 42.5),
            (" 42° 30' N", 42.5),
            ("42°", 42.0),
            ("34°15′S", -34.25),
            ("42.5,-8.5", 42.5),
        ] {
            assert_eq!(latitude_of(text).map(Latitude::deg), Ok(deg), "{text}");
        }
        for text in ["42°60′", "91°", "-42°30′", "42°30", "300°", "42°NaN′"] {
            assert!(latitude_of(text).is_err(), "{text}");
        }
    }
}
