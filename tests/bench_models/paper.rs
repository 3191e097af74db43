//! The one test of hand for all that is stuck or laid on wood: the paper is laid on the solved solid from outside, moved and turned
//! but never turned over, and has to fit with all its words and marks.

use super::made::{Board, Made};
use super::{near, number, pieces};
use fullsize::geometry::{Affine, Path, Point, Point3, Vec2, Vec3};
use fullsize::page::{Item, Pen, Role, Shape};
use fullsize::pattern::Pattern;
use kurbo::BezPath;
use serde_json::Value as Json;

/// How near paper comes to the wood, mm.
const TRUE: f64 = 0.02;

/// Axes before a surface, as someone outside the wood sees it: x to the right, y up.
struct Before {
    origin: Point3,
    x: Vec3,
    y: Vec3,
}

impl Before {
    fn surface(origin: Point3, out: Vec3) -> Before {
        let aside = if out.z.abs() < 0.9 { Vec3::Z } else { Vec3::X };
        let x = aside.cross(out).unit().expect("a direction");
        // To the right, up and towards the eye.
        Before { origin, x, y: out.cross(x) }
    }

    fn see(&self, p: Point3) -> Point {
        Point::new((p - self.origin).dot(self.x), (p - self.origin).dot(self.y))
    }

    fn on_wood(&self, p: Point) -> Point3 {
        self.origin + self.x * p.x + self.y * p.y
    }
}

/// Every way in which paper may be moved and turned so that all of its points lie on points of the wood, and on all of them.
fn ways(paper: &[Point], wood: &[Point]) -> Vec<Affine> {
    let near = |p: Point, all: &[Point]| all.iter().any(|q| p.distance(*q) < TRUE);
    let far = |a: &&Point| paper[0].distance(**a);
    let Some(second) = paper.iter().max_by(|a, b| far(a).total_cmp(&far(b))) else { return Vec::new() };
    let mut found = Vec::new();
    for a in wood {
        for b in wood.iter().filter(|b| (b.distance(*a) - second.distance(paper[0])).abs() < TRUE) {
            let turn = (*b - *a).atan2() - (*second - paper[0]).atan2();
            let map = Affine::translate(a.to_vec2()) * Affine::rotate(turn) * Affine::translate(-paper[0].to_vec2());
            let moved: Vec<Point> = paper.iter().map(|p| map * *p).collect();
            if moved.iter().all(|p| near(*p, wood)) && wood.iter().all(|p| near(*p, &moved)) {
                found.push(map);
            }
        }
    }
    found
}

fn strokes(items: &[Item], role: Role) -> Vec<(&Path, &Pen)> {
    let mut all = Vec::new();
    for item in items.iter().filter(|item| item.role == role) {
        if let Shape::Stroke { path, pen } = &item.shape {
            all.push((path, pen));
        }
    }
    all
}

fn words(items: &[Item]) -> Vec<(&str, Point)> {
    let mut all = Vec::new();
    for item in items {
        if let Shape::Text(text) = &item.shape {
            all.push((text.content.as_str(), text.at));
        }
    }
    all
}

/// The middles of what a joint opens on a surface of a board, in board axes.
fn mouths(made: &Made, board: &Board, on: &str) -> Vec<Point3> {
    let all = made.json["joints"].as_array().expect("joints").iter();
    let own = all.filter(|joint| joint["board"] == board.json["id"] && joint["on"] == on);
    own.map(|joint| point(&joint["centre"])).collect()
}

fn point(json: &Json) -> Point3 {
    let [x, y, z] = [0, 1, 2].map(|i| json[i].as_f64().expect("a number"));
    Point3::new(x, y, z)
}

fn centre(path: &Path) -> Point {
    path.bounding_box().expect("a line").center()
}

/// Closed marks drawn with a solid line: mouths.
fn mouths_of(items: &[Item]) -> Vec<Point> {
    let closed = strokes(items, Role::Mark).into_iter().filter(|(path, pen)| path.is_closed() && pen.dash.is_empty());
    closed.map(|(path, _)| centre(path)).collect()
}

