use sky::{Angle, Latitude, Plain};

use crate::MomentError;

/// A place on the Earth by its angles alone.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Coordinates {
    pub(crate) latitude: Latitude,
    /// East positive, −180° to 180°.
    pub(crate) longitude: Angle,
}

impl Coordinates {
    pub(crate) fn new(latitude_deg: f64, longitude_deg: f64) -> Result<Coordinates, String> {
        let outside =
            |name, deg: f64, most| format!("{name} {}° is outside −{most}° to {most}°", Plain(deg));
        let latitude =
            Latitude::from_deg(latitude_deg).map_err(|_| outside("latitude", latitude_deg, 90))?;
        if !(-180.0..=180.0).contains(&longitude_deg) {
            return Err(outside("longitude", longitude_deg, 180));
        }
        Ok(Coordinates {
            latitude,
            longitude: Angle::from_deg(longitude_deg),
        })
    }

    /// From `42.8806,-8.5449` or `42°53′N 8°33′W`; None if the text is not of
    /// that kind, but a name.
    pub(crate) fn parse(text: &str) -> Option<Result<Coordinates, MomentError>> {
        let of_the_kind = text.chars().any(|c| c.is_ascii_digit())
            && text.chars().all(|c| {
                c.is_ascii_digit()
                    || c.is_whitespace()
                    || "+-−.,;:°º˚d'′’‘\"″”“nsewNSEW".contains(c)
            });
        let decimal_words = || {
            // Numbers that are none: said to be so rather than looked up as towns.
            let mut parts = text
                .split(',')
                .map(|part| part.trim().parse::<f64>().is_ok());
            parts.next() == Some(true) && parts.next() == Some(true) && parts.next().is_none()
        };
        if !of_the_kind && !decimal_words() {
            return None;
        }
        let parsed = match decimal(text) {
            Some((latitude_deg, longitude_deg)) => Coordinates::new(latitude_deg, longitude_deg),
            None => sexagesimal(text),
        };
        Some(parsed.map_err(|why| MomentError::coordinates(text, why)))
    }
}

/// `42.8806,-8.5449`.
fn decimal(text: &str) -> Option<(f64, f64)> {
    let (latitude, longitude) = text
        .split_once([',', ';'])
        .or_else(|| text.trim().split_once(char::is_whitespace))?;
    let number = |text: &str| text.trim().replace('−', "-").parse::<f64>().ok();
    Some((number(latitude)?, number(longitude)?))
}

/// `42°53′N 8°33′W`: degrees, minutes and seconds, each with its sign or
/// without, the letters behind or before.
fn sexagesimal(text: &str) -> Result<Coordinates, String> {
    // Taken for what parts two numbers, `42,5°N` would be 42°05′.
    let bytes = text.as_bytes();
    let within_a_number =
        |three: &[u8]| matches!(three, [a, b',', c] if a.is_ascii_digit() && c.is_ascii_digit());
    if bytes.windows(3).any(within_a_number) {
        return Err("a comma stands within a number, where decimals have a point".to_owned());
    }
    let mut numbers: Vec<Vec<f64>> = vec![Vec::new()];
    let mut letters: Vec<char> = Vec::new();
    let mut rest = text.trim_start();
    while let Some(first) = rest.chars().next() {
        let mut length = first.len_utf8();
        if first.is_ascii_digit() || first == '.' {
            length = rest
                .find(|c: char| !c.is_ascii_digit() && c != '.')
                .unwrap_or(rest.len());
            let number = rest.get(..length).unwrap_or_default();
            let parsed = number.parse();
            let parsed = parsed.map_err(|_| "a number has one point at most".to_owned())?;
            if let Some(last) = numbers.last_mut() {
                last.push(parsed);
            }
        } else if "NSEW".contains(first.to_ascii_uppercase()) {
            letters.push(first.to_ascii_uppercase());
            numbers.push(Vec::new());
        } else if "+-−".contains(first) {
            return Err("with N, S, E and W there are no signs".to_owned());
        }
        rest = rest.get(length..).unwrap_or_default();
    }
    // A letter ends a group of numbers; where letters stand before, the first
    // group is empty, where they stand behind, the last.
    let (one, other) = match numbers.as_slice() {
        [none, one, other] | [one, other, none] if none.is_empty() => {
            (degrees(one)?, degrees(other)?)
        }
        _ => {
            return Err(
                "one latitude and one longitude are wanted, each with its letter".to_owned(),
            );
        }
    };
    let signed = |angle: f64, letter: char| if "SW".contains(letter) { -angle } else { angle };
    match letters.as_slice() {
        [north @ ('N' | 'S'), east @ ('E' | 'W')] => {
            Coordinates::new(signed(one, *north), signed(other, *east))
        }
        [east @ ('E' | 'W'), north @ ('N' | 'S')] => {
            Coordinates::new(signed(other, *north), signed(one, *east))
        }
        _ => Err("one latitude (N or S) and one longitude (E or W) are wanted".to_owned()),
    }
}

