//! What is to be told about routing, in a maker's words.

use super::blank::BlankFault;
use super::collar::{CollarTemplate, TemplateFault, collar_stands_proud};
use super::held::screws;
use super::inlay::InlayPair;
use super::profile::ProfileFault;
use super::reach::Reach;
use super::routed::TemplateShape;
use super::setting::PAST;
use super::shortfall::{Cause, NOTICEABLE, Shortfall};
use crate::board::{FarSide, SawCut};
use crate::finding::{Finding, Place, Severity};
use crate::geometry::{Point, Unfair, UnfairKind};
use crate::model::{CollarTool, CutterTool, DrawnPattern, Hole, Template, TemplateKind};
use crate::piece::SolvedBoard;
use crate::units::{Length, Notation};

/// Places of one outline that are told one by one; what is left over is counted.
const MOST_PLACES: usize = 12;

/// Why there is no template.
pub(super) enum Fault {
    /// Of one that a collar follows.
    Template(TemplateFault),
    /// Of a blank.
    Blank(BlankFault),
}

impl From<TemplateFault> for Fault {
    fn from(fault: TemplateFault) -> Self {
        Fault::Template(fault)
    }
}

impl From<BlankFault> for Fault {
    fn from(fault: BlankFault) -> Self {
        Fault::Blank(fault)
    }
}

/// That there is no template, and why.
pub(super) fn no_template(place: &Place, fault: &Fault) -> Finding {
    let (message, remedy) = match fault {
        Fault::Template(TemplateFault::TooNarrow) => (
            "no template is left: the shape is narrower than the tools",
            "take a smaller collar and cutter, or make the shape wider",
        ),
        Fault::Template(TemplateFault::CollarTooSmall | TemplateFault::NoDiameter) => {
            ("the collar does not let the cutter through", "take a larger collar or a smaller cutter")
        }
        Fault::Template(TemplateFault::Shape(_)) => (
            "no template can be made of this outline that is true to 0.005 mm: its edges run too nearly together",
            "draw the narrow places wider, or with fewer corners",
        ),
        Fault::Blank(BlankFault::NoEnds) => {
            ("this edge has no two ends from which a template could run on", "choose an edge whose ends lie apart")
        }
        Fault::Blank(BlankFault::EdgesMeet) => (
            "these two edges meet at a corner, and a template of two edges carries one on either side of the part",
            "name the edge across from the first, or ask for a template of each",
        ),
        Fault::Blank(BlankFault::BadSize) => ("a size of this template is not larger than 0", "give larger sizes"),
        Fault::Blank(BlankFault::Shape(_)) => (
            "the edge, run on straight past its ends, meets itself or the back of its template",
            "make \"run_on\" shorter or \"hold\" larger, or give the edge flatter ends",
        ),
    };
    Finding::stop("no-template", place.clone(), message).remedy(remedy)
}

/// What is to be told about a template.
pub(super) fn template(asked: &Template, shape: &TemplateShape, part: &DrawnPattern, say: &Notation) -> Vec<Finding> {
    match (&asked.kind, shape) {
        (TemplateKind::Collar { collar, .. }, TemplateShape::Collar(template)) => {
            let mut found = collar_left(asked, template, part, say);
            found.extend(proud(asked, collar, say));
            found
        }
        (TemplateKind::Inlay { large, small, .. }, TemplateShape::Inlay(pair)) => {
            let mut found = inlay(asked, pair, say);
            found.extend([large, small].iter().filter_map(|collar| proud(asked, collar, say)));
            found
        }
        (TemplateKind::Blank(wanted), TemplateShape::Blank(blank)) => {
            let all: Vec<&Shortfall> = blank.left.iter().collect();
            let name = wanted.cutter.as_ref().map_or("", |tool| tool.name.as_str());
            let tool = format!("the cutter \"{name}\"");
            let mut found = curves(&all, &asked.place, &tool, say, |_| {
                "take a smaller cutter, or pare what is hatched on the template".to_owned()
            });
            found.extend(screws(asked, wanted, blank, part, say));
            found
        }
        _ => Vec::new(),
    }
}

