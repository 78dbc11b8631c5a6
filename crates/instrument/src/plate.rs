use sky::{Angle, Latitude};
use thiserror::Error;

use crate::circline::Circline;
use crate::line::LineId;
use crate::line_shape::{HourCurve, LineShape};
use crate::minutes::Minutes;
use crate::point::Point;
use crate::projection::{Direction, Projection};
use crate::specification::{Faults, HourLines, HouseLines};
use crate::unequal_hour::{NightArc, NightArcs, UnequalHour};
use sky::House;

/// The plate for one latitude, as geometry: every line that can be engraved on
/// it, in its own frame or turned with it in its notch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plate {
    /// The latitude it is made for.
    pub latitude: Latitude,
    /// The obliquity that its tropics are drawn for.
    pub obliquity: Angle,
    /// How its unequal-hour lines are drawn.
    pub hour_lines: HourLines,
    /// The method of its house lines, if it has them.
    pub house_lines: Option<HouseLines>,
    /// How far it is turned in its notch.
    pub turned: Angle,
    pub(crate) projection: Projection,
    /// How far beyond the end of an hour line a degree may come that the faults of
    /// the rete have moved, in millimetres: the eye carries the line on so far.
    slack_mm: f64,
    /// The horizon before the plate is turned, and turned.
    horizons: [Circline; 2],
    /// The nights that the turned horizon leaves.
    nights: NightArcs,
    /// The radii of the inner and the outer tropic, in millimetres.
    tropics_mm: [f64; 2],
    /// The inner tropic, the equator and the outer tropic with the night arcs of each,
    /// before the plate is turned; `None` where the horizon does not cut one of them.
    thirds: Option<[(f64, NightArc); 3]>,
}

/// A line that an instrument does not have, and why.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[error("there is no {line} here: {why}")]
pub struct NoLine {
    /// The line asked for.
    pub line: LineId,
    /// The reason, in plain words.
    pub why: &'static str,
}

/// How far outside its drawn part a line may be met, as a part of the radius:
/// the ecliptic only just touches the tropics at which hour lines end.
const SLACK: f64 = 1e-9;

impl Plate {
    /// The plate of an instrument.
    pub(crate) fn new(
        latitude: Latitude,
        obliquity: Angle,
        (hour_lines, house_lines): (HourLines, Option<HouseLines>),
        faults: &Faults,
        projection: Projection,
    ) -> Plate {
        let tropic = Latitude::from_deg(obliquity.deg()).unwrap_or_default();
        let (one, other) = (projection.radius(tropic), projection.radius(-tropic));
        let own = projection.section(zenith(latitude), 0.0);
        let tropics_mm = [one.min(other), one.max(other)];
        let nights = NightArcs::of(own);
        let night = |radius_mm| Some((radius_mm, nights.at_radius(radius_mm)?));
        let [inner, outer] = tropics_mm.map(night);
        let middle = night(projection.equator_mm());
        let horizons = [own, own.turned(faults.plate_turned)];
        Plate {
            latitude,
            obliquity,
            hour_lines,
            house_lines,
            turned: faults.plate_turned,
            projection,
            slack_mm: faults.pin_play.mm() / 2.0
                + faults.ecliptic_offset.mm().abs()
                + faults.plate_off_noon.mm().hypot(faults.plate_off_west.mm()),
            horizons,
            nights: NightArcs::of(horizons[1]),
            tropics_mm,
            thirds: inner
                .zip(middle)
                .zip(outer)
                .map(|((inner, middle), outer)| [inner, middle, outer]),
        }
    }

    /// What one of the plate's lines follows.
    ///
    /// # Errors
    /// When the plate has no such line.
    pub fn shape(&self, line: &LineId) -> Result<LineShape, NoLine> {
        let circline = match line {
            LineId::TropicOfCancer => self.tropic(1.0),
            LineId::TropicOfCapricorn => self.tropic(-1.0),
            LineId::Equator => self.projection.parallel(Latitude::ZERO),
            LineId::MeridianLine | LineId::MidnightLine => self.meridian(),
            LineId::Horizon => self.horizon(),
            LineId::Almucantar(altitude) => self.almucantar(altitude.latitude()),
            LineId::Twilight => self.almucantar(Minutes::from_whole_deg(-18).latitude()),
            LineId::Azimuth(azimuth) => self.azimuth(Angle::from_deg(azimuth.deg())),
            LineId::PrimeVertical => self.azimuth(Angle::QUARTER_TURN),
            LineId::UnequalHour(hour) => return self.unequal_hour(*hour),
            LineId::House(method, house) => self.house(*method, *house),
            LineId::LimbDegrees
            | LineId::LimbHours
            | LineId::Ecliptic
            | LineId::DateRing
            | LineId::StarPointer(_)
            | LineId::Almuri
            | LineId::RuleEdge
            | LineId::ZodiacScale
            | LineId::CalendarScale
            | LineId::AltitudeScale
            | LineId::ShadowSquare
            | LineId::AlidadeLine
            | LineId::RuleDeclinations
            | LineId::HorizonOf(_)
            | LineId::QuadrantHour(_)
            | LineId::SineQuadrant
            | LineId::SunArcs
            | LineId::NoonAltitudes(_)
            | LineId::EqualHour(_)
            | LineId::Qibla(_)
            | LineId::Cotangents
            | LineId::ZodiacRing(_)
            | LineId::EquationOfTime
            | LineId::EquationMinutes => {
                return Err(NoLine {
                    line: line.clone(),
                    why: "it does not stand on the plate",
                });
            }
        };
        Ok(LineShape::Circline(circline))
    }

