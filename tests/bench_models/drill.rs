//! A drill under the top: sheets laid on the underside from below, drill and gauge set as told, against the legs that go in.

use super::made::Made;
use super::paper::laying;
use super::{between, near, number, pieces};
use fullsize::geometry::{Path, Point, Point3, Vec2, Vec3};
use fullsize::joinery::aids::{Aid, Figure, Look};
use kurbo::{BezPath, Shape};

/// How near a centre comes to the wood, mm.
const TRUE: f64 = 0.02;

fn lines(figure: &Figure, look: Look) -> Vec<&Path> {
    figure.lines.iter().filter(|line| line.look == look).map(|line| &line.path).collect()
}

/// The underside from below, the front upwards, laid where it belongs: as the plan has it.
fn laid(p: Point) -> Point {
    Point::new(p.x, -p.y)
}

fn middle(path: &Path) -> Point {
    path.bounding_box().expect("a line").center()
}

/// What of a part of this id lies under the top: its rim and its copy.
fn heads(made: &Made, id: &str) -> Vec<(BezPath, usize)> {
    let top = made.board("top");
    let at = top.places[0].1;
    let meets = top.json["meets"].as_array().expect("meets").iter();
    let own = meets.filter(|meet| meet["on"] == "far_face" && meet["board"] == id);
    own.map(|meet| {
        let path = BezPath::from_svg(meet["contact"].as_str().expect("a path")).expect("a path");
        let (o, x, y) = (at.to_world(Point3::ORIGIN), at.direction_to_world(Vec3::X), at.direction_to_world(Vec3::Y));
        let place = kurbo::Affine::new([x.x, x.y, y.x, y.y, o.x, o.y]);
        (place * path, meet["copy"].as_u64().map_or(0, |copy| copy as usize))
    })
    .collect()
}

/// The centroid of a ring, to far less than a drill wanders.
fn centroid(path: &BezPath) -> Point {
    let mut ring: Vec<Point> = Vec::new();
    kurbo::flatten(path, 0.001, |element| {
        if let kurbo::PathEl::MoveTo(p) | kurbo::PathEl::LineTo(p) = element {
            ring.push(p);
        }
    });
    let (mut area, mut sum) = (0.0, Vec2::ZERO);
    for (a, b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
        let cross = a.to_vec2().cross(b.to_vec2());
        area += cross;
        sum += (a.to_vec2() + b.to_vec2()) * cross;
    }
    (sum / (3.0 * area)).to_point()
}

fn sheet(made: &Made, aid: &Aid) -> usize {
    laying(&aid.name);
    // Where nothing is asked the drill is as wide as the tenon that goes in.
    let asked = [&made.asked(aid)["diameter"], &made.file["base"]["leg"]["round"]["tenon"]];
    let wide = asked.iter().find_map(|asked| made.mm(asked)).expect("a width");
    let (rings, sights) = (lines(&aid.figures[0], Look::Mark), lines(&aid.figures[0], Look::Centre));
    let mut found = 0;
    for board in made.piece.boards.iter().filter(|board| board.id.as_str() == "leg" || board.label.ends_with(" leg"))
    {
        for (rim, copy) in heads(made, board.id.as_str()) {
            let up = board.copies[copy].placement.direction_to_world(Vec3::X);
            // The way down the leg, its foot first.
            let down = up * -up.z.signum();
            let flat = Vec2::new(down.x, down.y);
            let lean = between(down, -Vec3::Z);
            if lean < 0.1 {
                continue;
            }
            let centre = centroid(&rim);
            let ring = rings.iter().find(|ring| laid(middle(ring)).distance(centre) < TRUE);
            let ring = ring.unwrap_or_else(|| panic!("no ring at {centre:?}"));
            // A drill of the width asked for, so tilted, opens longer along its lean.
            let far = |p: &Point| laid(*p).distance(centre);
            let points: Vec<Point> =
                ring.segments().iter().flat_map(|s| (0..64).map(|i| s.eval(f64::from(i) / 64.0))).collect();
            let farthest = points.iter().max_by(|a, b| far(a).total_cmp(&far(b))).expect("a ring");
            let nearest = points.iter().map(far).fold(f64::MAX, f64::min);
            near("across the lean", nearest, wide / 2.0, 0.01);
            near("along the lean", far(farthest), wide / 2.0 / lean.to_radians().cos(), 0.02);
            let long = (laid(*farthest) - centre).normalize();
            assert!(lean < 2.0 || long.cross(flat.normalize()).abs() < 0.06, "{long:?} {flat:?}");
            // The long arm of its sightline goes the way of the foot.
            let passes = |path: &&&Path| {
                let ends = path.nodes();
                let way = laid(ends[1]) - laid(ends[0]);
                let to = centre - laid(ends[0]);
                ends.len() == 2
                    && way.cross(to).abs() / way.hypot() < TRUE
                    && way.cross(flat).abs() / way.hypot() < 1e-6
            };
            let sight = sights.iter().find(passes).unwrap_or_else(|| panic!("no sightline at {centre:?}"));
            let arms: Vec<Vec2> = sight.nodes().into_iter().map(|p| laid(p) - centre).collect();
            let longest = if arms[0].hypot() > arms[1].hypot() { arms[0] } else { arms[1] };
            assert!(longest.dot(flat) > 0.0, "the sightline runs inwards");
            told(aid, flat, lean);
            found += 1;
        }
    }
    assert!(found > 0, "{}: nothing leans", aid.what());
    found
}

