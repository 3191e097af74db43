//! An edge of a part between two corners: straight, an arc on its chord or a batten, going on beyond both along its tangent.

use crate::geometry::{Affine, Batten, BattenEnd, Point, Segment, Vec2};
use crate::model::base::Curve;
use crate::tolerance::ROUNDING;
use crate::units::Length;

/// The direction in which levels are counted.
const UP: Vec2 = Vec2::new(0.0, 1.0);

/// What is wrong with a curve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum CurveFault {
    /// The rise of an arc is more than half its chord.
    RiseTooHigh {
        /// The rise that just fits, mm.
        most: f64,
    },
    /// A batten cannot be sprung through the points.
    Batten,
}

/// An edge as a chain of pieces from its first corner to its last.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct EdgeLine {
    segments: Vec<Segment>,
}

impl EdgeLine {
    /// The line between two corners; `out` tells on which side of the chord the part ends.
    pub(super) fn between(from: Point, to: Point, curve: &Curve, out: Vec2) -> Result<EdgeLine, CurveFault> {
        let segments = match curve {
            Curve::Straight => vec![Segment::line(from, to)],
            Curve::Rise(rise) => vec![arc_on_chord(from, to, *rise, out)?],
            Curve::Batten(points) => sprung(from, to, points, out)?,
        };
        Ok(EdgeLine { segments })
    }

    /// A line of pieces joined end to end.
    pub(super) fn from_segments(segments: Vec<Segment>) -> EdgeLine {
        EdgeLine { segments }
    }

    /// The pieces.
    pub(super) fn segments(&self) -> &[Segment] {
        &self.segments
    }

    /// Whether it is one straight line.
    pub(super) fn is_straight(&self) -> bool {
        matches!(self.segments.as_slice(), [Segment::Line(_)])
    }

    /// First corner.
    pub(super) fn start(&self) -> Point {
        self.segments.first().map(Segment::start).unwrap_or_default()
    }

    /// Last corner.
    pub(super) fn end(&self) -> Point {
        self.segments.last().map(Segment::end).unwrap_or_default()
    }

    /// The same line run the other way.
    pub(super) fn reversed(&self) -> EdgeLine {
        EdgeLine { segments: self.segments.iter().rev().map(Segment::reversed).collect() }
    }

    /// The line under an affine map.
    pub(super) fn transformed(&self, map: Affine) -> EdgeLine {
        EdgeLine { segments: self.segments.iter().map(|s| s.transformed(map)).collect() }
    }

    /// The line carried on beyond its corners along its tangents, mm.
    pub(super) fn extended(&self, before: f64, after: f64) -> EdgeLine {
        let (Some(first), Some(last)) = (self.segments.first(), self.segments.last()) else { return self.clone() };
        let (start, end) = (first.start(), last.end());
        let head = start - first.tangent(0.0) * before;
        let tail = end + last.tangent(1.0) * after;
        if let [Segment::Line(_)] = self.segments.as_slice() {
            return EdgeLine { segments: vec![Segment::line(head, tail)] };
        }
        // A line of no length would have no tangent to go on along.
        let mut segments = Vec::new();
        segments.extend((before > 0.0).then(|| Segment::line(head, start)));
        segments.extend(&self.segments);
        segments.extend((after > 0.0).then(|| Segment::line(end, tail)));
        EdgeLine { segments }
    }

    /// The place at which the line passes y = `level`, on its tangents where that lies beyond its corners: the index of the
    /// piece and the parameter on it. `None` where it does not pass that level.
    fn place_at(&self, level: f64) -> Option<(usize, f64)> {
        let place = |(index, piece): (usize, &Segment)| Some((index, piece.passing(UP, level)?));
        self.segments.iter().enumerate().find_map(place)
    }

    /// The point at which the line, or its tangent beyond a corner, passes y = `level`; `None` where it does not.
    pub(super) fn at_level(&self, level: f64) -> Option<Point> {
        let (first, last) = (self.segments.first()?, self.segments.last()?);
        if let Some((index, t)) = self.place_at(level) {
            let point = self.segments.get(index)?.eval(t);
            return Some(Point::new(point.x, level));
        }
        let ends = [(first.start(), first.tangent(0.0)), (last.end(), last.tangent(1.0))];
        let nearest = ends.into_iter().min_by(|a, b| (a.0.y - level).abs().total_cmp(&(b.0.y - level).abs()))?;
        let (corner, tangent) = nearest;
        let x = corner.x + tangent.x / tangent.y * (level - corner.y);
        (x.is_finite()).then_some(Point::new(x, level))
    }

    /// The part of the line between two levels, run as the line runs, carried on along its tangents where they lie beyond.
    pub(super) fn between_levels(&self, from: f64, to: f64) -> Option<EdgeLine> {
        let long = self.extended_to(from).extended_to(to);
        let (a, b) = (long.place_at(from)?, long.place_at(to)?);
        let (first, last) = if a <= b { (a, b) } else { (b, a) };
        let mut segments = Vec::new();
        for (i, piece) in long.segments.iter().enumerate().skip(first.0).take(last.0 - first.0 + 1) {
            let start = if i == first.0 { first.1 } else { 0.0 };
            let end = if i == last.0 { last.1 } else { 1.0 };
            let part = piece.subsegment(start, end);
            if end > start && part.length() > ROUNDING {
                segments.push(part);
            }
        }
        (!segments.is_empty()).then_some(EdgeLine { segments })
    }

