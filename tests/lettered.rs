//! Words in letters that the embedded face lacks, set from a font file, as renderers that this project did not write see them:
//! `hayro` in the PDF, `resvg` in the SVG, both held against what `usvg` makes of the same words and fonts by itself.

use crate::common::sample::{document, page, words};
use fullsize::geometry::Point;
use fullsize::page::{Document, Lettering, Role, Text};
use fullsize::write::{PdfOptions, SvgStyle, pdf, svg};
use hayro::hayro_interpret::InterpreterSettings;
use hayro::hayro_syntax::Pdf;
use hayro::vello_cpu::color::palette::css::WHITE;
use hayro::{PixmapSettings, RenderCache, RenderSettings};
use std::sync::Arc;

/// Pixels in one millimetre, and the page, mm.
const FINE: f64 = 8.0;
const PAGE: (f64, f64) = (100.05, 30.05);

const HEBREW: &[u8] = include_bytes!("../fixtures/font/hebrew.ttf");
const OWN: &[u8] = include_bytes!("../src/page/font/DejaVuSans-subset.ttf");

/// How dark each pixel is, 0 to 1.
type Ink = Vec<f64>;

fn ink(rgba: &[u8]) -> Ink {
    rgba.chunks_exact(4).map(|pixel| 1.0 - f64::from(pixel[0]) / 255.0).collect()
}

fn size() -> (u32, u32) {
    ((PAGE.0 * FINE) as u32, (PAGE.1 * FINE) as u32)
}

fn by_resvg(tree: &usvg::Tree, scale: f64) -> Ink {
    let mut pixels = resvg::tiny_skia::Pixmap::new(size().0, size().1).expect("a size");
    pixels.fill(resvg::tiny_skia::Color::WHITE);
    let scale = resvg::tiny_skia::Transform::from_scale(scale as f32, scale as f32);
    resvg::render(tree, scale, &mut pixels.as_mut());
    ink(pixels.data())
}

fn by_hayro(document: &Document) -> Ink {
    let bytes = pdf(document, &PdfOptions::default()).expect("bytes");
    let file = Pdf::new(bytes).expect("readable");
    let scale = (FINE * 25.4 / 72.0) as f32;
    let settings = PixmapSettings { x_scale: scale, y_scale: scale, bg_color: WHITE };
    let plain = RenderSettings { hinting: false, ..RenderSettings::default() };
    let pixels =
        hayro::render(&file.pages()[0], &RenderCache::new(), &InterpreterSettings::default(), &plain, &settings);
    assert_eq!((u32::from(pixels.width()), u32::from(pixels.height())), size());
    ink(&pixels.data().iter().flat_map(|p| [p.r, p.g, p.b, p.a]).collect::<Vec<u8>>())
}

/// The words as `usvg` shapes and orders them, from the same two fonts.
fn by_itself(said: &str, text: &Text) -> Ink {
    let mut options = usvg::Options::default();
    let fonts = Arc::make_mut(&mut options.fontdb);
    fonts.load_font_data(OWN.to_vec());
    fonts.load_font_data(HEBREW.to_vec());
    let (x, y) = (text.at.x, PAGE.1 - text.at.y);
    let drawing = format!(
        "<svg xmlns='http://www.w3.org/2000/svg' width='{}' height='{}'><text x='{x}' y='{y}' font-family='DejaVu Sans' \
         font-size='{}' style='font-kerning:none'>{said}</text></svg>",
        PAGE.0,
        PAGE.1,
        text.em()
    );
    by_resvg(&usvg::Tree::from_str(&drawing, &options).expect("readable"), FINE)
}

/// The share of ink that two pictures do not have in common.
fn unlike(a: &Ink, b: &Ink) -> f64 {
    let apart: f64 = a.iter().zip(b).map(|(a, b)| (a - b).abs()).sum();
    apart / a.iter().sum::<f64>().max(b.iter().sum())
}

#[test]
fn words_of_two_directions_are_shown_as_others_show_them() {
    let lettering = Lettering::read(HEBREW.to_vec()).expect("a font");
    for said in ["שולחן", "Leg שולחן 12", "רגל (אורך) 40 mm", "אבג Ω דה"] {
        let text = Text::new(Point::new(6.0, 10.0), 5.0, said);
        let plain = document(vec![page("A", PAGE.0, PAGE.1, vec![words(Role::Text, text.clone())])]);
        let set = lettering.set(&plain);
        let wanted = by_itself(said, &text);
        assert!(wanted.iter().sum::<f64>() > 100.0, "usvg shows nothing of {said}");
        let drawn = svg(&set, &set.pages[0], SvgStyle::Picture).expect("text");
        let tree = usvg::Tree::from_str(&drawn, &usvg::Options::default()).expect("readable");
        let off = [unlike(&by_resvg(&tree, FINE * 25.4 / 96.0), &wanted), unlike(&by_hayro(&set), &wanted)];
        assert!(off.iter().all(|off| *off < 0.1), "{said}: {off:?}");
        // Without the font there are boxes, which are something else.
        assert!(unlike(&by_hayro(&plain), &wanted) > 0.3, "{said}");
    }
}
