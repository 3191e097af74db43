//! Room at a table: height, knees, toes, places, overhang.
//!
//! These are measures, not faults: each is told beside what the 2010 ADA Standards ask of a place for a wheelchair and what is
//! common practice. The standards bind public places; common practice has no source.

use crate::geometry::Point3;
use crate::piece::{Fact, Piece, SolvedBoard};
use crate::project::base::Top;
use crate::units::{Length, Notation};

/// Knee clearance, height above the floor, mm (2010 ADA Standards, 306.3: 27 in).
const KNEE: f64 = 685.0;
/// Dining surface, lowest and highest, mm (2010 ADA Standards, 902.3: 28 to 34 in).
const SURFACE: [f64; 2] = [710.0, 865.0];
/// Knee clearance, depth under the edge at 27 in, mm (2010 ADA Standards, 306.3: 8 in; 11 in at 9 in above the floor).
const KNEE_DEPTH: f64 = 205.0;
/// Toe clearance, depth under the edge, mm (2010 ADA Standards, 306.2: 17 in).
const TOE_DEPTH: f64 = 430.0;
/// Toe clearance reaches up to this, mm (2010 ADA Standards, 306.2: 9 in).
const TOE_HEIGHT: f64 = 230.0;
/// Floor to the underside of the apron, mm (common practice: 23 to 25 in).
const APRON: [f64; 2] = [585.0, 635.0];
/// Width of one place, mm (common practice: 24 in).
const PLACE: f64 = 610.0;
/// Pieces lower than this, mm, are no tables to sit at.
const TABLE: f64 = 600.0;

/// Every corner of a copy of a board in the world.
fn corners(board: &SolvedBoard, copy: usize) -> Vec<Point3> {
    let Some(at) = board.copies.get(copy).map(|copy| copy.placement) else { return Vec::new() };
    let rims = [(&board.solid.face, 0.0), (&board.solid.far, -board.board.thickness)];
    let nodes =
        rims.into_iter().flat_map(|(rim, w)| rim.path().nodes().into_iter().map(move |p| Point3::new(p.x, p.y, w)));
    nodes.map(|p| at.to_world(p)).collect()
}

/// What a table measures where people sit at it.
pub(super) fn facts(piece: &Piece, top: Option<&Top>, notation: &Notation) -> Vec<Fact> {
    let Some(top) = top else { return Vec::new() };
    let all = |wanted: &dyn Fn(&SolvedBoard) -> bool| -> Vec<Point3> {
        let boards = piece.boards.iter().filter(|board| wanted(board));
        boards.flat_map(|board| (0..board.copies.len()).flat_map(|copy| corners(board, copy))).collect()
    };
    let height = all(&|board| board.id == "top").iter().map(|p| p.z).fold(f64::MIN, f64::max);
    let base = all(&|board| board.id != "top");
    if height < TABLE || base.is_empty() {
        return Vec::new();
    }
    let say = |mm: f64| notation.length(Length::from_mm(mm));
    let mut facts = vec![Fact::length(
        "table_height",
        format!("height (2010 ADA Standards, 902.3: {} to {})", say(SURFACE[0]), say(SURFACE[1])),
        height,
    )];
    let aprons = all(&|board| board.id.contains("apron"));
    let lowest = aprons.iter().map(|p| p.z).fold(f64::MAX, f64::min);
    if lowest < f64::MAX {
        let words = format!(
            "knee room, floor to the underside of the aprons (common practice {} to {}; 2010 ADA Standards, 306.3: {})",
            say(APRON[0]),
            say(APRON[1]),
            say(KNEE)
        );
        facts.push(Fact::length("knee_height", words, lowest));
    }
    let half = [top.length.mm() / 2.0, top.width.mm() / 2.0];
    let reach =
        |points: &[Point3], pick: fn(&Point3) -> f64| points.iter().map(pick).fold(0.0, |m: f64, x| m.max(x.abs()));
    let heads: Vec<Point3> = base.iter().copied().filter(|p| p.z > height - top.thickness.mm() - 1.0).collect();
    if !heads.is_empty() {
        let words = "overhang of the top's rectangle over the base at its";
        let (ends, sides) = (half[0] - reach(&heads, |p| p.x), half[1] - reach(&heads, |p| p.y));
        facts.push(Fact::length("overhang_ends", format!("{words} ends"), ends));
        let knees = format!(
            "{words} sides (knee room, 2010 ADA Standards, 306.3: {} clear below the knee height)",
            say(KNEE_DEPTH)
        );
        facts.push(Fact::length("overhang_sides", knees, sides));
    }
    let feet: Vec<Point3> = base.iter().copied().filter(|p| p.z < TOE_HEIGHT).collect();
    if !feet.is_empty() {
        let words = format!(
            "toe room at the ends, from the top's rectangle in to the feet (2010 ADA Standards, 306.2: {})",
            say(TOE_DEPTH)
        );
        facts.push(Fact::length("toe_ends", words, half[0] - reach(&feet, |p| p.x)));
    }
    facts.extend(places(piece, notation));
    facts
}

/// How many sit between the legs of a long side.
fn places(piece: &Piece, notation: &Notation) -> Option<Fact> {
    let legs = piece.boards.iter().filter(|board| board.id.contains("leg"));
    let copies = legs.flat_map(|board| (0..board.copies.len()).map(move |copy| corners(board, copy)));
    // The innermost corner of each leg, over its whole height.
    let inner =
        copies.map(|points| points.iter().map(|p| p.x.abs()).fold(f64::MAX, f64::min)).fold(f64::MAX, f64::min);
    if inner == f64::MAX {
        return None;
    }
    let between = 2.0 * inner;
    let seats = (between / PLACE).floor();
    let words = format!(
        "between the legs of a long side: {seats} {} of {} (common practice)",
        if seats == 1.0 { "place" } else { "places" },
        notation.length(Length::from_mm(PLACE))
    );
    Some(Fact::length("between_legs", words, between))
}
