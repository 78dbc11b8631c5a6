use nalgebra::{Cholesky, DMatrix, DVector, Dyn};

/// What is sought, before anything was seen of it: near what it lies, and within what.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Expected {
    /// The middle of what is expected.
    pub(super) at: f64,
    /// Its standard error.
    pub(super) within: f64,
}

/// Unknowns as they were found, and how they hang together.
#[derive(Clone, Debug)]
pub(super) struct Adjusted {
    pub(super) at: DVector<f64>,
    pub(super) covariance: DMatrix<f64>,
}

/// A system of lefts over unknowns: one number for each thing seen, in its own unit, nothing
/// where an unknown set leads nowhere.
pub(super) trait Lefts {
    fn lefts(&self, at: &DVector<f64>) -> Option<DVector<f64>>;
}

/// Rounds that are enough from any beginning that leads anywhere.
const ROUNDS: u32 = 80;

/// How far an unknown is moved to see what that changes, in parts of what is expected of it.
pub(super) const STEP: f64 = 1e-5;

/// The unknowns that leave the least, with what is expected of each weighed in (K. Levenberg,
/// *Quarterly of Applied Mathematics* 2, 1944; D. W. Marquardt, *SIAM Journal* 11, 1963).
///
/// `weights` are of the lefts, one over the variance of each.
pub(super) fn adjusted(
    begin: &DVector<f64>,
    expected: &[Expected],
    system: &impl Lefts,
    weights: &DVector<f64>,
) -> Option<Adjusted> {
    let prior = DVector::from_iterator(
        expected.len(),
        expected.iter().map(|one| one.within.powi(-2)),
    );
    let middle = DVector::from_iterator(expected.len(), expected.iter().map(|one| one.at));
    let cost_of = |at: &DVector<f64>, left: &DVector<f64>| {
        let seen: f64 = left
            .iter()
            .zip(weights)
            .map(|(one, weight)| one * one * weight)
            .sum();
        let held: f64 = (at - &middle)
            .iter()
            .zip(&prior)
            .map(|(one, weight)| one * one * weight)
            .sum();
        seen + held
    };
    let mut at = begin.clone();
    let mut left = system.lefts(&at)?;
    let mut cost = cost_of(&at, &left);
    let mut damping = 1e-3;
    for _ in 0..ROUNDS {
        let slopes = slopes(&at, expected, system)?;
        let weighed = weigh(&slopes, weights);
        let normal = weighed.transpose() * &slopes + DMatrix::from_diagonal(&prior);
        let pull = weighed.transpose() * &left + (&at - &middle).component_mul(&prior);
        let mut better = None;
        for _ in 0..12 {
            let mut damped = normal.clone();
            for index in 0..damped.nrows() {
                if let Some(cell) = damped.get_mut((index, index)) {
                    *cell *= 1.0 + damping;
                }
            }
            let step = Cholesky::new(damped)?.solve(&pull);
            let there = &at - step;
            let tried = system
                .lefts(&there)
                .map(|left| (cost_of(&there, &left), left));
            match tried {
                Some((lower, left)) if lower <= cost => {
                    better = Some((there, left, lower));
                    damping = (damping / 8.0).max(1e-12);
                    break;
                }
                Some(_) | None => damping *= 8.0,
            }
        }
        let Some((there, left_there, lower)) = better else {
            break;
        };
        let gained = cost - lower;
        (at, left, cost) = (there, left_there, lower);
        if gained <= 1e-9 * (1.0 + cost) {
            break;
        }
    }
    let slopes = slopes(&at, expected, system)?;
    let normal = weigh(&slopes, weights).transpose() * &slopes + DMatrix::from_diagonal(&prior);
    let covariance = inverse(normal)?;
    Some(Adjusted { at, covariance })
}

/// What each unknown changes in each left.
pub(super) fn slopes(
    at: &DVector<f64>,
    expected: &[Expected],
    system: &impl Lefts,
) -> Option<DMatrix<f64>> {
    let columns: Option<Vec<DVector<f64>>> = expected
        .iter()
        .enumerate()
        .map(|(index, one)| {
            let step = STEP * one.within;
            let moved = |by: f64| {
                let mut there = at.clone();
                *there.get_mut(index)? += by;
                system.lefts(&there)
            };
            Some((moved(step)? - moved(-step)?) / (2.0 * step))
        })
        .collect();
    Some(DMatrix::from_columns(&columns?))
}

fn weigh(slopes: &DMatrix<f64>, weights: &DVector<f64>) -> DMatrix<f64> {
    let mut weighed = slopes.clone();
    for (mut row, weight) in weighed.row_iter_mut().zip(weights) {
        row *= *weight;
    }
    weighed
}

fn inverse(normal: DMatrix<f64>) -> Option<DMatrix<f64>> {
    let factor: Cholesky<f64, Dyn> = Cholesky::new(normal)?;
    let inverse = factor.inverse();
    inverse.iter().all(|one| one.is_finite()).then_some(inverse)
}

#[cfg(test)]
mod tests {
    use super::*;

    struct Straight<'a>(&'a [(f64, f64)]);

    impl Lefts for Straight<'_> {
        fn lefts(&self, at: &DVector<f64>) -> Option<DVector<f64>> {
            let left = self.0.iter().map(|(x, y)| at[0] + at[1] * x - y);
            Some(DVector::from_iterator(self.0.len(), left))
        }
    }

    /// The straight line through (1, 6), (2, 5), (3, 7), (4, 10) is 3.5 + 1.4 x (worked by
    /// hand from the normal equations); an expectation that is next to none leaves it so.
    #[test]
    fn a_straight_line_and_what_is_not_seen() {
        let points = [(1.0, 6.0), (2.0, 5.0), (3.0, 7.0), (4.0, 10.0)];
        let wide = Expected {
            at: 0.0,
            within: 1e6,
        };
        let weights = DVector::from_element(4, 1.0);
        let begin = DVector::from_element(2, 0.0);
        let found = adjusted(&begin, &[wide, wide], &Straight(&points), &weights).unwrap();
        assert!((found.at[0] - 3.5).abs() < 1e-6 && (found.at[1] - 1.4).abs() < 1e-6);
        assert!((found.covariance[(0, 0)] - 1.5).abs() < 1e-6);
        // One point alone: along the line nothing is seen, and the expectation stays.
        let held = Expected {
            at: 2.0,
            within: 0.5,
        };
        let one = [(0.0, 3.0)];
        let weights = DVector::from_element(1, 1.0);
        let found = adjusted(&begin, &[wide, held], &Straight(&one), &weights).unwrap();
        assert!((found.at[0] - 3.0).abs() < 1e-6 && (found.at[1] - 2.0).abs() < 1e-9);
        assert!((found.covariance[(1, 1)].sqrt() - 0.5).abs() < 1e-9);
    }
}
