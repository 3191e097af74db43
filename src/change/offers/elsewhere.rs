//! What an offer changes that nobody asked for: where the top comes to lie, how it stands out, the room under the aprons, and the parts that
//! are not made yet. All of it is measured on the solved piece.

use crate::board::PartRole;
use crate::change::snapshot::Snapshot;
use crate::change::wood::Wood;
use crate::geometry::Point3;
use crate::piece::{Piece, SolvedBoard};
use crate::tolerance::SHOWN;

/// Heads are what ends so near under the top, mm.
const AT_THE_HEADS: f64 = 1.0;

/// What is measured.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Where {
    /// How high the highest of the piece stands over the floor.
    Level,
    /// By how much the top stands out over the heads, the longer way.
    RevealAlong,
    /// The same the shorter way.
    RevealAcross,
    /// How high the lowest of the aprons is over the floor.
    KneeRoom,
    /// The longest arris of a part that is not made yet, by its name.
    Longest(String),
}

/// Something that is not what it was, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Elsewhere {
    /// What.
    pub what: Where,
    /// As it was, mm.
    pub was: f64,
    /// As it is, mm.
    pub is: f64,
}

/// The corners of a board's faces where each copy stands.
fn corners(board: &SolvedBoard) -> Vec<Point3> {
    let far = -board.board.thickness;
    let faces = board.solid.faces();
    let flat = faces.iter().enumerate().flat_map(|(side, (_, ring))| {
        let z = if side == 0 { 0.0 } else { far };
        ring.pieces().map(move |(piece, _)| piece.start()).map(move |p| Point3::new(p.x, p.y, z))
    });
    let flat: Vec<Point3> = flat.collect();
    board.copies.iter().flat_map(|copy| flat.iter().map(|p| copy.placement.to_world(*p))).collect()
}

/// How far points reach along x and along y.
fn reach(points: &[Point3]) -> Option<[f64; 2]> {
    let along = |of: fn(&Point3) -> f64| {
        let values = || points.iter().map(of);
        Some(values().reduce(f64::max)? - values().reduce(f64::min)?)
    };
    Some([along(|p| p.x)?, along(|p| p.y)?])
}

/// What is measured on a piece.
fn measured(piece: &Piece) -> Vec<(Where, f64)> {
    let all: Vec<(PartRole, Vec<Point3>)> = piece.boards.iter().map(|board| (board.role, corners(board))).collect();
    let of = |is_wanted: &dyn Fn(PartRole) -> bool| -> Vec<Point3> {
        all.iter().filter(|(role, _)| is_wanted(*role)).flat_map(|(_, points)| points.iter().copied()).collect()
    };
    let highest = |points: &[Point3]| points.iter().map(|p| p.z).reduce(f64::max);
    let mut found: Vec<(Where, f64)> =
        highest(&of(&|_| true)).map(|level| (Where::Level, level)).into_iter().collect();
    let under = of(&|role| role != PartRole::Top);
    if let Some(heads) = highest(&under) {
        let heads: Vec<Point3> = under.into_iter().filter(|p| p.z > heads - AT_THE_HEADS).collect();
        if let (Some(top), Some(heads)) = (reach(&of(&|role| role == PartRole::Top)), reach(&heads)) {
            let [x, y] = [0, 1].map(|axis| (top[axis] - heads[axis]) / 2.0);
            let [along, across] = if top[0] >= top[1] { [x, y] } else { [y, x] };
            found.extend([(Where::RevealAlong, along), (Where::RevealAcross, across)]);
        }
    }
    let aprons = of(&|role| role == PartRole::Apron);
    found.extend(aprons.iter().map(|p| p.z).reduce(f64::min).map(|room| (Where::KneeRoom, room)));
    found
}

/// What is not as it was of two pieces; of parts those alone that are not said to be made.
pub(super) fn elsewhere(
    [was, is]: [Option<&Piece>; 2],
    [before, then]: [&Snapshot; 2],
    is_made: &dyn Fn(&Wood) -> bool,
) -> Vec<Elsewhere> {
    let [was, is] = [was, is].map(|piece| piece.map(measured).unwrap_or_default());
    let longest = |piece: &Snapshot| -> Vec<(Where, f64)> {
        let of = |wood: &Wood| {
            let lengths = wood.surfaces().into_iter().filter_map(|source| wood.solid.arris(source));
            (Where::Longest(wood.name.clone()), lengths.map(|arris| arris.face.max(arris.far)).fold(0.0, f64::max))
        };
        piece.parts.iter().filter(|wood| !is_made(wood)).map(of).collect()
    };
    let was = was.into_iter().chain(longest(before));
    let is: Vec<(Where, f64)> = is.into_iter().chain(longest(then)).collect();
    let both = was.filter_map(|(what, was)| {
        let is = is.iter().find(|(other, _)| *other == what)?.1;
        Some(Elsewhere { what, was, is })
    });
    both.filter(|one| (one.is - one.was).abs() > SHOWN).collect()
}
