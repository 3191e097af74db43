//! The order in which a piece is glued.

use super::drawing_up::DrawnUp;
use super::elevation::face_corners;
use super::turned::turned;
use crate::board::PartRole;
use crate::piece::{Piece, SolvedBoard};
use crate::tolerance::ON_FLOOR;

/// Frames or ends first, then what joins them, then the top; of a box two halves, then the halves. Each stage with how it is drawn
/// up; in another order where the usual one binds.
pub(super) fn order(piece: &Piece, drawn_up: &DrawnUp) -> Vec<String> {
    let mut steps = vec!["all of it once without glue, until every check listed here reads right".to_owned()];
    steps.extend(match drawn_up.is_usual || drawn_up.stages.is_empty() {
        true => usual_order(piece, drawn_up),
        false => drawn_up.stages.iter().map(|(_, words)| words.clone()).collect(),
    });
    if piece.top().is_some() {
        let step = match turned(piece) {
            true => "the legs into the slab, all of them while the glue is open; check the feet on a flat floor",
            false => "the top last, free to move across its grain",
        };
        steps.push(with(step.to_owned(), drawn_up.usual(2)));
    }
    steps
}

/// A step with how its parts are drawn up.
fn with(step: String, drawn_up: Option<&str>) -> String {
    match drawn_up {
        Some(words) => format!("{step}. {}{}", words[..1].to_uppercase(), &words[1..]),
        None => step,
    }
}

/// The usual order of the base.
fn usual_order(piece: &Piece, drawn_up: &DrawnUp) -> Vec<String> {
    let labels = |wanted: &dyn Fn(&SolvedBoard) -> bool| -> Vec<String> {
        piece.boards.iter().filter(|b| wanted(b)).map(|b| b.label.clone()).collect()
    };
    let rails = labels(&|b| b.role.is_rail());
    let between = |b: &SolvedBoard| b.role.is_apron() || b.role.is_stretcher();
    let ends = labels(&|b| b.role.is_at_end());
    let long = labels(&|b| between(b) && !b.role.is_at_end());
    let mut steps = Vec::new();
    let has_legs = piece.of_role(PartRole::Leg).next().is_some();
    if !rails.is_empty() {
        steps.push(format!("the two frames: legs, {}; check the diagonals of each frame", rails.join(", ")));
    } else if !ends.is_empty() {
        steps.push(format!("the two ends: legs, {}; check the diagonals of each end", ends.join(", ")));
    }
    if let Some(step) = steps.pop() {
        steps.push(with(step, drawn_up.usual(0)));
    }
    if !long.is_empty() {
        let between = long.join(", ");
        let step = format!("{between} between them, feet on their places with the spacers in; check the floor");
        steps.push(with(step, drawn_up.usual(1)));
    }
    let sides: Vec<&SolvedBoard> = piece.of_role(PartRole::Side).collect();
    if !has_legs && !sides.is_empty() {
        steps.extend(order_of_box(&sides));
    } else if !has_legs {
        steps.extend(order_of_boards(piece));
    }
    if !has_legs && let Some(last) = steps.pop() {
        steps.push(with(last, drawn_up.usual(0)));
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
    let (standing, rest): (Vec<_>, Vec<_>) = boards.into_iter().partition(|(z, _)| z.abs() < ON_FLOOR);
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
