//! The grid of sheets under one pattern.

use crate::geometry::{Point, Rect, Vec2};
use std::collections::VecDeque;

/// Sheets in rows and columns, row 0 at the top, each seeing a window of the pattern that overlaps its neighbours'.
#[derive(Debug, Clone, PartialEq)]
pub struct Grid {
    /// Width and height of every window, mm.
    pub window: Vec2,
    /// Width of the strip that two neighbours share, mm.
    pub overlap: f64,
    /// Number of rows.
    pub rows: usize,
    /// Number of columns.
    pub columns: usize,
    /// Upper left corner of the first window, in the pattern.
    corner: Point,
}

impl Grid {
    /// The smallest grid of such windows that covers the bounds; `shift` (0 to 1 both ways) says how much of the room to
    /// spare lies left of them and above. `None` where the window is no larger than the overlap, so that no number of
    /// sheets would do.
    pub fn over(bounds: Rect, window: Vec2, overlap: f64, shift: Vec2) -> Option<Grid> {
        let step = window - Vec2::new(overlap, overlap);
        if !(step.x > 0.0 && step.y > 0.0 && bounds.is_finite()) {
            return None;
        }
        let count = |length: f64, step: f64| ((length - overlap) / step).ceil().max(1.0);
        let (columns, rows) = (count(bounds.width(), step.x), count(bounds.height(), step.y));
        let spare_x = columns * step.x + overlap - bounds.width();
        let spare_y = rows * step.y + overlap - bounds.height();
        let corner = Point::new(bounds.x0 - spare_x * shift.x, bounds.y1 + spare_y * shift.y);
        Some(Grid { window, overlap, rows: rows as usize, columns: columns as usize, corner })
    }

    /// What the sheet sees of the pattern.
    pub fn window(&self, row: usize, column: usize) -> Rect {
        let step = self.window - Vec2::new(self.overlap, self.overlap);
        let x = self.corner.x + step.x * column as f64;
        let y = self.corner.y - step.y * row as f64;
        Rect::new(x, y - self.window.y, x + self.window.x, y)
    }

    /// Strips of a width, mm, whose middles are the lines along which sheets meet, as long as the grid.
    pub fn strips(&self, width: f64) -> impl Iterator<Item = Rect> + '_ {
        let all = self.window(0, 0).union(self.window(self.rows - 1, self.columns - 1));
        let (seam, half) = (self.overlap / 2.0, width / 2.0);
        let down = (1..self.columns).map(move |column| {
            let x = self.window(0, column).x0 + seam;
            Rect::new(x - half, all.y0, x + half, all.y1)
        });
        let across = (1..self.rows).map(move |row| {
            let y = self.window(row, 0).y1 - seam;
            Rect::new(all.x0, y - half, all.x1, y + half)
        });
        down.chain(across)
    }

    /// What the sheet shows once the sheets are taped up: its window up to the seams, which run down the middle of
    /// each overlap.
    pub fn cell(&self, row: usize, column: usize) -> Rect {
        let half = self.overlap / 2.0;
        let mut cell = self.window(row, column);
        cell.x0 += if column > 0 { half } else { 0.0 };
        cell.x1 -= if column + 1 < self.columns { half } else { 0.0 };
        cell.y1 -= if row > 0 { half } else { 0.0 };
        cell.y0 += if row + 1 < self.rows { half } else { 0.0 };
        cell
    }

    /// The rows and columns of cells that a rectangle touches.
    pub fn touched(&self, r: Rect) -> impl Iterator<Item = (usize, usize)> + use<> {
        let step = self.window - Vec2::new(self.overlap, self.overlap);
        let half = self.overlap / 2.0;
        let index = |distance: f64, step: f64, count: usize| {
            ((distance - half) / step).floor().clamp(0.0, count as f64 - 1.0) as usize
        };
        let columns =
            index(r.x0 - self.corner.x, step.x, self.columns)..=index(r.x1 - self.corner.x, step.x, self.columns);
        let rows = index(self.corner.y - r.y1, step.y, self.rows)..=index(self.corner.y - r.y0, step.y, self.rows);
        rows.flat_map(move |row| columns.clone().map(move |column| (row, column)))
    }

    /// The sheets that are needed, in reading order, with those empty ones that join them: every kept sheet is reached
    /// from every other across shared seams.
    pub fn linked(&self, needed: &[(usize, usize)]) -> Vec<(usize, usize)> {
        let mut kept = vec![false; self.rows * self.columns];
        needed.iter().for_each(|(row, column)| kept[row * self.columns + column] = true);
        let Some(first) = kept.iter().position(|k| *k) else { return Vec::new() };
        loop {
            let joined = self.reach(&kept, first);
            if kept.iter().zip(&joined).all(|(kept, joined)| !kept || *joined) {
                break;
            }
            self.bridge(&mut kept, &joined);
        }
        let all = (0..self.rows).flat_map(|row| (0..self.columns).map(move |column| (row, column)));
        all.filter(|(row, column)| kept[row * self.columns + column]).collect()
    }

    /// The kept sheets that can be reached from one of them.
    fn reach(&self, kept: &[bool], first: usize) -> Vec<bool> {
        let mut joined = vec![false; kept.len()];
        joined[first] = true;
        let mut queue = VecDeque::from([first]);
        while let Some(at) = queue.pop_front() {
            for next in self.neighbours(at).filter(|next| kept[*next]) {
                if !std::mem::replace(&mut joined[next], true) {
                    queue.push_back(next);
                }
            }
        }
        joined
    }

    /// Keeps the sheets on a shortest way from those joined to the nearest kept one that is not.
    fn bridge(&self, kept: &mut [bool], joined: &[bool]) {
        let mut from: Vec<Option<usize>> = vec![None; kept.len()];
        let mut queue: VecDeque<usize> = (0..kept.len()).filter(|at| joined[*at]).collect();
        while let Some(at) = queue.pop_front() {
            if kept[at] && !joined[at] {
                let mut back = at;
                while let Some(previous) = from[back] {
                    kept[back] = true;
                    back = previous;
                }
                return;
            }
            for next in self.neighbours(at) {
                if from[next].is_none() && !joined[next] {
                    from[next] = Some(at);
                    queue.push_back(next);
                }
            }
        }
    }

    fn neighbours(&self, at: usize) -> impl Iterator<Item = usize> + use<> {
        let (row, column, rows, columns) = (at / self.columns, at % self.columns, self.rows, self.columns);
        let up = (row > 0).then(|| at - columns);
        let down = (row + 1 < rows).then(|| at + columns);
        let left = (column > 0).then(|| at - 1);
        let right = (column + 1 < columns).then(|| at + 1);
        [up, left, right, down].into_iter().flatten()
    }
}

