//! The vertical force on the edge of the top that lifts a foot.
//!
//! ISO 7172:1988, clause 5 (read): a force is put down 50 mm in from the edge until a leg opposite lifts; of a top that is no
//! rectangle the worst edge is found by trial. Here the trial is every line through two neighbouring feet: the piece tips about
//! it when F b = W a, with W its weight, a from its centre of gravity to the line and b from the line out to the load. No public
//! source has a pass mark, so none is told. It is a calculation of a rigid piece on a level floor, not a safety rating.

use crate::board::{EdgeName, PartRole};
use crate::geometry::{Path, Point, Point3, Segment, Vec2, convex_hull};
use crate::model::top::Top;
use crate::model::wood::Wood;
use crate::piece::{Fact, FactName, Piece, SolvedBoard, Value, level_rim};
use crate::tolerance::ON_FLOOR;
use crate::units::{Length, Notation, Units};
use crate::wood::named;

/// The force stands this far in from the edge, mm (ISO 7172:1988, clause 5).
const IN_FROM_EDGE: f64 = 50.0;

/// Standard gravity, m/s².
const GRAVITY: f64 = 9.80665;

/// Cubic millimetres in a cubic metre.
const MM3: f64 = 1e9;

/// A force with a shorter lever than this, mm, tips nothing: no floor is as level, and the force would be beyond all measure.
const LEVER: f64 = 1.0;

/// What a vertical force on the edge does.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Tip {
    /// It lifts a foot.
    Lifts {
        /// The least force over weight: a / b.
        share: f64,
        /// Where the force stands.
        at: Point,
    },
    /// It lifts none: it always stands inside the lines through the feet, at least so far, mm.
    Inside(f64),
}

/// The worst place of an edge: of all lines through neighbouring feet and all points of the edge. `None` where the piece stands on
/// fewer than three feet or its weight does not stand between them.
fn worst(feet: &[Point], centre: Point, edge: &[Point]) -> Option<Tip> {
    let ring = convex_hull(feet.to_vec());
    if ring.len() < 3 {
        return None;
    }
    let lines = ring.iter().zip(ring.iter().cycle().skip(1));
    let levers: Vec<(f64, f64, Point)> = lines
        .flat_map(|(from, to)| {
            let out: Vec2 = -(*to - *from).normalize().turn_90();
            let a = -(centre - *from).dot(out);
            edge.iter().map(move |p| (a, (*p - *from).dot(out) - IN_FROM_EDGE, *p))
        })
        .collect();
    if levers.iter().any(|(a, ..)| *a <= 0.0) {
        return None;
    }
    let tips = levers.iter().filter(|(_, b, _)| *b > LEVER).map(|(a, b, at)| (a / b, *at));
    let inside = levers.iter().map(|(_, b, _)| -b).reduce(f64::min)?.max(0.0);
    let worst = tips.min_by(|x, y| x.0.total_cmp(&y.0));
    Some(worst.map_or(Tip::Inside(inside), |(share, at)| Tip::Lifts { share, at }))
}

/// Places along each piece of a rim: on half an ellipse of 900 mm they miss its farthest point by 0.1 mm.
const STEPS: u32 = 128;

/// Points around a rim.
fn around(path: &Path) -> impl Iterator<Item = Point> {
    path.segments().iter().flat_map(|s| {
        let steps = if matches!(s, Segment::Line(_)) { 1 } else { STEPS };
        (0..steps).map(move |i| s.eval(f64::from(i) / f64::from(steps)))
    })
}

/// A mass as it is weighed.
fn mass(kg: f64, notation: &Notation) -> String {
    match notation.units {
        Units::Mm => format!("{kg:.1} kg"),
        // The international pound: 0.45359237 kg.
        Units::Inch => format!("{:.0} lb", kg / 0.453_592_37),
    }
}

/// Mass of a cubic metre, kg.
fn density(wood: &Wood) -> Option<f64> {
    match wood {
        Wood::Named(name) => named(name)?.density(),
        Wood::Given(given) => given.density,
    }
}

fn copies(piece: &Piece) -> impl Iterator<Item = (&SolvedBoard, crate::geometry::Placement)> {
    piece.boards.iter().flat_map(|board| board.copies.iter().map(move |copy| (board, copy.placement)))
}

/// Every copy with its volume and centre of gravity, the piece glued up.
fn weighed(piece: &Piece) -> impl Iterator<Item = (&SolvedBoard, crate::geometry::Placement, (f64, Point3))> {
    piece.boards.iter().flat_map(|board| {
        board.copies.iter().zip(board.glued_bulks()).map(move |(copy, bulk)| (board, copy.placement, bulk))
    })
}

/// A piece as it stands: volume, mm³; centre of gravity and points of its feet in the plan.
struct Stance {
    volume: f64,
    centre: Point,
    feet: Vec<Point>,
}

