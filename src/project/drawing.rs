//! Outlines from drawings: the closed paths of an SVG file, laid where they are wanted.

use super::drawing_problem::{DrawingProblem, Unusable};
use super::outline::{Drawn, not_halved};
use super::part_problem::{PartProblem, SeveralShapes};
use super::raw::SvgShape;
use super::resolve::Resolver;
use crate::finding::{Finding, Offered, Place};
use crate::geometry::{Built, MirrorLine, Outline, Path};
use crate::import::{ImportProblem, ImportProblemKind, Imported, LARGEST_FILE, Placing, import_svg, paper, placed};
use crate::model::Drawing;
use crate::units::Angle;

/// The most ids that are offered in place of one that is not there.
const MOST_IDS: usize = 8;

/// Reads the bytes of a drawing by its name in the project file, or says in a few words why it cannot.
pub type Drawings<'a> = &'a dyn Fn(&str) -> Result<Vec<u8>, String>;

/// Drawings where there are none: every file is refused.
///
/// # Errors
/// Always.
pub fn no_drawings(_: &str) -> Result<Vec<u8>, String> {
    Err("no other file is read here".to_owned())
}

/// Reads a drawing and lays its closed paths.
pub fn shape(
    written: &SvgShape,
    mirror: Option<MirrorLine>,
    place: &Place,
    resolver: &mut Resolver,
) -> Option<Drawn> {
    not_halved(mirror, place, resolver)?;
    let width = resolver.optional_length(written.width.as_ref());
    let turn = resolver.optional_angle(written.turn.as_ref());
    let at = written.at.as_ref().map_or(Some(None), |at| resolver.point(at).map(Some));
    let file = place.child("svg");
    let imported = imported(&written.svg, &file, resolver)?;
    let paths = chosen(written, &imported, &file, resolver)?;
    let placing = Placing {
        width: width?,
        mirrored: written.mirror.unwrap_or(false),
        turn: turn?.unwrap_or(Angle::ZERO),
        at: at?,
    };
    let Some(map) = placed(&paths, &placing) else {
        return resolver.refuse(Finding::of(DrawingProblem::NoWidth {}, place.child("width")));
    };
    let drawing = Drawing { name: written.svg.clone(), to_own: imported.own_units * map.inverse() };
    let outlines: Result<Vec<Outline>, _> = paths.iter().map(|path| Outline::new(path.transformed(map))).collect();
    match outlines {
        Ok(outlines) => nested(outlines, drawing, &file, resolver),
        Err(_) => resolver.refuse(Finding::of(DrawingProblem::Unusable { why: Unusable::Path }, file)),
    }
}

fn imported(name: &str, file: &Place, resolver: &mut Resolver) -> Option<Imported> {
    let bytes = match (resolver.drawings)(name) {
        Ok(bytes) => bytes,
        Err(why) => {
            let problem = DrawingProblem::NotRead { name: name.to_owned(), why };
            return resolver.refuse(Finding::of(problem, file.clone()));
        }
    };
    match import_svg(&bytes, LARGEST_FILE) {
        Ok(imported) => Some(imported),
        Err(fault) => {
            let why = Unusable::File(name.to_owned(), fault);
            resolver.refuse(Finding::of(DrawingProblem::Unusable { why }, file.clone()))
        }
    }
}

/// The closed paths that are asked for; what is amiss with them is told.
fn chosen(written: &SvgShape, imported: &Imported, file: &Place, resolver: &mut Resolver) -> Option<Vec<Path>> {
    let named = |index: usize| {
        let path = imported.paths.get(index);
        path.is_some_and(|path| written.id.is_none() || path.id == written.id)
    };
    let paper = paper(imported, named);
    let left_out = paper.as_ref().and_then(|paper| paper.path);
    let asked = |index: usize| named(index) && Some(index) != left_out;
    let meets_paper = |problem: &ImportProblem| match problem.kind {
        ImportProblemKind::CrossesAnother { other, .. } => Some(other) == left_out,
        _ => false,
    };
    let problems = imported.problems.iter().filter(|problem| problem.path.is_none_or(asked) && !meets_paper(problem));
    let mut stopped = false;
    // One group that is cut is told once, not with each of its paths.
    let mut told_of = Vec::new();
    for problem in paper.iter().chain(problems) {
        let of = (problem.line, &problem.kind);
        if matches!(problem.kind, ImportProblemKind::NotFollowed { .. }) {
            if told_of.contains(&of) {
                continue;
            }
            told_of.push(of);
        }
        let finding = told(&written.svg, problem, file);
        stopped |= crate::finding::stops(std::slice::from_ref(&finding));
        resolver.findings.push(finding);
    }
    if stopped {
        return None;
    }
    let all = imported.paths.iter().enumerate().filter(|(index, _)| asked(*index)).map(|(_, found)| &found.path);
    let closed: Vec<Path> = all.filter(|path| path.is_closed()).cloned().collect();
    if !closed.is_empty() {
        return Some(closed);
    }
    let ids = imported.paths.iter().filter_map(|path| path.id.clone()).take(MOST_IDS).collect();
    let problem = DrawingProblem::NoOutline { id: written.id.clone(), ids: Offered(ids) };
    resolver.refuse(Finding::of(problem, file.clone()))
}

/// A problem of the drawing: what concerns the edge stops the work, what was left out is told.
fn told(name: &str, problem: &ImportProblem, file: &Place) -> Finding {
    let (name, what) = (name.to_owned(), problem.clone());
    let told = match problem.kind {
        ImportProblemKind::CrossesItself { .. } | ImportProblemKind::CrossesAnother { .. } => {
            DrawingProblem::Crosses { name, what }
        }
        ImportProblemKind::Open { .. } => DrawingProblem::Open { name, what },
        ImportProblemKind::NotFollowed { .. } | ImportProblemKind::NotUnderstood { whole: true, .. } => {
            DrawingProblem::NotFollowed { name, what }
        }
        ImportProblemKind::Paper { is_page: true } => DrawingProblem::PaperLeftOut { name, what },
        ImportProblemKind::Paper { is_page: false } => DrawingProblem::PaperOrPart { name, what },
        ImportProblemKind::Unpainted => DrawingProblem::Unpainted { name, what },
        _ => DrawingProblem::LeftOut { name, what },
    };
    Finding::of(told, file.clone())
}

/// The outline around all others, and the others as its openings.
fn nested(mut outlines: Vec<Outline>, drawing: Drawing, file: &Place, resolver: &mut Resolver) -> Option<Drawn> {
    outlines.sort_by(|a, b| b.area().total_cmp(&a.area()));
    let mut outlines = outlines.into_iter();
    let outer = outlines.next()?;
    let openings: Vec<Outline> = outlines.collect();
    let within = |outer: &Outline, inner: &Outline| inner.path().start().is_some_and(|point| outer.holds(point));
    let apart = openings.iter().any(|opening| !within(&outer, opening));
    let deeper = openings.iter().enumerate().any(|(i, inner)| openings.iter().take(i).any(|o| within(o, inner)));
    if apart || deeper {
        let how = if apart { SeveralShapes::Apart } else { SeveralShapes::InAnOpening };
        return resolver.refuse(Finding::of(PartProblem::SeveralShapes { how }, file.clone()));
    }
    Some(Drawn { nodes: Vec::new(), built: Built::whole(outer), openings, drawing: Some(drawing) })
}
