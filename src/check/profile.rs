//! What an edge profile takes from joints.
//!
//! A profile must stop short of the mouth and the walls of a mortise, or of what else a joint takes, and of every place where a neighbour lands on the side that
//! it works: it would show as a gap there. Both are measured to the lines that the profile leaves.

use super::{InProfile, MortiseName, ShapeProblem, Told};
use crate::board::Source;
use crate::finding::Finding;
use crate::geometry::{Path, Point};
use crate::model::Project;
use crate::piece::{Hollow, Meet, Piece};
use crate::router::{ProfiledEdge, RoutedPart, profiled_edges, routed_parts};
use crate::tolerance::{JUST, NO_PROFILE};
use crate::units::Length;

/// Places along each side of a mortise or landing that are looked at: 2 mm apart on a landing of 100 mm.
const STEPS: usize = 48;
/// Tells every mortise and landing that a profile runs into.
pub(super) fn check(piece: &Piece, project: &Project) -> Vec<Told> {
    let parts = routed_parts(&project.routing, piece).parts;
    parts.iter().flat_map(|part| on_part(part, piece)).collect()
}

fn on_part(part: &RoutedPart, piece: &Piece) -> Vec<Told> {
    let Some(board) = piece.boards.get(part.board) else { return Vec::new() };
    let mut told = Vec::new();
    for edge in &profiled_edges(&part.drawn) {
        let name = edge.name.as_deref().unwrap_or("edge");
        let of = || InProfile { edge: name.to_owned(), board: board.label.clone() };
        let mut tell = |problem: ShapeProblem, at: Point| {
            let finding = Finding::of(problem, edge.place.clone());
            told.push(Told::new(part.board, finding).at(at, "in the profile"));
        };
        for hollow in &board.hollows() {
            let Some(seen) = hollow.hull().filter(|_| reaches(hollow, edge)) else { continue };
            let near = nearest(&seen, &edge.edge).filter(|(off, _)| *off < edge.eats_in - JUST);
            if let Some((off, at)) = near {
                let (mortise, may_reach) = (MortiseName::of_hollow(board, hollow), off > NO_PROFILE);
                let [distance, takes] = [off, edge.eats_in].map(Length::from_mm);
                tell(ShapeProblem::ProfileInMortise { mortise, of: of(), distance, takes, may_reach }, at);
            }
        }
        for (meet, takes) in board.meets.iter().filter_map(|meet| Some((meet, worked_there(meet, edge)?))) {
            let near = meet.contact.iter().filter_map(|rim| nearest(rim, &edge.edge));
            let near = near.min_by(|a, b| a.0.total_cmp(&b.0)).filter(|(off, _)| *off < takes - JUST);
            if let Some((off, at)) = near {
                let (neighbour, may_reach) = (meet.board.words(), off > NO_PROFILE);
                let [distance, takes] = [off, takes].map(Length::from_mm);
                tell(ShapeProblem::ProfileUnderJoint { neighbour, of: of(), distance, takes, may_reach }, at);
            }
        }
    }
    told
}

/// How far in a profile works the side of the board on which a neighbour lands.
fn worked_there(meet: &Meet, edge: &ProfiledEdge) -> Option<f64> {
    let takes = match meet.on {
        Source::Face => edge.on_face,
        Source::Far => edge.on_far_side,
        Source::Edge(_) | Source::Cut(_) => 0.0,
    };
    (takes > 0.0 && meet.own_copy == 0).then_some(takes)
}

/// Whether a hollow lies at a depth at which the profile takes wood.
fn reaches(hollow: &Hollow, edge: &ProfiledEdge) -> bool {
    let depths = hollow.corners();
    let depths = depths.iter().map(|corner| -corner.z);
    let (least, most) = depths.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), d| (low.min(d), high.max(d)));
    let (from, to) = edge.edge_from_to;
    least < from - JUST || most > to + JUST
}

/// The place of a rim that lies nearest to an edge, and how far off, mm.
fn nearest(rim: &Path, edge: &Path) -> Option<(f64, Point)> {
    let places = rim.segments().iter().flat_map(|side| (0..STEPS).map(|k| side.eval(k as f64 / STEPS as f64)));
    let off = places.filter_map(|place| Some((edge.nearest(place)?.0, place)));
    off.min_by(|a, b| a.0.total_cmp(&b.0))
}
