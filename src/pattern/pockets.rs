//! Pockets for a top's screws at full size: where each begins in the inside face of its part, for parts whose plumb holes leave too little
//! wood.
//!
//! The part keeps the plumb holes that the file asks for: a pocket is what is bored in their place.

use super::fixing::{hole_rim, is_bored_soundly, pocket_words};
use super::fixing_sheet::{OfPart, Sheet};
use super::lines::{CUT_WIDTH, MARK_WIDTH, cross, line, stroke};
use crate::board::Source;
use crate::geometry::{Affine, Flat, Path, Point, Point3, Rect, Vec2, Vec3};
use crate::page::{Pen, Role};
use crate::piece::{Hole, Landing, Piece, Play, Pocket, SolvedBoard, plane_of};
use crate::tolerance::UNSEEN;
use crate::units::{Length, Notation};

/// What of the inside face is shown below the pockets' mouths, mm.
const BELOW: f64 = 12.0;

/// How far the line from a screw's mark runs out beyond the edge, mm.
const BEYOND: f64 = 3.0;

/// The inside face of each part whose screws are better put in from pockets, with these; `moves` where the holes are slots.
pub(super) fn sheets(piece: &Piece, screw: f64, moves: bool, notation: &Notation) -> Vec<Sheet> {
    let mut strips = Vec::new();
    for landing in &piece.held.landings {
        let Some(board) = piece.boards.get(landing.board) else { continue };
        let pocket = landing.pocket(board, screw, moves).filter(|_| !is_bored_soundly(board, landing, screw));
        let Some((pocket, copy)) = pocket.zip(board.copies.get(landing.copy)) else { continue };
        let Some(face) = InsideFace::of(board, landing, pocket.inside) else { continue };
        let sheet = strip(piece, (board, landing), (&face, &pocket), (screw, moves), notation);
        OfPart::put(&mut strips, (landing.board, board, &copy.label), sheet, Affine::FLIP_X);
    }
    OfPart::all_told(strips)
}

/// The inside face of a part, its arris under the top level: from the middle of that, to the right and up for who looks at it.
struct InsideFace {
    /// In the axes of the board, as its face side is seen.
    middle: Point,
    right: Vec2,
    /// Half of the arris, mm.
    half: f64,
}

impl InsideFace {
    /// `None` of a part that has no such arris.
    fn of(board: &SolvedBoard, landing: &Landing, inside: Source) -> Option<InsideFace> {
        let out = plane_of(&board.board, inside)?.normal();
        let placement = board.copies.get(landing.copy)?.placement;
        let plumb = placement.direction_to_board(Vec3::Z);
        let up = (plumb - out * out.dot(plumb)).unit()?;
        let right = up.cross(out);
        let right = Vec2::new(right.x, right.y);
        let rim = if inside == Source::Face { &board.solid.face } else { &board.solid.far };
        let corners: Vec<Point> = rim.part(landing.on).flat_map(|piece| [piece.start(), piece.end()]).collect();
        let along = |a: &&Point, b: &&Point| a.to_vec2().dot(right).total_cmp(&b.to_vec2().dot(right));
        let (left, last) = (*corners.iter().min_by(along)?, *corners.iter().max_by(along)?);
        let half = 0.5 * left.distance(last);
        (half > UNSEEN).then(|| InsideFace { middle: left.midpoint(last), right, half })
    }

    /// How far to the right of its middle a place in the part lies, mm.
    fn along(&self, at: Point3) -> f64 {
        (Point::new(at.x, at.y) - self.middle).dot(self.right)
    }
}

fn strip(
    piece: &Piece,
    (board, landing): (&SolvedBoard, &Landing),
    (face, pocket): (&InsideFace, &Pocket),
    (screw, moves): (f64, bool),
    notation: &Notation,
) -> Sheet {
    let long = 1.0 / pocket.slant.radians().sin();
    let shown = pocket.below + long * pocket.head / 2.0 + BELOW;
    let ring = Path::rectangle(Rect::new(-face.half, -shown, face.half, 0.0));
    let mut sheet = Sheet::new(format!("{}, pockets", board.label), Flat::from_outside(ring), pocket.deep);
    // In the face the round pocket is an ellipse: as wide as it, and longer down the face.
    let in_face = Affine::translate((0.0, -pocket.below)) * Affine::scale_non_uniform(1.0, long);
    for play in &landing.plays {
        let is_slot = matches!(landing.hole(play, screw, moves), Hole::Slot { .. });
        let ends = if is_slot { play.in_base() } else { [play.at; 2] };
        let along = |at: Point| piece.entry(landing, &Play { at, ..*play }).map(|entry| face.along(entry.at));
        let (Some(today), Some(from), Some(to)) = (along(play.at), along(ends[0]), along(ends[1])) else { continue };
        let level = |x: f64| Point::new(x, 0.0);
        let mouth = hole_rim([level(from), level(to)], level(today), pocket.head).transformed(in_face);
        sheet.items.push(stroke(Role::Opening, mouth, Pen::solid(CUT_WIDTH)));
        let (mark, begins) = (Point::new(today, BEYOND), Point::new(today, -pocket.below));
        sheet.items.push(line(Role::Mark, mark, Point::new(today, -BEYOND), Pen::solid(MARK_WIDTH)));
        sheet.items.extend(cross(Role::Mark, begins, 2.0));
    }
    let say = |mm: f64| notation.length(Length::from_mm(mm));
    sheet.block = vec![
        format!("lay it on the {}, its upper line on the edge under the top", board.board.name_of(pocket.inside)),
        "stroke on that line: below the mark of a screw".to_owned(),
        "cross: where the middle of that screw's pocket starts".to_owned(),
        format!(
            "each opens {} x {} long",
            notation.bare_length(Length::from_mm(pocket.head)),
            say(long * pocket.head)
        ),
    ];
    sheet.block.extend(pocket_words(board, pocket, screw, notation));
    sheet
}
