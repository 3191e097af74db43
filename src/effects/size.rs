//! The sizes of a part that may follow a number: what a rule and a bevel gauge read on it.

use crate::board::{Role, Source, Surface};
use crate::geometry::{Segment, Vec2};
use crate::piece::SolvedBoard;

/// What of a part is measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SizeOf {
    /// Its thickness, mm.
    Thickness,
    /// An end or an edge along its arris on the face side, mm.
    OnFace,
    /// The same on the far side, mm.
    OnFar,
    /// The corner of the face side between an end and the edge that registers it, beyond square, degrees: above zero where it is
    /// blunt.
    Mitre,
    /// The tilt of an end or an edge from square to the face, degrees: above zero where the far side is longer or wider.
    Bevel,
}

impl SizeOf {
    /// Whether it is an angle; else it is a length.
    pub const fn is_angle(self) -> bool {
        matches!(self, SizeOf::Mitre | SizeOf::Bevel)
    }

    /// As scripts call it.
    pub const fn key(self) -> &'static str {
        match self {
            SizeOf::Thickness => "thickness",
            SizeOf::OnFace => "length_on_face",
            SizeOf::OnFar => "length_on_far_side",
            SizeOf::Mitre => "mitre",
            SizeOf::Bevel => "bevel",
        }
    }
}

/// A size of a part. Angles have a sign that is the same on a board and its mirror image.
#[derive(Debug, Clone, PartialEq)]
pub struct Size {
    /// What is measured.
    pub of: SizeOf,
    /// Where; the face of a thickness.
    pub at: Surface,
    /// Which of those that are called so, from 0: an edge may be parted by a landing.
    pub nth: usize,
    /// Whether that is an end.
    pub is_end: bool,
    /// How much it is: mm or degrees.
    pub value: f64,
}

impl Size {
    /// Every size of a board.
    pub(crate) fn all(board: &SolvedBoard) -> Vec<Size> {
        let thickness =
            Size { of: SizeOf::Thickness, at: Surface::Face, nth: 0, is_end: false, value: board.board.thickness };
        let lengths = board.solid.arrises.iter().flat_map(|arris| {
            let (at, is_end) = (board.board.surface(arris.source), is_end(board, arris.source));
            let sides = [(SizeOf::OnFace, arris.face), (SizeOf::OnFar, arris.far)];
            let there = sides.into_iter().filter(|(_, mm)| *mm > 0.0);
            there.map(move |(of, value)| Size { of, at: at.clone(), nth: 0, is_end, value }).collect::<Vec<_>>()
        });
        let mut all: Vec<Size> = std::iter::once(thickness).chain(lengths).chain(angles(board)).collect();
        for index in 0..all.len() {
            let (before, rest) = all.split_at_mut(index);
            if let Some(own) = rest.first_mut() {
                own.nth = before.iter().filter(|other| (other.of, &other.at) == (own.of, &own.at)).count();
            }
        }
        all
    }

    /// Whether another is the same size, of this part or of the one that it becomes.
    pub(crate) fn is_same_as(&self, other: &Size) -> bool {
        (self.of, &self.at, self.nth) == (other.of, &other.at, other.nth)
    }
}

fn is_end(board: &SolvedBoard, source: Source) -> bool {
    matches!(source, Source::Cut(i) if board.board.cuts.get(i).is_some_and(|cut| cut.role == Role::End))
}

/// The angles of every cut.
fn angles(board: &SolvedBoard) -> impl Iterator<Item = Size> + '_ {
    board.cuts.iter().flat_map(|saw| {
        let source = Source::Cut(saw.cut);
        let (at, is_end) = (board.board.surface(source), is_end(board, source));
        let tilt = board.board.cuts.get(saw.cut).map(|cut| cut.plane.normal().z.clamp(-1.0, 1.0).asin().to_degrees());
        let mitre =
            saw.registers.first().filter(|_| is_end).and_then(|edge| beyond_square(board, source, edge.source));
        let both = [(SizeOf::Mitre, mitre), (SizeOf::Bevel, tilt)];
        let known = both.into_iter().filter_map(|(of, degrees)| Some((of, degrees?)));
        known.map(move |(of, value)| Size { of, at: at.clone(), nth: 0, is_end, value }).collect::<Vec<_>>()
    })
}

/// The inner angle of the face between two of its sides where they meet, less a right angle, degrees.
fn beyond_square(board: &SolvedBoard, one: Source, other: Source) -> Option<f64> {
    let pieces: Vec<(&Segment, Source)> = board.solid.face.pieces().collect();
    let following = pieces.iter().cycle().skip(1);
    let meet = |(before, after): (&(&Segment, Source), &(&Segment, Source))| {
        let both = [before.1, after.1];
        (both == [one, other] || both == [other, one]).then(|| turn(before.0.tangent(1.0), after.0.tangent(0.0)))
    };
    pieces.iter().zip(following).find_map(meet).map(|turned| 90.0 - turned)
}

/// By how much a direction turns to the left into another, degrees.
fn turn(from: Vec2, to: Vec2) -> f64 {
    from.cross(to).atan2(from.dot(to)).to_degrees()
}
