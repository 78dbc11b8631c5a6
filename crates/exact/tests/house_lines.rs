//! The lines by which every method divides the houses, constructed over plate and rete,
//! cross the ecliptic where spherical trigonometry has the cusps.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use figure::{Horizon, Method};
use instrument::{House, HouseCourse, HouseLine, Instrument, Specification};
use proptest::prelude::*;
use sky::{Angle, Latitude};

/// What is promised of the drawn lines.
const PROMISED_DEG: f64 = 1e-9;

/// How much further a line and a cusp may part where a cusp moves this much faster than
/// what it is found from: near the polar circles the one is badly known from the other.
const AGREE_DEG: f64 = 1e-12;

fn instrument(latitude_deg: f64, top: &str, obliquity_deg: f64) -> Instrument {
    let hemisphere = if latitude_deg < 0.0 { "south" } else { "north" };
    let plate = if latitude_deg < 0.0 { -45 } else { 45 };
    let text = format!(
        "version = 1\nname = \"ideal\"\ndiameter_mm = 200\nhemisphere = \"{hemisphere}\"\n\
         orientation = \"{top}\"\nepoch_year = 2000\nplates_deg = [{plate}]\n\
         date_from = \"given\"\n"
    );
    Instrument::new(Specification::from_toml(&text).unwrap())
        .with_obliquity(Angle::from_deg(obliquity_deg))
}

/// How far a line passes from a cusp, as seen along the ecliptic.
fn off_deg(instrument: &Instrument, line: &HouseLine, horizon: &Horizon, cusp: Angle) -> f64 {
    let rete = horizon.sidereal_time;
    let plate = instrument.plate(horizon.latitude);
    let ecliptic = instrument.ecliptic(rete);
    let longitude = |p| instrument.longitude(p, rete);
    let found = match line.course {
        HouseCourse::Horizon => {
            let east = instrument.eastern_crossing(&plate, rete).unwrap();
            let half = if line.house == House::ALL[0] {
                0.0
            } else {
                180.0
            };
            longitude(east) + Angle::from_deg(half)
        }
        HouseCourse::Meridian => {
            let noon = instrument.noon_crossing(&plate, rete).unwrap();
            let half = if line.house == House::ALL[9] {
                0.0
            } else {
                180.0
            };
            longitude(noon) + Angle::from_deg(half)
        }
        HouseCourse::Half(half) => longitude(half.meets(&ecliptic).unwrap()),
        HouseCourse::Curve(curve) => {
            // Where the calculated cusp stands the curve passes.
            let at = instrument.rete().degree(cusp).turned(rete);
            let on = curve.at_radius(at.radius()).unwrap();
            return (on - at).radius() / instrument.projection().mm_per_degree(at);
        }
    };
    cusp.to(found).abs().deg()
}

fn check(
    horizon: &Horizon,
    top: &str,
    most: impl Fn(Angle) -> f64,
) -> Result<usize, TestCaseError> {
    let instrument = instrument(horizon.latitude.deg(), top, horizon.obliquity.deg());
    let plate = instrument.plate(horizon.latitude);
    let mut lines_seen = 0;
    for method in Method::ALL {
        let Ok(cusps) = method.cusps(horizon) else {
            continue;
        };
        let lines =
            instrument.house_lines_of(exact::division(method), &plate, horizon.sidereal_time);
        let lines = lines.ok_or_else(|| TestCaseError::fail(format!("{method}: no lines")))?;
        prop_assert_eq!(lines.len(), 12);
        for (line, cusp) in lines.iter().zip(cusps.all()) {
            let off = off_deg(&instrument, line, horizon, cusp);
            prop_assert!(
                off < most(cusp),
                "{} {}: {:e}° off at {:?}",
                method,
                line.house,
                off,
                horizon
            );
            lines_seen += 1;
        }
    }
    Ok(lines_seen)
}

proptest! {
    #[test]
    fn every_line_crosses_the_ecliptic_at_its_cusp(
        sidereal in 0.0..360.0,
        latitude in -66.0..66.0_f64,
        obliquity in 23.0..24.0,
        midnight: bool,
    ) {
        let horizon = Horizon {
            sidereal_time: Angle::from_deg(sidereal),
            obliquity: Angle::from_deg(obliquity),
            latitude: Latitude::from_deg(latitude).unwrap(),
        };
        let top = if midnight { "midnight-up" } else { "noon-up" };
        let seen = check(&horizon, top, |_| PROMISED_DEG)?;
        // Every method answers there, but topocentric near the polar circles.
        prop_assert!(seen >= 12 * 12, "{}", seen);
    }

    /// Beyond the polar circles degrees run along the horizon, so that what is lost is
    /// lost in proportion to how slantingly they cross.
    #[test]
    fn beyond_the_polar_circles_too(
        sidereal in 0.0..360.0,
        latitude in prop_oneof![-89.0..-67.0_f64, 67.0..89.0_f64],
    ) {
        let horizon = Horizon {
            sidereal_time: Angle::from_deg(sidereal),
            obliquity: Angle::from_deg(23.44),
            latitude: Latitude::from_deg(latitude).unwrap(),
        };
        let slant = horizon.midheaven_altitude().sin().abs().max(1e-4);
        check(&horizon, "noon-up", |_| PROMISED_DEG.max(AGREE_DEG / (slant * slant)))?;
    }
}
