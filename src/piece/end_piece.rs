//! Breadboard ends as they stand at the right end of a top: the end piece, its groove, the tongue in it and the pins.
//!
//! Where the end piece has square ends the groove runs out through both of them. Else it is stopped inside the final shape, with a
//! wall to it measured from the groove's corners, and the tongue is shorter than it by what it grows until the dampest.

use super::SolvedBoard;
use super::fixing::{Play, share};
use crate::geometry::{Path, Point, Rect, Segment, Vec2, clip_half_plane};
use crate::model::fixing::{Breadboard, OuterPins};
use crate::model::top::Top;
use crate::tolerance::{SAME_POINT, UNSEEN};

/// From the end of a tongue to its outermost pin, mm (common practice, no source); on a short one a quarter of it.
const PIN_FROM_END: f64 = 40.0;

/// By how much the groove is deeper than the tongue, mm: room for glue (common practice, no source).
pub(super) const GROOVE_CLEAR: f64 = 1.0;

/// Wood left about a groove, mm, at its ends as beyond its bottom; less where less is left there (common practice, no source).
pub(super) const THICK_CHEEK: f64 = 6.0;

/// Halvings by which a stopped groove's end is found: far below a thousandth of a millimetre on the widest top.
const HALVINGS: usize = 40;

/// A breadboard end as it stands at the right end of the top.
#[derive(Debug, Clone, PartialEq)]
pub struct EndPiece {
    /// The end piece, closed.
    pub ring: Path,
    /// Where its shoulder lies, x.
    pub shoulder: f64,
    /// From where to where the shoulder runs across the top, y.
    pub across: [f64; 2],
    /// The tongue as it is today, from its shoulder on, inside the final shape.
    pub tongue: Rect,
    /// The groove for it, from the shoulder on.
    pub groove: Rect,
    /// Whether the groove runs out through both ends of the end piece.
    pub open: bool,
    /// The tongue's thickness, mm.
    pub thickness: f64,
    /// Its pins, front first.
    pub pins: Vec<Play>,
}

impl EndPiece {
    /// From where to where, on the tongue as it lies today, the middle of the hole for each pin reaches, front first: the outer
    /// ones as far as the wood moves where they are slotted.
    pub fn holes(&self, outer: OuterPins) -> Vec<[Point; 2]> {
        let middle = self.pins.len() / 2;
        let hole = |(i, pin): (usize, &Play)| match outer {
            OuterPins::Slotted if i != middle => pin.in_top(),
            _ => [pin.at; 2],
        };
        self.pins.iter().enumerate().map(hole).collect()
    }
}

/// The tongue's thickness, mm: a third of the top's unless given (trade texts; the record says that they conflict).
pub fn tongue_of(top: &Top, breadboard: &Breadboard) -> f64 {
    breadboard.tongue.map_or(top.thickness.mm() / 3.0, |t| t.mm())
}

/// The breadboard end of a top; `None` where it has none or the shape leaves no room for its groove.
pub fn end_piece(board: &SolvedBoard, top: &Top) -> Option<EndPiece> {
    let breadboard = top.breadboard.as_ref()?;
    let share = share(top).unwrap_or_default();
    let shoulder = top.length.mm() / 2.0 - breadboard.width.mm();
    let depth = breadboard.tongue_depth().mm();
    let (ring, across) = beyond(board, shoulder)?;
    let bottom = shoulder + depth + GROOVE_CLEAR;
    let wall = THICK_CHEEK.min(breadboard.width.mm() - depth - GROOVE_CLEAR);
    let narrowest = narrowest(&ring, [shoulder, bottom + wall], across)?;
    let open = across.iter().zip(narrowest).all(|(whole, least)| (whole - least).abs() < UNSEEN);
    let ends = if open { across } else { stopped(&ring, [shoulder, bottom], across, wall)? };
    let groove = Rect::new(shoulder, ends[0], bottom, ends[1]);
    // A stopped tongue fills its groove when it is dampest; in an open groove nothing is in its way.
    let today = |y: f64| if open { y } else { y / (1.0 + share[1]) };
    let tongue = Rect::new(shoulder, today(ends[0]), shoulder + depth, today(ends[1]));
    let pins = pins(breadboard.pins, &tongue).into_iter().map(|at| Play::new(at, share)).collect();
    Some(EndPiece { ring, shoulder, across, tongue, groove, open, thickness: tongue_of(top, breadboard), pins })
}

