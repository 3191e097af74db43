//! The line along the middle of a flat shape: of the landing of a part that may stand aslant, be bowed, or end aslant.

use crate::geometry::{Path, Point, Segment, Vec2, contacts};
use crate::tolerance::{CONTACT_TOLERANCE, EXACT, UNSEEN};

/// From end to end along a shape, through the middle of its area and along its longest straight side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MiddleLine {
    from: Point,
    to: Point,
}

impl MiddleLine {
    /// The line of a closed shape; `None` where it has no area.
    pub(super) fn of(rim: &Path) -> Option<MiddleLine> {
        let (middle, way) = (rim.centroid()?, longest_side(rim)?);
        // From the left to the right, and from the front to the back where it runs more across than along.
        let way = if way.x.abs() >= way.y.abs() { way * way.x.signum() } else { way * way.y.signum() };
        let [from, to] = chord(rim, middle, way)?;
        Some(MiddleLine { from, to })
    }

    /// Its direction, of length 1: to the right, or to the back where it runs more across than along.
    pub fn way(&self) -> Vec2 {
        (self.to - self.from).normalize()
    }

    /// From end to end, mm.
    pub fn length(&self) -> f64 {
        self.from.distance(self.to)
    }

    /// Half way.
    pub fn middle(&self) -> Point {
        self.from.midpoint(self.to)
    }

    /// Whether it runs more across the grain of the top than along it.
    pub fn runs_across(&self) -> bool {
        let way = self.to - self.from;
        way.y.abs() > way.x.abs()
    }

    /// The middle between the shape's two long sides at a point of the line, and how far each of them is off, mm.
    pub(super) fn middle_at(&self, rim: &Path, at: Point) -> (Point, f64) {
        chord(rim, at, self.way().turn_90()).map_or((at, 0.0), |[a, b]| (a.midpoint(b), 0.5 * a.distance(b)))
    }

    /// From a point to the nearer long side of the shape, square to the line, mm; below 0 beyond it.
    pub(super) fn room(&self, rim: &Path, p: Point) -> f64 {
        let (off, half) = self.off_middle(rim, p);
        half - off.abs()
    }

    /// How far a point lies off the middle between the shape's two long sides, to the left of the line where above 0, and how far each
    /// of them is from that, mm.
    pub(super) fn off_middle(&self, rim: &Path, p: Point) -> (f64, f64) {
        let across = self.way().turn_90();
        let on_line = p - across * (p - self.from).dot(across);
        let (middle, half) = self.middle_at(rim, on_line);
        ((p - middle).dot(across), half)
    }
}

/// From a point to the nearer of the two places where a line through it, along a direction of length 1, leaves a shape, mm; below 0
/// where the point lies beyond them.
pub(super) fn room_along(rim: &Path, p: Point, way: Vec2) -> f64 {
    chord(rim, p, way).map_or(f64::MIN, |[a, b]| (p - a).dot(way).min((b - p).dot(way)))
}

/// The direction of the longest straight side; of a shape without such the axis along which it reaches farther.
fn longest_side(rim: &Path) -> Option<Vec2> {
    let straight = rim.segments().iter().filter(|piece| matches!(piece, Segment::Line(_)));
    let longest = straight.map(|piece| piece.end() - piece.start()).max_by(|a, b| a.hypot2().total_cmp(&b.hypot2()));
    let bounds = rim.bounding_box()?;
    let axis = if bounds.height() > bounds.width() { Vec2::new(0.0, 1.0) } else { Vec2::new(1.0, 0.0) };
    let reach = bounds.width().max(bounds.height());
    // The ends of a bowed part are straight too, and run across it.
    let side = longest.filter(|way| way.hypot() > 0.5 * reach && way.hypot() > UNSEEN).unwrap_or(axis);
    (reach > UNSEEN).then(|| side.normalize())
}

/// Where a line through a point, along a direction of length 1, runs in a shape: the stretch that holds the point, or the nearest.
fn chord(rim: &Path, at: Point, way: Vec2) -> Option<[Point; 2]> {
    let bounds = rim.bounding_box()?;
    let reach = bounds.width() + bounds.height() + at.distance(bounds.center());
    let line = Segment::line(at - way * reach, at + way * reach);
    let met = rim.segments().iter().flat_map(|piece| contacts(&line, piece, CONTACT_TOLERANCE).unwrap_or_default());
    let mut places: Vec<f64> = met.map(|contact| (contact.point - at).dot(way)).collect();
    places.sort_by(f64::total_cmp);
    places.dedup_by(|a, b| (*a - *b).abs() < CONTACT_TOLERANCE);
    let inside = |pair: &&[f64]| rim.encloses(at + way * (0.5 * (pair[0] + pair[1])));
    let off = |pair: &[f64]| pair[0].max(-pair[1]).max(0.0);
    let nearest = places.windows(2).filter(inside).min_by(|a, b| off(a).total_cmp(&off(b)))?;
    (nearest[1] - nearest[0] > EXACT).then(|| [at + way * nearest[0], at + way * nearest[1]])
}

#[cfg(test)]
mod tests {
    use super::MiddleLine;
    use crate::geometry::{Affine, Path, Point, Rect};

    /// A rail of 600 x 24 turned by 20 degrees: its line is its own middle, not that of the box around it.
    #[test]
    fn a_part_aslant_is_measured_along_itself() {
        let rim = Path::rectangle(Rect::new(-300.0, -12.0, 300.0, 12.0));
        let turn = Affine::translate((40.0, 70.0)) * Affine::rotate(20_f64.to_radians());
        let rim = rim.transformed(turn);
        let line = MiddleLine::of(&rim).expect("a line");
        assert!((line.length() - 600.0).abs() < 1e-6 && !line.runs_across());
        let p = turn * Point::new(-100.0, 0.0);
        assert!(((p - line.from).dot(line.way()) - 200.0).abs() < 1e-6);
        assert!((line.room(&rim, p) - 12.0).abs() < 1e-6);
        assert!((line.room(&rim, turn * Point::new(-100.0, 10.0)) - 2.0).abs() < 1e-6);
        assert!(line.room(&rim, turn * Point::new(-100.0, -15.0)) < -2.9);
    }

    /// Cut aslant at both ends, the middle line runs from end to end of itself.
    #[test]
    fn a_line_ends_where_its_part_does() {
        let corners = [(0.0, 0.0), (600.0, 0.0), (580.0, 40.0), (30.0, 40.0)].map(Point::from);
        let line = MiddleLine::of(&Path::polyline(&corners, true)).expect("a line");
        let y = line.middle().y;
        assert!((line.length() - (600.0 - y / 2.0 - y * 0.75)).abs() < 1e-6, "{line:?}");
    }
}
