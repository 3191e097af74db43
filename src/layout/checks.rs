//! The points between which a taped pattern is measured.

use super::grid::Grid;
use super::ink::Ink;
use super::seams::Cross;
use crate::geometry::{Point, Rect, Vec2};

/// Distances of a check cross from the corner of its sheet, mm: the first that is free is taken.
const INSETS: [f64; 5] = [9.0, 13.0, 18.0, 24.0, 32.0];

/// Room of a check cross with its letter, mm from its middle.
const ROOM: f64 = 6.5;

/// The two diagonals of a taped pattern, each between two crosses on different sheets: one that rises to the right (P to
/// Q) and one that falls (R to S). Both are needed: a tape-up that has gone askew lengthens one and shortens the other.
pub fn diagonals(grid: &Grid, kept: &[(usize, usize)], ink: &Ink) -> Vec<(Cross, Cross)> {
    if kept.len() < 2 {
        return Vec::new();
    }
    let corners = [(false, false), (true, false), (false, true), (true, true)];
    let places = kept.iter().flat_map(|sheet| corners.map(|corner| (*sheet, corner)));
    let places: Vec<((usize, usize), Point)> =
        places.map(|((row, column), corner)| ((row, column), inset(grid.cell(row, column), corner, ink))).collect();
    [(1.0, ["P", "Q"]), (-1.0, ["R", "S"])]
        .into_iter()
        .filter_map(|(slope, [first, second])| {
            let apart = |a: Point, b: Point| (b - a).x.max(1.0) * slope * (b - a).y;
            let pairs = places.iter().flat_map(|a| places.iter().map(move |b| (a, b)));
            let pairs = pairs.filter(|(a, b)| a.0 != b.0 && a.1.x <= b.1.x && apart(a.1, b.1) > 0.0);
            let (a, b) = pairs.max_by(|p, q| p.0.1.distance(p.1.1).total_cmp(&q.0.1.distance(q.1.1)))?;
            Some((Cross { name: first.to_owned(), at: a.1 }, Cross { name: second.to_owned(), at: b.1 }))
        })
        .collect()
}

/// A place near a corner of a sheet, clear of the pattern's lines where that is possible.
fn inset(cell: Rect, (right, up): (bool, bool), ink: &Ink) -> Point {
    let corner = Point::new(if right { cell.x1 } else { cell.x0 }, if up { cell.y1 } else { cell.y0 });
    let inwards = Vec2::new(if right { -1.0 } else { 1.0 }, if up { -1.0 } else { 1.0 });
    let places = INSETS.map(|inset| corner + inwards * inset);
    let room = Vec2::new(ROOM, ROOM);
    let free = |at: &Point| !ink.touches(Rect::from_points(*at - room, *at + room));
    places.into_iter().find(free).unwrap_or(places[0])
}

#[cfg(test)]
mod tests {
    use super::diagonals;
    use crate::geometry::{Rect, Vec2};
    use crate::layout::grid::Grid;
    use crate::layout::ink::Ink;

    #[test]
    fn two_sheets_have_two_diagonals_from_sheet_to_sheet() {
        let bounds = Rect::new(0.0, 0.0, 430.0, 90.0);
        let grid = Grid::over(bounds, Vec2::new(266.0, 160.0), 15.0, Vec2::new(0.5, 0.5)).expect("a grid");
        let found = diagonals(&grid, &[(0, 0), (0, 1)], &Ink::new(&[]));
        assert_eq!(found.len(), 2);
        for (a, b) in &found {
            assert!(grid.cell(0, 0).contains(a.at) && grid.cell(0, 1).contains(b.at), "{a:?} {b:?}");
        }
        let rise = |i: usize| found[i].1.at.y - found[i].0.at.y;
        assert!(rise(0) > 100.0 && rise(1) < -100.0);
    }
}
