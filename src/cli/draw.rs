//! `draw`: the piece as seen, with its dimensions; and the rod.

use super::args::{Draw, Input, Over, ScaleChoice, ViewChoice};
use super::load::{Loaded, Stopped, load, paper};
use super::output::{Target, Trouble, is_kind, write_all};
use super::piece::{need_piece, solved, solved_aloud, whole_revision};
use super::print::output_file;
use super::small::told;
use crate::geometry::{Plane, Point3, Vec3};
use crate::layout::elevation::{Content, Options, Overlay, Scale, draw};
use crate::layout::{Setup, plot, rod::rod, tile};
use crate::model::{Paper, Project, Shop};
use crate::page::{Document, Page};
use crate::piece::Piece;
use crate::units::{Length, Notation, Sum, Units};
use crate::view::Model;
use crate::write::{PdfOptions, SvgStyle, pdf, svg};
use std::io::Write;
use std::path::Path;

/// Runs `draw`.
pub fn run(asked: &Draw, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    rod_alone(asked)?;
    let mut loaded = load(&asked.input, err)?;
    if let Some(paper) = paper(asked.sheet.as_deref())? {
        loaded.project.shop.paper = paper;
    }
    let piece = need_piece(solved_aloud(&loaded, err)?)?;
    let names = asked.over.iter().filter_map(|over| match over {
        Over::Variant(name) => Some(name.as_str()),
        _ => None,
    });
    let others: Result<Vec<(&str, Piece)>, Stopped> =
        names.map(|name| Ok((name, variant(&asked.input, name, err)?))).collect();
    let others = others?;
    let ending = if asked.rod { "rod.pdf" } else { "drawing.pdf" };
    let output = output_file(&asked.input, asked.out.as_deref(), ending, &["pdf", "svg"])?;
    let is_svg = is_kind(&output, "svg");
    let document = drawn(asked, is_svg, &loaded.project, &piece, &others)?;
    let files =
        if is_svg { as_svgs(&document, &output)? } else { vec![(Target::named(&output), as_pdf(&document)?)] };
    write_all(&files, out)?;
    files.iter().try_for_each(|(target, _)| told(target, out))
}

/// Refuses what belongs to the views beside the rod, which has none of it.
fn rod_alone(asked: &Draw) -> Result<(), Trouble> {
    let given = [
        (!asked.view.is_empty(), "--view"),
        (!asked.section.is_empty(), "--section"),
        (!asked.over.is_empty(), "--over"),
        (asked.hidden, "--hidden"),
        (asked.scale != ScaleChoice::Fit, "--scale"),
        (asked.framed, "--framed"),
        (asked.date.is_some(), "--date"),
        (asked.drawn_by.is_some(), "--drawn-by"),
    ];
    let given: Vec<&str> = given.iter().filter(|(is_given, _)| *is_given).map(|(_, name)| *name).collect();
    if !asked.rod || given.is_empty() {
        return Ok(());
    }
    Err(Trouble::new(format!(
        "the rod is heights, widths and lengths on strips at full size: {} would change nothing on it; draw the rod and the \
         views one after the other",
        given.join(" and ")
    )))
}

fn as_pdf(document: &Document) -> Result<Vec<u8>, Trouble> {
    pdf(document, &PdfOptions::default()).map_err(|error| Trouble::new(error.to_string()))
}

/// One file a sheet: the first as it was named, the further ones with their numbers.
fn as_svgs(document: &Document, output: &Path) -> Result<Vec<(Target, Vec<u8>)>, Trouble> {
    let numbered = |k: usize| {
        let stem = output.file_stem().unwrap_or_default().to_string_lossy();
        if k == 0 { output.to_owned() } else { output.with_file_name(format!("{stem}-{}.svg", k + 1)) }
    };
    let pages = document.pages.iter().enumerate();
    pages.map(|(k, page)| Ok((Target::named(&numbered(k)), as_svg(document, page)?))).collect()
}

fn as_svg(document: &Document, page: &Page) -> Result<Vec<u8>, Trouble> {
    let text = svg(document, page, SvgStyle::Picture).map_err(|error| Trouble::new(error.to_string()))?;
    Ok(text.into_bytes())
}

/// The same file solved with a variant.
fn variant(input: &Input, name: &str, err: &mut dyn Write) -> Result<Piece, Stopped> {
    let input = Input { variant: Some(name.to_owned()), ..input.clone() };
    let loaded: Loaded = load(&input, err)?;
    need_piece(solved_aloud(&loaded, err)?)
}

