//! A white rectangle under everything else: paper that a drawing program laid there, or the part itself.

use super::{ImportProblem, ImportProblemKind, Imported, ImportedPath};
use crate::geometry::{Path, Rect, Segment};
use crate::tolerance::SHOWN;

/// The white rectangle without a line that lies under all else of the paths that are `asked` for, by their index; `None` where there
/// is none, or nothing lies on it. As large as the page it is its paper.
pub fn paper(imported: &Imported, asked: impl Fn(usize) -> bool) -> Option<ImportProblem> {
    let mut all = imported.paths.iter().enumerate().filter(|(index, _)| asked(*index));
    // What is drawn first lies lowest.
    let (index, lowest) = all.next().filter(|(_, lowest)| lowest.is_paper)?;
    let around = rectangle(&lowest.path)?;
    let lies_on_it = |found: &ImportedPath| found.path.bounding_box().is_some_and(|b| holds(around, b));
    let mut others = all.map(|(_, found)| found).peekable();
    others.peek()?;
    if !others.all(lies_on_it) {
        return None;
    }
    let page = imported.size.map(|(width, height)| Rect::new(0.0, 0.0, width, height));
    let is_page = page.is_some_and(|page| holds(around, page));
    Some(ImportProblem { line: lowest.line, path: Some(index), kind: ImportProblemKind::Paper { is_page } })
}

/// The upright rectangle that a path is; `None` of any other shape.
fn rectangle(path: &Path) -> Option<Rect> {
    let bounds = path.bounding_box()?;
    let straight = path.segments().iter().all(|piece| matches!(piece, Segment::Line(_)));
    let missing = bounds.area() - path.signed_area().abs();
    (path.is_closed() && straight && missing.abs() < SHOWN * (bounds.width() + bounds.height())).then_some(bounds)
}

/// Whether one rectangle holds another, but for what nobody sees.
fn holds(outer: Rect, inner: Rect) -> bool {
    let outer = outer.inflate(SHOWN, SHOWN);
    outer.union(inner) == outer
}
