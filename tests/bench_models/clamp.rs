//! A clamp that pulls along a part, with the caul under its jaw laid as told: the jaw has to bear square.

use super::made::{Board, Made};
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

/// How the caul is told to lie: the name towards which it is thin, and on which copies; as drawn and mirrored.
fn told(aid: &Aid) -> Vec<(bool, String, Vec<String>)> {
    let mut all = Vec::new();
    for words in &aid.words {
        let lower = words.trim_end_matches('.');
        let (mirrored, rest) = match (lower.strip_prefix("As drawn: "), lower.strip_prefix("Mirrored: ")) {
            (Some(rest), _) => (false, rest),
            (_, Some(rest)) => (true, rest),
            _ => (false, lower),
        };
        for one in rest.split("; ") {
            let Some(rest) =
                one.strip_prefix("thin end towards the ").or_else(|| one.strip_prefix("Thin end towards the "))
            else {
                continue;
            };
            let (name, copies) = rest.split_once(", on: ").unwrap_or((rest, ""));
            let copies = copies.split(" and ").filter(|copy| !copy.is_empty()).map(str::to_owned).collect();
            all.push((mirrored, name.to_owned(), copies));
        }
    }
    all
}

/// The pulls of a clamp along a part where one of its ends lies on another, in the axes of that copy of the other: from the data's
/// contacts, ends and placements only.
fn pulls(from: &Board, into: &Board) -> Vec<(usize, Vec3)> {
    let mut all = Vec::new();
    for meet in from.json["meets"].as_array().expect("meets").iter().filter(|meet| meet["board"] == into.json["id"]) {
        let Some(cut) = from.cuts.iter().find(|cut| meet["on"] == cut.place.as_str() && cut.is_end) else { continue };
        let index = |name: &str| meet[name].as_u64().expect("a copy") as usize;
        let (own, other) = (from.places[index("own_copy")].1, into.places[index("copy")].1);
        let n = cut.normal;
        let along = if n.x.abs() >= n.y.abs() { Vec3::X * n.x.signum() } else { Vec3::Y * n.y.signum() };
        all.push((index("copy"), other.direction_to_board(own.direction_to_world(along))));
    }
    all
}

/// A caul between two parts that are not one and the same.
fn caul(made: &Made, aid: &Aid) -> usize {
    let rest = aid.what.strip_prefix("clamping the ").expect("what for");
    let Some((from, rest)) = rest.split_once(" to the ") else { return 0 };
    let (into, surface) = rest.split_once(", on its ").expect("a surface");
    let surface = surface.split([';', ',']).next().expect("a surface").trim();
    let (from, into) = (made.board(from), made.board(into));
    // On a curved edge the jaw bears square to the place itself.
    if into.rims[0].iter().any(|stretch| {
        stretch.name == surface && stretch.segment.tangent(0.0).cross(stretch.segment.tangent(1.0)).abs() > 1e-9
    }) {
        return 0;
    }
    let normal = into.out_of(surface);
    let (wedge, slides) = (fact(aid, "wedge").expect("a wedge"), fact(aid, "slides"));
    let mut tried = 0;
    for (mirrored, name, copies) in told(aid) {
        let towards = into.out_of(&name);
        let pulls = pulls(&from, &into);
        // The pulls that come out of this surface at this wedge: those for which the caul is.
        let own: Vec<&(usize, Vec3)> = pulls
            .iter()
            .filter(|(copy, pull)| {
                let labelled = copies.is_empty() || copies.contains(&into.places[*copy].0);
                labelled && (between(*pull, normal) - wedge).abs() < 1e-4
            })
            .collect();
        assert!(!own.is_empty(), "{}: {name} {copies:?} {wedge}: {pulls:?}", aid.what);
        let fits = own.iter().filter(|(copy, pull)| {
            // Laid with its thin end as told, its jaw leans from square to the wood towards that end: what is named is the nearest.
            let thin = (*pull - normal * pull.dot(normal)).unit().expect("a lean");
            let flat = (towards - normal * towards.dot(normal)).unit().expect("a direction");
            let near = between(flat, thin) < 46.0;
            near && (aid.figures.len() == 1
                || turned_right(&aid.figures[1], thin, normal, mirrored, into.places[*copy].1.is_mirrored()))
        });
        assert!(fits.count() > 0, "{}: thin end towards the {name}, {copies:?}", aid.what);
        tried += 1;
    }
    if let Some(slides) = slides {
        let ends: Vec<f64> = from
            .cuts
            .iter()
            .filter(|cut| cut.is_end)
            .map(|cut| {
                let along = if cut.normal.x.abs() >= cut.normal.y.abs() { Vec3::X } else { Vec3::Y };
                let off = between(along, cut.normal);
                off.min(180.0 - off)
            })
            .collect();
        assert!(ends.iter().any(|off| (off - slides).abs() < 1e-4), "{}: {slides} {ends:?}", aid.what);
    }
    tried
}

/// Laid on the wood, its thin end where it belongs, the long line of the plan runs along the part; turned over for the other hand.
fn turned_right(plan: &Figure, thin: Vec3, normal: Vec3, is_over: bool, is_mirrored: bool) -> bool {
    let line = lines(plan, Look::Centre)[0].nodes();
    let drawn: Vec2 = line[1] - line[0];
    // In the board's own axes: a mirrored copy is a mirror image, and so is its caul.
    assert_eq!(is_over, is_mirrored, "{}", plan.name);
    let across = normal.cross(thin);
    let along = (Vec3::X - normal * normal.x).unit().expect("a length");
    let wood = Vec2::new(along.dot(thin), along.dot(across));
    drawn.cross(wood).abs() < 1e-6 * drawn.hypot()
}

/// The section of the caul: its jaw's face stands off its foot by the wedge, thin to the right, its thick end as thick as told.
fn section(aid: &Aid) {
    let nodes: Vec<Point> = lines(&aid.figures[0], Look::Cut)[0].nodes();
    let (left, right) =
        (nodes.iter().map(|p| p.x).fold(f64::MAX, f64::min), nodes.iter().map(|p| p.x).fold(f64::MIN, f64::max));
    let top = |x: f64| nodes.iter().filter(|p| (p.x - x).abs() < 1e-6).map(|p| p.y).fold(f64::MIN, f64::max);
    let slope = ((top(left) - top(right)) / (right - left)).atan().to_degrees();
    near(&aid.what, slope, fact(aid, "wedge").expect("a wedge"), 1e-6);
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
fn a_jaw_on_the_caul_laid_as_told_bears_square_to_the_pull() {
    let mut tried = 0;
    for made in pieces() {
        for aid in made.aids.iter().filter(|aid| aid.kind == "caul") {
            section(aid);
            tried += caul(made, aid);
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
            let (label, rest) = aid.what["mortising the ".len()..].split_once(" for ").expect("a joint");
            let board = made.board(label);
            let surface = rest.split_once(": ").expect("a surface").1.split(", ").next().expect("a surface");
            let cut = board.cuts.iter().find(|cut| cut.place == surface).expect("an end");
            near(&aid.what, cheek, 180.0 - between(Vec3::Z, cut.normal), 1e-6);
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
