//! A table saw and a rip fence with tilting blade, and a bevel gauge set from the arris.

use super::made::{Board, Cut, Made};
use super::{PRINTED, between, degrees, near, number, pieces, turned};
use fullsize::geometry::{Path, Point, Point3, Segment, Vec2, Vec3};
use fullsize::page::{Item, Role, Shape};
use fullsize::pattern::Pattern;
use serde_json::Value as Json;

/// How near the cut solid comes to the solved one, mm.
const TRUE: f64 = 0.02;

/// Less than this, degrees, no one sets.
const SET: f64 = 0.06;

/// What a saw is told of one cut.
struct Told<'a> {
    place: &'a str,
    json: &'a Json,
    /// The lines of the schedule.
    saw: String,
    blade: String,
    points: String,
}

fn told<'a>(made: &'a Made, board: &'a Board<'a>) -> Vec<(&'a Cut, usize, Told<'a>)> {
    let lines = made.said_of(&board.label);
    let cuts = board.json["cuts"].as_array().expect("cuts");
    let mut rest = lines.iter();
    let all = cuts.iter().map(|json| {
        let place = json["where"].as_str().expect("a place");
        let index = board.cuts.iter().position(|cut| {
            let n = ["normal"].map(|name| &json[name])[0];
            let same = |i: usize, v: f64| (n[i].as_f64().expect("a number") - v).abs() < 1e-9;
            cut.place == place && same(0, cut.normal.x) && same(1, cut.normal.y) && same(2, cut.normal.z)
        });
        let index = index.unwrap_or_else(|| panic!("no cut {place}"));
        let head = rest.find(|line| line.starts_with(&format!("  saw {place}"))).unwrap_or_else(|| panic!("{place}"));
        let under: Vec<&str> = rest.clone().map_while(|line| line.strip_prefix("    ")).collect();
        let others = ["long point", "sawn at", "one end in scrap"];
        let is_other = |line: &&str| others.iter().any(|other| line.starts_with(other));
        let blade = under.iter().copied().take_while(|line| !is_other(line)).collect::<Vec<&str>>().join("; ");
        let points = under.iter().copied().find(|line| line.starts_with("long point")).unwrap_or("");
        let told = Told {
            place,
            json,
            saw: head.split_once(": ").map_or("", |(_, words)| words).to_owned(),
            blade,
            points: points.to_owned(),
        };
        (&board.cuts[index], index, told)
    });
    all.collect()
}

fn degrees_of(json: &Json, name: &str) -> f64 {
    json[name].as_f64().unwrap_or_else(|| panic!("{name}: {json:#}"))
}

/// The plane in which a blade cuts: the board lies on its far side, the named edge at the fence, the gauge turned `mitre` off square
/// to it one way or the other, the blade tilted so that the far side is left longer or shorter.
fn blade(along: Vec3, mitre: f64, bevel: f64, far: &str) -> [Vec3; 2] {
    [mitre, -mitre].map(|mitre| {
        let ahead = turned(along, Vec3::Z, mitre);
        let across = ahead.cross(Vec3::Z);
        // A blade leans one way or the other: from the line on the face side straight down to the far side, the cut moves ahead or
        // back, and leaves that side longer or shorter.
        let leaning = [bevel, -bevel].map(|tilt| turned(ahead, across, tilt));
        let ahead_below = |n: &Vec3| n.z / n.dot(ahead);
        let wanted = match far {
            "longer" => 1.0,
            "shorter" => -1.0,
            "equal" => 0.0,
            other => panic!("{other}"),
        };
        let fits = |n: &&Vec3| wanted == 0.0 || ahead_below(n) * wanted > 0.0;
        *leaning.iter().find(fits).unwrap_or_else(|| panic!("no blade leaves the far side {far} at {bevel}"))
    })
}

/// How far the corners of the solid stand off a plane through the first of them, mm.
fn off(normal: Vec3, corners: &[Point3]) -> f64 {
    corners.iter().map(|p| normal.dot(*p - corners[0]).abs()).fold(0.0, f64::max)
}

