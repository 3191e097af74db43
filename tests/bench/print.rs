//! How fast a project becomes sheets: `cargo bench --bench print`.

use divan::{Bencher, black_box};
use fullsize::geometry::{Batten, BattenEnd, Flat, Path, Point, Rect};
use fullsize::layout::{Setup, tile};
use fullsize::model::Project;
use fullsize::page::{Document, Item, Part, Pen, Role, Shape};
use fullsize::pattern::{Pattern, draw};
use fullsize::project::read;
use fullsize::router::{routed, templates};
use fullsize::write::{PdfOptions, pdf};
use printpdf::{
    BuiltinFont, Line, LinePoint, Mm, Op, PdfDocument, PdfFontHandle, PdfPage, PdfSaveOptions, Pt, TextItem,
    TextMatrix,
};
use std::process::Command;

fn main() {
    divan::main();
}

const TABLE: &str = include_str!("../../templates-demo/reading_table.json");

const BENCH: &str = include_str!("../../templates-demo/hall_bench.json");

fn project(text: &str) -> Project {
    read("bench.json", text.as_bytes(), None, None).project.expect("a good file")
}

fn sheets(project: &Project, patterns: &[Pattern]) -> Document {
    let setup =
        Setup { shop: &project.shop, notation: project.notation.clone(), title: &project.title, readings_from: None };
    tile(patterns, &setup).0
}

fn patterns(project: &Project) -> Vec<Pattern> {
    project
        .patterns
        .iter()
        .map(|p| draw(p, &routed(p, &templates(p)).on_part, "", &project.title, &project.notation))
        .collect()
}

/// The demo's `print` as a whole process, file to file.
#[divan::bench(sample_count = 40)]
fn demo_as_a_process(bencher: Bencher) {
    let folder = tempfile::tempdir().expect("a folder");
    std::fs::write(folder.path().join("bench.json"), BENCH).expect("a file");
    bencher.bench(|| {
        let done = Command::new(env!("CARGO_BIN_EXE_fullsize"))
            .env("FULLSIZE_SHOP", "")
            .args(["print", "bench.json"])
            .current_dir(folder.path())
            .output()
            .expect("it runs");
        assert!(done.status.success());
    });
}

/// A top of 2.4 x 1.2 m on A4, as a whole process.
#[divan::bench(sample_count = 20)]
fn large_top_on_a4_as_a_process(bencher: Bencher) {
    let folder = tempfile::tempdir().expect("a folder");
    let top = r#"{ "fullsize": 1, "title": "Top", "units": "mm", "patterns": { "top": { "thickness": 30,
        "outline": [ { "to": [0, 0] }, { "to": [2400, 0], "edge": { "rise": 40 }, "corner_radius": 30 },
        { "to": [2400, 1200], "corner_radius": 30 }, { "to": [0, 1200], "edge": { "rise": 40 } } ] } } }"#;
    std::fs::write(folder.path().join("top.json"), top).expect("a file");
    bencher.bench(|| {
        let done = Command::new(env!("CARGO_BIN_EXE_fullsize"))
            .env("FULLSIZE_SHOP", "")
            .args(["print", "top.json", "--paper", "a4"])
            .current_dir(folder.path())
            .output()
            .expect("it runs");
        assert!(done.status.success());
    });
}

/// The demo table with three kinds of tenon that leave walls too thin, whose cures are tried, as a whole process.
#[divan::bench(sample_count = 20, args = ["check", "print"])]
fn thin_walls_as_a_process(bencher: Bencher, command: &str) {
    let folder = tempfile::tempdir().expect("a folder");
    let thick = [("10, \"width\": 44", "20, \"width\": 44"), ("10, \"width\": 40", "20, \"width\": 40")];
    let thick = thick.into_iter().chain([("8, \"width\": 24", "14, \"width\": 24")]);
    let table = thick.fold(TABLE.to_owned(), |table, (thin, thick)| table.replace(thin, thick));
    std::fs::write(folder.path().join("table.json"), table).expect("a file");
    bencher.bench(|| {
        let done = Command::new(env!("CARGO_BIN_EXE_fullsize"))
            .env("FULLSIZE_SHOP", "")
            .args([command, "table.json"])
            .current_dir(folder.path())
            .output()
            .expect("it runs");
        let told = if command == "check" { done.stdout } else { done.stderr };
        assert_eq!(String::from_utf8_lossy(&told).matches("just does").count(), 3);
    });
}

/// The demo from text to PDF bytes, in this process.
#[divan::bench]
fn demo(bencher: Bencher) {
    bencher.bench(|| {
        let project = project(black_box(BENCH));
        let patterns = patterns(&project);
        pdf(&sheets(&project, &patterns), &PdfOptions::default()).expect("a PDF")
    });
}

