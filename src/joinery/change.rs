//! The numbers by which a joint may be cured, each named as the file has it.

use super::marking;
use crate::board::Source;
use crate::finding::{Cure, Place, Quantity, Setting};
use crate::model::base::Base;
use crate::model::joint::{Ends, Joint, Kind, Mortise, Spread};
use crate::model::top::Top;
use crate::model::{Number, number_at};
use crate::piece::SolvedBoard;
use crate::units::Length;

/// The least that is left of a tenon, mm: what the file takes.
const LEAST: f64 = 2.0;

/// As far as a tenon is moved, or a part made larger, mm.
const FAR: f64 = 1000.0;

/// One number that may be changed.
#[derive(Debug, Clone, PartialEq)]
pub enum Change {
    /// The distance from the face side, mm as it is.
    FromFace(f64),
    /// A place given by hand, by its index.
    At(usize),
    /// The margin.
    Margin,
    /// The width of the tenon.
    Width,
    /// The thickness of the tenon.
    Thickness,
    /// The diameter of a round tenon.
    Round,
    /// The depth in the first part, or in both.
    First,
    /// The depth in the second part.
    Second,
    /// A place given by hand is left out, by its index; the value is of no account.
    Without(usize),
    /// A number of the parts, by its place in the file.
    Number(String),
}

/// A change with its value, and the joint as it is.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct JointChange {
    /// What is changed.
    pub change: Change,
    /// The joint before.
    pub joint: Joint,
    /// The number before.
    pub given: Length,
    /// The number with which it can be made.
    pub value: Length,
    /// The joint's name, where the changes of two are told.
    pub named: Option<String>,
    /// What a number of the parts is called.
    pub called: String,
}

impl JointChange {
    /// The joint with it made; `None` where it changes a number of the parts.
    pub(crate) fn made(&self) -> Option<Joint> {
        self.change.made(&self.joint, self.value.mm())
    }
}

/// The changes of a joint that may thicken the wall between one of its mortises and a surface, the most natural first.
pub fn changes(joint: &Joint, board: &SolvedBoard, surface: Source) -> Vec<Change> {
    if joint.is_turned_leg() {
        let span = ["/base/length_at_top", "/base/width_at_top"].map(|field| Change::Number(field.to_owned()));
        let own = [Change::Second, Change::Round];
        return if matches!(surface, Source::Edge(_)) { [span, own].concat() } else { own.to_vec() };
    }
    let size = match joint.thickness == joint.width && joint.ends == Ends::Round {
        true => vec![Change::Round],
        false => vec![Change::Width, Change::Thickness],
    };
    let places: Vec<Change> = match &joint.spread {
        Spread::At(all) => (0..all.len()).map(Change::At).collect(),
        Spread::Even { .. } => vec![Change::Margin],
    };
    let from_face = joint.from_face.map(|set| set.mm()).or_else(|| cheek(joint, board));
    let from_face = from_face.map(Change::FromFace).into_iter();
    let depths = [Change::Second, Change::First];
    match surface {
        Source::Face | Source::Far => from_face.chain(size).chain(depths).chain(places).collect(),
        Source::Edge(_) | Source::Cut(_) => places.into_iter().chain(size).chain(depths).chain(from_face).collect(),
    }
}

/// The changes of a joint that may thicken the wall between one of its mortises and another, the most natural first: of mortises
/// side by side the places, of those that meet from two sides the depths.
pub fn changes_between(joint: &Joint, board: &SolvedBoard, side_by_side: bool) -> Vec<Change> {
    let along = changes(joint, board, Source::Cut(0));
    let is_depth = |change: &Change| matches!(change, Change::First | Change::Second);
    let (depths, others): (Vec<Change>, Vec<Change>) = along.into_iter().partition(is_depth);
    if side_by_side { [others, depths].concat() } else { [depths, others].concat() }
}

/// What is left where none of the joint's own numbers is enough: a larger part, or one tenon less.
pub fn last_resorts(joint: &Joint, board: &SolvedBoard, surface: Source) -> Vec<Change> {
    let own = ["thickness", "depth", "width"].map(|field| Change::Number(format!("{}/{field}", board.pointer)));
    let without = match &joint.spread {
        Spread::At(all) if all.len() > 1 => (0..all.len()).map(Change::Without).collect(),
        _ => Vec::new(),
    };
    let parts = if matches!(surface, Source::Face | Source::Far) { &own[..1] } else { &own[..] };
    without.into_iter().chain(parts.iter().cloned()).collect()
}

/// How far the near cheek of a joint's tenon lies from the face side of its own end, mm.
fn cheek(joint: &Joint, board: &SolvedBoard) -> Option<f64> {
    let own =
        board.mortises.iter().find(|m| m.pointer == joint.place.pointer && matches!(m.on, Some(Source::Cut(_))));
    Some((marking(board, own?)?.offset - joint.thickness.mm() / 2.0).max(0.0))
}

