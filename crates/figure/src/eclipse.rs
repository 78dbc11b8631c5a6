use sky::{Angle, Body, Instant, MoonPhase, Phase, Sky, SkyError, moon_phases};

use crate::{Sight, Site, Target};

/// The Earth's equatorial radius, in astronomical units.
const EARTH_AU: f64 = 6_378.137 / 149_597_870.7;
/// The Sun's radius, in astronomical units: 959.63″ at one of them.
const SUN_AU: f64 = 696_000.0 / 149_597_870.7;
/// The Moon's radius in the Earth's equatorial ones (IAU 1982).
const MOON_EARTHS: f64 = 0.272_507_6;
/// The same for the umbra of a solar eclipse, which mountains of the limb let light into
/// (F. Espenak and J. Meeus, Five Millennium Canon of Solar Eclipses (2006), 1.4).
const MOON_EARTHS_UMBRA: f64 = 0.272_281;
/// The radius of the Earth's disc, flattened, in equatorial radii, as a shadow's path
/// meets it: J. Meeus, Astronomical Algorithms (2nd ed. 1998), chapter 54.
const EARTH_DISC: f64 = 0.9972;

/// By how much the air enlarges the Earth's shadow.
const FOR_THE_AIR: f64 = 1.02;

/// The Moon in the Earth's shadow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LunarEclipse {
    /// When she is deepest in it; to some seconds.
    pub greatest: Instant,
    /// How much of her diameter is in the umbra; negative where none is.
    pub umbral_magnitude: f64,
    /// How much is in the penumbra.
    pub penumbral_magnitude: f64,
    /// When she touches and leaves the penumbra.
    pub penumbra: (Instant, Instant),
    /// When she touches and leaves the umbra, if she does.
    pub umbra: Option<(Instant, Instant)>,
    /// When she is wholly in it, if she is.
    pub total: Option<(Instant, Instant)>,
}

/// The Sun behind the Moon, from somewhere on the Earth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SolarEclipse {
    /// When the shadow's axis is nearest the Earth's centre; to some seconds.
    pub greatest: Instant,
    /// How near, in equatorial radii of the Earth; positive where it passes north.
    pub gamma: f64,
    /// What it is where it is most.
    pub kind: SolarKind,
}

/// What a solar eclipse is where it is most.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SolarKind {
    /// The Moon hides a part of the Sun.
    Partial,
    /// She stands before him and is smaller.
    Annular,
    /// She hides him.
    Total,
}

/// A solar eclipse as a place sees it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LocalSolarEclipse {
    /// When the Moon's limb first touches the Sun's, and last; also below the horizon.
    pub contacts: (Instant, Instant),
    /// When most is hidden.
    pub greatest: Instant,
    /// How much of the Sun's diameter is hidden then; where the discs lie one in the other,
    /// the Moon's diameter in the Sun's.
    pub magnitude: f64,
    /// The Sun's altitude then, through the air.
    pub altitude: Angle,
}

/// Every lunar eclipse in [from, until): the Moon at least in the penumbra.
///
/// The shadow is taken a fiftieth larger than the Earth alone would make it, for the air's
/// sake (Chauvenet's rule), as in NASA's catalogue of lunar eclipses, with which magnitudes
/// agree to 0.003 and times to a minute (`tests/eclipses.rs`). Danjon's rule, which others
/// follow, makes magnitudes smaller by 0.005 in the umbra and 0.026 in the penumbra.
///
/// # Errors
/// When the interval leaves the span of the ephemeris.
pub fn lunar_eclipses(from: Instant, until: Instant) -> Result<Vec<LunarEclipse>, SkyError> {
    syzygies(Phase::Full, from, until)?
        .into_iter()
        .filter_map(|full| lunar(full).transpose())
        .collect()
}

/// Every solar eclipse in [from, until), seen from somewhere.
///
/// # Errors
/// When the interval leaves the span of the ephemeris.
pub fn solar_eclipses(from: Instant, until: Instant) -> Result<Vec<SolarEclipse>, SkyError> {
    syzygies(Phase::New, from, until)?
        .into_iter()
        .filter_map(|new| solar(new).transpose())
        .collect()
}

fn syzygies(phase: Phase, from: Instant, until: Instant) -> Result<Vec<Instant>, SkyError> {
    let wanted = |found: Result<MoonPhase, SkyError>| match found {
        Ok(found) => (found.phase == phase).then_some(Ok(found.instant)),
        Err(error) => Some(Err(error)),
    };
    moon_phases(from, until)?.filter_map(wanted).collect()
}

