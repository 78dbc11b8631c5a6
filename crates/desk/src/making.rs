use instrument::{Hemisphere, Instrument};
use moment::{Calendar, CivilDate, Place};
use sky::Latitude;

use crate::cabinet::Cabinet;
use crate::refusal::{Field, Refusal, quoted};
use crate::request::WithInstrument;

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

/// A latitude in degrees, or that of a town.
pub(crate) fn latitude_of(text: &str) -> Result<Latitude, Refusal> {
    if let Ok(deg) = text.trim().parse::<f64>() {
        return Latitude::from_deg(deg).map_err(|error| Refusal::new(Field::Plate, error));
    }
    Place::find(text)
        .map(|place| place.latitude)
        .map_err(|error| Refusal::new(Field::Plate, error))
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
