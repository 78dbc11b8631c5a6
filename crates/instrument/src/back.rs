use sky::{Angle, Instant, Sky};

use crate::circline::Circline;
use crate::date_scale::{DateScale, YearDay};
use crate::length::Length;
use crate::line::LineId;
use crate::point::Point;
use crate::specification::{CalendarCircle, DateFrom, Parts, Specification};
use crate::stroke::Stroke;

/// The back as geometry: its scales and where their strokes stand.
///
/// Its plane has its own axes: x runs from the centre to the throne, y to the
/// right as one looks at the back, so that a direction is a bearing clockwise
/// from the throne. The head of Aries stands on the left and the signs run
/// against the clock, so that Capricorn begins at the throne.
#[derive(Clone, Debug)]
pub struct Back {
    /// The radii of its bands.
    pub bands: BackBands,
    dates: DateScale,
    eccentric: Option<EccentricCircle>,
    equation: Vec<f64>,
}

/// The radii of the back's bands, in millimetres, from the outside in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BackBands {
    /// The outer edge of the altitude scale.
    pub altitude: f64,
    /// Where the altitude scale ends and the zodiac scale begins.
    pub zodiac: f64,
    /// Where the zodiac scale ends and the calendar begins.
    pub calendar: f64,
    /// Where the calendar ends and the equation of time begins.
    pub equation: f64,
    /// Where the equation of time ends, and rings of the zodiac begin.
    pub rings: f64,
    /// Where these end, if there are any: the inner field with its quadrants.
    pub field: f64,
    /// The circle on which the corners of the shadow square stand: the field's edge, or the
    /// inner edge of a scale of cotangents.
    pub shadow: f64,
}

/// A calendar circle divided into equal days, about a centre of its own.
///
/// Seen from the centre of the back, equal arcs of such a circle grow and shrink
/// as the Sun's days do, with a displacement of twice the eccentricity of the
/// Earth's path. What is left is below 0.03° (the equation of the centre's second
/// term is 0.02°, of which the construction keeps a part).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EccentricCircle {
    /// Its centre.
    pub centre: Point,
    /// The radius of its outer edge, in millimetres.
    pub radius_mm: f64,
    /// The bearing, about its own centre, of the New Year.
    new_year: Angle,
}

/// Days in a turn of the eccentric calendar circle.
const DAYS: f64 = 365.2425;

/// The number of parts of a side of the shadow square: the twelve digits of a gnomon.
pub const SHADOW_POINTS: u8 = 12;

/// The digits of the gnomon of the right scale of cotangents, and the feet of the left one's.
const GNOMON_DIGITS: u8 = 12;
const GNOMON_FEET: u8 = 7;

impl BackBands {
    /// Of a mater with this diameter.
    pub(crate) fn of(diameter: Length, parts: &Parts) -> BackBands {
        let mater = diameter.mm() / 2.0;
        let rings = mater * 0.515;
        #[expect(clippy::cast_precision_loss, reason = "four rings at most")]
        let field = rings - mater * 0.045 * parts.rings.len() as f64;
        BackBands {
            altitude: mater * 0.985,
            zodiac: mater * 0.895,
            calendar: mater * 0.79,
            equation: mater * 0.665,
            rings,
            field,
            shadow: if parts.cotangents { field * 0.9 } else { field },
        }
    }
}

impl Back {
    pub(crate) fn of(specification: &Specification) -> Back {
        let bands = BackBands::of(specification.diameter, &specification.parts);
        let dates = DateScale::divided(DateFrom::Zodiac, &specification.date_scale);
        let eccentric = match specification.parts.calendar_circle {
            CalendarCircle::Concentric => None,
            CalendarCircle::Eccentric => Some(EccentricCircle::fitted(&dates, bands.calendar)),
        };
        let equation = dates
            .midnights()
            .iter()
            .map(|jd_ut| {
                Sky::at(Instant::from_jd_ut(*jd_ut)).map_or(0.0, |sky| sky.equation_of_time_s())
            })
            .collect();
        Back {
            bands,
            dates,
            eccentric,
            equation,
        }
    }

    /// The bearing of an altitude, on the right or the left of the throne.
    #[must_use]
    pub fn altitude(&self, altitude: Angle, on_the_right: bool) -> Angle {
        let from_throne = Angle::QUARTER_TURN - altitude;
        if on_the_right {
            from_throne
        } else {
            -from_throne
        }
    }

    /// The bearing of a degree of the zodiac.
    #[must_use]
    pub fn zodiac(&self, longitude: Angle) -> Angle {
        (-Angle::QUARTER_TURN - longitude).in_turn()
    }

    /// The degree of the zodiac at a bearing.
    #[must_use]
    pub fn longitude(&self, bearing: Angle) -> Angle {
        (-Angle::QUARTER_TURN - bearing).in_turn()
    }

