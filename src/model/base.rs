//! The base: every number a length or an angle, every choice made.

use super::field::{Field, Numbers, choice, record};
use super::number::{Pointer, Slot};
use super::placed::PlacedBoard;
use super::round_leg::RoundLeg;
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

impl Numbers for Base {
    fn each(&mut self, fields: &'static [Field], object: &Pointer, visit: &mut dyn FnMut(&Pointer, Slot)) {
        match self {
            Base::LeaningFrames(frames) => frames.each(fields, object, visit),
            Base::SplayedLegs(legs) => legs.each(fields, object, visit),
            Base::SplayedBox(sides) => sides.each(fields, object, visit),
            // Boards placed one by one are drawn rather than sized: their outlines are built already.
            Base::Boards(_) => {}
        }
    }
}

/// How a size over the legs is given.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Span {
    /// At the heads, in the plane of the base's upper end.
    AtTop(Length),
    /// At the floor.
    AtFloor(Length),
    /// By how far the top's rectangle stands over the heads, each side: the base's [`Overhang`].
    Overhang,
}

/// Stands in the first of its fields, or the second, or in none.
impl Numbers for Span {
    fn each(&mut self, fields: &'static [Field], object: &Pointer, visit: &mut dyn FnMut(&Pointer, Slot)) {
        match self {
            Span::AtTop(length) => length.each(fields, object, visit),
            Span::AtFloor(length) => length.each(after(fields), object, visit),
            Span::Overhang => {}
        }
    }
}

/// The fields after the first.
fn after(fields: &'static [Field]) -> &'static [Field] {
    fields.get(1..).unwrap_or(fields)
}

/// How far the top's rectangle stands over the heads on each side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Overhang {
    /// The same all round.
    Even(Length),
    /// Of their own.
    Two(TwoOverhangs),
}

impl Overhang {
    /// Over the ends, along the length.
    pub fn ends(self) -> Length {
        match self {
            Overhang::Even(over) => over,
            Overhang::Two(two) => two.ends,
        }
    }

    /// Over the sides, across.
    pub fn sides(self) -> Length {
        match self {
            Overhang::Even(over) => over,
            Overhang::Two(two) => two.sides,
        }
    }
}

impl Numbers for Overhang {
    fn each(&mut self, fields: &'static [Field], object: &Pointer, visit: &mut dyn FnMut(&Pointer, Slot)) {
        match self {
            Overhang::Even(over) => over.each(fields, object, visit),
            Overhang::Two(two) => two.each(fields, object, visit),
        }
    }
}

record! {
    ($) two_overhangs TwoOverhangsText
    /// An overhang of the ends and one of the sides.
    #[derive(Copy)]
    TwoOverhangs {
        ends: Length = "Ends", "over the ends, along the length.", Length -2000.0..=2000.0 (Overhang), "190";
        sides: Length = "Sides", "over the sides, across.", Length -2000.0..=2000.0 (Overhang), "130";
    }
}

/// Tilt of the frames from plumb, heads towards the middle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lean {
    /// The angle.
    pub angle: Angle,
    /// Whether the file calls it a rake.
    pub is_rake: bool,
}

impl From<Angle> for Lean {
    fn from(angle: Angle) -> Lean {
        Lean { angle, is_rake: false }
    }
}

