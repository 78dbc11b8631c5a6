//! What is said with an operation, as texts, and what it means.

use moment::Place;
use practice::{Sighting, Stated, Value};
use sky::{Body, Plain, Zodiacal};

use crate::refusal::{Field, Refusal, quoted};

/// A word as it is compared: without space about it, in small letters.
pub(crate) fn plain(word: &str) -> String {
    word.trim().to_lowercase()
}

pub(crate) fn named_body(name: &str) -> Result<Body, Refusal> {
    let found = Body::ALL
        .into_iter()
        .find(|body| body.name().eq_ignore_ascii_case(name.trim()));
    found.ok_or_else(|| unknown(Field::Body, name, &Body::ALL.map(Body::name)))
}

pub(crate) fn unknown(field: Field, value: &str, accepted: &[&str]) -> Refusal {
    Refusal {
        value: None,
        field,
        message: format!(
            "{} is not known here; {} would do",
            quoted(value),
            accepted.join(", ")
        ),
        choices: accepted.iter().map(|&one| one.to_owned()).collect(),
    }
}

pub(crate) fn seen_example(sight: Sighting) -> &'static str {
    match sight {
        Sighting::Shadow => "shadow=4",
        Sighting::OtherShadow => "other-shadow=8",
        Sighting::MorningShadow => "morning-shadow=300",
        Sighting::EveningShadow => "evening-shadow=62",
        Sighting::NoonAltitude => "noon-altitude=38°10′",
        Sighting::OtherAltitude => "other-altitude=30",
        Sighting::UpperAltitude => "upper-altitude=56",
        Sighting::LowerAltitude => "lower-altitude=48",
        Sighting::WandererAltitude => "wanderer-altitude=30, or a body by name",
        Sighting::Altitude => "altitude=25°30′",
    }
}

pub(crate) fn stated_example(stated: Stated) -> &'static str {
    match stated {
        Stated::Degree => "degree=\"11 Pisces\"",
        Stated::OtherDegree => "other-degree=\"0 Taurus\"",
        Stated::Latitude => "latitude=-3, or a body by name",
        Stated::UnequalHours => "unequal-hours=3",
        Stated::Distance => "distance=20",
        Stated::EyeHeight => "eye-height=5",
    }
}

pub(crate) fn seen_value(sight: Sighting, text: &str) -> Result<Value, Refusal> {
    let wrong = || {
        Refusal::new(
            Field::Read,
            format!(
                "{} is no {}; {} would do",
                quoted(text),
                sight.name(),
                seen_example(sight)
            ),
        )
        .of(sight.name())
    };
    let value = degrees(text).ok_or_else(wrong)?;
    let fits = match sight {
        Sighting::MorningShadow | Sighting::EveningShadow => (0.0..=360.0).contains(&value),
        Sighting::Shadow | Sighting::OtherShadow => value > 0.0 && value <= 144.0,
        Sighting::NoonAltitude => (0.0..=180.0).contains(&value),
        Sighting::UpperAltitude => (0.0..=180.0).contains(&value),
        Sighting::Altitude
        | Sighting::OtherAltitude
        | Sighting::LowerAltitude
        | Sighting::WandererAltitude => (0.0..=90.0).contains(&value),
    };
    if fits {
        Ok(sight.measure().value(value))
    } else {
        Err(wrong())
    }
}

pub(crate) fn stated_value(stated: Stated, text: &str) -> Result<Value, Refusal> {
    let wrong = || {
        Refusal::new(
            Field::Tell,
            format!(
                "{} is no {}; {} would do",
                quoted(text),
                stated.name(),
                stated_example(stated)
            ),
        )
        .of(stated.name())
    };
    let number = match stated {
        Stated::Degree | Stated::OtherDegree => {
            let degree: Zodiacal = text.trim().parse().map_err(|_| wrong())?;
            Some(degree.0.deg())
        }
        Stated::Latitude => degrees(text).filter(|value| value.abs() <= 90.0),
        Stated::UnequalHours => degrees(text).filter(|value| (0.0..=24.0).contains(value)),
        Stated::Distance => degrees(text).filter(|value| *value > 0.0 && *value <= 1e6),
        Stated::EyeHeight => degrees(text).filter(|value| (0.0..=1e3).contains(value)),
    };
    let number = number.ok_or_else(wrong)?;
    Ok(stated.measure().value(number))
}

/// A number of degrees, with minutes and a sign if wanted: `25.5`, `25°30′`, `-3`.
pub(crate) fn degrees(text: &str) -> Option<f64> {
    let text = text.trim();
    let (sign, rest) = match text.strip_prefix(['-', '−']) {
        Some(rest) => (-1.0, rest),
        None => (1.0, text),
    };
    let parts: Vec<f64> = rest
        .split(['°', '′', '\'', '’', ' '])
        .filter(|part| !part.is_empty())
        .map(str::parse)
        .collect::<Result<_, _>>()
        .ok()?;
    let value = match *parts.as_slice() {
        [deg] => deg,
        [deg, min] if deg.fract() == 0.0 && (0.0..60.0).contains(&min) => deg + min / 60.0,
        _ => return None,
    };
    (value.is_finite() && value >= 0.0).then_some(sign * value)
}

/// What a specification has to say for a place to have a curve.
pub(crate) fn listing(place: &Place) -> String {
    let [latitude, longitude] = [place.latitude.angle(), place.longitude.signed()]
        .map(|angle| Plain((angle.deg() * 1e4).round() / 1e4));
    format!("parts.gazetteer = [[\"here\", {latitude}, {longitude}]]")
}