    /// The dates of the calendar scale.
    #[must_use]
    pub fn dates(&self) -> &DateScale {
        &self.dates
    }

    /// The eccentric calendar circle, where the calendar is one.
    #[must_use]
    pub fn eccentric(&self) -> Option<&EccentricCircle> {
        self.eccentric.as_ref()
    }

    /// The point of a date at a depth below the calendar's outer edge.
    #[must_use]
    pub fn date(&self, date: YearDay, depth_mm: f64) -> Point {
        match &self.eccentric {
            None => Point::polar(
                self.bands.calendar - depth_mm,
                self.zodiac(self.dates.at(date)),
            ),
            Some(circle) => circle.point(self.dates.days_gone(date), depth_mm),
        }
    }

    /// The degree of the zodiac that the alidade gives for a date.
    #[must_use]
    pub fn sun(&self, date: YearDay) -> Angle {
        self.longitude(self.date(date, 0.0).direction())
    }

    /// The radius at which an equation of time, in seconds, is read in its band.
    #[must_use]
    pub fn equation_radius(&self, seconds: f64) -> f64 {
        let (outer, inner) = (self.bands.equation, self.bands.rings);
        // Twenty minutes either way: the equation keeps within 16.5 in our centuries
        // and within 18 over the span of the ephemeris.
        outer.midpoint(inner) + (outer - inner) * 0.5 * seconds / (20.0 * 60.0)
    }

    /// The equation of time at a radius of its band, in seconds.
    #[must_use]
    pub fn equation_at(&self, radius_mm: f64) -> f64 {
        let (outer, inner) = (self.bands.equation, self.bands.rings);
        (radius_mm - outer.midpoint(inner)) / ((outer - inner) * 0.5) * 20.0 * 60.0
    }

    /// The curve of the equation of time through the year, by a point for the
    /// beginning of each day: the alidade on the date crosses it there.
    #[must_use]
    pub fn equation_curve(&self) -> Vec<Point> {
        let strokes = self.dates.strokes().iter().zip(&self.equation);
        strokes
            .enumerate()
            .map(|(day, (longitude, seconds))| {
                #[expect(clippy::cast_precision_loss, reason = "a day of the year")]
                let bearing = match &self.eccentric {
                    None => self.zodiac(*longitude),
                    Some(circle) => circle.point(day as f64, 0.0).direction(),
                };
                Point::polar(self.equation_radius(*seconds), bearing)
            })
            .collect()
    }

    /// Half the breadth of the shadow square, which is its height too: its corners
    /// stand on the field's edge, or on that of the scale of cotangents.
    #[must_use]
    pub fn shadow_side(&self) -> f64 {
        self.bands.shadow * std::f64::consts::FRAC_1_SQRT_2
    }

    /// The bearing of a cotangent in the lower half of the field: of the altitude whose
    /// shadow is so many of the parts of its gnomon. Twelve digits are on the right, seven
    /// feet on the left (W. H. Morley, *Description of a Planispheric Astrolabe*, 1856, from
    /// memory).
    #[must_use]
    pub fn cotangent(&self, shadow: f64, on_the_right: bool) -> Angle {
        let gnomon = if on_the_right {
            GNOMON_DIGITS
        } else {
            GNOMON_FEET
        };
        let altitude = Angle::from_rad(libm::atan2(f64::from(gnomon), shadow));
        // The alidade's lower end is as far below the level as its upper one is above it.
        Angle::HALF_TURN - self.altitude(altitude, on_the_right)
    }

    /// The point of the *umbra recta*, on the square's lower side: the shadow, in
    /// twelfths, of an upright gnomon. The alidade crosses it at the altitude whose
    /// cotangent is points/12.
    #[must_use]
    pub fn umbra_recta(&self, points: f64, on_the_right: bool) -> Point {
        let side = self.shadow_side();
        let out = side * points / f64::from(SHADOW_POINTS);
        Point {
            x: -side,
            y: if on_the_right { out } else { -out },
        }
    }

    /// The point of the *umbra versa*, on the square's upright sides: the shadow, in
    /// twelfths, of a gnomon that stands out from a wall. The alidade crosses it at
    /// the altitude whose tangent is points/12.
    #[must_use]
    pub fn umbra_versa(&self, points: f64, on_the_right: bool) -> Point {
        let side = self.shadow_side();
        Point {
            x: -side * points / f64::from(SHADOW_POINTS),
            y: if on_the_right { side } else { -side },
        }
    }

