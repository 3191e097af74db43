//! A sled with wedges: the part is laid on it as told, the blade stands square, and the cut has to come square to it.

use super::made::{Board, Made};
use super::paper::laying;
use super::{near, number, turned};
use fullsize::geometry::Vec3;
use fullsize::joinery::aids::{Aid, Figure, Look};
use fullsize::piece::Value;

/// A direction within this, degrees, is as told: the numbers are not rounded.
const TRUE: f64 = 1e-4;

/// The wedges of an aid by what their names say: the angle between foot and top of the solid that is sawn to the figure, degrees.
fn wedge(aid: &Aid, place: &str) -> f64 {
    let head = format!("wedge {place}: ");
    aid.figures.iter().find(|figure| figure.name.starts_with(&head)).map_or(0.0, |figure| {
        let angle = rise(figure);
        near(&figure.name, number(&figure.name[head.len()..]), angle, 0.0501);
        angle
    })
}

fn rise(figure: &Figure) -> f64 {
    let cut = figure.lines.iter().find(|line| line.look == Look::Cut).expect("an outline");
    let nodes = cut.path.nodes();
    let [foot, _, high, low] = nodes.as_slice() else { panic!("{nodes:?}") };
    assert!(foot.y == 0.0 && low.x == foot.x && low.y < high.y, "its thin end to the left: {nodes:?}");
    (*high - *low).atan2().to_degrees()
}

fn fact(aid: &Aid, name: &str) -> Option<f64> {
    aid.facts.iter().find(|fact| fact.name.key() == name).map(|fact| match fact.value {
        Value::Angle(angle) => angle.degrees(),
        Value::Length(length) => length.mm(),
        _ => f64::NAN,
    })
}

/// A part on the sled: where its axes point. The blade cuts square to x, the fence lies along x, z is up.
struct Lying {
    u: Vec3,
    v: Vec3,
    w: Vec3,
}

impl Lying {
    /// With one direction of the board turned to `x`, and another, square to it, to `z`.
    fn set(x: (Vec3, Vec3), z: (Vec3, Vec3)) -> Lying {
        let (from, to) = ((x.0, z.0, z.0.cross(x.0)), (x.1, z.1, z.1.cross(x.1)));
        let place = |way: Vec3| to.0 * way.dot(from.0) + to.1 * way.dot(from.1) + to.2 * way.dot(from.2);
        Lying { u: place(Vec3::X), v: place(Vec3::Y), w: place(Vec3::Z) }
    }

    fn place(&self, way: Vec3) -> Vec3 {
        self.u * way.x + self.v * way.y + self.w * way.z
    }

    fn turn(self, axis: Vec3, degrees: f64) -> Lying {
        Lying { u: turned(self.u, axis, degrees), v: turned(self.v, axis, degrees), w: turned(self.w, axis, degrees) }
    }
}

/// An end at the blade.
fn end(board: &Board, aid: &Aid, place: &str, words: &[&str]) {
    let index = board.cuts.iter().position(|cut| cut.place == place).unwrap_or_else(|| panic!("{place}"));
    let normal = board.cuts[index].normal;
    let said = |head: &str| words.iter().find(|word| word.starts_with(head)).copied();
    let under = said("lay the part ");
    let fence = said("the fence's wedge goes between the fence and the ");
    let edge = fence.map(|words| {
        let rest = words.trim_start_matches("the fence's wedge goes between the fence and the ");
        rest.split(", ").next().expect("an edge")
    });
    // Without a wedge at the fence the part lies along it by its register edge.
    let registers =
        board.json["cuts"][board.json["cuts"]
            .as_array()
            .expect("cuts")
            .iter()
            .position(|cut| cut["where"] == place)
            .expect("a cut")]["registers"]
            .as_array()
            .expect("registers");
    let edge =
        edge.filter(|edge| *edge != "straight edge").or_else(|| registers.first().and_then(|r| r["edge"].as_str()));
    let (along, fence_side) = match edge {
        Some(edge) => {
            let [Some(corner), _] = board.beside(index, edge) else { return };
            (board.along(edge, corner), board.out_of(edge))
        }
        None => return,
    };
    if fence_side.z.abs() > 1e-9 {
        return;
    }
    // Face up, the edge along the fence, the end at the blade.
    let lying = Lying::set((along, Vec3::X), (Vec3::Z, Vec3::Z));
    assert!(under.is_none_or(|words| words.starts_with(&format!("lay the part {} up on the wedge", board.sides[0]))));
    // The fence's wedge lies on the other: it is between fence and edge before both are tilted by the one beneath.
    let beside = lying.place(fence_side);
    let angle = wedge(aid, "against the fence");
    assert_eq!(fence.is_some(), angle > 0.0, "{} {place}: {words:?} {:#?}", board.label, aid.words());
    let lying = match fence {
        Some(words) => {
            let open = if words.ends_with("its thick end at the blade.") { angle } else { -angle };
            // Thick at the blade, it holds the edge there farther off the fence.
            let off = -beside;
            let turn = Vec3::X.cross(off).dot(Vec3::Z).signum() * open;
            lying.turn(Vec3::Z, turn)
        }
        None => lying,
    };
    let angle = wedge(aid, "under the part");
    assert_eq!(under.is_some(), angle > 0.0, "{words:?}");
    let lying = match under {
        Some(words) => {
            near(words, number(words.rsplit("tilts ").next().expect("a tilt")), angle, 0.0501);
            let lifts = if words.contains("its thick end at the blade") { angle } else { -angle };
            // Thick at the blade, it lifts the end there: x goes up.
            lying.turn(Vec3::Y, -lifts)
        }
        None => lying,
    };
    let left = lying.place(normal).cross(Vec3::X).length().asin().to_degrees();
    near(&format!("{} {place}: {words:?}", board.label), left, 0.0, 0.051);
    if fence.is_some() && under.is_some() {
        near(&format!("{} {place}", board.label), left, 0.0, TRUE);
    }
}

