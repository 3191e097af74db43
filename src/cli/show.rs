//! `show`: one picture with the main sizes.

use super::args::Show;
use super::files::{Files, Form, Output, Product};
use super::load::{Stopped, load};
use super::output::{Target, Trouble, lettered, output_file, svg_bytes};
use crate::finding::Finding;
use crate::job::Job;
use crate::layout::elevation::Drawing;
use crate::layout::{Pictured, picture};
use crate::model::Project;
use crate::page::Lettering;
use crate::schedule::parts;
use crate::units::Notation;
use crate::write::SvgStyle;
use std::io::Write;

/// Runs `show`.
pub fn run(asked: &Show, files: &Files, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    let loaded = load(&asked.input, files, err)?;
    let (job, project) = (&loaded.job, loaded.job.project());
    let lettering = loaded.lettering.as_ref();
    let whole = (project.base.is_some() || project.top.is_some()) && asked.selection.is_all();
    let bytes = if whole {
        let (bytes, findings) = piece_picture(job, lettering)?;
        loaded.say_all(&findings, err);
        bytes
    } else {
        let plain = |pattern| Pictured { pattern, dimensions: Vec::new(), guides: Vec::new(), was: Vec::new() };
        let drawn: Vec<Pictured> = loaded.patterns(&asked.selection)?.into_iter().map(plain).collect();
        picture_bytes(&drawn, (job.heading(), project.notation.clone()), lettering)?
    };
    let ending = asked.selection.ending("picture.svg");
    let path = output_file((&asked.input, files), &project.variants, asked.out.as_deref(), &ending, &["svg"])?;
    let target = Target::named(&path);
    // Beside a picture that goes to standard output there is no room for words.
    let words = match job.piece()? {
        Some(piece) if whole && target != Target::Stdout => {
            format!("{}{}", parts(piece, job.stocks()?, &project.notation), not_pictured(project))
        }
        _ => String::new(),
    };
    let output = Output { target, product: Product::Picture, form: Form::Svg, bytes };
    Ok(files.write(vec![output], &asked.replace, out)?.tell("", &words, out)?)
}

/// One line for the parts that a file draws beside its piece, which the piece's picture does not show; empty where there are
/// none.
fn not_pictured(project: &Project) -> String {
    let names: Vec<&str> = project.patterns.iter().map(|drawn| drawn.name.as_str()).collect();
    let count = match names.len() {
        0 => return String::new(),
        1 => "1 drawn part is".to_owned(),
        more => format!("{more} drawn parts are"),
    };
    format!(
        "{count} not in the picture ({}): print or plot draws all of them at full size, show --pattern NAME one by itself\n",
        names.join(", ")
    )
}

/// The piece of a job as SVG: what `show` and `new` show of it, and what is to be told of that.
///
/// # Errors
/// Where it cannot be solved or drawn.
pub fn piece_picture(job: &Job, lettering: Option<&Lettering>) -> Result<(Vec<u8>, Vec<Finding>), Stopped> {
    let Drawing { document, findings, .. } = job.picture()?;
    let document = lettered(&document, lettering);
    // What does not stand on the first sheet is not part of the picture.
    Ok((svg_bytes(&document, document.pages.get(..1).unwrap_or_default(), SvgStyle::Picture)?, findings))
}

/// A picture of patterns as SVG.
///
/// # Errors
/// Where the picture cannot be written.
pub fn picture_bytes(
    drawn: &[Pictured],
    (title, notation): (&str, Notation),
    lettering: Option<&Lettering>,
) -> Result<Vec<u8>, Trouble> {
    let document = picture(drawn, title, notation);
    let document = lettered(&document, lettering);
    svg_bytes(&document, &document.pages, SvgStyle::Picture)
}