/// The shadow about the Moon, in angles seen from the Earth's centre.
struct Shadow {
    /// From the middle of the shadow to the Moon's.
    away: Angle,
    penumbra: Angle,
    umbra: Angle,
    moon: Angle,
}

impl Shadow {
    fn at(instant: Instant) -> Result<Shadow, SkyError> {
        let sky = Sky::at(instant)?;
        let (sun, moon) = (vector(&sky, Body::Sun), vector(&sky, Body::Moon));
        // For the Earth's radius at 45° of latitude.
        let moon_parallax = Angle::asin(EARTH_AU / length(moon)) * 0.998_340;
        let sun_parallax = Angle::asin(EARTH_AU / length(sun));
        let sun_radius = Angle::asin(SUN_AU / length(sun));
        Ok(Shadow {
            away: between(sun.map(|x| -x), moon),
            penumbra: (moon_parallax + sun_parallax + sun_radius) * FOR_THE_AIR,
            umbra: (moon_parallax + sun_parallax - sun_radius) * FOR_THE_AIR,
            moon: Angle::asin(MOON_EARTHS * EARTH_AU / length(moon)),
        })
    }
}

fn lunar(full: Instant) -> Result<Option<LunarEclipse>, SkyError> {
    let away = |instant| Ok(Shadow::at(instant)?.away.deg());
    let greatest = least(full, away)?;
    let shadow = Shadow::at(greatest)?;
    let magnitude = |radius: Angle| (radius + shadow.moon - shadow.away) / (shadow.moon * 2.0);
    let touches = |limit: fn(&Shadow) -> Angle| {
        let past = move |instant| {
            let shadow = Shadow::at(instant)?;
            Ok((shadow.away - limit(&shadow)).deg())
        };
        around(greatest, past)
    };
    let Some(penumbra) = touches(|shadow| shadow.penumbra + shadow.moon)? else {
        return Ok(None);
    };
    Ok(Some(LunarEclipse {
        greatest,
        umbral_magnitude: magnitude(shadow.umbra),
        penumbral_magnitude: magnitude(shadow.penumbra),
        penumbra,
        umbra: touches(|shadow| shadow.umbra + shadow.moon)?,
        total: touches(|shadow| shadow.umbra - shadow.moon)?,
    }))
}

/// The Moon's shadow and the Earth's centre, in equatorial radii.
struct Cone {
    /// From the Earth's centre to the axis.
    away: f64,
    /// Whether the axis passes north of it.
    north: bool,
    /// How broad the penumbra is where the axis is nearest.
    penumbra: f64,
    /// How broad the umbra is there; negative where its point lies before it.
    umbra: f64,
    /// How fast the umbra narrows towards the Sun's far side.
    umbra_narrows: f64,
}

impl Cone {
    fn at(instant: Instant) -> Result<Cone, SkyError> {
        let sky = Sky::at(instant)?;
        let (sun, moon) = (vector(&sky, Body::Sun), vector(&sky, Body::Moon));
        let axis: [f64; 3] = std::array::from_fn(|i| sun[i] - moon[i]);
        let far = length(axis);
        let along = dot(moon, axis) / far;
        // Where the axis is nearest the Earth's centre, towards the Sun.
        let foot: [f64; 3] = std::array::from_fn(|i| moon[i] - axis[i] / far * along);
        let moon_umbra = MOON_EARTHS_UMBRA * EARTH_AU;
        let moon_penumbra = MOON_EARTHS * EARTH_AU;
        let narrows = |sine: f64| sine / (1.0 - sine * sine).sqrt();
        let (out, inward) = (
            narrows((SUN_AU + moon_penumbra) / far),
            narrows((SUN_AU - moon_umbra) / far),
        );
        Ok(Cone {
            away: length(foot) / EARTH_AU,
            north: foot[2] > 0.0,
            penumbra: (along * out + moon_penumbra) / EARTH_AU,
            umbra: (moon_umbra - along * inward) / EARTH_AU,
            umbra_narrows: inward,
        })
    }
}

fn solar(new: Instant) -> Result<Option<SolarEclipse>, SkyError> {
    let away = |instant| Ok(Cone::at(instant)?.away);
    let greatest = least(new, away)?;
    let cone = Cone::at(greatest)?;
    if cone.away > EARTH_DISC + cone.penumbra {
        return Ok(None);
    }
    let kind = if cone.away > EARTH_DISC + cone.umbra.abs() {
        SolarKind::Partial
    } else {
        // On the ground, nearer the Moon than the Earth's centre is.
        let nearer = (1.0 - cone.away * cone.away).max(0.0).sqrt();
        if cone.umbra + nearer * cone.umbra_narrows > 0.0 {
            SolarKind::Total
        } else {
            SolarKind::Annular
        }
    };
    Ok(Some(SolarEclipse {
        greatest,
        gamma: if cone.north { cone.away } else { -cone.away },
        kind,
    }))
}

