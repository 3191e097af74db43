//! `demo`: the main job, done once on an example of our own.

use super::args::Demo;
use super::load::{Stopped, paper};
use super::output::{Target, Trouble, say, write_all};
use super::plot::plotted;
use super::print::{counted, printed};
use crate::layout::{Setup, measured_when_taped, proof};
use crate::pattern::draw;
use crate::project::{Project, read};
use crate::write::{PdfOptions, pdf};
use std::fs;
use std::io::Write;
use std::path::Path;

/// The example.
const FILE: &str = include_str!("../../templates-demo/hall_bench.json");

/// Its name.
const NAME: &str = "hall_bench";

/// Runs `demo`.
pub fn run(asked: &Demo, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    let reading = read(&format!("{NAME}.json"), FILE.as_bytes(), None, None);
    super::load::say(&reading.findings, &reading.sources, err);
    let mut project = reading.project.ok_or(Stopped::ByFinding)?;
    if let Some(paper) = paper(asked.paper.as_deref())? {
        project.shop.paper = paper;
    }
    let patterns: Vec<_> = project.patterns.iter().map(|p| draw(p, &project.title, &project.notation)).collect();
    let (plot, _) = plotted(&project, &patterns)?;
    let print = printed(&project, patterns)?;
    let proof = proof(&project.shop, project.notation);
    let proof = pdf(&proof, &PdfOptions::default()).map_err(|error| Trouble::new(error.to_string()))?;
    fs::create_dir_all(&asked.out).map_err(|error| Trouble::writing(&asked.out, &error))?;
    let place = |name: &str| Target::File(asked.out.join(name));
    write_all(
        &[
            (place("proof.pdf"), proof),
            (place(&format!("{NAME}.pdf")), print.bytes.clone()),
            (place(&format!("{NAME}.svg")), plot),
            (place(&format!("{NAME}.json")), FILE.as_bytes().to_vec()),
        ],
        out,
    )?;
    say(out, report(&asked.out, &project, &print).as_bytes())?;
    Ok(())
}

/// What was written, which page to print first and what to measure on it.
fn report(folder: &Path, project: &Project, print: &super::print::Printed) -> String {
    let at = |name: &str| folder.join(name).display().to_string();
    let sheets: usize = print.manifest.patterns.iter().flatten().map(|plan| plan.sheets.len()).sum();
    let mut text = format!(
        "Wrote\n  {}\n      one sheet to try your printer with: print this first, at 100 % (\"actual size\")\n",
        at("proof.pdf")
    );
    text += "      and lay a steel rule on it: the bars read 100 mm (4 in), the diagonal 200 mm\n";
    text += &format!(
        "  {}\n      {} for \"{}\": {} behind a page of instructions and maps\n",
        at(&format!("{NAME}.pdf")),
        counted(print.patterns.len(), "pattern"),
        project.title,
        counted(sheets, "sheet"),
    );
    text += &format!(
        "  {}\n      the same patterns for a pen plotter or a router, true size\n  {}\n      the numbers behind them\n",
        at(&format!("{NAME}.svg")),
        at(&format!("{NAME}.json")),
    );
    let setup = Setup { shop: &project.shop, notation: project.notation, title: &project.title };
    let taped = print.patterns.iter().zip(&print.manifest.patterns).filter_map(|(pattern, plan)| {
        let said = measured_when_taped(plan.as_ref()?, &setup)?;
        Some(format!("  {}: {said}\n", pattern.part.name))
    });
    let taped: String = taped.collect();
    if !taped.is_empty() {
        text += &format!("Once the sheets are taped up, measure from ringed cross to ringed cross\n{taped}");
    }
    text += &format!(
        "Next: change one number and print again\n  fullsize set {file} sizes.leg_length=450\n  fullsize print {file}\n",
        file = at(&format!("{NAME}.json"))
    );
    text
}
