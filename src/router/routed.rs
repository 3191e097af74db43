//! Everything that one drawn pattern asks of the router, worked out, and what is to be told about it: its templates alone, of which
//! revision codes are made, and the rest.

use super::beyond::Beyond;
use super::blank::{Blank, BlankFault, BlankSettings, blank};
use super::caution::{Caution, Guide, Job, cautions};
use super::collar::{CollarTemplate, TemplateFault, collar_template, saw_line};
use super::diagnostics;
use super::edge_fit;
use super::feed_direction::router_beyond;
use super::gauge::{RadiusGauge, radius_gauge};
use super::grain::{GrainRun, GrainWay, Rotation, grain_runs};
use super::inlay::{InlayPair, InlayTools, inlay_pair};
use super::nested::{falls_apart, loose_islands, vanishes};
use super::on_part::{OnPart, on_part};
use super::problem::NoTemplate;
use super::profiled_edge::edge_sections;
use super::reach::reach;
use super::sawn::left_out;
use super::setting;
use super::shortfall::Shortfall;
use super::strip::strip;
use crate::finding::Finding;
use crate::geometry::{Arc, Flat, Path, Point, Rect, Segment, UnfairSettings, unfair};
use crate::model::{
    BlankTemplate, CutterTool, DrawnEdge, DrawnPattern, LiesOn, Template, TemplateKind, Work, edge_of,
};
use crate::tolerance::{BELOW_A_RULE, SAME_CORNER, SAME_POINT, UNSEEN};
use crate::units::{Angle, Length};
use std::mem::discriminant;

/// Straight edge of a gauge beside its arc: enough to hold it to the work.
const GAUGE_LAND: Length = Length::from_mm(20.0);

/// The templates that a pattern asks for, in the order written; instead of one that cannot be made, why.
#[derive(Debug, Clone, Default)]
pub struct Templates {
    asked: Vec<Result<RoutedTemplate, NoTemplate>>,
}

impl Templates {
    /// Those that can be made, in the order written.
    pub fn made(&self) -> impl Iterator<Item = &RoutedTemplate> {
        self.asked.iter().flatten()
    }
}

/// What else a pattern asks of the router.
#[derive(Debug, Clone, Default)]
pub struct Routed {
    /// What is drawn on the part itself: nothing where it cannot be worked out, and why is among the findings.
    pub on_part: OnPart,
    /// What is to be told.
    pub findings: Vec<Finding>,
}

/// A template worked out.
#[derive(Debug, Clone)]
pub struct RoutedTemplate {
    /// What it is called after the part's name: `collar template`, `collar template 2`.
    pub name: String,
    /// As the file asks for it.
    pub asked: Template,
    /// Its shape.
    pub shape: TemplateShape,
    /// What to mind.
    pub cautions: Vec<Caution>,
}

/// The shape of a template.
#[derive(Debug, Clone)]
pub enum TemplateShape {
    /// For a guide collar.
    Collar(CollarTemplate),
    /// For an inlay.
    Inlay(InlayPair),
    /// A line to saw along.
    SawLine(Vec<Path>),
    /// A blank for one edge.
    Blank(Box<Blank>),
}

/// Works out the templates that a pattern asks for, without what is to be told of them.
pub fn templates(drawn: &DrawnPattern) -> Templates {
    let mut all = Templates::default();
    for asked in &drawn.routing.templates {
        let made = shape(drawn, asked).map(|shape| RoutedTemplate {
            name: free_name(&all, asked),
            asked: asked.clone(),
            cautions: template_cautions(drawn, asked, &shape),
            shape,
        });
        all.asked.push(made);
    }
    all
}

/// Works out what is drawn on a pattern for the router, and what is to be told of that and of the pattern's templates.
pub fn routed(drawn: &DrawnPattern, templates: &Templates) -> Routed {
    let mut routed = Routed::default();
    for (edge, path) in drawn.routing.edges.iter().zip(&drawn.built.paths) {
        if let Some(turns) = edge.batten_turns {
            let place = drawn.place.child("outline").child(edge.corner).child("edge");
            let faults = unfair(path, &UnfairSettings::default());
            routed.findings.extend(diagnostics::fairness(&place, &faults, turns));
        }
    }
    let on_part = on_part(drawn);
    if let Some(tool) = &drawn.routing.check_cutter {
        routed.findings.extend(reached(drawn, tool, &on_part));
    }
    routed.on_part = on_part.unwrap_or_default();
    for (worked, section) in edge_sections(drawn) {
        routed.findings.extend(section.err().map(|fault| diagnostics::no_profile(&worked.place, fault)));
    }
    routed.findings.extend(edge_fit::findings(drawn));
    for (asked, made) in drawn.routing.templates.iter().zip(&templates.asked) {
        match made {
            Ok(made) => {
                routed.findings.extend(diagnostics::template(asked, &made.shape, drawn));
                routed.findings.extend(falls_apart(asked, &made.shape, &drawn.rings()));
                routed.findings.extend(loose_islands(asked, &made.shape));
                routed.findings.extend(left_out(asked, &made.shape, drawn));
                routed.findings.extend(setting::findings(drawn, made));
            }
            Err(why) => {
                let vanishes = || vanishes(asked, &drawn.rings());
                let told = Some(why).filter(|why| **why == NoTemplate::Vanishes).and_then(|_| vanishes());
                routed.findings.push(told.unwrap_or_else(|| diagnostics::no_template(&asked.place, *why)));
            }
        }
    }
    routed
}

