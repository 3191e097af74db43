//! How the rings of a template lie in each other, and what of it falls out.

use super::routed::TemplateShape;
use crate::finding::Finding;
use crate::geometry::Path;
use crate::model::{Template, TemplateKind, Work};
use crate::units::{Length, Notation};

/// How many of the other rings enclose each. The rings do not cross.
pub fn nesting(rings: &[Path]) -> Vec<usize> {
    let depth = |(index, ring): (usize, &Path)| {
        let others = rings.iter().enumerate().filter(|(other, _)| *other != index);
        ring.start().map_or(0, |point| others.filter(|(_, other)| other.encloses(point)).count())
    };
    rings.iter().enumerate().map(depth).collect()
}

/// That a template has pieces which its own opening cuts loose.
pub(super) fn loose_islands(asked: &Template, shape: &TemplateShape, say: &Notation) -> Option<Finding> {
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
    let length = |mm: f64| say.length(Length::from_mm(mm));
    let (what, size) = match islands.len() {
        1 => ("the piece in the middle of this template falls out".to_owned(), "it is"),
        count => (format!("{count} pieces in the middle of this template fall out"), "the largest is"),
    };
    let message = format!("{what}: {size} {} x {}", length(bounds.width()), length(bounds.height()));
    let finding = Finding::note("loose-island", asked.place.clone(), message)
        .remedy("keep what falls out and fix it to the base in its place before routing");
    Some(
        finding
            .measured("pieces", islands.len() as f64)
            .measured("x", bounds.center().x)
            .measured("y", bounds.center().y),
    )
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
