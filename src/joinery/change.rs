//! The numbers by which a joint may be cured, each named as the file has it.

use super::second_reference;
use crate::board::Source;
use crate::model::base::{Base, Top};
use crate::model::joint::{Ends, Joint, Kind, Mortise, Spread};
use crate::piece::{SolvedBoard, number_at};
use crate::units::{Length, Notation};

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
    let (middle, _) = second_reference(board, own?)?;
    Some((middle - joint.thickness.mm() / 2.0).max(0.0))
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
            Change::Number(pointer) => number_at(base, top, pointer).map(|number| number.value),
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

    /// `a "width" of 48 mm (2 mm less)`.
    pub fn words(
        &self,
        joint: &Joint,
        (base, top): (Option<&Base>, Option<&Top>),
        (given, mm): (f64, f64),
        notation: &Notation,
    ) -> String {
        let exact = |mm: f64| notation.exact(Length::from_mm(mm));
        let by = notation.measured(Length::from_mm((mm - given).abs()));
        let by = format!("({by} {})", if mm < given { "less" } else { "more" });
        let (value, leg) = (exact(mm), joint.is_turned_leg());
        match self {
            Change::FromFace(_) if joint.from_face.is_some() => format!("a \"from_face\" of {value} {by}"),
            Change::FromFace(_) => format!("a \"from_face\" of {value}"),
            Change::At(_) => format!("{value} {by} in place of the {} under \"at\"", exact(given)),
            Change::Margin if given > 0.0 => format!("a \"margin\" of {value} {by}"),
            Change::Margin => format!("a \"margin\" of {value}"),
            Change::Width => format!("a \"width\" of {value} {by}"),
            Change::Thickness => format!("a \"thickness\" of {value} {by}"),
            Change::Round if leg => format!("a \"tenon\" of {value} {by}"),
            Change::Round => format!("a \"thickness\" and \"width\" of {value} {by}"),
            Change::Second if leg => format!("a \"depth\" of {value} {by}"),
            Change::Second if joint.kind == Kind::Fixed => {
                format!("a \"length\" of {} {by}", exact(mm - joint.clearance.mm()))
            }
            Change::First if joint.mortise == Mortise::Through => format!("a \"length\" of {value} {by}"),
            Change::First => depths(&value, &exact(joint.depths[1].mm()), &by),
            Change::Second => depths(&exact(joint.depths[0].mm()), &value, &by),
            Change::Without(index) => match &joint.spread {
                Spread::At(all) => format!(
                    "leaving out the one at {}",
                    all.get(*index).map_or_else(String::new, |at| exact(at.mm()))
                ),
                Spread::Even { .. } => String::new(),
            },
            // Where it stands is told, as a tenon has a thickness too.
            Change::Number(pointer) => {
                format!(
                    "{} of {value} {by} under {}",
                    number_at(base, top, pointer).map_or_else(String::new, |number| number.with_article()),
                    pointer.trim_start_matches('/').replace('/', ".")
                )
            }
        }
    }
}

fn depths(first: &str, second: &str, by: &str) -> String {
    format!("\"depths\" of {first} and {second} {by}, the tenon as much shorter,")
}