/// A crosscut: gauge and blade as the data says leave the solved end, and the words say the same.
fn crosscut(board: &Board, cut: &Cut, index: usize, told: &Told) -> usize {
    let corners = board.corners_in(cut);
    if corners.len() < 3 {
        return 0;
    }
    let far = told.json["far_side"].as_str().expect("a side");
    let mut tried = 0;
    let registers = told.json["registers"].as_array().expect("registers");
    for (k, register) in registers.iter().enumerate() {
        let edge = register["edge"].as_str().expect("an edge");
        let [Some(face), below] = board.beside(index, edge) else { panic!("{edge} does not end at {}", told.place) };
        let along = board.along(edge, face);
        let (mitre, bevel) = (degrees_of(register, "mitre"), degrees_of(told.json, "bevel"));
        let mut all = vec![face];
        all.extend(&corners);
        let both = blade(along, mitre, bevel, far).map(|n| off(n, &all));
        assert!(both[0].min(both[1]) < TRUE, "{} {}: {both:?}", board.label, told.place);
        // The line over the register edge, by a square held against its arris.
        if let Some(below) = below.filter(|below| (*below - face).z.abs() > 0.0) {
            let line = below - face;
            let sheer = line.dot(along);
            let found = sheer.abs().atan2((line - along * sheer).length()).to_degrees();
            near("edge line", degrees_of(register, "edge_line"), found, 1e-3);
        }
        // The words: `7.8° (…) off square to the lower edge`, the first edge first.
        let said = told.saw.split(", ").find(|said| said.ends_with(&format!("square to the {edge}")));
        match said {
            Some(said) => near(&told.saw, degrees(said), mitre, PRINTED),
            None => near(&told.saw, degrees_of(&registers[0], "mitre"), mitre, 0.0051),
        }
        if k == 0 {
            assert!(told.saw.contains(&format!("square to the {edge}")), "{}", told.saw);
            tried += 1;
        }
    }
    points(board, &corners, told);
    tried
}

/// The farthest and the nearest corner along the board.
fn points(board: &Board, corners: &[Point3], told: &Told) {
    let out = (corners[0].x - board.middle().x).signum();
    let reach = |p: &Point3| out * p.x;
    let most = corners.iter().map(reach).fold(f64::MIN, f64::max);
    let least = corners.iter().map(reach).fold(f64::MAX, f64::min);
    // An end whose corners all lie as far has neither.
    let is_told = most - least >= 0.05;
    assert_eq!(told.points.is_empty(), !is_told, "{}: {}", told.points, most - least);
    for (name, wanted) in [("long_point", most), ("short_point", least)] {
        let point = &told.json[name];
        let [x, y, z] = [0, 1, 2].map(|i| point["at"][i].as_f64().expect("a number"));
        near(name, out * x, wanted, 1e-5);
        // The words name the side and the edge on which it lies.
        let corner = point["corner"].as_str().expect("a corner");
        let side = usize::from(z < -board.thickness / 2.0);
        assert!(corner.ends_with(&board.sides[side]), "{corner}: {z}");
        let edge = corner.trim_end_matches(&board.sides[side]).trim_end_matches([',', ' ']);
        let edge = if matches!(edge, "upper" | "lower") { format!("{edge} edge") } else { edge.to_owned() };
        let at = Point::new(x, y);
        let own = board.rims[side].iter().filter(|stretch| stretch.name == edge);
        let away = own.map(|stretch| stretch.segment.nearest(at).0).fold(f64::MAX, f64::min);
        assert!(edge.is_empty() || away < 1e-5, "{corner} lies {away} off");
        let said = format!("{} {corner}", name.replace('_', " "));
        assert!(!is_told || told.points.contains(&said), "{}: {said}", told.points);
    }
    if !is_told {
        return;
    }
    let apart = told.points.rsplit("; ").next().map_or(0.0, number);
    near(&told.points, apart, most - least, 0.051);
}