/// A place in words.
pub(super) fn at(point: Point, say: &Notation) -> String {
    let length = |mm: f64| say.length(Length::from_mm(mm));
    format!("x {}, y {}", length(point.x), length(point.y))
}

/// Tells the places that a tool does not follow, the deepest first; beyond [`MOST_PLACES`] they are counted.
fn places(left: &[&Shortfall], place: &Place, tell: impl Fn(&Shortfall) -> Finding) -> Vec<Finding> {
    let mut deepest: Vec<&Shortfall> = left.to_vec();
    deepest.sort_by(|a, b| b.depth.total_cmp(&a.depth));
    let mut found: Vec<Finding> = deepest
        .iter()
        .take(MOST_PLACES)
        .map(|s| tell(s).measured("depth", s.depth).measured("x", s.at.x).measured("y", s.at.y))
        .collect();
    let more = deepest.len().saturating_sub(MOST_PLACES);
    if more > 0 {
        let message = format!("{more} more places, none as deep, are left; all are drawn on the pattern");
        found.push(Finding::note("more-places", place.clone(), message).remedy("cure the deepest first"));
    }
    found
}

/// The deepest of some places.
fn deepest<'s>(left: &[&'s Shortfall]) -> Option<&'s Shortfall> {
    left.iter().copied().max_by(|a, b| a.depth.total_cmp(&b.depth))
}

/// How many corners, and in which words: `the corner`, `6 corners, most`.
fn corners(count: usize) -> (String, &'static str) {
    if count == 1 { ("a corner".to_owned(), "") } else { (format!("{count} corners"), " at most, the one") }
}

/// What a collar's template does not follow: corners that it rounds off, corners that it leaves, and curves.
fn collar_left(asked: &Template, template: &CollarTemplate, part: &DrawnPattern, say: &Notation) -> Vec<Finding> {
    let TemplateKind::Collar { work, .. } = asked.kind else { return Vec::new() };
    let (gone, stays): (Vec<&Shortfall>, Vec<&Shortfall>) =
        template.left.iter().partition(|s| s.is_cut_away(part, work));
    let (left, curved): (Vec<&Shortfall>, Vec<&Shortfall>) =
        stays.into_iter().partition(|s| s.cause == Cause::SharpCorner);
    let told = |group: &[&Shortfall], code: &'static str, verb: &str, remedy: String| {
        let most = deepest(group)?;
        let (what, which) = corners(group.len());
        let depth = say.at_least(Length::from_mm(most.depth));
        let message = format!("{what} {verb}, by {depth}{which} at {}", at(most.at, say));
        let finding = Finding::note(code, asked.place.clone(), message).remedy(remedy);
        Some(finding.measured("depth", most.depth).measured("x", most.at.x).measured("y", most.at.y))
    };
    let radius = say.exact(Length::from_mm(template.offset));
    let round = format!("draw a corner_radius of {radius} or more, or stop short of the corner and saw it");
    let square = "square it with a chisel, or draw it with the cutter's radius".to_owned();
    let mut found: Vec<Finding> =
        told(&gone, "corner-rounded-off", "will be rounded off as the collar turns there", round)
            .into_iter()
            .chain(told(&left, "corner-left-round", "without a radius cannot be reached by the round cutter", square))
            .collect();
    found.extend(curves(&curved, &asked.place, "the collar and its cutter", say, |_| {
        "take a smaller collar and cutter, or pare what is hatched on the template".to_owned()
    }));
    found
}

/// How wide a place is where a tool has no room.
fn wide(place: &Shortfall, say: &Notation) -> String {
    place.across.map_or_else(String::new, |across| format!(", {} wide", say.length(Length::from_mm(across))))
}

