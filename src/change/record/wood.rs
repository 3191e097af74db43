//! Parts as wood, as a record says them.

use super::super::data::role;
use super::super::read::{At, Torn};
use super::super::wood::{Kind, Numbered, SIDES, What, Wood, Worked};
use crate::board::{Board, Cut, Edge, EdgeName, PartRole, Role, Surface};
use crate::geometry::{Arc, CubicBez, Path, Placement, Plane, Point, Point3, Segment, Vec2, Vec3};
use crate::solid::{End, Prism, Shape, Side, Turned, Why};
use crate::tolerance::{JOINED, NO_LEAN};
use serde_json::{Value as Json, json};

/// What a part is, as a record says it.
const DRAWN: &str = "drawn";

pub(in crate::change) fn wood_json(wood: &Wood) -> Json {
    let kind = match wood.kind {
        Kind::Board(role) => role.key(),
        Kind::Drawn => DRAWN,
    };
    let board = &wood.board;
    let edges = board
        .edges
        .iter()
        .map(|edge| json!([edge_json(&edge.name), edge.segments.iter().map(segment_json).collect::<Vec<Json>>()]));
    let cuts = board.cuts.iter().map(|cut| json!([edge_json(&cut.place), role(cut.role), plane_json(&cut.plane)]));
    json!({
        "id": wood.id,
        "kind": kind,
        "name": wood.name,
        "revision": wood.revision,
        "make": wood.make,
        "copies": wood.copies,
        "sides": wood.sides,
        "thickness": board.thickness,
        "edges": edges.collect::<Vec<Json>>(),
        "cuts": cuts.collect::<Vec<Json>>(),
        "keep": board.keep.map(|p| [p.x, p.y, p.z]),
        "turned": wood.turned,
        "worked": wood.worked.iter().map(worked_json).collect::<Vec<Json>>(),
        "numbers": wood.numbers.iter().map(numbered_json).collect::<Vec<Json>>(),
    })
}

pub(in crate::change) fn wood_of(at: &At) -> Result<Wood, Torn> {
    let text = |name: &str| Ok(at.field(name)?.text()?.to_owned());
    let kind = match at.field("kind")?.text()? {
        DRAWN => Kind::Drawn,
        key => Kind::Board(PartRole::of_key(key).ok_or_else(|| at.torn("there is no such kind of part"))?),
    };
    let thickness = at.field("thickness")?.number()?;
    if thickness <= 0.0 {
        return Err(at.field("thickness")?.torn("a thickness is above zero"));
    }
    let edges = at.field("edges")?.each(edge_of)?;
    let pieces: Vec<&Segment> = edges.iter().flat_map(|edge| &edge.segments).collect();
    let next = pieces.iter().cycle().skip(1);
    let is_closed = pieces.iter().zip(next).all(|(own, next)| own.end().distance(next.start()) <= JOINED);
    if pieces.is_empty() || !is_closed {
        return Err(at.field("edges")?.torn("the edges do not join into one outline"));
    }
    let keep = at.field("keep")?;
    let keep = if keep.is_null() { None } else { Some(point3(keep.numbers::<3>()?)) };
    let board = Board { thickness, edges, cuts: at.field("cuts")?.each(cut_of)?, keep, sides: SIDES };
    let solid = board.solid().map_err(|_| at.torn("its cuts leave nothing of it"))?;
    let turned = at.field("turned")?;
    Ok(Wood {
        id: text("id")?,
        kind,
        name: text("name")?,
        copies: at.field("copies")?.each(|one| Ok(one.text()?.to_owned()))?,
        make: text("make")?,
        revision: text("revision")?,
        sides: at.field("sides")?.texts::<2>()?,
        board,
        solid,
        worked: at.field("worked")?.each(|one| Ok(worked_of(one)?.seated(thickness)))?,
        numbers: at.field("numbers")?.each(numbered_of)?,
        turned: if turned.is_null() { None } else { Some(turned.numbers::<3>()?) },
    })
}

