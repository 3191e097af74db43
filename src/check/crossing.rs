//! Mortises of one board, and what else joints take out of it, that run into each other or leave too thin a wall between them.
//!
//! Two boxes are apart when some direction shows them apart: the directions of their sides, and those square to one side of
//! each (separating axes; for boxes this is exact). The wall between them is measured between their round or square ends, and wanted as
//! around any mortise. Where the tenons of two rails meet in a leg, it is common practice to mitre their ends; so it is a warning.

use super::trial::WallAt;
use super::walls::wanted;
use super::{JointProblem, MortiseName, Told, falls_short};
use crate::finding::{Beside, Finding, Place};
use crate::geometry::{Point, Point3, Vec3, separation};
use crate::piece::{Hollow, SolvedBoard};
use crate::tolerance::{JUST, PARALLEL, SHOWN};
use crate::units::{Length, Notation};

/// How deep two hollows run into each other along the direction in which they do least, mm; below zero where they are apart.
fn shared(a: &Hollow, b: &Hollow) -> Option<f64> {
    let (first, second) = (a.corners(), b.corners());
    let crossed = a.sides.into_iter().flat_map(|s| b.sides.map(|t| s.cross(t)));
    // The slanted mouths are surfaces as well.
    let mouths = [a, b].into_iter().map(|hollow| hollow.mouth().map_or(hollow.out, |plane| plane.normal()));
    let directions = a.sides.into_iter().chain(b.sides).chain(crossed).chain(mouths);
    let overlap = |d: Vec3| {
        let range = |points: &[Point3]| {
            points.iter().map(|p| p.to_vec().dot(d)).fold((f64::MAX, f64::MIN), |(l, h), x| (l.min(x), h.max(x)))
        };
        let ((a0, a1), (b0, b1)) = (range(&first), range(&second));
        (a1 - b0).min(b1 - a0)
    };
    let units = directions.filter(|d| d.length() > PARALLEL).filter_map(Vec3::unit);
    units.map(overlap).min_by(f64::total_cmp)
}

/// Whether two mortises go into the two boards of a glue line from the same place: they share no wood.
fn back_to_back(a: &Hollow, b: &Hollow) -> bool {
    let Some((own, other)) = a.mouth().zip(b.mouth()) else { return false };
    own.normal().dot(other.normal()) < -1.0 + PARALLEL && own.distance(b.origin()).abs() < JUST
}

/// The wall between two hollows of a board, mm: below zero where they run into each other, by how much; `None` where they share
/// no copy of the board and no wood of it, or are so far apart that no wall between them is wanted.
pub(super) fn wall_between(board: &SolvedBoard, a: &Hollow, b: &Hollow) -> Option<f64> {
    if !a.shares_copy(b) {
        return None;
    }
    let wanted = wanted(board.board.thickness).0;
    let is_far = a.origin().distance(b.origin()) > a.reach() + b.reach() + wanted;
    if is_far || back_to_back(a, b) {
        return None;
    }
    let deep = shared(a, b)?;
    // Boxes that stand apart by more than any wall need no second look.
    if deep < -wanted {
        return None;
    }
    let wall = separation(|way| a.farthest_point(way) - b.farthest_point(-way));
    // Round ends may be apart where the boxes around them are not.
    Some(if wall > 0.0 { wall } else { -deep.max(0.0) })
}

/// Tells every two hollows of one copy that run into each other, or leave too thin a wall between them.
pub(super) fn check(index: usize, board: &SolvedBoard, notation: &Notation) -> Vec<Told> {
    let mut told = Vec::new();
    let hollows = board.hollows();
    for (i, a) in hollows.iter().enumerate() {
        for b in hollows.iter().skip(i + 1) {
            let found = wall_between(board, a, b).and_then(|wall| between(board, [a, b], wall, notation));
            let Some((finding, words)) = found else { continue };
            let end = b.bottom();
            let wall = WallAt::between(board, [a, b]);
            told.push(Told { wall, ..Told::new(index, finding).at(Point::new(end.x, end.y), words) });
        }
    }
    told
}

/// What is told of two hollows with a wall between them, mm, and in a few words.
fn between(board: &SolvedBoard, [a, b]: [&Hollow; 2], wall: f64, notation: &Notation) -> Option<(Finding, String)> {
    let [first, second] = [a, b].map(|hollow| MortiseName::of_hollow(board, hollow));
    let place = Place::pointer(b.pointer);
    let (wanted, governs) = wanted(board.board.thickness);
    let (problem, words) = if wall < -JUST {
        let tenons = a.mortise().zip(b.mortise());
        let may_be_mitred = tenons.is_some_and(|(a, b)| a.frame.w().dot(b.frame.w()).abs() < 1.0 - PARALLEL);
        let shared = Length::from_mm(-wall);
        let words = if tenons.is_some() { "mortises cross" } else { "joints cross" };
        (JointProblem::Cross { first, second, shared, may_be_mitred }, words.to_owned())
    } else if falls_short(wall, wanted) {
        let (touch, words) = (wall < SHOWN, format!("wall {}", notation.at_most(Length::from_mm(wall))));
        let [wall, wanted] = [wall, wanted].map(Length::from_mm);
        (JointProblem::ThinBetween { first, second, wall, wanted, touch, governs }, words)
    } else {
        return None;
    };
    let other = (a.pointer != b.pointer).then(|| Place::pointer(a.pointer));
    let finding = Finding::of(problem, place);
    Some((other.into_iter().fold(finding, |finding, other| finding.related(other, Beside::OtherJoint)), words))
}

#[cfg(test)]
mod tests {
    use super::check;
    use crate::board::{Mortise, Source};
    use crate::check::samples::{end_mortise, rail};
    use crate::geometry::{Placement, Point3, Vec3};
    use crate::units::Notation;

    /// A mortise 25 deep in the end, and one from the face that ends `apart` mm before its bottom.
    fn told(apart: f64) -> Vec<&'static str> {
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
        check(0, &board, &Notation::default()).into_iter().map(|told| told.finding.code).collect()
    }

    #[test]
    fn mortises_leave_a_wall_touch_and_cross() {
        assert!(told(6.5).is_empty());
        assert!(told(6.0).is_empty(), "6 mm are just enough in a rail of 20");
        assert_eq!(told(5.9), ["thin-wall-between"]);
        assert_eq!(told(0.0), ["thin-wall-between"], "they just touch");
        assert_eq!(told(-0.5), ["mortises-cross"]);
    }
}
