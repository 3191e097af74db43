//! Four legs splayed both ways, aprons and stretchers between.

mod apron;
mod leg;
mod stretcher;
#[cfg(test)]
mod tests;

use super::assemble::{ENOUGH, Landing, Work};
use super::fact::{Fact, FactName};
use super::faults::ANGLES;
use super::limits::{Named, base};
use crate::board::EdgeName;
use crate::finding::{Finding, Ratio};
use crate::model::base::{Overhang, Slope, Span, SplayedLegs};
use crate::model::top::Top;
use crate::piece::{LegsProblem, TaperBeyond};
use crate::tolerance::LANDS;
use crate::units::{Angle, Length};
use apron::Between;
use leg::Leg;

/// What every part of the base needs to know.
#[derive(Debug)]
pub(super) struct Shared<'a> {
    base: &'a SplayedLegs,
    /// Floor to heads, mm.
    height: f64,
    /// Half the length between outermost arrises at the heads, mm.
    half_length: f64,
    /// Half the width between them, mm.
    half_width: f64,
    has_top: bool,
}

/// Solves the base; what goes wrong is left in the findings.
pub(super) fn solve(given: &SplayedLegs, top: Option<&Top>, work: &mut Work) {
    if numbers(given, work) {
        let made = make(given, top, work);
        work.made(made, "kind");
    }
}

/// Checks each number by itself.
fn numbers(given: &SplayedLegs, work: &mut Work) -> bool {
    let length = |field, words, value| Named { field, words, value };
    let mut above = vec![
        length("height", "the height", given.height),
        length("leg/width", "the leg's width", given.leg.width()),
        length("leg/thickness", "the leg's thickness", given.leg.thickness()),
    ];
    let mut least = Vec::new();
    if let Some(taper) = &given.leg.taper {
        above.push(length("leg/taper/from", "the start of the taper", taper.from));
        above.push(length("leg/taper/foot_width", "the tapered width", taper.foot_width));
        above.push(length("leg/taper/foot_thickness", "the tapered thickness", taper.foot_thickness));
    }
    if let Some(apron) = &given.apron {
        above.push(length("apron/thickness", "the apron's thickness", apron.thickness));
        above.push(length("apron/depth", "the apron's depth", apron.depth));
        least.push(length("apron/drop", "the apron's drop", apron.drop));
    }
    if let Some(apron) = &given.end_apron {
        above.push(length("end_apron/thickness", "the end apron's thickness", apron.thickness));
        above.push(length("end_apron/depth", "the end apron's depth", apron.depth));
        least.push(length("end_apron/drop", "the end apron's drop", apron.drop));
    }
    if let Some(stretchers) = &given.stretchers {
        above.push(length("stretchers/thickness", "the stretchers' thickness", stretchers.thickness));
        above.push(length("stretchers/depth", "the stretchers' depth", stretchers.depth));
        least.push(length("stretchers/height", "the stretchers' height", stretchers.height));
    }
    let angle = |field, words, value: Angle| Named { field, words, value };
    let angles = [
        angle("splay_front", "the splay in the front view", given.splay_front),
        angle("splay_side", "the splay in the side view", given.splay_side),
    ];
    let sizes = [work.above_zero(&above), work.not_negative(&least), work.sawable(&angles)];
    sizes.iter().all(|ok| *ok)
}

