use sky::{Angle, Latitude};

use crate::circline::Circline;
use crate::house::House;
use crate::instrument::Instrument;
use crate::line::{LineId, Minutes};
use crate::plate::Plate;
use crate::point::Point;
use crate::specification::{Hemisphere, HourLines};
use crate::stroke::{Line, Stroke, clipped};
use crate::trace::Trace;
use crate::unequal_hour::UnequalHour;

/// The points by which a true unequal-hour curve is drawn.
const CURVE_POINTS: u32 = 48;

/// Houses whose lines are engraved: those below the horizon. The lines of the
/// others are their continuations above it, and are left out.
const ENGRAVED_HOUSES: [u8; 4] = [2, 3, 5, 6];

impl Instrument {
    /// Every line engraved on the plate for a latitude, thinned to what the size
    /// carries, each clipped to the part that is drawn.
    #[must_use]
    pub fn plate_lines(&self, latitude: Latitude) -> Vec<Line> {
        let plate = self.plate(latitude);
        let edge = Circline::circle(Point::POLE, self.fineness().outer_tropic_mm());
        let mut ids = vec![
            LineId::TropicOfCancer,
            LineId::Equator,
            LineId::TropicOfCapricorn,
            LineId::MeridianLine,
            LineId::MidnightLine,
            LineId::Horizon,
        ];
        let almucantars = self.almucantar_step();
        ids.extend(
            (1..90_i32)
                .filter(|altitude| altitude % i32::from(almucantars) == 0)
                .map(|altitude| LineId::Almucantar(Minutes::from_whole_deg(altitude))),
        );
        match self.azimuth_step() {
            0 => {}
            step => ids.extend(
                (1..360_i32)
                    .filter(|azimuth| azimuth % i32::from(step) == 0 && azimuth % 90 != 0)
                    .map(|azimuth| LineId::Azimuth(Minutes::from_whole_deg(azimuth))),
            ),
        }
        ids.push(LineId::PrimeVertical);
        if self.specification().twilight {
            ids.push(LineId::Twilight);
        }
        ids.extend(
            UnequalHour::engraved()
                .filter(|hour| hour.number() != 6)
                .map(LineId::UnequalHour),
        );
        if let Some(method) = self.house_lines() {
            ids.extend(
                ENGRAVED_HOUSES
                    .into_iter()
                    .filter_map(House::new)
                    .map(|house| LineId::House(method, house)),
            );
        }
        ids.into_iter()
            .map(|id| Line {
                strokes: strokes(&plate, &id, &edge),
                id,
            })
            .filter(|line| !line.strokes.is_empty())
            .collect()
    }

    /// The lines of the plate of horizons: the eastern horizons of its latitudes
    /// between the tropics, shared out among four quarters so that neighbours stand
    /// apart, with the quarter in which each stands (0 to 3, by quarter turns).
    ///
    /// To use one, the plate's quarter is thought turned back: the horizon then lies
    /// as on the plate of its own latitude.
    #[must_use]
    pub fn horizon_lines(&self) -> Vec<(u8, Line)> {
        let mut latitudes = self.specification().parts.horizons.clone();
        latitudes.sort_by(|a, b| a.deg().total_cmp(&b.deg()));
        latitudes.dedup();
        let outer = Circline::circle(Point::POLE, self.fineness().outer_tropic_mm());
        let mut quarter = 0_u8;
        let mut lines = Vec::new();
        for latitude in latitudes {
            let plate = self.plate(latitude);
            let inner = self.projection().parallel(self.inner_tropic());
            let strokes = clipped(&plate.horizon(), &[outer, inner, plate.meridian()], |p| {
                outer.value(p) <= 1e-9 && inner.value(p) >= -1e-9 && p.y < 0.0
            });
            if strokes.is_empty() {
                continue;
            }
            let turn = Angle::QUARTER_TURN * f64::from(quarter);
            lines.push((
                quarter,
                Line {
                    id: LineId::HorizonOf(Minutes::nearest(latitude.deg())),
                    strokes: strokes.iter().map(|stroke| stroke.turned(turn)).collect(),
                },
            ));
            quarter = (quarter + 1) % 4;
        }
        lines
    }

    /// The declination of the inner tropic: of the pole's side.
    fn inner_tropic(&self) -> Latitude {
        let tropic = Latitude::from_deg(self.obliquity().deg()).unwrap_or_default();
        match self.specification().hemisphere {
            Hemisphere::North => tropic,
            Hemisphere::South => -tropic,
        }
    }

    /// The step between almucantars, in degrees.
    #[must_use]
    pub fn almucantar_step(&self) -> u8 {
        let stated = self.specification().almucantar_step;
        stated.unwrap_or_else(|| self.fineness().almucantar_step())
    }

