//! Every corner of every pattern stands where it belongs in the finished PDF and SVG, as other readers see them.

use crate::common::routing::routed;
use fullsize::geometry::{Path, Point};
use fullsize::layout::{Manifest, Setup, plot, proof, tile};
use fullsize::model::Project;
use fullsize::page::{Role, Shape};
use fullsize::pattern::{Pattern, draw};
use fullsize::project::read;
use fullsize::write::{PdfOptions, PlotText, SvgStyle, pdf, svg};
use lopdf::Object;

/// How near a corner must be, mm.
const CLOSE: f64 = 0.005;

const MM_PER_POINT: f64 = 25.4 / 72.0;

fn project(text: &str, paper: &str) -> Project {
    let shop = format!("{{ \"paper\": \"{paper}\" }}");
    let reading = read("file.json", text.as_bytes(), Some(("shop.json", shop.as_bytes())), None);
    reading.project.unwrap_or_else(|| panic!("{:?}", reading.findings))
}

fn patterns(project: &Project) -> Vec<Pattern> {
    project.patterns.iter().map(|p| draw(p, &routed(p).on_part, "", &project.title, &project.notation)).collect()
}

fn tiled(project: &Project, patterns: &[Pattern]) -> (lopdf::Document, Manifest) {
    let setup =
        Setup { shop: &project.shop, notation: project.notation.clone(), title: &project.title, readings_from: None };
    let (document, manifest) = tile(patterns, &setup);
    let bytes = pdf(&document, &PdfOptions::default()).expect("a PDF");
    (lopdf::Document::load_mem(&bytes).expect("readable"), manifest)
}

/// Where the path operators of a page arrive, mm from its lower left corner.
fn arrivals(pdf: &lopdf::Document, page: usize) -> Vec<Point> {
    let id = pdf.get_pages()[&(page as u32 + 1)];
    let content = pdf.get_and_decode_page_content(id).expect("content");
    let number = |o: &Object| f64::from(o.as_float().expect("a number")) * MM_PER_POINT;
    let drawn = content.operations.iter().filter(|op| ["m", "l", "c"].contains(&op.operator.as_str()));
    drawn.map(|op| &op.operands).map(|o| Point::new(number(&o[o.len() - 2]), number(&o[o.len() - 1]))).collect()
}

fn nodes(pattern: &Pattern) -> Vec<Point> {
    let cut = pattern.items.iter().filter(|i| matches!(i.role, Role::Outline | Role::Opening));
    cut.filter_map(|item| match &item.shape {
        Shape::Stroke { path, .. } => Some(path.nodes()),
        _ => None,
    })
    .flatten()
    .collect()
}

/// The demo and a board of three metres.
fn texts() -> [&'static str; 2] {
    let long = r#"{ "fullsize": 1, "title": "Long", "units": "mm", "patterns": { "board": { "thickness": 20,
        "outline": [ { "to": [0, 0] }, { "to": [3000, 0], "edge": { "rise": -45 } }, { "to": [3000, 140] },
        { "to": [2207.3, 151.9] }, { "to": [0, 150], "edge": { "batten": [[1400, 160], [700, 155]] } } ] } } }"#;
    [include_str!("../templates-demo/hall_bench.json"), long]
}

#[test]
fn every_node_stands_in_the_sheets_where_the_pattern_has_it() {
    for (text, paper) in texts().into_iter().flat_map(|text| ["a4", "tabloid"].map(|paper| (text, paper))) {
        let project = project(text, paper);
        let patterns = patterns(&project);
        let (pdf, manifest) = tiled(&project, &patterns);
        for (pattern, plan) in patterns.iter().zip(&manifest.patterns) {
            let plan = plan.as_ref().expect("sheets");
            let pages: Vec<Vec<Point>> = plan.sheets.iter().map(|s| arrivals(&pdf, s.page)).collect();
            for node in nodes(pattern) {
                let mut shown = 0;
                for (sheet, arrivals) in plan.sheets.iter().zip(&pages) {
                    let at = sheet.to_page * node;
                    if sheet.clip.contains(at) {
                        let near = arrivals.iter().map(|p| p.distance(at)).fold(f64::MAX, f64::min);
                        assert!(near < CLOSE, "{} {node:?}: {near} mm off on {}", pattern.part.name, sheet.code());
                        shown += 1;
                    }
                }
                assert!(shown > 0, "{} {node:?} stands on no sheet", pattern.part.name);
            }
        }
    }
}