fn make(given: &SplayedLegs, top: Option<&Top>, work: &mut Work) -> Option<()> {
    let height = work.base_height(given.height, top)?;
    let half_length = half(
        given.length,
        given.splay_front,
        height,
        (top.map(|t| t.length), given.overhang.map(Overhang::ends)),
        work,
    )?;
    let half_width = half(
        given.width,
        given.splay_side,
        height,
        (top.map(|t| t.width), given.overhang.map(Overhang::sides)),
        work,
    )?;
    let shared = Shared { base: given, height, half_length, half_width, has_top: top.is_some() };
    taper(&shared, work)?;
    // Right front first: it is drawn as it stands.
    let legs = [(1.0, -1.0), (-1.0, -1.0), (-1.0, 1.0), (1.0, 1.0)].map(|(x, y)| Leg::new(&shared, x, y));
    let mut placed = Vec::new();
    for leg in legs {
        let leg = leg?;
        let index = leg.add(&shared, work)?;
        if shared.has_top {
            work.under_top(index, &EdgeName::Head);
        }
        placed.push((leg, index));
    }
    let at = |i: usize| (&placed[i].0, placed[i].1);
    let (right_front, left_front, left_back, right_back) = (at(0), at(1), at(2), at(3));
    let pairs =
        [[left_front, right_front], [left_back, right_back], [right_front, right_back], [left_front, left_back]];
    for (k, legs) in pairs.into_iter().enumerate() {
        let along_x = k < 2;
        let Some(apron) = (if along_x { &given.apron } else { &given.end_apron }) else { continue };
        if apron.slope != Slope::Chord && matches!(k, 0 | 2) {
            let field = if along_x { "apron/slope" } else { "end_apron/slope" };
            work.findings.push(Finding::of(LegsProblem::SlopeUnused {}, base(field)));
        }
        let index = Between::apron(&shared, apron, legs, along_x)?.add(&shared, work)?;
        if shared.has_top && apron.drop.mm() == 0.0 {
            work.under_top(index, &EdgeName::UpperEdge);
        }
    }
    reveal(&shared, work)?;
    inside_each_other(&shared, work)?;
    if let Some(stretchers) = &given.stretchers {
        stretcher::add(&shared, stretchers, &pairs, work)?;
    }
    tell(&shared, work);
    Some(())
}

/// Half a size between outermost arrises at the heads, under a top that may stand over it.
fn half(
    span: Span,
    splay: Angle,
    height: f64,
    (top, over): (Option<Length>, Option<Length>),
    work: &mut Work,
) -> Option<f64> {
    let size = match span {
        Span::AtTop(size) => size.mm(),
        Span::AtFloor(size) => size.mm() - 2.0 * height * splay.radians().tan(),
        Span::Overhang => work.under_overhang(top, over)?,
    };
    Some(size / 2.0)
}

/// Stops where the taper begins outside the leg or makes it thicker.
fn taper(shared: &Shared, work: &mut Work) -> Option<()> {
    let leg = &shared.base.leg;
    let Some(taper) = leg.taper else { return Some(()) };
    let (a, b) = (shared.base.splay_front.radians().tan(), shared.base.splay_side.radians().tan());
    let arris = shared.height * (1.0 + a * a + b * b).sqrt();
    let checks = [
        ("from", TaperBeyond::Start, taper.from.mm(), arris, "height"),
        ("foot_width", TaperBeyond::Width, taper.foot_width.mm(), leg.width().mm(), "leg/width"),
        ("foot_thickness", TaperBeyond::Thickness, taper.foot_thickness.mm(), leg.thickness().mm(), "leg/thickness"),
    ];
    for (field, how, given, most, limit) in checks {
        let beyond = if how == TaperBeyond::Start { given >= most } else { given > most };
        if beyond {
            let [given, most] = [given, most].map(Length::from_mm);
            let place = base(&format!("leg/taper/{field}"));
            let finding = Finding::of(LegsProblem::TaperOutside { how, given, most }, place);
            return work.stop_to_cure(finding, &[&format!("leg/taper/{field}"), limit]);
        }
    }
    Some(())
}

/// Tells the end aprons' reveal at the legs' inner front faces, which the legs' true section makes less than the inset.
fn reveal(shared: &Shared, work: &mut Work) -> Option<()> {
    let Some(apron) = &shared.base.end_apron else { return Some(()) };
    let (a, b) = (shared.base.splay_front.radians().sin(), shared.base.splay_side.radians().sin());
    let lost = shared.base.leg.thickness().mm() * a * b;
    let reveal = apron.inset.mm() - lost;
    work.facts.push(Fact::length(
        FactName::EndApronReveal,
        "end apron behind the leg's side face, at the inner front face",
        reveal,
    ));
    if reveal >= -LANDS {
        return Some(());
    }
    let [reveal, lost] = [reveal, lost].map(Length::from_mm);
    let finding = Finding::of(LegsProblem::EndApronProud { reveal, lost }, base("end_apron/inset"));
    work.stop_to_cure(finding, &["end_apron/inset"])
}

