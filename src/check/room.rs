//! Room at a table: height, knees, toes, places, overhang.
//!
//! These are measures, not faults: each is told beside what the 2010 ADA Standards ask of a place for a wheelchair and what is
//! common practice. The standards bind public places; common practice has no source.

use super::{FeetOut, ShapeProblem};
use crate::board::PartRole;
use crate::finding::{Finding, Place};
use crate::geometry::Point3;
use crate::model::top::Top;
use crate::piece::{Fact, FactName, Piece, SolvedBoard, Value};
use crate::tolerance::JUST;
use crate::units::{Length, Notation, Units};

/// Knee clearance, height above the floor (2010 ADA Standards, 306.3).
const KNEE: Both = (685.0, 27.0);
/// Dining surface, lowest and highest (2010 ADA Standards, 902.3).
const SURFACE: [Both; 2] = [(710.0, 28.0), (865.0, 34.0)];
/// Knee clearance, depth under the edge at the height of [`KNEE`] (2010 ADA Standards, 306.3).
const KNEE_DEPTH: Both = (205.0, 8.0);
/// The same at the height of [`TOE`].
const KNEE_DEPTH_LOW: Both = (280.0, 11.0);
/// Clear width for knees and toes (2010 ADA Standards, 306.2 and 306.3).
const CLEAR_WIDTH: Both = (760.0, 30.0);
/// Toe clearance, depth under the edge (2010 ADA Standards, 306.2).
const TOE_DEPTH: Both = (430.0, 17.0);
/// Toe clearance reaches up to this above the floor (2010 ADA Standards, 306.2).
const TOE: Both = (230.0, 9.0);
/// Floor to the underside of the apron (common practice, first given in inches).
const APRON: [Both; 2] = [(585.0, 23.0), (635.0, 25.0)];
/// Width of one place (common practice).
const PLACE: Both = (610.0, 24.0);
/// The facts that tell of feet beyond the top, and where they stand.
const FEET_OUT: [(FactName, &str); 2] = [(FactName::FeetBeyondEnds, "ends"), (FactName::FeetBeyondSides, "sides")];
/// Feet farther out than this, mm, are walked into; splayed seats stand out less (common practice, no source).
const TRIP: f64 = 75.0;
/// Pieces lower than this, mm, are no tables to sit at.
const TABLE: f64 = 600.0;

/// A limit as its source has it, mm and inches: the two are not quite equal.
type Both = (f64, f64);

/// A limit in the maker's own units.
fn limit((mm, inches): Both, notation: &Notation) -> Length {
    match notation.units {
        Units::Mm => Length::from_mm(mm),
        Units::Inch => Length::from_inches(inches),
    }
}

/// Every corner of a copy of a board in the world.
fn corners(board: &SolvedBoard, copy: usize) -> Vec<Point3> {
    let Some(at) = board.copies.get(copy).map(|copy| copy.placement) else { return Vec::new() };
    let rims = [(&board.solid.face, 0.0), (&board.solid.far, -board.board.thickness)];
    let nodes =
        rims.into_iter().flat_map(|(rim, w)| rim.path().nodes().into_iter().map(move |p| Point3::new(p.x, p.y, w)));
    nodes.map(|p| at.to_world(p)).collect()
}

/// Whether people sit at a piece of a height, mm, rather than on it: a top on which no one place can be laid is a stool's.
fn is_table(top: &Top, height: f64) -> bool {
    height >= TABLE && top.length.mm().max(top.width.mm()) >= PLACE.0 - JUST
}

/// What a table measures where people sit at it.
pub(super) fn facts(piece: &Piece, top: Option<&Top>, notation: &Notation) -> Vec<Fact> {
    let Some(top) = top else { return Vec::new() };
    let all = |wanted: &dyn Fn(&SolvedBoard) -> bool| -> Vec<Point3> {
        let boards = piece.boards.iter().filter(|board| wanted(board));
        boards.flat_map(|board| (0..board.copies.len()).flat_map(|copy| corners(board, copy))).collect()
    };
    let height = all(&|board| board.role == PartRole::Top).iter().map(|p| p.z).fold(f64::MIN, f64::max);
    let base = all(&|board| board.role != PartRole::Top);
    if !is_table(top, height) || base.is_empty() {
        return Vec::new();
    }
    let say = |of: Both| notation.length(limit(of, notation));
    let mut facts = vec![Fact::length(
        FactName::TableHeight,
        format!("height (2010 ADA Standards, 902.3: {} to {})", say(SURFACE[0]), say(SURFACE[1])),
        height,
    )];
    let aprons = all(&|board| board.role.is_apron());
    let lowest = aprons.iter().map(|p| p.z).fold(f64::MAX, f64::min);
    if lowest < f64::MAX {
        let words = format!(
            "knee room, floor to the underside of the aprons (common practice {} to {}; 2010 ADA Standards, 306.3: {})",
            say(APRON[0]),
            say(APRON[1]),
            say(KNEE)
        );
        facts.push(Fact::length(FactName::KneeHeight, words, lowest));
    }
    facts.extend(room_at_the_rim(top, height, &base, notation));
    facts.extend(places(piece, notation));
    facts
}

