//! The points between which a taped pattern is measured.

use super::datum::Datums;
use super::furniture::{check_name_reach, name_reach};
use super::grid::Grid;
use super::ink::Ink;
use super::seams::{Cross, Seam};
use crate::geometry::{Path, Point, Rect, Vec2};

/// Distances of a check cross from the two sides of its sheet's corner, mm: the nearest pair that is free is taken.
const INSETS: [f64; 8] = [9.0, 13.0, 18.0, 24.0, 32.0, 40.0, 48.0, 56.0];

/// Room of a check cross, mm from its middle; its name may reach farther to the right.
const ROOM: f64 = 6.5;

/// Room of a cross on a seam with its names, mm from its middle.
const SEAM_CROSS: f64 = 7.5;

/// What a diagonal is worth, as a share of its length, where a cross of it finds no free place.
const CROWDED: f64 = 0.75;

/// A corner of a sheet that a check cross may stand in.
struct Place {
    sheet: (usize, usize),
    at: Point,
    is_free: bool,
}

/// What check crosses keep off.
pub struct Around<'a> {
    /// The code of the pattern.
    pub part: &'a str,
    /// The datum lines.
    pub datums: &'a Datums,
    /// The seams with their crosses.
    pub seams: &'a [Seam],
    /// The pattern's own lines and words.
    pub ink: &'a Ink<'a>,
    /// The closed lines within which it is wood, or paper that is stuck on wood.
    pub wood: &'a [&'a Path],
}

/// The two diagonals of a pattern, each between two crosses, on different sheets where there are several: one that rises to the
/// right (P to Q, each behind the pattern's code) and one that falls (R to S). Both are needed: a tape-up that has gone askew
/// lengthens one and shortens the other.
pub fn diagonals(grid: &Grid, kept: &[(usize, usize)], around: &Around) -> Vec<(Cross, Cross)> {
    let is_one = kept.len() == 1;
    let corners = [(false, false), (true, false), (false, true), (true, true)];
    let search = Search::of(around);
    let places = kept.iter().flat_map(|sheet| corners.map(|corner| search.place(grid, *sheet, corner)));
    let places: Vec<Place> = places.collect();
    let worth = |(a, b): &(&Place, &Place)| a.at.distance(b.at) * if a.is_free && b.is_free { 1.0 } else { CROWDED };
    // Of a small sheet on which little is free two corners may come to one place: a cross is an end of one diagonal alone.
    let mut taken: Vec<Point> = Vec::new();
    let (rises, falls) = ((1.0, ["P", "Q"]), (-1.0, ["R", "S"]));
    [rises, falls]
        .into_iter()
        .filter_map(|(slope, [first, second])| {
            let is_taken = |place: &Place| taken.iter().any(|other| other.distance(place.at) < 2.0 * ROOM);
            let apart = |a: Point, b: Point| (b - a).x.max(1.0) * slope * (b - a).y;
            let pairs = places.iter().flat_map(|a| places.iter().map(move |b| (a, b)));
            // On one sheet they show what paper and printer do alone: there none is worth a cross on the pattern's lines.
            let apart_enough = |a: &Place, b: &Place| a.sheet != b.sheet || (is_one && a.is_free && b.is_free);
            let pairs = pairs.filter(|(a, b)| apart_enough(a, b) && a.at.x <= b.at.x && apart(a.at, b.at) > 0.0);
            let pairs = pairs.filter(|(a, b)| !is_taken(a) && !is_taken(b));
            let (a, b) = pairs.max_by(|p, q| worth(p).total_cmp(&worth(q)))?;
            let named = |letter: &str, at: Point| Cross { name: format!("{}{letter}", around.part), at };
            taken.extend([a.at, b.at]);
            Some((named(first, a.at), named(second, b.at)))
        })
        .collect()
}

/// What check crosses keep off, measured once for all places.
struct Search<'a> {
    around: &'a Around<'a>,
    /// How far a check cross reaches to the right with its name, mm from its middle.
    right: f64,
    /// The middle of each cross on a seam, and how far it reaches along with its name, mm.
    crosses: Vec<(Point, f64)>,
}

