//! A joint put together after it was sawn at its nominal number: the part is slid along until the first corner touches, and a feeler
//! gauge goes into every other one.

use super::made::{Board, Cut, Made};
use super::{between, near, number, pieces, turned};
use fullsize::board::{self, EdgeName};
use fullsize::geometry::{Plane, Point, Point3, Segment, Vec3};
use fullsize::units::Angle;
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
fn blade(normal: Vec3, mitre: f64, bevel: f64) -> Vec3 {
    let along = Vec3::X * normal.x.signum();
    let settings = [mitre, -mitre].into_iter().flat_map(|mitre| [bevel, -bevel].map(|bevel| (mitre, bevel)));
    let blades = settings.map(|(mitre, bevel)| {
        let ahead = turned(along, Vec3::Z, mitre);
        turned(ahead, ahead.cross(Vec3::Z), bevel)
    });
    let nearest = blades.min_by(|a, b| between(*a, normal).total_cmp(&between(*b, normal)));
    nearest.expect("four blades")
}

/// What a feeler gauge finds at each corner of a surface that was to lie in a plane, when every corner was sawn off along its own arris by
/// the blade, and the part slid along until the first one touches, mm.
fn felt(corners: &[Point3], arrises: &[Vec3], (normal, offset): (Vec3, f64), blade: Vec3) -> Vec<f64> {
    let sawn = corners.iter().zip(arrises).map(|(p, way)| *p - *way * (blade.dot(*p - corners[0]) / blade.dot(*way)));
    let out: Vec<f64> = sawn.map(|p| normal.dot(p.to_vec()) - offset).collect();
    let first = out.iter().copied().fold(f64::MIN, f64::max);
    out.iter().map(|by| first - by).collect()
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
    let wanted = felt(&corners, &arrises, (cut.normal, cut.offset), blade(cut.normal, mitre, bevel));
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
    let own: Vec<&String> =
        lines.iter().filter(|line| line.contains(&format!("sawn at the {from} alone, "))).collect();
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

/// Boards whose edges do not run along them, and of which neither angle of the cut is the nominal one: then it counts along which arris each
/// corner is sawn. Every corner's arris is that of the face on which it lies.
#[test]
fn each_corner_is_sawn_along_its_own_arris() {
    for (lower, upper, normal, nominal) in [
        (4.0, -9.0, Vec3::new(0.94, 0.27, 0.21), (10.0, 5.0)),
        (-7.0, 11.0, Vec3::new(0.91, -0.31, 0.27), (24.0, 0.0)),
        (12.0, -3.0, Vec3::new(0.9, 0.2, -0.38), (4.0, 30.0)),
    ] {
        let rise = |degrees: f64| 500.0 * f64::tan(f64::to_radians(degrees));
        let outline = [(0.0, 0.0), (500.0, rise(lower)), (500.0, 90.0 + rise(upper)), (0.0, 90.0)].map(Point::from);
        let edge = |i: usize| {
            let line = Segment::line(outline[i], outline[(i + 1) % 4]);
            board::Edge::new(EdgeName::Given(format!("edge {i}")), vec![line])
        };
        let plane = Plane::through(Point3::new(380.0, 40.0, 0.0), normal).expect("a plane");
        let nominal = board::Nominal {
            mitre: Angle::from_degrees(nominal.0),
            bevel: Angle::from_degrees(nominal.1),
            from: "splay",
        };
        let cut = board::Cut {
            place: EdgeName::RightEnd,
            against: None,
            role: board::Role::End,
            plane,
            nominal: Some(nominal),
        };
        let part = board::Board {
            thickness: 30.0,
            edges: (0..4).map(edge).collect(),
            cuts: vec![cut],
            keep: None,
            sides: ["face", "far"],
        };
        let solid = part.solid().expect("a solid");
        let saw = &part.saw_cuts(&solid)[0];
        let corners: Vec<Point3> = part.end_corners(0, &solid).iter().map(|corner| corner.at).collect();
        // The lower edge rises by its angle, the upper one by its own: a corner belongs to the nearer.
        let arrises: Vec<Vec3> = corners
            .iter()
            .map(|p| {
                let is_lower =
                    (p.y - p.x * rise(lower) / 500.0).abs() < (p.y - 90.0 - p.x * rise(upper) / 500.0).abs();
                turned(Vec3::X, Vec3::Z, if is_lower { lower } else { upper })
            })
            .collect();
        let blade = blade(plane.normal(), nominal.mitre.degrees(), nominal.bevel.degrees());
        let wanted = felt(&corners, &arrises, (plane.normal(), plane.offset()), blade);
        assert_eq!(saw.naive_gap.len(), 4);
        for (gap, open) in saw.naive_gap.iter().zip(&wanted) {
            near(&gap.corner, gap.open, *open, TRUE);
        }
        assert!(wanted.iter().any(|open| *open > 0.5), "{wanted:?}");
    }
}
