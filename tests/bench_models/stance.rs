//! A piece stood on the floor and weighed: cut into slices by planes of its own, and pressed on the edge of its top.

use super::made::{Board, Made};
use super::{near, number, pieces};
use fullsize::geometry::{Point, Point3, Vec2, Vec3};
use kurbo::{BezPath, PathEl};

/// The force stands this far in from the edge, mm (ISO 7172:1988, clause 5).
const IN: f64 = 50.0;

/// Slices through the thickness of a board.
const SLICES: u32 = 96;

/// A path of the data as a ring of points near enough together.
fn ring(path: &str) -> Vec<Point> {
    let mut all = Vec::new();
    kurbo::flatten(BezPath::from_svg(path).expect("a path"), 0.005, |element| match element {
        PathEl::MoveTo(p) | PathEl::LineTo(p) => all.push(p),
        _ => {}
    });
    all
}

/// A ring's part on the inner side of `n . p <= offset`.
fn clipped(ring: &[Point], n: Vec2, offset: f64) -> Vec<Point> {
    let over = |p: Point| n.dot(p.to_vec2()) - offset;
    let mut kept = Vec::new();
    for (a, b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
        let (x, y) = (over(*a), over(*b));
        if x <= 0.0 {
            kept.push(*a);
        }
        if (x < 0.0 && y > 0.0) || (x > 0.0 && y < 0.0) {
            kept.push(a.lerp(*b, x / (x - y)));
        }
    }
    kept
}

/// Twice the area and six times its moment.
fn moments(ring: &[Point]) -> (f64, Vec2) {
    ring.iter().zip(ring.iter().cycle().skip(1)).fold((0.0, Vec2::ZERO), |(area, moment), (a, b)| {
        let cross = a.to_vec2().cross(b.to_vec2());
        (area + cross, moment + (a.to_vec2() + b.to_vec2()) * cross)
    })
}

/// Volume, mm³, and centre of gravity of a board in its own axes, from its outline and its planes alone.
fn weighed(board: &Board) -> (f64, Point3) {
    let outline = ring(board.json["outline"].as_str().expect("a path"));
    let step = board.thickness / f64::from(SLICES);
    let (mut volume, mut x, mut y, mut z) = (0.0, 0.0, 0.0, 0.0);
    for i in 0..SLICES {
        let w = -(f64::from(i) + 0.5) * step;
        let slice = board.cuts.iter().fold(outline.clone(), |ring, cut| {
            clipped(&ring, Vec2::new(cut.normal.x, cut.normal.y), cut.offset - cut.normal.z * w)
        });
        let (double, moment) = moments(&slice);
        let area = double.abs() / 2.0;
        let sign = double.signum() / 6.0;
        volume += area * step;
        x += moment.x * sign * step;
        y += moment.y * sign * step;
        z += area * step * w;
    }
    (volume, Point3::new(x / volume, y / volume, z / volume))
}

/// A board with its joints made: each mortise or tenon is its section as long as its centre line, its weight in the middle of that.
fn jointed(made: &Made, board: &Board, (volume, centre): (f64, Point3)) -> (f64, Point3) {
    let of = |json: &serde_json::Value| json.as_f64().expect("a number");
    let place = |json: &serde_json::Value| Vec3::new(of(&json[0]), of(&json[1]), of(&json[2]));
    let first = |joint: &&serde_json::Value| {
        joint["board"] == board.json["id"] && joint["copies"].as_array().is_some_and(|all| all.contains(&0.into()))
    };
    let joints = made.json["joints"].as_array().expect("joints").iter().filter(first);
    let (whole, moment) = joints.fold((volume, centre.to_vec() * volume), |(whole, moment), joint| {
        let [thick, wide] = ["thickness", "width"].map(|size| of(&joint["tenon"][size]));
        let corners =
            if joint["round_ends"] == true { (1.0 - std::f64::consts::FRAC_PI_4) * thick * thick } else { 0.0 };
        let deep = of(&joint["depth"]);
        let sign = if joint["kind"] == "standing tenon" { 1.0 } else { -1.0 };
        let own = sign * (thick * wide - corners) * deep;
        (whole + own, moment + (place(&joint["centre"]) + place(&joint["axis"]) * (deep / 2.0)) * own)
    });
    (whole, Point3::ORIGIN + moment * (1.0 / whole))
}

