//! Dashed lines as lines with gaps: a plotter or cutter draws what it is given and knows no dash patterns.

use crate::geometry::{Path, Segment};
use crate::page::Pen;
use crate::tolerance::ROUNDING;

/// The shortest repeat that is drawn as dashes, mm; below, no pen could leave the gaps open.
const SHORTEST_REPEAT: f64 = 0.1;

/// Parts in which the length along a curve is measured; with Simpson's rule the error is far below a pen's width.
const PARTS: usize = 32;

/// The dashes of a path as open paths; `None` for a pen without dashes.
pub(super) fn dashes(path: &Path, pen: &Pen) -> Option<Vec<Path>> {
    let lengths: Vec<f64> = pen.dash.iter().map(|length| length.max(0.0)).collect();
    // An odd list is run through twice before it repeats.
    let lengths = if lengths.len() % 2 == 1 { [lengths.clone(), lengths].concat() } else { lengths };
    let repeat: f64 = lengths.iter().sum();
    if repeat < SHORTEST_REPEAT {
        return None;
    }
    let mut along = Along { lengths, index: 0, left: 0.0 };
    along.left = along.lengths[0];
    along.go(pen.phase.rem_euclid(repeat));
    let mut dashes = Vec::new();
    let mut dash = Vec::new();
    for segment in path.segments() {
        let ruler = Ruler::new(segment);
        let mut from = 0.0;
        while from < ruler.length() {
            let to = ruler.length().min(from + along.left);
            if along.draws() {
                dash.push(segment.subsegment(ruler.parameter(from), ruler.parameter(to)));
            }
            along.go(to - from);
            if !along.draws() && !dash.is_empty() {
                dashes.push(Path::open(std::mem::take(&mut dash)));
            }
            from = to;
        }
    }
    if !dash.is_empty() {
        dashes.push(Path::open(dash));
    }
    Some(dashes)
}

/// Where in the pattern the pen is.
struct Along {
    lengths: Vec<f64>,
    index: usize,
    /// What is left of the dash or gap, mm.
    left: f64,
}

impl Along {
    fn draws(&self) -> bool {
        self.index.is_multiple_of(2)
    }

    /// Goes on by `distance` mm, over as many dashes and gaps as that takes.
    fn go(&mut self, mut distance: f64) {
        while distance + ROUNDING > self.left {
            distance = (distance - self.left).max(0.0);
            self.index = (self.index + 1) % self.lengths.len();
            self.left = self.lengths[self.index];
        }
        self.left -= distance;
    }
}

/// The lengths from a segment's start to evenly spaced parameters, mm.
struct Ruler(Vec<f64>);

impl Ruler {
    fn new(segment: &Segment) -> Self {
        let parts = if matches!(segment, Segment::Line(_)) { 1 } else { PARTS };
        let speed = |t: f64| segment.derivative(t).hypot();
        let step = 1.0 / parts as f64;
        let mut lengths = vec![0.0];
        let mut length = 0.0;
        for part in 0..parts {
            let t = part as f64 * step;
            length += step / 6.0 * (speed(t) + 4.0 * speed(t + step / 2.0) + speed(t + step));
            lengths.push(length);
        }
        Ruler(lengths)
    }

    fn length(&self) -> f64 {
        self.0.last().copied().unwrap_or(0.0)
    }

    /// The parameter at a distance from the start.
    fn parameter(&self, distance: f64) -> f64 {
        let parts = self.0.len() - 1;
        let part = self.0.partition_point(|length| *length < distance).clamp(1, parts);
        let (before, after) = (self.0[part - 1], self.0[part]);
        let share = if after > before { (distance - before) / (after - before) } else { 1.0 };
        ((part - 1) as f64 + share.clamp(0.0, 1.0)) / parts as f64
    }
}

#[cfg(test)]
mod tests {
    use super::{Path, Pen, Segment, dashes};
    use kurbo::Point;

    fn ends(path: &Path, dash: &[f64], phase: f64) -> Vec<(f64, f64)> {
        let pen = Pen { phase, ..Pen::dashed(0.25, dash) };
        let dashes = dashes(path, &pen).expect("dashes");
        dashes.iter().map(|dash| (dash.start().expect("start").x, dash.end().expect("end").x)).collect()
    }

    #[test]
    fn a_line_is_drawn_from_its_phase_on() {
        let line = Path::line(Point::new(0.0, 5.0), Point::new(20.0, 5.0));
        assert_eq!(ends(&line, &[6.0, 2.0], 0.0), [(0.0, 6.0), (8.0, 14.0), (16.0, 20.0)]);
        assert_eq!(ends(&line, &[6.0, 2.0], 4.0), [(0.0, 2.0), (4.0, 10.0), (12.0, 18.0)]);
        assert_eq!(ends(&line, &[6.0, 2.0], -1.0), [(1.0, 7.0), (9.0, 15.0), (17.0, 20.0)]);
        assert_eq!(ends(&line, &[5.0], 0.0), [(0.0, 5.0), (10.0, 15.0)]);
        assert_eq!(dashes(&line, &Pen::solid(0.25)), None);
        assert_eq!(dashes(&line, &Pen::dashed(0.25, &[0.0, 0.0])), None);
    }

    #[test]
    fn a_dash_runs_on_round_a_corner() {
        let corner = [(0.0, 0.0), (7.0, 0.0), (7.0, 7.0)].map(Point::from);
        let found = dashes(&Path::polyline(&corner, false), &Pen::dashed(0.25, &[10.0, 2.0])).expect("dashes");
        assert_eq!(found.len(), 2);
        assert_eq!((found[0].segments().len(), found[0].end()), (2, Some(Point::new(7.0, 3.0))));
    }

    #[test]
    fn dashes_of_a_circle_are_arcs_of_equal_length() {
        let found = dashes(&Path::circle(Point::ORIGIN, 20.0), &Pen::dashed(0.25, &[6.0, 2.0])).expect("dashes");
        // 125.66 mm round: fifteen whole repeats of 8 and most of another dash.
        assert_eq!(found.len(), 16);
        for dash in &found[..15] {
            let turn: f64 = dash.segments().iter().map(|s| if let Segment::Arc(a) = s { a.sweep } else { 0.0 }).sum();
            assert!((turn * 20.0 - 6.0).abs() < 1e-6, "{turn}");
        }
    }
}