impl Change {
    /// The number as it is, mm.
    pub fn given(&self, joint: &Joint, (base, top): (Option<&Base>, Option<&Top>)) -> Option<f64> {
        match self {
            Change::FromFace(given) => Some(*given),
            Change::At(index) => match &joint.spread {
                Spread::At(all) => all.get(*index).map(|at| at.mm()),
                Spread::Even { .. } => None,
            },
            Change::Margin => match &joint.spread {
                Spread::Even { margin, .. } => Some(margin.map_or(0.0, |margin| margin.mm())),
                Spread::At(_) => None,
            },
            Change::Width => Some(joint.width.mm()),
            Change::Thickness | Change::Round => Some(joint.thickness.mm()),
            Change::First => (joint.kind == Kind::Loose).then_some(joint.depths[0].mm()),
            Change::Second => (joint.mortise == Mortise::Blind).then_some(joint.depths[1].mm()),
            Change::Without(_) => Some(0.0),
            Change::Number(_) => self.number((base, top)).map(|number| number.value),
        }
    }

    /// Between which values, mm, it is looked for.
    pub fn range(&self, joint: &Joint, given: f64) -> [f64; 2] {
        match self {
            Change::FromFace(_) | Change::At(_) | Change::Margin => [0.0, given + FAR],
            Change::Width => [joint.thickness.mm().max(LEAST), given],
            Change::Thickness => [LEAST / 2.0, given],
            Change::Round | Change::First => [LEAST, given],
            // A tenon is left in the hole.
            Change::Second => [LEAST + joint.clearance.mm(), given],
            Change::Without(_) => [0.0, FAR],
            Change::Number(_) => [LEAST, given + FAR],
        }
    }

    /// Whether every mortise is still there.
    pub fn keeps_places(&self) -> bool {
        !matches!(self, Change::Without(_))
    }

    /// The joint with another value, mm; `None` for what is no number of the joint.
    pub fn made(&self, joint: &Joint, mm: f64) -> Option<Joint> {
        let (mut made, value) = (joint.clone(), Length::from_mm(mm));
        match (self, &mut made.spread) {
            (Change::FromFace(_), _) => made.from_face = Some(value),
            (Change::At(index), Spread::At(all)) => *all.get_mut(*index)? = value,
            (Change::Without(index), Spread::At(all)) => {
                all.remove(*index);
            }
            (Change::Margin, Spread::Even { margin, .. }) => *margin = Some(value),
            (Change::Width, _) => made.width = value,
            (Change::Thickness, _) => made.thickness = value,
            (Change::Round, _) => (made.width, made.thickness) = (value, value),
            (Change::First, _) => made.depths[0] = value,
            (Change::Second, _) => made.depths[1] = value,
            (Change::At(_) | Change::Without(_) | Change::Margin | Change::Number(_), _) => return None,
        }
        Some(made)
    }

    /// The cure that it is with a value, mm; `named` where a joint has to be told from others.
    pub(crate) fn cure(
        &self,
        joint: &Joint,
        piece: (Option<&Base>, Option<&Top>),
        (given, mm): (f64, f64),
        named: Option<String>,
    ) -> Cure {
        let (given, value) = (Length::from_mm(given), Length::from_mm(mm));
        let settings = self.settings(joint, value);
        let called = self.number(piece).map_or_else(String::new, |number| number.words);
        Cure::new(settings, JointChange { change: self.clone(), joint: joint.clone(), given, value, named, called })
    }

    /// The number of the parts that it changes, where it is none of the joint.
    fn number(&self, (base, top): (Option<&Base>, Option<&Top>)) -> Option<Number> {
        match self {
            Change::Number(pointer) => number_at(base, top, &Place::pointer(pointer)),
            _ => None,
        }
    }

    /// The numbers of the file that it sets.
    fn settings(&self, joint: &Joint, value: Length) -> Vec<Setting> {
        let set =
            |field: &str, value: Length| Setting { place: joint.place.child(field), value: Quantity::Length(value) };
        let depths = |both: [Length; 2]| {
            let pair = Setting { place: joint.place.child("depths"), value: Quantity::Pair(both) };
            vec![pair, set("length", both[0] + both[1] - joint.clearance)]
        };
        match self {
            Change::FromFace(_) => vec![set("from_face", value)],
            Change::At(index) => {
                let place = joint.place.child("at").child(index);
                vec![Setting { place, value: Quantity::Length(value) }]
            }
            Change::Margin => vec![set("margin", value)],
            Change::Width => vec![set("width", value)],
            Change::Thickness => vec![set("thickness", value)],
            Change::Round if joint.is_turned_leg() => vec![set("tenon", value)],
            Change::Round => vec![set("thickness", value), set("width", value)],
            Change::Second if joint.is_turned_leg() => vec![set("depth", value)],
            Change::Second if joint.kind == Kind::Fixed => vec![set("length", value - joint.clearance)],
            Change::First if joint.mortise == Mortise::Through => vec![set("length", value)],
            Change::First => depths([value, joint.depths[1]]),
            Change::Second => depths([joint.depths[0], value]),
            Change::Without(_) => Vec::new(),
            Change::Number(pointer) => {
                vec![Setting { place: Place::pointer(pointer.clone()), value: Quantity::Length(value) }]
            }
        }
    }
}
