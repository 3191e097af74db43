//! What a step of the work is, what it needs and what it does to lines and sides.

use crate::board::Source;

/// A side of the squared blank, the whole of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// The face side.
    Face,
    /// The far side.
    Far,
    /// The long edge at the greater v.
    Upper,
    /// The long edge at the lesser v.
    Lower,
}

impl Side {
    /// Every side.
    pub const ALL: [Side; 4] = [Side::Face, Side::Far, Side::Upper, Side::Lower];

    /// The side across the blank.
    pub const fn opposite(self) -> Side {
        match self {
            Side::Face => Side::Far,
            Side::Far => Side::Face,
            Side::Upper => Side::Lower,
            Side::Lower => Side::Upper,
        }
    }

    /// How scripts call it.
    pub const fn key(self) -> &'static str {
        match self {
            Side::Face => "face",
            Side::Far => "far",
            Side::Upper => "upper",
            Side::Lower => "lower",
        }
    }
}

/// Something of a part from which work is set out, or that it lies on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reference {
    /// A surface of the part as it will be.
    Surface(Source),
    /// A side of its squared blank, whole.
    Side(Side),
    /// The wood beyond one of its ends, which is longer than drawn until it is sawn there.
    Beyond(Source),
}

/// For what a step needs something.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Use {
    /// It is worked in this surface.
    Mouth,
    /// It is marked from it.
    Marked,
    /// The saw's fence is held to it.
    Fence,
    /// It is sawn or planed to fit this surface of another part.
    Against,
    /// Pattern or template lies on it.
    Laid,
    /// A template, a centre or a tenon needs that wood.
    Room,
    /// A bearing or a plane runs along it.
    Followed,
    /// The wood lies on it, square to the tool.
    Bed,
    /// The fence is held to this side of the blank, since no edge of the part itself is straight there.
    Guide,
}

impl Use {
    /// How scripts call it.
    pub const fn key(self) -> &'static str {
        match self {
            Use::Mouth => "mouth",
            Use::Marked => "marked_from",
            Use::Fence => "fence",
            Use::Against => "against",
            Use::Laid => "laid_on",
            Use::Room => "room",
            Use::Followed => "followed",
            Use::Bed => "bed",
            Use::Guide => "guide",
        }
    }

    /// Whether a maker can do without it, with more trouble.
    pub const fn is_spared(self) -> bool {
        matches!(self, Use::Bed | Use::Guide)
    }
}

/// Something that a step needs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Need {
    /// Of which part: an index into the plan's.
    pub part: usize,
    /// What.
    pub on: Reference,
    /// For what.
    pub used: Use,
}

/// What is done in a step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Work {
    /// Something is done to a part that exists, so that it is as it is wanted.
    Trim {
        /// The copies that are meant, in a maker's words; all where none is named.
        copies: Vec<String>,
        /// What, as it is told wherever it is told.
        what: String,
    },
    /// The mortises of a top's glue lines are cut, in boards that are still apart.
    GlueLines,
    /// The blank is planed on its faces and its long edges, and is still long. These straight edges of the part are edges of it.
    Dress {
        /// Whether it is glued up of boards first.
        glued: bool,
        /// The edges, by their index.
        edges: Vec<usize>,
    },
    /// Breadboard ends are fitted.
    Breadboard,
    /// An end is sawn.
    SawEnd {
        /// Which.
        end: Source,
        /// Whether tenons are left standing on it, of which it is the shoulder.
        tenons: bool,
    },
    /// A long edge is ripped or planed to its bevel.
    Rip {
        /// The cut, by its index.
        cut: usize,
    },
    /// A side is planed down to a taper.
    Taper {
        /// The cut, by its index.
        cut: usize,
    },
    /// The mortises of a joint in one surface are cut.
    Mortise {
        /// Which of the piece's joints.
        joint: usize,
        /// What the file calls it.
        name: String,
        /// The surface.
        on: Source,
        /// How many.
        count: usize,
    },
    /// What a joint takes that is no mortise is cut.
    Cutout {
        /// What the file calls the joint.
        name: String,
        /// The surface.
        on: Source,
    },
    /// It is turned.
    Turn,
    /// An edge is sawn to its line and planed.
    Shape {
        /// The edges of the outline, by their index.
        edges: Vec<usize>,
        /// Whether any is curved.
        curved: bool,
    },
    /// An edge is routed along a template.
    Rout {
        /// Which of the part's templates, from 0.
        template: usize,
        /// The edges of the outline, by their index.
        edges: Vec<usize>,
    },
    /// What holds the top is bored or cut.
    Fastenings,
    /// Profiles are worked along the edges.
    Profile,
    /// Holes and slots of a part drawn directly.
    Bore,
    /// Openings of a part drawn directly.
    Open,
    /// The outline of a part drawn directly.
    Outline {
        /// Whether a template leads the router.
        routed: bool,
    },
    /// Frames are put together dry and measured.
    Dry {
        /// The parts of the frames: indices into the plan's.
        parts: Vec<usize>,
    },
    /// Parts are glued.
    Glue {
        /// Which stage of the gluing, from 0.
        stage: usize,
        /// The parts: indices into the plan's.
        parts: Vec<usize>,
    },
}

