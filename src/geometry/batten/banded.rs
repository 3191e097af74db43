//! Linear equations whose coefficients lie near the diagonal.

use crate::tolerance::CANCELLED;

/// Places to either side of the diagonal that hold coefficients.
const REACH: usize = 4;
/// Exchanging rows fills in as many again above.
const WIDTH: usize = 3 * REACH + 1;

/// A square matrix with coefficients within four places of the diagonal.
#[derive(Debug, Clone)]
pub(super) struct Banded {
    rows: Vec<[f64; WIDTH]>,
}

impl Banded {
    /// All zero, of `size` rows.
    pub(super) fn new(size: usize) -> Self {
        Banded { rows: vec![[0.0; WIDTH]; size] }
    }

    /// The coefficient at a row and a column within reach of it.
    pub(super) fn at(&mut self, row: usize, column: usize) -> &mut f64 {
        &mut self.rows[row][column + REACH - row]
    }

    /// Solves for the right-hand side, in place of it; `None` where the equations do not determine an answer.
    pub(super) fn solve(mut self, mut right: Vec<f64>) -> Option<Vec<f64>> {
        let size = right.len();
        for column in 0..size {
            let below = (column + REACH + 1).min(size);
            let across = (column + 2 * REACH + 1).min(size);
            let pivot =
                (column..below).max_by(|a, b| self.at(*a, column).abs().total_cmp(&self.at(*b, column).abs()))?;
            let size_of_pivot = self.at(pivot, column).abs();
            // Scaled to spans of length 1 the coefficients are about 1; also refuses what is no number.
            if !(size_of_pivot > CANCELLED && size_of_pivot.is_finite()) {
                return None;
            }
            if pivot != column {
                for c in column..across.min(pivot + 2 * REACH + 1) {
                    let (upper, lower) = (*self.at(column, c), *self.at(pivot, c));
                    (*self.at(column, c), *self.at(pivot, c)) = (lower, upper);
                }
                right.swap(pivot, column);
            }
            for row in column + 1..below {
                let share = *self.at(row, column) / *self.at(column, column);
                if share != 0.0 {
                    for c in column..across {
                        let above = *self.at(column, c);
                        *self.at(row, c) -= share * above;
                    }
                    right[row] -= share * right[column];
                }
            }
        }
        for row in (0..size).rev() {
            for c in row + 1..(row + 2 * REACH + 1).min(size) {
                right[row] -= *self.at(row, c) * right[c];
            }
            right[row] /= *self.at(row, row);
        }
        Some(right)
    }
}

#[cfg(test)]
mod tests {
    use super::Banded;

    #[test]
    fn solves_what_needs_rows_exchanged() {
        let coefficient = |r: usize, c: usize| ((r * 7 + c * 3) % 11) as f64 - if r == c { 5.0 } else { 2.0 };
        let size = 12;
        let answer: Vec<f64> = (0..size).map(|i| i as f64 - 4.5).collect();
        let mut matrix = Banded::new(size);
        let row = |(r, _): (usize, &f64)| {
            let near = answer.iter().enumerate().skip(r.saturating_sub(4)).take_while(|(c, _)| *c < r + 5);
            near.map(|(c, x)| {
                let value = if r == c && r % 3 == 0 { 0.0 } else { coefficient(r, c) };
                *matrix.at(r, c) = value;
                value * x
            })
            .sum::<f64>()
        };
        let right: Vec<f64> = answer.iter().enumerate().map(row).collect();
        let found = matrix.solve(right).expect("the matrix is regular");
        assert!(found.iter().zip(&answer).all(|(a, b)| (a - b).abs() < 1e-9), "{found:?}");
        assert_eq!(Banded::new(3).solve(vec![1.0; 3]), None);
    }
}
