//! `plot`: one SVG for a pen plotter or a router.

use super::args::Plot;
use super::load::{Stopped, load, patterns};
use super::output::{Target, Trouble, say, write_all};
use super::print::output_file;
use crate::finding::Finding;
use crate::layout::{Bed, plot};
use crate::model::{PlotText, Project};
use crate::pattern::Pattern;
use crate::write::{self, SvgStyle, svg};
use std::io::Write;

/// Runs `plot`.
pub fn run(asked: &Plot, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    let loaded = load(&asked.input, err)?;
    let (bytes, findings) = plotted(&loaded.project, &patterns(&loaded, &asked.selection, err)?)?;
    super::load::say(&findings, &loaded.sources, err);
    let target = Target::named(&output_file(&asked.input, asked.out.as_deref(), "svg", &["svg"])?);
    write_all(&[(target.clone(), bytes)], out)?;
    if let Target::File(path) = &target {
        say(out, format!("Wrote {}, true size.\n", path.display()).as_bytes())?;
    }
    Ok(())
}

/// Lays the patterns side by side and writes them; what does not fit the bed is told beside it.
///
/// # Errors
/// Where the whole is larger than any bed.
pub fn plotted(project: &Project, patterns: &[Pattern]) -> Result<(Vec<u8>, Vec<Finding>), Stopped> {
    let plotter = &project.shop.plotter;
    let bed = plotter.bed.map(|(width, height)| Bed { width, height });
    let (document, findings) = plot(patterns, bed, &project.title, project.notation);
    let lettering = match plotter.text {
        PlotText::Strokes => write::PlotText::Strokes,
        PlotText::Outlines => write::PlotText::Outlines,
        PlotText::Plain => write::PlotText::Plain,
        PlotText::None => write::PlotText::None,
    };
    let pages = document.pages.iter().map(|page| svg(&document, page, SvgStyle::Plot(lettering)));
    let text: String = pages.collect::<Result<_, _>>().map_err(|error| Trouble::new(error.to_string()))?;
    Ok((text.into_bytes(), findings))
}
