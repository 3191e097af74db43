//! Along what an apron's face lies, measured on the solids in the world.

use fullsize::board::{EdgeName, Source};
use fullsize::geometry::{Plane, Point3, Vec3};
use fullsize::job::Job;
use fullsize::piece::{Piece, SolvedBoard};
use fullsize::project::read;
use serde_json::{Value as Json, json};

fn file(slope: Option<Json>) -> Json {
    let mut file = json!({
        "fullsize": 1, "title": "Frames", "units": "mm",
        "base": {
            "kind": "leaning_frames", "height": 745, "length_at_top": 1420, "width_at_top": 640, "lean": "8 deg",
            "leg": { "splay": "9 deg", "thickness": 40, "head": 95, "foot": 60, "outside_edge": { "rise": -14 } },
            "top_rail": { "thickness": 30, "depth": 75 },
            "bottom_rail": { "thickness": 30, "depth": 70, "height": 140 },
            "apron": { "thickness": 22, "depth": 85 }
        }
    });
    if let Some(slope) = slope {
        file["base"]["apron"]["slope"] = slope;
    }
    file
}

fn job(file: &Json) -> Job {
    let reading = read("piece.json", file.to_string().as_bytes(), None, None);
    Job::new(reading.project.unwrap_or_else(|| panic!("{:#?}", reading.findings)))
}

fn board<'a>(piece: &'a Piece, name: &str) -> &'a SolvedBoard {
    piece.boards.iter().find(|board| board.id.as_str() == name).expect("such a board")
}

/// The plane of a copy's face side in the world.
fn face(board: &SolvedBoard, copy: usize) -> Plane {
    board.copies[copy].placement.plane_to_world(&Plane::level(0.0))
}

/// Points along the outside edge of a leg's side that is turned to the apron, from one end to the other, in the world.
fn edge(leg: &SolvedBoard, copy: usize, steps: u32) -> Vec<Point3> {
    let index = leg.board.edge(&EdgeName::OutsideEdge).expect("an edge");
    let segments = &leg.board.edges[index].segments;
    let place = &leg.copies[copy].placement;
    let at = |step: u32| {
        let all = f64::from(step) / f64::from(steps) * segments.len() as f64;
        let piece = (all as usize).min(segments.len() - 1);
        let p = segments[piece].eval(all - piece as f64);
        place.to_world(Point3::new(p.x, p.y, -leg.board.thickness))
    };
    (0..=steps).map(at).collect()
}

/// The angle, degrees, at which an apron's face stands in the plane of the leg's face off the frame's centre line.
fn slope_in_frame(piece: &Piece) -> f64 {
    let frame = face(board(piece, "leg"), 0).normal();
    let trace = face(board(piece, "apron"), 0).normal().cross(frame);
    let up = frame.cross(Vec3::Y);
    trace.cross(up).length().atan2(trace.dot(up).abs()).to_degrees()
}

/// Without an inset the leg's edge comes through the apron's face at both its arrises: it lies along the chord.
#[test]
fn an_apron_lies_along_the_chord_of_the_legs_edge_over_its_depth() {
    for told in [None, Some(json!("chord"))] {
        let job = job(&file(told));
        let piece = job.piece().expect("no stop").expect("a piece");
        let (leg, apron) = (board(piece, "leg"), board(piece, "apron"));
        let blank = apron.solid.face.path().bounding_box().expect("a face");
        let mut held = 0;
        for copy in 0..apron.copies.len() {
            let (plane, place) = (face(apron, copy), &apron.copies[copy].placement);
            for own in 0..leg.copies.len() {
                let points = edge(leg, own, 20_000);
                // Only legs of this apron's side come near it.
                let crossings: Vec<f64> = points
                    .windows(2)
                    .filter(|pair| plane.distance(pair[0]) * plane.distance(pair[1]) <= 0.0)
                    .map(|pair| place.to_board(pair[0].midway(pair[1])).y)
                    .collect();
                if crossings.iter().any(|y| (y - blank.y1).abs() < 0.1) {
                    assert!(crossings.iter().any(|y| (y - blank.y0).abs() < 0.1), "{crossings:?} of {blank:?}");
                    held += 1;
                }
            }
        }
        assert_eq!(held, 4, "each apron at two legs");
    }
}

/// The naive one lies at the leg's splay, one of an angle at that, whatever the edge does; its upper arris stays at the leg's edge.
#[test]
fn an_apron_lies_at_the_splay_or_at_an_angle_that_is_told() {
    for (told, wanted) in [(json!("splay"), 9.0), (json!("10.5 deg"), 10.5), (json!(7), 7.0)] {
        let job = job(&file(Some(told)));
        let piece = job.piece().unwrap_or_else(|_| panic!("{:#?}", job.piece_findings())).expect("a piece");
        let found = slope_in_frame(piece);
        assert!((found - wanted).abs() < 1e-6, "{found} for {wanted}");
        let (leg, apron) = (board(piece, "leg"), board(piece, "apron"));
        let upper = apron.solid.face.path().bounding_box().expect("a face").y1;
        let (plane, place) = (face(apron, 0), &apron.copies[0].placement);
        let at_arris = (0..leg.copies.len())
            .flat_map(|own| edge(leg, own, 20_000))
            .any(|p| plane.distance(p).abs() < 0.05 && (place.to_board(p).y - upper).abs() < 0.1);
        assert!(at_arris, "its upper arris is at the leg's edge");
        // Deep as told, square across its face.
        let lower = apron.board.edge(&EdgeName::LowerEdge).map(Source::Edge).expect("an edge");
        let y = apron.solid.face.part(lower).next().expect("an arris").eval(0.5).y;
        assert!((upper - y - 85.0).abs() < 1e-6, "{upper} to {y}");
    }
}

/// Stools have plane legs: there a slope is told to make no difference.
#[test]
fn a_slope_of_no_use_is_told() {
    let file = json!({
        "fullsize": 1, "title": "Stool", "units": "mm",
        "base": { "kind": "splayed_legs", "height": 450, "length_at_top": 300, "width_at_top": 300, "splay_front": 5, "splay_side": 5,
            "leg": { "width": 40, "thickness": 40 }, "apron": { "thickness": 20, "depth": 60, "inset": 4, "slope": 8 } }
    });
    let job = job(&file);
    let codes: Vec<&str> = job.piece_findings().iter().map(|finding| finding.code).collect();
    assert!(codes.contains(&"apron-slope-unused"), "{codes:?}");
}
