//! What a maker asks of a view, measured on the solved piece.
//!
//! Each number is said once, in the view where it is seen true: heights of rails in the side view, of aprons in the front
//! view, lean and splay where they are laid out with a gauge, rises and radii where the curve is seen square.

use super::curve::{bends, words_of_bend};
use super::shown::{Lane, Measure, Shown, Side, Words};
use crate::board::{EdgeName, PartRole, Source};
use crate::geometry::{Placement, Point, Point3, Rect, Vec3};
use crate::piece::{Piece, SolvedBoard, Value};
use crate::tolerance::{PLUMB, SHOWN, UNSEEN};
use crate::units::{Angle, Length, Notation, slope_words};
use crate::view::View;
use crate::view::{Model, Subject};

/// A board's face is seen square where its direction to the eye has at least this share.
const FACING: f64 = 0.85;

/// The corners of a board's face side in space, of one copy, with the surfaces that meet there.
pub(in crate::layout) fn face_corners(board: &SolvedBoard, place: &Placement) -> Vec<(Point3, Source, Source)> {
    let corners = board.solid.face.corners().into_iter();
    corners.map(|(p, a, b)| (place.to_world(Point3::new(p.x, p.y, 0.0)), a, b)).collect()
}

/// All corners of both faces of a copy, in the world.
pub(super) fn corners(board: &SolvedBoard, place: &Placement) -> Vec<Point3> {
    let mut all: Vec<Point3> = face_corners(board, place).into_iter().map(|(p, ..)| p).collect();
    let far = board.solid.far.corners().into_iter();
    all.extend(far.map(|(p, ..)| place.to_world(Point3::new(p.x, p.y, -board.board.thickness))));
    all
}

/// The corners that head or foot of all legs leaves, in space; of turned ones the centre, from which a maker measures.
pub(in crate::layout) fn cut_corners(piece: &Piece, place: &EdgeName) -> Vec<Point3> {
    let legs = piece.of_role(PartRole::Leg).map(|b| (b, end_points(b, place)));
    let placed = legs.flat_map(|(b, points)| {
        b.copies.iter().flat_map(move |copy| points.clone().into_iter().map(|p| copy.placement.to_world(p)))
    });
    placed.collect()
}

/// The same of one leg, in its own axes.
pub(in crate::layout) fn end_points(board: &SolvedBoard, place: &EdgeName) -> Vec<Point3> {
    let Some(end) = board.board.cut(place).and_then(|cut| board.solid.ends.get(cut)) else { return Vec::new() };
    match board.centre_at(place) {
        Some(centre) => vec![centre],
        None => end.corners().into_iter().map(|(p, ..)| p).collect(),
    }
}

/// What is measured in a view whose lines fill a rectangle (the view's millimetres).
pub(super) struct Measurer<'a> {
    pub(super) piece: &'a Piece,
    pub(super) model: &'a Model,
    pub(super) notation: &'a Notation,
    /// Which of the usual views; none for a section.
    pub(super) side: Option<Side>,
    pub(super) view: View,
    pub(super) bounds: Rect,
    pub(super) found: Vec<Measure>,
}

/// The numbers that a view shows.
pub fn measures(subject: Subject, notation: &Notation, side: Side, bounds: Rect) -> Vec<Measure> {
    let mut m = Measurer::of(subject, notation, side, bounds);
    if matches!(side, Side::Front | Side::Right | Side::Left) {
        m.upright();
        m.spans();
        m.heights();
        m.slopes();
        m.placed_boards();
    }
    m.rims_of_box();
    if side == Side::Above {
        m.plan();
    }
    // Stock and curves are said from above, and not once more from below.
    if side == Side::Below {
        m.underside();
        m.turned_legs();
        m.fasteners();
    } else {
        m.bends();
        m.stock();
    }
    m.joints();
    m.found
}

