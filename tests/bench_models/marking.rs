//! A maker with rule, square and gauge, who marks every mortise from what the schedule tells and finds it where the solid has it.

use super::made::{Board, Made, Stretch, made};
use super::{KINDS, between, each, number, pieces};
use fullsize::geometry::{Plane, Point, Point3, Segment, Vec3};
use serde_json::Value as Json;

/// What arithmetic on unrounded numbers leaves, mm.
pub(super) const TRUE: f64 = 1e-4;

/// Half of the last place in which lengths are printed, mm, and what arithmetic adds.
pub(super) const SAID: f64 = 0.0501;

/// Lines that cross at less, degrees, are not told from one another; surfaces that meet at less have no arris.
const CROSSING: f64 = 30.0;

/// A line to mark along: from where, which way, and how far it goes on.
struct Rule {
    from: Point3,
    way: Vec3,
    length: f64,
}

/// The surface with the mouth: its name as a maker says it, its plane, and the rim on which it lies where it is a face.
pub(super) struct Ground {
    name: String,
    normal: Vec3,
    offset: f64,
    side: Option<usize>,
}

pub(super) fn text<'a>(json: &'a Json, name: &str) -> &'a str {
    json[name].as_str().unwrap_or_else(|| panic!("no {name}: {json:#}"))
}

pub(super) fn length(json: &Json, name: &str) -> f64 {
    json[name].as_f64().unwrap_or_else(|| panic!("no {name}: {json:#}"))
}

fn vector(json: &Json) -> Vec3 {
    let at = |i: usize| json[i].as_f64().expect("a number");
    Vec3::new(at(0), at(1), at(2))
}

fn way_of(stretch: &Stretch) -> Option<Vec3> {
    let way = stretch.segment.end() - stretch.segment.start();
    matches!(stretch.segment, Segment::Line(_)).then(|| Vec3::new(way.x, way.y, 0.0).unit())?
}

pub(super) fn ground(board: &Board, on: &str) -> Ground {
    let side = ["face", "far_face"].iter().position(|face| *face == on);
    let name = side.map_or(on, |side| &board.sides[side]).to_owned();
    let normal = board.out_of(&name);
    let offset = match (side, board.cuts.iter().find(|cut| cut.place == name)) {
        (Some(0), _) => 0.0,
        (Some(_), _) => board.thickness,
        (None, Some(cut)) => cut.offset,
        (None, None) => {
            let own = board.rims[0].iter().find(|stretch| stretch.name == name).expect("an edge");
            assert!(way_of(own).is_some(), "a mouth on a curve");
            let p = own.segment.start();
            normal.dot(Vec3::new(p.x, p.y, 0.0))
        }
    };
    Ground { name, normal, offset, side }
}

/// Where two stretches of a face's rim meet, and from there along the first.
fn corner(board: &Board, side: usize, along: &str, stop: &str) -> Option<(Rule, Vec3)> {
    let (rim, z) = (&board.rims[side], if side == 0 { 0.0 } else { -board.thickness });
    let lift = |p: Point| Point3::new(p.x, p.y, z);
    (0..rim.len()).find_map(|i| {
        let (a, b) = (&rim[i], &rim[(i + 1) % rim.len()]);
        let (own, other, forward) = match (a.name == along && b.name == stop, b.name == along && a.name == stop) {
            (true, _) => (a, b, false),
            (_, true) => (b, a, true),
            _ => return None,
        };
        let way = way_of(own)?;
        let stopped = if forward { other.segment.tangent(1.0) } else { other.segment.tangent(0.0) };
        let stopped = Vec3::new(stopped.x, stopped.y, 0.0).unit()?;
        let length = own.segment.start().distance(own.segment.end());
        let (from, way) = if forward { (own.segment.start(), way) } else { (own.segment.end(), -way) };
        Some((Rule { from: lift(from), way, length }, stopped))
    })
}

