//! From the root of a document down to its shapes.

use super::check::{ImportProblem, ImportProblemKind, NotFollowed};
use super::length::{Of, PER_INCH, Port, length};
use super::rings::not_cut_out;
use super::shape::{Drawn, shape};
use super::sheet::{Rule, sheet};
use super::style::{Look, Said, Seen, bears_on_shape};
use super::transform::transform;
use super::view::{fitted, view_box};
use super::{ImportFault, Imported, ImportedPath};
use crate::geometry::{Affine, Path, Rect};
use crate::tolerance::SHOWN;
use roxmltree::{Document, Node};
use std::collections::BTreeMap;

/// Groups within groups, uses of uses: more than this is a trap.
const DEEPEST: usize = 64;
/// The most pieces that are taken from a file: a traced outline of so many is checked in a few seconds and some 200 MB.
const MOST_PIECES: usize = 200_000;
/// The most elements that are visited: a short file of nested uses can ask for billions.
const MOST_VISITS: usize = 200_000;
/// The most times that rules are held against elements.
const MOST_TRIES: usize = 20_000_000;
const XLINK: &str = "http://www.w3.org/1999/xlink";

/// Elements that move or change the one that they stand in.
const MOVING: [&str; 5] = ["animate", "animateTransform", "animateMotion", "animateColor", "set"];

/// Attributes by which an element is shown to some readers only.
const CONDITIONS: [&str; 2] = ["requiredExtensions", "systemLanguage"];

/// Elements that draw nothing where they stand.
const NOT_DRAWN: [&str; 10] = [
    "defs",
    "symbol",
    "clipPath",
    "mask",
    "marker",
    "pattern",
    "linearGradient",
    "radialGradient",
    "filter",
    "style",
];

/// All paths of a document, in millimetres, y up.
pub(super) fn walk(document: &Document) -> Result<Imported, ImportFault> {
    let root = document.root_element();
    if root.tag_name().name() != "svg" {
        return Err(ImportFault::NotSvg);
    }
    let mut ids = BTreeMap::new();
    for node in document.descendants() {
        if let Some(id) = node.attribute("id") {
            ids.entry(id).or_insert(node);
        }
    }
    let (map, port, size) = page(&root);
    let (rules, problems) = rules(document);
    let mut walker = Walker { ids, rules, paths: Vec::new(), problems, pieces: 0, visits: 0, tries: 0 };
    let page = size.map(|(width, height)| Frame {
        of_mm: Affine::IDENTITY,
        shows: Rect::new(0.0, 0.0, width, height),
        what: NotFollowed::Page,
    });
    let frames = page.into_iter().collect();
    let at = At { map, port, depth: 0, id: None, look: Look::default(), frames, flaws: Vec::new() };
    // Its own map is in the page's already; a transform of the root is not followed.
    if let Some(mut at) = walker.entered(&root, &At { map: Affine::IDENTITY, ..at.clone() })? {
        if root.has_attribute("transform") {
            at.flaws.push((line_of(&root), NotFollowed::Property("transform")));
        }
        walker.children(&root, &At { map, depth: 0, id: None, ..at })?;
    }
    Ok(Imported { paths: walker.paths, problems: walker.problems, size, own_units: map.inverse() })
}

/// The rules of all style sheets of a document, and what of them may bear on shapes and cannot be read.
fn rules(document: &Document) -> (Vec<Rule>, Vec<ImportProblem>) {
    let (mut rules, mut problems) = (Vec::new(), Vec::new());
    let mut tell = |line, what| {
        let kind = ImportProblemKind::NotFollowed { what };
        problems.push(ImportProblem { line, path: None, kind });
    };
    for node in document.descendants() {
        let elsewhere = node.pi().is_some_and(|pi| pi.target == "xml-stylesheet")
            || node.tag_name().name() == "link" && node.attribute("rel") == Some("stylesheet");
        if elsewhere {
            tell(line_of(&node), NotFollowed::OtherSheet);
        }
        let is_css = node.attribute("type").is_none_or(|kind| matches!(kind.trim(), "" | "text/css"));
        if node.tag_name().name() != "style" || !is_css {
            continue;
        }
        if node.attribute("media").is_some_and(|media| !matches!(media.trim(), "" | "all" | "screen")) {
            tell(line_of(&node), NotFollowed::OtherSheet);
            continue;
        }
        let text: String = node.children().filter_map(|child| child.text()).collect();
        let first = node.first_child().map_or_else(|| line_of(&node), |child| line_of(&child));
        let found = sheet(&text, rules.len());
        for (lines, says) in found.unread {
            if says.is_empty() || says.iter().any(|one| bears_on_shape(&one.name)) {
                tell(first + u32::try_from(lines).unwrap_or(u32::MAX), NotFollowed::Rule);
            }
        }
        rules.extend(found.rules);
    }
    (rules, problems)
}

