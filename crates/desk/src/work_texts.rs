//! What is said with an operation, as texts, and what it means.

use practice::{Sight, Told, Value};
use sky::{Body, Zodiacal};

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

pub(crate) fn seen_example(sight: Sight) -> &'static str {
    match sight {
        Sight::Shadow => "shadow=4",
        Sight::OtherShadow => "other-shadow=8",
        Sight::MorningShadow => "morning-shadow=300",
        Sight::EveningShadow => "evening-shadow=62",
        Sight::NoonAltitude => "noon-altitude=38°10′",
        Sight::OtherAltitude => "other-altitude=30",
        Sight::UpperAltitude => "upper-altitude=56",
        Sight::LowerAltitude => "lower-altitude=48",
        Sight::WandererAltitude => "wanderer-altitude=30, or a body by name",
        Sight::Altitude => "altitude=25°30′",
    }
}

pub(crate) fn told_example(told: Told) -> &'static str {
    match told {
        Told::Degree => "degree=\"11 Pisces\"",
        Told::OtherDegree => "other-degree=\"0 Taurus\"",
        Told::Latitude => "latitude=-3, or a body by name",
        Told::UnequalHours => "unequal-hours=3",
        Told::Distance => "distance=20",
        Told::EyeHeight => "eye-height=5",
    }
}

pub(crate) fn seen_value(sight: Sight, text: &str) -> Result<Value, Refusal> {
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
        Sight::MorningShadow | Sight::EveningShadow => (0.0..=360.0).contains(&value),
        Sight::Shadow | Sight::OtherShadow => value > 0.0 && value <= 144.0,
        Sight::NoonAltitude => (0.0..=180.0).contains(&value),
        Sight::UpperAltitude => (0.0..=180.0).contains(&value),
        Sight::Altitude | Sight::OtherAltitude | Sight::LowerAltitude | Sight::WandererAltitude => {
            (0.0..=90.0).contains(&value)
        }
    };
    if fits {
        Ok(sight.measure().value(value))
    } else {
        Err(wrong())
    }
}

pub(crate) fn told_value(told: Told, text: &str) -> Result<Value, Refusal> {
    let wrong = || {
        Refusal::new(
            Field::Tell,
            format!(
                "{} is no {}; {} would do",
                quoted(text),
                told.name(),
                told_example(told)
            ),
        )
        .of(told.name())
    };
    let number = match told {
        Told::Degree | Told::OtherDegree => {
            let degree: Zodiacal = text.trim().parse().map_err(|_| wrong())?;
            Some(degree.0.deg())
        }
        Told::Latitude => degrees(text).filter(|value| value.abs() <= 90.0),
        Told::UnequalHours => degrees(text).filter(|value| (0.0..=24.0).contains(value)),
        Told::Distance => degrees(text).filter(|value| *value > 0.0 && *value <= 1e6),
        Told::EyeHeight => degrees(text).filter(|value| (0.0..=1e3).contains(value)),
    };
    let number = number.ok_or_else(wrong)?;
    Ok(told.measure().value(number))
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
