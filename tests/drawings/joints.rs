//! Mortises in views and sections: drawn where the solved joints lie, and measured from the edges that a maker has.

use super::sheets::{all_words, drawn};
use fullsize::board::Fitting;
use fullsize::geometry::{Plane, Point, Point3, Vec3};
use fullsize::job::Job;
use fullsize::joinery::{marking, mouth};
use fullsize::layout::elevation::Options;
use fullsize::piece::{Piece, SolvedBoard};
use fullsize::project::read;
use fullsize::units::Notation;
use fullsize::view::{Model, Stroke, View};

/// The piece of a file with these joints in place of its own.
fn with_joints(file: &str, joints: &str) -> Piece {
    let mut file: serde_json::Value = serde_json::from_str(file).expect("JSON");
    file["joints"] = serde_json::from_str(joints).expect("JSON");
    file.as_object_mut().expect("an object").remove("aids");
    let text = file.to_string();
    let project = read("piece.json", text.as_bytes(), None, None).project.expect("a good file");
    let job = Job::new(project);
    job.needed_piece().unwrap_or_else(|_| panic!("{:#?}", job.piece_findings())).clone()
}

/// The demo table and the demo stool with loose, fixed, blind and through joints.
pub fn jointed() -> Vec<(&'static str, Piece)> {
    let table = include_str!("../../templates-demo/reading_table.json");
    let stool = include_str!("../../templates-demo/saddle_stool.json");
    let of_table = r#"{
        "rail": { "from": "bottom_rail", "into": "leg", "thickness": 10, "width": 40, "length": 50 },
        "upper": { "from": "top_rail", "into": "leg", "thickness": 10, "width": 40, "length": 44 },
        "apron": { "from": "apron", "into": "leg", "thickness": 8, "width": 20, "length": 36, "count": 2 },
        "beam": { "from": "stretcher", "into": "bottom_rail", "thickness": 12, "width": 30, "kind": "fixed",
                  "mortise": "through" } }"#;
    let of_stool = r#"{
        "rung": { "from": "end_stretcher", "into": "leg", "thickness": "1/4", "width": "3/4", "kind": "fixed",
                  "mortise": "through" } }"#;
    vec![("jointed table", with_joints(table, of_table)), ("jointed stool", with_joints(stool, of_stool))]
}

fn on(strokes: &[Stroke], p: Point) -> bool {
    strokes.iter().any(|s| s.line.nearest(p).0 < 1e-6)
}

fn copies(board: &SolvedBoard) -> impl Iterator<Item = (&fullsize::board::Mortise, usize)> {
    let cut = board.mortises.iter().filter(|m| m.fitting != Fitting::Standing);
    cut.flat_map(|m| m.copies.iter().map(move |copy| (m, *copy)))
}

/// The corners of a square mortise's box are carried from the board's own axes, and must be ends of drawn lines; a round
/// one's section is as wide as its tenon.
#[test]
fn every_mortise_is_drawn_in_every_view() {
    let mut told = 0;
    for (name, piece) in jointed() {
        for view in [View::FRONT, View::LEFT, View::ABOVE, View::BELOW] {
            let sight = Model::of(&piece).seen(&view);
            let all: Vec<Stroke> = [sight.joints.as_slice(), &sight.visible].concat();
            for board in &piece.boards {
                for (mortise, copy) in copies(board) {
                    let [thickness, width, _] = mortise.tenon;
                    let place = board.copies[copy].placement;
                    let bottom = |x: f64, y: f64| {
                        let p = mortise.frame.to_world(Point3::new(x, y, mortise.depth));
                        view.project(place.to_world(p))
                    };
                    // The middles of a round mortise's two straight sides; the corners of a square one.
                    let points = if mortise.round {
                        vec![bottom(0.0, thickness / 2.0), bottom(0.0, -thickness / 2.0)]
                    } else {
                        let (x, y) = (width / 2.0, thickness / 2.0);
                        vec![bottom(x, y), bottom(-x, y), bottom(x, -y), bottom(-x, -y)]
                    };
                    // A through mortise ends on the far surface, where its corners are not square to its middle.
                    if mortise.fitting == Fitting::Blind {
                        told += points.len();
                        assert!(points.iter().all(|p| on(&all, *p)), "{name}: {} {view:?}", board.id);
                    }
                }
            }
        }
    }
    assert!(told > 200, "{told}");
}

/// The mouth of the stretcher's through mortise is seen on the frame's outside face, true in the view along its slope.
#[test]
fn where_a_tenon_comes_through_it_is_seen() {
    let (_, piece) = jointed().swap_remove(0);
    let rail = piece.boards.iter().find(|b| b.id.as_str() == "bottom_rail").expect("a rail");
    let mortise = rail.mortises.iter().find(|m| m.fitting == Fitting::Through).expect("a through mortise");
    let right = rail.copies.iter().find(|c| c.placement.w().x > 0.5).expect("the right frame");
    let sight = Model::of(&piece).seen(&View::RIGHT);
    let (_, far) = fullsize::joinery::far_mouth(&rail.board, &rail.solid, mortise).expect("a far mouth");
    for segment in far.segments() {
        let p = segment.eval(0.5);
        let seen = View::RIGHT.project(right.placement.to_world(Point3::new(p.x, p.y, 0.0)));
        assert!(on(&sight.visible, seen), "{p:?}");
    }
}

