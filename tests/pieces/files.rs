//! Pieces from their files to boards.

use crate::common::solved;
use fullsize::piece::Piece;
use fullsize::project::read;

/// The piece of a good file, with the number of its boards and copies.
fn piece(name: &str) -> Piece {
    let path = format!("{}/fixtures/good/{name}.json", env!("CARGO_MANIFEST_DIR"));
    let bytes = std::fs::read(path).expect("the file is there");
    let reading = read(name, &bytes, None, None);
    let project = reading.project.unwrap_or_else(|| panic!("{:#?}", reading.findings));
    solved::piece(&project)
}

fn counts(piece: &Piece) -> Vec<(&str, u32)> {
    piece.boards.iter().map(|b| (b.id.as_str(), b.count)).collect()
}

#[test]
fn a_leaning_table() {
    let piece = piece("leaning_table");
    let all = [("top_rail", 2), ("bottom_rail", 2), ("leg", 4), ("apron", 2), ("stretcher", 1), ("top", 1)];
    assert!(all.iter().all(|one| counts(&piece).contains(one)), "{:?}", counts(&piece));
    // Its head and the apron's upper edge lie under the top.
    let top = piece.boards.iter().find(|b| b.id.as_str() == "top").expect("a top");
    assert_eq!(top.meets.len(), 4 + 2 + 2);
    // The worked example: the apron's outside face at its upper arris.
    let apron = piece.boards.iter().find(|b| b.id.as_str() == "apron").expect("an apron");
    let upper = apron.solid.arrises.iter().find(|a| apron.board.name_of(a.source) == "upper edge");
    assert!(upper.is_some_and(|a| (a.face - 1339.214).abs() < 0.00051));
}

#[test]
fn a_splayed_stool_in_inches() {
    let piece = piece("splayed_stool");
    let all = [("leg", 4), ("apron", 2), ("end_apron", 2), ("end_stretcher", 2), ("stretcher", 1), ("top", 1)];
    assert!(all.iter().all(|one| counts(&piece).contains(one)), "{:?}", counts(&piece));
}

#[test]
fn a_post_and_two_braces() {
    let piece = piece("braced_post");
    assert_eq!(counts(&piece), [("post", 1), ("brace", 2)]);
    let brace = &piece.boards[1];
    assert!(brace.cuts.iter().all(|c| (c.mitre().degrees() - 45.0).abs() < 1e-9));
    let against = brace.board.cuts[1].against.as_ref().map(ToString::to_string);
    assert_eq!(against.as_deref(), Some("post.edge.right"));
    // All of either sawn end lies on what it stands against: 70 wide at 45 degrees, 45 thick.
    let whole = 70.0 * 2.0_f64.sqrt() * 45.0;
    let area = |paths: &[fullsize::geometry::Path]| paths.iter().map(|p| p.signed_area().abs()).sum::<f64>();
    let [on_post] = brace.meets.as_slice() else { panic!("{:?}", brace.meets) };
    assert!((area(&on_post.contact) - whole).abs() < 1e-6, "{}", area(&on_post.contact));
    let foot: Vec<fullsize::geometry::Path> = brace.solid.ends[0].rings.iter().map(|r| r.path().clone()).collect();
    assert!((area(&foot) - whole).abs() < 1e-6, "{}", area(&foot));
}

#[test]
fn a_tray_of_six_sides() {
    assert_eq!(counts(&piece("splayed_tray")), [("side", 6)]);
}

#[test]
fn what_shapes_edges_that_an_oval_has_not_is_told() {
    let told = |shape: &str| -> Vec<String> {
        let text = format!(
            r#"{{ "fullsize": 1, "title": "Oval", "units": "mm", "top": {{ "length": 900, "width": 600, "thickness": 20{shape},
            "corner_radius": 30, "long_edges": {{ "rise": 10 }} }} }}"#
        );
        let reading = read("oval.json", text.as_bytes(), None, None);
        assert!(reading.project.is_some(), "{:?}", reading.findings);
        reading.findings.iter().map(|f| format!("{} {}", f.code, f.place.pointer)).collect()
    };
    assert_eq!(told(""), [""; 0]);
    let wanted = ["no-effect /top/corner_radius", "no-effect /top/long_edges"];
    assert_eq!(told(r#", "shape": "oval""#), wanted);
    assert_eq!(told(r#", "shape": "round""#), wanted);
}
