use sky::{Angle, Latitude};

use crate::circline::Circline;
use crate::hour_net::HourNet;
use crate::instrument::Instrument;
use crate::line::{LineId, Minutes};
use crate::plate::Plate;
use crate::point::Point;
use crate::specification::{Hemisphere, HouseLines};
use crate::stroke::{Line, Stroke, clipped};
use crate::trace::Trace;
use crate::unequal_hour::UnequalHour;
use sky::House;

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
        let tops = self.azimuth_tops(latitude);
        let hours = HourNet::of(&plate);
        let gap_mm = self.fineness().least_gap().mm();
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
                    .filter_map(House::from_number)
                    .map(|house| LineId::House(method, house)),
            );
        }
        ids.into_iter()
            .map(|id| Line {
                strokes: match &id {
                    LineId::UnequalHour(hour) => hours.strokes(&plate, *hour, gap_mm),
                    LineId::House(method, house) => {
                        house_strokes(&plate, (*method, *house), &edge, gap_mm)
                    }
                    LineId::Azimuth(azimuth) => match top_of(*azimuth, &tops) {
                        Some(top) => azimuth_strokes(&plate, &id, &edge, top),
                        None => Vec::new(),
                    },
                    other @ (LineId::LimbDegrees
                    | LineId::LimbHours
                    | LineId::TropicOfCancer
                    | LineId::Equator
                    | LineId::TropicOfCapricorn
                    | LineId::MeridianLine
                    | LineId::MidnightLine
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
                    | LineId::EquationOfTime
                    | LineId::EquationMinutes) => strokes(&plate, other, &edge),
                },
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

    /// How high the azimuths of a plate run, in degrees of altitude, finest first: a step
    /// and the almucantar at which those end that are of no coarser one. They crowd
    /// towards the zenith, so the finer end first, as on old plates; the meridian and the
    /// prime vertical alone run through. A step that has room nowhere is left out.
    #[must_use]
    pub fn azimuth_tops(&self, latitude: Latitude) -> Vec<(u8, u8)> {
        let plate = self.plate(latitude);
        let gap_mm = self.fineness().least_gap().mm();
        let top = |step: u8| {
            let apart = |altitude: &u8| azimuths_apart(&plate, step, *altitude) >= gap_mm;
            let clear = (0..90_u8).take_while(apart).last()?;
            let top = clear - clear % self.almucantar_step();
            (top > 0).then_some((step, top))
        };
        let steps = ending_apart(self.azimuth_step()).iter();
        steps.filter_map(|step| top(*step)).collect()
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

/// The steps of azimuths that end at almucantars of their own, in degrees, finest first:
/// each a part of the next, and the last of a right angle.
fn ending_apart(step: u8) -> &'static [u8] {
    match step {
        5 => &[5, 10, 30],
        10 => &[10, 30],
        15 => &[15, 30],
        30 => &[30],
        _ => &[],
    }
}

/// The altitude at which an azimuth ends: that of the coarsest step it belongs to.
fn top_of(azimuth: Minutes, tops: &[(u8, u8)]) -> Option<Minutes> {
    let belongs = |(step, _): &&(u8, u8)| azimuth.is_multiple_of(*step);
    let (_, top) = tops.iter().rev().find(belongs)?;
    Some(Minutes::from_whole_deg(i32::from(*top)))
}

/// The least distance of neighbours among azimuths of a step, in millimetres, where they
/// cross the circle of an altitude.
fn azimuths_apart(plate: &Plate, step: u8, altitude: u8) -> f64 {
    let almucantar = plate.almucantar(Minutes::from_whole_deg(i32::from(altitude)).latitude());
    (0..360_u16)
        .step_by(usize::from(step))
        .flat_map(|deg| {
            let line = LineId::Azimuth(Minutes::from_whole_deg(i32::from(deg)));
            let azimuth = Angle::from_deg(f64::from(deg));
            let met = almucantar.meets(&plate.azimuth(azimuth)).into_iter();
            let on = met.filter(move |p| plate.carries(&line, *p));
            on.map(move |p| {
                let step = Angle::from_deg(f64::from(step));
                let [one, other] = [azimuth - step, azimuth + step]
                    .map(|beside| plate.azimuth(beside).distance_mm(p));
                one.min(other)
            })
        })
        .fold(f64::INFINITY, f64::min)
}

/// What is drawn of an azimuth: from the horizon to the altitude at which it ends.
fn azimuth_strokes(plate: &Plate, id: &LineId, edge: &Circline, top: Minutes) -> Vec<Stroke> {
    let LineId::Azimuth(azimuth) = id else {
        return Vec::new();
    };
    let line = plate.azimuth(Angle::from_deg(azimuth.deg()));
    let (horizon, top) = (plate.horizon(), plate.almucantar(top.latitude()));
    clipped(&line, &[*edge, horizon, top, plate.meridian()], |p| {
        let within = edge.value(p) <= 1e-9 && horizon.value(p) <= 0.0 && top.value(p) >= 0.0;
        within && plate.carries(id, p)
    })
}

/// What is drawn of a house line: below the horizon, as far as it stands clear of its
/// neighbours. All of them meet where the horizon and the meridian do.
fn house_strokes(
    plate: &Plate,
    house: (HouseLines, House),
    edge: &Circline,
    gap_mm: f64,
) -> Vec<Stroke> {
    let (method, house) = house;
    let (line, horizon) = (plate.house(method, house), plate.horizon());
    let beside = [house.next(), house.before()].map(|house| plate.house(method, house));
    let apart = |p: Point| {
        let [one, other] = beside.map(|line| line.distance_mm(p));
        one.min(other)
    };
    let below = |p: Point| horizon.value(p) > 0.0;
    // Near the poles of the Earth the plate holds both ends of the horizon's axis.
    let ends = horizon.meets(&plate.meridian());
    let about = |radius: f64| {
        ends.points()
            .iter()
            .map(move |end| Circline::circle(*end, radius))
    };
    let clear = |radius: &f64| {
        about(*radius)
            .flat_map(|circle| line.meets(&circle))
            .filter(|p| below(*p))
            .all(|p| apart(p) >= gap_mm)
    };
    let mut radii = std::iter::successors(Some(gap_mm), |radius| Some(radius * 1.02)).take(400);
    let Some(radius) = radii.find(clear) else {
        return Vec::new();
    };
    let abouts: Vec<Circline> = about(radius).collect();
    let cutters: Vec<Circline> = [*edge, horizon].into_iter().chain(abouts.clone()).collect();
    clipped(&line, &cutters, |p| {
        let outside = abouts.iter().all(|circle| circle.value(p) > 0.0);
        edge.value(p) <= 1e-9 && below(p) && outside
    })
}

/// What is drawn of one of the plate's other lines, within the plate's edge.
fn strokes(plate: &Plate, id: &LineId, edge: &Circline) -> Vec<Stroke> {
    let within = |p: Point| edge.value(p) <= 1e-9;
    let horizon = plate.horizon();
    let above = |p: Point| horizon.value(p) <= 0.0;
    let Ok(Trace::Circline(line)) = plate.trace(id) else {
        return Vec::new();
    };
    match id {
        // Nothing else bounds them: the meridian runs from pole to edge.
        LineId::MeridianLine | LineId::MidnightLine => {
            let across =
                Circline::straight(Point::POLE, Point { x: 0.0, y: 1.0 }.turned(plate.turned));
            clipped(&line, &[*edge, across], |p| {
                within(p) && plate.carries(id, p)
            })
        }
        LineId::PrimeVertical => clipped(&line, &[*edge, horizon], |p| within(p) && above(p)),
        LineId::LimbDegrees
        | LineId::LimbHours
        | LineId::TropicOfCancer
        | LineId::Equator
        | LineId::TropicOfCapricorn
        | LineId::Horizon
        | LineId::Almucantar(_)
        | LineId::Azimuth(_)
        | LineId::Twilight
        | LineId::UnequalHour(_)
        | LineId::House(..)
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
        | LineId::EquationOfTime
        | LineId::EquationMinutes => clipped(&line, &[*edge], within),
    }
}