/// The distance told is that from the middle of the mouth to the rim of the surface, along the mouth and square to it.
#[test]
fn middles_are_told_as_they_lie_on_the_solved_board() {
    let notation = Notation::default();
    let mut told = 0;
    for (name, piece) in jointed() {
        let document = drawn(&piece, "A1", notation.clone(), &Options::default());
        // Long entries of a list go on in the next line.
        let words = all_words(&document).join(" ");
        for board in &piece.boards {
            for mortise in board.mortises.iter().filter(|m| m.fitting != Fitting::Standing) {
                let ring =
                    mouth(&board.board, &board.solid, mortise).expect("a mouth").bounding_box().expect("a box");
                let told_as = marking(board, mortise).expect("lines to mark from");
                let (first, second) = (told_as.station, told_as.offset);
                // Both lie on the board: no farther than its blank is long.
                let size = board.solid.blank.width().max(board.solid.blank.height());
                assert!((0.0..size).contains(&first), "{name} {}: {first}", board.id);
                assert!(second > 0.0 && second < size && ring.width() > 0.0, "{name} {}: {second}", board.id);
                let entry = format!("{}, joint {}:", board.label, mortise.joint);
                // To a tenth, so that the marks of both parts agree.
                let tenth = |mm: f64| format!("{}", (mm * 10.0).round() / 10.0);
                let mut entries = words.split(&entry).skip(1).filter_map(|rest| rest.split("   ").next());
                let (from, off) = (told_as.along("", board), told_as.off(&tenth, board, mortise.on));
                let said = |told: &str| told.contains(&from) && told.contains(&tenth(first)) && told.contains(&off);
                assert!(entries.any(said), "{name} {}: {told_as:?} {words:#?}", board.id);
                told += 1;
            }
        }
    }
    assert!(told > 8, "{told}");
}

/// The rail's tenon is centred: half of 30 from the face side, and by the schedule's rule 37.5 of 72 square down from the upper
/// edge along the leg's slope. From the stretcher: 46 deep, lower edge at 160; the mortise's middle lies at 183.
#[test]
fn middles_of_the_demo_table_by_hand() {
    let (_, piece) = jointed().swap_remove(0);
    let rail = piece.boards.iter().find(|b| b.id.as_str() == "bottom_rail").expect("a rail");
    let end = rail.mortises.iter().find(|m| m.joint == "rail").expect("the rail's own");
    assert!((marking(rail, end).expect("lines to mark from").offset - 15.0).abs() < 1e-9);
    let beam = rail.mortises.iter().find(|m| m.joint == "beam").expect("the stretcher's");
    let middle = rail.copies[0].placement.to_world(beam.frame.origin());
    // Where the stretcher meets the leaning rail its middle is plumb over the floor at 160 + 46 / 2.
    assert!((middle.z - 183.0).abs() < 1e-6 && middle.y.abs() < 1e-6, "{middle:?}");
    // From there to the rail's upper edge along its slope of 7 degrees: upper arris at 150 + 72 cos 7 on the face side.
    let told = marking(rail, beam).expect("lines to mark from");
    let lean = 7_f64.to_radians();
    // On the inside face the upper edge, square to the faces, lies 30 sin 7 lower or higher than on the outside.
    let outside = 150.0 + 72.0 * lean.cos();
    let upper = [outside - 30.0 * lean.sin(), outside + 30.0 * lean.sin()];
    let nearest = upper.map(|z| ((z - 183.0) / lean.cos() - told.offset).abs()).into_iter().fold(f64::MAX, f64::min);
    // The rail is alike end for end, and the stretcher meets its middle.
    let said = told.off(&|_| "x".to_owned(), rail, beam.on);
    assert!(
        told.along("", rail) == "on the middle line" && said == "x from the upper edge, square to it",
        "{told:?}"
    );
    assert!(nearest < 1e-6, "{told:?}");
}

/// A section through the middle of the stretcher: hatching covers wood once, and that of the tenon lies closer.
#[test]
fn a_section_tells_a_tenon_from_the_wood_round_it() {
    let (_, piece) = jointed().swap_remove(0);
    let plane = Plane::through(Point3::new(0.0, 0.0, 0.0), Vec3::Y).expect("a plane");
    let view = View::of_section(&plane).expect("a view");
    let cut = Model::of(&piece).behind(&plane);
    let spacing = 2.0;
    let hatching = cut.hatching(&view, spacing);
    let rail = piece.boards.iter().position(|b| b.id.as_str() == "bottom_rail").expect("a rail");
    let of_rail: Vec<&Stroke> = hatching.iter().filter(|s| s.board == rail).collect();
    // The rail is cut 72 x 30; the tenon of 30 x 30 passes through it in each frame, hatched twice as close.
    let length: f64 = of_rail.iter().map(|s| s.line.length()).sum();
    let wanted = 2.0 * ((72.0 - 30.0) * 30.0 / spacing + 30.0 * 30.0 / (spacing / 2.0));
    assert!((length - wanted).abs() < 0.05 * wanted, "{length} {wanted}");
    // The tenon's two sides are drawn as seen, on the cut.
    let sight = cut.seen(&view);
    let solved = &piece.boards[rail];
    let mortise = solved.mortises.iter().find(|m| m.fitting == Fitting::Through).expect("a through mortise");
    for copy in &solved.copies {
        for side in [-15.0, 15.0] {
            let p = mortise.frame.to_world(Point3::new(side, 0.0, 15.0));
            let seen = view.project(copy.placement.to_world(p));
            assert!(on(&sight.visible, seen), "{seen:?}");
        }
    }
}
