//! A joint put together after it was sawn at its nominal number: the part is slid along until the first corner touches, and a feeler
//! gauge goes into every other one.

use super::made::{Board, Cut, Made};
use super::{between, near, number, pieces, turned};
use fullsize::geometry::{Point3, Segment, Vec3};
use serde_json::Value as Json;

/// How near a gap comes to the one measured here, mm.
const TRUE: f64 = 1e-4;

/// The line of the rim that ends in a corner of the cut, beside it: `None` where that is no straight one.
fn arris(board: &Board, index: usize, corner: Point3) -> Option<Vec3> {
    let side = usize::from(corner.z < -board.thickness / 2.0);
    let ends_here = |segment: &Segment| {
        [segment.start(), segment.end()].into_iter().any(|p| (p.x - corner.x).hypot(p.y - corner.y) < 1e-5)
    };
    let own = board.rims[side].iter().find(|stretch| stretch.cut != Some(index) && ends_here(&stretch.segment))?;
    let Segment::Line(line) = own.segment else { return None };
    Vec3::new(line.p1.x - line.p0.x, line.p1.y - line.p0.y, 0.0).unit()
}

/// The normal of a blade set to the nominal number, on the side on which the true one lies.
fn blade(cut: &Cut, mitre: f64, bevel: f64) -> Vec3 {
    let along = Vec3::X * cut.normal.x.signum();
    let settings = [mitre, -mitre].into_iter().flat_map(|mitre| [bevel, -bevel].map(|bevel| (mitre, bevel)));
    let blades = settings.map(|(mitre, bevel)| {
        let ahead = turned(along, Vec3::Z, mitre);
        turned(ahead, ahead.cross(Vec3::Z), bevel)
    });
    let nearest = blades.min_by(|a, b| between(*a, cut.normal).total_cmp(&between(*b, cut.normal)));
    nearest.expect("four blades")
}

fn one(made: &Made, board: &Board, index: usize, json: &Json) -> bool {
    let (cut, nominal, told) = (&board.cuts[index], &json["nominal"], &json["naive_gap"]);
    let (Some(mitre), Some(bevel)) = (nominal["mitre"].as_f64(), nominal["bevel"].as_f64()) else { return false };
    let corners = board.corners_of_cut(index);
    let Some(arrises) = corners.iter().map(|p| arris(board, index, *p)).collect::<Option<Vec<Vec3>>>() else {
        return false;
    };
    // Two ways to turn the gauge are as near as each other: nothing is known of the hand.
    if (mitre > 0.0 && cut.normal.y.abs() < 1e-6) || (bevel > 0.0 && cut.normal.z.abs() < 1e-6) {
        return false;
    }
    let blade = blade(cut, mitre, bevel);
    let sawn =
        corners.iter().zip(&arrises).map(|(p, way)| *p - *way * (blade.dot(*p - corners[0]) / blade.dot(*way)));
    let out: Vec<f64> = sawn.map(|p| cut.normal.dot(p.to_vec()) - cut.offset).collect();
    let first = out.iter().copied().fold(f64::MIN, f64::max);
    let wanted: Vec<f64> = out.iter().map(|by| first - by).collect();
    let told = told.as_object().expect("gaps");
    if told.len() != corners.len() {
        return false;
    }
    // Each corner by its name: the side on which it lies, and the edge that ends there.
    for (corner, open) in corners.iter().zip(&wanted) {
        let side = &board.sides[usize::from(corner.z < -board.thickness / 2.0)];
        let named = |name: &str| {
            let edge = name.trim_end_matches(side.as_str()).trim_end_matches([',', ' ']);
            let edge = if matches!(edge, "upper" | "lower") { format!("{edge} edge") } else { edge.to_owned() };
            let at = fullsize::geometry::Point::new(corner.x, corner.y);
            let own = board.rims.iter().flatten().filter(|stretch| stretch.name == edge);
            name.ends_with(side.as_str()) && own.map(|s| s.segment.nearest(at).0).fold(f64::MAX, f64::min) < 1e-5
        };
        let Some((name, said)) = told.iter().find(|(name, _)| named(name)) else {
            panic!("{}: no gap for {corner:?} among {told:?}", board.label)
        };
        near(&format!("{} {} {name}", board.label, cut.place), said.as_f64().expect("a gap"), *open, TRUE);
    }
    in_words(made, board, nominal, told);
    wanted.iter().any(|open| *open > 0.05)
}

/// The words tell every corner at which a feeler gauge goes in, with as much.
fn in_words(made: &Made, board: &Board, nominal: &Json, told: &serde_json::Map<String, Json>) {
    let from = nominal["from"].as_str().expect("a number's name");
    let lines = made.said_of(&board.label);
    let own: Vec<&&str> = lines.iter().filter(|line| line.contains(&format!("sawn at the {from} alone, "))).collect();
    assert!(!own.is_empty(), "{}: {lines:?}", board.label);
    let open: Vec<(&String, f64)> = told.iter().map(|(name, open)| (name, open.as_f64().expect("a gap"))).collect();
    let says = |line: &str| {
        let after = line.split(": open at ").nth(1).unwrap_or("");
        let said: Vec<&str> = after.split("; ").collect();
        let wanted: Vec<&(&String, f64)> = open.iter().filter(|(_, mm)| *mm > 0.06).collect();
        wanted.iter().all(|(name, mm)| {
            let corner = said.iter().find_map(|one| one.strip_prefix(&format!("{name} ")));
            corner.is_some_and(|words| (number(words) - mm).abs() < 0.00501)
        })
    };
    assert!(own.iter().any(|line| says(line)), "{open:?}: {own:?}");
}

#[test]
fn a_joint_sawn_at_its_nominal_number_stands_open_as_told() {
    let mut open = 0;
    for made in pieces() {
        for board in made.boards().iter().filter(|board| board.json["turned"].is_null()) {
            for json in board.json["cuts"].as_array().expect("cuts") {
                let is_own = |cut: &Cut| {
                    let same = |i: usize, v: f64| (json["normal"][i].as_f64().expect("a number") - v).abs() < 1e-9;
                    cut.place == json["where"] && same(0, cut.normal.x) && same(1, cut.normal.y)
                };
                let index = board.cuts.iter().position(is_own).expect("a cut");
                open += usize::from(one(made, board, index, json));
            }
        }
    }
    assert!(open > 40, "{open}");
}
