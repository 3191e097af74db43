//! Mortises of one board that run into each other.
//!
//! Two boxes are apart when some direction shows them apart: the directions of their sides, and those square to one side of
//! each (separating axes; for boxes this is exact). A wall between them is wanted as around any mortise, but where the tenons of
//! two rails meet in a leg, it is common practice to mitre their ends; so it is a warning.

use super::{Told, say, say_at_least};
use crate::board::{Fitting, Mortise};
use crate::finding::{Finding, Place};
use crate::geometry::{Point, Point3, Vec3};
use crate::joinery::surface_plane;
use crate::piece::SolvedBoard;
use crate::units::Notation;

/// Mortises that share less than this, mm, touch.
const TOUCH: f64 = 1e-6;

/// A direction shorter than this is that of two sides that run alike.
const ALIKE: f64 = 1e-9;

/// How deep two mortises run into each other along the direction in which they do least, mm; below zero where they are apart.
fn shared(board: &SolvedBoard, a: &Mortise, b: &Mortise) -> Option<f64> {
    let corners = |m: &Mortise| surface_plane(&board.board, m).map(|plane| m.corners(&plane));
    let (first, second) = (corners(a)?, corners(b)?);
    let sides = |m: &Mortise| [m.frame.u(), m.frame.v(), m.frame.w()];
    let crossed = sides(a).into_iter().flat_map(|s| sides(b).map(|t| s.cross(t)));
    // The slanted mouths are surfaces as well.
    let mouths = [a, b].into_iter().filter_map(|m| surface_plane(&board.board, m)).map(|plane| plane.normal());
    let directions = sides(a).into_iter().chain(sides(b)).chain(crossed).chain(mouths);
    let overlap = |d: Vec3| {
        let range = |points: &[Point3]| {
            points.iter().map(|p| p.to_vec().dot(d)).fold((f64::MAX, f64::MIN), |(l, h), x| (l.min(x), h.max(x)))
        };
        let ((a0, a1), (b0, b1)) = (range(&first), range(&second));
        (a1 - b0).min(b1 - a0)
    };
    let units = directions.filter(|d| d.length() > ALIKE).filter_map(Vec3::unit);
    units.map(overlap).min_by(f64::total_cmp)
}

/// Whether two mortises are apart when one of them is less deep by so much.
fn is_cured_shorter(board: &SolvedBoard, both: [&Mortise; 2], one: &Mortise, by: f64) -> bool {
    let shorter = |m: &Mortise| match std::ptr::eq(m, one) {
        true => Mortise { depth: m.depth - by, ..m.clone() },
        false => m.clone(),
    };
    let left = one.depth - by > 0.0 && one.fitting == Fitting::Blind;
    left && shared(board, &shorter(both[0]), &shorter(both[1])).is_none_or(|deep| deep <= TOUCH)
}

/// Tells every two mortises of one copy that run into each other.
pub(super) fn check(index: usize, board: &SolvedBoard, notation: &Notation) -> Vec<Told> {
    let cut: Vec<&Mortise> = board.mortises.iter().filter(|m| m.fitting != Fitting::Standing).collect();
    let mut told = Vec::new();
    for (i, a) in cut.iter().enumerate() {
        for b in cut.iter().skip(i + 1) {
            // The two mortises of one tenon in a glue line share its plane and no wood.
            if !a.copies.iter().any(|copy| b.copies.contains(copy)) {
                continue;
            }
            let Some(deep) = shared(board, a, b).filter(|deep| *deep > TOUCH) else { continue };
            let shorter = [b, a].into_iter().filter(|m| is_cured_shorter(board, [a, b], m, deep));
            let shorter: Vec<String> =
                shorter.map(|m| format!("shorten {} by {}", m.joint, say_at_least(deep, notation))).collect();
            let change = match shorter.is_empty() {
                true => format!("move one away from the other by {}", say_at_least(deep, notation)),
                false => shorter.join(", or "),
            };
            let message = format!(
                "in the {} the mortises of {} {} and {} {} run into each other by {}",
                board.label,
                a.joint,
                a.number,
                b.joint,
                b.number,
                say(deep, notation)
            );
            let finding = Finding::warn("mortises-cross", Place::pointer(b.pointer.clone()), message)
                .remedy(format!("{change}, or mitre the ends of the two tenons"))
                .measured("shared", deep)
                .related(Place::pointer(a.pointer.clone()), "the other joint");
            let end = b.frame.to_world(Point3::new(0.0, 0.0, b.depth));
            told.push(Told::new(index, finding).at(Point::new(end.x, end.y), "mortises cross"));
        }
    }
    told
}

#[cfg(test)]
mod tests {
    use super::check;
    use crate::board::{Mortise, Source};
    use crate::check::samples::{end_mortise, rail};
    use crate::geometry::{Placement, Point3, Vec3};
    use crate::units::Notation;

    /// A mortise 25 deep in the end, and one from the face that ends `apart` mm before its bottom.
    fn told(apart: f64) -> usize {
        let mut board = rail(60.0, 20.0);
        let first = end_mortise(&board, 6.0, 30.0, 25.0);
        let centre = Point3::new(375.0 - apart - 4.0, 30.0, 0.0);
        let second = Mortise {
            frame: Placement::facing(centre, Vec3::Y, -Vec3::Z).unwrap(),
            tenon: [8.0, 30.0, 20.0],
            depth: 12.0,
            number: 2,
            on: Some(Source::Face),
            ..first.clone()
        };
        board.mortises = vec![first, second];
        check(0, &board, &Notation::default()).len()
    }

    #[test]
    fn mortises_are_apart_touch_and_cross() {
        assert_eq!(told(2.0), 0);
        assert_eq!(told(0.0), 0, "they just touch");
        assert_eq!(told(-0.5), 1);
    }
}
