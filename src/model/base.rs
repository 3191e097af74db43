//! Base and top: every number a length or an angle, every choice made.

use super::fixing::{Breadboard, Fasteners};
use super::round_leg::RoundLeg;
use super::wood::{Moisture, Wood};
use crate::geometry::{Built, MirrorLine, Point3, Vec3};
use crate::units::{Angle, Length};

/// A base of any kind.
#[derive(Debug, Clone, PartialEq)]
pub enum Base {
    /// Two leg frames that lean towards each other.
    LeaningFrames(Box<LeaningFrames>),
    /// Four legs splayed both ways, aprons between.
    SplayedLegs(Box<SplayedLegs>),
    /// Equal sides, sloping.
    SplayedBox(SplayedBox),
    /// Boards placed one by one.
    Boards(Vec<PlacedBoard>),
}

/// How a size over the legs is given.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Span {
    /// At the heads, in the plane of the base's upper end.
    AtTop(Length),
    /// At the floor.
    AtFloor(Length),
    /// By how far the top's rectangle stands over the heads, each side.
    Overhang(Length),
}

/// A line from one corner to the next.
#[derive(Debug, Clone, PartialEq, Default)]
pub enum Curve {
    /// Straight.
    #[default]
    Straight,
    /// An arc of a circle by its rise over the chord; above zero bulges out of the part.
    Rise(Length),
    /// A thin batten sprung through the corners and these points: distance along the chord, and out of the part.
    Batten(Vec<[Length; 2]>),
}

/// How a rail meets a curved leg.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Meets {
    /// The leg's edge is made flat over the landing.
    #[default]
    Flat,
    /// The rail's end follows the leg's curve.
    Scribed,
}

/// How an apron's lower edge is planed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum LowerEdge {
    /// Square to the apron's face.
    #[default]
    Square,
    /// Level.
    Level,
}

/// `kind: leaning_frames`.
#[derive(Debug, Clone, PartialEq)]
pub struct LeaningFrames {
    /// Floor to the upper face of the top (of the base, where there is no top).
    pub height: Length,
    /// Over the outside faces of the two frames.
    pub length: Span,
    /// Over the outside edges of a frame's two legs, along its outside face.
    pub width: Span,
    /// Tilt of each frame from plumb, heads towards the middle.
    pub lean: Angle,
    /// The legs.
    pub leg: FrameLeg,
    /// The rail between the heads.
    pub top_rail: Option<Rail>,
    /// The rail near the floor.
    pub bottom_rail: Option<Rail>,
    /// One each side between the frames.
    pub apron: Option<Apron>,
    /// On the centre line between the bottom rails.
    pub stretcher: Option<Stretcher>,
    /// Lean and twist of each frame, left and right, where they differ.
    pub frames: Option<[FrameTurn; 2]>,
}

/// A lean and a twist of one frame.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct FrameTurn {
    /// Its own lean; else the base's.
    pub lean: Option<Angle>,
    /// Turn about the plumb line through the middle of its outside face at the heads, positive anticlockwise from above.
    pub twist: Angle,
}

/// A leg of a leaning frame.
#[derive(Debug, Clone, PartialEq)]
pub struct FrameLeg {
    /// In the frame's outside face, from its centre line to the chord of the leg's outside edge, feet outward.
    pub splay: Angle,
    /// Thickness.
    pub thickness: Length,
    /// Width along the sawn head line of the outside face.
    pub head: Length,
    /// Width along the sawn foot line of the outside face.
    pub foot: Length,
    /// The edge towards the end of the frame.
    pub outside_edge: Curve,
    /// The edge towards the frame's other leg.
    pub inside_edge: Curve,
}

