//! What a maker asks of a section: how large the cut wood is, how high it lies, how far apart its two sides are.

use super::measure::Measurer;
use super::shown::{Lane, Measure, Shown};
use crate::geometry::{Point, Rect};
use crate::piece::Value;
use crate::tolerance::UPRIGHT;
use crate::units::Length;

/// Wood whose cut is narrower than this many thicknesses is cut across or along, and not through its slope.
const LEVEL: f64 = 1.5;

impl Measurer<'_> {
    /// Numbers of the wood that a section cuts: board, copy and the rectangle around it, mm.
    pub(super) fn section(&mut self, wood: &[(usize, usize, Rect)]) {
        let b = self.bounds;
        self.length("cut wood, across", Point::new(b.x0, b.y1), Point::new(b.x1, b.y1), Lane::Over);
        let upright = self.view.up().z > UPRIGHT;
        if !upright {
            self.length("cut wood, up", Point::new(b.x1, b.y0), Point::new(b.x1, b.y1), Lane::Right);
        }
        let mut told: Vec<usize> = Vec::new();
        for (board, _, _) in wood {
            if told.contains(board) {
                continue;
            }
            told.push(*board);
            // Of copies cut alike the leftmost and lowest, and its neighbour on either way.
            let mut cut: Vec<Rect> = wood.iter().filter(|(other, ..)| other == board).map(|(.., r)| *r).collect();
            cut.sort_by(|a, b| (a.x0 + a.y0).total_cmp(&(b.x0 + b.y0)));
            let own = cut[0];
            let Some(solved) = self.piece.boards.get(*board) else { continue };
            let (thickness, label) = (solved.board.thickness, solved.label.as_str());
            // Wood that is cut along its slope is measured where it is seen square.
            if own.width().min(own.height()) < LEVEL * thickness {
                self.across(label, own, &cut);
                if !upright {
                    self.up(label, own, &cut);
                }
            }
            if upright {
                // Heights are measured over the floor.
                for (edge, y) in [("lower", own.y0), ("upper", own.y1)] {
                    let what = format!("{label}, {edge} side of the cut over the floor");
                    self.length(&what, Point::new(own.x0.min(b.x0), 0.0), Point::new(own.x0, y), Lane::Left);
                }
            }
            self.name_of_cut(*board, own);
        }
    }

    /// How wide a board's cut wood is, and how far it is to the next of its copies.
    fn across(&mut self, label: &str, own: Rect, cut: &[Rect]) {
        self.length(&format!("{label}, as cut"), Point::new(own.x0, own.y0), Point::new(own.x1, own.y0), Lane::Under);
        let next = cut.iter().filter(|r| r.x0 > own.x1).min_by(|a, b| a.x0.total_cmp(&b.x0));
        if let Some(next) = next {
            self.length(
                &format!("from one {label} to the next"),
                Point::new(own.x1, own.y0),
                Point::new(next.x0, next.y0),
                Lane::Under,
            );
        }
    }

    /// The same, up the page.
    fn up(&mut self, label: &str, own: Rect, cut: &[Rect]) {
        self.length(&format!("{label}, as cut"), Point::new(own.x0, own.y0), Point::new(own.x0, own.y1), Lane::Left);
        let next = cut.iter().filter(|r| r.y0 > own.y1).min_by(|a, b| a.y0.total_cmp(&b.y0));
        if let Some(next) = next {
            self.length(
                &format!("from one {label} to the next"),
                Point::new(own.x0, own.y1),
                Point::new(next.x0, next.y0),
                Lane::Left,
            );
        }
    }

    /// The stock of a board that is cut, with a line to it.
    fn name_of_cut(&mut self, board: usize, wood: Rect) {
        let Some(solved) = self.piece.boards.get(board) else { return };
        let words = self.stock_of(solved);
        let middle = wood.center();
        let aside = [0.0, -0.2, 0.2, -0.35, 0.35];
        let at = aside.map(|share| Point::new(middle.x + share * wood.width(), middle.y)).to_vec();
        let value = Value::Length(Length::from_mm(solved.board.thickness));
        let shown = Shown::Note { at, on_edge: false };
        self.found.push(Measure { value, words: words.into(), what: String::new(), shown });
    }
}
