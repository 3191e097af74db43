//! Parts that changed, as they are over as they were.

use super::compared::{Compared, Fate};
use super::differs::Differences;
use super::wood::{Wood, Worked};
use crate::geometry::{Path, Point, Point3, Segment, convex_hull};
use crate::layout::TOGETHER;
use crate::page::{Part, told_apart};
use crate::pattern::Overlaid;
use crate::solid::Shape;
use crate::units::Notation;

/// Points of a curved piece of an outline that are looked at.
const STEPS: u32 = 16;

impl Compared<'_> {
    /// Each part that changed, drawn over what it was, in the axes of that.
    pub fn overlaid(&self, say: &Notation) -> Vec<Overlaid> {
        let drawn = self.parts.iter().filter_map(|met| match (&met.fate, met.old, met.new) {
            (Fate::Changed(differences), Some(old), Some(new)) => Some(overlaid(differences, [old, new], say)),
            _ => None,
        });
        let mut drawn: Vec<Overlaid> = drawn.collect();
        // Told apart from each other, and by their names from the patterns that are cut by.
        let codes = told_apart(drawn.iter().map(|one| one.part.name.as_str()), TOGETHER);
        drawn.iter_mut().zip(codes).for_each(|(one, code)| one.part.code = code);
        drawn
    }
}

fn overlaid(differences: &Differences, [old, new]: [&Wood; 2], say: &Notation) -> Overlaid {
    let there = |p: Point3| differences.place.there(p);
    let worked = |wood: &Wood, map: &dyn Fn(Point3) -> Point3| -> Vec<Path> {
        wood.worked.iter().filter_map(|one| seen(one, map)).collect()
    };
    let mut was = vec![old.solid.face.path().clone()];
    was.extend(worked(old, &|p| p));
    let mut words = vec![format!("solid: as it is, rev {}; dashes: as it was, rev {}", new.revision, old.revision)];
    words.extend(differences.lines(old, say));
    Overlaid {
        part: Part::new(format!("{}, compared", new.name), new.revision.as_str()),
        make: new.make.clone(),
        is: (differences.place.line(new.solid.face.path()), worked(new, &there)),
        was,
        words,
    }
}

/// What is worked in a part, seen from the face side: the smallest ring round it without hollows.
fn seen(worked: &Worked, map: &dyn Fn(Point3) -> Point3) -> Option<Path> {
    let frame = worked.frame();
    let (mouth, deep) = (worked.mouth(), worked.depth().unwrap_or(0.0));
    let start = frame.to_board(mouth).z;
    let sampled = |piece: &Segment| -> Vec<Point> {
        let steps = if matches!(piece, Segment::Line(_)) { 1 } else { STEPS };
        (0..steps).map(|step| piece.eval(f64::from(step) / f64::from(steps))).collect()
    };
    let rim: Vec<Point3> = match &worked.shape {
        Shape::Prism(prism) => {
            let flat = prism.outline.segments().iter().flat_map(sampled);
            flat.map(|p| Point3::new(p.x, p.y, start)).collect()
        }
        Shape::Turned(_) => {
            let [across, _] = worked.size();
            let round = Path::circle(Point::ORIGIN, across / 2.0);
            round.segments().iter().flat_map(sampled).map(|p| Point3::new(p.x, p.y, start)).collect()
        }
    };
    let ends = rim.iter().flat_map(|p| [*p, Point3::new(p.x, p.y, p.z + deep)]);
    let flat = ends.map(|p| map(frame.to_world(p))).map(|p| Point::new(p.x, p.y));
    let ring = convex_hull(flat.collect());
    (ring.len() >= 3).then(|| Path::polyline(&ring, true))
}
