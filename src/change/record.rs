//! What a print showed, kept beside it: the parts as wood, the codes of all patterns and of their sheets, the numbers.
//!
//! From a record alone its pieces are held against later ones, so that no older program is needed. It holds numbers and codes, no
//! pictures, no mesh, no clock.

use super::data::{role, unit};
use super::read::{At, Torn};
use super::snapshot::{Given, Snapshot};
use super::wood::{Kind, Numbered, What, Wood, Worked};
use crate::board::{Board, Cut, Edge, EdgeName, PartRole, Role, Surface};
use crate::geometry::{Arc, CubicBez, Path, Placement, Plane, Point, Point3, Segment, Vec2, Vec3};
use crate::job::{Job, Refusal, Sheets};
use crate::layout::{Sheet, TiledPattern};
use crate::model::Kind as Measures;
use crate::page::Part;
use crate::solid::{End, Prism, Shape, Side, Turned, Why};
use crate::tolerance::{JOINED, NO_LEAN, PRINTED_RIGHT};
use crate::units::Units;
use serde_json::{Value as Json, json};

/// The member by which a record is known, and the number of its form.
pub const PRINTED: &str = "printed";
const FORM: f64 = 1.0;

/// What a print showed.
#[derive(Debug, Clone, PartialEq)]
pub struct Record {
    /// The piece.
    pub piece: Snapshot,
    /// The patterns as they were laid.
    pub laid: Vec<LaidPattern>,
    /// By how much the printer was corrected, across and up.
    pub correction: [f64; 2],
    /// Digests of the records, as they were written, of the prints that this one carries on: it tells what of them is still right.
    pub follows: Vec<String>,
}

/// A pattern, or several that share sheets, as it was laid on paper.
#[derive(Debug, Clone, PartialEq)]
pub struct LaidPattern {
    /// Its name, revision code and short code.
    pub part: Part,
    /// The patterns on it: itself, or those that share it.
    pub shows: Vec<Part>,
    /// The codes on its sheets.
    pub sheets: Vec<String>,
    /// By how much the printer was corrected when they were printed, across and up.
    pub correction: [f64; 2],
    /// How it lies on them; `None` where an older program printed it.
    pub lie: Option<Lie>,
}

/// How a pattern lies on its sheets.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lie {
    /// Width and height of a sheet, mm.
    pub page: [f64; 2],
    /// How many rows and columns of sheets there are.
    pub grid: [usize; 2],
    /// The upper left corner of what the first of them shows of the pattern, and the lower right one of what the last does, mm.
    pub shows: [f64; 4],
}

impl Lie {
    fn of(plan: &TiledPattern) -> Lie {
        let grid = &plan.grid;
        let (first, last) = (grid.window(0, 0), grid.window(grid.rows - 1, grid.columns - 1));
        Lie {
            page: plan.page_size.into(),
            grid: [grid.rows, grid.columns],
            shows: [first.x0, first.y1, last.x1, last.y0].map(|mm| (mm * LIE_STEPS).round() / LIE_STEPS),
        }
    }

    /// Whether a sheet of the one joins a sheet of the other as it joins its own: seams and crosses stand at the same places.
    fn joins(&self, other: &Lie) -> bool {
        let near = |a: &[f64], b: &[f64]| a.iter().zip(b).all(|(a, b)| (a - b).abs() <= PRINTED_RIGHT);
        self.grid == other.grid && near(&self.page, &other.page) && near(&self.shows, &other.shows)
    }
}

/// Steps to a millimetre in which a record says how patterns lie.
const LIE_STEPS: f64 = 1000.0;

impl LaidPattern {
    /// Whether its sheets join those of another print of the same pattern; `true` where that is not known.
    pub fn joins(&self, other: &LaidPattern) -> bool {
        self.lie.zip(other.lie).is_none_or(|(own, other)| own.joins(&other))
    }