#[test]
fn crosses_of_neighbours_stand_on_the_same_point_and_the_taped_sheets_hold_the_whole() {
    for text in texts() {
        let project = project(text, "a4");
        let patterns = patterns(&project);
        let (pdf, manifest) = tiled(&project, &patterns);
        for (pattern, plan) in patterns.iter().zip(&manifest.patterns) {
            let plan = plan.as_ref().expect("sheets");
            let sheet = |at: (usize, usize)| plan.sheets.iter().find(|s| (s.row, s.column) == at).expect("a sheet");
            for seam in &plan.seams {
                assert!(seam.crosses.len() >= 2);
                for cross in &seam.crosses {
                    // The arms cross in the middle: both ends of both arms are read back on both sheets.
                    for at in [seam.under, seam.over] {
                        let sheet = sheet(at);
                        let (found, middle) = (arrivals(&pdf, sheet.page), sheet.to_page * cross.at);
                        let reach = 6.0;
                        for arm in [(reach, 0.0), (-reach, 0.0), (0.0, reach), (0.0, -reach)] {
                            let end = Point::new(middle.x + arm.0, middle.y + arm.1);
                            assert!(
                                found.iter().any(|p| p.distance(end) < CLOSE),
                                "{} on {}",
                                cross.name,
                                sheet.code()
                            );
                        }
                    }
                }
            }
            // Every point of every edge lies in what some sheet keeps after trimming.
            for item in pattern.items.iter() {
                let Shape::Stroke { path, .. } = &item.shape else { continue };
                for segment in path.segments() {
                    for k in 0..=20 {
                        let p = segment.eval(f64::from(k) / 20.0);
                        let kept = plan
                            .sheets
                            .iter()
                            .any(|s| plan.grid.cell(s.row, s.column).inflate(1e-9, 1e-9).contains(p));
                        assert!(kept, "{}: {p:?} is on no sheet", pattern.part.name);
                    }
                }
            }
        }
    }
}

/// The corners of every path as `usvg` sees them, mm, y up.
fn seen_by_usvg(group: &usvg::Group, height: f64, found: &mut Vec<Point>) {
    use usvg::tiny_skia_path::PathSegment;
    for node in group.children() {
        match node {
            usvg::Node::Group(group) => seen_by_usvg(group, height, found),
            usvg::Node::Path(path) => {
                let data = path.data().clone().transform(path.abs_transform()).expect("a map");
                found.extend(data.segments().filter_map(|segment| match segment {
                    PathSegment::MoveTo(p) | PathSegment::LineTo(p) | PathSegment::CubicTo(_, _, p) => {
                        // usvg works in pixels, 96 an inch.
                        Some(Point::new(f64::from(p.x) / 96.0 * 25.4, height - f64::from(p.y) / 96.0 * 25.4))
                    }
                    _ => None,
                }));
            }
            _ => {}
        }
    }
}

#[test]
fn every_node_stands_in_the_plot_and_no_pattern_lies_over_another() {
    for text in texts() {
        let project = project(text, "a4");
        let patterns = patterns(&project);
        let (document, _) = plot(&patterns, None, &project.title);
        let page = &document.pages[0];
        let written = svg(&document, page, SvgStyle::Plot(PlotText::None)).expect("an SVG");
        let tree = usvg::Tree::from_str(&written, &usvg::Options::default()).expect("readable");
        let mut found = Vec::new();
        seen_by_usvg(tree.root(), page.height, &mut found);
        for (index, pattern) in patterns.iter().enumerate() {
            // Where the pattern was put is read off its first placed line; all others must agree with it.
            let placed: Vec<&Path> = page
                .items
                .iter()
                .filter(|i| i.part == Some(index) && matches!(i.role, Role::Outline | Role::Opening))
                .filter_map(|i| match &i.shape {
                    Shape::Stroke { path, .. } => Some(path),
                    _ => None,
                })
                .collect();
            let moved = placed[0].nodes()[0] - nodes(pattern)[0];
            for node in nodes(pattern) {
                let near = found.iter().map(|p| p.distance(node + moved)).fold(f64::MAX, f64::min);
                assert!(near < CLOSE, "{} {node:?}: {near} mm off", pattern.part.name);
            }
        }
        let boxes: Vec<_> = (0..patterns.len())
            .map(|index| {
                let own = page.items.iter().filter(|i| i.part == Some(index));
                let boxes = own.filter_map(|i| match &i.shape {
                    Shape::Stroke { path, .. } => path.bounding_box(),
                    _ => None,
                });
                boxes.reduce(|a, b| a.union(b)).expect("lines")
            })
            .collect();
        for (i, a) in boxes.iter().enumerate() {
            assert!(boxes.iter().skip(i + 1).all(|b| !a.overlaps(*b)));
        }
    }
}

