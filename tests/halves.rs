//! A half is half of everything: what `plot` and `print` draw of it, read back by other readers, and what is refused.

use crate::common::routing::routed;
use crate::common::shop::{Shop, text};
use lopdf::Object;
use serde_json::Value;
use std::fs;
use usvg::tiny_skia_path::Rect;

/// A box in the drawing, mm, y up: `[x0, y0, x1, y1]`.
type Box4 = [f64; 4];

const CUT: [&str; 2] = ["opening", "drill"];

/// A panel of 200 x 80 of which the right half is drawn, with everything that may lie on it.
fn panel(show: &str) -> String {
    format!(
        r#"{{ "fullsize": 1, "title": "Panel", "units": "mm", "patterns": {{ "panel": {{ "thickness": 12,
        "half": {{ "about": "y", {show} }},
        "outline": [{{ "to": [0, 0] }}, {{ "to": [100, 0] }}, {{ "to": [100, 80] }}, {{ "to": [0, 80] }}],
        "holes": [{{ "at": [60, 40], "diameter": 10 }}, {{ "at": [0, 70], "diameter": 6 }},
                  {{ "at": [88, 12], "diameter": 5, "once": true }}],
        "slots": [{{ "from": [30, 60], "to": [44, 66], "width": 8 }}],
        "openings": [[{{ "to": [20, 20] }}, {{ "to": [34, 20] }}, {{ "to": [20, 34] }}],
                     [{{ "to": [0, 42] }}, {{ "to": [12, 42] }}, {{ "to": [12, 58] }}, {{ "to": [0, 58] }}],
                     {{ "outline": {{ "circle": 9, "at": [84, 64] }}, "once": true }}],
        "marks": [{{ "cross": [50, 10] }}, {{ "line": [[0, 0], [0, 80]] }}] }} }} }}"#
    )
}

/// The boxes of the paths in a group of a plot, by `usvg`.
fn boxes(svg: &[u8], group: &str) -> Vec<Box4> {
    fn walk(parent: &usvg::Group, inside: bool, group: &str, found: &mut Vec<Rect>) {
        for node in parent.children() {
            match node {
                usvg::Node::Group(child) => walk(child, inside || child.id() == group, group, found),
                usvg::Node::Path(path) if inside => found.push(path.abs_bounding_box()),
                _ => {}
            }
        }
    }
    let tree = usvg::Tree::from_data(svg, &usvg::Options::default()).expect("an SVG");
    let mut found = Vec::new();
    walk(tree.root(), false, group, &mut found);
    let mm = 25.4 / 96.0;
    let up = |r: Rect| [r.left(), -r.bottom(), r.right(), -r.top()].map(|v| f64::from(v) * mm);
    found.into_iter().map(up).collect()
}

fn plot(shop: &Shop, show: &str) -> Vec<u8> {
    shop.file("panel.json", &panel(show));
    let done = shop.run(&["plot", "panel.json", "-o", "-"]);
    assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
    done.stdout
}

/// The boxes of what is cut or drilled, from the point of the mirror line on the lower edge; sorted.
fn cut(svg: &[u8], line: f64) -> Vec<Box4> {
    let edge = boxes(svg, "outline");
    let low = edge.iter().map(|b| b[1]).fold(f64::MAX, f64::min);
    let all = CUT.iter().flat_map(|group| boxes(svg, group));
    let mut all: Vec<Box4> = all.map(|b| [b[0] - line, b[1] - low, b[2] - line, b[3] - low]).collect();
    all.sort_by(|a, b| a.partial_cmp(b).expect("numbers"));
    all
}

/// Closed rings as strokes are: two that are cut by the mirror line and laid together have the box of one.
fn joined(mut all: Vec<Box4>) -> Vec<Box4> {
    let meets = |a: &Box4, b: &Box4| {
        let level = (a[1] - b[1]).abs() < 0.01 && (a[3] - b[3]).abs() < 0.01;
        level && a[2].abs() < 0.01 && b[0].abs() < 0.01
    };
    while let Some((i, j)) = (0..all.len())
        .flat_map(|i| (0..all.len()).map(move |j| (i, j)))
        .find(|(i, j)| i != j && meets(&all[*i], &all[*j]))
    {
        let (a, b) = (all[i], all[j]);
        all.retain(|one| *one != a && *one != b);
        all.push([a[0], a[1], b[2], b[3]]);
    }
    all.sort_by(|a, b| a.partial_cmp(b).expect("numbers"));
    all.dedup_by(|a, b| a.iter().zip(b.iter()).all(|(a, b)| (a - b).abs() < 0.01));
    all
}

