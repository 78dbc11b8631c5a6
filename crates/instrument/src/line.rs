use std::fmt;

use crate::form::ZodiacRing;
use crate::minutes::Minutes;
use crate::specification::HouseLines;
use crate::unequal_hour::UnequalHour;
use sky::House;

/// The parts of the instrument that carry lines.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Part {
    /// The body, whose raised rim is the limb.
    Mater,
    /// The plate for one latitude.
    Plate,
    /// The pierced star map with the ecliptic.
    Rete,
    /// The pointer that turns on the front; older texts call it the label.
    Rule,
    /// The reverse, with its scales.
    Back,
    /// The sighting bar that turns on the back.
    Alidade,
    /// A sighting vane of the alidade.
    Pinnule,
    /// What holds everything together.
    Pin,
    /// What holds the pin.
    Wedge,
    /// What it hangs by: the ring, and the shackle that holds the ring to the throne.
    Ring,
}

/// Which line it is: every line engraved or printed has an identity.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LineId {
    /// The degree scale of the limb.
    LimbDegrees,
    /// The hour scale of the limb.
    LimbHours,
    /// The tropic of Cancer.
    TropicOfCancer,
    /// The equator.
    Equator,
    /// The tropic of Capricorn.
    TropicOfCapricorn,
    /// The noon half of the meridian, from the pole to the noon point of the limb.
    MeridianLine,
    /// The other half: the line of midnight, also unequal-hour line 6.
    MidnightLine,
    /// The horizon; its eastern part is the ascendant line, its western the descendant.
    Horizon,
    /// The circle of an altitude, the horizon excepted.
    Almucantar(Minutes),
    /// The circle of an azimuth, counted from north by east.
    Azimuth(Minutes),
    /// The prime vertical, through zenith, east and west.
    PrimeVertical,
    /// The line of the Sun's depth at dawn and nightfall, 18° (*linea crepusculi*).
    Twilight,
    /// The line of an unequal hour of the night.
    UnequalHour(UnequalHour),
    /// The line on which the cusp of a house lies, by the method engraved.
    House(HouseLines, House),
    /// The outer edge of the ecliptic ring, where the zodiac is read.
    Ecliptic,
    /// The date ring on the rete.
    DateRing,
    /// A star's pointer, by the star's traditional name.
    StarPointer(String),
    /// The pointer on the rete that reads on the limb.
    Almuri,
    /// The edge of the rule that passes through the centre.
    RuleEdge,
    /// The zodiac scale of the back.
    ZodiacScale,
    /// The calendar scale of the back.
    CalendarScale,
    /// The altitude scale of the back.
    AltitudeScale,
    /// The shadow square of the back, its sides in twelve parts.
    ShadowSquare,
    /// The fiducial line of the alidade.
    AlidadeLine,
    /// The scale of declinations on the rule.
    RuleDeclinations,
    /// The horizon of a latitude on a plate of horizons.
    HorizonOf(Minutes),
    /// The arc of an unequal hour (1 to 6) in the quadrant of the back.
    QuadrantHour(u8),
    /// The sines and cosines in a quadrant of the back.
    SineQuadrant,
    /// The arcs of the signs in the back's quadrant of the Sun's altitudes.
    SunArcs,
    /// The Sun's noon altitudes at a latitude, in that quadrant.
    NoonAltitudes(Minutes),
    /// The Sun's altitudes so many equal hours before or after noon, in that quadrant.
    EqualHour(u8),
    /// The Sun's altitudes in the direction of Mecca, for a place, in that quadrant.
    Qibla(String),
    /// The scale of cotangents in the back's field.
    Cotangents,
    /// A ring about the back's field, divided as the zodiac is by its lords or mansions.
    ZodiacRing(ZodiacRing),
    /// The equation of time through the year, on the back.
    EquationOfTime,
    /// The circles of its minutes, in its band.
    EquationMinutes,
}