    /// By how much what is so wide and so high, mm, comes out too long on its sheets, mm, if the printer draws as it is corrected for now,
    /// across and up: the larger of the two. Below 0 where it comes out too short.
    fn too_long(&self, printer: [f64; 2], (width, height): (f64, f64)) -> f64 {
        let share = |way: usize| self.correction[way] / printer[way] - 1.0;
        let (across, up) = (share(0), share(1));
        let larger = |a: f64, b: f64| if a.abs() > b.abs() { a } else { b };
        match self.lie.filter(|_| self.shows.len() == 1) {
            Some(lie) if lie.page[0] <= lie.page[1] => larger(across * width, up * height),
            Some(_) => larger(up * width, across * height),
            // How it lies is not known.
            None => larger(across, up) * width.max(height),
        }
    }
}

impl Record {
    /// What a print of a piece shows.
    ///
    /// # Errors
    /// Where a finding stops the work.
    pub fn of(job: &Job, sheets: &Sheets) -> Result<Record, Refusal> {
        let printer = &job.project().shop.printer;
        let correction = [printer.across.0, printer.up.0];
        let laid = sheets.patterns.iter().zip(&sheets.shows).zip(&sheets.manifest.patterns);
        let laid = laid.filter_map(|((pattern, shows), plan)| {
            let plan = plan.as_ref()?;
            let (sheets, lie) = (plan.sheets.iter().map(Sheet::code).collect(), Some(Lie::of(plan)));
            Some(LaidPattern { part: pattern.part.clone(), shows: shows.clone(), sheets, correction, lie })
        });
        Ok(Record { laid: laid.collect(), correction, piece: Snapshot::of(job)?, follows: Vec::new() })
    }

    /// The record as it is written.
    pub fn json(&self) -> Json {
        let piece = &self.piece;
        json!({
            PRINTED: FORM,
            "program": env!("CARGO_PKG_VERSION"),
            "title": piece.title,
            "heading": piece.heading,
            "units": if piece.units == Units::Inch { "in" } else { "mm" },
            "correction": self.correction,
            "follows": self.follows,
            "laid": self.laid.iter().map(laid_json).collect::<Vec<Json>>(),
            "numbers": piece.numbers.iter().map(given_json).collect::<Vec<Json>>(),
            "parts": piece.parts.iter().map(wood_json).collect::<Vec<Json>>(),
        })
    }

    /// A record as it was written.
    ///
    /// # Errors
    /// Where it is not as one is written, and what is wrong there.
    pub fn read(json: &Json) -> Result<Record, Torn> {
        let root = At::root(json);
        if root.field(PRINTED)?.number()? != FORM {
            return Err(root.field(PRINTED)?.torn("it is of another form than this program reads"));
        }
        let [x, y] = root.field("correction")?.numbers::<2>()?;
        let units = match root.field("units")?.text()? {
            "mm" => Units::Mm,
            "in" => Units::Inch,
            _ => return Err(root.field("units")?.torn("units are mm or in")),
        };
        let piece = Snapshot {
            heading: root.field("heading")?.text()?.to_owned(),
            title: root.field("title")?.text()?.to_owned(),
            units,
            parts: root.field("parts")?.each(wood_of)?,
            numbers: root.field("numbers")?.each(given_of)?,
        };
        // Records of older programs do not say.
        let follows = match root.field("follows") {
            Ok(all) => all.each(|digest| digest.text().map(str::to_owned))?,
            Err(_) => Vec::new(),
        };
        Ok(Record {
            piece,
            laid: root.field("laid")?.each(|laid| laid_of(laid, [x, y]))?,
            correction: [x, y],
            follows,
        })
    }
}