fn are_alike(found: &[Box4], wanted: &[Box4]) {
    let near = |a: &Box4, b: &Box4| a.iter().zip(b).all(|(a, b)| (a - b).abs() < 0.02);
    let all_in = |a: &[Box4], b: &[Box4]| a.iter().all(|one| b.iter().any(|other| near(one, other)));
    assert!(found.len() == wanted.len() && all_in(found, wanted), "found {found:.2?}\nwanted {wanted:.2?}");
}

/// What the panel has when it is whole, by hand: boxes of rings and of the arms of crosses, which reach 3 mm past a hole.
fn by_hand() -> Vec<Box4> {
    let around = |x: f64, y: f64, r: f64| [x - r, y - r, x + r, y + r];
    let arms = |x: f64, y: f64, r: f64| [[x - r, y, x + r, y], [x, y - r, x, y + r]];
    let hole = |x: f64, y: f64, r: f64| [vec![around(x, y, r)], arms(x, y, r + 3.0).to_vec()].concat();
    let slot = |from: f64, to: f64| [from - 4.0, 56.0, to + 4.0, 70.0];
    let mut all =
        [hole(60.0, 40.0, 5.0), hole(-60.0, 40.0, 5.0), hole(0.0, 70.0, 3.0), hole(88.0, 12.0, 2.5)].concat();
    all.extend([slot(30.0, 44.0), slot(-44.0, -30.0), [20.0, 20.0, 34.0, 34.0], [-34.0, 20.0, -20.0, 34.0]]);
    all.extend([[-12.0, 42.0, 12.0, 58.0], around(84.0, 64.0, 4.5)]);
    all
}

