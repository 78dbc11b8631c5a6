//! Where the poles of ecliptic and equator stand over long spans: J. Vondrák, N.
//! Capitaine and P. Wallace, "New precession expressions, valid for long time
//! intervals", A&A 534 (2011) A22, tables 1 and 3, with the corrigendum, A&A 541 (2012) C1.

use std::f64::consts::TAU;

use crate::Angle;
use crate::vector::Vector;

/// A period in centuries; the cosine's coefficients of both quantities in arc seconds, and
/// the sine's.
type Term = (f64, [f64; 2], [f64; 2]);

/// P_A and Q_A by powers of the time in centuries since J2000.0, in arc seconds.
const ECLIPTIC_POWERS: [[f64; 2]; 4] = [
    [5_851.607_687, -1_600.886_300],
    [-0.118_900_0, 1.168_981_8],
    [-0.000_289_13, -0.000_000_20],
    [0.000_000_101, -0.000_000_437],
];

#[rustfmt::skip]
const ECLIPTIC_TERMS: [Term; 8] = [
    (708.15, [-5_486.751_211, -684.661_560], [667.666_730, -5_523.863_691]),
    (2_309.00, [-17.127_623, 2_446.283_880], [-2_354.886_252, -549.747_450]),
    (1_620.00, [-617.517_403, 399.671_049], [-428.152_441, -310.998_056]),
    (492.20, [413.442_940, -356.652_376], [376.202_861, 421.535_876]),
    (1_183.00, [78.614_193, -186.387_003], [184.778_874, -36.776_172]),
    (622.00, [-180.732_815, -316.800_070], [335.321_713, -145.278_396]),
    (882.00, [-87.676_083, 198.296_701], [-185.138_669, -34.744_450]),
    (547.00, [46.140_315, 101.135_679], [-120.972_830, 22.885_731]),
];

/// X and Y of the equator's pole, likewise.
const EQUATOR_POWERS: [[f64; 2]; 4] = [
    [5_453.282_155, -73_750.930_350],
    [0.425_284_1, -0.767_545_2],
    [-0.000_371_73, -0.000_187_25],
    [-0.000_000_152, 0.000_000_231],
];

#[rustfmt::skip]
const EQUATOR_TERMS: [Term; 14] = [
    (256.75, [-819.940_624, 75_004.344_875], [81_491.287_984, 1_558.515_853]),
    (708.15, [-8_444.676_815, 624.033_993], [787.163_481, 7_774.939_698]),
    (274.20, [2_600.009_459, 1_251.136_893], [1_251.296_102, -2_219.534_038]),
    (241.45, [2_755.175_630, -1_102.212_834], [-1_257.950_837, -2_523.969_396]),
    (2_309.00, [-167.659_835, -2_660.664_980], [-2_966.799_730, 247.850_422]),
    (492.20, [871.855_056, 699.291_817], [639.744_522, -846.485_643]),
    (396.10, [44.769_698, 153.167_220], [131.600_209, -1_393.124_055]),
    (288.90, [-512.313_065, -950.865_637], [-445.040_117, 368.526_116]),
    (231.10, [-819.415_595, 499.754_645], [584.522_874, 749.045_012]),
    (1_610.00, [-538.071_099, -145.188_210], [-89.756_563, 444.704_518]),
    (620.00, [-189.793_622, 558.116_553], [524.429_630, 235.934_465]),
    (157.87, [-402.922_932, -23.923_029], [-13.549_067, 374.049_623]),
    (220.30, [179.516_345, -165.405_086], [-210.157_124, -171.330_180]),
    (1_200.00, [-9.814_756, 9.344_131], [-44.919_798, -22.899_655]),
];

/// The obliquity at J2000.0 (IAU 2006).
const OBLIQUITY: Angle = Angle::from_arcsec(84_381.406);

/// The ecliptic's pole in the axes of the mean equator and equinox of J2000.0.
pub(crate) fn ecliptic_pole(centuries: f64) -> Vector {
    let [p, q] = summed(&ECLIPTIC_POWERS, &ECLIPTIC_TERMS, centuries);
    let (sin, cos) = OBLIQUITY.sin_cos();
    let height = (1.0 - p * p - q * q).max(0.0).sqrt();
    [p, -q * cos - height * sin, -q * sin + height * cos]
}

/// The equator's pole in the same axes.
pub(crate) fn equator_pole(centuries: f64) -> Vector {
    let [x, y] = summed(&EQUATOR_POWERS, &EQUATOR_TERMS, centuries);
    [x, y, (1.0 - x * x - y * y).max(0.0).sqrt()]
}

/// Both quantities in radians.
fn summed(powers: &[[f64; 2]; 4], terms: &[Term], centuries: f64) -> [f64; 2] {
    let mut sums = [0.0; 2];
    for (period, of_cos, of_sin) in terms {
        let (sin, cos) = libm::sincos(TAU * centuries / period);
        for (sum, (c, s)) in sums.iter_mut().zip(of_cos.iter().zip(of_sin)) {
            *sum += cos * c + sin * s;
        }
    }
    let mut power = 1.0;
    for coefficients in powers {
        for (sum, coefficient) in sums.iter_mut().zip(coefficients) {
            *sum += coefficient * power;
        }
        power *= centuries;
    }
    sums.map(|sum| Angle::from_arcsec(sum).rad())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The IAU's own routines, as another library has them (`ltpecl`, `ltpequ`).
    #[test]
    fn poles_are_those_of_the_published_routines() {
        for centuries in [-26.0, -6.1, 0.0, 0.25, 6.5] {
            let year = 2000.0 + 100.0 * centuries;
            let poles = [
                (ecliptic_pole(centuries), sofars::pnp::ltpecl(year)),
                (equator_pole(centuries), sofars::pnp::ltpequ(year)),
            ];
            for (found, given) in poles {
                for (a, b) in found.iter().zip(given) {
                    assert!((a - b).abs() < 1e-15, "{centuries}: {found:?} {given:?}");
                }
            }
        }
    }
}
