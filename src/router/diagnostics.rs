//! What is to be told about routing.

use super::beyond::Beyond;
use super::blank::Blank;
use super::collar::{CollarTemplate, TemplateFault, collar_stands_proud};
use super::held::screws;
use super::inlay::InlayPair;
use super::nested::largest_cutter;
use super::problem::{Bevelled, EdgeProblem, NoTemplate, TemplateProblem, Tool, ToolCure, Unreached};
use super::profile::ProfileFault;
use super::reach::{MOST_PLACES, Reach};
use super::routed::TemplateShape;
use super::setting::PAST;
use super::shortfall::{Cause, Shortfall};
use crate::board::{FarSide, SawCut};
use crate::finding::{Finding, Place, Severity};
use crate::geometry::{Point, Region, Unfair, UnfairKind};
use crate::model::{CollarTool, CutterTool, DrawnPattern, Hole, InDrawing, Template, TemplateKind};
use crate::piece::SolvedBoard;
use crate::tolerance::NOTICEABLE;
use crate::units::Length;

/// That there is no template, and why.
pub(super) fn no_template(place: &Place, why: NoTemplate) -> Finding {
    Finding::of(TemplateProblem::NoTemplate { why }, place.clone())
}

/// What is to be told about a template.
pub(super) fn template(asked: &Template, shape: &TemplateShape, part: &DrawnPattern) -> Vec<Finding> {
    match (&asked.kind, shape) {
        (TemplateKind::Collar { collar, .. }, TemplateShape::Collar(template)) => {
            let mut found = collar_left(asked, template, part);
            found.extend(proud(asked, collar));
            found
        }
        (TemplateKind::Inlay { large, small, .. }, TemplateShape::Inlay(pair)) => {
            let mut found = inlay(asked, pair, part);
            found.extend([large, small].iter().filter_map(|collar| proud(asked, collar)));
            found
        }
        (TemplateKind::Blank(wanted), TemplateShape::Blank(blank)) => {
            let all: Vec<&Shortfall> = blank.left.iter().collect();
            let tool = Tool::Cutter(wanted.cutter.as_ref().map_or_else(String::new, |tool| tool.name.clone()));
            let mut found = Told { place: &asked.place, part }.curves(&all, &tool, (ToolCure::Cutter, None));
            found.extend(screws(asked, wanted, blank, part));
            found.extend(run_on_in_part(asked, blank));
            found
        }
        _ => Vec::new(),
    }
}

/// An edge that ends within the part, where what the template runs on passes into it.
fn run_on_in_part(asked: &Template, blank: &Blank) -> Option<Finding> {
    let deep = |beyond: &Beyond| match beyond {
        Beyond::Part { deep } if *deep > 0.0 => Some(*deep),
        _ => None,
    };
    let deep: Vec<f64> = blank.beyond.iter().filter_map(deep).collect();
    let depth = Length::from_mm(deep.iter().copied().reduce(f64::max)?);
    let told = TemplateProblem::RunOnInPart { depth, both: deep.len() > 1 };
    Some(Finding::of(told, asked.place.clone()))
}

/// A place as two lengths.
fn at(point: Point) -> [Length; 2] {
    [point.x, point.y].map(Length::from_mm)
}

/// The deepest of some places.
fn deepest<'s>(left: &[&'s Shortfall]) -> Option<&'s Shortfall> {
    left.iter().copied().max_by(|a, b| a.depth.total_cmp(&b.depth))
}

/// What a collar's template does not follow: corners that it rounds off, corners that it leaves, and curves.
fn collar_left(asked: &Template, template: &CollarTemplate, part: &DrawnPattern) -> Vec<Finding> {
    let TemplateKind::Collar { work, cutter, .. } = &asked.kind else { return Vec::new() };
    let told = Told { place: &asked.place, part };
    let rings = part.rings();
    let part = Region::of(&rings);
    let (gone, stays): (Vec<&Shortfall>, Vec<&Shortfall>) =
        template.left.iter().partition(|s| s.is_cut_away(&part, *work));
    let (left, curved): (Vec<&Shortfall>, Vec<&Shortfall>) =
        stays.into_iter().partition(|s| s.cause == Cause::SharpCorner);
    let (corners, radius) = (gone.len(), Length::from_mm(template.offset));
    let rounded = deepest(&gone).map(|most| {
        let ([x, y], drawn, depth) = told.at(most);
        let problem = TemplateProblem::RoundedOff { corners, radius, depth, x, y, drawn };
        Finding::of(problem, asked.place.clone())
    });
    let mut found: Vec<Finding> = rounded.into_iter().chain(told.left_round(&left, None)).collect();
    found.extend(told.bored(&curved, &cutter.name));
    let mut curved: Vec<Shortfall> = curved.into_iter().filter(|left| !left.cause.is_usual()).cloned().collect();
    curved.sort_by(|a, b| b.depth.total_cmp(&a.depth));
    curved.iter_mut().take(MOST_PLACES).for_each(|left| left.largest = largest_cutter(asked, &rings, left.at));
    let curved: Vec<&Shortfall> = curved.iter().collect();
    found.extend(told.curves(&curved, &Tool::Collar, (ToolCure::Collar, None)));
    found
}

