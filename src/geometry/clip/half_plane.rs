//! The part of a filled region on one side of a line.

use super::Side;
use crate::geometry::{Path, Segment};
use crate::tolerance::{CLIP_SLIVER, ROUNDING};
use kurbo::{Line, Point, Vec2};

/// A chain of pieces on the kept side, from the line to the line.
type Run = Vec<Segment>;

/// The part of a filled region with `(p - point) · normal >= 0`: the side to which `normal` points.
///
/// The region is what the closed `rings` enclose by the even-odd rule, holes among them. Curves stay exact; the rings that
/// result are closed along the cut, keep the direction of those they came from, and their cut ends lie on the line.
/// Rings of less than 1e-6 mm² are dropped. A normal of no length keeps everything.
pub fn clip_half_plane(rings: &[Path], point: Point, normal: Vec2) -> Vec<Path> {
    let length = normal.hypot();
    if !(length > 0.0 && length.is_finite() && point.is_finite()) {
        return rings.to_vec();
    }
    let side = Side { point, normal: normal / length };
    let mut kept = Vec::new();
    let mut runs = Vec::new();
    for ring in rings {
        match cut_ring(ring, &side) {
            Cut::Whole => kept.push(ring.clone()),
            Cut::Runs(cut) => runs.extend(cut),
        }
    }
    kept.extend(close_runs(&runs, &side));
    kept.retain(|ring| ring.signed_area().abs() > CLIP_SLIVER);
    kept
}

/// What a cut leaves of one ring.
enum Cut {
    /// All of it.
    Whole,
    /// These runs; none where the ring lies on the other side.
    Runs(Vec<Run>),
}

/// The runs of a ring on one side of the line.
fn cut_ring(ring: &Path, side: &Side) -> Cut {
    let segments = ring.segments();
    // Each node is judged once, by the start of its segment, so that neighbours agree about it.
    let held: Vec<bool> = segments.iter().map(|s| side.holds(s.start())).collect();
    let Some(first_held) = held.first().copied() else { return Cut::Runs(Vec::new()) };
    let mut runs: Vec<Run> = vec![Vec::new()];
    let mut crossed = false;
    for (i, segment) in segments.iter().enumerate() {
        let mut keep = held[i];
        let end_held = held.get(i + 1).copied().unwrap_or(first_held);
        let changes = side.changes(segment, keep, end_held);
        crossed |= !changes.is_empty();
        let mut from = 0.0;
        for (to, is_cut) in changes.into_iter().map(|t| (t, true)).chain([(1.0, false)]) {
            if keep && to > from {
                let part = cut_piece(segment, from, to, is_cut, side);
                if let Some(run) = runs.last_mut() {
                    run.push(part);
                }
            }
            if is_cut {
                if keep {
                    runs.push(Vec::new());
                }
                keep = !keep;
            }
            from = to;
        }
    }
    if !crossed {
        return if first_held { Cut::Whole } else { Cut::Runs(Vec::new()) };
    }
    // The ring's start lies within a run: its tail and its head are one.
    if first_held
        && let Some(mut tail) = runs.pop()
        && let Some(head) = runs.first_mut()
    {
        tail.append(head);
        *head = tail;
    }
    runs.retain(|run| !run.is_empty());
    Cut::Runs(runs)
}

/// The part of a piece between two parameters, those of its ends that are cuts put on the line to the last bit.
/// (An arc's end follows from its angle and is left as near as that comes, about 1e-13 mm.)
fn cut_piece(segment: &Segment, from: f64, to: f64, end_is_cut: bool, side: &Side) -> Segment {
    let whole = from == 0.0 && to == 1.0;
    let part = if whole { *segment } else { segment.subsegment(from, to) };
    let start_is_cut = from > 0.0;
    let fix = |p: Point, cut: bool| if cut { side.snapped(p) } else { p };
    match part {
        Segment::Line(l) => Segment::Line(Line::new(fix(l.p0, start_is_cut), fix(l.p1, end_is_cut))),
        Segment::Cubic(mut c) => {
            (c.p0, c.p3) = (fix(c.p0, start_is_cut), fix(c.p3, end_is_cut));
            Segment::Cubic(c)
        }
        Segment::Arc(_) => part,
    }
}

/// Which end of which run.
#[derive(Debug, Clone, Copy, PartialEq)]
struct RunEnd {
    run: usize,
    at_start: bool,
}

