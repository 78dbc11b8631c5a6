use sky::{Angle, Latitude};

use crate::circline::Circline;
use crate::instrument::Instrument;
use crate::plate::{Plate, cross, unit, zenith};
use crate::point::Point;
use crate::projection::{Direction, Projection};
use crate::specification::{Hemisphere, HouseLines};
use crate::unequal_hour::NightArcs;
use sky::House;

/// A method of houses, by the lines with which it divides the sky.
///
/// The lines are constructed over a plate and the ecliptic as it stands, by circles and
/// straight lines; where the cusps are is seen where they cross the ecliptic.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Division {
    /// Hour circles through thirds of the ascendant's own semi-arcs.
    Alcabitius,
    /// Circles through north and south and every 30th degree of the equator.
    Regiomontanus,
    /// The same through every 30th degree of the prime vertical.
    Campanus,
    /// Unequal-hour lines, of the night and of the day.
    Placidus,
    /// Circles of latitude through thirds of the ecliptic's quadrants.
    Porphyry,
    /// Circles of latitude through every 30th degree from the ascendant.
    Equal,
    /// Circles of latitude through the beginnings of the signs.
    WholeSign,
    /// Circles of latitude through every 30th degree from the midheaven.
    EqualFromMidheaven,
    /// Hour circles through every 30th degree of the equator from the meridian.
    Meridian,
    /// The same from the ascendant's own hour circle.
    EquatorFromAscendant,
    /// Circles of latitude through every 30th degree of the equator from the meridian.
    Morinus,
    /// Horizons turned by thirds of the midheaven's semi-arc.
    Koch,
    /// Horizons of lesser latitudes through every 30th degree of the equator.
    Topocentric,
}

impl Division {
    /// The horizon or the meridian where the line of an eastern house, counted from the
    /// tenth, is one of them.
    fn on_an_angle(self, place: u8) -> Option<HouseCourse> {
        let (meridian, horizon) = match self {
            Division::Alcabitius
            | Division::Regiomontanus
            | Division::Campanus
            | Division::Placidus
            | Division::Porphyry
            | Division::Koch
            | Division::Topocentric => (true, true),
            Division::Meridian | Division::EqualFromMidheaven => (true, false),
            Division::Equal | Division::EquatorFromAscendant => (false, true),
            Division::WholeSign | Division::Morinus => (false, false),
        };
        match place {
            0 if meridian => Some(HouseCourse::Meridian),
            3 if horizon => Some(HouseCourse::Horizon),
            _ => None,
        }
    }
}

/// The line of a house, over plate and rete.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HouseLine {
    /// The house that begins at it.
    pub house: House,
    /// What it follows.
    pub course: HouseCourse,
}

/// What the line of a house follows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum HouseCourse {
    /// The horizon.
    Horizon,
    /// The meridian or midnight line.
    Meridian,
    /// Half of a great circle.
    Half(HalfCircle),
    /// A curve through a part of every semi-arc.
    Curve(SemiArcCurve),
}

/// Half of a great circle: from a point by way of a second to the one opposite the first.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HalfCircle {
    /// The whole circle.
    pub on: Circline,
    /// Where all the half circles of a method begin: a pole, or the north point.
    pub from: Point,
    /// The point that the method divides something at.
    pub by: Point,
    /// Opposite to where it begins; none for the pole projected from.
    pub to: Option<Point>,
    /// Negative on the side of the half.
    side: Circline,
}

impl HalfCircle {
    fn new(projection: &Projection, from: Direction, by: Direction) -> Option<HalfCircle> {
        let along = dot(from, by);
        let towards = [0, 1, 2].map(|n| by[n] - along * from[n]);
        Some(HalfCircle {
            on: projection.section(unit(cross(from, by)), 0.0),
            from: projection.seen(from)?,
            by: projection.seen(by)?,
            to: projection.seen(from.map(|x| -x)),
            side: projection.section(unit(towards), 0.0),
        })
    }

    /// Whether a point of the circle lies on this half of it.
    #[must_use]
    pub fn carries(&self, p: Point) -> bool {
        self.side.value(p) <= 0.0
    }

    /// Where it crosses another great circle.
    #[must_use]
    pub fn meets(&self, other: &Circline) -> Option<Point> {
        self.on.meets(other).into_iter().find(|p| self.carries(*p))
    }
}

/// The curve through the same part of every semi-arc, above the horizon or below.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SemiArcCurve {
    nights: NightArcs,
    /// How many sixths of the night lie behind it from the western horizon, or of the
    /// day from the eastern.
    sixths: u8,
    by_day: bool,
    tropics_mm: (f64, f64),
}

impl SemiArcCurve {
    /// Of a house: the night is cut at VI to II, the day at XII to VIII.
    fn of(plate: &Plate, house: House) -> SemiArcCurve {
        let number = house.number();
        let (sixths, by_day) = match number {
            1 => (0, true),
            8..=12 => (13 - number, true),
            _ => (7 - number, false),
        };
        SemiArcCurve {
            nights: plate.night_arcs(),
            sixths,
            by_day,
            tropics_mm: plate.tropic_radii(),
        }
    }

