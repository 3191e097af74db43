//! `draw`: the piece as seen, with its dimensions; and the rod.

use super::args::{Draw, Input, Over, ScaleChoice, ViewChoice};
use super::files::{Files, Form, Output, Product};
use super::load::{Loaded, Stopped, load, paper};
use super::output::{Target, Trouble, is_kind, lettered, output_file, pdf_bytes, plain, svg_bytes};
use crate::geometry::{Plane, Point3, Vec3};
use crate::job::Job;
use crate::layout::elevation::{Content, Drawing, Options, Overlay, Scale};
use crate::page::Document;
use crate::units::{Length, Notation, Sum};
use crate::view::Model;
use crate::write::SvgStyle;
use clap::ValueEnum;
use std::io::Write;
use std::path::Path;

/// Runs `draw`.
pub fn run(asked: &Draw, files: &Files, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    rod_alone(asked)?;
    let mut loaded = load(&asked.input, files, err)?;
    if let Some(paper) = paper(asked.sheet.as_deref(), loaded.job.project().notation.units)? {
        loaded.job.set_paper(paper);
    }
    loaded.job.limit_sheets(asked.limit.sheets);
    loaded.job.needed_piece()?;
    let names = asked.over.iter().filter_map(|over| match over {
        Over::Variant(name) => Some(name.as_str()),
        _ => None,
    });
    let others: Result<Vec<(&str, Loaded)>, Stopped> =
        names.map(|name| Ok((name, variant(&asked.input, name, files, err)?))).collect();
    let others = others?;
    let ending = if asked.rod { "rod.pdf".to_owned() } else { format!("{}drawing.pdf", part_drawn(asked)) };
    let output = output_file(
        (&asked.input, files),
        &loaded.job.project().variants,
        asked.out.as_deref(),
        &ending,
        &["pdf", "svg"],
    )?;
    let is_svg = is_kind(&output, "svg");
    // A plotter draws the strips of the rod whole.
    let document = match asked.rod {
        true => loaded.job.rod(is_svg)?,
        false => {
            let Drawing { document, findings, .. } = drawn(asked, is_svg, &loaded.job, &others)?;
            loaded.say_all(&findings, err);
            document
        }
    };
    let document = lettered(&document, loaded.lettering.as_ref());
    let outputs = if is_svg {
        as_svgs(&document, &output)?
    } else {
        let (target, bytes) = (Target::named(&output), pdf_bytes(&document)?);
        vec![Output { target, product: Product::Drawing, form: Form::Pdf, bytes }]
    };
    Ok(files.write(outputs, &asked.replace, out)?.tell("", "", out)?)
}

/// What stands in the name of a drawing of some views only, which does not go where the whole drawing stands; empty for the whole.
fn part_drawn(asked: &Draw) -> String {
    if asked.view.is_empty() {
        return String::new();
    }
    let named = |view: &ViewChoice| view.to_possible_value().map(|value| value.get_name().to_owned());
    let sections = asked.section.iter().map(|plane| format!("section {plane}"));
    let names: Vec<String> = asked.view.iter().filter_map(named).chain(sections).collect();
    format!("{}.", plain(&names.join(" ")))
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

/// One file a sheet: the first as it was named, the further ones with their numbers.
fn as_svgs(document: &Document, output: &Path) -> Result<Vec<Output>, Trouble> {
    let numbered = |k: usize| {
        let stem = output.file_stem().unwrap_or_default().to_string_lossy();
        if k == 0 { output.to_owned() } else { output.with_file_name(format!("{stem}-{}.svg", k + 1)) }
    };
    let pages = document.pages.chunks(1).enumerate();
    let sheets = pages.map(|(k, page)| {
        let bytes = svg_bytes(document, page, SvgStyle::Picture)?;
        let (target, product) = (Target::named(&numbered(k)), Product::DrawnSheet(k + 1));
        Ok(Output { target, product, form: Form::Svg, bytes })
    });
    sheets.collect()
}

/// The same file with a variant, its piece solved.
fn variant(input: &Input, name: &str, files: &Files, err: &mut dyn Write) -> Result<Loaded, Stopped> {
    let input = Input { variant: Some(name.to_owned()), ..input.clone() };
    let loaded = load(&input, files, err)?;
    loaded.job.needed_piece()?;
    Ok(loaded)
}

fn drawn(asked: &Draw, untiled: bool, job: &Job, others: &[(&str, Loaded)]) -> Result<Drawing, Stopped> {
    let (model, notation) = (job.needed_subject()?.model, &job.project().notation);
    let overlays = asked.over.iter().filter_map(|over| match over {
        Over::Seated => Some(Overlay::Seated),
        Over::Places => Some(Overlay::Places),
        Over::Variant(wanted) => {
            let (name, other) = others.iter().find(|(name, _)| name == wanted)?;
            Some(Overlay::Variant { model: other.job.needed_subject().ok()?.model, name })
        }
    });
    let sections: Result<Vec<Plane>, Trouble> =
        asked.section.iter().map(|words| section(words, notation, model)).collect();
    let options = Options {
        scale: match asked.scale {
            ScaleChoice::Fit => Scale::Fit,
            ScaleChoice::OneTo(n) => Scale::Reduced(n),
        },
        hidden: asked.hidden,
        sections: sections?,
        overlays: overlays.collect(),
        framed: asked.framed,
        revision: Some(job.revision()?.to_owned()),
        date: asked.date.clone(),
        creator: asked.drawn_by.clone(),
        only: asked.view.iter().map(content).collect(),
        untiled,
        ..Options::default()
    };
    Ok(job.drawing(&options)?)
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
fn section(words: &str, notation: &Notation, model: &Model) -> Result<Plane, Trouble> {
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
    let reach = model.reach_along(direction);
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
