//! From the root of a document down to its shapes.

use super::check::{ImportProblem, ImportProblemKind};
use super::length::{Of, PER_INCH, Port, length};
use super::shape::{Drawn, shape};
use super::transform::transform;
use super::view::{fitted, view_box};
use super::{ImportFault, Imported, ImportedPath};
use crate::geometry::{Affine, Path};
use roxmltree::{Document, Node};
use std::collections::BTreeMap;

/// Groups within groups, uses of uses: more than this is a trap.
const DEEPEST: usize = 64;
/// The most pieces that are taken from a file.
const MOST_PIECES: usize = 200_000;
/// The most elements that are visited: a short file of nested uses can ask for billions.
const MOST_VISITS: usize = 200_000;
const XLINK: &str = "http://www.w3.org/1999/xlink";

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
    let mut walker = Walker { ids, paths: Vec::new(), problems: Vec::new(), pieces: 0, visits: 0 };
    let at = At { map, port, depth: 0, id: None };
    for child in root.children() {
        walker.visit(&child, &at)?;
    }
    Ok(Imported { paths: walker.paths, problems: walker.problems, size })
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
}

struct Walker<'d, 'i> {
    ids: BTreeMap<&'d str, Node<'d, 'i>>,
    paths: Vec<ImportedPath>,
    problems: Vec<ImportProblem>,
    pieces: usize,
    visits: usize,
}

impl<'d, 'i> Walker<'d, 'i> {
    fn visit(&mut self, node: &Node<'d, 'i>, at: &At) -> Result<(), ImportFault> {
        self.visits += 1;
        if at.depth > DEEPEST || self.visits > MOST_VISITS {
            return Err(ImportFault::TooMuch);
        }
        let name = node.tag_name().name();
        if !node.is_element() || NOT_DRAWN.contains(&name) || is_hidden(node) {
            return Ok(());
        }
        let Some(own) = node.attribute("transform").map_or(Some(Affine::IDENTITY), transform) else {
            self.problem(node, ImportProblemKind::NotUnderstood { what: "transform".to_owned() });
            return Ok(());
        };
        let id = node.attribute("id").map(str::to_owned).or_else(|| at.id.clone());
        let here = At { map: at.map * own, port: at.port, depth: at.depth + 1, id };
        match name {
            "g" | "a" | "switch" => self.children(node, &here),
            "svg" => self.inner_svg(node, None, &here),
            "use" => self.used(node, &here),
            "text" | "image" | "foreignObject" => {
                self.problem(node, ImportProblemKind::LeftOut { what: name.to_owned() });
                Ok(())
            }
            _ => self.shape(node, &here),
        }
    }

    fn children(&mut self, node: &Node<'d, 'i>, at: &At) -> Result<(), ImportFault> {
        node.children().try_for_each(|child| self.visit(&child, at))
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
        if matches!(target.tag_name().name(), "symbol" | "svg") {
            self.inner_svg(&target, Some(node), &here)
        } else {
            self.visit(&target, &here)
        }
    }

    fn shape(&mut self, node: &Node<'d, 'i>, at: &At) -> Result<(), ImportFault> {
        match shape(node, at.port) {
            Drawn::NoShape => Ok(()),
            Drawn::BadAttribute(name) => {
                self.problem(node, ImportProblemKind::NotUnderstood { what: name.to_owned() });
                Ok(())
            }
            Drawn::Paths { paths, stopped } => {
                if let Some(what) = stopped {
                    self.problem(node, ImportProblemKind::NotUnderstood { what });
                }
                let line = line_of(node);
                for path in paths {
                    self.pieces += path.segments().len();
                    if self.pieces > MOST_PIECES {
                        return Err(ImportFault::TooMuch);
                    }
                    let path: Path = path.transformed(at.map);
                    self.paths.push(ImportedPath { path, id: at.id.clone(), line });
                }
                Ok(())
            }
        }
    }

    fn problem(&mut self, node: &Node, kind: ImportProblemKind) {
        self.problems.push(ImportProblem { line: line_of(node), path: None, kind });
    }
}

fn line_of(node: &Node) -> u32 {
    node.document().text_pos_at(node.range().start).row
}

/// Whether an element is not shown, by its attribute or its own style.
fn is_hidden(node: &Node) -> bool {
    let style = node.attribute("style").unwrap_or("");
    let mut declared = style.split(';').filter_map(|rule| rule.split_once(':'));
    let hides = declared.any(|(name, value)| name.trim() == "display" && value.trim() == "none");
    hides || node.attribute("display") == Some("none")
}
