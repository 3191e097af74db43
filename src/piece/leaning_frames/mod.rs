//! Two leg frames that lean towards each other.

mod apron;
mod frame;
mod leg;
mod rail;
mod stretcher;
#[cfg(test)]
mod tests;

use super::assemble::{Landing, Work};
use super::fact::{Fact, FactName};
use super::faults::ANGLES;
use super::limits::{Named, base, span_field};
use crate::board::EdgeName;
use crate::finding::Finding;
use crate::model::base::{FrameTurn, LeaningFrames, Overhang, Span};
use crate::model::top::Top;
use crate::piece::{FrameProblem, LegsCross};
use crate::units::Length;
pub(crate) use frame::Frame;
use frame::LegLines;
use rail::{Rail, RailPlace, Which};

/// What every part of the base needs to know.
#[derive(Debug)]
pub(super) struct Shared<'a> {
    base: &'a LeaningFrames,
    /// Floor to heads, mm.
    height: f64,
    has_top: bool,
}

/// A bottom rail as its stretcher sees it.
#[derive(Debug, Clone, Copy)]
struct BottomRail {
    index: usize,
    /// Level of its lower arris.
    low: f64,
    /// Depth of its inside face below the frame's outside face.
    inside: f64,
}

/// A frame with the boards taken up for it.
#[derive(Debug)]
struct FrameBoards {
    frame: Frame,
    lines: LegLines,
    /// Front and back.
    legs: [usize; 2],
    bottom: Option<BottomRail>,
}

/// Solves the base; what goes wrong is left in the findings.
pub(super) fn solve(base: &LeaningFrames, top: Option<&Top>, work: &mut Work) {
    if numbers(base, work) {
        let made = make(base, top, work);
        work.made(made, "kind");
    }
}

/// Checks each number by itself.
fn numbers(given: &LeaningFrames, work: &mut Work) -> bool {
    let leg = &given.leg;
    let length = |field, words, value| Named { field, words, value };
    let mut above = vec![
        length("height", "the height", given.height),
        length("leg/thickness", "the leg's thickness", leg.thickness),
        length("leg/head", "the leg's head", leg.head),
        length("leg/foot", "the leg's foot", leg.foot),
    ];
    let mut least = Vec::new();
    let rails = [given.top_rail.as_ref().map(Rail::from), given.bottom_rail.as_ref().map(Rail::from)];
    let fields = [("top_rail/thickness", "top_rail/depth"), ("bottom_rail/thickness", "bottom_rail/depth")];
    for ((thickness, depth), rail) in fields.into_iter().zip(&rails) {
        let Some(rail) = rail else { continue };
        above.push(length(thickness, "the rail's thickness", rail.thickness));
        above.push(length(depth, "the rail's depth", rail.depth));
    }
    if let Some(apron) = &given.apron {
        above.push(length("apron/thickness", "the apron's thickness", apron.thickness));
        above.push(length("apron/depth", "the apron's depth", apron.depth));
        least.push(length("apron/drop", "the apron's drop", apron.drop));
    }
    if let Some(stretcher) = &given.stretcher {
        above.push(length("stretcher/thickness", "the stretcher's thickness", stretcher.thickness));
        above.push(length("stretcher/depth", "the stretcher's depth", stretcher.depth));
        least.push(length("stretcher/height", "the stretcher's height", stretcher.height));
    }
    let mut angles = vec![
        Named { field: "lean", words: "the lean", value: given.lean.angle },
        Named { field: "leg/splay", words: "the leg's splay", value: leg.splay },
    ];
    let fields = [("frames/left/lean", "frames/left/twist"), ("frames/right/lean", "frames/right/twist")];
    for ((lean, twist), turn) in fields.into_iter().zip(given.frames.iter().flatten()) {
        angles.extend(turn.lean.map(|value| Named { field: lean, words: "the frame's lean", value }));
        angles.push(Named { field: twist, words: "the frame's twist", value: turn.twist });
    }
    let sizes = [work.above_zero(&above), work.not_negative(&least), work.sawable(&angles)];
    sizes.iter().all(|ok| *ok)
}

