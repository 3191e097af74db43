//! The feet of mortising blocks.

use super::super::made::{Board, Made, Stretch};
use super::lay::{Before, TRUE, landed, laying, mouths_in, nodes, ways};
use fullsize::geometry::{Affine, Point, Point3, Segment, Vec3};
use kurbo::BezPath;
use serde_json::Value as Json;

/// Every block of a piece on every copy that it is for: how many stand on a face or an end, and how many on an edge.
pub fn lay(made: &Made) -> [usize; 2] {
    let all: Vec<&Json> =
        made.json["aids"].as_array().expect("aids").iter().filter(|aid| aid["kind"] == "block").collect();
    let laid = all.iter().map(|aid| block(made, aid, &all));
    laid.fold([0; 2], |sum, own| [sum[0] + own[0], sum[1] + own[1]])
}

/// What a block is for: the part, the joint with its surfaces, these alone.
fn meant(aid: &Json) -> Option<(&str, &str, &str)> {
    let rest = aid["for"].as_str().expect("what for").strip_prefix("mortising the ")?;
    let (label, rest) = rest.split_once(" for ").expect("a joint");
    Some((label, rest, rest.split_once(": ").expect("a surface").1))
}

/// The first of some surfaces, whose names may hold commas of their own.
fn first<'a>(board: &Board, surfaces: &'a str) -> &'a str {
    let cuts = board.cuts.iter().map(|cut| &cut.place);
    let names = board.sides.iter().chain(cuts).chain(board.rims.iter().flatten().map(|stretch| &stretch.name));
    let named = names.filter(|name| surfaces.starts_with(name.as_str())).max_by_key(|name| name.len());
    &surfaces[..named.unwrap_or_else(|| panic!("no {surfaces} on the {}", board.label)).len()]
}

/// The blocks of a joint on a surface of a part: the foot of one of them lies on each copy, by the rim that it is set by and the mouths.
fn block(made: &Made, aid: &Json, all: &[&Json]) -> [usize; 2] {
    laying(aid["name"].as_str().expect("a name"));
    let Some((label, _, surfaces)) = meant(aid) else { return [0; 2] };
    let board = made.board(label);
    let surface = first(&board, surfaces);
    let feet: Vec<Foot> =
        all.iter().filter(|other| meant(other) == meant(aid)).map(|other| Foot::of(other)).collect();
    let Some(out) = seat(&board, surface) else { return [0; 2] };
    let on = if surface == board.sides[0] {
        "face"
    } else if surface == board.sides[1] {
        "far_face"
    } else {
        surface
    };
    let with_it = (0..board.places.len()).filter(|copy| !mouths_in(made, &board, on, *copy).is_empty());
    let mut lies = 0;
    for copy in with_it {
        let at = &board.places[copy].1;
        let before = Before::surface(at.to_world(board.middle()), at.direction_to_world(out));
        let see = |p: &Point3| before.see(at.to_world(*p));
        let holes: Vec<Point> = mouths_in(made, &board, on, copy).iter().map(see).collect();
        let rims = rims(made, &board, surface, copy);
        let fits = |foot: &Foot| {
            let over = foot.is_handed && at.is_mirrored();
            rims.iter().any(|wood| foot.fits(over, &wood.iter().map(see).collect::<Vec<_>>(), &holes))
        };
        assert!(feet.iter().any(fits), "{}, copy {copy}: {feet:?} lie not on {holes:?}", aid["for"]);
        lies += 1;
    }
    let on_edge =
        !board.sides.iter().any(|side| side == surface) && board.cuts.iter().all(|cut| cut.place != surface);
    if on_edge { [0, usize::from(lies > 0)] } else { [usize::from(lies > 0), 0] }
}

/// The way out of the surface on which a block stands; `None` of a curved one.
fn seat(board: &Board, surface: &str) -> Option<Vec3> {
    let own: Vec<&Stretch> = board.rims.iter().flatten().filter(|stretch| stretch.name == surface).collect();
    let straight = own.iter().all(|stretch| matches!(stretch.segment, Segment::Line(_)));
    straight.then(|| board.out_of(surface))
}