/// Where the pins stand in a tongue: in the middle of its depth, one in the middle of its length.
fn pins(count: u32, tongue: &Rect) -> Vec<Point> {
    let margin = PIN_FROM_END.min(tongue.height() / 4.0);
    let (first, last) = (tongue.y0 + margin, tongue.y1 - margin);
    let at = |i: u32| match count {
        0 | 1 => tongue.center().y,
        pins => first + (last - first) * f64::from(i) / f64::from(pins - 1),
    };
    (0..count).map(|i| Point::new(tongue.center().x, at(i))).collect()
}

/// What the boards of a top with breadboard ends are glued up to: from the end of one tongue to that of the other.
pub(super) fn field(board: &SolvedBoard, top: &Top) -> Option<Rect> {
    let end = end_piece(board, top)?;
    let blank = board.solid.blank;
    Some(Rect::new(-end.tongue.x1, blank.y0, end.tongue.x1, blank.y1))
}

/// What of the top lies beyond a cut square across it, and from where to where the cut runs.
fn beyond(board: &SolvedBoard, x: f64) -> Option<(Path, [f64; 2])> {
    let face = board.solid.face.path().clone();
    let rings = clip_half_plane(&[face], Point::new(x, 0.0), Vec2::new(1.0, 0.0));
    let ring = rings.into_iter().max_by(|a, b| a.signed_area().total_cmp(&b.signed_area()))?;
    let on_cut: Vec<f64> = ring.nodes().iter().filter(|p| (p.x - x).abs() < SAME_POINT).map(|p| p.y).collect();
    let (low, high) =
        (on_cut.iter().copied().fold(f64::MAX, f64::min), on_cut.iter().copied().fold(f64::MIN, f64::max));
    (low < high).then_some((ring, [low, high]))
}

/// Whether a piece of an outline is a cut at x.
fn is_cut(piece: &Segment, x: f64) -> bool {
    (piece.start().x - x).abs() < SAME_POINT && (piece.end().x - x).abs() < SAME_POINT
}

/// From where to where an end piece reaches all the way from one place along the top to another.
fn narrowest(ring: &Path, [from, to]: [f64; 2], across: [f64; 2]) -> Option<[f64; 2]> {
    let middle = 0.5 * (across[0] + across[1]);
    let strips = clip_half_plane(std::slice::from_ref(ring), Point::new(to, 0.0), Vec2::new(-1.0, 0.0));
    let mut least = across;
    for piece in strips.iter().flat_map(Path::segments).filter(|piece| !is_cut(piece, from) && !is_cut(piece, to)) {
        let bounds = piece.bounding_box();
        match piece.eval(0.5).y < middle {
            true => least[0] = least[0].max(bounds.y1),
            false => least[1] = least[1].min(bounds.y0),
        }
    }
    (least[0] < least[1]).then_some(least)
}

/// From where to where a groove runs that is stopped with a wall to the final shape; `None` where there is no room for any.
fn stopped(ring: &Path, [shoulder, bottom]: [f64; 2], across: [f64; 2], wall: f64) -> Option<[f64; 2]> {
    let inside = narrowest(ring, [shoulder, bottom], across)?;
    let rim: Vec<&Segment> = ring.segments().iter().filter(|piece| !is_cut(piece, shoulder)).collect();
    let to_rim = |at: Point| rim.iter().map(|piece| piece.nearest(at).0).fold(f64::MAX, f64::min);
    let middle = 0.5 * (inside[0] + inside[1]);
    let found = inside.map(|limit| {
        // The nearest place of the rim is opposite a corner, or where the rim runs along the groove's end.
        let fits = |y: f64| {
            let corners = [shoulder, bottom].map(|x| to_rim(Point::new(x, y)));
            corners.into_iter().fold((limit - y).abs(), f64::min) >= wall - SAME_POINT
        };
        let (mut within, mut without) = (middle, limit);
        if !fits(within) {
            return None;
        }
        for _ in 0..HALVINGS {
            let y = 0.5 * (within + without);
            if fits(y) { within = y } else { without = y }
        }
        Some(within)
    });
    let [Some(from), Some(to)] = found else { return None };
    (from < to).then_some([from, to])
}
