//! What one part asks of the router, worked out: tools looked up in the shop, edges found on the outline.

use super::bench::{Bench, cutter};
use super::outline::Drawn;
use super::part_problem::{PartProblem, ToolKind};
use super::profile;
use super::raw::{CutterChoice, GrainRunsText, OutlineText, PatternText, ProfileText, ProjectText, RequestText};
use super::resolve::Resolver;
use crate::board::PartRole;
use crate::finding::{Finding, Names, Offered, Place};
use crate::geometry::{EdgeShape, Path, Point};
use crate::model::problem::{PartFor, Problem};
use crate::model::top::{Top, TopEdge};
use crate::model::{
    CutterTool, DrawnEdge, EdgeChoice, EdgeToProfile, GrainSettings, PartRouting, Routing, Shop, Template, edge_of,
    unknown_edge,
};

/// Where what is routed by one part is worked out.
pub struct Request<'a> {
    /// The part's edges, where they are known already.
    pub edges: Option<Vec<DrawnEdge>>,
    /// Whether its grain is known.
    pub grain: bool,
    /// The shop.
    pub shop: &'a Shop,
    /// Where the part stands in the file.
    pub place: Place,
}

impl Request<'_> {
    /// What is routed by the part. All that is wrong is told.
    pub fn routing(self, written: RequestText, resolver: &mut Resolver) -> Option<Routing> {
        let all = written.template.map_or(&[][..], |templates| templates.0.as_slice());
        let place = self.place.child("template");
        let place_of = |index: usize| if all.len() == 1 { place.clone() } else { place.child(index) };
        let edges = self.edges.as_deref();
        let templates: Vec<Option<Template>> = all
            .iter()
            .enumerate()
            .map(|(index, text)| Bench { shop: self.shop, edges, place: place_of(index), resolver }.template(text))
            .collect();
        let check_cutter = self.check_cutter(written.check_cutter, resolver);
        let profiles = self.profiles(&written, resolver);
        let grain_runs = self.grain_runs(written.grain_runs, resolver);
        Some(Routing {
            templates: templates.into_iter().collect::<Option<Vec<Template>>>()?,
            check_cutter: check_cutter?,
            profiles: profiles?,
            grain_runs: grain_runs?,
            comb: written.comb,
            gauges: written.gauges,
            edges: self.edges.unwrap_or_default(),
        })
    }

    fn check_cutter(&self, choice: Option<&CutterChoice>, resolver: &mut Resolver) -> Option<Option<CutterTool>> {
        let place = self.place.child("check_cutter");
        match (choice, self.shop.cutters.first()) {
            (None | Some(CutterChoice::No), _) => Some(None),
            (Some(CutterChoice::Name(name)), _) => cutter(self.shop, name, &place, resolver).map(Some),
            (Some(CutterChoice::First), Some((name, cutter))) => {
                Some(Some(CutterTool { name: name.clone(), cutter: *cutter }))
            }
            (Some(CutterChoice::First), None) => {
                let tools = Offered(Names { near: None, all: Vec::new() });
                let problem = PartProblem::UnknownTool { what: ToolKind::Cutter, name: None, tools };
                resolver.refuse(Finding::of(problem, place))
            }
        }
    }

    fn profiles(&self, written: &RequestText, resolver: &mut Resolver) -> Option<Vec<EdgeToProfile>> {
        let all = written.edge_profile.map(|text| {
            let place = self.place.child("edge_profile");
            profile::profile(text, resolver).map(|profile| EdgeToProfile { place, edge: None, profile })
        });
        let single: Vec<Option<EdgeToProfile>> = written
            .edge_profiles
            .iter()
            .flat_map(|named| &named.0)
            .map(|(name, text)| self.worked(name, text, resolver))
            .collect();
        all.into_iter().chain(single).collect()
    }

    /// A profile along one edge.
    fn worked(&self, name: &str, text: &ProfileText, resolver: &mut Resolver) -> Option<EdgeToProfile> {
        let place = self.place.child("edge_profiles").child(name);
        let profile = profile::profile(text, resolver);
        let by_name = EdgeChoice::Name(name.to_owned());
        let known = |choice: &EdgeChoice| self.edges.as_deref().is_none_or(|edges| edge_of(edges, choice).is_some());
        // Names of things are texts, so that a number is one too.
        let by_number = name.parse().ok().map(EdgeChoice::Corner);
        let Some(edge) = [Some(by_name.clone()), by_number].into_iter().flatten().find(known) else {
            return resolver.refuse(unknown_edge(self.edges.as_deref().unwrap_or_default(), &by_name, place));
        };
        Some(EdgeToProfile { place, edge: Some(edge), profile: profile? })
    }

    fn grain_runs(&self, written: Option<&GrainRunsText>, resolver: &mut Resolver) -> Option<Option<GrainSettings>> {
        let Some(GrainRunsText::Marked(text)) = written else { return Some(None) };
        let place = self.place.child("grain_runs");
        if !self.grain {
            return resolver.refuse(Finding::of(PartProblem::NoGrain {}, place));
        }
        let usual = GrainSettings::default();
        let Some(text) = text else { return Some(Some(usual)) };
        let (along, end) = (resolver.optional_angle(text.along.as_ref()), resolver.optional_angle(text.end.as_ref()));
        let shortest = resolver.optional_length(text.shortest.as_ref());
        let settings = GrainSettings {
            along: along?.unwrap_or(usual.along),
            end: end?.unwrap_or(usual.end),
            shortest: shortest?.unwrap_or(usual.shortest),
            face: text.face.unwrap_or(usual.face),
        };
        if settings.along >= settings.end {
            let problem = PartProblem::GrainThresholds { along: settings.along, end: settings.end };
            return resolver.refuse(Finding::of(problem, place.child("along")));
        }
        Some(Some(settings))
    }
}