impl Numbers for Lean {
    fn each(&mut self, fields: &'static [Field], object: &Pointer, visit: &mut dyn FnMut(&Pointer, Slot)) {
        self.angle.each(if self.is_rake { after(fields) } else { fields }, object, visit);
    }
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

/// How a curve's rise stands in the file.
impl Numbers for Curve {
    fn each(&mut self, fields: &'static [Field], object: &Pointer, visit: &mut dyn FnMut(&Pointer, Slot)) {
        match self {
            Curve::Straight => {}
            Curve::Rise(rise) => {
                let mut edge = RiseEdge { rise: *rise };
                edge.each(fields, object, visit);
                *rise = edge.rise;
            }
            Curve::Batten(points) => {
                let mut line = BattenLine { batten: std::mem::take(points) };
                line.each(fields, object, visit);
                *points = line.batten;
            }
        }
    }
}

record! {
    ($) rise_edge RiseEdgeText
    /// An arc of a circle by its rise.
    RiseEdge {
        rise: Length = "Rise", "height of the arc over its chord; positive bulges out of the part.", Length -10000.0..=10000.0 (Rise), "20";
    }
}

record! {
    ($) batten_line BattenLineText
    /// A thin batten sprung through the line's two ends and these points.
    BattenLine {
        batten: Vec<[Length; 2]> = "Batten", "its points: how far along, and how far out of the part.", Length -20000.0..=20000.0, "[[300, 12]]";
    }
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

choice!(Meets { "flat" => Meets::Flat, "scribed" => Meets::Scribed });

/// How an apron's lower edge is planed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum LowerEdge {
    /// Square to the apron's face.
    #[default]
    Square,
    /// Level.
    Level,
}

choice!(LowerEdge { "square" => LowerEdge::Square, "level" => LowerEdge::Level });

record! {
    ($) leaning_frames LeaningFramesText
    /// Two leg frames that lean towards each other.
    LeaningFrames {
        height: Length = "Height", "floor to the upper face of the top (to the heads, where there is no top).", Length 20.0..=5000.0, "745";
        length: Span = as "length_at_top", "Length at the top" called "length at the top", "Over the outside faces of the two frames, level with the heads.", Length 20.0..=10000.0, "1420"
            | as "length_at_floor", "Length at the floor" called "length at the floor", "Over the outside faces of the two frames at the floor.", Length 20.0..=10000.0, "1620";
        width: Span = as "width_at_top", "Width at the top" called "width at the top", "Over the outside edges of a frame's two legs, level with the heads.", Length 20.0..=10000.0, "640"
            | as "width_at_floor", "Width at the floor" called "width at the floor", "Over the outside edges of a frame's two legs at the floor.", Length 20.0..=10000.0, "950";
        overhang: Option<Overhang> = "Overhang", "How far the top's rectangle stands over the heads on each side, instead of a length or width.", Length -2000.0..=2000.0 (Overhang), "190";
        lean: Lean = as "lean", "Lean", "Each frame's tilt from plumb, heads towards the middle; 0 unless given.", Angle -75.0..=75.0, "8"
            | as "rake", "Rake", "Another word for lean.", Angle -75.0..=75.0, "8";
        leg: FrameLeg = "Legs", "the legs of both frames.", "{ \"thickness\": 40, \"head\": 95, \"foot\": 60 }";
        top_rail: Option<TopRail> = "Top rail", "The rail between the heads of a frame.", "{ \"thickness\": 30, \"depth\": 75 }";
        bottom_rail: Option<BottomRail> = "Bottom rail", "The rail near the floor.", "{ \"thickness\": 30, \"depth\": 70, \"height\": 140 }";
        apron: Option<Apron> = "Aprons", "One each side between the frames.", "{ \"thickness\": 25, \"depth\": 85 }";
        stretcher: Option<Stretcher> = "Stretcher", "On the centre line between the bottom rails.", "{ \"thickness\": 25, \"depth\": 45, \"height\": 148 }";
        frames: Option<[FrameTurn; 2]> = "Frames", "What tells the two frames apart.", "{ \"left\": { \"lean\": 6 } }";
    }
}

record! {
    ($) frame_leg FrameLegText
    /// A leg of a leaning frame.
    FrameLeg {
        splay: Angle, or Angle::ZERO = "Splay", "In the frame's outside face, feet outward, from its centre line to the outside edge; 0 unless given.", Angle -75.0..=75.0, "12";
        thickness: Length = "Thickness", "how thick the legs are.", Length 1.0..=1000.0 (Section) of stock, "40";
        head: Length = "Head", "width along the sawn head line.", Length 1.0..=2000.0, "95";
        foot: Length = "Foot", "width along the sawn foot line.", Length 1.0..=2000.0, "60";
        outside_edge: Curve, or Curve::Straight = "Outside edge", "The edge towards the end of the frame; straight unless given. A batten's points run along the chord from the head.", "{ \"rise\": 12 }";
        inside_edge: Curve, or Curve::Straight = "Inside edge", "The edge towards the other leg; straight unless given.", "{ \"rise\": -8 }";
    }
}

record! {
    ($) top_rail TopRailText
    /// The rail between the heads of a leaning frame.
    TopRail {
        thickness: Length = "Thickness", "how thick the rail is.", Length 1.0..=1000.0 (Section) of stock, "30";
        depth: Length = "Depth", "square across the rail's face side.", Length 1.0..=2000.0 (Section), "75";
        set_back: Option<Length> = "Set back", "Its face below the leg's outside face; centred in the leg unless given.", Length 0.0..=1000.0 (Less), "5";
        lower_edge: Curve, or Curve::Straight = "Lower edge", "The lower edge; straight unless given.", "{ \"rise\": -20 }";
        meets: Meets, or Meets::Flat = "Meets", "How it meets curved legs: \"flat\" (unless given) or \"scribed\".", "\"flat\"";
    }
}

impl LeaningFrames {
    /// How far the face of a rail that is so thick lies below the outside face of its leg: as given, else so far that the rail is centred
    /// in the leg.
    pub fn set_back(&self, given: Option<Length>, thickness: Length) -> Length {
        given.unwrap_or_else(|| Length::from_mm((self.leg.thickness.mm() - thickness.mm()) / 2.0))
    }

