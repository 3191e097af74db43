//! The SVG's groups and places, read by `roxmltree`, `usvg`, `svg` and `kurbo`.

use super::hostile::{CLOSE, HOSTILE, LONG_CORNERS, hostile, long_path};
use crate::common::sample::{document, page, stroke, words};
use fullsize::geometry::{Affine, Arc, Path, Point, Segment, Vec2};
use fullsize::page::{Document, Item, Pen, Role, Shape, Text};
use fullsize::write::{PlotText, SvgStyle, WriteError, svg};
use kurbo::SvgArc;
use std::collections::BTreeSet;
use std::f64::consts::{FRAC_PI_2, PI, TAU};
use svg::node::element::path::{Command, Data, Position};
use usvg::roxmltree;
use usvg::tiny_skia_path::PathSegment;

const PLOT: SvgStyle = SvgStyle::Plot(PlotText::Strokes);

fn written(document: &Document, style: SvgStyle) -> String {
    svg(document, &document.pages[0], style).expect("a page that can be written")
}

fn one(item: Item) -> Document {
    document(vec![page("bed", 3200.0, 400.0, vec![item])])
}

/// Corners of every path as `usvg` sees them, mm from the sheet's lower left corner.
fn corners(text: &str, height: f64) -> Vec<(f64, f64)> {
    let tree = usvg::Tree::from_str(text, &usvg::Options::default()).expect("readable");
    let mut found = Vec::new();
    collect(tree.root(), &mut found);
    // usvg works in pixels, 96 an inch.
    found.iter().map(|&(x, y)| (x / 96.0 * 25.4, height - y / 96.0 * 25.4)).collect()
}

fn collect(group: &usvg::Group, found: &mut Vec<(f64, f64)>) {
    for node in group.children() {
        match node {
            usvg::Node::Group(group) => collect(group, found),
            usvg::Node::Path(path) => {
                let data = path.data().clone().transform(path.abs_transform()).expect("a map");
                found.extend(data.segments().filter_map(|segment| match segment {
                    PathSegment::MoveTo(p) | PathSegment::LineTo(p) | PathSegment::CubicTo(_, _, p) => {
                        Some((f64::from(p.x), f64::from(p.y)))
                    }
                    _ => None,
                }));
            }
            _ => {}
        }
    }
}

#[test]
fn the_sheet_is_measured_in_millimetres() {
    let text = written(&one(stroke(Role::Outline, long_path(), Pen::solid(0.5))), PLOT);
    let xml = roxmltree::Document::parse(&text).expect("XML");
    let root = xml.root_element();
    assert_eq!(root.attribute("width"), Some("3200mm"));
    assert_eq!(root.attribute("height"), Some("400mm"));
    assert_eq!(root.attribute("viewBox"), Some("0 0 3200 400"));
}

#[test]
fn corners_of_a_three_metre_pattern_are_where_they_belong() {
    let text = written(&one(stroke(Role::Outline, long_path(), Pen::solid(0.5))), PLOT);
    let found = corners(&text, 400.0);
    assert_eq!(found.len(), LONG_CORNERS.len());
    for (found, expected) in found.iter().zip(LONG_CORNERS) {
        assert!((found.0 - expected.0).hypot(found.1 - expected.1) < CLOSE, "{found:?} is not {expected:?}");
    }
}