/// The edges that are one by what they are.
const EDGES: [EdgeName; 16] = [
    EdgeName::Head,
    EdgeName::Foot,
    EdgeName::LeftEnd,
    EdgeName::RightEnd,
    EdgeName::UpperEdge,
    EdgeName::LowerEdge,
    EdgeName::FrontEdge,
    EdgeName::BackEdge,
    EdgeName::LeftEdge,
    EdgeName::RightEdge,
    EdgeName::OutsideEdge,
    EdgeName::InsideEdge,
    EdgeName::TaperedInsideEdge,
    EdgeName::TaperedInnerFace,
    EdgeName::Corner,
    EdgeName::Edge,
];

/// How a record writes a landing, an edge by its number, and one that the file names.
const LANDING: &str = "landing";
const NUMBERED: &str = "numbered";
const GIVEN: &str = "given";

/// An edge: one that is by what it is in one word, any other with what tells it from its like.
fn edge_json(name: &EdgeName) -> Json {
    match name {
        EdgeName::Landing(role) => json!([LANDING, role.key()]),
        EdgeName::Numbered { corner, .. } => json!([NUMBERED, corner]),
        EdgeName::Given(name) => json!([GIVEN, name]),
        _ => json!([name.words()]),
    }
}

fn edge_name_of(at: &At) -> Result<EdgeName, Torn> {
    match at.entry(0)?.text()? {
        LANDING => {
            let role = PartRole::of_key(at.entry(1)?.text()?);
            Ok(EdgeName::Landing(role.ok_or_else(|| at.torn("there is no such kind of part"))?))
        }
        NUMBERED => Ok(EdgeName::Numbered { corner: at.entry(1)?.count()?, between: String::new() }),
        GIVEN => Ok(EdgeName::Given(at.entry(1)?.text()?.to_owned())),
        word => {
            let name = EDGES.into_iter().find(|name| name.words() == word);
            name.ok_or_else(|| at.torn("there is no such edge"))
        }
    }
}

/// How a record writes the face side and the far side.
const FACE: &str = "face";
const FAR: &str = "far";

fn surface_json(surface: &Surface) -> Json {
    match surface {
        Surface::Face => json!(FACE),
        Surface::Far => json!(FAR),
        Surface::Edge { name, nth } => json!([edge_json(name), nth]),
    }
}

fn surface_of(at: &At) -> Result<Option<Surface>, Torn> {
    if at.is_null() {
        return Ok(None);
    }
    Ok(Some(match at.len() {
        0 => match at.text()? {
            FACE => Surface::Face,
            FAR => Surface::Far,
            _ => return Err(at.torn("there is no such side")),
        },
        _ => Surface::Edge { name: edge_name_of(&at.entry(0)?)?, nth: at.entry(1)?.count()? },
    }))
}

/// What may be worked in a part.
const WORKED: [What; 15] = [
    What::For(Why::Blank),
    What::For(Why::Cut),
    What::For(Why::Mortise(Side::From)),
    What::For(Why::Mortise(Side::Into)),
    What::For(Why::Tenon),
    What::For(Why::Slot),
    What::For(Why::Counterbore),
    What::For(Why::Button),
    What::For(Why::Groove),
    What::For(Why::Tongue),
    What::For(Why::Halving),
    What::For(Why::Pocket),
    What::Opening,
    What::Slot,
    What::Hole,
];

/// How a record writes what is worked in a part.
const fn what_key(what: What) -> &'static str {
    match what {
        What::For(Why::Blank) => "blank",
        What::For(Why::Cut) => "cut",
        What::For(Why::Mortise(Side::From)) => "mortise of its own tenon",
        What::For(Why::Mortise(Side::Into)) => "mortise",
        What::For(Why::Tenon) => "tenon",
        What::For(Why::Slot) => "fastener slot",
        What::For(Why::Counterbore) => "counterbore",
        What::For(Why::Button) => "button mortise",
        What::For(Why::Groove) => "groove",
        What::For(Why::Tongue) => "tongue",
        What::For(Why::Halving) => "halving",
        What::For(Why::Pocket) => "pocket",
        What::Opening => "opening",
        What::Slot => "slot",
        What::Hole => "hole",
    }
}