impl Work {
    /// How scripts call it.
    pub const fn key(&self) -> &'static str {
        match self {
            Work::Trim { .. } => "trim",
            Work::GlueLines => "glue_lines",
            Work::Dress { .. } => "dress",
            Work::Breadboard => "breadboard",
            Work::SawEnd { .. } => "saw_end",
            Work::Rip { .. } => "rip",
            Work::Taper { .. } => "taper",
            Work::Mortise { .. } => "mortise",
            Work::Cutout { .. } => "cutout",
            Work::Turn => "turn",
            Work::Shape { .. } => "shape",
            Work::Rout { .. } => "rout",
            Work::Fastenings => "fastenings",
            Work::Profile => "profile",
            Work::Bore => "bore",
            Work::Open => "open",
            Work::Outline { .. } => "outline",
            Work::Dry { .. } => "dry",
            Work::Glue { .. } => "glue",
        }
    }

    /// Whether it is cut into a part that has its shape.
    pub(super) const fn is_cut_into(&self) -> bool {
        matches!(self, Work::Mortise { .. } | Work::Cutout { .. } | Work::Fastenings | Work::Bore | Work::Open)
    }

    /// The parts that are put together: indices into the plan's; none where it is done to one part.
    pub fn joins(&self) -> &[usize] {
        match self {
            Work::Dry { parts } | Work::Glue { parts, .. } => parts,
            _ => &[],
        }
    }

    /// Where it stands where nothing else tells: common practice, no source.
    pub(super) const fn rank(&self) -> u8 {
        match self {
            Work::Trim { .. } | Work::GlueLines => 0,
            Work::Dress { .. } => 1,
            Work::Breadboard => 2,
            Work::SawEnd { .. } => 3,
            Work::Mortise { .. } => 4,
            Work::Cutout { .. } => 5,
            Work::Bore => 6,
            Work::Rip { .. } => 7,
            Work::Turn => 8,
            Work::Taper { .. } => 9,
            Work::Shape { .. } | Work::Rout { .. } => 10,
            Work::Open => 11,
            Work::Outline { .. } => 12,
            Work::Fastenings => 13,
            Work::Profile => 14,
            Work::Dry { .. } => 15,
            Work::Glue { .. } => 16,
        }
    }
}

/// A step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step {
    /// The part: an index into the plan's; `None` of what is done to the piece.
    pub part: Option<usize>,
    /// What is done.
    pub work: Work,
    /// What it is set out from and lies on, and has.
    pub needs: Vec<Need>,
    /// What it leaves that was not there.
    pub makes: Vec<Reference>,
    /// What it takes away.
    pub takes: Vec<Reference>,
}

/// Why one step stands before another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Why {
    /// It makes what the other needs.
    Makes(Need),
    /// The other takes away what it needs.
    Keeps(Need),
    /// The other glues boards in which it cuts, or which it fits.
    Apart,
    /// The other takes arrises from which anything may be marked or held.
    Arrises,
    /// The parts must be finished.
    Finished,
    /// What is then measured tells how long the other's part is.
    Measured,
    /// Gluing goes stage by stage.
    Staged,
    /// A part that exists is trimmed in the order that is told, before anything else is done to it or set out from it.
    Trimmed,
}

/// That one step stands before another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Link {
    /// The earlier: an index into the plan's steps.
    pub before: usize,
    /// The later.
    pub after: usize,
    /// Why.
    pub why: Why,
}

/// Something that a step would lie on or be led by, and that is gone by then.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Missed {
    /// The step: an index into the plan's.
    pub step: usize,
    /// What it goes without.
    pub need: Need,
}
