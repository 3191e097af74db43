//! Edges and ends of a part that exists of which something was taken all along.
//!
//! An edge moves into the wood square to the line between its ends, its curve with it, and runs straight on beyond them; what of the
//! outline then lies outside of it is gone. A sawn surface moves into the wood by what was read on the face, square to its line there.

use super::{Unfit, surface};
use crate::board::{Edge, Source};
use crate::change::wood::Wood;
use crate::geometry::{Affine, Path, Plane, Point, Point3, Segment, Vec2, intersection};
use crate::model::made::Readings;
use crate::tolerance::SAME_PLACE;

/// A curve runs straight on from its end as it comes there, unless that is farther off the line between its ends than this, as a cosine:
/// then along that line, so that it does not turn back into the wood.
const RUNS_ON: f64 = 0.9;

/// Takes off what was read, but of surfaces of which other readings tell where they are.
pub(super) fn trimmed(wood: &mut Wood, drawn: &Wood, read: &Readings, told: &[Option<Source>]) -> Result<(), Unfit> {
    let curved = read.trimmed.iter().map(|one| (one, Along::Itself));
    let straight = read.trimmed_straight.iter().map(|one| (one, Along::AStraightCut));
    for ((name, by), along) in curved.chain(straight) {
        let source = surface(drawn, name)?;
        match source {
            _ if told.contains(&Some(source)) => {}
            Source::Cut(index) => {
                let plane = wood.board.cuts[index].plane;
                let n = plane.normal();
                // Read on the face, square to its line there.
                let on = Point3::ORIGIN + n * (plane.offset() - by.mm() * n.x.hypot(n.y));
                wood.board.cuts[index].plane = Plane::through(on, plane.normal()).ok_or(Unfit::Nothing)?;
            }
            Source::Edge(index) => trim_edge(wood, &drawn.board.edges[index], (name, by.mm()), along)?,
            Source::Face | Source::Far => {}
        }
    }
    Ok(())
}

/// How something was taken off an edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Along {
    /// As much everywhere: a curve keeps its form.
    Itself,
    /// By one straight cut along the line between its ends.
    AStraightCut,
}

/// Takes `by` mm off an edge of the outline, told by the edge as it was drawn.
fn trim_edge(wood: &mut Wood, drawn: &Edge, (name, by): (&str, f64), how: Along) -> Result<(), Unfit> {
    let own = Path::open(drawn.segments.clone());
    let (Some(start), Some(end)) = (own.start(), own.end()) else { return Err(Unfit::Nothing) };
    if start.distance(end) < SAME_PLACE {
        return Err(Unfit::AllRound(name.to_owned()));
    }
    let along = (end - start).normalize();
    let inward = Vec2::new(-along.y, along.x);
    let line = match how {
        Along::Itself => own.transformed(Affine::translate(inward * by)),
        Along::AStraightCut => {
            // Laid level, what it bows out by is below it.
            let level = Affine::rotate(-along.atan2()) * Affine::translate(-start.to_vec2());
            let lowest = own.transformed(level).bounding_box().map_or(0.0, |around| around.y0);
            let shift = inward * (lowest + by);
            Path::open(vec![Segment::line(start + shift, end + shift)])
        }
    };
    let outline = wood.board.outline();
    let reach = 2.0 * outline.bounding_box().map_or(0.0, |around| around.width() + around.height());
    let line = run_on(&line, along, reach).ok_or(Unfit::Nothing)?;
    let region = behind(&line, inward * reach).ok_or(Unfit::Nothing)?;
    let left = intersection(&[outline], &[region]).ok_or(Unfit::Nothing)?;
    // Of several pieces the largest is the part.
    let part = left.into_iter().max_by(|a, b| a.signed_area().total_cmp(&b.signed_area())).ok_or(Unfit::Nothing)?;
    wood.board.edges = edges_of(&part, &wood.board.edges, (drawn, &line));
    Ok(())
}

/// A curve with a straight piece of some length before it and behind it.
fn run_on(curve: &Path, along: Vec2, length: f64) -> Option<Path> {
    let (first, last) = (*curve.segments().first()?, *curve.segments().last()?);
    let onward = |way: Vec2| if way.dot(along) > RUNS_ON { way } else { along };
    let (start, end) = (first.start(), last.end());
    let before = Segment::line(start - onward(first.tangent(0.0)) * length, start);
    let behind = Segment::line(end, end + onward(last.tangent(1.0)) * length);
    let pieces = std::iter::once(before).chain(curve.segments().iter().copied()).chain([behind]);
    Some(Path::open(pieces.collect()))
}

/// The region between a line and itself moved away from it.
fn behind(line: &Path, by: Vec2) -> Option<Path> {
    let (start, end) = (line.start()?, line.end()?);
    let back = [Segment::line(end, end + by), Segment::line(end + by, start + by), Segment::line(start + by, start)];
    Some(Path::closed(line.segments().iter().copied().chain(back).collect()))
}

/// A ring by the edges from which its pieces come: those that were there, or the line that was cut, which is then the edge that it cut.
fn edges_of(ring: &Path, old: &[Edge], (cut, line): (&Edge, &Path)) -> Vec<Edge> {
    let off = |path: &Path, p: Point| path.nearest(p).map_or(f64::INFINITY, |(distance, _)| distance);
    let paths: Vec<(&Edge, Path)> = old.iter().map(|edge| (edge, Path::open(edge.segments.clone()))).collect();
    let came_from = |piece: &Segment| {
        let middle = piece.eval(0.5);
        let all = paths.iter().map(|(edge, path)| (*edge, off(path, middle)));
        let all = all.chain([(cut, off(line, middle))]);
        all.min_by(|a, b| a.1.total_cmp(&b.1)).map_or(cut, |(edge, _)| edge)
    };
    let mut edges: Vec<Edge> = Vec::new();
    for piece in ring.segments() {
        let name = &came_from(piece).name;
        match edges.last_mut() {
            Some(last) if last.name == *name => last.segments.push(*piece),
            _ => edges.push(Edge::new(name.clone(), vec![*piece])),
        }
    }
    // The ring may begin within an edge.
    if let [first, .., last] = edges.as_mut_slice()
        && first.name == last.name
    {
        last.segments.append(&mut first.segments);
        edges.remove(0);
    }
    edges
}
