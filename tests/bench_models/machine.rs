//! A mortiser with tilting fence, its base on the sawn end, and a gauge that sets a mortise out from its edge and its face.

use super::made::{Board, Made, made};
use super::{PRINTED, between, files, near, number, pieces};
use fullsize::geometry::{Point, Point3, Vec3};
use serde_json::Value as Json;

/// How near a mark comes to the solid, mm.
const TRUE: f64 = 0.02;

fn vector(json: &Json) -> Vec3 {
    let [x, y, z] = [0, 1, 2].map(|i| json[i].as_f64().expect("a number"));
    Vec3::new(x, y, z)
}

/// The angle of the wood at the arris of an end with a face, measured from the arris along either surface, degrees.
fn wood_at_arris(board: &Board, cut: usize, side: usize) -> Option<f64> {
    let z = if side == 0 { 0.0 } else { -board.thickness };
    let corners = board.corners_in(&board.cuts[cut]);
    let [here, there] = [true, false]
        .map(|here| corners.iter().filter(|p| ((p.z - z).abs() < 1e-9) == here).copied().collect::<Vec<Point3>>());
    let (a, b) = (*here.first()?, *here.last()?);
    let arris = (b - a).unit()?;
    let square = |way: Vec3| way - arris * way.dot(arris);
    let middle = board.middle();
    let inwards = square(Point3::new(middle.x, middle.y, z) - a);
    let over = square(*there.first()? - a);
    Some(between(inwards, over))
}

/// Every end that wants another angle than the machine has is told with the one at which its fence lies on the face while its base
/// lies on the end.
#[test]
fn a_fence_at_the_angle_told_lies_on_the_face() {
    let mut set = 0;
    for made in pieces() {
        for finding in made.told("fence-angle") {
            let (_, label) = finding.message.split_once(" in the ").expect("a board");
            let (label, wants) = label.split_once(" wants the fence at ").expect("an angle");
            let board = made.board(label);
            let joint = finding.message.strip_prefix("the mortise of ").expect("a joint");
            let joints = made.json["joints"].as_array().expect("joints").iter();
            let own: Vec<&Json> = joints
                .filter(|j| {
                    let name =
                        format!("{} {} in the {label} wants", j["joint"].as_str().expect("a name"), j["number"]);
                    j["board"] == board.json["id"] && joint.starts_with(&name)
                })
                .collect();
            let angles: Vec<[f64; 2]> = own
                .iter()
                .filter_map(|j| {
                    let cut = board.cuts.iter().position(|cut| j["on"] == cut.place.as_str())?;
                    Some([wood_at_arris(&board, cut, 0)?, wood_at_arris(&board, cut, 1)?])
                })
                .collect();
            let fits = |told: f64, side: usize| angles.iter().any(|both| (both[side] - told).abs() < PRINTED);
            let told = finding.measure("angle");
            near(&finding.message, number(wants), told, PRINTED);
            assert!(fits(told, 0), "{}: {angles:?}", finding.message);
            if let Some(rest) = finding.remedy.strip_prefix(&format!("lay the fence on the {} at ", board.sides[1])) {
                assert!(fits(number(rest), 1), "{}: {angles:?}", finding.remedy);
            } else {
                let wedge = finding.remedy.strip_prefix("put a wedge of ").expect("a wedge");
                near(&finding.remedy, number(wedge), (told - 90.0).abs(), PRINTED);
            }
            set += 1;
        }
    }
    assert!(set > 20, "{set}");
}

/// With a machine whose fence has the other angle, it is laid on the far side.
#[test]
fn a_fence_that_has_the_other_angle_is_laid_on_the_far_side() {
    let mut far = 0;
    for seed in 0..10 {
        let mut file = files::boards(seed);
        file["shop"]["mortiser"]["angles"] = serde_json::json!([60, 90]);
        let Some(made) = made(&file) else { continue };
        let rail = made.board("rail");
        let end = rail.cuts.iter().position(|cut| cut.offset > 0.0 && cut.normal.x > 0.5).expect("an end");
        let (face, over) =
            (wood_at_arris(&rail, end, 0).expect("an end"), wood_at_arris(&rail, end, 1).expect("an end"));
        let told = made.told("fence-angle");
        let own = told.iter().find(|finding| finding.message.contains("in the rail"));
        assert_eq!(own.is_some(), face > 90.0 + 0.05, "{face}");
        if let Some(finding) = own {
            let rest = finding.remedy.strip_prefix("lay the fence on the far side at ").expect("the far side");
            near(rest, number(rest), over, PRINTED);
            far += 1;
        }
    }
    assert!(far > 2, "{far}");
}

