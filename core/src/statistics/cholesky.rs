//! The Cholesky factor of a small symmetric positive-definite matrix: solve, quadratic form, inverse.

/// The matrix is not positive definite: some column adds nothing to the ones before it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NotPositiveDefinite;

/// The least part of a diagonal cell that must be left for its pivot; less is what rounding leaves of nothing.
const LEAST_PIVOT: f64 = 64.0 * f64::EPSILON;

/// The lower triangle L with L Lᵀ = A, kept for as many right-hand sides as are asked for.
///
/// Matrices are rows one after another in a flat slice. The room is made once and used again, so that an
/// iteration allocates nothing.
#[derive(Debug, Clone, PartialEq)]
pub struct Factor {
    order: usize,
    /// Row after row; above the diagonal nothing is read.
    lower: Vec<f64>,
}

impl Factor {
    /// Room for a matrix of this many rows; factors nothing yet.
    #[must_use]
    pub fn with_order(order: usize) -> Self {
        Self { order, lower: vec![0.0; order * order] }
    }

    /// Factors a matrix, of which only the lower triangle is read.
    ///
    /// # Errors
    /// [`NotPositiveDefinite`] when a pivot is not above what rounding alone could leave, or the matrix is not of
    /// the order that room was made for. The factor is then of no use until the next success.
    pub fn refactor(&mut self, matrix: &[f64]) -> Result<(), NotPositiveDefinite> {
        if matrix.len() != self.lower.len() {
            return Err(NotPositiveDefinite);
        }
        for (place, source) in matrix.chunks_exact(self.order.max(1)).enumerate() {
            let (above, rest) = self.lower.split_at_mut(place * self.order);
            let row = rest.get_mut(..self.order).ok_or(NotPositiveDefinite)?;
            let whole = *source.get(place).ok_or(NotPositiveDefinite)?;
            let mut pivot = whole;
            for (column, (other, entry)) in above.chunks_exact(self.order).zip(source).enumerate() {
                let (done, to_do) = row.split_at_mut(column);
                let (Some(target), Some(diagonal)) = (to_do.first_mut(), other.get(column)) else {
                    return Err(NotPositiveDefinite);
                };
                *target = (entry - dot(done, other)) / diagonal;
                pivot -= *target * *target;
            }
            if !(pivot.is_finite() && pivot > whole * LEAST_PIVOT) {
                return Err(NotPositiveDefinite);
            }
            *row.get_mut(place).ok_or(NotPositiveDefinite)? = libm::sqrt(pivot);
        }
        Ok(())
    }

    /// Replaces b by L⁻¹ b.
    pub fn solve_lower(&self, right: &mut [f64]) {
        for (place, row) in self.lower.chunks_exact(self.order.max(1)).enumerate() {
            let Some((done, to_do)) = right.split_at_mut_checked(place) else { return };
            if let (Some(target), Some(diagonal)) = (to_do.first_mut(), row.get(place)) {
                *target = (*target - dot(done, row)) / diagonal;
            }
        }
    }

    /// Replaces b by A⁻¹ b.
    pub fn solve(&self, right: &mut [f64]) {
        self.solve_lower(right);
        // Now Lᵀ x = b from the last row up, each found value taken out of the rows before it.
        for (place, row) in self.lower.chunks_exact(self.order.max(1)).enumerate().rev() {
            let Some((before, from)) = right.split_at_mut_checked(place) else { continue };
            if let (Some(target), Some(diagonal)) = (from.first_mut(), row.get(place)) {
                *target /= diagonal;
                for (earlier, entry) in before.iter_mut().zip(row) {
                    *earlier -= entry * *target;
                }
            }
        }
    }