    /// Whether a point of what a line follows belongs to the part of it that is drawn.
    #[must_use]
    pub fn carries(&self, line: &LineId, p: Point) -> bool {
        let own = || p.turned(-self.turned);
        match line {
            LineId::MeridianLine => own().x > 0.0,
            LineId::MidnightLine => own().x < 0.0,
            LineId::Azimuth(azimuth) => {
                let towards = self.horizontal(Angle::from_deg(azimuth.deg()));
                // The side of the prime vertical of that direction on which p lies.
                self.projection.section(towards, 0.0).value(own()) <= 0.0
            }
            // What else of an arc's circle runs between the tropics does so above the horizon.
            LineId::UnequalHour(_) => self.below(p) && self.within_tropics(p),
            LineId::House(..) => self.below(p),
            LineId::LimbDegrees
            | LineId::LimbHours
            | LineId::TropicOfCancer
            | LineId::Equator
            | LineId::TropicOfCapricorn
            | LineId::Horizon
            | LineId::Almucantar(_)
            | LineId::PrimeVertical
            | LineId::Twilight
            | LineId::Ecliptic
            | LineId::DateRing
            | LineId::StarPointer(_)
            | LineId::Almuri
            | LineId::RuleEdge
            | LineId::ZodiacScale
            | LineId::CalendarScale
            | LineId::AltitudeScale
            | LineId::ShadowSquare
            | LineId::AlidadeLine
            | LineId::RuleDeclinations
            | LineId::HorizonOf(_)
            | LineId::QuadrantHour(_)
            | LineId::SineQuadrant
            | LineId::SunArcs
            | LineId::NoonAltitudes(_)
            | LineId::EqualHour(_)
            | LineId::Qibla(_)
            | LineId::Cotangents
            | LineId::ZodiacRing(_)
            | LineId::EquationOfTime
            | LineId::EquationMinutes => true,
        }
    }

    /// The horizon; its value is negative above.
    #[must_use]
    pub fn horizon(&self) -> Circline {
        self.horizons[1]
    }

    /// The circle of an altitude; its value is negative above it.
    ///
    /// Centre and radius, for the equator's radius 1: cos φ/(sin φ + sin h) and
    /// cos h/(sin φ + sin h) (R. Wolf, *Handbuch der Astronomie* III, 1892, § 360).
    #[must_use]
    pub fn almucantar(&self, altitude: Latitude) -> Circline {
        self.placed(self.projection.section(self.zenith(), altitude.sin()))
    }

    /// The vertical circle of an azimuth, counted from north by east, with its opposite.
    #[must_use]
    pub fn azimuth(&self, azimuth: Angle) -> Circline {
        let across = self.horizontal(azimuth + Angle::QUARTER_TURN);
        self.placed(self.projection.section(across, 0.0))
    }

    /// The meridian and midnight lines, one straight line through the pole.
    #[must_use]
    pub fn meridian(&self) -> Circline {
        self.placed(Circline::straight(Point::POLE, Point { x: 1.0, y: 0.0 }))
    }

    /// The great circle on which the cusp of a house lies.
    #[must_use]
    pub fn house(&self, method: HouseLines, house: House) -> Circline {
        let through = self.house_point(method, house);
        let axis = self.horizontal(Angle::ZERO);
        self.placed(self.projection.section(unit(cross(axis, through)), 0.0))
    }

    /// The point of the equator, or of the prime vertical, through which the line of a
    /// house runs.
    pub(crate) fn house_point(&self, method: HouseLines, house: House) -> Direction {
        // Houses are counted from the eastern horizon downwards, 30° each.
        let below_east = Angle::from_deg(30.0 * (f64::from(house.number() - 1)));
        match method {
            HouseLines::Regiomontanus => {
                let (sin, cos) = (-Angle::QUARTER_TURN - below_east).sin_cos();
                [cos, sin, 0.0]
            }
            HouseLines::Campanus => {
                let (sin, cos) = below_east.sin_cos();
                let up = self.zenith();
                [-up[0] * sin, -cos, -up[2] * sin]
            }
        }
    }

