//! Where the tenons of a landing sit, and whether they stay in the wood.

use super::landing::Landing;
use super::mouth::mouth;
use super::run::run;
use super::spread::{Room, spread};
use super::{OffEnd, OffLanding, SeatProblem, TenonKind, TooLong};
use crate::board::{EndFace, Fitting, Mortise, Source, spoken};
use crate::finding::{Finding, Place};
use crate::geometry::{Path, Point, Point3, Segment, Vec2, Vec3, contacts};
use crate::model::joint::{Axis, Joint, Kind, Mortise as Depth};
use crate::piece::{Piece, SolvedBoard, SurfaceAxes, surface_plane};
use crate::tolerance::{CONTACT_TOLERANCE, JUST};
use crate::units::{Length, Notation};
use std::f64::consts::TAU;

/// A drilled hole is looked at along so many lines of its round.
const ROUND: u32 = 48;

/// Where the tenons of a landing sit, in the axes of the board whose end it is.
#[derive(Debug, Clone)]
pub struct Seat {
    /// Out of the end, into the other part.
    pub axis: Vec3,
    /// Along the tenons' width, away from the reference edge.
    pub across: Vec3,
    /// Where their centre lines pass the end.
    pub centres: Vec<Point3>,
}

/// The directions of a tenon at an end and what its mouth takes there.
struct Directions {
    axis: Vec3,
    across: Vec3,
    /// Half of what the mouth takes along the cut's line and away from the face side, mm.
    half: [f64; 2],
    /// Whether the end face's x runs away from the reference edge.
    forward: bool,
}

/// A joint that points nowhere.
pub fn not_a_direction(joint: &Joint) -> Box<Finding> {
    Box::new(Finding::of(SeatProblem::AlongTheJoint {}, joint.place.clone()))
}

/// Where the tenons of a landing sit.
///
/// # Errors
/// Where they do not fit on it, with what does.
pub fn seat(piece: &Piece, joint: &Joint, landing: &Landing, notation: &Notation) -> Result<Seat, Box<Finding>> {
    let board = &piece.boards[landing.from];
    let end = &board.solid.ends[landing.cut];
    let normal = board.board.cuts[landing.cut].plane.normal();
    let way = directions(joint, end, normal).ok_or_else(|| not_a_direction(joint))?;
    if let Some(centre) = on_axis(board, joint, landing.cut) {
        return Ok(Seat { axis: way.axis, across: way.across, centres: vec![centre] });
    }
    let away = end.lift(Point::new(0.0, 1.0)) - end.lift(Point::ORIGIN);
    let deep = board.board.thickness / -away.z;
    let y = match joint.from_face {
        None => deep / 2.0,
        Some(set) => set.mm() + way.half[1],
    };
    if y + way.half[1] > deep + JUST || y - way.half[1] < -JUST {
        return Err(too_thick(joint, deep, way.half[1]));
    }
    let over = |y: f64| span(&landing.contact, y);
    let edges = over(y - way.half[1] + JUST).zip(over(y + way.half[1] - JUST));
    let rings: Vec<Path> = end.rings.iter().map(|ring| ring.path().clone()).collect();
    let whole = span(&rings, JUST).or_else(|| span(&rings, y));
    let (Some(((a0, a1), (b0, b1))), Some((w0, w1))) = (edges, whole) else {
        let how = OffLanding::Apart { from: spoken(&joint.from), into: spoken(&joint.into) };
        return Err(off_landing(joint.place.clone(), how, None));
    };
    let (low, high) = (a0.max(b0), a1.min(b1));
    // From the reference edge: the one at the greater v (of an edge, the end at the greater u).
    let (from, to) = if way.forward { (low - w0, high - w0) } else { (w1 - high, w1 - low) };
    let places = spread(joint, Room { from, to, each: 2.0 * way.half[0] }, notation)?;
    let x = |place: f64| if way.forward { w0 + place } else { w1 - place };
    let centres = places.into_iter().map(|place| end.lift(Point::new(x(place), y))).collect();
    Ok(Seat { axis: way.axis, across: way.across, centres })
}

/// Where the tenon of a turned leg passes its end: on the centre line about which both are turned, however much of the end the
/// other part covers.
fn on_axis(board: &SolvedBoard, joint: &Joint, cut: usize) -> Option<Point3> {
    let cut = board.board.cuts.get(cut).filter(|_| joint.is_turned_leg())?;
    board.centre_at(&cut.place)
}