    /// The same with the set-back of each rail, where none is given, written down as what it then is.
    pub fn spelt_out(&self) -> LeaningFrames {
        let mut spelt = self.clone();
        if let Some(rail) = &mut spelt.top_rail {
            rail.set_back = Some(self.set_back(rail.set_back, rail.thickness));
        }
        if let Some(rail) = &mut spelt.bottom_rail {
            rail.set_back = Some(self.set_back(rail.set_back, rail.thickness));
        }
        spelt
    }
}

record! {
    ($) bottom_rail BottomRailText
    /// The rail near the floor of a leaning frame.
    BottomRail {
        thickness: Length = "Thickness", "how thick the rail is.", Length 1.0..=1000.0 (Section) of stock, "30";
        depth: Length = "Depth", "square across the rail's face side.", Length 1.0..=2000.0 (Section), "70";
        height: Length = "Height", "of its face side's lower arris, plumb above the floor.", Length 0.0..=5000.0, "140";
        set_back: Option<Length> = "Set back", "Its face below the leg's outside face; centred in the leg unless given.", Length 0.0..=1000.0 (Less), "5";
        lower_edge: Curve, or Curve::Straight = "Lower edge", "The lower edge; straight unless given.", "{ \"rise\": -20 }";
        upper_edge: Curve, or Curve::Straight = "Upper edge", "The upper edge; straight unless given.", "{ \"rise\": 10 }";
        meets: Meets, or Meets::Flat = "Meets", "How it meets curved legs: \"flat\" (unless given) or \"scribed\".", "\"flat\"";
    }
}

/// Along what an apron's outside face lies, seen in the plane of a leaning frame.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum Slope {
    /// Parallel to the chord of the leg's outside edge over the apron's depth.
    #[default]
    Chord,
    /// At the leg's splay, whatever its edge does.
    Splay,
    /// At an angle told as a splay is.
    At(Angle),
}

/// An angle that is told is a number of the file.
impl Numbers for Slope {
    fn each(&mut self, fields: &'static [Field], object: &Pointer, visit: &mut dyn FnMut(&Pointer, Slot)) {
        if let Slope::At(angle) = self {
            angle.each(fields, object, visit);
        }
    }
}