/// Blade and gauge as the words have them, against what is measured on the solid.
fn tilt(board: &Board, cut: &Cut, told: &Told) -> usize {
    let corners = board.corners_in(cut);
    let flat = Vec2::new(cut.normal.x, cut.normal.y).hypot();
    let mean = |side: usize| {
        let z = if side == 0 { 0.0 } else { -board.thickness };
        let own: Vec<&Point3> = corners.iter().filter(|p| (p.z - z).abs() < 1e-9).collect();
        let out = |p: &Point3| (p.x * cut.normal.x + p.y * cut.normal.y) / flat;
        (own.len() > 1).then(|| own.iter().map(|p| out(p)).sum::<f64>() / own.len() as f64)
    };
    let (Some(face), Some(far)) = (mean(0), mean(1)) else { return 0 };
    // On the solid: how much farther out the far side's line lies, over the thickness.
    let slope = ((far - face) / board.thickness).atan().to_degrees();
    near("bevel", degrees_of(told.json, "bevel"), slope.abs(), 1e-3);
    let words = match (slope, cut.is_end) {
        (s, _) if s.abs() < 0.005 => "",
        (s, true) if s > 0.0 => "longer",
        (_, true) => "shorter",
        (s, false) if s > 0.0 => "wider",
        (_, false) => "narrower",
    };
    let said: Vec<&str> = told.blade.split("; ").collect();
    let part = |head: &str| said.iter().find_map(|one| one.strip_prefix(head)).unwrap_or("");
    let how = told.json["how"].as_str().expect("how");
    assert_eq!(how, if cut.is_end { "crosscut" } else { "rip" });
    near(&told.blade, degrees(part("blade ")), slope.abs(), PRINTED);
    match words {
        "" => assert!(part("blade ").starts_with("square"), "{}", told.blade),
        word => {
            let side = format!("{} {word}", board.sides[1]);
            assert!(part("blade ").ends_with(&side), "{}: {side}", told.blade);
        }
    }
    gauge(board, cut, told, part("gauge "), slope);
    let edge_line = told.json["edge_line"].as_f64().filter(|_| cut.is_end);
    near(&told.blade, degrees(part("line over the edge ")), edge_line.unwrap_or(0.0), PRINTED);
    usize::from(!words.is_empty())
}

/// A taper that takes the thickness down: how far the part grows thinner over its length, on the solid.
fn taper(board: &Board, index: usize, told: &Told) -> usize {
    if told.json["how"] != "taper" {
        return 0;
    }
    let corners = board.corners_of_cut(index);
    let far = |a: &&Point3, b: &&Point3| a.z.total_cmp(&b.z);
    let (Some(deep), Some(shallow)) = (corners.iter().min_by(far), corners.iter().max_by(far)) else { return 0 };
    let normal = board.cuts[index].normal;
    let flat = Vec2::new(normal.x, normal.y).normalize();
    let run = Vec2::new(shallow.x - deep.x, shallow.y - deep.y).dot(flat);
    let found = (shallow.z - deep.z).atan2(run.abs()).to_degrees();
    let said =
        told.blade.split("; ").find_map(|one| one.strip_prefix("blade ")).unwrap_or_else(|| panic!("{}", told.blade));
    near(&told.blade, degrees(said), found, PRINTED);
    assert!(said.ends_with(&format!("to the {}", board.sides[1])), "{}", told.blade);
    1
}

/// A bevel gauge, its stock on a face, its blade on the cut: the wood between them.
fn gauge(board: &Board, cut: &Cut, told: &Told, words: &str, slope: f64) {
    // The dihedral angle of the wood at either arris: what is left of a half turn beside the angle between the two normals.
    let read = |side: Vec3| 180.0 - between(side, cut.normal);
    let (face, far) = (read(Vec3::Z), read(-Vec3::Z));
    let [acute, obtuse] = [0, 1].map(|i| told.json["gauge"][i].as_f64().expect("an angle"));
    near("gauge, acute", acute, face.min(far), 1e-6);
    near("gauge, obtuse", obtuse, face.max(far), 1e-6);
    // It is acute on the side that is left longer.
    assert!(slope.abs() < 1e-6 || (slope > 0.0) == (far < face), "{} {}", board.label, told.place);
    let said: Vec<f64> = words.split(" or ").map(number).collect();
    match said.as_slice() {
        [square] => assert!(*square == 90.0 && slope.abs() < SET, "{words}"),
        [a, b] => {
            near(words, *a, acute, PRINTED);
            near(words, *b, obtuse, PRINTED);
        }
        _ => panic!("{words}"),
    }
}

/// What a pattern says in the order drawn.
fn said(items: &[Item]) -> Vec<&str> {
    let text = |item: &Item| matches!(item.shape, Shape::Text(_));
    let words = items.iter().filter(|item| text(item)).map(|item| match &item.shape {
        Shape::Text(text) => text.content.as_str(),
        _ => "",
    });
    words.collect()
}