/// The drawn line from the middle of one end of a face to the middle of the other.
fn centre_line(board: &Board, side: usize, from: &str) -> Rule {
    let z = if side == 0 { 0.0 } else { -board.thickness };
    let ends: Vec<&Stretch> =
        board.rims[side].iter().filter(|s| way_of(s).is_some_and(|way| way.y.abs() > 0.5)).collect();
    let middle = |s: &Stretch| s.segment.eval(0.5);
    let first = ends.iter().min_by(|a, b| middle(a).x.total_cmp(&middle(b).x)).expect("an end");
    let last = ends.iter().max_by(|a, b| middle(a).x.total_cmp(&middle(b).x)).expect("an end");
    let (own, other) = if first.name == from { (first, last) } else { (last, first) };
    assert_eq!(own.name, from);
    let lift = |p: Point| Point3::new(p.x, p.y, z);
    let (a, b) = (lift(middle(own)), lift(middle(other)));
    let way = (b - a).unit().expect("a line");
    assert!(way.cross(way_of(own).expect("a line")).length() > 0.5, "{from} crosses the centre line");
    Rule { from: a, way, length: a.distance(b) }
}

/// A line of two planes.
fn meeting(a: (Vec3, f64), b: (Vec3, f64), c: (Vec3, f64)) -> Point3 {
    let plane =
        |(normal, offset): (Vec3, f64)| Plane::through(Point3::ORIGIN + normal * offset, normal).expect("a plane");
    fullsize::geometry::meet(&plane(a), &plane(b), &plane(c)).expect("three planes meet")
}

/// The rule laid on the wood, with what proves that it can be.
fn laid(board: &Board, on: &Ground, middle: &Json) -> Rule {
    let of = text(middle, "of");
    if let Some(side) = on.side {
        let (rule, stop) = corner(board, side, of, text(middle, "from")).unwrap_or_else(|| panic!("{middle:#}"));
        assert!(between(rule.way, stop).min(180.0 - between(rule.way, stop)) > CROSSING, "{middle:#}");
        return rule;
    }
    let side = board.sides.iter().position(|side| side == of);
    let from = text(middle, "from");
    assert!(between(on.normal, board.out_of(of)) > CROSSING, "no arris: {middle:#}");
    let felt = between(on.normal, board.out_of(from));
    match side {
        Some(side) => {
            let (rule, stop) = corner(board, side, &on.name, from).unwrap_or_else(|| panic!("{middle:#}"));
            assert!(
                between(rule.way, stop).min(180.0 - between(rule.way, stop)) > CROSSING && felt > CROSSING,
                "{middle:#}"
            );
            rule
        }
        None => {
            let plane = |name: &str| ground_of(board, name);
            let at = meeting((on.normal, on.offset), plane(of), plane(from));
            let way = on.normal.cross(plane(of).0).unit().expect("a direction");
            // Into the wood.
            let way = if way.dot(plane(from).0) < 0.0 { way } else { -way };
            Rule { from: at, way, length: f64::MAX }
        }
    }
}

fn ground_of(board: &Board, name: &str) -> (Vec3, f64) {
    let named =
        ["face", "far_face"].into_iter().zip(&board.sides).find(|(_, side)| *side == name).map(|(key, _)| key);
    let ground = ground(board, named.unwrap_or(name));
    (ground.normal, ground.offset)
}