/// Points at even shares of the one arc that a file holds, mm from the sheet's lower left corner, by the `svg` crate's
/// reader of path data and `kurbo`'s reader of arcs.
fn points_of_arc(text: &str, height: f64, shares: &[f64]) -> Vec<Point> {
    let xml = roxmltree::Document::parse(text).expect("XML");
    let path = xml.descendants().find(|node| node.has_tag_name("path")).expect("a path");
    let data = Data::parse(path.attribute("d").expect("data")).expect("readable data");
    let mut at = Point::ORIGIN;
    let mut arcs = Vec::new();
    for command in data.iter() {
        match command {
            Command::Move(Position::Absolute, to) => at = Point::new(f64::from(to[0]), f64::from(to[1])),
            Command::EllipticalArc(Position::Absolute, numbers) => {
                let numbers: Vec<f64> = numbers.iter().map(|number| f64::from(*number)).collect();
                let &[rx, ry, rotation, large, sweep, x, y] = numbers.as_slice() else { panic!("seven numbers") };
                let to = Point::new(x, y);
                let (radii, x_rotation) = (Vec2::new(rx, ry), rotation.to_radians());
                let (large_arc, sweep) = (large != 0.0, sweep != 0.0);
                let arc = SvgArc { from: at, to, radii, x_rotation, large_arc, sweep };
                arcs.push(kurbo::Arc::from_svg_arc(&arc).expect("an arc"));
                at = to;
            }
            _ => {}
        }
    }
    let at_share = |share: f64| {
        let along = share * arcs.len() as f64;
        let index = (along as usize).min(arcs.len() - 1);
        let (arc, angle) = (&arcs[index], along - index as f64);
        let angle = arc.start_angle + arc.sweep_angle * angle;
        let level = Vec2::new(arc.radii.x * angle.cos(), arc.radii.y * angle.sin());
        let on = Affine::translate(arc.center.to_vec2()) * Affine::rotate(arc.x_rotation) * level.to_point();
        Point::new(on.x, height - on.y)
    };
    shares.iter().map(|share| at_share(*share)).collect()
}

fn assert_arc(arc: Arc) {
    let item = stroke(Role::Outline, Path::open(vec![Segment::Arc(arc)]), Pen::solid(0.5));
    let text = written(&one(item), PLOT);
    let shares = [0.0, 0.1, 0.25, 0.5, 0.7, 0.9, 1.0];
    for (share, found) in shares.iter().zip(points_of_arc(&text, 400.0, &shares)) {
        let angle = arc.start + share * arc.sweep;
        let expected = arc.center + arc.p * angle.cos() + arc.q * angle.sin();
        let apart = found.distance(expected);
        assert!(apart < CLOSE, "at {share} of {arc:?}: {found:?} lies {apart} mm from {expected:?}");
    }
}

#[test]
fn arcs_of_every_quadrant_direction_and_length_keep_their_shape() {
    let sweeps = [0.02, 0.7, FRAC_PI_2, 3.1, PI - 1e-6, PI, PI + 0.001, 3.5, 4.9, 6.2, TAU - 1e-4, TAU];
    for quarter in 0..8 {
        let start = f64::from(quarter) * PI / 4.0 + 0.1;
        for sweep in sweeps.into_iter().flat_map(|sweep| [sweep, -sweep]) {
            for radius in [0.75, 12.7, 487.321, 2900.0] {
                assert_arc(Arc::circular(Point::new(100.123, 77.7), radius, start, sweep));
            }
        }
    }
}

#[test]
fn ellipses_turned_mirrored_and_sheared_keep_their_shape() {
    let plain = Arc {
        center: Point::new(20.0, 10.0),
        p: Vec2::new(300.0, 0.0),
        q: Vec2::new(0.0, 110.0),
        start: 0.0,
        sweep: 0.0,
    };
    let maps = [
        Affine::rotate(0.4),
        Affine::rotate(2.9),
        Affine::FLIP_X,
        Affine::FLIP_Y * Affine::rotate(1.1),
        Affine::new([1.0, 0.3, -0.8, 1.2, 5.0, 7.0]),
    ];
    for map in maps {
        for sweep in [0.5, 1.6, PI, 4.0, TAU, -0.5, -PI, -4.0, -TAU] {
            for start in [0.0, 1.0, 2.5, 4.4] {
                let Segment::Arc(arc) = Segment::Arc(Arc { start, sweep, ..plain }).transformed(map) else {
                    panic!("an arc stays an arc")
                };
                assert_arc(arc);
            }
        }
    }
}

