use crate::covariance::{Covariance, Decomposed, Deviation};

/// A hand that may have made some readings: how rough it is, and whether what it does
/// badly in one step puts off everything that is read from it, or each reading is off
/// by itself.
///
/// Nobody says how rough a hand is; the readings do. Every explanation is weighed under
/// all of these hands, each as likely as its odds: where all readings lie a little off a
/// rough hand explains it, where one lies far off no hand does.
#[derive(Clone, Copy, Debug)]
struct Hand {
    /// How many times as far off as a steady hand and eye come.
    roughness: f64,
    carries: bool,
    odds: f64,
}

/// From a hand as steady as the instrument allows to one three times as rough.
const HANDS: [Hand; 8] = [
    Hand::new(1.0, true, 0.2),
    Hand::new(1.0, false, 0.2),
    Hand::new(1.5, true, 0.14),
    Hand::new(1.5, false, 0.14),
    Hand::new(2.1, true, 0.1),
    Hand::new(2.1, false, 0.1),
    Hand::new(3.0, true, 0.06),
    Hand::new(3.0, false, 0.06),
];

impl Hand {
    const fn new(roughness: f64, carries: bool, odds: f64) -> Hand {
        Hand {
            roughness,
            carries,
            odds,
        }
    }
}

/// What errors a working leaves in its readings, those of the hand and those of writing
/// them down, under each of the hands that may have made them.
#[derive(Clone, Debug, Default)]
pub(crate) struct Errors(Vec<(Hand, Decomposed)>);

/// How some readings fit.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Fit {
    /// Minus twice the logarithm of how likely they are, whoever's hand it was.
    pub(crate) deviance: f64,
    /// The square of the deviation by the hand that fits best.
    pub(crate) square: f64,
    /// How rough that hand is.
    pub(crate) roughness: f64,
}

impl Fit {
    /// Where nothing can be told.
    pub(crate) const NONE: Fit = Fit {
        deviance: f64::INFINITY,
        square: f64::INFINITY,
        roughness: 1.0,
    };
}

impl Errors {
    /// Of a steady hand, as its steps carry its errors on, and with the variance that writing
    /// adds to each reading.
    pub(crate) fn of(steady: &Covariance, written: &[f64]) -> Errors {
        let by = |hand: Hand| {
            let own = steady.times(hand.roughness);
            let mut errors = if hand.carries { own } else { own.apart() };
            for (index, variance) in written.iter().enumerate() {
                errors.add_own(index, *variance);
            }
            Some((hand, errors.decomposed()?))
        };
        Errors(HANDS.into_iter().filter_map(by).collect())
    }

    /// How readings fit that are off by so much.
    pub(crate) fn fit(&self, off: &[f64]) -> Fit {
        let tried: Vec<(Hand, Deviation, f64)> = self
            .0
            .iter()
            .map(|(hand, errors)| {
                let found = errors.of_deviation(off);
                let deviance = found.square + found.log_determinant - 2.0 * libm::log(hand.odds);
                (*hand, found, deviance)
            })
            .collect();
        let best = tried.iter().min_by(|(.., a), (.., b)| a.total_cmp(b));
        let Some((hand, found, least)) = best else {
            return Fit::NONE;
        };
        let likely: f64 = tried
            .iter()
            .map(|(.., deviance)| libm::exp(-(deviance - least) / 2.0))
            .sum();
        Fit {
            deviance: least - 2.0 * libm::log(likely),
            square: found.square,
            roughness: hand.roughness,
        }
    }

    /// How far two workings lie apart, in units of what a steady hand can tell.
    pub(crate) fn apart(&self, by: &[f64]) -> f64 {
        let steady = self.0.iter().filter(|(hand, _)| hand.roughness <= 1.0);
        steady
            .map(|(_, errors)| errors.of_deviation(by).square)
            .fold(f64::INFINITY, f64::min)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn errors() -> Errors {
        let mut hand = Covariance::zero(4);
        for index in 0..4 {
            hand.add_own(index, 0.01);
        }
        Errors::of(&hand, &[1e-4; 4])
    }

    #[test]
    fn all_a_little_off_is_a_rough_hand_and_one_far_off_is_none() {
        let rough = errors().fit(&[0.2, -0.25, 0.22, -0.2]);
        assert!(rough.roughness > 1.9, "{rough:?}");
        assert!(rough.square < 8.0, "{rough:?}");
        let steady = errors().fit(&[0.05, -0.1, 0.02, 0.1]);
        assert!(steady.roughness < 1.1, "{steady:?}");
        // As far off taken together, but all of it in one reading.
        let one = errors().fit(&[0.0, 0.0, 0.0, 2.0]);
        assert!(one.deviance > rough.deviance + 9.0, "{one:?} {rough:?}");
    }
}
