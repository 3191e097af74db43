//! The wall of wood that is left around a mortise, or around what else a joint takes out of a board.
//!
//! A wall should be 6 mm, or a third of the board's thickness where that is less (common practice, no source). It is measured to
//! the finished board: its faces, its cuts, its edges with every curve. An edge profile or round-over that is told in words
//! is not taken off.

use super::trial::{Behind, WallAt};
use super::{Governs, JointProblem, MortiseName, Told, falls_short};
use crate::board::{Mortise, Ring, Source};
use crate::finding::{Finding, Place};
use crate::geometry::{Path, Point, Vec2, Vec3};
use crate::piece::{Hollow, SolvedBoard, plane_of};
use crate::tolerance::{BELOW_CUTTING, JUST};
use crate::units::{Length, Notation};

/// The wall that is enough in any board, mm (common practice).
pub const ENOUGH: f64 = 6.0;

/// The share of the thickness that is enough in a thin one (common practice).
const SHARE: f64 = 1.0 / 3.0;

/// A surface that lies within 45 degrees of the mouth's own carries on from it, and is no wall.
const BESIDE_MOUTH: f64 = 0.7;

/// Curved edges are looked for from places this far apart along the sides of a mortise, mm.
const STEP: f64 = 1.0;

/// And from no more places of one side than this.
const STEPS: f64 = 48.0;

/// A wall: how thick it is, to which surface, and where on the face side it is thinnest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wall {
    /// Thickness, mm; below zero where the mortise comes out.
    pub thickness: f64,
    /// The surface behind it.
    pub surface: Source,
    /// Where, in (u, v).
    pub at: Point,
}

/// The wall that is wanted in a board of a thickness, mm, and what governs it.
pub fn wanted(thickness: f64) -> (f64, Governs) {
    if thickness * SHARE < ENOUGH { (thickness * SHARE, Governs::Share) } else { (ENOUGH, Governs::Enough) }
}

/// The walls around a mortise, thinnest first.
pub fn walls(board: &SolvedBoard, mortise: &Mortise) -> Vec<Wall> {
    walls_below(board, mortise, f64::INFINITY)
}

/// Those of them that are thinner than `below`, mm: far quicker told where a mortise lies well inside.
pub(super) fn walls_below(board: &SolvedBoard, mortise: &Mortise, below: f64) -> Vec<Wall> {
    Hollow::of(&board.board, mortise).map_or_else(Vec::new, |hollow| around(board, &hollow, below))
}

/// The walls around a hollow that are thinner than `below`, mm, thinnest first.
pub fn around(board: &SolvedBoard, hollow: &Hollow, below: f64) -> Vec<Wall> {
    let skipped = |surface: Source, normal: Vec3| {
        hollow.opens.contains(&surface)
            // A glue line's mouth lies inside: no surface carries on from it.
            || hollow.on.is_some() && normal.dot(hollow.out) > BESIDE_MOUTH
    };
    let cuts = (0..board.board.cuts.len()).filter(|i| board.solid.ends.get(*i).is_some_and(|e| !e.rings.is_empty()));
    let flat = [Source::Face, Source::Far].into_iter().chain(cuts.map(Source::Cut));
    let flat =
        flat.filter(|surface| plane_of(&board.board, *surface).is_some_and(|p| !skipped(*surface, p.normal())));
    let mut found: Vec<Wall> = flat.filter_map(|surface| wall_of(board, hollow, surface)).collect();
    let rings = [&board.solid.face, &board.solid.far];
    if let Some(hull) = hollow.hull() {
        found.extend(rings.into_iter().filter_map(|ring| edge_wall(board, &hull, ring, below, skipped)));
    }
    found.retain(|wall| wall.thickness < below);
    found.sort_by(|a, b| a.thickness.total_cmp(&b.thickness));
    found
}

/// The wall between a hollow and a plane surface.
fn wall_of(board: &SolvedBoard, hollow: &Hollow, surface: Source) -> Option<Wall> {
    let plane = plane_of(&board.board, surface)?;
    let nearest = hollow.farthest_point(plane.normal());
    Some(Wall { thickness: -plane.distance(nearest), surface, at: Point::new(nearest.x, nearest.y) })
}

/// The thinnest wall between a mortise as seen from the face side and the edges of a rim, where one is thinner than `below`, mm.
///
/// A look tells how far around it no wall can be as thin as one that is known, since walking a millimetre changes no distance by
/// more than a millimetre. A coarse walk makes a thin one known, and the fine walk passes over what lies so.
fn edge_wall(
    board: &SolvedBoard,
    hull: &Path,
    ring: &Ring,
    below: f64,
    skipped: impl Fn(Source, Vec3) -> bool,
) -> Option<Wall> {
    let outline = board.board.outline();
    let look = |q: Point| {
        // The mouth itself lies on the outline: only what is clear of it is outside.
        let off = outline.nearest(q).map_or(0.0, |n| n.0);
        let outside = off > BELOW_CUTTING && !outline.encloses(q);
        let mut any = f64::INFINITY;
        let near = ring.pieces().filter_map(|(piece, surface)| {
            let (away, t) = piece.nearest(q);
            any = any.min(away);
            let normal: Vec2 = -piece.tangent(t).turn_90();
            let normal = Vec3::new(normal.x, normal.y, 0.0);
            let edge = matches!(surface, Source::Edge(_)) && !skipped(surface, normal);
            edge.then_some((away, surface))
        });
        let near = near.min_by(|a, b| a.0.total_cmp(&b.0));
        let wall = near.map(|(away, surface)| Wall { thickness: if outside { -away } else { away }, surface, at: q });
        Look { wall, any, within: if outside { 0.0 } else { off } }
    };
    let places = places(hull);
    // The thinnest on a walk over every so many places, none thicker than what is asked for or known.
    let walk = |stride: usize, known: f64| {
        let (mut thinnest, mut thin, mut clear_to): (Option<Wall>, f64, f64) = (None, known, f64::NEG_INFINITY);
        for (run, at) in places.iter().filter(|(step, ..)| step % stride == 0).map(|(_, run, at)| (*run, *at)) {
            if run <= clear_to {
                continue;
            }
            let looked = look(at);
            let thinner = |wall: &Wall| thinnest.is_none_or(|known| wall.thickness < known.thickness);
            thinnest = looked.wall.filter(thinner).or(thinnest);
            thin = thinnest.map_or(thin, |wall| wall.thickness.min(thin));
            clear_to = run + looked.clear_of(thin);
        }
        thinnest
    };
    let known = walk(COARSE, below).map_or(below, |wall| wall.thickness.min(below));
    walk(1, known)
}

