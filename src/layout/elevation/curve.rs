//! Rises and radii of curved edges.

use crate::board::{PartRole, Source};
use crate::geometry::{Arc, Point, Segment, Vec2};
use crate::piece::SolvedBoard;
use crate::tolerance::{ONE_EDGE, SAME_POINT, SHOWN};
use crate::units::{Length, Notation};

/// Steps in which an edge is followed to find its greatest distance from its chord, besides the places where it runs along it.
const STEPS: usize = 64;

/// An arc whose radius is less than this share of its board rounds a corner.
const CORNER_SHARE: f64 = 0.25;

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
    /// The edge that is bent; none for a rounded corner between two.
    pub edge: Option<Source>,
}

/// The bends of a board's edges on its face side.
///
/// A corner's arc is said by its radius. A top's edge is said by its rise over the whole rectangle, as its maker lays it out;
/// every other edge by its rise over its own chord, flat landings included.
pub fn bends(board: &SolvedBoard) -> Vec<Bend> {
    let mut found = Vec::new();
    for (source, run) in runs(board) {
        let edge = Some(source);
        found.extend(match (corner(board, &run), run.as_slice()) {
            (Some((arc, radius)), [only]) => Some(Bend {
                size: radius,
                is_radius: true,
                is_hollow: arc.sweep < 0.0,
                middle: only.eval(0.5),
                edge: None,
            }),
            (None, [Segment::Arc(arc)]) if board.role == PartRole::Top => {
                over_rectangle(board, arc, run[0]).map(|b| Bend { edge, ..b })
            }
            _ => over_chord(&run).map(|b| Bend { edge, ..b }),
        });
    }
    found
}

/// Stretches of the face's rim that make one edge each, with the edge that each begins on: between cuts, sharp corners and
/// rounded ones.
fn runs(board: &SolvedBoard) -> Vec<(Source, Vec<Segment>)> {
    let pieces: Vec<(&Segment, Source)> = board.solid.face.pieces().collect();
    let count = pieces.len();
    let is_edge = |k: usize| matches!(pieces[k % count].1, Source::Edge(_));
    let alone = |k: usize| corner(board, std::slice::from_ref(pieces[k % count].0)).is_some();
    let joined = |k: usize| {
        let (before, after) = (pieces[(k + count - 1) % count].0, pieces[k % count].0);
        let turn = before.tangent(1.0).cross(after.tangent(0.0)).abs();
        is_edge(k) && is_edge(k + count - 1) && !alone(k) && !alone(k + count - 1) && turn < ONE_EDGE
    };
    let first = (0..count).find(|k| !joined(*k)).unwrap_or(0);
    let mut runs: Vec<(Source, Vec<Segment>)> = Vec::new();
    for k in (first..first + count).filter(|k| is_edge(*k)) {
        match runs.last_mut() {
            Some((_, run)) if k > first && joined(k) => run.push(*pieces[k % count].0),
            _ => runs.push((pieces[k % count].1, vec![*pieces[k % count].0])),
        }
    }
    runs
}

/// The arc and radius of a rounded corner.
fn corner<'a>(board: &SolvedBoard, run: &'a [Segment]) -> Option<(&'a Arc, f64)> {
    let [Segment::Arc(arc)] = run else { return None };
    let size = board.solid.blank.width().max(board.solid.blank.height());
    let radius = arc.radius(SAME_POINT)?;
    (radius < CORNER_SHARE * size).then_some((arc, radius))
}

/// An arc's rise between the ends of the blank along which it runs.
fn over_rectangle(board: &SolvedBoard, arc: &Arc, edge: Segment) -> Option<Bend> {
    let radius = arc.radius(SAME_POINT)?;
    let chord = edge.end() - edge.start();
    let blank = board.solid.blank;
    let along = if chord.x.abs() > chord.y.abs() { blank.width() } else { blank.height() };
    let size = radius - (radius * radius - along * along / 4.0).max(0.0).sqrt();
    Some(Bend { size, is_radius: false, is_hollow: arc.sweep < 0.0, middle: edge.eval(0.5), edge: None })
}

/// The greatest distance of an edge from its chord.
fn over_chord(run: &[Segment]) -> Option<Bend> {
    let (from, to) = (run.first()?.start(), run.last()?.end());
    if run.iter().all(|piece| matches!(piece, Segment::Line(_))) {
        return None;
    }
    if from.distance(to) < SHOWN {
        // All round: a circle is said by its radius, an oval by its length and width.
        let [Segment::Arc(arc), ..] = run else { return None };
        let size = arc.radius(SAME_POINT)?;
        return Some(Bend { size, is_radius: true, is_hollow: false, middle: run[0].eval(0.25), edge: None });
    }
    // The rim runs anticlockwise: right of the chord is out of the part.
    let out = -(to - from).normalize().turn_90();
    let off = |p: Point| (p - from).dot(out);
    let (size, middle) = farthest(run, out, off)?;
    (size.abs() > SHOWN).then_some(Bend {
        size: size.abs(),
        is_radius: false,
        is_hollow: size < 0.0,
        middle,
        edge: None,
    })
}

/// The point farthest from the chord.
fn farthest(run: &[Segment], out: Vec2, off: impl Fn(Point) -> f64) -> Option<(f64, Point)> {
    let candidates = run.iter().flat_map(|piece| {
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