#[test]
fn every_paper_gives_pages_of_its_own_size() {
    // ISO 216 and ANSI/ASME Y14.1 with the architectural series: the records 5.iso216.A, 5.iso216.B, 5.y14.1, 5.arch.
    let records: serde_json::Value =
        serde_json::from_str(include_str!("../fixtures/references.json")).expect("the records");
    let values = |id: &str| {
        let all = records.as_array().expect("a list");
        all.iter().find(|r| r["id"] == id).expect(id)["values"].as_object().expect("sizes").clone()
    };
    let mut papers: Vec<(String, f64, f64)> = Vec::new();
    let mut add = |name: String, size: &serde_json::Value, unit: f64| {
        let side = |i: usize| size[i].as_f64().expect("a number") * unit;
        papers.push((name, side(0), side(1)));
    };
    for id in ["5.iso216.A", "5.iso216.B"] {
        values(id).iter().for_each(|(name, size)| add(name.to_lowercase(), size, 1.0));
    }
    for (name, size) in &values("5.y14.1") {
        let known = match name.as_str() {
            "A letter" => "letter".to_owned(),
            "B tabloid/ledger" => "tabloid".to_owned(),
            "F" => continue,
            other => format!("ansi {}", other.to_lowercase()),
        };
        add(known, size, 25.4);
    }
    values("5.arch").iter().for_each(|(name, size)| add(format!("arch {}", name.to_lowercase()), size, 25.4));
    assert!(papers.len() >= 22, "{papers:?}");
    for (name, width, height) in papers {
        let project = project(include_str!("../templates-demo/hall_bench.json"), &name);
        let (pdf, _) = tiled(&project, &patterns(&project));
        for id in pdf.get_pages().values() {
            let media = pdf.get_dictionary(*id).and_then(|page| page.get(b"MediaBox")).and_then(Object::as_array);
            let side =
                |i: usize| f64::from(media.as_ref().expect("a box")[i].as_float().expect("a number")) * MM_PER_POINT;
            let (short, long) = (side(2).min(side(3)), side(2).max(side(3)));
            assert!((short - width).abs() < 0.01 && (long - height).abs() < 0.01, "{name}: {short} x {long}");
        }
        let (shop, notation) = (&project.shop, project.notation.clone());
        let sheet = proof(&Setup { shop, notation, title: "", readings_from: None });
        assert!(
            (sheet.pages[0].width - width).abs() < 0.01 && (sheet.pages[0].height - height).abs() < 0.01,
            "{name}"
        );
    }
}

#[test]
fn a_roll_is_one_page_as_long_as_the_pattern_until_the_longest_page() {
    let text = |length: u32| {
        format!(
            r#"{{ "fullsize": 1, "title": "Roll", "units": "mm", "patterns": {{ "board": {{ "thickness": 20,
            "outline": [ {{ "to": [0, 0] }}, {{ "to": [{length}, 0] }}, {{ "to": [{length}, 300] }}, {{ "to": [0, 300] }} ] }} }} }}"#
        )
    };
    for (length, sheets) in [(2400, 1), (4900, 1), (5600, 2)] {
        let project = project(&text(length), "roll:610mm");
        let (pdf, manifest) = tiled(&project, &patterns(&project));
        let plan = manifest.patterns[0].as_ref().expect("sheets");
        assert_eq!(plan.sheets.len(), sheets, "{length}");
        assert!((plan.page_size.1 - 610.0).abs() < 1e-9 && plan.page_size.0 <= 5080.0, "{:?}", plan.page_size);
        assert!(plan.page_size.0 >= f64::from(length).min(5079.0), "{:?}", plan.page_size);
        assert_eq!(pdf.get_pages().len(), sheets + manifest.map_pages);
    }
}

#[test]
fn the_printers_error_is_taken_out_of_everything_on_the_sheet() {
    // A printer whose 100 mm bars come out at 99 mm across and 101 mm up: what is drawn must be 100/99 and 100/101 of true.
    let text = include_str!("../templates-demo/hall_bench.json");
    let shop = r#"{ "paper": "a4", "printer": { "bar_across": "99 mm", "bar_up": "101 mm" } }"#;
    let project =
        read("bench.json", text.as_bytes(), Some(("shop.json", shop.as_bytes())), None).project.expect("good");
    let (_, manifest) = tiled(&project, &patterns(&project));
    let mut ways = std::collections::BTreeSet::new();
    for sheet in manifest.patterns.iter().flatten().flat_map(|plan| &plan.sheets) {
        let [a, b, c, d, ..] = sheet.to_page.as_coeffs();
        // A landscape page goes through the printer turned: what lies along x there stands up on an upright page.
        let landscape = sheet.clip.width() > sheet.clip.height();
        let (x, y) = if landscape { (101.0, 99.0) } else { (99.0, 101.0) };
        assert!((a - 100.0 / x).abs() < 1e-12 && (d - 100.0 / y).abs() < 1e-12 && b == 0.0 && c == 0.0);
        ways.insert(landscape);
    }
    assert_eq!(ways.len(), 2, "the demo has sheets both ways up");
}

#[test]
fn a_reading_in_inches_is_of_the_bar_of_four_inches() {
    let text = include_str!("../templates-demo/hall_bench.json");
    let across = |shop: &str| {
        let reading = read("bench.json", text.as_bytes(), Some(("shop.json", shop.as_bytes())), None);
        reading.project.expect("good").shop.printer.across.0
    };
    // 3 31/32 in of a true 4 in: everything must be drawn 4 / 3.96875 larger.
    let inches = across(r#"{ "printer": { "bar_across": "3 31/32 in" } }"#);
    assert!((inches - 4.0 / 3.96875).abs() < 1e-12, "{inches}");
    let metric = across(r#"{ "printer": { "bar_across": "100.8 mm" } }"#);
    assert!((metric - 100.0 / 100.8).abs() < 1e-12, "{metric}");
}
