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

/// The angle, degrees, at which an apron's face stands in the plane of the leg's face off the frame's centre line; above zero where it comes
/// out of the piece downwards.
fn slope_in_frame(piece: &Piece) -> f64 {
    let (frame, own) = (face(board(piece, "leg"), 0).normal(), face(board(piece, "apron"), 0).normal());
    let up = frame.cross(Vec3::Y);
    let up = if up.z < 0.0 { up * -1.0 } else { up };
    let trace = own.cross(frame);
    let down = if trace.dot(up) > 0.0 { trace * -1.0 } else { trace };
    // Outwards is the way of the apron's face along the width.
    let out = down.dot(Vec3::Y) * own.y.signum();
    out.atan2(-down.dot(up)).to_degrees()
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
    for (told, wanted) in [(json!("splay"), 9.0), (json!("10.5 deg"), 10.5), (json!(7), 7.0), (json!(-4), -4.0)] {
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

/// A straight leg's edge runs at the splay: an apron at that is the one that follows the edge, and one at less or at none leaves it inwards by
/// what its depth makes of the difference (plain geometry: a circle's chord), which is told.
#[test]
fn an_apron_at_the_splay_of_straight_legs_is_the_one_along_their_edge() {
    let straight = |slope: Option<Json>| {
        let mut file = file(slope);
        let leg = file["base"]["leg"].as_object_mut().expect("a leg");
        leg.remove("outside_edge");
        // The edge of a leg that does not taper is its axis moved aside.
        leg.insert("foot".to_owned(), json!(95));
        job(&file)
    };
    let plane = |job: &Job| face(board(job.piece().expect("no stop").expect("a piece"), "apron"), 0);
    let [along, at] = [straight(None), straight(Some(json!("splay")))];
    let (a, b) = (plane(&along), plane(&at));
    assert!((a.normal() - b.normal()).length() < 1e-9 && (a.offset() - b.offset()).abs() < 1e-6, "{a:?} {b:?}");
    let left = |job: &Job| {
        let told = job.piece_findings();
        let told = told.iter().find(|finding| finding.code == "apron-leaves-edge")?;
        told.measure("left")
    };
    assert_eq!(left(&at), None);
    for slope in [5.0, -5.0, 12.0_f64] {
        let job = straight(Some(json!(slope)));
        let found = left(&job).unwrap_or_else(|| panic!("{slope}: {:#?}", job.piece_findings()));
        // 85 mm across the face, which leans with the frame: as deep along the frame's plane, or a hair more.
        let wanted = 85.0 * (9.0_f64 - slope).to_radians().tan();
        assert!((found - wanted).abs() < 0.03 * wanted.abs(), "{slope}: {found} for {wanted}");
    }
    // One that stands out beyond the leg says at which edge.
    let out = straight(Some(json!(14)));
    let told = out.piece_findings();
    let off = told.iter().find(|finding| finding.code == "apron-off-leg").unwrap_or_else(|| panic!("{told:#?}"));
    let words = off.said(&fullsize::units::Notation::of(fullsize::units::Units::Mm));
    assert!(words.message.contains("outside edge") && words.remedy.contains("slope smaller"), "{words:?}");
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
