//! Tapers of a board's thickness, which its face side does not show: where each begins, how thick the board is at its end, and what lies
//! on it.

use super::landed::Landed;
use super::lines::words;
use crate::board::{Role as CutRole, Source};
use crate::geometry::{Affine, Path, Point, Segment, Vec2};
use crate::page::{Anchor, Item, Label, Role, Text, readable};
use crate::piece::{SolvedBoard, SurfaceAxes, plane_of};
use crate::units::{Length, Notation};

/// A cut that looks to the far side by more than this, as a cosine, takes of the thickness and not of the width.
const LOOKS_BACK: f64 = 0.7;

/// Whether a surface is such a taper.
pub fn is_taper(solved: &SolvedBoard, source: Source) -> bool {
    let is_edge = match source {
        Source::Cut(cut) => solved.board.cuts.get(cut).is_some_and(|cut| cut.role == CutRole::Edge),
        _ => false,
    };
    is_edge && plane_of(&solved.board, source).is_some_and(|plane| plane.normal().z < -LOOKS_BACK)
}

/// Where a neighbour that lies on a taper is seen from the face side, and what that surface is called; `None` of what lies elsewhere.
pub fn landed_on(solved: &SolvedBoard, meet: &Landed) -> Option<(Vec<Path>, String)> {
    let axes = SurfaceAxes::of(&solved.board, &solved.solid, meet.on).filter(|_| is_taper(solved, meet.on))?;
    let seen = |x: f64, y: f64| {
        let p = axes.lift(Point::new(x, y));
        Point::new(p.x, p.y)
    };
    let (origin, x, y) = (seen(0.0, 0.0), seen(1.0, 0.0) - seen(0.0, 0.0), seen(0.0, 1.0) - seen(0.0, 0.0));
    let map = Affine::new([x.x, x.y, y.x, y.y, origin.x, origin.y]);
    let rims = meet.contact.iter().map(|rim| rim.transformed(map)).collect();
    Some((rims, solved.board.name_of(meet.on).into_owned()))
}

/// Where each taper begins in the far side, in words along that line.
pub fn words_of(solved: &SolvedBoard, notation: &Notation) -> Vec<Item> {
    let begins = solved.solid.far.pieces().filter(|(_, source)| is_taper(solved, *source));
    begins.filter_map(|(line, source)| begins_at(solved, line, source, notation)).collect()
}

fn begins_at(solved: &SolvedBoard, line: &Segment, source: Source, notation: &Notation) -> Option<Item> {
    let Source::Cut(cut) = source else { return None };
    let (from, to) = (line.start(), line.end());
    let across = (to - from).normalize();
    let away = |p: Point| (p - from).cross(across).abs();
    let corners = solved.solid.ends.get(cut)?.corners();
    let farthest =
        corners.iter().max_by(|a, b| away(Point::new(a.0.x, a.0.y)).total_cmp(&away(Point::new(b.0.x, b.0.y))))?;
    let thick = notation.length(Length::from_mm(-farthest.0.z));
    let said = format!("on the far side the {} begins here: {thick} thick at its end", solved.board.name_of(source));
    let angle = readable(across.atan2());
    let at = from.midpoint(to) + Vec2::from_angle(angle).turn_90();
    let text = Text::new(at, 2.5, said).anchored(Anchor::Middle).turned(angle);
    Some(words(Role::Text, text.about(Label::along(Path::line(from, to)))))
}
