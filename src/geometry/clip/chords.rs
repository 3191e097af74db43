//! A path as chords, for a quick look at whether it runs through a rectangle: what a chord does not tell plainly is left to an exact
//! look at its piece.

use crate::geometry::Path;
use crate::geometry::Segment;
use crate::geometry::boxes::BoxTree;
use crate::tolerance::PLAINLY;
use kurbo::{Line, Rect};
use std::f64::consts::SQRT_2;

/// How far a piece may lie off its chords, mm: far less than the squares in which room is searched.
const OFF: f64 = 0.1;

/// Most chords of one piece; they lie farther off it where these do not do.
const MOST: f64 = 256.0;

/// Chords along all pieces of a path, in its order.
#[derive(Debug, Clone)]
pub(super) struct Chords {
    chords: Vec<Chord>,
    /// Over the boxes of what they stand for.
    tree: BoxTree,
}

#[derive(Debug, Clone, Copy)]
struct Chord {
    line: Line,
    /// How far from the chord's point at a parameter the piece's point at that parameter may lie, mm.
    off: f64,
    /// The piece's place in the path.
    piece: usize,
}

impl Chords {
    /// The chords of a path.
    pub(super) fn of(path: &Path) -> Chords {
        let chords: Vec<Chord> = path.segments().iter().enumerate().flat_map(|(k, piece)| along(piece, k)).collect();
        let around = |chord: &Chord| Rect::from_points(chord.line.p0, chord.line.p1).inflate(chord.off, chord.off);
        Chords { tree: BoxTree::new(chords.iter().map(around).collect()), chords }
    }

    /// Whether any of the path lies inside `rect` or on its border; `exactly` tells it of a piece by its place.
    pub(super) fn touch(&self, rect: Rect, exactly: &dyn Fn(usize) -> bool) -> bool {
        self.tree.meeting(rect).any(|index| {
            let chord = &self.chords[index];
            chord.begins_in(rect) || chord.plainly_touches(rect).unwrap_or_else(|| exactly(chord.piece))
        })
    }
}

/// The chords of a piece of equal shares of its parameter. A chord over a share h lies off it by at most h² / 8 times the greatest second
/// derivative (the error of linear interpolation; any textbook of numerical analysis, from memory).
fn along(piece: &Segment, place: usize) -> impl Iterator<Item = Chord> + use<> {
    let bent = most_bent(piece);
    let count = (bent / (8.0 * OFF)).sqrt().ceil().clamp(1.0, MOST);
    let (piece, off) = (*piece, bent / (8.0 * count * count));
    let at = move |k: u32| match f64::from(k) {
        0.0 => piece.start(),
        k if k == count => piece.end(),
        k => piece.eval(k / count),
    };
    (0..count as u32).map(move |k| Chord { line: Line::new(at(k), at(k + 1)), off, piece: place })
}

/// A length, mm, that the second derivative of a piece by its parameter nowhere passes. That of a cubic lies between those of its ends.
fn most_bent(piece: &Segment) -> f64 {
    match piece {
        Segment::Line(_) => 0.0,
        Segment::Arc(arc) => arc.sweep.powi(2) * (arc.p.hypot2() + arc.q.hypot2()).sqrt(),
        Segment::Cubic(_) => piece.second_derivative(0.0).hypot().max(piece.second_derivative(1.0).hypot()),
    }
}

impl Chord {
    /// Whether it begins within a rectangle, as most that touches one does.
    fn begins_in(&self, rect: Rect) -> bool {
        let start = self.line.p0;
        start.x > rect.x0 && start.x < rect.x1 && start.y > rect.y0 && start.y < rect.y1
    }

    /// Whether what it stands for runs through a rectangle, where that needs no exact look: it is told by the directions along which two
    /// convex shapes may lie apart, of which a line and an upright rectangle have three.
    fn plainly_touches(&self, rect: Rect) -> Option<bool> {
        let (along, off) = (self.line.p1 - self.line.p0, self.line.midpoint() - rect.center());
        let half = rect.size() / 2.0;
        // How far they reach over each other, mm.
        let across = half.width + along.x.abs() / 2.0 - off.x.abs();
        let up = half.height + along.y.abs() / 2.0 - off.y.abs();
        let beside = half.width * along.y.abs() + half.height * along.x.abs() - along.cross(off).abs();
        let least = across.min(up).min(beside / along.hypot());
        if least < -PLAINLY - self.off {
            return Some(false);
        }
        // A rectangle smaller by `off` on all sides still holds a place of the chord: aslant it is smaller by no more than a diagonal.
        (least > PLAINLY + self.off * SQRT_2 && half.width.min(half.height) > self.off).then_some(true)
    }
}
