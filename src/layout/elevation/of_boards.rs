//! What a maker asks of a piece made board by board: how high each lies, where it stands, and how it leans.

use super::measure::{Measurer, corners};
use super::shown::{Lane, Side};
use crate::geometry::{Placement, Point, Point3, Rect, Vec3};
use crate::tolerance::PLUMB;
use crate::units::Angle;
use std::f64::consts::FRAC_PI_2;

/// The axis along which a board's thickness mostly lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Lies {
    /// A board that faces the left or the right.
    Along,
    /// A board that faces the front or the back.
    Across,
    /// A board that lies flat.
    Flat,
}

fn lies(place: &Placement) -> Lies {
    let w = place.w();
    let (x, y, z) = (w.x.abs(), w.y.abs(), w.z.abs());
    if z > x.max(y) {
        Lies::Flat
    } else if x > y {
        Lies::Along
    } else {
        Lies::Across
    }
}

impl Measurer<'_> {
    /// Heights of every board over the floor, and from the left end of the view to the boards that are seen edge-on, with
    /// their lean. Pieces whose kind has legs or sides are measured by those.
    pub(super) fn placed_boards(&mut self) {
        let piece = self.piece;
        if piece.is_of_kind() {
            return;
        }
        let front = self.side == Some(Side::Front);
        for board in &piece.boards {
            for copy in &board.copies {
                let place = copy.placement;
                let seen: Vec<Point> = corners(board, &place).into_iter().map(|p| self.view.project(p)).collect();
                let around = seen.iter().map(|p| Rect::from_points(*p, *p)).reduce(|a, b| a.union(b));
                let Some(around) = around else { continue };
                match lies(&place) {
                    Lies::Flat if front => self.heights_of(&board.label, around),
                    Lies::Along if front => self.stands(&board.label, around, &place, &seen),
                    Lies::Across if front => self.faces(&board.label, around, &place),
                    Lies::Across => self.stands(&board.label, around, &place, &seen),
                    Lies::Along => self.faces(&board.label, around, &place),
                    Lies::Flat => {}
                }
            }
        }
    }

    /// The lowest and the highest corner over the floor.
    fn heights_of(&mut self, label: &str, around: Rect) {
        let left = self.bounds.x0;
        for (corner, y) in [("lowest", around.y0), ("highest", around.y1)] {
            let what = format!("{label}, {corner} corner over the floor");
            self.length(&what, Point::new(left, 0.0), Point::new(around.x0, y), Lane::Left);
        }
    }

    /// A board whose face is seen: how high it lies and how far it reaches, and its angle where it runs neither level nor plumb.
    fn faces(&mut self, label: &str, around: Rect, place: &Placement) {
        self.heights_of(label, around);
        let b = self.bounds;
        let at = |x: f64| Point::new(x, around.y0);
        self.length(&format!("from the left to the {label}"), Point::new(b.x0, b.y0), at(around.x0), Lane::Under);
        self.length(&format!("{label}, its reach across"), at(around.x0), at(around.x1), Lane::Under);
        let run = self.view.project(Point3::ORIGIN + place.u()).to_vec2();
        let run = if run.y < 0.0 { -run } else { run };
        let off_plumb = run.x.abs().atan2(run.y);
        if off_plumb > PLUMB && FRAC_PI_2 - off_plumb > PLUMB {
            let apex = if run.x > 0.0 { at(around.x0) } else { at(around.x1) };
            self.angle(label, apex, run.atan2(), Angle::from_radians(off_plumb), &format!("{label} from plumb"));
        }
    }

    /// From the view's left end to a board that is seen edge-on, how much it takes there, and its lean from plumb.
    fn stands(&mut self, label: &str, around: Rect, place: &Placement, seen: &[Point]) {
        let b = self.bounds;
        let (to, over) = (format!("from the left to the {label}"), format!("{label}, across"));
        self.length(&to, Point::new(b.x0, b.y0), Point::new(around.x0, around.y0), Lane::Under);
        self.length(&over, Point::new(around.x0, around.y0), Point::new(around.x1, around.y0), Lane::Under);
        let lean = Angle::from_radians(place.w().z.abs().asin());
        if lean.radians() < PLUMB {
            return;
        }
        let Some(foot) = seen.iter().min_by(|a, b| a.y.total_cmp(&b.y).then(b.x.total_cmp(&a.x))).copied() else {
            return;
        };
        let w = place.w();
        let up = (Vec3::Z - w * w.z).unit().unwrap_or(Vec3::Z);
        let to = self.view.project(Point3::ORIGIN + up).to_vec2().atan2();
        self.angle(label, foot, to, lean, "lean");
    }
}
