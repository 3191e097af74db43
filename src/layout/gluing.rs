//! The order in which a piece is glued.

use super::elevation::face_corners;
use super::turned::turned;
use crate::board::PartRole;
use crate::piece::{Piece, SolvedBoard};

/// A board whose lowest corner is nearer to the floor than this, mm, stands on it.
const FLOOR: f64 = 0.5;

/// Frames or ends first, then what joins them, then the top; of a box two halves, then the halves.
pub fn order(piece: &Piece) -> Vec<String> {
    let labels = |wanted: &dyn Fn(&SolvedBoard) -> bool| -> Vec<String> {
        piece.boards.iter().filter(|b| wanted(b)).map(|b| b.label.clone()).collect()
    };
    let rails = labels(&|b| b.role.is_rail());
    let between = |b: &SolvedBoard| b.role.is_apron() || b.role.is_stretcher();
    let ends = labels(&|b| b.role.is_at_end());
    let long = labels(&|b| between(b) && !b.role.is_at_end());
    let mut steps = vec!["all of it once without glue, until every check listed here reads right".to_owned()];
    let has_legs = piece.of_role(PartRole::Leg).next().is_some();
    if !rails.is_empty() {
        steps.push(format!("the two frames: legs, {}; check the diagonals of each frame", rails.join(", ")));
    } else if !ends.is_empty() {
        steps.push(format!("the two ends: legs, {}; check the diagonals of each end", ends.join(", ")));
    }
    if !long.is_empty() {
        let between = long.join(", ");
        steps.push(format!("{between} between them, feet on their places with the spacers in; check the floor"));
    }
    let sides: Vec<&SolvedBoard> = piece.of_role(PartRole::Side).collect();
    if !has_legs && !sides.is_empty() {
        steps.extend(order_of_box(&sides));
    } else if !has_legs {
        steps.extend(order_of_boards(piece));
    }
    if piece.top().is_some() {
        steps.push(match turned(piece) {
            true => "the legs into the slab, all of them while the glue is open; check the feet on a flat floor"
                .to_owned(),
            false => "the top last, free to move across its grain".to_owned(),
        });
    }
    steps
}

/// Two halves with the two corners between them dry, so that those can still be trued; an odd number all at once.
fn order_of_box(sides: &[&SolvedBoard]) -> Vec<String> {
    let count: usize = sides.iter().map(|b| b.copies.len()).sum();
    if !count.is_multiple_of(2) {
        return vec!["all the sides together with a band round them; check along the floor".to_owned()];
    }
    vec![
        "two halves: glue all corners but two that lie opposite each other, with a band round the whole; check across \
         the floor"
            .to_owned(),
        "when they are dry true the two open corners if they need it, then glue the halves together; check again"
            .to_owned(),
    ]
}

/// What stands on the floor first, then the rest from the lowest up.
fn order_of_boards(piece: &Piece) -> Vec<String> {
    let lowest = |b: &SolvedBoard| {
        let corners = b.copies.iter().flat_map(|copy| face_corners(b, &copy.placement));
        corners.map(|(p, ..)| p.z).fold(f64::MAX, f64::min)
    };
    let base = piece.boards.iter().filter(|b| b.role != PartRole::Top);
    let mut boards: Vec<(f64, &str)> = base.map(|b| (lowest(b), b.label.as_str())).collect();
    boards.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (standing, rest): (Vec<_>, Vec<_>) = boards.into_iter().partition(|(z, _)| z.abs() < FLOOR);
    let names = |boards: &[(f64, &str)]| boards.iter().map(|(_, label)| *label).collect::<Vec<_>>().join(", ");
    match (standing.as_slice(), rest.as_slice()) {
        ([], rest) => vec![format!("from the lowest up: {}", names(rest))],
        (standing, []) => vec![format!("all together on a flat floor: {}", names(standing))],
        (standing, rest) => vec![
            format!("stand up on a flat floor: {}", names(standing)),
            format!("then from the lowest up: {}; check across the floor", names(rest)),
        ],
    }
}
