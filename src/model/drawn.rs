//! Flat parts drawn directly.

use super::laid::Laid;
use super::routing::Routing;
use crate::finding::{Place, data};
use crate::geometry::{Affine, Arc, Built, MirrorLine, Outline, Path, Point, Segment, Vec2};
use crate::units::{Angle, Length};

/// A flat part drawn directly.
#[derive(Debug, Clone)]
pub struct DrawnPattern {
    /// Its name.
    pub name: String,
    /// Where it stands in the file.
    pub place: Place,
    /// Thickness of the board, 0.1 mm to 500 mm.
    pub thickness: Length,
    /// How many are made, 1 to 1000.
    pub make: u32,
    /// What it is made of.
    pub material: Option<String>,
    /// Whether it is cut from a sheet that is never planed.
    pub sheet_goods: bool,
    /// Direction of the grain from x.
    pub grain: Option<Angle>,
    /// The outline.
    pub built: Built,
    /// Openings, inside the outline and apart from each other, mirror images among them.
    pub openings: Vec<Laid<Outline>>,
    /// How the part is halved, where only half of it is given.
    pub half: Option<Half>,
    /// Round holes, all inside the outline, mirror images among them.
    pub holes: Vec<Laid<Hole>>,
    /// Slots, all inside the outline, mirror images among them.
    pub slots: Vec<Laid<Slot>>,
    /// Lines, crosses and words on the part, mirror images among them.
    pub marks: Vec<Laid<Mark>>,
    /// What is routed by it.
    pub routing: Routing,
    /// What it is as a board of the piece; `None` for a part that the file draws directly.
    pub board: Option<AsBoard>,
    /// The drawing from which its outline comes, where it comes from one.
    pub drawing: Option<Drawing>,
}

/// A drawing of another file from which an outline comes.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawing {
    /// The file's name.
    pub name: String,
    /// From the part's axes, mm, to the drawing's own units, y down.
    pub to_own: Affine,
}

/// A place in a drawing of another file.
#[derive(Debug, Clone, PartialEq)]
pub struct InDrawing {
    /// The file's name.
    pub name: String,
    /// Where it lies there, in the drawing's own units, y down.
    pub at: Point,
}

impl Drawing {
    /// Where a place of the part lies in the drawing.
    pub fn place(&self, at: Point) -> InDrawing {
        InDrawing { name: self.name.clone(), at: self.to_own * at }
    }
}

data!(InDrawing);

/// What a template must say of a part that is a board of the piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct AsBoard {
    /// How many of those made are its mirror image.
    pub mirrored: u32,
    /// What its face side and its far side are called.
    pub sides: [&'static str; 2],
}

impl DrawnPattern {
    /// The closed edges of the part: its outline, then its openings.
    pub fn rings(&self) -> Vec<Path> {
        let openings = self.openings.iter().map(|opening| &opening.what);
        std::iter::once(&self.built.outline).chain(openings).map(|outline| outline.path().clone()).collect()
    }

    /// Everything that is routed through the part: its closed edges, then its slots. Holes are drilled.
    pub fn routed_rings(&self) -> Vec<Path> {
        self.rings().into_iter().chain(self.slots.iter().map(|slot| slot.what.ring())).collect()
    }

    /// Whether there is wood at a point; on an edge, to rounding, either may be said.
    pub fn holds(&self, point: Point) -> bool {
        self.built.outline.holds(point) && !self.openings.iter().any(|opening| opening.what.holds(point))
    }
}

/// How a part of which half is given is drawn and used.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Half {
    /// The mirror line.
    pub about: MirrorLine,
    /// Whether the whole part is drawn, or the half.
    pub show: HalfShow,
    /// What a half template is for.
    pub use_: HalfUse,
    /// How far a half template for the router runs straight on past the mirror line, 0 mm to 1000 mm.
    pub run_on: Length,
}

/// How much of a halved part is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HalfShow {
    /// Both halves.
    Whole,
    /// The half that is given.
    Half,
}

/// What a half template is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HalfUse {
    /// A pencil follows it: it stops at the mirror line.
    Tracing,
    /// A router's bearing follows it: it runs on past the mirror line.
    Router,
}

/// A round hole.
#[derive(Debug, Clone, PartialEq)]
pub struct Hole {
    /// Its centre, mm.
    pub at: Point,
    /// Its diameter.
    pub diameter: Length,
    /// What is written beside it.
    pub label: Option<String>,
}

/// A slot with round ends.
#[derive(Debug, Clone, PartialEq)]
pub struct Slot {
    /// The centre of its first end, mm.
    pub from: Point,
    /// The centre of its second end, mm.
    pub to: Point,
    /// Its width.
    pub width: Length,
    /// What is written beside it.
    pub label: Option<String>,
}

impl Slot {
    /// Its edge, anticlockwise.
    pub fn ring(&self) -> Path {
        let along = self.to - self.from;
        let (radius, length) = (self.width.mm() / 2.0, along.hypot());
        let along = if length > 0.0 { along / length } else { Vec2::new(1.0, 0.0) };
        let (side, turn) = (along.turn_90() * radius, along.atan2());
        let half =
            |center: Point, start: f64| Segment::Arc(Arc::circular(center, radius, start, std::f64::consts::PI));
        let quarter = std::f64::consts::FRAC_PI_2;
        Path::closed(vec![
            Segment::line(self.from - side, self.to - side),
            half(self.to, turn - quarter),
            Segment::line(self.to + side, self.from + side),
            half(self.from, turn + quarter),
        ])
    }
}

/// Something drawn on a part that is not cut.
#[derive(Debug, Clone, PartialEq)]
pub enum Mark {
    /// A line through at least two points, mm.
    Line {
        /// The points.
        points: Vec<Point>,
        /// What is written beside it.
        label: Option<String>,
    },
    /// A cross.
    Cross {
        /// Its centre, mm.
        at: Point,
        /// What is written beside it.
        label: Option<String>,
    },
    /// Words.
    Text {
        /// Where they begin, mm.
        at: Point,
        /// The words.
        words: String,
        /// Height of the capitals.
        height: Length,
        /// Direction of writing from x.
        angle: Angle,
    },
}