record! {
    ($) apron ApronText
    /// An apron.
    Apron {
        thickness: Length = "Thickness", "how thick the apron is.", Length 1.0..=1000.0 (Section) of stock, "25";
        depth: Length = "Depth", "square across its outside face from its upper arris.", Length 1.0..=2000.0 (Section), "85";
        drop: Length, or Length::ZERO = "Drop", "Its upper edge below the heads; 0 unless given.", Length 0.0..=2000.0 (Less), "0";
        inset: Length, or Length::ZERO = "Inset", "Its outside face in from the leg; 0 unless given.", Length -500.0..=2000.0 (Inset), "5";
        lower_edge: LowerEdge, or LowerEdge::Square = "Lower edge", "\"square\" to the face (unless given) or \"level\".", "\"level\"";
        slope: Slope, or Slope::Chord = "Slope", "Of an apron between leaning frames its outside face, seen as the leg's splay is: \"chord\" (unless given) lies along the leg's outside edge over its depth, \"splay\" at the leg's splay whatever the edge does, or an angle.", Angle -75.0..=75.0, "\"splay\"";
    }
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

/// The bevels stand in the second of its fields.
impl Numbers for Set {
    fn each(&mut self, fields: &'static [Field], object: &Pointer, visit: &mut dyn FnMut(&Pointer, Slot)) {
        if let Set::Upright(both) = self {
            let mut bevels = EdgeBevels { upper: both[0], lower: both[1] };
            bevels.each(after(fields), object, visit);
            *both = [bevels.upper, bevels.lower];
        }
    }
}

record! {
    ($) stretcher StretcherText
    /// A stretcher between the bottom rails of leaning frames.
    Stretcher {
        thickness: Length = "Thickness", "how thick the stretcher is.", Length 1.0..=1000.0 (Section) of stock, "25";
        depth: Length = "Depth", "across its face.", Length 1.0..=2000.0 (Section), "45";
        height: Length = "Height", "of its lower edge above the floor.", Length 0.0..=5000.0, "148";
        set: Set = "Set", "\"upright\" (unless given) or \"flat\".", "\"upright\""
            | as "edge_bevels", "Edge bevels", "Bevels of an upright stretcher's edges.", "{ \"upper\": 8 }";
    }
}

record! {
    ($) edge_bevels EdgeBevelsText
    /// Bevels of an upright stretcher's edges; above zero the far side is wider.
    #[derive(Copy)]
    EdgeBevels {
        upper: Angle, or Angle::ZERO = "Upper", "Of the upper edge; 0 unless given.", Angle -60.0..=60.0, "8";
        lower: Angle, or Angle::ZERO = "Lower", "Of the lower edge; 0 unless given.", Angle -60.0..=60.0, "8";
    }
}

/// The left frame and the right one.
impl Numbers for [FrameTurn; 2] {
    fn each(&mut self, fields: &'static [Field], object: &Pointer, visit: &mut dyn FnMut(&Pointer, Slot)) {
        let mut frames = Frames { left: self[0], right: self[1] };
        frames.each(fields, object, visit);
        *self = [frames.left, frames.right];
    }
}

record! {
    ($) frames FramesText
    /// What tells two leaning frames apart.
    #[derive(Copy)]
    Frames {
        left: FrameTurn, or FrameTurn::NONE = "Left", "The left frame.", "{ \"lean\": 6 }";
        right: FrameTurn, or FrameTurn::NONE = "Right", "The right frame.", "{ \"twist\": 2 }";
    }
}

record! {
    ($) frame_turn FrameTurnText
    /// A lean and a twist of one frame.
    #[derive(Copy, Default)]
    FrameTurn {
        lean: Option<Angle> = "Lean", "Its own lean; the base's unless given.", Angle -75.0..=75.0, "6";
        twist: Angle, or Angle::ZERO = "Twist", "Turn about the plumb line through the middle of its outside face at the heads, anticlockwise from above; 0 unless given.", Angle -75.0..=75.0, "2";
    }
}

impl FrameTurn {
    /// As the other frame.
    pub const NONE: FrameTurn = FrameTurn { lean: None, twist: Angle::ZERO };
}

record! {
    ($) splayed_legs SplayedLegsText
    /// Four legs splayed both ways, aprons between.
    SplayedLegs {
        height: Length = "Height", "floor to the upper face of the top (to the heads, where there is no top).", Length 20.0..=5000.0, "450";
        length: Span = as "length_at_top", "Length at the top" called "length at the top", "Between outermost arrises, level with the heads.", Length 20.0..=10000.0, "500"
            | as "length_at_floor", "Length at the floor" called "length at the floor", "Between outermost arrises at the floor.", Length 20.0..=10000.0, "600";
        width: Span = as "width_at_top", "Width at the top" called "width at the top", "Between outermost arrises, level with the heads.", Length 20.0..=10000.0, "360"
            | as "width_at_floor", "Width at the floor" called "width at the floor", "Between outermost arrises at the floor.", Length 20.0..=10000.0, "420";
        overhang: Option<Overhang> = "Overhang", "How far the top's rectangle stands over the heads on each side, instead of a length or width.", Length -2000.0..=2000.0 (Overhang), "60";
        splay_front: Angle, or Angle::ZERO = "Splay, front view", "Splay as seen in the front view; 0 unless given.", Angle -75.0..=75.0, "10";
        splay_side: Angle, or Angle::ZERO = "Splay, side view", "Splay as seen in the side view; 0 unless given.", Angle -75.0..=75.0, "6";
        leg: SquareLeg = "Legs", "the legs.", "{ \"width\": 42, \"thickness\": 38 }";
        apron: Option<Apron> = "Aprons", "The long aprons.", "{ \"thickness\": 20, \"depth\": 90, \"inset\": 4 }";
        end_apron: Option<Apron> = "End aprons", "The aprons at the ends.", "{ \"thickness\": 20, \"depth\": 90, \"inset\": 6 }";
        stretchers: Option<Stretchers> = "Stretchers", "Stretchers between the legs.", "{ \"layout\": \"h\", \"thickness\": 18, \"depth\": 25, \"height\": 120 }";
    }
}

record! {
    ($) square_leg SquareLegText
    /// A leg of rectangular section.
    SquareLeg {
        section: Section = as "width", "Width", "In the front face, square to the outermost arris; of every leg that is not round.", Length 1.0..=1000.0 of stock, "42"
            | as "thickness", "Thickness", "Square to the front face; of every leg that is not round.", Length 1.0..=1000.0 (Section) of stock, "38"
            | as "round", "Round", "Turned legs, drilled into the top, without aprons: length and width of the base are then between the legs' centre lines.", "{ \"diameter\": 38, \"tenon\": 25 }";
        taper: Option<Taper> = "Taper", "Taper of the two inner faces.", "{ \"from\": 120, \"foot_width\": 26, \"foot_thickness\": 24 }";
    }
}

/// The section of a leg, or of the blank that it is turned from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Section {
    /// A rectangle.
    Square {
        /// In the front face, square to the arris.
        width: Length,
        /// Square to the front face.
        thickness: Length,
    },
    /// Turned from a square blank.
    Round(RoundLeg),
}

