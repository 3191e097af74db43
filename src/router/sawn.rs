//! What a saw line leaves out.

use super::collar::SAW_JOIN;
use super::problem::TemplateProblem;
use super::routed::TemplateShape;
use super::shortfall::{Shortfall, deep_shortfalls, falls_short};
use super::space::{Space, Wanted, spaces};
use crate::finding::Finding;
use crate::geometry::{Nearest, Path};
use crate::model::{DrawnPattern, Template, TemplateKind};
use crate::tolerance::UNSEEN;
use crate::units::Length;

/// Places that are left out less deep than this, mm, are curves that the line rounds a little, and cost nothing.
const LEAST: f64 = 1.0;

/// That a saw line has no room in some place, and passes it over.
pub(super) fn left_out(asked: &Template, shape: &TemplateShape, part: &DrawnPattern) -> Option<Finding> {
    let (TemplateKind::SawLine { distance }, TemplateShape::SawLine(line)) = (&asked.kind, shape) else {
        return None;
    };
    let (mut lost, mut most) = (Vec::new(), distance.mm());
    let spaces = spaces(&part.rings());
    for (space, own) in spaces.iter().zip(by_space(&spaces, line)) {
        let (places, keeps) = passed_over((space, own), distance.mm(), most)?;
        lost.extend(places);
        most = keeps;
    }
    let deepest = lost.iter().max_by(|a, b| a.depth.total_cmp(&b.depth))?;
    let problem = TemplateProblem::SawLineLeftOut {
        is_opening: deepest.is_whole_ring(),
        at: [deepest.told_at().x, deepest.told_at().y].map(Length::from_mm),
        drawn: part.drawing.as_ref().map(|drawing| drawing.place(deepest.told_at())),
        distance: *distance,
        places: lost.len(),
        largest: Length::from_mm(most),
    };
    Some(Finding::of(problem, asked.place.clone()))
}

/// The lines that run in each of some spaces.
fn by_space(spaces: &[Space], lines: &[Path]) -> Vec<Vec<Path>> {
    let edges = || spaces.iter().enumerate().flat_map(|(space, own)| own.rings.iter().map(move |ring| (space, ring)));
    let nearest = Nearest::of_rings(edges().map(|(_, ring)| ring.segments()));
    let space_of: Vec<usize> = edges().map(|(space, _)| space).collect();
    let mut found = vec![Vec::new(); spaces.len()];
    for line in lines {
        // Between a line and the edge of another space lies wood, and with it an edge of its own.
        let near = line.start().and_then(|start| nearest.to(start));
        if let Some(own) = near.and_then(|near| found.get_mut(*space_of.get(near.path)?)) {
            own.push(line.clone());
        }
    }
    found
}

/// The places beside a space in which these lines run at a distance that they pass over, and the largest distance up to `most` that passes over
/// none; `None` where there is no such line.
fn passed_over((space, lines): (&Space, Vec<Path>), distance: f64, most: f64) -> Option<(Vec<Shortfall>, f64)> {
    let left = space.followed_back(lines, distance).ok()?;
    let places = deep_shortfalls(&space.rings, &left, distance, LEAST);
    if places.is_empty() || (most < distance && keeps(space, most)) {
        return Some((places, most));
    }
    let wanted = Wanted { most, apart: UNSEEN, short: LEAST, join: SAW_JOIN };
    let keeps = space.largest((&left, &places), wanted, keeps);
    Some((places, keeps))
}

/// Whether a line at a distance passes over nothing.
fn keeps(space: &Space, distance: f64) -> bool {
    let left = space.filled(distance, SAW_JOIN);
    left.is_ok_and(|left| !falls_short(&space.rings, &left, distance, LEAST))
}
