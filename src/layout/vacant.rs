//! Where on a sheet nothing stands yet.

use crate::geometry::{Point, Rect, Vec2};

/// Side of the squares in which a sheet is searched, mm.
const STEP: f64 = 2.0;

/// An area in squares, with how many of those left of and below each are taken.
pub struct Vacant {
    area: Rect,
    columns: usize,
    rows: usize,
    /// Sums over the squares left of and below each corner, row by row from the lowest.
    taken: Vec<u32>,
}

impl Vacant {
    /// Searches an area; `busy` says whether something stands in a rectangle of it. What is free as a whole is asked once.
    pub fn of(area: Rect, busy: &dyn Fn(Rect) -> bool) -> Vacant {
        let count = |length: f64| (length / STEP).floor().max(0.0) as usize;
        let (columns, rows) = (count(area.width()), count(area.height()));
        let mut marks = Marks { area, columns, busy, taken: vec![false; columns * rows] };
        marks.mark((0, columns), (0, rows));
        let taken = marks.taken;
        let wide = columns + 1;
        let mut sums = vec![0; wide * (rows + 1)];
        for row in 0..rows {
            for column in 0..columns {
                let below =
                    sums[row * wide + column + 1] + sums[(row + 1) * wide + column] - sums[row * wide + column];
                sums[(row + 1) * wide + column + 1] = below + u32::from(taken[row * columns + column]);
            }
        }
        Vacant { area, columns, rows, taken: sums }
    }

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

/// Squares being marked.
struct Marks<'a> {
    area: Rect,
    columns: usize,
    busy: &'a dyn Fn(Rect) -> bool,
    taken: Vec<bool>,
}

impl Marks<'_> {
    /// Marks the squares of some columns and rows in which something stands.
    fn mark(&mut self, (left, right): (usize, usize), (low, high): (usize, usize)) {
        let at = |column: usize, row: usize| self.area.origin() + Vec2::new(column as f64, row as f64) * STEP;
        if left == right || low == high || !(self.busy)(Rect::from_points(at(left, low), at(right, high))) {
            return;
        }
        match (right - left, high - low) {
            (1, 1) => self.taken[low * self.columns + left] = true,
            (wide, tall) if wide >= tall => {
                let middle = left + wide / 2;
                self.mark((left, middle), (low, high));
                self.mark((middle, right), (low, high));
            }
            (_, tall) => {
                let middle = low + tall / 2;
                self.mark((left, right), (low, middle));
                self.mark((left, right), (middle, high));
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Vacant;
    use crate::geometry::{Point, Rect, Vec2};

    #[test]
    fn a_block_stands_in_the_one_gap_that_holds_it_and_nowhere_else() {
        let area = Rect::new(100.0, 50.0, 200.0, 130.0);
        let (gap, bar) = (Rect::new(140.0, 80.0, 170.0, 100.0), Rect::new(150.5, 80.5, 151.5, 81.5));
        let vacant = Vacant::of(area, &|r| r.intersect(gap).area() < r.area());
        let at = vacant.place(Vec2::new(29.0, 19.0)).expect("room");
        assert!(gap.contains_rect(Rect::from_origin_size(at, (29.0, 19.0))), "{at:?}");
        assert_eq!(vacant.place(Vec2::new(31.0, 19.0)), None);
        let barred = Vacant::of(area, &|r| r.intersect(gap).area() < r.area() || r.overlaps(bar));
        assert_eq!(barred.place(Vec2::new(29.0, 19.0)), None);
        assert!(barred.place(Vec2::new(29.0, 17.0)).is_some());
    }

    #[test]
    fn an_empty_sheet_offers_its_upper_left_corner_and_a_small_one_nothing() {
        let vacant = Vacant::of(Rect::new(0.0, 0.0, 60.0, 40.0), &|_| false);
        assert_eq!(vacant.place(Vec2::new(20.0, 10.0)), Some(Point::new(0.0, 30.0)));
        assert_eq!(vacant.place(Vec2::new(61.0, 10.0)), None);
        assert_eq!(Vacant::of(Rect::ZERO, &|_| true).place(Vec2::new(1.0, 1.0)), None);
    }
}
