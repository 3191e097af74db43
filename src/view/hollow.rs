//! What joints take out of boards in space, and what is cut into them to hold a top, taken from the boards' features: what fills it
//! is looked at as boards are.

use super::direction::View;
use super::prism::Prism;
use crate::board::Source;
use crate::geometry::{Affine, Placement, Plane, Point, Point3, Vec3, intersection};
use crate::piece::{SolvedBoard, plane_of};
use crate::solid::{Does, End, Feature, Prism as Cut, Shape, Why};
use crate::tolerance::{BELOW_A_RULE, PARALLEL, SAME_PLACE};

/// A centre line of which less than this share is seen points at the eye, and is shown as a cross.
const STEEP: f64 = 0.5;

/// What is taken for a board's joints and cut for the fasteners of a top, a prism for each copy that has it, from the board's own
/// features. Standing tenons are the wood in their board's neighbour's mortise.
pub fn hollows(index: usize, board: &SolvedBoard) -> Vec<Prism> {
    let features = board.body().features;
    let own = features.iter().filter_map(|feature| Some((feature, is_filled(feature.id.why)?)));
    own.flat_map(|(feature, filled)| {
        let copies = (0..board.copies.len()).filter(|copy| feature.is_in(*copy));
        let one = |copy: usize| Some(Prism { filled, ..hollow(index, board, feature, copy)? });
        copies.filter_map(one).collect::<Vec<Prism>>()
    })
    .collect()
}

/// Whether wood fills what a feature takes away; `None` of what is no such hollow.
fn is_filled(why: Why) -> Option<bool> {
    match why {
        Why::Mortise(_) | Why::Groove | Why::Halving | Why::Pocket => Some(true),
        Why::Slot | Why::Counterbore | Why::Button => Some(false),
        _ => None,
    }
}

/// What of a hollow without a tenon lies in the wood, its frame in the middle of that: it may begin and end beside the board. `None`
/// where it goes in askew to the face side, and where it takes several pieces of the board.
fn in_the_wood(board: &SolvedBoard, taken: &Cut) -> Option<Cut> {
    let frame = taken.frame;
    if frame.w().cross(Vec3::Z).length() > PARALLEL {
        return None;
    }
    let at = |x: f64, y: f64| frame.to_board(Point3::new(x, y, 0.0));
    let (o, x, y) = (at(0.0, 0.0), at(1.0, 0.0), at(0.0, 1.0));
    let map = Affine::new([x.x - o.x, x.y - o.y, y.x - o.x, y.y - o.y, o.x, o.y]);
    let wood = board.board.outline().transformed(map);
    let wood = if wood.signed_area() < 0.0 { wood.reversed() } else { wood };
    let common = intersection(std::slice::from_ref(&taken.outline), &[wood])?;
    let [outline] = common.as_slice() else { return None };
    let middle = outline.bounding_box()?.center();
    Some(Cut {
        outline: outline.transformed(Affine::translate(-middle.to_vec2())),
        frame: frame.moved(Vec3::new(middle.x, middle.y, 0.0)),
        ends: taken.ends,
    })
}

