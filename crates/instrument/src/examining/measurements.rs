use moment::Calendar;
use sky::{Angle, Latitude, Star};

use crate::date_scale::YearDay;
use crate::length::Length;
use crate::specification::Hemisphere;

/// What was measured on an instrument, of whatever making.
///
/// Lengths are taken with a caliper or from a photograph at true size, as many as can be
/// had: nothing of it is needed, and what is not there cannot be told.
#[derive(Clone, Debug, PartialEq)]
pub struct Measurements {
    /// `name`: what it is called.
    pub name: String,
    /// `hemisphere`: `north` unless said.
    pub hemisphere: Hemisphere,
    /// `diameter_mm`: across the mater.
    pub diameter: Option<Length>,
    /// `measured_to_mm`: the standard error of a length; 0.1 unless said, as a caliper's
    /// on engraved lines (common practice).
    pub measured_to: Length,
    /// `[circles]`.
    pub circles: MeasuredCircles,
    /// `[ecliptic]`.
    pub ecliptic: Option<MeasuredEcliptic>,
    /// `[[plates]]`: one for each side.
    pub plates: Vec<MeasuredPlate>,
    /// `[[stars]]`: one for each pointer.
    pub stars: Vec<MeasuredStar>,
    /// `[calendar]`.
    pub calendar: Option<MeasuredCalendar>,
    /// `[limb]`.
    pub limb: Option<MeasuredLimb>,
}

/// Diameters of the three circles that plates carry and the rete follows.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct MeasuredCircles {
    /// `capricorn_mm`.
    pub capricorn: Option<Length>,
    /// `equator_mm`.
    pub equator: Option<Length>,
    /// `cancer_mm`.
    pub cancer: Option<Length>,
}

/// The ecliptic ring's outer edge, from the middle of the hole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeasuredEcliptic {
    /// `nearest_mm`: where it comes nearest, at the head of the sign of the inner tropic.
    pub nearest: Length,
    /// `farthest_mm`: where it goes farthest, at the head of the sign of the outer tropic.
    pub farthest: Length,
}

/// A side of a plate.
#[derive(Clone, Debug, PartialEq)]
pub struct MeasuredPlate {
    /// `lettered_deg`: the latitude that stands on it, if one does.
    pub lettered: Option<Latitude>,
    /// `equator_mm`: the diameter of the equator on it.
    pub equator: Option<Length>,
    /// `almucantars`: where they cross the meridian line.
    pub almucantars: Vec<MeasuredAlmucantar>,
}

/// Where an almucantar crosses the meridian line, from the middle of the hole: counted
/// positive towards noon and negative towards midnight.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeasuredAlmucantar {
    /// `altitude_deg`: 0 is the horizon, 90 the zenith.
    pub altitude: Latitude,
    /// `noon_mm`: the crossing further towards noon.
    pub noon: Option<Length>,
    /// `midnight_mm`: the crossing further towards midnight.
    pub midnight: Option<Length>,
}

/// A star's pointer.
#[derive(Clone, Debug, PartialEq)]
pub struct MeasuredStar {
    /// `name`: the star that it is lettered with or taken for; a name has the meaning that it
    /// has on instruments.
    pub star: &'static Star,
    /// `with`: the degree of the ecliptic ring that lies under the rule together with its
    /// tip, which culminates with it.
    pub with: Option<Angle>,
    /// `radius_mm`: its tip from the middle of the hole.
    pub radius: Option<Length>,
}

/// Dates of the calendar scale against the zodiac scale.
#[derive(Clone, Debug, PartialEq)]
pub struct MeasuredCalendar {
    /// `calendar`: `julian` unless said.
    pub calendar: Calendar,
    /// `reads_to_deg`: the standard error of a degree read off; 0.25 unless said.
    pub reads_to: Angle,
    /// `degrees`: the degree that the alidade shows with each date.
    pub degrees: Vec<(YearDay, Angle)>,
}

/// The limb read under both ends of the rule.
#[derive(Clone, Debug, PartialEq)]
pub struct MeasuredLimb {
    /// `radius_mm`: of the graduation.
    pub radius: Option<Length>,
    /// `reads_to_deg`: the standard error of a reading; 0.05 unless said.
    pub reads_to: Angle,
    /// `ends_deg`: what one end shows, and the other, with the rule turned to many places.
    pub ends: Vec<[Angle; 2]>,
}