/// The arrows of a pattern: from and tip.
fn arrows(items: &[Item]) -> Vec<(Point, Point)> {
    let path = |item: &Item| match &item.shape {
        Shape::Stroke { path, .. } => Some(path.clone()),
        _ => None,
    };
    let ends = |path: &Path| (path.nodes().len() == 2).then(|| (path.nodes()[0], path.nodes()[1]));
    let pairs = items.windows(2).filter_map(|pair| Some((path(&pair[0])?, path(&pair[1])?)));
    let barbed = pairs.filter_map(|(shaft, barb)| {
        let (from, tip) = ends(&shaft)?;
        let is_barb = barb.nodes().len() == 3 && barb.nodes()[1].distance(tip) < 1e-9;
        is_barb.then_some((from, tip))
    });
    barbed.collect()
}

/// The centre lines of a pattern: long dash, gap, dot, gap.
fn centre_lines(items: &[Item]) -> Vec<Path> {
    let path = |item: &Item| match &item.shape {
        Shape::Stroke { path, pen } if pen.dash.len() == 4 => Some(path.clone()),
        _ => None,
    };
    items.iter().filter_map(path).collect()
}

/// The words beside a cut on its pattern, and its arrow, against the solid.
fn on_the_pattern(made: &Made, board: &Board) -> usize {
    let pattern = board.pattern(made);
    let (words, arrows) = (said(&pattern.items), arrows(&pattern.items));
    let mut told = 0;
    for (cut, index, json) in self::told(made, board) {
        let Some(stretch) = board.rims[0]
            .iter()
            .filter(|stretch| stretch.cut == Some(index))
            .max_by(|a, b| a.segment.length().total_cmp(&b.segment.length()))
        else {
            continue;
        };
        let block: Vec<&str> = words
            .iter()
            .skip_while(|word| **word != cut.place)
            .skip(1)
            .take_while(|word| !board.cuts.iter().any(|other| other.place == **word))
            .copied()
            .collect();
        let bevel = degrees_of(json.json, "bevel");
        let is_taper = json.json["how"] == "taper";
        let say = |head: &str| block.iter().find_map(|word| word.strip_prefix(head)).unwrap_or("");
        if is_taper {
            near("taper", number(say(&format!("{} tapered by ", board.sides[1]))), 90.0 - bevel, PRINTED);
            continue;
        }
        if bevel <= SET {
            assert!(bevel > 0.04 || block.contains(&"square to the face"), "{block:?}");
            continue;
        }
        near("bevel on the pattern", number(say("bevel ")), bevel, PRINTED);
        let out = Vec2::new(cut.normal.x, cut.normal.y).normalize();
        // Square across the cut's line, a third of it before the line; towards the line's place on the far side.
        let middle = stretch.segment.eval(0.5);
        let crossing = arrows.iter().filter(|(from, tip)| {
            let crosses = stretch.segment.nearest(from.lerp(*tip, 1.0 / 3.0)).0 < 1e-6;
            crosses && (*tip - *from).normalize().cross(out).abs() < 1e-6
        });
        let crossing: Vec<_> = crossing.collect();
        let [(from, tip)] = crossing.as_slice() else { panic!("{} {}: {crossing:?}", board.label, cut.place) };
        // No centre line runs along it.
        let body = [0.0, 0.5, 1.0].map(|share| from.lerp(*tip, share));
        for path in centre_lines(&pattern.items) {
            let covered = body.iter().all(|p| path.nearest(*p).is_some_and(|(away, _)| away < 0.5));
            assert!(!covered, "{} {}: the arrow lies on a centre line", board.label, cut.place);
        }
        let below: Vec<f64> = board
            .corners_in(cut)
            .iter()
            .filter(|p| p.z < -1e-9)
            .map(|p| Point::new(p.x, p.y))
            .map(|p| (p - middle).dot(out))
            .collect();
        if below.is_empty() {
            continue;
        }
        let below = below.iter().sum::<f64>() / below.len() as f64;
        let line = board
            .corners_in(cut)
            .iter()
            .filter(|p| p.z == 0.0)
            .map(|p| (Point::new(p.x, p.y) - middle).dot(out))
            .sum::<f64>();
        assert!(((*tip - *from).dot(out) > 0.0) == (below > line), "{} {}: the arrow", board.label, cut.place);
        let word = match (below > line, cut.is_end) {
            (true, true) => "longer",
            (false, true) => "shorter",
            (true, false) => "wider",
            (false, false) => "narrower",
        };
        // Its rim there is drawn in dashes.
        assert_eq!(
            say(&format!("{} ", board.sides[1])),
            format!("{word} (dashed)"),
            "{} {}: {block:?}",
            board.label,
            cut.place
        );
        if cut.is_end && !say("mitre ").is_empty() {
            near("mitre on the pattern", number(say("mitre ")), degrees_of(json.json, "mitre"), PRINTED);
            let edge = json.json["register"].as_str();
            assert!(edge.is_none_or(|edge| say("off square to the ") == edge), "{block:?}");
            square_line(board, index, json.json, &pattern.items);
        }
        told += 1;
    }
    told
}