fn drawn(
    asked: &Draw,
    untiled: bool,
    project: &Project,
    piece: &Piece,
    others: &[(&str, Piece)],
) -> Result<Document, Stopped> {
    let title = project.heading();
    let setup = Setup { shop: &project.shop, notation: project.notation, title: &title };
    let revision = whole_revision(piece, project);
    if asked.rod {
        let strips = rod(piece, &project.notation, &revision);
        // A plotter draws the strips whole, one below the other.
        return Ok(if untiled { plot(&strips, None, &title, project.notation).0 } else { tile(&strips, &setup).0 });
    }
    let overlays = asked.over.iter().filter_map(|over| match over {
        Over::Seated => Some(Overlay::Seated),
        Over::Places => Some(Overlay::Places),
        Over::Variant(wanted) => {
            others.iter().find(|(name, _)| name == wanted).map(|(name, piece)| Overlay::Variant { piece, name })
        }
    });
    let sections: Result<Vec<Plane>, Trouble> =
        asked.section.iter().map(|words| section(words, &project.notation, piece)).collect();
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
        creator: asked.drawn_by.clone(),
        only: asked.view.iter().map(content).collect(),
        untiled,
    };
    let document = draw(piece, &setup, &options);
    if document.pages.is_empty() {
        return Err(Trouble::new("there is nothing to draw").into());
    }
    Ok(document)
}

fn content(view: &ViewChoice) -> Content {
    match view {
        ViewChoice::Front => Content::Front,
        ViewChoice::Side => Content::Side,
        ViewChoice::Above => Content::Above,
        ViewChoice::Below => Content::Below,
        ViewChoice::Isometric => Content::Isometric,
        ViewChoice::Assembly => Content::Assembly,
    }
}

/// A section plane such as `x=0` or `z=12 in`: the wood towards larger values is taken away.
fn section(words: &str, notation: &Notation, piece: &Piece) -> Result<Plane, Trouble> {
    let wrong =
        || Trouble::new(format!("--section {words}: write an axis and where it is cut, such as x=0 or \"z=300 mm\""));
    let (axis, place) = words.split_once('=').ok_or_else(wrong)?;
    let axis = axis.trim();
    let direction = match axis {
        "x" => Vec3::X,
        "y" => Vec3::Y,
        "z" => Vec3::Z,
        _ => return Err(wrong()),
    };
    let sum = Sum::read(place.trim()).map_err(|_| wrong())?;
    let value = sum.value(Some(notation.units), |_| None).map_err(|_| wrong())?;
    let at = value.to_length(Some(notation.units)).map_err(|_| wrong())?;
    let reach = Model::of(piece, |_| true).reach_along(direction);
    let (low, high) = reach.ok_or_else(|| Trouble::new("there is nothing to draw"))?;
    if at.mm() <= low || at.mm() >= high {
        let say = |mm: f64| notation.length(Length::from_mm(mm));
        let (low, high) = (say(low), say(high));
        return Err(Trouble::new(format!(
            "--section {words} cuts no wood: the piece reaches from {axis} = {low} to {high}; give a place between them"
        )));
    }
    Plane::through(Point3::ORIGIN + direction * at.mm(), direction).ok_or_else(wrong)
}

/// The views on one sheet as a picture; what `show` and `new` show of a piece.
///
/// # Errors
/// Where the piece cannot be solved or drawn.
pub fn piece_picture(project: &Project) -> Result<Vec<u8>, Stopped> {
    let piece = need_piece(solved(project).map_err(|_| Stopped::ByFinding)?)?;
    let title = project.heading();
    let names = if project.notation.units == Units::Inch { ["tabloid", "ansi d"] } else { ["a3", "a1"] };
    // The larger one where the smaller would part the views.
    let papers = names.iter().filter_map(|name| Paper::read(name).ok());
    let only = vec![Content::Front, Content::Side, Content::Above, Content::Isometric];
    let drawn = papers.map(|paper| {
        let shop = Shop { paper, ..project.shop.clone() };
        let setup = Setup { shop: &shop, notation: project.notation, title: &title };
        draw(&piece, &setup, &Options { only: only.clone(), ..Options::default() })
    });
    let document = drawn.min_by_key(|document| document.pages.len());
    let document = document.ok_or_else(|| Trouble::new("there is nothing to draw"))?;
    let first = document.pages.first().ok_or_else(|| Trouble::new("there is nothing to draw"))?;
    Ok(as_svg(&document, first)?)
}
