//! Proportions that a maker would doubt: mostly two numbers stand in each other's place, or one has a digit too many.
//!
//! All is measured on the solved boards. The limits are wide of what furniture has (common practice, no source), so that none that is plainly
//! right is told of.

use super::ShapeProblem;
use crate::board::{EdgeName, PartRole, Source};
use crate::finding::{Finding, Place};
use crate::geometry::Segment;
use crate::piece::{Piece, SolvedBoard};
use crate::units::Length;

/// So many times as thick as it is deep is no rail, apron or stretcher: a square one lies well below it.
const THICK: f64 = 1.5;

/// So many times as thick as what it ends against is none either.
const THICKER: f64 = 1.75;

/// A foot that is wider than its leg's head by less than a tenth may come of how both are cut.
const WIDER: f64 = 1.1;

/// Tells every part that stands apart from what furniture is.
pub(super) fn check(piece: &Piece) -> Vec<Finding> {
    let told = piece.boards.iter().filter_map(|board| {
        let problem = match board.role {
            PartRole::Leg => wider_foot(board),
            PartRole::TopRail
            | PartRole::BottomRail
            | PartRole::Apron
            | PartRole::EndApron
            | PartRole::Stretcher
            | PartRole::EndStretcher => thicker_than_deep(board).or_else(|| thicker_than_neighbour(board, piece)),
            PartRole::Side | PartRole::Top | PartRole::Board => None,
        };
        Some(Finding::of(problem?, Place::pointer(board.pointer.clone())))
    });
    told.collect()
}

fn thicker_than_deep(board: &SolvedBoard) -> Option<ShapeProblem> {
    let (thickness, depth) = (board.board.thickness, board.solid.blank.height());
    (thickness > THICK * depth).then(|| ShapeProblem::ThickerThanDeep {
        part: board.label.clone(),
        thickness: Length::from_mm(thickness),
        depth: Length::from_mm(depth),
    })
}

/// Of the parts against which its ends lie the thinnest, where it is far thinner than the part itself.
fn thicker_than_neighbour(board: &SolvedBoard, piece: &Piece) -> Option<ShapeProblem> {
    let ends = board.meets.iter().filter(|meet| matches!(meet.on, Source::Cut(_)));
    let others = ends.filter_map(|meet| piece.boards.iter().find(|other| other.id == meet.board));
    // A round leg is as thick as it is turned, and a top lies on what it meets.
    let others = others.filter(|other| other.role != PartRole::Top && other.turned.is_none());
    let thinnest = others.min_by(|a, b| a.board.thickness.total_cmp(&b.board.thickness))?;
    let (thickness, its) = (board.board.thickness, thinnest.board.thickness);
    (thickness > THICKER * its).then(|| ShapeProblem::ThickerThanNeighbour {
        part: board.label.clone(),
        thickness: Length::from_mm(thickness),
        neighbour: thinnest.label.clone(),
        its: Length::from_mm(its),
    })
}

fn wider_foot(board: &SolvedBoard) -> Option<ShapeProblem> {
    let (head, foot) = match board.turned {
        Some(turned) => (turned.head, turned.foot),
        None => (wide(board, &EdgeName::Head)?, wide(board, &EdgeName::Foot)?),
    };
    (foot > WIDER * head).then(|| ShapeProblem::WiderFoot {
        part: board.label.clone(),
        foot: Length::from_mm(foot),
        head: Length::from_mm(head),
    })
}

/// How wide the face side of a leg is where its head or its foot is cut, mm, along the cut; `None` where nothing of it is left.
fn wide(board: &SolvedBoard, name: &EdgeName) -> Option<f64> {
    let is_named = |source: Source| match source {
        Source::Edge(edge) => board.board.edges.get(edge).is_some_and(|edge| edge.name == *name),
        Source::Cut(cut) => board.board.cuts.get(cut).is_some_and(|cut| cut.place == *name),
        Source::Face | Source::Far => false,
    };
    let pieces = board.solid.face.pieces().filter(|(_, source)| is_named(*source));
    let ends: Vec<&Segment> = pieces.map(|(piece, _)| piece).collect();
    let (first, last) = (ends.first()?, ends.last()?);
    Some(first.start().distance(last.end()))
}
