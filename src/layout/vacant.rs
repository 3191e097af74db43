//! Where on a sheet nothing stands yet.

use crate::geometry::{Point, Rect, Vec2};

/// Side of the squares in which a sheet is searched, mm.
const STEP: f64 = 2.0;

/// An area in squares, some of which are taken.
#[derive(Debug, Clone)]
pub struct Squares {
    area: Rect,
    columns: usize,
    rows: usize,
    /// Row by row from the lowest.
    taken: Vec<bool>,
}

impl Squares {
    /// Those of an area, nothing on it yet.
    pub fn of(area: Rect) -> Squares {
        let count = |length: f64| (length / STEP).floor().max(0.0) as usize;
        let (columns, rows) = (count(area.width()), count(area.height()));
        Squares { area, columns, rows, taken: vec![false; columns * rows] }
    }

    /// The area.
    pub fn area(&self) -> Rect {
        self.area
    }

    /// Takes the squares in which something stands: it lies within `bounds`, and `busy` says whether any of it does in a rectangle.
    pub fn take(&mut self, bounds: Rect, busy: &dyn Fn(Rect) -> bool) {
        let span = |from: f64, to: f64, count: usize| {
            // A square more on either side, so that none is missed by rounding.
            let [first, last] = [(from / STEP).floor() - 1.0, (to / STEP).ceil() + 1.0];
            (first.clamp(0.0, count as f64) as usize, last.clamp(0.0, count as f64) as usize)
        };
        let corner = self.area.origin();
        let columns = span(bounds.x0 - corner.x, bounds.x1 - corner.x, self.columns);
        self.mark(columns, span(bounds.y0 - corner.y, bounds.y1 - corner.y, self.rows), busy);
    }

    /// Takes those of some columns and rows; what is free as a whole is asked once.
    fn mark(&mut self, (left, right): (usize, usize), (low, high): (usize, usize), busy: &dyn Fn(Rect) -> bool) {
        let at = |column: usize, row: usize| self.area.origin() + Vec2::new(column as f64, row as f64) * STEP;
        let is_known = (right - left, high - low) == (1, 1) && self.taken[low * self.columns + left];
        if left == right || low == high || is_known || !busy(Rect::from_points(at(left, low), at(right, high))) {
            return;
        }
        match (right - left, high - low) {
            (1, 1) => self.taken[low * self.columns + left] = true,
            (wide, tall) if wide >= tall => {
                let middle = left + wide / 2;
                self.mark((left, middle), (low, high), busy);
                self.mark((middle, right), (low, high), busy);
            }
            (_, tall) => {
                let middle = low + tall / 2;
                self.mark((left, right), (low, middle), busy);
                self.mark((left, right), (middle, high), busy);
            }
        }
    }

    /// What is left.
    pub fn vacant(&self) -> Vacant {
        let Squares { area, columns, rows, .. } = *self;
        let wide = columns + 1;
        let mut sums = vec![0; wide * (rows + 1)];
        for row in 0..rows {
            for column in 0..columns {
                let below =
                    sums[row * wide + column + 1] + sums[(row + 1) * wide + column] - sums[row * wide + column];
                sums[(row + 1) * wide + column + 1] = below + u32::from(self.taken[row * columns + column]);
            }
        }
        Vacant { area, columns, rows, taken: sums }
    }
}

/// An area in squares, with how many of those left of and below each are taken.
pub struct Vacant {
    area: Rect,
    columns: usize,
    rows: usize,
    /// Sums over the squares left of and below each corner, row by row from the lowest.
    taken: Vec<u32>,
}

impl Vacant {
    /// The lower left corner of a block of a size, mm, that stands free, as near to a corner of the area as any does.
    pub fn place(&self, size: Vec2) -> Option<Point> {
        let count = |length: f64| (length / STEP).ceil().max(1.0) as usize;
        let (across, up) = (count(size.x), count(size.y));
        let (last_column, last_row) = (self.columns.checked_sub(across)?, self.rows.checked_sub(up)?);
        let free = |column: usize, row: usize| {
            let at = |column: usize, row: usize| self.taken[row * (self.columns + 1) + column];
            at(column + across, row + up) + at(column, row) == at(column + across, row) + at(column, row + up)
        };
        let off_corner = |&(column, row): &(usize, usize)| column.min(last_column - column) + row.min(last_row - row);
        // From the top, so that of places as near the highest is taken.
        let all = (0..=last_row).rev().flat_map(|row| (0..=last_column).map(move |column| (column, row)));
        let (column, row) = all.filter(|(column, row)| free(*column, *row)).min_by_key(off_corner)?;
        Some(self.area.origin() + Vec2::new(column as f64, row as f64) * STEP)
    }
}

#[cfg(test)]
mod tests {
    use super::{Squares, Vacant};
    use crate::geometry::{Point, Rect, Vec2};

    fn vacant(area: Rect, busy: &dyn Fn(Rect) -> bool) -> Vacant {
        let mut squares = Squares::of(area);
        squares.take(area, busy);
        squares.vacant()
    }

    #[test]
    fn a_block_stands_in_the_one_gap_that_holds_it_and_nowhere_else() {
        let area = Rect::new(100.0, 50.0, 200.0, 130.0);
        let (gap, bar) = (Rect::new(140.0, 80.0, 170.0, 100.0), Rect::new(150.5, 80.5, 151.5, 81.5));
        let beside = vacant(area, &|r| r.intersect(gap).area() < r.area());
        let at = beside.place(Vec2::new(29.0, 19.0)).expect("room");
        assert!(gap.contains_rect(Rect::from_origin_size(at, (29.0, 19.0))), "{at:?}");
        assert_eq!(beside.place(Vec2::new(31.0, 19.0)), None);
        let barred = vacant(area, &|r| r.intersect(gap).area() < r.area() || r.overlaps(bar));
        assert_eq!(barred.place(Vec2::new(29.0, 19.0)), None);
        assert!(barred.place(Vec2::new(29.0, 17.0)).is_some());
    }

    #[test]
    fn an_empty_sheet_offers_its_upper_left_corner_and_a_small_one_nothing() {
        let sheet = vacant(Rect::new(0.0, 0.0, 60.0, 40.0), &|_| false);
        assert_eq!(sheet.place(Vec2::new(20.0, 10.0)), Some(Point::new(0.0, 30.0)));
        assert_eq!(sheet.place(Vec2::new(61.0, 10.0)), None);
        assert_eq!(vacant(Rect::ZERO, &|_| true).place(Vec2::new(1.0, 1.0)), None);
    }
    /// Things taken one by one within their own bounds leave what all of them together leave.
    #[test]
    fn things_taken_one_by_one_leave_what_they_leave_together() {
        let area = Rect::new(-30.0, 10.0, 61.0, 75.0);
        let things: Vec<Rect> = (0..40_u32)
            .map(|k| {
                let at = Point::new(f64::from(k * 37 % 120) - 45.0, f64::from(k * 53 % 90));
                Rect::from_origin_size(at, (f64::from(k % 7) * 0.9, f64::from(k % 5) * 1.7))
            })
            .collect();
        let mut squares = Squares::of(area);
        things.iter().for_each(|thing| squares.take(*thing, &|r| thing.overlaps(r)));
        let together = vacant(area, &|r| things.iter().any(|thing| thing.overlaps(r)));
        assert_eq!(squares.vacant().taken, together.taken);
        assert!(together.taken.last().is_some_and(|count| (50..1000).contains(count)), "{:?}", together.taken.last());
    }
}
