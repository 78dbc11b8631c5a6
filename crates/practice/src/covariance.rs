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

    /// The square of a deviation, in units of what is to be expected: dᵀ C⁻¹ d, by
    /// Cholesky's decomposition; infinite where the matrix has none.
    pub(crate) fn square(&self, deviation: &[f64]) -> f64 {
        let n = self.size.min(deviation.len());
        let mut lower = vec![0.0; n * n];
        let mut solved: Vec<f64> = Vec::with_capacity(n);
        let mut square = 0.0;
        for (row, deviation) in deviation.iter().enumerate().take(n) {
            for column in 0..=row {
                let products: f64 = (0..column)
                    .map(|k| at(&lower, n, row, k) * at(&lower, n, column, k))
                    .sum();
                let rest = self.cell(row, column) - products;
                let value = if row == column {
                    if rest <= 0.0 {
                        return f64::INFINITY;
                    }
                    rest.sqrt()
                } else {
                    rest / at(&lower, n, column, column)
                };
                if let Some(cell) = lower.get_mut(row * n + column) {
                    *cell = value;
                }
            }
            let products: f64 = solved
                .iter()
                .enumerate()
                .map(|(k, solved)| at(&lower, n, row, k) * solved)
                .sum();
            let value = (deviation - products) / at(&lower, n, row, row);
            square += value * value;
            solved.push(value);
        }
        square
    }
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
        // Both off alike is one error of one deviation; apart they are many.
        assert!((covariance.square(&[1.0, 1.0]) - 0.995).abs() < 1e-3);
        assert!(covariance.square(&[1.0, -1.0]) > 100.0);
        assert!(Covariance::zero(1).square(&[1.0]).is_infinite());
    }
}
