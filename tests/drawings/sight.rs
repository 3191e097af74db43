//! What is seen, against lines of sight cast at the triangles of the model, which knows nothing of these drawings.

use super::pieces::{curved, leaning, random, solved, top};
use crate::common::draws::for_all;
use fullsize::board::{EdgeName, PartRole};
use fullsize::geometry::{Point, Point3, Rect, Scene, Vec3};
use fullsize::layout::Setup;
use fullsize::layout::elevation::{Options, draw};
use fullsize::model::base::{Base, Curve};
use fullsize::piece::Piece;
use fullsize::units::Notation;
use fullsize::view::{Model, Stroke, Subject, View};
use std::collections::BTreeMap;

/// Half the width of the band along silhouettes in which nothing is told, mm.
const BAND: f64 = 0.2;

/// Wood hides what lies behind it by more than this, mm: enough for any face that is not seen almost edge-on.
const CLEARLY: f64 = 2.0;

/// A point of an arris lies on its drawn line within this, mm (curves of the model are polygons to 0.0005 mm).
const ON_LINE: f64 = 0.01;

/// A corner as seen, and how near to the eye it lies.
type Seen = (Point, f64);

/// The triangles of a piece as seen, sorted into cells of the view.
struct Mesh {
    /// Corners, and which copy of which board.
    triangles: Vec<([Seen; 3], (usize, usize))>,
    /// Sharp arrises in space.
    arrises: Vec<(Point3, Point3)>,
    bounds: Rect,
    cells: Vec<Vec<usize>>,
}

const CELLS: usize = 80;

impl Mesh {
    fn new(scene: &Scene, view: &View) -> Mesh {
        let (mut triangles, mut arrises) = (Vec::new(), Vec::new());
        for (board, part) in scene.parts.iter().enumerate() {
            for (copy, place) in part.places.iter().enumerate() {
                let corner = |i: u32| {
                    let p = place.1.to_world(part.mesh.vertices[i as usize]);
                    (view.project(p), view.nearness(p))
                };
                triangles.extend(part.mesh.triangles.iter().map(|t| (t.map(corner), (board, copy))));
                let at = |p: Point3| place.1.to_world(p);
                arrises.extend(sharp(&part.mesh.vertices, &part.mesh.triangles).map(|(a, b)| (at(a), at(b))));
            }
        }
        let first = triangles[0].0[0].0;
        let corners = triangles.iter().flat_map(|(t, _)| t);
        let all = corners.fold(Rect::from_points(first, first), |r, p| r.union_pt(p.0));
        let mut mesh =
            Mesh { triangles, arrises, bounds: all.inflate(1.0, 1.0), cells: vec![Vec::new(); CELLS * CELLS] };
        for (index, (t, _)) in mesh.triangles.iter().enumerate() {
            let t = t.map(|corner| corner.0);
            let b = Rect::from_points(t[0], t[1]).union_pt(t[2]);
            let (low, high) = (mesh.cell(Point::new(b.x0, b.y0)), mesh.cell(Point::new(b.x1, b.y1)));
            for row in low.1..=high.1 {
                let tall = mesh.bounds.height() / CELLS as f64;
                let y = mesh.bounds.y0 + row as f64 * tall;
                let Some((x0, x1)) = span(&t, y - 1e-6, y + tall + 1e-6) else { continue };
                let (from, to) = (mesh.cell(Point::new(x0, y)).0, mesh.cell(Point::new(x1, y)).0);
                (from..=to).for_each(|column| mesh.cells[row * CELLS + column].push(index));
            }
        }
        mesh
    }

    fn cell(&self, p: Point) -> (usize, usize) {
        let of = |x: f64, low: f64, size: f64| (((x - low) / size * CELLS as f64) as usize).min(CELLS - 1);
        (of(p.x, self.bounds.x0, self.bounds.width()), of(p.y, self.bounds.y0, self.bounds.height()))
    }

    /// The nearest wood on the line of sight through a point; of one board where it is named.
    fn nearest(&self, p: Point, of: Option<(usize, usize)>) -> f64 {
        let (column, row) = self.cell(p);
        let hit = |index: &usize| {
            let ([a, b, c], board) = self.triangles[*index];
            if of.is_some_and(|of| of != board) {
                return None;
            }
            let area = (b.0 - a.0).cross(c.0 - a.0);
            let share = |q: Point, r: Point| (q - p).cross(r - p) / area;
            let (u, v, w) = (share(b.0, c.0), share(c.0, a.0), share(a.0, b.0));
            // Triangles seen edge-on hide nothing.
            (area.abs() > 1e-9 && u >= 0.0 && v >= 0.0 && w >= 0.0).then_some(u * a.1 + v * b.1 + w * c.1)
        };
        self.cells[row * CELLS + column].iter().filter_map(hit).fold(f64::MIN, f64::max)
    }

