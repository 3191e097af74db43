//! What a line is can be seen by its width and its dashes, and read beside it.

use crate::common::prints::{Print, on};
use fullsize::geometry::{Path, Point};
use fullsize::layout::{Sheet, TiledPattern};
use fullsize::page::{Item, Pen, Role, Shape};
use std::collections::BTreeSet;

fn strokes(items: &[Item]) -> impl Iterator<Item = (Role, &Path, &Pen)> {
    items.iter().filter_map(|item| match &item.shape {
        Shape::Stroke { path, pen } => Some((item.role, path, pen)),
        _ => None,
    })
}

fn each_sheet(print: &Print, mut look: impl FnMut(usize, &TiledPattern, &Sheet, &[Item])) {
    for (index, plan) in print.sheets.manifest.patterns.iter().enumerate() {
        let plan = plan.as_ref().expect("sheets");
        plan.sheets.iter().for_each(|sheet| look(index, plan, sheet, &print.document.pages[sheet.page].items));
    }
}

/// ISO 128-2: line widths are those of its series, and a wide line is twice as wide as a narrow one.
#[test]
fn what_is_cut_to_is_twice_as_wide_as_anything_else() {
    for print in on("a4") {
        let name = &print.name;
        each_sheet(print, |_, _, sheet, items| {
            for (role, path, pen) in strokes(items) {
                let widths: &[f64] = match role {
                    Role::Outline | Role::Opening => &[0.5],
                    // A hole with the cross in its middle.
                    Role::Drill => &[0.5, 0.18],
                    _ => &[0.25, 0.18],
                };
                assert!(widths.contains(&pen.width), "{name}, {}: {role:?} {} {path:?}", sheet.code(), pen.width);
            }
        });
    }
}

/// Whether closed rings enclose a point by the even-odd rule, as polygons of short sides.
fn enclosed(rings: &[Vec<Point>], at: Point) -> bool {
    let crossed = rings
        .iter()
        .flat_map(|ring| ring.iter().zip(ring.iter().cycle().skip(1)))
        .filter(|(a, b)| (a.y > at.y) != (b.y > at.y) && a.x + (b.x - a.x) * (at.y - a.y) / (b.y - a.y) > at.x);
    crossed.count() % 2 == 1
}

fn polygon(path: &Path) -> Vec<Point> {
    let along = |k: usize| f64::from(k as u32) / 24.0;
    path.segments().iter().flat_map(|segment| (0..24).map(move |k| segment.eval(along(k)))).collect()
}

#[test]
fn trim_lines_keep_off_the_part() {
    // From the ends of a seam, and from the edge, mm.
    const STROKE: f64 = 8.1;
    const NEAR: f64 = 1.5;
    let mut wrong = BTreeSet::new();
    let mut looked = 0;
    for print in on("a4") {
        let Print { name, sheets, .. } = print;
        let rings: Vec<Vec<Vec<Point>>> = sheets
            .patterns
            .iter()
            .map(|pattern| {
                let edges = strokes(&pattern.items)
                    .filter(|(role, path, _)| matches!(role, Role::Outline | Role::Opening) && path.is_closed());
                edges.map(|(_, path, _)| polygon(path)).collect()
            })
            .collect();
        each_sheet(print, |index, plan, sheet, items| {
            let back = sheet.to_page.inverse();
            let ends: Vec<Point> = plan.seams.iter().flat_map(|seam| [seam.from, seam.to]).collect();
            for (_, path, _) in strokes(items).filter(|(role, ..)| *role == Role::Trim) {
                let (from, to) = (back * path.start().unwrap(), back * path.end().unwrap());
                for k in 0..=10 {
                    let at = from.lerp(to, f64::from(k) / 10.0);
                    looked += 1;
                    let by_end = ends.iter().any(|end| end.distance(at) < STROKE);
                    let around = [(0.0, 0.0), (NEAR, 0.0), (-NEAR, 0.0), (0.0, NEAR), (0.0, -NEAR)];
                    let well_inside =
                        around.iter().all(|off| enclosed(&rings[index], at + fullsize::geometry::Vec2::from(*off)));
                    if !by_end && well_inside {
                        wrong.insert(format!("{name}, {}", sheet.code()));
                    }
                }
            }
        });
    }
    assert!(looked > 3_000, "{looked}");
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn a_datum_line_is_named_on_every_sheet_and_has_dashes_of_its_own() {
    let (mut unnamed, mut all) = (Vec::new(), 0);
    for paper in ["letter"] {
        for print in on(paper) {
            let Print { name, sheets, .. } = print;
            let others: BTreeSet<String> = sheets
                .patterns
                .iter()
                .flat_map(|pattern| strokes(&pattern.items))
                .map(|(_, _, pen)| format!("{:?}", pen.dash))
                .collect();
            each_sheet(print, |_, _, sheet, items| {
                let lines = || strokes(items).filter(|(role, ..)| *role == Role::Datum);
                assert!(lines().all(|(_, _, pen)| !others.contains(&format!("{:?}", pen.dash))), "{name}");
                let ways = lines().map(|(_, path, _)| {
                    let size = path.bounding_box().unwrap().size();
                    size.height > size.width
                });
                for up in ways.collect::<BTreeSet<bool>>() {
                    all += 1;
                    let said = items.iter().any(|item| match &item.shape {
                        Shape::Text(text) => item.role == Role::Datum && (text.angle != 0.0) == up,
                        _ => false,
                    });
                    if !said {
                        unnamed.push(format!(
                            "{name} on {paper}, {}: {}",
                            sheet.code(),
                            if up { "up" } else { "across" }
                        ));
                    }
                }
            });
        }
    }
    assert!(all > 300, "{all}");
    assert!(unnamed.is_empty(), "{} of {all}: {unnamed:#?}", unnamed.len());
}
