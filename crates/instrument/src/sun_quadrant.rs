use sky::{Angle, Latitude};

use crate::chord_grid::ChordGrid;
use crate::form::Quadrant;
use crate::instrument::Instrument;
use crate::point::Point;
use crate::qibla_curve::CurveLeg;
use crate::specification::Hemisphere;

/// The quadrant of the back in which the Sun's altitude is read for every degree of the
/// zodiac: at noon for some latitudes, or at every hour for one.
///
/// The arcs about the centre are degrees of the zodiac, evenly from the winter solstice,
/// which is the innermost, to the summer solstice, the outermost; both halves of the year
/// share them. A curve crosses the arc of the Sun's degree in the direction of its altitude,
/// so that the alidade laid over the crossing shows it on the limb (S. Münster, *Compositio
/// horologiorum*, 1531, on the quadrant for one region; W. H. Morley, *Description of a
/// Planispheric Astrolabe*, 1856, on noon altitudes; both from memory).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SunQuadrant {
    /// The radius of the arc of the winter solstice, in millimetres.
    pub winter_mm: f64,
    /// The radius of that of the summer solstice: the edge of the field.
    pub summer_mm: f64,
    obliquity: Angle,
    hemisphere: Hemisphere,
    gap_mm: f64,
}

/// Steps in which a curve is followed from solstice to solstice.
const STEPS: u16 = 180;

/// The winter solstice's arc, as a part of the summer solstice's.
const WINTER: f64 = 0.4;

impl Instrument {
    /// The quadrant of the Sun's altitudes, of the right upper quarter of the back.
    #[must_use]
    pub fn sun_quadrant(&self) -> SunQuadrant {
        let summer_mm = self.back().bands.field;
        SunQuadrant {
            winter_mm: WINTER * summer_mm,
            summer_mm,
            obliquity: self.obliquity(),
            hemisphere: self.specification().hemisphere,
            gap_mm: self.fineness().least_gap().mm(),
        }
    }
}

impl Instrument {
    /// The latitudes for which the quadrant of the Sun's altitudes is drawn: those of the
    /// specification or else of the plates, the first alone where it bears hours.
    #[must_use]
    pub fn sun_quadrant_latitudes(&self) -> Vec<Latitude> {
        let specification = self.specification();
        let stated = &specification.parts.quadrant_latitudes;
        let mut latitudes = if stated.is_empty() {
            specification.plates.clone()
        } else {
            stated.clone()
        };
        if specification.parts.quadrant == Quadrant::EqualHours {
            latitudes.truncate(1);
        }
        latitudes
    }

    /// The latitude of that quadrant nearest a place's, of those whose curve finds room.
    #[must_use]
    pub fn nearest_of_sun_quadrant(&self, place: Latitude) -> Latitude {
        let latitudes = self.sun_quadrant_latitudes();
        let wanted: Vec<(Latitude, u8)> = latitudes.iter().map(|latitude| (*latitude, 0)).collect();
        let drawn = self.sun_quadrant().curves(&wanted);
        let off = |latitude: &Latitude| (latitude.deg() - place.deg()).abs();
        let all = latitudes.iter().zip(&drawn);
        let with_room = all.filter(|(_, pieces)| !pieces.is_empty());
        let nearest = with_room
            .map(|(latitude, _)| *latitude)
            .min_by(|a, b| off(a).total_cmp(&off(b)));
        nearest.or(latitudes.first().copied()).unwrap_or(place)
    }
}

impl SunQuadrant {
    /// How far a degree of the zodiac is from the winter solstice, either way: 0° to 180°.
    fn after_winter(&self, longitude: Angle) -> Angle {
        let winter = match self.hemisphere {
            Hemisphere::North => -Angle::QUARTER_TURN,
            Hemisphere::South => Angle::QUARTER_TURN,
        };
        winter.to(longitude).abs()
    }

    /// The radius of the arc of a degree of the zodiac, in millimetres.
    #[must_use]
    pub fn radius(&self, longitude: Angle) -> f64 {
        self.radius_from_winter(self.after_winter(longitude))
    }

    /// The radius of the arc so far from the winter solstice's, 0° to 180°, in millimetres.
    #[must_use]
    pub fn radius_from_winter(&self, from_winter: Angle) -> f64 {
        let part = from_winter / Angle::HALF_TURN;
        self.winter_mm + (self.summer_mm - self.winter_mm) * part
    }

    /// The place of an altitude on the arc of a degree of the zodiac.
    #[must_use]
    pub fn place(&self, longitude: Angle, altitude: Angle) -> Point {
        Point::polar(self.radius(longitude), Angle::QUARTER_TURN - altitude)
    }