/// The cheek of a tenon comes out of its end as far from the face side as asked, measured on the end, however it leans.
#[test]
fn a_tenon_stands_as_far_from_the_face_as_asked() {
    let (mut square, mut along) = (0, 0);
    for made in pieces() {
        for joint in made.json["joints"].as_array().expect("joints") {
            let asked = &made.file["joints"][joint["joint"].as_str().expect("a name")];
            let Some(wanted) = asked["from_face"].as_f64() else { continue };
            let boards = made.boards();
            let board = boards.iter().find(|board| board.json["id"] == joint["board"]).expect("a board");
            let is_from = board.json["id"] == asked["from"];
            let Some(cut) = board.cuts.iter().find(|cut| joint["on"] == cut.place.as_str()).filter(|_| is_from)
            else {
                continue;
            };
            let (axis, across) = (vector(&joint["axis"]), vector(&joint["across"]));
            let [thick, wide] = ["thickness", "width"].map(|name| joint["tenon"][name].as_f64().expect("a size"));
            let through = axis.cross(across);
            // Down the end, away from the face side.
            let down = (cut.normal * cut.normal.z - Vec3::Z).unit().expect("a direction");
            let centre = Point3::ORIGIN + vector(&joint["centre"]);
            let cheeks = [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)].map(|(x, y)| {
                let p = centre + across * (x * wide / 2.0) + through * (y * thick / 2.0);
                let p = p + axis * ((cut.offset - cut.normal.dot(p.to_vec())) / cut.normal.dot(axis));
                p.z / down.z
            });
            let nearest = cheeks.iter().copied().fold(f64::MAX, f64::min);
            near(&format!("{} of the {}", joint["joint"], board.label), nearest, wanted, TRUE);
            // Along the part it runs along the part, square to the end it runs square to it.
            let straight = if asked["axis"] == "along" { Vec3::X } else { cut.normal };
            near("its axis", between(axis, straight).min(180.0 - between(axis, straight)), 0.0, 1e-4);
            if asked["axis"] == "along" { along += 1 } else { square += 1 }
        }
    }
    assert!(square > 12 && along > 12, "{square} {along}");
}

/// A gauge run along the arris of the face side from the edge named, and one down from the face side, meet at the mouth.
#[test]
fn marks_gauged_from_edge_and_face_meet_at_the_mouth() {
    let mut gauged = 0;
    for made in pieces() {
        for joint in made.json["joints"].as_array().expect("joints") {
            let boards = made.boards();
            let board = boards.iter().find(|board| board.json["id"] == joint["board"]).expect("a board");
            let Some(cut) = board.cuts.iter().position(|cut| joint["on"] == cut.place.as_str()) else { continue };
            let centre = Point3::ORIGIN + vector(&joint["centre"]);
            let middle = &joint["middle"];
            let [of, from] = ["of", "from"].map(|name| middle[name].as_str());
            if of != Some(board.sides[0].as_str()) {
                continue;
            }
            near("square to the face side", middle["square"].as_f64().expect("a distance"), -centre.z, TRUE);
            let [Some(corner), _] = board.beside(cut, from.expect("an edge")) else { continue };
            let rim = board.rims[0].iter().find(|stretch| stretch.cut == Some(cut)).expect("a line");
            let line = rim.segment.end() - rim.segment.start();
            let line = Vec3::new(line.x, line.y, 0.0).unit().expect("a direction");
            let found = (centre - corner).dot(line).abs();
            near("along the arris", middle["station"].as_f64().expect("a distance"), found, TRUE);
            gauged += 1;
            in_words(made, board, joint);
        }
    }
    assert!(gauged > 60, "{gauged}");
}

/// How the line of the schedule says that it leans.
fn in_words(made: &Made, board: &Board, joint: &Json) {
    let head = format!(
        "  joint {} {} on the {}",
        joint["joint"].as_str().expect("a name"),
        joint["number"],
        joint["on"].as_str().expect("a surface")
    );
    let lines = made.said_of(&board.label);
    let own: Vec<&String> = lines.iter().filter(|line| line.starts_with(&head)).collect();
    // Its lean off square to the surface, where there is any to be set.
    let (axis, cut) =
        (vector(&joint["axis"]), board.cuts.iter().find(|cut| joint["on"] == cut.place.as_str()).expect("an end"));
    let tilt = between(axis, cut.normal).min(180.0 - between(axis, cut.normal));
    near("tilt", joint["tilt"].as_f64().expect("an angle"), tilt, 1e-4);
    let told = own.iter().find_map(|line| line.split("; ").find(|one| one.ends_with("off square to its surface")));
    match told {
        Some(words) => near(words, number(words), tilt, PRINTED),
        None => assert!(tilt < 0.06, "{own:?}"),
    }
    let off_face = joint["off_face"].as_f64().expect("an angle");
    near("off the face", off_face, 90.0 - between(axis, Vec3::Z).min(180.0 - between(axis, Vec3::Z)), 1e-4);
    let flat = Point::new(axis.x, axis.y);
    near(
        "off the length",
        joint["off_length"].as_f64().expect("an angle"),
        flat.y.abs().atan2(flat.x.abs()).to_degrees(),
        1e-4,
    );
}

/// Lying flat on its far side, on the spacer told, the middle of the mortise is as high as the machine's cutter.
#[test]
fn a_spacer_brings_the_mortise_to_the_cutter() {
    let mut told = 0;
    for made in pieces() {
        for finding in made.told("beyond-the-fence") {
            let Some(rest) = finding.remedy.strip_prefix("cut it lying flat") else { continue };
            let (_, label) = finding.message.split_once(" in the ").expect("a board");
            let board = made.board(label.split_once(" lies ").expect("a board").0);
            let from = finding.measure("from");
            let height = made.project.shop.mortiser.as_ref().and_then(|m| m.height).expect("a height").mm();
            let above = board.thickness - from;
            assert!(rest.contains(&format!("the {} down", board.sides[1])), "{rest}");
            let spacer = rest.split("spacer ").nth(1).map_or(0.0, number);
            let lifted = if rest.contains("the machine on a spacer") { [0.0, spacer] } else { [spacer, 0.0] };
            near(rest, above + lifted[0], height + lifted[1], 0.051);
            told += 1;
        }
    }
    assert!(told > 20, "{told}");
}
