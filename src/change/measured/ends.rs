//! The ends of a part that exists: each plane of the lengths and angles that were read of it, with what is worked in the end.

use super::edges::{bevelled_edges, run_back_to, run_to};
use super::{Unfit, end, ends_of, is_trimmed, run, surface};
use crate::board::{Role, Source};
use crate::change::wood::{Wood, Worked};
use crate::geometry::{Path, Placement, Plane, Point, Point3, Segment, Vec2, Vec3};
use crate::model::made::{Read, Readings};
use crate::solid::{End, Prism, Shape, Turned};
use crate::tolerance::{NO_MOUTH, ON_SURFACE, PARALLEL, SAME_PLACE, SHOWN_SQUARE};
use crate::units::Angle;

/// How much less than a reading counts that an end has the angles that were drawn: where readings fix those, they are as read.
const AS_DRAWN: f64 = 1e-4;

/// Over so much an angle is told in mm.
const ARM: f64 = 100.0;

/// A place along a run is halved so often: to a ten-millionth of a micrometre on 20 m.
const HALVINGS: u32 = 48;

/// Where a straight rule that is laid from the start of a run to the run reads a length; past its end that runs straight on.
fn reached(run: &Path, length: f64) -> Option<Point> {
    let (start, last) = (run.start()?, *run.segments().last()?);
    let at = |along: f64| match along - run.length() {
        over if over > 0.0 => Some(last.end() + last.tangent(1.0) * over),
        _ => run.point_at(run.place_at_length(along)?),
    };
    // A curve is longer than the rule that spans it: of two places along it the nearer one reads less, the farther one more.
    let (mut near, mut far) = (length.min(run.length()), length + run.length());
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(near, far);
        *(if at(middle)?.distance(start) < length { &mut near } else { &mut far }) = middle;
    }
    at(f64::midpoint(near, far))
}

/// Moves the ends that were measured, with what is worked in them. Gives the one that lengths tell.
pub(super) fn ends(
    wood: &mut Wood,
    drawn: &Wood,
    read: &Readings,
    residuals: &mut Vec<(String, f64)>,
) -> Result<Option<Source>, Unfit> {
    let angled = read.mitres.iter().chain(&read.bevels).map(|(name, _)| name);
    let mut moved: Vec<usize> = Vec::new();
    for name in angled {
        let is_edge = matches!(surface(drawn, name)?, Source::Cut(i) if drawn.board.cuts.get(i).is_some_and(|cut| cut.role == Role::Edge));
        if is_edge && read.bevels.iter().any(|(other, _)| other == name) {
            continue;
        }
        moved.push(end(drawn, name)?);
    }
    let has_lengths = !(read.lengths.is_empty() && read.far_lengths.is_empty());
    let short_at = match &read.short_at {
        Some(name) => Some(end(drawn, name)?),
        // Of several the one that was trimmed is meant.
        None if has_lengths => {
            let trimmed = || ends_of(drawn).find(|index| is_trimmed(drawn, read, Source::Cut(*index)));
            let end = moved.first().copied().or_else(trimmed).or_else(|| ends_of(drawn).next());
            Some(end.ok_or(Unfit::NoEnd)?)
        }
        None => None,
    };
    moved.extend(short_at);
    moved.sort_unstable();
    moved.dedup();
    for index in moved {
        let lengths = if short_at == Some(index) { points(wood, read, index)? } else { Vec::new() };
        let plane = end_plane(drawn, read, index, &lengths)?;
        let off = lengths.iter().map(|p| plane.distance(*p).abs()).fold(0.0, f64::max);
        if off > ON_SURFACE {
            residuals.push((drawn.name_of(Source::Cut(index)), off));
        }
        run_on(wood, index, &plane);
        take_along(wood, index, &plane);
        wood.board.cuts[index].plane = plane;
    }
    bevelled_edges(wood, drawn, read)?;
    Ok(short_at.filter(|_| has_lengths).map(Source::Cut))
}