/// Width, thickness and the turned leg each have a field.
impl Numbers for Section {
    fn each(&mut self, fields: &'static [Field], object: &Pointer, visit: &mut dyn FnMut(&Pointer, Slot)) {
        match self {
            Section::Square { width, thickness } => {
                width.each(fields, object, visit);
                thickness.each(after(fields), object, visit);
            }
            Section::Round(leg) => leg.each(after(after(fields)), object, visit),
        }
    }
}

impl SquareLeg {
    /// In the front face, square to the arris; of a turned leg its diameter.
    pub fn width(&self) -> Length {
        match self.section {
            Section::Square { width, .. } => width,
            Section::Round(leg) => leg.diameter,
        }
    }

    /// Square to the front face; of a turned leg its diameter.
    pub fn thickness(&self) -> Length {
        match self.section {
            Section::Square { thickness, .. } => thickness,
            Section::Round(leg) => leg.diameter,
        }
    }

    /// How it is turned from its blank, where it is.
    pub fn round(&self) -> Option<RoundLeg> {
        match self.section {
            Section::Square { .. } => None,
            Section::Round(leg) => Some(leg),
        }
    }
}

record! {
    ($) taper TaperText
    /// A taper of a leg's two inner faces.
    #[derive(Copy)]
    Taper {
        from: Length = "From" called "start", "where it begins, below the head point along the arris.", Length 1.0..=5000.0, "120";
        foot_width: Length = "Foot width", "width at the arris's foot point.", Length 1.0..=1000.0, "26";
        foot_thickness: Length = "Foot thickness", "thickness at the arris's foot point.", Length 1.0..=1000.0, "24";
    }
}