/// The numbers that a section shows.
pub fn measures_of_section(subject: Subject, notation: &Notation, view: &View, cut: &Model) -> Vec<Measure> {
    let wood = cut.cut_wood(view);
    let around = wood.iter().map(|(.., r)| *r).reduce(|a, b| a.union(b));
    let Some(bounds) = around else { return Vec::new() };
    let mut m = Measurer {
        piece: subject.piece,
        model: subject.model,
        notation,
        side: None,
        view: *view,
        bounds,
        found: Vec::new(),
    };
    m.section(&wood);
    m.found
}

impl<'a> Measurer<'a> {
    /// What measures in one of the usual views.
    pub(super) fn of(subject: Subject<'a>, notation: &'a Notation, side: Side, bounds: Rect) -> Measurer<'a> {
        let Subject { piece, model } = subject;
        Measurer { piece, model, notation, side: Some(side), view: side.view(), bounds, found: Vec::new() }
    }
}

impl Measurer<'_> {
    /// Adds a length between two points, unless it is said already; `what` names it where no room is found for its line.
    pub(super) fn length(&mut self, what: &str, from: Point, to: Point, lane: Lane) {
        let mm = match lane {
            Lane::Over | Lane::Under => (to.x - from.x).abs(),
            Lane::Left | Lane::Right => (to.y - from.y).abs(),
        };
        let level = matches!(lane, Lane::Over | Lane::Under);
        let told = |m: &Measure| match m.shown {
            // The same stretch, or a height over the floor that is said already.
            Shown::Length { from: f, to: t, lane: l } => {
                let close = |a: f64, b: f64| (a - b).abs() < UNSEEN;
                matches!(l, Lane::Over | Lane::Under) == level
                    && if level {
                        close(f.x.min(t.x), from.x.min(to.x)) && close(f.x.max(t.x), from.x.max(to.x))
                    } else {
                        close(f.y.min(t.y), from.y.min(to.y)) && close(f.y.max(t.y), from.y.max(to.y))
                    }
            }
            _ => false,
        };
        if mm < UNSEEN || self.found.iter().any(told) {
            return;
        }
        let words = self.notation.bare_length(Length::from_mm(mm)).into();
        self.found.push(Measure {
            value: Value::Length(Length::from_mm(mm)),
            words,
            what: what.to_owned(),
            shown: Shown::Length { from, to, lane },
        });
    }

    /// The height of everything, and of the base under the top.
    fn upright(&mut self) {
        let b = self.bounds;
        let right = |z: f64| Point::new(b.x1, z);
        if let Some(heads) = top_of(&cut_corners(self.piece, &EdgeName::Head)) {
            let edge = self.reach(&cut_corners(self.piece, &EdgeName::Head)).map_or(b.x1, |r| r.1);
            self.length(
                "heads of the legs over the floor",
                Point::new(edge, 0.0),
                Point::new(edge, heads),
                Lane::Right,
            );
        }
        self.length("height over all", right(b.y0.min(0.0)), right(b.y1), Lane::Right);
    }

    /// How far points reach across the view.
    fn reach(&self, points: &[Point3]) -> Option<(f64, f64)> {
        let across = points.iter().map(|p| self.view.project(*p).x);
        across.map(|x| (x, x)).reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)))
    }

    /// Lengths or widths: overall, over the heads, over the feet, one foot, one head, overhang.
    fn spans(&mut self) {
        let b = self.bounds;
        let (heads, feet) = (cut_corners(self.piece, &EdgeName::Head), cut_corners(self.piece, &EdgeName::Foot));
        let level = |points: &[Point3]| top_of(points).unwrap_or_default();
        let across = |m: &Measurer, points: &[Point3]| m.reach(points);
        let (head_z, foot_z) = (level(&heads), level(&feet));
        if let Some((x0, x1)) = across(self, &heads) {
            self.length("over the heads of the legs", Point::new(x0, head_z), Point::new(x1, head_z), Lane::Over);
            if let Some((_, edge)) = self.top_reach().filter(|(_, edge)| edge - x1 > UNSEEN) {
                self.length("overhang of the top", Point::new(x1, head_z), Point::new(edge, b.y1), Lane::Over);
            }
        }
        if let Some((x0, x1)) = across(self, &feet) {
            self.length("over the feet", Point::new(x0, foot_z), Point::new(x1, foot_z), Lane::Under);
        }
        let what = if self.top_reach().is_some() { "over the top" } else { "over all" };
        let (x0, x1) = self.top_reach().unwrap_or((b.x0, b.x1));
        self.length(what, Point::new(x0, b.y1), Point::new(x1, b.y1), Lane::Over);
        self.leg_widths();
    }

    /// Length and width of the top as it is seen from above; of the whole where there is none.
    fn plan(&mut self) {
        let b = self.top_rect().unwrap_or(self.bounds);
        let of = if self.top_rect().is_some() { "top" } else { "whole" };
        self.length(&format!("length of the {of}"), Point::new(b.x0, b.y1), Point::new(b.x1, b.y1), Lane::Over);
        self.length(&format!("width of the {of}"), Point::new(b.x1, b.y0), Point::new(b.x1, b.y1), Lane::Right);
    }

    /// How far the top reaches across the view.
    fn top_reach(&self) -> Option<(f64, f64)> {
        self.top_rect().map(|b| (b.x0, b.x1))
    }

    /// Around the top's upper face as seen.
    fn top_rect(&self) -> Option<Rect> {
        let top = self.piece.top()?;
        let place = top.copies.first()?.placement;
        let turned = self.view.map_of(place.origin(), place.u(), place.v());
        let edge = top.solid.face.path().segments().iter().map(|s| s.transformed(turned).bounding_box());
        edge.reduce(|a, b| a.union(b))
    }

    /// Head and foot of a leg along the sawn lines, where its face is seen.
    fn leg_widths(&mut self) {
        let piece = self.piece;
        // A turned leg is told by its diameters.
        let Some((leg, copy)) = self.nearest_copy(|b| b.role == PartRole::Leg && b.turned.is_none(), FACING) else {
            return;
        };
        for (place, lane) in [(EdgeName::Head, Lane::Over), (EdgeName::Foot, Lane::Under)] {
            let Some(cut) = piece.boards[leg].board.cut(&place) else { continue };
            let board = &piece.boards[leg];
            let line = board.solid.face.part(Source::Cut(cut));
            let ends = line.flat_map(|s| [s.start(), s.end()]);
            let seen: Vec<Point> = ends
                .map(|p| self.view.project(board.copies[copy].placement.to_world(Point3::new(p.x, p.y, 0.0))))
                .collect();
            if let [from, .., to] = seen[..] {
                self.length(&format!("{}, along its {}", board.label, place.words()), from, to, lane);
            }
        }
    }

    /// The copy of a board among those wanted whose face (or far side) is turned to the eye, nearest to it, and lowest left.
    pub(super) fn nearest_copy(&self, wanted: impl Fn(&SolvedBoard) -> bool, facing: f64) -> Option<(usize, usize)> {
        let boards = self.piece.boards.iter().enumerate().filter(|(_, b)| wanted(b));
        let copies = boards.flat_map(|(i, b)| b.copies.iter().enumerate().map(move |(k, c)| (i, k, c.placement)));
        let turned = copies.filter(|(.., place)| place.w().dot(self.view.towards()).abs() >= facing);
        let rank = |place: &Placement| {
            let p = place.origin();
            (self.view.nearness(p).round() as i64, -self.view.project(p).x.round() as i64)
        };
        turned.max_by_key(|(.., place)| rank(place)).map(|(i, k, _)| (i, k))
    }

    /// Plumb heights over the floor of the edges of rails, aprons and stretchers whose faces are seen.
    fn heights(&mut self) {
        let piece = self.piece;
        let long = |b: &SolvedBoard| b.role.is_rail() || b.role.is_apron() || b.role.is_stretcher();
        let left_of_all = self.bounds.x0;
        for board in piece.boards.iter().filter(|b| long(b)) {
            let copies = board.copies.iter().map(|c| c.placement);
            let seen = copies.filter(|p| p.w().dot(self.view.towards()).abs() >= FACING);
            let Some(place) =
                seen.max_by(|a, b| self.view.nearness(a.origin()).total_cmp(&self.view.nearness(b.origin())))
            else {
                continue;
            };
            for name in [EdgeName::LowerEdge, EdgeName::UpperEdge] {
                let of_edge = |s: Source| board.board.edge_of(s) == Some(&name);
                let corners = face_corners(board, &place).into_iter().filter(|(_, a, b)| of_edge(*a) || of_edge(*b));
                let seen: Vec<Point> = corners.map(|(p, ..)| self.view.project(p)).collect();
                let level = seen.windows(2).all(|w| (w[0].y - w[1].y).abs() < UNSEEN);
                let Some(first) = seen.into_iter().min_by(|a, b| a.x.total_cmp(&b.x)) else { continue };
                if level {
                    let what = format!("{}, {} over the floor", board.label, name.words());
                    self.length(&what, Point::new(left_of_all.min(first.x), 0.0), first, Lane::Left);
                    self.other_arris(board, &place, &name, first);
                }
            }
        }
    }

    /// Where the arris of an edge on the far side lies at another height than that on the face side, which is measured at a point: both
    /// heights, with whose they are.
    fn other_arris(&mut self, board: &SolvedBoard, place: &Placement, name: &EdgeName, on_face: Point) {
        let of_edge = |s: Source| board.board.edge_of(s) == Some(name);
        let far = board.solid.far.corners().into_iter().filter(|(_, a, b)| of_edge(*a) || of_edge(*b));
        let deep = -board.board.thickness;
        let heights = far.map(|(p, ..)| self.view.project(place.to_world(Point3::new(p.x, p.y, deep))).y);
        let Some((low, high)) = heights.map(|y| (y, y)).reduce(|a, b| (a.0.min(b.0), a.1.max(b.1))) else { return };
        if high - low > UNSEEN || (high - on_face.y).abs() < SHOWN {
            return;
        }
        let [at_face, at_far] = [on_face.y, high].map(|mm| self.notation.bare_length(Length::from_mm(mm)));
        let [face, far] = board.board.sides;
        let words = Words::from(format!(
            "{}, {} over the floor: {at_face} {face}, {at_far} {far}",
            board.label,
            name.words()
        ));
        if !self.found.iter().any(|measure| measure.words == words) {
            let value = Value::Length(Length::from_mm(on_face.y));
            self.found.push(Measure {
                value,
                words,
                what: String::new(),
                shown: Shown::Listed { at: vec![on_face] },
            });
        }
    }

    /// Lean and splay of the legs, slope of a box.
    fn slopes(&mut self) {
        let piece = self.piece;
        for leg in piece.of_role(PartRole::Leg) {
            self.slope_of_leg(leg);
        }
        let side = piece.of_role(PartRole::Side).next();
        let steep = side.and_then(|side| {
            let seen = side.copies.iter().map(|c| c.placement);
            let edge_on = |p: &Placement| {
                p.w().dot(self.view.towards()).abs() < PLUMB && self.view.project(Point3::ORIGIN + p.w()).x > 0.0
            };
            Some((side, seen.into_iter().find(edge_on)?))
        });
        if let Some((side, place)) = steep {
            let lowest = face_corners(side, &place).into_iter().map(|(p, ..)| p).min_by(|a, b| a.z.total_cmp(&b.z));
            let Some(apex) = lowest.map(|p| self.view.project(p)) else { return };
            let slope = Angle::from_radians(place.w().z.asin().abs());
            let up = self.view.project(Point3::ORIGIN + up_the_face(&place)).to_vec2().atan2();
            self.angle(&side.label, apex, up, slope, "slope");
        }
    }

    /// Lean or splay of a leg, unless another leg says the same.
    fn slope_of_leg(&mut self, leg: &SolvedBoard) {
        let Some(place) = self.outermost(leg) else { return };
        let faces_side = place.w().x.abs() > place.w().y.abs();
        let front = self.side == Some(Side::Front);
        let (angle, name) = match (faces_side, front) {
            (true, true) => (place.w().z.abs().asin(), "lean"),
            (true, false) => (in_face(&place), "splay in the frame"),
            (false, true) => (apparent(place.u(), Vec3::X), "splay"),
            (false, false) => (apparent(place.u(), Vec3::Y), "splay"),
        };
        let angle = Angle::from_radians(angle);
        let words = self.words_of_angle(name, angle);
        if self.found.iter().any(|m| m.words == words) {
            return;
        }
        let foot = face_corners(leg, &place).into_iter().map(|(p, ..)| p);
        let foot = foot.filter(|p| p.z.abs() < UNSEEN).map(|p| self.view.project(p));
        // The outer arris: left of a leg that stands at the left.
        let right = self.view.project(place.origin()).x >= 0.0;
        let out = |p: &Point| if right { p.x } else { -p.x };
        let Some(apex) = foot.max_by(|a, b| out(a).total_cmp(&out(b))) else { return };
        let up = self.view.project(Point3::ORIGIN + place.u());
        self.angle(&leg.label, apex, up.to_vec2().atan2(), angle, name);
    }

    /// The copy of a leg whose foot lies farthest right and nearest.
    fn outermost(&self, leg: &SolvedBoard) -> Option<Placement> {
        let places = leg.copies.iter().map(|c| c.placement);
        places.max_by(|a, b| {
            let rank = |p: &Placement| self.view.project(p.origin()).x + 1e-3 * self.view.nearness(p.origin());
            rank(a).total_cmp(&rank(b))
        })
    }

    /// `splay 8.0° (14 to 100)`.
    fn words_of_angle(&self, name: &str, angle: Angle) -> Words {
        Words { said: format!("{name} {}", self.notation.angle(angle)), remark: slope_words(angle) }
    }

    /// Adds an angle of a board off the plumb line, with its name.
    pub(super) fn angle(&mut self, of: &str, apex: Point, to: f64, angle: Angle, name: &str) {
        if angle.radians().abs() < PLUMB {
            return;
        }
        let words = self.words_of_angle(name, angle);
        let shown = Shown::Angle { apex, from: std::f64::consts::FRAC_PI_2, to };
        self.found.push(Measure { value: Value::Angle(angle), words, what: of.to_owned(), shown });
    }

    /// Rises and radii of the curves that are seen square.
    fn bends(&mut self) {
        let piece = self.piece;
        for board in &piece.boards {
            let Some((_, copy)) = self.nearest_copy(|b| b.id == board.id, FACING) else { continue };
            let place = board.copies[copy].placement;
            for bend in bends(board) {
                let words = Words::from(words_of_bend(&bend, self.notation));
                let at = self.view.project(place.to_world(Point3::new(bend.middle.x, bend.middle.y, 0.0)));
                let value = Value::Length(Length::from_mm(bend.size));
                if !self.found.iter().any(|m| m.words == words && matches!(m.shown, Shown::Note { .. })) {
                    let what = match bend.edge {
                        Some(edge) => format!("{}, {}", board.label, board.board.name_of(edge)),
                        None => format!("{}, corner", board.label),
                    };
                    self.found.push(Measure {
                        value,
                        words,
                        what,
                        shown: Shown::Note { at: vec![at], on_edge: true },
                    });
                }
            }
        }
    }
}

fn top_of(points: &[Point3]) -> Option<f64> {
    points.iter().map(|p| p.z).reduce(f64::max)
}

/// Up the slope of a board's face.
fn up_the_face(place: &Placement) -> Vec3 {
    (Vec3::Z - place.w() * place.w().z).unit().unwrap_or(Vec3::Z)
}

/// The angle in a board's face between its length and the line up the slope.
fn in_face(place: &Placement) -> f64 {
    let up = up_the_face(place);
    place.u().cross(up).length().atan2(place.u().dot(up).abs())
}

/// The angle from plumb of a direction as seen along the other level axis.
fn apparent(direction: Vec3, across: Vec3) -> f64 {
    direction.dot(across).abs().atan2(direction.z.abs())
}
