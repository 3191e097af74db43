//! Tools looked up in the shop for one template, and what does not go together.

use super::part_problem::{PartProblem, ToolKind};
use super::raw::{BlankTemplateText, TemplateText};
use super::resolve::Resolver;
use crate::finding::{Finding, Names, Place};
use crate::geometry::{Path, Point};
use crate::model::{
    BlankTemplate, CollarTool, CutterTool, DrawnEdge, EdgeChoice, LiesOn, Shop, Template, TemplateKind, edge_of,
    unknown_edge,
};

/// Where one template is worked out.
pub struct Bench<'a, 'r, 't> {
    /// The shop.
    pub shop: &'a Shop,
    /// The part's edges, where they are known already.
    pub edges: Option<&'a [DrawnEdge]>,
    /// Where the template stands in the file.
    pub place: Place,
    /// Works its quantities out.
    pub resolver: &'r mut Resolver<'t>,
}

impl Bench<'_, '_, '_> {
    /// A template; what is wrong with it is told.
    pub fn template(&mut self, text: &TemplateText) -> Option<Template> {
        let (kind, thickness) = match text {
            TemplateText::Collar(text) => {
                let (collar, cutter) = (self.collar("collar", &text.collar), self.cutter("cutter", &text.cutter));
                let (collar, cutter) = (collar?, cutter?);
                self.passes("collar", &collar, &cutter)?;
                (TemplateKind::Collar { work: text.work, collar, cutter }, text.thickness.as_ref())
            }
            TemplateText::Inlay(text) => {
                let (large, small) = (self.collar("large", &text.large), self.collar("small", &text.small));
                let cutter = self.cutter("cutter", &text.cutter);
                let (large, small, cutter) = (large?, small?, cutter?);
                self.passes("small", &small, &cutter)?;
                self.sleeve(&large, &small)?;
                (TemplateKind::Inlay { large, small, cutter }, text.thickness.as_ref())
            }
            TemplateText::SawLine(text) => {
                (TemplateKind::SawLine { distance: self.resolver.length(&text.distance)? }, None)
            }
            TemplateText::Blank(text) => (TemplateKind::Blank(Box::new(self.blank(text)?)), text.thickness.as_ref()),
        };
        let thickness = self.resolver.optional_length(thickness)?;
        Some(Template { place: self.place.clone(), kind, thickness })
    }

    fn blank(&mut self, text: &BlankTemplateText) -> Option<BlankTemplate> {
        let edges: Vec<Option<EdgeChoice>> = text.edge.0.iter().map(|edge| self.edge(edge)).collect();
        if let [a, b] = text.edge.0.as_slice()
            && a == b
        {
            return self.resolver.refuse(Finding::of(PartProblem::EdgeTwice {}, self.place.child("edge")));
        }
        let [run_on, hold, clear, head] = [&text.run_on, &text.hold, &text.clear, &text.head]
            .map(|size| self.resolver.optional_length(size.as_ref()));
        let cutter = text.cutter.as_ref().map_or(Some(None), |name| self.cutter("cutter", name).map(Some));
        let mut hidden = Vec::new();
        for area in text.hidden.iter().flatten() {
            let corners: Option<Vec<Point>> = area.iter().map(|corner| self.resolver.point(corner)).collect();
            hidden.push(Path::polyline(&corners?, true));
        }
        let (run_on, hold, clear, head) = (run_on?, hold?, clear?, head?);
        let edges = edges.into_iter().collect::<Option<Vec<EdgeChoice>>>()?;
        let lies_on = text.lies_on.unwrap_or(LiesOn::Face);
        Some(BlankTemplate { edges, lies_on, run_on, hold, clear, head, hidden, cutter: cutter? })
    }

    /// Where the edges are known already, whether one is there.
    fn edge(&mut self, choice: &EdgeChoice) -> Option<EdgeChoice> {
        match self.edges {
            Some(edges) if edge_of(edges, choice).is_none() => {
                self.resolver.refuse(unknown_edge(edges, choice, self.place.child("edge")))
            }
            _ => Some(choice.clone()),
        }
    }

    fn cutter(&mut self, field: &str, name: &str) -> Option<CutterTool> {
        let place = self.place.child(field);
        cutter(self.shop, name, &place, self.resolver)
    }

    fn collar(&mut self, field: &str, name: &str) -> Option<CollarTool> {
        let place = self.place.child(field);
        let collar = tool(&self.shop.collars, ToolKind::Collar, name, &place, self.resolver)?;
        Some(CollarTool { name: name.to_owned(), collar })
    }

    /// Whether a cutter passes through a collar.
    fn passes(&mut self, field: &str, collar: &CollarTool, cutter: &CutterTool) -> Option<()> {
        if collar.collar.diameter > cutter.cutter.diameter {
            return Some(());
        }
        let problem = PartProblem::CollarSmall {
            cutter: cutter.name.clone(),
            cuts: cutter.cutter.diameter,
            collar: collar.name.clone(),
            wide: collar.collar.diameter,
        };
        self.resolver.refuse(Finding::of(problem, self.place.child(field)))
    }

    /// Whether the sleeve makes the collar larger.
    fn sleeve(&mut self, large: &CollarTool, small: &CollarTool) -> Option<()> {
        if large.collar.diameter > small.collar.diameter {
            return Some(());
        }
        let (large_name, diameter, small) = (large.name.clone(), large.collar.diameter, small.name.clone());
        let problem = PartProblem::SleeveSmall { large: large_name, diameter, small };
        self.resolver.refuse(Finding::of(problem, self.place.child("large")))
    }
}

/// A cutter of the shop.
pub fn cutter(shop: &Shop, name: &str, place: &Place, resolver: &mut Resolver) -> Option<CutterTool> {
    let cutter = tool(&shop.cutters, ToolKind::Cutter, name, place, resolver)?;
    Some(CutterTool { name: name.to_owned(), cutter })
}

/// A named thing of the shop; one that is not there is told.
fn tool<T: Copy>(
    all: &[(String, T)],
    what: ToolKind,
    name: &str,
    place: &Place,
    resolver: &mut Resolver,
) -> Option<T> {
    if let Some((_, found)) = all.iter().find(|(known, _)| known == name) {
        return Some(*found);
    }
    let tools = Names::instead_of(name, all.iter().map(|(known, _)| known.as_str()));
    let problem = PartProblem::UnknownTool { what, name: Some(name.to_owned()), tools };
    resolver.refuse(Finding::of(problem, place.clone()))
}