/// The points of an end's plane at which lengths along edges end.
fn points(wood: &Wood, read: &Readings, end: usize) -> Result<Vec<Point3>, Unfit> {
    let plane = wood.board.cuts[end].plane;
    let far = -wood.board.thickness;
    let sides = [(&read.lengths, true, 0.0), (&read.far_lengths, false, far)];
    let mut found = Vec::new();
    for (name, length, on_face, z) in sides
        .into_iter()
        .flat_map(|(all, on_face, z)| all.iter().map(move |(name, length)| (name, *length, on_face, z)))
    {
        let source = surface(wood, name)?;
        let not_there = || Unfit::NotAtEnd { edge: name.clone(), end: wood.name_of(Source::Cut(end)) };
        let run = run(wood, source, on_face).ok_or_else(not_there)?;
        let (Some(start), Some(stop)) = (run.start(), run.end()) else { return Err(not_there()) };
        let off = |p: Point| plane.distance(Point3::new(p.x, p.y, z)).abs();
        let run = if off(stop) < SAME_PLACE { run } else { run.reversed() };
        if off(stop).min(off(start)) >= SAME_PLACE {
            return Err(not_there());
        }
        let at = reached(&run, length.mm()).ok_or_else(not_there)?;
        found.push(Point3::new(at.x, at.y, z));
    }
    Ok(found)
}

/// The plane of an end: `u = a + b v + c w`, of the angles that were read, the points that were, and what was drawn for the rest.
fn end_plane(drawn: &Wood, read: &Readings, end: usize, points: &[Point3]) -> Result<Plane, Unfit> {
    let (plane, name) = (drawn.board.cuts[end].plane, drawn.name_of(Source::Cut(end)));
    let n = plane.normal();
    let of = |all: &[Read<Angle>]| all.iter().find(|(other, _)| *other == name).map(|(_, angle)| *angle);
    let flat = Vec2::new(n.x, n.y).normalize();
    let (mitre, bevel) = (of(&read.mitres), of(&read.bevels));
    let flat = match mitre {
        Some(mitre) => mitred(drawn, end, flat, mitre).ok_or_else(|| Unfit::SquareEnd(name.clone()))?,
        None => flat,
    };
    let lean = bevel.map_or(n.z / n.x.hypot(n.y), |bevel| bevel.radians().tan());
    let (b, c) = (-flat.y / flat.x, -lean / flat.x);
    // An angle that was read is no unknown; one that was not is as drawn as far as the points leave it open.
    let share = |is_read: bool, arm: f64| if is_read { (0.0, 1.0) } else { (1.0, AS_DRAWN * arm) };
    let ((free_b, wb), (free_c, wc)) = (share(mitre.is_some(), ARM), share(bevel.is_some(), drawn.board.thickness));
    let row =
        |p: &Point3| ([1.0, free_b * p.y, free_c * p.z], p.x - (1.0 - free_b) * b * p.y - (1.0 - free_c) * c * p.z);
    let mut rows: Vec<([f64; 3], f64)> = points.iter().map(row).collect();
    rows.extend([([0.0, wb, 0.0], wb * b), ([0.0, 0.0, wc], wc * c)]);
    if points.is_empty() {
        // An angle alone turns the end about its longest point, from which it was marked.
        let corners = drawn.board.end_corners(end, &drawn.solid).into_iter().map(|corner| corner.at);
        let out = n.x.signum();
        let about = corners.max_by(|p, q| (out * p.x).total_cmp(&(out * q.x))).ok_or(Unfit::Nothing)?;
        rows.push(row(&about));
    }
    let [a, b, c] = least_squares(&rows).ok_or(Unfit::Nothing)?;
    let normal = Vec3::new(1.0, -b, -c) * n.x.signum();
    Plane::through(Point3::new(a, 0.0, 0.0), normal).ok_or(Unfit::Nothing)
}

/// The way out of an end in the face that has a mitre off its register edge, on the side to which it was drawn.
fn mitred(drawn: &Wood, end: usize, flat: Vec2, mitre: Angle) -> Option<Vec2> {
    let saw = drawn.saw(Source::Cut(end))?;
    let now = saw.mitre();
    if now.degrees() < SHOWN_SQUARE && mitre.degrees() > SHOWN_SQUARE {
        return None;
    }
    let along = match saw.registers.first() {
        Some(register) => {
            let run = run(drawn, register.source, true)?;
            (run.end()? - run.start()?).normalize()
        }
        None => Vec2::new(1.0, 0.0),
    };
    let told = |flat: Vec2| flat.cross(along).abs().atan2(flat.dot(along).abs());
    let by = mitre.radians() - now.radians();
    let turned = [by, -by].map(|by| turned(flat, by));
    turned.into_iter().min_by(|p, q| {
        let off = |flat: &Vec2| (told(*flat) - mitre.radians()).abs();
        off(p).total_cmp(&off(q))
    })
}

fn turned(d: Vec2, by: f64) -> Vec2 {
    let (sin, cos) = by.sin_cos();
    Vec2::new(d.x * cos - d.y * sin, d.x * sin + d.y * cos)
}

