//! What is amiss with the paths that were read.

use super::{Imported, ImportedPath};
use crate::geometry::{Affine, LARGEST, Path, Point, Rect, contacts, self_crossings};
use crate::tolerance::{CONTACT_TOLERANCE, CRUMB};

/// Crossings told of one path, and of all pairs of paths.
const MOST_CROSSINGS: usize = 5;
/// Pairs of paths that are compared, at most.
const MOST_PAIRS: usize = 20_000;

/// One thing that is amiss.
#[derive(Debug, Clone, PartialEq)]
pub struct ImportProblem {
    /// Line of the file, from 1.
    pub line: u32,
    /// Index of the path in [`Imported::paths`], where it is about one.
    pub path: Option<usize>,
    /// What.
    pub kind: ImportProblemKind,
}

/// What changes the shape that a viewer shows and is not followed here.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NotFollowed {
    /// A property or attribute of this name.
    Property(&'static str),
    /// An element of this name, which moves things or shows them where it is asked.
    Element(String),
    /// A condition for showing it, the attribute of this name.
    Condition(&'static str),
    /// A rule of a style sheet that cannot be read.
    Rule,
    /// A style sheet that is not in the file, or is for some viewers only.
    OtherSheet,
    /// The edge of the page, over which the path runs.
    Page,
    /// The frame of a drawing within the drawing, over which the path runs.
    Frame,
    /// The fill rule: this ring lies in another and is not cut out.
    FilledRing,
}

/// What can be amiss. Places are in the drawing's own units, y down ([`Imported::own_units`]).
#[derive(Debug, Clone, PartialEq)]
pub enum ImportProblemKind {
    /// The path is open: it cannot be an outline.
    Open {
        /// Its two ends.
        ends: (Point, Point),
        /// Distance between them, mm.
        gap: f64,
    },
    /// The path crosses or touches itself.
    CrossesItself {
        /// Where, in its order.
        at: Vec<Point>,
        /// Whether there may be more places.
        more: bool,
    },
    /// The path crosses another one.
    CrossesAnother {
        /// Index of the other in [`Imported::paths`].
        other: usize,
        /// Where.
        at: Point,
    },
    /// A path smaller than 0.1 mm both ways was left out.
    Tiny {
        /// Where.
        at: Point,
    },
    /// A path with a coordinate that is no number, or beyond 20 m, was left out.
    TooFar,
    /// Something was not understood and left out: this.
    NotUnderstood {
        /// The name of the attribute, or the text at which reading stopped.
        what: String,
        /// Whether the whole element was left out for it; else what stands before it was read, as viewers do.
        whole: bool,
    },
    /// A viewer shows another shape, by something that is not followed.
    NotFollowed {
        /// What.
        what: NotFollowed,
    },
    /// An element has neither a fill nor a line, and was left out.
    Unpainted,
    /// A white rectangle without a line lies under everything else.
    Paper {
        /// Whether it is as large as the page.
        is_page: bool,
    },
    /// Words and pictures are not read: this element was left out.
    LeftOut {
        /// The element's name.
        what: String,
    },
    /// The element refers to another file or address, which is never fetched.
    Outside,
    /// The element refers to one that is not in the file.
    NoSuchElement,
}

/// Leaves out what cannot be used, and tells what is amiss with the rest.
pub(super) fn check(imported: &mut Imported) {
    let (problems, own) = (&mut imported.problems, imported.own_units);
    imported.paths.retain(|found| {
        let kind = unusable(&found.path, own);
        problems.extend(kind.clone().map(|kind| ImportProblem { line: found.line, path: None, kind }));
        kind.is_none()
    });
    for (i, found) in imported.paths.iter().enumerate() {
        let mut tell = |kind| problems.push(ImportProblem { line: found.line, path: Some(i), kind });
        if let (false, Some(ends)) = (found.path.is_closed(), found.path.start().zip(found.path.end())) {
            let gap = ends.0.distance(ends.1);
            tell(ImportProblemKind::Open { ends: (own * ends.0, own * ends.1), gap });
        }
        for (line, what) in &found.flaws {
            let kind = ImportProblemKind::NotFollowed { what: what.clone() };
            problems.push(ImportProblem { line: *line, path: Some(i), kind });
        }
        let mut tell = |kind| problems.push(ImportProblem { line: found.line, path: Some(i), kind });
        let crossings = self_crossings(&found.path, MOST_CROSSINGS);
        let at: Vec<Point> = crossings.found.iter().map(|crossing| own * crossing.point).collect();
        if !at.is_empty() {
            tell(ImportProblemKind::CrossesItself { at, more: !crossings.complete });
        }
    }
    problems.extend(crossing_pairs(&imported.paths, own));
    problems.sort_by_key(|problem| problem.line);
}

/// Why a path cannot be used at all.
fn unusable(path: &Path, own: Affine) -> Option<ImportProblemKind> {
    let bounds = path.bounding_box()?;
    let far = |v: f64| !v.is_finite() || v.abs() > LARGEST;
    let ends_far = path.nodes().iter().any(|p| far(p.x) || far(p.y));
    if ends_far || [bounds.x0, bounds.y0, bounds.x1, bounds.y1].into_iter().any(far) {
        return Some(ImportProblemKind::TooFar);
    }
    (bounds.width() < CRUMB && bounds.height() < CRUMB).then(|| ImportProblemKind::Tiny { at: own * bounds.center() })
}

/// The first meeting of each pair of paths.
fn crossing_pairs(paths: &[ImportedPath], own: Affine) -> Vec<ImportProblem> {
    let boxes: Vec<Rect> = paths.iter().filter_map(|p| p.path.bounding_box()).collect();
    let near = |a: &Rect, b: &Rect| a.x0 <= b.x1 && b.x0 <= a.x1 && a.y0 <= b.y1 && b.y0 <= a.y1;
    let pairs = (0..boxes.len()).flat_map(|i| (i + 1..boxes.len()).map(move |j| (i, j)));
    let pairs = pairs.filter(|(i, j)| near(&boxes[*i], &boxes[*j])).take(MOST_PAIRS);
    let meetings = pairs.filter_map(|(i, j)| {
        let at = own * first_meeting(&paths[i].path, &paths[j].path)?;
        let kind = ImportProblemKind::CrossesAnother { other: i, at };
        Some(ImportProblem { line: paths[j].line, path: Some(j), kind })
    });
    meetings.take(MOST_CROSSINGS).collect()
}

fn first_meeting(a: &Path, b: &Path) -> Option<Point> {
    let of_b: Vec<Rect> = b.segments().iter().map(|s| s.bounding_box()).collect();
    let all = b.bounding_box()?;
    a.segments().iter().find_map(|x| {
        let bounds = x.bounding_box().inflate(CONTACT_TOLERANCE, CONTACT_TOLERANCE);
        let meets = |r: &Rect| bounds.x0 <= r.x1 && r.x0 <= bounds.x1 && bounds.y0 <= r.y1 && r.y0 <= bounds.y1;
        if !meets(&all) {
            return None;
        }
        b.segments()
            .iter()
            .zip(&of_b)
            .filter(|(_, r)| meets(r))
            .find_map(|(y, _)| contacts(x, y, CONTACT_TOLERANCE).and_then(|found| found.first().map(|c| c.point)))
    })
}