    /// The step between azimuths, in degrees; 0 when none are drawn.
    #[must_use]
    pub fn azimuth_step(&self) -> u8 {
        let stated = self.specification().azimuth_step;
        stated.unwrap_or_else(|| self.fineness().azimuth_step())
    }

    /// The angles of the limb's strokes: hour angles, one for each division.
    pub fn limb_strokes(&self) -> impl Iterator<Item = Angle> {
        divisions(self.specification().limb_division)
    }

    /// The degrees of the zodiac that have a stroke on the ecliptic ring.
    pub fn ecliptic_strokes(&self) -> impl Iterator<Item = Angle> {
        divisions(self.specification().ecliptic_division)
    }
}

/// A turn cut into equal divisions.
fn divisions(division: Angle) -> impl Iterator<Item = Angle> {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "divisions are at least a quarter of a degree"
    )]
    let count = (Angle::FULL_TURN / division).round() as u32;
    (0..count).map(move |n| division * f64::from(n))
}

/// What is drawn of one of the plate's lines, within the plate's edge.
fn strokes(plate: &Plate, id: &LineId, edge: &Circline) -> Vec<Stroke> {
    let within = |p: Point| edge.value(p) <= 1e-9;
    let horizon = plate.horizon();
    let above = |p: Point| horizon.value(p) <= 0.0;
    match id {
        LineId::UnequalHour(hour) => hour_strokes(plate, *hour),
        _ => {
            let Ok(Trace::Circline(line)) = plate.trace(id) else {
                return Vec::new();
            };
            let meridian = plate.meridian();
            match id {
                // Nothing else bounds them: the meridian runs from pole to edge.
                LineId::MeridianLine | LineId::MidnightLine => {
                    let across = Circline::straight(
                        Point::POLE,
                        Point { x: 0.0, y: 1.0 }.turned(plate.turned),
                    );
                    clipped(&line, &[*edge, across], |p| {
                        within(p) && plate.carries(id, p)
                    })
                }
                LineId::Azimuth(_) => {
                    // Cut at the horizon, and at zenith and nadir, where the meridian crosses.
                    clipped(&line, &[*edge, horizon, meridian], |p| {
                        within(p) && above(p) && plate.carries(id, p)
                    })
                }
                LineId::PrimeVertical => {
                    clipped(&line, &[*edge, horizon], |p| within(p) && above(p))
                }
                LineId::House(..) => clipped(&line, &[*edge, horizon], |p| within(p) && !above(p)),
                _ => clipped(&line, &[*edge], within),
            }
        }
    }
}

/// An unequal-hour line, from the inner to the outer tropic; beyond the polar
/// circles a true curve is drawn as far as it goes and an arc not at all.
fn hour_strokes(plate: &Plate, hour: UnequalHour) -> Vec<Stroke> {
    match plate.hour_lines {
        HourLines::Arcs => {
            let Ok(points) = plate.hour_points(hour) else {
                return Vec::new();
            };
            vec![arc_through(points.map(|p| p.turned(plate.turned)))]
        }
        HourLines::Curves => {
            let (inner, outer) = plate.tropic_radii();
            let nights = plate.night_arcs();
            let (first, last) = nights.radii();
            let (inner, outer) = (inner.max(first), outer.min(last));
            if inner >= outer {
                return Vec::new();
            }
            let points: Vec<Point> = (0..=CURVE_POINTS)
                .filter_map(|n| {
                    // Close together at the ends: near the polar circles the night
                    // begins or ends there, and grows as a square root does.
                    let turn = Angle::HALF_TURN * (f64::from(n) / f64::from(CURVE_POINTS));
                    let part = (1.0 - turn.cos()) / 2.0;
                    // Even steps of the logarithm are even steps as one looks at it.
                    let radius = inner * (outer / inner).powf(part);
                    let night = nights.at_radius(radius)?;
                    Some(Point::polar(radius, night.at(hour.part_of_night())))
                })
                .collect();
            if points.len() < 2 {
                Vec::new()
            } else {
                vec![Stroke::Curve(points)]
            }
        }
    }
}

/// The arc from the first point by way of the second to the third.
pub(crate) fn arc_through([from, by, to]: [Point; 3]) -> Stroke {
    match Circline::through(from, by, to).and_then(|line| line.as_circle()) {
        None => Stroke::Segment { from, to },
        Some((centre, radius_mm)) => {
            let first = (from - centre).direction();
            let halfway = first.to((by - centre).direction());
            let whole = first.to((to - centre).direction());
            // The way round on which the second point lies.
            let sweep =
                if halfway.deg().signum() == whole.deg().signum() && halfway.abs() <= whole.abs() {
                    whole
                } else {
                    whole - Angle::FULL_TURN * whole.deg().signum()
                };
            Stroke::Arc {
                centre,
                radius_mm,
                from: first,
                sweep,
            }
        }
    }
}
