//! What is imported from a drawing is what a viewer shows of it, or it is refused: held against the pixels of `resvg`.

use crate::common::draws::{Draws, for_all};
use crate::common::shop::{Shop, text};
use fullsize::geometry::Rect;
use fullsize::project::read_with;
use std::cell::Cell;
use std::fmt::Write;

/// Pixels in one millimetre.
const FINE: f64 = 5.0;

/// The area, mm², of an imported part and the box around it.
type Measured = (f64, Rect);

/// Reads a drawing as an outline: what it measures, or the codes of what stops it.
fn imported(svg: &str) -> Result<Measured, Vec<&'static str>> {
    let file = r#"{ "fullsize": 1, "title": "S", "units": "mm",
        "patterns": { "a": { "thickness": 9, "outline": { "svg": "a.svg" } } } }"#;
    let drawings = |_: &str| Ok(svg.as_bytes().to_vec());
    let reading = read_with("a.json", file.as_bytes(), None, None, &drawings);
    let Some(project) = reading.project else {
        return Err(reading.findings.iter().map(|finding| finding.code).collect());
    };
    let part = &project.patterns[0];
    let openings: f64 = part.openings.iter().map(|opening| opening.what.area()).sum();
    let bounds = part.built.outline.path().bounding_box().expect("an outline");
    Ok((part.built.outline.area() - openings, bounds))
}

/// The dark area of a drawing as a viewer shows it, and the box around it, y up; `None` where nothing is dark.
fn seen(svg: &str) -> Option<Measured> {
    let tree = usvg::Tree::from_str(svg, &usvg::Options::default()).expect("usvg reads it");
    let mm = |pixels: f32| f64::from(pixels) * 25.4 / 96.0;
    let (wide, high) = (mm(tree.size().width()), mm(tree.size().height()));
    let (width, height) = ((wide * FINE).ceil() as u32, (high * FINE).ceil() as u32);
    let mut pixels = resvg::tiny_skia::Pixmap::new(width, height).expect("a size");
    pixels.fill(resvg::tiny_skia::Color::WHITE);
    let scale = (FINE * 25.4 / 96.0) as f32;
    resvg::render(&tree, resvg::tiny_skia::Transform::from_scale(scale, scale), &mut pixels.as_mut());
    let (mut area, mut bounds) = (0.0, None);
    for (index, pixel) in pixels.pixels().iter().enumerate() {
        let dark = 1.0 - f64::from(pixel.red()) / 255.0;
        area += dark / (FINE * FINE);
        if dark > 0.5 {
            let (column, row) = ((index as u32 % width) as f64 / FINE, high - (index as u32 / width) as f64 / FINE);
            let one = Rect::new(column, row - 1.0 / FINE, column + 1.0 / FINE, row);
            bounds = Some(bounds.map_or(one, |all: Rect| all.union(one)));
        }
    }
    bounds.map(|bounds| (area, bounds))
}

/// Holds what is imported against what is seen; whether it was imported.
fn agrees(svg: &str) -> bool {
    let (area, bounds) = match imported(svg) {
        Ok(measured) => measured,
        Err(codes) => {
            // Drawings here are sound, so that a refusal is never that of a broken file.
            assert!(!codes.contains(&"drawing-unusable"), "{codes:?}:\n{svg}");
            return false;
        }
    };
    let (dark, shown) = seen(svg).unwrap_or_else(|| panic!("nothing is seen, and {area} mm² imported:\n{svg}"));
    let off = [bounds.x0 - shown.x0, bounds.y0 - shown.y0, bounds.x1 - shown.x1, bounds.y1 - shown.y1];
    let most = off.iter().fold(0.0, |most: f64, mm| most.max(mm.abs()));
    let alike = (area - dark).abs() < 2.0 + 0.01 * dark && most < 2.0 / FINE;
    assert!(alike, "imported {area:.1} mm² in {bounds:.2?}\nseen {dark:.1} mm² in {shown:.2?}\n{svg}");
    true
}

/// A drawing of a dark shape with light openings, and all kinds of things that hide, move, cut or copy it.
struct Drawing<'a> {
    draws: &'a mut Draws,
    rules: String,
    defs: String,
    ids: usize,
}