/// Marks the middle of a mouth as told: along the line, then square off it in the surface, on either side.
pub(super) fn marked(made: &Made, board: &Board, on: &Ground, middle: &Json) -> [Point3; 2] {
    let (station, offset) = (length(middle, "station"), length(middle, "offset"));
    let either = |at: Point3, way: Vec3| {
        let square = on.normal.cross(way).unit().expect("a direction");
        [at + square * offset, at - square * offset]
    };
    let blank = board.solved.blank();
    match text(middle, "line") {
        "arris" if text(middle, "from") == "middle line" => {
            let xs = || board.rims[0].iter().map(|s| s.segment.bounding_box());
            let (low, high) =
                (xs().map(|b| b.x0).fold(f64::MAX, f64::min), xs().map(|b| b.x1).fold(f64::MIN, f64::max));
            let across = (Vec3::X, (low + high) / 2.0);
            let (of, own) = (ground_of(board, text(middle, "of")), (on.normal, on.offset));
            either(meeting(own, of, across), own.0.cross(of.0).unit().expect("an arris"))
        }
        "arris" => {
            let rule = laid(board, on, middle);
            assert!(station <= rule.length + TRUE, "the rule lies on the wood: {middle:#}");
            either(rule.from + rule.way * station, rule.way)
        }
        "centre line" => {
            let rule = centre_line(board, on.side.expect("a face"), text(middle, "from"));
            let at = rule.from + rule.way * station;
            let towards = middle["towards"].as_str();
            let found = either(at, rule.way);
            let (Some(towards), true) = (towards, offset > 0.05) else { return found };
            // On the side of the edge named.
            let square = (found[0] - at).unit().expect("a direction");
            let edge = board.rims[on.side.expect("a face")].iter().filter(|s| s.name == towards);
            let points = edge.flat_map(|s| (0..=16).map(|i| s.segment.eval(f64::from(i) / 16.0)));
            let away = |p: &Point| (Vec3::new(p.x - at.x, p.y - at.y, 0.0).dot(rule.way)).abs();
            let nearest = points.min_by(|a, b| away(a).total_cmp(&away(b))).expect("an edge");
            let first = Vec3::new(nearest.x - at.x, nearest.y - at.y, 0.0).dot(square) > 0.0;
            if first { [found[0]; 2] } else { [found[1]; 2] }
        }
        "centre line, squared over" => {
            let rule = centre_line(board, 0, text(middle, "from"));
            let at = rule.from + rule.way * station;
            let squared = (rule.way, rule.way.dot(at.to_vec()));
            let over = meeting((on.normal, on.offset), (Vec3::Z, 0.0), squared);
            either(over, on.normal.cross(Vec3::Z))
        }
        "blank" => {
            let at = |side: &str, distance: f64| match side {
                "left end of the net blank" => blank.x0 + distance,
                "right end of the net blank" => blank.x1 - distance,
                side if side.starts_with("lower") || side.starts_with("front") => blank.y0 + distance,
                _ => blank.y1 - distance,
            };
            let (x, y) = (at(text(middle, "from"), station), at(text(middle, "of"), offset));
            [Point3::new(x, y, if on.side == Some(0) { 0.0 } else { -board.thickness }); 2]
        }
        other => panic!("{other} of {} in {}", board.label, made.project.title),
    }
}

/// Finds every mortise of a piece; how many by each kind of line.
fn find(made: &Made, found: &mut [usize; 6]) {
    for joint in made.json["joints"].as_array().expect("joints") {
        let boards = made.boards();
        let board = boards.iter().find(|board| board.json["id"] == joint["board"]).expect("a board");
        let (middle, centre) = (&joint["middle"], Point3::ORIGIN + vector(&joint["centre"]));
        let Some(on) = joint["on"].as_str().filter(|_| board.solved.turned.is_none()) else { continue };
        assert!(middle.is_object(), "{joint:#}");
        let on = ground(board, on);
        let marks = marked(made, board, &on, middle);
        let off = marks.iter().map(|mark| mark.distance(centre)).fold(f64::MAX, f64::min);
        assert!(off < TRUE, "{off} off: {} {:#} {:?}", made.project.title, joint, marks);
        let reach = made.project.shop.gauge.mm();
        assert_eq!(text(middle, "by") == "gauge", length(middle, "offset") <= reach, "{middle:#}");
        near_end(board, text(middle, "from"), &on, centre);
        told_in_words(made, board, joint);
        found[5] += usize::from(comes_out(made, board, joint));
        let lines = ["arris", "centre line", "centre line, squared over", "blank"];
        let kind = lines.iter().position(|line| *line == text(middle, "line")).unwrap_or(4);
        found[kind] += 1;
    }
}