/// The map from the root's user units to millimetres, y up, the size of its port, and the size of the drawing, mm.
fn page(root: &Node) -> (Affine, Port, Option<(f64, f64)>) {
    let view = root.attribute("viewBox").and_then(view_box);
    // A percentage on the outermost element is of a window that is not there: the view box serves.
    let shown = view.map_or(Port { width: 0.0, height: 0.0 }, |v| Port { width: v.width(), height: v.height() });
    let side = |name: &str, of: Of| {
        let given = root.attribute(name).and_then(|text| length(text, of, shown));
        given.filter(|side| *side > 0.0 && side.is_finite())
    };
    let (width, height) = (side("width", Of::Width), side("height", Of::Height));
    let (width, height) = match (width, height, view) {
        (Some(w), None, Some(v)) => (Some(w), Some(w * v.height() / v.width())),
        (None, Some(h), Some(v)) => (Some(h * v.width() / v.height()), Some(h)),
        (None, None, Some(v)) => (Some(v.width()), Some(v.height())),
        (w, h, _) => (w, h),
    };
    let mm = 25.4 / PER_INCH;
    let up = Affine::new([mm, 0.0, 0.0, -mm, 0.0, height.unwrap_or(0.0) * mm]);
    let size = width.zip(height).map(|(w, h)| (w * mm, h * mm));
    let port = Port { width: width.unwrap_or(0.0), height: height.unwrap_or(0.0) };
    let preserve = root.attribute("preserveAspectRatio").unwrap_or("");
    match view {
        Some(view) => (up * fitted(view, port.width, port.height, preserve), shown, size),
        None => (up, port, size),
    }
}

/// Where the walk is.
#[derive(Clone)]
struct At {
    map: Affine,
    port: Port,
    depth: usize,
    id: Option<String>,
    look: Look,
    frames: Vec<Frame>,
    /// What around here is not followed, with its line.
    flaws: Vec<(u32, NotFollowed)>,
}

/// What a viewer shows nothing outside of.
#[derive(Clone)]
struct Frame {
    /// From millimetres to its own units.
    of_mm: Affine,
    /// What it shows, in its own units.
    shows: Rect,
    what: NotFollowed,
}

impl Frame {
    /// Whether a path, in millimetres, runs out of it by more than nobody sees.
    fn cuts(&self, path: &Path) -> bool {
        let slack = SHOWN * self.of_mm.determinant().abs().sqrt();
        let shows = self.shows.inflate(slack, slack);
        let bounds = path.transformed(self.of_mm).bounding_box();
        bounds.is_some_and(|b| b.x0 < shows.x0 || b.y0 < shows.y0 || b.x1 > shows.x1 || b.y1 > shows.y1)
    }
}

struct Walker<'d, 'i> {
    ids: BTreeMap<&'d str, Node<'d, 'i>>,
    rules: Vec<Rule>,
    paths: Vec<ImportedPath>,
    problems: Vec<ImportProblem>,
    pieces: usize,
    visits: usize,
    /// How often a rule was held against an element.
    tries: usize,
}

impl<'d, 'i> Walker<'d, 'i> {
    fn visit(&mut self, node: &Node<'d, 'i>, at: &At) -> Result<(), ImportFault> {
        let name = node.tag_name().name();
        let of_svg = node.tag_name().namespace() == node.document().root_element().tag_name().namespace();
        if !node.is_element() || !of_svg || NOT_DRAWN.contains(&name) {
            return self.counted(at);
        }
        let Some(here) = self.entered(node, at)? else { return Ok(()) };
        match name {
            "g" | "a" => self.children(node, &here),
            "switch" => self.switched(node, &here),
            "svg" => self.inner_svg(node, None, &here),
            "use" => self.used(node, &here),
            "text" | "image" | "foreignObject" => {
                if here.look.seen() != Seen::Hidden {
                    self.problem(node, ImportProblemKind::LeftOut { what: name.to_owned() });
                }
                Ok(())
            }
            _ => self.shape(node, &here),
        }
    }