impl Snapshot {
    /// The piece as its record would give it back: held against one that comes of a record, it then tells what it would tell of that of its
    /// own print, to the last bit.
    pub fn as_recorded(self) -> Snapshot {
        let again = |json: Json| serde_json::from_str::<Json>(&json.to_string()).ok();
        let wood = |wood: &Wood| again(wood_json(wood)).and_then(|json| wood_of(&At::root(&json)).ok());
        let given = |given: &Given| again(given_json(given)).and_then(|json| given_of(&At::root(&json)).ok());
        let parts = self.parts.into_iter().map(|one| wood(&one).unwrap_or(one)).collect();
        let numbers = self.numbers.into_iter().map(|one| given(&one).unwrap_or(one)).collect();
        Snapshot { parts, numbers, ..self }
    }
}

/// What became of printed patterns since.
#[derive(Debug, Clone)]
pub struct Since<'a> {
    record: &'a Record,
    now: &'a [Part],
    off: Vec<(&'a Part, f64)>,
    taken_as_right: &'a [String],
}

impl<'a> Since<'a> {
    /// Of those of a record, with the patterns as they are now.
    pub fn of(record: &'a Record, now: &'a [Part]) -> Since<'a> {
        Since { record, now, off: Vec::new(), taken_as_right: &[] }
    }

    /// With the sheets of patterns of some names taken as right, whatever printer they were made for.
    pub fn taking_as_right(self, names: &'a [String]) -> Since<'a> {
        Since { taken_as_right: names, ..self }
    }

    /// Whether a pattern is one of those.
    pub fn is_taken_as_right(&self, part: &Part) -> bool {
        self.taken_as_right.contains(&part.name)
    }

    /// With those counted as void that come out too long or too short on their sheets, if the printer draws as it is corrected for now,
    /// across and up. `size` is how wide and how high a pattern is, mm.
    pub fn printed_true(mut self, printer: [f64; 2], size: impl Fn(&Part) -> Option<(f64, f64)>) -> Since<'a> {
        let laid = self.record.laid.iter().flat_map(|laid| laid.shows.iter().map(move |part| (laid, part)));
        let off = laid.filter_map(|(laid, part)| {
            let too_long = laid.too_long(printer, size(part)?);
            let is_off = too_long.abs() > PRINTED_RIGHT && !self.is_taken_as_right(part);
            (is_off && self.is_now(part)).then_some((part, too_long))
        });
        self.off = off.collect();
        self
    }

    /// The printed patterns that are as they were and come out too long on their sheets, or too short where below 0: by how much, mm.
    pub fn off(&self) -> &[(&'a Part, f64)] {
        &self.off
    }

    /// The record of the print.
    pub fn record(&self) -> &'a Record {
        self.record
    }

    /// What lies on the bench once the sheets of a later print are laid to those that are still right; `digest` is that of this record.
    pub fn followed_by(&self, later: Record, digest: &str) -> Record {
        let again = |part: &Part| later.laid.iter().any(|laid| laid.shows.iter().any(|own| own.name == part.name));
        let good = self.record.laid.iter().filter_map(|laid| {
            let good = laid.shows.iter().filter(|part| self.stays(part) && !again(part));
            let shows: Vec<Part> = good.cloned().collect();
            let is_right = shows.iter().any(|part| self.is_taken_as_right(part));
            let correction = if is_right { later.correction } else { laid.correction };
            (!shows.is_empty()).then(|| LaidPattern { shows, correction, ..laid.clone() })
        });
        let laid = later.laid.iter().cloned().chain(good).collect();
        let follows = self.record.follows.iter().cloned().chain([digest.to_owned()]).collect();
        Record { laid, follows, ..later }
    }

    /// Whether a printed pattern is still right: there is one of its name and revision code, and it came out as long as it is.
    pub fn stays(&self, printed: &Part) -> bool {
        self.is_now(printed) && !self.off.iter().any(|(off, _)| *off == printed)
    }

    fn is_now(&self, printed: &Part) -> bool {
        self.now.iter().any(|now| (&now.name, &now.revision) == (&printed.name, &printed.revision))
    }

    /// Whether a pattern lies on the bench as it is now.
    pub fn is_printed(&self, now: &Part) -> bool {
        let mut printed = self.record.laid.iter().flat_map(|laid| &laid.shows).filter(|printed| self.stays(printed));
        printed.any(|printed| (&now.name, &now.revision) == (&printed.name, &printed.revision))
    }

    /// What was printed and is void, with what of it is: all that it shows, or some of the patterns that share it.
    pub fn void(&self) -> impl Iterator<Item = (&'a LaidPattern, Vec<&'a Part>)> + '_ {
        self.record.laid.iter().filter_map(|laid| {
            let void: Vec<&Part> = laid.shows.iter().filter(|part| !self.stays(part)).collect();
            (!void.is_empty()).then_some((laid, void))
        })
    }

    /// The printed patterns that are still right.
    pub fn good(&self) -> impl Iterator<Item = &'a Part> + '_ {
        self.record.laid.iter().flat_map(|laid| &laid.shows).filter(|part| self.stays(part))
    }
}

