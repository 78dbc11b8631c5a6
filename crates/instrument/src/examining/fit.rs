/// What is found from measurements, and within what: one standard error.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate<T> {
    /// What is found.
    pub at: T,
    /// Its standard error; by how far what was measured scatters, where that is more than
    /// how finely it was measured.
    pub within: T,
}

/// Unknowns found by least squares.
#[derive(Clone, Debug)]
pub(crate) struct Fit<const N: usize> {
    pub(crate) unknowns: [Estimate<f64>; N],
    /// What is left of each measurement, in its own standard errors.
    pub(crate) left: Vec<f64>,
}

/// Rounds of Gauss and Newton; what is fitted here is so nearly straight that three do.
const ROUNDS: u8 = 12;

/// Finds the unknowns that leave the least sum of squares (Gauss, *Theoria combinationis
/// observationum*, 1823), from a beginning near enough.
///
/// `left` gives what a choice of unknowns leaves of each measurement, in its standard
/// errors; `steps` how far each unknown may be moved to see what that changes. None, where
/// the measurements do not determine the unknowns.
pub(crate) fn least_squares<const N: usize>(
    begin: [f64; N],
    steps: [f64; N],
    left: impl Fn(&[f64; N]) -> Vec<f64>,
) -> Option<Fit<N>> {
    let mut at = begin;
    let mut inverse = [[0.0; N]; N];
    for _ in 0..ROUNDS {
        let here = left(&at);
        if here.len() < N {
            return None;
        }
        let slopes: Vec<Vec<f64>> = (0..N)
            .map(|unknown| {
                let moved = |by: f64| {
                    let mut there = at;
                    for (index, (value, step)) in there.iter_mut().zip(steps).enumerate() {
                        if index == unknown {
                            *value += by * step;
                        }
                    }
                    left(&there)
                };
                // For a step of each unknown, so that all are of one size.
                let ends = moved(1.0).into_iter().zip(moved(-1.0));
                ends.map(|(more, less)| (more - less) / 2.0).collect()
            })
            .collect();
        let product =
            |one: &[f64], other: &[f64]| -> f64 { one.iter().zip(other).map(|(a, b)| a * b).sum() };
        let mut normal = [[0.0; N]; N];
        for (row, one) in normal.iter_mut().zip(&slopes) {
            for (cell, other) in row.iter_mut().zip(&slopes) {
                *cell = product(one, other);
            }
        }
        inverse = inverted(normal)?;
        let pulls: Vec<f64> = slopes.iter().map(|slope| product(slope, &here)).collect();
        for ((value, row), step) in at.iter_mut().zip(&inverse).zip(steps) {
            *value -= product(row, &pulls) * step;
        }
    }
    let left = left(&at);
    let more = left.len().saturating_sub(N);
    let scatter = match more {
        0 => 1.0,
        more => (left.iter().map(|one| one * one).sum::<f64>() / more as f64)
            .sqrt()
            .max(1.0),
    };
    let mut unknowns = at.map(|at| Estimate { at, within: 0.0 });
    for (index, ((unknown, row), step)) in unknowns.iter_mut().zip(&inverse).zip(steps).enumerate()
    {
        let variance = row.get(index).copied().unwrap_or(0.0);
        unknown.within = variance.sqrt() * step * scatter;
    }
    let sound = |one: &Estimate<f64>| one.at.is_finite() && one.within.is_finite();
    unknowns.iter().all(sound).then_some(Fit { unknowns, left })
}

/// The inverse of a symmetric matrix by Gauss and Jordan; None where it has none to speak of.
fn inverted<const N: usize>(mut matrix: [[f64; N]; N]) -> Option<[[f64; N]; N]> {
    let mut inverse = [[0.0; N]; N];
    for (index, row) in inverse.iter_mut().enumerate() {
        *row.get_mut(index)? = 1.0;
    }
    for column in 0..N {
        let size = |row: &usize| {
            matrix
                .get(*row)
                .and_then(|row| row.get(column))
                .map_or(0.0, |one| one.abs())
        };
        let pivot = (column..N).max_by(|a, b| size(a).total_cmp(&size(b)))?;
        let largest = size(&pivot);
        let whole: f64 = matrix
            .iter()
            .flatten()
            .fold(0.0, |most, one| most.max(one.abs()));
        if largest.is_nan() || largest <= whole * 1e-12 {
            return None;
        }
        matrix.swap(column, pivot);
        inverse.swap(column, pivot);
        let head = *matrix.get(column)?.get(column)?;
        let (base, unit) = (
            matrix.get(column)?.map(|one| one / head),
            inverse.get(column)?.map(|one| one / head),
        );
        for (index, (row, made)) in matrix.iter_mut().zip(&mut inverse).enumerate() {
            if index == column {
                (*row, *made) = (base, unit);
                continue;
            }
            let times = *row.get(column)?;
            for (cell, one) in row.iter_mut().zip(base) {
                *cell -= times * one;
            }
            for (cell, one) in made.iter_mut().zip(unit) {
                *cell -= times * one;
            }
        }
    }
    Some(inverse)
}

/// The middle of some numbers; zero of none.
pub(crate) fn median(mut numbers: Vec<f64>) -> f64 {
    numbers.sort_by(f64::total_cmp);
    let upper = numbers.get(numbers.len() / 2).copied().unwrap_or(0.0);
    let lower = numbers
        .get(numbers.len().saturating_sub(1) / 2)
        .copied()
        .unwrap_or(0.0);
    (upper + lower) / 2.0
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The straight line through (1, 6), (2, 5), (3, 7), (4, 10) is 3.5 + 1.4 x, its sum of
    /// squares 4.2 (worked by hand from the normal equations).
    #[test]
    fn a_straight_line() {
        let points = [(1.0, 6.0), (2.0, 5.0), (3.0, 7.0), (4.0, 10.0)];
        let left = |[a, b]: &[f64; 2]| points.map(|(x, y)| a + b * x - y).to_vec();
        let fit = least_squares([0.0, 0.0], [1.0, 1.0], left).unwrap();
        let [a, b] = fit.unknowns;
        assert!((a.at - 3.5).abs() < 1e-9 && (b.at - 1.4).abs() < 1e-9);
        let squares: f64 = fit.left.iter().map(|one| one * one).sum();
        assert!((squares - 4.2).abs() < 1e-9);
        // Variances 2.1 × 30/20 and 2.1 × 4/20.
        assert!((a.within - 3.15_f64.sqrt()).abs() < 1e-9);
        assert!((b.within - 0.42_f64.sqrt()).abs() < 1e-9);
    }

    #[test]
    fn what_is_not_determined_is_not_found() {
        let left = |[a, b]: &[f64; 2]| vec![a + b - 1.0, a + b - 1.1];
        assert!(least_squares([0.0, 0.0], [1.0, 1.0], left).is_none());
        assert!(least_squares([0.0, 0.0], [1.0, 1.0], |_| vec![0.0]).is_none());
    }
}