/// A rail of a leaning frame.
#[derive(Debug, Clone, PartialEq)]
pub struct Rail {
    /// Thickness.
    pub thickness: Length,
    /// Depth, square across the rail's face side.
    pub depth: Length,
    /// Plumb height of the face side's lower arris above the floor; the bottom rail's only.
    pub height: Length,
    /// Its face below the leg's outside face; centred in the leg's thickness where not given.
    pub set_back: Option<Length>,
    /// The lower edge.
    pub lower_edge: Curve,
    /// The upper edge; a bottom rail's only (a top rail's is planed level).
    pub upper_edge: Curve,
    /// How its ends meet curved legs.
    pub meets: Meets,
}

/// An apron.
#[derive(Debug, Clone, PartialEq)]
pub struct Apron {
    /// Thickness.
    pub thickness: Length,
    /// Depth, square across its outside face from its upper arris.
    pub depth: Length,
    /// Its upper edge below the heads.
    pub drop: Length,
    /// Its outside face in from the leg's edge or face.
    pub inset: Length,
    /// How the lower edge is planed.
    pub lower_edge: LowerEdge,
}

/// How a stretcher stands.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum Set {
    /// Faces plumb, edges bevelled by these angles (upper, lower; above zero: far side wider).
    Upright([Angle; 2]),
    /// Faces level.
    #[default]
    Flat,
}

/// A stretcher between the bottom rails of leaning frames.
#[derive(Debug, Clone, PartialEq)]
pub struct Stretcher {
    /// Thickness.
    pub thickness: Length,
    /// Depth.
    pub depth: Length,
    /// Plumb height of its lower edge (face side's lower arris) above the floor.
    pub height: Length,
    /// Upright or flat.
    pub set: Set,
}

/// `kind: splayed_legs`.
#[derive(Debug, Clone, PartialEq)]
pub struct SplayedLegs {
    /// Floor to the upper face of the top (of the base, where there is no top).
    pub height: Length,
    /// Between outermost arrises, along.
    pub length: Span,
    /// Between outermost arrises, across.
    pub width: Span,
    /// Splay as seen in the front view.
    pub splay_front: Angle,
    /// Splay as seen in the side view.
    pub splay_side: Angle,
    /// The legs.
    pub leg: SquareLeg,
    /// The long aprons.
    pub apron: Option<Apron>,
    /// The end aprons.
    pub end_apron: Option<Apron>,
    /// Stretchers.
    pub stretchers: Option<Stretchers>,
}

/// A leg of rectangular section.
#[derive(Debug, Clone, PartialEq)]
pub struct SquareLeg {
    /// In the front face, square to the arris.
    pub width: Length,
    /// Square to the front face.
    pub thickness: Length,
    /// Taper of the two inner faces.
    pub taper: Option<Taper>,
    /// How it is turned from its blank, where it is: width and thickness are then its diameter.
    pub round: Option<RoundLeg>,
}

/// A taper of a leg's two inner faces.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Taper {
    /// Where it begins, below the head point along the arris.
    pub from: Length,
    /// Width at the arris's foot point.
    pub foot_width: Length,
    /// Thickness at the arris's foot point.
    pub foot_thickness: Length,
}

/// How stretchers between splayed legs are laid out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Layout {
    /// Four, as the aprons.
    Box,
    /// Two along y and one between their middles.
    H,
}

/// Stretchers between splayed legs.
#[derive(Debug, Clone, PartialEq)]
pub struct Stretchers {
    /// The layout.
    pub layout: Layout,
    /// Thickness.
    pub thickness: Length,
    /// Depth.
    pub depth: Length,
    /// Height of the lower outside arris above the floor.
    pub height: Length,
    /// Outside face in from the leg's face, for a box of stretchers; centred in the leg where not given.
    pub inset: Option<Length>,
}

/// How the size of a box is given.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BoxSize {
    /// Length of a side's lower outside arris.
    Side(Length),
    /// Between opposite lower outside arrises.
    Across(Length),
}

/// How the edges of a box are planed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum BoxEdges {
    /// Both level.
    #[default]
    Level,
    /// Both square to the face.
    Square,
}