    /// The line carried on along its tangent at whichever corner is nearer until it passes a level, and a little beyond.
    fn extended_to(&self, level: f64) -> EdgeLine {
        let reach = |corner: Point, tangent: Vec2| ((level - corner.y) / tangent.y).abs() + 1.0;
        let (Some(first), Some(last)) = (self.segments.first(), self.segments.last()) else { return self.clone() };
        if self.place_at(level).is_some() {
            return self.clone();
        }
        if (first.start().y - level).abs() < (last.end().y - level).abs() {
            self.extended(reach(first.start(), first.tangent(0.0)), 0.0)
        } else {
            self.extended(0.0, reach(last.end(), last.tangent(1.0)))
        }
    }

    /// The largest distance of the line from a chord between two of its levels, mm: positive where the line stands out
    /// towards `out`, negative where it is hollow.
    pub(super) fn gap_to_chord(&self, from: f64, to: f64, out: Vec2) -> Option<f64> {
        let part = self.between_levels(from, to)?;
        let (a, b) = (part.start(), part.end());
        let normal = (b - a).turn_90().normalize();
        let normal = if normal.dot(out) < 0.0 { -normal } else { normal };
        let heights = part.segments.iter().flat_map(|s| {
            let inner = s.turns_along(normal).into_iter().map(|t| (s.eval(t) - a).dot(normal));
            inner.chain([(s.end() - a).dot(normal)]).collect::<Vec<f64>>()
        });
        heights.max_by(|a, b| a.abs().total_cmp(&b.abs()))
    }
}

/// The arc of a circle on a chord; above zero the rise bulges towards `out`.
fn arc_on_chord(from: Point, to: Point, rise: Length, out: Vec2) -> Result<Segment, CurveFault> {
    let (rise, chord) = (rise.mm(), to - from);
    let half = chord.hypot() / 2.0;
    if rise.abs() < ROUNDING {
        return Ok(Segment::line(from, to));
    }
    if rise.abs() > half {
        return Err(CurveFault::RiseTooHigh { most: half });
    }
    let to_the_right = -chord.turn_90().dot(out).signum();
    Ok(Segment::arc_by_rise(from, to, rise * to_the_right))
}

/// A batten through the corners and points between, given along and out of the chord.
fn sprung(from: Point, to: Point, points: &[[Length; 2]], out: Vec2) -> Result<Vec<Segment>, CurveFault> {
    let along = (to - from).normalize();
    let square = along.turn_90();
    let square = if square.dot(out) < 0.0 { -square } else { square };
    let place = |p: &[Length; 2]| from + along * p[0].mm() + square * p[1].mm();
    let through: Vec<Point> = std::iter::once(from).chain(points.iter().map(place)).chain([to]).collect();
    let batten = Batten::spring(&through, [BattenEnd::Free; 2], 0.0).map_err(|_| CurveFault::Batten)?;
    Ok(batten.to_cubics().into_iter().map(Segment::Cubic).collect())
}

#[cfg(test)]
mod tests {
    use super::{CurveFault, EdgeLine};
    use crate::geometry::{Point, Segment, Vec2};
    use crate::model::base::Curve;
    use crate::units::Length;

    fn arc(rise: f64) -> EdgeLine {
        let curve = Curve::Rise(Length::from_mm(rise));
        EdgeLine::between(Point::new(0.0, 600.0), Point::new(0.0, 0.0), &curve, Vec2::new(1.0, 0.0)).unwrap()
    }

    #[test]
    fn an_arc_bulges_out_of_the_part() {
        // Chord 600, rise 25: radius 1812.5 (3.rows, from the chord formula).
        for rise in [25.0, -25.0] {
            let line = arc(rise);
            let Segment::Arc(piece) = line.segments()[0] else { panic!("an arc") };
            assert!((piece.radius(1e-9).unwrap() - 1812.5).abs() < 1e-9);
            assert!((line.at_level(300.0).unwrap().x - rise).abs() < 1e-9);
            assert!((line.gap_to_chord(600.0, 0.0, Vec2::new(1.0, 0.0)).unwrap() - rise).abs() < 1e-9);
            assert!(line.end().distance(Point::ORIGIN) < 1e-9);
        }
    }

    #[test]
    fn beyond_its_corners_a_curve_goes_on_along_its_tangent() {
        let line = arc(25.0);
        // The tangent at the corner makes the arc's half angle with the chord: 19.05457 degrees over two.
        let slope = (19.05457_f64 / 2.0).to_radians().tan();
        assert!((line.at_level(-10.0).unwrap().x + 10.0 * slope).abs() < 1e-5);
        let part = line.between_levels(-10.0, 610.0).unwrap();
        assert!((part.start().y - 610.0).abs() < 1e-9 && (part.end().y + 10.0).abs() < 1e-9);
    }

    #[test]
    fn a_rise_above_half_the_chord_is_refused() {
        let curve = Curve::Rise(Length::from_mm(301.0));
        let made = EdgeLine::between(Point::new(0.0, 600.0), Point::ORIGIN, &curve, Vec2::new(1.0, 0.0));
        assert_eq!(made, Err(CurveFault::RiseTooHigh { most: 300.0 }));
    }
}
