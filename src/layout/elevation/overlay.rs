//! Light lines laid over a view: a variant, the room that a seated person takes, places at a table.

use crate::board::PartRole;
use crate::geometry::{Point3, Vec3};
use crate::piece::Piece;
use crate::units::{Length, Notation, Units};
use crate::view::Model;

/// What is laid over the views.
#[derive(Debug, Clone, Copy)]
pub enum Overlay<'a> {
    /// Another solution of the piece, drawn in its seen lines.
    Variant {
        /// The other piece in space.
        model: &'a Model,
        /// What the file calls it.
        name: &'a str,
    },
    /// The clear room for knees and toes of a person who sits at the middle of the front, by the 2010 ADA Standards, 306.2 and 306.3.
    Seated,
    /// Places for people to eat at, along the long edges of the top and at its ends.
    Places,
}

/// Clearance for knees and toes, mm and inches as the standard prints both (2010 ADA Standards, 306.2 and 306.3).
struct Clearance {
    width: f64,
    toe_depth: f64,
    toe_height: f64,
    knee_depth: f64,
    knee_depth_high: f64,
    knee_height: f64,
}

const METRIC: Clearance = Clearance {
    width: 760.0,
    toe_depth: 430.0,
    toe_height: 230.0,
    knee_depth: 280.0,
    knee_depth_high: 205.0,
    knee_height: 685.0,
};

const INCHES: Clearance = Clearance {
    width: 30.0 * 25.4,
    toe_depth: 17.0 * 25.4,
    toe_height: 9.0 * 25.4,
    knee_depth: 11.0 * 25.4,
    knee_depth_high: 8.0 * 25.4,
    knee_height: 27.0 * 25.4,
};

/// Width for each person, mm: 24 in, the everyday rule (common practice in residential planning).
const PLACE_WIDTH: f64 = 24.0 * 25.4;

/// Depth of a place setting, mm: 15 in (common practice, 12 to 15 in in the trade).
const PLACE_DEPTH: f64 = 15.0 * 25.4;

/// Closed rings in space and what they are called; none where the piece has nothing to sit at.
pub fn rings(overlay: &Overlay, piece: &Piece, notation: &Notation) -> (Vec<Vec<Point3>>, String) {
    match overlay {
        Overlay::Variant { .. } => (Vec::new(), String::new()),
        Overlay::Seated => (seated(piece, notation), "knees and toes, ADA 306".to_owned()),
        Overlay::Places => {
            let say = |mm: f64| notation.bare_length(Length::from_mm(mm));
            (places(piece), format!("places of {} x {}", say(PLACE_WIDTH), say(PLACE_DEPTH)))
        }
    }
}

/// How far the top, or else the whole piece, reaches: two corners of a box.
fn reach(piece: &Piece, top: bool) -> Option<[Point3; 2]> {
    let boards = piece.boards.iter().filter(|b| !top || b.role == PartRole::Top);
    let points = boards.flat_map(|b| {
        let blank = b.solid.blank;
        let corners = [(blank.x0, blank.y0), (blank.x1, blank.y0), (blank.x1, blank.y1), (blank.x0, blank.y1)];
        let levels = [0.0, -b.board.thickness];
        let flat = levels.into_iter().flat_map(move |w| corners.map(|(u, v)| Point3::new(u, v, w)));
        let flat: Vec<Point3> = flat.collect();
        b.copies.iter().flat_map(move |c| flat.clone().into_iter().map(move |p| c.placement.to_world(p)))
    });
    points.map(|p| [p, p]).reduce(|[a, b], [p, q]| {
        [Point3::new(a.x.min(p.x), a.y.min(p.y), a.z.min(p.z)), Point3::new(b.x.max(q.x), b.y.max(q.y), b.z.max(q.z))]
    })
}

/// The outline of the clear room as seen from the side, on both sides of the person.
fn seated(piece: &Piece, notation: &Notation) -> Vec<Vec<Point3>> {
    let Some([low, _]) = reach(piece, true).or_else(|| reach(piece, false)) else { return Vec::new() };
    let c = if notation.units == Units::Mm { METRIC } else { INCHES };
    let profile = [
        (0.0, 0.0),
        (c.toe_depth, 0.0),
        (c.toe_depth, c.toe_height),
        (c.knee_depth, c.toe_height),
        (c.knee_depth_high, c.knee_height),
        (0.0, c.knee_height),
    ];
    let at = |x: f64| profile.map(|(depth, z)| Point3::new(x, low.y + depth, z)).to_vec();
    let (left, right) = (-c.width / 2.0, c.width / 2.0);
    let mut rings = vec![at(left), at(right)];
    for (depth, z) in profile.iter().skip(1) {
        rings.push(vec![Point3::new(left, low.y + depth, *z), Point3::new(right, low.y + depth, *z)]);
    }
    for z in [0.0, c.knee_height] {
        rings.push(vec![Point3::new(left, low.y, z), Point3::new(right, low.y, z)]);
    }
    rings
}

/// As many places as the long edges hold, and one at each end where it is wide enough.
fn places(piece: &Piece) -> Vec<Vec<Point3>> {
    let Some([low, high]) = reach(piece, true) else { return Vec::new() };
    let middle = low.midway(high);
    let mut rings = Vec::new();
    let mut along = |from: Point3, direction: Vec3, inwards: Vec3, length: f64| {
        let count = (length / PLACE_WIDTH).floor() as usize;
        let start = (length - count as f64 * PLACE_WIDTH) / 2.0;
        for k in 0..count {
            let corner = from + direction * (start + k as f64 * PLACE_WIDTH);
            let (a, b) = (direction * PLACE_WIDTH, inwards * PLACE_DEPTH);
            rings.push(vec![corner, corner + a, corner + a + b, corner + b]);
        }
    };
    let (length, width) = (high.x - low.x, high.y - low.y);
    // The ends keep their own places; the long edges have what is left between them.
    let ends = width >= (2.0 * PLACE_DEPTH).max(PLACE_WIDTH);
    let taken = if ends { PLACE_DEPTH } else { 0.0 };
    let z = high.z;
    let left_over = length - 2.0 * taken;
    along(Point3::new(low.x + taken, low.y, z), Vec3::X, Vec3::Y, left_over);
    along(Point3::new(low.x + taken, high.y, z), Vec3::X, -Vec3::Y, left_over);
    if ends {
        along(Point3::new(low.x, middle.y - PLACE_WIDTH / 2.0, z), Vec3::Y, Vec3::X, PLACE_WIDTH);
        along(Point3::new(high.x, middle.y - PLACE_WIDTH / 2.0, z), Vec3::Y, -Vec3::X, PLACE_WIDTH);
    }
    rings
}
