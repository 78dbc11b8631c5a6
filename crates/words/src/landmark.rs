use instrument::{LineId, Point};
use practice::{Act, Conditions, Reckoning, Working};
use sky::Angle;

use crate::instruction::Words;

/// A number or a numeral that is engraved beside the place of a step: by it one tells
/// where one is.
#[derive(Clone, Debug, PartialEq)]
pub struct Landmark {
    /// What is engraved.
    pub text: String,
    /// Where it stands: in the plane of the front, or of the back, before it is drawn.
    pub at: Point,
}

/// The numerals beside the place of a step, on the side on which it is done; none where
/// nothing lettered is near.
#[must_use]
pub fn landmarks(working: &Working, step: usize, conditions: &Conditions) -> Vec<Landmark> {
    let Some(words) = Words::of(working, step, conditions) else {
        return Vec::new();
    };
    let after = words.done.after;
    match &words.done.act {
        Act::TurnRuleOnto(_) | Act::ReadLimb { .. } => words.on_limb(after.rule),
        Act::ReadAlmuri { .. } | Act::TurnAlmuriOnto(_) => {
            words.on_limb(conditions.instrument.almuri(after.rete))
        }
        Act::ReadSunDegree => words.on_zodiac_scale(after.alidade),
        Act::TurnRete { onto, .. } if *onto == LineId::RuleEdge => words.on_limb(after.rule),
        Act::ReadEcliptic { .. } | Act::TurnEclipticToAltitude { .. } => {
            match &words.done.outcome {
                Some(Ok((_, reading))) => {
                    let degree = reading.value.angle();
                    degree.map_or_else(Vec::new, |degree| words.on_ecliptic(degree))
                }
                Some(Err(_)) | None => Vec::new(),
            }
        }
        Act::Reckon(
            Reckoning::HourForRule
            | Reckoning::ThirdOfLimb(_)
            | Reckoning::Count(..)
            | Reckoning::RestOfTurn(..)
            | Reckoning::Twelfth(..)
            | Reckoning::RestOfThirty(..)
            | Reckoning::Hours(..)
            | Reckoning::Less(..)
            | Reckoning::Sum(..)
            | Reckoning::Mean(..)
            | Reckoning::RestOfRight(..)
            | Reckoning::ThroughZenith(_)
            | Reckoning::FromSouth(..)
            | Reckoning::Midway(..)
            | Reckoning::InProportion(_)
            | Reckoning::Beside(..)
            | Reckoning::BetweenPlates(_)
            | Reckoning::MidDegree(..)
            | Reckoning::FromEquinox(_)
            | Reckoning::ProductOfSines(..)
            | Reckoning::SideOfEquator(..)
            | Reckoning::Height(_)
            | Reckoning::RectaToVersa,
        )
        | Act::ChoosePlate
        | Act::ExchangePlate
        | Act::TurnRete { .. }
        | Act::TurnReteToAltitude { .. }
        | Act::ReadAltitude { .. }
        | Act::ReadAzimuth { .. }
        | Act::ReadEclipticAtAltitude { .. }
        | Act::ReadUnequalHour { .. }
        | Act::ReadOnBack(_)
        | Act::Wax(_)
        | Act::Observe(_)
        | Act::Return => Vec::new(),
    }
}

impl Words<'_> {
    /// The hours on either side of a place of the limb.
    fn on_limb(&self, hour_angle: Angle) -> Vec<Landmark> {
        let instrument = &self.conditions.instrument;
        let bands = instrument.limb_bands();
        let middle = f64::midpoint(bands.numerals_from(), bands.outside);
        let radius = instrument.limb_mm() + instrument.limb_width_mm() * middle;
        self.brass
            .numerals_beside(hour_angle)
            .into_iter()
            .map(|(text, at)| Landmark {
                text,
                at: Point::polar(radius, at),
            })
            .collect()
    }

    /// The numbers of the zodiac scale on either side of a degree.
    fn on_zodiac_scale(&self, degree: Angle) -> Vec<Landmark> {
        let instrument = &self.conditions.instrument;
        if !instrument.graduation().zodiac_numbers() {
            return Vec::new();
        }
        let back = instrument.back();
        let radius = back.bands.zodiac - (back.bands.zodiac - back.bands.calendar) * 0.38;
        numbered(degree)
            .map(|(text, longitude)| Landmark {
                text,
                at: Point::polar(radius, back.zodiac(longitude)),
            })
            .collect()
    }

    /// The numbers of the ecliptic ring on either side of a degree.
    fn on_ecliptic(&self, degree: Angle) -> Vec<Landmark> {
        let instrument = &self.conditions.instrument;
        if !instrument.graduation().ecliptic_numbers() {
            return Vec::new();
        }
        let rete = self.done.after.rete;
        numbered(degree)
            .map(|(text, longitude)| Landmark {
                text,
                at: instrument.rete_point(instrument::RetePoint::Degree(longitude), rete),
            })
            .collect()
    }
}

/// The tenth and twentieth degrees of signs on either side of a degree.
fn numbered(degree: Angle) -> impl Iterator<Item = (String, Angle)> {
    let below = (degree.in_turn().deg() / 10.0).floor() * 10.0;
    [below, below + 10.0]
        .into_iter()
        .filter(|deg| deg.rem_euclid(30.0) > 0.5)
        .map(|deg| (format!("{}", deg.rem_euclid(30.0)), Angle::from_deg(deg)))
}
