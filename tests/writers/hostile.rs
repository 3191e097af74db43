//! What writers are measured by, and names and paths that try them.

use crate::common::sample::{page, stroke, words};
use fullsize::geometry::{CubicBez, Path, Point, Segment};
use fullsize::page::{Document, Item, Page, Part, Pen, Role, Text};

/// How far a written place may lie from the true one, mm.
pub const CLOSE: f64 = 0.005;

/// An open path over three metres: its corners are [`LONG_CORNERS`].
pub fn long_path() -> Path {
    let [a, b, c, d] = LONG_CORNERS.map(Point::from);
    let batten = CubicBez::new(b, Point::new(1200.7, 380.9), Point::new(2100.3, 20.2), c);
    Path::open(vec![Segment::line(a, b), Segment::Cubic(batten), Segment::line(c, d)])
}

/// The corners of [`long_path`], mm.
pub const LONG_CORNERS: [(f64, f64); 4] =
    [(10.123_456, 20.654_321), (333.333_333, 66.666_667), (2_987.654_321, 311.111_111), (3_009.999_999, 12.345_678)];

/// Names that no format may trip over, and what is left of each to show.
pub const HOSTILE: [(&str, &str); 8] = [
    ("leg", "leg"),
    ("leg ", "leg "),
    ("\"quoted\" & 'ticked'", "\"quoted\" & 'ticked'"),
    ("<script>alert(1)</script>", "<script>alert(1)</script>"),
    ("]]> -- <!-- &amp; %s \\ ( ) {", "]]> -- <!-- &amp; %s \\ ( ) {"),
    ("chair \u{1fa91} 椅子", "chair \u{1fa91} 椅子"),
    ("bell\u{7} nul\u{0} escape\u{1b}[31m line\nend", "bell nul escape[31m line end"),
    ("\u{202e}שולחן\u{202c}", "שולחן"),
];

/// A document in which everything that can be named is named by one of [`HOSTILE`].
pub fn hostile() -> Document {
    let parts = HOSTILE.map(|(name, _)| Part::new(name, name)).to_vec();
    let items = HOSTILE.iter().enumerate().flat_map(|(part, (name, _))| {
        let y = 20.0 + 20.0 * part as f64;
        let line = stroke(Role::Outline, Path::line(Point::new(10.0, y), Point::new(100.0, y)), Pen::solid(0.35));
        let mark = Item { role: Role::Mark, ..line.clone() };
        let text = words(Role::Text, Text::new(Point::new(10.0, y + 2.0), 3.5, *name));
        [line, mark, text].map(|item| Item { part: Some(part), ..item })
    });
    let items: Vec<Item> = items.collect();
    let pages = HOSTILE.iter().map(|(name, _)| Page {
        section: Some(format!("section {name}")),
        ..page(name, 210.0, 297.0, items.clone())
    });
    Document { title: HOSTILE.map(|(name, _)| name).join(" "), parts, pages: pages.collect() }
}