/// How far the top's rectangle stands over a base of the given corners, and what room that leaves for knees and toes.
fn room_at_the_rim(top: &Top, height: f64, base: &[Point3], notation: &Notation) -> Vec<Fact> {
    let say = |of: Both| notation.length(limit(of, notation));
    let mut facts = Vec::new();
    let half = [top.length.mm() / 2.0, top.width.mm() / 2.0];
    let reach =
        |points: &[Point3], pick: fn(&Point3) -> f64| points.iter().map(pick).fold(0.0, |m: f64, x| m.max(x.abs()));
    let heads: Vec<Point3> = base.iter().copied().filter(|p| p.z > height - top.thickness.mm() - 1.0).collect();
    if !heads.is_empty() {
        let words = "overhang of the top's rectangle over the base at its";
        let (ends, sides) = (half[0] - reach(&heads, |p| p.x), half[1] - reach(&heads, |p| p.y));
        facts.push(Fact::length(FactName::OverhangEnds, format!("{words} ends"), ends));
        let knees = format!(
            "{words} sides (knee room, 2010 ADA Standards, 306.3: {} clear at {} above the floor, {} at {} above it)",
            say(KNEE_DEPTH),
            say(KNEE),
            say(KNEE_DEPTH_LOW),
            say(TOE)
        );
        facts.push(Fact::length(FactName::OverhangSides, knees, sides));
    }
    let feet: Vec<Point3> = base.iter().copied().filter(|p| p.z < TOE.0).collect();
    if !feet.is_empty() {
        let asked = format!(" (2010 ADA Standards, 306.2: {})", say(TOE_DEPTH));
        facts.push(toes([FactName::ToeEnds, FEET_OUT[0].0], "ends", &asked, half[0] - reach(&feet, |p| p.x)));
        facts.push(toes([FactName::ToeSides, FEET_OUT[1].0], "sides", "", half[1] - reach(&feet, |p| p.y)));
    }
    facts
}

/// The room for toes at the `ends` or `sides`, mm, or how far the feet stand out where there is none.
fn toes(names: [FactName; 2], at: &str, asked: &str, room: f64) -> Fact {
    let stands_under = room >= -JUST;
    let [room_there, none] = names;
    let name = if stands_under { room_there } else { none };
    let words = match stands_under {
        true => format!("toe room at the {at}, from the top's rectangle in to the feet{asked}"),
        false => format!("no toe room at the {at}: the feet stand beyond the top's rectangle by"),
    };
    Fact::length(name, words, room.abs())
}

/// Warns of feet that stand out beyond the top, where somebody trips over them.
pub(super) fn feet_out(facts: &[Fact]) -> Option<Finding> {
    let out = |(name, at): (FactName, &'static str)| match facts.iter().find(|fact| fact.name == name)?.value {
        Value::Length(by) if by.mm() > TRIP => Some((by, at)),
        _ => None,
    };
    let out: Vec<(Length, &'static str)> = FEET_OUT.into_iter().filter_map(out).collect();
    let farthest = out.iter().map(|(by, _)| by.mm()).reduce(f64::max)?;
    let out = out.into_iter().map(|(by, at)| FeetOut { by, at }).collect();
    let problem = ShapeProblem::FeetStandOut { out, beyond: Length::from_mm(farthest) };
    Some(Finding::of(problem, Place::pointer("/base")))
}

/// Tells a piece to sit at that leaves less room for the knees than is common.
pub(super) fn check(facts: &[Fact], notation: &Notation) -> Option<Finding> {
    let fact = |name: FactName| match facts.iter().find(|fact| fact.name == name)?.value {
        Value::Length(length) => Some(length),
        _ => None,
    };
    let (height, room) = (fact(FactName::TableHeight)?, fact(FactName::KneeHeight)?);
    let short = limit(APRON[0], notation).mm() - room.mm();
    // What is lower than any dining surface is a stool or a bench.
    if short <= JUST || height < limit(SURFACE[0], notation) {
        return None;
    }
    let [from, to, asked] = [APRON[0], APRON[1], KNEE].map(|both| limit(both, notation));
    let problem = ShapeProblem::KneeRoom { room, short: Length::from_mm(short), common: [from, to], asked };
    Some(Finding::of(problem, Place::pointer("/base/apron")))
}

/// How many sit between the legs of a long side.
fn places(piece: &Piece, notation: &Notation) -> Option<Fact> {
    let legs = piece.of_role(PartRole::Leg);
    let copies = legs.flat_map(|board| (0..board.copies.len()).map(move |copy| corners(board, copy)));
    // The innermost corner of each leg, over its whole height.
    let inner =
        copies.map(|points| points.iter().map(|p| p.x.abs()).fold(f64::MAX, f64::min)).fold(f64::MAX, f64::min);
    if inner == f64::MAX {
        return None;
    }
    let between = 2.0 * inner;
    let place = limit(PLACE, notation);
    let seats = (between / place.mm() + JUST).floor();
    let words = format!(
        "between the legs of a long side: {} of {} (common practice; 2010 ADA Standards, 306.3: {} clear)",
        match seats {
            0.0 => "no place".to_owned(),
            1.0 => "1 place".to_owned(),
            _ => format!("{seats} places"),
        },
        notation.length(place),
        notation.length(limit(CLEAR_WIDTH, notation))
    );
    Some(Fact::length(FactName::BetweenLegs, words, between))
}