impl Drawing<'_> {
    fn id(&mut self) -> String {
        self.ids += 1;
        format!("i{}", self.ids)
    }

    /// A list of transforms, mild enough to stay on the page mostly.
    fn transform(&mut self) -> String {
        let mut list = String::new();
        for _ in 0..self.draws.below(3) {
            let (a, b) = (self.draws.between(-12.0, 12.0), self.draws.between(0.7, 1.3));
            let _ = match self.draws.below(5) {
                0 => write!(list, "translate({a:.2} {:.2}) ", -a),
                1 => write!(list, "rotate({:.1}) ", a * 5.0),
                2 => write!(list, "scale({b:.3},{:.3})", 1.7 - b * 0.7),
                3 => write!(list, "skewX({a:.1}) "),
                _ => write!(list, "matrix({b:.3} .1 -.1 {b:.3} {a:.1} 3)"),
            };
        }
        list
    }

    /// Attributes that may hide, colour or move, by attribute, style or class.
    fn said(&mut self, colour: &str) -> String {
        let mut said = match self.draws.below(4) {
            0 => format!(r#" fill="{colour}""#),
            1 => format!(r#" style="stroke:none;fill:{colour}""#),
            2 => {
                let class = self.id();
                let _ = writeln!(self.rules, ".{class}{{fill:{colour}}}");
                format!(r#" class="x {class}""#)
            }
            // The attribute gives way to the style.
            _ => format!(r#" fill="none" style="fill:{colour} ; opacity:1""#),
        };
        if self.draws.chance(0.25) {
            let _ = write!(said, r#" transform="{}""#, self.transform());
        }
        said
    }

    /// A word that a viewer follows and a drawing seldom has, and that may hide all where that is asked; mostly none.
    fn oddity(&mut self, hides: bool) -> String {
        if !self.draws.chance(0.18) {
            return String::new();
        }
        let id = self.id();
        match self.draws.below(if hides { 10 } else { 5 }) {
            0 => r#" style="transform:scale(2)""#.to_owned(),
            1 => {
                let _ = write!(
                    self.defs,
                    r#"<clipPath id="{id}"><rect x="-9" y="-9" width="16" height="20"/></clipPath>"#
                );
                format!(r#" clip-path="url(#{id})""#)
            }
            2 => {
                let _ = write!(
                    self.defs,
                    r#"<mask id="{id}"><rect x="-9" y="-9" width="9" height="20" fill="white"/></mask>"#
                );
                format!(r#" style="mask:url(#{id})""#)
            }
            3 => r#" transform-origin="9 9" transform="rotate(30)""#.to_owned(),
            4 => r#" style="clip-path:none;mask:none;transform:none""#.to_owned(),
            5 => {
                let _ = writeln!(self.rules, "#{id} {{ display: none }}");
                format!(r#" id="{id}""#)
            }
            6 => r#" opacity="0""#.to_owned(),
            7 => r#" visibility="hidden""#.to_owned(),
            8 => r#" display="none""#.to_owned(),
            _ => {
                let _ = writeln!(
                    self.rules,
                    "g > g .k{id} {{ visibility: hidden !important }} .k{id} {{ visibility: visible }}"
                );
                format!(r#" class="k{id}""#)
            }
        }
    }

    /// A shape that reaches 14 units about the origin at least.
    fn outer(&mut self) -> String {
        let said = self.said("#000");
        let odd = self.oddity(false);
        let (a, b) = (self.draws.between(16.0, 30.0), self.draws.between(16.0, 26.0));
        let shape = match self.draws.below(6) {
            0 => format!(
                r#"<rect x="{:.2}" y="{:.2}" width="{:.2}" height="{:.2}" rx="3"{said}/>"#,
                -a,
                -b,
                2.0 * a,
                2.0 * b
            ),
            1 => format!(r#"<ellipse rx="{a:.2}" ry="{b:.2}"{said}/>"#),
            2 => format!(r#"<circle r="{a:.2}"{said}/>"#),
            3 => format!(
                r#"<polygon points="{:.1},{:.1} {:.1} {b:.1} {a:.1},{b:.1} {a:.1} {:.1} 0,{:.1}"{said}/>"#,
                -a,
                -b,
                -a,
                -b,
                -b - 4.0
            ),
            4 => format!(r#"<path d="M-{a:.2} 0A{a:.2} {b:.2} 0 0 1 {a:.2} 0Q0 {:.2} -{a:.2} 0z"{said}/>"#, b * 2.4),
            _ => {
                // A ring that is cut out by its fill rule, or not.
                let (inner, rule) = (
                    self.draws.one_of(&["v8h8v-8z", "h8v8h-8z"]),
                    self.draws.one_of(&["evenodd", "nonzero", "inherit"]),
                );
                format!(
                    r#"<path fill-rule="{rule}" d="M-{a:.2} -{b:.2}h{:.2}v{:.2}h-{:.2}zM-4 -12{inner}"{said}/>"#,
                    2.0 * a,
                    2.0 * b,
                    2.0 * a
                )
            }
        };
        if odd.is_empty() { shape } else { format!("<g{odd}>{shape}</g>") }
    }

    fn inner(&mut self) -> String {
        let mut all = String::new();
        for x in [-8.0, 3.0].into_iter().take(self.draws.below(3)) {
            let colour = match self.draws.below(3) {
                0 => r#" fill="white""#.to_owned(),
                1 => r#" style="fill : #fff""#.to_owned(),
                _ => {
                    let id = self.id();
                    let _ = writeln!(self.rules, "circle.{id}, path.{id} {{ fill: white; }}");
                    format!(r#" class="{id}""#)
                }
            };
            let _ = match self.draws.below(2) {
                0 => write!(all, r#"<circle cx="{x}" cy="6" r="{:.2}"{colour}/>"#, self.draws.between(1.5, 4.0)),
                _ => write!(all, r#"<path d="M{x} 3h4v{:.2}h-4z"{colour}/>"#, self.draws.between(2.0, 6.0)),
            };
        }
        all
    }

    /// Things that are not seen.
    fn unseen(&mut self) -> &'static str {
        self.draws.one_of(&[
            "",
            "",
            r#"<rect width="90" height="70" fill="none"/>"#,
            r#"<g display="none"><rect width="90" height="70"/></g>"#,
            r#"<rect width="90" height="70" visibility="hidden"/>"#,
            r#"<rect width="90" height="70" style="display:none"/>"#,
            r#"<symbol><rect width="90" height="70"/></symbol>"#,
            r#"<g fill="none"><rect width="90" height="70"/></g>"#,
            r#"<metadata><x:rect xmlns:x="urn:x" width="90" height="70"/></metadata>"#,
            r#"<x:rect xmlns:x="urn:x" width="90" height="70"/>"#,
            r#"<rect width="90" height="70" fill-opacity="0"/>"#,
            "<title>leaf</title>",
        ])
    }

    /// The shapes in groups, copies and frames.
    fn body(&mut self) -> String {
        let (outer, inner) = (self.outer(), self.inner());
        let shapes = format!("{outer}{inner}");
        let (odd, transform) = (self.oddity(true), self.transform());
        let group = |inside: &str| format!(r#"<g transform="{transform}"><g{odd}>{inside}</g></g>"#);
        match self.draws.below(8) {
            0 => {
                let id = self.id();
                let _ = write!(self.defs, r#"<g id="{id}">{shapes}</g>"#);
                group(&format!(r##"<use href="#{id}" x="3" y="-2"/>"##))
            }
            1 => {
                let id = self.id();
                let side = self.draws.one_of(&["-34 -34 68 68", "-30 -30 60 60", "-12 -34 68 68"]);
                let shown = self.draws.one_of(&["", r#" overflow="visible""#]);
                let _ = write!(self.defs, r#"<symbol id="{id}" viewBox="{side}"{shown}>{shapes}</symbol>"#);
                group(&format!(r##"<use xlink:href="#{id}" x="-30" y="-30" width="70" height="60"/>"##))
            }
            2 => {
                let shown = self.draws.one_of(&["", r#" overflow="visible""#, r#" style="overflow:visible""#]);
                let view = self.draws.one_of(&["-36 -36 72 72", "-30 -30 60 60", "-20 -36 72 72"]);
                group(&format!(
                    r#"<svg x="-35" y="-35" width="70" height="80" viewBox="{view}"{shown}>{shapes}</svg>"#
                ))
            }
            3 => {
                let first = self.draws.one_of(&[
                    "",
                    r#"<g requiredExtensions="http://x/"><rect width="40" height="40"/></g>"#,
                    r#"<g systemLanguage="xx"><rect width="50" height="50"/></g>"#,
                ]);
                group(&format!("<switch>{first}<g>{shapes}</g><rect width='9' height='99'/></switch>"))
            }
            4 => group(&format!(
                "<g visibility='hidden'><rect width='99' height='9'/><g visibility='visible'>{shapes}</g></g>"
            )),
            _ => group(&shapes),
        }
    }

    fn svg(mut self) -> String {
        let size = self.draws.one_of(&[
            r#"width="120mm" height="100mm" viewBox="-60 -50 120 100""#,
            r#"width="12cm" height="100mm" viewBox="-60 -50 120 100""#,
            r#"width="400" height="400" viewBox="-50 -50 100 100""#,
            r#"viewBox="-60 -60 120 120""#,
            r#"width="5in" height="3in" viewBox="-50 -50 100 100" preserveAspectRatio="xMinYMax meet""#,
            r#"width="150mm" height="100mm" viewBox="-60 -60 120 120" preserveAspectRatio="none""#,
            r#"width="120mm" height="90mm" viewBox="-60 -50 120 100" preserveAspectRatio="xMidYMin slice""#,
            r#"width="50mm" viewBox="-50 -50 100 100""#,
        ]);
        let (before, body, after) = (self.unseen(), self.body(), self.unseen());
        let odd_rule = match self.draws.below(14) {
            0 => "g:hover { fill: red }",
            1 => "rect[rx] { display: none }",
            2 => "@media print { rect { display: none } }",
            3 => "@import url(x.css);",
            4 => "g:hover { stroke-width: 3 } @font-face { font-family: x; }",
            5 => "path { r: 3px } rect { x: -40px }",
            _ => "",
        };
        let (rules, defs) = (&self.rules, &self.defs);
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" {size}>\n\
             <style>/* of a program */ .y{{display:none}}\n{rules}{odd_rule}</style><defs>{defs}</defs>\n{before}{body}{after}</svg>"
        )
    }
}

/// `FULLSIZE_DRAWINGS=3000` makes so many.
#[test]
fn mixed_drawings_come_out_as_a_viewer_shows_them_or_are_refused() {
    let many = std::env::var("FULLSIZE_DRAWINGS").ok().and_then(|many| many.parse().ok()).unwrap_or(300);
    let (read, refused) = (Cell::new(0), Cell::new(0));
    for_all(many, |draws| {
        let svg = Drawing { draws, rules: String::new(), defs: String::new(), ids: 0 }.svg();
        let count = if agrees(&svg) { &read } else { &refused };
        count.set(count.get() + 1);
    });
    println!("{} read, {} refused", read.get(), refused.get());
    assert!(read.get() * 3 > many && refused.get() * 10 > many, "{} read, {} refused", read.get(), refused.get());
}

/// Whole drawings, each with one thing that a viewer follows, and the code that stops it; without one, it comes out as it is seen.
#[test]
fn each_thing_that_is_not_followed_stops_with_its_line() {
    let square = r#"<path d="M10 10h40v30h-40z"/>"#;
    let cases = [
        (square.to_owned(), None),
        (format!("<style>.h{{display:none}}</style><path class='h' d='M0 0H80V60H0Z'/>{square}"), None),
        (format!("<style>@import 'x.css';</style>{square}"), Some(2)),
        (format!("<style>\n\npath:hover{{d:none}}</style>{square}"), Some(4)),
        (format!("<style>path{{transform:scale(2)}}</style>\n{square}"), Some(3)),
        ("<rect width='10' height='10' style='width:50px'/>".to_owned(), Some(2)),
        ("<rect style='width:50px;height:9px'/>".to_owned(), Some(2)),
        (
            format!("<clipPath id='c'><rect width='9' height='9'/></clipPath>\n<g clip-path='url(#c)'>{square}</g>"),
            Some(3),
        ),
        (format!("<g style='mask:url(#m)'>\n{square}</g>"), Some(2)),
        (format!("<g filter='url(#f)'>{square}</g>"), Some(2)),
        (format!("<g transform='turn(3)'>{square}</g>"), Some(2)),
        ("<path d='M10 10h40v30h-40z'><animate attributeName='d'/></path>".to_owned(), Some(2)),
        ("<g transform='rotate(9)' transform-origin='center'><path d='M10 10h40v30h-40z'/></g>".to_owned(), Some(2)),
        ("<path d='M10 10h40v30h-40zM20 20h5v5h-5z'/>".to_owned(), Some(2)),
        ("<path fill-rule='evenodd' d='M10 10h40v30h-40zM20 20h5v5h-5z'/>".to_owned(), None),
        ("<path d='M10 10h400v30h-400z'/>".to_owned(), Some(2)),
        ("<svg width='20' height='20'><path d='M10 10h40v30h-40z'/></svg>".to_owned(), Some(2)),
        ("<rect x='NaN' y='2' width='9' height='9'/>".to_owned(), Some(2)),
    ];
    for (body, line) in cases {
        let svg = format!(
            "<svg xmlns='http://www.w3.org/2000/svg' width='100mm' height='80mm' viewBox='0 0 100 80'>\n{body}</svg>"
        );
        let Some(line) = line else {
            assert!(agrees(&svg), "{svg}: {:?}", imported(&svg));
            continue;
        };
        let codes = imported(&svg).expect_err(&svg);
        assert!(codes.contains(&"drawing-not-followed"), "{codes:?}: {svg}");
        let shop = Shop::new();
        shop.file("a.svg", &svg);
        shop.file(
            "a.json",
            r#"{ "fullsize": 1, "title": "S", "units": "mm",
            "patterns": { "a": { "thickness": 9, "outline": { "svg": "a.svg" } } } }"#,
        );
        let done = shop.run(&["schedule", "a.json"]);
        let said = text(&done.stderr);
        assert!(
            done.status.code() == Some(1) && said.contains(&format!("\"a.svg\", line {line}: ")),
            "{svg}: {said}"
        );
    }
}