/// Curves and narrow places that a tool does not enter.
fn curves(
    left: &[&Shortfall],
    place: &Place,
    tool: &str,
    say: &Notation,
    remedy: impl Fn(&Shortfall) -> String,
) -> Vec<Finding> {
    places(left, place, |s| {
        let (depth, where_) = (say.at_least(Length::from_mm(s.depth)), at(s.at, say));
        let message = match s.cause {
            Cause::TightCurve { radius } => {
                let radius = say.at_most(Length::from_mm(radius));
                format!("{tool} cannot follow the curve of radius {radius} at {where_}: {depth} are left to pare")
            }
            _ if s.between.is_none() => format!(
                "no room for {tool} in the opening at {where_}{}: all of it is left, {depth} deep at its middle",
                wide(s, say)
            ),
            _ => format!("no room for {tool} at {where_}{}: {depth} are left to pare", wide(s, say)),
        };
        let finding = Finding::warn("tool-does-not-fit", place.clone(), message).remedy(remedy(s));
        s.across.iter().fold(finding, |finding, across| finding.measured("across", *across))
    })
}

/// Where a batten is not fair. Turns from hollow to round are told only where there are more than its points call for.
pub(super) fn fairness(place: &Place, faults: &[Unfair], turns: usize, say: &Notation) -> Vec<Finding> {
    let inflections = faults.iter().filter(|fault| fault.kind == UnfairKind::Inflection).count();
    let told = faults.iter().filter_map(|fault| {
        let where_ = at(fault.at, say);
        let length = say.length(Length::from_mm(fault.length));
        let (code, message) = match fault.kind {
            UnfairKind::Flat => {
                ("flat-in-curve", format!("the batten runs nearly straight for {length} about {where_}"))
            }
            UnfairKind::Bump => ("bump-in-curve", format!("the batten bends sharply over {length} about {where_}")),
            UnfairKind::Inflection if inflections > turns => (
                "curve-turns",
                format!("the batten turns from hollow to round at {where_}, which its points do not call for"),
            ),
            // Springing joins its pieces smoothly; where edges meet is for the corners.
            UnfairKind::Inflection | UnfairKind::Kink(_) | UnfairKind::Jump(..) => return None,
        };
        let finding = Finding::note(code, place.clone(), message).remedy(
            "if it is not meant, move the points beside it or use fewer; \"comb\": true draws how the curve bends",
        );
        Some(finding.measured("length", fault.length).measured("x", fault.at.x).measured("y", fault.at.y))
    });
    told.collect()
}

/// What a cutter leaves of a part whose outline its bearing follows.
pub(super) fn reach(place: &Place, tool: &CutterTool, reach: &Reach, say: &Notation) -> Vec<Finding> {
    let (sharp, curved): (Vec<&Shortfall>, Vec<&Shortfall>) =
        reach.left.iter().partition(|s| s.cause == Cause::SharpCorner);
    let mut found = Vec::new();
    if let Some(most) = deepest(&sharp) {
        let (what, which) = corners(sharp.len());
        let depth = say.at_least(Length::from_mm(most.depth));
        let message = format!(
            "the cutter \"{}\" cannot reach into {what} without a radius, by {depth}{which} at {}",
            tool.name,
            at(most.at, say)
        );
        let finding = Finding::note("corner-left-round", place.clone(), message)
            .remedy("square it with a chisel, or draw it with the cutter's radius");
        found.push(finding.measured("depth", most.depth).measured("x", most.at.x).measured("y", most.at.y));
    }
    let bearing = tool.cutter.bearing.filter(|bearing| *bearing > tool.cutter.diameter);
    let what = if bearing.is_some() { "the bearing of the cutter" } else { "the cutter" };
    let remedy = match reach.largest {
        Some(largest) => {
            let most = say.at_most(Length::from_mm(largest));
            format!(
                "pare it by hand, or take a cutter and bearing of {most} or less, which follow all but sharp corners"
            )
        }
        None => "pare it by hand: no cutter follows all of this outline".to_owned(),
    };
    let largest = reach.largest;
    let told = curves(&curved, place, &format!("{what} \"{}\"", tool.name), say, |_| remedy.clone());
    found.extend(told.into_iter().map(|finding| match largest {
        Some(largest) => finding.measured("largest", largest),
        None => finding,
    }));
    if reach.step.abs() > NOTICEABLE {
        let step = say.at_least(Length::from_mm(reach.step.abs()));
        let (how, larger) = if reach.step > 0.0 { ("stands out from", "larger") } else { ("lies inside", "smaller") };
        let message = format!(
            "the edge {how} the template by {step}: the bearing of the cutter \"{}\" is {larger} than its cut",
            tool.name
        );
        let finding = Finding::note("bearing-differs", place.clone(), message);
        found.push(finding.remedy("set the template off by as much, or take a bearing of the cutter's diameter"));
    }
    found
}

