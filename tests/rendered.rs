//! Where the ink falls, by renderers that this project did not write: `hayro` for PDF, `resvg` for SVG.

use crate::common::sample::{document, page, stroke, words};
use fullsize::geometry::{Path, Point, Rect};
use fullsize::page::{Anchor, Document, Item, Pen, Role, Shape, Text};
use fullsize::write::{PdfOptions, SvgStyle, pdf, svg};
use hayro::hayro_interpret::InterpreterSettings;
use hayro::hayro_syntax::Pdf;
use hayro::vello_cpu::color::palette::css::WHITE;
use hayro::{PixmapSettings, RenderCache, RenderSettings};

/// Pixels in one millimetre.
const FINE: f64 = 10.0;

/// A rendered sheet: how dark each pixel is, 0 to 1.
struct Sheet {
    width: usize,
    height: usize,
    dark: Vec<f64>,
}

impl Sheet {
    fn new(width: usize, height: usize, rgba: &[u8]) -> Self {
        let dark = rgba.chunks_exact(4).map(|pixel| 1.0 - f64::from(pixel[0]) / 255.0).collect();
        Sheet { width, height, dark }
    }

    /// The mean darkness inside a rectangle, mm from the lower left corner.
    fn ink(&self, area: Rect) -> f64 {
        let (mut sum, mut count) = (0.0, 0.0);
        for row in 0..self.height {
            for column in 0..self.width {
                let at = Point::new((column as f64 + 0.5) / FINE, (self.height as f64 - row as f64 - 0.5) / FINE);
                if area.contains(at) {
                    sum += self.dark[row * self.width + column];
                    count += 1.0;
                }
            }
        }
        sum / count
    }

    /// The smallest rectangle around the ink inside an area, mm.
    fn bounds(&self, area: Rect) -> Rect {
        let mut bounds: Option<Rect> = None;
        for (index, _) in self.dark.iter().enumerate().filter(|(_, dark)| **dark > 0.5) {
            let (column, row) = ((index % self.width) as f64, (index / self.width) as f64);
            let top = self.height as f64 - row;
            let pixel = Rect::new(column / FINE, (top - 1.0) / FINE, (column + 1.0) / FINE, top / FINE);
            if area.contains(pixel.center()) {
                bounds = Some(bounds.map_or(pixel, |b| b.union(pixel)));
            }
        }
        bounds.expect("ink")
    }
}

fn by_hayro(document: &Document) -> Sheet {
    let bytes = pdf(document, &PdfOptions::default()).expect("bytes");
    let file = Pdf::new(bytes).expect("readable");
    let scale = (FINE * 25.4 / 72.0) as f32;
    let settings = PixmapSettings { x_scale: scale, y_scale: scale, bg_color: WHITE };
    let page = &file.pages()[0];
    let plain = RenderSettings { hinting: false, ..RenderSettings::default() };
    let pixels = hayro::render(page, &RenderCache::new(), &InterpreterSettings::default(), &plain, &settings);
    let rgba: Vec<u8> = pixels.data().iter().flat_map(|pixel| [pixel.r, pixel.g, pixel.b, pixel.a]).collect();
    Sheet::new(usize::from(pixels.width()), usize::from(pixels.height()), &rgba)
}

fn by_resvg(document: &Document) -> Sheet {
    let text = svg(document, &document.pages[0], SvgStyle::Picture).expect("text");
    let tree = usvg::Tree::from_str(&text, &usvg::Options::default()).expect("readable");
    let side = |mm: f64| (mm * FINE).round() as u32;
    let (width, height) = (side(document.pages[0].width), side(document.pages[0].height));
    let mut pixels = resvg::tiny_skia::Pixmap::new(width, height).expect("a size");
    let scale = (FINE * 25.4 / 96.0) as f32;
    resvg::render(&tree, resvg::tiny_skia::Transform::from_scale(scale, scale), &mut pixels.as_mut());
    assert!(pixels.pixels().iter().all(|pixel| pixel.alpha() == 255), "the sheet hides what is behind it");
    Sheet::new(width as usize, height as usize, pixels.data())
}

fn check(document: &Document, check: impl Fn(&Sheet)) {
    check(&by_hayro(document));
    check(&by_resvg(document));
}

fn close(found: Rect, expected: Rect) {
    let apart = [found.x0 - expected.x0, found.y0 - expected.y0, found.x1 - expected.x1, found.y1 - expected.y1];
    // A pixel on each side.
    assert!(apart.iter().all(|apart| apart.abs() <= 1.5 / FINE), "{found:?} is not {expected:?}");
}

#[test]
fn lines_have_their_place_width_and_square_ends() {
    let line = Path::line(Point::new(20.0, 30.0), Point::new(70.0, 30.0));
    let document = document(vec![page("A", 100.0, 60.0, vec![stroke(Role::Outline, line, Pen::solid(2.0))])]);
    check(&document, |sheet| {
        close(sheet.bounds(Rect::new(0.0, 0.0, 100.0, 60.0)), Rect::new(20.0, 29.0, 70.0, 31.0));
        assert!(sheet.ink(Rect::new(20.5, 29.5, 69.5, 30.5)) > 0.99);
    });
}

