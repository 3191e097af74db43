//! The PDF's structure and places, read by `lopdf`.

use super::hostile::{CLOSE, HOSTILE, LONG_CORNERS, hostile, long_path};
use crate::common::sample::{document, page, stroke, words};
use fullsize::geometry::{Path, Point};
use fullsize::page::{Document, Page, Pen, Role, Text};
use fullsize::write::{PdfOptions, WriteError, pdf};
use lopdf::content::Operation;
use lopdf::{Dictionary, Object};

fn read(document: &Document) -> lopdf::Document {
    let bytes = pdf(document, &PdfOptions::default()).expect("a document that can be written");
    lopdf::Document::load_mem(&bytes).expect("a document that can be read")
}

fn operations(read: &lopdf::Document, page: u32) -> Vec<Operation> {
    let id = read.get_pages()[&page];
    read.get_and_decode_page_content(id).expect("content").operations
}

/// Where the path operators arrive, mm.
fn corners(operations: &[Operation]) -> Vec<(f64, f64)> {
    let mm = |object: &Object| f64::from(object.as_float().expect("a number")) / 72.0 * 25.4;
    let drawn = operations.iter().filter(|operation| ["m", "l", "c"].contains(&operation.operator.as_str()));
    drawn
        .map(|operation| (operation.operands.len(), &operation.operands))
        .map(|(n, o)| (mm(&o[n - 2]), mm(&o[n - 1])))
        .collect()
}

fn assert_close(found: &[(f64, f64)], expected: &[(f64, f64)]) {
    assert_eq!(found.len(), expected.len(), "{found:?}");
    for (found, expected) in found.iter().zip(expected) {
        let apart = (found.0 - expected.0).hypot(found.1 - expected.1);
        assert!(apart < CLOSE, "{found:?} lies {apart} mm from {expected:?}");
    }
}

#[test]
fn corners_of_a_three_metre_pattern_are_where_they_belong() {
    let items = vec![stroke(Role::Outline, long_path(), Pen::solid(0.5))];
    let read = read(&document(vec![page("bed", 3200.0, 400.0, items)]));
    assert_close(&corners(&operations(&read, 1)), &LONG_CORNERS);
}

#[test]
fn a_circle_is_closed_and_round() {
    let circle = Path::circle(Point::new(100.0, 80.0), 30.0);
    let read = read(&document(vec![page("A1", 210.0, 297.0, vec![stroke(Role::Drill, circle, Pen::solid(0.35))])]));
    let operations = operations(&read, 1);
    let found = corners(&operations);
    for at in &found {
        assert!(((at.0 - 100.0).hypot(at.1 - 80.0) - 30.0).abs() < CLOSE, "{at:?}");
    }
    for end in [(130.0, 80.0), (70.0, 80.0)] {
        assert!(found.iter().any(|at| (at.0 - end.0).hypot(at.1 - end.1) < CLOSE), "{end:?} in {found:?}");
    }
    assert_eq!(found.first(), found.last());
    assert_eq!(operations.iter().filter(|operation| operation.operator == "h").count(), 1);
}

#[test]
fn pen_settings_are_written_in_points_with_their_phase() {
    let pen = Pen { width: 0.35, dash: vec![6.0, 1.5], phase: 3.0, grey: 0.25 };
    let line = Path::line(Point::new(10.0, 10.0), Point::new(90.0, 10.0));
    let read = read(&document(vec![page("A1", 210.0, 297.0, vec![stroke(Role::Mark, line, pen)])]));
    let operations = operations(&read, 1);
    let operands = |name: &str| &operations.iter().find(|o| o.operator == name).expect(name).operands;
    let number = |object: &Object| f64::from(object.as_float().expect("a number"));
    assert!((number(&operands("w")[0]) - 0.35 * 72.0 / 25.4).abs() < 1e-3);
    assert!((number(&operands("G")[0]) - 0.25).abs() < 1e-6);
    let dash: Vec<f64> = operands("d")[0].as_array().expect("dashes").iter().map(number).collect();
    assert!((dash[0] - 6.0 * 72.0 / 25.4).abs() < 1e-3 && (dash[1] - 1.5 * 72.0 / 25.4).abs() < 1e-3);
    assert!((number(&operands("d")[1]) - 3.0 * 72.0 / 25.4).abs() < 1e-3);
    // Butt ends and mitred corners are what a page starts with.
    assert!(!operations.iter().any(|operation| ["J", "j"].contains(&operation.operator.as_str())));
}

#[test]
fn pages_say_how_they_are_to_be_printed() {
    let read = read(&document(vec![page("A1", 210.0, 297.0, Vec::new()), page("A2", 420.0, 297.0, Vec::new())]));
    assert_eq!(read.version, "1.7");
    let catalog = read.catalog().expect("catalog");
    let preferences = catalog.get(b"ViewerPreferences").and_then(Object::as_dict).expect("preferences");
    assert_eq!(preferences.get(b"PrintScaling").and_then(Object::as_name).expect("scaling"), b"None");
    assert_eq!(preferences.get(b"Duplex").and_then(Object::as_name).expect("duplex"), b"Simplex");
    assert!(preferences.get(b"PickTrayByPDFSize").and_then(Object::as_bool).expect("tray"));
    assert_eq!(catalog.get(b"PageMode").and_then(Object::as_name).expect("mode"), b"UseOutlines");
    for (number, width) in [(1, 210.0), (2, 420.0)] {
        let page = read.get_dictionary(read.get_pages()[&number]).expect("page");
        for name in ["MediaBox", "TrimBox"] {
            let sides = page.get(name.as_bytes()).and_then(Object::as_array).expect(name);
            let sides: Vec<f64> =
                sides.iter().map(|s| f64::from(s.as_float().expect("side")) / 72.0 * 25.4).collect();
            assert_close(&[(sides[0], sides[1]), (sides[2], sides[3])], &[(0.0, 0.0), (width, 297.0)]);
        }
        assert!(!page.has(b"Annots") && !page.has(b"UserUnit"));
    }
}

