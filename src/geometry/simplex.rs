//! A small linear program, solved by the simplex method in its dictionary form (Chvátal, Linear Programming, 1983, from memory): for
//! some ten unknowns and up to some thousand rows.

use crate::tolerance::{NO_FALL, NO_PIVOT};

/// So many times as many pivots as rows and columns are the most: where rounding leads in a circle none is found.
const MOST_PIVOTS: usize = 100;

/// An inequality: the product of its coefficients with the unknowns is at most its limit.
#[derive(Debug, Clone)]
pub struct Row {
    /// A coefficient for each unknown.
    pub of: Vec<f64>,
    /// The limit.
    pub limit: f64,
}

/// The unknowns, none below zero, that keep every row and for which the cost is least; `None` where no unknowns keep all rows, or
/// the cost has no least.
pub fn least(cost: &[f64], rows: &[Row]) -> Option<Vec<f64>> {
    let mut dictionary = Dictionary::new(cost.len(), rows);
    dictionary.make_feasible()?;
    dictionary.set_cost(cost);
    dictionary.descend()?;
    Some(dictionary.solution(cost.len()))
}

/// Each basic unknown as its limit less the coefficients times the free ones, which are zero. The slack of row i is the unknown
/// `count + i`; the last unknown of all is the one by which every row is loosened to begin with.
struct Dictionary {
    rows: Vec<Row>,
    cost: Vec<f64>,
    basic: Vec<usize>,
    free: Vec<usize>,
    loosening: usize,
}

impl Dictionary {
    fn new(count: usize, rows: &[Row]) -> Dictionary {
        let loosening = count + rows.len();
        let loosened = |row: &Row| Row { of: row.of.iter().copied().chain([-1.0]).collect(), limit: row.limit };
        Dictionary {
            rows: rows.iter().map(loosened).collect(),
            cost: (0..=count).map(|k| if k == count { 1.0 } else { 0.0 }).collect(),
            basic: (count..loosening).collect(),
            free: (0..count).chain([loosening]).collect(),
            loosening,
        }
    }

    /// Loosens every row until all are kept, and tightens them again as far as it goes; `None` where that is not all the way.
    fn make_feasible(&mut self) -> Option<()> {
        let limits = self.rows.iter().map(|row| row.limit).enumerate();
        let worst = limits.min_by(|a, b| a.1.total_cmp(&b.1));
        if let Some((row, _)) = worst.filter(|(_, limit)| *limit < 0.0) {
            self.pivot(row, self.free.len() - 1);
            self.descend()?;
        }
        if let Some(row) = self.basic.iter().position(|unknown| *unknown == self.loosening) {
            if self.rows[row].limit > NO_PIVOT {
                return None;
            }
            let column = self.rows[row].of.iter().position(|c| c.abs() > NO_PIVOT)?;
            self.rows[row].limit = 0.0;
            self.pivot(row, column);
        }
        let column = self.free.iter().position(|unknown| *unknown == self.loosening)?;
        self.free.remove(column);
        self.cost.remove(column);
        for row in &mut self.rows {
            row.of.remove(column);
        }
        Some(())
    }

    /// The cost of unknowns, told by the free ones.
    fn set_cost(&mut self, cost: &[f64]) {
        let of = |unknown: usize| cost.get(unknown).copied().unwrap_or(0.0);
        self.cost = self.free.iter().map(|unknown| of(*unknown)).collect();
        for (row, unknown) in self.rows.iter().zip(&self.basic) {
            let share = of(*unknown);
            self.cost.iter_mut().zip(&row.of).for_each(|(cost, c)| *cost -= share * c);
        }
    }

