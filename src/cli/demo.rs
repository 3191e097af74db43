//! `demo`: the main job, done once on examples of our own.

use super::args::Demo;
use super::load::{Loaded, Stopped, paper, say as say_findings};
use super::output::{Target, Trouble, program, say, write_all};
use super::piece::{all_patterns, naive_cost, solved_aloud};
use super::plot::plotted;
use super::print::{Printed, counted, printed};
use crate::layout::{Setup, measured_when_taped, proof};
use crate::model::Paper;
use crate::pattern::Pattern;
use crate::piece::Piece;
use crate::project::read;
use crate::write::{PdfOptions, gltf, pdf};
use std::fs;
use std::io::Write;
use std::path::Path;

/// The example that is printed: its name and its file.
const TABLE: (&str, &str) = ("reading_table", include_str!("../../templates-demo/reading_table.json"));

/// Further examples, written to be tried.
const MORE: [(&str, &str); 3] = [
    ("hall_bench", include_str!("../../templates-demo/hall_bench.json")),
    ("saddle_stool", include_str!("../../templates-demo/saddle_stool.json")),
    ("planter", include_str!("../../templates-demo/planter.json")),
];

/// Runs `demo`.
pub fn run(asked: &Demo, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    let (name, text) = TABLE;
    let reading = read(&format!("{name}.json"), text.as_bytes(), None, None);
    say_findings(&reading.findings, &reading.sources, err);
    let mut loaded = Loaded { project: reading.project.ok_or(Stopped::ByFinding)?, sources: reading.sources };
    if let Some(paper) = paper(asked.paper.as_deref())? {
        loaded.project.shop.paper = paper;
    }
    let piece = solved_aloud(&loaded, err)?;
    let project = &loaded.project;
    // The top alone takes as many sheets as the rest together: it is printed when it is wanted.
    let all = all_patterns(project, piece.as_ref()).into_iter();
    let patterns: Vec<Pattern> =
        all.filter(|(names, _)| !names.iter().any(|name| name == "top")).map(|(_, pattern)| pattern).collect();
    let (plot, _) = plotted(project, &patterns)?;
    let print = printed(project, patterns)?;
    let proof = proof(&project.shop, project.notation);
    let proof = pdf(&proof, &PdfOptions::default()).map_err(|error| Trouble::new(error.to_string()))?;
    let model = piece.as_ref().map(|piece| gltf(&piece.scene(&project.title))).unwrap_or_default();
    fs::create_dir_all(&asked.out).map_err(|error| Trouble::writing(&asked.out, &error))?;
    let place = |name: &str| Target::File(asked.out.join(name));
    let mut files = vec![
        (place("proof.pdf"), proof),
        (place(&format!("{name}.pdf")), print.bytes.clone()),
        (place(&format!("{name}.svg")), plot),
        (place(&format!("{name}.glb")), model),
    ];
    let mut kept = Vec::new();
    for (name, text) in std::iter::once(TABLE).chain(MORE) {
        let file = asked.out.join(format!("{name}.json"));
        // Numbers that somebody has changed are theirs.
        if fs::read(&file).is_ok_and(|known| known != text.as_bytes()) {
            kept.push(file);
        } else {
            files.push((Target::File(file), text.as_bytes().to_vec()));
        }
    }
    write_all(&files, out)?;
    say(out, report(&asked.out, &loaded, piece.as_ref(), &print).as_bytes())?;
    for file in kept {
        let words = format!("{} has been changed since: it was left as it is.\n", file.display());
        say(out, words.as_bytes())?;
    }
    Ok(())
}

/// What was written, which page to print first and what to measure on it.
fn report(folder: &Path, loaded: &Loaded, piece: Option<&Piece>, print: &Printed) -> String {
    let project = &loaded.project;
    let at = |name: &str| folder.join(name).display().to_string();
    let file = |ending: &str| at(&format!("{}.{ending}", TABLE.0));
    let sheets: usize = print.manifest.patterns.iter().flatten().map(|plan| plan.sheets.len()).sum();
    let mut lines = vec![
        "Wrote".to_owned(),
        format!("  {}", at("proof.pdf")),
        "      one sheet to try your printer with. Print this first, at 100 % (\"actual size\"),".to_owned(),
        "      and lay a steel rule on it: the bars read 100 mm (4 in), the diagonal what stands on it".to_owned(),
        format!("  {}", file("pdf")),
        format!(
            "      the patterns of \"{}\": {} on {}",
            project.title,
            counted(sheets, "sheet"),
            paper_name(project)
        ),
        "      behind the instructions and maps (the top is left out: print it with --pattern top)".to_owned(),
        format!("  {}", file("svg")),
        "      the same patterns for a pen plotter or a router, true size".to_owned(),
        format!("  {}", file("glb")),
        "      the assembled piece as a glTF model, to turn and look at".to_owned(),
        format!("  {}", file("json")),
        "      the numbers behind them".to_owned(),
    ];
    lines.extend(piece.and_then(|piece| naive_cost(piece, project)));
    let setup = Setup { shop: &project.shop, notation: project.notation, title: &project.heading() };
    let mut taped = print.patterns.iter().zip(&print.manifest.patterns);
    let first = taped.find_map(|(pattern, plan)| {
        let said = measured_when_taped(plan.as_ref()?, &setup)?;
        Some(format!(
            "Once its sheets are taped up, the {} reads from ringed cross to ringed cross {said}.",
            pattern.part.name
        ))
    });
    lines.extend(first);
    lines.push("Next: see every saw setting, change one number, print again".to_owned());
    lines.push(format!("  {} schedule {}", program(), file("json")));
    lines.push(format!("  {} set {} base.leg.splay=\"12 deg\"", program(), file("json")));
    lines.push(format!("  {} print {}", program(), file("json")));
    let more: Vec<String> = MORE.iter().map(|(name, _)| at(&format!("{name}.json"))).collect();
    lines.push(format!("More to try: {}", more.join(", ")));
    lines.push(String::new());
    lines.join("\n")
}

fn paper_name(project: &crate::model::Project) -> String {
    match &project.shop.paper {
        Paper::Sheet { name, .. } => name.clone(),
        Paper::Roll { .. } => "a roll".to_owned(),
    }
}