#[test]
fn the_whole_part_has_both_halves_of_all_that_lies_on_it() {
    let shop = Shop::new();
    let svg = plot(&shop, r#""show": "whole""#);
    let edge = boxes(&svg, "outline");
    let middle = (edge[0][0] + edge[0][2]) / 2.0;
    are_alike(&cut(&svg, middle), &by_hand());
}

/// The template is laid as printed and turned over at the mirror line; what is made once is left out the second time.
#[test]
fn the_half_laid_twice_gives_every_hole_of_the_whole() {
    for show in [r#""show": "half""#, r#""show": "half", "for": "router""#] {
        let shop = Shop::new();
        let svg = plot(&shop, show);
        let edge = boxes(&svg, "outline");
        let right = edge.iter().map(|b| b[2]).fold(f64::MIN, f64::max);
        let first = cut(&svg, right - 100.0);
        let once = |b: &Box4| b[0] > 78.0;
        let turned = first.iter().filter(|b| !once(b)).map(|b| [-b[2], b[1], -b[0], b[3]]);
        let both: Vec<Box4> = first.iter().copied().chain(turned).collect();
        are_alike(&joined(both), &by_hand());
        // Nothing is drawn in the air beside the template.
        let left = edge.iter().map(|b| b[0]).fold(f64::MAX, f64::min) - (right - 100.0);
        assert!(first.iter().all(|b| b[0] >= left - 0.01 && b[2] <= 100.01), "{first:?}");
        assert_eq!(text(&svg).matches("one half only").count(), 0, "words are strokes");
        shop.file("shop.json", r#"{ "plotter": { "text": "plain" } }"#);
        let words = text(&shop.run(&["plot", "panel.json", "-o", "-", "--shop", "shop.json"]).stdout);
        assert_eq!(words.matches("one half only").count(), 2, "{words}");
    }
}

/// Curves of a PDF's page that close, by `lopdf`: the middles of the circles.
fn circles(pdf: &[u8], radius: f64) -> Vec<[f64; 2]> {
    let document = lopdf::Document::load_mem(pdf).expect("a PDF");
    let (mut found, mut ring): (Vec<[f64; 2]>, Vec<[f64; 2]>) = (Vec::new(), Vec::new());
    for page in document.get_pages().values() {
        let content = document.get_and_decode_page_content(*page).expect("content");
        for op in content.operations {
            let number = |o: &Object| f64::from(o.as_float().expect("a number")) * 25.4 / 72.0;
            match op.operator.as_str() {
                "m" => ring = vec![[number(&op.operands[0]), number(&op.operands[1])]],
                "l" | "c" => {
                    let n = op.operands.len();
                    ring.push([number(&op.operands[n - 2]), number(&op.operands[n - 1])]);
                }
                "S" | "s" => {
                    let side = |i: usize| {
                        let all = ring.iter().map(|p| p[i]);
                        (all.clone().fold(f64::MAX, f64::min), all.fold(f64::MIN, f64::max))
                    };
                    let (x, y) = (side(0), side(1));
                    let is = |side: (f64, f64)| (side.1 - side.0 - 2.0 * radius).abs() < 0.02;
                    if ring.len() > 4 && is(x) && is(y) {
                        found.push([(x.0 + x.1) / 2.0, (y.0 + y.1) / 2.0]);
                    }
                }
                _ => {}
            }
        }
    }
    found
}

#[test]
fn the_pdf_has_both_holes_as_far_apart_as_the_mirror_says() {
    let shop = Shop::new();
    shop.file("panel.json", &panel(r#""show": "whole""#));
    let done = shop.run(&["print", "panel.json", "--paper", "a3", "-o", "-"]);
    assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
    let found = circles(&done.stdout, 5.0);
    assert_eq!(found.len(), 2, "{found:?}");
    let off = [(found[0][0] - found[1][0]).abs(), (found[0][1] - found[1][1]).abs()];
    assert!((off[0] - 120.0).abs() < 0.01 && off[1] < 0.01, "{found:?}");
}

fn codes(shop: &Shop, file: &str) -> Vec<String> {
    let told = text(&shop.run(&["check", file, "--format", "json"]).stdout);
    let told: Value = serde_json::from_str(&told).expect("JSON");
    let code = |finding: &Value| finding["code"].as_str().expect("a code").to_owned();
    told["findings"].as_array().expect("a list").iter().map(code).collect()
}

#[test]
fn what_lies_across_the_mirror_line_is_refused() {
    let shop = Shop::new();
    let cases = [
        // Wholly on the other side, over the line by a little, and once but beyond a half template.
        (r#""holes": [{ "at": [-60, 40], "diameter": 10 }]"#, "half", Some("across-mirror-line")),
        (r#""holes": [{ "at": [-60, 40], "diameter": 10 }]"#, "whole", Some("across-mirror-line")),
        (r#""holes": [{ "at": [4, 40], "diameter": 10 }]"#, "whole", Some("across-mirror-line")),
        (r#""slots": [{ "from": [-2, 40], "to": [30, 40], "width": 6 }]"#, "whole", Some("across-mirror-line")),
        (r#""marks": [{ "line": [[-2, 40], [30, 40]] }]"#, "whole", Some("across-mirror-line")),
        (r#""marks": [{ "text": "up", "at": [-2, 40] }]"#, "whole", Some("across-mirror-line")),
        (r#""openings": [{ "circle": 20, "at": [4, 40] }]"#, "whole", Some("across-mirror-line")),
        (r#""holes": [{ "at": [-60, 40], "diameter": 10, "once": true }]"#, "half", Some("across-mirror-line")),
        // Beyond the part altogether.
        (r#""holes": [{ "at": [160, 40], "diameter": 10 }]"#, "whole", Some("outside-the-part")),
        (r#""holes": [{ "at": [160, 40], "diameter": 10, "once": true }]"#, "whole", Some("outside-the-part")),
        // What may lie so.
        (r#""holes": [{ "at": [-60, 40], "diameter": 10, "once": true }]"#, "whole", None),
        (r#""holes": [{ "at": [0, 40], "diameter": 10 }]"#, "half", None),
        (r#""slots": [{ "from": [-20, 40], "to": [20, 40], "width": 6 }]"#, "half", None),
        (r#""openings": [{ "circle": 20, "at": [0, 40] }]"#, "half", None),
    ];
    for (laid, show, wanted) in cases {
        let file = format!(
            r#"{{ "fullsize": 1, "title": "P", "units": "mm", "patterns": {{ "p": {{ "thickness": 12,
            "half": {{ "about": "y", "show": "{show}" }}, {laid},
            "outline": [{{ "to": [0, 0] }}, {{ "to": [100, 0] }}, {{ "to": [100, 80] }}, {{ "to": [0, 80] }}] }} }} }}"#
        );
        shop.file("p.json", &file);
        assert_eq!(codes(&shop, "p.json"), wanted.into_iter().collect::<Vec<_>>(), "{laid}, {show}");
    }
    let whole = fs::read_to_string(shop.path("p.json")).expect("the file");
    let whole = whole.replace(r#""half": { "about": "y", "show": "half" },"#, "");
    shop.file(
        "p.json",
        &whole.replace(
            r#""at": [0, 40] }]"#,
            r#""at": [50, 40] }], "holes": [{ "at": [20, 20], "diameter": 4, "once": true }]"#,
        ),
    );
    assert_eq!(codes(&shop, "p.json"), ["once-without-half"]);
}

/// Words are read on both halves: each stands where the other's mirror image does.
#[test]
fn words_are_mirrored_without_mirror_writing() {
    use fullsize::geometry::MirrorLine;
    use fullsize::model::{Mark, Mirrored};
    use fullsize::units::{Angle, Length};
    for degrees in [0.0, 30.0, 90.0, 170.0, 180.0, -60.0, 270.0] {
        for about in [MirrorLine::X, MirrorLine::Y] {
            let at = fullsize::geometry::Point::new(40.0, 30.0);
            let (height, angle) = (Length::from_mm(5.0), Angle::from_degrees(degrees));
            // Letters without parts below the line fill their own height, so that the image of their box is the box of their image.
            let mark = Mark::Text { at, words: "HHHH".to_owned(), height, angle };
            let (image, wanted) = (mark.mirrored(about).bounds(), about.map().transform_rect_bbox(mark.bounds()));
            let off = [image.x0 - wanted.x0, image.y0 - wanted.y0, image.x1 - wanted.x1, image.y1 - wanted.y1];
            assert!(off.iter().all(|mm| mm.abs() < 0.5), "{degrees} {about:?}: {image:?} is not {wanted:?}");
            let Mark::Text { angle: turned, .. } = mark.mirrored(about) else { panic!("words") };
            assert!((-90.1..=90.1).contains(&turned.degrees()), "{degrees}: {}", turned.degrees());
        }
    }
}

/// The words of a slot and of its mirror image are read from below or from the right, whichever way it is written.
#[test]
fn the_words_of_a_slot_stand_upright_on_both_halves() {
    use fullsize::page::Shape;
    for [from, to] in [[[30, 60], [44, 66]], [[44, 66], [30, 60]], [[50, 20], [50, 40]], [[50, 40], [50, 20]]] {
        let mut file: Value = serde_json::from_str(&panel("\"show\": \"whole\"")).expect("a file");
        let slot = &mut file["patterns"]["panel"]["slots"][0];
        (slot["from"], slot["to"], slot["label"]) = (from.into(), to.into(), "grip".into());
        let project = fullsize::project::read("p.json", file.to_string().as_bytes(), None, None).project;
        let project = project.expect("a good file");
        let items = fullsize::pattern::draw(
            &project.patterns[0],
            &routed(&project.patterns[0]).on_part,
            "",
            "x",
            &project.notation,
        )
        .items;
        let angles = items.iter().filter_map(|item| match &item.shape {
            Shape::Text(text) if text.content.starts_with("grip") => Some(text.angle.to_degrees()),
            _ => None,
        });
        let angles: Vec<f64> = angles.collect();
        assert_eq!(angles.len(), 2, "{from:?}");
        assert!(angles.iter().all(|angle| (-90.0..=90.0 + 1e-6).contains(angle)), "{from:?}: {angles:?}");
    }
}
