//! A part as wood: what of it a saw, a plane, a chisel or a drill makes, and nothing else.

use crate::board::{Board, Cut, Edge, EdgeName, PartRole, Role, SawCut, Solid, Source, Surface};
use crate::geometry::{Nearest, Path, Placement, Plane, Point, Point3, Segment, Vec3};
use crate::joinery::glue_lines;
use crate::model::top::Top;
use crate::model::{DrawnPattern, EdgeProfile, Half, edge_of};
use crate::pattern::{corner_words, edge_words};
use crate::piece::{SolvedBoard, plane_of, tongue_of};
use crate::solid::{Does, End, Feature, Prism, Shape, Why};
use crate::tolerance::SAME_PLACE;
use std::ops::Range;

/// What a part is: two parts are held against each other only where they are of one kind.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A board of the piece.
    Board(PartRole),
    /// A part that the file draws directly.
    Drawn,
}

/// A part as wood.
#[derive(Debug, Clone, PartialEq)]
pub struct Wood {
    /// Its key in its file.
    pub id: String,
    /// What it is.
    pub kind: Kind,
    /// What stands on its sheets.
    pub name: String,
    /// Which ones are made from it, each in a maker's words; none of a part that the file draws directly.
    pub copies: Vec<String>,
    /// How many are made, as its sheets say it.
    pub make: String,
    /// Its revision code.
    pub revision: String,
    /// What its face side and its far side are called.
    pub sides: [String; 2],
    /// Edges and cuts: each edge as a maker tells it, its landings in it.
    pub board: Board,
    /// Its exact shape as sawn.
    pub solid: Solid,
    /// What is worked in it beside its cuts.
    pub worked: Vec<Worked>,
    /// What is known by its numbers alone: profiles along edges, the boards of a glue-up.
    pub numbers: Vec<Numbered>,
    /// Diameters at its head, its foot and its tenon, mm, where it is turned.
    pub turned: Option<[f64; 3]>,
}

/// What something is that is worked in a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum What {
    /// Of a board of the piece, by what it is for.
    For(Why),
    /// An opening of a part that the file draws directly.
    Opening,
    /// A slot of one.
    Slot,
    /// A hole of one.
    Hole,
}

impl What {
    /// What the trade calls it.
    pub fn words(self) -> &'static str {
        match self {
            What::For(Why::Button) => "button mortise",
            What::For(why) => why.words(),
            What::Opening => "opening",
            What::Slot => "slot",
            What::Hole => "hole",
        }
    }
}

/// Something that is worked in a part beside its cuts.
#[derive(Debug, Clone, PartialEq)]
pub struct Worked {
    /// What it is.
    pub what: What,
    /// The joint to which it belongs, or the name that the file gives it; empty where it has neither.
    pub of: String,
    /// Which of those that are named alike, from 1.
    pub number: usize,
    /// The surface from which it goes in; `None` where it is none of the part's.
    pub on: Option<Surface>,
    /// Whether wood is added: a tenon that is left standing.
    pub stands: bool,
    /// The copies that have it, in a maker's words; none where all have it.
    pub copies: Vec<String>,
    /// What is taken away or added.
    pub shape: Shape,
}

/// Something of a part that is known by numbers.
#[derive(Debug, Clone, PartialEq)]
pub struct Numbered {
    /// What it is, and where: `profile, upper edge`.
    pub what: String,
    /// Of which kind; empty where what it is says that.
    pub kind: String,
    /// Its lengths, each with its name, mm.
    pub lengths: Vec<(String, f64)>,
}

/// How a part is known on its sheets.
#[derive(Debug, Clone)]
pub struct OnSheets {
    /// Its name.
    pub name: String,
    /// How many are made.
    pub make: String,
    /// Its revision code.
    pub revision: String,
}

impl Wood {
    /// A board of the piece, with what is worked along its edges and, of a top, its numbers; `None` where nothing is left of it.
    pub fn of_board(
        solved: &SolvedBoard,
        routed: Option<&DrawnPattern>,
        top: Option<&Top>,
        on_sheets: OnSheets,
    ) -> Option<Wood> {
        let board = known(&solved.board);
        let solid = board.solid().ok()?;
        let label = |copy: &usize| solved.copies.get(*copy).map(|copy| copy.label.clone());
        let worked = solved.worked_in().into_iter().filter_map(|one| {
            let all = one.feature.copies.as_ref().is_none_or(|some| some.len() == solved.copies.len());
            let copies = one.feature.copies.iter().filter(|_| !all).flatten().filter_map(label).collect();
            let on = one.on.map(|on| match solved.board.surface(on) {
                Surface::Edge { name, nth } => Surface::Edge { name: whatever_its_measures(&name), nth },
                side => side,
            });
            Worked::of(&one.feature, one.joint.unwrap_or_default(), on, copies)
        });
        let numbers = routed.into_iter().flat_map(profiles).chain(top.into_iter().flat_map(of_top));
        Some(Wood {
            id: solved.id.as_str().to_owned(),
            kind: Kind::Board(solved.role),
            copies: solved.copies.iter().map(|copy| copy.label.clone()).collect(),
            sides: solved.board.sides.map(str::to_owned),
            worked: numbered(worked.map(|one: Worked| one.seated(board.thickness)).collect()),
            numbers: numbers.collect(),
            turned: solved.turned.map(|turned| [turned.head, turned.foot, turned.tenon]),
            name: on_sheets.name,
            make: on_sheets.make,
            revision: on_sheets.revision,
            board,
            solid,
        })
    }

