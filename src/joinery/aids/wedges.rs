//! Wedges that hold a part so that a square blade makes a cut that is not square.
//!
//! Two turns bring a cut's normal onto the blade's: one in the face of the part, which lays the cut's line square to the fence
//! (the wedge against the fence), and one about the line square to the fence, which stands the cut upright (the wedge under the
//! part). Done in this order, the fence's wedge on top of the other, the two angles are the mitre and the bevel themselves.

use super::super::{AidProblem, Instead, Square};
use super::caul::towards;
use super::figure::{Aid, AtPlaces, Figure, Look};
use super::landing::{known, named};
use super::{Bench, Made, fitness, nothing_leans};
use crate::board::{Role, Source, spoken};
use crate::finding::{Finding, nearest};
use crate::geometry::{Point, Vec2, Vec3};
use crate::model::aid::{AidRequest, Wanted, Wedges};
use crate::model::problem::{NotTurned, Problem};
use crate::piece::{Fact, FactName, SolvedBoard};
use crate::tolerance::SHOWN_SQUARE;
use crate::units::{Angle, Length};

/// The most that a saw's blade tilts, degrees (common practice, no source).
const TILTS: f64 = 45.0;

/// A cut of a part, or one of its straight edges.
struct Sawn {
    place: String,
    /// Out of the wood.
    normal: Vec3,
    /// The straight edge to hold to the fence and its direction towards the cut; an end's only.
    edge: Option<(usize, Vec2)>,
}

/// How a part lies for a cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Lies {
    /// Flat, its end at the blade.
    Flat,
    /// On the opposite edge, the cut uppermost.
    OnEdge,
    /// On the opposite face, the cut uppermost.
    OnFace,
}

impl Sawn {
    fn lies(&self) -> Lies {
        let n = self.normal;
        match () {
            () if n.x.abs() >= n.y.abs().max(n.z.abs()) => Lies::Flat,
            () if n.y.abs() >= n.z.abs() => Lies::OnEdge,
            () => Lies::OnFace,
        }
    }

