//! Outlines from drawings: the closed paths of an SVG file, laid where they are wanted.

use super::outline::{Drawn, not_halved};
use super::part_problem::{PartProblem, SeveralShapes};
use super::raw::SvgShape;
use super::resolve::Resolver;
use crate::finding::{Finding, Place};
use crate::geometry::{Built, MirrorLine, Outline, Path};
use crate::import::{
    ImportFault, ImportProblem, ImportProblemKind, Imported, LARGEST_FILE, Placing, import_svg, placed,
};
use crate::units::Angle;

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
    let Some(rings) = placed(&paths, &placing) else {
        let finding =
            Finding::stop("drawing-has-no-width", place.child("width"), "this drawing has no width to scale");
        return resolver.refuse(finding.remedy("leave \"width\" out, or draw a shape that has one"));
    };
    let outlines: Result<Vec<Outline>, _> = rings.into_iter().map(Outline::new).collect();
    match outlines {
        Ok(outlines) => nested(outlines, &file, resolver),
        Err(_) => {
            let message = "a path of this drawing crosses itself, encloses nothing or lies beyond 20 m";
            resolver.refuse(Finding::stop("drawing-unusable", file, message).remedy("mend the path in the drawing"))
        }
    }
}

fn imported(name: &str, file: &Place, resolver: &mut Resolver) -> Option<Imported> {
    let bytes = match (resolver.drawings)(name) {
        Ok(bytes) => bytes,
        Err(why) => {
            let finding =
                Finding::stop("drawing-not-read", file.clone(), format!("\"{name}\" cannot be read: {why}"));
            return resolver.refuse(finding.remedy("put the SVG file beside the project file, and give its name"));
        }
    };
    match import_svg(&bytes, LARGEST_FILE) {
        Ok(imported) => Some(imported),
        Err(fault) => {
            let (message, remedy) = refused(name, &fault);
            resolver.refuse(Finding::stop("drawing-unusable", file.clone(), message).remedy(remedy))
        }
    }
}

/// Why a file is refused whole, and what would cure it.
fn refused(name: &str, fault: &ImportFault) -> (String, &'static str) {
    let megabytes = LARGEST_FILE >> 20;
    match fault {
        ImportFault::TooLarge { .. } => (
            format!("\"{name}\" is larger than {megabytes} megabytes"),
            "take pictures and what is not needed out of the drawing",
        ),
        ImportFault::NotText => {
            (format!("\"{name}\" is not an SVG text file"), "save it as plain SVG, not compressed")
        }
        ImportFault::Entities => (
            format!("\"{name}\" declares entities, which are never followed"),
            "save it as plain SVG from the drawing program",
        ),
        ImportFault::NotXml { what, line } => {
            (format!("\"{name}\" is broken on line {line}: {what}"), "save it anew from the drawing program")
        }
        ImportFault::NotSvg => (format!("\"{name}\" is not an SVG drawing"), "give the name of an SVG file"),
        ImportFault::TooMuch => {
            (format!("\"{name}\" draws more than can be looked at"), "take what is not needed out of the drawing")
        }
    }
}

/// The closed paths that are asked for; what is amiss with them is told.
fn chosen(written: &SvgShape, imported: &Imported, file: &Place, resolver: &mut Resolver) -> Option<Vec<Path>> {
    let asked = |index: usize| {
        let path = imported.paths.get(index);
        path.is_some_and(|path| written.id.is_none() || path.id == written.id)
    };
    let mut stopped = false;
    for problem in imported.problems.iter().filter(|problem| problem.path.is_none_or(asked)) {
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
    let ids: Vec<&str> = imported.paths.iter().filter_map(|path| path.id.as_deref()).take(8).collect();
    let (message, remedy) = match &written.id {
        Some(id) if ids.is_empty() => {
            (format!("nothing closed in this drawing has the id \"{id}\""), "leave \"id\" out".to_owned())
        }
        Some(id) => {
            let remedy = format!("its ids are {}", ids.join(", "));
            (format!("nothing closed in this drawing has the id \"{id}\""), remedy)
        }
        None => {
            ("this drawing has no closed path".to_owned(), "close the path that is the edge of the part".to_owned())
        }
    };
    resolver.refuse(Finding::stop("drawing-without-outline", file.clone(), message).remedy(remedy))
}

/// A problem of the drawing: what concerns the edge stops the work, what was left out is told.
fn told(name: &str, problem: &ImportProblem, file: &Place) -> Finding {
    let message = format!("\"{name}\", line {}: {problem}", problem.line);
    let remedy = "mend it in the drawing, or choose another path by its \"id\"";
    match problem.kind {
        ImportProblemKind::CrossesItself { .. } | ImportProblemKind::CrossesAnother { .. } => {
            Finding::stop("drawing-crosses", file.clone(), message).remedy(remedy)
        }
        ImportProblemKind::Open { .. } => Finding::warn("drawing-open", file.clone(), message)
            .remedy("close it in the drawing, if it is meant to be cut; it is left out now"),
        _ => Finding::warn("drawing-left-out", file.clone(), message)
            .remedy("look whether anything is missing; it is left out now"),
    }
}

/// The outline around all others, and the others as its openings.
fn nested(mut outlines: Vec<Outline>, file: &Place, resolver: &mut Resolver) -> Option<Drawn> {
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
    Some(Drawn { nodes: Vec::new(), built: Built::whole(outer), openings })
}
