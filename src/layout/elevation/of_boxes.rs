//! What a maker asks of a box of sloping sides: its arrises above and below, and the angle between two sides.

use super::measure::{Measurer, face_corners};
use super::shown::{Lane, Measure, Shown, Side};
use crate::board::PartRole;
use crate::geometry::{Placement, Point, Point3};
use crate::piece::{SolvedBoard, Value};
use crate::tolerance::UNSEEN;
use crate::units::Angle;
use std::f64::consts::PI;

impl Measurer<'_> {
    /// The rims of a box: in the front and side views how wide it stands and how wide it opens, in the plan the arrises of
    /// the front side and the corner.
    pub(super) fn rims_of_box(&mut self) {
        let piece = self.piece;
        let sides: Vec<(&SolvedBoard, Placement)> = piece
            .of_role(PartRole::Side)
            .flat_map(|board| board.copies.iter().map(move |copy| (board, copy.placement)))
            .collect();
        if sides.is_empty() {
            return;
        }
        match self.side {
            Some(Side::Front | Side::Left | Side::Right) => self.rims_across(&sides),
            Some(Side::Above) => self.rims_in_plan(&sides),
            _ => {}
        }
    }

    /// Over the outside arrises above and on the floor.
    fn rims_across(&mut self, sides: &[(&SolvedBoard, Placement)]) {
        let corners = sides.iter().flat_map(|(board, place)| face_corners(board, place));
        let seen: Vec<Point> = corners.map(|(p, ..)| self.view.project(p)).collect();
        let levels = seen.iter().map(|p| p.y).fold((f64::MAX, f64::MIN), |(a, b), y| (a.min(y), b.max(y)));
        let [low, high] = ["over the lower outside arrises", "over the upper outside arrises"];
        for (what, level, lane) in [(low, levels.0, Lane::Under), (high, levels.1, Lane::Over)] {
            let across = seen.iter().filter(|p| (p.y - level).abs() < UNSEEN).map(|p| p.x);
            let reach = across.map(|x| (x, x)).reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)));
            let Some((x0, x1)) = reach else { continue };
            self.length(what, Point::new(x0, level), Point::new(x1, level), lane);
        }
    }

    /// The front side's two outside arrises, true in the plan, and the angle between it and the next side.
    fn rims_in_plan(&mut self, sides: &[(&SolvedBoard, Placement)]) {
        let front = sides.iter().max_by(|a, b| (-a.1.w().y).total_cmp(&-b.1.w().y));
        let Some((board, place)) = front else { return };
        let corners: Vec<Point3> = face_corners(board, place).into_iter().map(|(p, ..)| p).collect();
        let levels = corners.iter().map(|p| p.z).fold((f64::MAX, f64::MIN), |(a, b), z| (a.min(z), b.max(z)));
        for (arris, level) in [("lower", levels.0), ("upper", levels.1)] {
            let what = format!("{}, {arris} outside arris", board.label);
            let mut arris: Vec<Point> =
                corners.iter().filter(|p| (p.z - level).abs() < UNSEEN).map(|p| self.view.project(*p)).collect();
            arris.sort_by(|a, b| a.x.total_cmp(&b.x));
            if let [from, .., to] = arris[..] {
                self.length(&what, from, to, Lane::Under);
            }
        }
        let b = self.bounds;
        self.length("length over all", Point::new(b.x0, b.y1), Point::new(b.x1, b.y1), Lane::Over);
        self.length("width over all", Point::new(b.x1, b.y0), Point::new(b.x1, b.y1), Lane::Right);
        // The corner right of the front side, at its upper outside arris.
        let top = corners.iter().filter(|p| (p.z - levels.1).abs() < UNSEEN);
        let Some(corner) = top.max_by(|a, b| a.x.total_cmp(&b.x)) else { return };
        let neighbours = sides.iter().filter(|(_, other)| (other.w() - place.w()).length() > UNSEEN);
        let touching = neighbours
            .filter(|(board, other)| face_corners(board, other).iter().any(|(p, ..)| p.distance(*corner) < UNSEEN));
        let Some((_, next)) = touching.into_iter().next() else { return };
        let level = |place: &Placement| place.w().y.atan2(place.w().x);
        let turn = (level(next) - level(place) + PI).rem_euclid(2.0 * PI) - PI;
        let angle = Angle::from_radians(PI - turn.abs());
        let words = format!("corner {}", self.notation.angle(angle));
        let at = vec![self.view.project(*corner)];
        self.found.push(Measure {
            value: Value::Angle(angle),
            words: words.into(),
            what: String::new(),
            shown: Shown::Note { at, on_edge: true },
        });
    }
}
