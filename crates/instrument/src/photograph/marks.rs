use std::fmt;
use std::str::FromStr;

use sky::{Angle, Latitude, Star, Zodiacal};
use thiserror::Error;

use crate::length::Length;
use crate::minutes::Minutes;
use crate::specification::Hemisphere;
use crate::unequal_hour::UnequalHour;
use sky::House;

/// A picture of an instrument's front with what was recognised in it.
#[derive(Clone, Debug, PartialEq)]
pub struct Photograph {
    /// What the instrument is called.
    pub name: String,
    /// For which half of the Earth it is.
    pub hemisphere: Hemisphere,
    /// How broad and how high the picture is, in pixels.
    pub size_px: [u32; 2],
    /// Across the outer circle of the limb's graduation, if it is known.
    pub limb_diameter: Option<Length>,
    /// What was recognised.
    pub marks: Vec<Mark>,
}

/// A place in the picture, and what is seen there.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// In pixels from the middle of the upper left one, to the right and down.
    pub at_px: [f64; 2],
    /// What it is.
    pub of: Seen,
}

/// What can be recognised on a front.
#[derive(Clone, Debug, PartialEq)]
pub enum Seen {
    /// Where the stroke of a degree meets the outer circle of the limb's graduation; counted
    /// from noon as the hours run.
    Limb(Angle),
    /// The middle of the hole.
    Hole,
    /// Somewhere on the edge of the hole.
    HoleEdge,
    /// Somewhere on a line of the plate.
    OfPlate(OfPlate),
    /// Somewhere on the outer edge of the ecliptic ring.
    Ecliptic,
    /// Where the stroke of a degree meets that edge.
    Degree(Angle),
    /// The tip of a star's pointer.
    Star(&'static Star),
    /// The tip of the rete's pointer on the limb.
    Almuri,
    /// Where the edge of the rule by which it is read meets the circle of the limb.
    Rule,
}

impl Seen {
    /// Whether it is a point; else it is a line, and how far along it a mark lies is not told.
    pub(super) fn is_point(&self) -> bool {
        match self {
            Seen::Limb(_) | Seen::Hole | Seen::Degree(_) | Seen::Star(_) => true,
            Seen::HoleEdge | Seen::OfPlate(_) | Seen::Ecliptic | Seen::Almuri | Seen::Rule => false,
        }
    }
}

/// A line of the plate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum OfPlate {
    /// The tropic of Capricorn.
    Capricorn,
    /// The equator.
    Equator,
    /// The tropic of Cancer.
    Cancer,
    /// The upright line through the hole.
    Meridian,
    /// The circle of an altitude; 0 is the horizon, −18° the twilight line.
    Almucantar(Latitude),
    /// The vertical circle of an azimuth, from north by east, with its opposite.
    Azimuth(Angle),
    /// The line of an unequal hour.
    UnequalHour(UnequalHour),
    /// The line of a house, by whichever method.
    House(House),
}

/// A text that names nothing on a front.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum SeenError {
    /// It begins like nothing that is known.
    #[error(
        "\"{0}\" names nothing on a front; limb 15, hole, edge of the hole, tropic of Capricorn, \
         equator, tropic of Cancer, meridian, horizon, twilight, almucantar 40, azimuth 30, \
         unequal hour 3, house 11, ecliptic, ecliptic 15 Leo, star Aldebaran, almuri and rule do"
    )]
    Nothing(String),
    /// It begins like nothing that is known of a back.
    #[error(
        "\"{0}\" names nothing on a back; zodiac 15 Leo, calendar 03-12, left corner of the shadow \
         square, right corner of the shadow square, hole and edge of the hole do"
    )]
    NothingOnBack(String),
    /// What follows is no number in its range.
    #[error("\"{text}\" needs {wanted} after it")]
    Number {
        /// The whole text.
        text: String,
        /// What would do.
        wanted: &'static str,
    },
    /// What follows is no degree or no star; said by whoever reads those.
    #[error("\"{text}\": {why}")]
    Other {
        /// The whole text.
        text: String,
        /// Why not.
        why: String,
    },
}

impl FromStr for Seen {
    type Err = SeenError;

