//! `plot`: one SVG for a pen plotter or a router.

use super::args::Plot;
use super::files::{Files, Form, Output, Product};
use super::load::{Stopped, load};
use super::output::{Target, Trouble, lettered, output_file, svg_bytes};
use crate::job::Plotted;
use crate::model::{PlotText, Plotter};
use crate::page::Lettering;
use crate::write::{self, SvgStyle};
use std::io::Write;

/// Runs `plot`.
pub fn run(asked: &Plot, files: &Files, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    let loaded = load(&asked.input, files, err)?;
    let plotted = loaded.job.plotted(&loaded.patterns(&asked.selection)?);
    let project = loaded.job.project();
    let bytes = plot_bytes(&plotted, &project.shop.plotter, loaded.lettering.as_ref())?;
    super::load::say(&plotted.findings, &loaded.sources, err);
    let ending = asked.selection.ending("svg");
    let path = output_file((&asked.input, files), &project.variants, asked.out.as_deref(), &ending, &["svg"])?;
    let output = Output { target: Target::named(&path), product: Product::Plot, form: Form::Svg, bytes };
    let written = files.write(vec![output], &asked.replace, out)?;
    Ok(written.tell(", true size.", "", out)?)
}

/// Plotted patterns as SVG, lettered as the plotter wants it.
///
/// # Errors
/// Where the whole is larger than any bed.
pub fn plot_bytes(plotted: &Plotted, plotter: &Plotter, lettering: Option<&Lettering>) -> Result<Vec<u8>, Trouble> {
    let words = match plotter.text {
        PlotText::Strokes => write::PlotText::Strokes,
        PlotText::Outlines => write::PlotText::Outlines,
        PlotText::Plain => write::PlotText::Plain,
        PlotText::None => write::PlotText::None,
    };
    let document = lettered(&plotted.document, lettering);
    svg_bytes(&document, &document.pages, SvgStyle::Plot(words))
}
