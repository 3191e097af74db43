//! `draw`: the piece as seen, with its dimensions; and the rod.

use super::args::{Draw, Input, Over, ScaleChoice};
use super::load::{Loaded, Stopped, load, paper};
use super::output::{Target, Trouble, write_all};
use super::piece::{need_piece, solved, solved_aloud, whole_revision};
use super::print::output_file;
use super::small::told;
use crate::geometry::{Plane, Point3, Vec3};
use crate::layout::elevation::{Options, Overlay, Scale, draw};
use crate::layout::{Setup, rod::rod, tile};
use crate::page::Document;
use crate::piece::Piece;
use crate::project::{Paper, Project};
use crate::units::{Sum, Units};
use crate::write::{PdfOptions, SvgStyle, pdf, svg};
use std::io::Write;

/// Runs `draw`.
pub fn run(asked: &Draw, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    let mut loaded = load(&asked.input, err)?;
    if let Some(paper) = paper(asked.sheet.as_deref())? {
        loaded.project.shop.paper = paper;
    }
    let piece = need_piece(solved_aloud(&loaded, err)?)?;
    let other = asked.over.iter().find_map(|over| match over {
        Over::Variant(name) => Some(name.as_str()),
        _ => None,
    });
    let other = other.map(|name| variant(&asked.input, name, err)).transpose()?;
    let document = drawn(asked, &loaded.project, &piece, other.as_ref())?;
    let ending = if asked.rod { "rod.pdf" } else { "drawing.pdf" };
    let output = output_file(&asked.input, asked.out.as_deref(), ending)?;
    let is_svg = output.extension().is_some_and(|ending| ending == "svg");
    let bytes = if is_svg { first_as_svg(&document)? } else { as_pdf(&document)? };
    let target = Target::named(&output);
    write_all(&[(target.clone(), bytes)], out)?;
    told(&target, out)
}

fn as_pdf(document: &Document) -> Result<Vec<u8>, Trouble> {
    pdf(document, &PdfOptions::default()).map_err(|error| Trouble::new(error.to_string()))
}

/// The first sheet: an SVG holds one.
fn first_as_svg(document: &Document) -> Result<Vec<u8>, Trouble> {
    let page = document.pages.first().ok_or_else(|| Trouble::new("there is nothing to draw"))?;
    let text = svg(document, page, SvgStyle::Picture).map_err(|error| Trouble::new(error.to_string()))?;
    Ok(text.into_bytes())
}

/// The same file solved with a variant.
fn variant(input: &Input, name: &str, err: &mut dyn Write) -> Result<Piece, Stopped> {
    let input = Input { variant: Some(name.to_owned()), ..input.clone() };
    let loaded: Loaded = load(&input, err)?;
    need_piece(solved_aloud(&loaded, err)?)
}

fn drawn(asked: &Draw, project: &Project, piece: &Piece, other: Option<&Piece>) -> Result<Document, Stopped> {
    let title = project.heading();
    let setup = Setup { shop: &project.shop, notation: project.notation, title: &title };
    let revision = whole_revision(piece, project);
    if asked.rod {
        return Ok(tile(&rod(piece, &project.notation, &revision), &setup).0);
    }
    let overlays = asked.over.iter().filter_map(|over| match over {
        Over::Seated => Some(Overlay::Seated),
        Over::Places => Some(Overlay::Places),
        Over::Variant(_) => other.map(Overlay::Variant),
    });
    let sections: Result<Vec<Plane>, Trouble> =
        asked.section.iter().map(|plane| section(plane, project.notation.units)).collect();
    let options = Options {
        scale: match asked.scale {
            ScaleChoice::Fit => Scale::Fit,
            ScaleChoice::OneTo(n) => Scale::Reduced(n),
        },
        hidden: asked.hidden,
        sections: sections?,
        overlays: overlays.collect(),
        framed: asked.framed,
        revision: Some(revision),
        date: asked.date.clone(),
        creator: None,
        assembly: true,
    };
    let document = draw(piece, &setup, &options);
    if document.pages.is_empty() {
        return Err(Trouble::new("there is nothing to draw").into());
    }
    Ok(document)
}

/// A section plane such as `x=0` or `z=12 in`: the wood towards larger values is taken away.
fn section(words: &str, units: Units) -> Result<Plane, Trouble> {
    let wrong =
        || Trouble::new(format!("--section {words}: write an axis and where it is cut, such as x=0 or \"z=300 mm\""));
    let (axis, place) = words.split_once('=').ok_or_else(wrong)?;
    let direction = match axis.trim() {
        "x" => Vec3::new(1.0, 0.0, 0.0),
        "y" => Vec3::new(0.0, 1.0, 0.0),
        "z" => Vec3::new(0.0, 0.0, 1.0),
        _ => return Err(wrong()),
    };
    let sum = Sum::read(place.trim()).map_err(|_| wrong())?;
    let value = sum.value(Some(units), |_| None).map_err(|_| wrong())?;
    let at = value.to_length(Some(units)).map_err(|_| wrong())?;
    Plane::through(Point3::ORIGIN + direction * at.mm(), direction).ok_or_else(wrong)
}

/// The views on one sheet as a picture; what `show` and `new` show of a piece.
///
/// # Errors
/// Where the piece cannot be solved or drawn.
pub fn piece_picture(project: &Project) -> Result<Vec<u8>, Stopped> {
    let piece = need_piece(solved(project).map_err(|_| Stopped::ByFinding)?)?;
    let title = project.heading();
    let mut shop = project.shop.clone();
    // Large enough for all views of a piece of furniture side by side.
    let name = if project.notation.units == Units::Inch { "tabloid" } else { "a3" };
    shop.paper = Paper::read(name).unwrap_or(shop.paper);
    let setup = Setup { shop: &shop, notation: project.notation, title: &title };
    let document = draw(&piece, &setup, &Options { assembly: false, ..Options::default() });
    Ok(first_as_svg(&document)?)
}
