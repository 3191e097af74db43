//! A white rectangle under a drawing: the page's paper is left out and told, what may be the part stops the work.

use crate::common::words::InWords;
use fullsize::finding::{Finding, Severity};
use fullsize::model::Project;
use fullsize::project::read_with;

/// A file whose part is drawn by an SVG file of these elements on a page of 100 x 80 mm, or of no size.
fn part(elements: &str, page: bool, asked: &str) -> (Option<Project>, Vec<Finding>) {
    let size = if page { r#"width="100mm" height="80mm" viewBox="0 0 100 80""# } else { "" };
    let drawing = format!("<svg xmlns=\"http://www.w3.org/2000/svg\" {size}>\n{elements}\n</svg>");
    let text = format!(
        r#"{{ "fullsize": 1, "title": "Leaf", "units": "mm",
            "patterns": {{ "leaf": {{ "thickness": 6, "outline": {{ "svg": "leaf.svg"{asked} }} }} }} }}"#
    );
    let drawings = |_: &str| Ok(drawing.clone().into_bytes());
    let reading = read_with("leaf.json", text.as_bytes(), None, None, &drawings);
    (reading.project, reading.findings)
}

const LEAF: &str = "<path d=\"M20 20H80V60H20Z\" fill=\"black\"/>";

fn width(project: Option<Project>) -> f64 {
    let project = project.expect("it is read");
    project.patterns[0].built.outline.path().bounding_box().expect("a shape").width()
}

#[test]
fn white_paper_under_a_drawing_is_left_out_and_told_with_its_line() {
    for white in [
        "<rect width=\"100\" height=\"80\" fill=\"#ffffff\"/>",
        "<rect width=\"100%\" height=\"100%\" style=\"fill: White; stroke: none\"/>",
        "<path fill=\"rgb(255, 255, 255)\" d=\"M0 0H100V80H0Z\"/>",
        "<g fill=\"#FFF\"><rect width=\"100\" height=\"80\"/></g>",
    ] {
        let (project, told) = part(&format!("{white}\n{LEAF}"), true, "");
        assert_eq!(told.len(), 1, "{white}: {told:?}");
        assert_eq!((told[0].code, told[0].severity), ("drawing-paper-left-out", Severity::Warn), "{white}");
        let words = told[0].words().message;
        assert!(words.starts_with("\"leaf.svg\", line 2: a white rectangle as large as the page"), "{words}");
        assert!((width(project) - 60.0).abs() < 1e-6, "{white}");
    }
}

/// Something on the very edge of the paper does not meet a path: the paper is none.
#[test]
fn what_reaches_the_edge_of_the_paper_is_no_crossing() {
    let (project, told) =
        part("<rect width=\"100\" height=\"80\" fill=\"white\"/>\n<path d=\"M0 20H80V60H0Z\"/>", true, "");
    assert_eq!(told.iter().map(|one| one.code).collect::<Vec<_>>(), ["drawing-paper-left-out"]);
    assert!((width(project) - 80.0).abs() < 1e-6);
}

#[test]
fn a_white_rectangle_that_may_be_the_part_stops_the_work() {
    let white = "<rect x=\"10\" y=\"10\" width=\"80\" height=\"60\" fill=\"white\"/>";
    for page in [true, false] {
        let (project, told) = part(&format!("{white}\n{LEAF}"), page, "");
        assert!(project.is_none());
        assert_eq!(
            told.iter().map(|one| (one.code, one.severity)).collect::<Vec<_>>(),
            [("drawing-paper-or-part", Severity::Stop)]
        );
        assert!(told[0].words().message.contains("line 2"), "{}", told[0].words().message);
        assert!(told[0].words().remedy.contains("give it a line"), "{}", told[0].words().remedy);
    }
}

/// With a line, another colour, another shape, alone, above the rest, or asked for by its own id it is what it was.
#[test]
fn what_is_no_paper_is_taken() {
    let ring = "<path d=\"M20 20H80V60H20Z\" fill=\"black\"/>";
    for (elements, asked) in [
        (format!("<rect width=\"100\" height=\"80\" fill=\"white\" stroke=\"black\"/>{ring}"), ""),
        (format!("<rect width=\"100\" height=\"80\" fill=\"#eee\"/>{ring}"), ""),
        (format!("<path d=\"M0 0H100V80H5L0 75Z\" fill=\"white\"/>{ring}"), ""),
        ("<rect width=\"100\" height=\"80\" fill=\"white\"/>".to_owned(), ""),
        (format!("{ring}<rect width=\"100\" height=\"80\" fill=\"white\"/>"), ""),
        (format!("<rect id=\"back\" width=\"100\" height=\"80\" fill=\"white\"/>{ring}"), r#", "id": "back""#),
    ] {
        let (project, told) = part(&elements, true, asked);
        assert!(told.is_empty(), "{elements}: {told:?}");
        assert!((width(project) - 100.0).abs() < 1e-6, "{elements}");
    }
}
