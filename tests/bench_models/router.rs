//! A router with a cutter that turns clockwise as seen from above the router, run along a template as its words and arrows say: the
//! template lies on the side told, follows the edges named, and the teeth leave the wood against the feed.

use super::files;
use super::made::{Board, made};
use fullsize::geometry::{Affine, Path, Point, Segment, Vec2, Vec3};
use fullsize::job::Job;
use fullsize::page::{Item, Role, Shape};
use fullsize::pattern::Pattern;
use serde_json::{Value as Json, json};
use std::f64::consts::PI;

/// How near a template comes to the edge that it is for, mm.
const TRUE: f64 = 0.02;

/// Half of a screw's head, mm.
const HEAD: f64 = 5.0;

/// Length of a feed's arrow, mm: nothing else on a template is as long with two barbs.
const ARROW: f64 = 60.0;

/// Leaning frames whose legs are trimmed to a template, one for each seed: on either side, under a bearing at either end.
fn routed(seed: u64) -> Json {
    let mut file = files::leaning(seed);
    let (side, bearing) = (["face", "far"][(seed % 2) as usize], ["tip", "shank"][(seed / 2 % 2) as usize]);
    let edges = match seed / 4 % 3 {
        0 => json!(["outside edge", "inside edge"]),
        1 => json!("outside edge"),
        _ => json!("inside edge"),
    };
    let leg = if file["base"]["frames"].is_object() { "left_leg" } else { "leg" };
    file["shop"]["cutters"] =
        json!({ "trimmer": { "diameter": 19, "bearing": 19, "bearing_at": bearing, "length": 80 } });
    file["routing"] =
        json!({ leg: { "template": { "kind": "blank", "edge": edges, "cutter": "trimmer", "lies_on": side } } });
    file
}

fn said(items: &[Item]) -> Vec<&str> {
    items
        .iter()
        .filter_map(|item| match &item.shape {
            Shape::Text(text) => Some(text.content.as_str()),
            _ => None,
        })
        .collect()
}

fn paths(items: &[Item], role: Role) -> Vec<&Path> {
    items
        .iter()
        .filter(|item| item.role == role)
        .filter_map(|item| match &item.shape {
            Shape::Stroke { path, .. } => Some(path),
            _ => None,
        })
        .collect()
}

/// The feeds drawn, from and to: in full lines as the template is drawn, in dashes for it turned over.
fn arrows(items: &[Item], dashed: bool) -> Vec<(Point, Point)> {
    let marks: Vec<&Path> = items
        .iter()
        .filter(|item| item.role == Role::Mark)
        .filter_map(|item| match &item.shape {
            Shape::Stroke { path, pen } if pen.dash.is_empty() != dashed => Some(path),
            _ => None,
        })
        .collect();
    let ends = |path: &Path| path.start().zip(path.end());
    let three = marks.windows(3).filter_map(|three| {
        let (from, tip) = ends(three[0]).filter(|(a, b)| (a.distance(*b) - ARROW).abs() < 1e-6)?;
        let barbed = three[1..].iter().all(|barb| barb.start().is_some_and(|p| p.distance(tip) < 1e-6));
        barbed.then_some((from, tip))
    });
    three.collect()
}

/// The edges of a part that go by a name, or by the number of the corner to which they lead.
pub type Edges<'a> = &'a dyn Fn(&str) -> Vec<Segment>;