/// The places of a rim at which it is looked: the number of each on its side, how far it lies along the rim, mm, and the place.
fn places(rim: &Path) -> Vec<(usize, f64, Point)> {
    let mut run = 0.0;
    let sides = rim.segments().iter().map(|side| {
        let length = side.length();
        let from = run;
        run += length;
        (side, from, length)
    });
    let places = sides.flat_map(|(side, from, length)| {
        let steps = (length / STEP).ceil().clamp(1.0, STEPS) as u32;
        (0..steps).map(move |step| {
            let share = f64::from(step) / f64::from(steps);
            (step as usize, from + share * length, side.eval(share))
        })
    });
    places.collect()
}

/// Every so many places of a side are looked at in the coarse walk.
const COARSE: usize = 16;

/// A look from a place of a mortise's rim at the edges.
struct Look {
    /// The thinnest wall there.
    wall: Option<Wall>,
    /// How far the rim of the board is, mm, whether it counts as a wall or not.
    any: f64,
    /// How far around the place the board has no end, mm; 0 outside it.
    within: f64,
}

impl Look {
    /// How far around the place every wall is thicker than a known one, mm.
    fn clear_of(&self, known: f64) -> f64 {
        ((self.any - known).min(self.within) - JUST).max(0.0)
    }
}

/// Tells every wall that is thinner than wanted, in mortises that stay inside; one that does not is told by another rule.
pub(super) fn check(index: usize, board: &SolvedBoard, notation: &Notation) -> Vec<Told> {
    let (wanted, governs) = wanted(board.board.thickness);
    let mut told = Vec::new();
    for hollow in &board.hollows() {
        let thin = around(board, hollow, wanted).into_iter().find(|wall| falls_short(wall.thickness, wanted));
        let Some(wall) = thin.filter(|wall| wall.thickness > 0.0) else { continue };
        let problem = JointProblem::ThinWall {
            mortise: MortiseName::of_hollow(board, hollow),
            surface: board.board.name_of(wall.surface).into_owned(),
            wall: Length::from_mm(wall.thickness),
            wanted: Length::from_mm(wanted),
            governs,
        };
        let finding = Finding::of(problem, Place::pointer(hollow.pointer));
        let words = format!("wall {}", notation.at_most(Length::from_mm(wall.thickness)));
        let thin = hollow.mortise().map(|mortise| WallAt::of(board, mortise, Behind::Surface(wall.surface)));
        told.push(Told { wall: thin, ..Told::new(index, finding).at(wall.at, words) });
    }
    told
}

#[cfg(test)]
mod tests {
    use super::{check, walls, wanted};
    use crate::board::Source;
    use crate::check::Governs;
    use crate::check::samples::{end_mortise, rail};
    use crate::units::Notation;

    #[test]
    fn what_governs_depends_on_the_thickness() {
        assert_eq!(wanted(18.0).0, 6.0);
        assert_eq!(wanted(40.0), (6.0, Governs::Enough));
        assert_eq!(wanted(15.0), (5.0, Governs::Share));
    }

    /// A rail 60 deep and 20 thick: 6 mm govern, and 7 are left on either side of a tenon 6 thick.
    #[test]
    fn a_wall_passes_touches_and_fails() {
        let told = |width: f64| {
            let mut board = rail(60.0, 20.0);
            board.mortises.push(end_mortise(&board, 6.0, width, 25.0));
            check(0, &board, &Notation::default())
        };
        assert!(told(40.0).is_empty());
        assert!(told(48.0).is_empty(), "6 mm are left on either side: just enough");
        let thin = told(50.0);
        assert_eq!(thin.len(), 1);
        assert_eq!(thin[0].finding.code, "thin-wall");
        assert!((thin[0].finding.measure("wall").unwrap() - 5.0).abs() < 1e-9);
        assert!(thin[0].spot.is_some());
    }

    #[test]
    fn walls_are_told_to_faces_and_edges() {
        let board = rail(60.0, 20.0);
        let all = walls(&board, &end_mortise(&board, 6.0, 40.0, 25.0));
        let to = |surface| all.iter().find(|w| w.surface == surface).map(|w| w.thickness);
        assert!((to(Source::Face).unwrap() - 7.0).abs() < 1e-9 && (to(Source::Far).unwrap() - 7.0).abs() < 1e-9);
        assert!(all.iter().any(|w| matches!(w.surface, Source::Edge(_)) && (w.thickness - 10.0).abs() < 1e-9));
    }
}
