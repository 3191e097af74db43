//! The edges of a part that exists: moved to the widths that were read at its ends, tilted to the bevels.

use super::{Unfit, end, is_trimmed, run, surface};
use crate::board::{Edge, Role, Source};
use crate::change::place::readiness;
use crate::change::wood::Wood;
use crate::geometry::{Affine, Plane, Point, Point3, Segment, Vec2, Vec3};
use crate::model::made::Readings;
use crate::tolerance::{NO_LEAN, ON_SURFACE, SAME_PLACE};
use crate::units::Length;

/// Tilts the edges that were sawn to a bevel and measured, about their arris on the face side.
pub(super) fn bevelled_edges(wood: &mut Wood, drawn: &Wood, read: &Readings) -> Result<(), Unfit> {
    for (name, bevel) in &read.bevels {
        let Source::Cut(index) = surface(drawn, name)? else {
            return Err(Unfit::NoSuch { name: name.clone(), known: cuts_of(drawn) });
        };
        if wood.board.cuts[index].role == Role::End {
            continue;
        }
        let plane = wood.board.cuts[index].plane;
        let n = plane.normal();
        let flat = Vec2::new(n.x, n.y);
        let on = flat.normalize() * (plane.offset() / flat.hypot());
        let (sin, cos) = bevel.radians().sin_cos();
        let way = flat.normalize();
        let tilted = Plane::through(Point3::new(on.x, on.y, 0.0), Vec3::new(cos * way.x, cos * way.y, sin));
        wood.board.cuts[index].plane = tilted.ok_or(Unfit::Nothing)?;
    }
    Ok(())
}

/// What a maker calls the cuts of a part.
fn cuts_of(wood: &Wood) -> Vec<String> {
    let cuts = wood.surfaces().into_iter().filter(|source| matches!(source, Source::Cut(_)));
    cuts.map(|source| wood.name_of(source)).collect()
}

/// Moves the edge by which widths are meant, and gives it.
pub(super) fn edges(wood: &mut Wood, drawn: &Wood, read: &Readings) -> Result<Option<Source>, Unfit> {
    if read.widths.is_empty() {
        return Ok(None);
    }
    let edge = match &read.narrow_at {
        Some(name) => surface(drawn, name)?,
        None => narrowed(drawn, read)?,
    };
    let mut stations = Vec::new();
    for (name, width) in &read.widths {
        stations.push(station(drawn, end(drawn, name)?, edge, *width)?);
    }
    match edge {
        Source::Cut(index) => {
            let plane = wood.board.cuts[index].plane;
            wood.board.cuts[index].plane = moved_plane(&plane, &stations).ok_or(Unfit::Nothing)?;
        }
        Source::Edge(index) => moved_edge(&mut wood.board.edges, index, &stations),
        Source::Face | Source::Far => {}
    }
    Ok(Some(edge))
}

/// Of the edges that the ends meet whose widths were read the one that was trimmed, else that which is most readily planed.
fn narrowed(drawn: &Wood, read: &Readings) -> Result<Source, Unfit> {
    let mut met: Vec<(bool, u8, usize, Source)> = Vec::new();
    for (name, _) in &read.widths {
        let own = Source::Cut(end(drawn, name)?);
        let corners = drawn.solid.face.corners();
        let beside = corners.iter().filter_map(|(_, before, after)| match (*before == own, *after == own) {
            (true, false) => Some(*after),
            (false, true) => Some(*before),
            _ => None,
        });
        let ranked = beside.map(|source| {
            let order = drawn.board.edge_of(source).map_or(u8::MAX, readiness);
            let number = match source {
                Source::Edge(index) | Source::Cut(index) => index,
                Source::Face | Source::Far => 0,
            };
            (!is_trimmed(drawn, read, source), order, number, source)
        });
        met.extend(ranked);
    }
    met.sort_by_key(|(is_other, order, number, _)| (*is_other, *order, *number));
    met.first().map(|(.., source)| *source).ok_or(Unfit::Nothing)
}