/// Rings from runs: along the cut the region lies between the first end and the second, the third and the fourth, and so on.
fn close_runs(runs: &[Run], side: &Side) -> Vec<Path> {
    let along = side.normal.turn_90();
    let mut ends: Vec<(f64, RunEnd)> = Vec::new();
    for (run, pieces) in runs.iter().enumerate() {
        let points = [(pieces.first().map(Segment::start), true), (pieces.last().map(Segment::end), false)];
        for (point, at_start) in points {
            ends.extend(point.map(|p| ((p - side.point).dot(along), RunEnd { run, at_start })));
        }
    }
    ends.sort_by(|a, b| a.0.total_cmp(&b.0));
    // Slot 2 r holds what the start of run r is joined to, slot 2 r + 1 its end.
    let slot = |end: RunEnd| 2 * end.run + usize::from(!end.at_start);
    let mut joined: Vec<Option<RunEnd>> = vec![None; 2 * runs.len()];
    for pair in ends.chunks_exact(2) {
        joined[slot(pair[0].1)] = Some(pair[1].1);
        joined[slot(pair[1].1)] = Some(pair[0].1);
    }
    let mut used = vec![false; runs.len()];
    let mut rings = Vec::new();
    for first in 0..runs.len() {
        let mut pieces: Run = Vec::new();
        let mut next = Some(RunEnd { run: first, at_start: true });
        while let Some(enter) = next.filter(|enter| !used[enter.run]) {
            used[enter.run] = true;
            let run = &runs[enter.run];
            let part: Run =
                if enter.at_start { run.clone() } else { run.iter().rev().map(Segment::reversed).collect() };
            join(&mut pieces, part.first().map(Segment::start));
            pieces.extend(part);
            next = joined[slot(RunEnd { at_start: !enter.at_start, ..enter })];
        }
        if !pieces.is_empty() {
            let start = pieces.first().map(Segment::start);
            join(&mut pieces, start);
            rings.push(Path::closed(pieces));
        }
    }
    rings
}

/// Goes straight from the last piece's end to `to`, where that is any way at all.
fn join(pieces: &mut Run, to: Option<Point>) {
    if let (Some(end), Some(to)) = (pieces.last().map(Segment::end), to)
        && end.distance(to) > ROUNDING
    {
        pieces.push(Segment::line(end, to));
    }
}

#[cfg(test)]
mod tests {
    use super::{Path, Point, Vec2, clip_half_plane};
    use kurbo::Rect;
    use std::f64::consts::PI;

    fn area(rings: &[Path]) -> f64 {
        rings.iter().map(Path::signed_area).sum()
    }

    #[test]
    fn circular_segment_by_closed_form() {
        // Area beyond x = 6 of a circle of radius 10: r² acos(d / r) - d sqrt(r² - d²).
        let right = clip_half_plane(&[Path::circle(Point::ORIGIN, 10.0)], Point::new(6.0, 0.0), Vec2::new(2.0, 0.0));
        assert!((area(&right) - (100.0 * 0.6_f64.acos() - 6.0 * 8.0)).abs() < 1e-10);
        assert_eq!(right.len(), 1);
        assert!(right[0].bounding_box().is_some_and(|b| (b.x0 - 6.0).abs() < 1e-12 && (b.y1 - 8.0).abs() < 1e-12));
    }

    #[test]
    fn a_ring_with_a_hole_falls_into_two_bars() {
        let rings =
            [Path::rectangle(Rect::new(-10.0, -10.0, 10.0, 10.0)), Path::circle(Point::ORIGIN, 5.0).reversed()];
        let above = clip_half_plane(&rings, Point::ORIGIN, Vec2::new(0.0, 1.0));
        assert_eq!(above.len(), 1);
        assert!((area(&above) - (200.0 - 12.5 * PI)).abs() < 1e-10);
        let beyond = clip_half_plane(&rings, Point::new(6.0, 0.0), Vec2::new(-1.0, 0.0));
        assert_eq!(beyond.len(), 2);
    }

    #[test]
    fn edges_along_the_cut_and_nodes_on_it() {
        let square = [Path::rectangle(Rect::new(0.0, 0.0, 10.0, 10.0))];
        assert!((area(&clip_half_plane(&square, Point::ORIGIN, Vec2::new(0.0, 1.0))) - 100.0).abs() < 1e-12);
        assert!(clip_half_plane(&square, Point::ORIGIN, Vec2::new(0.0, -1.0)).is_empty());
        let diagonal = clip_half_plane(&square, Point::ORIGIN, Vec2::new(1.0, -1.0));
        assert!((area(&diagonal) - 50.0).abs() < 1e-12);
    }

    #[test]
    fn what_is_no_number_neither_panics_nor_hangs() {
        let bad = Path::polyline(&[Point::new(f64::NAN, 0.0), Point::new(1e300, 5.0), Point::new(-1e300, 5.0)], true);
        let _ = clip_half_plane(&[bad], Point::ORIGIN, Vec2::new(1.0, 1.0));
        let square = [Path::rectangle(Rect::new(0.0, 0.0, 10.0, 10.0))];
        assert_eq!(clip_half_plane(&square, Point::ORIGIN, Vec2::new(f64::NAN, 1.0)).len(), 1);
    }
}