/// Stops where long and end aprons would run into each other inside a leg's corner.
fn inside_each_other(shared: &Shared, work: &mut Work) -> Option<()> {
    let (Some(long), Some(end)) = (&shared.base.apron, &shared.base.end_apron) else { return Some(()) };
    let leg = &shared.base.leg;
    let out = |apron: &crate::model::base::Apron, leg: f64| apron.inset.mm() + apron.thickness.mm() - leg;
    let (over_long, over_end) = (out(long, leg.thickness().mm()), out(end, leg.width().mm()));
    if over_long.min(over_end) <= LANDS {
        return Some(());
    }
    let [long, end, over] = [over_long, over_end, over_long.min(over_end)].map(Length::from_mm);
    let finding = Finding::of(LegsProblem::ApronsMeet { long, end, over }, base("apron/inset"));
    work.stop_to_cure(finding, &["apron/inset", "end_apron/inset", "apron/thickness", "end_apron/thickness"])
}

/// Warns where an end does not land wholly on its leg; stops where it misses it or lands across the start of a taper.
fn lands(shared: &Shared, between: &Between, landing: &Landing, work: &mut Work) -> Option<()> {
    clear_of_taper(shared, between, landing, work)?;
    let part = between.role.words().to_owned();
    let (over, landed, place) = (work.overshoot(landing), work.share_landed(landing), base(between.field));
    if landed < ENOUGH {
        let problem = LegsProblem::EndMissesLeg { part, beyond: Length::from_mm(over), landed: Ratio(landed) };
        let finding = Finding::of(problem, place);
        let own = ["inset", "thickness", "depth", "height", "drop"].map(|part| format!("{}/{part}", between.field));
        let own: Vec<&str> = own.iter().map(String::as_str).collect();
        let fields = [&own[..], &["leg/thickness", "leg/width"], &ANGLES, &["height"]].concat();
        return work.stop_to_cure(finding, &fields);
    }
    let is_told = |finding: &Finding| {
        matches!(finding.problem(), Some(LegsProblem::EndOffLeg { .. })) && finding.place == place
    };
    if over > LANDS && !work.findings.iter().any(is_told) {
        let problem = LegsProblem::EndOffLeg { part, beyond: Length::from_mm(over) };
        work.findings.push(Finding::of(problem, place));
    }
    Some(())
}

/// Stops where a taper of the leg begins within the end that lands on it.
fn clear_of_taper(shared: &Shared, between: &Between, landing: &Landing, work: &mut Work) -> Option<()> {
    let Some(taper) = shared.base.leg.taper else { return Some(()) };
    let leg = &between.legs[landing.from.1].0;
    let end = &work.solid(landing.from.0).ends[landing.from.1];
    let from_placement = work.single(landing.from.0).placement;
    let up = |p| leg.placement.to_board(from_placement.to_world(p)).x;
    let heights: Vec<f64> = end.corners().into_iter().map(|(p, _, _)| up(p)).collect();
    let start = leg.arris - taper.from.mm();
    let lowest = heights.iter().copied().fold(f64::MAX, f64::min);
    let highest = heights.iter().copied().fold(f64::MIN, f64::max);
    let within = if between.tapered { highest > start + LANDS } else { lowest < start - LANDS };
    if !within {
        return Some(());
    }
    let reached = leg.arris - if between.tapered { highest } else { lowest };
    let part = between.role.words().to_owned();
    let problem = LegsProblem::TaperInJoint { part, from: taper.from, end: Length::from_mm(reached) };
    let finding = Finding::of(problem, base("leg/taper/from"));
    let own = ["depth", "height", "drop"].map(|part| format!("{}/{part}", between.field));
    let fields = [&["leg/taper/from", &own[0], &own[1], &own[2]], &ANGLES[..], &["height"]].concat();
    work.stop_to_cure(finding, &fields)
}

/// What the whole base measures.
fn tell(shared: &Shared, work: &mut Work) {
    let (a, b) = (shared.base.splay_front.radians().tan(), shared.base.splay_side.radians().tan());
    let floor = |half: f64, splay: f64| 2.0 * (half + shared.height * splay);
    let (between, footprint) = match shared.base.leg.round() {
        Some(_) => ("between the legs' centre lines at the heads", "between the centre lines at the floor"),
        None => ("between outermost arrises at the heads", "footprint"),
    };
    work.facts.extend([
        Fact::length(FactName::BaseHeight, "floor to heads", shared.height),
        Fact::length(FactName::LengthAtTop, format!("{between}, along"), 2.0 * shared.half_length),
        Fact::length(FactName::WidthAtTop, format!("{between}, across"), 2.0 * shared.half_width),
        Fact::length(FactName::FootprintLength, format!("{footprint}, along"), floor(shared.half_length, a)),
        Fact::length(FactName::FootprintWidth, format!("{footprint}, across"), floor(shared.half_width, b)),
    ]);
}
