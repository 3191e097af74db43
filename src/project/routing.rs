//! What is routed by a pattern, as meant: tools looked up in the shop, edges found on the outline.

use super::field::nearest;
use super::meant::{Collar, Cutter, Shop};
use super::outline::Drawn;
use super::profile::{self, EdgeProfile};
use super::raw::{BlankTemplateText, CutterChoice, EdgeChoice, OutlineText, PatternText, TemplateText};
use super::resolve::Resolver;
use crate::finding::{Finding, Place};
use crate::geometry::{EdgeShape, Path, Point};
use crate::units::Length;

/// What a pattern says of its routing.
#[derive(Debug, Clone, Default)]
pub struct Routing {
    /// The edges of its outline as drawn, before corners are rounded; a half's edge that ends on the mirror line goes on
    /// beyond it. None of a whole shape.
    pub edges: Vec<DrawnEdge>,
    /// The templates asked for.
    pub templates: Vec<Template>,
    /// The cutter that is to follow the outline.
    pub check_cutter: Option<CutterTool>,
    /// Whether a comb shows how its curves bend.
    pub comb: bool,
    /// Whether a gauge is drawn for every corner radius.
    pub gauges: bool,
    /// What is worked along its edges.
    pub edge_profile: Option<EdgeProfile>,
    /// Whether the grain is marked along the edge; the pattern then has a grain.
    pub grain_runs: bool,
}

/// An edge of an outline, from corner to corner.
#[derive(Debug, Clone)]
pub struct DrawnEdge {
    /// Its name.
    pub name: Option<String>,
    /// Index of the corner at which it arrives.
    pub corner: usize,
    /// Its run, as drawn.
    pub path: Path,
    /// Of a batten, how often the points that hold it turn from one side to the other: so often the curve is meant to.
    pub batten_turns: Option<usize>,
}

/// A cutter with its name in the shop.
#[derive(Debug, Clone, PartialEq)]
pub struct CutterTool {
    /// Its name.
    pub name: String,
    /// Its sizes.
    pub cutter: Cutter,
}

/// A guide collar with its name in the shop.
#[derive(Debug, Clone, PartialEq)]
pub struct CollarTool {
    /// Its name.
    pub name: String,
    /// Its sizes.
    pub collar: Collar,
}

/// On which side of the finished line the wood is cut away.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Work {
    /// Round the outside of a part: what lies outside the line is cut away.
    Outside,
    /// Round the inside of an opening or recess: what lies inside the line is cut away.
    Inside,
}

/// A template that a pattern asks for.
#[derive(Debug, Clone)]
pub struct Template {
    /// Where it stands in the file.
    pub place: Place,
    /// What it is.
    pub kind: TemplateKind,
    /// Thickness of its own board.
    pub thickness: Option<Length>,
}

/// The kinds of template.
#[derive(Debug, Clone)]
pub enum TemplateKind {
    /// For a guide collar.
    Collar {
        /// What it cuts.
        work: Work,
        /// The collar.
        collar: CollarTool,
        /// The cutter, smaller than the collar.
        cutter: CutterTool,
    },
    /// For recess and plug of an inlay.
    Inlay {
        /// The collar with the sleeve on.
        large: CollarTool,
        /// The bare collar, smaller than that.
        small: CollarTool,
        /// The cutter, smaller than both.
        cutter: CutterTool,
    },
    /// A line to saw along.
    SawLine {
        /// How far outside the finished line.
        distance: Length,
    },
    /// A blank for one edge.
    Blank(Box<BlankTemplate>),
}

/// A blank for a template of one edge; sizes that are not given are the usual ones.
#[derive(Debug, Clone)]
pub struct BlankTemplate {
    /// The edge, an index into [`Routing::edges`].
    pub edge: usize,
    /// How far the edge runs on past each end.
    pub run_on: Option<Length>,
    /// Room behind the edge.
    pub hold: Option<Length>,
    /// Least distance from a screw's middle to the edge.
    pub clear: Option<Length>,
    /// Diameter of a screw's head.
    pub head: Option<Length>,
    /// Areas that a joint will hide, closed.
    pub hidden: Vec<Path>,
    /// The cutter.
    pub cutter: Option<CutterTool>,
}