fn make(given: &LeaningFrames, top: Option<&Top>, work: &mut Work) -> Option<()> {
    let height = work.base_height(given.height, top)?;
    let shared = Shared { base: given, height, has_top: top.is_some() };
    let turns = given.frames.unwrap_or_default();
    let lean = |turn: &FrameTurn| turn.lean.unwrap_or(given.lean.angle).radians();
    let half_length = half_length(&shared, top, &turns.map(|t| (lean(&t), t.twist.radians())), work)?;
    let frames = [(-1.0, turns[0]), (1.0, turns[1])]
        .map(|(side, turn)| Frame::new(side, half_length, height, lean(&turn), turn.twist.radians()));
    let lines = [leg_lines(&shared, top, &frames[0], work)?, leg_lines(&shared, top, &frames[1], work)?];
    // The right frame first: its rails are drawn as they stand.
    let right = frame_boards(&shared, &frames[1], &lines[1], work);
    let left = frame_boards(&shared, &frames[0], &lines[0], work);
    let boards = [left?, right?];
    if let Some(apron) = &given.apron {
        let made = apron::add(&shared, &boards, apron, work);
        work.made(made, "apron");
    }
    if let Some(stretcher) = &given.stretcher {
        if boards.iter().any(|b| b.bottom.is_none()) {
            return work.stop(Finding::of(FrameProblem::NoRail {}, base("stretcher")));
        }
        let made = stretcher::add(&boards, stretcher, work);
        work.made(made, "stretcher");
    }
    footprint(&shared, &boards, half_length, work);
    Some(())
}

/// Half the length over the frames' outside faces at the heads, on the x axis.
fn half_length(shared: &Shared, top: Option<&Top>, turns: &[(f64, f64); 2], work: &mut Work) -> Option<f64> {
    let spread = |(lean, twist): &(f64, f64)| shared.height * lean.tan() / twist.cos();
    let length = match shared.base.length {
        Span::AtTop(length) => length.mm(),
        Span::AtFloor(length) => length.mm() - turns.iter().map(spread).sum::<f64>(),
        Span::Overhang => work.under_overhang(top.map(|t| t.length), shared.base.overhang.map(Overhang::ends))?,
    };
    let thick = 2.0 * shared.base.leg.thickness.mm();
    if length <= thick {
        let field = span_field(&shared.base.length, "length");
        let (frame, length) = (shared.base.leg.thickness, Length::from_mm(length));
        let finding = Finding::of(FrameProblem::FramesMeet { frame, length }, base(field));
        let fields = [&[field, "leg/thickness"], &ANGLES[..]].concat();
        return work.stop_to_cure(finding, &fields);
    }
    Some(length / 2.0)
}

/// The lines of a frame's legs; findings where they cross each other or their fellow leg's.
fn leg_lines(shared: &Shared, top: Option<&Top>, frame: &Frame, work: &mut Work) -> Option<LegLines> {
    let leg = &shared.base.leg;
    let spread = frame.slope * leg.splay.radians().tan();
    let half = match shared.base.width {
        Span::AtTop(width) => width.mm() / 2.0,
        Span::AtFloor(width) => width.mm() / 2.0 - spread,
        Span::Overhang => work.under_overhang(top.map(|t| t.width), shared.base.overhang.map(Overhang::sides))? / 2.0,
    };
    let ends =
        [("leg/head", LegsCross::Heads, half, leg.head), ("leg/foot", LegsCross::Feet, half + spread, leg.foot)];
    for (field, which, room, width) in ends {
        if room - width.mm() <= 0.0 {
            let (width, room) = (Some(width), Some(Length::from_mm(room)));
            let finding = Finding::of(FrameProblem::LegsCross { which, width, room, past: None }, base(field));
            let fields = [field, span_field(&shared.base.width, "width"), "leg/splay", "leg/head", "leg/foot"];
            return work.stop_to_cure(finding, &fields);
        }
    }
    let lines = match LegLines::new(leg, half, frame.slope) {
        Ok(lines) => lines,
        Err((field, fault)) => return work.curve_fault(fault, &format!("leg/{field}")),
    };
    narrow(shared, &lines, frame, work)?;
    Some(lines)
}

/// Stops where a leg's curves leave it no width, or its fellow leg no room.
fn narrow(shared: &Shared, lines: &LegLines, frame: &Frame, work: &mut Work) -> Option<()> {
    /// Curves of one bend that clear each other at this many levels clear each other between them.
    const LEVELS: usize = 64;
    for k in 0..=LEVELS {
        let s = frame.slope * k as f64 / LEVELS as f64;
        let (outside, inside) = (lines.outside.at_level(s)?, lines.inside.at_level(s)?);
        let width = outside.x - inside.x;
        if width <= 0.0 || inside.x <= 0.0 {
            let own = width <= 0.0;
            let lacking = if own { width } else { inside.x };
            let outside_bends = width <= 0.0 && !lines.outside.is_straight();
            let edges = if outside_bends { ["outside", "inside"] } else { ["inside", "outside"] };
            let (up, over) = (Length::from_mm(s), Length::from_mm(-lacking));
            let place = base(&format!("leg/{}_edge", edges[0]));
            let finding = Finding::of(FrameProblem::LegEdgesCross { own, up, over }, place);
            let rises = edges.map(|edge| format!("leg/{edge}_edge/rise"));
            let width = span_field(&shared.base.width, "width");
            let fields = [&rises[0], &rises[1], "leg/head", "leg/foot", width, "leg/splay"];
            return work.stop_to_cure(finding, &fields);
        }
    }
    Some(())
}