/// How the corners of a box are joined.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Corner {
    /// In the plane that bisects the two boards.
    #[default]
    Mitred,
    /// Boards 1 and 3 run through, 2 and 4 end against them; four sides only.
    Butted,
}

/// `kind: splayed_box`.
#[derive(Debug, Clone, PartialEq)]
pub struct SplayedBox {
    /// Number of sides.
    pub sides: u32,
    /// The size at the lower outside arrises.
    pub size: BoxSize,
    /// From plumb; above zero is wider at the top.
    pub slope: Angle,
    /// Up the outside face.
    pub depth: Length,
    /// Thickness.
    pub thickness: Length,
    /// How the edges are planed.
    pub edges: BoxEdges,
    /// How the corners are joined.
    pub corner: Corner,
}

/// A board of `kind: boards`.
#[derive(Debug, Clone, PartialEq)]
pub struct PlacedBoard {
    /// Its key in the file.
    pub id: String,
    /// Thickness.
    pub thickness: Length,
    /// The outline in (u, v), before cuts.
    pub outline: Built,
    /// Name of each edge, in the order of the outline's nodes.
    pub edge_names: Vec<Option<String>>,
    /// The outline's origin on the face side, in the world, mm.
    pub at: Point3,
    /// Direction of u.
    pub along: Vec3,
    /// Direction of w.
    pub face: Vec3,
    /// How many are made.
    pub make: u32,
    /// The cuts, in order.
    pub cuts: Vec<PlacedCut>,
    /// A world point of the part to keep, mm.
    pub keep: Option<Point3>,
}

/// A cut of a board of `kind: boards`.
#[derive(Debug, Clone, PartialEq)]
pub enum PlacedCut {
    /// At a height above the floor.
    Level(Length),
    /// Through a world point, mm, square to a direction.
    Plane {
        /// A point of the plane.
        through: Point3,
        /// Its normal, either way.
        normal: Vec3,
    },
    /// Along a plane of another board before its cuts.
    Against {
        /// The other board's key.
        board: String,
        /// Which plane of it.
        surface: Surface,
    },
}

/// A plane of an uncut board.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Surface {
    /// Its face side.
    Face,
    /// Its far side.
    Far,
    /// The edge of this name.
    Edge(String),
}

/// How wide boards are sawn from the log.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Sawn {
    /// Rings roughly along the face.
    #[default]
    Flat,
    /// Rings roughly square to the face.
    Quarter,
}

/// The shape of a top.
#[derive(Debug, Clone, PartialEq, Default)]
pub enum TopShape {
    /// Four edges, each straight or bowed.
    #[default]
    Bowed,
    /// The ellipse inscribed in the rectangle.
    Oval,
    /// A circle.
    Round,
}

/// The top.
#[derive(Debug, Clone, PartialEq)]
pub struct Top {
    /// Along the grain.
    pub length: Length,
    /// Across the grain.
    pub width: Length,
    /// Thickness.
    pub thickness: Length,
    /// The wood.
    pub species: Option<Wood>,
    /// Between which moisture contents it moves.
    pub moisture: Option<Moisture>,
    /// How its boards are sawn.
    pub sawn: Sawn,
    /// Its shape.
    pub shape: TopShape,
    /// The two edges along x.
    pub long_edges: Curve,
    /// The two edges along y.
    pub short_edges: Curve,
    /// Radius of its corners.
    pub corner_radius: Option<Length>,
    /// Widths of the boards it is glued up from.
    pub glue_up: Vec<Length>,
    /// What is worked along its edge, in words.
    pub edge_profile: Option<String>,
    /// What holds it to the base.
    pub fasteners: Option<Fasteners>,
    /// The pieces across its ends.
    pub breadboard: Option<Breadboard>,
    /// The line at which a half template of it for the router is turned over.
    pub half_template: Option<MirrorLine>,
}