/// What is routed on parts of the piece; the edge profile of its top among it.
pub fn parts(
    written: &ProjectText,
    top: Option<&Top>,
    shop: &Shop,
    resolver: &mut Resolver,
) -> Option<Vec<PartRouting>> {
    let mut all: Vec<Option<PartRouting>> = Vec::new();
    let none = written.base.is_none() && written.top.is_none();
    for (id, text) in written.routing.iter().flat_map(|named| &named.0) {
        let place = Place::pointer("/routing").child(id);
        if none {
            let (name, wanted) = (id.clone(), PartFor::RoutingAlone);
            let problem = Problem::UnknownPart { name, near: None, known: Vec::new(), wanted };
            return resolver.refuse(Finding::of(problem, place));
        }
        let asked = Request { edges: None, grain: true, shop, place: place.clone() };
        let routing = asked.routing(text.into(), resolver);
        all.push(routing.map(|routing| PartRouting { id: id.clone(), place, routing }));
    }
    let mut all = all.into_iter().collect::<Option<Vec<PartRouting>>>()?;
    let Some(TopEdge::Profile(profile)) = top.and_then(|top| top.edge_profile.as_ref()) else {
        return Some(all);
    };
    let place = Place::pointer("/top/edge_profile");
    let worked = EdgeToProfile { place: place.clone(), edge: None, profile: profile.clone() };
    match all.iter_mut().find(|part| part.id == PartRole::Top.key()) {
        Some(top) if top.routing.profiles.iter().any(|other| other.edge.is_none()) => {
            return resolver.refuse(Finding::of(PartProblem::TwoProfiles {}, place));
        }
        Some(top) => top.routing.profiles.insert(0, worked),
        None => {
            let routing = Routing { profiles: vec![worked], ..Routing::default() };
            all.push(PartRouting { id: PartRole::Top.key().to_owned(), place: Place::pointer("/top"), routing });
        }
    }
    Some(all)
}

/// The edges of an outline that is drawn corner by corner.
pub fn edges(written: &PatternText, part: &Drawn) -> Vec<DrawnEdge> {
    let OutlineText::Corners(corners) = &written.outline else { return Vec::new() };
    let mirror = written.half.as_ref().map(|half| half.about);
    let drawn = part.built.edges.iter().zip(&part.built.paths).enumerate();
    let last = part.built.paths.len().saturating_sub(1);
    drawn
        .map(|(index, (fact, path))| {
            let mut segments = path.segments().to_vec();
            let twin = mirror.map(|line| path.transformed(line.map()).reversed());
            if let Some(twin) = twin.filter(|_| index == 0 || index == last) {
                let at = if index == last { segments.len() } else { 0 };
                segments.splice(at..at, twin.segments().iter().copied());
            }
            let name = corners.get(fact.node).and_then(|corner| corner.name.clone());
            let batten_turns = match part.nodes.get(fact.node).map(|node| &node.edge) {
                Some(EdgeShape::Batten { points, .. }) => {
                    let between = points.iter().copied();
                    Some(turns(&path.start().into_iter().chain(between).chain(path.end()).collect::<Vec<_>>()))
                }
                _ => None,
            };
            DrawnEdge { name, corner: fact.node, path: Path::open(segments), batten_turns }
        })
        .collect()
}

/// How often a line through points turns from one side to the other.
fn turns(points: &[Point]) -> usize {
    let sides: Vec<bool> = points
        .windows(3)
        .map(|w| (w[1] - w[0]).cross(w[2] - w[1]))
        .filter(|turn| *turn != 0.0)
        .map(|turn| turn > 0.0)
        .collect();
    sides.windows(2).filter(|pair| pair[0] != pair[1]).count()
}
