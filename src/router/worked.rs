//! The profiles of a board as they are seen on it.

use super::part::RoutedPart;
use super::profile::ProfileSection;
use super::profiled_edge::{edge_sections, left_on_side};
use super::routed::with_part_on_left;
use crate::geometry::{Path, Point, Segment};
use crate::model::{DrawnPattern, EdgeChoice, edge_of};
use crate::piece::WorkedEdge;
use crate::tolerance::{FLOWING, SAME_POINT};

/// A profile runs on so many times as far past the ends of its edge as it reaches in: past any end that is sawn aslant.
const RUN_ON: f64 = 8.0;

impl RoutedPart {
    /// Its profiles as they are worked along its edges; those that cannot be cut, which a finding tells, are left out.
    pub fn worked(&self) -> Vec<WorkedEdge> {
        let sections = edge_sections(&self.drawn).into_iter();
        sections.filter_map(|(asked, section)| worked(&self.drawn, asked.edge.as_ref(), section.ok()?)).collect()
    }
}

fn worked(drawn: &DrawnPattern, choice: Option<&EdgeChoice>, section: ProfileSection) -> Option<WorkedEdge> {
    let ProfileSection { line, removed, eats_in, .. } = section;
    let edge = match choice {
        None => drawn.built.outline.path().clone(),
        Some(choice) => {
            let edge = drawn.routing.edges.get(edge_of(&drawn.routing.edges, choice)?)?;
            with_part_on_left(drawn, edge)?
        }
    };
    let left = ridges(&line).into_iter().flat_map(|at| {
        let own = if at.x < SAME_POINT { vec![edge.clone()] } else { beside(drawn, choice, at.x) };
        own.into_iter().map(move |path| (path, at.y))
    });
    let left = left.collect();
    let edge = if choice.is_none() { edge } else { run_on(&edge, RUN_ON * eats_in)? };
    Some(WorkedEdge { edge, line, removed, eats_in, left })
}

/// The places of a section at which a line is seen along the edge: its ends, its corners, and what reaches the square edge.
fn ridges(line: &Path) -> Vec<Point> {
    let pieces = line.segments();
    let ends = pieces.first().map(Segment::start).into_iter().chain(pieces.last().map(Segment::end));
    let inner = pieces.windows(2).filter(|pair| {
        let (before, after) = (pair[0].tangent(1.0), pair[1].tangent(0.0));
        pair[1].start().x < SAME_POINT || before.cross(after).abs() > FLOWING || before.dot(after) < 0.0
    });
    ends.chain(inner.map(|pair| pair[1].start())).collect()
}

/// The line so many mm in from an edge, or from all edges; none where it cannot be made, which is told where it is drawn.
fn beside(drawn: &DrawnPattern, choice: Option<&EdgeChoice>, far: f64) -> Vec<Path> {
    left_on_side(drawn, choice, far).unwrap_or_default()
}

/// An open line carried on straight past both its ends.
fn run_on(line: &Path, by: f64) -> Option<Path> {
    let pieces = line.segments();
    let (first, last) = pieces.first().zip(pieces.last())?;
    let before = Segment::line(first.start() - first.tangent(0.0).normalize() * by, first.start());
    let after = Segment::line(last.end(), last.end() + last.tangent(1.0).normalize() * by);
    Some(Path::open([before].into_iter().chain(pieces.iter().copied()).chain([after]).collect()))
}