/// What is to be told of the cutter with which a part is checked.
fn reached(drawn: &DrawnPattern, tool: &CutterTool, on_part: &Result<OnPart, TemplateFault>) -> Vec<Finding> {
    let place = drawn.place.child("check_cutter");
    let found = match on_part {
        Ok(on_part) => on_part.reach.as_ref(),
        Err(fault) => return vec![diagnostics::no_reach(&place, *fault)],
    };
    let reach = found.into_iter().flat_map(|found| diagnostics::reach((&place, drawn), tool, found));
    let holes = diagnostics::holes(drawn, tool);
    reach.chain(holes).chain(diagnostics::cutter_length(&place, tool, drawn.thickness)).collect()
}

fn shape(drawn: &DrawnPattern, asked: &Template) -> Result<TemplateShape, NoTemplate> {
    let rings = drawn.rings();
    Ok(match &asked.kind {
        TemplateKind::Collar { work, collar, cutter } => {
            let template = collar_template(&rings, *work, collar.collar.diameter, cutter.cutter.diameter)?;
            TemplateShape::Collar(template)
        }
        TemplateKind::Inlay { large, small, cutter } => {
            let (large, small) = (large.collar.diameter, small.collar.diameter);
            let tools = InlayTools { large, small, cutter: cutter.cutter.diameter };
            TemplateShape::Inlay(inlay_pair(&rings, tools)?)
        }
        TemplateKind::SawLine { distance } => {
            TemplateShape::SawLine(saw_line(&rings, *distance).map_err(TemplateFault::from)?)
        }
        TemplateKind::Blank(wanted) => TemplateShape::Blank(Box::new(blank_of(drawn, wanted)?)),
    })
}

/// The blank of one edge or two, as it is seen from above when it lies on the part.
fn blank_of(drawn: &DrawnPattern, wanted: &BlankTemplate) -> Result<Blank, BlankFault> {
    let (mut made, edges) = bare_blank(drawn, wanted)?;
    if let Some(grain) = drawn.grain.map(|grain| as_it_lies(grain, wanted)) {
        let face = if router_beyond(wanted) { Rotation::Clockwise } else { Rotation::Anticlockwise };
        let usual = drawn.routing.grain_runs.unwrap_or_default();
        let runs = edges.iter().flat_map(|edge| grain_runs(edge, grain, face, &usual));
        made.runs = runs.filter(|run| run.stretch.length() >= usual.shortest.mm()).collect();
    }
    let followed = |place: &Shortfall| {
        made.followed.iter().any(|path| path.nearest(place.at).is_some_and(|n| n.0 < BELOW_A_RULE))
    };
    let reached = wanted.cutter.as_ref().map(|tool| reach(std::slice::from_ref(&made.outline), &tool.cutter));
    // One that cannot be worked out is told where the part itself is checked.
    let left = reached.and_then(Result::ok).map_or_else(Vec::new, |reach| reach.left);
    made.left = left.into_iter().filter(followed).collect();
    Ok(made)
}

/// The direction of the grain as it is seen from a template.
fn as_it_lies(grain: Angle, wanted: &BlankTemplate) -> Angle {
    if wanted.lies_on == LiesOn::Far { Angle::from_radians(-grain.radians()) } else { grain }
}

/// What is drawn on the part's face as who lays the template on its side sees it.
fn seen_on(drawn: Vec<Path>, wanted: &BlankTemplate) -> Vec<Path> {
    let seen = match wanted.lies_on {
        LiesOn::Face => Flat::from_outside(drawn),
        LiesOn::Far => Flat::from_inside(drawn).turned_over(),
    };
    seen.paper().into_drawn()
}

