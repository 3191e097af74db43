use super::{ImportFault, ImportProblemKind, Imported, LARGEST_FILE, import_svg};
use crate::geometry::{Point, Segment};

fn read(body: &str) -> Imported {
    let text = format!(
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="80mm" viewBox="0 0 100 80">{body}</svg>"#
    );
    import_svg(text.as_bytes(), LARGEST_FILE).expect("it can be read")
}

fn kinds(imported: &Imported) -> Vec<ImportProblemKind> {
    imported.problems.iter().map(|p| p.kind.clone()).collect()
}

#[test]
fn true_size_and_y_up() {
    let found = read(r#"<g id="all"><rect x="10" y="20" width="30" height="40"/></g>"#);
    assert!(found.size.is_some_and(|(w, h)| (w - 100.0).abs() < 1e-9 && (h - 80.0).abs() < 1e-9));
    assert_eq!(found.paths[0].id.as_deref(), Some("all"));
    let bounds = found.paths[0].path.bounding_box().expect("a rectangle");
    for (got, expected) in [(bounds.x0, 10.0), (bounds.x1, 40.0), (bounds.y0, 20.0), (bounds.y1, 60.0)] {
        assert!((got - expected).abs() < 1e-9, "{bounds:?}");
    }
}

#[test]
fn a_mapped_circle_is_an_arc_still() {
    let found = read(r#"<circle cx="50" cy="40" r="30" transform="rotate(20) scale(1.5 0.5)"/>"#);
    assert!(found.paths[0].path.segments().iter().all(|s| matches!(s, Segment::Arc(_))));
    let expected = std::f64::consts::PI * 900.0 * 0.75;
    assert!((found.paths[0].path.signed_area().abs() - expected).abs() < 1e-6);
}

#[test]
fn what_is_amiss_is_told() {
    let found = read(
        r##"<path d="M0 0H10V10"/><path d="M0 0H40L0 40H40Z"/><rect width="0.01" height="0.01"/>
        <path d="M0 0H1e30V5z"/><text>words</text><use href="other.svg#x"/><use href="#none"/><image href="http://x/y.png"/>"##,
    );
    let kinds = kinds(&found);
    let gap = kinds.iter().find_map(|k| if let ImportProblemKind::Open { gap, .. } = k { Some(*gap) } else { None });
    assert!(gap.is_some_and(|gap| (gap - 200.0_f64.sqrt()).abs() < 1e-9));
    for wanted in [
        ImportProblemKind::TooFar,
        ImportProblemKind::LeftOut { what: "text".to_owned() },
        ImportProblemKind::LeftOut { what: "image".to_owned() },
        ImportProblemKind::Outside,
        ImportProblemKind::NoSuchElement,
    ] {
        assert!(kinds.contains(&wanted), "{wanted:?} in {kinds:?}");
    }
    assert!(kinds.iter().any(|k| matches!(k, ImportProblemKind::Tiny { .. })));
    let crossing = kinds
        .iter()
        .find_map(|k| if let ImportProblemKind::CrossesItself { at, .. } = k { at.first() } else { None });
    // Where the drawing itself has it, y down.
    assert!(crossing.expect("it crosses").distance(Point::new(20.0, 20.0)) < 1e-6);
    assert!(kinds.iter().any(|k| matches!(k, ImportProblemKind::CrossesAnother { .. })));
    assert_eq!(found.paths.len(), 2);
}

#[test]
fn files_that_cannot_be_read() {
    let fault = |bytes: &[u8]| import_svg(bytes, 1000).expect_err("it cannot be read");
    assert_eq!(fault(&[b' '; 1001]), ImportFault::TooLarge { bytes: 1001, limit: 1000 });
    assert_eq!(fault(&[0x1f, 0x8b, 0xff]), ImportFault::NotText);
    assert_eq!(fault(b"<!DOCTYPE svg [<!ENTITY a \"b\">]><svg/>"), ImportFault::Entities);
    assert!(matches!(fault(b"<svg>\n<g></svg>"), ImportFault::NotXml { line: 2, .. }));
    assert_eq!(fault(b"<html/>"), ImportFault::NotSvg);
    let loops = br##"<svg xmlns="http://www.w3.org/2000/svg"><g id="a"><use href="#a"/></g></svg>"##;
    assert_eq!(fault(loops), ImportFault::TooMuch);
}

#[test]
fn attributes_are_counted_and_nothing_else() {
    let attributes: String = (0..1001).map(|i| format!(" d{i}=\"x\"")).collect();
    let crowded = format!("<svg xmlns=\"http://www.w3.org/2000/svg\"><path{attributes}/></svg>");
    assert_eq!(import_svg(crowded.as_bytes(), LARGEST_FILE).expect_err("too much"), ImportFault::TooMuch);
    let signs = "=".repeat(5000);
    let found = read(&format!(
        "<!-- <{signs} --><g data-note='a > b {signs}'><rect width=\"10\" height=\"10\"/></g><desc><![CDATA[<{signs}>]]></desc>"
    ));
    assert_eq!(found.paths.len(), 1);
}

/// A path of one piece too many is refused with the number to come down to.
#[test]
fn a_path_of_too_many_pieces_says_how_many_are_taken() {
    let corners = |count: u32| {
        let zigzag: String = (1..count).map(|i| format!("L{} {}", i % 1000, i % 7)).collect();
        format!(r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path d="M0 0{zigzag}"/></svg>"#)
    };
    assert_eq!(import_svg(corners(200_001).as_bytes(), LARGEST_FILE).map(|read| read.paths.len()), Ok(1));
    let fault = import_svg(corners(200_002).as_bytes(), LARGEST_FILE).expect_err("one piece too many");
    assert_eq!(fault, ImportFault::TooManyPieces { most: 200_000 });
}
