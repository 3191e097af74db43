//! Everything that one drawn pattern asks of the router, worked out, and what is to be told about it.

use super::blank::{Blank, BlankSettings, blank};
use super::caution::{Caution, Job, cautions};
use super::collar::{CollarTemplate, TemplateFault, collar_template, saw_line};
use super::gauge::{RadiusGauge, radius_gauge};
use super::grain::{GrainRun, GrainSettings, GrainWay, Rotation, grain_runs};
use super::inlay::{InlayPair, InlayTools, inlay_pair};
use super::profile::{ProfileFault, ProfileSection, profile_section};
use super::reach::{Reach, reach};
use super::told::{self, Fault};
use crate::finding::Finding;
use crate::geometry::{Arc, Comb, Join, Path, Point, Rect, Segment, UnfairSettings, comb, offset, unfair};
use crate::project::{BlankTemplate, DrawnPattern, Template, TemplateKind, Work};
use crate::units::{Angle, Length, Notation};

/// Straight edge of a gauge beside its arc: enough to hold it to the work.
const GAUGE_LAND: Length = Length::from_mm(20.0);
/// Distance between the teeth of a comb, and length of its longest, mm: teeth that can be told apart, and a comb that stays
/// near its curve.
const COMB: (f64, f64) = (6.0, 30.0);
/// Ends of an arc nearer to a tangent point than this, mm, are that point.
const SAME_POINT: f64 = 1e-6;
/// Radii that differ by less than this, mm, and angles by less than this, radians, take one gauge: neither shows.
const SAME_RADIUS: f64 = 0.01;
const SAME_CORNER: f64 = 0.002;

/// What is drawn on the part itself.
#[derive(Debug, Clone, Default)]
pub struct OnPart {
    /// What the cutter cannot reach.
    pub reach: Option<Reach>,
    /// How the grain lies along the edge.
    pub grain: Vec<GrainRun>,
    /// The comb along its curves.
    pub comb: Option<Comb>,
    /// Lines that the edge profile leaves on the face.
    pub on_face: Vec<Path>,
    /// Lines that it leaves on the far side.
    pub on_far_side: Vec<Path>,
}

/// Works out what is drawn on the part itself.
///
/// # Errors
/// Why the outline cannot be checked with a cutter.
pub fn on_part(drawn: &DrawnPattern) -> Result<OnPart, TemplateFault> {
    let routing = &drawn.routing;
    let tool = routing.check_cutter.as_ref();
    let reach = tool.map(|tool| reach(&drawn.rings(), &tool.cutter)).transpose()?;
    let grain = drawn.grain.filter(|_| routing.grain_runs);
    let grain = grain.map_or_else(Vec::new, |grain| {
        grain_runs(drawn.built.outline.path(), grain, Rotation::default(), &GrainSettings::default())
    });
    let section = edge_section(drawn).and_then(Result::ok);
    let inward = |far: Option<f64>| match far.filter(|far| *far > 0.0) {
        Some(far) => Ok(offset(&drawn.rings(), -far, Join::Round)?.rings),
        None => Ok::<Vec<Path>, TemplateFault>(Vec::new()),
    };
    let on_face = inward(section.as_ref().map(|section| section.on_face))?;
    let on_far_side = inward(section.as_ref().map(|section| section.on_far_side))?;
    let comb = drawn.routing.comb.then(|| comb(&curves(drawn), COMB.0, COMB.1));
    Ok(OnPart { reach, grain, comb, on_face, on_far_side })
}

/// The edges of a part before its corners are rounded, one after the other; of a shape without corners the outline.
fn curves(drawn: &DrawnPattern) -> Path {
    let edges: Vec<Segment> = drawn.built.paths.iter().flat_map(|path| path.segments().iter().copied()).collect();
    if edges.is_empty() { drawn.built.outline.path().clone() } else { Path::open(edges) }
}

/// The section of a part's edge profile, where it has one.
pub fn edge_section(drawn: &DrawnPattern) -> Option<Result<ProfileSection, ProfileFault>> {
    drawn.routing.edge_profile.as_ref().map(|profile| profile_section(profile, drawn.thickness))
}