fn part_json(part: &Part) -> Json {
    json!([part.name, part.revision, part.code])
}

fn part_of(at: &At) -> Result<Part, Torn> {
    let [name, revision, code] = at.texts::<3>()?;
    Ok(Part { name, revision, code })
}

fn laid_json(laid: &LaidPattern) -> Json {
    let shows = laid.shows.iter().map(part_json).collect::<Vec<Json>>();
    let lie = laid.lie.map(|Lie { page, grid, shows }| json!([page, grid, shows]));
    json!({
        "part": part_json(&laid.part),
        "shows": shows,
        "sheets": laid.sheets,
        "correction": laid.correction,
        "lie": lie,
    })
}

/// What was laid, with the correction of the whole print: records of older programs do not say one of each.
fn laid_of(at: &At, correction: [f64; 2]) -> Result<LaidPattern, Torn> {
    let correction = match at.field("correction") {
        Ok(own) => own.numbers::<2>()?,
        Err(_) => correction,
    };
    let lie = match at.field("lie") {
        Ok(lie) if !lie.is_null() => Some(lie_of(&lie)?),
        _ => None,
    };
    Ok(LaidPattern {
        correction,
        lie,
        part: part_of(&at.field("part")?)?,
        shows: at.field("shows")?.each(part_of)?,
        sheets: at.field("sheets")?.each(|one| Ok(one.text()?.to_owned()))?,
    })
}

fn lie_of(at: &At) -> Result<Lie, Torn> {
    let grid = at.entry(1)?;
    Ok(Lie {
        page: at.entry(0)?.numbers::<2>()?,
        grid: [grid.entry(0)?.count()?, grid.entry(1)?.count()?],
        shows: at.entry(2)?.numbers::<4>()?,
    })
}

pub(super) fn given_json(given: &Given) -> Json {
    json!([given.pointer, given.words, unit(given.measures), given.value])
}

pub(super) fn given_of(at: &At) -> Result<Given, Torn> {
    let text = |index: usize| Ok(at.entry(index)?.text()?.to_owned());
    let all = [Measures::Length, Measures::Angle, Measures::Count, Measures::Share];
    let said = at.entry(2)?.text()?;
    let measures = all.into_iter().find(|one| unit(*one) == said).ok_or_else(|| at.torn("no such unit"))?;
    Ok(Given { pointer: text(0)?, words: text(1)?, measures, value: at.entry(3)?.number()? })
}

/// What a part is, as a record says it.
const DRAWN: &str = "drawn";

pub(super) fn wood_json(wood: &Wood) -> Json {
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

pub(super) fn wood_of(at: &At) -> Result<Wood, Torn> {
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
    let board = Board { thickness, edges, cuts: at.field("cuts")?.each(cut_of)?, keep, sides: super::wood::SIDES };
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
        worked: at.field("worked")?.each(worked_of)?,
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
