//! Every output of one file, each opened by a reader that this project did not write.

use fullsize::cli::report;
use fullsize::job::Job;
use fullsize::layout::elevation::{Options, Overlay};
use fullsize::page::Document;
use fullsize::project::{Reading, read_with};
use fullsize::schedule::{json, tables, text};
use fullsize::write::{PdfOptions, PlotText, SvgStyle, csv, gltf, pdf, svg};

/// What is asked for beside the file.
#[derive(Debug, Clone, Copy)]
pub struct Asked<'a> {
    /// A paper by name.
    pub paper: &'a str,
    /// Whether the findings are asked for with their cures, by far the most work of all.
    pub cures: bool,
    /// Hidden lines, the seated figure and the places round it in drawings.
    pub more: bool,
}

/// The outputs by name: what was written, or nothing where it was refused.
pub type Outputs = Vec<(&'static str, Option<Vec<u8>>)>;

/// Reads a file and makes everything of it.
pub fn outputs(file: &[u8], asked: Asked, drawings: &dyn Fn(&str) -> Result<Vec<u8>, String>) -> Outputs {
    let shop = format!("{{ \"paper\": \"{}\" }}", asked.paper);
    let Reading { project, mut findings, sources } =
        read_with("file.json", file, Some(("shop.json", shop.as_bytes())), None, drawings);
    let mut made: Outputs = Vec::new();
    if let Some(project) = project {
        let job = Job::new(project);
        made = written(&job, asked);
        assert_eq!(job.patterns().is_err(), job.stops(), "patterns are refused where something stops the work");
        if asked.cures {
            findings.extend(job.cured_findings().cloned());
        } else {
            findings.extend(job.findings().cloned());
        }
    }
    made.push(("check", Some(report::text(&findings, &sources, false).into_bytes())));
    made.push(("check json", Some(report::json(&findings, &sources).to_string().into_bytes())));
    made
}

fn written(job: &Job, asked: Asked) -> Outputs {
    let overlays = if asked.more { vec![Overlay::Seated, Overlay::Places] } else { Vec::new() };
    let options = Options { hidden: asked.more, overlays, ..Options::default() };
    let patterns = job.patterns_named(&[]);
    let schedule = job.schedule();
    vec![
        ("print", patterns.clone().ok().and_then(|p| job.sheets(p).ok()).map(|sheets| as_pdf(&sheets.document()))),
        ("plot", patterns.ok().and_then(|p| as_svg(&job.plotted(&p).document, SvgStyle::Plot(PlotText::Strokes)))),
        ("draw", job.drawing(&options).ok().map(|drawing| as_pdf(&drawing.document))),
        ("rod", job.rod(false).ok().map(|document| as_pdf(&document))),
        ("show", job.picture().ok().and_then(|drawing| as_svg(&drawing.document, SvgStyle::Picture))),
        ("model", job.scene().ok().map(|scene| as_gltf(gltf(&scene)))),
        ("schedule", schedule.as_ref().ok().map(|schedule| text(schedule).into_bytes())),
        ("schedule csv", schedule.as_ref().ok().map(|schedule| csv(&tables(schedule)).into_bytes())),
        ("schedule json", schedule.as_ref().ok().map(|schedule| json(schedule).to_string().into_bytes())),
    ]
}

/// As PDF, with as many pages for another reader as were drawn.
fn as_pdf(document: &Document) -> Vec<u8> {
    let bytes = pdf(document, &PdfOptions::default()).expect("a PDF of what was laid on sheets");
    let read = lopdf::Document::load_mem(&bytes).expect("a PDF that can be read");
    assert_eq!(read.get_pages().len(), document.pages.len());
    bytes
}

/// The first page as SVG, unless it is larger than any bed.
fn as_svg(document: &Document, style: SvgStyle) -> Option<Vec<u8>> {
    let text = svg(document, document.pages.first()?, style).ok()?;
    let read = roxmltree::Document::parse(&text).expect("an SVG that can be read");
    let drawn = read.descendants().filter(|node| node.has_tag_name("path")).count();
    assert!(drawn > 0, "nothing is drawn");
    assert!(!text.contains("NaN") && !text.contains("inf"), "a number that is none");
    Some(text.into_bytes())
}

/// The model, with bounds that are numbers for another reader.
fn as_gltf(bytes: Vec<u8>) -> Vec<u8> {
    let read = gltf::Gltf::from_slice(&bytes).expect("a model that can be read");
    let primitives = read.meshes().flat_map(|mesh| mesh.primitives().collect::<Vec<_>>());
    for primitive in primitives {
        let bounds = primitive.bounding_box();
        assert!(bounds.min.iter().chain(&bounds.max).all(|number| number.is_finite()));
    }
    bytes
}
