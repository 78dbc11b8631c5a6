//! How the tables of the list write their arguments and titles.

use figure::Horizon;
use sky::{Angle, Latitude, Sign};

use crate::{Argument, Cell, Figure, Form, PartOf};

/// A latitude as titles have it: `51°32′ N`.
pub(super) fn north_or_south(latitude: Latitude) -> String {
    let side = if latitude.deg() < 0.0 { "S" } else { "N" };
    let minutes = (latitude.deg().abs() * 60.0).round();
    format!("{}°{:02}′ {side}", (minutes / 60.0).floor(), minutes % 60.0)
}

/// An angle to the second, as titles have it: `23°26′17″`, and without seconds where
/// there are none.
pub(super) fn to_second(angle: Angle) -> String {
    let seconds = angle.arcsec().round();
    let (minutes, rest) = ((seconds / 60.0).floor(), seconds % 60.0);
    let text = format!("{}°{:02}′", (minutes / 60.0).floor(), minutes % 60.0);
    if rest > 0.0 {
        format!("{text}{rest:02}″")
    } else {
        text
    }
}

/// The degrees of the ecliptic, a sign a part.
pub(super) fn by_signs(heading: impl Fn(Sign) -> String) -> Vec<PartOf> {
    let degree = |sign: Sign, degree: u32| {
        let at = sign.begins().deg() + f64::from(degree);
        Argument {
            at,
            written: Cell::Figure(Figure::written(Form::ZodiacDegree, at)),
        }
    };
    Sign::ALL
        .into_iter()
        .map(|sign| PartOf {
            heading: heading(sign),
            arguments: (0..30).map(|within| degree(sign, within)).collect(),
            notes: Vec::new(),
        })
        .collect()
}

/// The horizon of a latitude, for what does not depend on the time.
pub(super) fn horizon_of(latitude: Latitude, obliquity: Angle) -> Horizon {
    Horizon {
        sidereal_time: Angle::ZERO,
        obliquity,
        latitude,
    }
}

/// A whole number as an argument.
pub(super) fn whole(number: u32) -> Argument {
    Argument {
        at: f64::from(number),
        written: Cell::Figure(Figure::written(Form::Number(0), f64::from(number))),
    }
}

/// One part without a heading.
pub(super) fn one_part(arguments: impl IntoIterator<Item = Argument>) -> Vec<PartOf> {
    vec![PartOf {
        heading: String::new(),
        arguments: arguments.into_iter().collect(),
        notes: Vec::new(),
    }]
}
