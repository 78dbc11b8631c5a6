use sky::{Angle, Latitude};

use crate::instrument::Instrument;
use crate::point::Point;
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

    fn radius_from_winter(&self, from_winter: Angle) -> f64 {
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
        let cosine = (1.0 - sine * sine).sqrt();
        let up = latitude.sin().abs();
        let whole = up * sine + latitude.cos() * cosine * Angle::from_deg(15.0 * hours).cos();
        Angle::from_rad(libm::asin(whole.clamp(-1.0, 1.0)))
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

    /// Where in the year the noon Sun stands in the zenith of a latitude, if it does.
    fn passes_zenith(&self, latitude: Latitude) -> Option<Angle> {
        let part = -latitude.sin().abs() / self.obliquity.sin();
        (part.abs() < 1.0).then(|| Angle::from_rad(libm::acos(part)))
    }

    /// The curves of some latitudes and hours, each as far as it stands clear of those before
    /// it by the least gap: the first runs through.
    #[must_use]
    pub fn curves(&self, wanted: &[(Latitude, u8)]) -> Vec<Vec<Vec<Point>>> {
        let mut done: Vec<Vec<Vec<Point>>> = Vec::new();
        for (latitude, hours) in wanted {
            let mut own = Vec::new();
            for piece in self.curve(*latitude, *hours) {
                let clear = |p: &Point| {
                    let mut others = done.iter().flatten().flat_map(|one| one.windows(2));
                    others.all(|ends| match ends {
                        [from, to] => apart(*p, *from, *to) >= self.gap_mm,
                        _ => true,
                    })
                };
                for run in piece.split(|p| !clear(p)) {
                    if run.len() > 2 {
                        own.push(run.to_vec());
                    }
                }
            }
            done.push(own);
        }
        done
    }
}

/// How far a place is from a chord.
fn apart(p: Point, from: Point, to: Point) -> f64 {
    let along = to - from;
    let part = (p - from).dot(along) / along.dot(along).max(1e-18);
    (p - (from + along * part.clamp(0.0, 1.0))).radius()
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

/// Without points that fall on the one before.
fn thinned(mut points: Vec<Point>) -> Vec<Point> {
    points.dedup_by(|a, b| (*a - *b).radius() < 1e-6);
    points
}