/// A sawn end's paper on every end that it is for: how many of these have no second way to lie.
fn end(made: &Made, board: &Board, pattern: &Pattern) -> usize {
    let places = pattern.part.name.strip_prefix(&format!("{}, ", board.label)).expect("a name");
    let paper: Vec<Point> =
        strokes(&pattern.items, Role::Outline).iter().flat_map(|(path, _)| path.nodes()).collect();
    let mut told = 0;
    for place in places.split(" and ") {
        let index = board.cuts.iter().position(|cut| cut.place == place).unwrap_or_else(|| panic!("{place}"));
        let cut = &board.cuts[index];
        let before = Before::surface(board.middle(), cut.normal);
        let wood: Vec<Point> = board.corners_of_cut(index).into_iter().map(|p| before.see(p)).collect();
        let all = ways(&paper, &wood);
        assert!(!all.is_empty(), "{} {place}: {paper:?} does not lie on {wood:?}", board.label);
        let middle = before.on_wood(all[0] * Path::polyline(&paper, true).bounding_box().expect("paper").center());
        let marks = mouths_of(&pattern.items);
        let holes: Vec<Point> = mouths(made, board, place).into_iter().map(|p| before.see(p)).collect();
        assert_eq!(marks.len(), holes.len(), "{} {place}", board.label);
        let fits = |map: &Affine| {
            let on_wood = |p: Point| before.on_wood(*map * p);
            let marked = marks.iter().all(|p| holes.iter().any(|q| (*map * *p).distance(*q) < TRUE));
            let labelled = words(&pattern.items).into_iter().all(|(word, at)| {
                let is_name = board.sides.iter().any(|side| side == word)
                    || board.rims.iter().flatten().any(|stretch| stretch.name == word);
                // A word stands on the side of what it names.
                !is_name || (on_wood(at) - middle).dot(board.out_of(word)) > 0.0
            });
            marked && labelled
        };
        let fitting = all.iter().filter(|map| fits(map)).count();
        assert!(fitting > 0, "{} {place}: words and marks lie elsewhere", board.label);
        told += usize::from(all.len() == 1);
    }
    let mirrored = board.places.iter().filter(|(_, at)| at.is_mirrored()).count();
    let count = places.split(" and ").count();
    let used = match mirrored {
        0 => format!("use {}", count * board.places.len()),
        _ if mirrored == board.places.len() => return told,
        _ => format!("use {} as drawn, {} turned over", count * (board.places.len() - mirrored), count * mirrored),
    };
    assert_eq!(pattern.make, used, "{}", board.label);
    told
}

/// Points along a rim, close to each other, each with how far along it is.
fn along(segments: &[&fullsize::geometry::Segment]) -> Vec<(Point, f64)> {
    const STEPS: u32 = 800;
    let mut all: Vec<(Point, f64)> = Vec::new();
    for segment in segments {
        for i in 0..=STEPS {
            let p = segment.eval(f64::from(i) / f64::from(STEPS));
            let so_far = all.last().map_or(0.0, |(q, length)| length + p.distance(*q));
            all.push((p, so_far));
        }
    }
    all
}

/// How far along a line a point lies that is on it, by its nearest points; `None` where it is not.
fn place_on(line: &[(Point, f64)], p: Point) -> Option<f64> {
    let best = line.windows(2).map(|pair| {
        let (a, b) = (pair[0], pair[1]);
        let way = b.0 - a.0;
        let t = if way.hypot2() > 0.0 { ((p - a.0).dot(way) / way.hypot2()).clamp(0.0, 1.0) } else { 0.0 };
        (p.distance(a.0 + way * t), a.1 + (b.1 - a.1) * t)
    });
    let (away, at) = best.min_by(|a, b| a.0.total_cmp(&b.0))?;
    (away < 2e-3).then_some(at)
}

