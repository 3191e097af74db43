//! Rises and radii of curved edges.

use crate::board::Source;
use crate::geometry::{Point, Segment, Vec2};
use crate::piece::SolvedBoard;
use crate::units::{Length, Notation};

/// A bend of less than this, mm, is none: what rounding leaves of a straight edge.
const STRAIGHT: f64 = 0.05;

/// Steps in which an edge is followed to find its greatest distance from its chord; refined to the digits below.
const STEPS: usize = 64;

/// An arc is round to within this, mm.
const ROUND: f64 = 1e-6;

/// What a curved edge is said by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bend {
    /// The rise over the chord of the face side's edge, or the radius; mm.
    pub size: f64,
    /// Whether `size` is a radius.
    pub is_radius: bool,
    /// Whether the edge is hollow.
    pub is_hollow: bool,
    /// Where it is shown, in (u, v).
    pub middle: Point,
}

/// The bend of an edge of a board's outline, on its face side; `None` where it is straight or cut away.
///
/// A corner's arc, shorter than a quarter of the board's own size, is said by its radius. A top's edge is said by its rise over the
/// whole rectangle, as its maker lays it out; every other edge by its rise over its own chord.
pub fn bend(board: &SolvedBoard, edge: usize) -> Option<Bend> {
    let pieces: Vec<&Segment> = board.solid.face.part(Source::Edge(edge)).collect();
    let (first, last) = (pieces.first()?, pieces.last()?);
    let (from, to) = (first.start(), last.end());
    let blank = board.solid.blank;
    let arc = match pieces[..] {
        [Segment::Arc(arc)] => arc.radius(ROUND).map(|radius| (radius, arc)),
        _ => None,
    };
    if let Some((radius, arc)) = arc {
        let middle = pieces[0].eval(0.5);
        let is_hollow = arc.sweep < 0.0;
        if from.distance(to) < 0.25 * blank.width().max(blank.height()) {
            return Some(Bend { size: radius, is_radius: true, is_hollow, middle });
        }
        if board.id == "top" {
            let chord = to - from;
            let along = if chord.x.abs() > chord.y.abs() { blank.width() } else { blank.height() };
            let size = radius - (radius * radius - along * along / 4.0).max(0.0).sqrt();
            return Some(Bend { size, is_radius: false, is_hollow, middle });
        }
    }
    let chord = to - from;
    if chord.hypot() < STRAIGHT {
        return None;
    }
    // The face's rim runs anticlockwise: right of the chord is out of the part.
    let out = -chord.normalize().turn_90();
    let off = |p: Point| (p - from).dot(out);
    let (size, middle) = farthest(&pieces, out, off)?;
    (size.abs() > STRAIGHT).then_some(Bend { size: size.abs(), is_radius: false, is_hollow: size < 0.0, middle })
}

/// The point farthest from the chord.
fn farthest(pieces: &[&Segment], out: Vec2, off: impl Fn(Point) -> f64) -> Option<(f64, Point)> {
    let candidates = pieces.iter().flat_map(|piece| {
        let steps = (0..=STEPS).map(|k| k as f64 / STEPS as f64);
        piece.turns_along(out).into_iter().chain(steps).map(|t| piece.eval(t))
    });
    candidates.map(|p| (off(p), p)).max_by(|a, b| a.0.abs().total_cmp(&b.0.abs()))
}

/// A bend as written: `rise 18`, `hollow 12`, `R 40`.
pub fn words_of_bend(bend: &Bend, notation: &Notation) -> String {
    let size = notation.bare_length(Length::from_mm(bend.size));
    match (bend.is_radius, bend.is_hollow) {
        (true, _) => format!("R {size}"),
        (false, false) => format!("rise {size}"),
        (false, true) => format!("hollow {size}"),
    }
}
