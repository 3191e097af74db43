//! A caul under a clamp's jaw and a block's cheek, as drawn and told.

use super::made::{Board, Made};
use super::paper::laying;
use super::{between, near, pieces};
use fullsize::geometry::{Path, Point, Vec2, Vec3};
use fullsize::joinery::aids::{Aid, Figure, Look};
use fullsize::piece::Value;

fn fact(aid: &Aid, name: &str) -> Option<f64> {
    aid.facts.iter().find(|fact| fact.name.key() == name).map(|fact| match fact.value {
        Value::Angle(angle) => angle.degrees(),
        Value::Length(length) => length.mm(),
        _ => f64::NAN,
    })
}

fn lines(figure: &Figure, look: Look) -> Vec<&Path> {
    figure.lines.iter().filter(|line| line.look == look).map(|line| &line.path).collect()
}

/// The section of the caul: its jaw's face stands off its foot by the wedge, thin to the right, its thick end as thick as told.
fn section(aid: &Aid) {
    let nodes: Vec<Point> = lines(&aid.figures[0], Look::Cut)[0].nodes();
    let (left, right) =
        (nodes.iter().map(|p| p.x).fold(f64::MAX, f64::min), nodes.iter().map(|p| p.x).fold(f64::MIN, f64::max));
    let top = |x: f64| nodes.iter().filter(|p| (p.x - x).abs() < 1e-6).map(|p| p.y).fold(f64::MIN, f64::max);
    let slope = ((top(left) - top(right)) / (right - left)).atan().to_degrees();
    near(&aid.what(), slope, fact(aid, "wedge").expect("a wedge"), 1e-6);
    let foot = |x: f64| nodes.iter().filter(|p| (p.x - x).abs() < 1e-6).map(|p| p.y).fold(f64::MAX, f64::min);
    assert!(top(left) - foot(left) > top(right) - foot(right), "thin to the right");
    near("thick end", fact(aid, "thick_end").expect("a thickness"), top(left) - foot(left), 0.5);
    // A curved foot ends where its edge does.
    if nodes.len() == 4 {
        near("rise", fact(aid, "rise").expect("a rise"), top(left) - top(right), 1e-6);
    }
    let pull = lines(&aid.figures[0], Look::Centre)[0].nodes();
    let way: Vec2 = pull[1] - pull[0];
    near("the pull's line", way.x.atan2(way.y).to_degrees(), slope, 1e-6);
}

#[test]
fn a_cauls_section_stands_at_its_wedge() {
    let mut tried = 0;
    for made in pieces() {
        for aid in made.aids.iter().filter(|aid| aid.kind == "caul") {
            section(aid);
            tried += 1;
        }
    }
    assert!(tried > 25, "{tried}");
}

/// A block's cheek lies on the face side while its foot lies on the end; its top is square to the cutter.
#[test]
fn a_blocks_cheek_closes_the_angle_of_the_wood() {
    let mut closed = 0;
    for made in pieces() {
        for aid in made.aids.iter().filter(|aid| aid.kind == "block") {
            let Some(cheek) = fact(aid, "cheek") else { continue };
            let what = aid.what();
            let (label, rest) = what["mortising the ".len()..].split_once(" for ").expect("a joint");
            let board = made.board(label);
            let surface = rest.split_once(": ").expect("a surface").1.split(", ").next().expect("a surface");
            let cut = board.cuts.iter().find(|cut| cut.place == surface).expect("an end");
            near(&aid.what(), cheek, 180.0 - between(Vec3::Z, cut.normal), 1e-6);
            let figure = aid.figures.iter().find(|figure| figure.name.starts_with("cheek on the ")).expect("a cheek");
            assert_eq!(figure.name, format!("cheek on the {}", board.sides[0]));
            // Drawn, the cheek's inner side runs down from the foot's edge at that angle.
            let (side, foot) = (lines(figure, Look::Cut)[0].nodes(), lines(figure, Look::Mark)[0].nodes());
            let (down, across): (Vec2, Vec2) = (side[1] - side[0], foot[1] - foot[0]);
            near("drawn", down.cross(across).atan2(down.dot(across)).to_degrees(), cheek, 1e-6);
            closed += 1;
        }
    }
    assert!(closed > 15, "{closed}");
}