/// Works out what is routed by a pattern whose outline is built.
pub fn routing(
    written: &PatternText,
    drawn: &Drawn,
    shop: &Shop,
    place: &Place,
    resolver: &mut Resolver,
) -> Option<Routing> {
    let edges = edges(written, drawn);
    let all = written.template.as_ref().map_or(&[][..], |templates| templates.0.as_slice());
    let single = all.len() == 1;
    let templates: Vec<Option<Template>> = all
        .iter()
        .enumerate()
        .map(|(index, text)| {
            let place = place.child("template");
            let place = if single { place } else { place.child(index) };
            let mut bench = Bench { shop, edges: &edges, place, resolver };
            bench.template(text)
        })
        .collect();
    let check_cutter = check_cutter(written.check_cutter.as_ref(), shop, &place.child("check_cutter"), resolver);
    let edge_profile = written.edge_profile.as_ref().map(|text| profile::profile(text, resolver));
    let grain_runs = written.grain_runs.unwrap_or(false);
    if grain_runs && written.grain.is_none() {
        let finding =
            Finding::stop("grain-missing", place.child("grain_runs"), "the grain of this part is not given");
        return resolver.refuse(finding.remedy("add \"grain\": its direction from x, for example 0"));
    }
    Some(Routing {
        templates: templates.into_iter().collect::<Option<Vec<Template>>>()?,
        edges,
        check_cutter: check_cutter?,
        edge_profile: super::transposed(edge_profile)?,
        comb: written.comb.unwrap_or(false),
        gauges: written.gauges.unwrap_or(false),
        grain_runs,
    })
}

fn check_cutter(
    choice: Option<&CutterChoice>,
    shop: &Shop,
    place: &Place,
    resolver: &mut Resolver,
) -> Option<Option<CutterTool>> {
    match (choice, shop.cutters.first()) {
        (None | Some(CutterChoice::No), _) => Some(None),
        (Some(CutterChoice::Name(name)), _) => cutter(shop, name, place, resolver).map(Some),
        (Some(CutterChoice::First), Some((name, cutter))) => {
            Some(Some(CutterTool { name: name.clone(), cutter: *cutter }))
        }
        (Some(CutterChoice::First), None) => {
            let finding = Finding::stop("unknown-tool", place.clone(), "the shop has no cutter to check with");
            let remedy = "add one to \"shop\": \"cutters\": { \"trimmer\": { \"diameter\": \"19 mm\" } }";
            resolver.refuse(finding.remedy(remedy))
        }
    }
}

/// The edges of an outline that is drawn corner by corner.
fn edges(written: &PatternText, part: &Drawn) -> Vec<DrawnEdge> {
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

/// Where one template is worked out.
struct Bench<'a, 'r, 't> {
    shop: &'a Shop,
    edges: &'a [DrawnEdge],
    place: Place,
    resolver: &'r mut Resolver<'t>,
}

