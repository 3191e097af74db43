//! How a clamp's pull meets the wood at every joint of the piece.

use super::super::run::run;
use super::fitness::HOLDS;
use super::landing::{Landing, Pair, landings, on};
use crate::board::{Board, PartRole, Role, Source};
use crate::finding::Finding;
use crate::geometry::{Path, Point, Point3, Vec3};
use crate::piece::{Piece, SolvedBoard, plane_of};
use crate::tolerance::{NO_LEAN, SHOWN_SQUARE};
use crate::units::Angle;

/// How a clamp that pulls along one part, or across a mitre, bears on the other, in the other's board axes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lean {
    /// Index of the board whose end is glued.
    pub from: usize,
    /// Index of the board that the clamp bears on.
    pub into: usize,
    /// Which copy of either.
    pub copies: [usize; 2],
    /// The surface that it bears on.
    pub on: Source,
    /// Where the pull through the middle of the joint comes out, mm.
    pub at: Point3,
    /// The pull, out of the wood, of length 1.
    pub pull: Vec3,
    /// Square to the surface there, out of the wood.
    pub normal: Vec3,
    /// Between the pull and square to the surface: the caul's wedge.
    pub wedge: Angle,
    /// Between the pull and square to the joint: what the joint would slide by.
    pub slides: Angle,
}

impl Lean {
    /// The way along the surface in which the caul grows thin; `None` where the pull is square.
    pub fn thin_end(&self) -> Option<Vec3> {
        (self.pull - self.normal * self.pull.dot(self.normal)).unit()
    }

    /// Whether the caul's wedge is so steep that it slides away under the clamp.
    pub fn is_too_steep(&self) -> bool {
        self.wedge.degrees() > HOLDS
    }

    /// Whether the pull, so held, is square to the joint.
    pub fn is_square_to_joint(&self) -> bool {
        self.slides.degrees() <= SHOWN_SQUARE
    }

    /// What is clamped, and on which surface of which part the jaw bears: `clamping the apron to the leg, on the leg's inner face`.
    pub fn words(&self, piece: &Piece) -> String {
        let Some((from, into)) = piece.boards.get(self.from).zip(piece.boards.get(self.into)) else {
            return String::new();
        };
        let surface = into.board.name_of(self.on);
        match from.id == into.id {
            // Both are called alike: the jaw bears on the one that stands next to the one that is clamped.
            true => format!("clamping the mitre between two {}s, on the {surface} of either", from.label),
            false => {
                format!("clamping the {} to the {into}, on the {into}'s {surface}", from.label, into = into.label)
            }
        }
    }

    /// Whether it is another copy's of the same lean.
    pub(super) fn is_alike(&self, other: &Lean) -> bool {
        let same = self.from == other.from && self.into == other.into && self.on == other.on;
        same && (self.pull - other.pull).length() < NO_LEAN && (self.normal - other.normal).length() < NO_LEAN
    }
}

/// The leans of one part's ends on another, of every copy.
///
/// # Errors
/// Where the parts are not there or do not meet.
pub(super) fn between(piece: &Piece, pair: &Pair) -> Result<Vec<Lean>, Box<Finding>> {
    Ok(landings(piece, pair)?.iter().filter_map(|landing| lean(piece, landing)).collect())
}

/// Every lean of the piece at which a clamp would not pull square, alike ones once.
pub fn leans(piece: &Piece) -> Vec<Lean> {
    let mut found: Vec<Lean> = Vec::new();
    for (from, board) in piece.boards.iter().enumerate() {
        let others = piece.once_each(board.meets.iter().map(|meet| &meet.board));
        let others = others.into_iter().filter_map(|id| piece.boards.iter().position(|other| other.id == *id));
        for into in others.filter(|into| piece.boards[*into].role != PartRole::Top) {
            let all = on(piece, &[from], &[into]);
            for lean in
                all.iter().filter_map(|landing| lean(piece, landing)).filter(|l| l.wedge.degrees() > SHOWN_SQUARE)
            {
                if !found.iter().any(|known| known.is_alike(&lean)) {
                    found.push(lean);
                }
            }
        }
    }
    found
}

fn lean(piece: &Piece, landing: &Landing) -> Option<Lean> {
    let (from, into) = (piece.boards.get(landing.from)?, piece.boards.get(landing.into)?);
    let own = from.copies.get(landing.from_copy)?.placement;
    let other = into.copies.get(landing.into_copy)?.placement;
    let end = from.solid.ends.get(landing.cut)?;
    let middle = other.to_board(own.to_world(end.lift(landing.contact.first()?.centroid()?)));
    let joint = plane_of(&into.board, landing.on)?.normal();
    let is_end = |board: &Board, cut: usize| board.cuts.get(cut).is_some_and(|cut| cut.role == Role::End);
    if !is_end(&from.board, landing.cut) {
        return None;
    }
    let own_normal = from.board.cuts.get(landing.cut)?.plane.normal();
    if is_feathered(own_normal) {
        let middle = end.lift(landing.contact.first()?.centroid()?);
        return across(from, landing, (middle, own_normal));
    }
    let pull = match landing.on {
        // Across a mitre.
        Source::Cut(cut) if is_end(&into.board, cut) => -joint,
        _ => {
            let along = match own_normal.x.abs() >= own_normal.y.abs() {
                true => Vec3::X * own_normal.x.signum(),
                false => Vec3::Y * own_normal.y.signum(),
            };
            other.direction_to_board(own.direction_to_world(along))
        }
    };
    let (length, on) = run(&into.board, middle, pull)?;
    let at = middle + pull * length;
    let normal = outward(&into.board, on, at)?;
    Some(Lean {
        from: landing.from,
        into: landing.into,
        copies: [landing.from_copy, landing.into_copy],
        on,
        at,
        pull,
        normal,
        wedge: between_lines(pull, normal),
        slides: between_lines(pull, joint),
    })
}

/// Between two lines.
pub(super) fn between_lines(a: Vec3, b: Vec3) -> Angle {
    Angle::from_radians(a.cross(b).length().atan2(a.dot(b).abs()))
}

/// Whether a sawn end lies nearer to the part's face than square to it, so that a pull along the part would not press it.
fn is_feathered(normal: Vec3) -> bool {
    normal.z.abs() > normal.x.hypot(normal.y)
}

/// The lean of a clamp across a feathered end: it pulls square to the joint and bears on the part that is feathered.
fn across(from: &SolvedBoard, landing: &Landing, (middle, normal): (Point3, Vec3)) -> Option<Lean> {
    let pull = -normal;
    let (length, on) = run(&from.board, middle, pull)?;
    let at = middle + pull * length;
    let normal = outward(&from.board, on, at)?;
    Some(Lean {
        from: landing.into,
        into: landing.from,
        copies: [landing.into_copy, landing.from_copy],
        on,
        at,
        pull,
        normal,
        wedge: between_lines(pull, normal),
        slides: Angle::ZERO,
    })
}

/// Square to a surface of a board at a point of it, out of the wood.
fn outward(board: &Board, on: Source, at: Point3) -> Option<Vec3> {
    if let Some(plane) = plane_of(board, on) {
        return Some(plane.normal());
    }
    let Source::Edge(index) = on else { return None };
    let edge = Path::open(board.edges.get(index)?.segments.clone());
    let (_, place) = edge.nearest(Point::new(at.x, at.y))?;
    let tangent = edge.tangent_at(place)?;
    Vec3::new(tangent.y, -tangent.x, 0.0).unit()
}
