//! Mortises of one board that run into each other, or leave too thin a wall between them.
//!
//! Two boxes are apart when some direction shows them apart: the directions of their sides, and those square to one side of
//! each (separating axes; for boxes this is exact). The wall between them is measured between their round or square ends, and wanted as
//! around any mortise. Where the tenons of two rails meet in a leg, it is common practice to mitre their ends; so it is a warning.

use super::trial::{Behind, WallAt};
use super::walls::wanted;
use super::{JointProblem, MortiseName, Told};
use crate::board::{Fitting, Mortise};
use crate::finding::{Beside, Finding, Place};
use crate::geometry::{Plane, Point, Point3, Vec3, separation};
use crate::joinery::surface_plane;
use crate::piece::SolvedBoard;
use crate::tolerance::{JUST, PARALLEL, SHOWN};
use crate::units::{Length, Notation};

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
    let units = directions.filter(|d| d.length() > PARALLEL).filter_map(Vec3::unit);
    units.map(overlap).min_by(f64::total_cmp)
}

/// No point of a mortise lies farther than this from the middle of its mouth, mm.
fn reach(mortise: &Mortise, mouth: &Plane) -> f64 {
    let half = mortise.tenon[0].hypot(mortise.tenon[1]) / 2.0;
    mortise.depth + half / mouth.normal().dot(mortise.frame.w()).abs()
}

/// Whether two mortises go into the two boards of a glue line from the same place: they share no wood.
fn back_to_back(b: &Mortise, own: &Plane, other: &Plane) -> bool {
    own.normal().dot(other.normal()) < -1.0 + PARALLEL && own.distance(b.frame.origin()).abs() < JUST
}

/// The wall between two mortises of a board, mm: below zero where they run into each other, by how much; `None` where they share
/// no copy of the board and no wood of it, or are so far apart that no wall between them is wanted.
pub(super) fn wall_between(board: &SolvedBoard, a: &Mortise, b: &Mortise) -> Option<f64> {
    let are_cut = [a, b].into_iter().all(|m| m.fitting != Fitting::Standing);
    if !are_cut || !a.copies.iter().any(|copy| b.copies.contains(copy)) {
        return None;
    }
    let (own, other) = surface_plane(&board.board, a).zip(surface_plane(&board.board, b))?;
    let wanted = wanted(board.board.thickness).0;
    let is_far = a.frame.origin().distance(b.frame.origin()) > reach(a, &own) + reach(b, &other) + wanted;
    if is_far || back_to_back(b, &own, &other) {
        return None;
    }
    let deep = shared(board, a, b)?;
    // Boxes that stand apart by more than any wall need no second look.
    if deep < -wanted {
        return None;
    }
    let wall = separation(|way| a.farthest_point(&own, way) - b.farthest_point(&other, -way));
    // Round ends may be apart where the boxes around them are not.
    Some(if wall > 0.0 { wall } else { -deep.max(0.0) })
}

/// Tells every two mortises of one copy that run into each other, or leave too thin a wall between them.
pub(super) fn check(index: usize, board: &SolvedBoard, notation: &Notation) -> Vec<Told> {
    let mut told = Vec::new();
    for (i, a) in board.mortises.iter().enumerate() {
        for b in board.mortises.iter().skip(i + 1) {
            let found = wall_between(board, a, b).and_then(|wall| between(board, [a, b], wall, notation));
            let Some((finding, words)) = found else { continue };
            let end = b.frame.to_world(Point3::new(0.0, 0.0, b.depth));
            let wall = Some(WallAt::of(board, b, Behind::other(board, a)));
            told.push(Told { wall, ..Told::new(index, finding).at(Point::new(end.x, end.y), words) });
        }
    }
    told
}

/// What is told of two mortises with a wall between them, mm, and in a few words.
fn between(board: &SolvedBoard, [a, b]: [&Mortise; 2], wall: f64, notation: &Notation) -> Option<(Finding, String)> {
    let [first, second] = [a, b].map(|mortise| MortiseName::of(board, mortise));
    let place = Place::pointer(b.pointer.clone());
    let (wanted, governs) = wanted(board.board.thickness);
    let (problem, words) = if wall < -JUST {
        let may_be_mitred = a.frame.w().dot(b.frame.w()).abs() < 1.0 - PARALLEL;
        let shared = Length::from_mm(-wall);
        (JointProblem::Cross { first, second, shared, may_be_mitred }, "mortises cross".to_owned())
    } else if wall < wanted - JUST {
        let (touch, words) = (wall < SHOWN, format!("wall {}", notation.at_most(Length::from_mm(wall))));
        let [wall, wanted] = [wall, wanted].map(Length::from_mm);
        (JointProblem::ThinBetween { first, second, wall, wanted, touch, governs }, words)
    } else {
        return None;
    };
    let other = (a.pointer != b.pointer).then(|| Place::pointer(a.pointer.clone()));
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