/// Where something is to be told, and of which part.
#[derive(Clone, Copy)]
struct Told<'a> {
    place: &'a Place,
    part: &'a DrawnPattern,
}

impl Told<'_> {
    /// Where a place is told to lie: in the part's axes, in the drawing that it comes from, and how deep it is.
    fn at(&self, left: &Shortfall) -> ([Length; 2], Option<InDrawing>, Length) {
        let at = left.told_at();
        let drawn = self.part.drawing.as_ref().map(|drawing| drawing.place(at));
        ([at.x, at.y].map(Length::from_mm), drawn, Length::from_mm(left.depth))
    }

    /// Corners that a cutter leaves round.
    fn left_round(&self, left: &[&Shortfall], cutter: Option<String>) -> Option<Finding> {
        let ([x, y], drawn, depth) = self.at(deepest(left)?);
        let problem = TemplateProblem::LeftRound { cutter, corners: left.len(), depth, x, y, drawn };
        Some(Finding::of(problem, self.place.clone()))
    }

    /// Round holes that a cutter does not enter.
    fn bored(&self, left: &[&Shortfall], cutter: &str) -> Option<Finding> {
        let diameter = |place: &&Shortfall| match place.cause {
            Cause::Bore { diameter } => Some(diameter),
            _ => None,
        };
        let all: Vec<f64> = left.iter().filter_map(diameter).collect();
        let least = Length::from_mm(all.iter().copied().reduce(f64::min)?);
        let problem = TemplateProblem::HoleToDrill { cutter: cutter.to_owned(), holes: all.len(), diameter: least };
        Some(Finding::of(problem, self.place.clone()))
    }

    /// Curves and narrow places that a tool does not enter, the deepest first; beyond [`MOST_PLACES`] they are counted.
    fn curves(
        &self,
        left: &[&Shortfall],
        tool: &Tool,
        (cure, largest_for_all): (ToolCure, Option<Length>),
    ) -> Vec<Finding> {
        let mut deepest: Vec<&Shortfall> = left.iter().copied().filter(|place| !place.cause.is_usual()).collect();
        deepest.sort_by(|a, b| b.depth.total_cmp(&a.depth));
        let told = |s: &&Shortfall| {
            let how = match s.cause {
                Cause::TightCurve { radius } => Unreached::Curve(Length::from_mm(radius)),
                _ if s.is_whole_ring() => Unreached::Opening,
                _ => Unreached::Narrow,
            };
            let ([x, y], drawn, depth) = self.at(s);
            let [across, largest] = [s.across, s.largest].map(|mm| mm.map(Length::from_mm));
            let tool = tool.clone();
            let (at, largest) = (how, largest.filter(|_| largest_for_all.is_some() || cure == ToolCure::Collar));
            let problem = TemplateProblem::ToolDoesNotFit {
                tool,
                at,
                across,
                depth,
                x,
                y,
                drawn,
                largest,
                largest_for_all,
                cure,
            };
            Finding::of(problem, self.place.clone())
        };
        let mut found: Vec<Finding> = deepest.iter().take(MOST_PLACES).map(told).collect();
        let more = deepest.len().saturating_sub(MOST_PLACES);
        if more > 0 {
            found.push(Finding::of(TemplateProblem::MorePlaces { more }, self.place.clone()));
        }
        found
    }
}

/// Where a batten is not fair. Turns from hollow to round are told only where there are more than its points call for.
pub(super) fn fairness(place: &Place, faults: &[Unfair], turns: usize) -> Vec<Finding> {
    let inflections = faults.iter().filter(|fault| fault.kind == UnfairKind::Inflection).count();
    let told = faults.iter().filter_map(|fault| {
        let ([x, y], length) = (at(fault.at), Length::from_mm(fault.length));
        let problem = match fault.kind {
            UnfairKind::Flat => EdgeProblem::Flat { length, x, y },
            UnfairKind::Bump => EdgeProblem::Bump { length, x, y },
            UnfairKind::Inflection if inflections > turns => EdgeProblem::Turns { length, x, y },
            // Springing joins its pieces smoothly; where edges meet is for the corners.
            UnfairKind::Inflection | UnfairKind::Kink(_) | UnfairKind::Jump(..) => return None,
        };
        Some(Finding::of(problem, place.clone()))
    });
    told.collect()
}

