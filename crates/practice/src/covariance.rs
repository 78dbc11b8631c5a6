/// How errors of several readings hang together: a symmetric matrix, in square degrees.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Covariance {
    size: usize,
    cells: Vec<f64>,
}

impl Covariance {
    /// Of so many readings without error.
    pub(crate) fn zero(size: usize) -> Covariance {
        Covariance {
            size,
            cells: vec![0.0; size * size],
        }
    }

    fn cell(&self, row: usize, column: usize) -> f64 {
        self.cells
            .get(row * self.size + column)
            .copied()
            .unwrap_or(0.0)
    }

    /// Adds an error that moves all readings together, each as the row says.
    pub(crate) fn add(&mut self, row: &[f64], variance: f64) {
        for (cell, (one, other)) in self.cells.iter_mut().zip(
            row.iter()
                .flat_map(|one| row.iter().map(move |other| (one, other))),
        ) {
            *cell += one * other * variance;
        }
    }

    /// Adds an error of one reading alone.
    pub(crate) fn add_own(&mut self, index: usize, variance: f64) {
        if let Some(cell) = self.cells.get_mut(index * self.size + index) {
            *cell += variance;
        }
    }

    /// The same errors so many times as large.
    pub(crate) fn times(&self, factor: f64) -> Covariance {
        Covariance {
            size: self.size,
            cells: self
                .cells
                .iter()
                .map(|cell| cell * factor * factor)
                .collect(),
        }
    }

    /// As large errors in each reading, none of them shared.
    pub(crate) fn apart(&self) -> Covariance {
        let mut apart = Covariance::zero(self.size);
        for index in 0..self.size {
            apart.add_own(index, self.cell(index, index));
        }
        apart
    }

    /// Cholesky's decomposition of the matrix, by which deviations are measured; `None`
    /// where it has none.
    pub(crate) fn decomposed(&self) -> Option<Decomposed> {
        let n = self.size;
        let mut lower = vec![0.0; n * n];
        let mut log_determinant = 0.0;
        for row in 0..n {
            for column in 0..=row {
                let products: f64 = (0..column)
                    .map(|k| at(&lower, n, row, k) * at(&lower, n, column, k))
                    .sum();
                let rest = self.cell(row, column) - products;
                let value = if row != column {
                    rest / at(&lower, n, column, column)
                } else if rest > 0.0 {
                    log_determinant += libm::log(rest);
                    rest.sqrt()
                } else {
                    return None;
                };
                if let Some(cell) = lower.get_mut(row * n + column) {
                    *cell = value;
                }
            }
        }
        Some(Decomposed {
            size: n,
            lower,
            log_determinant,
        })
    }
}

/// A covariance as C = L Lᵀ, with L lower triangular: made once, it measures any number of
/// deviations.
#[derive(Clone, Debug)]
pub(crate) struct Decomposed {
    size: usize,
    lower: Vec<f64>,
    log_determinant: f64,
}

impl Decomposed {
    /// The square of a deviation, in units of what is to be expected, dᵀ C⁻¹ d, and the
    /// logarithm of the determinant of C.
    pub(crate) fn of_deviation(&self, deviation: &[f64]) -> Deviation {
        let mut solved: Vec<f64> = Vec::with_capacity(self.size);
        let mut square = 0.0;
        for (row, deviation) in deviation.iter().enumerate().take(self.size) {
            let products: f64 = solved
                .iter()
                .enumerate()
                .map(|(k, solved)| at(&self.lower, self.size, row, k) * solved)
                .sum();
            let value = (deviation - products) / at(&self.lower, self.size, row, row);
            square += value * value;
            solved.push(value);
        }
        Deviation {
            square,
            log_determinant: self.log_determinant,
        }
    }
}

/// How far a deviation lies from nothing, by a covariance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Deviation {
    /// dᵀ C⁻¹ d.
    pub(crate) square: f64,
    /// ln det C.
    pub(crate) log_determinant: f64,
}

fn at(cells: &[f64], size: usize, row: usize, column: usize) -> f64 {
    cells.get(row * size + column).copied().unwrap_or(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shared_errors_count_once() {
        let mut covariance = Covariance::zero(2);
        covariance.add(&[1.0, 1.0], 1.0);
        covariance.add_own(0, 0.01);
        covariance.add_own(1, 0.01);
        let square_by = |covariance: &Covariance, deviation: &[f64]| {
            covariance
                .decomposed()
                .unwrap()
                .of_deviation(deviation)
                .square
        };
        let square = |deviation: &[f64]| square_by(&covariance, deviation);
        // Both off alike is one error of one deviation; apart they are many.
        assert!((square(&[1.0, 1.0]) - 0.995).abs() < 1e-3);
        assert!(square(&[1.0, -1.0]) > 100.0);
        let apart = square_by(&covariance.apart(), &[1.0, -1.0]);
        assert!((apart - 1.98).abs() < 0.01);
        let twice = square_by(&covariance.times(2.0), &[1.0, 1.0]);
        assert!((twice - 0.249).abs() < 1e-3);
        assert!(Covariance::zero(1).decomposed().is_none());
    }

    #[test]
    fn the_determinant_is_that_of_the_matrix() {
        let mut covariance = Covariance::zero(2);
        covariance.add(&[1.0, 2.0], 1.0);
        covariance.add_own(0, 3.0);
        covariance.add_own(1, 5.0);
        // (1 + 3)(4 + 5) − 2 · 2
        let found = covariance.decomposed().unwrap().of_deviation(&[0.0, 0.0]);
        assert!((found.log_determinant - 32.0_f64.ln()).abs() < 1e-12);
    }
}
