//! The usual views, and how a number is shown in one.

use crate::geometry::Point;
use crate::piece::Value;
use crate::view::View;

/// Which of the usual views.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// From the front.
    Front,
    /// From the right.
    Right,
    /// From the left.
    Left,
    /// From above.
    Above,
    /// From below.
    Below,
}

impl Side {
    /// The view.
    pub const fn view(self) -> View {
        match self {
            Side::Front => View::FRONT,
            Side::Right => View::RIGHT,
            Side::Left => View::LEFT,
            Side::Above => View::ABOVE,
            Side::Below => View::BELOW,
        }
    }

    /// What a sheet calls it.
    pub const fn name(self) -> &'static str {
        match self {
            Side::Front => "front",
            Side::Right => "right side",
            Side::Left => "left side",
            Side::Above => "from above",
            Side::Below => "from below",
        }
    }
}

/// Where a length's dimension line wants to stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lane {
    /// Over the view.
    Over,
    /// Under it.
    Under,
    /// Left of it.
    Left,
    /// Right of it.
    Right,
}

impl Lane {
    /// The lane on the other side of the view.
    pub const fn across(self) -> Lane {
        match self {
            Lane::Over => Lane::Under,
            Lane::Under => Lane::Over,
            Lane::Left => Lane::Right,
            Lane::Right => Lane::Left,
        }
    }
}

/// How a number is shown.
#[derive(Debug, Clone, PartialEq)]
pub enum Shown {
    /// A length between two points of the view, taken level or plumb as its lane asks.
    Length {
        /// From here.
        from: Point,
        /// To here.
        to: Point,
        /// Where the line stands.
        lane: Lane,
    },
    /// An angle between two directions (radians on the page) at a point, drawn at the first free of some radii.
    Angle {
        /// Where the two lines meet.
        apex: Point,
        /// The plumb line.
        from: f64,
        /// The sloping line.
        to: f64,
    },
    /// Words with a line to one of some points of the view.
    Note {
        /// Points that would do, the best first.
        at: Vec<Point>,
        /// Whether they lie on an edge, and not within a face.
        on_edge: bool,
    },
    /// A letter with a line to one of some points of the view; the words stand by that letter in a list under the view.
    Listed {
        /// Points that would do, the best first.
        at: Vec<Point>,
    },
}

/// What is said at a place of a view.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Words {
    /// The line that it begins with.
    pub said: String,
    /// A remark in brackets, which stands under it.
    pub remark: Option<String>,
}

/// What is said of wood that other wood hides.
pub const BEHIND: &str = "behind";

impl Words {
    /// In one line.
    pub fn whole(&self) -> String {
        match &self.remark {
            Some(remark) => format!("{} ({remark})", self.said),
            None => self.said.clone(),
        }
    }
}

impl From<String> for Words {
    fn from(said: String) -> Words {
        Words { said, remark: None }
    }
}

/// A number measured on the piece, and how a view shows it. Points are in the view's millimetres, true to size.
#[derive(Debug, Clone, PartialEq)]
pub struct Measure {
    /// The number.
    pub value: Value,
    /// As written.
    pub words: Words,
    /// What is measured, said behind the words where they stand by themselves in a list; empty where they say it.
    pub what: String,
    /// How it is shown.
    pub shown: Shown,
}

impl Measure {
    /// The number with what it is, as it stands in a list: in this order no line of it is a bare number.
    pub fn named(&self) -> String {
        let words = self.words.whole();
        if self.what.is_empty() { words } else { format!("{words}: {}", self.what) }
    }
}