    /// The sine of the Sun's declination towards the pole that is up.
    fn declination_sine(&self, from_winter: Angle) -> f64 {
        -self.obliquity.sin() * from_winter.cos()
    }

    /// The Sun's altitude, so many equal hours before or after noon; negative below the
    /// horizon.
    fn altitude(&self, from_winter: Angle, latitude: Latitude, hours: f64) -> Angle {
        let sine = self.declination_sine(from_winter);
        altitude(sine, latitude, Angle::from_deg(15.0 * hours))
    }

    /// How far the arc of a degree is from that of the winter solstice, 0° to 180°.
    #[must_use]
    pub fn arc_of(&self, longitude: Angle) -> Angle {
        self.after_winter(longitude)
    }

    /// The width of a degree of the zodiac across the arcs, in millimetres.
    #[must_use]
    pub fn arcs_mm_per_degree(&self) -> f64 {
        (self.summer_mm - self.winter_mm) / 180.0
    }

    /// The declination, north positive, for which an arc is drawn, so far from that of the
    /// winter solstice.
    #[must_use]
    pub fn declination(&self, from_winter: Angle) -> Latitude {
        Latitude::asin(self.towards_pole() * self.declination_sine(from_winter))
    }

    /// The arc of a declination, as its distance from that of the winter solstice: the nearest
    /// where the Sun of this quadrant never stands so far north or south.
    #[must_use]
    pub fn arc_at(&self, declination: Latitude) -> Angle {
        let part = -self.towards_pole() * declination.sin() / self.obliquity.sin();
        Angle::acos(part.clamp(-1.0, 1.0))
    }

    /// +1 where the northern pole is up, −1 where the southern is.
    fn towards_pole(&self) -> f64 {
        match self.hemisphere {
            Hemisphere::North => 1.0,
            Hemisphere::South => -1.0,
        }
    }

    /// The altitude in which the curve of an hour, so far from noon, crosses the arc of a
    /// declination.
    #[must_use]
    pub fn altitude_of(
        &self,
        declination: Latitude,
        latitude: Latitude,
        from_noon: Angle,
    ) -> Angle {
        altitude(self.towards_pole() * declination.sin(), latitude, from_noon)
    }

    /// The hour, so far from noon, whose curve passes through the place of an altitude on the
    /// arc of a declination; between two curves the one that would pass there. `None` where
    /// the Sun is never so high, or never so low.
    #[must_use]
    pub fn hour_at(
        &self,
        declination: Latitude,
        latitude: Latitude,
        height: Angle,
    ) -> Option<Angle> {
        let at = |from_noon: Angle| self.altitude_of(declination, latitude, from_noon);
        let passed = height <= at(Angle::ZERO) && height >= at(Angle::HALF_TURN);
        passed.then(|| halved(Angle::ZERO, Angle::HALF_TURN, |hour| at(hour) >= height))
    }

    /// The pieces of the curve along which the Sun stands at an hour before and after noon,
    /// 0 for noon itself, where it is up; by points close enough for a smooth line.
    ///
    /// sin a = sin φ sin δ + cos φ cos δ cos 15°h, with sin δ = sin ε sin λ.
    #[must_use]
    pub fn curve(&self, latitude: Latitude, hours: u8) -> Vec<Vec<Point>> {
        let hours = f64::from(hours);
        let altitude = |from_winter: Angle| self.altitude(from_winter, latitude, hours);
        let place = |from_winter: Angle| {
            let radius = self.radius_from_winter(from_winter);
            Point::polar(radius, Angle::QUARTER_TURN - altitude(from_winter))
        };
        let step = |n: u16| Angle::HALF_TURN * (f64::from(n) / f64::from(STEPS));
        let up = |from_winter: Angle| altitude(from_winter) >= Angle::ZERO;
        // Where the noon Sun passes through the zenith the curve turns back at a corner.
        let corner = self.passes_zenith(latitude).filter(|_| hours == 0.0);
        let mut pieces: Vec<Vec<Point>> = Vec::new();
        let mut piece: Vec<Point> = Vec::new();
        for n in 0..=STEPS {
            let here = step(n);
            if n > 0 {
                let before = step(n - 1);
                if up(before) != up(here) {
                    let rising = halved(before, here, |at| up(at) == up(before));
                    piece.push(place(rising));
                }
                if let Some(corner) = corner.filter(|at| *at > before && *at <= here) {
                    piece.push(Point::polar(self.radius_from_winter(corner), Angle::ZERO));
                    let next = vec![Point::polar(self.radius_from_winter(corner), Angle::ZERO)];
                    pieces.push(std::mem::replace(&mut piece, next));
                }
            }
            if up(here) {
                piece.push(place(here));
            } else if !piece.is_empty() {
                pieces.push(std::mem::take(&mut piece));
            }
        }
        pieces.push(piece);
        pieces
            .into_iter()
            .map(thinned)
            .filter(|piece| piece.len() > 1)
            .collect()
    }