/// The blank without grain and reach, and the edges of the part that it carries, as they are seen from it.
pub(super) fn bare_blank(drawn: &DrawnPattern, wanted: &BlankTemplate) -> Result<(Blank, Vec<Path>), BlankFault> {
    let edges = wanted.edges.iter().map(|choice| {
        let edge = drawn.routing.edges.get(edge_of(&drawn.routing.edges, choice)?)?;
        with_part_on_left(drawn, edge)
    });
    let mut edges = edges.collect::<Option<Vec<Path>>>().ok_or(BlankFault::NoEnds)?;
    let mut hidden = wanted.hidden.clone();
    let sawn = drawn.routing.edges.iter().map(|edge| edge.path.clone());
    let mut part: Vec<Path> = sawn.chain([drawn.built.outline.path().clone()]).collect();
    let grain = drawn.grain.map(|grain| as_it_lies(grain, wanted));
    part = seen_on(part, wanted);
    (edges, hidden) = (seen_on(edges, wanted), seen_on(hidden, wanted));
    if wanted.lies_on == LiesOn::Far {
        // Turned over: run the other way, so that the part stays on the left.
        edges.iter_mut().chain(&mut hidden).for_each(|line| *line = line.reversed());
    }
    let settings = settings(wanted);
    let made = match edges.as_slice() {
        [edge] => blank(edge, &part, &hidden, grain, &settings),
        [first, second] => strip([first, second], &hidden, grain, &settings),
        _ => Err(BlankFault::NoEnds),
    }?;
    // Edges of a board of the piece run from end to end.
    if drawn.board.is_some() {
        return Ok((made, edges));
    }
    let outline = seen_on(vec![drawn.built.outline.path().clone()], wanted);
    Ok((outline.first().map_or(made.clone(), |outline| beside(made, &edges, outline)), edges))
}

/// A blank that knows where its edges end within the part: nothing is sawn there.
fn beside(made: Blank, edges: &[Path], outline: &Path) -> Blank {
    let past = |(edge, followed): (&Path, &Path)| {
        let ends = [edge.start().zip(followed.start()), edge.end().zip(followed.end())];
        ends.map(|end| end.map_or(Beyond::Nothing, |(end, tip)| Beyond::past(end, tip - end, outline)))
    };
    // Of two edges the second runs back.
    let both = edges.iter().zip(&made.followed).map(past).enumerate();
    let both = both.map(|(index, [first, last])| if index == 0 { [first, last] } else { [last, first] });
    let beyond = both.fold([Beyond::Nothing; 2], |[a, b], [first, last]| [a.or(first), b.or(last)]);
    let ends = |end: usize| made.leave_long[end] && beyond[end] == Beyond::Nothing;
    Blank { leave_long: [ends(0), ends(1)], beyond, ..made }
}

/// An edge run so that the part lies on its left.
pub(super) fn with_part_on_left(drawn: &DrawnPattern, edge: &DrawnEdge) -> Option<Path> {
    let edge = &edge.path;
    let middle = edge.place_at_length(edge.length() / 2.0)?;
    let ring = drawn.built.outline.path();
    let (_, place) = ring.nearest(edge.point_at(middle)?)?;
    // An outline runs anticlockwise, with the part on its left.
    let same_way = ring.tangent_at(place)?.dot(edge.tangent_at(middle)?) > 0.0;
    Some(if same_way { edge.clone() } else { edge.reversed() })
}

fn settings(wanted: &BlankTemplate) -> BlankSettings {
    let usual = BlankSettings::default();
    BlankSettings {
        run_on: wanted.run_on.unwrap_or(usual.run_on),
        hold: wanted.hold.unwrap_or(usual.hold),
        clear: wanted.clear.unwrap_or(usual.clear),
        head: wanted.head.unwrap_or(usual.head),
        router_beyond: router_beyond(wanted),
    }
}

/// The name of a template, with a number where one of its kind stands before it.
fn free_name(before: &Templates, asked: &Template) -> String {
    let base = match asked.kind {
        TemplateKind::Collar { .. } => "collar template",
        TemplateKind::Inlay { .. } => "inlay template",
        TemplateKind::SawLine { .. } => "saw line",
        TemplateKind::Blank(_) => "template blank",
    };
    let kind = discriminant(&asked.kind);
    match before.made().filter(|other| discriminant(&other.asked.kind) == kind).count() {
        0 => base.to_owned(),
        count => format!("{base} {}", count + 1),
    }
}