    /// Whether wood stands clearly before a point; `None` in the band along silhouettes.
    fn hides(&self, seen: Point, depth: f64) -> Option<bool> {
        let told = around(seen).map(|p| self.nearest(p, None) > depth + CLEARLY);
        told.iter().all(|t| *t == told[0]).then_some(told[0])
    }
}

/// From where to where a triangle reaches along x between two levels.
fn span(t: &[Point; 3], low: f64, high: f64) -> Option<(f64, f64)> {
    let mut reach: Option<(f64, f64)> = None;
    for (a, b) in [(t[0], t[1]), (t[1], t[2]), (t[2], t[0])] {
        let at = |y: f64| if a.y == b.y { a.x } else { a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y) };
        let (from, to) = (a.y.min(b.y).max(low), a.y.max(b.y).min(high));
        for x in
            if from <= to { [at(from), at(to), if a.y == b.y { b.x } else { at(to) }].to_vec() } else { Vec::new() }
        {
            reach = Some(reach.map_or((x, x), |(l, h)| (l.min(x), h.max(x))));
        }
    }
    reach
}

/// Four points round one, not in line with anything.
fn around(p: Point) -> [Point; 4] {
    [(BAND, 0.7 * BAND), (-0.7 * BAND, BAND), (-BAND, -0.7 * BAND), (0.7 * BAND, -BAND)]
        .map(|(x, y)| Point::new(p.x + x, p.y + y))
}

/// The edges of a closed surface at which it turns by more than 0.05 radians.
fn sharp(vertices: &[Point3], triangles: &[[u32; 3]]) -> impl Iterator<Item = (Point3, Point3)> {
    let at = |i: u32| vertices[i as usize];
    let mut normals: BTreeMap<(u32, u32), Vec<Vec3>> = BTreeMap::new();
    for [a, b, c] in triangles {
        let Some(normal) = (at(*b) - at(*a)).cross(at(*c) - at(*a)).unit() else { continue };
        for (from, to) in [(a, b), (b, c), (c, a)] {
            normals.entry((*from.min(to), *from.max(to))).or_default().push(normal);
        }
    }
    let turned = |n: &Vec<Vec3>| matches!(n[..], [p, q] if p.cross(q).length() > 0.05 || p.dot(q) < 0.0);
    let sharp: Vec<_> = normals.into_iter().filter(|(_, n)| turned(n)).map(|((a, b), _)| (at(a), at(b))).collect();
    sharp.into_iter()
}

/// Whether a point lies on one of the strokes.
fn on(strokes: &[Stroke], p: Point) -> bool {
    let near = |s: &&Stroke| s.line.bounding_box().inflate(ON_LINE, ON_LINE).contains(p);
    strokes.iter().filter(near).any(|s| s.line.nearest(p).0 < ON_LINE)
}

/// Points told and points told wrongly.
#[derive(Debug, Default)]
struct Tally {
    told: usize,
    wrong: Vec<String>,
    band: usize,
}

impl Tally {
    fn tell(&mut self, right: bool, what: impl Fn() -> String) {
        self.told += 1;
        if !right {
            self.wrong.push(what());
        }
    }
}

fn compare(piece: &Piece, scene: &Scene, view: &View, from_anywhere: bool, tally: &mut Tally) {
    let mesh = Mesh::new(scene, view);
    let sight = Model::of(piece).seen(view);
    // A curve's many short arrises are taken a few at a time.
    let mut run = 0.0;
    for (a, b) in &mesh.arrises {
        run += b.distance(*a);
        if run < 25.0 {
            continue;
        }
        run = 0.0;
        let steps = ((b.distance(*a) / 25.0) as usize).clamp(1, 40);
        for k in 0..steps {
            let p = *a + (*b - *a) * ((k as f64 + 0.5) / steps as f64);
            let (seen, depth) = (view.project(p), view.nearness(p));
            match mesh.hides(seen, depth) {
                None => tally.band += 1,
                Some(false) => tally.tell(on(&sight.visible, seen), || format!("{p:?} is seen and not drawn so")),
                // From a chosen side one line may lie behind another that is seen.
                Some(true) if from_anywhere => tally
                    .tell(on(&sight.hidden, seen) && !on(&sight.visible, seen), || {
                        format!("{p:?} is hidden and not drawn so")
                    }),
                Some(true) => {
                    tally.tell(on(&sight.hidden, seen) || on(&sight.visible, seen), || format!("{p:?} is lost"))
                }
            }
        }
    }
    // From a chosen side a line that is seen may be drawn as that of a board exactly behind.
    for stroke in sight.visible.iter().filter(|_| from_anywhere) {
        for k in 0..5 {
            let seen = stroke.line.eval((f64::from(k) + 0.5) / 5.0);
            let own = Some((stroke.board, stroke.copy));
            let depth = around(seen).map(|p| mesh.nearest(p, own)).into_iter().fold(f64::MIN, f64::max);
            match mesh.hides(seen, depth) {
                None => tally.band += 1,
                Some(hidden) => tally.tell(!hidden, || format!("{seen:?} is drawn as seen: {stroke:?}")),
            }
        }
    }
}

