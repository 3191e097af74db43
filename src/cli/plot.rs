//! `plot`: one SVG for a pen plotter or a router.

use super::args::Plot;
use super::load::{Stopped, load};
use super::output::{Target, Trouble, output_file, say, svg_bytes, write_all};
use crate::job::Plotted;
use crate::model::{PlotText, Plotter};
use crate::write::{self, SvgStyle};
use std::io::Write;

/// Runs `plot`.
pub fn run(asked: &Plot, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    let loaded = load(&asked.input, err)?;
    let plotted = loaded.job.plotted(&loaded.patterns(&asked.selection, err)?);
    let bytes = plot_bytes(&plotted, &loaded.job.project().shop.plotter)?;
    super::load::say(&plotted.findings, &loaded.sources, err);
    let target = Target::named(&output_file(&asked.input, asked.out.as_deref(), "svg", &["svg"])?);
    write_all(&[(target.clone(), bytes)], out)?;
    if let Target::File(path) = &target {
        say(out, format!("Wrote {}, true size.\n", path.display()).as_bytes())?;
    }
    Ok(())
}

/// Plotted patterns as SVG, lettered as the plotter wants it.
///
/// # Errors
/// Where the whole is larger than any bed.
pub fn plot_bytes(plotted: &Plotted, plotter: &Plotter) -> Result<Vec<u8>, Trouble> {
    let lettering = match plotter.text {
        PlotText::Strokes => write::PlotText::Strokes,
        PlotText::Outlines => write::PlotText::Outlines,
        PlotText::Plain => write::PlotText::Plain,
        PlotText::None => write::PlotText::None,
    };
    svg_bytes(&plotted.document, &plotted.document.pages, SvgStyle::Plot(lettering))
}