    /// Counts a visit.
    fn counted(&mut self, at: &At) -> Result<(), ImportFault> {
        self.visits += 1;
        let too_much = at.depth > DEEPEST || self.visits > MOST_VISITS || self.tries > MOST_TRIES;
        if too_much { Err(ImportFault::TooMuch) } else { Ok(()) }
    }

    /// Where the walk is inside an element; `None` where nothing of it is drawn.
    fn entered(&mut self, node: &Node<'d, 'i>, at: &At) -> Result<Option<At>, ImportFault> {
        self.counted(at)?;
        self.tries += self.rules.len();
        let said = Said::of(node, &self.rules);
        let Some(look) = at.look.within(&said) else { return Ok(None) };
        let Some(own) = node.attribute("transform").map_or(Some(Affine::IDENTITY), transform) else {
            self.problem(node, ImportProblemKind::NotUnderstood { what: "transform".to_owned(), whole: true });
            return Ok(None);
        };
        if said.has_markers() {
            self.problem(node, ImportProblemKind::LeftOut { what: "marker".to_owned() });
        }
        let id = node.attribute("id").map(str::to_owned).or_else(|| at.id.clone());
        let here = At { map: at.map * own, depth: at.depth + 1, id, look, ..at.clone() };
        let own = said.not_followed().map(NotFollowed::Property);
        let moving = node.children().find(|child| MOVING.contains(&child.tag_name().name()));
        let moving = moving.map(|child| NotFollowed::Element(child.tag_name().name().to_owned()));
        let chosen = node.parent_element().is_some_and(|parent| parent.tag_name().name() == "switch");
        let condition = CONDITIONS.into_iter().find(|name| !chosen && node.has_attribute(*name));
        let condition = condition.map(NotFollowed::Condition);
        let line = line_of(node);
        let flaws =
            at.flaws.iter().cloned().chain([own, moving, condition].into_iter().flatten().map(|what| (line, what)));
        Ok(Some(At { flaws: flaws.collect(), ..here }))
    }

    fn children(&mut self, node: &Node<'d, 'i>, at: &At) -> Result<(), ImportFault> {
        node.children().try_for_each(|child| self.visit(&child, at))
    }

    /// Of the elements in a switch the first that may be shown: one that asks for nothing is, one that asks for an extension is
    /// not, and one that asks for a language hangs on the reader.
    fn switched(&mut self, node: &Node<'d, 'i>, at: &At) -> Result<(), ImportFault> {
        let mut all =
            node.children().filter(|child| child.is_element() && !child.has_attribute("requiredExtensions"));
        let Some(first) = all.next() else { return Ok(()) };
        let asks = first.has_attribute("systemLanguage") || first.tag_name().name() == "foreignObject";
        let asked = asks.then(|| (line_of(&first), NotFollowed::Condition("systemLanguage")));
        let flaws = at.flaws.iter().cloned().chain(asked).collect();
        self.visit(&first, &At { flaws, ..at.clone() })
    }

    /// A drawing within the drawing, or a symbol; `by` is the use that shows it, which has moved it already.
    fn inner_svg(&mut self, node: &Node<'d, 'i>, by: Option<&Node<'d, 'i>>, at: &At) -> Result<(), ImportFault> {
        let read = |from: &Node, name: &str, of: Of| from.attribute(name).and_then(|text| length(text, of, at.port));
        let side = |name: &str, of: Of, whole: f64| {
            let asked = by.and_then(|by| read(by, name, of)).or_else(|| read(node, name, of));
            asked.filter(|side| *side >= 0.0).unwrap_or(whole)
        };
        let (width, height) = (side("width", Of::Width, at.port.width), side("height", Of::Height, at.port.height));
        let at_own = |name, of| if by.is_none() { read(node, name, of).unwrap_or(0.0) } else { 0.0 };
        let (x, y) = (at_own("x", Of::Width), at_own("y", Of::Height));
        let mut inner = At { map: at.map * Affine::translate((x, y)), port: Port { width, height }, ..at.clone() };
        let overflow = Said::of(node, &self.rules).value("overflow").map(str::to_owned);
        if !matches!(overflow.as_deref(), Some("visible" | "auto")) {
            let shows = Rect::new(0.0, 0.0, width, height);
            inner.frames.push(Frame { of_mm: inner.map.inverse(), shows, what: NotFollowed::Frame });
        }
        if let Some(view) = node.attribute("viewBox").and_then(view_box) {
            inner.map *= fitted(view, width, height, node.attribute("preserveAspectRatio").unwrap_or(""));
            inner.port = Port { width: view.width(), height: view.height() };
        }
        self.children(node, &inner)
    }

