//! Strokes joined end to end, so that corners are mitred and dashes run on.

use super::visible::Stroke;
use crate::geometry::{Path, Point, Segment};
use crate::tolerance::BELOW_A_RULE;

/// Joins strokes into paths; at a point where several go on, the first given does.
pub fn chained(strokes: &[Stroke]) -> Vec<Path> {
    let mut left: Vec<Option<Segment>> = strokes.iter().map(|s| Some(s.line)).collect();
    let both =
        |(index, stroke): (usize, &Stroke)| [stroke.line.start(), stroke.line.end()].map(|end| (key(end), index));
    let mut ends: Vec<End> = strokes.iter().enumerate().flat_map(both).collect();
    ends.sort_unstable();
    let mut paths = Vec::new();
    for index in 0..left.len() {
        let Some(first) = left[index].take() else { continue };
        let mut chain = vec![first];
        while let Some(next) = chain.last().and_then(|last| take_at(&ends, &mut left, last.end())) {
            chain.push(next);
        }
        let mut before: Vec<Segment> = Vec::new();
        let mut start = first.start();
        while let Some(next) = take_at(&ends, &mut left, start) {
            start = next.end();
            before.push(next.reversed());
        }
        before.reverse();
        before.extend(chain);
        let closed = before.len() > 1
            && before.first().zip(before.last()).is_some_and(|(a, b)| a.start().distance(b.end()) < BELOW_A_RULE);
        paths.push(if closed { Path::closed(before) } else { Path::open(before) });
    }
    paths
}

/// The cell in which a stroke ends, and which stroke.
type End = ((i64, i64), usize);

fn key(p: Point) -> (i64, i64) {
    ((p.x / BELOW_A_RULE).round() as i64, (p.y / BELOW_A_RULE).round() as i64)
}

/// A stroke that begins or ends at a point, turned to begin there.
fn take_at(ends: &[End], left: &mut [Option<Segment>], p: Point) -> Option<Segment> {
    let (x, y) = key(p);
    let columns = [x - 1, x, x + 1].into_iter();
    let near = columns.flat_map(|x| {
        let first = ends.partition_point(|(cell, _)| *cell < (x, y - 1));
        ends[first..].iter().take_while(move |(cell, _)| *cell <= (x, y + 1))
    });
    for (_, index) in near {
        let Some(line) = left[*index] else { continue };
        if line.start().distance(p) < BELOW_A_RULE {
            left[*index] = None;
            return Some(line);
        }
        if line.end().distance(p) < BELOW_A_RULE {
            left[*index] = None;
            return Some(line.reversed());
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::{Stroke, chained};
    use crate::geometry::{Point, Segment};

    #[test]
    fn the_sides_of_a_square_are_one_closed_path() {
        let at = [(0.0, 0.0), (5.0, 0.0), (5.0, 5.0), (0.0, 5.0)].map(Point::from);
        let sides = [(2, 1), (0, 1), (3, 0), (2, 3)];
        let strokes = sides.map(|(a, b)| Stroke { line: Segment::line(at[a], at[b]), board: 0, copy: 0 });
        let [path] = &chained(&strokes)[..] else { panic!("one path") };
        assert!(path.is_closed() && path.segments().len() == 4);
        assert!((path.signed_area().abs() - 25.0).abs() < 1e-9);
    }
}