    /// The arc of an unequal hour in the left upper quadrant, 1 to 6 from sunrise or
    /// sunset.
    ///
    /// With the alidade on the Sun's noon altitude A the sixth arc gives the length
    /// sin A along it; carried to the Sun's altitude a, that length meets the arc of
    /// the hour h with sin a = sin A · sin 15°h. This is exact at the equinoxes and
    /// on the equator, and elsewhere the old approximation.
    #[must_use]
    pub fn quadrant_hour(&self, hour: u8) -> Option<Stroke> {
        if !(1..=6).contains(&hour) {
            return None;
        }
        let at_limb = Angle::from_deg(15.0 * f64::from(hour));
        // A circle through the centre, with its own centre on the upright edge.
        let centre = Point {
            x: self.bands.field / (2.0 * at_limb.sin()),
            y: 0.0,
        };
        // The sixth ends on the upright edge itself.
        let end = Point::polar(self.bands.field, self.altitude(at_limb, false));
        let from = (Point::POLE - centre).direction();
        let to = (end - centre).direction();
        Some(Stroke::Arc {
            centre,
            radius_mm: centre.radius(),
            from,
            // From the centre to the left and up.
            sweep: (to - from).in_turn(),
        })
    }

    /// The bearing at which the alidade stands for a point.
    #[must_use]
    pub fn alidade_over(&self, p: Point) -> Angle {
        p.direction().in_turn()
    }

    /// The circles that bound the bands, as circles and lines to be read at.
    #[must_use]
    pub fn edge(&self, line: &LineId) -> Option<Circline> {
        let radius = match line {
            LineId::AltitudeScale => self.bands.altitude,
            LineId::ZodiacScale => self.bands.zodiac,
            LineId::CalendarScale => self.bands.calendar,
            LineId::EquationOfTime => self.bands.equation,
            LineId::LimbDegrees
            | LineId::LimbHours
            | LineId::TropicOfCancer
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
            | LineId::House(..)
            | LineId::Ecliptic
            | LineId::DateRing
            | LineId::StarPointer(_)
            | LineId::Almuri
            | LineId::RuleEdge
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
            | LineId::EquationMinutes => return None,
        };
        Some(Circline::circle(Point::POLE, radius))
    }
}

impl EccentricCircle {
    /// The circle whose equal days come nearest the Sun's, by least squares.
    fn fitted(dates: &DateScale, outer_mm: f64) -> EccentricCircle {
        let strokes = dates.strokes();
        let first = strokes.first().copied().unwrap_or_default();
        // The New Year's place and the displacement, towards 0° and 90° of longitude,
        // for a circle of radius 1.
        let mut fit = [first.rad(), 0.0, 0.0];
        for _ in 0..6 {
            let mut normal = [[0.0; 3]; 3];
            let mut right = [0.0; 3];
            for (day, stroke) in strokes.iter().enumerate() {
                #[expect(clippy::cast_precision_loss, reason = "a day of the year")]
                let mean = fit[0] + std::f64::consts::TAU * day as f64 / DAYS;
                let (sin, cos) = libm::sincos(mean);
                let (x, y) = (cos + fit[1], sin + fit[2]);
                let square = x * x + y * y;
                let seen = Angle::from_rad(libm::atan2(y, x));
                let rest = seen.to(*stroke).rad();
                // How the direction y/x changes with the three.
                let row = [(x * cos + y * sin) / square, -y / square, x / square];
                for (i, a) in row.iter().enumerate() {
                    for (j, b) in row.iter().enumerate() {
                        normal[i][j] += a * b;
                    }
                    right[i] += a * rest;
                }
            }
            let step = solved(normal, right);
            for (value, change) in fit.iter_mut().zip(step) {
                *value += change;
            }
        }
        // The circle keeps within its band on the side to which it leans.
        let shift = Point {
            x: fit[1],
            y: fit[2],
        };
        let radius_mm = outer_mm / (1.0 + shift.radius());
        let towards = -Angle::QUARTER_TURN - shift.direction();
        EccentricCircle {
            centre: Point::polar(shift.radius() * radius_mm, towards),
            radius_mm,
            new_year: -Angle::QUARTER_TURN - Angle::from_rad(fit[0]),
        }
    }

    /// The point of a day, counted from the New Year, at a depth below the edge.
    #[must_use]
    pub fn point(&self, days: f64, depth_mm: f64) -> Point {
        let bearing = self.new_year - Angle::FULL_TURN * (days / DAYS);
        self.centre + Point::polar(self.radius_mm - depth_mm, bearing)
    }
}

/// Cramer's rule for three equations; zeros where they do not determine the three.
fn solved(m: [[f64; 3]; 3], right: [f64; 3]) -> [f64; 3] {
    let determinant = |m: [[f64; 3]; 3]| {
        let [[a, b, c], [d, e, f], [g, h, i]] = m;
        a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)
    };
    let whole = determinant(m);
    if whole.abs() < 1e-12 {
        return [0.0; 3];
    }
    let mut found = [0.0; 3];
    for (column, value) in found.iter_mut().enumerate() {
        let mut replaced = m;
        for (row, right) in replaced.iter_mut().zip(right) {
            if let Some(cell) = row.get_mut(column) {
                *cell = right;
            }
        }
        *value = determinant(replaced) / whole;
    }
    found
}