    /// Its point at a distance from the pole, where the circle with this radius crosses
    /// the horizon.
    #[must_use]
    pub fn at_radius(&self, radius_mm: f64) -> Option<Point> {
        let night = self.nights.at_radius(radius_mm)?;
        let part = f64::from(self.sixths) / 6.0;
        let direction = if self.by_day {
            night.at(1.0) + (Angle::FULL_TURN - night.length) * part
        } else {
            night.at(part)
        };
        Some(Point::polar(radius_mm, direction))
    }

    /// Points of it, from the inner tropic to the outer; beyond the polar circles as far
    /// as days and nights follow each other.
    #[must_use]
    pub fn points(&self) -> Vec<Point> {
        const STEPS: u32 = 32;
        let (first, last) = self.nights.radii();
        let (inner, outer) = (self.tropics_mm.0.max(first), self.tropics_mm.1.min(last));
        if inner >= outer {
            return Vec::new();
        }
        (0..=STEPS)
            .filter_map(|n| {
                let turn = Angle::HALF_TURN * (f64::from(n) / f64::from(STEPS));
                let part = (1.0 - turn.cos()) / 2.0;
                self.at_radius(inner * libm::pow(outer / inner, part))
            })
            .collect()
    }
}

impl Instrument {
    /// Where the ecliptic crosses the eastern half of a plate's horizon, with the rete
    /// turned; none where it does not, as at a pole.
    #[must_use]
    pub fn eastern_crossing(&self, plate: &Plate, rete: Angle) -> Option<Point> {
        if plate.is_of_a_pole() {
            return None;
        }
        let met = plate.horizon().meets(&self.ecliptic(rete));
        met.into_iter().find(|p| p.turned(-plate.turned).y < 0.0)
    }

    /// Where the ecliptic crosses the noon half of the meridian, with the rete turned.
    #[must_use]
    pub fn noon_crossing(&self, plate: &Plate, rete: Angle) -> Option<Point> {
        let met = plate.meridian().meets(&self.ecliptic(rete));
        met.into_iter().find(|p| p.turned(-plate.turned).x > 0.0)
    }

    /// The lines by which a method divides the houses over a plate, I to XII, with the
    /// rete turned; none where nothing rises or, for koch, the midheaven's degree neither
    /// rises nor sets.
    ///
    /// Whether the cusps that they make are in order is not asked here.
    #[must_use]
    pub fn house_lines_of(
        &self,
        division: Division,
        plate: &Plate,
        rete: Angle,
    ) -> Option<Vec<HouseLine>> {
        let over = Over {
            instrument: self,
            plate,
            rete,
            ascendant: self.eastern_crossing(plate, rete)?,
            midheaven: self.noon_crossing(plate, rete)?,
        };
        House::ALL
            .into_iter()
            .map(|house| {
                let course = over.course(division, house)?;
                Some(HouseLine { house, course })
            })
            .collect()
    }
}

/// The ecliptic as it stands over a plate.
struct Over<'a> {
    instrument: &'a Instrument,
    plate: &'a Plate,
    rete: Angle,
    ascendant: Point,
    midheaven: Point,
}