/// A jaw's face square to the pull lies nearer to the wood where that rises towards it: there the caul is thin. The pull runs along
/// the part whose end is glued, out of the wood of the other.
fn laid(made: &Made, aid: &Aid) -> [usize; 2] {
    let what = aid.what();
    let Some(rest) = what.strip_prefix("clamping the ") else { return [0; 2] };
    let Some((label, rest)) = rest.split_once(" to the ").filter(|_| !rest.contains("; clamping")) else {
        return [0; 2];
    };
    let (other, surface) = rest.split_once(", on the ").expect("a surface");
    let surface = surface.strip_prefix(&format!("{other}'s ")).expect("of that part");
    let (from, into) = (made.board(label), made.board(other));
    let out = into.out_of(surface);
    let wedge = fact(aid, "wedge").expect("a wedge");
    let middle = |board: &Board| board.middle() + Vec3::Z * (-0.5 * board.thickness);
    let mut tried = [0; 2];
    // Where the thin end lies is told first, for each hand.
    let said = aid.words();
    let hands = said.iter().map(|words| (words.starts_with("Mirrored: "), words));
    let told = hands.map(|(over, words)| {
        let words = words.trim_start_matches("As drawn: ").trim_start_matches("Mirrored: ");
        (over, words.trim_end_matches('.').to_lowercase())
    });
    let told: Vec<(bool, String)> = told.filter(|(_, words)| words.starts_with("thin end ")).collect();
    assert!(!told.is_empty(), "{:?}", aid.words());
    let told = told.iter().flat_map(|(over, words)| words.split("; ").map(move |one| (*over, one)));
    for (over, words) in told {
        let (lies, copies) = words.split_once(", on: ").unwrap_or((words, ""));
        let towards = lies.strip_prefix("thin end towards the ").unwrap_or_else(|| panic!("{words}"));
        let thin = into.out_of(towards);
        // Every meeting of these copies at which the jaw wants this wedge.
        for meet in
            into.json["meets"].as_array().expect("meets").iter().filter(|meet| meet["board"] == from.json["id"])
        {
            let copy = |name: &str| meet[name].as_u64().expect("a copy") as usize;
            let ((_, own), (name, at)) = (&from.places[copy("copy")], &into.places[copy("own_copy")]);
            if !copies.is_empty()
                && !copies.split(" and ").flat_map(|all| all.split(", ")).any(|one| one == name.to_lowercase())
            {
                continue;
            }
            let to = at.to_world(middle(&into)) - own.to_world(middle(&from));
            let along = own.direction_to_world(Vec3::X);
            // The end that is glued: the way along the part into the other.
            let pull = at.direction_to_board(along * along.dot(to).signum());
            let off = between(pull, out);
            if off > 60.0 || (off - wedge).abs() > 0.01 {
                continue;
            }
            let rises = (pull - out * pull.dot(out)).unit().expect("a lean");
            assert!(rises.dot(thin) > 0.6, "{}: {words}, not {rises:?} {thin:?}", aid.what());
            tried[0] += 1;
            tried[1] +=
                plan(aid, over, [out, rises].map(|way| at.direction_to_world(way)), at.direction_to_world(Vec3::X));
        }
    }
    tried
}

/// The plan of a caul laid on the wood as it stands, as printed or turned over, its thin end where it belongs: the long line runs along
/// the part.
fn plan(aid: &Aid, over: bool, [out, thin]: [Vec3; 2], length: Vec3) -> usize {
    let Some(figure) = aid.figures.iter().find(|figure| figure.name.starts_with("from above")) else { return 0 };
    assert!(figure.name.ends_with("thin end to the right; the long line runs along the part"), "{}", figure.name);
    // Before the wood: the thin end to the right, the eye out of it. Turned over about its length, the thin end stays there.
    let up = out.cross(thin) * if over { -1.0 } else { 1.0 };
    let nodes = lines(figure, Look::Centre)[0].nodes();
    let line = (nodes[1] - nodes[0]).normalize();
    let (line, along) = (thin * line.x + up * line.y, (length - out * length.dot(out)).unit().expect("a length"));
    near(&aid.what(), between(line, along).min(180.0 - between(line, along)), 0.0, 1e-3);
    1
}

/// Every caul of a piece on every copy that it is for: how many lie with their thin end as told, and how many of these have a plan.
pub fn lay(made: &Made) -> [usize; 2] {
    let mut all = [0; 2];
    for aid in made.aids.iter().filter(|aid| aid.kind == "caul") {
        laying(&aid.name);
        all.iter_mut().zip(laid(made, aid)).for_each(|(all, own)| *all += own);
    }
    all
}