fn template_cautions(drawn: &DrawnPattern, asked: &Template, shape: &TemplateShape) -> Vec<Caution> {
    let (cutter, inside) = match &asked.kind {
        TemplateKind::Collar { work, cutter, .. } => (cutter, *work == Work::Inside),
        TemplateKind::Inlay { cutter, .. } => (cutter, true),
        TemplateKind::Blank(wanted) => {
            let runs = match shape {
                TemplateShape::Blank(blank) => blank.runs.as_slice(),
                _ => &[],
            };
            // Only its own edges are routed, and the bearing runs on the tongue before the cutter meets the wood.
            return mind(drawn, wanted.cutter.as_ref(), Guide::Bearing { free_start: false }, runs);
        }
        // A saw follows it.
        TemplateKind::SawLine { .. } => return Vec::new(),
    };
    mind(drawn, Some(cutter), Guide::Collar, &runs_along(drawn, inside))
}

/// What to mind where a cutter is run along the part itself, as for an edge profile: none where nothing is.
pub fn part_cautions(drawn: &DrawnPattern) -> Vec<Caution> {
    let cutter = drawn.routing.check_cutter.as_ref();
    if cutter.is_none() && drawn.routing.profiles.is_empty() {
        return Vec::new();
    }
    mind(drawn, cutter, Guide::Bearing { free_start: true }, &runs_along(drawn, false))
}

/// How the grain lies along the part's edge as a router is fed round it, outside or inside.
fn runs_along(drawn: &DrawnPattern, inside: bool) -> Vec<GrainRun> {
    let ring = drawn.built.outline.path();
    let travelled = if inside { ring.reversed() } else { ring.clone() };
    let settings = drawn.routing.grain_runs.unwrap_or_default();
    let runs = drawn.grain.map(|grain| grain_runs(&travelled, grain, settings.face.into(), &settings));
    runs.unwrap_or_default()
}

/// What to mind where a cutter cuts along these runs of the grain.
fn mind(drawn: &DrawnPattern, cutter: Option<&CutterTool>, guide: Guide, runs: &[GrainRun]) -> Vec<Caution> {
    let some = |way: GrainWay| runs.iter().any(|run| run.way == way);
    let bounds = drawn.built.outline.path().bounding_box().unwrap_or(Rect::ZERO);
    let (long, short) = (bounds.width().max(bounds.height()), bounds.width().min(bounds.height()));
    cautions(&Job {
        length: Length::from_mm(long),
        width: Length::from_mm(short),
        cutter: cutter.map(|tool| tool.cutter.diameter),
        guide,
        end_grain: some(GrainWay::End),
        against_grain: some(GrainWay::Against),
    })
}

/// A gauge for the rounded corners of one radius and one angle.
#[derive(Debug, Clone)]
pub struct CornerGauge {
    /// The gauge.
    pub gauge: RadiusGauge,
    /// The radius.
    pub radius: Length,
    /// The angle that the two edges enclose, as their tangents run where the arc touches them.
    pub corner: Angle,
    /// Whether the corner stands out of the part, so that the gauge fits over it.
    pub stands_out: bool,
    /// How many corners it is for.
    pub count: usize,
}

/// The gauges for a part's rounded corners, where they are asked for.
pub fn corner_gauges(drawn: &DrawnPattern) -> Vec<CornerGauge> {
    let mut gauges: Vec<CornerGauge> = Vec::new();
    if !drawn.routing.gauges {
        return gauges;
    }
    let ends_at = |arc: &&Arc, pair: &[Point]| {
        let ends = [Segment::Arc(**arc).start(), Segment::Arc(**arc).end()];
        pair.iter().all(|p| ends.iter().any(|end| end.distance(*p) < SAME_POINT))
    };
    let arcs = drawn.built.outline.path().segments().iter().filter_map(|segment| match segment {
        Segment::Arc(arc) => Some(arc),
        _ => None,
    });
    for pair in drawn.built.tangents.chunks_exact(2) {
        let Some(arc) = arcs.clone().find(|arc| ends_at(arc, pair)) else { continue };
        let radius = arc.p.hypot();
        let (corner, stands_out) = (std::f64::consts::PI - arc.sweep.abs(), arc.sweep > 0.0);
        let alike = |known: &&mut CornerGauge| {
            known.stands_out == stands_out
                && (known.radius.mm() - radius).abs() < UNSEEN
                && (known.corner.radians() - corner).abs() < SAME_CORNER
        };
        match gauges.iter_mut().find(alike) {
            Some(known) => known.count += 1,
            None => {
                let (radius, corner) = (Length::from_mm(radius), Angle::from_radians(corner));
                let gauge = radius_gauge(radius, corner, GAUGE_LAND);
                gauges.extend(gauge.map(|gauge| CornerGauge { gauge, radius, corner, stands_out, count: 1 }));
            }
        }
    }
    gauges
}