#[cfg(test)]
mod tests {
    use super::Grid;
    use crate::geometry::{Rect, Vec2};

    fn grid() -> Grid {
        let bounds = Rect::new(-10.0, 0.0, 690.0, 500.0);
        Grid::over(bounds, Vec2::new(180.0, 250.0), 15.0, Vec2::new(0.5, 0.5)).expect("a window this large")
    }

    #[test]
    fn windows_cover_the_bounds_and_overlap_by_the_strip() {
        let grid = grid();
        assert_eq!((grid.rows, grid.columns), (3, 5));
        let all = grid.window(0, 0).union(grid.window(2, 4));
        assert!(all.contains_rect(Rect::new(-10.0, 0.0, 690.0, 500.0)));
        let shared = grid.window(0, 0).intersect(grid.window(0, 1));
        assert!((shared.width() - 15.0).abs() < 1e-9);
        assert!((grid.cell(0, 0).x1 - grid.cell(0, 1).x0).abs() < 1e-9);
        assert!((grid.cell(0, 0).y0 - grid.cell(1, 0).y1).abs() < 1e-9);
    }

    #[test]
    fn a_rectangle_touches_the_cells_it_lies_on() {
        let grid = grid();
        let r = grid.cell(1, 2).inset(-1.0);
        assert_eq!(grid.touched(r).collect::<Vec<_>>(), [(1, 2)]);
        assert_eq!(grid.touched(Rect::new(-1e9, -1e9, 1e9, 1e9)).count(), 15);
    }

    #[test]
    fn sheets_that_would_lie_apart_are_joined_by_empty_ones() {
        let kept = grid().linked(&[(0, 0), (0, 4), (2, 4)]);
        assert_eq!(kept, [(0, 0), (0, 1), (0, 2), (0, 3), (0, 4), (1, 4), (2, 4)]);
    }

    #[test]
    fn an_overlap_as_wide_as_the_window_is_refused() {
        let bounds = Rect::new(0.0, 0.0, 9.0, 9.0);
        assert!(Grid::over(bounds, Vec2::new(10.0, 10.0), 10.0, Vec2::ZERO).is_none());
    }
}
