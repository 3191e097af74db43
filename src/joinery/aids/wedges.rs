//! Wedges that hold a part so that a square blade makes a cut that is not square.
//!
//! Two turns bring a cut's normal onto the blade's: one in the face of the part, which lays the cut's line square to the fence
//! (the wedge against the fence), and one about the line square to the fence, which stands the cut upright (the wedge under the
//! part). Done in this order, the fence's wedge on top of the other, the two angles are the mitre and the bevel themselves.

use super::figure::{Aid, Figure, Look};
use super::landing::{known, named};
use super::{Bench, SQUARE, nothing_leans};
use crate::board::Role;
use crate::finding::Finding;
use crate::geometry::{Point, Vec2, Vec3};
use crate::piece::{Fact, SolvedBoard};
use crate::project::aid::{AidAsked, Wanted};
use crate::project::nearest;
use crate::units::{Angle, Length};

/// A cut of a part, or one of its straight edges.
struct Sawn {
    place: String,
    /// Out of the wood.
    normal: Vec3,
    /// The straight edge to hold to the fence and its direction towards the cut; an end's only.
    edge: Option<(String, Vec2)>,
}

/// The two angles of a cut.
struct Turns {
    /// In the face: the wedge against the fence. Its thick end lies at the cut where above zero and the fence beyond the edge.
    fence: Angle,
    /// The wedge under the part; its thick end lies away from the cut where above zero.
    under: Angle,
    /// Between the cut's normal and the way the part would lie without wedges.
    resultant: Angle,
}

/// The wedges of a part, one pair for each pair of angles.
///
/// # Errors
/// Where the part or its cut is not there, or nothing is out of square.
pub(super) fn make(asked: &AidAsked, bench: &Bench) -> Result<Vec<Aid>, Box<Finding>> {
    let Wanted::Wedges { part, cut, length, toe } = &asked.wanted else { return Ok(Vec::new()) };
    known(bench.piece, &asked.place, part, "part")?;
    let mut made: Vec<Aid> = Vec::new();
    let (mut found, mut names): (bool, Vec<String>) = (false, Vec::new());
    for board in named(bench.piece, part).into_iter().map(|index| &bench.piece.boards[index]) {
        let all = sawn(board);
        names.extend(all.iter().map(|one| one.place.clone()));
        for one in all.iter().filter(|one| cut.as_ref().is_none_or(|cut| *cut == one.place)) {
            found = true;
            let Some(aid) = pair(asked, bench, board, one, [length.mm(), toe.mm()]) else { continue };
            Aid::put(&mut made, aid);
        }
    }
    if let (false, Some(cut)) = (found, cut) {
        names.sort();
        names.dedup();
        let remedy = match nearest(cut, names.iter().map(String::as_str)) {
            Some(near) => format!("did you mean \"{near}\"?"),
            None => format!("it has: {}", names.join(", ")),
        };
        let message = format!("the {part} has no end or edge \"{cut}\"");
        return Err(Box::new(Finding::stop("unknown-cut", asked.place.child("cut"), message).remedy(remedy)));
    }
    match made.is_empty() {
        true => {
            let what = cut.as_ref().map_or_else(|| "every cut".to_owned(), |cut| format!("the {cut}"));
            Err(nothing_leans(&asked.place, format!("{what} of the {part} is square")))
        }
        false => Ok(made),
    }
}

/// The cuts of a board, and those of its straight edges that run along it.
fn sawn(board: &SolvedBoard) -> Vec<Sawn> {
    let mut all = Vec::new();
    for saw in &board.cuts {
        let Some(cut) = board.board.cuts.get(saw.cut) else { continue };
        let normal = cut.plane.normal();
        let edge = saw.registers.first().filter(|_| cut.role == Role::End).and_then(|register| {
            let edge = board.board.edges.iter().find(|edge| edge.name == register.edge && edge.is_straight())?;
            let segment = edge.segments.first()?;
            let along = (segment.end() - segment.start()).normalize();
            let towards = along.x * normal.x + along.y * normal.y;
            Some((edge.name.clone(), if towards < 0.0 { -along } else { along }))
        });
        all.push(Sawn { place: cut.place.clone(), normal, edge });
    }
    for edge in board.board.edges.iter().filter(|edge| edge.is_straight() && !edge.name.is_empty()) {
        let Some(segment) = edge.segments.first() else { continue };
        let along = (segment.end() - segment.start()).normalize();
        let normal = Vec3::new(along.y, -along.x, 0.0);
        // The ends of an outline are waste, and sawn off.
        if normal.y.abs() > normal.x.abs() {
            all.push(Sawn { place: edge.name.clone(), normal, edge: None });
        }
    }
    all
}

fn turns(sawn: &Sawn) -> Turns {
    let n = sawn.normal;
    // The way the part would be cut without wedges, and the axis square to it and to the fence's turn.
    let (ahead, aside) = match () {
        () if n.x.abs() >= n.y.abs().max(n.z.abs()) => (n.x.abs(), n.z),
        () if n.y.abs() >= n.z.abs() => (n.y.abs(), n.z),
        () => (n.z.abs(), n.y),
    };
    let is_end = n.x.abs() >= n.y.abs().max(n.z.abs());
    let fence = match (&sawn.edge, is_end) {
        (Some((_, edge)), _) => edge.cross(Vec2::new(n.x, n.y)).atan2(edge.dot(Vec2::new(n.x, n.y))),
        (None, true) => n.y.atan2(ahead) * n.x.signum(),
        (None, false) => n.x.atan2(ahead),
    };
    let under = aside.clamp(-1.0, 1.0).asin();
    let resultant = (under.cos() * fence.cos()).clamp(-1.0, 1.0).acos();
    let [fence, under, resultant] = [fence, under, resultant].map(Angle::from_radians);
    Turns { fence, under, resultant }
}