    /// The pieces of the curve along which the Sun stands in a direction, from north by east,
    /// at a place, where it is up; by points close enough for a smooth line.
    ///
    /// In a direction q the altitude a has one declination, sin δ = sin φ sin a + cos φ cos a
    /// cos q (the cosine rule of the triangle of pole, zenith and Sun): so the curve is
    /// followed from the horizon to the zenith, and turns back in the year where the Sun
    /// stands in that direction twice on one day.
    #[must_use]
    pub fn direction_curve(&self, latitude: Latitude, direction: Angle) -> Vec<Vec<Point>> {
        let (up, level) = (latitude.sin(), latitude.cos() * direction.cos());
        let size = libm::hypot(up, level);
        let leans = Angle::atan2(level, up);
        let sine_at = |altitude: Angle| size * (altitude + leans).sin();
        // The altitudes on arcs evenly apart, and others evenly apart themselves: near the
        // solstices these are far from one another, those where the curve turns back.
        let on_arcs = (0..=4 * STEPS).flat_map(|n| {
            let from_winter = Angle::HALF_TURN * (f64::from(n) / f64::from(4 * STEPS));
            let sine = self.towards_pole() * self.declination_sine(from_winter) / size.max(1e-12);
            let first = (sine.abs() <= 1.0).then(|| Angle::asin(sine));
            let both = first.map(|first| [first, Angle::HALF_TURN - first]);
            let turns = both.into_iter().flatten();
            turns.map(move |one| (one - leans).signed().deg())
        });
        let evenly = (0..=8 * STEPS).map(|n| 90.0 * f64::from(n) / f64::from(8 * STEPS));
        // A curve that all but touches a solstice at the horizon bends there within a degree.
        let low = (0..=STEPS).map(|n| 2.0 * (f64::from(n) / f64::from(STEPS)).powi(2));
        let mut altitudes: Vec<f64> = on_arcs.chain(evenly).chain(low).collect();
        altitudes.retain(|deg| (0.0..=90.0).contains(deg));
        altitudes.sort_by(f64::total_cmp);
        let greatest = self.obliquity.sin();
        let within = |deg: f64| sine_at(Angle::from_deg(deg)).abs() <= greatest + 1e-12;
        let place = |deg: f64| {
            let altitude = Angle::from_deg(deg);
            let part = (-self.towards_pole() * sine_at(altitude) / greatest).clamp(-1.0, 1.0);
            let from_winter = Angle::from_rad(libm::acos(part));
            Point::polar(
                self.radius_from_winter(from_winter),
                Angle::QUARTER_TURN - altitude,
            )
        };
        let mut pieces: Vec<Vec<Point>> = Vec::new();
        let mut piece: Vec<Point> = Vec::new();
        let mut before: Option<f64> = None;
        for deg in altitudes {
            let runs_on = before.is_some_and(|before| within(f64::midpoint(before, deg)));
            if !runs_on && !piece.is_empty() {
                pieces.push(std::mem::take(&mut piece));
            }
            before = within(deg).then_some(deg);
            if before.is_some() {
                piece.push(place(deg));
            }
        }
        pieces.push(piece);
        // None is so far from the next that another curve passes between them unseen.
        let most = (self.summer_mm / 250.0).min(0.3 * self.gap_mm);
        let whole = pieces
            .into_iter()
            .map(|piece| evenly_apart(thinned(piece), most));
        whole.filter(|piece| piece.len() > 2).collect()
    }

    /// The altitude in which a leg of the curve of a direction, from north by east, meets the
    /// arc of a declination; `None` where it does not do so above the horizon.
    #[must_use]
    pub fn altitude_towards(
        &self,
        declination: Latitude,
        latitude: Latitude,
        direction: Angle,
        leg: CurveLeg,
    ) -> Option<Angle> {
        let (up, level) = (latitude.sin(), latitude.cos() * direction.cos());
        let sine = declination.sin() / libm::hypot(up, level);
        let leans = Angle::atan2(level, up);
        let first = (sine.abs() <= 1.0).then(|| Angle::asin(sine))?;
        let turned = match leg {
            CurveLeg::Northward => first,
            CurveLeg::Southward => Angle::HALF_TURN - first,
        };
        let altitude = (turned - leans).signed();
        let above = altitude >= Angle::ZERO && altitude <= Angle::QUARTER_TURN;
        above.then_some(altitude)
    }