/// Where a through mortise comes out, as told, its centre line does; whether it is told.
fn comes_out(made: &Made, board: &Board, joint: &Json) -> bool {
    let (far, middle) = (&joint["far_mouth"], &joint["far_middle"]);
    if !middle.is_object() {
        assert!(far.is_null() || board.solved.turned.is_some(), "{joint:#}");
        return false;
    }
    let key = text(far, "on");
    let (centre, axis) = (vector(&joint["centre"]), vector(&joint["axis"]));
    let own = board.rims[0].iter().filter(|stretch| stretch.name == key);
    if own.clone().any(|stretch| way_of(stretch).is_none()) {
        let curve: Vec<&Segment> = own.map(|stretch| &stretch.segment).collect();
        out_of_curve(board, &curve, (Point3::ORIGIN + centre, axis), middle);
        let says = format!("; comes out on the {key}, middle ");
        assert!(made.said_of(&board.label).iter().any(|line| line.contains(&says)), "{joint:#}");
        return true;
    }
    let on = ground(board, key);
    let out = Point3::ORIGIN + centre + axis * ((on.offset - on.normal.dot(centre)) / on.normal.dot(axis));
    let marks = marked(made, board, &on, middle);
    let off = marks.iter().map(|mark| mark.distance(out)).fold(f64::MAX, f64::min);
    assert!(off < TRUE, "{off} off: {joint:#} {marks:?}");
    let head = format!("  joint {} {} on the ", text(joint, "joint"), joint["number"]);
    let says = format!("; comes out on the {}, middle ", on.name);
    let lines = made.said_of(&board.label);
    let said = lines.iter().filter(|line| line.starts_with(&head)).any(|line| {
        let rest = line.split(&says).nth(1).and_then(|rest| rest.split(';').next());
        let told = rest.and_then(|rest| rest.split_once(" and "));
        told.is_some_and(|(along, off)| {
            let along_is =
                along.starts_with("on the middle line") || (number(along) - length(middle, "station")).abs() < SAID;
            along_is && (off == "on that line" || (number(off) - length(middle, "offset")).abs() < SAID)
        })
    });
    assert!(said, "{joint:#} {lines:#?}");
    let words = board.pattern(made);
    let said = words.items.iter().any(|item| match &item.shape {
        fullsize::page::Shape::Text(text) => {
            text.content.contains(&format!(": comes out on the {}, middle", on.name))
        }
        _ => false,
    });
    assert!(said, "on the pattern: {joint:#}");
    true
}

/// Squared over from the centre line of the face to a curved edge and down that, where the centre line of the mortise comes out of it.
fn out_of_curve(board: &Board, curve: &[&Segment], (centre, axis): (Point3, Vec3), middle: &Json) {
    let rule = centre_line(board, 0, text(middle, "from"));
    let at = rule.from + rule.way * length(middle, "station");
    let flat = Vec3::new(axis.x, axis.y, 0.0).length();
    let blank = board.solved.blank();
    let end = centre + axis * ((blank.width() + blank.height()) / flat);
    let line = Segment::line(Point::new(centre.x, centre.y), Point::new(end.x, end.y));
    let met = curve.iter().flat_map(|piece| fullsize::geometry::contacts(&line, piece, 1e-6).unwrap_or_default());
    let off = met.map(|contact| {
        let out = centre + axis * (contact.point.distance(Point::new(centre.x, centre.y)) / flat);
        (out - at).dot(rule.way).abs().max((out.z + length(middle, "offset")).abs())
    });
    let off = off.fold(f64::MAX, f64::min);
    assert!(off < TRUE, "{off} off on a curve: {middle:#}");
}

/// Every mortise is found again, from lines that a hand finds, and none is told from afar that lies near.
#[test]
fn every_mortise_is_found_by_rule_and_square() {
    let mut found = [0; 6];
    pieces().iter().for_each(|made| find(made, &mut found));
    assert!(found[0] > 200 && found[1] + found[2] > 5, "{found:?}");
}

/// Through mortises are found from both sides, each from lines of its own surface.
#[test]
fn through_mortises_are_found_from_both_sides() {
    let through = |mut file: Json| {
        for joint in file["joints"].as_object_mut()?.values_mut() {
            joint["mortise"] = "through".into();
            joint["length"] = 90.into();
        }
        made(&file)
    };
    let mut found = [0; 6];
    let files = (0..each()).flat_map(|seed| KINDS.map(|kind| kind(seed)));
    files.filter_map(through).for_each(|made| find(&made, &mut found));
    assert!(found[5] > 10, "{found:?}");
}

/// What is nearer to the head of a leg is not told from its foot.
fn near_end(board: &Board, from: &str, on: &Ground, centre: Point3) {
    let other = match from {
        "head" => "foot",
        "foot" => "head",
        _ => return,
    };
    let has = |name: &str| board.rims[on.side.unwrap_or(0)].iter().find(|s| s.name == name);
    let (Some(own), Some(other)) = (has(from), has(other)) else { return };
    let away = |stretch: &Stretch| (stretch.segment.eval(0.5).x - centre.x).abs();
    // A tapered surface ends where the taper begins.
    let whole = !on.name.starts_with("tapered");
    assert!(!whole || away(own) < away(other) + 2.0 * board.thickness, "{}: {from} on the {}", board.label, on.name);
}