    /// A part that the file draws directly.
    pub fn of_drawn(drawn: &DrawnPattern, on_sheets: OnSheets) -> Option<Wood> {
        let (thickness, outline) = (drawn.thickness.mm(), drawn.built.outline.path());
        let edges = drawn_edges(drawn, outline.segments());
        let board = Board { thickness, edges, cuts: Vec::new(), keep: None, sides: SIDES };
        let solid = board.solid().ok()?;
        let openings =
            drawn.openings.iter().map(|one| Worked::through(What::Opening, "", one.what.path().clone(), thickness));
        let slots = drawn.slots.iter().map(|one| {
            Worked::through(What::Slot, one.what.label.as_deref().unwrap_or_default(), one.what.ring(), thickness)
        });
        let holes = drawn.holes.iter().map(|one| {
            let ring = Path::circle(one.what.at, one.what.diameter.mm() / 2.0);
            Worked::through(What::Hole, one.what.label.as_deref().unwrap_or_default(), ring, thickness)
        });
        Some(Wood {
            id: drawn.name.clone(),
            kind: Kind::Drawn,
            copies: Vec::new(),
            sides: SIDES.map(str::to_owned),
            worked: numbered(openings.chain(slots).chain(holes).collect()),
            numbers: profiles(drawn).collect(),
            turned: None,
            name: on_sheets.name,
            make: on_sheets.make,
            revision: on_sheets.revision,
            board,
            solid,
        })
    }

    /// The surfaces that its edges and cuts leave, in their order; of a turned part, whose square blank is only its beginning, the cuts.
    pub fn surfaces(&self) -> Vec<Source> {
        let edges = (0..self.board.edges.len()).map(Source::Edge).filter(|_| self.turned.is_none());
        let is_there = |source: &Source| self.solid.arris(*source).is_some_and(|arris| arris.face + arris.far > 0.0);
        let cuts = (0..self.board.cuts.len()).map(Source::Cut);
        edges.filter(is_there).chain(cuts.filter(|cut| self.is_sawn(*cut))).collect()
    }

    fn is_sawn(&self, cut: Source) -> bool {
        matches!(cut, Source::Cut(i) if self.solid.ends.get(i).is_some_and(|end| !end.rings.is_empty()))
    }

    /// What a maker calls one of its surfaces.
    pub fn name_of(&self, source: Source) -> String {
        self.corner_between(source).unwrap_or_else(|| self.called(&self.board.surface(source)))
    }

    /// What a maker calls a rounded corner of a board: by the edges that it lies between.
    fn corner_between(&self, source: Source) -> Option<String> {
        let edges = &self.board.edges;
        let Source::Edge(index) = source else { return None };
        let is_corner = |edge: &Edge| edge.name == EdgeName::Corner;
        if !matches!(self.kind, Kind::Board(_)) || !edges.get(index).is_some_and(is_corner) {
            return None;
        }
        let count = edges.len();
        let beside = [(index + count - 1) % count, (index + 1) % count].map(|index| &edges[index]);
        let [before, after] = beside.map(|edge| edge.name.words().into_owned());
        (!beside.into_iter().any(is_corner)).then(|| format!("corner between {before} and {after}"))
    }

    /// What a maker calls a surface of such a part.
    pub fn called(&self, surface: &Surface) -> String {
        match (surface, self.kind) {
            (Surface::Face, _) => self.sides[0].clone(),
            (Surface::Far, _) => self.sides[1].clone(),
            // As on the sheets of such a part.
            (Surface::Edge { name: EdgeName::Numbered { corner, .. }, .. }, Kind::Drawn) => corner_words(*corner),
            (Surface::Edge { .. }, _) => self.board.words_of(surface),
        }
    }

    /// Whether a file that says `name` means this part: names also stand as patterns and schedules write them, `top rail`.
    pub fn is_called(&self, name: &str) -> bool {
        self.id == name || self.id == name.replace(' ', "_") || self.name == name
    }