impl Over<'_> {
    fn course(&self, division: Division, house: House) -> Option<HouseCourse> {
        // The six eastern houses from the tenth, and the western ones opposite them.
        let eastern = matches!(house.number(), 1..=3 | 10..=12);
        let in_the_east = if eastern { house } else { house.opposite() };
        let place = (in_the_east.number() + 2) % 12;
        if let Some(angle) = division.on_an_angle(place) {
            return Some(angle);
        }
        let thirds = f64::from(place);
        let even = -Angle::from_deg(30.0 * thirds);
        let (from, by) = match division {
            Division::Placidus => {
                return Some(HouseCourse::Curve(SemiArcCurve::of(self.plate, house)));
            }
            Division::Alcabitius => (self.pole(), equator(self.third_of_semi_arc(thirds))),
            Division::Meridian => (self.pole(), equator(even)),
            Division::EquatorFromAscendant => {
                let first = self.ascendant.direction() + Angle::QUARTER_TURN;
                (self.pole(), equator(first + even))
            }
            Division::Regiomontanus => self.position(HouseLines::Regiomontanus, in_the_east),
            Division::Campanus => self.position(HouseLines::Campanus, in_the_east),
            Division::Morinus => (self.ecliptic_pole(), equator(even)),
            Division::Porphyry => self.latitude_circle(self.third_of_quadrant(thirds)),
            Division::Equal => {
                self.latitude_circle(self.degree(self.ascendant) - Angle::QUARTER_TURN - even)
            }
            Division::WholeSign => {
                let sign = (self.degree(self.ascendant).in_turn().deg() / 30.0).floor() * 30.0;
                self.latitude_circle(Angle::from_deg(sign) - Angle::QUARTER_TURN - even)
            }
            Division::EqualFromMidheaven => {
                self.latitude_circle(self.degree(self.midheaven) - even)
            }
            Division::Koch => self.turned_horizon(thirds)?,
            Division::Topocentric => self.lesser_horizon(place),
        };
        let by = if eastern { by } else { by.map(|x| -x) };
        let half = HalfCircle::new(self.instrument.projection(), from, by)?;
        Some(HouseCourse::Half(half))
    }

    /// The pole in the middle of the plate.
    fn pole(&self) -> Direction {
        [0.0, 0.0, self.sign()]
    }

    fn sign(&self) -> f64 {
        match self.instrument.projection().hemisphere() {
            Hemisphere::North => 1.0,
            Hemisphere::South => -1.0,
        }
    }

    /// The ecliptic's pole on the plate's own side.
    fn ecliptic_pole(&self) -> Direction {
        self.ecliptic(Angle::ZERO, Latitude::asin(self.sign()))
    }

    fn ecliptic(&self, longitude: Angle, latitude: Latitude) -> Direction {
        let rete = self.instrument.rete();
        about_pole(rete.ecliptic_direction(longitude, latitude), self.rete)
    }

    /// The hour angle to which an alcabitius line runs: from the meridian in thirds of
    /// the ascendant's diurnal semi-arc, and then of its nocturnal one.
    fn third_of_semi_arc(&self, thirds: f64) -> Angle {
        let diurnal = (-self.ascendant.direction()).in_turn();
        let nocturnal = Angle::HALF_TURN - diurnal;
        let beyond = (thirds - 3.0).max(0.0);
        -(diurnal * (thirds.min(3.0) / 3.0) + nocturnal * (beyond / 3.0))
    }

    /// A circle through the north and south points of the horizon.
    fn position(&self, lines: HouseLines, house: House) -> (Direction, Direction) {
        let north = self.plate.horizontal(Angle::ZERO);
        // It begins at the one of the two that lies within the plate.
        let from = north.map(|x| x * self.sign());
        (from, self.plate.house_point(lines, house))
    }

    /// The degree of the zodiac at a point of the ecliptic.
    fn degree(&self, on_ecliptic: Point) -> Angle {
        self.instrument.longitude(on_ecliptic, self.rete)
    }

    /// From the ecliptic's pole through a degree.
    fn latitude_circle(&self, degree: Angle) -> (Direction, Direction) {
        let by = self.ecliptic(degree, Latitude::ZERO);
        (self.ecliptic_pole(), by)
    }

    /// The degree that cuts the quadrants of the ecliptic in thirds.
    fn third_of_quadrant(&self, thirds: f64) -> Angle {
        let midheaven = self.degree(self.midheaven);
        let quadrant = (self.degree(self.ascendant) - midheaven).in_turn();
        let rest = Angle::HALF_TURN - quadrant;
        let beyond = (thirds - 3.0).max(0.0);
        midheaven + quadrant * (thirds.min(3.0) / 3.0) + rest * (beyond / 3.0)
    }

    /// The horizon on which the degrees stand that rise by thirds of the midheaven's
    /// diurnal semi-arc before now, or after.
    fn turned_horizon(&self, thirds: f64) -> Option<(Direction, Direction)> {
        let night = self.plate.night_arcs().at_radius(self.midheaven.radius())?;
        let diurnal = (Angle::FULL_TURN - night.length) / 2.0;
        let turned = diurnal * ((3.0 - thirds) / 3.0);
        Some(self.horizon_of(self.plate.latitude, turned))
    }

    /// The horizon of the latitude whose tangent is a third or two of the plate's, through
    /// its 30th degree of the equator.
    fn lesser_horizon(&self, place: u8) -> (Direction, Direction) {
        let thirds = if matches!(place, 1 | 5) { 1.0 } else { 2.0 };
        let pole = Angle::atan2(self.plate.latitude.tan() * thirds / 3.0, 1.0);
        let turned = Angle::from_deg(90.0 - 30.0 * f64::from(place));
        let latitude = Latitude::from_deg(pole.deg()).unwrap_or_default();
        let (from, by) = self.horizon_of(latitude, turned);
        // The degree that goes with it is the one that turns into the crossing of the
        // equator's own hour circle as the latitude grows less; beyond the polar circles
        // it may stand in the west.
        let sign = dot(from, self.ecliptic_pole()).signum();
        (from, by.map(|x| x * sign))
    }

    /// From the north point of a horizon by way of the east, turned about the pole.
    fn horizon_of(&self, latitude: Latitude, turned: Angle) -> (Direction, Direction) {
        let [up, _, along] = zenith(latitude);
        let north = [-along, 0.0, up].map(|x| x * self.sign());
        let east = [0.0, -1.0, 0.0];
        (about_pole(north, turned), about_pole(east, turned))
    }
}

/// The point of the equator at an hour angle.
fn equator(hour_angle: Angle) -> Direction {
    let (sin, cos) = hour_angle.sin_cos();
    [cos, sin, 0.0]
}

/// Carried round the pole, onward in hour angle.
fn about_pole([x, y, z]: Direction, by: Angle) -> Direction {
    let (sin, cos) = by.sin_cos();
    [x * cos - y * sin, x * sin + y * cos, z]
}

fn dot(u: Direction, v: Direction) -> f64 {
    u.iter().zip(v).map(|(x, y)| x * y).sum()
}