    /// Where the wedges go: that of the turn in the face and that of the tilt.
    fn wedges(&self) -> [&'static str; 2] {
        match self.lies() {
            Lies::Flat => ["against the fence", "under the part"],
            Lies::OnEdge => ["along under the edge", "at the upright fence"],
            Lies::OnFace => ["along under the part", "across under the part"],
        }
    }
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
pub(super) fn make(asked: &AidRequest, bench: &Bench) -> Result<Made, Box<Finding>> {
    let Wanted::Wedges(Wedges { part, cut, length, toe }) = &asked.wanted else { return Ok(Made::default()) };
    known(bench.piece, &asked.place, part, "part")?;
    let mut made = Made::default();
    let (mut found, mut names): (bool, Vec<String>) = (false, Vec::new());
    if let Some(leg) = named(bench.piece, part).iter().find_map(|index| bench.piece.boards.get(*index)) {
        refuse_turned(asked, leg)?;
    }
    for board in named(bench.piece, part).into_iter().map(|index| &bench.piece.boards[index]) {
        let all = sawn(board);
        names.extend(all.iter().map(|one| one.place.clone()));
        for one in all.iter().filter(|one| cut.as_ref().is_none_or(|cut| *cut == one.place)) {
            found = true;
            let turns = turns(one);
            let Some(aid) = pair(asked, bench, (board, one, &turns), [length.mm(), toe.mm()]) else { continue };
            made.tell(steep(asked, one, &turns));
            Aid::put(&mut made.aids, aid);
        }
    }
    if let (false, Some(cut)) = (found, cut) {
        names.sort();
        names.dedup();
        let near = nearest(cut, names.iter().map(String::as_str)).map(str::to_owned);
        let problem = AidProblem::UnknownCut { part: spoken(part), cut: cut.clone(), near, known: names };
        return Err(Box::new(Finding::of(problem, asked.place.child("cut"))));
    }
    match made.aids.is_empty() {
        true => Err(nothing_leans(&asked.place, Square::Cut(cut.clone(), spoken(part)))),
        false => Ok(made),
    }
}

/// A turned leg has no face for a wedge and no edge for the fence.
fn refuse_turned(asked: &AidRequest, board: &SolvedBoard) -> Result<(), Box<Finding>> {
    if board.turned.is_none() {
        return Ok(());
    }
    let problem = Problem::TurnedLeg { what: NotTurned::Wedges(board.label.clone()) };
    Err(Box::new(Finding::of(problem, asked.place.child("part"))))
}

/// The cuts of a board, and those of its straight edges that run along it.
fn sawn(board: &SolvedBoard) -> Vec<Sawn> {
    let mut all = Vec::new();
    for saw in &board.cuts {
        let Some(cut) = board.board.cuts.get(saw.cut) else { continue };
        let normal = cut.plane.normal();
        let edge = saw.registers.first().filter(|_| cut.role == Role::End).and_then(|register| {
            let Source::Edge(index) = register.source else { return None };
            let segment = board.board.edges.get(index).filter(|edge| edge.is_straight())?.segments.first()?;
            let along = (segment.end() - segment.start()).normalize();
            let towards = along.x * normal.x + along.y * normal.y;
            Some((index, if towards < 0.0 { -along } else { along }))
        });
        all.push(Sawn { place: board.board.name_of(Source::Cut(saw.cut)).into_owned(), normal, edge });
    }
    for edge in board.board.edges.iter().filter(|edge| edge.is_straight()) {
        let Some(segment) = edge.segments.first() else { continue };
        let along = (segment.end() - segment.start()).normalize();
        let normal = Vec3::new(along.y, -along.x, 0.0);
        // The ends of an outline are waste, and sawn off.
        if normal.y.abs() > normal.x.abs() {
            all.push(Sawn { place: edge.name.words().into_owned(), normal, edge: None });
        }
    }
    all
}

fn turns(sawn: &Sawn) -> Turns {
    let n = sawn.normal;
    // The way the part would be cut without wedges, and the axis square to it and to the fence's turn.
    let (ahead, aside) = match sawn.lies() {
        Lies::Flat => (n.x.abs(), n.z),
        Lies::OnEdge => (n.y.abs(), n.z),
        Lies::OnFace => (n.z.abs(), n.y),
    };
    let fence = match (&sawn.edge, sawn.lies()) {
        (Some((_, edge)), Lies::Flat) => edge.cross(Vec2::new(n.x, n.y)).atan2(edge.dot(Vec2::new(n.x, n.y))),
        (None, Lies::Flat) => n.y.atan2(ahead) * n.x.signum(),
        (_, Lies::OnEdge | Lies::OnFace) => n.x.atan2(ahead),
    };
    let under = aside.clamp(-1.0, 1.0).asin();
    let resultant = (under.cos() * fence.cos()).clamp(-1.0, 1.0).acos();
    let [fence, under, resultant] = [fence, under, resultant].map(Angle::from_radians);
    Turns { fence, under, resultant }
}

/// A pair of wedges; `None` where the cut is square.
fn pair(
    asked: &AidRequest,
    bench: &Bench,
    (board, sawn, turns): (&SolvedBoard, &Sawn, &Turns),
    [length, toe]: [f64; 2],
) -> Option<Aid> {
    let [fence_name, under_name] = sawn.wedges();
    let mut figures = Vec::new();
    let mut facts = Vec::new();
    for (name, [turn, rises], angle, words) in [
        (under_name, [FactName::Under, FactName::UnderRise], turns.under, "tilt of the part"),
        (fence_name, [FactName::Fence, FactName::FenceRise], turns.fence, "turn of the part"),
    ] {
        if angle.abs().degrees() <= SHOWN_SQUARE {
            continue;
        }
        figures.push(
            wedge(format!("wedge {name}: {}", bench.notation.angle_and_slope(angle.abs())), angle, length, toe)
                .section(),
        );
        facts.push(Fact::angle(turn, format!("{words}, by the wedge {name}"), angle.abs().radians()));
        let rise = length * angle.abs().radians().tan();
        let over = bench.notation.length(Length::from_mm(length));
        facts.push(Fact::length(rises, format!("rise of the wedge {name} over {over}"), rise));
    }
    if figures.is_empty() {
        return None;
    }
    if figures.len() == 2 {
        facts.push(Fact::angle(FactName::Resultant, "resultant of both", turns.resultant.radians()));
    }
    let purpose = AtPlaces::at(sawn.place.clone(), format!("cutting the {} with a square blade", board.label));
    let is_end = sawn.lies() == Lies::Flat;
    Some(Aid {
        name: asked.name.clone(),
        kind: "wedges",
        purposes: vec![purpose],
        make: 1,
        mirrored: 0,
        figures,
        facts,
        advice: words(board, sawn, turns, bench),
        cautions: vec![caution(is_end)],
        hands: [Vec::new(), Vec::new()],
        large: false,
    })
}

/// A wedge of a cut on which the part would not hold, with the setting of the saw that does without.
fn steep(asked: &AidRequest, sawn: &Sawn, turns: &Turns) -> Vec<Finding> {
    let [fence_name, under_name] = sawn.wedges();
    let bevel = Angle::from_radians(sawn.normal.z.abs().clamp(0.0, 1.0).asin());
    let tilted = if bevel.degrees() <= TILTS { Instead::TiltedBlade(bevel) } else { Instead::ByHand(bevel) };
    let turned = match sawn.lies() {
        Lies::Flat => Instead::MitreFence,
        _ => Instead::Line,
    };
    let both = [(under_name, turns.under, tilted), (fence_name, turns.fence, turned)];
    let found = both.into_iter().filter_map(|(name, angle, instead)| fitness::wedge(asked, name, angle, instead));
    found.collect()
}

/// How the wedges lie.
fn words(board: &SolvedBoard, sawn: &Sawn, turns: &Turns, bench: &Bench) -> Vec<AtPlaces> {
    match sawn.lies() {
        Lies::Flat => words_of_end(board, sawn, turns, bench),
        lies => vec![AtPlaces::at(sawn.place.clone(), format!("{}.", lie(board, sawn, turns, lies)))],
    }
}

/// How a part lies for a cut along it, which its wedges bring level.
fn lie(board: &SolvedBoard, sawn: &Sawn, turns: &Turns, lies: Lies) -> String {
    let n = sawn.normal;
    let [turned, tilted] = [turns.fence, turns.under].map(|angle| angle.abs().degrees() > SHOWN_SQUARE);
    let mut said = vec![match lies {
        Lies::OnFace => "lay the part down with the cut uppermost".to_owned(),
        _ => "stand the part on the opposite edge with this one uppermost".to_owned(),
    }];
    // What the cut's normal leans towards has to come up.
    if turned {
        said.push(format!("the wedge under it runs along it, thick end {}", towards(board, Vec3::X * n.x.signum())));
    }
    if tilted && lies == Lies::OnFace {
        said.push(format!("the wedge across it has its thick end {}", towards(board, Vec3::Y * n.y.signum())));
    } else if tilted {
        let side = board.board.sides[usize::from(n.z > 0.0)];
        said.push(format!("the wedge goes between its {side} and an upright fence, thick end down"));
    }
    if turned && tilted {
        said.push("the wedge along it stays square to its face".to_owned());
    }
    said.join("; ")
}

/// How the wedges lie for an end.
fn words_of_end(board: &SolvedBoard, sawn: &Sawn, turns: &Turns, bench: &Bench) -> Vec<AtPlaces> {
    let (place, tilt) = (&sawn.place, bench.notation.angle(turns.under.abs()));
    let mut words = Vec::new();
    let face = board.board.sides[0];
    if turns.under.abs().degrees() > SHOWN_SQUARE {
        let thick = if turns.under.radians() > 0.0 { "away from" } else { "at" };
        words.push(AtPlaces::at(
            place.clone(),
            format!("lay the part {face} up on the wedge, its thick end {thick} the blade: the part tilts {tilt}."),
        ));
    }
    if turns.fence.abs().degrees() > SHOWN_SQUARE {
        let edge = sawn.edge.as_ref().map(|(index, _)| board.board.name_of(Source::Edge(*index)));
        let edge = edge.as_deref().unwrap_or("straight edge");
        let thick = if fence_opens(board, sawn, turns) { "at" } else { "away from" };
        let on_top = if words.is_empty() { "" } else { ", on top of the other" };
        words.push(AtPlaces::at(
            place.clone(),
            format!(
                "the fence's wedge goes between the fence and the {edge}{on_top}, its thick end {thick} the blade."
            ),
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
    let Some((index, along)) = &sawn.edge else { return turns.fence.radians() > 0.0 };
    let edge = board.board.edges.get(*index).and_then(|edge| edge.segments.first());
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