/// What a pattern asks of the router.
#[derive(Debug, Clone, Default)]
pub struct Routed {
    /// Its templates, in the order written, but for those of which there is none: why is among the findings.
    pub templates: Vec<RoutedTemplate>,
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

/// Works out everything that a pattern asks of the router.
pub fn routed(drawn: &DrawnPattern, notation: &Notation) -> Routed {
    let mut routed = Routed::default();
    for (edge, path) in drawn.routing.edges.iter().zip(&drawn.built.paths) {
        if let Some(turns) = edge.batten_turns {
            let place = drawn.place.child("outline").child(edge.corner).child("edge");
            let faults = unfair(path, &UnfairSettings::default());
            routed.findings.extend(told::fairness(&place, &faults, turns, notation));
        }
    }
    if let Some(tool) = &drawn.routing.check_cutter {
        let place = drawn.place.child("check_cutter");
        match on_part(drawn) {
            Ok(OnPart { reach: Some(found), .. }) => {
                routed.findings.extend(told::reach(&place, tool, &found, notation));
                routed.findings.extend(told::cutter_length(&place, tool, drawn.thickness, notation));
            }
            Ok(_) => {}
            Err(fault) => routed.findings.push(told::no_reach(&place, fault)),
        }
    }
    if let Some(Err(fault)) = edge_section(drawn) {
        routed.findings.push(told::no_profile(&drawn.place.child("edge_profile"), &fault, notation));
    }
    for asked in &drawn.routing.templates {
        match shape(drawn, asked) {
            Ok(shape) => {
                routed.findings.extend(told::template(asked, &shape, drawn, notation));
                let name = free_name(&routed.templates, asked);
                let cautions = template_cautions(drawn, asked);
                routed.templates.push(RoutedTemplate { name, asked: asked.clone(), shape, cautions });
            }
            Err(fault) => routed.findings.push(told::no_template(&asked.place, &fault)),
        }
    }
    routed
}

fn shape(drawn: &DrawnPattern, asked: &Template) -> Result<TemplateShape, Fault> {
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
        TemplateKind::Blank(wanted) => {
            let edge = with_part_on_left(drawn, wanted).ok_or(super::BlankFault::NoEnds)?;
            TemplateShape::Blank(Box::new(blank(&edge, &wanted.hidden, drawn.grain, &settings(wanted))?))
        }
    })
}

/// The edge that a blank follows, run so that the part lies on its left.
fn with_part_on_left(drawn: &DrawnPattern, wanted: &BlankTemplate) -> Option<Path> {
    let edge = &drawn.routing.edges.get(wanted.edge)?.path;
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
    }
}

/// The name of a template, with a number where one of its kind stands before it.
fn free_name(before: &[RoutedTemplate], asked: &Template) -> String {
    let base = match asked.kind {
        TemplateKind::Collar { .. } => "collar template",
        TemplateKind::Inlay { .. } => "inlay template",
        TemplateKind::SawLine { .. } => "saw line",
        TemplateKind::Blank(_) => "template blank",
    };
    match before.iter().filter(|other| other.name.starts_with(base)).count() {
        0 => base.to_owned(),
        count => format!("{base} {}", count + 1),
    }
}

fn template_cautions(drawn: &DrawnPattern, asked: &Template) -> Vec<Caution> {
    let (cutter, inside) = match &asked.kind {
        TemplateKind::Collar { work, cutter, .. } => (Some(cutter.cutter.diameter), *work == Work::Inside),
        TemplateKind::Inlay { cutter, .. } => (Some(cutter.cutter.diameter), true),
        TemplateKind::Blank(blank) => (blank.cutter.as_ref().map(|tool| tool.cutter.diameter), false),
        // A saw follows it.
        TemplateKind::SawLine { .. } => return Vec::new(),
    };
    let ring = drawn.built.outline.path();
    let travelled = if inside { ring.reversed() } else { ring.clone() };
    let runs = drawn.grain.map(|grain| grain_runs(&travelled, grain, Rotation::default(), &GrainSettings::default()));
    let some = |way: GrainWay| runs.iter().flatten().any(|run| run.way == way);
    let bounds = ring.bounding_box().unwrap_or(Rect::ZERO);
    let (long, short) = (bounds.width().max(bounds.height()), bounds.width().min(bounds.height()));
    cautions(&Job {
        length: Length::from_mm(long),
        width: Length::from_mm(short),
        cutter,
        // The collar of inside work stands in the template's opening from the start.
        follows_template: !inside,
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
                && (known.radius.mm() - radius).abs() < SAME_RADIUS
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