#[test]
fn a_circle_is_one_closed_path_of_arcs() {
    let circle = Path::circle(Point::new(60.0, 60.0), 20.0);
    let text = written(&one(stroke(Role::Drill, circle, Pen::solid(0.35))), PLOT);
    let quarters = "M80,340A20,20 0 0,0 60,320A20,20 0 0,0 40,340A20,20 0 0,0 60,360A20,20 0 0,0 80,340Z";
    assert!(text.contains(&format!("d=\"{quarters}\"")), "{text}");
}

#[test]
fn a_role_holds_patterns_and_hostile_names_do_no_harm() {
    for style in [PlotText::Strokes, PlotText::Outlines, PlotText::Plain, PlotText::None].map(SvgStyle::Plot) {
        let text = written(&hostile(), style);
        let xml = roxmltree::Document::parse(&text).expect("XML");
        let ids: Vec<&str> = xml.descendants().filter_map(|node| node.attribute("id")).collect();
        assert_eq!(ids.iter().collect::<BTreeSet<_>>().len(), ids.len(), "{ids:?}");
        let outline = xml.descendants().find(|node| node.attribute("id") == Some("outline")).expect("outlines");
        assert_eq!(outline.parent(), Some(xml.root_element()));
        let names: Vec<&str> = outline.children().filter_map(|node| node.attribute("data-name")).collect();
        assert_eq!(names, HOSTILE.map(|(_, shown)| shown));
        for node in outline.children().filter(|node| node.is_element()) {
            let id = node.attribute("id").expect("id");
            assert!(id.starts_with("pattern-") && id.ends_with("-outline"), "{id}");
            assert!(id.chars().all(|c| c.is_ascii_alphanumeric() || c == '-'), "{id}");
            assert_eq!(node.attribute("data-revision"), node.attribute("data-name"));
        }
        if style == SvgStyle::Plot(PlotText::Plain) {
            let words: Vec<&str> =
                xml.descendants().filter(|n| n.has_tag_name("text")).filter_map(|n| n.text()).collect();
            assert_eq!(words, HOSTILE.map(|(_, shown)| shown));
        }
    }
}

#[test]
fn a_plot_holds_only_lines_and_words_as_asked() {
    let area = Shape::Fill { rings: vec![Path::circle(Point::new(60.0, 60.0), 5.0)], grey: 0.0 };
    let area = Item { shape: area, ..stroke(Role::Mark, long_path(), Pen::solid(0.1)) };
    let text = words(Role::Text, Text::new(Point::new(20.0, 20.0), 5.0, "leg"));
    let document = document(vec![page("bed", 3200.0, 400.0, vec![area, text])]);
    for style in [PlotText::Strokes, PlotText::Outlines, PlotText::Plain, PlotText::None] {
        let text = written(&document, SvgStyle::Plot(style));
        let xml = roxmltree::Document::parse(&text).expect("XML");
        assert_eq!(xml.root_element().attribute("fill"), Some("none"));
        let filled = xml.descendants().filter(|node| node.has_tag_name("path") && node.has_attribute("fill")).count();
        assert_eq!(filled, 0);
        assert_eq!(xml.descendants().any(|node| node.has_tag_name("text")), style == PlotText::Plain);
        let group = xml.descendants().any(|node| node.attribute("id") == Some("text"));
        assert_eq!(group, style != PlotText::None);
    }
}

#[test]
fn what_is_no_number_is_refused_and_the_same_page_gives_the_same_bytes() {
    let circle = Path::circle(Point::new(10.0, f64::INFINITY), 5.0);
    let broken = one(stroke(Role::Drill, circle, Pen::solid(0.35)));
    let refused = svg(&broken, &broken.pages[0], PLOT).expect_err("refused");
    assert_eq!(refused, WriteError::NotANumber { page: "bed".to_owned(), what: "drill" });
    assert_eq!(written(&hostile(), PLOT), written(&hostile(), PLOT));
}