/// The line square to the edge off which a mitre is told, and the arc from it to the cut.
fn square_line(board: &Board, index: usize, told: &Json, items: &[Item]) {
    let Some(edge) = told["register"].as_str() else { return };
    let [Some(face), _] = board.beside(index, edge) else { panic!("{edge} does not end at the cut") };
    let (corner, along) = (Point::new(face.x, face.y), board.along(edge, face));
    let along = Vec2::new(along.x, along.y);
    let strokes = items.iter().filter_map(|item| match &item.shape {
        Shape::Stroke { path, .. } if item.role == Role::Mark => Some(path),
        _ => None,
    });
    let strokes: Vec<&Path> = strokes.collect();
    let square = strokes.iter().any(|path| match path.segments() {
        [Segment::Line(line)] => {
            line.p0.distance(corner) < 1e-6 && (line.p1 - line.p0).normalize().dot(along).abs() < 1e-9
        }
        _ => false,
    });
    assert!(square, "{} {}: no line square to the {edge}", board.label, told["where"]);
    let mitre = degrees_of(told, "mitre").to_radians();
    let arc = strokes.iter().any(|path| match path.segments() {
        [segment @ Segment::Arc(arc)] => {
            let [from, to] = [segment.start(), segment.end()].map(|end| end - corner);
            let turned = from.cross(to).atan2(from.dot(to)).abs();
            arc.center.distance(corner) < 1e-6 && from.dot(along).abs() < 1e-6 && (turned - mitre).abs() < 1e-6
        }
        _ => false,
    });
    assert!(arc, "{} {}: no arc of the mitre", board.label, told["where"]);
}

#[test]
fn a_saw_set_as_told_leaves_the_solved_cut() {
    let (mut crosscuts, mut tilted, mut tapers) = (0, 0, 0);
    for made in pieces() {
        for board in made.boards().iter().filter(|board| board.json["turned"].is_null()) {
            for (cut, index, told) in told(made, board) {
                if cut.is_end {
                    crosscuts += crosscut(board, cut, index, &told);
                }
                tilted += tilt(board, cut, &told);
                tapers += taper(board, index, &told);
            }
        }
    }
    assert!(crosscuts > 120 && tilted > 80 && tapers > 2, "{crosscuts} {tilted} {tapers}");
}

/// The lengths told of an edge are those of its rims, each with its own side.
fn lengths(made: &Made, board: &Board) -> usize {
    let mut told = 0;
    let lines = made.said_of(&board.label);
    for name in board.rims.iter().flatten().map(|stretch| &stretch.name) {
        let Some(said) = lines.iter().find_map(|line| line.trim().strip_prefix(&format!("{name}: "))) else {
            continue;
        };
        for side in 0..2 {
            let own = board.rims[side].iter().filter(|stretch| stretch.name == *name);
            let own: Vec<f64> = own.map(|stretch| stretch.segment.length()).collect();
            // In several pieces, each is told by itself.
            let [length] = own.as_slice() else { continue };
            let ends = |one: &&str| one.ends_with(&format!(" {}", board.sides[side]));
            let Some(one) = said.split(", ").find(ends) else { continue };
            near(&format!("{}: {said}", board.label), number(one), *length, 0.26);
            told += 1;
        }
    }
    told
}