/// The template laid on the part by its words: on how many arrows the teeth leave the wood against the feed.
pub fn blank(edges: Edges, pattern: &Pattern, asked: &Json) -> usize {
    let words = said(&pattern.items);
    let says = |what: &str| words.iter().any(|word| word.contains(what));
    let lies_far = says("lies on the far side: it is drawn as seen from there");
    assert_eq!(lies_far, asked["lies_on"] == "far");
    // Seen from the far side, the length of the part runs the other way.
    let lay = if lies_far { Affine::FLIP_X } else { Affine::IDENTITY };
    let outline = paths(&pattern.items, Role::Outline)[0].transformed(lay);
    let names = words.iter().find_map(|word| word.strip_prefix("for the ")).expect("its edges");
    for name in names.split(" and the ") {
        let own = edges(name);
        assert!(!own.is_empty(), "{name}");
        for segment in own {
            for i in 0..=8 {
                let p = segment.eval(f64::from(i) / 8.0);
                let off = outline.nearest(p).expect("a template").0;
                assert!(off < TRUE, "{}, {name}: the template lies {off} off", pattern.part.name);
            }
        }
    }
    // Which way the router looks at the paper: from before it, or from behind.
    let at_tip = says("bearing at the tip: the template lies on the side away from the router");
    assert!(at_tip != says("bearing at the shank: the template lies between router and work"));
    let router = if at_tip { -Vec3::Z } else { Vec3::Z };
    let on_paper = paths(&pattern.items, Role::Outline)[0];
    let feeds = [false, true].map(|turned| arrows(&pattern.items, turned));
    let edges = names.split(" and the ").count();
    assert_eq!(feeds[0].len(), edges);
    // One hand needs no second set; two have as many for the template turned over, when the router looks at its back.
    assert!(feeds[1].is_empty() || feeds[1].len() == edges);
    for (arrows, router) in feeds.iter().zip([router, -router]) {
        for (from, tip) in arrows {
            let middle = from.midpoint(*tip);
            assert!(!on_paper.encloses(middle), "the arrow stands in the waste");
            let (_, place) = on_paper.nearest(middle).expect("an edge");
            let edge = on_paper.point_at(place).expect("a point");
            let out: Vec2 = (middle - edge).normalize();
            // The tooth in the wood lies inwards of the cutter's middle; the cutter turns clockwise as the router sees it.
            let tooth = -Vec3::new(out.x, out.y, 0.0);
            let runs = (-router).cross(tooth);
            let feed = *tip - *from;
            assert!(runs.dot(Vec3::new(feed.x, feed.y, 0.0)) > 0.9 * ARROW, "{}: a climb cut", pattern.part.name);
        }
    }
    feeds.iter().map(Vec::len).sum()
}

/// The template of a board of a piece.
pub fn one(board: &Board, pattern: &Pattern, asked: &Json) -> usize {
    let edges = |name: &str| -> Vec<Segment> {
        board.rims.iter().flatten().filter(|stretch| stretch.name == name).map(|stretch| stretch.segment).collect()
    };
    let fed = blank(&edges, pattern, asked);
    let lies_far = asked["lies_on"] == "far";
    screws(board, pattern, if lies_far { Affine::FLIP_X } else { Affine::IDENTITY }, lies_far);
    fed
}

/// Screws stand beyond the part, or where a neighbour will hide them on the side on which the template lies.
fn screws(board: &Board, pattern: &Pattern, lay: Affine, lies_far: bool) {
    let crosses: Vec<Point> = paths(&pattern.items, Role::Drill)
        .iter()
        .filter(|path| path.segments().len() == 1)
        .map(|path| lay * path.start().expect("a line").midpoint(path.end().expect("a line")))
        .collect();
    assert!(!crosses.is_empty());
    let (on, side) = if lies_far { ("far_face", 1) } else { ("face", 0) };
    let rim = Path::closed(board.rims[side].iter().map(|stretch| stretch.segment).collect());
    let hides = |at: &Point, copy: usize| {
        let own = |meet: &&Json| meet["on"] == on && meet["own_copy"] == copy;
        let meets = board.json["meets"].as_array().expect("meets").iter().filter(own);
        let mut contacts =
            meets.map(|meet| kurbo::BezPath::from_svg(meet["contact"].as_str().expect("a path")).expect("a path"));
        contacts.any(|path| kurbo::Shape::contains(&path, *at))
    };
    // One template serves all copies, each with neighbours of its own; the screw's head is hidden as well.
    for at in &crosses {
        let head = (0..16).map(|i| *at + Vec2::from_angle(f64::from(i) * PI / 8.0) * HEAD);
        let shows = |p: &Point| rim.encloses(*p) && !(0..board.places.len()).all(|copy| hides(p, copy));
        let shown: Vec<Point> = head.chain([*at]).filter(shows).collect();
        assert!(!rim.encloses(*at) || shown.is_empty(), "{}: a screw shows at {shown:?}", pattern.part.name);
    }
}

/// The template blanks of a piece laid on the legs as told: how many feeds cut against the cutter's turn along the named edges.
pub fn lay(seed: u64) -> usize {
    let file = routed(seed);
    let Some(made) = made(&file) else { return 0 };
    let job = Job::new(made.project.clone());
    let (id, asked) = file["routing"].as_object().and_then(|all| all.iter().next()).expect("a part");
    let boards = made.boards();
    let Some(board) = boards.iter().find(|board| board.json["id"] == id.as_str()) else { return 0 };
    let Ok(all) = job.patterns() else { return 0 };
    let blanks = all.iter().filter(|named| named.pattern.part.name.ends_with("template blank"));
    blanks.map(|named| one(board, &named.pattern, &asked["template"])).sum()
}
