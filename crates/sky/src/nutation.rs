use crate::Angle;
use crate::fundamental::{Arguments, LARGEST_MULTIPLE};
use crate::nutation_terms::TERMS;

/// The nodding of the Earth's axis about its mean place: what true longitudes and
/// the true obliquity have beyond the mean ones.
///
/// The 89 largest terms of IAU 2000A with its full arguments: within 0.003″ of the
/// whole series of 1365 from −600 to 2650 (the usual short form, 2000B, is 0.4″ off
/// at −600).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Nutation {
    /// Nutation in longitude, Δψ; at most 20″ or so.
    pub longitude: Angle,
    /// Nutation in obliquity, Δε; at most 10″ or so.
    pub obliquity: Angle,
}

// No term asks for more than there is.
const _: () = {
    let mut term = 0;
    while term < TERMS.len() {
        let mut argument = 0;
        while argument < 5 {
            assert!(TERMS[term].0[argument].abs() <= LARGEST_MULTIPLE);
            argument += 1;
        }
        term += 1;
    }
};

impl Nutation {
    /// The nutation, and how fast its part in longitude changes, in a day.
    pub(crate) fn at(centuries: f64, arguments: &Arguments) -> (Nutation, Angle) {
        let (mut longitude, mut obliquity, mut rate) = (0.0, 0.0, 0.0);
        for (multiples, psi, epsilon) in TERMS.iter().rev() {
            let ((cos, sin), argument_rate) = arguments.combined(*multiples);
            let psi_sin = psi[0] + psi[1] * centuries;
            longitude += psi_sin * sin + psi[2] * cos;
            rate += (psi_sin * cos - psi[2] * sin) * argument_rate;
            obliquity += (epsilon[0] + epsilon[1] * centuries) * cos + epsilon[2] * sin;
        }
        let unit = Angle::from_arcsec(1e-7);
        (
            Nutation {
                longitude: longitude * unit,
                obliquity: obliquity * unit,
            },
            rate * unit,
        )
    }
}