#[test]
fn an_edge_is_as_long_as_told_on_either_side() {
    let told: usize = pieces()
        .iter()
        .flat_map(|made| {
            let boards = made.boards();
            boards.iter().filter(|b| b.json["turned"].is_null()).map(|b| lengths(made, b)).collect::<Vec<_>>()
        })
        .sum();
    assert!(told > 100, "{told}");
}

#[test]
fn a_pattern_says_where_the_far_side_lies() {
    let told: usize = pieces()
        .iter()
        .flat_map(|made| made.boards().iter().map(|b| on_the_pattern(made, b)).collect::<Vec<_>>())
        .sum();
    assert!(told > 60, "{told}");
}

/// The lines of a bevel sheet, each with the words along it and the base line on which it stands.
fn gauge_lines(sheet: &Pattern) -> Vec<(Path, Path, String)> {
    let strokes = || {
        sheet.items.iter().filter_map(|item| match &item.shape {
            Shape::Stroke { path, .. } => Some(path.clone()),
            _ => None,
        })
    };
    let foot = |path: &Path| path.nodes()[0];
    let is_base = |path: &Path| (path.nodes()[1] - foot(path)).y.abs() < 1e-9;
    let mut found = Vec::new();
    for pair in sheet.items.windows(2) {
        let (Shape::Stroke { path, .. }, Shape::Text(text)) = (&pair[0].shape, &pair[1].shape) else { continue };
        if is_base(path) {
            continue;
        }
        let base = strokes().find(|base| is_base(base) && base.nearest(foot(path)).is_some_and(|near| near.0 < 1e-9));
        found.push((path.clone(), base.expect("a base line"), text.content.to_string()));
    }
    found
}

/// A gauge whose stock lies along a base line, from the foot of a line to the right, and its blade along that line, reads what is
/// written there; on the wood, stock on the face or edge, that is a right angle less the bevel or mitre, or the taper itself.
#[test]
fn a_gauge_set_by_the_bevel_sheet_fits_the_cuts_named() {
    let mut lines = 0;
    for made in pieces() {
        let Some(sheet) = made.bevel_sheet() else { continue };
        for (line, base, words) in gauge_lines(&sheet) {
            let [along, rising] = [&base, &line].map(|path| path.nodes()[1] - path.nodes()[0]);
            let read = along.cross(rising).atan2(along.dot(rising)).to_degrees();
            // The stock has wood, or paper, to lie on.
            assert!(base.nodes()[1].x - line.nodes()[0].x > 100.0, "{words}");
            let off = match words.split_once("gauge ") {
                Some((_, reading)) => {
                    near(&words, number(reading), read, PRINTED);
                    90.0 - read
                }
                None => read,
            };
            near(&words, number(&words), off, PRINTED);
            let (_, names) = words.split_once(": ").expect("names");
            for name in names.split(", ").filter(|name| name.ends_with(" bevel") || name.ends_with(" mitre")) {
                let fits = made.boards().iter().any(|board| {
                    let Some(rest) = name.strip_prefix(&format!("{} ", board.label)) else { return false };
                    told(made, board).iter().any(|(cut, _, told)| {
                        let Some((place, what)) = rest.rsplit_once(' ') else { return false };
                        let own = cut.place == place || place == "end" && cut.place.ends_with(" end");
                        own && told.json[what].as_f64().is_some_and(|angle| (angle - off).abs() < 0.021)
                    })
                });
                assert!(fits, "{name}: {off}");
                lines += 1;
            }
        }
    }
    assert!(lines > 40, "{lines}");
}

/// No two lines of a bevel sheet cross.
#[test]
fn lines_of_a_bevel_sheet_stand_apart() {
    for made in pieces() {
        let Some(sheet) = made.bevel_sheet() else { continue };
        let lines = gauge_lines(&sheet);
        for (k, (a, _, words)) in lines.iter().enumerate() {
            for (b, ..) in &lines[..k] {
                let [a, b] = [a, b].map(|path| (path.nodes()[0], path.nodes()[1]));
                let side = |(p, q): (Point, Point), at: Point| (q - p).cross(at - p);
                let crosses = side(a, b.0) * side(a, b.1) < 0.0 && side(b, a.0) * side(b, a.1) < 0.0;
                assert!(!crosses, "{words}");
            }
        }
    }
}
