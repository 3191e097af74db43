//! What the parts of a piece and the edges of a board are: told apart by type, and put into words here alone.

use std::borrow::Cow;
use std::fmt;

/// What a part is in its piece. Only the kind of piece says it; what a file calls a board does not.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PartRole {
    /// A leg.
    Leg,
    /// The rail between the heads of a frame.
    TopRail,
    /// The rail near the floor.
    BottomRail,
    /// An apron along the piece.
    Apron,
    /// An apron across its end.
    EndApron,
    /// A stretcher along the piece.
    Stretcher,
    /// A stretcher across its end.
    EndStretcher,
    /// A side of a box.
    Side,
    /// The top.
    Top,
    /// A board placed by the file, of which nothing is known but where it stands.
    Board,
}

impl PartRole {
    /// Every role.
    const ALL: [PartRole; 10] = [
        PartRole::Leg,
        PartRole::TopRail,
        PartRole::BottomRail,
        PartRole::Apron,
        PartRole::EndApron,
        PartRole::Stretcher,
        PartRole::EndStretcher,
        PartRole::Side,
        PartRole::Top,
        PartRole::Board,
    ];

    /// The role that scripts and files call so.
    pub fn of_key(key: &str) -> Option<PartRole> {
        PartRole::ALL.into_iter().find(|role| role.key() == key)
    }

    /// How scripts and files call it: `top_rail`.
    pub const fn key(self) -> &'static str {
        match self {
            PartRole::Leg => "leg",
            PartRole::TopRail => "top_rail",
            PartRole::BottomRail => "bottom_rail",
            PartRole::Apron => "apron",
            PartRole::EndApron => "end_apron",
            PartRole::Stretcher => "stretcher",
            PartRole::EndStretcher => "end_stretcher",
            PartRole::Side => "side",
            PartRole::Top => "top",
            PartRole::Board => "board",
        }
    }

    /// What a maker calls it: `top rail`.
    pub const fn words(self) -> &'static str {
        match self {
            PartRole::TopRail => "top rail",
            PartRole::BottomRail => "bottom rail",
            PartRole::EndApron => "end apron",
            PartRole::EndStretcher => "end stretcher",
            _ => self.key(),
        }
    }

    /// Whether a file that says `name` means parts of this role; boards that the file names itself are known by their names.
    pub fn is_called(self, name: &str) -> bool {
        self != PartRole::Board && (self.key() == name || self.words() == name)
    }

    /// The kind of part that it is wherever it stands: a rail, an apron, a stretcher.
    pub const fn kind(self) -> PartRole {
        match self {
            PartRole::BottomRail => PartRole::TopRail,
            PartRole::EndApron => PartRole::Apron,
            PartRole::EndStretcher => PartRole::Stretcher,
            _ => self,
        }
    }

    /// Whether it is a rail of a frame.
    pub const fn is_rail(self) -> bool {
        matches!(self, PartRole::TopRail | PartRole::BottomRail)
    }

    /// Whether it is an apron, along the piece or across its end.
    pub const fn is_apron(self) -> bool {
        matches!(self, PartRole::Apron | PartRole::EndApron)
    }

    /// Whether it is a stretcher, along the piece or across its end.
    pub const fn is_stretcher(self) -> bool {
        matches!(self, PartRole::Stretcher | PartRole::EndStretcher)
    }

    /// Whether it goes along the piece, between its ends or frames.
    pub const fn is_between(self) -> bool {
        matches!(self, PartRole::Apron | PartRole::Stretcher)
    }

    /// Whether it belongs to the end of a piece and is made with its legs.
    pub const fn is_at_end(self) -> bool {
        matches!(self, PartRole::EndApron | PartRole::EndStretcher)
    }
}

/// The key of a part: no two parts of a piece have the same. Compare keys with each other, never with a text: what a part is
/// stands in its [`PartRole`].
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PartId(String);

/// What a part is called in words, where a file calls it as keys are written: `left leg` for `left_leg`.
pub fn spoken(name: &str) -> String {
    name.replace('_', " ")
}

impl PartId {
    /// The key that is written so.
    pub(crate) fn new(key: impl Into<String>) -> PartId {
        PartId(key.into())
    }

    /// As scripts and files write it: `left_leg`.
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// As a maker says it: `left leg`.
    pub fn words(&self) -> String {
        spoken(&self.0)
    }

    /// Whether a file that says `name` means this part: names also stand as patterns and schedules write them, `top rail`.
    pub fn is_called(&self, name: &str) -> bool {
        self.0 == name || self.0 == name.replace(' ', "_")
    }
}

impl fmt::Display for PartId {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// What an edge of a board is, before cuts or as a cut leaves it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum EdgeName {
    /// The upper end of a leg.
    Head,
    /// The end of a leg on the floor.
    Foot,
    /// The end at the lesser u.
    LeftEnd,
    /// The end at the greater u.
    RightEnd,
    /// The long edge that is up.
    UpperEdge,
    /// The long edge that is down.
    LowerEdge,
    /// The edge towards the front.
    FrontEdge,
    /// The edge towards the back.
    BackEdge,
    /// The edge towards the left.
    LeftEdge,
    /// The edge towards the right.
    RightEdge,
    /// Of a leg the edge towards the end of its frame or of the piece.
    OutsideEdge,
    /// Of a leg the edge towards the other leg.
    InsideEdge,
    /// The tapered stretch of the inside edge.
    TaperedInsideEdge,
    /// The tapered stretch of the inner face.
    TaperedInnerFace,
    /// A stretch made flat where a part of this role lands.
    Landing(PartRole),
    /// What rounds a corner.
    Corner,
    /// The only edge, or one that nobody named.
    Edge,
    /// Of an outline drawn corner by corner the edge that arrives at the corner with this number, which a maker finds by the
    /// words for the corners it runs between.
    Numbered {
        /// From 1.
        corner: usize,
        /// `from 0, 0 to 600, 0`; empty where it is known by its number alone.
        between: String,
    },
    /// Named by the file.
    Given(String),
}