    /// Goes down to the least cost, always by the first unknown that helps, so that it never goes in a circle (Bland's rule); `None`
    /// where there is no least.
    fn descend(&mut self) -> Option<()> {
        let most = MOST_PIVOTS * (self.rows.len() + self.cost.len());
        for _ in 0..most {
            let falling = (0..self.cost.len()).filter(|column| self.cost[*column] < -NO_PIVOT);
            let Some(column) = falling.min_by_key(|column| self.free[*column]) else { return Some(()) };
            let bound = |row: &usize| {
                let Row { of, limit } = &self.rows[*row];
                (of[column] > NO_PIVOT).then(|| limit / of[column])
            };
            let bounds = (0..self.rows.len()).filter_map(|row| Some((row, bound(&row)?)));
            let order = |a: &(usize, f64), b: &(usize, f64)| {
                a.1.total_cmp(&b.1).then_with(|| self.basic[a.0].cmp(&self.basic[b.0]))
            };
            match bounds.min_by(order) {
                Some((row, _)) => self.pivot(row, column),
                // What rounding leaves of a cost is none.
                None if self.cost[column] > -NO_FALL => self.cost[column] = 0.0,
                None => return None,
            }
        }
        None
    }

    /// Frees the basic unknown of a row, and makes a free one basic.
    fn pivot(&mut self, row: usize, column: usize) {
        let by = 1.0 / self.rows[row].of[column];
        let pivot = &mut self.rows[row];
        pivot.of.iter_mut().for_each(|c| *c *= by);
        pivot.of[column] = by;
        pivot.limit *= by;
        let pivot = pivot.clone();
        for (_, other) in self.rows.iter_mut().enumerate().filter(|(index, _)| *index != row) {
            let share = std::mem::replace(&mut other.of[column], 0.0);
            if share != 0.0 {
                other.of.iter_mut().zip(&pivot.of).for_each(|(c, p)| *c -= share * p);
                let limit = other.limit - share * pivot.limit;
                other.limit = if limit.abs() < NO_PIVOT { 0.0 } else { limit };
            }
        }
        let share = std::mem::replace(&mut self.cost[column], 0.0);
        self.cost.iter_mut().zip(&pivot.of).for_each(|(c, p)| *c -= share * p);
        std::mem::swap(&mut self.basic[row], &mut self.free[column]);
    }

    fn solution(&self, count: usize) -> Vec<f64> {
        let mut found = vec![0.0; count];
        for (row, unknown) in self.rows.iter().zip(&self.basic) {
            if let Some(value) = found.get_mut(*unknown) {
                *value = row.limit;
            }
        }
        found
    }
}

#[cfg(test)]
mod tests {
    use super::{Row, least};

    fn row(of: &[f64], limit: f64) -> Row {
        Row { of: of.to_vec(), limit }
    }

    /// By hand: the corners are (3, 0), (1, 4/3) and (1.5, 1.5); the cost of the last is least.
    #[test]
    fn the_least_cost_is_found_at_a_corner() {
        let rows = [row(&[1.0, 1.0], 3.0), row(&[-1.0, 3.0], 3.0), row(&[-2.0, -3.0], -6.0)];
        let found = least(&[-1.0, -2.0], &rows).unwrap();
        assert!((found[0] - 1.5).abs() < 1e-12 && (found[1] - 1.5).abs() < 1e-12, "{found:?}");
    }

    #[test]
    fn rows_that_contradict_each_other_and_costs_without_end_have_none() {
        assert_eq!(least(&[1.0], &[row(&[1.0], 1.0), row(&[-1.0], -2.0)]), None);
        assert_eq!(least(&[-1.0], &[row(&[-1.0], -2.0)]), None);
    }

    /// Beale's example, on which the rule of the steepest fall goes in a circle: the least cost is -1/20.
    #[test]
    fn it_never_goes_in_a_circle() {
        let rows = [
            row(&[0.25, -60.0, -0.04, 9.0], 0.0),
            row(&[0.5, -90.0, -0.02, 3.0], 0.0),
            row(&[0.0, 0.0, 1.0, 0.0], 1.0),
        ];
        let cost = [-0.75, 150.0, -0.02, 6.0];
        let found = least(&cost, &rows).unwrap();
        let total: f64 = found.iter().zip(&cost).map(|(x, c)| x * c).sum();
        assert!((total + 0.05).abs() < 1e-12, "{total}");
    }
}