fn stance(piece: &Piece) -> Stance {
    let (mut volume, mut moment) = (0.0, Point3::ORIGIN.to_vec());
    let mut feet = Vec::new();
    for (board, at, (bulk, middle)) in weighed(piece) {
        volume += bulk;
        moment = moment + at.to_world(middle).to_vec() * bulk;
        if let Some((turned, foot)) = board.turned.zip(board.centre_at(&EdgeName::Foot)) {
            let foot = at.to_world(foot);
            let rim = level_rim(Point::new(foot.x, foot.y), &at, turned.foot);
            feet.extend(rim.iter().flat_map(around));
            continue;
        }
        let rims = [(&board.solid.face, 0.0), (&board.solid.far, -board.board.thickness)];
        for (rim, w) in rims {
            let points = around(rim.path()).map(|p| at.to_world(Point3::new(p.x, p.y, w)));
            feet.extend(points.filter(|p| p.z.abs() < ON_FLOOR).map(|p| Point::new(p.x, p.y)));
        }
    }
    let centre = moment * (1.0 / volume);
    Stance { volume, centre: Point::new(centre.x, centre.y), feet }
}

/// The measure, where the piece has feet, a top and a known weight.
pub(super) fn fact(piece: &Piece, top: Option<&Top>, notation: &Notation) -> Option<Fact> {
    let density = density(top?.species.as_ref()?)?;
    let stands = stance(piece);
    let (board, at) = copies(piece).find(|(board, _)| board.role == PartRole::Top)?;
    let edge = around(board.solid.face.path()).map(|p| at.to_world(Point3::new(p.x, p.y, 0.0)));
    let edge: Vec<Point> = edge.map(|p| Point::new(p.x, p.y)).collect();
    let weight = stands.volume / MM3 * density * GRAVITY;
    let say = |mm: f64| notation.length(Length::from_mm(mm));
    let put = say(IN_FROM_EDGE);
    let turned = if piece.boards.iter().any(|board| board.turned.is_some()) { ", legs as turned" } else { "" };
    Some(match worst(&stands.feet, stands.centre, &edge)? {
        Tip::Lifts { share, at } => {
            let (x, y, mass) = (say(at.x), say(at.y), mass(weight / GRAVITY, notation));
            let words = format!(
                "vertical force that lifts a foot, put {put} in from the worst point of the edge, x {x} y {y} (all of the piece taken as the top's wood{turned}, {mass}; a calculation, not a safety rating)"
            );
            Fact { name: FactName::TippingForce, of: None, words, value: Value::Force(weight * share) }
        }
        Tip::Inside(by) => {
            let words = format!(
                "no vertical force put {put} in from the edge of the top lifts a foot: it stands inside the lines through the feet (a calculation, not a safety rating), by at least"
            );
            Fact::length(FactName::TippingInside, words, by)
        }
    })
}

#[cfg(test)]
mod tests {
    use super::{Tip, worst};
    use crate::geometry::Point;

    fn points(all: &[(f64, f64)]) -> Vec<Point> {
        all.iter().copied().map(Point::from).collect()
    }

    /// Feet on a square of 400, the weight in its middle: 200 from each line. An edge 200 + 50 + b beyond takes W 200 / b.
    #[test]
    fn the_share_of_the_weight_is_a_over_b() {
        let feet = points(&[(-200.0, -200.0), (200.0, -200.0), (200.0, 200.0), (-200.0, 200.0), (0.0, 200.0)]);
        let tip = worst(&feet, Point::ORIGIN, &points(&[(350.0, 0.0), (0.0, 300.0)]));
        assert_eq!(tip, Some(Tip::Lifts { share: 2.0, at: Point::new(350.0, 0.0) }));
    }

    #[test]
    fn an_edge_over_the_feet_lifts_nothing() {
        let feet = points(&[(-200.0, -200.0), (200.0, -200.0), (200.0, 200.0), (-200.0, 200.0)]);
        let of = |x: f64| worst(&feet, Point::ORIGIN, &points(&[(x, 0.0)]));
        assert_eq!(of(230.0), Some(Tip::Inside(20.0)));
        assert_eq!(of(250.0), Some(Tip::Inside(0.0)), "50 mm in it stands on the line");
        assert_eq!(of(251.0), Some(Tip::Inside(0.0)), "a lever of 1 mm");
        assert!(matches!(of(251.01), Some(Tip::Lifts { .. })));
    }

    #[test]
    fn nothing_is_told_of_a_piece_that_falls_by_itself() {
        let feet = points(&[(-200.0, -200.0), (200.0, -200.0), (200.0, 200.0), (-200.0, 200.0)]);
        assert_eq!(worst(&feet, Point::new(210.0, 0.0), &points(&[(100.0, 0.0)])), None);
        assert_eq!(worst(&feet[..2], Point::ORIGIN, &points(&[(100.0, 0.0)])), None);
    }
}