/// Holes that the cutter does not enter: they are drilled.
pub(super) fn holes(part: &DrawnPattern, tool: &CutterTool, say: &Notation) -> Option<Finding> {
    let enters =
        |hole: &Hole| [Some(tool.cutter.diameter), tool.cutter.bearing].iter().flatten().all(|d| *d <= hole.diameter);
    let small = || part.holes.iter().enumerate().filter(|(_, hole)| !enters(hole));
    let (index, least) = small().min_by(|a, b| a.1.diameter.mm().total_cmp(&b.1.diameter.mm()))?;
    let what = match small().count() {
        1 => format!("the hole of {}", say.exact(least.diameter)),
        count => format!("{count} holes, the smallest of {}", say.exact(least.diameter)),
    };
    let message = format!("the cutter \"{}\" does not enter {what}", tool.name);
    let finding = Finding::note("hole-to-drill", part.place.child("holes").child(index), message);
    Some(finding.remedy("drill it").measured("diameter", least.diameter.mm()))
}

/// That an outline cannot be checked with a cutter.
pub(super) fn no_reach(place: &Place, fault: TemplateFault) -> Finding {
    let finding = no_template(place, &Fault::Template(fault));
    Finding { code: "cannot-check-cutter", severity: Severity::Warn, ..finding }
}

/// That an edge profile cannot be cut, and why.
pub(super) fn no_profile(place: &Place, fault: &ProfileFault, say: &Notation) -> Finding {
    let (message, remedy) = match fault {
        ProfileFault::TooDeep(by) => {
            let by = say.at_least(Length::from_mm(*by));
            (format!("this profile is {by} deeper than the part is thick"), "make it shallower, or the part thicker")
        }
        ProfileFault::ArcTooDeep => (
            "an arc deeper than it is wide would undercut the face".to_owned(),
            "make it wider or shallower, or take the ellipse",
        ),
        ProfileFault::NoSize => ("a size of this profile is not larger than 0".to_owned(), "give a larger size"),
        ProfileFault::NotAcross => (
            "this profile does not run from the face to the edge or the far side".to_owned(),
            "begin on the face (up 0), end on the edge (in 0) or the far side, and cross nothing between",
        ),
    };
    Finding::stop("profile-does-not-fit", place.clone(), message).remedy(remedy)
}

/// A cutter too short for its part.
pub(super) fn cutter_length(place: &Place, tool: &CutterTool, part: Length, say: &Notation) -> Option<Finding> {
    // The bearing runs on the template, so that the cutting length is for the part and what passes it.
    let length = super::cutter_length(&tool.cutter, part, Length::ZERO, PAST).filter(|l| l.spare < Length::ZERO)?;
    let message = format!(
        "the cutter \"{}\" cuts {} deep; this part of {} needs {}",
        tool.name,
        say.exact(length.needed + length.spare),
        say.exact(part),
        say.exact(length.needed)
    );
    let remedy =
        "take a longer cutter, or rout twice: then with the template off and the bearing on the edge just cut";
    let finding = Finding::warn("cutter-too-short", place.clone(), message).remedy(remedy);
    Some(finding.measured("needed", length.needed.mm()).measured("short_by", -length.spare.mm()))
}