#[test]
fn corners_are_mitred() {
    let corner = [(20.0, 10.0), (20.0, 40.0), (60.0, 40.0)].map(Point::from);
    let path = Path::polyline(&corner, false);
    let document = document(vec![page("A", 100.0, 60.0, vec![stroke(Role::Outline, path, Pen::solid(4.0))])]);
    check(&document, |sheet| {
        close(sheet.bounds(Rect::new(0.0, 0.0, 100.0, 60.0)), Rect::new(18.0, 10.0, 60.0, 42.0));
        assert!(sheet.ink(Rect::new(18.2, 41.2, 18.8, 41.8)) > 0.99);
    });
}

#[test]
fn dashes_begin_at_their_phase() {
    // Dashes of 6 with gaps of 2, 4 into the pattern: 2 of dash, 2 of gap, 6 of dash, 2 of gap …
    let pen = Pen { width: 2.0, dash: vec![6.0, 2.0], phase: 4.0, grey: 0.0 };
    let line = Path::line(Point::new(10.0, 30.0), Point::new(60.0, 30.0));
    let document = document(vec![page("A", 100.0, 60.0, vec![stroke(Role::Mark, line, pen)])]);
    check(&document, |sheet| {
        let ink = |from: f64, to: f64| sheet.ink(Rect::new(10.0 + from, 29.5, 10.0 + to, 30.5));
        assert!(ink(0.2, 1.8) > 0.99 && ink(4.2, 9.8) > 0.99 && ink(12.2, 17.8) > 0.99);
        assert!(ink(2.2, 3.8) < 0.01 && ink(10.2, 11.8) < 0.01);
    });
}

#[test]
fn areas_are_filled_but_for_their_holes() {
    let ring = |radius| Path::circle(Point::new(50.0, 30.0), radius);
    let shape = Shape::Fill { rings: vec![ring(20.0), ring(10.0)], grey: 0.5 };
    let document =
        document(vec![page("A", 100.0, 60.0, vec![Item { role: Role::Mark, part: None, clip: None, shape }])]);
    check(&document, |sheet| {
        let ink = |x: f64| sheet.ink(Rect::new(x - 0.5, 29.5, x + 0.5, 30.5));
        assert!((ink(35.0) - 0.5).abs() < 0.01 && (ink(65.0) - 0.5).abs() < 0.01);
        assert!(ink(50.0) < 0.01 && ink(29.0) < 0.01 && ink(71.0) < 0.01);
    });
}

#[test]
fn words_fill_the_box_that_was_measured() {
    let texts = [
        Text::new(Point::new(10.0, 40.0), 7.0, "Hg 1 1/2\u{2033} ⅛"),
        Text::new(Point::new(90.0, 25.0), 5.0, "Right (edge)").anchored(Anchor::End),
        Text::new(Point::new(50.0, 12.0), 5.0, "turned").anchored(Anchor::Middle).turned(std::f64::consts::FRAC_PI_2),
        Text::new(Point::new(30.0, 30.0), 5.0, "H").turned(std::f64::consts::PI),
    ];
    for text in texts {
        let document = document(vec![page("A", 100.0, 60.0, vec![words(Role::Text, text.clone())])]);
        let expected = text.bounding_box();
        check(&document, |sheet| {
            let found = sheet.bounds(Rect::new(0.0, 0.0, 100.0, 60.0));
            let inside = expected.inflate(1.5 / FINE, 1.5 / FINE);
            assert!(inside.union(found) == inside, "{}: {found:?} leaves {expected:?}", text.content);
            // Bearings before the first and behind the last letter are all that the box holds besides ink.
            let bearings = 0.35 * text.height;
            assert!(found.width() > expected.width() - bearings, "{}: {found:?} in {expected:?}", text.content);
            assert!(found.height() > expected.height() - bearings, "{}: {found:?} in {expected:?}", text.content);
        });
    }
}

#[test]
fn capitals_have_the_height_asked_for() {
    let text = Text::new(Point::new(10.0, 20.0), 20.0, "HH");
    let document = document(vec![page("A", 100.0, 60.0, vec![words(Role::Text, text)])]);
    check(&document, |sheet| {
        let found = sheet.bounds(Rect::new(0.0, 0.0, 100.0, 60.0));
        assert!((found.y0 - 20.0).abs() < 0.15 && (found.y1 - 40.0).abs() < 0.15, "{found:?}");
    });
}

#[test]
fn nothing_shows_outside_a_clip_and_the_pen_is_kept_after_it() {
    let clip = Rect::new(20.0, 10.0, 40.0, 50.0);
    let line = |y: f64| Path::line(Point::new(10.0, y), Point::new(90.0, y));
    let clipped = Item { clip: Some(clip), ..stroke(Role::Mark, line(30.0), Pen::solid(4.0)) };
    let after = stroke(Role::Mark, line(20.0), Pen::solid(1.0));
    let first = stroke(Role::Mark, line(40.0), Pen::solid(1.0));
    let document = document(vec![page("A", 100.0, 60.0, vec![first, clipped, after])]);
    check(&document, |sheet| {
        close(sheet.bounds(Rect::new(0.0, 25.0, 100.0, 35.0)), Rect::new(20.0, 28.0, 40.0, 32.0));
        close(sheet.bounds(Rect::new(0.0, 15.0, 100.0, 25.0)), Rect::new(10.0, 19.5, 90.0, 20.5));
    });
}
