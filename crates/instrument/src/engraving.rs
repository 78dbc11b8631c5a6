use sky::{Angle, Latitude};

use crate::azimuths::{azimuth_strokes, top_of};
use crate::circline::Circline;
use crate::hour_net::HourNet;
use crate::instrument::Instrument;
use crate::line::LineId;
use crate::line_shape::LineShape;
use crate::minutes::Minutes;
use crate::plate::Plate;
use crate::point::Point;
use crate::specification::HouseLines;
use crate::stroke::{Line, Stroke, clipped};
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
        ids.extend(self.azimuths().map(LineId::Azimuth));
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
                    | LineId::SunArcs
                    | LineId::NoonAltitudes(_)
                    | LineId::EqualHour(_)
                    | LineId::Qibla(_)
                    | LineId::Cotangents
                    | LineId::ZodiacRing(_)
                    | LineId::EquationOfTime
                    | LineId::EquationMinutes) => strokes(&plate, other, &edge),
                },
                id,
            })
            .filter(|line| !line.strokes.is_empty())
            .collect()
    }

    /// The step between almucantars, in degrees.
    #[must_use]
    pub fn almucantar_step(&self) -> u8 {
        let stated = self.specification().almucantar_step;
        stated.unwrap_or_else(|| self.fineness().almucantar_step())
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
    let Ok(LineShape::Circline(line)) = plate.shape(id) else {
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
        | LineId::SunArcs
        | LineId::NoonAltitudes(_)
        | LineId::EqualHour(_)
        | LineId::Qibla(_)
        | LineId::Cotangents
        | LineId::ZodiacRing(_)
        | LineId::EquationOfTime
        | LineId::EquationMinutes => clipped(&line, &[*edge], within),
    }
}