    /// The quadratic forms bᵀ A⁻¹ b = |L⁻¹ b|² of as many right-hand sides as there are `forms`.
    ///
    /// `columns` holds the first entries of all of them, then the second ones, and so on; `room` is overwritten. Going
    /// through them entry by entry, no division waits for the one before, which is most of the time that they take.
    pub fn quadratic_forms(&self, columns: &[f64], room: &mut Vec<f64>, forms: &mut [f64]) {
        let count = forms.len();
        forms.fill(0.0);
        room.clear();
        room.extend_from_slice(columns);
        room.resize(columns.len() + count, 0.0);
        let Some((solved, taken)) = room.split_at_mut_checked(columns.len()) else { return };
        for (place, row) in self.lower.chunks_exact(self.order.max(1)).enumerate() {
            let Some((done, to_do)) = solved.split_at_mut_checked(place * count) else { return };
            taken.fill(0.0);
            for (done, entry) in done.chunks_exact(count.max(1)).zip(row) {
                taken.iter_mut().zip(done).for_each(|(taken, done)| *taken += done * entry);
            }
            let Some(diagonal) = row.get(place) else { return };
            for ((target, taken), form) in to_do.iter_mut().zip(&*taken).zip(&mut *forms) {
                *target = (*target - taken) / diagonal;
                *form += *target * *target;
            }
        }
    }

    /// A⁻¹, row after row.
    #[must_use]
    pub fn inverse(&self) -> Vec<f64> {
        // A⁻¹ is symmetric, so its columns laid one after another are its rows.
        let mut inverse = vec![0.0; self.lower.len()];
        for (place, column) in inverse.chunks_exact_mut(self.order.max(1)).enumerate() {
            if let Some(one) = column.get_mut(place) {
                *one = 1.0;
            }
            self.solve(column);
        }
        inverse
    }
}

/// Σ aᵢ bᵢ over the shorter of the two.
#[must_use]
pub fn dot(one: &[f64], other: &[f64]) -> f64 {
    one.iter().zip(other).map(|(a, b)| a * b).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_matrix_done_by_hand() {
        // L = [2; 6 1; −8 5 3] gives A below.
        let mut factor = Factor::with_order(3);
        let matrix = [4.0, 12.0, -16.0, 12.0, 37.0, -43.0, -16.0, -43.0, 98.0];
        assert_eq!(factor.refactor(&matrix), Ok(()));
        let mut right = [4.0 - 16.0, 12.0 - 43.0, -16.0 + 98.0]; // A (1, 0, 1)
        factor.solve(&mut right);
        assert_eq!(right, [1.0, 0.0, 1.0]);
        let mut forms = [0.0; 2];
        // Of (2, 6, −8) and (4, 12, −16), laid in columns.
        factor.quadratic_forms(&[2.0, 4.0, 6.0, 12.0, -8.0, -16.0], &mut Vec::new(), &mut forms);
        assert_eq!(forms, [1.0, 4.0]);
    }

    #[test]
    fn refuses_what_has_no_factor() {
        let mut factor = Factor::with_order(2);
        for matrix in [[1.0, 2.0, 2.0, 4.0], [1.0, 0.0, 0.0, -1.0], [f64::NAN, 0.0, 0.0, 1.0], [f64::INFINITY; 4]] {
            assert_eq!(factor.refactor(&matrix), Err(NotPositiveDefinite), "{matrix:?}");
        }
        assert_eq!(factor.refactor(&[1.0]), Err(NotPositiveDefinite));
    }

    proptest! {
        #[test]
        fn inverse_times_matrix_is_one(cells in prop::collection::vec(-3.0..3.0_f64, 25)) {
            // B Bᵀ + 1 is positive definite whatever B is.
            let cell = |i: usize, j: usize| (0..5).map(|k| cells[i * 5 + k] * cells[j * 5 + k]).sum::<f64>() + f64::from(u8::from(i == j));
            let matrix: Vec<f64> = (0..25).map(|place| cell(place / 5, place % 5)).collect();
            let mut factor = Factor::with_order(5);
            factor.refactor(&matrix).unwrap();
            let inverse = factor.inverse();
            for i in 0..5 {
                for j in 0..5 {
                    let product: f64 = (0..5).map(|k| matrix[i * 5 + k] * inverse[k * 5 + j]).sum();
                    prop_assert!((product - f64::from(u8::from(i == j))).abs() < 1e-10, "{} {} {}", i, j, product);
                }
            }
        }
    }
}