impl SolarEclipse {
    /// How a place sees it; none where the Moon passes by the Sun there. It may be below the
    /// horizon: the altitude tells.
    ///
    /// # Errors
    /// When it is at the very end of the ephemeris.
    pub fn at(&self, site: Site) -> Result<Option<LocalSolarEclipse>, SkyError> {
        let discs = |instant| -> Result<[Angle; 3], SkyError> {
            let sky = Sky::at(instant)?;
            let place = site.geocentric_au(&sky);
            let seen = |body| {
                let from_centre = vector(&sky, body);
                std::array::from_fn(|i| from_centre[i] - place[i])
            };
            let (sun, moon): ([f64; 3], [f64; 3]) = (seen(Body::Sun), seen(Body::Moon));
            Ok([
                between(sun, moon),
                Angle::asin(SUN_AU / length(sun)),
                Angle::asin(MOON_EARTHS * EARTH_AU / length(moon)),
            ])
        };
        let greatest = least(self.greatest, |instant| Ok(discs(instant)?[0].deg()))?;
        let contacts = around(greatest, |instant| {
            let [away, sun, moon] = discs(instant)?;
            Ok((away - sun - moon).deg())
        })?;
        let Some(contacts) = contacts else {
            return Ok(None);
        };
        let [away, sun, moon] = discs(greatest)?;
        let within = away < (sun - moon).abs();
        let magnitude = if within {
            moon / sun
        } else {
            (sun + moon - away) / (sun * 2.0)
        };
        let sky = Sky::at(greatest)?;
        let sun = Target::Body(Body::Sun);
        Ok(Some(LocalSolarEclipse {
            contacts,
            greatest,
            magnitude,
            altitude: site.position(&sky, sun, Sight::ALIDADE).altitude,
        }))
    }
}

fn vector(sky: &Sky, body: Body) -> [f64; 3] {
    Target::Body(body).vector(sky)
}

fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

fn length(a: [f64; 3]) -> f64 {
    dot(a, a).sqrt()
}

fn between(a: [f64; 3], b: [f64; 3]) -> Angle {
    let [x, y, z] = a;
    let [u, v, w] = b;
    let cross = [y * w - z * v, z * u - x * w, x * v - y * u];
    Angle::atan2(length(cross), dot(a, b))
}

/// No eclipse is longer, from its middle to either end, nor its middle further from new or
/// full Moon.
const REACH_S: f64 = 4.0 * 3600.0;

/// Where something that falls and then grows is least, by the golden section.
fn least(
    about: Instant,
    of: impl Fn(Instant) -> Result<f64, SkyError>,
) -> Result<Instant, SkyError> {
    const GOLDEN: f64 = 0.618_033_988_749_894_9;
    let at = |seconds: f64| of(about.plus_seconds(seconds));
    let (mut low, mut high) = (-REACH_S, REACH_S);
    let (mut a, mut b) = (high - GOLDEN * (high - low), low + GOLDEN * (high - low));
    let (mut at_a, mut at_b) = (at(a)?, at(b)?);
    while high - low > 1.0 {
        if at_a < at_b {
            (high, b, at_b) = (b, a, at_a);
            a = high - GOLDEN * (high - low);
            at_a = at(a)?;
        } else {
            (low, a, at_a) = (a, b, at_b);
            b = low + GOLDEN * (high - low);
            at_b = at(b)?;
        }
    }
    Ok(about.plus_seconds(f64::midpoint(low, high)))
}

/// Where something that is negative in the middle is zero on both sides; none where it is
/// not negative there.
fn around(
    middle: Instant,
    of: impl Fn(Instant) -> Result<f64, SkyError>,
) -> Result<Option<(Instant, Instant)>, SkyError> {
    if of(middle)? >= 0.0 {
        return Ok(None);
    }
    let side = |sign: f64| -> Result<Instant, SkyError> {
        let (mut within, mut without) = (0.0, REACH_S);
        while without - within > 0.05 {
            let here = f64::midpoint(within, without);
            if of(middle.plus_seconds(sign * here))? < 0.0 {
                within = here;
            } else {
                without = here;
            }
        }
        Ok(middle.plus_seconds(sign * within))
    };
    Ok(Some((side(-1.0)?, side(1.0)?)))
}