/// What the foot of a block is set by, in the axes of a copy: a sawn end's own corners, or those of the sawn ends that land on the surface.
fn rims(made: &Made, board: &Board, surface: &str, copy: usize) -> Vec<Vec<Point3>> {
    if let Some(cut) = board.cuts.iter().position(|cut| cut.place == surface) {
        return vec![board.corners_of_cut(cut)];
    }
    if let Some(side) = board.sides.iter().position(|side| side == surface) {
        let (z, name) = if side == 0 { (0.0, "face") } else { (-board.thickness, "far_face") };
        let meets = board.json["meets"].as_array().expect("meets").iter().filter(|meet| meet["on"] == name);
        let contact = |meet: &Json| nodes(meet["contact"].as_str().expect("a path"));
        return meets.map(contact).map(|all| all.iter().map(|p| Point3::new(p.x, p.y, z)).collect()).collect();
    }
    // On an edge: where the other boards end in its plane, as they stand.
    let out = board.out_of(surface);
    let rim = &board.rims[0];
    let at = rim.iter().position(|stretch| stretch.name == surface).expect("an edge");
    let edge = rim[at].segment;
    let [from, to] = [edge.start(), edge.end()].map(|p| Point3::new(p.x, p.y, 0.0));
    let along = (to - from).unit().expect("an edge");
    // It ends at both faces, at what was sawn off, and where another edge begins.
    let mut sides = vec![(Vec3::Z, from), (-Vec3::Z, from - Vec3::Z * board.thickness)];
    sides.extend(board.cuts.iter().map(|cut| (cut.normal, Point3::ORIGIN + cut.normal * cut.offset)));
    let next = [(rim.len() - 1, -along, from), (1, along, to)];
    let next = next.into_iter().filter(|(step, ..)| rim[(at + step) % rim.len()].cut.is_none());
    sides.extend(next.map(|(_, way, end)| (way, end)));
    let ends = landed(made, board, copy).into_iter().map(|(_, corners, _)| corners);
    let flush =
        ends.filter(|corners| !corners.is_empty() && corners.iter().all(|p| (*p - from).dot(out).abs() < TRUE));
    // What reaches beyond the edge is left out.
    flush.map(|corners| sides.iter().fold(corners, |ring, (n, on)| clipped(&ring, *n, *on))).collect()
}

/// A ring's part on the inner side of a plane through a point.
fn clipped(ring: &[Point3], n: Vec3, on: Point3) -> Vec<Point3> {
    let over = |p: Point3| (p - on).dot(n);
    let mut kept = Vec::new();
    for (a, b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
        let (x, y) = (over(*a), over(*b));
        if x <= TRUE {
            kept.push(*a);
        }
        if (x < -TRUE && y > TRUE) || (x > TRUE && y < -TRUE) {
            kept.push(*a + (*b - *a) * (x / (x - y)));
        }
    }
    kept
}

/// What of a block's foot is drawn.
#[derive(Debug)]
struct Foot {
    rim: Vec<Point>,
    holes: Vec<Point>,
    /// Whether mirrored parts take one of the other hand.
    is_handed: bool,
}

impl Foot {
    /// The rim comes first, then the mouths.
    fn of(aid: &Json) -> Foot {
        let lines = aid["figures"][0]["lines"].as_array().expect("lines").iter();
        let marks = lines.filter(|line| line["look"] == "mark").map(|line| line["path"].as_str().expect("a path"));
        let marks: Vec<&str> = marks.collect();
        let [rim, holes @ ..] = marks.as_slice() else { panic!("{aid:#}") };
        let middle = |path: &&str| kurbo::Shape::bounding_box(&BezPath::from_svg(path).expect("a path")).center();
        let is_handed = aid["make"]["mirrored"].as_u64().is_some_and(|count| count > 0);
        Foot { rim: nodes(rim), holes: holes.iter().map(middle).collect(), is_handed }
    }

    /// Whether it lies on a rim of the wood with its mouths on those there.
    fn fits(&self, over: bool, wood: &[Point], holes: &[Point]) -> bool {
        let hand = if over { Affine::FLIP_X } else { Affine::IDENTITY };
        let rim: Vec<Point> = self.rim.iter().map(|p| hand * *p).collect();
        let marked =
            |map: &Affine| self.holes.iter().all(|p| holes.iter().any(|q| (*map * (hand * *p)).distance(*q) < TRUE));
        ways(&rim, wood).iter().any(marked)
    }
}