impl LineId {
    /// The part that carries it.
    #[must_use]
    pub fn part(&self) -> Part {
        match self {
            LineId::LimbDegrees | LineId::LimbHours => Part::Mater,
            LineId::TropicOfCancer
            | LineId::Equator
            | LineId::TropicOfCapricorn
            | LineId::MeridianLine
            | LineId::MidnightLine
            | LineId::Horizon
            | LineId::Almucantar(_)
            | LineId::Azimuth(_)
            | LineId::PrimeVertical
            | LineId::Twilight
            | LineId::UnequalHour(_)
            | LineId::House(..) => Part::Plate,
            LineId::Ecliptic | LineId::DateRing | LineId::StarPointer(_) | LineId::Almuri => {
                Part::Rete
            }
            LineId::HorizonOf(_) => Part::Plate,
            LineId::RuleEdge | LineId::RuleDeclinations => Part::Rule,
            LineId::ZodiacScale
            | LineId::CalendarScale
            | LineId::AltitudeScale
            | LineId::ShadowSquare
            | LineId::QuadrantHour(_)
            | LineId::SineQuadrant
            | LineId::SunArcs
            | LineId::NoonAltitudes(_)
            | LineId::EqualHour(_)
            | LineId::Qibla(_)
            | LineId::Cotangents
            | LineId::ZodiacRing(_)
            | LineId::EquationOfTime
            | LineId::EquationMinutes => Part::Back,
            LineId::AlidadeLine => Part::Alidade,
        }
    }
}

impl fmt::Display for LineId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            LineId::LimbDegrees => f.write_str("degrees of the limb"),
            LineId::LimbHours => f.write_str("hours of the limb"),
            LineId::TropicOfCancer => f.write_str("tropic of Cancer"),
            LineId::Equator => f.write_str("equator"),
            LineId::TropicOfCapricorn => f.write_str("tropic of Capricorn"),
            LineId::MeridianLine => f.write_str("meridian line"),
            LineId::MidnightLine => f.write_str("midnight line"),
            LineId::Horizon => f.write_str("horizon"),
            LineId::Almucantar(altitude) => write!(f, "almucantar {altitude}"),
            LineId::Azimuth(azimuth) => write!(f, "azimuth {azimuth}"),
            LineId::PrimeVertical => f.write_str("prime vertical"),
            LineId::Twilight => f.write_str("twilight line"),
            LineId::UnequalHour(hour) => write!(f, "unequal-hour line {}", hour.number()),
            LineId::House(_, house) => write!(f, "house line {house}"),
            LineId::Ecliptic => f.write_str("ecliptic"),
            LineId::DateRing => f.write_str("date ring"),
            LineId::StarPointer(name) => write!(f, "star pointer {name}"),
            LineId::Almuri => f.write_str("almuri"),
            LineId::RuleEdge => f.write_str("edge of the rule"),
            LineId::ZodiacScale => f.write_str("zodiac scale"),
            LineId::CalendarScale => f.write_str("calendar scale"),
            LineId::AltitudeScale => f.write_str("altitude scale"),
            LineId::ShadowSquare => f.write_str("shadow square"),
            LineId::AlidadeLine => f.write_str("line of the alidade"),
            LineId::RuleDeclinations => f.write_str("declinations of the rule"),
            LineId::HorizonOf(latitude) => write!(f, "horizon of latitude {latitude}"),
            LineId::QuadrantHour(hour) => write!(f, "unequal-hour arc {hour} of the quadrant"),
            LineId::SineQuadrant => f.write_str("sine quadrant"),
            LineId::SunArcs => f.write_str("arcs of the signs"),
            LineId::NoonAltitudes(latitude) => write!(f, "noon altitudes of latitude {latitude}"),
            LineId::EqualHour(hours) => write!(f, "equal-hour line {hours} from noon"),
            LineId::Qibla(place) => write!(f, "qibla of {place}"),
            LineId::Cotangents => f.write_str("scale of cotangents"),
            LineId::ZodiacRing(ring) => write!(f, "ring of {}", ring.called()),
            LineId::EquationOfTime => f.write_str("equation of time"),
            LineId::EquationMinutes => f.write_str("minutes of the equation of time"),
        }
    }
}