/// Gauge, block and words of one leg's hole.
fn told(aid: &Aid, flat: Vec2, lean: f64) {
    let facts = |key: &str| -> Vec<f64> {
        let own = aid.facts.iter().filter(|fact| fact.name.key() == key);
        own.filter_map(|fact| match fact.value {
            fullsize::piece::Value::Angle(angle) => Some(angle.degrees()),
            _ => None,
        })
        .collect()
    };
    let is_told = |key: &str, wanted: f64| {
        let all = facts(key);
        assert!(all.iter().any(|found| (found - wanted).abs() < 0.06), "{key}: {all:?}, not {wanted}");
    };
    is_told("resultant", lean);
    is_told("gauge", 90.0 - lean);
    is_told("sightline", flat.y.abs().atan2(flat.x.abs()).to_degrees());
    let gauges = aid.figures.iter().filter(|figure| figure.name.starts_with("bevel gauge: "));
    let set = gauges.filter(|figure| {
        let marks = lines(figure, Look::Mark);
        let [base, blade] = [0, 1].map(|i| marks[i].end().expect("a line") - marks[i].start().expect("a line"));
        let angle = base.cross(blade).atan2(base.dot(blade)).to_degrees();
        near(&figure.name, number(&figure.name["bevel gauge: ".len()..]), angle, 0.0501);
        // Outward of the leg, which goes down and outward, the wood of the leg and the underside close an acute angle.
        assert!(figure.words.iter().any(|said| said.words.ends_with("outward of the leg") && said.at.x > 0.0));
        (angle - (90.0 - lean)).abs() < 0.06
    });
    assert!(set.count() > 0, "{lean}");
    // The section of the block: level side on the wood, the drill through its cross, leaning to where it says outward.
    let blocks = aid.figures.iter().filter(|figure| figure.name.starts_with("drilling block"));
    let set = blocks.filter(|figure| {
        let said = figure.words.iter().find(|said| said.words == "outward").expect("outward");
        let nodes = lines(figure, Look::Cut)[0].nodes();
        let drill = lines(figure, Look::Centre)[0].nodes();
        let way = drill[1] - drill[0];
        assert!(way.y > 0.0 && way.x * said.at.x > 0.0, "the drill leans outward as it comes out of the wood");
        assert!(way.cross(Point::ORIGIN - drill[0]).abs() < 1e-6, "through the pricked centre");
        // Its top is square to the drill.
        let top = nodes[2] - nodes[3];
        near("top", top.dot(way) / (top.hypot() * way.hypot()), 0.0, 1e-9);
        (way.x.abs().atan2(way.y).to_degrees() - lean).abs() < 0.06
    });
    assert!(set.count() > 0, "{lean}");
    let words = aid.words();
    let first = words[0].split("The drill leans ").nth(1).expect("a lean");
    assert!((number(first) - lean).abs() < 0.0501 || facts("resultant").len() > 1, "{first}");
}

/// The drilling sheet of a piece laid under its top: how many legs' holes it has where they stand, each with its gauge and its block.
pub fn lay(made: &Made) -> usize {
    let drills = made.aids.iter().filter(|aid| aid.kind == "sightline");
    drills.map(|aid| sheet(made, aid)).sum()
}

/// Holes of the template that centres the base lie in the parts that it is asked for.
#[test]
fn holes_pricked_through_the_template_lie_in_the_heads() {
    let mut pricked = 0;
    for made in pieces() {
        for aid in made.aids.iter().filter(|aid| aid.name == "under") {
            let ids = made.piece.boards.iter().map(|board| board.id.as_str()).filter(|id| id.ends_with("leg"));
            let rims: Vec<BezPath> = ids.flat_map(|id| heads(made, id)).map(|(rim, _)| rim).collect();
            let holes = lines(&aid.figures[0], Look::Drill);
            assert!(!holes.is_empty());
            for hole in holes {
                let at = laid(middle(hole));
                assert!(rims.iter().any(|rim| rim.contains(at)), "{at:?} lies in no head");
                pricked += 1;
            }
            // What the base measures under the top, along it and across.
            let top = made.board("top");
            let all = top.json["meets"].as_array().expect("meets").iter().filter(|meet| meet["on"] == "far_face");
            let around = all
                .map(|meet| {
                    BezPath::from_svg(meet["contact"].as_str().expect("a path")).expect("a path").bounding_box()
                })
                .reduce(|a, b| a.union(b))
                .expect("a base");
            for (key, wanted) in [("base_along", around.width()), ("base_across", around.height())] {
                let fact = aid.facts.iter().find(|fact| fact.name.key() == key).unwrap_or_else(|| panic!("{key}"));
                let fullsize::piece::Value::Length(length) = fact.value else { panic!("{key}") };
                near(key, length.mm(), wanted, 1e-3);
            }
        }
    }
    assert!(pricked > 20, "{pricked}");
}
