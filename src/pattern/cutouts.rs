//! What joints cut into a board that is no mortise, on its patterns: its mouths, and its name with its sizes.

use super::joints::{HIDDEN_DASH, Label};
use super::lines::{MARK_WIDTH, stroke};
use crate::board::Source;
use crate::geometry::{Affine, Point, Segment, Vec2};
use crate::joinery::marked_span;
use crate::page::{Item, Pen, Role};
use crate::piece::SolvedBoard;
use crate::units::{Length, Notation};

/// As seen from the face side: the mouths in it, and dashed those in the far side.
pub fn on_face(solved: &SolvedBoard) -> Vec<Item> {
    let mut items = on_surface(solved, Source::Face, Affine::IDENTITY);
    let hidden = solved.joint_cutouts().flat_map(|cutout| cutout.mouths(Source::Far));
    items.extend(hidden.map(|mouth| stroke(Role::Mark, mouth, Pen::dashed(MARK_WIDTH, &HIDDEN_DASH))));
    items
}

/// The mouths in a surface, taken by `place` from its axes to the drawing.
pub fn on_surface(solved: &SolvedBoard, surface: Source, place: Affine) -> Vec<Item> {
    let mouths = solved.joint_cutouts().flat_map(|cutout| cutout.mouths(surface));
    mouths.map(|mouth| stroke(Role::Mark, mouth.transformed(place), Pen::solid(MARK_WIDTH))).collect()
}

/// The name and the sizes of each.
pub fn labels(solved: &SolvedBoard, notation: &Notation) -> Vec<Label> {
    let say = |mm: f64| notation.bare_fine(Length::from_mm(mm));
    let all = solved.joint_cutouts().filter_map(|cutout| {
        let (at, [long, wide, deep]) = (cutout.middle()?, cutout.size()?);
        let (at, half) = (Point::new(at.x, at.y), Vec2::new(long / 2.0, 0.0));
        let what = cutout.feature.id.why.words();
        let mut words = vec![
            format!("{} {}", cutout.joint, cutout.feature.id.number),
            format!("{what} {} x {}", say(long), say(wide)),
            format!("{} deep from the {}", say(deep), solved.board.name_of(cutout.on)),
        ];
        let span = marked_span(solved, &cutout);
        words.extend(span.into_iter().flat_map(|span| [span.along(&say, solved), span.off(&say)]));
        words.retain(|line| !line.is_empty());
        Some(Label { at, beside: Segment::line(at - half, at + half), towards: Vec2::new(0.0, 1.0), words })
    });
    all.collect()
}
