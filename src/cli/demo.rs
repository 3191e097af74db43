//! `demo`: the main job, done once on examples of our own.

use super::args::Demo;
use super::files::{Files, Form, Output, Product};
use super::load::{Loaded, ShopFiles, Stopped, own_shop_words, paper};
use super::output::{Target, Trouble, pdf_bytes, program, sheets_bytes, sheets_told};
use super::plot::plot_bytes;
use crate::board::{Against, PartRole, SawCut};
use crate::change::Kept;
use crate::job::{Job, NamedPattern, Sheets};
use crate::layout::{measured_when_taped, proof};
use crate::model::{Paper, Project};
use crate::pattern::Pattern;
use crate::piece::{Piece, SolvedBoard};
use crate::project::{no_drawings, read_in};
use crate::units::Notation;
use crate::write::gltf;
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
pub fn run(asked: &Demo, files: &Files, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    let (name, text) = TABLE;
    let shops = ShopFiles::of(None, files)?;
    let reading = read_in(&format!("{name}.json"), text.as_bytes(), shops.shops(), None, &no_drawings);
    let _ = err.write_all(own_shop_words(&reading.sources, files).as_bytes());
    let mut loaded = Loaded::cleared(reading, &Kept::default(), &|_, _| {}, err)?;
    if let Some(paper) = paper(asked.paper.as_deref(), loaded.job.project().notation.units)? {
        loaded.job.set_paper(paper);
    }
    loaded.job.limit_sheets(asked.limit.sheets);
    let (job, project) = (&loaded.job, loaded.job.project());
    // The top alone takes as many sheets as the rest together: it is printed when it is wanted.
    let small = job.patterns()?.iter().filter(|one: &&NamedPattern| one.role != Some(PartRole::Top));
    let patterns: Vec<Pattern> = small.map(|one| one.pattern.clone()).collect();
    let plot = plot_bytes(&job.plotted(&patterns), &project.shop.plotter, None)?;
    let sheets = job.sheets(patterns)?;
    let print = sheets_bytes(&sheets, None)?;
    let proof = pdf_bytes(&proof(&job.setup()))?;
    let model = gltf(&job.scene()?);
    fs::create_dir_all(&asked.out).map_err(|error| Trouble::writing(&asked.out, &error))?;
    let output = |name: &str, product, form, bytes| Output {
        target: Target::File(asked.out.join(name)),
        product,
        form,
        bytes,
    };
    let mut outputs = vec![
        output("proof.pdf", Product::Proof, Form::Pdf, proof),
        output(&format!("{name}.pdf"), Product::Sheets, Form::Pdf, print),
        output(&format!("{name}.svg"), Product::Plot, Form::Svg, plot),
        output(&format!("{name}.glb"), Product::Model, Form::Glb, model),
    ];
    let mut kept = String::new();
    for (name, text) in std::iter::once(TABLE).chain(MORE) {
        let name = format!("{name}.json");
        let file = asked.out.join(&name);
        match fs::read(&file) {
            Ok(known) if known == text.as_bytes() => (),
            // Numbers that somebody has changed are theirs.
            Ok(_) => {
                kept.push_str(&format!("{} has been changed since: it was left as it is.\n", file.display()));
            }
            Err(_) => outputs.push(output(&name, Product::Project, Form::Text, text.as_bytes().to_vec())),
        }
    }
    let written = files.write(outputs, &asked.replace, out)?;
    Ok(written.say(&format!("{}{kept}", report(&asked.out, job, &sheets)?), out)?)
}

/// What was written, which page to print first and what to measure on it.
fn report(folder: &Path, job: &Job, print: &Sheets) -> Result<String, Stopped> {
    let project = job.project();
    let at = |name: &str| folder.join(name).display().to_string();
    let file = |ending: &str| at(&format!("{}.{ending}", TABLE.0));
    let mut lines = vec![
        "Wrote".to_owned(),
        format!("  {}", at("proof.pdf")),
        "      one sheet to try your printer with. Print this first, at 100 % (\"actual size\"),".to_owned(),
        "      and lay a steel rule on it: bars and diagonal read what stands on them".to_owned(),
        format!("  {}", file("pdf")),
        format!(
            "      the patterns of \"{}\": {} on {}",
            project.title,
            sheets_told(print.counts()),
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
    lines.extend(naive_cost(job.needed_piece()?, &project.notation));
    let setup = job.setup();
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
    Ok(lines.join("\n"))
}

/// What hurried practice would have cost at its worst joint, in one line; `None` where no joint would stand open.
fn naive_cost(piece: &Piece, notation: &Notation) -> Option<String> {
    // Joints between parts: a head or foot that stands open is seen before it is glued.
    let joint = |board: &SolvedBoard, cut: &SawCut| {
        let against = board.board.cuts.get(cut.cut).and_then(|cut| cut.against.as_ref());
        against.is_some_and(Against::is_in_base)
    };
    let gaps = piece.boards.iter().flat_map(|board| board.cuts.iter().map(move |cut| (board, cut)));
    let gaps = gaps.filter(|(board, cut)| joint(board, cut));
    let worst = gaps
        .flat_map(|(board, cut)| cut.naive_gap.iter().map(move |gap| (board, cut, gap)))
        .max_by(|a, b| a.2.open.total_cmp(&b.2.open))?;
    let (board, cut, gap) = worst;
    let nominal = cut.nominal?;
    (gap.open > 0.05).then(|| {
        let blade = match cut.bevel.degrees() {
            bevel if bevel < 0.05 => "blade square".to_owned(),
            _ => format!("blade tilted {}", notation.angle(cut.bevel)),
        };
        format!(
            "Sawn at {} with a square blade, by the number alone, the {} would stand {:.1} mm open at its {} corner. True: mitre {}, {blade}.",
            notation.angle(nominal.mitre),
            board.label,
            gap.open,
            gap.corner,
            notation.angle(cut.mitre()),
        )
    })
}

fn paper_name(project: &Project) -> String {
    match &project.shop.paper {
        Paper::Sheet { name, .. } => name.clone(),
        Paper::Roll { .. } => "a roll".to_owned(),
    }
}