/// What a cutter leaves of a part whose outline its bearing follows.
pub(super) fn reach((place, part): (&Place, &DrawnPattern), tool: &CutterTool, reach: &Reach) -> Vec<Finding> {
    let told = Told { place, part };
    let (sharp, curved): (Vec<&Shortfall>, Vec<&Shortfall>) =
        reach.left.iter().partition(|s| s.cause == Cause::SharpCorner);
    let mut found: Vec<Finding> = told.left_round(&sharp, Some(tool.name.clone())).into_iter().collect();
    found.extend(told.bored(&curved, &tool.name));
    let bearing = tool.cutter.bearing.filter(|bearing| *bearing > tool.cutter.diameter);
    let named = if bearing.is_some() { Tool::Bearing(tool.name.clone()) } else { Tool::Cutter(tool.name.clone()) };
    let cure = if reach.largest.is_some() { ToolCure::Bearing } else { ToolCure::Paring };
    found.extend(told.curves(&curved, &named, (cure, reach.largest.map(Length::from_mm))));
    if reach.step.abs() > NOTICEABLE {
        let (cutter, by) = (tool.name.clone(), Length::from_mm(reach.step));
        let problem = TemplateProblem::BearingDiffers { cutter, by, wanted: None, step: None };
        found.push(Finding::of(problem, place.clone()).weighed(Severity::Note));
    }
    found
}

/// Holes that the cutter does not enter: they are drilled.
pub(super) fn holes(part: &DrawnPattern, tool: &CutterTool) -> Option<Finding> {
    let enters =
        |hole: &Hole| [Some(tool.cutter.diameter), tool.cutter.bearing].iter().flatten().all(|d| *d <= hole.diameter);
    let small = || part.holes.iter().filter(|hole| !enters(&hole.what));
    let least = small().min_by(|a, b| a.what.diameter.mm().total_cmp(&b.what.diameter.mm()))?;
    let (cutter, holes, diameter) = (tool.name.clone(), small().count(), least.what.diameter);
    let problem = TemplateProblem::HoleToDrill { cutter, holes, diameter };
    Some(Finding::of(problem, part.place.child("holes").child(least.entry)))
}

/// That an outline cannot be checked with a cutter.
pub(super) fn no_reach(place: &Place, fault: TemplateFault) -> Finding {
    Finding::of(TemplateProblem::CannotCheck { why: fault.into() }, place.clone())
}

/// That an edge profile cannot be cut, and why.
pub(super) fn no_profile(place: &Place, why: ProfileFault) -> Finding {
    Finding::of(EdgeProblem::NoProfile { why }, place.clone())
}

/// A cutter too short for its part.
pub(super) fn cutter_length(place: &Place, tool: &CutterTool, part: Length) -> Option<Finding> {
    // The bearing runs on the template, so that the cutting length is for the part and what passes it.
    let length = super::cutter_length(&tool.cutter, part, Length::ZERO, PAST).filter(|l| l.spare < Length::ZERO)?;
    let problem = TemplateProblem::CutterShort {
        cutter: tool.name.clone(),
        cuts: length.needed + length.spare,
        part,
        on_template: false,
        needed: length.needed,
        short_by: -length.spare,
    };
    Some(Finding::of(problem, place.clone()))
}

/// A collar that stands out below its template.
fn proud(asked: &Template, collar: &CollarTool) -> Option<Finding> {
    let (projection, thickness) = (collar.collar.projection?, asked.thickness?);
    collar_stands_proud(projection, thickness)?;
    let problem = TemplateProblem::CollarProud { collar: collar.name.clone(), projection, thickness };
    Some(Finding::of(problem, asked.place.child("thickness")))
}

fn inlay(asked: &Template, pair: &InlayPair, part: &DrawnPattern) -> Vec<Finding> {
    let told = Told { place: &asked.place, part };
    let mut problems = Vec::new();
    if let Some(most) = deepest(&pair.lost.iter().collect::<Vec<_>>()) {
        let ([x, y], drawn, depth) = told.at(most);
        let [outside, inside] = [pair.least_outside_radius, pair.least_inside_radius].map(Length::from_mm);
        problems.push(TemplateProblem::InlayLoses { places: pair.lost.len(), outside, inside, depth, x, y, drawn });
    }
    if let Some(most) = deepest(&pair.to_ease.iter().collect::<Vec<_>>()) {
        let ([x, y], drawn, depth) = told.at(most);
        problems.push(TemplateProblem::PlugToEase { places: pair.to_ease.len(), depth, x, y, drawn });
    }
    if pair.gap.abs() > NOTICEABLE {
        problems.push(TemplateProblem::InlayGap { gap: Length::from_mm(pair.gap) });
    }
    problems.into_iter().map(|problem| Finding::of(problem, asked.place.clone())).collect()
}

/// An edge that is to be routed and is bevelled.
pub(super) fn bevelled_edge(place: Place, board: &SolvedBoard, saw: &SawCut, cut: &str) -> Finding {
    let left = board.board.thickness * saw.bevel.radians().tan();
    let side = if saw.far_side == FarSide::Longer { board.board.sides[0] } else { board.board.sides[1] };
    let what = Bevelled::Edge(cut.to_owned(), board.label.clone(), side);
    let (bevel, left) = (Some(saw.bevel), Some(Length::from_mm(left)));
    Finding::of(TemplateProblem::Bevelled { what, bevel, left }, place)
}

/// A template that runs all round a board with bevelled cuts.
pub(super) fn bevelled_all_round(place: Place, cuts: &[&str]) -> Finding {
    let what = Bevelled::AllRound(cuts.iter().map(|cut| (*cut).to_owned()).collect());
    Finding::of(TemplateProblem::Bevelled { what, bevel: None, left: None }, place)
}