    /// How the saw is set for the cut that leaves a surface.
    pub fn saw(&self, source: Source) -> Option<SawCut> {
        let Source::Cut(index) = source else { return None };
        self.board.saw_cuts(&self.solid).into_iter().find(|saw| saw.cut == index)
    }
}

/// What the sides of a part are called that has no names of its own for them.
pub(super) const SIDES: [&str; 2] = ["face side", "far side"];

/// An edge as it is known whatever its measures are: one without a name by its number alone, for the corners between which it runs may
/// have moved.
fn whatever_its_measures(name: &EdgeName) -> EdgeName {
    match name {
        EdgeName::Numbered { corner, .. } => EdgeName::Numbered { corner: *corner, between: String::new() },
        _ => name.clone(),
    }
}

/// A board whose edges are those that a maker tells, by what they are.
fn known(board: &Board) -> Board {
    let edge = |edges: Range<usize>, name: &EdgeName| {
        let pieces = board.edges.get(edges).unwrap_or_default().iter().flat_map(|edge| edge.segments.iter().copied());
        Edge::new(whatever_its_measures(name), pieces.collect())
    };
    let cut = |cut: &Cut| Cut { against: None, nominal: None, ..cut.clone() };
    Board {
        edges: board.edge_runs().into_iter().map(|run| edge(run.edges, run.name)).collect(),
        cuts: board.cuts.iter().map(cut).collect(),
        sides: SIDES,
        ..board.clone()
    }
}

/// The outline of a drawn part by its edges as they are drawn: what lies on none of them rounds a corner, or is the edge of a shape
/// that was not drawn corner by corner.
fn drawn_edges(drawn: &DrawnPattern, outline: &[Segment]) -> Vec<Edge> {
    let drawn_as = &drawn.routing.edges;
    let name = |index: usize| {
        let edge = drawn_as.get(index)?;
        let numbered = EdgeName::Numbered { corner: edge.corner + 1, between: String::new() };
        Some(edge.name.clone().map_or(numbered, EdgeName::Given))
    };
    let middle = |piece: &Segment| piece.eval(0.5);
    let lines = Nearest::of_rings(drawn_as.iter().map(|edge| edge.path.segments()));
    let on = |p: Point| lines.to(p).filter(|near| near.distance < SAME_PLACE).map(|near| near.path);
    let mirrored = |p: Point| drawn.half.as_ref().and_then(|Half { about, .. }| on(about.map() * p));
    let named = |piece: &Segment| {
        let own = on(middle(piece)).and_then(name);
        let image = || {
            let of = mirrored(middle(piece)).and_then(name)?;
            Some(EdgeName::Given(format!("{}, mirrored", of.words())))
        };
        let otherwise = if drawn_as.is_empty() { EdgeName::Edge } else { EdgeName::Corner };
        own.or_else(image).unwrap_or(otherwise)
    };
    let mut edges: Vec<Edge> = Vec::new();
    for piece in outline {
        let name = named(piece);
        match edges.last_mut() {
            Some(last) if last.name == name => last.segments.push(*piece),
            _ => edges.push(Edge::new(name, vec![*piece])),
        }
    }
    edges
}

impl Worked {
    fn of(feature: &Feature, joint: &str, on: Option<Surface>, copies: Vec<String>) -> Option<Worked> {
        let (shape, stands) = match &feature.does {
            Does::Take(shape) => (shape.clone(), false),
            Does::Add(shape) => (shape.clone(), true),
            Does::Beyond(_) => return None,
        };
        let what = What::For(feature.id.why);
        Some(Worked { what, of: joint.to_owned(), number: feature.id.number, on, stands, copies, shape })
    }

    /// What goes square through a flat part.
    fn through(what: What, of: &str, outline: Path, thickness: f64) -> Worked {
        let frame = Placement::of_axes(Point3::ORIGIN, [Vec3::X, Vec3::Y, Vec3::Z]);
        let shape = Shape::Prism(Prism { outline, frame, ends: [End::To(-thickness), End::To(0.0)] });
        Worked { what, of: of.to_owned(), number: 0, on: None, stands: false, copies: Vec::new(), shape }
    }
}

/// Counts those that are named alike, in their order.
fn numbered(mut all: Vec<Worked>) -> Vec<Worked> {
    for index in 0..all.len() {
        let (before, rest) = all.split_at_mut(index);
        if let Some(own) = rest.first_mut() {
            let alike = |other: &&Worked| {
                (&other.what, &other.of, &other.on, &other.copies) == (&own.what, &own.of, &own.on, &own.copies)
            };
            own.number = 1 + before.iter().filter(alike).count();
        }
    }
    all
}