/// A collar that stands out below its template.
fn proud(asked: &Template, collar: &CollarTool, say: &Notation) -> Option<Finding> {
    let (projection, thickness) = (collar.collar.projection?, asked.thickness?);
    collar_stands_proud(projection, thickness)?;
    let message = format!(
        "the collar \"{}\" stands out {} below the router, and its template is {} thick: the collar would ride on the work",
        collar.name,
        say.exact(projection),
        say.exact(thickness)
    );
    let finding = Finding::warn("collar-stands-proud", asked.place.child("thickness"), message)
        .remedy(format!("make the template more than {} thick, or file the collar down", say.exact(projection)))
        .measured("projection", projection.mm())
        .measured("thickness", thickness.mm());
    Some(finding)
}

fn counted(places: usize) -> String {
    if places == 1 { "one place".to_owned() } else { format!("{places} places") }
}

fn inlay(asked: &Template, pair: &InlayPair, say: &Notation) -> Vec<Finding> {
    let length = |mm: f64| say.at_least(Length::from_mm(mm));
    let mut found = Vec::new();
    if let Some(most) = deepest(&pair.lost.iter().collect::<Vec<_>>()) {
        let message = format!(
            "the inlay loses its shape in {}, by {} at most, at {}",
            counted(pair.lost.len()),
            length(most.depth),
            at(most.at, say)
        );
        let finding = Finding::warn("inlay-loses-shape", asked.place.clone(), message).remedy(format!(
            "draw outside corners with a radius of {} or more and inside corners with {} or more, or cut them by hand",
            length(pair.least_outside_radius),
            length(pair.least_inside_radius)
        ));
        found.push(finding.measured("depth", most.depth).measured("x", most.at.x).measured("y", most.at.y));
    }
    if let Some(most) = deepest(&pair.to_ease.iter().collect::<Vec<_>>()) {
        let message = format!(
            "the plug is too large for its recess in {}, by {} at most, at {}",
            counted(pair.to_ease.len()),
            length(most.depth),
            at(most.at, say)
        );
        let finding = Finding::note("plug-to-ease", asked.place.clone(), message)
            .remedy("ease the plug's corners there, or square those of the recess with a chisel");
        found.push(finding.measured("depth", most.depth).measured("x", most.at.x).measured("y", most.at.y));
    }
    let exact = "the large collar less the small one should be twice the cutter";
    if pair.gap > NOTICEABLE {
        let message = format!("the plug is {} smaller than the recess all round", length(pair.gap));
        found.push(Finding::warn("inlay-gap", asked.place.clone(), message).remedy(exact).measured("gap", pair.gap));
    } else if pair.gap < -NOTICEABLE {
        let message =
            format!("the plug is {} larger than the recess all round: it does not go in", length(-pair.gap));
        found.push(Finding::warn("inlay-gap", asked.place.clone(), message).remedy(exact).measured("gap", pair.gap));
    }
    found
}

/// An edge that is to be routed and is bevelled.
pub(super) fn bevelled_edge(place: Place, board: &SolvedBoard, saw: &SawCut, cut: &str, say: &Notation) -> Finding {
    let left = board.board.thickness * saw.bevel.radians().tan();
    let message = format!(
        "the {cut} of the {} is bevelled {}, and a straight cutter leaves it square: {} must still come off the {} side",
        board.label,
        say.angle(saw.bevel),
        say.at_least(Length::from_mm(left)),
        if saw.far_side == FarSide::Longer { board.board.sides[0] } else { board.board.sides[1] },
    );
    let remedy = "rout it to this line, which is the longer side's, and plane the bevel, or saw it to its setting in the \
                  schedule and make no template";
    let finding = Finding::warn("bevelled-edge", place, message).remedy(remedy);
    finding.measured("bevel", saw.bevel.degrees()).measured("left", left)
}

/// A template that runs all round a board with bevelled cuts.
pub(super) fn bevelled_all_round(place: Place, cuts: &[&str]) -> Finding {
    let message = format!(
        "this template follows the face side all round, and a straight cutter cuts square to it: bevelled are {}",
        cuts.join(", ")
    );
    let remedy =
        "leave these long and saw them to the schedule after routing, or take a \"blank\" for the other edges";
    Finding::warn("bevelled-edge", place, message).remedy(remedy)
}