fn what_of(at: &At) -> Result<What, Torn> {
    let said = at.text()?;
    WORKED.into_iter().find(|what| what_key(*what) == said).ok_or_else(|| at.torn("nothing such is worked in a part"))
}

fn edge_of(at: &At) -> Result<Edge, Torn> {
    let name = edge_name_of(&at.entry(0)?)?;
    Ok(Edge::new(name, at.entry(1)?.each(segment_of)?))
}

fn cut_of(at: &At) -> Result<Cut, Torn> {
    let said = at.entry(1)?.text()?;
    let role = [Role::End, Role::Edge].into_iter().find(|one| role(*one) == said);
    let plane = plane_of(&at.entry(2)?)?;
    let normal = plane.normal();
    if normal.x.hypot(normal.y) <= NO_LEAN {
        return Err(at.torn("a cut does not lie in the face"));
    }
    Ok(Cut {
        place: edge_name_of(&at.entry(0)?)?,
        against: None,
        role: role.ok_or_else(|| at.torn("a cut makes an end or an edge"))?,
        plane,
        nominal: None,
    })
}

/// A piece of a line: 4 numbers are a straight one, 8 a cubic, 9 an arc, its last one left out of none.
fn segment_json(segment: &Segment) -> Json {
    match segment {
        Segment::Line(line) => json!([line.p0.x, line.p0.y, line.p1.x, line.p1.y]),
        Segment::Cubic(c) => json!([c.p0.x, c.p0.y, c.p1.x, c.p1.y, c.p2.x, c.p2.y, c.p3.x, c.p3.y]),
        Segment::Arc(arc) => {
            let Arc { center, p, q, start, sweep } = arc;
            // One zero more than a cubic has numbers, so that their count tells them apart.
            json!([center.x, center.y, p.x, p.y, q.x, q.y, start, sweep, 0])
        }
    }
}

fn segment_of(at: &At) -> Result<Segment, Torn> {
    match at.len() {
        4 => at.numbers::<4>().map(|[a, b, c, d]| Segment::line(Point::new(a, b), Point::new(c, d))),
        8 => {
            let [a, b, c, d, e, f, g, h] = at.numbers::<8>()?;
            Ok(Segment::Cubic(CubicBez::new((a, b), (c, d), (e, f), (g, h))))
        }
        9 => {
            let [x, y, px, py, qx, qy, start, sweep, _] = at.numbers::<9>()?;
            let (p, q) = (Vec2::new(px, py), Vec2::new(qx, qy));
            Ok(Segment::Arc(Arc { center: Point::new(x, y), p, q, start, sweep }))
        }
        _ => Err(at.torn("a piece of a line has 4, 8 or 9 numbers")),
    }
}

fn path_json(path: &Path) -> Json {
    path.segments().iter().map(segment_json).collect()
}

fn plane_json(plane: &Plane) -> Json {
    let n = plane.normal();
    json!([n.x, n.y, n.z, plane.offset()])
}

fn plane_of(at: &At) -> Result<Plane, Torn> {
    let [x, y, z, offset] = at.numbers::<4>()?;
    let normal = Vec3::new(x, y, z);
    Plane::through(Point3::ORIGIN + normal * offset, normal).ok_or_else(|| at.torn("a plane has no direction"))
}

fn point3([x, y, z]: [f64; 3]) -> Point3 {
    Point3::new(x, y, z)
}