/// What is worked along the edges of a part.
fn profiles(part: &DrawnPattern) -> impl Iterator<Item = Numbered> + '_ {
    part.routing.profiles.iter().map(|worked| {
        let known =
            worked.edge.as_ref().and_then(|choice| part.routing.edges.get(edge_of(&part.routing.edges, choice)?));
        let name = known.and_then(|edge| edge.name.clone()).or_else(|| worked.edge.as_ref().map(edge_words));
        let what = format!("profile, {}", name.as_deref().unwrap_or("all round"));
        let (kind, lengths) = profile(&worked.profile);
        Numbered { what, kind: kind.to_owned(), lengths }
    })
}

/// What a profile is, and its lengths.
fn profile(of: &EdgeProfile) -> (&'static str, Vec<(String, f64)>) {
    let named = |all: &[(&str, f64)]| all.iter().map(|(name, mm)| ((*name).to_owned(), *mm)).collect();
    match of {
        EdgeProfile::RoundOver(radius) => ("round-over", named(&[("radius", radius.mm())])),
        EdgeProfile::Chamfer { across, down } => ("chamfer", named(&[("across", across.mm()), ("down", down.mm())])),
        EdgeProfile::Thumbnail { width, depth, step, .. } => {
            ("thumbnail", named(&[("width", width.mm()), ("depth", depth.mm()), ("step", step.mm())]))
        }
        EdgeProfile::Underbevel { across, up } => ("underbevel", named(&[("across", across.mm()), ("up", up.mm())])),
        EdgeProfile::Drawn(line) => {
            let bounds = line.bounding_box().unwrap_or_default();
            let sizes = [("across", bounds.width()), ("down", bounds.height()), ("along its line", line.length())];
            ("drawn profile", named(&sizes))
        }
        EdgeProfile::Arrises { face, far } => {
            let side = |side: &str, of: &EdgeProfile| {
                let (kind, lengths) = profile(of);
                lengths.into_iter().map(move |(name, mm)| (format!("{side} {kind} {name}"), mm)).collect::<Vec<_>>()
            };
            (
                "profiles on both arrises",
                side("face side's", face).into_iter().chain(side("far side's", far)).collect(),
            )
        }
    }
}

/// What of a top is known by its numbers: its boards and its breadboard ends.
fn of_top(top: &Top) -> Vec<Numbered> {
    let lines = glue_lines(top);
    let line = |(index, mm): (usize, &f64)| (format!("line {} from the middle", index + 1), *mm);
    let glued = (!lines.is_empty()).then(|| Numbered {
        what: "glue lines".to_owned(),
        kind: String::new(),
        lengths: lines.iter().enumerate().map(line).collect(),
    });
    let ends = top.breadboard.as_ref().map(|ends| Numbered {
        what: "breadboard ends".to_owned(),
        kind: String::new(),
        lengths: vec![
            ("width".to_owned(), ends.width.mm()),
            ("tongue's depth".to_owned(), ends.tongue_depth().mm()),
            ("tongue's thickness".to_owned(), tongue_of(top, ends)),
            ("pin".to_owned(), ends.pin.mm()),
        ],
    });
    glued.into_iter().chain(ends).collect()
}

/// The plane of a flat surface, or the line of an edge, in (u, v), that is square to the face.
#[derive(Debug, Clone, PartialEq)]
pub enum Skin {
    /// A plane, its normal out of the wood.
    Flat(Plane),
    /// A curved edge; its wood lies on its left.
    Curved(Path),
}

impl Wood {
    /// Whether a surface is a sawn end of it.
    pub fn is_end(&self, source: Source) -> bool {
        matches!(source, Source::Cut(index) if self.board.cuts.get(index).is_some_and(|cut| cut.role == Role::End))
    }

    /// Whether a tenon stands on one of its surfaces.
    pub fn has_tenon_on(&self, source: Source) -> bool {
        let on = self.board.surface(source);
        self.worked.iter().any(|one| one.stands && one.on.as_ref() == Some(&on))
    }

    /// Whether its size follows from numbers of base or top; of one that the file places or draws itself it does not.
    pub fn follows_numbers(&self) -> bool {
        matches!(self.kind, Kind::Board(role) if role != PartRole::Board)
    }

    /// What one of its surfaces is.
    pub fn skin(&self, source: Source) -> Option<Skin> {
        match (plane_of(&self.board, source), source) {
            (Some(plane), _) => Some(Skin::Flat(plane)),
            (None, Source::Edge(index)) => {
                self.board.edges.get(index).map(|edge| Skin::Curved(Path::open(edge.segments.clone())))
            }
            (None, _) => None,
        }
    }
}
