//! A part that exists as wood: as it was drawn, with each of its surfaces that was measured where the readings have it.
//!
//! A length along an edge is one point of the plane of an end: one, with the angles as drawn or as read, fixes it, three fix it whatever
//! its angles are, and what is more is a check. A width is one point of an edge. A curved edge stays as it was drawn, moved. What is
//! worked in an end goes with it, since it was marked from there; what is worked elsewhere stays.

use super::place::readiness;
use super::wood::{Kind, Wood, Worked};
use crate::board::{Edge, FarSide, Role, Source};
use crate::geometry::{Affine, Path, Placement, Plane, Point, Point3, Segment, Vec2, Vec3};
use crate::model::made::{MadePart, Read, Readings};
use crate::solid::{End, Prism, Shape, Turned};
use crate::tolerance::{NO_LEAN, NO_MOUTH, ON_SURFACE, PARALLEL, SAME_PLACE, SHOWN_SQUARE};
use crate::units::{Angle, Length};

/// How much less than a reading counts that an end has the angles that were drawn: where readings fix those, they are as read.
const AS_DRAWN: f64 = 1e-4;

/// Over so much an angle is told in mm.
const ARM: f64 = 100.0;

/// A place along a run is halved so often: to a ten-millionth of a micrometre on 20 m.
const HALVINGS: u32 = 48;

/// What a rule is read to, mm, and a protractor, degrees: guesses of ours for a steady hand.
const RULE: f64 = 0.2;
const PROTRACTOR: f64 = 0.1;

/// A part that exists.
#[derive(Debug, Clone, PartialEq)]
pub struct Measured {
    /// It as wood.
    pub wood: Wood,
    /// Of readings that check each other the ends, each with how far they are from one plane at most, mm.
    pub residuals: Vec<(String, f64)>,
    /// How well its surfaces are known, mm: zero as drawn.
    pub accuracy: f64,
    /// What was read so far from what was drawn that it may be another unit or another place.
    pub far: Vec<Far>,
    /// The bevels that were read to the other side than they were drawn, by the name of their end or edge: as read, and as drawn.
    pub other_side: Vec<(String, [Angle; 2])>,
}

/// A reading that is far from what was drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Far {
    /// What was read, in a maker's words.
    pub what: String,
    /// What was read.
    pub read: Length,
    /// What was drawn.
    pub drawn: Length,
}

/// A reading is doubted that is off what was drawn by more than so much of that, and by more than so much, mm: guesses of ours.
const FAR: (f64, f64) = (1.0 / 3.0, 5.0);

/// Why readings make no part.
#[derive(Debug, Clone, PartialEq)]
pub enum Unfit {
    /// It has no such edge or end; those that may be meant.
    NoSuch {
        /// What was named.
        name: String,
        /// What it has, in a maker's words.
        known: Vec<String>,
    },
    /// An edge does not run to the end that is meant.
    NotAtEnd {
        /// The edge.
        edge: String,
        /// The end.
        end: String,
    },
    /// An end that is square in the face has no side to which a mitre alone would turn it.
    SquareEnd(String),
    /// It is drawn directly or turned: its thickness alone is read.
    ThicknessOnly,
    /// Nothing would be left of it.
    Nothing,
}

/// A part that exists, of what it was drawn as.
///
/// # Errors
/// Where the readings do not go with the part.
pub fn measured(drawn: &Wood, made: &MadePart) -> Result<Measured, Unfit> {
    let mut wood = drawn.clone();
    if !made.only.is_empty() {
        wood.worked.retain(|one| one.copies.is_empty() || one.copies.iter().any(|copy| made.only.contains(copy)));
    }
    wood.worked.retain(|one| made.worked || one.stands);
    let read = &made.read;
    let is_flat = matches!(wood.kind, Kind::Board(_)) && wood.turned.is_none();
    if !is_flat && !(Readings { thickness: None, ..read.clone() }).is_none() {
        return Err(Unfit::ThicknessOnly);
    }
    if let Some(thickness) = read.thickness {
        wood.board.thickness = thickness.mm();
    }
    let mut residuals = Vec::new();
    edges(&mut wood, drawn, read)?;
    wood.solid = wood.board.solid().map_err(|_| Unfit::Nothing)?;
    ends(&mut wood, drawn, read, &mut residuals)?;
    wood.solid = wood.board.solid().map_err(|_| Unfit::Nothing)?;
    Ok(Measured {
        accuracy: accuracy(drawn, read),
        far: far(drawn, read),
        other_side: other_side(drawn, read),
        wood,
        residuals,
    })
}

/// A bevel below this, degrees, has no side.
const HAS_A_SIDE: f64 = 0.5;

/// The bevels that were read to the other side than they were drawn.
fn other_side(drawn: &Wood, read: &Readings) -> Vec<(String, [Angle; 2])> {
    let of = |(name, read): &Read<Angle>| {
        let saw = drawn.saw(surface(drawn, name).ok()?)?;
        let as_drawn = match saw.far_side {
            FarSide::Shorter => Angle::from_degrees(-saw.bevel.degrees()),
            FarSide::Longer | FarSide::Equal => saw.bevel,
        };
        let both = [*read, as_drawn];
        let has_sides = both.iter().all(|angle| angle.degrees().abs() > HAS_A_SIDE);
        (has_sides && read.degrees() * as_drawn.degrees() < 0.0).then(|| (name.clone(), both))
    };
    read.bevels.iter().filter_map(of).collect()
}