/// Where an edge is met along a sawn end on the face side: as drawn, and at the width that was read.
fn station(drawn: &Wood, end: usize, edge: Source, width: Length) -> Result<[Point; 2], Unfit> {
    let not_there = || Unfit::NotAtEnd { edge: drawn.name_of(edge), end: drawn.name_of(Source::Cut(end)) };
    let line = run(drawn, Source::Cut(end), true).ok_or_else(not_there)?;
    let own = run(drawn, edge, true).ok_or_else(not_there)?;
    let (Some(a), Some(b)) = (line.start(), line.end()) else { return Err(not_there()) };
    let meets = |p: Point| [own.start(), own.end()].into_iter().flatten().any(|q| q.distance(p) < SAME_PLACE);
    let (from, at) = match (meets(a), meets(b)) {
        (true, _) => (b, a),
        (_, true) => (a, b),
        _ => return Err(not_there()),
    };
    Ok([at, from + (at - from).normalize() * width.mm()])
}

/// A plane of an edge through the points that were read: through one of them as it was, through two turned as they have it.
fn moved_plane(plane: &Plane, stations: &[[Point; 2]]) -> Option<Plane> {
    let n = plane.normal();
    let flat = Vec2::new(n.x, n.y);
    let lift = |p: Point| Point3::new(p.x, p.y, 0.0);
    match stations {
        [[_, only]] => Plane::through(lift(*only), n),
        [[_, first], [_, second], ..] => {
            let along = (*second - *first).normalize();
            let out = Vec2::new(along.y, -along.x);
            let out = if out.dot(flat) < 0.0 { -out } else { out } * flat.hypot();
            Plane::through(lift(*first), Vec3::new(out.x, out.y, n.z))
        }
        [] => None,
    }
}

/// Moves an edge of an outline and lets its neighbours run to it.
fn moved_edge(edges: &mut [Edge], index: usize, stations: &[[Point; 2]]) {
    let Some([_, first]) = stations.first().copied() else { return };
    let own = edges[index].segments.clone();
    let moved: Vec<Segment> = match own.as_slice() {
        [Segment::Line(line)] => {
            let along = match stations.get(1) {
                Some([_, second]) => (*second - first).normalize(),
                None => (line.p1 - line.p0).normalize(),
            };
            let along = if along.dot(line.p1 - line.p0) < 0.0 { -along } else { along };
            let reach = |p: Point| first + along * (p - first).dot(along);
            vec![Segment::line(reach(line.p0), reach(line.p1))]
        }
        pieces => {
            let map = laid_on(stations);
            pieces.iter().map(|piece| piece.transformed(map)).collect()
        }
    };
    let count = edges.len();
    let (before, after) = ((index + count - 1) % count, (index + 1) % count);
    let (Some(start), Some(end)) = (moved.first().map(Segment::start), moved.last().map(Segment::end)) else {
        return;
    };
    edges[index].segments = moved;
    if before != index {
        run_to(&mut edges[before].segments, start);
    }
    if after != index {
        run_back_to(&mut edges[after].segments, end);
    }
}

/// As [`run_to`], of the start of a run of pieces.
pub(super) fn run_back_to(pieces: &mut Vec<Segment>, to: Point) {
    let mut reversed: Vec<Segment> = pieces.iter().rev().map(Segment::reversed).collect();
    run_to(&mut reversed, to);
    *pieces = reversed.iter().rev().map(Segment::reversed).collect();
}

/// Moves the first place at which something was drawn to where it was read, and turns it there towards the second.
fn laid_on(stations: &[[Point; 2]]) -> Affine {
    let Some([was, is]) = stations.first() else { return Affine::IDENTITY };
    let turn = stations.get(1).map_or(0.0, |[other_was, other_is]| {
        let (before, now) = (*other_was - *was, *other_is - *is);
        before.cross(now).atan2(before.dot(now))
    });
    Affine::translate(is.to_vec2()) * Affine::rotate(turn) * Affine::translate(-was.to_vec2())
}

/// Lets a run of pieces end at a point: a straight last piece by running on to it, where it does, else by a piece more.
pub(super) fn run_to(pieces: &mut Vec<Segment>, to: Point) {
    let Some(last) = pieces.last().copied() else { return };
    if last.end().distance(to) <= ON_SURFACE {
        return;
    }
    let aside = match last {
        Segment::Line(line) => (to - line.p0).cross((line.p1 - line.p0).normalize()).abs(),
        _ => f64::INFINITY,
    };
    let runs_on = aside <= NO_LEAN * last.length().max(1.0);
    if runs_on {
        pieces.pop();
    }
    pieces.push(Segment::line(if runs_on { last.start() } else { last.end() }, to));
}