/// A strip laid round its edge, the face side's word upwards.
fn strip(made: &Made, board: &Board, pattern: &Pattern) {
    let edge =
        pattern.part.name.strip_prefix(&format!("{}, ", board.label)).and_then(|n| n.strip_suffix(" laid flat"));
    let edge = edge.expect("a name");
    let is_run = |side: usize| {
        let rim = &board.rims[side];
        let first = rim.iter().position(|stretch| stretch.cut.is_some()).expect("an end");
        let mut runs: Vec<Vec<&super::made::Stretch>> = vec![Vec::new()];
        for stretch in rim.iter().cycle().skip(first).take(rim.len()) {
            match (stretch.cut, runs.last_mut()) {
                (None, Some(run)) => run.push(stretch),
                _ => runs.push(Vec::new()),
            }
        }
        runs.into_iter().find(|run| run.iter().any(|stretch| stretch.name == edge)).expect("the edge's run")
    };
    let [face, far] =
        [0, 1].map(|side| along(&is_run(side).iter().map(|stretch| &stretch.segment).collect::<Vec<_>>()));
    let length = face.last().map_or(0.0, |last| last.1);
    let [first, last] = [far.first(), far.last()].map(|p| p.expect("a rim").0);
    let [own_first, own_last] = [face.first(), face.last()].map(|p| p.expect("a rim").0);
    let far_length = far.last().map_or(0.0, |last| last.1);
    let start = place_on(&face, first).or_else(|| place_on(&far, own_first).map(|s| -s));
    let end = place_on(&face, last).or_else(|| place_on(&far, own_last).map(|s| length + far_length - s));
    let (start, end) =
        (start.expect("one of the rims reaches farther"), end.expect("one of the rims reaches farther"));
    // Someone before the edge, face side up, sees the outline run to the right.
    let (_, up) = *words(&pattern.items).iter().find(|(word, _)| *word == board.sides[0]).expect("the face side");
    let wood = [(0.0, 0.0), (length, 0.0), (end, -board.thickness), (start, -board.thickness)].map(Point::from);
    let outline = strokes(&pattern.items, Role::Outline);
    let [(paper, _)] = outline.as_slice() else { panic!("{outline:?}") };
    assert!(up.y > paper.bounding_box().expect("paper").center().y);
    let origin = paper.nodes()[0].to_vec2();
    for p in paper.nodes() {
        let p = p - origin;
        let away = wood.iter().map(|q| p.distance(*q)).fold(f64::MAX, f64::min);
        assert!(away < TRUE, "{}: {p:?} lies {away} off {wood:?}", pattern.part.name);
    }
    for q in wood {
        assert!(paper.nodes().iter().any(|p| (*p - origin).distance(q) < TRUE), "{}: {q:?}", pattern.part.name);
    }
    // Every mouth on these edges is marked where it goes in.
    let names: Vec<&str> = is_run(0).iter().map(|stretch| stretch.name.as_str()).collect();
    let mut holes = Vec::new();
    names.iter().for_each(|name| holes.extend(mouths(made, board, name)));
    for hole in holes {
        let Some(x) = place_on(&face, Point::new(hole.x, hole.y)) else { continue };
        let at = Point::new(x, hole.z);
        let marked = mouths_of(&pattern.items).iter().any(|p| (*p - origin).distance(at) < TRUE);
        assert!(marked, "{}: no mark at {at:?}: {:?}", pattern.part.name, mouths_of(&pattern.items));
    }
}

/// The nodes of a path as the schedule writes it.
fn nodes(path: &str) -> Vec<Point> {
    let path = BezPath::from_svg(path).expect("a path");
    let mut all: Vec<Point> = Vec::new();
    for element in path.elements() {
        all.extend(element.end_point().filter(|p| all.iter().all(|q| p.distance(*q) > 1e-6)));
    }
    all
}

/// A block's foot on the wood by the rim that it is set by and the mouths.
fn block(made: &Made, aid: &Json) -> usize {
    let what = aid["for"].as_str().expect("what for");
    let Some(rest) = what.strip_prefix("mortising the ") else { return 0 };
    let (label, rest) = rest.split_once(" for ").expect("a joint");
    let surface = rest.split_once(": ").expect("a surface").1.split(", ").next().expect("a surface");
    let board = made.board(label);
    let lines = aid["figures"][0]["lines"].as_array().expect("lines");
    let marks: Vec<&str> = lines
        .iter()
        .filter(|line| line["look"] == "mark")
        .map(|line| line["path"].as_str().expect("a path"))
        .collect();
    // Only ends and faces: an edge's landing is given from where its outline began.
    let (out, rims): (Vec3, Vec<Vec<Point3>>) = match board.cuts.iter().position(|cut| cut.place == surface) {
        Some(cut) => (board.cuts[cut].normal, vec![board.corners_of_cut(cut)]),
        None => {
            let Some(side) = board.sides.iter().position(|side| side == surface) else { return 0 };
            let (z, name) = if side == 0 { (0.0, "face") } else { (-board.thickness, "far_face") };
            let meets = board.json["meets"].as_array().expect("meets").iter().filter(|meet| meet["on"] == name);
            let contact = |meet: &Json| nodes(meet["contact"].as_str().expect("a path"));
            let lifted = meets.map(contact).map(|all| all.iter().map(|p| Point3::new(p.x, p.y, z)).collect());
            (if side == 0 { Vec3::Z } else { -Vec3::Z }, lifted.collect())
        }
    };
    let on = if surface == board.sides[0] {
        "face"
    } else if surface == board.sides[1] {
        "far_face"
    } else {
        surface
    };
    let before = Before::surface(board.middle(), out);
    let holes: Vec<Point> = mouths(made, &board, on).into_iter().map(|p| before.see(p)).collect();
    // The rim comes first, then the mouths.
    let [rim, mouths @ ..] = marks.as_slice() else { panic!("{aid:#}") };
    let paper = nodes(rim);
    let mouths: Vec<Point> = mouths
        .iter()
        .map(|path| kurbo::Shape::bounding_box(&BezPath::from_svg(path).expect("a path")).center())
        .collect();
    let mut lies = 0;
    for wood in &rims {
        let wood: Vec<Point> = wood.iter().map(|p| before.see(*p)).collect();
        let all = ways(&paper, &wood);
        let fits = |map: &&Affine| mouths.iter().all(|p| holes.iter().any(|q| (**map * *p).distance(*q) < TRUE));
        lies += usize::from(all.iter().any(|map| fits(&map)));
    }
    assert!(lies > 0, "{what}: {paper:?} {mouths:?} does not lie on {holes:?}");
    1
}