#[test]
fn lines_are_seen_and_hidden_as_the_model_says() {
    let mut tally = Tally::default();
    let mut pieces = 0;
    let mut tried = 0;
    for_all(400, |draws| {
        if pieces == 60 {
            return;
        }
        tried += 1;
        let Some(piece) = random(draws) else { return };
        pieces += 1;
        let scene = piece.scene("piece");
        let direction = Vec3::new(draws.between(-1.0, 1.0), draws.between(-1.0, 1.0), draws.between(-1.0, 1.0));
        let view = View::from_direction(direction).expect("a direction");
        compare(&piece, &scene, &view, true, &mut tally);
        let side = [View::FRONT, View::RIGHT, View::ABOVE, View::BELOW, View::LEFT][pieces % 5];
        compare(&piece, &scene, &side, false, &mut tally);
    });
    let wrong = tally.wrong.len() as f64 / tally.told as f64;
    println!("{} points told, {} in the band, {} wrong; {tried} tried", tally.told, tally.band, tally.wrong.len());
    assert!(tally.told > 60_000 && tally.band < tally.told / 4, "{} {}", tally.told, tally.band);
    assert!(wrong < 0.001, "{wrong}: {:#?}", &tally.wrong[..tally.wrong.len().min(20)]);
    assert!(pieces == 60, "most pieces can be made");
}

#[test]
fn corners_are_seen_where_they_are_projected() {
    let (base, top) = curved();
    let piece = solved(&base, Some(&top)).expect("a table");
    for view in [View::FRONT, View::RIGHT, View::ABOVE, View::BELOW, View::isometric()] {
        let sight = Model::of(&piece).seen(&view);
        let all: Vec<Stroke> = sight.visible.iter().chain(&sight.hidden).cloned().collect();
        for board in &piece.boards {
            let t = board.board.thickness;
            let faces = [(0.0, &board.solid.face), (-t, &board.solid.far)];
            for (w, ring) in faces {
                for (corner, _, _) in ring.corners() {
                    for copy in &board.copies {
                        let p = view.project(copy.placement.to_world(Point3::new(corner.x, corner.y, w)));
                        let end = |s: &Stroke| s.line.start().distance(p).min(s.line.end().distance(p));
                        let nearest = all.iter().map(end).fold(f64::MAX, f64::min);
                        assert!(nearest < 1e-6 || on(&all, p), "{} {corner:?}: {nearest}", board.id);
                    }
                }
            }
        }
    }
}

#[test]
fn flush_boards_show_their_joint_and_nothing_else() {
    let mut frames = leaning();
    frames.top_rail.iter_mut().for_each(|rail| rail.set_back = Some(super::pieces::mm(0.0)));
    frames.bottom_rail.iter_mut().for_each(|rail| rail.set_back = Some(super::pieces::mm(0.0)));
    let piece = solved(&Base::LeaningFrames(Box::new(frames)), Some(&top(1700.0, 900.0))).expect("a table");
    let rail = piece.boards.iter().position(|b| b.id.as_str() == "bottom_rail").expect("a rail");
    let sight = Model::of(&piece)
        .only(|b| piece.boards[b].role == PartRole::Leg || piece.boards[b].role.is_rail())
        .seen(&View::RIGHT);
    let strokes = || sight.visible.iter().chain(&sight.hidden);
    assert!(strokes().all(|s| s.line.length() > 1.0), "no slivers");
    // The joint at the rail's right end, on the leg's face: both corners of the rail's face are joined by a seen line.
    let solved = &piece.boards[rail];
    let right = solved.copies.iter().find(|c| c.placement.w().x > 0.5).expect("the right frame");
    let end = solved.board.cut(&EdgeName::RightEnd).expect("an end");
    let joint: Vec<Point> = solved
        .solid
        .face
        .part(fullsize::board::Source::Cut(end))
        .map(|s| View::RIGHT.project(right.placement.to_world(Point3::new(s.eval(0.5).x, s.eval(0.5).y, 0.0))))
        .collect();
    assert!(!joint.is_empty() && joint.iter().all(|p| on(&sight.visible, *p)));
}