/// Whether the mouth of a turned leg's hole lies wholly on its surface.
///
/// # Errors
/// Where it opens past the edge, by how much.
pub fn lies_on(joint: &Joint, board: &SolvedBoard, mortise: &Mortise) -> Result<(), Box<Finding>> {
    let axes = mortise.on.and_then(|on| SurfaceAxes::of(&board.board, &board.solid, on));
    let over =
        axes.zip(mouth(&board.board, &board.solid, mortise)).map_or(0.0, |(axes, mouth)| axes.overshoot(&[mouth]));
    if over <= JUST {
        return Ok(());
    }
    let (joint_name, label) = (joint.name.clone(), board.label.clone());
    let how = OffLanding::Hole { joint: joint_name, board: label, moved: None };
    Err(off_landing(joint.place.clone(), how, Some(Length::from_mm(over))))
}

/// A tenon off its landing that is not placed by hand; by how much, where that is known.
fn off_landing(place: Place, how: OffLanding, beyond: Option<Length>) -> Box<Finding> {
    Box::new(Finding::of(SeatProblem::OffLanding { how, at: None, smallest: None, largest: None, beyond }, place))
}

fn directions(joint: &Joint, end: &EndFace, normal: Vec3) -> Option<Directions> {
    let at = |x: f64, y: f64| end.lift(Point::new(x, y)) - end.lift(Point::ORIGIN);
    let (along, away) = (at(1.0, 0.0), at(0.0, 1.0));
    let is_end = along.y.abs() >= along.x.abs();
    let forward = if is_end { along.y < 0.0 } else { along.x < 0.0 };
    let (axis, across, through) = match joint.axis {
        Axis::Square => (normal, if forward { along } else { -along }, away),
        Axis::Along if is_end => (Vec3::X * normal.x.signum(), -Vec3::Y, -Vec3::Z),
        Axis::Along => (Vec3::Y * normal.y.signum(), -Vec3::X, -Vec3::Z),
    };
    let steep = axis.dot(normal);
    // A tenon flatter to its joint than about 6 degrees is none.
    if steep < 0.1 {
        return None;
    }
    let flat = |d: Vec3| d - axis * (d.dot(normal) / steep);
    let (width, thickness) = (flat(across) * joint.width.mm(), flat(through) * joint.thickness.mm());
    let half = [along, away].map(|d| (width.dot(d).abs() + thickness.dot(d).abs()) / 2.0);
    Some(Directions { axis, across, half, forward })
}

fn too_thick(joint: &Joint, deep: f64, half: f64) -> Box<Finding> {
    let largest = deep - 2.0 * half;
    let (how, place, largest) = match joint.from_face {
        Some(_) if largest >= 0.0 => (OffEnd::Distance, joint.place.child("from_face"), largest),
        _ => (OffEnd::Thickness, joint.thickness_place(), joint.thickness.mm() * deep / (2.0 * half)),
    };
    let [takes, through, largest] = [2.0 * half, deep, largest].map(Length::from_mm);
    Box::new(Finding::of(SeatProblem::OffEnd { how, takes, through, largest }, place))
}

/// From where to where closed paths reach at a height, mm.
fn span(paths: &[Path], y: f64) -> Option<(f64, f64)> {
    let bounds = paths.iter().filter_map(Path::bounding_box).reduce(|a, b| a.union(b))?;
    let line = Segment::line(Point::new(bounds.x0 - 1.0, y), Point::new(bounds.x1 + 1.0, y));
    let segments = paths.iter().flat_map(|path| path.segments());
    let crossed = segments.flat_map(|segment| contacts(&line, segment, CONTACT_TOLERANCE).unwrap_or_default());
    let all: Vec<f64> = crossed.map(|contact| contact.point.x).collect();
    let (low, high) = (all.iter().copied().fold(f64::MAX, f64::min), all.iter().copied().fold(f64::MIN, f64::max));
    (high > low).then_some((low, high))
}

/// Points round the section of a mortise: its corners and the middles of its sides, or of a drilled hole points of its round, the
/// two among them that lie farthest along the plumb of the board's faces.
fn around(mortise: &Mortise) -> Vec<Point> {
    if mortise.is_drilled() {
        let lean = mortise.frame.direction_to_board(Vec3::Z);
        let from = Vec2::new(lean.x, lean.y).atan2();
        let step = TAU / f64::from(ROUND);
        let radius = mortise.tenon[0] / 2.0;
        return (0..ROUND).map(|i| (Vec2::from_angle(from + step * f64::from(i)) * radius).to_point()).collect();
    }
    let [a, b, c, d] = mortise.section_corners();
    vec![a, b, c, d, a.midpoint(b), b.midpoint(c), c.midpoint(d), d.midpoint(a)]
}