/// The three unknowns for which the squares of what each row is off sum least; `None` where they are not fixed.
fn least_squares(rows: &[([f64; 3], f64)]) -> Option<[f64; 3]> {
    let mut normal = [[0.0; 4]; 3];
    for (of, value) in rows {
        for i in 0..3 {
            for j in 0..3 {
                normal[i][j] += of[i] * of[j];
            }
            normal[i][3] += of[i] * value;
        }
    }
    for column in 0..3 {
        let pivot = (column..3).max_by(|a, b| normal[*a][column].abs().total_cmp(&normal[*b][column].abs()))?;
        normal.swap(column, pivot);
        let lead = normal[column];
        if lead[column].abs() < PARALLEL {
            return None;
        }
        for (_, row) in normal.iter_mut().enumerate().filter(|(row, _)| *row != column) {
            let share = row[column] / lead[column];
            row.iter_mut().zip(lead).for_each(|(own, lead)| *own -= share * lead);
        }
    }
    Some([0, 1, 2].map(|i| normal[i][3] / normal[i][i]))
}

/// Lets the outline run on to an end that was read farther out than it was drawn, its edges straight on.
fn run_on(wood: &mut Wood, end: usize, plane: &Plane) {
    let (was, board) = (wood.board.cuts[end].plane, &wood.board);
    let out = was.normal().x.signum();
    let corners = board.end_corners(end, &wood.solid).into_iter().map(|corner| corner.at);
    let by = corners.map(|p| -out * plane.distance(p) / plane.normal().x).fold(0.0, f64::max);
    let lift = |p: Point| Point3::new(p.x, p.y, 0.0);
    // What of the outline goes with the offcut.
    let is_off = |index: &usize| {
        let is_sawn =
            wood.solid.faces().into_iter().all(|(_, ring)| ring.part(Source::Edge(*index)).next().is_none());
        is_sawn && board.edges[*index].segments.iter().all(|piece| was.distance(lift(piece.eval(0.5))) > 0.0)
    };
    let count = board.edges.len();
    let off: Vec<usize> = (0..count).filter(is_off).collect();
    if by <= ON_SURFACE {
        return;
    }
    let before = |index: usize| (index + count - 1) % count;
    for first in off.iter().copied().filter(|index| !off.contains(&before(*index))) {
        let run: Vec<usize> = (first..first + count).map(|i| i % count).take_while(|i| off.contains(i)).collect();
        let (last, next) = (before(first), (first + run.len()) % count);
        let edges = &mut wood.board.edges;
        let onward = |at: Point, way: Vec2| match way.x * out > NO_MOUTH {
            true => at + way * (by / way.x.abs()),
            false => at + Vec2::new(out * by, 0.0),
        };
        let ends = [edges[last].segments.last(), edges[next].segments.first()];
        let [Some(a), Some(b)] = ends else { continue };
        let (from, to) = (onward(a.end(), a.tangent(1.0)), onward(b.start(), -b.tangent(0.0)));
        run_to(&mut edges[last].segments, from);
        run_back_to(&mut edges[next].segments, to);
        let share = |number: usize| from.lerp(to, number as f64 / run.len() as f64);
        for (number, index) in run.iter().enumerate() {
            edges[*index].segments = vec![Segment::line(share(number), share(number + 1))];
        }
    }
}

/// Moves what is worked in an end along the part by as much as the end moves there.
fn take_along(wood: &mut Wood, end: usize, plane: &Plane) {
    let was = wood.board.cuts[end].plane;
    let own = wood.board.surface(Source::Cut(end));
    for one in wood.worked.iter_mut().filter(|one| one.on.as_ref() == Some(&own)) {
        let mouth = one.mouth();
        let along = |plane: &Plane| -plane.distance(mouth) / plane.normal().x;
        shift(one, Vec3::X * (along(plane) - along(&was)));
    }
}

/// Shifts something worked along axes of the board, its ends on planes with it.
fn shift(one: &mut Worked, by: Vec3) {
    let moved = |frame: &Placement| frame.moved(frame.direction_to_board(by));
    one.shape = match &one.shape {
        Shape::Prism(prism) => Shape::Prism(Prism {
            frame: moved(&prism.frame),
            ends: prism.ends.map(|end| match end {
                End::On(plane) => {
                    let on = Point3::ORIGIN + plane.normal() * plane.offset() + by;
                    End::On(Plane::through(on, plane.normal()).unwrap_or(plane))
                }
                other => other,
            }),
            outline: prism.outline.clone(),
        }),
        Shape::Turned(turned) => Shape::Turned(Turned { frame: moved(&turned.frame), ..turned.clone() }),
    };
}