/// Whether a fastener of the top takes wood from a board.
fn is_fastened(made: &Made, board: &Board) -> bool {
    let all = made.json["fixings"]["fasteners"].as_array();
    all.is_some_and(|all| all.iter().any(|one| one["part"] == board.json["id"] || one["part"] == *board.label))
}

fn one(made: &Made) -> bool {
    let boards = made.boards();
    if boards.iter().any(|board| !board.json["turned"].is_null()) {
        return false;
    }
    let (mut volume, mut sum) = (0.0, Vec2::ZERO);
    let mut feet: Vec<Point> = Vec::new();
    for board in &boards {
        let (own, centre) = weighed(board);
        let (worked, middle) = jointed(made, board, (own, centre));
        let volume_told = board.json["volume"].as_f64().expect("a volume");
        if is_fastened(made, board) {
            // What screws and buttons take is less than a twentieth; the schedule tells no depths of theirs to work it out from.
            assert!(volume_told < worked && volume_told > 0.95 * worked, "{}: {volume_told} {worked}", board.label);
        } else {
            near("volume", volume_told, worked, 1e-3 * worked);
            for (axis, found) in [middle.x, middle.y, middle.z].into_iter().enumerate() {
                near(&board.label, board.json["centroid"][axis].as_f64().expect("a number"), found, 0.05);
            }
        }
        for (_, at) in &board.places {
            let world = at.to_world(centre);
            volume += own;
            sum += Vec2::new(world.x, world.y) * own;
            for (path, z) in [("face", 0.0), ("far_face", -board.thickness)] {
                let rim = ring(board.json[path].as_str().expect("a path"));
                let rim = rim.iter().map(|p| at.to_world(Point3::new(p.x, p.y, z)));
                feet.extend(rim.filter(|p| p.z.abs() < 0.5).map(|p| Point::new(p.x, p.y)));
            }
        }
    }
    let facts = &made.json["facts"];
    let Some(force) = facts["tipping_force"].as_f64() else { return false };
    let centre = (sum / volume).to_point();
    let top = made.board("top");
    let at = top.places[0].1;
    let edge: Vec<Point> = ring(top.json["face"].as_str().expect("a path"))
        .iter()
        .map(|p| at.to_world(Point3::new(p.x, p.y, 0.0)))
        .map(|p| Point::new(p.x, p.y))
        .collect();
    // Every line through two feet with all the others on one side of it is one to tip about.
    let mut least = (f64::MAX, Point::ORIGIN);
    for (a, b) in feet.iter().flat_map(|a| feet.iter().map(move |b| (*a, *b))).filter(|(a, b)| a.distance(*b) > 1.0) {
        let out = -(b - a).normalize().turn_90();
        if feet.iter().any(|p| (*p - a).dot(out) > 1e-6) {
            continue;
        }
        for p in &edge {
            let lever = (*p - a).dot(out) - IN;
            if lever > 1.0 {
                let share = (a - centre).dot(out) / lever;
                if share < least.0 {
                    least = (share, *p);
                }
            }
        }
    }
    // White oak, as the table of woods has it; 9.80665 m/s².
    let words = made.text.lines().find(|line| line.contains("vertical force that lifts a foot")).expect("words");
    let mass = number(words.rsplit("wood, ").next().expect("a mass"));
    let density = mass / volume * 1e9;
    assert!((600.0..900.0).contains(&density), "{density}");
    let wanted = least.0 * mass * 9.80665;
    near(words, force, wanted, 0.004 * wanted + least.0 * 0.51);
    true
}

#[test]
fn a_force_on_the_edge_lifts_a_foot_as_the_weight_lies() {
    let tipped = pieces().iter().filter(|made| one(made)).count();
    assert!(tipped > 5, "{tipped}");
}