/// The template and the sheet of centres under the top: centre lines under the middle, "front" to the front, seen from below.
fn under_the_top(made: &Made, figures: &[fullsize::joinery::aids::Figure], mark_is_rim: bool) -> usize {
    let top = made.board("top");
    let (_, at) = &top.places[0];
    let figure = &figures[0];
    let front = figure.words.iter().find(|said| said.words == "front").expect("the front");
    assert!(front.at.y > 0.0 && front.at.x == 0.0);
    let laid = |p: Point| Point::new(p.x, -p.y);
    let mut found = 0;
    for meet in top.json["meets"].as_array().expect("meets").iter().filter(|meet| meet["on"] == "far_face") {
        let wood: Vec<Point> = nodes(meet["contact"].as_str().expect("a path"))
            .iter()
            .map(|p| at.to_world(Point3::new(p.x, p.y, -top.thickness)))
            .map(|p| Point::new(p.x, p.y))
            .collect();
        let lies = |path: &Path| path.nodes().iter().all(|p| wood.iter().any(|q| laid(*p).distance(*q) < TRUE));
        if mark_is_rim {
            let marks = figure.lines.iter().filter(|line| line.look == fullsize::joinery::aids::Look::Mark);
            assert!(marks.map(|line| &line.path).any(lies), "{}: {wood:?}", meet["board"]);
            found += 1;
        }
    }
    found
}

#[test]
fn paper_lies_on_the_wood_from_outside_with_its_marks() {
    let (mut ends, mut strips, mut blocks, mut rims) = (0, 0, 0, 0);
    for made in pieces() {
        for board in made.boards() {
            ends += board.ends(made).iter().map(|pattern| end(made, &board, pattern)).sum::<usize>();
            for pattern in board.strips(made) {
                strip(made, &board, &pattern);
                strips += 1;
            }
        }
        let aids = &made.json["aids"];
        let kind = |kind: &'static str| aids.as_array().expect("aids").iter().filter(move |aid| aid["kind"] == kind);
        blocks += kind("block").map(|aid| block(made, aid)).sum::<usize>();
        for aid in made.aids.iter().filter(|aid| aid.kind == "template") {
            rims += under_the_top(made, &aid.figures, true);
        }
    }
    assert!(ends > 120 && strips > 3 && blocks > 50 && rims > 3, "{ends} {strips} {blocks} {rims}");
}

/// Arrows that say which way is up, to the front and outwards, on the first copy as it stands.
#[test]
fn arrows_on_patterns_point_as_the_part_stands() {
    let mut told = 0;
    for made in pieces() {
        for board in made.boards() {
            let pattern = board.pattern(made);
            let Some((_, at)) = board.places.first() else { continue };
            let centre = at.to_world(point(&board.json["centroid"]));
            for trio in pattern.items.windows(3) {
                let [Shape::Stroke { path: shaft, .. }, Shape::Stroke { path: barb, .. }, Shape::Text(text)] =
                    [&trio[0].shape, &trio[1].shape, &trio[2].shape]
                else {
                    continue;
                };
                let nodes = shaft.nodes();
                if nodes.len() != 2 || barb.nodes().get(1) != Some(&nodes[1]) {
                    continue;
                }
                let wanted = match text.content.as_str() {
                    "up" => Vec3::Z,
                    "front" => -Vec3::Y,
                    "out" => Vec3::new(centre.x, centre.y, 0.0)
                        .unit()
                        .unwrap_or_else(|| panic!("{} {centre:?}", board.label)),
                    _ => continue,
                };
                let way: Vec2 = (nodes[1] - nodes[0]).normalize();
                let points = at.direction_to_world(Vec3::new(way.x, way.y, 0.0));
                assert!(points.dot(wanted) > 0.45, "{} {}: {points:?}", board.label, text.content);
                told += 1;
            }
            // Turned over, the template gives the mirrored ones.
            let over = words(&pattern.items).iter().any(|(word, _)| *word == "mirrored ones: turn the template over");
            let hands = [false, true].map(|hand| board.places.iter().any(|(_, at)| at.is_mirrored() == hand));
            assert_eq!(over, hands == [true, true], "{}", board.label);
        }
    }
    assert!(told > 60, "{told}");
}