/// How far the lines along a mortise's corners and sides run in the wood, the shortest first, with the surface by which each
/// leaves it; the last is its centre line.
fn runs(board: &SolvedBoard, mortise: &Mortise) -> Option<Vec<(f64, Source)>> {
    let plane = surface_plane(&board.board, mortise)?;
    let points = around(mortise).into_iter().chain([Point::ORIGIN]);
    // A whisker inside, so that a line on the surface does not leave it at once.
    let inside = mortise.frame.w() * JUST;
    let along = |p: Point| {
        let start = mortise.carried(p, &plane)?;
        let (length, by) = run(&board.board, start + inside, mortise.frame.w())?;
        // From the section through the centre of the mouth.
        Some((length + JUST + (start - mortise.frame.origin()).dot(mortise.frame.w()), by))
    };
    points.map(along).collect()
}

/// How much deeper along its centre line than there a slanting mortise begins at its last corner, mm.
fn slant(board: &SolvedBoard, mortise: &Mortise) -> f64 {
    let Some(plane) = surface_plane(&board.board, mortise) else { return 0.0 };
    let starts = around(mortise).into_iter().filter_map(|p| mortise.carried(p, &plane));
    starts.map(|start| (start - mortise.frame.origin()).dot(mortise.frame.w())).fold(0.0, f64::max)
}

/// Whether a blind mortise stays in the wood of its board.
///
/// # Errors
/// Where it comes out, with the largest depth that does not.
pub fn stays_inside(joint: &Joint, board: &SolvedBoard, mortise: &Mortise) -> Result<(), Box<Finding>> {
    let shallow = slant(board, mortise);
    let depth = Length::from_mm(mortise.depth);
    if mortise.depth <= shallow {
        let problem = SeatProblem::TooShallow {
            board: board.label.clone(),
            turned: joint.is_turned_leg(),
            depth,
            smallest: Length::from_mm(shallow),
        };
        return Err(Box::new(Finding::of(problem, joint.place.clone())));
    }
    let runs = runs(board, mortise).ok_or_else(|| curved(joint, board))?;
    let Some((least, by)) = runs.iter().copied().min_by(|a, b| a.0.total_cmp(&b.0)) else {
        return Err(curved(joint, board));
    };
    if mortise.depth < least {
        return Ok(());
    }
    let ahead = runs.last().map_or(least, |(length, _)| *length);
    let (place, tenon) = match joint.is_turned_leg() {
        true => (joint.place.child("depth"), TenonKind::Turned),
        false if joint.kind == Kind::Fixed => (joint.place.child("length"), TenonKind::Fixed(joint.clearance)),
        false => (joint.place.clone(), TenonKind::Loose),
    };
    let surface = board.board.name_of(by).into_owned();
    let how = TooLong::ComesOut { board: board.label.clone(), surface, tenon };
    let (largest, ahead) = (Length::from_mm(least), Some(Length::from_mm(ahead)));
    Err(Box::new(Finding::of(SeatProblem::TooLong { how, depth, largest, ahead }, place)))
}

/// Gives the second part's mortise its depth along its centre line; how far the tenon reaches in it, mm: through a part, until
/// its last corner is out, to be trimmed flush.
///
/// # Errors
/// Where it comes out and should not, or comes out by more than one surface.
pub fn fit(joint: &Joint, board: &SolvedBoard, mortise: &mut Mortise) -> Result<f64, Box<Finding>> {
    if joint.mortise == Depth::Blind {
        return stays_inside(joint, board, mortise).map(|()| mortise.depth);
    }
    let runs = runs(board, mortise).ok_or_else(|| curved(joint, board))?;
    let Some((depth, exit)) = runs.last().copied() else { return Err(curved(joint, board)) };
    if runs.iter().any(|(_, by)| *by != exit) {
        let (board, turned) = (board.label.clone(), joint.is_turned_leg());
        let problem = SeatProblem::ThroughACorner { board, turned };
        return Err(Box::new(Finding::of(problem, joint.place.clone())));
    }
    mortise.fitting = Fitting::Through;
    mortise.depth = depth;
    mortise.exit = Some(exit);
    Ok(runs.iter().map(|(length, _)| *length).fold(depth, f64::max))
}

fn curved(joint: &Joint, board: &SolvedBoard) -> Box<Finding> {
    let problem = SeatProblem::OnACurve { board: board.label.clone() };
    Box::new(Finding::of(problem, joint.place.clone()))
}
