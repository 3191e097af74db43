//! How the rings of a template lie in each other, and what of it falls out.

use super::problem::TemplateProblem;
use super::routed::TemplateShape;
use crate::finding::Finding;
use crate::geometry::Path;
use crate::model::{Template, TemplateKind, Work};
use crate::units::Length;

/// How many of the other rings enclose each. The rings do not cross.
pub fn nesting(rings: &[Path]) -> Vec<usize> {
    let depth = |(index, ring): (usize, &Path)| {
        let others = rings.iter().enumerate().filter(|(other, _)| *other != index);
        ring.start().map_or(0, |point| others.filter(|(_, other)| other.encloses(point)).count())
    };
    rings.iter().enumerate().map(depth).collect()
}

/// That a template has pieces which its own opening cuts loose.
pub(super) fn loose_islands(asked: &Template, shape: &TemplateShape) -> Option<Finding> {
    let rings = match (&asked.kind, shape) {
        (TemplateKind::Collar { work: Work::Inside, .. }, TemplateShape::Collar(template)) => &template.rings,
        (_, TemplateShape::Inlay(pair)) => &pair.template,
        _ => return None,
    };
    // Odd ones lie in an opening: the edge of a piece that nothing holds.
    let islands: Vec<&Path> =
        rings.iter().zip(nesting(rings)).filter(|(_, depth)| depth % 2 == 1).map(|(ring, _)| ring).collect();
    let largest = islands.iter().max_by(|a, b| a.signed_area().abs().total_cmp(&b.signed_area().abs()))?;
    let bounds = largest.bounding_box()?;
    let problem = TemplateProblem::LooseIsland {
        size: [bounds.width(), bounds.height()].map(Length::from_mm),
        pieces: islands.len(),
        x: Length::from_mm(bounds.center().x),
        y: Length::from_mm(bounds.center().y),
    };
    Some(Finding::of(problem, asked.place.clone()))
}

#[cfg(test)]
mod tests {
    use super::{Path, nesting};
    use crate::geometry::Rect;

    #[test]
    fn rings_in_rings() {
        let ring = |from: f64, to: f64| Path::rectangle(Rect::new(from, from, to, to));
        let rings = [ring(20.0, 30.0), ring(0.0, 100.0), ring(10.0, 40.0), ring(60.0, 80.0)];
        assert_eq!(nesting(&rings), [2, 0, 1, 1]);
    }
}