/// The readings that are far from what was drawn.
fn far(drawn: &Wood, read: &Readings) -> Vec<Far> {
    let along = |name: &str, on_face: bool| {
        let run = run(drawn, surface(drawn, name).ok()?, on_face)?;
        Some(run.start()?.distance(run.end()?))
    };
    let lengths = read.lengths.iter().map(|(name, read)| (name.clone(), *read, along(name, true)));
    let far_lengths =
        read.far_lengths.iter().map(|(name, read)| (format!("{name} on the far side"), *read, along(name, false)));
    let widths = read.widths.iter().map(|(name, read)| (format!("{name} width"), *read, along(name, true)));
    let thickness = read.thickness.map(|read| ("thickness".to_owned(), read, Some(drawn.board.thickness)));
    let all = lengths.chain(far_lengths).chain(widths).chain(thickness);
    let of = |(what, read, drawn): (String, Length, Option<f64>)| {
        let off = (read.mm() - drawn?).abs();
        (off > FAR.1 && off > FAR.0 * drawn?).then(|| Some(Far { what, read, drawn: Length::from_mm(drawn?) }))?
    };
    all.filter_map(of).collect()
}

/// How well what was read is known, mm.
fn accuracy(drawn: &Wood, read: &Readings) -> f64 {
    let rule = !(read.lengths.is_empty() && read.far_lengths.is_empty() && read.widths.is_empty());
    let long = |(name, _): &Read<Angle>| {
        let arris = surface(drawn, name).ok().and_then(|source| drawn.solid.arris(source));
        arris.map_or(0.0, |arris| arris.face.max(arris.far))
    };
    let turned = read.mitres.iter().map(long).fold(0.0, f64::max) * PROTRACTOR.to_radians().tan();
    let tilted = if read.bevels.is_empty() { 0.0 } else { drawn.board.thickness * PROTRACTOR.to_radians().tan() };
    f64::from(u8::from(rule)) * RULE + turned + tilted
}

/// The surface of a part that is called so.
fn surface(wood: &Wood, name: &str) -> Result<Source, Unfit> {
    let all = wood.surfaces();
    let found = all.iter().find(|source| wood.name_of(**source) == name);
    found.copied().ok_or_else(|| Unfit::NoSuch {
        name: name.to_owned(),
        known: all.iter().map(|source| wood.name_of(*source)).collect(),
    })
}

/// As [`surface`], of an end.
fn end(wood: &Wood, name: &str) -> Result<usize, Unfit> {
    let is_end = |index: &usize| wood.board.cuts.get(*index).is_some_and(|cut| cut.role == Role::End);
    match surface(wood, name)? {
        Source::Cut(index) if is_end(&index) => Ok(index),
        _ => Err(Unfit::NoSuch {
            name: name.to_owned(),
            known: ends_of(wood).map(|index| wood.name_of(Source::Cut(index))).collect(),
        }),
    }
}

/// The ends of a part, the most readily sawn first.
fn ends_of(wood: &Wood) -> impl Iterator<Item = usize> {
    let sawn = wood.surfaces().into_iter().filter_map(|source| match source {
        Source::Cut(index) => Some((index, wood.board.cuts.get(index)?)),
        _ => None,
    });
    let mut all: Vec<(u8, usize)> =
        sawn.filter(|(_, cut)| cut.role == Role::End).map(|(index, cut)| (readiness(&cut.place), index)).collect();
    all.sort_unstable();
    all.into_iter().map(|(_, index)| index)
}

/// The run of a surface on one side of a part, in order: a ring may begin within it.
fn run(wood: &Wood, source: Source, on_face: bool) -> Option<Path> {
    let ring = if on_face { &wood.solid.face } else { &wood.solid.far };
    let pieces: Vec<Segment> = ring.part(source).copied().collect();
    let breaks = |index: usize| {
        let before = pieces[(index + pieces.len() - 1) % pieces.len()];
        before.end().distance(pieces[index].start()) > SAME_PLACE
    };
    let first = (0..pieces.len()).find(|index| breaks(*index)).unwrap_or(0);
    let ordered: Vec<Segment> = pieces.iter().cycle().skip(first).take(pieces.len()).copied().collect();
    (!ordered.is_empty()).then(|| Path::open(ordered))
}

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

/// Moves the ends that were measured, with what is worked in them.
fn ends(wood: &mut Wood, drawn: &Wood, read: &Readings, residuals: &mut Vec<(String, f64)>) -> Result<(), Unfit> {
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
        None if has_lengths => moved.first().copied().or_else(|| ends_of(drawn).next()),
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
    bevelled_edges(wood, drawn, read)
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

/// Tilts the edges that were sawn to a bevel and measured, about their arris on the face side.
fn bevelled_edges(wood: &mut Wood, drawn: &Wood, read: &Readings) -> Result<(), Unfit> {
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

/// Moves the edge by which widths are meant.
fn edges(wood: &mut Wood, drawn: &Wood, read: &Readings) -> Result<(), Unfit> {
    if read.widths.is_empty() {
        return Ok(());
    }
    let edge = match &read.narrow_at {
        Some(name) => surface(drawn, name)?,
        None => narrowed(drawn, &read.widths)?,
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
    Ok(())
}

/// The edge that is most readily planed of those that the ends meet whose widths were read.
fn narrowed(drawn: &Wood, widths: &[Read<Length>]) -> Result<Source, Unfit> {
    let mut met: Vec<(u8, usize, Source)> = Vec::new();
    for (name, _) in widths {
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
            (order, number, source)
        });
        met.extend(ranked);
    }
    met.sort_by_key(|(order, number, _)| (*order, *number));
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
fn run_back_to(pieces: &mut Vec<Segment>, to: Point) {
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
fn run_to(pieces: &mut Vec<Segment>, to: Point) {
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