/// The number of pieces that a pattern asks for is that of its copies.
#[test]
fn a_pattern_is_made_as_often_as_its_part_stands() {
    for made in pieces() {
        for board in made.boards() {
            near(&board.label, number(&board.pattern(made).make), board.places.len() as f64, 0.0);
        }
    }
}

/// A level and a plumb line lie as they are called once the part stands in the piece, and what lies on the far side is said to.
#[test]
fn lines_and_landings_are_called_what_they_are() {
    let (mut lines, mut landings) = (0, 0);
    for made in pieces() {
        for board in made.boards() {
            let (pattern, at) = (board.pattern(made), board.places[0].1);
            for item in &pattern.items {
                let Shape::Text(text) = &item.shape else { continue };
                let way = at.direction_to_world(Vec3::new(text.angle.cos(), text.angle.sin(), 0.0));
                let upright = at.direction_to_world(Vec3::Z).z;
                match text.content.as_str() {
                    "level" => near(&board.label, way.z, 0.0, 1e-6),
                    "plumb" => near(&board.label, way.z.abs(), (1.0 - upright * upright).sqrt(), 1e-6),
                    _ => continue,
                }
                lines += 1;
            }
            if !board.json["turned"].is_null() {
                continue;
            }
            let meets = board.json["meets"].as_array().expect("meets").iter().filter(|meet| meet["own_copy"] == 0);
            let behind = meets.filter(|meet| meet["on"] == "far_face").count();
            let far = format!(" ({})", board.sides[1]);
            let said = words(&pattern.items).iter().filter(|(word, _)| word.ends_with(&far)).count();
            assert_eq!(said, behind, "{}", board.label);
            landings += behind;
        }
    }
    assert!(lines > 20 && landings > 10, "{lines} {landings}");
}

/// What comes against a straight edge is named there where its own length runs into it.
#[test]
fn landings_on_an_edge_are_marked_where_the_other_part_comes() {
    let mut marked = 0;
    for made in pieces() {
        let boards = made.boards();
        for board in &boards {
            let (pattern, (_, own)) = (board.pattern(made), &board.places[0]);
            for meet in board.json["meets"].as_array().expect("meets").iter().filter(|meet| meet["own_copy"] == 0) {
                let edge: Vec<_> = board.rims[0].iter().filter(|s| meet["on"] == s.name && s.cut.is_none()).collect();
                let [stretch] = edge.as_slice() else { continue };
                let fullsize::geometry::Segment::Line(line) = stretch.segment else { continue };
                let Some(other) = boards.iter().find(|other| other.json["id"] == meet["board"]) else { continue };
                let there = other.places[meet["copy"].as_u64().expect("a copy") as usize].1;
                let from = own.to_board(there.to_world(other.middle() + Vec3::Z * (-0.5 * other.thickness)));
                let way = own.direction_to_board(there.direction_to_world(Vec3::X));
                let (along, out) = ((line.p1 - line.p0).normalize(), board.out_of(&stretch.name));
                if way.dot(out).abs() < 0.7 {
                    continue;
                }
                let hit = from - way * ((from - Point3::new(line.p0.x, line.p0.y, 0.0)).dot(out) / way.dot(out));
                let place = (Point::new(hit.x, hit.y) - line.p0).dot(along);
                let reach = nodes(meet["contact"].as_str().expect("a path"));
                let [low, high] =
                    [f64::min, f64::max].map(|pick| reach.iter().map(|p| p.x).reduce(pick).expect("a rim"));
                let named = words(&pattern.items)
                    .into_iter()
                    .filter(|(word, _)| !word.is_empty() && other.label.ends_with(word));
                let near = named.map(|(_, at)| ((at - line.p0).dot(along) - place).abs()).fold(f64::MAX, f64::min);
                assert!(near < high - low, "{}: the {} is named {near} off", board.label, other.label);
                marked += 1;
            }
        }
    }
    assert!(marked > 10, "{marked}");
}