/// Where an edge goes on along its tangent past a corner, the foot of a plumb frame is sawn exactly where both pieces join.
#[test]
fn the_foot_of_a_plumb_curved_leg_is_closed() {
    for rise in [8.0, -8.0, 20.0] {
        let mut frames = leaning();
        frames.lean = super::pieces::deg(0.0).into();
        frames.leg.outside_edge = Curve::Rise(super::pieces::mm(rise));
        let piece = solved(&Base::LeaningFrames(Box::new(frames)), None).expect("a base");
        let leg = piece.boards.iter().find(|b| b.id.as_str() == "leg").expect("a leg");
        let strokes = |view: &View| {
            let sight = Model::of(&piece).seen(view);
            sight.visible.iter().chain(&sight.hidden).cloned().collect::<Vec<Stroke>>()
        };
        for view in [View::ABOVE, View::BELOW, View::isometric()] {
            let drawn = strokes(&view);
            for (corner, ..) in leg.solid.face.corners() {
                for copy in &leg.copies {
                    let at = |w: f64| copy.placement.to_world(Point3::new(corner.x, corner.y, w));
                    let middle = view.project(at(-leg.board.thickness / 2.0));
                    assert!(on(&drawn, middle), "rise {rise}: no line through the thickness at {corner:?}");
                }
            }
        }
    }
}

/// How much is drawn of a view, mm.
fn drawn(strokes: &[Stroke]) -> f64 {
    strokes.iter().map(|stroke| stroke.line.length()).sum()
}

/// A table is far from having too many lines; where few tests are allowed the longest lines are still told, what is left is drawn and
/// none of it is lost, and how much that is is told by the drawing.
#[test]
fn a_view_of_too_many_lines_says_what_it_did_not_ask() {
    let (base, top) = curved();
    let piece = solved(&base, Some(&top)).expect("a table");
    let model = |tests: usize| Model::of(&piece).with_most_tests(tests);
    for view in [View::FRONT, View::RIGHT, View::ABOVE, View::isometric()] {
        let whole = Model::of(&piece).seen(&view);
        assert_eq!(whole.untold, 0);
        assert_eq!(*model(usize::MAX).seen(&view), *whole);
        let none = model(0).seen(&view);
        let few = (6..30).map(|k| model(1 << k).seen(&view)).find(|few| few.untold < none.untold);
        let few = few.expect("a line can be told");
        assert!(few.untold > 0 && none.untold > 0, "{} {}", few.untold, none.untold);
        // Only what was hidden may be drawn as seen, and everything that is seen is.
        assert!(drawn(&few.hidden) < drawn(&whole.hidden) && drawn(&few.visible) > drawn(&whole.visible));
        let middles = whole.visible.iter().map(|stroke| stroke.line.eval(0.5));
        assert!(middles.into_iter().all(|p| on(&few.visible, p) && on(&none.visible, p)));
        assert!(whole.hidden.iter().all(|s| on(&few.visible, s.line.eval(0.5)) || on(&few.hidden, s.line.eval(0.5))));
    }
    let shop = super::sheets::shop("A3");
    let setup = Setup { shop: &shop, notation: Notation::default(), title: "Table", readings_from: None };
    let told = |model: &Model| {
        let drawing = draw(Subject { piece: &piece, model }, &setup, &Options::default()).expect("sheets");
        let said = drawing.findings.iter().map(|finding| (finding.code, finding.said(&setup.notation).message));
        said.collect::<Vec<_>>()
    };
    assert_eq!(told(&Model::of(&piece)), []);
    let said = told(&model(300));
    assert!(said.iter().all(|(code, _)| *code == "drawn-unhidden"), "{said:?}");
    let lines = model(300).seen(&View::FRONT).untold;
    assert!(
        said.iter().any(|(_, words)| words.contains("\"front\"") && words.contains(&format!("that {lines} of"))),
        "{said:?}"
    );
    assert!(said.iter().any(|(_, words)| words.contains("\"assembly\"")), "{said:?}");
}