/// The line of the schedule says the same.
fn told_in_words(made: &Made, board: &Board, joint: &Json) {
    let middle = &joint["middle"];
    let head = format!("  joint {} {} on the ", text(joint, "joint"), joint["number"]);
    let lines = made.said_of(&board.label);
    let said = lines.iter().filter(|line| line.starts_with(&head)).any(|line| {
        let rest = line.split("; middle ").nth(1).unwrap_or("").split(';').next().unwrap_or("");
        let Some((along, off)) = rest.split_once(" and ") else { return false };
        let from = text(middle, "from");
        let along_is = match from {
            "middle line" => along == "on the middle line",
            _ => {
                along.contains(&format!("from the {from}"))
                    && (number(along) - length(middle, "station")).abs() < SAID
            }
        };
        let off_is = off == "on that line" || (number(off) - length(middle, "offset")).abs() < SAID;
        // Where end and face are not square to each other both are told, unless they read alike to a tenth.
        let tenths = |mm: f64| (mm * 10.0).round();
        let reads_otherwise = |square: &f64| tenths(*square) != tenths(length(middle, "offset"));
        let is_apart = |square: &f64| (square - length(middle, "offset")).abs() >= SAID && reads_otherwise(square);
        let both = match middle["square"].as_f64().filter(is_apart) {
            Some(square) => off.split('(').nth(1).is_some_and(|rest| (number(rest) - square).abs() < SAID),
            None => true,
        };
        along_is && off_is && both
    });
    assert!(said, "{joint:#} {lines:#?}");
}

/// The pieces with two tenons in place of each.
fn in_rows() -> Vec<Made> {
    let doubled = |mut file: Json| {
        for joint in file["joints"].as_object_mut()?.values_mut() {
            joint.as_object_mut()?.remove("at");
            (joint["count"], joint["width"]) = (2.into(), 8.into());
        }
        made(&file)
    };
    let files = (0..each().div_ceil(3)).flat_map(|seed| KINDS.map(|kind| kind(seed)));
    files.filter_map(doubled).collect()
}

/// All mortises of a joint in one line on one surface are told from one pair of lines.
#[test]
fn a_row_is_told_from_one_pair_of_lines() {
    let (mut rows, mut found) = (0, [0; 6]);
    for made in &in_rows() {
        find(made, &mut found);
        let joints = made.json["joints"].as_array().expect("joints");
        for (i, a) in joints.iter().enumerate().filter(|(_, joint)| joint["on"].is_string()) {
            for b in &joints[i + 1..] {
                if ["joint", "board", "on", "kind"].iter().any(|key| a[*key] != b[*key]) {
                    continue;
                }
                let apart = vector(&b["centre"]) - vector(&a["centre"]);
                // Squarely mortised, so that the row runs along the tenons' width.
                let turned = vector(&a["axis"]).cross(vector(&b["axis"])).length();
                if apart.cross(vector(&a["across"])).length() > 1e-6 || turned > 1e-9 {
                    continue;
                }
                rows += 1;
                for key in ["line", "of", "from"] {
                    assert_eq!(a["middle"][key], b["middle"][key], "{a:#} {b:#}");
                }
            }
        }
    }
    assert!(rows > 10, "{rows}");
}

/// A gauge of the shop that reaches no farther than 20 mm, or as far as 600: what lies beyond is told by rule, in data and in words, and all
/// is found again.
#[test]
fn what_the_shops_gauge_does_not_reach_is_told_by_rule() {
    let mut by = [0; 2];
    for (reach, seed) in [(20, 1), (20, 2), (600, 1)] {
        for kind in KINDS {
            let mut file = kind(seed);
            file["shop"]["gauge"] = reach.into();
            let Some(made) = made(&file) else { continue };
            find(&made, &mut [0; 6]);
            let joints = made.json["joints"].as_array().expect("joints").iter();
            let told = joints.filter(|joint| joint["on"].is_string() && joint["middle"].is_object());
            for joint in told.filter(|_| reach == 20) {
                by[usize::from(joint["middle"]["by"] == "rule")] += 1;
            }
            let says = made.text.contains(" by rule");
            assert!(reach == 20 || !says, "a gauge of 600 mm reaches everything");
            let all_near =
                made.json["joints"].as_array().expect("joints").iter().all(|j| j["middle"]["by"] != "rule");
            assert_eq!(says, !all_near);
        }
    }
    assert!(by[0] > 5 && by[1] > 5, "{by:?}");
}