/// How stretchers between splayed legs are laid out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Layout {
    /// Four, as the aprons.
    Box,
    /// Two along y and one between their middles.
    H,
}

choice!(Layout { "box" => Layout::Box, "h" => Layout::H });

record! {
    ($) stretchers StretchersText
    /// Stretchers between splayed legs.
    Stretchers {
        layout: Layout = "Layout", "\"box\" (four, as the aprons) or \"h\" (two across and one between their middles).", "\"h\"";
        thickness: Length = "Thickness", "how thick they are.", Length 1.0..=1000.0 (Section) of stock, "18";
        depth: Length = "Depth", "across their faces.", Length 1.0..=2000.0 (Section), "25";
        height: Length = "Height", "of their lower outside arris above the floor.", Length 0.0..=5000.0, "120";
        inset: Option<Length> = "Inset", "Outside face in from the leg's face, for a box; centred unless given.", Length 0.0..=1000.0 (Inset), "8";
    }
}

/// How the size of a box is given.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BoxSize {
    /// Length of a side's lower outside arris.
    Side(Length),
    /// Between opposite lower outside arrises.
    Across(Length),
}

/// Stands in one of its two fields.
impl Numbers for BoxSize {
    fn each(&mut self, fields: &'static [Field], object: &Pointer, visit: &mut dyn FnMut(&Pointer, Slot)) {
        match self {
            BoxSize::Side(length) => length.each(fields, object, visit),
            BoxSize::Across(length) => length.each(after(fields), object, visit),
        }
    }
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

choice!(BoxEdges { "level" => BoxEdges::Level, "square" => BoxEdges::Square });

/// How the corners of a box are joined.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Corner {
    /// In the plane that bisects the two boards.
    #[default]
    Mitred,
    /// Boards 1 and 3 run through, 2 and 4 end against them; four sides only.
    Butted,
}

choice!(Corner { "mitred" => Corner::Mitred, "butted" => Corner::Butted });

record! {
    ($) splayed_box SplayedBoxText
    /// A box of equal sides that slope.
    SplayedBox {
        sides: u32 = "Sides", "how many sides.", Number 3.0..=100.0, "4";
        size: BoxSize = as "side", "Side", "Length of a side's lower outside arris.", Length 1.0..=10000.0, "300"
            | as "across", "Across", "Between opposite lower outside arrises, of an even number of sides.", Length 1.0..=10000.0, "300";
        slope: Angle = "Slope", "of the sides from plumb; positive is wider at the top.", Angle -75.0..=75.0, "15";
        depth: Length = "Depth", "up the outside face.", Length 1.0..=5000.0 (Section), "150";
        thickness: Length = "Thickness", "how thick the sides are.", Length 0.1..=1000.0 (Section) of stock, "18";
        edges: BoxEdges, or BoxEdges::Level = "Edges", "\"level\" (unless given) or \"square\" to the face.", "\"level\"";
        corner: Corner, or Corner::Mitred = "Corners", "\"mitred\" (unless given) or, of four sides, \"butted\".", "\"mitred\"";
    }
}
