//! The stock of boards: what each is sawn from, said where its face is seen.

use super::measure::Measurer;
use super::shown::{BEHIND, Measure, Shown, Side, Words};
use crate::board::{EdgeName, PartRole, Source};
use crate::geometry::{Placement, Point, Point3};
use crate::piece::{SolvedBoard, Value};
use crate::tolerance::UNSEEN;
use crate::units::Length;

/// The names of the edges between which a board's depth lies.
const NAMED: [EdgeName; 2] = [EdgeName::UpperEdge, EdgeName::LowerEdge];

impl Measurer<'_> {
    /// Thickness of the boards whose faces are turned to the eye, with their depth square across the face side. Words point
    /// only at wood that is seen; a board behind others is told in the list, unless one that is seen is its like.
    pub(super) fn stock(&mut self) {
        let (piece, model, view) = (self.piece, self.model, self.view);
        let hides = model.hider(&view);
        let mut behind: Vec<(&SolvedBoard, Measure)> = Vec::new();
        let mut told: Vec<&SolvedBoard> = Vec::new();
        for board in &piece.boards {
            let Some(at) = self.nearest_seen(board, &hides) else { continue };
            let (value, words) = (Value::Length(Length::from_mm(board.board.thickness)), self.stock_of(board));
            let is_hidden = at.is_empty();
            let (what, shown) = (String::new(), Shown::Note { at, on_edge: false });
            if is_hidden {
                let words = Words { said: words, remark: Some(BEHIND.to_owned()) };
                behind.push((board, Measure { value, words, what, shown }));
            } else {
                told.push(board);
                self.found.push(Measure { value, words: words.into(), what, shown });
            }
        }
        behind.retain(|(board, _)| !told.iter().any(|other| self.is_like(board, other)));
        self.found.extend(behind.into_iter().map(|(_, measure)| measure));
    }

    /// Points along the middle of the nearest copy of a board that no wood hides, in the view in which its stock is said: the front or side
    /// view where its face is seen, or else the plan.
    pub(super) fn nearest_seen(&self, board: &SolvedBoard, hides: &dyn Fn(Point3) -> bool) -> Option<Vec<Point>> {
        let (_, copy) = self.nearest_copy(|b| b.id == board.id, 0.7)?;
        let place = board.copies.get(copy)?.placement;
        let flat = self.side == Some(Side::Above);
        (flat == (place.w().z.abs() > 0.7)).then(|| self.seen_middles(board, &place, hides))
    }

    /// Points along the middle of a board's nearer face that no wood hides, the best first.
    fn seen_middles(&self, board: &SolvedBoard, place: &Placement, hides: &dyn Fn(Point3) -> bool) -> Vec<Point> {
        let Some(middle) = board.solid.face.path().centroid() else { return Vec::new() };
        let away = board.solid.blank.width();
        let near = if place.w().dot(self.view.towards()) > 0.0 { 0.0 } else { -board.board.thickness };
        let along = [0.0, -0.15, 0.15, -0.3, 0.3]
            .map(|share| place.to_world(Point3::new(middle.x + share * away, middle.y, near)));
        along.into_iter().filter(|p| !hides(*p)).map(|p| self.view.project(p)).collect()
    }

    /// From where turned legs are measured; their centre lines, on which the lengths end, show it in the other views.
    pub(super) fn turned_legs(&mut self) {
        if let Some(turned) = self.piece.boards.iter().find_map(|board| board.turned) {
            let value = Value::Length(Length::from_mm(turned.head));
            let words = "turned legs: from centre to centre".to_owned().into();
            let (what, shown) = (String::new(), Shown::Note { at: Vec::new(), on_edge: false });
            self.found.push(Measure { value, words, what, shown });
        }
    }

    /// `rail 30 x 72`: thickness, and depth where the edges are parallel, named or not; else `leg 42 thick`, or how it is turned.
    pub(super) fn stock_of(&self, board: &SolvedBoard) -> String {
        format!("{} {}", board.label, self.size_of(board))
    }

    fn size_of(&self, board: &SolvedBoard) -> String {
        let say = |mm: f64| self.notation.bare_length(Length::from_mm(mm));
        if let Some(turned) = board.turned {
            let (head, foot) = (say(turned.head), say(turned.foot));
            return format!("turned ⌀ {head}, foot ⌀ {foot}");
        }
        let thick = say(board.board.thickness);
        match depth(board) {
            Some(wide) => format!("{thick} x {}", say(wide)),
            None => format!("{thick} thick"),
        }
    }

    /// Whether two boards are the same kind of part of the same stock: the left and the right leg of 42. Of boards that the file
    /// places it is not known what they are.
    fn is_like(&self, a: &SolvedBoard, b: &SolvedBoard) -> bool {
        let is_known = a.role != PartRole::Board;
        is_known && a.role.kind() == b.role.kind() && self.size_of(a) == self.size_of(b)
    }
}

/// Square across a board's face between its lower and its upper edge, where both are parallel to its length; where it names
/// neither, between its sides, where all its corners lie on them. A top's width is a dimension, not its stock.
pub(super) fn depth(board: &SolvedBoard) -> Option<f64> {
    let face = board.solid.face.corners();
    let is_named = |(_, a, b): &(Point, Source, Source)| {
        [a, b].iter().any(|s| board.board.edge_of(**s).is_some_and(|edge| NAMED.contains(edge)))
    };
    if !face.iter().any(is_named) {
        let blank = board.solid.blank;
        let on_side = |p: &Point| (p.y - blank.y0).abs() < UNSEEN || (p.y - blank.y1).abs() < UNSEEN;
        let is_parallel = board.role != PartRole::Top && face.iter().all(|(p, ..)| on_side(p));
        return is_parallel.then(|| blank.height());
    }
    let across = |name: &EdgeName| {
        let of_edge = |s: Source| board.board.edge_of(s) == Some(name);
        let corners = board.solid.face.corners().into_iter().filter(|(_, a, b)| of_edge(*a) || of_edge(*b));
        let v: Vec<f64> = corners.map(|(p, ..)| p.y).collect();
        let level = v.windows(2).all(|w| (w[0] - w[1]).abs() < UNSEEN);
        v.first().copied().filter(|_| level)
    };
    Some((across(&NAMED[0])? - across(&NAMED[1])?).abs())
}
