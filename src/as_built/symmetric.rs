//! Small symmetric matrices: of the seven numbers of a pose.

use super::pose::NUMBERS;

/// A symmetric matrix of the seven numbers of a pose.
pub type Matrix = [[f64; NUMBERS]; NUMBERS];

/// The turns of Jacobi's method: each halves what is off the diagonal many times over, and some eight are enough.
const TURNS: usize = 30;

/// Eigenvalues, and the eigenvectors as columns of the second (Jacobi's method).
pub(super) fn eigen(mut a: Matrix) -> ([f64; NUMBERS], Matrix) {
    let mut v: Matrix = std::array::from_fn(|i| std::array::from_fn(|j| f64::from(u8::from(i == j))));
    for _ in 0..TURNS {
        for p in 0..NUMBERS {
            for q in p + 1..NUMBERS {
                if a[p][q] == 0.0 {
                    continue;
                }
                // The turn in the plane of p and q that makes their product none.
                let theta = (a[q][q] - a[p][p]) / (2.0 * a[p][q]);
                let t = theta.signum() / (theta.abs() + theta.hypot(1.0));
                let (cos, sin) = (1.0 / t.hypot(1.0), t / t.hypot(1.0));
                for row in &mut a {
                    (row[p], row[q]) = (cos * row[p] - sin * row[q], sin * row[p] + cos * row[q]);
                }
                let (above, below) = a.split_at_mut(q);
                if let (Some(row), Some(other)) = (above.get_mut(p), below.first_mut()) {
                    for (x, y) in row.iter_mut().zip(other) {
                        (*x, *y) = (cos * *x - sin * *y, sin * *x + cos * *y);
                    }
                }
                for row in &mut v {
                    (row[p], row[q]) = (cos * row[p] - sin * row[q], sin * row[p] + cos * row[q]);
                }
            }
        }
    }
    (std::array::from_fn(|i| a[i][i]), v)
}

/// The inverse of a matrix whose eigenvalues are all above zero.
pub(super) fn inverse(a: Matrix) -> Matrix {
    let (values, v) = eigen(a);
    std::array::from_fn(|i| std::array::from_fn(|j| (0..NUMBERS).map(|k| v[i][k] * v[j][k] / values[k]).sum()))
}

/// A matrix times a vector.
pub(super) fn times(a: &Matrix, x: &[f64; NUMBERS]) -> [f64; NUMBERS] {
    std::array::from_fn(|i| dot(&a[i], x))
}

/// The scalar product.
pub(super) fn dot(a: &[f64; NUMBERS], b: &[f64; NUMBERS]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

#[cfg(test)]
mod tests {
    use super::{Matrix, NUMBERS, inverse, times};

    #[test]
    fn a_matrix_times_its_inverse_is_one() {
        // Of rows that lean on each other, as readings do.
        let row = |i: usize, j: usize| 1.0 / (1.0 + i as f64 + j as f64) + if i == j { 0.3 } else { 0.0 };
        let a: Matrix = std::array::from_fn(|i| std::array::from_fn(|j| row(i, j)));
        let b = inverse(a);
        // Both are symmetric: a row is a column too.
        for (i, column) in b.iter().enumerate() {
            let one: [f64; NUMBERS] = std::array::from_fn(|k| f64::from(u8::from(i == k)));
            let found = times(&a, column);
            assert!(found.iter().zip(one).all(|(found, meant)| (found - meant).abs() < 1e-12), "{i}: {found:?}");
        }
    }
}
