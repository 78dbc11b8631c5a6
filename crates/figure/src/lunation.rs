use sky::{Angle, Body, Instant, Phase, Sky, SkyError};

/// The new or full Moon before a moment: where it fell.
///
/// Ptolemy, Tetrabiblos III.2 (tr. Ashmand 1822, p. 74), asks for the one before a birth. The
/// degree is the one both share at the new Moon; at the full Moon he takes the one
/// of the two lights that was above the horizon, which is left to the reader: the
/// Moon's degree is given, and the Sun's is opposite.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lunation {
    /// When.
    pub instant: Instant,
    /// New or full.
    pub phase: Phase,
    /// The Moon's longitude then.
    pub moon: Angle,
}

const SECONDS_PER_DAY: f64 = 86_400.0;

/// Good to a hundredth of a second.
const SETTLED: Angle = Angle::from_deg(1e-6);

/// Newton's steps; four settle it.
const MOST_STEPS: u32 = 12;

impl Lunation {
    /// The one before the instant of a sky, within a hundredth of a second of the
    /// ephemeris.
    ///
    /// # Errors
    /// When that is before the span of the ephemeris.
    pub fn before(sky: &Sky) -> Result<Lunation, SkyError> {
        let (mut moon, mut elongation, mut rate) = read(sky);
        // Back to the last multiple of half a turn.
        let full = elongation >= Angle::HALF_TURN;
        let wanted = if full { Angle::HALF_TURN } else { Angle::ZERO };
        let mut instant = sky.instant();
        let mut away = elongation - wanted;
        for _ in 0..MOST_STEPS {
            instant = instant.plus_seconds(-(away / rate) * SECONDS_PER_DAY);
            (moon, elongation, rate) = read(&Sky::at(instant)?);
            away = wanted.to(elongation);
            if away.abs() < SETTLED {
                break;
            }
        }
        Ok(Lunation {
            instant,
            phase: if full { Phase::Full } else { Phase::New },
            moon,
        })
    }
}

/// The Moon's longitude, its longitude from the Sun's in the turn, and the daily
/// growth of that.
fn read(sky: &Sky) -> (Angle, Angle, Angle) {
    let (sun, moon) = (sky.sun(), sky.body(Body::Moon));
    (
        moon.longitude,
        (moon.longitude - sun.longitude).in_turn(),
        moon.speed - sun.speed,
    )
}