/// The demo's finished pages through our writer.
#[divan::bench]
fn demo_pages_written(bencher: Bencher) {
    let project = project(BENCH);
    let document = sheets(&project, &patterns(&project));
    bencher.bench(|| pdf(black_box(&document), &PdfOptions::default()).expect("a PDF"));
}

/// The same strokes and words by `printpdf` alone, in one of the faces that every viewer has.
#[divan::bench]
fn demo_pages_by_printpdf_alone(bencher: Bencher) {
    let project = project(BENCH);
    let document = sheets(&project, &patterns(&project));
    bencher.bench(|| bare(black_box(&document)));
}

fn bare(document: &Document) -> Vec<u8> {
    let point = |p: Point, bezier| LinePoint {
        p: printpdf::Point { x: Mm(p.x as f32).into(), y: Mm(p.y as f32).into() },
        bezier,
    };
    let mut pdf = PdfDocument::new("bare");
    pdf.pages = document
        .pages
        .iter()
        .map(|page| {
            let mut ops = vec![Op::SetOutlineThickness { pt: Pt(0.7) }];
            for item in &page.items {
                if let Shape::Text(text) = &item.shape {
                    let at = TextMatrix::Translate(Mm(text.at.x as f32).into(), Mm(text.at.y as f32).into());
                    ops.extend([
                        Op::StartTextSection,
                        Op::SetFont { font: PdfFontHandle::Builtin(BuiltinFont::Helvetica), size: Pt(9.8) },
                        Op::SetTextMatrix { matrix: at },
                        Op::ShowText { items: vec![TextItem::Text(text.content.clone())] },
                        Op::EndTextSection,
                    ]);
                }
                let Shape::Stroke { path, .. } = &item.shape else { continue };
                let mut points: Vec<LinePoint> = path.start().map(|p| point(p, false)).into_iter().collect();
                for cubic in path.segments().iter().flat_map(|s| s.to_cubics(1e-4)) {
                    points.extend([point(cubic.p1, true), point(cubic.p2, true), point(cubic.p3, false)]);
                }
                ops.push(Op::DrawLine { line: Line { points, is_closed: path.is_closed() } });
            }
            PdfPage::new(Mm(page.width as f32), Mm(page.height as f32), ops)
        })
        .collect();
    pdf.save(&PdfSaveOptions { optimize: false, ..PdfSaveOptions::default() }, &mut Vec::new())
}

/// An outline of so many pieces over about a hundredth as many sheets: the time per piece and sheet stays the same.
#[divan::bench(args = [5_000, 10_000, 20_000])]
fn outline_of_many_pieces(bencher: Bencher, pieces: usize) {
    let project = project(BENCH);
    let pattern = saw_toothed(pieces);
    bencher.bench(|| {
        let document = sheets(&project, std::slice::from_ref(black_box(&pattern)));
        pdf(&document, &PdfOptions::default()).expect("a PDF")
    });
}

/// A long board with toothed edges: its length grows with the pieces, so that sheets grow alike.
fn saw_toothed(pieces: usize) -> Pattern {
    let half = pieces / 2;
    let length = 9.0 * half as f64 / 5.0;
    let tooth = |i: usize, y: f64| {
        Point::new(length * i as f64 / half as f64, y + if i.is_multiple_of(2) { 0.0 } else { 2.0 })
    };
    let below = (0..half).map(|i| tooth(i, 0.0));
    let above = (0..half).rev().map(|i| tooth(i, 200.0));
    let points: Vec<Point> = below.chain(above).collect();
    let shape = Shape::Stroke { path: Path::polyline(&points, true), pen: Pen::solid(0.25) };
    let items = vec![Item { role: Role::Outline, part: None, clip: None, shape }];
    let made = ("make 1".to_owned(), String::new());
    let bounds = Rect::new(0.0, 0.0, length, 202.0).inflate(2.0, 2.0);
    Pattern::new(Part::new("board", "00000"), made, Flat::from_outside(items).paper(), bounds)
}

/// A batten through so many points.
#[divan::bench(args = [6, 100])]
fn batten(bencher: Bencher, points: usize) {
    let points: Vec<Point> = (0..points)
        .map(|i| {
            let x = i as f64 * 60.0;
            Point::new(x, 40.0 * (x / 210.0).sin() + 15.0 * (x / 95.0).cos())
        })
        .collect();
    bencher.bench(|| Batten::spring(black_box(&points), [BattenEnd::Free, BattenEnd::Free], 0.0).expect("a batten"));
}