/// A pair of wedges; `None` where the cut is square.
fn pair(asked: &AidAsked, bench: &Bench, board: &SolvedBoard, sawn: &Sawn, [length, toe]: [f64; 2]) -> Option<Aid> {
    let turns = turns(sawn);
    let say = |angle: Angle| bench.notation.angle(angle.abs());
    let is_end = sawn.normal.x.abs() >= sawn.normal.y.abs().max(sawn.normal.z.abs());
    let [fence_name, under_name] = match is_end {
        true => ["against the fence", "under the part"],
        false => ["along the sled", "across the sled"],
    };
    let mut figures = Vec::new();
    let mut facts = Vec::new();
    for (name, key, angle, words) in [
        (under_name, "under", turns.under, "tilt of the part"),
        (fence_name, "fence", turns.fence, "turn of the part"),
    ] {
        if angle.abs().degrees() <= SQUARE {
            continue;
        }
        figures.push(wedge(
            format!("wedge {name}: {}", bench.notation.angle_and_slope(angle.abs())),
            angle,
            length,
            toe,
        ));
        facts.push(Fact::angle(key, format!("{words}, by the wedge {name}"), angle.abs().radians()));
        let rise = length * angle.abs().radians().tan();
        let key = if key == "under" { "under_rise" } else { "fence_rise" };
        let over = bench.notation.length(Length::from_mm(length));
        facts.push(Fact::length(key, format!("rise of the wedge {name} over {over}"), rise));
    }
    if figures.is_empty() {
        return None;
    }
    if figures.len() == 2 {
        facts.push(Fact::angle("resultant", "resultant of both", turns.resultant.radians()));
    }
    let words = words(board, sawn, &turns, is_end, &say(turns.under));
    let what = format!("cutting the {} with a square blade: {}", board.label, sawn.place);
    Some(Aid {
        name: asked.name.clone(),
        kind: "wedges",
        what,
        make: 1,
        mirrored: 0,
        figures,
        facts,
        words,
        cautions: vec![caution(is_end)],
        large: false,
    })
}

/// How the wedges lie.
fn words(board: &SolvedBoard, sawn: &Sawn, turns: &Turns, is_end: bool, tilt: &str) -> Vec<String> {
    let place = &sawn.place;
    if !is_end {
        return vec![format!(
            "{place}: the part lies on the sled with the cut uppermost; the wedges along and across bring it level with the cutter."
        )];
    }
    let mut words = Vec::new();
    let face = board.board.sides[0];
    if turns.under.abs().degrees() > SQUARE {
        let thick = if turns.under.radians() > 0.0 { "away from" } else { "at" };
        words.push(format!(
            "{place}: lay the part {face} up on the wedge, its thick end {thick} the blade: the part tilts {tilt}."
        ));
    }
    if turns.fence.abs().degrees() > SQUARE {
        let edge = sawn.edge.as_ref().map_or("straight edge", |(name, _)| name.as_str());
        let thick = if fence_opens(board, sawn, turns) { "at" } else { "away from" };
        words.push(format!(
            "{place}: the fence's wedge goes between the fence and the {edge}, on top of the other where there are two, its thick \
             end {thick} the blade."
        ));
    }
    words
}

/// What to beware of.
fn caution(is_end: bool) -> String {
    match is_end {
        true => {
            "Saw one end in scrap first. Screw wedges and a stop to a sled, clamp the part to them, and keep the offcut free: \
             nothing may hold it against the blade. Never hold a small part on a wedge by hand; the saw's manual comes first."
        }
        false => {
            "Fix the wedges to the sled and the part to the wedges, with a stop before and behind it; take light cuts. A part \
             shorter than the planer's manual allows is planed by hand."
        }
    }
    .to_owned()
}

/// Whether turning the part takes its end away from a fence that lies beyond its register edge.
fn fence_opens(board: &SolvedBoard, sawn: &Sawn, turns: &Turns) -> bool {
    let Some((name, along)) = &sawn.edge else { return turns.fence.radians() > 0.0 };
    let edge = board.board.edges.iter().find(|edge| edge.name == *name).and_then(|edge| edge.segments.first());
    // The outline runs anticlockwise: the fence lies to the right of its edges.
    let runs_along = edge.is_some_and(|segment| (segment.end() - segment.start()).dot(*along) > 0.0);
    (turns.fence.radians() > 0.0) != runs_along
}

/// A wedge from its thin end on the left.
fn wedge(name: String, angle: Angle, length: f64, toe: f64) -> Figure {
    let rise = length * angle.abs().radians().tan();
    let mut figure = Figure::new(name);
    let corners = [(0.0, 0.0), (length, 0.0), (length, toe + rise), (0.0, toe)].map(Point::from);
    figure.polygon(Look::Cut, &corners);
    figure
}