    /// A copy of another element of the same file.
    fn used(&mut self, node: &Node<'d, 'i>, at: &At) -> Result<(), ImportFault> {
        let href = node.attribute("href").or_else(|| node.attribute((XLINK, "href"))).unwrap_or("").trim();
        let target = href.strip_prefix('#').and_then(|id| self.ids.get(id).copied());
        let Some(target) = target else {
            let outside = !href.starts_with('#');
            let kind = if outside { ImportProblemKind::Outside } else { ImportProblemKind::NoSuchElement };
            self.problem(node, kind);
            return Ok(());
        };
        let read =
            |name: &str, of: Of| node.attribute(name).and_then(|text| length(text, of, at.port)).unwrap_or(0.0);
        let moved = Affine::translate((read("x", Of::Width), read("y", Of::Height)));
        let here = At { map: at.map * moved, ..at.clone() };
        if !matches!(target.tag_name().name(), "symbol" | "svg") {
            return self.visit(&target, &here);
        }
        match self.entered(&target, &here)? {
            Some(inside) => self.inner_svg(&target, Some(node), &inside),
            None => Ok(()),
        }
    }

    fn shape(&mut self, node: &Node<'d, 'i>, at: &At) -> Result<(), ImportFault> {
        let drawn = shape(node, at.port);
        if matches!(drawn, Drawn::NoShape) || at.look.seen() == Seen::Hidden {
            return Ok(());
        }
        if at.look.seen() == Seen::Unpainted {
            self.problem(node, ImportProblemKind::Unpainted);
            return Ok(());
        }
        match drawn {
            Drawn::NoShape => Ok(()),
            Drawn::BadAttribute(name) => {
                self.problem(node, ImportProblemKind::NotUnderstood { what: name.to_owned(), whole: true });
                Ok(())
            }
            Drawn::Paths { paths, stopped } => {
                if let Some(what) = stopped {
                    self.problem(node, ImportProblemKind::NotUnderstood { what, whole: false });
                }
                self.take(node, paths, at)
            }
        }
    }

    /// Takes the paths of an element, in its own units.
    fn take(&mut self, node: &Node<'d, 'i>, paths: Vec<Path>, at: &At) -> Result<(), ImportFault> {
        let line = line_of(node);
        if paths.is_empty() {
            // Something without a size of its own may be given one by what is not followed.
            let own = at.flaws.iter().filter(|(of, _)| *of == line).map(|(_, what)| what.clone());
            for what in own.collect::<Vec<_>>() {
                self.problem(node, ImportProblemKind::NotFollowed { what });
            }
        }
        self.pieces += paths.iter().map(|path| path.segments().len()).sum::<usize>();
        if self.pieces > MOST_PIECES {
            return Err(ImportFault::TooManyPieces { most: MOST_PIECES });
        }
        let by_winding = at.look.seen() == Seen::Filled && !at.look.is_even_odd;
        let filled = if by_winding { not_cut_out(&paths) } else { Vec::new() };
        for (index, path) in paths.into_iter().enumerate() {
            let path: Path = path.transformed(at.map);
            let cut = at.frames.iter().filter(|frame| frame.cuts(&path)).map(|frame| frame.what.clone());
            let ring = filled.contains(&index).then_some(NotFollowed::FilledRing);
            let of_path = cut.chain(ring).map(|what| (line, what));
            let flaws = at.flaws.iter().cloned().chain(of_path).collect();
            let is_paper = at.look.is_paper();
            self.paths.push(ImportedPath { path, id: at.id.clone(), line, is_paper, flaws });
        }
        Ok(())
    }

    fn problem(&mut self, node: &Node, kind: ImportProblemKind) {
        self.problems.push(ImportProblem { line: line_of(node), path: None, kind });
    }
}

fn line_of(node: &Node) -> u32 {
    node.document().text_pos_at(node.range().start).row
}
