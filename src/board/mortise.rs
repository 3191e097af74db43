//! A mortise in a board, or a tenon left standing on it: a straight box in the board's own axes.

use super::Source;
use crate::geometry::{Arc, Path, Placement, Plane, Point, Point3, Rect, Segment, Vec2, Vec3};
use crate::tolerance::NO_MOUTH;
use std::f64::consts::{FRAC_PI_2, PI};

/// What a joint makes of a board.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fitting {
    /// A mortise that stops inside.
    Blind,
    /// A mortise that comes out on the other side.
    Through,
    /// A tenon that is left standing.
    Standing,
}

/// A mortise in a board, or a tenon left standing on it.
#[derive(Debug, Clone, PartialEq)]
pub struct Mortise {
    /// The joint's name.
    pub joint: String,
    /// JSON pointer of its numbers.
    pub pointer: String,
    /// Which of the piece's joints that is, from 0.
    pub of: usize,
    /// Whether a loose tenon fills it.
    pub loose: bool,
    /// Which of the joint's tenons on this board, from 1.
    pub number: usize,
    /// What it is.
    pub fitting: Fitting,
    /// Where its centre line leaves the wood, in board axes: u along the tenon's width, v through its thickness, w along the centre
    /// line, into the wood (out of it for a standing tenon).
    pub frame: Placement,
    /// Thickness, width and length of the tenon, mm.
    pub tenon: [f64; 3],
    /// How deep it is along its centre line, mm; of a standing tenon, how far it stands out.
    pub depth: f64,
    /// Whether its ends are round, as a cutter leaves them.
    pub round: bool,
    /// The surface of the board from which it goes in or stands out; none where that is a glue line inside it.
    pub on: Option<Source>,
    /// The surface on which it comes out.
    pub exit: Option<Source>,
    /// The copies of the board that have it, by their index.
    pub copies: Vec<usize>,
}

impl Mortise {
    /// Its section square to its centre line: x along the width, y through the thickness, the middle at the origin.
    pub fn section(&self) -> Path {
        let [thickness, width, _] = self.tenon;
        let (half, radius) = (width / 2.0, thickness / 2.0);
        if !self.round {
            return Path::rectangle(Rect::new(-half, -radius, half, radius));
        }
        let straight = half - radius;
        let end = |x: f64, start: f64| Segment::Arc(Arc::circular(Point::new(x, 0.0), radius, start, PI));
        let side = |from: (f64, f64), to: (f64, f64)| Segment::line(Point::from(from), Point::from(to));
        let ends = [end(straight, -FRAC_PI_2), end(-straight, FRAC_PI_2)];
        if straight <= 0.0 {
            return Path::closed(ends.to_vec());
        }
        Path::closed(vec![
            ends[0],
            side((straight, radius), (-straight, radius)),
            ends[1],
            side((-straight, -radius), (straight, -radius)),
        ])
    }

    /// Whether it is a drilled hole for a round tenon: as wide as it is thick, with round ends.
    pub fn is_drilled(&self) -> bool {
        self.round && self.tenon[0] == self.tenon[1]
    }

    /// The point of the section `p` carried along the centre line to a plane; `None` where the two are parallel.
    pub fn carried(&self, p: Point, plane: &Plane) -> Option<Point3> {
        let start = self.frame.to_world(Point3::new(p.x, p.y, 0.0));
        let steep = plane.normal().dot(self.frame.w());
        (steep.abs() > NO_MOUTH).then(|| start + self.frame.w() * (-plane.distance(start) / steep))
    }

    /// The four corners of its section.
    pub fn section_corners(&self) -> [Point; 4] {
        let [thickness, width, _] = self.tenon;
        let (x, y) = (width / 2.0, thickness / 2.0);
        [(-x, -y), (x, -y), (x, y), (-x, y)].map(Point::from)
    }

    /// The point of its section that lies farthest in a direction of the section's plane.
    fn farthest(&self, way: Vec2) -> Point {
        let [thickness, width, _] = self.tenon;
        let (x, y) = (width / 2.0, thickness / 2.0);
        let towards = |v: f64, size: f64| if v < 0.0 { -size } else { size };
        if !self.round {
            return Point::new(towards(way.x, x), towards(way.y, y));
        }
        let length = way.hypot();
        // Seen along its centre line every point of it lies as far.
        let round = if length > 0.0 { way * (y / length) } else { Vec2::ZERO };
        Point::new(towards(way.x, x - y), 0.0) + round
    }

    /// The point between its mouth in a plane and its bottom that lies farthest in a direction of the board: of round ends on
    /// the round.
    pub fn farthest_point(&self, surface: &Plane, way: Vec3) -> Point3 {
        let flat = self.frame.direction_to_board(way);
        let bottom = self.farthest(Vec2::new(flat.x, flat.y));
        let bottom = self.frame.to_world(Point3::new(bottom.x, bottom.y, self.depth));
        let along = |p: Point3| p.to_vec().dot(way);
        // The section reaches the plane along straight lines, so that what is farthest in it follows from three points.
        let at = |x: f64, y: f64| self.carried(Point::new(x, y), surface).map(along);
        let mouth = at(0.0, 0.0).zip(at(1.0, 0.0)).zip(at(0.0, 1.0));
        let mouth = mouth.and_then(|((o, x), y)| self.carried(self.farthest(Vec2::new(x - o, y - o)), surface));
        mouth.filter(|mouth| along(*mouth) > along(bottom)).unwrap_or(bottom)
    }

    /// Its eight corners: four where it leaves the plane of its surface, four at its bottom.
    pub fn corners(&self, surface: &Plane) -> Vec<Point3> {
        let section = self.section_corners();
        let bottom = |p: &Point| self.frame.to_world(Point3::new(p.x, p.y, self.depth));
        section.iter().filter_map(|p| self.carried(*p, surface)).chain(section.iter().map(bottom)).collect()
    }
}