impl EdgeName {
    /// What a maker calls it: `lower edge`.
    pub fn words(&self) -> Cow<'_, str> {
        Cow::Borrowed(match self {
            EdgeName::Head => "head",
            EdgeName::Foot => "foot",
            EdgeName::LeftEnd => "left end",
            EdgeName::RightEnd => "right end",
            EdgeName::UpperEdge => "upper edge",
            EdgeName::LowerEdge => "lower edge",
            EdgeName::FrontEdge => "front edge",
            EdgeName::BackEdge => "back edge",
            EdgeName::LeftEdge => "left edge",
            EdgeName::RightEdge => "right edge",
            EdgeName::OutsideEdge => "outside edge",
            EdgeName::InsideEdge => "inside edge",
            EdgeName::TaperedInsideEdge => "tapered inside edge",
            EdgeName::TaperedInnerFace => "tapered inner face",
            EdgeName::Landing(role) => return Cow::Owned(format!("{} landing", role.words())),
            EdgeName::Corner => "corner",
            EdgeName::Edge => "edge",
            EdgeName::Numbered { corner, between } if between.is_empty() => {
                return Cow::Owned(format!("edge {corner}"));
            }
            EdgeName::Numbered { corner, between } => return Cow::Owned(format!("edge {corner} ({between})")),
            EdgeName::Given(name) => name,
        })
    }

    /// The short name by which scripts and files call it: `upper` for the upper edge, `2` for one known only by its number.
    pub fn key(&self) -> Cow<'_, str> {
        Cow::Borrowed(match self {
            EdgeName::UpperEdge => "upper",
            EdgeName::LowerEdge => "lower",
            EdgeName::FrontEdge => "front",
            EdgeName::BackEdge => "back",
            EdgeName::LeftEdge => "left",
            EdgeName::RightEdge => "right",
            EdgeName::OutsideEdge => "outside",
            EdgeName::InsideEdge => "inside",
            EdgeName::TaperedInsideEdge => "tapered inside",
            EdgeName::Numbered { corner, .. } => return Cow::Owned(corner.to_string()),
            _ => return self.words(),
        })
    }

    /// What it is called where u runs the other way.
    pub(super) fn along_flipped(&self) -> EdgeName {
        match self {
            EdgeName::LeftEnd => EdgeName::RightEnd,
            EdgeName::RightEnd => EdgeName::LeftEnd,
            _ => self.clone(),
        }
    }

    /// Whether it is the left or the right end.
    pub const fn is_end(&self) -> bool {
        matches!(self, EdgeName::LeftEnd | EdgeName::RightEnd)
    }

    /// Whether it is a stretch made flat for a part that lands there.
    pub const fn is_landing(&self) -> bool {
        matches!(self, EdgeName::Landing(_))
    }
}

/// A surface of a board, known by what it is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Surface {
    /// The face side.
    Face,
    /// The far side.
    Far,
    /// An edge or what a cut leaves.
    Edge {
        /// What it is.
        name: EdgeName,
        /// Which of those that are the same, from 1.
        nth: usize,
    },
}

impl Surface {
    /// How scripts and files call it: `far`, `edge.upper`.
    pub fn key(&self) -> String {
        match self {
            Surface::Face => "face".to_owned(),
            Surface::Far => "far".to_owned(),
            Surface::Edge { name, nth: 1 } => format!("edge.{}", name.key()),
            Surface::Edge { name, nth } => format!("edge.{} {nth}", name.words()),
        }
    }

    /// As a maker says it: `far side`, `upper`.
    pub fn words(&self) -> String {
        match self {
            Surface::Face => "face side".to_owned(),
            Surface::Far => "far side".to_owned(),
            Surface::Edge { name, nth: 1 } => name.key().replace('_', " "),
            Surface::Edge { name, nth } => format!("{} {nth}", name.words()).replace('_', " "),
        }
    }
}

/// What stands against a cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Against {
    /// The floor.
    Floor,
    /// A part of the piece.
    Part {
        /// Which.
        part: PartId,
        /// What that is.
        role: PartRole,
        /// With which of its surfaces.
        surface: Surface,
        /// What that surface is called on the part's own sheet: `inner face`.
        called: String,
    },
}

impl Against {
    /// As a maker says it: `leg's inner face`, the surface named as on the part's own sheet.
    pub fn words(&self) -> String {
        match self {
            Against::Floor => "floor".to_owned(),
            Against::Part { role: PartRole::Top, part, surface: Surface::Far, .. } => {
                format!("{}'s underside", part.words())
            }
            Against::Part { part, called, .. } => format!("{}'s {called}", part.words()),
        }
    }

    /// Whether it is another part of the base, so that the cut makes a joint: neither the floor nor the top.
    pub fn is_in_base(&self) -> bool {
        matches!(self, Against::Part { role, .. } if *role != PartRole::Top)
    }
}

/// As scripts read it: `leg.far`, `floor`.
impl fmt::Display for Against {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        match self {
            Against::Floor => f.write_str("floor"),
            Against::Part { part, surface, .. } => write!(f, "{part}.{}", surface.key()),
        }
    }
}
