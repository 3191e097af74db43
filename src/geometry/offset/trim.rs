//! The unfinished offset without what lies nearer to the source than the distance all along, before anything is cut: where many
//! pieces run over each other, as in fine teeth, hardly any of them is of the result, and each would be cut by all others.

use super::SHARE;
use super::raw::{Piece, Raw};
use super::source::Source;
use crate::geometry::{NearestWalk, Segment, in_shares};
use crate::tolerance::BELOW_A_RULE;

/// A piece beside what is too near is looked at in so many parts.
const PARTS: usize = 8;

/// Leaves out of every piece the parts of which each place lies nearer to the source than `reach`, mm, and not only just. What cuts
/// a place of the result lies at the distance itself, so that the result is the same.
pub(super) fn trimmed(raw: Raw, source: &Source, reach: f64) -> Raw {
    let pieces = raw.pieces;
    let near = in_shares(pieces.len(), SHARE, |run| {
        let mut edges = source.edges();
        pieces[run].iter().map(|piece| near_middle(&piece.segment, &mut edges, reach)).collect()
    });
    let runs = in_shares(pieces.len(), SHARE, |run| {
        let mut edges = source.edges();
        run.map(|index| hopeful_runs(&pieces[index].segment, &near, index, (&mut edges, reach))).collect()
    });
    let mut kept: Vec<Piece> = Vec::with_capacity(pieces.len());
    // Whether the end of the piece before is kept.
    let mut goes_on = true;
    for (piece, runs) in pieces.iter().zip(runs) {
        let end = runs.last().is_some_and(|(_, to)| *to == PARTS);
        let parts = runs.into_iter().map(|(from, to)| match (from, to) {
            (0, PARTS) => Piece { follows: piece.follows && goes_on, ..*piece },
            _ => Piece {
                segment: piece.segment.subsegment(from as f64 / PARTS as f64, to as f64 / PARTS as f64),
                follows: piece.follows && goes_on && from == 0,
                ..*piece
            },
        });
        kept.extend(parts);
        goes_on = end;
    }
    Raw { pieces: kept, ..raw }
}

/// The runs of parts of a piece that may lie at the distance, where it is told of each piece how near its middle lies.
fn hopeful_runs(
    segment: &Segment,
    near: &[f64],
    index: usize,
    (edges, reach): (&mut NearestWalk, f64),
) -> Vec<(usize, usize)> {
    let beside = &near[index.saturating_sub(1)..(index + 2).min(near.len())];
    if is_too_near(near[index], segment, reach) {
        Vec::new()
    } else if beside.iter().all(|near| *near >= reach) {
        vec![(0, PARTS)]
    } else {
        hopeful(segment, edges, reach)
    }
}

/// The runs of parts that may lie at the distance, each with one more on either side, so that where it is cut lies well within.
fn hopeful(segment: &Segment, edges: &mut NearestWalk, reach: f64) -> Vec<(usize, usize)> {
    let may: Vec<bool> = (0..PARTS)
        .map(|k| {
            let part = segment.subsegment(k as f64 / PARTS as f64, (k + 1) as f64 / PARTS as f64);
            !is_too_near(near_middle(&part, edges, reach), &part, reach)
        })
        .collect();
    let mut runs: Vec<(usize, usize)> = Vec::new();
    for (k, _) in may.iter().enumerate().filter(|(_, may)| **may) {
        let (from, to) = (k.saturating_sub(1), (k + 2).min(PARTS));
        match runs.last_mut() {
            Some(last) if last.1 >= from => last.1 = to,
            _ => runs.push((from, to)),
        }
    }
    runs
}

/// How near the middle of a piece lies to the source, as far as it matters whether all of the piece is too near.
fn near_middle(segment: &Segment, edges: &mut NearestWalk, reach: f64) -> f64 {
    edges.distance_down_to(segment.eval(0.5), reach, reach - BELOW_A_RULE - off_middle(segment))
}

/// Whether all of a piece lies nearer than `reach` whose middle lies `near`: no place does by more than it is off the middle.
fn is_too_near(near: f64, segment: &Segment, reach: f64) -> bool {
    near < reach - BELOW_A_RULE - off_middle(segment)
}

/// No place of a piece is farther from its middle than this, mm.
fn off_middle(segment: &Segment) -> f64 {
    match segment {
        Segment::Line(line) => (line.p1 - line.p0).hypot() / 2.0,
        Segment::Arc(arc) => arc.p.hypot().max(arc.q.hypot()) * arc.sweep.abs() / 2.0,
        Segment::Cubic(c) => (c.p1 - c.p0).hypot() + (c.p2 - c.p1).hypot() + (c.p3 - c.p2).hypot(),
    }
}