/// Degrees, minutes and seconds added up.
fn degrees(parts: &[f64]) -> Result<f64, String> {
    let (degrees, minutes, seconds) = match parts {
        [degrees] => (*degrees, 0.0, 0.0),
        [degrees, minutes] => (*degrees, *minutes, 0.0),
        [degrees, minutes, seconds] => (*degrees, *minutes, *seconds),
        _ => return Err("an angle has degrees, minutes and seconds, no more".to_owned()),
    };
    if minutes >= 60.0 || seconds >= 60.0 {
        return Err("minutes and seconds go to 59".to_owned());
    }
    Ok(degrees + minutes / 60.0 + seconds / 3600.0)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[track_caller]
    fn reads(text: &str, latitude_deg: f64, longitude_deg: f64) {
        let read = Coordinates::parse(text).unwrap().unwrap();
        assert!(
            (read.latitude.deg() - latitude_deg).abs() < 1e-9,
            "{read:?}"
        );
        assert!(
            (read.longitude.deg() - longitude_deg).abs() < 1e-9,
            "{read:?}"
        );
    }

    #[test]
    fn coordinates_are_read_in_all_the_ways_they_are_written() {
        reads("42.8806,-8.5449", 42.8806, -8.5449);
        reads(" 42.8806 , −8.5449 ", 42.8806, -8.5449);
        reads("-33.9 18.4", -33.9, 18.4);
        let (latitude_deg, longitude_deg) = (42.0 + 53.0 / 60.0, -(8.0 + 33.0 / 60.0));
        for text in [
            "42°53′N 8°33′W",
            "42°53'N, 8°33'W",
            "42°53’n 8°33’w",
            "42° 53′ 0″ N  8° 33′ 0\" W",
            "42 53 N 8 33 W",
            "8°33′W 42°53′N",
            "N42°53′ W8°33′",
            "n 42 53, w 8 33",
            "42.883333333333333N 8.55W",
        ] {
            reads(text, latitude_deg, longitude_deg);
        }
        reads(
            "33°55′30″S 18°25′E",
            -(33.0 + 55.5 / 60.0),
            18.0 + 25.0 / 60.0,
        );
        reads("0,0", 0.0, 0.0);
        reads("90,180", 90.0, 180.0);
    }

    #[test]
    fn what_is_wrong_is_said() {
        #[track_caller]
        fn says(text: &str, words: &str) {
            let message = Coordinates::parse(text).unwrap().unwrap_err().to_string();
            assert!(message.contains(words), "{message}");
        }
        says("90.1,0", "latitude 90.1° is outside −90° to 90°");
        says("0,180.5", "longitude 180.5° is outside");
        says("nan,0", "latitude NaN° is outside");
        says("0,inf", "longitude inf° is outside");
        says("42°53′ 8°33′W", "each with its letter");
        says("42°61′N 8°33′W", "go to 59");
        says("42°53′N 8°33′N", "one longitude (E or W)");
        says("42°53′N", "one latitude and one longitude");
        says("42 53 10 5 N 8 33 W", "no more");
        says("-42°53′N 8°33′W", "no signs");
        for text in [
            "42,5°N 8,5°W",
            "42,50 N 8°33′W",
            "N42,5 W8,5",
            "42,88,-8,54",
        ] {
            says(text, "a comma stands within a number");
        }
        says("42", "each with its letter");
        for text in ["9", "9.", "9,", "1e", "9N"] {
            let long = text.repeat(100_000);
            if let Some(read) = Coordinates::parse(&long) {
                let message = read.unwrap_err().to_string();
                assert!(message.len() < 300, "{} bytes", message.len());
            }
        }
        assert!(Coordinates::parse("London").is_none());
        assert!(Coordinates::parse("6th of October City").is_none());
    }

    proptest! {
        #[test]
        fn any_text_is_read_or_refused(text in any::<String>()) {
            let _ = Coordinates::parse(&text);
        }

        #[test]
        fn any_text_of_the_kind_is_read_or_refused(text in "[-+−0-9.°′″'nsewNSEW, ]{0,30}") {
            let _ = Coordinates::parse(&text);
        }
    }
}