/// A hollow in the world. Its outline is the section, swept from the plane of its mouth to its bottom or its exit.
fn hollow(index: usize, board: &SolvedBoard, feature: &Feature, copy: usize) -> Option<Prism> {
    let Does::Take(Shape::Prism(taken)) = &feature.does else { return None };
    let clipped = match feature.id.why {
        Why::Groove | Why::Halving | Why::Pocket => Some(in_the_wood(board, taken)?),
        _ => None,
    };
    let mortise = clipped.as_ref().unwrap_or(taken);
    let place = board.copies.get(copy)?.placement;
    let (frame, b) = (&mortise.frame, mortise.outline.bounding_box()?);
    let wood = board.board.body().on_line(frame.origin(), frame.w(), frame.u());
    let stretches = wood.stretches();
    let surface = match mortise.ends[0] {
        End::On(surface) => surface,
        End::Open => leaves(board, frame, stretches.first()?.0, false)?,
        // From beside the wood it begins at its surface, in the wood where it is told to.
        End::To(depth) => match stretches.iter().find(|(_, to)| *to > depth)?.0 {
            from if from > depth => leaves(board, frame, from, false)?,
            _ => Plane::through(frame.origin() + frame.w() * depth, -frame.w())?,
        },
    };
    let exit = match mortise.ends[1] {
        End::On(plane) => Some(plane),
        End::To(_) => None,
        End::Open => {
            let from = if let End::To(depth) = mortise.ends[0] { depth } else { 0.0 };
            leaves(board, frame, stretches.iter().map(|(_, to)| *to).find(|to| *to > from)?, true)
        }
    };
    let corners = [(b.x0, b.y0), (b.x1, b.y0), (b.x1, b.y1), (b.x0, b.y1)];
    let depth = |plane: &Plane| {
        let steep = plane.normal().dot(frame.w());
        let reached = corners.map(|(x, y)| {
            let start = frame.to_world(Point3::new(x, y, 0.0));
            frame.to_board(start + frame.w() * (-plane.distance(start) / steep)).z
        });
        reached.into_iter().fold((f64::MAX, f64::MIN), |(a, b), z| (a.min(z), b.max(z)))
    };
    let bottom = match (mortise.ends[1], &exit) {
        (End::To(depth), _) => depth,
        (_, Some(plane)) => depth(plane).1,
        (_, None) => return None,
    };
    let mouth = depth(&surface).0;
    let to_world = |d| place.direction_to_world(d);
    let middle = frame.origin() + frame.w() * bottom;
    let placement = Placement::facing(place.to_world(middle), to_world(frame.u()), to_world(frame.w()))?;
    let own = |plane: &Plane| placement.plane_to_board(&place.plane_to_world(plane));
    let exit = exit.map_or(Plane::level(0.0), |plane| own(&plane));
    Prism::between_planes(index, copy, mortise.outline.clone(), vec![exit, own(&surface)], bottom - mouth, placement)
}

/// The surface at which the centre line of a hollow enters or leaves the wood, its normal out of the wood: square to the line where
/// that is curved.
fn leaves(board: &SolvedBoard, frame: &Placement, at: f64, outwards: bool) -> Option<Plane> {
    let p = frame.origin() + frame.w() * at;
    let out = if outwards { frame.w() } else { -frame.w() };
    let edges = (0..board.board.edges.len()).map(Source::Edge);
    let cuts = (0..board.board.cuts.len()).map(Source::Cut);
    let planes = [Source::Face, Source::Far].into_iter().chain(cuts).chain(edges);
    let flat = planes.filter_map(|source| plane_of(&board.board, source));
    let here = |plane: &Plane| plane.distance(p).abs() < SAME_PLACE && plane.normal().dot(out) > 0.0;
    flat.into_iter().find(here).or_else(|| Plane::through(p, out))
}

/// The centre lines of mortises as seen, true to size; two that cross at the middle where one points at the eye.
pub fn centre_lines(fittings: &[Prism], view: &View) -> Vec<(Point, Point)> {
    let mut lines: Vec<(Point, Point)> = Vec::new();
    for fitting in fittings {
        let Some(b) = fitting.outline.bounding_box() else { continue };
        let at = |x: f64, y: f64, z: f64| view.project(fitting.placement.to_world(Point3::new(x, y, z)));
        let deep = (at(0.0, 0.0, 0.0), at(0.0, 0.0, -fitting.thickness));
        let own = if deep.0.distance(deep.1) > STEEP * fitting.thickness {
            vec![deep]
        } else {
            vec![(at(b.x0, 0.0, 0.0), at(b.x1, 0.0, 0.0)), (at(0.0, b.y0, 0.0), at(0.0, b.y1, 0.0))]
        };
        for line in own {
            if line.0.distance(line.1) > BELOW_A_RULE && !lines.iter().any(|known| same(*known, line)) {
                lines.push(line);
            }
        }
    }
    lines
}

/// Whether two lines lie on each other, either way round: mortises one behind the other.
fn same((a, b): (Point, Point), (c, d): (Point, Point)) -> bool {
    a.distance(c).max(b.distance(d)) < BELOW_A_RULE || a.distance(d).max(b.distance(c)) < BELOW_A_RULE
}
