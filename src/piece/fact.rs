//! What was found out by number: of the whole, of a board, of an aid.

use crate::board::PartRole;
use crate::units::{Angle, Length};

/// Names each fact, with how scripts call it.
macro_rules! names {
    ($($(#[$doc:meta])* $name:ident => $key:literal,)*) => {
        /// What was found out.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        pub enum FactName {
            $($(#[$doc])* $name,)*
        }

        impl FactName {
            /// How scripts call it: `knee_height`.
            pub const fn key(self) -> &'static str {
                match self {
                    $(FactName::$name => $key,)*
                }
            }
        }
    };
}

names! {
    /// Floor to head up the slope of a frame's outside face.
    SlopeHeight => "slope_height",
    /// A leg's outside edge along its line.
    OutsideEdge => "outside_edge",
    /// A leg's head along the sawn line.
    HeadAlong => "head_along",
    /// A leg's head square across from its outside edge.
    HeadSquare => "head_square",
    /// A leg's foot along the sawn line.
    FootAlong => "foot_along",
    /// A leg's foot square across from its outside edge.
    FootSquare => "foot_square",
    /// Between the chord of a leg's inside edge and its frame's centre line.
    InsideEdgeAngle => "inside_edge_angle",
    /// The largest gap between a flat landing and the leg's curve.
    LandingGap => "landing_gap",
    /// Between an apron's outside face and plumb.
    FaceFromPlumb => "face_from_plumb",
    /// How far a leg's curve stands off the chord that an apron follows.
    ChordGap => "chord_gap",
    /// How far from a leg's edge an apron of another slope stands at its lower arris.
    LeavesEdge => "leaves_edge",
    /// How far an apron's lower arris misses its inset.
    InsetError => "inset_error",
    /// Floor to heads.
    BaseHeight => "base_height",
    /// Length over the base at its heads.
    LengthAtTop => "length_at_top",
    /// Width over the base at its heads.
    WidthAtTop => "width_at_top",
    /// Length of the base on the floor.
    FootprintLength => "footprint_length",
    /// Width of the base on the floor.
    FootprintWidth => "footprint_width",
    /// Of two tilts together.
    Resultant => "resultant",
    /// Between the plane in which a leg leans and that of the front view.
    Sightline => "sightline",
    /// Where a taper begins below the head.
    TaperFrom => "taper_from",
    /// Width at a tapered foot.
    FootWidth => "foot_width",
    /// Thickness at a tapered foot.
    FootThickness => "foot_thickness",
    /// A turned leg from its shoulder to the floor.
    CentreLine => "centre_line",
    /// A leg's outermost arris.
    Arris => "arris",
    /// How far an end apron lies behind the leg's side face.
    EndApronReveal => "end_apron_reveal",
    /// Height of a box.
    Height => "height",
    /// A side of a box at its lower outside arris.
    SideAtBottom => "side_at_bottom",
    /// A side of a box at its upper outside arris.
    SideAtTop => "side_at_top",
    /// Between the inside faces of two sides of a box.
    BetweenFaces => "between_faces",
    /// How far sides with square edges stand over their neighbours below.
    OverhangAtLowerArris => "overhang_at_lower_arris",
    /// Radius of a top's long edges.
    LongEdgeRadius => "long_edge_radius",
    /// Radius of a top's short edges.
    ShortEdgeRadius => "short_edge_radius",
    /// How far a top moves for each 1 % of moisture.
    MovementEachPerCent => "movement_each_per_cent",
    /// How much narrower a top is at the driest.
    Shrinks => "shrinks",
    /// How much wider a top is at the dampest.
    Swells => "swells",
    /// A top's width at the driest.
    WidthDriest => "width_driest",
    /// A top's width at the dampest.
    WidthDampest => "width_dampest",
    /// How far a top moves from driest to dampest.
    Movement => "movement",
    /// How far in an edge profile reaches.
    ProfileEatsIn => "profile_eats_in",
    /// How far the wood moves inwards at the sides of the base.
    FastenerIn => "fastener_in",
    /// How far the wood moves outwards at the sides of the base.
    FastenerOut => "fastener_out",
    /// How far the wood moves inwards at the outermost pin of a breadboard end.
    BreadboardIn => "breadboard_in",
    /// How far the wood moves outwards at the outermost pin of a breadboard end.
    BreadboardOut => "breadboard_out",
    /// Height of a table.
    TableHeight => "table_height",
    /// Floor to the underside of the aprons.
    KneeHeight => "knee_height",
    /// How far the top stands over the base at its ends.
    OverhangEnds => "overhang_ends",
    /// How far the top stands over the base at its sides.
    OverhangSides => "overhang_sides",
    /// Room for toes at the ends.
    ToeEnds => "toe_ends",
    /// Room for toes at the sides.
    ToeSides => "toe_sides",
    /// How far the feet stand out beyond the top's ends.
    FeetBeyondEnds => "feet_beyond_ends",
    /// How far the feet stand out beyond the top's sides.
    FeetBeyondSides => "feet_beyond_sides",
    /// Between the legs of a long side.
    BetweenLegs => "between_legs",
    /// The force at the edge of the top that lifts a foot.
    TippingForce => "tipping_force",
    /// How far inside the lines through the feet the edge of the top lies.
    TippingInside => "tipping_inside",
    /// Between a clamp's pull and square to the wood.
    Wedge => "wedge",
    /// How much a caul rises over its length.
    Rise => "rise",
    /// Thickness of a caul's thick end.
    ThickEnd => "thick_end",
    /// Width of a caul.
    Width => "width",
    /// Between a clamp's pull and square to the joint.
    Slides => "slides",
    /// How far a tilt is turned on its surface.
    Turn => "turn",
    /// A block along its cutter.
    BlockHeight => "block_height",
    /// How far a cutter reaches below a block.
    Reach => "reach",
    /// Between a cutter and square to the wood.
    Tilt => "tilt",
    /// Between a block's foot and its cheek.
    Cheek => "cheek",
    /// The tilt of a part by the wedge under it.
    Under => "under",
    /// How much that wedge rises.
    UnderRise => "under_rise",
    /// The turn of a part by the wedge at the fence.
    Fence => "fence",
    /// How much that wedge rises.
    FenceRise => "fence_rise",
    /// What a bevel gauge is set to along a sightline.
    Gauge => "gauge",
    /// Drilling centres along the piece.
    CentresAlong => "centres_along",
    /// Drilling centres across the piece.
    CentresAcross => "centres_across",
    /// A hole of a template.
    Hole => "hole",
    /// A pilot for a screw.
    Pilot => "pilot",
    /// How deep a pilot goes at most.
    Stop => "stop",
    /// The base under the top, along.
    BaseAlong => "base_along",
    /// The base under the top, across.
    BaseAcross => "base_across",
}

/// A number found out.
#[derive(Debug, Clone, PartialEq)]
pub struct Fact {
    /// What it is.
    pub name: FactName,
    /// Of which part on this one, where there is such a number for each.
    pub of: Option<PartRole>,
    /// In a maker's words.
    pub words: String,
    /// The number.
    pub value: Value,
}

/// A number with its kind.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Value {
    /// A length.
    Length(Length),
    /// A small length that is shown to a tenth of a millimetre or a thousandth of an inch: how far wood moves.
    Movement(Length),
    /// An angle.
    Angle(Angle),
    /// A force, newtons.
    Force(f64),
}

impl Fact {
    /// How scripts call it: `knee_height`, `landing_gap_top_rail`.
    pub fn key(&self) -> String {
        match self.of {
            Some(role) => format!("{}_{}", self.name.key(), role.words().replace(' ', "_")),
            None => self.name.key().to_owned(),
        }
    }

    /// The same number as that of one part of several.
    pub fn of(self, role: PartRole) -> Fact {
        Fact { of: Some(role), ..self }
    }

    /// A length in mm.
    pub fn length(name: FactName, words: impl Into<String>, mm: f64) -> Fact {
        Fact { name, of: None, words: words.into(), value: Value::Length(Length::from_mm(mm)) }
    }

    /// A movement in mm.
    pub fn movement(name: FactName, words: impl Into<String>, mm: f64) -> Fact {
        Fact { name, of: None, words: words.into(), value: Value::Movement(Length::from_mm(mm)) }
    }

    /// An angle in radians.
    pub fn angle(name: FactName, words: impl Into<String>, radians: f64) -> Fact {
        Fact { name, of: None, words: words.into(), value: Value::Angle(Angle::from_radians(radians)) }
    }
}
