//! What an offer changes that nobody asked for: where the top comes to lie, how it stands out, the room under the aprons, and the parts that
//! are not made yet. All of it is measured on the solved piece.

use crate::board::PartRole;
use crate::change::snapshot::Snapshot;
use crate::change::wood::Wood;
use crate::geometry::{Affine, Point3, Vec3};
use crate::piece::{BoardCopy, Piece, SolvedBoard};
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
    /// The longest arris of a part that is not made yet.
    Longest {
        /// Its key.
        part: String,
        /// What stands on its sheets.
        name: String,
    },
}

impl Where {
    /// Whether the same is measured: a part by its key, whatever stands on its sheets.
    fn is_of(&self, other: &Where) -> bool {
        match (self, other) {
            (Where::Longest { part, .. }, Where::Longest { part: own, .. }) => part == own,
            _ => self == other,
        }
    }
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

/// How far boards reach along a direction of the world, mm, the least and the most: their faces as they are, curves and all.
fn reach<'a>(boards: impl Iterator<Item = &'a SolvedBoard>, along: Vec3) -> Option<[f64; 2]> {
    let of_copy = |board: &SolvedBoard, copy: &BoardCopy| {
        let own = copy.placement.direction_to_board(along);
        let start = (copy.placement.origin() - Point3::ORIGIN).dot(along);
        let turned = Affine::rotate(-own.y.atan2(own.x));
        let sides = board.solid.faces().into_iter().zip([0.0, -board.board.thickness]);
        let ranges = sides.filter_map(|((_, ring), z)| {
            let around = ring.path().transformed(turned).bounding_box()?;
            Some([around.x0, around.x1].map(|x| start + x * own.x.hypot(own.y) + z * own.z))
        });
        ranges.collect::<Vec<[f64; 2]>>()
    };
    let all = boards.flat_map(|board| board.copies.iter().flat_map(move |copy| of_copy(board, copy)));
    all.reduce(|[a, b], [c, d]| [a.min(c), b.max(d)])
}

/// How far the corners of the boards under a top reach along x and along y which lie as high as the highest of them, mm.
fn heads<'a>(under: impl Iterator<Item = &'a SolvedBoard>) -> Option<[f64; 2]> {
    let corners = |board: &SolvedBoard| -> Vec<Point3> {
        let sides = board.solid.faces().into_iter().zip([0.0, -board.board.thickness]);
        let flat = sides.flat_map(|((_, ring), z)| ring.pieces().map(move |(piece, _)| (piece.start(), z)));
        let flat: Vec<Point3> = flat.map(|(p, z)| Point3::new(p.x, p.y, z)).collect();
        board.copies.iter().flat_map(|copy| flat.iter().map(|p| copy.placement.to_world(*p))).collect()
    };
    let all: Vec<Point3> = under.flat_map(corners).collect();
    let highest = all.iter().map(|p| p.z).reduce(f64::max)?;
    let along = |of: fn(&Point3) -> f64| {
        let values = || all.iter().filter(|p| p.z > highest - AT_THE_HEADS).map(of);
        Some(values().reduce(f64::max)? - values().reduce(f64::min)?)
    };
    Some([along(|p| p.x)?, along(|p| p.y)?])
}

/// What is measured on a piece.
fn measured(piece: &Piece) -> Vec<(Where, f64)> {
    let of = |is_wanted: fn(PartRole) -> bool| piece.boards.iter().filter(move |board| is_wanted(board.role));
    let level = reach(of(|_| true), Vec3::Z).map(|[_, level]| (Where::Level, level));
    let mut found: Vec<(Where, f64)> = level.into_iter().collect();
    let top = |along: Vec3| reach(of(|role| role == PartRole::Top), along).map(|[least, most]| most - least);
    if let (Some(x), Some(y), Some(heads)) = (top(Vec3::X), top(Vec3::Y), heads(of(|role| role != PartRole::Top))) {
        let out = [(x - heads[0]) / 2.0, (y - heads[1]) / 2.0];
        let [along, across] = if x >= y { out } else { [out[1], out[0]] };
        found.extend([(Where::RevealAlong, along), (Where::RevealAcross, across)]);
    }
    let room = reach(of(|role| role == PartRole::Apron), Vec3::Z);
    found.extend(room.map(|[room, _]| (Where::KneeRoom, room)));
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
            let what = Where::Longest { part: wood.id.clone(), name: wood.name.clone() };
            (what, lengths.map(|arris| arris.face.max(arris.far)).fold(0.0, f64::max))
        };
        piece.parts.iter().filter(|wood| !is_made(wood)).map(of).collect()
    };
    let was = was.into_iter().chain(longest(before));
    let is: Vec<(Where, f64)> = is.into_iter().chain(longest(then)).collect();
    let both = was.filter_map(|(what, was)| {
        let is = is.iter().find(|(other, _)| other.is_of(&what))?.1;
        Some(Elsewhere { what, was, is })
    });
    both.filter(|one| (one.is - one.was).abs() > SHOWN).collect()
}
