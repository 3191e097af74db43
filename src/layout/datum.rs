//! Where the datum lines run, along which a straightedge is held while the sheets are taped.

use super::grid::Grid;
use super::ink::Ink;
use crate::geometry::Rect;

/// Shares of a cell between the places at which a line is tried, and how many of them lie on either side of the middle.
const STEP: f64 = 0.025;
const STEPS: u32 = 16;

/// Words in the way of a line count as much as this many lines: it is broken at words, and runs on over lines.
const WORDS: usize = 3;

/// Half the width of the strip that a datum line wants for itself and its name, mm.
const ROOM: f64 = 4.0;

/// Length of the pieces in which a strip is searched, mm.
const PIECE: f64 = 8.0;

/// The datum lines of a grid, in the pattern's millimetres.
#[derive(Debug, Clone, PartialEq)]
pub struct Datums {
    /// The height of each row's.
    pub rows: Vec<f64>,
    /// The place of each column's.
    pub columns: Vec<f64>,
}

impl Datums {
    /// One line through every kept sheet of each row and column, near the middle, off words and off lines that run along
    /// it.
    pub fn of(grid: &Grid, kept: &[(usize, usize)], ink: &Ink) -> Datums {
        let cells = |keep: &dyn Fn(&(usize, usize)) -> bool| -> Vec<Rect> {
            kept.iter().filter(|at| keep(at)).map(|at| grid.cell(at.0, at.1)).collect()
        };
        Datums {
            rows: (0..grid.rows).map(|row| freest(&cells(&|at| at.0 == row), false, ink)).collect(),
            columns: (0..grid.columns).map(|column| freest(&cells(&|at| at.1 == column), true, ink)).collect(),
        }
    }
}

/// The place of the freest line through cells that lie in one row, or in one column where `down`; 0 where there are none.
fn freest(cells: &[Rect], down: bool, ink: &Ink) -> f64 {
    let Some(all) = cells.iter().copied().reduce(|a, b| a.union(b)) else { return 0.0 };
    let (from, to) = if down { (all.x0, all.x1) } else { (all.y0, all.y1) };
    let off = (1..=STEPS).flat_map(|k| [-1.0, 1.0].map(|side| side * STEP * f64::from(k)));
    let places = [0.0].into_iter().chain(off).map(|off| from + (0.5 + off) * (to - from));
    let (mut freest, mut least) = (None, usize::MAX);
    for at in places {
        // Of places as free the first; none is looked at further once it is no freer than another.
        let mut crowd = 0;
        for cell in cells {
            crowd += crowded(*cell, at, down, ink, least - crowd);
            if crowd >= least {
                break;
            }
        }
        if crowd < least {
            (freest, least) = (Some(at), crowd);
        }
    }
    freest.unwrap_or(from)
}

/// In how many pieces of a line through a cell something stands; words weigh more. It is counted no further than to `enough`.
fn crowded(cell: Rect, at: f64, down: bool, ink: &Ink, enough: usize) -> usize {
    let (from, to) = if down { (cell.y0, cell.y1) } else { (cell.x0, cell.x1) };
    let strip = |a: f64, b: f64| {
        if down { Rect::new(at - ROOM, a, at + ROOM, b) } else { Rect::new(a, at - ROOM, b, at + ROOM) }
    };
    let pieces = ((to - from) / PIECE).ceil().max(1.0) as usize;
    let ink = ink.about(strip(from, to));
    let mut crowd = 0;
    for i in 0..pieces {
        let piece = strip(from + i as f64 * PIECE, (from + (i + 1) as f64 * PIECE).min(to));
        crowd += if ink.words_overlap(piece) { WORDS } else { usize::from(ink.touches(piece)) };
        if crowd >= enough {
            break;
        }
    }
    crowd
}

#[cfg(test)]
mod tests {
    use super::Datums;
    use crate::geometry::{Path, Rect, Vec2};
    use crate::layout::grid::Grid;
    use crate::layout::ink::Ink;
    use crate::page::{Item, Pen, Role, Shape, Text};

    #[test]
    fn a_datum_line_runs_over_lines_rather_than_over_words() {
        let bounds = Rect::new(0.0, 0.0, 430.0, 90.0);
        let grid = Grid::over(bounds, Vec2::new(266.0, 160.0), 15.0, Vec2::new(0.5, 0.5)).expect("a grid");
        let cell = grid.cell(0, 0).union(grid.cell(0, 1));
        let mut items: Vec<Item> = Vec::new();
        // Words at every height but in one gap, across which a line stands.
        let gap = cell.y0 + 0.3 * cell.height();
        for k in 0..(cell.height() / 4.0) as usize {
            let y = cell.y0 + 4.0 * k as f64;
            if (y + 1.5 - gap).abs() > 8.0 {
                let text = Text::new((100.0, y).into(), 3.0, "words");
                items.push(Item { role: Role::Text, part: None, clip: None, shape: Shape::Text(text) });
            }
        }
        let path = Path::line((100.0, gap - 6.0).into(), (100.0, gap + 6.0).into());
        items.push(Item::stroke(Role::Mark, path, Pen::solid(0.25)));
        let at = Datums::of(&grid, &[(0, 0), (0, 1)], &Ink::new(&items)).rows[0];
        assert!((at - gap).abs() < 4.0, "{at} is not in the gap at {gap}");
    }

    #[test]
    fn a_datum_line_keeps_off_a_line_that_runs_along_it() {
        let bounds = Rect::new(0.0, 0.0, 430.0, 90.0);
        let grid = Grid::over(bounds, Vec2::new(266.0, 160.0), 15.0, Vec2::new(0.5, 0.5)).expect("a grid");
        let kept = [(0, 0), (0, 1)];
        let free = Datums::of(&grid, &kept, &Ink::new(&[])).rows[0];
        let path = Path::line((0.0, free + 1.0).into(), (430.0, free + 1.0).into());
        let shape = Shape::Stroke { path, pen: Pen::solid(0.25) };
        let items = [Item { role: Role::Outline, part: None, clip: None, shape }];
        let moved = Datums::of(&grid, &kept, &Ink::new(&items)).rows[0];
        assert!((moved - (free + 1.0)).abs() > super::ROOM, "{moved} beside a line at {}", free + 1.0);
    }
}
