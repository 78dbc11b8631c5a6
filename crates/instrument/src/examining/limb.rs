use sky::Angle;

use super::fit::{Estimate, least_squares};
use super::measurements::MeasuredLimb;
use crate::length::Length;

/// How true the limb's graduation is about the hole.
#[derive(Clone, Debug, PartialEq)]
pub struct LimbFound {
    /// How far the hole lies from the graduation's middle, as the error that one end of the
    /// rule shows where it is largest.
    pub off_centre: Estimate<Angle>,
    /// The same as a length, where the graduation's radius is known.
    pub off_centre_length: Option<Estimate<Length>>,
    /// Towards which degree of the limb it lies.
    pub towards: Angle,
    /// By how much the two ends of the rule are out of one line.
    pub bent: Estimate<Angle>,
    /// What is left to a single stroke: the standard error of the divisions and of reading
    /// them.
    pub division: Angle,
}

impl LimbFound {
    /// From at least four places of the rule. With the hole off the middle by e of the
    /// radius R, towards a₀, the ends differ from half a turn by 2 e/R sin(a − a₀): the
    /// reason why circles are read at both ends (common practice).
    pub(crate) fn of(measured: &MeasuredLimb) -> Option<LimbFound> {
        if measured.ends.len() < 4 {
            return None;
        }
        // What two ends together are uncertain by.
        let error_deg = measured.reads_to.deg() * 2.0_f64.sqrt();
        let differences: Vec<(Angle, f64)> = measured
            .ends
            .iter()
            .map(|[one, other]| (*one, (*other - *one - Angle::HALF_TURN).signed().deg()))
            .collect();
        let left = |&[bent, sine, cosine]: &[f64; 3]| -> Vec<f64> {
            let off = |(at, difference): &(Angle, f64)| {
                (bent + sine * at.sin() + cosine * at.cos() - difference) / error_deg
            };
            differences.iter().map(off).collect()
        };
        let fit = least_squares([0.0; 3], [0.1; 3], left)?;
        let [bent, sine, cosine] = fit.unknowns;
        let size = libm::hypot(sine.at, cosine.at);
        let within = sine.within.max(cosine.within);
        let off_centre = Estimate {
            at: Angle::from_deg(size / 2.0),
            within: Angle::from_deg(within / 2.0),
        };
        let more = fit.left.len().saturating_sub(3).max(1) as f64;
        let squares: f64 = fit.left.iter().map(|one| (one * error_deg).powi(2)).sum();
        Some(LimbFound {
            off_centre_length: measured.radius.map(|radius| Estimate {
                at: radius * off_centre.at.rad(),
                within: radius * off_centre.within.rad(),
            }),
            off_centre,
            towards: Angle::atan2(-cosine.at, sine.at).in_turn(),
            bent: Estimate {
                at: Angle::from_deg(bent.at),
                within: Angle::from_deg(bent.within),
            },
            division: Angle::from_deg((squares / more / 2.0).sqrt()),
        })
    }
}
