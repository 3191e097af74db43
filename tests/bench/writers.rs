//! How fast pages become files: `cargo bench --bench writers`.

use divan::{Bencher, black_box};
use fullsize::geometry::{CubicBez, Path, Point, Segment};
use fullsize::page::{Document, Item, Page, Pen, Role, Shape, Text};
use fullsize::write::{PdfOptions, PlotText, SvgStyle, pdf, svg};
use printpdf::{
    BuiltinFont, Line, LinePoint, Mm, Op, PdfDocument, PdfFontHandle, PdfPage, PdfSaveOptions, Pt, TextItem,
    TextMatrix,
};

fn main() {
    divan::main();
}

/// Pages, each with so many of these.
const CURVES: usize = 500;
const LABELS: usize = 20;
const WORDS: &str = "left apron, 1339.5 mm";

/// The four points of a curve, mm.
fn curve(page: usize, number: usize) -> [Point; 4] {
    let turn = number as f64;
    [(0.0, 0.0), (0.1, 0.2), (0.3, 0.1), (0.4, 0.5)].map(|(a, b)| {
        let x = 105.0 + 90.0 * (turn * 0.71 + a + page as f64).sin();
        Point::new(x, 148.0 + 130.0 * (turn * 0.37 + b).cos())
    })
}

fn label(number: usize) -> Point {
    Point::new(20.0, 10.0 + 13.0 * number as f64)
}

fn document(pages: usize) -> Document {
    let item = |role, shape| Item { role, part: None, clip: None, shape };
    let page = |page: usize| {
        let curves = (0..CURVES).map(|number| {
            let [a, b, c, d] = curve(page, number);
            let path = Path::open(vec![Segment::Cubic(CubicBez::new(a, b, c, d))]);
            item(Role::Outline, Shape::Stroke { path, pen: Pen::solid(0.35) })
        });
        let labels = (0..LABELS).map(|number| item(Role::Text, Shape::Text(Text::new(label(number), 3.5, WORDS))));
        let items = curves.chain(labels).collect();
        Page { width: 210.0, height: 297.0, name: format!("A{page}"), section: None, items }
    };
    Document { title: "Bench".to_owned(), parts: Vec::new(), pages: (0..pages).map(page).collect() }
}

/// The same strokes and words by `printpdf` alone, in one of the faces that every viewer has.
fn bare(pages: usize, options: &PdfSaveOptions) -> Vec<u8> {
    let point = |at: Point, bezier| LinePoint {
        p: printpdf::Point { x: Mm(at.x as f32).into(), y: Mm(at.y as f32).into() },
        bezier,
    };
    let page = |page: usize| {
        let mut ops = Vec::new();
        for number in 0..CURVES {
            let [a, b, c, d] = curve(page, number);
            let points = vec![point(a, false), point(b, true), point(c, true), point(d, false)];
            ops.push(Op::DrawLine { line: Line { points, is_closed: false } });
        }
        for number in 0..LABELS {
            let at = label(number);
            ops.extend([
                Op::StartTextSection,
                Op::SetFont { font: PdfFontHandle::Builtin(BuiltinFont::Helvetica), size: Pt(13.6) },
                Op::SetTextMatrix { matrix: TextMatrix::Translate(Mm(at.x as f32).into(), Mm(at.y as f32).into()) },
                Op::ShowText { items: vec![TextItem::Text(WORDS.to_owned())] },
                Op::EndTextSection,
            ]);
        }
        PdfPage::new(Mm(210.0), Mm(297.0), ops)
    };
    let mut document = PdfDocument::new("Bench");
    document.pages = (0..pages).map(page).collect();
    document.save(options, &mut Vec::new())
}

#[divan::bench(args = [1, 20, 200], sample_count = 10)]
fn pdf_of_pages(bencher: Bencher, pages: usize) {
    let document = document(pages);
    bencher.bench(|| pdf(black_box(&document), &PdfOptions::default()));
}

#[divan::bench(args = [1, 20, 200], sample_count = 10)]
fn bare_pdf_of_pages(bencher: Bencher, pages: usize) {
    let options = PdfSaveOptions { optimize: false, ..PdfSaveOptions::default() };
    bencher.bench(|| bare(black_box(pages), &options));
}

#[divan::bench(args = [1, 20, 200], sample_count = 5)]
fn bare_packed_pdf_of_pages(bencher: Bencher, pages: usize) {
    bencher.bench(|| bare(black_box(pages), &PdfSaveOptions::default()));
}

#[divan::bench(args = [PlotText::Strokes, PlotText::Outlines, PlotText::Plain, PlotText::None])]
fn svg_of_a_page(bencher: Bencher, text: PlotText) {
    let document = document(1);
    bencher.bench(|| svg(&document, black_box(&document.pages[0]), SvgStyle::Plot(text)));
}

#[divan::bench]
fn width_of_words(bencher: Bencher) {
    let text = Text::new(Point::ORIGIN, 3.5, WORDS);
    bencher.bench(|| black_box(&text).width());
}

#[divan::bench]
fn box_of_words(bencher: Bencher) {
    let text = Text::new(Point::ORIGIN, 3.5, WORDS).turned(0.3);
    bencher.bench(|| black_box(&text).bounding_box());
}