impl Bench<'_, '_, '_> {
    fn template(&mut self, text: &TemplateText) -> Option<Template> {
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
        let edge = self.edge(&text.edge);
        let [run_on, hold, clear, head] = [&text.run_on, &text.hold, &text.clear, &text.head]
            .map(|size| self.resolver.optional_length(size.as_ref()));
        let cutter = text.cutter.as_ref().map_or(Some(None), |name| self.cutter("cutter", name).map(Some));
        let mut hidden = Vec::new();
        for area in text.hidden.iter().flatten() {
            let corners: Option<Vec<Point>> = area.iter().map(|corner| self.resolver.point(corner)).collect();
            hidden.push(Path::polyline(&corners?, true));
        }
        let (run_on, hold, clear, head) = (run_on?, hold?, clear?, head?);
        Some(BlankTemplate { edge: edge?, run_on, hold, clear, head, hidden, cutter: cutter? })
    }

    fn edge(&mut self, choice: &EdgeChoice) -> Option<usize> {
        let found = self.edges.iter().position(|edge| match choice {
            EdgeChoice::Corner(number) => edge.corner + 1 == *number as usize,
            EdgeChoice::Name(name) => edge.name.as_deref() == Some(name.as_str()),
        });
        if found.is_some() {
            return found;
        }
        let (message, names) = match choice {
            EdgeChoice::Corner(number) => {
                (format!("no edge of this outline arrives at a corner {number}"), Vec::new())
            }
            EdgeChoice::Name(name) => {
                let names: Vec<&str> = self.edges.iter().filter_map(|edge| edge.name.as_deref()).collect();
                (
                    format!("no edge of this outline is named \"{name}\""),
                    nearest(name, names.into_iter()).into_iter().collect(),
                )
            }
        };
        let remedy = match (names.first(), self.edges.is_empty()) {
            (Some(name), _) => format!("did you mean \"{name}\"?"),
            (None, true) => {
                "draw the outline corner by corner: a whole shape has no edges to follow by themselves".to_owned()
            }
            (None, false) => {
                "give the edge a \"name\" where its corner is written, or the number of that corner, counted from 1"
                    .to_owned()
            }
        };
        self.resolver.refuse(Finding::stop("unknown-edge", self.place.child("edge"), message).remedy(remedy))
    }

    fn cutter(&mut self, field: &str, name: &str) -> Option<CutterTool> {
        let place = self.place.child(field);
        cutter(self.shop, name, &place, self.resolver)
    }

    fn collar(&mut self, field: &str, name: &str) -> Option<CollarTool> {
        let place = self.place.child(field);
        let collar = tool(&self.shop.collars, "collar", name, &place, self.resolver)?;
        Some(CollarTool { name: name.to_owned(), collar })
    }

    /// Whether a cutter passes through a collar.
    fn passes(&mut self, field: &str, collar: &CollarTool, cutter: &CutterTool) -> Option<()> {
        if collar.collar.diameter > cutter.cutter.diameter {
            return Some(());
        }
        let say = self.resolver.notation;
        let (wide, cuts) = (say.exact(collar.collar.diameter), say.exact(cutter.cutter.diameter));
        let message = format!(
            "the cutter \"{}\" of {cuts} does not pass through the collar \"{}\", which is {wide} outside",
            cutter.name, collar.name
        );
        let remedy = "take a larger collar or a smaller cutter";
        self.resolver.refuse(Finding::stop("collar-too-small", self.place.child(field), message).remedy(remedy))
    }

    /// Whether the sleeve makes the collar larger.
    fn sleeve(&mut self, large: &CollarTool, small: &CollarTool) -> Option<()> {
        if large.collar.diameter > small.collar.diameter {
            return Some(());
        }
        let message = format!(
            "the large collar \"{}\" is {}, no larger than the small one \"{}\"",
            large.name,
            self.resolver.notation.exact(large.collar.diameter),
            small.name
        );
        let remedy = "give the collar with its sleeve as \"large\" and the bare one as \"small\"";
        self.resolver.refuse(Finding::stop("sleeve-too-small", self.place.child("large"), message).remedy(remedy))
    }
}

/// A cutter of the shop.
fn cutter(shop: &Shop, name: &str, place: &Place, resolver: &mut Resolver) -> Option<CutterTool> {
    let cutter = tool(&shop.cutters, "cutter", name, place, resolver)?;
    Some(CutterTool { name: name.to_owned(), cutter })
}

/// A named thing of the shop; one that is not there is told.
fn tool<T: Copy>(all: &[(String, T)], what: &str, name: &str, place: &Place, resolver: &mut Resolver) -> Option<T> {
    if let Some((_, found)) = all.iter().find(|(known, _)| known == name) {
        return Some(*found);
    }
    let known: Vec<&str> = all.iter().map(|(known, _)| known.as_str()).collect();
    let remedy = match (nearest(name, known.iter().copied()), known.as_slice()) {
        (Some(near), _) => format!("did you mean \"{near}\"?"),
        (None, []) => format!("add it to \"shop\": \"{what}s\": {{ \"{name}\": {{ \"diameter\": … }} }}"),
        (None, known) => format!("its {what}s are {}; add this one to \"{what}s\"", known.join(", ")),
    };
    let finding = Finding::stop("unknown-tool", place.clone(), format!("the shop has no {what} \"{name}\""));
    resolver.refuse(finding.remedy(remedy))
}