fn frame_json(frame: &Placement) -> Json {
    let axes = [frame.origin().to_vec(), frame.u(), frame.v(), frame.w()];
    axes.iter().flat_map(|d| [d.x, d.y, d.z]).collect::<Vec<f64>>().into()
}

fn frame_of(at: &At) -> Result<Placement, Torn> {
    let n = at.numbers::<12>()?;
    let vector = |from: usize| Vec3::new(n[from], n[from + 1], n[from + 2]);
    let axes = [vector(3), vector(6), vector(9)];
    let is_square = [(0, 1), (1, 2), (2, 0)].iter().all(|(a, b)| axes[*a].dot(axes[*b]).abs() <= NO_LEAN);
    if !is_square || axes.iter().any(|axis| (axis.length() - 1.0).abs() > NO_LEAN) {
        return Err(at.torn("its axes are not square to each other"));
    }
    Ok(Placement::of_axes(Point3::ORIGIN + vector(0), axes))
}

fn end_json(end: &End) -> Json {
    match end {
        End::To(mm) => json!(mm),
        End::On(plane) => plane_json(plane),
        End::Open => Json::Null,
    }
}

fn end_of(at: &At) -> Result<End, Torn> {
    if at.is_null() {
        return Ok(End::Open);
    }
    match at.len() {
        4 => plane_of(at).map(End::On),
        _ => at.number().map(End::To),
    }
}

fn worked_json(worked: &Worked) -> Json {
    let shape = match &worked.shape {
        Shape::Prism(prism) => json!({
            "outline": path_json(&prism.outline),
            "frame": frame_json(&prism.frame),
            "ends": prism.ends.iter().map(end_json).collect::<Vec<Json>>(),
        }),
        Shape::Turned(turned) => json!({
            "profile": turned.profile.iter().map(|p| json!([p.x, p.y])).collect::<Vec<Json>>(),
            "frame": frame_json(&turned.frame),
        }),
    };
    json!({
        "what": what_key(worked.what),
        "of": worked.of,
        "number": worked.number,
        "on": worked.on.as_ref().map(surface_json),
        "stands": worked.stands,
        "copies": worked.copies,
        "shape": shape,
    })
}

fn worked_of(at: &At) -> Result<Worked, Torn> {
    let text = |name: &str| Ok(at.field(name)?.text()?.to_owned());
    let shape = at.field("shape")?;
    let frame = frame_of(&shape.field("frame")?)?;
    let shape = match shape.field("outline") {
        Ok(outline) => {
            let outline = Path::closed(outline.each(segment_of)?);
            let ends = shape.field("ends")?;
            let ends = [end_of(&ends.entry(0)?)?, end_of(&ends.entry(1)?)?];
            Shape::Prism(Prism { outline, frame, ends })
        }
        Err(_) => {
            let point = |at: &At| at.numbers::<2>().map(|[x, y]| Point::new(x, y));
            Shape::Turned(Turned { profile: shape.field("profile")?.each(point)?, frame })
        }
    };
    Ok(Worked {
        what: what_of(&at.field("what")?)?,
        of: text("of")?,
        number: at.field("number")?.count()?,
        on: surface_of(&at.field("on")?)?,
        stands: at.field("stands")?.yes()?,
        copies: at.field("copies")?.each(|one| Ok(one.text()?.to_owned()))?,
        shape,
    })
}

fn numbered_json(one: &Numbered) -> Json {
    let lengths = one.lengths.iter().map(|(name, mm)| json!([name, mm])).collect::<Vec<Json>>();
    json!({ "what": one.what, "kind": one.kind, "lengths": lengths })
}

fn numbered_of(at: &At) -> Result<Numbered, Torn> {
    let length = |at: &At| Ok((at.entry(0)?.text()?.to_owned(), at.entry(1)?.number()?));
    Ok(Numbered {
        what: at.field("what")?.text()?.to_owned(),
        kind: at.field("kind")?.text()?.to_owned(),
        lengths: at.field("lengths")?.each(length)?,
    })
}