    /// An unequal-hour line, in the way this plate has them.
    ///
    /// # Errors
    /// Where arcs are wanted and the horizon does not cut both tropics.
    pub fn unequal_hour(&self, hour: UnequalHour) -> Result<LineShape, NoLine> {
        match hour.number() {
            6 => Ok(LineShape::Circline(self.meridian())),
            0 | 12 => Ok(LineShape::Circline(self.horizon())),
            _ => match self.hour_lines {
                HourLines::Curves => Ok(LineShape::HourCurve(HourCurve::new(
                    self.night_arcs(),
                    hour,
                ))),
                HourLines::Arcs => {
                    let [inner, middle, outer] = self.hour_points(hour)?;
                    let arc = Circline::through(inner, middle, outer);
                    Ok(LineShape::Circline(
                        self.placed(arc.unwrap_or_else(|| self.meridian())),
                    ))
                }
            },
        }
    }

    /// What the horizon leaves below of each circle round the pole.
    #[must_use]
    pub fn night_arcs(&self) -> NightArcs {
        self.nights
    }

    /// The points through which an unequal-hour arc is drawn: where the hour
    /// divides the night arcs of the inner tropic, the equator and the outer
    /// tropic, before the plate is turned in its notch.
    ///
    /// # Errors
    /// Beyond the polar circles, where the horizon does not cut the tropics.
    pub fn hour_points(&self, hour: UnequalHour) -> Result<[Point; 3], NoLine> {
        let thirds = self.thirds.ok_or(NoLine {
            line: LineId::UnequalHour(hour),
            why: "beyond the polar circle the horizon does not cut both tropics, so the \
                  three points of the arc do not exist",
        })?;
        Ok(
            thirds
                .map(|(radius_mm, night)| Point::polar(radius_mm, night.at(hour.part_of_night()))),
        )
    }

    /// The radii of the inner and the outer tropic, in millimetres.
    pub(crate) fn tropic_radii(&self) -> (f64, f64) {
        (self.tropics_mm[0], self.tropics_mm[1])
    }

    /// Whether a point lies below the horizon, or on it.
    #[must_use]
    pub fn below(&self, p: Point) -> bool {
        self.horizon().value(p) >= -SLACK * self.projection.equator_mm()
    }

    fn within_tropics(&self, p: Point) -> bool {
        let (inner, outer) = self.tropic_radii();
        let radius = p.radius();
        radius >= inner * (1.0 - SLACK) - self.slack_mm
            && radius <= outer * (1.0 + SLACK) + self.slack_mm
    }

    fn tropic(&self, side: f64) -> Circline {
        let declination = Latitude::from_deg(self.obliquity.deg() * side).unwrap_or_default();
        self.projection.parallel(declination)
    }

    /// The two tropics.
    #[must_use]
    pub fn tropics(&self) -> [Circline; 2] {
        [self.tropic(1.0), self.tropic(-1.0)]
    }

    /// Turned with the plate.
    fn placed(&self, line: Circline) -> Circline {
        if self.turned == Angle::ZERO {
            return line;
        }
        line.turned(self.turned)
    }

    pub(crate) fn zenith(&self) -> Direction {
        zenith(self.latitude)
    }

    /// Whether it is the plate of a pole, on whose horizon no side is the eastern.
    pub(crate) fn is_of_a_pole(&self) -> bool {
        self.latitude.deg().abs() >= 90.0
    }

    /// The point of the horizon at an azimuth, counted from north by east.
    pub(crate) fn horizontal(&self, azimuth: Angle) -> Direction {
        let (sin, cos) = azimuth.sin_cos();
        [-self.latitude.sin() * cos, -sin, self.latitude.cos() * cos]
    }
}

pub(crate) fn zenith(latitude: Latitude) -> Direction {
    [latitude.cos(), 0.0, latitude.sin()]
}

pub(crate) fn cross(u: Direction, v: Direction) -> Direction {
    [
        u[1] * v[2] - u[2] * v[1],
        u[2] * v[0] - u[0] * v[2],
        u[0] * v[1] - u[1] * v[0],
    ]
}

pub(crate) fn unit(v: Direction) -> Direction {
    let length = v.iter().map(|x| x * x).sum::<f64>().sqrt();
    if length < 1e-12 {
        // At a pole the axis of the houses is undefined; the horizon stands in.
        return [0.0, 0.0, 1.0];
    }
    v.map(|x| x / length)
}