    fn from_str(text: &str) -> Result<Seen, SeenError> {
        let text = text.trim();
        let other = |why: String| SeenError::Other {
            text: text.to_owned(),
            why,
        };
        let number = |rest: &str, least: f64, most: f64, wanted: &'static str| {
            let digits = rest.trim().trim_end_matches('°').replace('−', "-");
            match digits.parse::<f64>() {
                Ok(number) if (least..=most).contains(&number) => Ok(number),
                Ok(_) | Err(_) => Err(SeenError::Number {
                    text: text.to_owned(),
                    wanted,
                }),
            }
        };
        match text {
            "hole" => return Ok(Seen::Hole),
            "edge of the hole" => return Ok(Seen::HoleEdge),
            "tropic of Capricorn" => return Ok(Seen::OfPlate(OfPlate::Capricorn)),
            "equator" => return Ok(Seen::OfPlate(OfPlate::Equator)),
            "tropic of Cancer" => return Ok(Seen::OfPlate(OfPlate::Cancer)),
            "meridian" => return Ok(Seen::OfPlate(OfPlate::Meridian)),
            "horizon" => return Ok(almucantar(0.0)),
            "twilight" => return Ok(almucantar(-18.0)),
            "ecliptic" => return Ok(Seen::Ecliptic),
            "almuri" => return Ok(Seen::Almuri),
            "rule" => return Ok(Seen::Rule),
            _ => {}
        }
        if let Some(rest) = text.strip_prefix("limb ") {
            let deg = number(
                rest,
                -360.0,
                360.0,
                "a degree from 0 to 360, from noon as the hours run,",
            )?;
            return Ok(Seen::Limb(Angle::from_deg(deg)));
        }
        if let Some(rest) = text.strip_prefix("almucantar ") {
            return number(rest, -18.0, 89.0, "an altitude from −18 to 89").map(almucantar);
        }
        if let Some(rest) = text.strip_prefix("azimuth ") {
            let deg = number(
                rest,
                0.0,
                360.0,
                "an azimuth from 0 to 360, from north by east,",
            )?;
            return Ok(Seen::OfPlate(OfPlate::Azimuth(Angle::from_deg(deg))));
        }
        if let Some(rest) = text.strip_prefix("unequal hour ") {
            let wanted = "an hour from 1 to 11, from the western horizon on,";
            let hour = number(rest, 1.0, 11.0, wanted)?;
            return UnequalHour::engraved()
                .find(|one| (f64::from(one.number()) - hour).abs() < 1e-9)
                .map(|hour| Seen::OfPlate(OfPlate::UnequalHour(hour)))
                .ok_or(SeenError::Number {
                    text: text.to_owned(),
                    wanted,
                });
        }
        if let Some(rest) = text.strip_prefix("house ") {
            let wanted = "a house from 1 to 12";
            let number = number(rest, 1.0, 12.0, wanted)?;
            return House::ALL
                .into_iter()
                .find(|one| (f64::from(one.number()) - number).abs() < 1e-9)
                .map(|house| Seen::OfPlate(OfPlate::House(house)))
                .ok_or(SeenError::Number {
                    text: text.to_owned(),
                    wanted,
                });
        }
        if let Some(rest) = text.strip_prefix("ecliptic ") {
            return Zodiacal::from_str(rest)
                .map(|Zodiacal(degree)| Seen::Degree(degree))
                .map_err(|error| other(error.to_string()));
        }
        if let Some(rest) = text.strip_prefix("star ") {
            return sky::star_lettered(rest.trim())
                .map(Seen::Star)
                .map_err(|error| other(error.to_string()));
        }
        Err(SeenError::Nothing(text.to_owned()))
    }
}

fn almucantar(deg: f64) -> Seen {
    Seen::OfPlate(OfPlate::Almucantar(
        Latitude::from_deg(deg).unwrap_or_default(),
    ))
}

/// As it is written in a file.
impl fmt::Display for Seen {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Seen::Limb(degree) => write!(f, "limb {}", Minutes::nearest(degree.in_turn().deg())),
            Seen::Hole => f.write_str("hole"),
            Seen::HoleEdge => f.write_str("edge of the hole"),
            Seen::OfPlate(line) => line.fmt(f),
            Seen::Ecliptic => f.write_str("ecliptic"),
            Seen::Degree(degree) => write!(f, "ecliptic {}", Zodiacal(*degree)),
            Seen::Star(star) => write!(f, "star {}", star.instrument_name.unwrap_or(star.label())),
            Seen::Almuri => f.write_str("almuri"),
            Seen::Rule => f.write_str("rule"),
        }
    }
}

impl fmt::Display for OfPlate {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            OfPlate::Capricorn => f.write_str("tropic of Capricorn"),
            OfPlate::Equator => f.write_str("equator"),
            OfPlate::Cancer => f.write_str("tropic of Cancer"),
            OfPlate::Meridian => f.write_str("meridian"),
            OfPlate::Almucantar(altitude) => match Minutes::nearest(altitude.deg()) {
                horizon if horizon == Minutes::from_whole_deg(0) => f.write_str("horizon"),
                twilight if twilight == Minutes::from_whole_deg(-18) => f.write_str("twilight"),
                altitude => write!(f, "almucantar {altitude}"),
            },
            OfPlate::Azimuth(azimuth) => write!(f, "azimuth {}", Minutes::nearest(azimuth.deg())),
            OfPlate::UnequalHour(hour) => write!(f, "unequal hour {}", hour.number()),
            OfPlate::House(house) => write!(f, "house {}", house.number()),
        }
    }
}