    /// Where in the year the noon Sun stands in the zenith of a latitude, if it does.
    fn passes_zenith(&self, latitude: Latitude) -> Option<Angle> {
        let part = -latitude.sin().abs() / self.obliquity.sin();
        (part.abs() < 1.0).then(|| Angle::from_rad(libm::acos(part)))
    }

    /// The curves of some latitudes and hours, each as far as it stands clear of those before
    /// it by the least gap: the first runs through.
    #[must_use]
    pub fn curves(&self, wanted: &[(Latitude, u8)]) -> Vec<Vec<Vec<Point>>> {
        let whole = wanted.iter();
        let whole = whole.map(|(latitude, hours)| self.curve(*latitude, *hours));
        self.kept_apart(whole.collect())
    }

    /// Some curves, each as far as it stands clear of those before it by the least gap: the
    /// first runs through.
    #[must_use]
    pub fn kept_apart(&self, whole: Vec<Vec<Vec<Point>>>) -> Vec<Vec<Vec<Point>>> {
        let mut near = ChordGrid::new(self.gap_mm);
        let kept = whole.into_iter().map(|curve| {
            let mut own = Vec::new();
            for piece in curve {
                for run in piece.split(|p| near.is_near(*p)) {
                    if run.len() > 2 {
                        own.push(run.to_vec());
                    }
                }
            }
            for run in &own {
                near.add(run);
            }
            own
        });
        kept.collect()
    }
}

/// The Sun's altitude by the sine of its declination towards the pole that is up, so far from
/// noon. By its two components, which keeps all digits in the zenith.
fn altitude(declination_sine: f64, latitude: Latitude, from_noon: Angle) -> Angle {
    let sine = declination_sine;
    let cosine = (1.0 - sine * sine).max(0.0).sqrt();
    let (up, level) = (latitude.sin().abs(), latitude.cos());
    let (hour_sine, hour_cosine) = from_noon.sin_cos();
    let high = up * sine + level * cosine * hour_cosine;
    let towards_pole = level * sine - up * cosine * hour_cosine;
    let away = libm::hypot(cosine * hour_sine, towards_pole);
    Angle::atan2(high, away)
}

/// The last of the angles from one to another for which something holds, by halving.
fn halved(from: Angle, to: Angle, holds: impl Fn(Angle) -> bool) -> Angle {
    let (mut low, mut high) = (from, to);
    for _ in 0..50 {
        let middle = (low + high) / 2.0;
        if holds(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}

/// So much may an arc through three points rise above their chords: a smooth line through them,
/// which knows less at its ends, then leaves the curve by less than two thousandths.
const RISE_MM: f64 = 0.001;

/// A line by points about evenly apart, as a smooth line runs true through them: closer than
/// asked where it bends so sharply that it would leave the curve, as at a solstice.
fn evenly_apart(points: Vec<Point>, most_mm: f64) -> Vec<Point> {
    let trial = spaced(points.clone(), most_mm / 8.0);
    let bends = trial.windows(3).map(|three| match three {
        [from, by, to] => {
            let (one, other, across) = (*by - *from, *to - *by, *to - *from);
            let sides = one.radius() * other.radius() * across.radius();
            2.0 * one.dot(other.perpendicular()).abs() / sides.max(1e-12)
        }
        _ => 0.0,
    });
    let sharpest = bends.fold(1e-9, f64::max);
    let by_bend = (8.0 * RISE_MM / sharpest).sqrt();
    spaced(points, by_bend.clamp(most_mm / 8.0, most_mm))
}

/// Without points nearer than this to the one kept before; both ends stay. Towards the ends,
/// where a smooth line knows least, they are kept ever closer, down to an eighth.
fn spaced(points: Vec<Point>, least_mm: f64) -> Vec<Point> {
    let end = points.last().copied();
    let begin = points.first().copied();
    let from_ends = |p: Point| {
        let ends = begin.into_iter().chain(end);
        ends.map(|one| (p - one).radius())
            .fold(f64::INFINITY, f64::min)
    };
    let mut kept: Vec<Point> = Vec::new();
    for p in points {
        let least = (from_ends(p) / 2.0).clamp(least_mm / 8.0, least_mm);
        if kept.last().is_none_or(|last| (p - *last).radius() >= least) {
            kept.push(p);
        }
    }
    if let Some(end) = end.filter(|end| kept.last() != Some(end)) {
        if kept.len() > 2 {
            kept.pop();
        }
        kept.push(end);
    }
    kept
}

/// Without points that fall on the one before.
fn thinned(mut points: Vec<Point>) -> Vec<Point> {
    points.dedup_by(|a, b| (*a - *b).radius() < 1e-6);
    points
}