#[test]
fn layers_are_named_in_plain_words_in_the_order_of_the_roles() {
    let line = |role| stroke(role, Path::line(Point::new(10.0, 10.0), Point::new(50.0, 50.0)), Pen::solid(0.5));
    let items = vec![line(Role::Trim), line(Role::Outline), line(Role::Outline), line(Role::Drill)];
    let read = read(&document(vec![page("A1", 210.0, 297.0, items)]));
    let properties = read.get_dict_in_dict(read.catalog().expect("catalog"), b"OCProperties").expect("layers");
    let groups = properties.get(b"OCGs").and_then(Object::as_array).expect("groups");
    let names: Vec<&[u8]> = groups
        .iter()
        .map(|id| read.get_dictionary(id.as_reference().expect("reference")).expect("group"))
        .map(|group| group.get(b"Name").and_then(Object::as_str).expect("name"))
        .collect();
    assert_eq!(names, [b"Edges to cut".as_slice(), b"Holes to drill", b"Trim lines"]);
    let begun = operations(&read, 1).iter().filter(|operation| operation.operator == "BDC").count();
    assert_eq!(begun, 3);
}

#[test]
fn bookmarks_stand_under_their_sections() {
    let sheet = |name: &str, section: Option<&str>| Page {
        section: section.map(str::to_owned),
        ..page(name, 210.0, 297.0, Vec::new())
    };
    let pages =
        vec![sheet("cover", None), sheet("A1", Some("leg")), sheet("A2", Some("leg")), sheet("B1", Some("größe"))];
    let contents = read(&document(pages)).get_toc().expect("bookmarks").toc;
    let contents: Vec<_> = contents.iter().map(|entry| (entry.level, entry.title.as_str(), entry.page)).collect();
    let expected = [(1, "cover", 1), (1, "leg", 2), (2, "A1", 2), (2, "A2", 3), (1, "größe", 4), (2, "B1", 4)];
    assert_eq!(contents, expected);
}

#[test]
fn words_can_be_searched_and_copied() {
    let text = Text::new(Point::new(20.0, 20.0), 5.0, "Größe 1 1/2″ ± ⅛ ⌀8").turned(0.5);
    let read = read(&document(vec![page("A1", 210.0, 297.0, vec![words(Role::Text, text)])]));
    assert_eq!(read.extract_text(&[1]).expect("text").trim(), "Größe 1 1/2″ ± ⅛ ⌀8");
}

fn identity(read: &lopdf::Document) -> Vec<u8> {
    read.trailer.get(b"ID").and_then(Object::as_array).expect("two")[0].as_str().expect("bytes").to_vec()
}

#[test]
fn the_same_pages_give_the_same_bytes_and_others_another_identity() {
    let make = |x: f64| {
        let line = Path::line(Point::new(x, 10.0), Point::new(50.0, 50.0));
        document(vec![page("A1", 210.0, 297.0, vec![stroke(Role::Outline, line, Pen::solid(0.5))])])
    };
    let bytes = |document: &Document| pdf(document, &PdfOptions::default()).expect("bytes");
    assert_eq!(bytes(&make(10.0)), bytes(&make(10.0)));
    let (one, other) = (read(&make(10.0)), read(&make(10.001)));
    assert_eq!(identity(&one).len(), 16);
    assert_ne!(identity(&one), identity(&other));
}

#[test]
fn the_date_is_the_one_given() {
    let document = document(vec![page("A1", 210.0, 297.0, Vec::new())]);
    let bytes = pdf(&document, &PdfOptions { date: 951_827_696 }).expect("bytes");
    let read = lopdf::Document::load_mem(&bytes).expect("readable");
    let id = read.trailer.get(b"Info").and_then(Object::as_reference).expect("information");
    let information: &Dictionary = read.get_dictionary(id).expect("information");
    let date = information.get(b"CreationDate").and_then(Object::as_str).expect("date");
    // 951,827,696 seconds after 1970 is 29 February 2000, 12:34:56 UTC (date -u -d @951827696).
    assert_eq!(date, b"D:20000229123456+00'00'");
}

#[test]
fn hostile_names_do_no_harm() {
    let read = read(&hostile());
    assert_eq!(read.get_pages().len(), HOSTILE.len());
    let titles: Vec<String> = read.get_toc().expect("bookmarks").toc.into_iter().map(|entry| entry.title).collect();
    for (_, shown) in HOSTILE {
        assert!(titles.contains(&shown.to_owned()), "{shown} in {titles:?}");
    }
}

#[test]
fn what_cannot_be_printed_is_refused_in_words() {
    let refused = |pages| pdf(&document(pages), &PdfOptions::default()).expect_err("refused");
    assert_eq!(refused(Vec::new()), WriteError::NoPages);
    let long = refused(vec![page("bed", 5080.1, 400.0, Vec::new())]);
    assert!(matches!(long, WriteError::PageSize { .. }));
    assert!(long.to_string().contains("at most 5080 mm"), "{long}");
    let line = Path::line(Point::new(f64::NAN, 0.0), Point::new(1.0, 1.0));
    let none = refused(vec![page("A1", 210.0, 297.0, vec![stroke(Role::Outline, line, Pen::solid(0.5))])]);
    assert_eq!(none, WriteError::NotANumber { page: "A1".to_owned(), what: "outline" });
    pdf(&document(vec![page("bed", 5080.0, 400.0, Vec::new())]), &PdfOptions::default()).expect("just fits");
}