/// Takes up legs and rails of a frame.
fn frame_boards(shared: &Shared, frame: &Frame, lines: &LegLines, work: &mut Work) -> Option<FrameBoards> {
    let given = shared.base;
    let top = given.top_rail.as_ref().map(|rail| (Which::Top, Rail::from(rail)));
    let bottom = given.bottom_rail.as_ref().map(|rail| (Which::Bottom, Rail::from(rail)));
    let placed = |(which, rail): (Which, Rail)| {
        let place = RailPlace::new(shared, frame, which, &rail);
        (rail, place)
    };
    let rails: Vec<(Rail, RailPlace)> = top.into_iter().chain(bottom).map(placed).collect();
    let fit: Vec<bool> = rails.iter().map(|(rail, place)| rail::fits(shared, frame, rail, place, work)).collect();
    if fit.contains(&false) {
        return None;
    }
    clear(&rails, work)?;
    let landings: Vec<leg::Landing> = rails.iter().filter_map(|(rail, place)| place.landing(rail)).collect();
    let legs = leg::add(shared, frame, lines, &landings, work)?;
    let mut bottom = None;
    for (rail, place) in &rails {
        let index = rail::add(shared, frame, lines, rail, place, work)?;
        if place.which == Which::Bottom {
            bottom = Some(BottomRail { index, low: place.low, inside: place.set_back + rail.thickness.mm() });
        } else if shared.has_top {
            work.under_top(index, &EdgeName::UpperEdge);
        }
        let sawn = work.single(index).board.cut(&EdgeName::LeftEnd).is_some();
        for (leg, end) in legs.iter().zip([EdgeName::LeftEnd, EdgeName::RightEnd]).filter(|_| sawn) {
            let name = place.landing(rail).map_or(EdgeName::InsideEdge, |l| l.name);
            let on = leg::landing_surface(&work.single(*leg).board, &name)?;
            let cut = work.single(index).board.cut(&end)?;
            work.land(Landing { from: (index, cut), to: *leg, on });
        }
    }
    if shared.has_top {
        legs.iter().for_each(|leg| work.under_top(*leg, &EdgeName::Head));
    }
    Some(FrameBoards { frame: frame.clone(), lines: lines.clone(), legs, bottom })
}

/// Stops where the two rails of a frame overlap.
fn clear(rails: &[(Rail, RailPlace)], work: &mut Work) -> Option<()> {
    let [(_, top), (_, bottom)] = rails else { return Some(()) };
    let over = bottom.high - top.low;
    if over <= 0.0 {
        return Some(());
    }
    let problem = FrameProblem::RailsOverlap { over: Length::from_mm(over) };
    let finding = Finding::of(problem, base("bottom_rail/depth"));
    work.stop_to_cure(finding, &["bottom_rail/depth", "bottom_rail/height", "top_rail/depth", "height"])
}

/// What the whole base measures.
fn footprint(shared: &Shared, boards: &[FrameBoards; 2], half_length: f64, work: &mut Work) {
    let feet = boards.iter().flat_map(|b| {
        let foot = b.lines.outside.end().x;
        [-1.0, 1.0].map(|sign| b.frame.point(sign * foot, 0.0, 0.0))
    });
    let (mut x, mut y) = ((f64::MAX, f64::MIN), (f64::MAX, f64::MIN));
    for p in feet {
        x = (x.0.min(p.x), x.1.max(p.x));
        y = (y.0.min(p.y), y.1.max(p.y));
    }
    let width = boards.iter().map(|b| 2.0 * b.lines.outside.start().x).fold(f64::MIN, f64::max);
    work.facts.extend([
        Fact::length(FactName::BaseHeight, "floor to heads", shared.height),
        Fact::length(FactName::LengthAtTop, "over the frames' outside faces at the heads", 2.0 * half_length),
        Fact::length(FactName::WidthAtTop, "over the legs' outside edges at the heads", width),
        Fact::length(FactName::FootprintLength, "footprint, along", x.1 - x.0),
        Fact::length(FactName::FootprintWidth, "footprint, across", y.1 - y.0),
    ]);
}