impl<'a> Search<'a> {
    fn of(around: &'a Around<'a>) -> Self {
        let crosses = around.seams.iter().flat_map(|seam| &seam.crosses);
        Search {
            around,
            right: check_name_reach(&format!("{}P", around.part)).max(ROOM),
            crosses: crosses.map(|cross| (cross.at, name_reach(&cross.name).max(SEAM_CROSS))).collect(),
        }
    }

    /// The free place nearest a corner of a sheet, off the wood if there is one: there it would be taken for a hole to be drilled. The
    /// nearest one where none is free.
    fn place(&self, grid: &Grid, sheet: (usize, usize), (right, up): (bool, bool)) -> Place {
        let cell = grid.cell(sheet.0, sheet.1);
        let corner = Point::new(if right { cell.x1 } else { cell.x0 }, if up { cell.y1 } else { cell.y0 });
        let (x, y) = (if right { -1.0 } else { 1.0 }, if up { -1.0 } else { 1.0 });
        let mut tried: Vec<(f64, f64)> = INSETS.into_iter().flat_map(|a| INSETS.map(|b| (a, b))).collect();
        tried.sort_by(|p, q| (p.0 + p.1).total_cmp(&(q.0 + q.1)));
        let places = tried.into_iter().map(|(a, b)| corner + Vec2::new(x * a, y * b));
        let within = |at: &Point| cell.contains_rect(self.room(*at));
        let mut free = places.filter(|at| within(at) && self.is_free(sheet, *at));
        let is_off = |at: &Point| !self.around.wood.iter().any(|rim| rim.encloses(*at));
        let nearest = free.next();
        match nearest.filter(is_off).or_else(|| free.find(is_off)).or(nearest) {
            Some(at) => Place { sheet, at, is_free: true },
            None => Place { sheet, at: corner + Vec2::new(x, y) * INSETS[0], is_free: false },
        }
    }

    /// What a check cross takes with its name.
    fn room(&self, at: Point) -> Rect {
        Rect::new(at.x - ROOM, at.y - ROOM, at.x + self.right, at.y + ROOM)
    }

    fn is_free(&self, (row, column): (usize, usize), at: Point) -> bool {
        let room = self.room(at);
        let Around { datums, ink, .. } = self.around;
        let (y, x) = (datums.rows[row], datums.columns[column]);
        let off_datums = !(room.y0..=room.y1).contains(&y) && !(room.x0..=room.x1).contains(&x);
        let near = |(at, reach): &(Point, f64)| room.inflate(*reach, SEAM_CROSS).contains(*at);
        off_datums && !self.crosses.iter().any(near) && !ink.touches(room)
    }
}

#[cfg(test)]
mod tests {
    use super::{Around, Path, diagonals};
    use crate::geometry::{Rect, Vec2};
    use crate::layout::datum::Datums;
    use crate::layout::grid::Grid;
    use crate::layout::ink::Ink;

    #[test]
    fn two_sheets_have_two_diagonals_from_sheet_to_sheet() {
        let bounds = Rect::new(0.0, 0.0, 430.0, 90.0);
        let grid = Grid::over(bounds, Vec2::new(266.0, 160.0), 15.0, Vec2::new(0.5, 0.5)).expect("a grid");
        let (kept, ink) = ([(0, 0), (0, 1)], Ink::new(&[]));
        let datums = Datums::of(&grid, &kept, &ink);
        let found = diagonals(&grid, &kept, &Around { part: "B", datums: &datums, seams: &[], ink: &ink, wood: &[] });
        assert_eq!(found.len(), 2);
        for (a, b) in &found {
            assert!(grid.cell(0, 0).contains(a.at) && grid.cell(0, 1).contains(b.at), "{a:?} {b:?}");
        }
        // A part that fills the lower left corner of the first sheet, but for what is farther up: the cross stands above it.
        let part = Path::rectangle(Rect::new(
            grid.cell(0, 0).x0 - 1.0,
            grid.cell(0, 0).y0 - 1.0,
            200.0,
            grid.cell(0, 0).y0 + 20.0,
        ));
        let around = Around { part: "B", datums: &datums, seams: &[], ink: &ink, wood: &[&part] };
        let off = diagonals(&grid, &kept, &around);
        assert!(part.encloses(found[0].0.at) && !part.encloses(off[0].0.at), "{off:?}");
        let rise = |i: usize| found[i].1.at.y - found[i].0.at.y;
        assert!(rise(0) > 100.0 && rise(1) < -100.0);
    }
}
