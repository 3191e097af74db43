//! The setting of a cut in a maker's words.

use crate::board::{Arris, FarSide, Register, Role, SawCut, Source};
use crate::piece::SolvedBoard;
use crate::tolerance::{PARALLEL, SAW_SQUARE, SHOWN};
use crate::units::{Angle, Length, Notation, Units};

/// The mitre: from which edge, and off the other one where the board tapers.
pub(super) fn mitre(saw: &SawCut, notation: &Notation) -> String {
    match How::of(saw) {
        How::Crosscut => {}
        How::Taper => return "taper the thickness".to_owned(),
        How::Rip => return How::Rip.words().to_owned(),
    }
    let [register, others @ ..] = saw.registers.as_slice() else {
        return format!(
            "saw to the pattern; the line lies {} off square to the net blank",
            off(saw.off_axis.mitre, notation)
        );
    };
    let differs = |a: Angle| (a - register.angles.mitre).abs().degrees() > SAW_SQUARE;
    let told: Vec<&Register> =
        [register].into_iter().chain(others.iter().filter(|o| differs(o.angles.mitre))).collect();
    let angles: Vec<Angle> = told.iter().map(|register| register.angles.mitre).collect();
    let apart = notation.telling_apart(&[], &angles);
    told.iter().map(|register| off_square(register, &apart)).collect::<Vec<_>>().join(", ")
}

/// The line's angle from a square held against an edge, said so that it cannot be read as one from the edge itself.
fn off_square(register: &Register, notation: &Notation) -> String {
    let (mitre, edge) = (register.angles.mitre, &register.edge);
    if mitre.degrees() < SAW_SQUARE {
        return format!("square to the {edge}");
    }
    format!("{} off square to the {edge}", notation.angle_and_slope(mitre))
}

/// The cuts of a board in the order in which they are made: edges are ripped before ends are sawn across them.
pub(super) fn in_order(board: &SolvedBoard) -> Vec<&SawCut> {
    let (rips, crosscuts): (Vec<&SawCut>, Vec<&SawCut>) = board.cuts.iter().partition(|saw| saw.role == Role::Edge);
    rips.into_iter().chain(crosscuts).collect()
}

/// The arrises that are measured on a board; a turned one has none.
pub(super) fn arrises(board: &SolvedBoard) -> &[Arris] {
    if board.turned.is_some() { &[] } else { &board.solid.arrises }
}

/// How a cut is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum How {
    /// Across the board.
    Crosscut,
    /// Along it.
    Rip,
    /// Along it, so that its thickness tapers.
    Taper,
}

impl How {
    /// How a cut is made.
    pub(super) fn of(saw: &SawCut) -> How {
        match saw.role {
            Role::End => How::Crosscut,
            Role::Edge if saw.tapers() => How::Taper,
            Role::Edge => How::Rip,
        }
    }

    /// As scripts and makers say it.
    pub(super) const fn words(self) -> &'static str {
        match self {
            How::Crosscut => "crosscut",
            How::Rip => "rip",
            How::Taper => "taper",
        }
    }
}

/// Why an edge is ripped out of square, where the way the board stands tells; empty for an end.
pub(super) fn why(board: &SolvedBoard, saw: &SawCut) -> &'static str {
    let cut = board.board.cuts.get(saw.cut);
    let Some((cut, copy)) = cut.zip(board.copies.first()).filter(|_| How::of(saw) == How::Rip) else { return "" };
    let world = copy.placement.direction_to_world(cut.plane.normal());
    if 1.0 - world.z.abs() < PARALLEL { "it lies level in the piece" } else { "it is bevelled as the file asks" }
}

/// The bevel and which way it leans.
pub(super) fn bevel(board: &SolvedBoard, saw: &SawCut, notation: &Notation) -> String {
    let [_, far] = board.board.sides;
    if saw.tapers() {
        return format!("{} to the {far}", notation.angle_and_slope(Angle::from_degrees(90.0) - saw.bevel));
    }
    let words = match (saw.far_side, saw.role) {
        (FarSide::Equal, _) => return "square".to_owned(),
        _ if saw.bevel.degrees() < SAW_SQUARE => return "square".to_owned(),
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
    if saw.tapers() {
        return String::new();
    }
    if saw.bevel.degrees() < SAW_SQUARE {
        "90°".to_owned()
    } else {
        format!("{} or {}", notation.angle(acute), notation.angle(obtuse))
    }
}

/// The angle at which the line crosses the edge.
pub(super) fn edge_line(saw: &SawCut, notation: &Notation) -> String {
    if saw.tapers() {
        return String::new();
    }
    if saw.role == Role::Edge || saw.edge_line().degrees() < SAW_SQUARE {
        return "square".to_owned();
    }
    notation.angle_and_slope(saw.edge_line())
}

/// Long point to short point along u, and where they are; nothing of an end without either.
pub(super) fn points(saw: &SawCut, notation: &Notation) -> String {
    let (Some(long), Some(short)) = (&saw.long_point, &saw.short_point) else { return String::new() };
    let apart = Length::from_mm((long.at.x - short.at.x).abs());
    if apart.mm() < SHOWN {
        return String::new();
    }
    format!("long point {}; short point {}; {} apart", long.name, short.name, notation.length(apart))
}

/// A gap, to steps in which it can be felt: 0.01 mm, or a thousandth of an inch.
fn gap(mm: f64, notation: &Notation) -> String {
    match notation.units {
        Units::Mm => format!("{mm:.2} mm"),
        Units::Inch => format!("{:.3}\"", Length::from_mm(mm).inches()),
    }
}

/// How far the joint would stand open by the nominal setting.
pub(super) fn naive(saw: &SawCut, notation: &Notation) -> String {
    let Some(nominal) = saw.nominal else { return String::new() };
    let felt = saw.naive_gap.iter().filter(|g| g.open > SHOWN);
    let open: Vec<String> = felt.map(|g| format!("{} {}", g.corner, gap(g.open, notation))).collect();
    let blade = match nominal.bevel {
        Angle::ZERO => "a square blade".to_owned(),
        bevel => format!("the blade at {}, as for upright sides", notation.angle(bevel)),
    };
    let sawn = format!("sawn at the {} alone, {}, with {blade}", nominal.from, notation.angle(nominal.mitre));
    if open.is_empty() { format!("{sawn}: closed too") } else { format!("{sawn}: open at {}", open.join("; ")) }
}

fn off(angle: Angle, notation: &Notation) -> String {
    if angle.degrees() < SAW_SQUARE { "square".to_owned() } else { notation.angle_and_slope(angle) }
}

/// How long an edge is on every face of the board that it reaches, mm, each with its face: a tapered one stands in the place
/// of the face that it takes away.
pub(super) fn lengths(board: &SolvedBoard, arris: &Arris) -> Vec<(f64, Source)> {
    let tapers = board.cuts.iter().filter(|saw| saw.tapers() && arris.source != Source::Cut(saw.cut));
    let tapered = tapers.filter_map(|saw| {
        let rings = board.solid.ends.get(saw.cut)?.rings.iter();
        Some((rings.map(|ring| ring.length_of(arris.source)).sum(), Source::Cut(saw.cut)))
    });
    let all = [(arris.face, Source::Face), (arris.far, Source::Far)].into_iter().chain(tapered);
    all.filter(|(length, _)| *length > 0.0).collect()
}
