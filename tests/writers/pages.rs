//! Pages that are let go as they are drawn, read by `lopdf`.

use crate::common::sample::{document, page, stroke, words};
use fullsize::geometry::{Path, Point};
use fullsize::page::{Page, Pen, Role, Text};
use fullsize::write::{PdfOptions, pdf, pdf_of_pages};
use lopdf::{Dictionary, Object, ObjectId};
use std::borrow::Cow;

/// More than are drawn together, twice over.
const PAGES: u32 = 150;

/// One page of them on which a layer stands that no other has.
const ODD: u32 = 70;

/// Pages that are looked at: about where pages are drawn together, and some that are like no other.
const LOOKED_AT: [u32; 8] = [0, 3, 63, 64, ODD, 127, 128, PAGES - 1];

/// A page with a line of its own, words of its own, and so many more strokes.
fn one(number: u32, strokes: u32) -> Page {
    let line = |y: f64| Path::line(Point::new(10.0, y), Point::new(190.3, y + 7.1));
    let said = format!("Seite {number} \u{e4}\u{a0}-{}", if number == 3 { "\u{10d}" } else { "" });
    let mut items = vec![
        stroke(Role::Outline, line(20.0 + f64::from(number)), Pen::solid(0.35)),
        words(Role::Text, Text::new(Point::new(20.0, 10.0), 3.5, said)),
    ];
    let role = if number == ODD { Role::Trim } else { Role::Mark };
    items.extend((0..strokes).map(|k| stroke(role, line(f64::from(k % 200)), Pen::solid(0.25))));
    page(&format!("sheet {number}"), 210.0, 297.0, items)
}

fn dictionary<'a>(read: &'a lopdf::Document, of: &'a Dictionary, key: &[u8]) -> &'a Dictionary {
    match of.get(key).expect("it is there") {
        Object::Reference(id) => read.get_dictionary(*id).expect("a dictionary"),
        other => other.as_dict().expect("a dictionary"),
    }
}

/// Every page has its own line, words and layers and nothing of its neighbours', packed or not; and pages that come one after the
/// other make the bytes of those that come together.
#[test]
fn pages_that_are_let_go_are_written_whole() {
    for (strokes, packed) in [(1, false), (4000, true)] {
        let pages = (0..PAGES).map(|number| one(number, strokes));
        let made = pdf_of_pages("Side table", pages.clone().map(Cow::Owned), &PdfOptions::default()).expect("a PDF");
        let together = pdf(&document(pages.collect()), &PdfOptions::default()).expect("a PDF");
        assert!(made == together);
        let read = lopdf::Document::load_mem(&made).expect("it is read");
        let ids: Vec<ObjectId> = read.page_iter().collect();
        assert_eq!(ids.len(), PAGES as usize);
        for (number, id) in (0..PAGES).zip(ids).filter(|(number, _)| LOOKED_AT.contains(number)) {
            let content =
                read.get_object(read.get_page_contents(id)[0]).and_then(Object::as_stream).expect("content");
            assert_eq!(content.is_compressed(), packed, "{number}");
            let operations = read.get_and_decode_page_content(id).expect("content").operations;
            let starts: Vec<f32> = operations
                .iter()
                .filter(|operation| operation.operator == "m")
                .map(|operation| operation.operands[1].as_float().expect("a number"))
                .collect();
            assert_eq!(starts.len() as u32, strokes + 1, "{number}");
            let expected = (20.0 + f64::from(number)) * 72.0 / 25.4;
            assert!((f64::from(starts[0]) - expected).abs() < 0.001, "{number}: {} {expected}", starts[0]);
            let said = read.extract_text(&[number + 1]).expect("words");
            assert!(said.contains(&format!("Seite {number} \u{e4}")), "{said}");
            let page = read.get_dictionary(id).expect("a page");
            let layers = dictionary(&read, dictionary(&read, page, b"Resources"), b"Properties");
            let names: Vec<&str> = layers
                .iter()
                .map(|(_, layer)| read.get_dictionary(layer.as_reference().expect("a layer")).expect("a layer"))
                .map(|layer| {
                    std::str::from_utf8(layer.get(b"Name").and_then(Object::as_str).expect("a name")).expect("ASCII")
                })
                .collect();
            let third = if number == ODD { Role::Trim } else { Role::Mark };
            assert_eq!(names, [Role::Outline, Role::Text, third].map(Role::title), "{number}");
        }
        // A letter of an early page can still be searched for.
        assert!(read.extract_text(&[4]).expect("words").contains('\u{10d}'));
    }
}
