//! The feet of mortising blocks.

use super::super::made::Made;
use super::lay::{Before, TRUE, mouths_in, nodes, ways};
use fullsize::geometry::{Affine, Point, Point3, Vec3};
use kurbo::BezPath;
use serde_json::Value as Json;

/// Every block of a piece on every copy that it is for; how many.
pub fn lay(made: &Made) -> usize {
    let all: Vec<&Json> =
        made.json["aids"].as_array().expect("aids").iter().filter(|aid| aid["kind"] == "block").collect();
    all.iter().map(|aid| block(made, aid, &all)).sum()
}

/// What a block is for: the part, the joint with the first of its surfaces, that surface.
fn meant(aid: &Json) -> Option<(&str, &str, &str)> {
    let rest = aid["for"].as_str().expect("what for").strip_prefix("mortising the ")?;
    let (label, rest) = rest.split_once(" for ").expect("a joint");
    let rest = rest.split(", ").next().expect("a surface");
    Some((label, rest, rest.split_once(": ").expect("a surface").1))
}

/// The blocks of a joint on a surface of a part: the foot of one of them lies on each copy, by the rim that it is set by and the mouths.
fn block(made: &Made, aid: &Json, all: &[&Json]) -> usize {
    let Some((label, _, surface)) = meant(aid) else { return 0 };
    let feet: Vec<Foot> =
        all.iter().filter(|other| meant(other) == meant(aid)).map(|other| Foot::of(other)).collect();
    let board = made.board(label);
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
    let with_it = (0..board.places.len()).filter(|copy| !mouths_in(made, &board, on, *copy).is_empty());
    let mut lies = 0;
    for copy in with_it {
        let at = &board.places[copy].1;
        let before = Before::surface(at.to_world(board.middle()), at.direction_to_world(out));
        let see = |p: &Point3| before.see(at.to_world(*p));
        let holes: Vec<Point> = mouths_in(made, &board, on, copy).iter().map(see).collect();
        let fits = |foot: &Foot| {
            let over = foot.is_handed && at.is_mirrored();
            rims.iter().any(|wood| foot.fits(over, &wood.iter().map(see).collect::<Vec<_>>(), &holes))
        };
        assert!(feet.iter().any(fits), "{}, copy {copy}: {feet:?} lie not on {holes:?}", aid["for"]);
        lies += 1;
    }
    usize::from(lies > 0)
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
