//! Strips wrapped round curved edges.

use super::super::made::{Board, Made, Stretch};
use super::super::near;
use super::lay::{TRUE, asked, hands, landed, laying, mouths, mouths_of, strokes, words};
use fullsize::geometry::{Point, Segment};
use fullsize::page::Role;
use fullsize::pattern::Pattern;

/// Points along a rim, close to each other, each with how far along it is.
fn along(segments: &[&Segment]) -> Vec<(Point, f64)> {
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

/// The stretches of a face's rim between two sawn ends, among them one of this name, with the cuts before and after them.
fn run<'a>(board: &'a Board, side: usize, edge: &str) -> (Vec<&'a Stretch>, [&'a str; 2]) {
    let rim = &board.rims[side];
    let first = rim.iter().position(|stretch| stretch.cut.is_some()).expect("an end");
    let mut runs: Vec<(Vec<&Stretch>, [&str; 2])> = Vec::new();
    for stretch in rim.iter().cycle().skip(first).take(rim.len() + 1) {
        if stretch.cut.is_some() {
            runs.last_mut().into_iter().for_each(|run| run.1[1] = &stretch.name);
            runs.push((Vec::new(), [&stretch.name, ""]));
        } else {
            runs.last_mut().expect("a run").0.push(stretch);
        }
    }
    runs.into_iter().find(|(run, _)| run.iter().any(|stretch| stretch.name == edge)).expect("the edge's run")
}

/// Every strip of a board, laid round its edge with the face side's word upwards; how many.
pub fn lay(made: &Made, board: &Board) -> usize {
    let all = board.strips(made);
    all.iter().for_each(|pattern| strip(made, board, pattern));
    all.len()
}

fn strip(made: &Made, board: &Board, pattern: &Pattern) {
    laying(&pattern.part.name);
    let edge =
        pattern.part.name.strip_prefix(&format!("{}, ", board.label)).and_then(|n| n.strip_suffix(" laid flat"));
    let edge = edge.expect("a name");
    let [(face_run, cuts), (far_run, _)] = [0, 1].map(|side| run(board, side, edge));
    let [face, far] =
        [&face_run, &far_run].map(|run| along(&run.iter().map(|stretch| &stretch.segment).collect::<Vec<_>>()));
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
    let bounds = paper.bounding_box().expect("paper");
    assert!(up.y > bounds.center().y);
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
    let mut names: Vec<&str> = face_run.iter().map(|stretch| stretch.name.as_str()).collect();
    names.dedup();
    let marks: Vec<Point> = mouths_of(&pattern.items).iter().map(|p| *p - origin).collect();
    for hole in names.iter().flat_map(|name| mouths(made, board, name)) {
        let Some(x) = place_on(&face, Point::new(hole.x, hole.y)) else { continue };
        let at = Point::new(x, hole.z);
        assert!(marks.iter().any(|p| p.distance(at) < TRUE), "{}: no mark at {at:?}: {marks:?}", pattern.part.name);
    }
    others(made, board, pattern, &face);
    named(board, pattern, &face_run, cuts);
    let wanted = hands(board);
    let wanted = if board.solved.handed.is_none() { [f64::from(board.solved.count), 0.0] } else { wanted };
    (0..2).for_each(|hand| near(&pattern.make, asked(&pattern.make)[hand], wanted[hand], 0.0));
}

/// What ends on the edge is drawn where its corners come.
fn others(made: &Made, board: &Board, pattern: &Pattern, face: &[(Point, f64)]) {
    let origin = strokes(&pattern.items, Role::Outline)[0].0.nodes()[0].to_vec2();
    let dashed = strokes(&pattern.items, Role::Mark).into_iter();
    let dashed = dashed.filter(|(path, pen)| path.is_closed() && !pen.dash.is_empty());
    let nodes: Vec<Point> = dashed.flat_map(|(path, _)| path.nodes()).map(|p| p - origin).collect();
    for (label, corners, _) in landed(made, board, 0) {
        let on: Option<Vec<Point>> = corners
            .iter()
            .map(|p| {
                (-board.thickness - TRUE < p.z && p.z < TRUE)
                    .then(|| place_on(face, Point::new(p.x, p.y)).map(|x| Point::new(x, p.z)))?
            })
            .collect();
        for at in on.into_iter().flatten() {
            let off = nodes.iter().map(|p| p.distance(at)).fold(f64::MAX, f64::min);
            assert!(off < TRUE, "{}: the {label} is drawn {off} off at {at:?}", pattern.part.name);
        }
    }
}

/// The sawn ends are named beyond the ends of the strip at which they lie, and each edge within its own stretch.
fn named(board: &Board, pattern: &Pattern, run: &[&Stretch], [before, after]: [&str; 2]) {
    let paper = strokes(&pattern.items, Role::Outline)[0].0;
    let bounds = paper.bounding_box().expect("paper");
    let said = words(&pattern.items);
    let at =
        |name: &str| said.iter().find(|(word, _)| *word == name).unwrap_or_else(|| panic!("no {name} in {said:?}")).1;
    assert!(at(before).x < bounds.center().x && at(after).x > bounds.center().x, "{}", pattern.part.name);
    let origin = paper.nodes()[0].x;
    let mut from = 0.0;
    for stretch in run {
        let to = from + stretch.segment.length();
        let name = stretch.name.as_str();
        // What lies on a landing is named in its place.
        if !name.ends_with(" landing") {
            let inside = said.iter().any(|(word, p)| *word == name && (from..=to).contains(&(p.x - origin)));
            let again = run.iter().filter(|other| other.name == name).count();
            assert!(inside || again > 1, "{}: {name} is not named at it: {said:?}", board.label);
        }
        from = to;
    }
}