/// A cut along a part, uppermost: it has to come level.
fn lengthwise(board: &Board, aid: &Aid, place: &str, words: &str) {
    let normal = board.out_of(place);
    let on_face = words.contains("lay the part down with the cut uppermost");
    let (up, aside) = match on_face {
        true => (Vec3::Z * normal.z.signum(), Vec3::Y),
        false => {
            assert!(words.contains("stand the part on the opposite edge with this one uppermost"), "{words}");
            (Vec3::Y * normal.y.signum(), Vec3::Z)
        }
    };
    let names = ["along under the edge", "at the upright fence", "along under the part", "across under the part"];
    let [under, fence, along, across] = names.map(|name| wedge(aid, name));
    let mut lying = Lying::set((Vec3::X, Vec3::X), (up, Vec3::Z));
    let thick = |head: &str| {
        let rest = words.split(head).nth(1)?.split([';', '.']).next()?;
        Some(board.out_of(rest.rsplit("towards the ").next()?.trim()))
    };
    // The wedge along the part lifts it where it is thick.
    let lengthways = under.max(along);
    let said = thick("the wedge under it runs along it, thick end ");
    assert_eq!(said.is_some(), lengthways > 0.0, "{words}");
    if let Some(towards) = said {
        let lifted = lying.place(Vec3::X * towards.x.signum());
        lying = lying.turn(lifted.cross(Vec3::Z), lengthways);
    }
    // The other one tilts part and wedge about the line along the sled.
    if let Some(towards) = thick("the wedge across it has its thick end ") {
        let towards = aside * towards.dot(aside).signum();
        let flat = lying.place(towards);
        let flat = Vec3::new(0.0, flat.y, 0.0).unit().expect("across");
        lying = lying.turn(flat.cross(Vec3::Z), across);
    } else if let Some(rest) = words.split("the wedge goes between its ").nth(1) {
        let side = rest.split(" and an upright fence, thick end down").next().expect("a side");
        let face = lying.place(board.out_of(side));
        let to_fence = Vec3::new(0.0, face.y, 0.0).unit().expect("across");
        // Thick below, thin above: the part's head falls towards the fence.
        lying = lying.turn(Vec3::Z.cross(to_fence), fence);
    } else {
        near(words, fence.max(across), 0.0, 0.0);
    }
    let left = lying.place(normal).cross(Vec3::Z).length().asin().to_degrees();
    near(&format!("{} {place}: {words}", board.label), left, 0.0, 0.051);
}

fn tried(made: &Made, aid: &Aid) -> [usize; 2] {
    let head = "cutting the ";
    let what = aid.what();
    let rest = what.strip_prefix(head).expect("what for");
    let (label, places) = rest.split_once(" with a square blade: ").expect("a place");
    let board = made.board(label);
    let mut tried = [0, 0];
    let usual = if made.file["units"] == "in" { 12.0 * 25.4 } else { 300.0 };
    let long = made.mm(&made.asked(aid)["length"]).unwrap_or(usual);
    for place in places.split(", ") {
        // Words that are said of several cuts begin with all of them.
        let said = aid.words();
        let own: Vec<&str> = said
            .iter()
            .filter_map(|words| words.split_once(": "))
            .filter(|(heads, _)| heads.split(", ").any(|head| head == place))
            .map(|(_, said)| said)
            .collect();
        assert!(!own.is_empty(), "{place}: {:?}", aid.words());
        if own.iter().any(|words| words.contains("uppermost")) {
            lengthwise(&board, aid, place, own[0]);
            tried[1] += 1;
        } else {
            end(&board, aid, place, &own);
            tried[0] += 1;
        }
    }
    for (figure, name) in [("under", "under_rise"), ("fence", "fence_rise")] {
        if let (Some(angle), Some(rise)) = (fact(aid, figure), fact(aid, name)) {
            near(name, rise, long * angle.to_radians().tan(), 1e-6);
        }
    }
    tried
}

/// The resultant of both wedges is the whole turn from flat on the sled to the cut.
fn resultant(aid: &Aid) {
    let (Some(under), Some(fence), Some(both)) = (fact(aid, "under"), fact(aid, "fence"), fact(aid, "resultant"))
    else {
        return;
    };
    let way = turned(turned(Vec3::X, Vec3::Z, fence), Vec3::Y, under);
    near("resultant", both, way.dot(Vec3::X).acos().to_degrees(), 1e-6);
}

/// Every wedge of a piece, laid as told: how many bring an end, and a long edge, square to the blade.
pub fn lay(made: &Made) -> [usize; 2] {
    let mut laid = [0, 0];
    for aid in made.aids.iter().filter(|aid| aid.kind == "wedges") {
        laying(&aid.name);
        let own = tried(made, aid);
        laid = [laid[0] + own[0], laid[1] + own[1]];
        resultant(aid);
    }
    laid
}
