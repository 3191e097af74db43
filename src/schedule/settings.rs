//! The setting of a cut in a maker's words.

use crate::board::{FarSide, Role, SawCut};
use crate::piece::SolvedBoard;
use crate::units::{Angle, Length, Notation};

/// Below this, degrees, a person's saw is set square.
const SQUARE: f64 = 0.005;

/// A gap below this, mm, closes under a clamp and is not worth a word.
const CLOSES: f64 = 0.05;

/// The mitre: from which edge, and off the other one where the board tapers.
pub(super) fn mitre(saw: &SawCut, notation: &Notation) -> String {
    if saw.role == Role::Edge {
        return "rip".to_owned();
    }
    let [register, others @ ..] = saw.registers.as_slice() else {
        return format!("saw to the pattern; the line lies {} off square", off(saw.off_axis.mitre, notation));
    };
    let mut words = format!("{} off the {}", off(register.angles.mitre, notation), register.edge);
    let differs = |a: Angle| (a - register.angles.mitre).abs().degrees() > SQUARE;
    for other in others.iter().filter(|o| differs(o.angles.mitre)) {
        words += &format!(", {} off the {}", off(other.angles.mitre, notation), other.edge);
    }
    words
}

/// The bevel and which way it leans.
pub(super) fn bevel(board: &SolvedBoard, saw: &SawCut, notation: &Notation) -> String {
    let [_, far] = board.board.sides;
    let words = match (saw.far_side, saw.role) {
        (FarSide::Equal, _) => return "square".to_owned(),
        _ if saw.bevel.degrees() < SQUARE => return "square".to_owned(),
        (FarSide::Longer, Role::End) => "longer",
        (FarSide::Shorter, Role::End) => "shorter",
        (FarSide::Longer, Role::Edge) => "wider",
        (FarSide::Shorter, Role::Edge) => "narrower",
    };
    format!("{}, {far} {words}", notation.angle_and_slope(saw.bevel))
}

/// What a bevel gauge reads off the arris.
pub(super) fn gauge(saw: &SawCut, notation: &Notation) -> String {
    let [acute, obtuse] = saw.gauge();
    if saw.bevel.degrees() < SQUARE {
        "90°".to_owned()
    } else {
        format!("{} or {}", notation.angle(acute), notation.angle(obtuse))
    }
}

/// The angle at which the line crosses the edge.
pub(super) fn edge_line(saw: &SawCut, notation: &Notation) -> String {
    if saw.role == Role::Edge || saw.edge_line().degrees() < SQUARE {
        return "square".to_owned();
    }
    notation.angle_and_slope(saw.edge_line())
}

/// Long point to short point along u, and where they are.
pub(super) fn points(saw: &SawCut, notation: &Notation) -> String {
    let (Some(long), Some(short)) = (&saw.long_point, &saw.short_point) else { return String::new() };
    let apart = Length::from_mm((long.at.x - short.at.x).abs());
    format!("long point {}, short point {}, {} apart", long.name, short.name, notation.length(apart))
}

/// How far the joint would stand open by the nominal setting.
pub(super) fn naive(saw: &SawCut) -> String {
    let Some(nominal) = saw.nominal else { return String::new() };
    let open: Vec<String> =
        saw.naive_gap.iter().filter(|g| g.open > CLOSES).map(|g| format!("{} {:.2} mm", g.corner, g.open)).collect();
    let blade = if nominal.bevel == Angle::ZERO { "a square blade" } else { "the blade of an upright one" };
    if open.is_empty() {
        return format!("closed also by the {} alone", nominal.from);
    }
    format!("by the {} alone and {blade} open at {}", nominal.from, open.join(", "))
}

fn off(angle: Angle, notation: &Notation) -> String {
    if angle.degrees() < SQUARE { "square".to_owned() } else { notation.angle_and_slope(angle) }
}
